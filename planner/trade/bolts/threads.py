"""What the studs carry: their stress area, the clamp that a torque gives, and how deep the nuts hold."""

from math import pi
from typing import NamedTuple

from planner.quantities.kinds import (
    Area,
    Count,
    Distance,
    Force,
    Length,
    Multiple,
    Position,
    Pressure,
    Ratio,
    Share,
    Text,
    Torque,
)
from planner.sources.citing import practice
from planner.sources.reasoning import GEOMETRY, STATICS
from planner.sources.standards import INCH_THREADS
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import greatest

_INCH = 0.0254
_LOST_DEPTH = {"inch": 0.9743, "metric": 0.9382}  # pitches off the outside diameter to the stress diameter

nut_factor = assumed(
    Ratio,
    "0.20 ± 0.05",
    means="nut factor of dry, clean threads and seats; rust, paint, oil and wear move it even more",
    ground=practice("0.20 dry, about 0.15 oiled; known only to within a quarter up or down"),
)


class Engagement(NamedTuple):
    """Thread engagement: its length, and how many stud diameters that is if one is given."""

    length: Position
    diameters: Multiple | None


outer_thread_ratio = assumed(
    Ratio,
    "1.43 ± 0.07",
    means="thread outside of an inner nut, as times the stud's diameter",
    ground=practice("1 1/8-16 on 3/4-16, M30 on M20 and on M22"),
)


@figure(
    means="tensile stress area of the studs, from threads per inch or pitch",
    ground=INCH_THREADS.recalled("stress area formula; ISO 898-1 for metric threads"),
    form="stress area = π/4 × (diameter − k × pitch)², k 0.9743 for inch, 0.9382 for metric threads",
    reads={"diameter": "stud_diameter", "series": None},
)
def stress_area(
    diameter: Length, pitch: Length | None = None, threads_per_inch: Count | None = None, series: Text | None = None
) -> Area | None:
    """Area in m² of a bar that is as strong as the thread; give pitch or threads per inch, not both.

    Series is inch or metric; unsaid, threads per inch are inch and a pitch is metric. Gives nothing without either.
    Necked, corroded or cross-threaded studs have less.

    M12×1.5: 12 − 0.9382 × 1.5 = 10.593 mm across, 88.13 mm².

    >>> round(stress_area(0.012, pitch=0.0015) * 1e6, 2)
    88.13
    """
    if pitch is not None and threads_per_inch is not None:
        raise Impossible("pitch", "{pitch}", "give one of the two, this or {threads_per_inch}")
    if pitch is None and threads_per_inch is None:
        return None
    kind = series.strip().lower() if series is not None else "metric" if threads_per_inch is None else "inch"
    if kind not in _LOST_DEPTH:
        raise Impossible("series", f"{series}", "inch or metric")
    step = _INCH / threads_per_inch if threads_per_inch is not None else pitch or 0.0
    across = diameter - _LOST_DEPTH[kind] * step
    if not across > 0:
        key = "pitch" if threads_per_inch is None else "threads_per_inch"
        raise Impossible(key, f"{{{key}}}", "a thread much less deep than the stud is thick, {diameter}")
    return pi / 4 * across**2


@figure(
    means="clamp force from one nut's torque",
    ground=practice("T = K D F"),
    reads={"torque": "nut_torque", "diameter": "stud_diameter"},
)
def clamp_force(torque: Torque, nut_factor: Ratio, diameter: Length) -> Force:
    """Force in N along one stud; nine tenths of the torque go into friction, so the clamp is known no better than that.

    The nut factor of dry threads is 0.20 give or take a quarter, and one greasy stud beside a rusty one differ
    by half. Tapered seats take more torque than flat ones.

    >>> round(clamp_force(100.0, 0.2, 0.0125), 6)
    40000.0
    """
    return torque / (nut_factor * diameter)


@figure(
    means="clamp as a part of the stud's proof load",
    ground=STATICS,
)
def clamp_share_of_proof(clamp_force: Force, stress_area: Area, proof_stress: Pressure) -> Share:
    """1 is where the stud begins to stretch for good; aim for three quarters.

    1/2-20 with 85,000 psi: 0.1599 × 85,000 = 13,600 lb; 75 ft·lb dry give 9,000 lb, 0.66 of it.

    >>> round(clamp_share_of_proof(9000.0, 0.1599, 85000.0), 2)
    0.66
    """
    return clamp_force / (stress_area * proof_stress)


@figure(
    means="clamp of a pair's inner nut as a part of the stud's proof load",
    ground=practice("T = K D F, on the stud's own thread"),
    reads={"torque": "inner_nut_torque", "diameter": "stud_diameter"},
)
def inner_clamp_share(
    torque: Torque, nut_factor: Ratio, diameter: Length, stress_area: Area, proof_stress: Pressure
) -> Share:
    """As `clamp_share_of_proof`, of the nut that holds the inner wheel by itself. The outer nut turns on that nut.

    100 N·m at a factor of 0.2 on 12.5 mm clamp with 40 kN; 100 mm² proved for 500 MPa bear 50 kN:

    >>> round(inner_clamp_share(100.0, 0.2, 0.0125, 100e-6, 500e6), 6)
    0.8
    """
    return torque / (nut_factor * diameter) / (stress_area * proof_stress)


@figure(
    means="thread engagement of the nut",
    ground=GEOMETRY,
    form="length = stud length − flange thickness − seat height; diameters = length / diameter",
    reads={"flange_thickness": "clamped_thickness", "diameter": "stud_diameter"},
    publishes={"engaged_length": "length"},
)
def thread_engagement(
    stud_length: Length, flange_thickness: Distance, seat_height: Distance, diameter: Length | None = None
) -> Engagement:
    """Length in m from the nut's first thread to the stud's end, and in diameters; below nothing the nut cannot start.

    `flange_thickness` is the disc's at the studs, of a pair on long studs both discs', with any spacer or drum that
    slips over the studs added. The nut's own height bounds what holds: a stud standing out of the nut adds nothing.
    Chamfers and the stud's lead are not in it: take a pitch or two off. In steel you need one diameter or more.

    >>> thread_engagement(1.75, 0.5, 0.25, 0.5)
    Engagement(length=1.0, diameters=2.0)
    """
    length = stud_length - flange_thickness - seat_height
    return Engagement(length, None if diameter is None else greatest(0.0, float(length / diameter)))
