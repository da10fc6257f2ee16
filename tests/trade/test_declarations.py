"""What holds for every declared figure: dimension, shown formula, worked example, ground."""

import doctest
import inspect
from importlib import import_module

import pytest
from published_rows import ROWS, given

from planner.plan.truck.catalog import catalog
from planner.quantities.grammar import bare
from planner.quantities.registry import SI_UNITS, registry
from planner.worksheet.bench import work
from planner.worksheet.explain import formula

FIGURES = sorted(catalog().figures.values(), key=lambda one: one.name)
NUMERIC = {"quantity", "ratio", "count"}
# No dimensions can run through these: a table of plain numbers stands in the middle, or a weight in newtons becomes
# a mass in kilograms by standard gravity, which is a plain number too.
BY_TABLE = {
    "bolts.standard_stud_circle",
    "bolts.stud_circle_off_standard",
    "brakes.smallest_rim_code",
    "fit.flange_radius",
    "tire.capacity_by_index",
    "tire.dual_capacity_by_index",
    "tire.dual_load_capacity",
    "tire.load_capacity",
    "wheel.barrel_radius",
    "wheel.most_pair_difference",
    "wheel.specified_rim_diameter",
}
BY_GRAVITY = {
    "tire.rated_load",
    "tire.spare_rated_load",
    "tire.spare_dual_rated_load",
    "brakes.axle_mass",
    "loads.carried_load",
}


def sample(declared):
    """Inputs from the figure's first published row, each with its unit in Pint; those left out as they stand."""
    row = next(row for _, row in ROWS if catalog().named(row["figure"]) == declared.node)
    inputs = work(catalog(), declared, given(row)).inputs
    values = []
    for taken in declared.inputs:
        value = bare(inputs[taken.name]) if taken.name in inputs else taken.default
        unit = taken.kind.form == "quantity" and value is not None
        values.append(value * registry().Unit(SI_UNITS[taken.kind.si]) if unit else value)
    return values


@pytest.mark.parametrize("declared", FIGURES, ids=lambda one: one.name)
def test_a_formula_is_shown_and_grounded(declared):
    assert len(formula(declared)) > 5
    assert str(declared.ground) and declared.means


@pytest.mark.parametrize("declared", FIGURES, ids=lambda one: one.name)
def test_a_formula_has_a_docstring_with_a_worked_example(declared):
    text = inspect.getdoc(declared.call) or ""
    assert ">>>" in text, f"{declared.name} has no worked example"
    assert doctest.DocTestParser().get_examples(text)


def test_the_contract_is_kept():
    """Names and keys fixed by the design; the swept clearance comes with the fit."""
    have = {one.name: [taken.name for taken in one.inputs] for one in catalog().figures.values()}
    for line in CONTRACT.strip().splitlines():
        name, _, keys = line.partition(":")
        assert name in have, f"{name} is missing"
        assert set(keys.split()) <= set(have[name]), (name, keys, have[name])


CONTRACT = """
tire.designation: designation
tire.overall_diameter: designation
tire.section_width: designation rim_width
tire.rim_width_band: section_width low high
tire.rolling_circumference: overall_diameter construction
tire.revolutions_per_mile: rolling_circumference
tire.static_loaded_radius: overall_diameter deflection loaded_radius
tire.load_capacity: load_index
tire.capacity_by_index: load_index
tire.speed_limit: speed_symbol
tire.derated_load_capacity: load_capacity passenger
tire.pressure_for_load: load rated_load rated_pressure exponent
wheel.overall_width: rim_width flange_thickness
wheel.offset: backspace rim_width flange_thickness
wheel.backspace: offset rim_width flange_thickness
wheel.inboard_reach: section_width offset
wheel.outboard_reach: section_width offset
wheel.poke: outboard_reach face_to_fender_edge
wheel.offset_for_poke: poke section_width face_to_fender_edge
wheel.track: face_to_face offset
wheel.specified_rim_diameter: rim_diameter_code
wheel.barrel_radius: rim_diameter_code well_depth thickness
bolts.circle_from_adjacent: spacing count
bolts.circle_from_skip: spacing count skip
bolts.circle_from_edges: outer_edge_spacing stud_diameter count skip
bolts.circle_from_points: points
bolts.register_gap: wheel_bore hub_pilot
bolts.stress_area: diameter pitch threads_per_inch series
bolts.clamp_force: torque nut_factor diameter
bolts.thread_engagement: stud_length flange_thickness seat_height
fender.zero_clearance_diameter: axle_to_fender
fender.tire_for_clearance: axle_to_fender clearance bump_travel
gearing.effective_axle_ratio: axle_ratio found_circumference planned_circumference
gearing.restoring_axle_ratio: axle_ratio found_circumference planned_circumference
gearing.tooth_ratio: ring_teeth pinion_teeth
gearing.engine_speed: road_speed rolling_circumference overall_ratio
gearing.road_speed: engine_speed rolling_circumference overall_ratio
gearing.crawl_ratio: gearbox_ratio transfer_ratio axle_ratio
gearing.tractive_effort: engine_torque overall_ratio efficiency loaded_radius
gearing.gradeability: tractive_effort rolling_resistance weight
gearing.axle_shaft_torque: engine_torque overall_ratio efficiency axle_load friction loaded_radius
gearing.axle_mismatch: front_ratio rear_ratio front_circumference rear_circumference
speedometer.true_speed: indicated_speed found_circumference planned_circumference
speedometer.error: found_circumference planned_circumference
speedometer.driven_gear_teeth: drive_teeth axle_ratio rolling_circumference cable_turns_per_mile
speedometer.adapter_ratio: found_circumference planned_circumference
speedometer.pulses_per_mile: pulses_per_revolution axle_ratio rolling_circumference
speedometer.within_un_r39: indicated_speed true_speed
speedometer.odometer_factor: found_circumference planned_circumference
brakes.retarding_force_ratio: found_radius planned_radius
brakes.pedal_effort_ratio: found_radius planned_radius
brakes.radial_clearance: barrel_radius brake_radius
brakes.face_clearance: disc_inner_face brake_face
brakes.smallest_rim_code: brake_radius clearance well_depth thickness
brakes.stop_energy: mass wheel_inertia wheels loaded_radius speed
steering.scrub_radius: kingpin_inset inclination offset loaded_radius
steering.turning_radius: wheelbase steer_angle scrub_radius kingpin_track
steering.inner_angle: wheelbase kingpin_track outer_angle
steering.outer_angle: wheelbase kingpin_track inner_angle
steering.stop_extension: stop_arm present_angle allowed_angle
stance.rise: found_radius planned_radius
stance.approach_angle: point_ahead point_height loaded_radius
stance.departure_angle: point_ahead point_height loaded_radius
stance.breakover_angle: wheelbase clearance loaded_radius position
stance.stability_factor: track cg_height
stance.side_slope: track cg_height
stance.cg_height_by_lift: wheelbase weight level_front_load raised_front_load raise loaded_radius
loads.per_tire: axle_load tires
loads.tire_margin: axle_load tires load_capacity
loads.bearing_moment: bearing_arm load loaded_radius side_force_share
loads.bearing_moment_ratio: found_moment planned_moment
loads.wheel_inertia: mass radius shape_factor
"""


def runs_in_pint(declared) -> bool:
    return (
        declared.name not in BY_TABLE | BY_GRAVITY
        and declared.kind is not None
        and declared.kind.form in NUMERIC
        and all(taken.kind.form in NUMERIC for taken in declared.inputs)
    )


@pytest.mark.parametrize("declared", [one for one in FIGURES if runs_in_pint(one)], ids=lambda one: one.name)
def test_a_formula_comes_out_in_the_dimension_it_declares(declared):
    """Run once with Pint quantities, so that a wrong unit cannot hide."""
    result = registry().Quantity(declared.call(*sample(declared)))
    wanted = registry().Quantity(1.0, SI_UNITS[declared.kind.si]) if declared.kind.si else registry().Quantity(1.0)
    assert result.check(wanted.dimensionality), f"{result.dimensionality} where {wanted.dimensionality} is declared"


def test_modules_hold_their_size():
    for declared in FIGURES:
        module = import_module(declared.call.__module__)
        assert len(inspect.getsource(module).splitlines()) <= 300, module.__name__
