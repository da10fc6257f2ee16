"""What a mock-up reading was taken by: the wheel that was on, the truck as it was measured; and what of it moved."""

from collections.abc import Mapping

from planner.plan.answers.basis import UNKNOWN_BASIS, BasisChange, basis_changes, changes_in_words
from planner.plan.truck.held_mock_up import Moved
from planner.plan.truck.project import OpenProject, entry_name
from planner.project.lines import Key
from planner.project.mock_ups import obstacle_meant
from planner.project.models.measurements import Reading
from planner.quantities.text import clean

_AT_THE_AXLE = ("travel", "steering", "kingpin", "face_to_face", "suspension", "steered")
_OF_THE_OBSTACLE = ("at", "to", "moves_with", "measured_from")
_NOTHING = "nothing"


def mock_up_basis(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """Every entry that a reading is held against the sweep by, as written now: what a record gives as `rested_on`."""
    return {**_wheel(opened, reading), **_truck(opened, reading)}


def mock_up_changes(opened: OpenProject, reading: Reading) -> tuple[BasisChange, ...]:
    """What moved under a reading since it was taken; of one written by hand the one thing that is not known."""
    rested_on = opened.rested_on(reading)
    if rested_on is None:
        return (UNKNOWN_BASIS,)
    own = {**_wheel(opened, reading), **_truck(opened, reading)}
    return (*_moved(opened, rested_on, own, of_wheel=True), *_moved(opened, rested_on, own, of_wheel=False))


def moved_under(opened: OpenProject, reading: Reading) -> Moved:
    """The same in words: after another wheel or another change a reading is of something else altogether."""
    rested_on = opened.rested_on(reading)
    if rested_on is None:
        return Moved(truck=changes_in_words((UNKNOWN_BASIS,)))
    wheel = _moved(opened, rested_on, _wheel(opened, reading), of_wheel=True)
    truck = _moved(opened, rested_on, _truck(opened, reading), of_wheel=False)
    return Moved(changes_in_words(wheel), changes_in_words(truck))


def _moved(
    opened: OpenProject, rested_on: Mapping[str, str], own: Mapping[str, str], of_wheel: bool
) -> tuple[BasisChange, ...]:
    """What moved of the entries then, and what is there now and was not: a change that was decided since."""
    then = {name: text for name, text in rested_on.items() if name.startswith(("fitments", "changes")) is of_wheel}
    plain = {name: text for name, text in then.items() if not name.startswith(("changes", "obstacles"))}
    found = list(basis_changes(opened, plain))
    for name in dict.fromkeys((*then, *own)):
        was, now = then.get(name, _NOTHING), own.get(name, _NOTHING)
        planned = name.startswith(("changes", "obstacles"))
        if planned and was != now and name.startswith(("fitments", "changes")) is of_wheel:
            found.append(BasisChange(clean(opened.spoken(name)), clean(was), clean(now)))
    return tuple(found)


def _wheel(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """The candidate's own entries at that axle, and what the changes that go with it set."""
    fitment, axle = reading.fitment or "", _axle(opened, reading)
    others = {"front", "rear"} - {axle}
    keys = [
        key
        for key in opened.keys.values()
        if key[:2] == ("fitments", fitment) and not others & set(map(str, key)) and len(key) > 2
    ]
    kept = {entry_name(key): opened.text_of(entry_name(key)) for key in keys}
    truck = opened.trucks.get(fitment)
    for entry in truck.set_over.values() if truck is not None else ():
        kept[entry_name(entry.key)] = _written(opened, entry.key)
    return kept


def _truck(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """Where the obstacle stands, and what the axle does, as they were found."""
    axle = _axle(opened, reading)
    keys = [key for key in opened.keys.values() if key[:2] == ("axles", axle) and key[2] in _AT_THE_AXLE]
    kept = {entry_name(key): opened.text_of(entry_name(key)) for key in keys}
    number = obstacle_meant(opened.project, reading.of or "")
    for entry in _OF_THE_OBSTACLE if number is not None else ():
        written = _written(opened, ("obstacles", number or 0, entry))
        kept |= {f"obstacles[{number}].{entry}": written} if written else {}
    return kept


def _axle(opened: OpenProject, reading: Reading) -> str:
    number = obstacle_meant(opened.project, reading.of or "")
    return "" if number is None else opened.project.obstacles[number].axle or ""


def _written(opened: OpenProject, key: Key) -> str:
    """What is written at a key of the file; empty where nothing is."""
    value: object = opened.opened.data
    for name in key:
        if isinstance(value, dict):
            value = value.get(name)
        elif isinstance(value, list) and isinstance(name, int) and name < len(value):
            value = value[name]
        else:
            return ""
    several = value if isinstance(value, list) else [value]
    return ", ".join(clean(str(one)) for one in several if one is not None)
