"""What a wheel order rests on and was measured only once: two readings that agree, another way or by somebody else."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.project.faults import as_key
from planner.project.lines import Key
from planner.project.which_counts import TakenReading, differ
from planner.quantities.quantity import Band, Quantity
from planner.quantities.text import clean, same_name
from planner.worksheet.outcome import Spot

WAYS = ("adjacent_spacing", "skip_spacing", "outer_edge_spacing", "points")  # to the stud circle, by measuring


AGAIN = "measure it another way or have somebody else do it, and write both readings down"


class OnceMeasured(NamedTuple):
    """An entry that a wheel order rests on and that was measured only once: its key, and what it is called.

    `key` is as people type it, `at` as it stands in the file.
    """

    key: str
    called: str
    at: Key = ()


def measured_once(opened: OpenProject) -> tuple[OnceMeasured, ...]:
    """The entries behind stud circle, pilot and the nearest obstacle at each end that nobody measured a second time.

    Two ways to the stud circle are two readings of it: where they disagree, that is told elsewhere. What is not entered
    at all is asked for elsewhere as well.
    """
    entered = {key for key in opened.keys.values() if key[0] == "axles"}
    once: list[tuple[Key, str]] = []
    for axle in ("front", "rear"):
        ways = [key for name in WAYS if (key := ("axles", axle, "studs", name)) in entered]
        stated = ("axles", axle, "studs", "circle")
        ways = ways or [key for key in (stated,) if key in entered]  # a plate or drawing is no reading of this hub
        once += [(ways[0], f"bolt circle, {axle}")] if len(ways) == 1 else []
        pilot = ("axles", axle, "hub", "pilot")
        once += [(pilot, f"pilot, {axle}")] if pilot in entered else []
        once += [(key, f"nearest obstacle at the {axle}, {clean(name)}") for key, name in _nearest(opened, axle)]
    return tuple(
        OnceMeasured(clean(opened.typed(as_key(key))), called, key) for key, called in once if not _twice(opened, key)
    )


def once_words(once: Sequence[OnceMeasured]) -> str:
    """What was measured only once, by name."""
    return f"measured only once, and the wheels depend on it: {'; '.join(one.called for one in once)}"


def _nearest(opened: OpenProject, axle: str) -> Iterator[tuple[Key, str]]:
    """Where the obstacle is that comes nearest to its limit at an end, by the planned wheel, and its name."""
    near: list[tuple[float, int, str]] = []
    for number, (label, obstacle) in enumerate(opened.obstacles.items()):
        for fitment in opened.planned if obstacle.measured.axle == axle else ():
            least = opened.swept.results.get(Spot("least_clearance", (fitment, "", label, "", "")))
            if isinstance(least, (Band, Quantity)):
                wanted = obstacle.required.value if obstacle.required is not None else 0.0
                near.append((least.low - wanted, number, obstacle.measured.name or label))
    if near:
        _, number, name = min(near)
        yield ("obstacles", number, "at"), name


def _twice(opened: OpenProject, key: Key) -> bool:
    counted = opened.opened.counted.get(key)
    return counted is not None and any(_agree(one, other) for one, other in combinations(counted.readings, 2))


def _agree(one: TakenReading, other: TakenReading) -> bool:
    """Whether two readings may be of one side, agree, and were not taken by the same person in the same way."""
    sides = {one.reading.side, other.reading.side} - {None}
    ways = [(one.reading.by, other.reading.by), (one.reading.how, other.reading.how)]
    ways.append((one.reading.tool, other.reading.tool))
    otherwise = any(first and second and not same_name(first, second) for first, second in ways)
    return len(sides) < 2 and otherwise and not differ(one.value, other.value)
