"""Heights, ramps and tipping after the truck was raised."""

from math import atan, cos, degrees, hypot, pi, radians, sin, tan

import pytest

from planner.trade.stance.heights import belly_height, cg_height, front_point_height, overall_height, rear_point_height
from planner.trade.stance.ramps import approach_angle, breakover_angle, departure_angle
from planner.trade.stance.stability import found_cg_height, side_slope, stability_factor
from planner.worksheet.declare import Impossible


def height_on_ramp(slope, ahead, radius):
    """How high a ramp that touches the tire is: it leaves the ground radius × tan(slope / 2) ahead of the axle."""
    return (ahead - radius * tan(slope / 2)) * tan(slope)


@pytest.mark.parametrize("slope", [5, 20, 35, 60])
@pytest.mark.parametrize("radius", [0.01, 0.4, 0.55])
def test_a_point_on_a_ramp_that_touches_the_tire_gives_that_ramp(slope, radius):
    height = height_on_ramp(radians(slope), 0.9, radius)
    assert degrees(approach_angle(0.9, height, radius)) == pytest.approx(slope)


def test_the_line_at_the_approach_angle_touches_the_tire_and_cuts_it_nowhere():
    ahead, height, radius = 0.66, 0.5, 0.4
    angle = approach_angle(ahead, height, radius)
    off_center = abs((0 - ahead) * sin(angle) - (radius - height) * cos(angle))
    assert off_center == pytest.approx(radius)


def test_approach_and_departure_are_one_geometry():
    assert approach_angle(0.8, 0.5, 0.4) == departure_angle(0.8, 0.5, 0.4)


def test_a_point_on_the_ground_leaves_no_angle():
    assert approach_angle(0.8, 0.0, 0.4) == pytest.approx(0.0, abs=1e-12)


def test_a_higher_point_gives_more_angle_and_a_point_further_out_less():
    assert approach_angle(0.8, 0.6, 0.4) > approach_angle(0.8, 0.5, 0.4) > approach_angle(1.0, 0.5, 0.4)


def test_nothing_ahead_of_the_tire_leaves_a_wall():
    assert approach_angle(0.3, 1.2, 0.4) == pi / 2


def test_a_point_inside_the_tire_is_impossible():
    with pytest.raises(Impossible) as refused:
        approach_angle(0.2, 0.4, 0.4)
    assert refused.value.key == "point_ahead"


def test_breakover_with_tires_shrunk_to_points_is_twice_the_arctangent():
    """2 arctan(2h / L): encyclopaedia entry naming SAE J689."""
    assert breakover_angle(3.2, 0.4, 1e-9) == pytest.approx(2 * atan(2 * 0.4 / 3.2))


def test_tires_with_a_radius_let_a_sharper_crest_pass():
    assert breakover_angle(3.2, 0.4, 0.4) > breakover_angle(3.2, 0.4, 1e-9)


def test_the_middle_is_where_a_belly_stands_worst():
    middle = breakover_angle(3.2, 0.4, 0.4)
    assert breakover_angle(3.2, 0.4, 0.4, 1.6) == pytest.approx(middle)
    assert breakover_angle(3.2, 0.4, 0.4, 0.9) > middle
    assert breakover_angle(3.2, 0.4, 0.4, 0.9) == pytest.approx(breakover_angle(3.2, 0.4, 0.4, 2.3))


def test_front_and_rear_tires_may_differ_and_each_side_counts_its_own():
    """A 15° ramp to the front tire and a 10° ramp to a smaller rear one, met at one point."""
    front, rear, height = 0.45, 0.35, 0.35
    to_front = height / tan(radians(15)) + front * tan(radians(7.5))
    to_rear = height / tan(radians(10)) + rear * tan(radians(5))
    angle = breakover_angle(to_front + to_rear, height, front, to_front, rear)
    assert degrees(angle) == pytest.approx(25)


@pytest.mark.parametrize("position", [0.0, 3.2, 4.0])
def test_a_belly_that_is_not_between_the_axles_is_impossible(position):
    with pytest.raises(Impossible) as refused:
        breakover_angle(3.2, 0.4, 0.4, position)
    assert refused.value.key == "position"


def test_an_even_rise_raises_every_point_by_itself():
    assert front_point_height(0.5, 0.7, 0.04, 0.04, 3.2) == pytest.approx(0.54)
    assert rear_point_height(0.5, 1.1, 0.04, 0.04, 3.2) == pytest.approx(0.54)
    assert belly_height(0.4, 0.04, 0.04, 3.2, 1.1) == pytest.approx(0.44)


def test_points_of_a_straight_frame_stay_on_a_straight_line():
    """Rise by place, from far ahead to far behind: 0.05 at the front axle, 0.01 at the rear one, 2 m apart."""
    ahead = front_point_height(0.5, 1.0, 0.05, 0.01, 2.0)
    middle = belly_height(0.5, 0.05, 0.01, 2.0, 1.0)
    behind = rear_point_height(0.5, 1.0, 0.05, 0.01, 2.0)
    assert (ahead, middle, behind) == pytest.approx((0.57, 0.53, 0.49))


def test_the_highest_point_goes_by_the_greater_rise():
    assert overall_height(2.0, 0.01, 0.05) == overall_height(2.0, 0.05, 0.01) == pytest.approx(2.05)


def test_what_stands_over_an_axle_rises_as_it_does_and_what_stands_beyond_by_more():
    assert overall_height(2.0, 0.01, 0.05, 0.0, 2.6) == pytest.approx(2.01)
    assert overall_height(2.0, 0.01, 0.05, 2.6, 2.6) == pytest.approx(2.05)
    assert overall_height(2.0, 0.01, 0.05, 3.9, 2.6) == pytest.approx(2.07)  # half a wheelbase behind the rear axle


def test_the_center_of_gravity_rises_by_its_place_between_the_axles():
    """Moments: 18 kN of 24 in front put it a quarter of the wheelbase behind the front axle."""
    assert cg_height(0.8, 0.02, 0.06, 18_000.0, 6_000.0) == pytest.approx(0.83)
    assert cg_height(0.8, 0.02, 0.06) == cg_height(0.8, 0.06, 0.02) == pytest.approx(0.86)


def test_the_slope_that_tips_has_the_stability_factor_as_its_tangent():
    assert tan(side_slope(1.6, 0.75)) == pytest.approx(stability_factor(1.6, 0.75))


def test_a_raised_truck_stands_less_surely():
    height = cg_height(0.8, 0.05, 0.05)
    assert stability_factor(1.6, height) < stability_factor(1.6, 0.8)


def test_the_lift_test_finds_the_center_of_gravity_of_a_drawn_truck():
    """A weight placed 1.3 behind and 0.4 above the front axle of a 2.6 wheelbase, turned up by 20° about that axle."""
    wheelbase, weight, behind, above, radius, lift = 2.6, 20_000.0, 1.3, 0.4, 0.35, radians(20)
    level_front = weight * (1 - behind / wheelbase)
    reach = hypot(behind, above) * cos(atan(above / behind) + lift)
    raised_front = weight * (1 - reach / (wheelbase * cos(lift)))
    found = found_cg_height(wheelbase, weight, level_front, raised_front, wheelbase * sin(lift), radius)
    assert found == pytest.approx(above + radius)


def test_a_lift_test_on_other_tires_is_carried_over_from_their_own_radius():
    """The axles stand 0.35 high in the test; as found 0.40 in front and 0.44 behind, under a quarter of the weight."""
    given = (2.6, 20_000.0, 15_000.0, 15_500.0, 1.0, 0.35)
    above = found_cg_height(*given) - 0.35
    assert found_cg_height(*given, 0.40 - 0.35, 0.44 - 0.35) == pytest.approx(above + 0.41)


@pytest.mark.parametrize(
    ("key", "wrong"),
    [
        ("raise", {"raise_": 2.6}),
        ("level_front_load", {"level_front_load": 20_000.0}),
        ("raised_front_load", {"raised_front_load": 21_000.0}),
        ("raised_front_load", {"raised_front_load": 2_000.0}),
    ],
)
def test_readings_that_cannot_be_are_refused_by_name(key, wrong):
    given = {
        "wheelbase": 2.6,
        "weight": 20_000.0,
        "level_front_load": 10_000.0,
        "raised_front_load": 10_500.0,
        "raise_": 0.6,
        "loaded_radius": 0.35,
    }
    with pytest.raises(Impossible) as refused:
        found_cg_height(**given | wrong)
    assert refused.value.key == key
