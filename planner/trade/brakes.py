"""What wheel and tire mean for the brakes: the force left at the road, the room around them, the heat of a stop."""

from planner.quantities.kinds import (
    Count,
    Distance,
    Energy,
    Inertia,
    Length,
    Mass,
    Position,
    Ratio,
    RimCode,
    Share,
    Speed,
    Weight,
)
from planner.sources.reasoning import GEOMETRY, STATICS, TEXTBOOK
from planner.trade.wheel.barrel import rim_diameters
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import along

valve_inward_share = assumed(
    Share,
    "50 % ± 50 %",
    means="how much of the valve's reach points at the hub: none if it lies along the axle, all if it points straight "
    "in",
    ground=GEOMETRY,
    better="how close the valve's tip is to the wheel's center (as valve_radius, with a valve_reach of 0)",
)

_GRAVITY = 9.80665  # standard: what makes a scale's pounds or kilograms a force
_HAIR = 1e-9  # a gap met exactly is met


@figure(means="braking force left at the road, for the same pedal effort", ground=STATICS)
def retarding_force_ratio(found_radius: Length, planned_radius: Length, brake_torque_gain: Ratio = 1.0) -> Ratio:
    """The brake's torque acts at the loaded radius: a taller tire leaves less force; below 1 is lost.

    Loaded radii in m of the same axle; the torque of other brake parts against those found. Says nothing of whether the
    brakes were enough before.

    >>> retarding_force_ratio(0.36, 0.4)
    0.8999999999999999
    """
    return brake_torque_gain * found_radius / planned_radius


@figure(means="pedal effort for the same stop, compared with before", ground=STATICS)
def pedal_effort_ratio(found_radius: Length, planned_radius: Length, brake_torque_gain: Ratio = 1.0) -> Ratio:
    """How many times the old pedal effort the same stop now asks for; loaded radii in m.

    The pedal follows the torque only as far as the brakes and any servo answer in proportion; drums fade sooner.

    >>> pedal_effort_ratio(0.4, 0.44)
    1.0999999999999999
    """
    return planned_radius / (brake_torque_gain * found_radius)


@figure(means="room between the brake and the barrel", ground=GEOMETRY)
def radial_clearance(barrel_radius: Length, brake_radius: Length) -> Position:
    """Radial gap in m, below nothing where they touch; the barrel's least radius where the brake stands.

    >>> radial_clearance(7.5, 7.25)
    0.25
    """
    return barrel_radius - brake_radius


@figure(means="room between the brake's face and the disc", ground=GEOMETRY)
def face_clearance(disc_inner_face: Position, brake_face: Position) -> Position:
    """Axial gap in m; both measured outboard from the mounting face, at the same radius.

    >>> face_clearance(0.5, 0.25)
    0.25
    """
    return disc_inner_face - brake_face


@figure(means="room between the valve and the brake it turns around", ground=GEOMETRY)
def valve_clearance(
    valve_radius: Length, valve_reach: Distance, valve_inward_share: Share, brake_radius: Length
) -> Position:
    """Radial gap in m through the whole turn of the wheel, below nothing where they meet.

    The hole's radius, less as much of the valve's reach as points at the hub, less the brake's largest radius.

    A hole at 7.5, a valve of 1 that half points inward, a drum of 6.5:

    >>> valve_clearance(7.5, 1.0, 0.5, 6.5)
    0.5
    """
    return valve_radius - valve_inward_share * valve_reach - brake_radius


@figure(
    means="smallest rim code whose barrel clears the brake",
    ground=GEOMETRY,
    form="least code with specified rim diameter / 2 − well depth − thickness − brake radius ≥ clearance",
    reads={"clearance": "least_brake_gap"},
    picks=("",),
)
def smallest_rim_code(brake_radius: Length, clearance: Distance, well_depth: Distance, thickness: Distance) -> RimCode:
    """Over the drop-center rims with 5° seats (whole codes); lengths in m. Raises where even the largest is too small.

    Takes the drop center as sitting over the brake; one beside it leaves more room: then measure the barrel.

    Brake 7 in, gap 3 mm, well 1 in, barrel 1/4 in: 177.8 + 3 + 25.4 + 6.35 = 212.55 mm; code 16 has a radius of
    202.8 mm, 17 has 218.3 mm.

    >>> smallest_rim_code(0.1778, 0.003, 0.0254, 0.00635)
    17.0
    """
    needed = brake_radius + clearance + well_depth + thickness
    smallest = _smallest_around(needed)
    if smallest is None:
        raise Impossible(
            "brake_radius",
            "{brake_radius}",
            "less than the largest rim's radius with the gap, {clearance}, the drop center, {well_depth}, and the "
            "barrel, {thickness}, around it",
        )
    largest = max(rim_diameters(5))

    def over(low: float, high: float) -> tuple[float, float]:
        return _smallest_around(low) or largest, _smallest_around(high) or largest

    return along(needed, smallest, over)


def _smallest_around(needed: float) -> float | None:
    """The smallest rim code with this radius free at its bead seat."""
    codes = (code for code, diameter in rim_diameters(5).items() if diameter / 2 - needed >= -_HAIR)
    return min(codes, default=None)


@figure(means="mass on this axle, as weighed", ground=STATICS, reads={"axle_load": "carried_load"})
def axle_mass(axle_load: Weight) -> Mass:
    """In kg from the scale's reading as a weight in N, by standard gravity.

    >>> round(axle_mass(9806.65), 9)
    1000.0
    """
    return axle_load / _GRAVITY


@figure(
    means="energy a stop turns into heat",
    ground=TEXTBOOK,
    reads={"mass": "axle_mass", "wheels": "tires", "speed": "top_speed"},
)
def stop_energy(mass: Mass, wheel_inertia: Inertia, wheels: Count, loaded_radius: Length, speed: Speed) -> Energy:
    """In J, from `speed` (m/s) to rest, with the wheels' turning; engine, shafts and drums are not in it.

    In a worksheet for one axle with the load that it carries, from the top speed. Drag, rolling resistance and engine
    braking take their part of it, on a hill it is more.

    2,000 kg at 20 m/s: 400,000 J; four wheels of 1.5 kg·m² at 20 / 0.4 = 50 rad/s: 7,500 J.

    >>> stop_energy(2000.0, 1.5, 4, 0.4, 20.0)
    407500.0
    """
    return mass * speed**2 / 2 + wheels * wheel_inertia * (speed / loaded_radius) ** 2 / 2


@figure(means="energy per stop, compared with before", ground=TEXTBOOK)
def stop_energy_ratio(found_stop_energy: Energy, planned_stop_energy: Energy) -> Ratio:
    """How many times the found energy a stop from the same true speed now takes; loads as weighed in both.

    >>> stop_energy_ratio(400.0, 420.0)
    1.05
    """
    return planned_stop_energy / found_stop_energy
