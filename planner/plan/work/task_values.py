"""What a task records: whether it applies, the range that is acceptable, and how a value stands to it."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from planner.plan.truck.catalog import catalog, entry_key, of_fitments
from planner.plan.truck.pairs import LOCKS, undriven
from planner.plan.truck.project import OpenProject
from planner.plan.work.hold_points import not_known_words
from planner.plan.work.item import Item
from planner.plan.work.written_gaps import NotAGap, written_gaps
from planner.project.facts import AXES
from planner.project.which_counts import differ
from planner.quantities.grammar import Value, read_value
from planner.quantities.quantity import Quantity
from planner.quantities.show import default_unit
from planner.quantities.show_range import show_end, show_range
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable
from planner.quantities.usual_unit import with_usual_unit
from planner.tasks.acceptable import Ends, Range, acceptable, stands
from planner.tasks.kind import Record, StandingTask
from planner.tasks.sequence import applies
from planner.worksheet.outcome import Known, Spot, Waiting

_ENDS = ("front", "rear")
NONE_SURE = "no value for sure: what it's checked against isn't measured well enough"


def spots_of(opened: OpenProject, name: str, axle: str = "", found: bool = False) -> list[Spot]:
    """Every spot that a name such as `planned_backspace` stands for, at an axle or the whole truck, as planned.

    With `found`, what is the truck's own is read as it was found, whatever changes go with what is planned.
    """
    edge = opened.sheet.catalog.edge(name)
    as_found = found and edge.node in catalog().facts and not of_fitments(edge.node)
    fitments = ("found",) if as_found else opened.planned
    wanted: dict[str, tuple[str, ...]] = {"fitment": fitments, "axle": (axle,) if axle else _ENDS}
    if edge.pin:
        wanted[edge.pin[0]] = (edge.pin[1],)
    return [
        spot
        for spot in opened.sheet.spots(edge.node)
        if all(
            not member or axis not in wanted or member in wanted[axis]
            for axis, member in zip(AXES, spot.place, strict=True)
        )
    ]


def spots_shown(opened: OpenProject, one: Item) -> Iterator[Spot]:
    """The values behind what stands beside a task on paper: its range and its torque."""
    if one.task is not None:
        for node in (*(one.task.records.nodes if one.task.records else ()), *filter(None, [one.task.torque])):
            yield from spots_of(opened, node, one.axle)


def applies_at(opened: OpenProject, task: StandingTask, axle: str) -> bool:
    """Whether a task applies: for any of the fitments that are planned, and for the whole truck at any axle."""

    def at(fitment: str, end: str) -> bool:
        alone = any(undriven(opened, fitment, one) for one in _ENDS)  # nothing locks one driven axle to the other

        def value(node: str) -> object:
            return (
                False if alone and node == LOCKS else opened.sheet.value(opened.spot(node, fitment=fitment, axle=end))
            )

        return applies(task, value)

    return not task.applies or any(
        at(fitment, end) for fitment in opened.planned for end in ([axle] if axle else _ENDS)
    )


def range_of(opened: OpenProject, record: Record, axle: str) -> Range:
    """What may be recorded; where several places count, what is good at each of them."""

    def ends(node: str) -> Ends | None:
        outcomes = [opened.sheet.outcome(spot) for spot in spots_of(opened, node, axle)]
        known = [one for one in outcomes if isinstance(one, Known)]
        if not outcomes or len(known) < len(outcomes):
            return None
        bounded = [(one.low, one.high) if one.low <= one.high else (one.value, one.value) for one in known]
        return min(low for low, _ in bounded), max(high for _, high in bounded)

    return acceptable(record, ends)


def missing_keys(opened: OpenProject, names: Iterable[str], axle: str) -> tuple[str, ...]:
    """The entries to make before a range is known."""
    keys: dict[str, None] = {}
    for name in names:
        for spot in spots_of(opened, name, axle):
            outcome = opened.sheet.outcome(spot)
            for need in (*outcome.needs, *outcome.either) if isinstance(outcome, Waiting) else ():
                keys.update(dict.fromkeys(map(opened.asked_for, opened.keys_needed(need))))
    return tuple(keys) or tuple(names)


def range_text(opened: OpenProject, record: Record, axle: str) -> str:
    """What is acceptable, in the person's units, its ends rounded inward; empty where there is no range."""
    found = range_of(opened, record, axle)
    if found.missing:
        return "not known yet: enter " + ", ".join(missing_keys(opened, found.missing, axle))
    if _none_sure(found):
        return NONE_SURE
    low, high = _range_ends(opened, record, found)
    if low and high:
        return low if low == high else f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def short_range(opened: OpenProject, record: Record, axle: str) -> str:
    """The same for the wall: in the person's own units alone, the unit once, and no keys."""
    found = range_of(opened, record, axle)
    if found.missing:
        return "range not known yet"
    if _none_sure(found):
        return "no value for sure yet"
    low, high = _range_ends(opened, record, found, beside=False)
    if low and high and low != high:
        unit = f" {high.rpartition(' ')[2]}"
        return f"{low.removesuffix(unit)} to {high}"
    return high if low == high else f"at least {low}" if low else f"at most {high}"


def _none_sure(found: Range) -> bool:
    least, most = found.sure
    return least is not None and most is not None and least > most


def _range_ends(opened: OpenProject, record: Record, found: Range, beside: bool = True) -> tuple[str, str]:
    """Both ends as they are shown, empty where there is none."""
    kinds, (least, most) = (record.kind.smallest(), record.kind.greatest()), found.sure
    if least is not None and most is not None and least < most:
        return show_range(least, most, kinds, opened.style, beside)
    low = "" if least is None else show_end(least, kinds[0], opened.style, beside)
    return low, "" if most is None else show_end(most, kinds[1], opened.style, beside)


class NoSuchValue(ValueError):
    """What was written cannot be read as the value that is wanted; the message says what is accepted."""


class JudgedValue(NamedTuple):
    """A tick as it is being written: what was understood of its value, or its fault, and what stands against it."""

    reads: str = ""
    fault: str = ""
    standing: str = ""
    against: tuple[str, ...] = ()
    differs: str = ""


def wanted(one: Item) -> Record | None:
    """What the task wants written down, if anything."""
    return one.task.records if one.task else None


def value_to_record(opened: OpenProject, one: Item, value: str) -> tuple[str, str]:
    """The value as it is kept, and how it stands to its range; raises `NoSuchValue`."""
    record = wanted(one)
    if record is None:
        return clean(value), ""
    value = with_usual_unit(value.strip(), record.kind, default_unit(record.kind, opened.style))
    try:
        read = read_value(value, record.kind)
    except Unreadable as trouble:
        accepted = f"{trouble.problem}; accepted: {trouble.accepted}"
        raise NoSuchValue(f"{record.label}: read '{clean(trouble.read)}': it {accepted}") from None
    if not value.strip():
        raise NoSuchValue(f"{record.label}: nothing is entered there")
    if record.gaps:
        try:
            written_gaps(opened, one.axle, value, record.kind)
        except NotAGap as trouble:
            raise NoSuchValue(f"{record.label}: {trouble}") from None
    return clean(value.strip()), stands_at(opened, one, record, read)


def judge_value(opened: OpenProject, one: Item, text: str) -> JudgedValue:
    """What is to be said of a tick while its value is being typed; nothing typed is no value."""
    from planner.plan.truck.forms import both  # only who types wants to read it back

    text, record = text.strip(), wanted(one)
    if record is None or not text:
        return JudgedValue(against=tuple(why_not_tick(opened, one, None if record else text, "")))
    try:
        _, standing = value_to_record(opened, one, text)
    except NoSuchValue as trouble:
        return JudgedValue(fault=str(trouble))
    reads = both(read_value(text, record.kind), record.kind, opened.style)
    filled = filled_entry(opened, one, text)
    differs = which_counts_text(filled, text) if filled is not None and filled.differs else ""
    return JudgedValue(reads, "", standing, tuple(why_not_tick(opened, one, text, standing)), differs)


def stands_at(opened: OpenProject, one: Item, record: Record, value: Value) -> str:
    """How a recorded value stands: within, outside, too close to call, not known; empty where there is no range."""
    if record.least is None and record.most is None:
        return ""
    if not isinstance(value, (Quantity, int, float)):
        return ""
    return stands(value, range_of(opened, record, one.axle))


def recorded_stands(opened: OpenProject, one: Item) -> str:
    """How the value on record stands to the range as it is now; "not readable" where it is none any more."""
    record = wanted(one)
    if record is None or one.record is None or one.record.recorded is None:
        return ""
    try:
        return stands_at(opened, one, record, read_value(one.record.recorded, record.kind))
    except Unreadable:
        return "not readable"


def is_outside(opened: OpenProject, one: Item) -> bool:
    """Whether the value on record is out of range as that is now: it stays marked until it is not."""
    return recorded_stands(opened, one) == "outside"


def why_not_tick(opened: OpenProject, one: Item, value: str | None, standing: str) -> Iterator[str]:
    """What stands against a tick, the gravest first."""
    record = wanted(one)
    if one.waits:
        yield f"it waits on {', '.join(map(clean, one.waits))}"
    if one.lacks:
        yield "its parts aren't here: " + ", ".join(f"{clean(need.id)} ({need.part.state})" for need in one.lacks)
    if one.not_known:
        yield not_known_words(one.not_known)
    if one.unmeasured:
        yield f"not measured yet: {', '.join(map(clean, one.unmeasured))}"
    if record is None:
        return
    if value is None:
        yield f"it needs a value written down: {record.label}"
        return
    good = range_text(opened, record, one.axle)
    if standing == "outside":
        yield f"{record.label} {clean(value)} is outside the range, {good}"
    elif standing == "too close to call":
        safe = "" if good == NONE_SURE else f"; it's safe if {good}"
        yield f"{record.label} {clean(value)} is too close to call with the tolerances{safe}"
    elif standing == "not known":
        missing = missing_keys(opened, range_of(opened, record, one.axle).missing, one.axle)
        yield f"nobody knows the range until you enter {', '.join(missing)}"


class FilledEntry(NamedTuple):
    """The entry by its key, and what is written there; empty while nothing is."""

    key: str
    stands: str
    agrees: bool

    @property
    def differs(self) -> bool:
        return bool(self.stands) and not self.agrees


def filled_entry(opened: OpenProject, one: Item, text: str) -> FilledEntry | None:
    """The entry that a task's value is a reading of; None where it is of none, or cannot be read."""
    record = wanted(one)
    if record is None or not record.fills:
        return None
    try:
        value = read_value(text, record.kind)
    except Unreadable:
        return None
    spot = opened.spot(record.fills, axle=one.axle)
    given = opened.given(spot)
    key = opened.key_of(spot) if given is not None else entry_key(spot)
    return FilledEntry(key, "" if given is None else opened.written_at(key), not differ(given, value))


def which_counts_text(filled: FilledEntry, value: str) -> str:
    """That a reading and the entry differ."""
    return f"it reads {clean(value)}, and {filled.key} is {clean(filled.stands)}"
