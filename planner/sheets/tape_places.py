"""Which reading is taken where: each drawing of where the tape goes, with the entries that its letters give."""

from collections.abc import Callable, Iterable
from math import inf
from typing import NamedTuple

from planner.plan.drawings.scene import Scene
from planner.project.facts import entrance_of
from planner.sheets.stud_tapes import studs
from planner.sheets.tapes import axle, bump, fender, hub, obstacles, opening, pair, steering, tire, truck, wheel


class TapePlace(NamedTuple):
    """One place that is measured: its drawing, and the facts that are read there by the letter that marks each."""

    title: str
    draw: Callable[[], Scene]
    marks: dict[str, str]
    parted: float = inf  # m; two views stand left and right of it


STUDS = TapePlace(
    "Bolt circle",
    studs,
    {"stud_count": "", "adjacent_spacing": "A", "skip_spacing": "B", "skip": "", "outer_edge_spacing": "C",
     "outer_edge_skip": "", "stated_stud_circle": "D", "stud_diameter": "E", "stud_points": ""},
)  # fmt: skip
PLACES: tuple[TapePlace, ...] = (
    STUDS,
    TapePlace(
        "Hub, studs and brake",
        hub,
        {"hub_pilot": "A", "stud_length": "B", "brake_radius": "C", "brake_face": "D", "bearing_setback": "E",
         "centring": "", "threads_per_inch": "", "pitch": "", "nut_seat": "", "nut_seat_angle": "",
         "thread_hand_left": "", "thread_hand_right": "", "right_stud_thread": "", "nut_thread": "", "nut_closed": "",
         "nut_depth": "", "counted_thread": "", "nut_ball_radius": ""},
    ),
    TapePlace(
        "Axle and kingpins",
        axle,
        {"face_to_face": "A", "kingpin_track": "B", "kingpin_inset": "C", "inclination": "D", "caster": "E"},
    ),
    TapePlace("Steering stops", steering, {"stop_angle": "A", "stop_angle_out": "B", "stop_arm": "C"}),
    TapePlace(
        "Fender opening and travel",
        fender,
        {"axle_to_fender": "A", "face_to_fender_edge": "B", "bump_travel": "C", "droop_travel": "D"},
        parted=0.75,
    ),
    TapePlace(
        "Fender opening in five directions",
        opening,
        {"opening_ahead": "A", "opening_up_ahead": "B", "opening_top": "C", "opening_up_behind": "D",
         "opening_behind": "E", "ride_height": "F"},
        parted=0.8,
    ),
    TapePlace(
        "Wheel",
        wheel,
        {"rim_width": "A", "flange_thickness": "B", "backspace": "C", "wheel_bore": "D", "wheel_stud_circle": "E",
         "disc_thickness": "F", "well_depth": "H", "rim_diameter_code": "", "wheel_stud_count": "", "wheel_seat": "",
         "wheel_seat_angle": "", "seat_height": "", "disc_inner_face": "", "thickness": "", "barrel_radius": "",
         "wheel_load_rating": "", "wheel_mass": "", "rim_pieces": "", "rim_tubeless": "",
         "rim_contour": "", "bead_seat_angle": "", "valve_side": "", "valve_radius": "", "valve_reach": "",
         "radial_allowed": "", "wheel_ball_radius": ""},
    ),
    TapePlace(
        "Tire",
        tire,
        {"overall_diameter": "A", "section_width": "B", "tread_width": "C", "measured_loaded_radius": "D",
         "designation": "", "construction": "", "rolling_circumference": "", "date_code": "", "tire_mass": "",
         "load_index": "", "load_capacity": "", "rated_pressure": "", "speed_symbol": "", "tire_tube": "",
         "spare_designation": "", "spare_diameter": "", "spare_stud_circle": "", "spare_pieces": "",
         "tube_size": "", "tube_radial": "", "flap_mark": ""},
    ),
    TapePlace(
        "Two wheels side by side",
        pair,
        {"measured_dual_spacing": "A", "measured_sidewall_gap": "B", "pair_difference": "", "pair_held_by": "",
         "inner_valve_reached": "", "offset_face": ""},
    ),
    TapePlace(
        "The truck, sitting level",
        truck,
        {"wheelbase": "A", "front_point_ahead": "B", "front_point_found_height": "C", "rear_point_ahead": "D",
         "rear_point_found_height": "E", "found_belly_height": "F", "belly_position": "G",
         "found_overall_height": "H", "found_lamp_height": "J", "body_width": "", "overall_height_position": "",
         "front_overhang": "", "rear_overhang": ""},
    ),
)  # fmt: skip
OBSTACLES = TapePlace("What's around the wheel", obstacles, {})


def picture_at(keys: Iterable[str]) -> Scene | None:
    """The drawing of the first of these entries of which something is drawn."""
    return next((scene for key in keys if (scene := where_the_tape_goes(key)) is not None), None)


def where_the_tape_goes(key: str) -> Scene | None:
    """The drawing of one entry's place, with that one reading in it; None where nothing is drawn of it."""
    if key.startswith("obstacles"):
        return obstacles()
    if key.endswith(".travel.bump"):  # too short to be seen beside a fender
        return _alone(bump(), "C", inf)
    found = entrance_of(key)
    for place in PLACES if found else ():
        mark = place.marks.get(found[0].fact, "") if found else ""
        scene = place.draw() if mark else None
        drawn = {one.text for one in scene.dimensions} | {one.text for one in scene.labels} if scene else set()
        if scene is not None and mark in drawn:
            return _alone(scene, mark, place.parted)
    return None


def _alone(scene: Scene, mark: str, parted: float) -> Scene:
    """A drawing with one of its readings, in the view in which that stands."""
    shown = tuple(one._replace(text="this") for one in scene.dimensions if one.text == mark)
    labels = [one for one in scene.labels if len(one.text) > 1 or one.text == mark]
    right = max([one.start[0] for one in shown] + [one.at[0] for one in labels if one.text == mark]) > parted

    def here(x: float) -> bool:
        return (x > parted) == right

    return scene._replace(
        dimensions=shown,
        labels=tuple(one._replace(text="this" if one.text == mark else one.text) for one in labels if here(one.at[0])),
        lines=tuple(one for one in scene.lines if here(one.points[0][0])),
        arcs=tuple(one for one in scene.arcs if here(one.center[0])),
    )
