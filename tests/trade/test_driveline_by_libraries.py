"""What turns, pulls and brakes, against general libraries: forces balanced by search, energy summed, units carried."""

from datetime import date
from math import pi

import numpy as np
import pytest
import trimesh
from scipy.integrate import quad
from scipy.optimize import brentq

from planner.quantities.registry import registry
from planner.trade.brakes import axle_mass, pedal_effort_ratio, retarding_force_ratio, stop_energy
from planner.trade.gearing.axle import effective_axle_ratio, restoring_axle_ratio
from planner.trade.gearing.speeds import crawl_speed, cruise_engine_speed, engine_speed, road_speed, top_engine_speed
from planner.trade.gearing.thrust import gradeability, grip_limited_grade, tractive_effort
from planner.trade.loads import wheel_inertia
from planner.trade.speedometer.drive import fitted_gear_error, geared_circumference, pulses_per_mile
from planner.trade.speedometer.reading import adapter_ratio, odometer_factor, speedometer_error, true_speed
from planner.trade.tire.charts import load_capacities
from planner.trade.tire.ratings import load_capacity, tire_age

DRAWS = np.random.default_rng(16).uniform(size=(12, 6))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_on_the_slope_that_it_climbs_the_forces_along_it_balance(draw):
    weight, drag = between(draw[0], 15e3, 60e3), between(draw[1], 0.0, 0.1)
    thrust = weight * between(draw[2], 0.12, 0.85)

    def left_over(slope: float) -> float:
        along = np.array([np.cos(slope), np.sin(slope)])
        pull = np.dot([0.0, -weight], along)
        press = np.dot([0.0, -weight], [np.sin(slope), -np.cos(slope)])
        return thrust + pull - drag * press

    slope = brentq(left_over, 0.0, pi / 2, xtol=1e-13)
    assert gradeability(thrust, drag, weight) == pytest.approx(slope, abs=1e-9)


@pytest.mark.parametrize("grip", [0.3, 0.5, 0.8, 1.0])
def test_the_tires_slide_where_the_weights_part_along_the_slope_is_all_that_grip_holds(grip):
    slides = brentq(lambda slope: np.sin(slope) - grip * np.cos(slope), 0.0, pi / 2)
    assert grip_limited_grade(grip) == pytest.approx(slides, abs=1e-9)


@pytest.mark.parametrize("rear", [True, False])
@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_on_the_slope_where_one_driven_axle_slides_its_grip_balances_the_weight_along_it(draw, rear):
    """Moments about the other axle say what it carries, and that is never more than all of the weight."""
    grip, wheelbase, height = between(draw[0], 0.3, 1.2), between(draw[1], 2.3, 3.6), between(draw[2], 0.6, 1.6)
    loads = between(draw[3], 8e3, 20e3), between(draw[4], 8e3, 30e3)
    weight, back = sum(loads), np.average([0.0, wheelbase], weights=loads)

    def left_over(slope: float) -> float:
        along, across = weight * np.array([-np.sin(slope), -np.cos(slope)])  # forward is up the slope
        other = np.array([-back, height]) if rear else np.array([wheelbase - back, height])  # from there to the center
        moment = np.linalg.det([other, [along, across]])
        carried = moment / wheelbase if rear else -moment / wheelbase
        return grip * np.clip(carried, 0.0, weight * np.cos(slope)) + along

    slides = brentq(left_over, 0.0, pi / 2 - 1e-6, xtol=1e-13)
    found = grip_limited_grade(grip, not rear, rear, *loads, height, wheelbase)
    assert found == pytest.approx(slides, abs=1e-9)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_thrust_does_the_work_that_the_engine_gives_in_one_turn_of_the_wheel(draw):
    torque, ratio, share = between(draw[0], 100, 500), between(draw[1], 4, 90), between(draw[2], 0.7, 1.0)
    radius = between(draw[3], 0.33, 0.6)
    given, _ = quad(lambda _: torque * share, 0.0, 2 * pi * ratio)
    assert tractive_effort(torque, ratio, share, radius) * 2 * pi * radius == pytest.approx(given, rel=1e-9)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_stop_takes_the_work_of_slowing_the_truck_and_its_wheels(draw):
    """Summed over the speed: the momentum of the truck, and of each wheel about its axle, taken out bit by bit."""
    mass, inertia, radius = between(draw[0], 800, 4000), between(draw[1], 1, 20), between(draw[2], 0.33, 0.6)
    speed, wheels = between(draw[3], 5, 35), 2 * int(between(draw[4], 1, 3))
    work, _ = quad(lambda now: mass * now + wheels * inertia * now / radius**2, 0.0, speed)
    assert stop_energy(mass, inertia, wheels, radius, speed) == pytest.approx(work, rel=1e-9)


@pytest.mark.parametrize(("bore", "shape"), [(0.0, 0.5), (0.98, (1 + 0.98**2) / 2)])
def test_a_disc_and_a_ring_are_as_hard_to_turn_as_their_solids(bore, shape):
    """As meshes of 2,048 sides: of a disc the factor is a half, of a thin ring nearly one."""
    radius, wide = 0.4, 0.25
    disc = trimesh.creation.cylinder(radius=radius, height=wide, sections=2048)
    mass, inertia = disc.mass, disc.moment_inertia[2, 2]
    if bore:
        hole = trimesh.creation.cylinder(radius=bore * radius, height=wide, sections=2048)
        mass, inertia = mass - hole.mass, inertia - hole.moment_inertia[2, 2]
    assert wheel_inertia(mass, radius, shape) == pytest.approx(inertia, rel=1e-4)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_speeds_follow_by_their_units_alone(draw):
    """Pint carries turns, inches and miles; nothing here is in SI until the end."""
    units = registry()
    way = between(draw[0], 70, 130) * units("inch")
    train, mph = between(draw[1], 2, 90), between(draw[2], 1, 75) * units("mile / hour")
    turns = (mph / way).to("1 / minute") * train
    spin = turns.magnitude * 2 * pi / 60
    metres, speed = way.to("meter").magnitude, mph.to("meter / second").magnitude
    for figure in (engine_speed, cruise_engine_speed, top_engine_speed):
        assert figure(speed, metres, train) == pytest.approx(spin, rel=1e-12)
    for figure in (road_speed, crawl_speed):
        assert figure(spin, metres, train) == pytest.approx(speed, rel=1e-12)
    sender, ratio = int(between(draw[3], 4, 16)), between(draw[4], 3, 6)
    pulses = (units("mile") / way).to("").magnitude * ratio * sender
    assert pulses_per_mile(sender, ratio, metres) * 1609.344 == pytest.approx(pulses, rel=1e-12)
    pounds = between(draw[5], 1500, 9000) * units("pound")
    weight = (pounds * units("standard_gravity")).to("newton").magnitude
    assert axle_mass(weight) == pytest.approx(pounds.to("kilogram").magnitude, rel=1e-6)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_on_its_own_circumference_the_drive_turns_its_cable_a_thousand_times_a_mile(draw):
    units = registry()
    drive, driven, ratio = int(between(draw[0], 5, 10)), int(between(draw[1], 14, 24)), between(draw[2], 3, 6)
    cable = 1000 / 1609.344
    right = geared_circumference(drive, driven, ratio, cable)
    wheel_turns = (units("mile") / (right * units("meter"))).to("").magnitude
    assert wheel_turns * ratio * drive / driven == pytest.approx(1000, rel=1e-12)
    rolled = right * between(draw[3], 0.9, 1.1)
    told = (units("mile") / (rolled * units("meter"))).to("").magnitude * ratio * drive / driven / 1000
    assert fitted_gear_error(drive, driven, ratio, rolled, cable) == pytest.approx(told - 1, abs=1e-12)


@pytest.mark.parametrize(("code", "week", "year"), [("0125", 1, 2025), ("5320", 53, 2020), ("2309", 23, 2009)])
def test_a_week_begins_where_the_calendar_says(code, week, year):
    """By the calendar of weeks, whose first one may begin three days to either side of New Year."""
    today = date(2026, 11, 28)
    days = (today - date.fromisocalendar(year, week, 1)).days
    assert tire_age(code, today.isoformat()) / 86400 == pytest.approx(days, abs=3)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_a_speedometer_that_counts_turns_shows_what_it_counts(draw):
    """Along a mile of road the wheel turns as often as it fits into it; the dial knows the found wheel only."""
    units = registry()
    found, planned = (between(share, 1.9, 3.2) * units("meter") for share in draw[:2])
    counted = ((units("mile") / planned) * found).to("mile").magnitude
    lengths = (found.magnitude, planned.magnitude)
    assert speedometer_error(*lengths) == pytest.approx(counted - 1, abs=1e-12)
    assert odometer_factor(*lengths) == pytest.approx(1 / counted, rel=1e-12)
    assert adapter_ratio(*lengths) == pytest.approx(1 / counted, rel=1e-12)
    assert true_speed(between(draw[2], 5, 30), *lengths) == pytest.approx(between(draw[2], 5, 30) / counted, rel=1e-12)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_ratio_that_restores_turns_the_engine_as_before(draw):
    """By search over ratios, for the engine's turns along a mile of road."""
    ratio, found, planned = between(draw[0], 3, 7), between(draw[1], 1.9, 3.2), between(draw[2], 1.9, 3.2)
    before = 1609.344 / found * ratio
    restores = brentq(lambda one: 1609.344 / planned * one - before, 0.5, 30.0, xtol=1e-13)
    feels_like = brentq(lambda one: 1609.344 / found * one - 1609.344 / planned * ratio, 0.5, 30.0, xtol=1e-13)
    assert restoring_axle_ratio(ratio, found, planned) == pytest.approx(restores, rel=1e-9)
    assert effective_axle_ratio(ratio, found, planned) == pytest.approx(feels_like, rel=1e-9)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_same_brake_torque_does_the_same_work_in_a_turn_of_a_larger_wheel(draw):
    torque, found, planned = between(draw[0], 500, 4000), between(draw[1], 0.33, 0.5), between(draw[2], 0.33, 0.6)
    work, _ = quad(lambda _: torque, 0.0, 2 * pi)
    forces = [work / (2 * pi * radius) for radius in (found, planned)]
    assert retarding_force_ratio(found, planned) == pytest.approx(forces[1] / forces[0])
    wanted = brentq(lambda more: more * forces[1] - forces[0], 0.1, 10.0)
    assert pedal_effort_ratio(found, planned) == pytest.approx(wanted)


def test_load_indices_follow_the_preferred_numbers_of_eighty_steps_to_the_decade():
    """A series of numpy's; the printed loads are rounded to handy ones, nowhere by more than one part in thirty."""
    series = np.geomspace(45.0, 45.0 * 10**2.5, 201)
    for index, capacity in load_capacities().items():
        assert load_capacity(index) == capacity == pytest.approx(series[index], rel=1 / 30)
