"""The steered wheel about its kingpin: scrub radius, turning radius, the two wheels' angles and the stop screw.

The frame is the swept clearance's: y outboard from the hub's mounting face, the tire's center plane at -offset. The
kingpin crosses the hub's height at -kingpin_inset and leans inboard at the top, so that it meets the ground
loaded_radius × tan(inclination) further outboard.
"""

from math import atan, pi, radians, sin, tan

from planner.quantities.kinds import Angle, Length, Position, SmallestPosition
from planner.sources.reasoning import GEOMETRY, KINEMATICS
from planner.worksheet.declare import Impossible, figure
from planner.worksheet.turning import greatest

HARDLY = radians(1.0)  # of steer: a truck that turns in a mile turns nowhere


@figure(
    means="tire's center plane (the middle of a pair) outboard of the kingpin's ground point",
    ground=GEOMETRY,
    reads={"offset": "middle_offset"},
)
def scrub_radius(kingpin_inset: Position, inclination: Angle, offset: Position, loaded_radius: Length) -> Position:
    """In m, at the ground; positive where the tire stands outboard of the kingpin's line. Caster is left out: it shifts
    the ground point forward, hardly sideways.

    Inset 4, no offset, radius 16, a lean of which the tangent is 1/8: the line meets the ground 2 further out.

    >>> from math import atan
    >>> scrub_radius(4.0, atan(1 / 8), 0.0, 16.0)
    2.0
    """
    return kingpin_inset - offset - loaded_radius * tan(inclination)


_MEASURED = {
    "kingpin_track": "kingpin_ground_track",
    "outer_angle": "stop_angle_out",
    "found_steer_angle": "found_stop_angle",
    "found_outer_angle": "found_stop_angle_out",
}


@figure(means="between the two kingpins at hub height, from face to face and inset", ground=GEOMETRY)
def kingpin_track_by_inset(face_to_face: Length, kingpin_inset: Position) -> Length:
    """In m: each kingpin stands inboard of its mounting face by the inset.

    >>> kingpin_track_by_inset(64.0, 4.5)
    55.0
    """
    return face_to_face - 2 * kingpin_inset


@figure(means="between the two kingpins' ground points", ground=GEOMETRY)
def kingpin_ground_track(kingpin_track: Length, inclination: Angle, loaded_radius: Length) -> Length:
    """In m: each kingpin meets the ground loaded_radius × tan(inclination) outboard of where it crosses hub height.

    49 apart at hub height, radius 16, a lean of which the tangent is 1/8: 2 more on each side.

    >>> from math import atan
    >>> kingpin_ground_track(49.0, atan(1 / 8), 16.0)
    53.0
    """
    return kingpin_track + 2 * loaded_radius * tan(inclination)


@figure(
    means="turning radius, curb to curb, of the outer front tire",
    ground=KINEMATICS,
    form="turning radius = wheelbase / sin(outer angle) + scrub radius, the outer angle as measured, else by "
    "cot(outer angle) = cot(steer angle) + kingpin track / wheelbase",
    reads={"steer_angle": "stop_angle", **_MEASURED},
)
def turning_radius(
    wheelbase: Length,
    steer_angle: Angle,
    scrub_radius: Position,
    kingpin_track: Length,
    outer_angle: Angle | None = None,
    found_steer_angle: Angle | None = None,
    found_outer_angle: Angle | None = None,
) -> Length:
    """In m, to the outer tire's center plane: half the turning circle. `steer_angle` is the inner wheel's at its stop,
    `kingpin_track` is taken at the ground, about whose points the wheels turn.

    Where the outer wheel's angle was not measured it is what Ackermann's rule gives; real linkages come within a degree
    or two, and tires that scuff turn wider. One measured at the stop as found, which is set otherwise since, keeps its
    part of Ackermann's angle. At a walking pace, rear axle rolling true.

    Inner wheel 45°, track as long as the wheelbase: cot(outer) = 2, so 1 / sin(outer) = √5 = 2.236. An outer wheel
    measured at 30° has 1 / sin(outer) = 2.

    >>> from math import pi
    >>> round(turning_radius(100.0, pi / 4, 4.0, 100.0), 3), round(turning_radius(100.0, pi / 4, 4.0, 100.0, pi / 6), 3)
    (227.607, 204.0)
    """
    outer = _outer(wheelbase, kingpin_track, steer_angle, "steer_angle")
    if outer_angle is not None:
        since_found = found_steer_angle is not None and outer_angle == found_outer_angle
        measured_at = found_steer_angle if since_found and found_steer_angle is not None else steer_angle
        outer = outer_angle * (outer / _outer(wheelbase, kingpin_track, measured_at, "found_steer_angle"))
    if not outer > 0:
        raise Impossible("outer_angle", "no steer at all", "more than 0 deg")
    return wheelbase / sin(outer) + scrub_radius


@figure(
    means="turning radius with the steer the obstacles leave room for",
    ground=KINEMATICS,
    form="turning radius at the lesser of the stop angle and the inner steer limit; a measured outer angle by the part "
    "of Ackermann's that it has at the stop",
    reads=_MEASURED,
)
def limited_turning_radius(
    wheelbase: Length,
    stop_angle: Angle,
    inner_steer_limit: Angle,
    scrub_radius: Position,
    kingpin_track: Length,
    outer_angle: Angle | None = None,
    found_steer_angle: Angle | None = None,
    found_outer_angle: Angle | None = None,
) -> Length | None:
    """In m, as `turning_radius`; the stop set to what fits, and nothing where hardly any steer does. A linkage that
    gives the outer wheel less than Ackermann's angle at the stop is taken to give it as much less in proportion at the
    limit.

    >>> from math import pi
    >>> limited_turning_radius(100.0, 1.0, pi / 4, 4.0, 100.0) == turning_radius(100.0, pi / 4, 4.0, 100.0)
    True
    """
    if inner_steer_limit < HARDLY:
        return None
    found = (found_steer_angle, found_outer_angle)
    if outer_angle is not None and (found_steer_angle is None or outer_angle != found_outer_angle):
        found = (stop_angle, outer_angle)  # measured where the stop stands
    return greatest(
        turning_radius(wheelbase, stop_angle, scrub_radius, kingpin_track, outer_angle, *found),
        turning_radius(wheelbase, inner_steer_limit, scrub_radius, kingpin_track, outer_angle, *found),
    )


def _outer(wheelbase: float, kingpin_track: float, inner_angle: float, key: str) -> float:
    """The outer wheel's angle by Ackermann's rule."""
    if not inner_angle > 0:
        raise Impossible(key, "no steer at all", "more than 0 deg")
    return atan(1 / (1 / tan(inner_angle) + kingpin_track / wheelbase))


@figure(
    means="outer wheel angle that goes with the inner wheel's",
    ground=KINEMATICS,
    form="cot(outer angle) = cot(inner angle) + kingpin track / wheelbase",
    reads={"inner_angle": "stop_angle", "kingpin_track": "kingpin_ground_track"},
)
def outer_angle(wheelbase: Length, kingpin_track: Length, inner_angle: Angle) -> Angle:
    """In rad, by Ackermann's rule: both front wheels square to the same point on the rear axle's line, turned about the
    kingpins' ground points.

    In a worksheet the inner wheel stands at the present stop.

    >>> from math import degrees, pi
    >>> round(degrees(outer_angle(100.0, 100.0, pi / 4)), 3)
    26.565
    """
    return _outer(wheelbase, kingpin_track, inner_angle, "inner_angle")


@figure(
    means="inner wheel angle that goes with the outer wheel's",
    ground=KINEMATICS,
    form="cot(inner angle) = cot(outer angle) − kingpin track / wheelbase",
    reads={"outer_angle": "stop_angle_out", "kingpin_track": "kingpin_ground_track"},
)
def inner_angle(wheelbase: Length, kingpin_track: Length, outer_angle: Angle) -> Angle:
    """In rad, by Ackermann's rule; raises for an outer angle that would turn the inner wheel past 90°.

    In a worksheet from the outer wheel's angle as measured at the stop: to compare with the inner wheel's.

    >>> from math import atan, degrees
    >>> round(degrees(inner_angle(100.0, 100.0, atan(1 / 2))), 9)
    45.0
    """
    if not outer_angle > 0:
        raise Impossible("outer_angle", "no steer at all", "more than 0 deg")
    most = atan(wheelbase / kingpin_track)
    if outer_angle >= most:
        raise Impossible(
            "outer_angle",
            "{outer_angle}",
            f"less than {most * 180 / pi:.1f} deg, by {{wheelbase}} and {{kingpin_track}}",
        )
    return atan(1 / (1 / tan(outer_angle) - kingpin_track / wheelbase))


@figure(
    means="how much farther the stop screw has to stick out",
    ground=GEOMETRY,
    form="stop extension = 2 × stop arm × sin((present angle − allowed angle) / 2)",
    reads={"present_angle": "stop_angle", "allowed_angle": "inner_steer_limit"},
)
def stop_extension(stop_arm: Length, present_angle: Angle, allowed_angle: Angle | None) -> SmallestPosition | None:
    """In m: the chord that the stop's point of contact moves through; below nothing where the screw may be shorter.

    Nothing while no angle is allowed yet: in a project that is the swept clearance's to say.

    Holds where the screw meets its pad squarely. Turn to the new stop with the wheel on and look before driving.

    Arm 6, from 40° to 10°: 2 × 6 × sin(15°) = 3.106.

    >>> from math import radians
    >>> round(stop_extension(6.0, radians(40), radians(10)), 3)
    3.106
    """
    if allowed_angle is None:
        return None
    return 2 * stop_arm * sin((present_angle - allowed_angle) / 2)
