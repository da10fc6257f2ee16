"""What became known by an answer, and the page at the end of an evening: what it says, and what to take along next."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from planner.plan.answers.flagging import STANDING, Flag
from planner.plan.asking.next_question import AskState, RankedQuestion, next_question
from planner.plan.asking.questions import INBOARD, STANDS
from planner.plan.truck.forms import field
from planner.plan.truck.wording import count

MOST_NEXT = 6


class Section(NamedTuple):
    """A part of the page: its heading, and its lines."""

    heading: str
    lines: tuple[str, ...]


def news(before: AskState, after: AskState) -> list[str]:
    """What became known by an answer: of the first wheel, and of what can be judged now."""
    told = {line.name: line.says for wheel in before.wheels for line in wheel.lines}
    whole = before.first_axle if before.first_axle != after.first_axle else ""  # a first wheel is known: all of it
    lines = [f"A FIRST WHEEL, {whole.upper()}"] if whole else []
    lines += [
        line.says
        for wheel in after.wheels
        for line in wheel.lines
        if told.get(line.name) != line.says or wheel.axle == whole
    ]
    raised = {_place(flag) for flag in before.flags if flag.stands}
    lines += [
        f"{flag.rule.severity.upper()}  {flag.notice}"
        for flag in after.flags
        if flag.counts and flag.rule.severity == "stop" and _place(flag) not in raised
    ]
    judged = count_judged(after.flags) - count_judged(before.flags)
    if judged > 0:
        lines.append(f"{count(judged, 'more check')} can be made now")
    return lines


def count_judged(found: Iterable[Flag]) -> int:
    return sum(len(flag.places) for flag in found if flag.verdict.answer != "not known")


def evening_page(state: AskState, answered: Iterable[str], put_off: Iterable[str] = ()) -> list[Section]:
    """What was answered, what it says, and what to take to the truck next."""
    wheel_lines = [
        f"{line.says}{f'; to sharpen it: {line.sharper}' if line.sharper else ''}"
        for wheel in state.wheels
        for line in wheel.lines
    ]
    stops = [
        f"{'STOP' if flag.stands else 'STOP?'}  {flag.notice}"
        for flag in state.flags
        if flag.rule.severity == "stop" and flag.under is None and flag.verdict.answer in STANDING
    ]
    guesses = [
        f"{one.question.name}: {value}"
        for one in state.open
        for key, value in state.opened.project.asking.guesses.items()
        if one.guessed and key in (one.question.id, *one.question.keys)
    ]
    skipped = [one.question.name for one in state.open if one.question.id in set(put_off)]
    found = [
        Section("Became known", tuple(answered)),
        Section("A first wheel" if wheel_lines else "A first wheel: not enough known yet", tuple(wheel_lines)),
        Section("Against it", tuple(stops)),
        Section("Take to the truck next, what decides most first", tuple(_to_take(state, set(put_off)))),
        Section("Guessed so far: measure these", tuple(guesses)),
        Section("Put off", tuple(skipped)),
    ]
    return [one for one in found if one.lines or one.heading.startswith("A first")]


def tool_for(state: AskState, asked: RankedQuestion) -> str:
    """What a question is read with; empty where nothing is measured."""
    key = asked.question.ways[0].keys[-1]
    if key.endswith(INBOARD):  # an obstacle that is not in the file yet
        return "a tape"
    usual = field(state.opened, key).wants.usual
    return usual.tool if usual is not None else ""


def to_take(state: AskState, put_off: set[str], most: int = MOST_NEXT) -> list[RankedQuestion]:
    """The next questions away from the table, so many at the most, in the order of walking around the truck."""
    left = [one for one in state.open if one.question.id not in put_off and one.question.stand != STANDS[-1]]
    picked: list[RankedQuestion] = []
    while len(picked) < most:
        rest = state._replace(open=tuple(one for one in left if one not in picked))
        found = next_question(rest, here=picked[-1].question.stand if picked else "")
        if found is None:
            break
        picked.append(found)
    return sorted(picked, key=lambda one: STANDS.index(one.question.stand))


def _to_take(state: AskState, put_off: set[str]) -> Iterator[str]:
    """The same, each with its tool."""
    for one in to_take(state, put_off):
        tool = tool_for(state, one)
        yield f"{one.question.stand}: {one.question.name}{f', with {tool}' if tool else ''}"


def _place(flag: Flag) -> tuple[str, str]:
    return flag.rule.name, flag.where
