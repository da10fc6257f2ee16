"""Which entries have a usual tolerance, decided one by one: what is measured has, what is said or asked has none."""

from collections.abc import Iterator

import pytest

from planner.project.facts import inner_model
from planner.project.models.entry import Reads, Table, entries
from planner.project.models.project import Project
from planner.project.usual_tolerances import kind_of_field, usual_amount, usual_of

# By table and entry: what a careful person with the usual tool is off by. Common practice.
EVERYWHERE = {
    "Reading": {"turned": "1 deg", "came_up": "1/8 in"},
    "Vehicle": {"wheelbase": "1/4 in", "cg_height": "1 in", "overall_height": "1/4 in", "body_width": "1/4 in",
                "overall_height_position": "1/4 in", "lamp_height": "1/8 in"},
    "Ends": dict.fromkeys(("point_ahead", "point_ahead_height", "point_behind", "point_behind_height",
                           "lowest_between", "lowest_between_position", "front_overhang", "rear_overhang"), "1/4 in"),
    "LiftTest": {"weight": "20 lb", "level_front_load": "20 lb", "raised_front_load": "20 lb", "lifted_by": "1/8 in",
                 "loaded_radius": "1/8 in"},
    "Axle": {"load": "20 lb", "face_to_face": "1/8 in", "bearing_setback": "1/8 in", "camber": "1 deg",
             "toe": "1/16 in", "ride_height": "1/8 in", "driveshaft_angle": "1 deg", "lift": "1/8 in"},
    "Hub": {"pilot": "0.005 in"},
    "Studs": {"adjacent_spacing": "0.010 in", "skip_spacing": "0.010 in", "outer_edge_spacing": "0.010 in",
              "points": "0.005 in", "length": "1/16 in"},
    "Nuts": {"depth": "1/32 in", "engaged_length": "1/32 in"},
    "Kingpin": {"inset": "1/8 in", "inclination": "1 deg", "caster": "1 deg", "track": "1/8 in"},
    "Steering": {"stop_angle": "1 deg", "stop_angle_out": "1 deg", "stop_arm": "1/8 in", "drag_link_angle": "1 deg"},
    "Travel": {"bump": "1/8 in", "droop": "1/8 in", "stops_apart": "1/8 in", "droop_apart": "1/8 in",
               "most_cross_travel": "1/4 in", "side_shift": "1/16 in", "bump_gives": "1/8 in"},
    "Brake": {"radius": "1/16 in", "face": "1/32 in", "hose_slack": "1/8 in"},
    "Spacer": {"thickness": "1/32 in", "studs_engaged": "1/32 in", "hub_studs_proud": "1/32 in"},
    "Fender": dict.fromkeys(("axle_to_fender", "face_to_edge", "ahead", "up_ahead", "top", "up_behind", "behind"),
                            "1/8 in"),
    "Tire": {"loaded_radius": "1/8 in", "rolling_circumference": "1/8 in"},
    "Wheel": {"barrel_radius": "1/16 in"},
    "Pair": {"spacing": "1/8 in", "sidewall_gap": "1/8 in", "diameter_difference": "1/16 in"},
    "Obstacle": {"at": "1/8 in", "to": "1/8 in"},
    "ReceivedWheel": {"backspace": "1/32 in", "offset": "1/32 in", "bore": "0.005 in", "radial_runout": "0.005 in",
                      "lateral_runout": "0.005 in"},
}  # fmt: skip
# Measured on what came with the truck; of a candidate, what its maker states or what is ordered.
ON_FOUND = {
    "Tire": {"overall_diameter": "1/8 in", "section_width": "1/8 in", "tread_width": "1/8 in", "crown_drop": "1/8 in",
             "mass": "1 lb"},
    "Wheel": {"rim_width": "1/16 in", "backspace": "1/16 in", "bore": "0.005 in", "stud_circle": "0.010 in",
              "mass": "1 lb", "hole_diameter": "0.005 in", "seat_diameter": "0.005 in", "valve_hole": "0.005 in",
              **dict.fromkeys(("flange_thickness", "seat_height", "disc_thickness", "disc_inner_face", "well_depth",
                               "barrel_thickness", "flange_height", "well_width", "well_position", "seat_depth",
                               "valve_radius", "valve_reach"), "1/32 in")},
    "Spare": {"overall_diameter": "1/8 in", "stud_circle": "0.010 in"},
}  # fmt: skip
# Lengths, angles and weights that nobody measures here, and why they are exact.
EXACT = {
    "a rating": {"Vehicle": "gross_weight", "Axle": "rating bearing_rating", "Wheel": "load_rating",
                 "Tire": "load_capacity load_capacity_dual", "Spare": "load_capacity load_capacity_dual"},
    "the law": {"Legal": "overall_width lamp_lowest lamp_highest greatest_poke greatest_lift"},
    "a wish": {"Use": "door_height wanted_approach_angle wanted_departure_angle wanted_breakover_angle",
               "Fender": "clearance wanted_poke greatest_poke", "Obstacle": "wants", "Axle": "laden_load",
               "Wishes": "least_steer"},
    "the name of a size": {"Studs": "circle diameter pitch", "Nuts": "seat_angle ball_radius",
                           "Wheel": "seat_angle seat_ball_radius bead_seat_angle"},
    "its maker's": {"Tire": "narrowest_rim widest_rim least_dual_spacing", "Wheel": "offset",
                    "Offered": "overall_diameter section_width mass rim_width backspace backspace_step"},
    "an order": {"Wheel": "face_flatness radial_runout lateral_runout"},
    "drawn only": {"Outline": "points front rear"},
    "an odometer's count": {"Vehicle": "odometer", "Task": "odometer", "DoneBefore": "odometer"},
    "an interval": {"Task": "every_distance"},
}  # fmt: skip
MEASURABLE = ("length", "angle", "weight", "mass", "points")


def tables(model: type[Table], seen: dict[str, type[Table]]) -> Iterator[type[Table]]:
    if seen.setdefault(model.__name__, model) is model:
        yield model
        for info in entries(model).values():
            inner = inner_model(info.annotation)
            if inner is not None and inner.__name__ not in seen:
                yield from tables(inner, seen)


def declared() -> Iterator[tuple[str, str, object]]:
    for model in tables(Project, {}):
        for name, info in entries(model).items():
            if inner_model(info.annotation) is None:
                yield model.__name__, name, info


def kind_name(info: object) -> str:
    return next((one.kind.name for one in info.metadata if isinstance(one, Reads)), "")  # type: ignore[attr-defined]


def test_every_measured_entry_has_the_tolerance_that_was_decided_and_no_other_has_one():
    found: dict[bool, dict[str, dict[str, str]]] = {True: {}, False: {}}
    for table, name, info in declared():
        usual = usual_of(info)
        if usual is not None:
            found[usual.found_only].setdefault(table, {})[name] = usual.tolerance
    assert found[False] == EVERYWHERE
    assert found[True] == ON_FOUND


def test_every_length_angle_and_weight_is_either_measured_or_exact_for_a_reason():
    exact = {(table, name) for by in EXACT.values() for table, names in by.items() for name in names.split()}
    measured = {(table, name) for by in (EVERYWHERE, ON_FOUND) for table, names in by.items() for name in names}
    assert not exact & measured
    there = {(table, name) for table, name, info in declared() if kind_name(info) in MEASURABLE}
    assert there == exact | measured - {("Obstacle", "at"), ("Obstacle", "to")}


@pytest.mark.parametrize(("table", "name", "info"), list(declared()), ids=lambda one: one if type(one) is str else "")
def test_no_count_ratio_price_or_torque_has_one(table, name, info):
    usual = usual_of(info)
    if usual is not None:
        assert kind_name(info) in (*MEASURABLE, "")
        assert usual_amount(usual, kind_of_field(info)) > 0
        assert usual.tool
