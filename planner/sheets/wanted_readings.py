"""Which readings a measuring sheet asks for, and where one stands to take each of them."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.plan.answers.flagging import OF_CIRCLE
from planner.plan.asking.evening import to_take
from planner.plan.asking.next_question import ask_state, ways_open
from planner.plan.asking.plain_questions import stand_of
from planner.plan.asking.questions import OFF, TABLE, WHEELS, Question, asked_by_key
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.change_words import entries_of, planned_changes
from planner.plan.truck.forms import field
from planner.plan.truck.keys import UnknownKey
from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import reading_lines, taken_at
from planner.plan.work.change_tasks import unmeasured
from planner.plan.work.measured_twice import WAYS, measured_once
from planner.project.facts import AXES, entrance_of
from planner.project.faults import as_key
from planner.project.sides import SIDES, has_sides
from planner.project.starting import metric_margin
from planner.project.written_keys import split_key
from planner.quantities.kinds import POSITION
from planner.quantities.kinds import Kind as ValueKind
from planner.quantities.text import clean
from planner.sheets.kind import Subject

NOT_BY_TAPE = ("use", "legal", "plan", "wishes", "limits", "assumptions")
ONCE_MORE = "a second reading, another way or by somebody else: an order rests on it"
MORE_CLOSELY = "more closely than now"
RESTS_ON = (*WAYS, "hub_pilot")  # an order rests on these: they are read twice
# Where the question for one says otherwise: with the wheel on, nobody sees the face, a stud's middle, or full droop.
_STANDS = {
    **dict.fromkeys((*WAYS, "stated_stud_circle", "stud_count", "skip", "outer_edge_skip", "stud_points"), OFF),
    "face_to_fender_edge": OFF,
    "droop_travel": OFF,
    "rim_pieces": WHEELS,  # before anybody touches a nut
}


class WantedReading(NamedTuple):
    """A reading that is wanted: where it is entered, where one stands for it, what is known of it, with which tool."""

    fact: str
    key: str
    kind: ValueKind
    means: str
    how: str
    where: str
    known: str = ""
    better: str = ""
    stand: str = TABLE
    tool: str = ""
    sides: tuple[str, ...] = ()

    @property
    def times(self) -> int:
        """How often it is read: twice where an order rests on it and nothing is there yet."""
        return 2 if self.fact in RESTS_ON and not self.known else 1


def wanted_readings(subject: Subject) -> list[WantedReading]:
    """What the rules wait for, what settles a close call, and second readings; or everything."""
    return [*_wanted(subject), *_after_changes(subject)]


def _wanted(subject: Subject) -> Iterator[WantedReading]:
    better = better_readings(subject)
    waiting = (flag for flag in subject.flags if flag.verdict.answer == "not known")  # the gravest first
    asked = dict.fromkeys((*(key for flag in waiting for key in flag.needs), *better))
    if subject.asked.everything:
        asked |= dict.fromkeys(_everything(subject))
    for key in asked:
        one = _reading(subject.opened, key, better)
        if one is not None:
            yield one


def next_questions(subject: Subject, most: int) -> list[Question]:
    """What to take to the truck next, as being asked has it: so many questions at the most."""
    opened = subject.opened
    return [one.question for one in to_take(ask_state(opened), set(opened.project.asking.skipped), most)]


def next_readings(subject: Subject, questions: Sequence[Question], most: int) -> list[WantedReading]:
    """What these questions ask for; where they are few, also what is to be read again."""
    opened = subject.opened
    keys = [key for question in questions for key in ways_open(opened, question)[0].keys]
    better = better_readings(subject)
    found = (_reading(opened, key, better) for key in dict.fromkeys((*keys, *read_again(subject, questions, most))))
    return [one for one in found if one is not None]


def read_again(subject: Subject, questions: Sequence[Question], most: int) -> list[str]:
    """What is to be read once more at the truck, by its key: another way where a stop waits for it, whatever else is
    asked; the rest where the questions leave room for it."""
    found = [key for key in better_readings(subject) if key.startswith(("axles.", "obstacles[", "vehicle."))]
    return [*dict.fromkeys((*_another_way(subject), *found[: max(0, most - len(questions))]))]


def _another_way(subject: Subject) -> Iterator[str]:
    """The easiest way left to take a bolt circle that was taken once, where a stop waits for a second."""
    for flag in subject.flags:
        studs = next((key.rpartition(".")[0] for key in flag.needs if key.endswith(".studs.points")), "")
        if not studs or flag.rule.severity != "stop" or all(f"{studs}.{one}" in flag.needs for one in OF_CIRCLE):
            continue
        if f"{studs}.adjacent_spacing" in flag.needs:
            yield f"{studs}.adjacent_spacing"
        else:
            yield from (f"{studs}.skip_spacing", f"{studs}.skip")


def _reading(opened: OpenProject, key: str, better: dict[str, str]) -> WantedReading | None:
    """The reading at an entry's key, where one stands for it, with which tool, on which sides.

    None for what is no single entry, such as an obstacle's place.
    """
    found = entrance_of(key)
    if found is None:
        return None
    entrance, at = found
    known = _known_text(opened, key)
    where = ", ".join(_said(at[axis]) for axis in AXES if axis in at)
    one = WantedReading(
        entrance.fact, key, entrance.kind, entrance.note.means, entrance.note.how, where, known,
        better.get(key, ""),
    )  # fmt: skip
    if _not_by_tape(one):
        return one
    question = asked_by_key("").get(one.key)
    stand = _STANDS.get(one.fact) or (question.stand if question else stand_of(split_key(one.key) or (one.key,)))
    measured = one.kind.form in ("quantity", "ratio") and one.kind.name != "rim code" and stand != TABLE
    sides = SIDES if measured and has_sides(split_key(one.key) or ()) else ()
    return one._replace(stand=stand, tool=tool_words(opened, one.key), sides=sides)


def tool_words(opened: OpenProject, key: str) -> str:
    """What an entry is read with, and how well that reads; empty where nothing is measured."""
    try:
        wants = field(opened, key).wants
    except UnknownKey:
        return ""
    usual = wants.usual
    if usual is None:
        return ""
    told, kind = usual.tolerance, wants.kind
    if opened.style.system == "metric" and kind is not None and not told.endswith("%"):
        told = metric_margin(told, kind if kind.form == "quantity" else POSITION)
    return f"with {usual.tool}: ± {told}"


def _known_text(opened: OpenProject, key: str) -> str:
    """What an entry is so far, and by whose readings; a side that was not read is said too."""
    taken = taken_at(opened, key)
    text = taken or (opened.written_at(key) if opened.spot_at(key) is not None else "")
    return f"{text} ({'; '.join(reading_lines(opened, key))})" if taken else text


def _after_changes(subject: Subject) -> Iterator[WantedReading]:
    """What a change set or moved that is done, and that nobody has measured since."""
    opened = subject.opened
    for number in planned_changes(opened):
        if opened.project.changes[number].state != "done":
            continue
        sets = {
            opened.truck_key_of(one.set_at): f"set to {one.planned}, found {one.found}"
            for one in entries_of(opened, number)
        }
        for own, key in unmeasured(opened, number).items():
            one = _reading(opened, own, {})
            if one is not None:
                yield one._replace(key=key, known=sets.get(opened.truck_key_of(key), ""))


def _said(name: str) -> str:
    """A name of the person's, or that there is one blank for all that will have one."""
    return f"each {clean(name[1:-1])}" if name.startswith("<") else clean(name)


def better_readings(subject: Subject) -> dict[str, str]:
    """What is read once more, by its key, and how: what an order rests on, and what would settle a close call."""
    found: dict[str, list[str]] = {}
    if any(name != "found" for name in subject.opened.planned):
        for one in measured_once(subject.opened):
            found[as_key(one.at)] = [ONCE_MORE]
    for flag in subject.flags:
        if flag.verdict.answer == "too close to call":
            for key, to in flag.better:
                found.setdefault(key, []).insert(0, f"within {to}" if to else MORE_CLOSELY)
    return {key: "; ".join(dict.fromkeys(how)) for key, how in found.items()}


def _everything(subject: Subject) -> Iterator[str]:
    opened = subject.opened
    for node in opened.sheet.catalog.facts:
        for spot in opened.sheet.spots(node):
            if spot.place[0] in ("", "found", *opened.planned) and asked_there(opened, spot):
                entered = opened.sheet.entered(spot)
                yield opened.key_of(entered) if entered else entry_key(spot)


def _not_by_tape(one: WantedReading) -> bool:
    candidate = one.key.startswith("fitments.") and not one.key.startswith("fitments.found.")
    return candidate or one.key.split(".")[0] in NOT_BY_TAPE or one.fact.startswith("wanted_")
