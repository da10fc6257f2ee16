"""What an axle and its tires carry, against general libraries: forces shared out, a load sought, units carried."""

import numpy as np
import pytest
import trimesh
from scipy.integrate import quad
from scipy.optimize import brentq

from planner.quantities.registry import registry
from planner.trade.loads import (
    carried_load,
    full_load,
    full_load_per_tire,
    heaviest_load,
    per_tire,
    tire_margin,
    tire_rating_margin,
    turning_mass,
)
from planner.trade.tire.loading import laden_pressure, rated_load, rating_pressure, running_pressure

DRAWS = np.random.default_rng(20).uniform(size=(8, 6))
DRAW_IDS = [f"draw {number}" for number in range(len(DRAWS))]


def between(share: float, low: float, high: float) -> float:
    return low + share * (high - low)


def shared_out(load: float, tires: int) -> np.ndarray:
    """What springs of one kind take of a load over the middle of an axle: the least forces that hold it level."""
    places = np.array([-0.75, 0.75] if tires == 2 else [-1.0, -0.7, 0.7, 1.0])
    forces, *_ = np.linalg.lstsq(np.array([np.ones(tires), places]), np.array([load, 0.0]), rcond=None)
    return forces


@pytest.mark.parametrize("tires", [2, 4])
@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_tires_alike_share_an_axles_load_and_carry_up_to_where_each_has_all_it_may(draw, tires):
    load, capacity = between(draw[0], 8e3, 30e3), between(draw[1], 6e3, 15e3)
    for figure in (per_tire, full_load_per_tire):
        assert [figure(load, tires)] * tires == pytest.approx(shared_out(load, tires))
    most = brentq(lambda one: max(shared_out(one, tires)) - capacity, 0.0, 1e6, xtol=1e-9)
    for figure in (tire_margin, tire_rating_margin):
        assert figure(load, tires, capacity) == pytest.approx(most / load)


@pytest.mark.parametrize("tires", [(2, 2), (4, 4), (2, 4), (4, 2)])
@pytest.mark.parametrize("draw", DRAWS[:4], ids=DRAW_IDS[:4])
def test_new_wheels_press_on_the_scale_in_place_of_the_old_ones(draw, tires):
    """The scale in pounds: the bare axle first, then what is put on it."""
    units, (planned, found) = registry(), tires
    scale, old, new = (between(draw[at], *ends) for at, ends in enumerate([(2500, 6000), (60, 130), (70, 190)]))
    bare = scale - sum([old] * found)
    now = ((bare + sum([new] * planned)) * units("pound_force")).to("newton").magnitude
    weighed = (scale * units("pound_force")).to("newton").magnitude
    masses = [(one * units("pound")).to("kilogram").magnitude for one in (old, new)]
    assert carried_load(weighed, planned, found, 150.0, *masses) == pytest.approx(now)
    assert carried_load(weighed, planned, found, 150.0, *masses, as_weighed=True) == weighed
    more = between(draw[3], -180, 180)
    for known in ((None, None), (masses[0], None), (None, masses[1])):
        assert carried_load(weighed, planned, found, more, *known) == pytest.approx(weighed + sum([more] * planned))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_heaviest_is_the_greatest_of_what_is_known(draw):
    carried, laden, rating = (between(share, 8e3, 20e3) for share in draw[:3])
    assert heaviest_load(carried, laden) == np.fmax(carried, laden)
    assert heaviest_load(carried) == np.fmax(carried, np.nan)
    assert heaviest_load(None, laden) == full_load(laden) == np.fmax(np.nan, laden)
    assert full_load(laden, rating, carried) == np.fmax(laden, carried)
    assert full_load(None, rating, carried) == np.fmax(rating, carried)
    for figure in (heaviest_load, full_load):  # weighed, and what it carries now is not known
        assert figure(laden_load=laden, carried_load=None, axle_load=rating) is None


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_tire_and_wheel_weigh_what_both_solids_weigh_in_one(draw):
    wheel = trimesh.creation.annulus(r_min=0.1, r_max=between(draw[0], 0.18, 0.24), height=0.2)
    tire = trimesh.creation.annulus(r_min=0.25, r_max=between(draw[1], 0.33, 0.5), height=0.25)
    wheel.density, tire.density = between(draw[2], 500, 2000), between(draw[3], 200, 700)
    masses = [one.mass for one in (tire, wheel)]
    middle = np.average([0.0, 1.0], weights=masses)  # a meter apart they balance here
    assert turning_mass(*masses) * middle == pytest.approx(wheel.mass)


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_of_two_tires_side_by_side_each_may_carry_the_least_of_what_is_marked(draw):
    units = registry()
    single, dual = between(draw[0], 700, 1500), between(draw[1], 700, 1500)

    def weight(mass: float) -> float:
        return (mass * units("kilogram") * units("standard_gravity")).to("newton").magnitude

    assert rated_load(single, 2, dual) == rated_load(single, None) == pytest.approx(weight(single))
    assert rated_load(single, 4, dual, False) == pytest.approx(np.fmin(weight(single), weight(dual)))
    # A passenger car's tire at 91 percent of what is marked, as 49 CFR 571.120 S5.1.2 has it.
    assert rated_load(single, 4, dual, True) == pytest.approx(np.fmin(weight(single), weight(dual) / 1.10))


@pytest.mark.parametrize("draw", DRAWS, ids=DRAW_IDS)
def test_the_pressure_for_a_load_is_where_a_tire_blown_up_bit_by_bit_begins_to_carry_it(draw):
    """Of load and pressure each bit more of the one is a power's part of as much more of the other."""
    rated, most, power = between(draw[0], 7e3, 15e3), between(draw[1], 3e5, 6e5), between(draw[2], 0.7, 1.0)
    load, least = rated * between(draw[3], 0.4, 1.0), most * between(draw[4], 0.3, 0.9)

    def carries(pressure: float) -> float:
        return rated * np.exp(quad(lambda one: power / one, most, pressure)[0])

    begins = brentq(lambda one: carries(one) - load, most / 100, 1.01 * most, xtol=1e-6)
    for figure in (running_pressure, laden_pressure):
        assert figure(load, rated, most, power, least) == pytest.approx(np.fmax(begins, least))
        assert figure(load, rated, most, power, 0.9 * begins) == pytest.approx(begins)
    assert rating_pressure(load * 4, 4, rated, most, power) == pytest.approx(begins)
