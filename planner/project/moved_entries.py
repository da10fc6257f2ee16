"""What of the truck moves along with a lift or a spacer: each entry as it will be measured once that is done."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from planner.project.lines import Key
from planner.project.models.axles import Axle
from planner.project.models.measurements import Obstacle
from planner.project.models.project import Project
from planner.quantities.quantity import Quantity

INCH = 0.0254


class MovedEntry(NamedTuple):
    """An entry's key, its value then, and at which end the amount stands that moves it.

    Without a value it cannot be worked out: then it is not known.
    """

    key: Key
    value: object | None
    end: str


def moved_entries(truck: Project, rides: str, by: Mapping[str, Quantity]) -> Iterator[MovedEntry]:
    """All that moves by these amounts, by end: with `body` the body over the axles, with `face` the mounting faces."""
    for end, amount in by.items():
        axle: Axle = getattr(truck.axles, end)
        own = _over(truck, end, axle, amount) if rides == "body" else _out(truck, end, axle, amount)
        for key, value in own:
            yield MovedEntry(key, value, end)
        for at, one in enumerate(truck.obstacles):
            if one.axle == end and (rides == "face" or one.moves_with == "body"):
                yield from _obstacle(truck, at, one, rides, end, amount)


def _over(truck: Project, end: str, axle: Axle, lift: Quantity) -> Iterator[tuple[Key, object | None]]:
    """The tightest point of the opening goes up by all of the lift, seen along some slope: by none to all of it."""
    fender, key = axle.fender, ("axles", end, "fender")
    if fender.axle_to_fender is not None:
        up = Quantity(lift.high / 2, lift.high / 2)
        yield (*key, "axle_to_fender"), plus(truck, fender.axle_to_fender, up)
    if fender.top is not None:
        yield (*key, "top"), plus(truck, fender.top, lift)
    for name in ("ahead", "up_ahead", "up_behind", "behind"):
        if getattr(fender, name) is not None:
            yield (*key, name), None
    if axle.ride_height is not None:
        yield ("axles", end, "ride_height"), plus(truck, axle.ride_height, lift)


_FACES = (  # what is measured from the mounting face, and by how much of a spacer it grows
    (("face_to_face",), 2),
    (("bearing_setback",), 1),
    (("kingpin", "inset"), 1),
    (("fender", "face_to_edge"), -1),
    (("brake", "face"), -1),
)


def _out(truck: Project, end: str, axle: Axle, thickness: Quantity) -> Iterator[tuple[Key, object | None]]:
    """What is measured from the mounting face; the hub's own studs stand as much less out of a spacer on them."""
    own = axle.spacer.own_studs
    for within, times in (*_FACES, *([(("studs", "length"), -1)] if own is False else [])):
        value: object = axle
        for name in within:
            value = getattr(value, name)
        if isinstance(value, Quantity):
            amount = Quantity(times * thickness.value, abs(times) * thickness.tolerance)
            yield ("axles", end, *within), plus(truck, value, amount)


def _obstacle(truck: Project, at: int, one: Obstacle, rides: str, end: str, amount: Quantity) -> Iterator[MovedEntry]:
    for name, place in (("at", one.at), ("to", one.to)):
        if place is not None:
            forward, outboard, up = place
            if rides == "body":
                up = plus(truck, up, amount)
            else:
                outboard = plus(truck, outboard, Quantity(-amount.value, amount.tolerance))
            yield MovedEntry(("obstacles", at, name), (forward, outboard, up), end)


def plus(truck: Project, value: Quantity, more: Quantity) -> Quantity:
    """A measured value and what it moves by, worst case, in the person's own units."""
    found = Quantity(value.value + more.value, value.tolerance + more.tolerance)
    unit, name = (INCH, "in") if truck.vehicle.units == "inch" else (0.001, "mm")
    text = f"{_short(found.value / unit)} {name}"
    return Quantity(found.value, found.tolerance, f"{text} ± {_short(found.tolerance / unit)} {name}")


def _short(number: float) -> str:
    return f"{round(number, 3):.3f}".rstrip("0").rstrip(".") if round(number, 3) else "0"
