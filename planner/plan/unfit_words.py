"""What the sweep cannot take, in the person's words: the entry's key, its value as written, and what is accepted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.quantities.kinds import LENGTH
from planner.quantities.show import show
from planner.quantities.text import clean
from planner.trade.fit.motion import Unfit

if TYPE_CHECKING:
    from planner.plan.opening import OpenProject

# What the sweep calls a value, and the node that a person's entries give it by.
NODES = {
    "face_to_face": "face_to_face",
    "kingpin_inset": "kingpin_inset",
    "inclination": "inclination",
    "caster": "caster",
    "steer_out": "stop_angle",
    "steer_in": "stop_angle_out",
    "bump": "bump_travel",
    "droop": "droop_travel",
    "section_width": "section_width",
    "tread_width": "tread_width",
    "diameter": "overall_diameter",
    "offset": "offset",
    "barrel_radius": "inner_radius",
    "rim_width": "overall_width",
}


def in_words(opened: OpenProject, fitment: str, axle: str, fault: ValueError) -> str:
    """`axles.front.travel.bump: read 14 in ± 2 in; 16 in is impossible, accepted is from 0 to 15 in`, as they write."""
    tell = opened.sheet.tell
    if tell is None or not isinstance(fault, Unfit) or fault.entry not in NODES or not isinstance(fault.read, float):
        return str(fault)
    node = NODES[fault.entry]
    spot = opened.spot(node, fitment=fitment, axle=axle)
    if node == "stop_angle_out" and opened.sheet.value(spot) is None:
        spot = opened.spot("stop_angle", fitment=fitment, axle=axle)  # it is swept as far as the inner one
    name, text = tell(opened.sheet, spot)
    read = show(fault.read, opened.sheet.catalog.kind(spot.node) or LENGTH, opened.style)
    lengths = {name: show(length, LENGTH, opened.style) for name, length in fault.lengths.items()}
    return f"{clean(name)}: read {clean(text)}; {read} is impossible, accepted is {fault.accepted.format_map(lengths)}"
