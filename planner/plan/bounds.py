"""The limits on backspace and on diameter that need no sweep: poke, law, scrub, bearings, brake."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf
from typing import TYPE_CHECKING, NamedTuple

from planner.trade.fit.limits import Limit

if TYPE_CHECKING:
    from planner.plan.opening import OpenProject

Known = Callable[[str], float | None]


class Bounds(NamedTuple):
    """What the backspace and the diameter must lie between, apart from the obstacles.

    `hard` are those of the backspace that are not the person's to give up: a stop stands behind each.
    """

    backspace: tuple[Limit, ...]
    hard: tuple[Limit, ...]
    diameter: tuple[Limit, ...]


def bounds(opened: OpenProject, fitment: str, axle: str) -> Bounds:
    """Every limit whose figures are known, but for the cautions that the person took on.

    What is not known limits nothing here: the rules on it say that it is not known.
    """

    def known(node: str) -> float | None:
        value = opened.sheet.value(opened.spot(node, fitment=fitment, axle=axle))
        return None if value is None else float(value)

    taken_on = {one.flag for one in opened.project.acceptances if one.because}
    own = [(rule, limit) for rule, limit in _backspace(known) if rule not in taken_on]
    stops = {rule.name for rule in opened.sheet.catalog.rules.values() if rule.severity == "stop"}
    hard = tuple(limit for rule, limit in own if rule in stops)
    return Bounds(tuple(limit for _, limit in own), hard, tuple(_diameter(known)))


def _backspace(known: Known) -> Iterator[tuple[str, Limit]]:
    """Each limit with the rule that judges the same."""
    section, wide, offset = known("section_width"), known("overall_width"), known("offset")
    if section is None or wide is None or offset is None:
        return
    half = wide / 2  # backspace = offset + half the overall width
    edge = known("face_to_fender_edge")
    pokes = (
        ("fit.poke_past_greatest", "the greatest poke wanted", "greatest_poke"),
        ("fit.poke_past_local_code", "the local code on poke", "legal_poke"),
    )
    for rule, name, node in pokes:
        greatest = known(node)
        if edge is not None and greatest is not None:
            yield rule, Limit(name, low=section / 2 - edge - greatest + half)
    wanted, slack = known("wanted_poke"), known("poke_allowance")
    if edge is not None and wanted is not None and slack is not None:
        middle = section / 2 - edge - wanted + half
        yield "fit.poke_not_as_wanted", Limit("the poke wanted", middle - slack, middle + slack)
    legal, face_to_face = known("legal_width"), known("face_to_face")
    if legal is not None and face_to_face is not None:
        yield "fit.wider_than_legal", Limit("the legal width", low=(face_to_face + section - legal) / 2 + half)
    scrub, found_scrub, most = known("scrub_radius"), known("found_scrub_radius"), known("most_scrub_change")
    if scrub is not None and found_scrub is not None and most is not None:
        middle = offset + scrub - found_scrub + half  # more offset is as much less scrub
        yield "steering.scrub_radius_changed", Limit("the scrub radius", middle - most, middle + most)
    setback, found_arm, ratio = known("bearing_setback"), known("found_bearing_arm"), known("most_bearing_moment")
    if setback is not None and found_arm is not None and ratio is not None:
        yield (
            "steering.bearing_moment_grown",
            Limit("the wheel bearings", setback - ratio * found_arm + half, setback + ratio * found_arm + half),
        )
    clearance, gap = known("radial_clearance"), known("least_brake_gap")
    if clearance is not None and gap is not None and clearance < gap:
        yield "brakes.barrel_near_brake", Limit("the brake inside the barrel", inf, inf)


def _diameter(known: Known) -> Iterator[Limit]:
    door, tall, diameter = known("door_height"), known("overall_height"), known("overall_diameter")
    if door is not None and tall is not None and diameter is not None:
        yield Limit("the door", high=diameter + 2 * (door - tall))
