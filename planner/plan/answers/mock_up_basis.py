"""What a mock-up reading was taken by: the wheel that was on, the truck as it was measured; and what of it moved.

What moved stands with each reading in a project that has them held against what is predicted (`mocked_up`).
"""

from collections.abc import Mapping
from functools import partial

from planner.plan.answers.basis import basis_changes
from planner.plan.answers.basis_words import UNKNOWN_BASIS, BasisChange, changes_in_words
from planner.plan.answers.impossible import entries_behind
from planner.plan.fit.brake_gaps import GAPS, held_brake_gaps
from planner.plan.fit.mock_ups import held_mock_ups
from planner.plan.fit.swept_wheel import MOTION, STEERING, TIRE
from planner.plan.truck.held_mock_up import Moved
from planner.plan.truck.project import OpenProject, PlannedObstacle, entry_name
from planner.project.changes import held_at
from planner.project.lines import Key
from planner.project.mock_ups import brake_meant, obstacle_meant
from planner.project.models.measurements import Reading
from planner.quantities.text import clean

_OF_THE_WHEEL = ("fitments", "changes")
_OF_THE_OBSTACLE = ("at", "to", "moves_with", "measured_from")
_TAKEN_ANEW = ("assumptions", "limits")  # of no truck: what they come to is worked out each time
_NOTHING = "nothing"
_OBSTACLE = "obstacle."  # of the one that it is at, whose number may become another
_NO_FACTS = ("changes", _OBSTACLE)


def mock_up_basis(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """Every entry that a reading is held against the sweep by, as written now: what a record gives as `rested_on`."""
    return {**_wheel(opened, reading), **_truck(opened, reading)}


def mock_up_changes(opened: OpenProject, reading: Reading) -> tuple[BasisChange, ...]:
    """What moved under a reading since it was taken; of one written by hand the one thing that is not known."""
    rested_on = opened.rested_on(reading)
    if rested_on is None:
        return (UNKNOWN_BASIS,)
    return (*_moved(opened, reading, rested_on, of_wheel=True), *_moved(opened, reading, rested_on, of_wheel=False))


def moved_under(opened: OpenProject, reading: Reading) -> Moved:
    """The same in words: after another wheel or another change a reading is of something else altogether."""
    rested_on = opened.rested_on(reading)
    if rested_on is None:
        return Moved(truck=changes_in_words((UNKNOWN_BASIS,)))
    return Moved(*(changes_in_words(_moved(opened, reading, rested_on, of_wheel)) for of_wheel in (True, False)))


def _moved(
    opened: OpenProject, reading: Reading, rested_on: Mapping[str, str], of_wheel: bool
) -> tuple[BasisChange, ...]:
    """What moved of the entries then, and what is there now and was not: a change that was decided since."""
    own = _wheel(opened, reading) if of_wheel else _truck(opened, reading)
    then = {name: text for name, text in rested_on.items() if name.startswith(_OF_THE_WHEEL) is of_wheel}
    plain = {name: text for name, text in then.items() if not name.startswith(_NO_FACTS)}
    found, number = list(basis_changes(opened, plain)), obstacle_meant(opened.project, reading.of or "")
    for name in dict.fromkeys((*then, *own)):
        was, now = then.get(name, _NOTHING), own.get(name, _NOTHING)
        if name.startswith(_NO_FACTS) and was != now:
            told = opened.spoken(name.replace(_OBSTACLE, f"obstacles[{number}].", 1))
            found.append(BasisChange(clean(told), clean(was), clean(now)))
    return tuple(found)


def _wheel(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """What the sweep takes of the candidate itself and of the changes that go with it, those of the obstacle too."""
    kept = {name: text for name, text in _swept(opened, reading).items() if name.startswith(_OF_THE_WHEEL)}
    number = obstacle_meant(opened.project, reading.of or "")
    for key, entry in opened.set_over(reading.fitment or "").items():
        if key[:2] == ("obstacles", number):
            kept[entry_name(entry.key)] = _written(opened, entry.key)
    return kept


def _truck(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """Where the obstacle stands, and what the axle does, as they were found."""
    kept = {name: text for name, text in _swept(opened, reading).items() if not name.startswith(_OF_THE_WHEEL)}
    number = obstacle_meant(opened.project, reading.of or "")
    for entry in _OF_THE_OBSTACLE if number is not None else ():
        written = _written(opened, ("obstacles", number or 0, entry))
        kept |= {f"{_OBSTACLE}{entry}": written} if written else {}
    return kept


def _swept(opened: OpenProject, reading: Reading) -> dict[str, str]:
    """Every entry behind what the sweep takes of that wheel, as written, by the worksheet's own edges."""
    number = obstacle_meant(opened.project, reading.of or "")
    axle = brake_meant(reading.of or "") if number is None else opened.project.obstacles[number].axle
    if not axle:
        return {}
    nodes = GAPS if number is None else (*MOTION, *STEERING, *TIRE)
    spots = (opened.spot(node, fitment=reading.fitment or "", axle=axle) for node in nodes)
    behind = dict.fromkeys(one for spot in spots for one in entries_behind(opened.sheet, spot, opened.keys))
    names = [opened.key_of(one) for one in behind if opened.keys[one][0] not in _TAKEN_ANEW]
    return {name: opened.text_of(name) for name in names}


def _written(opened: OpenProject, key: Key) -> str:
    """What is written at a key of the file; empty where nothing is."""
    value = held_at(opened.opened.data, key)
    several = value if isinstance(value, list) else [value]
    return ", ".join(clean(str(one)) for one in several if one is not None)


def mocked_up(planned: OpenProject) -> OpenProject:
    """The project with its mock-up readings; an obstacle that one contradicts is known for no candidate."""
    stale = partial(moved_under, planned)
    held, gaps = held_mock_ups(planned, stale), held_brake_gaps(planned, stale)
    lost = {one.label: f"readings[{one.taken.at}].value" for one in held if one.answer == "differs"}

    def doubted(obstacles: Mapping[str, PlannedObstacle]) -> dict[str, PlannedObstacle]:
        return {
            label: one._replace(fault=lost[label]) if label in lost and not one.fault else one
            for label, one in obstacles.items()
        }

    against: dict[str, tuple[str, ...]] = {key: (planned.obstacles[label].key_of("at"),) for label, key in lost.items()}
    against |= {f"readings[{one.taken.at}].value": one.rests_on[:1] for one in gaps if one.answer == "differs"}
    return planned._replace(
        mock_ups=(*held, *gaps),
        at_odds={**planned.at_odds, **against},
        obstacles=doubted(planned.obstacles),
        moved_obstacles={name: doubted(several) for name, several in planned.moved_obstacles.items()},
    )
