"""Flags on a page: each whole, or in a line with alike ones gathered, and the three things to do next."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from planner.commands.page import WIDTH, ink, paragraph
from planner.plan.answers.flagging import STANDING, Flag, circle_words, where_words
from planner.plan.truck.project import EVERYWHERE, OpenProject
from planner.plan.truck.wording import short_margin, together
from planner.quantities.text import clean

if TYPE_CHECKING:
    from planner.plan.answers.measure_next import WantedEntry

NEXT = 3
LONG = 120  # letters of what to do about what is no stop
WARNS = 40  # a stop's shorter first sentence only warns: what to do is in the next
NAMED = 2  # records that one line names before it counts the others


def whole(flag: Flag, found: Iterable[Flag]) -> list[str]:
    """A flag with what follows from it."""
    return [*flag_lines(flag), *_also(flag, found)]


def flag_lines(flag: Flag) -> list[str]:
    """One flag: where and what, what it says, by how much, what settles it and what to do."""
    rule = flag.rule
    close = flag.verdict.answer == "too close to call"
    mark = f"{rule.severity.upper()}?" if close else rule.severity.upper()
    lines = paragraph(flag.notice, 0, f"{mark:<9}")
    lines[0] = ink(f"{mark:<9}", rule.severity) + lines[0][9:]
    lines += paragraph(f"{flag.says}." if not flag.says.endswith(".") else flag.says, 9)
    if flag.by:
        lines += paragraph(("too close to call: " if close else "") + flag.by, 9)
    if flag.as_found:
        lines += paragraph(f"as found: {flag.as_found}", 9)
    if flag.settles:
        lines += paragraph("to settle it, measure " + together(flag.settles), 9)
    if flag.acceptance is not None and flag.lapsed:
        lines += paragraph(f"it was accepted, but that has lapsed: {flag.lapsed}", 9)
    elif flag.acceptance is not None:
        lines += paragraph(f"accepted {flag.acceptance.on or ''}: {clean(flag.acceptance.because or '')}", 9)
    lines += paragraph(flag.cure, 9, "do: ")
    lines += [ink(line, "faint") for line in paragraph(f"{rule.name}; ground: {rule.ground}", 9)]
    return lines


def _also(head: Flag, found: Iterable[Flag]) -> list[str]:
    """What follows from a flag, each in its own words: nothing of it is lost."""
    lines: list[str] = []
    for flag in found:
        if flag.under is head:
            at = f"{flag.where}: " if flag.where and flag.where != head.where else ""
            close = "too close to call: " if flag.verdict.answer == "too close to call" else ""
            told = [f"{at}{flag.rule.notices}. {flag.says}", *([f"{close}{flag.by}."] if flag.by else [])]
            told += [f"As found: {flag.as_found}."] if flag.as_found else []
            told += [f"To settle it, measure {together(flag.settles)}."] if flag.settles else []
            told += [f"Do: {flag.cure}"]
            lines += paragraph(" ".join(told), 9, "also: ")
            lines += [ink(line, "faint") for line in paragraph(f"{flag.rule.name}; ground: {flag.rule.ground}", 15)]
    return lines


def flag_rows(opened: OpenProject, found: Iterable[Flag], most: int) -> list[str]:
    """A line for each flag, with its place and its margin; only a stop is told under its cause too.

    What there is no room for, the least grave, is counted, and never a stop.
    """
    alike: dict[tuple[object, ...], list[Flag]] = {}
    for flag in sorted((one for one in found if one.verdict.answer in STANDING), key=_not_a_stop):
        stop = flag.rule.severity == "stop"
        if flag.under is None or stop:
            said = (short(opened, flag), flag.places[0] == EVERYWHERE and flag.where) if stop else ()
            key = (flag.rule.name, flag.places[0][0], _mark(flag), *said)
            alike.setdefault(key, []).append(flag)
    rows = [(same[0], list(_row(opened, same))) for same in alike.values()]
    lines = [line for _, row in rows for line in row]
    left: list[Flag] = []
    while rows and rows[-1][0].rule.severity != "stop" and len(lines) + bool(left) > most:
        flag, row = rows.pop()
        left.append(flag)
        del lines[-len(row) :]
    return [*lines, *([f"         and {len(left)} more, none of them worse: --full"] if left else [])]


def _not_a_stop(flag: Flag) -> tuple[bool, bool]:
    """Stops before all, those that may be one after them; the others stay in their order."""
    stop = flag.rule.severity == "stop"
    return not stop, stop and flag.verdict.answer != "raised"


def _mark(flag: Flag) -> str:
    if flag.accepted:
        return "accepted"
    return f"{flag.rule.severity.upper()}{'?' if flag.verdict.answer == 'too close to call' else ''}"


def short(opened: OpenProject, flag: Flag) -> str:
    """A flag's margin in a few words; empty where its answer is yes or no."""
    margin = flag.verdict.margin
    return short_margin(opened, flag.rule, margin, flag.verdict.answer == "too close to call") if margin else ""


def _row(opened: OpenProject, same: Sequence[Flag]) -> Iterator[str]:
    """One line for what one rule says here and there; a margin that does not fit is left to `--full`, but a stop's."""
    first, mark = same[0], f"{_mark(same[0]):<9}"
    where = _where(opened, same)
    told = f"{where}: {first.rule.notices}" if where else first.rule.notices
    margins = dict.fromkeys(short(opened, flag) for flag in same)
    margin = next(iter(margins)) if len(margins) == 1 else ""
    with_margin = f"{told}: {margin}" if margin else told
    if first.rule.severity == "stop" or len(mark) + len(with_margin) <= WIDTH:
        told = with_margin
    lines = paragraph(clean(told), 0, mark)
    yield ink(mark, "faint" if first.accepted else first.rule.severity) + lines[0][len(mark) :]
    yield from lines[1:]


def _where(opened: OpenProject, same: Sequence[Flag]) -> str:
    """All the places in words; records of the plan by their names, the first few of many."""
    places = tuple(place for flag in same for place in flag.places)
    if len(same) == 1 or EVERYWHERE not in places:
        return same[0].where if len(same) == 1 else where_words(opened, places)
    named = [flag.where for flag in same[:NAMED]]
    more = len(same) - len(named)
    return f"{', '.join(named)} and {more} more" if more else " and ".join(named)


def next_lines(opened: OpenProject, found: Sequence[Flag]) -> list[str]:
    """The three things to do next."""
    lines: list[str] = []
    for at, words in enumerate(_next(opened, found)):
        if at == NEXT:
            break
        lines += paragraph(words, 2, f"{at + 1}. ")
    return [ink("Do next", "strong"), *lines, ""] if lines else []


def _next(opened: OpenProject, found: Sequence[Flag]) -> Iterator[str]:
    """What a stop asks for, then what decides most, then what the cautions ask for, each once."""
    heads = [flag for flag in found if flag.under is None and flag.verdict.answer in STANDING and not flag.accepted]
    stops = [flag for flag in heads if flag.rule.severity == "stop"]
    yield from dict.fromkeys(_do(flag) for flag in stops if flag.verdict.answer == "raised")
    yield from dict.fromkeys(_settle(flag) for flag in stops if flag.verdict.answer != "raised")
    if any(flag.needs for flag in found):
        from planner.plan.answers.measure_next import measure_next  # reads the tasks, needed only here

        yield from dict.fromkeys(_enter(opened, found, one) for one in measure_next(opened, found))
    yield from dict.fromkeys(_do(flag) for flag in heads if flag.rule.severity != "stop")


def _enter(opened: OpenProject, found: Sequence[Flag], one: "WantedEntry") -> str:
    """What is to be entered, and what waits for it."""
    circle = next((circle_words(opened, one.key, flag.needs) for flag in found if one.key in flag.needs), "")
    if circle:
        return f"Measure the {clean(circle)}: {one.waiting} for it."
    means = f" ({one.means})" if one.means else ""
    at_fault = opened.asked_for(one.key).removeprefix(one.spoken)
    return f"Enter {clean(opened.the(one.key) + at_fault)}{means}: {one.waiting} for it."


def _do(flag: Flag) -> str:
    """The first thing to do about a flag, or where it can be read, if that takes more than a sentence or two."""
    stop, (first, _, more) = flag.rule.severity == "stop", flag.cure.partition(". ")
    do = first.rstrip(".") + "."
    if stop and more and len(do) < WARNS:
        do += f" {more.partition('. ')[0].rstrip('.')}."
    long = not stop and len(do) > LONG
    return flag.notice + (f": do what planner why FILE {flag.rule.name} says." if long else f". {do}")


def _settle(flag: Flag) -> str:
    """What is to be measured, and what that decides."""
    if not flag.settles:
        return _do(flag)
    return f"Measure {together(flag.settles)}. It decides whether {flag.rule.notices}."
