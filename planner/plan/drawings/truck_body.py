"""The body as it was measured, in points of a side view: forward of the front axle's center, above the ground as found.

How the truck stands on each set of wheels, and how far the body is raised by it, is here too.

Whatever was not entered gives no point; `Body.left_out` has what would be drawn, and by which entries.
"""

from collections.abc import Callable, Iterable, Iterator
from math import cos, pi, sin
from os.path import commonprefix
from typing import NamedTuple

from planner.plan.drawings.drawn_values import known_values
from planner.plan.drawings.scene import Scene, Spot
from planner.plan.truck.project import OpenProject
from planner.project.models.look import Outline
from planner.quantities.text import clean

ENDS = ("front", "rear")
WHEEL = ("overall_diameter", "static_loaded_radius")
DIRECTIONS = {"ahead": 0.0, "up_ahead": pi / 4, "top": pi / 2, "up_behind": 3 * pi / 4, "behind": pi}
# How far away each is and how high: the nodes, and their entries.
_LOW_POINTS = (
    ("lowest front point", ("front_point_ahead", "front_point_found_height"), ("point_ahead", "point_ahead_height")),
    ("lowest rear point", ("rear_point_ahead", "rear_point_found_height"), ("point_behind", "point_behind_height")),
    ("lowest point between", ("belly_position", "found_belly_height"), ("lowest_between_position", "lowest_between")),
)
_STEPS = 6  # straight runs from one measured direction to the next
_NEAR = 1e-3  # m


class Stroke(NamedTuple):
    """A run of points of the body: `marks` are the measured ones, where it is drawn through more."""

    points: tuple[Spot, ...]
    marks: tuple[Spot, ...] = ()


class LeftOut(NamedTuple):
    """What is not drawn, and the entries that would draw it; of one end, or of the whole truck."""

    what: str
    keys: tuple[str, ...]
    end: str = ""

    def at_the_rear(self) -> "LeftOut":
        """The same of the rear end, of what is left out in front."""
        keys = tuple(key.replace("axles.front.", "axles.rear.") for key in self.keys)
        return LeftOut(self.what, keys, "rear") if self.end == "front" else self


class View(NamedTuple):
    """A drawing of the truck, and what of it is left out."""

    scene: Scene
    left_out: tuple[LeftOut, ...] = ()

    def told(self, opened: OpenProject) -> Scene:
        """The drawing, with what is left out in its words."""
        return self.scene._replace(words=" ".join(filter(None, (self.scene.words, named(opened, self.left_out)))))


class StandingWheel(NamedTuple):
    """The wheel at one end, in m: its center seen from the side, the tire's radius, the rim's where it is known."""

    center: Spot
    radius: float
    rim: float | None


class Standing(NamedTuple):
    """The wheels by end, as far as they are known, and the rise at both; None where that is not known."""

    fitment: str
    wheelbase: float
    wheels: dict[str, StandingWheel]
    rises: tuple[float, float] | None

    def raised(self, spot: Spot) -> Spot:
        """Where a point of the body is that stood there as found: on the line through both axles' rises."""
        front, rear = self.rises or (0.0, 0.0)
        return spot[0], spot[1] + front + (rear - front) * -spot[0] / self.wheelbase


def standing(opened: OpenProject, fitment: str, wheelbase: float) -> Standing:
    """As found nothing has risen, whatever is known."""
    wheels: dict[str, StandingWheel] = {}
    for axle, x in (("front", 0.0), ("rear", -wheelbase)):
        diameter, loaded, rim = known_values(opened, fitment, axle, *WHEEL, "specified_rim_diameter")
        if diameter is not None and loaded is not None:
            wheels[axle] = StandingWheel((x, min(loaded, diameter / 2)), diameter / 2, rim / 2 if rim else None)
    rises = [known_values(opened, fitment, axle, "rise")[0] for axle in ("front", "rear")]
    known = (0.0, 0.0) if fitment == "found" else None
    return Standing(fitment, wheelbase, wheels, known if None in rises else (rises[0], rises[1]))


class Body(NamedTuple):
    """Strokes through measured points, the low points, and what is left out."""

    strokes: tuple[Stroke, ...]
    marks: tuple[Spot, ...]
    left_out: tuple[LeftOut, ...]


def arch(opened: OpenProject, fitment: str, axle: str, center: Spot) -> Stroke | None:
    """The opening over a wheel whose center stands there, through the directions that were measured beside each other;
    None where there are fewer than two."""
    names = [f"opening_{one}" for one in DIRECTIONS]
    values = known_values(opened, fitment, axle, *names)
    known = [(turn, value) for turn, value in zip(DIRECTIONS.values(), values, strict=True) if value is not None]
    if len(known) < 2:
        return None
    points: list[Spot] = []
    for (turn, away), (next_turn, next_away) in zip(known, known[1:], strict=False):
        for step in range(_STEPS):
            part = step / _STEPS
            points.append(_polar(center, turn + (next_turn - turn) * part, away + (next_away - away) * part))
    points.append(_polar(center, *known[-1]))
    return Stroke(tuple(points), tuple(_polar(center, *one) for one in known))


def missing_directions(opened: OpenProject, fitment: str, axle: str) -> tuple[str, ...]:
    """The keys of the directions of an opening that are not known."""
    values = known_values(opened, fitment, axle, *(f"opening_{one}" for one in DIRECTIONS))
    pairs = zip(DIRECTIONS, values, strict=True)
    return tuple(f"axles.{axle}.fender.{one}" for one, value in pairs if value is None)


def _polar(center: Spot, turn: float, away: float) -> Spot:
    return center[0] + away * cos(turn), center[1] + away * sin(turn)


def lips(opened: OpenProject, fitment: str, axle: str, center: Spot) -> Iterator[Stroke]:
    """Sheet metal of the body outside the mounting face, from what was measured for the tire to clear."""
    for one in opened.obstacles_of(fitment).values():
        seen = one.measured
        if seen.axle != axle or seen.moves_with != "body" or seen.kind != "sheet metal" or seen.at is None:
            continue
        if seen.at[1].value > 0:
            ends = [end for end in (seen.at, seen.to) if end is not None]
            points = tuple((center[0] + end[0].value, center[1] + end[2].value) for end in ends)
            yield Stroke(points if len(points) > 1 else (), points)


def body_of(opened: OpenProject, wheelbase: float) -> Body:
    """What was measured of the body itself above the ground, beside the openings."""
    strokes, marks, left_out = list[Stroke](), list[Spot](), list[LeftOut]()
    outline = outline_points(opened.project.outline)
    if outline:
        strokes.append(Stroke(outline))
    else:
        left_out.append(
            LeftOut("body outline", ("outline.known" if opened.project.outline.pixels else "outline.points",))
        )
    for what, nodes, keys in _LOW_POINTS:
        away, height = known_values(opened, "found", "front", *nodes)
        if away is None or height is None:
            pairs = zip(keys, (away, height), strict=True)
            lost = tuple(f"vehicle.ends.{key}" for key, value in pairs if value is None)
            left_out.append(LeftOut(what, lost))
        else:
            x = {"lowest front point": away, "lowest rear point": -wheelbase - away}.get(what, -away)
            marks.append((x, height))
    return Body(tuple(strokes), tuple(marks), tuple(left_out))


def outline_points(outline: Outline) -> tuple[Spot, ...]:
    """The outline from the side: as it was measured, or else worked out from the pixels of a photo."""
    if outline.points:
        return tuple((-behind.value, height.value) for behind, height in outline.points)
    place = on_truck(outline)
    return tuple(map(place, outline.pixels)) if place is not None else ()


def on_truck(outline: Outline) -> Callable[[Spot], Spot] | None:
    """Where on the truck a pixel of a photo is, by the two known points that are furthest apart; None without two.

    The photo is upright and square to the truck's side, whichever way the truck faces: size, turn and direction follow
    from the two points, and from up on the photo being up.
    """
    known = _known(outline)
    pairs = [(a, b) for a in known for b in known]
    first, last = max(pairs, key=lambda pair: abs(pair[0][0] - pair[1][0]), default=((0j, 0j), (0j, 0j)))
    (pixel, there), run, way = first, last[0] - first[0], last[1] - first[1]
    if abs(run) < 1 or abs(way) < _NEAR:  # less than a pixel tells no direction
        return None
    as_seen, mirrored = way / run, way / run.conjugate()
    # Up on a photo is -i: of the two ways that a truck may face, the one that has up on the truck there.
    straight = (as_seen * -1j).imag >= (mirrored * 1j).imag

    def place(spot: Spot) -> Spot:
        off = complex(*spot) - pixel
        found = there + (as_seen * off if straight else mirrored * off.conjugate())
        return found.real, found.imag

    return place


def photo_miss(outline: Outline) -> float | None:
    """How far off the other known points come out, in m, since a photo is no measurement; None without any other."""
    place, known = on_truck(outline), _known(outline)
    if outline.points or place is None or len(known) < 3:
        return None
    return max(abs(complex(*place((pixel.real, pixel.imag))) - there) for pixel, there in known)


def _known(outline: Outline) -> list[tuple[complex, complex]]:
    """Each known point: its pixel, and its place forward of the front axle's center and above the ground."""
    return [
        (complex(*one.pixel), complex(-one.at[0].value, one.at[1].value))
        for one in outline.known
        if one.pixel is not None and one.at is not None
    ]


def named(opened: OpenProject, left_out: Iterable[LeftOut]) -> str:
    """What is left out and which entries would draw it, in one line; empty where nothing is.

    What lacks at both ends alike is told once.
    """
    told: list[str] = []
    every = list(left_out)
    for one in every:
        mirrored = [other for other in every if one.end and other == one.at_the_rear()]
        if one.end == "rear" and any(other.at_the_rear() == one for other in every):
            continue
        keys = _listed([opened.asked_for(key) for key in one.keys])
        where = "front and rear" if mirrored else one.end
        told.append(f"{one.what}{where and f', {where}'} ({keys}{'; the same at the rear' if mirrored else ''})")
    return f"Not drawn, since not entered: {'; '.join(told)}." if told else ""


def _listed(names: list[str]) -> str:
    """Names with commas between, what all of them begin with only once."""
    first = " ".join(commonprefix([name.split(" ") for name in names]))
    rest = [name.removeprefix(first).strip() for name in names]
    return clean(", ".join([names[0], *rest[1:]] if first and all(rest) else names))
