"""What a changed reading brings with it, so that an entry and its readings go on saying the same."""

from collections.abc import Mapping, Sequence
from typing import Any

from planner.plan.truck.project import OpenProject
from planner.project.changes import DELETE, held_at
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.migrating import amend_or_rewrite
from planner.project.reading import understand
from planner.project.record_checks import reading_key
from planner.project.source import ProjectText, parse
from planner.project.truck_keys import truck_key
from planner.project.which_counts import MEASURED, differ, read_as_entry

LONGEST = 30  # of an entry that follows its readings; a mean of thirds has forty figures


def as_readings(opened: OpenProject, changes: dict[Key, object]) -> dict[Key, object]:
    """The changes, in which an entry that was read and is set by itself is read once more: no reading is lost by it.

    Where it agrees with the others it is the one that counts. Where it does not, all count until somebody says which.
    """
    if any(key[0] in ("readings", "which_counts") for key in changes):
        return changes
    made = dict(changes)
    at = len(opened.project.readings)
    for key, value in changes.items():
        counted = opened.opened.counted.get(key)
        entry = truck_key(opened.project, as_key(key), MEASURED)
        if counted is None or counted.sides or entry is None or value is DELETE:  # nobody says which side was read
            continue
        of = str(counted.readings[0].reading.of)
        named = (one for one in opened.project.which_counts if reading_key(opened.project, one) == key)
        which: Key = ("which_counts", next(named, of))
        number = next((one.number for one in counted.readings if one.reading.value == value), None)
        if number is None:
            made[("readings", at)] = {"of": of, "value": value, "on": opened.today}
            number, at = len(counted.readings) + 1, at + 1
        read = read_as_entry(entry, value, assumes=True)
        if read is not None and not any(differ(read, one.value) for one in counted.readings):
            made[which] = number
        elif number > len(counted.readings):
            del made[key]
            made |= {which: DELETE} if counted.which is not None else {}
        else:
            made[which] = number  # it was read so before: that one was right
    return made


def beside_readings(opened: OpenProject, changes: Mapping[Key, object], new: ProjectText) -> dict[Key, object]:
    """What is written beside changes to readings; `new` is the text with them.

    An entry that had no reading yet becomes one, as it stands, beside the first that differs: nobody's measurement is
    lost. One that had some follows them, or is left to them where they make a long number of it.
    """
    if not any(key[0] in ("readings", "which_counts") for key in changes):
        return {}
    renumbered = _renumbered(opened, changes)
    if renumbered:
        text, _ = amend_or_rewrite(new.text, renumbered)
        new = parse(new.path, text.encode("utf-8"))
    return renumbered | _followed(opened, changes, new)


def _renumbered(opened: OpenProject, changes: Mapping[Key, object]) -> dict[Key, object]:
    """Which reading counts by its number, where one before it is taken out; nobody says which if it is that one."""
    gone = {key[1] for key, value in changes.items() if value is DELETE and len(key) == 2 and key[0] == "readings"}
    more: dict[Key, object] = {}
    for written, which in opened.project.which_counts.items() if gone else ():
        counted = opened.opened.counted.get(reading_key(opened.project, written) or ())
        at: Key = ("which_counts", written)
        if counted is None or not isinstance(which, int) or at in changes:
            continue
        out = [one.number for one in counted.readings if one.at in gone]
        if out:
            more[at] = DELETE if which in out else which - sum(number < which for number in out)
    return more


def _followed(opened: OpenProject, changes: Mapping[Key, object], new: ProjectText) -> dict[Key, object]:
    then = understand(new)
    readings = then.data.get("readings", ())
    more: dict[Key, object] = {}
    # What an entry and its readings say otherwise is a fault of the entry against each of them.
    for key in [one.key for one in then.faults if any(other[0] == "readings" for other in one.against)]:
        if key[0] == "readings" or key in changes:
            continue
        if key not in opened.opened.counted and as_key(key) not in then.data.get("which_counts", {}):
            more |= as_reading(key, held_at(then.data, key), readings, len(more))
        else:
            without, _ = amend_or_rewrite(new.text, {key: DELETE})
            counted = understand(parse(new.path, without.encode("utf-8"))).counted.get(key)
            result = getattr(counted.value, "text", "") if counted is not None else ""
            more[key] = result if 0 < len(result) <= LONGEST else DELETE
    return more


def as_reading(key: Key, entry: object, readings: Sequence[Any], after: int) -> dict[Key, object]:
    """An entry as a reading: the one that says who measured it and not what was read, or one `after` other new ones."""
    for at, one in enumerate(readings):
        if isinstance(one, dict) and one.get("of") == as_key(key) and "value" not in one and "fitment" not in one:
            return {("readings", at, "value"): entry}
    return {("readings", len(readings) + after): {"of": as_key(key), "value": entry}}
