"""What a person says to a question, as changes to the file: read, refused with an example, and made in one step."""

from collections.abc import Mapping
from typing import NamedTuple

from planner.plan.answers.open_project import open_project, work_out
from planner.plan.asking.guesses import obstacle_entry
from planner.plan.asking.next_question import ways_open
from planner.plan.asking.questions import IN_ORDER, INBOARD, TABLE, Question
from planner.plan.change.changing import Setting, amended, settings_as_changes
from planner.plan.fit.swept_by import moves_fit
from planner.plan.truck.forms import Field, field, understood, with_unit, written
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.changes import DELETE
from planner.project.diary import commit
from planner.project.faults import plain
from planner.project.lines import Key
from planner.project.migrating import OLD_KEPT
from planner.project.reading import understand
from planner.project.starting import example_at
from planner.project.written_keys import split_key
from planner.quantities.grammar import read_value
from planner.quantities.kinds import POSITION, RATIO, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, default_unit, in_unit, show
from planner.quantities.unreadable import Unreadable
from planner.quantities.usual_unit import with_usual_unit

_LONGEST = 200
_GUESS_SHARE, _GUESS_TIMES = 0.1, 4  # a guess is off by a tenth, and by four times what a tool is off by


class Tool(NamedTuple):
    """How well a length was read: what it is called, and the tolerance that goes with it; none for a guess."""

    name: str
    inches: str
    metric: str

    def reads_to(self, style: Style) -> str:
        return self.metric if style.system == "metric" else self.inches


GUESS = Tool("guess", "", "")
TOOLS = (
    Tool("tape", "1/16 in", "1.5 mm"), Tool("rule", "1/32 in", "1 mm"), Tool("caliper", "0.005 in", "0.1 mm"), GUESS
)  # fmt: skip


class RefusedAnswer(ValueError):
    """What is no answer to this question; the message is one line, with an example of that very field."""


class Answer(NamedTuple):
    """An answer that was understood: the changes that it makes, how it was read, and whether it was a guess."""

    question: Question
    changes: Mapping[Key, object]
    reads: str
    guess: bool


def tool_in(text: str, tool: Tool | None) -> tuple[str, Tool | None]:
    """The text without the tool named at its end, and that tool, or the one given: `3 1/2 guess`."""
    head, _, last = text.strip().rpartition(" ")
    named = next((one for one in TOOLS if one.name == last.strip(",;").lower()), None)
    return (head.strip(" ,;"), named) if named is not None and head.strip() else (text.strip(), tool)


def understand_answer(
    opened: OpenProject, question: Question, text: str, tool: Tool | None = None, way: int = 0
) -> Answer:
    """What a text says to a question; raises `RefusedAnswer`, and nothing is changed."""
    text, tool = tool_in(text[: _LONGEST + 1], tool)
    unfit = "nothing" if not text else "a very long text" if len(text) > _LONGEST else ""
    if unfit or not text.isprintable():
        raise RefusedAnswer(f"read {unfit or 'marks that are not text'}; {such_as(opened, question, way)}")
    if question.id.endswith(INBOARD):
        return _obstacle(opened, question, text, tool)
    if question.id in IN_ORDER:
        return _in_order(opened, question, text)
    if question.instead and text.lower() == question.instead.partition(":")[0]:
        return _guessed(opened, question, {question.id: text.lower()}, question.instead)
    keys = ways_open(opened, question)[way].keys
    given = [text] if len(keys) == 1 else [one.strip() for one in text.split(",")]
    if len(given) != len(keys):
        raise RefusedAnswer(f"read {len(given)} of {len(keys)} values; {such_as(opened, question, way)}")
    texts: dict[str, str] = {}
    told: list[str] = []
    for key, one in zip(keys, given, strict=True):
        entry = field(opened, key)
        texts[key], reads = _read(opened, entry, one, tool)
        told.append(reads)
    reads = "; ".join(told)
    if tool is GUESS:
        return _guessed(opened, question, texts, reads)
    try:
        taken = settings_as_changes(opened, [Setting(*one) for one in texts.items()])
    except RefusedChange as refused:
        raise RefusedAnswer(f"{refused}; {such_as(opened, question, way)}") from None
    return Answer(question, {**taken.changes, **_no_guess(opened, question)}, reads, guess=False)


def not_there(opened: OpenProject, question: Question) -> Mapping[Key, object]:
    """The changes that say that this truck has nothing of the kind; a blank for an obstacle is taken away.

    Raises `RefusedAnswer` for what is decided, and not found.
    """
    key = question.id.partition(".at")[0]
    if question.id.startswith("obstacles[") and any(one.key == key for one in opened.obstacles.values()):
        return {("obstacles", next(at for at, one in enumerate(opened.obstacles.values()) if one.key == key)): DELETE}
    if question.stand == TABLE:
        raise RefusedAnswer("that's up to you: skip puts it off")
    kept = dict.fromkeys((*opened.project.asking.not_there, question.id))
    return {**_no_guess(opened, question), ("asking", "not_there"): list(kept)}


def left_off(opened: OpenProject, stands: str, put_off: list[str]) -> Mapping[Key, object]:
    """The changes that keep where the person stood and what was put off; none where that stands so already."""
    asking = opened.project.asking
    changes: dict[Key, object] = {}
    if stands != (asking.stands or ""):
        changes["asking", "stands"] = stands or DELETE
    if put_off != asking.skipped:
        changes["asking", "skipped"] = put_off or DELETE
    return changes


def made(opened: OpenProject, changes: Mapping[Key, object], kind: str = "answer") -> OpenProject:
    """The project once the changes are made, in the file and its diary; raises `NotSaved`.

    An answer that cannot be together with what stands there raises `RefusedAnswer`, and nothing is written.
    """
    source = opened.opened.source
    new, lost = amended(source, dict(changes))
    of_truck = [key for key in changes if key[0] != "asking"]
    after = work_out(understand(new), opened.today, before=None if moves_fit(opened, of_truck) else opened)
    had = {fault.key for fault in opened.opened.faults}
    fault = next((one for one in after.opened.faults if one.key not in had), None)
    if fault is not None:
        raise RefusedAnswer(fault.message or "that won't do")
    done = commit(source, new, kind=kind, keep_old=OLD_KEPT if lost else None)
    if done.written.source.digest == new.digest:
        return after
    return open_project(source.path, opened.today)


def _guessed(opened: OpenProject, question: Question, texts: Mapping[str, str], reads: str) -> Answer:
    taken: dict[Key, object] = {("asking", "guesses", key): text for key, text in texts.items()}
    return Answer(question, {**_no_guess(opened, question), **taken}, reads, guess=True)


def _no_guess(opened: OpenProject, question: Question) -> dict[Key, object]:
    """What an answer takes the place of: guesses, and that the truck had nothing of the kind."""
    known, asking = {question.id, *question.keys}, opened.project.asking
    gone: dict[Key, object] = {("asking", "guesses", key): DELETE for key in asking.guesses if key in known}
    if question.id in asking.not_there:
        gone["asking", "not_there"] = [one for one in asking.not_there if one != question.id] or DELETE
    return gone


def _obstacle(opened: OpenProject, question: Question, text: str, tool: Tool | None) -> Answer:
    name, _, places = text.rpartition(":")
    three = places.split(",")
    unit = default_unit(POSITION, opened.style)
    given = [with_usual_unit(one.strip(), POSITION, unit) for one in three]
    table = obstacle_entry(f"{name}: {', '.join(given)}", question.id.split(".")[1], "")
    if table is None:
        raise RefusedAnswer(
            f"'{plain(text)}' isn't all of it; write its name and three places, such as {_EXAMPLE[unit == 'in']}"
        )
    at = table["at"]
    assert isinstance(at, list)
    try:
        values = [read_value(one, POSITION) for one in at]
    except Unreadable as trouble:
        raise RefusedAnswer(f"'{plain(trouble.read)}' {trouble.problem}; {such_as(opened, question, 0)}") from None
    reads = f"{table['name']}: {at[0]} ahead, {at[1][1:]} inboard, {at[2]} up"
    if tool is GUESS:
        return _guessed(opened, question, {question.id: f"{name}: {', '.join(given)}"}, reads)
    if tool is not None:
        table["at"] = [one if value.stated else f"{one} ± {tool.reads_to(opened.style)}"  # type: ignore[union-attr]
                       for one, value in zip(at, values, strict=True)]  # fmt: skip
    number = len(opened.opened.data.get("obstacles", []))
    changes: dict[Key, object] = {("obstacles", number): table}
    return Answer(question, {**changes, **_no_guess(opened, question)}, reads, guess=False)


def _in_order(opened: OpenProject, question: Question, text: str) -> Answer:
    """As many ratios as there are, by the names that they have in the file."""
    names, ratios = IN_ORDER[question.id][0], [one.strip() for one in text.split(",")]
    if len(ratios) > len(names):
        raise RefusedAnswer(f"read {len(ratios)} of at most {len(names)}; {such_as(opened, question, 0)}")
    try:
        told = [show(read_value(one, RATIO), RATIO, opened.style) for one in ratios]
    except Unreadable as trouble:
        raise RefusedAnswer(f"'{plain(trouble.read)}' {trouble.problem}; {such_as(opened, question, 0)}") from None
    table = ("drivetrain", question.id.split(".")[1])
    changes: dict[Key, object] = {(*table, name): one for name, one in zip(names, ratios, strict=False)}
    return Answer(question, {**changes, **_no_guess(opened, question)}, ", ".join(told), guess=False)


_EXAMPLE = {True: "spring pack: 0 in, 9 in, 4 in", False: "spring pack: 0 mm, 230 mm, 100 mm"}


def _read(opened: OpenProject, entry: Field, text: str, tool: Tool | None) -> tuple[str, str]:
    """One value as it goes into the file, and as it was read; raises `RefusedAnswer`."""
    text, kind = text.strip(), entry.wants.kind
    if entry.choices:
        text = _choice(entry, text)
    text = with_unit(text, entry.wants, opened.style) if kind is not None else text
    seen = _understood(opened, entry, text)
    if tool is None or kind is None or kind.form != "quantity" or _stated(text, kind):
        return text, seen
    if tool is not GUESS and kind.name != "length":
        return text, seen  # nobody reads an angle or a weight with these
    text = f"{text} ± {_guess_margin(opened, entry, text, kind) if tool is GUESS else tool.reads_to(opened.style)}"
    return text, _understood(opened, entry, text)


def _understood(opened: OpenProject, entry: Field, text: str) -> str:
    """How a text is read: `3.50 in ± 1/16 in (88.9 mm)`; raises `RefusedAnswer`."""
    seen = understood(entry.wants, text, opened.style)
    if seen.fault or not seen.reads:
        problem = seen.fault.partition("accepted:")[0].strip("; ").removeprefix("it ") or "is none of them"
        raise RefusedAnswer(f"'{plain(text)}' {problem}; {_example(opened, entry)}")
    return f"{seen.reads.partition(' = ')[0]} ({seen.beside})" if seen.beside else seen.reads


def _stated(text: str, kind: Kind) -> bool:
    value = read_value(text, kind)
    return not isinstance(value, Quantity) or value.stated


def _guess_margin(opened: OpenProject, entry: Field, text: str, kind: Kind) -> str:
    """What a guess is off by: a tenth of it, and more than the usual tool would be."""
    value, usual = read_value(text, kind), entry.wants.usual
    assert isinstance(value, Quantity)
    tool = read_value(usual.tolerance, kind) if usual is not None and not usual.tolerance.endswith("%") else None
    least = tool.value if isinstance(tool, Quantity) else 0.0
    unit = default_unit(kind, opened.style)
    return f"{in_unit(max(abs(value.value) * _GUESS_SHARE, _GUESS_TIMES * least), kind, unit):.2g} {unit}"


def _choice(entry: Field, text: str) -> str:
    """One of what may be chosen, by its number, its first letters, or itself."""
    if text.isdecimal() and 1 <= int(text[:3]) <= len(entry.choices):
        return entry.choices[int(text[:3]) - 1]
    fitting = [one for one in entry.choices if one.lower().startswith(text.lower())]
    return fitting[0] if len(fitting) == 1 else text


def _example(opened: OpenProject, entry: Field) -> str:
    if entry.choices:
        return f"accepted: {', '.join(entry.choices)}"
    example = example_of(opened, entry)
    return f"write it such as {example}" if example else "write its value"


def example_of(opened: OpenProject, entry: Field) -> str:
    """How an entry may be written, in the person's own units."""
    return written(example_at(split_key(entry.key) or (), opened.style.system))


def such_as(opened: OpenProject, question: Question, way: int) -> str:
    """How an answer to a question may be written."""
    if question.id in IN_ORDER:
        return f"write them such as {IN_ORDER[question.id][1]}"
    if question.id.endswith(INBOARD):
        return f"write its name and three places, such as {_EXAMPLE[default_unit(POSITION, opened.style) == 'in']}"
    fields = [field(opened, key) for key in ways_open(opened, question)[way].keys]
    return _example(opened, fields[0]) if len(fields) == 1 else (
        f"write {' and '.join(one.means for one in fields)}, with commas between, such as "
        f"{', '.join(example_of(opened, one) for one in fields)}"
    )  # fmt: skip
