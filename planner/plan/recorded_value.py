"""The value that a tick writes down: how its text is read, how it stands to its range, what stands against the tick."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.plan.opening import OpenProject
from planner.plan.ranges import missing_keys, range_of, range_text
from planner.plan.work import Item
from planner.quantities.grammar import Value, read_value
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable
from planner.tasks.acceptable import stands
from planner.tasks.kind import Record


class NoSuchValue(ValueError):
    """What was written cannot be read as the value that is wanted; the message says what is accepted."""


class Judged(NamedTuple):
    """A tick as it is being written: what was understood of its value, or its fault, and what stands against it."""

    reads: str = ""
    fault: str = ""
    standing: str = ""
    against: tuple[str, ...] = ()


def wanted(one: Item) -> Record | None:
    """What the task wants written down, if anything."""
    return one.task.records if one.task else None


def kept(opened: OpenProject, one: Item, value: str) -> tuple[str, str]:
    """The value as it is kept, and how it stands to its range; raises `NoSuchValue`."""
    record = wanted(one)
    if record is None:
        return clean(value), ""
    try:
        read = read_value(value, record.kind)
    except Unreadable as trouble:
        accepted = f"{trouble.problem}; accepted: {trouble.accepted}"
        raise NoSuchValue(f"{record.label}: read '{clean(trouble.read)}': it {accepted}") from None
    if not value.strip():
        raise NoSuchValue(f"{record.label}: nothing is written there")
    return clean(value.strip()), stands_at(opened, one, record, read)


def judged(opened: OpenProject, one: Item, text: str) -> Judged:
    """What is to be said of a tick while its value is being typed; nothing typed is no value."""
    from planner.plan.forms import both  # only who types wants to read it back

    text, record = text.strip(), wanted(one)
    if record is None or not text:
        return Judged(against=tuple(against(opened, one, None if record else text, "")))
    try:
        _, standing = kept(opened, one, text)
    except NoSuchValue as trouble:
        return Judged(fault=str(trouble))
    reads = both(read_value(text, record.kind), record.kind, opened.style)
    return Judged(reads, "", standing, tuple(against(opened, one, text, standing)))


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


def against(opened: OpenProject, one: Item, value: str | None, standing: str) -> Iterator[str]:
    """What stands against a tick, the gravest first."""
    record = wanted(one)
    if one.waits:
        yield f"it waits on {', '.join(map(clean, one.waits))}"
    if one.lacks:
        yield "its parts are not there: " + ", ".join(f"{clean(need.id)} ({need.part.state})" for need in one.lacks)
    if record is None:
        return
    if value is None:
        yield f"it wants a value written down: {record.label}"
        return
    good = range_text(opened, record, one.axle)
    if standing == "outside":
        yield f"{record.label} {clean(value)} is outside of what is acceptable, {good}"
    elif standing == "too close to call":
        yield f"{record.label} {clean(value)} is too close to call with the tolerances; sure is {good}"
    elif standing == "not known":
        missing = missing_keys(opened, range_of(opened, record, one.axle).missing, one.axle)
        yield f"what is acceptable is not known before {', '.join(missing)} is entered"
