"""Loads as weighed and laden, through the project file: for each rule a truck of which a clear would be false."""

from datetime import date

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project, work_out
from planner.plan.fit.backspace_limits import backspace_limits
from planner.project.reading import understand
from planner.project.source import parse

DAY = date(2026, 11, 28)

TRUCK = """\
format = 2
[vehicle]
units = "metric"
gross_weight = "3000 kg"
[use]
top_speed = "80 km/h"
[axles.front]
load = "1000 kg ± 10 kg"
laden_load = "1200 kg"
rating = "1300 kg"
tires = 2
bearing_setback = "50 mm ± 0 mm"
[axles.rear]
load = "1000 kg ± 10 kg"
laden_load = "1700 kg"
rating = "1800 kg"
tires = 2
[fitments.found.tire]
overall_diameter = "800 mm ± 0 mm"
loaded_radius = "400 mm ± 0 mm"
mass = "30 kg ± 0 kg"
[fitments.found.wheel]
offset = "50 mm ± 0 mm"
mass = "20 kg ± 0 kg"
[fitments.new.tire]
overall_diameter = "800 mm ± 0 mm"
loaded_radius = "400 mm ± 0 mm"
load_capacity = "1000 kg"
rated_pressure = "4 bar"
least_pressure = "1 bar"
passenger = "no"
mass = "30 kg"
[fitments.new.wheel]
offset = "50 mm ± 0 mm"
load_rating = "1000 kg"
greatest_pressure = "4 bar"
mass = "20 kg"
[plan]
chosen = "new"
"""


def truck(tmp_path, *changes, more=""):
    text = TRUCK
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return work_out(understand(parse(tmp_path / "truck.toml", (text + more).encode())), DAY)


def answers(opened, rule):
    """By axle; by nothing where a rule is of the whole truck."""
    return {
        place[-1] if len(place) == 1 else next((one for one in place if one in ("front", "rear")), ""): flag
        for flag in flags(opened, worded=True)
        if flag.rule.name == rule
        for place in flag.places
    }


def told(opened, rule):
    return {at: flag.verdict.answer for at, flag in answers(opened, rule).items()}


def value(opened, node, **place):
    return opened.sheet.value(opened.spot(node, **place))


KG = 9.80665
LOAD_RULES = (
    "loads.axle_overloaded",
    "loads.truck_overloaded",
    "tire.carries_less_than_load",
    "tire.carries_less_than_rating",
    "wheel.rated_below_load",
    "wheel.rated_below_axle",
    "wheel.pressure_past_wheels",
)


def test_a_truck_that_carries_what_it_is_rated_for_is_clear_of_all_of_them(tmp_path):
    opened = truck(tmp_path)
    for rule in LOAD_RULES:
        assert set(told(opened, rule).values()) == {"clear"}, rule
        assert all(flag.says for flag in answers(opened, rule).values())


def test_every_overload_is_a_stop(tmp_path):
    opened = truck(tmp_path)
    for rule in (*LOAD_RULES, "loads.bearings_overloaded"):
        node = rule.partition(".")[2]
        assert opened.sheet.catalog.rules[node].severity == "stop", rule


def test_an_axle_weighed_or_laden_over_its_rating_is_raised(tmp_path):
    weighed = truck(tmp_path, ('load = "1000 kg ± 10 kg"\nladen_load = "1200 kg"', 'load = "1320 kg ± 10 kg"'))
    assert told(weighed, "loads.axle_overloaded") == {"front": "raised", "rear": "clear"}
    laden = truck(tmp_path, ('laden_load = "1700 kg"', 'laden_load = "1801 kg"'))
    assert told(laden, "loads.axle_overloaded") == {"front": "clear", "rear": "raised"}


def test_the_cure_says_how_much_is_to_come_off(tmp_path):
    # 1850 kg laden on an axle rated for 1800, and wheels of 820 kg under half of it
    opened = truck(tmp_path, ('laden_load = "1700 kg"', 'laden_load = "1850 kg"'), ('g = "1000 kg"', 'g = "820 kg"'))
    assert "Take load off, at least 50.0 kg" in answers(opened, "loads.axle_overloaded")["rear"].cure
    assert "share of this axle, at least 105 kg" in answers(opened, "wheel.rated_below_load")["rear"].cure  # 925 − 820


def test_a_weighed_axle_of_which_nobody_counted_the_tires_is_not_cleared_by_its_rating(tmp_path):
    # 1320 kg weighed on 1300, which stands in for a laden load that nobody entered
    opened = truck(tmp_path, ('load = "1000 kg ± 10 kg"\nladen_load = "1200 kg"\nrating = "1300 kg"\ntires = 2\n',
                              'load = "1320 kg ± 10 kg"\nrating = "1300 kg"\n'))  # fmt: skip
    flag = answers(opened, "loads.axle_overloaded")["front"]
    assert flag.verdict.answer == "not known" and "axles.front.tires" in flag.needs
    assert value(opened, "full_load", fitment="new", axle="front") is None


def test_the_scales_tolerance_counts(tmp_path):
    # 1295 ± 10 kg on an axle rated for 1300: it may be 1305
    opened = truck(tmp_path, ('load = "1000 kg ± 10 kg"\nladen_load = "1200 kg"', 'load = "1295 kg ± 10 kg"'))
    assert told(opened, "loads.axle_overloaded")["front"] == "too close to call"


def test_wheels_that_nobody_weighed_may_be_heavier_and_a_load_just_within_the_rating_is_no_clear(tmp_path):
    # 1270 ± 10 kg of 1300, and two that may be 18 kg heavier each; of 1240 nothing is open
    unweighed = ('greatest_pressure = "4 bar"\nmass = "20 kg"', 'greatest_pressure = "4 bar"')
    near, far = (
        ('load = "1000 kg ± 10 kg"\nladen_load = "1200 kg"', f'load = "{load} kg ± 10 kg"') for load in (1270, 1240)
    )
    flag = answers(truck(tmp_path, unweighed, near), "loads.axle_overloaded")["front"]
    assert flag.verdict.answer == "too close to call"
    assert flag.settles == ("what a tire and a wheel weigh, old and new (tire.mass, wheel.mass)",)
    assert told(truck(tmp_path, unweighed, far), "loads.axle_overloaded")["front"] == "clear"
    assert told(truck(tmp_path, near), "loads.axle_overloaded")["front"] == "clear"


def test_on_the_wheels_that_it_was_weighed_on_nothing_is_added_to_what_the_scale_read(tmp_path):
    # Nobody weighed a wheel of either kind: the new ones may be 18 kg heavier each, those found are what they are.
    unweighed = truck(tmp_path, ('mass = "20 kg ± 0 kg"\n', ""), ('mass = "20 kg"\n', ""))
    found, new = (
        unweighed.sheet.outcome(unweighed.spot("carried_load", fitment=one, axle="front")) for one in ("found", "new")
    )
    assert (found.low, found.high) == pytest.approx((990 * KG, 1010 * KG))
    assert new.high == pytest.approx(1010 * KG + 2 * 180)


def test_heavier_wheels_stand_on_the_road_and_on_no_bearing(tmp_path):
    heavy = truck(tmp_path, ('mass = "20 kg"', 'mass = "60 kg"'))
    assert value(heavy, "side_load", fitment="new", axle="front") == pytest.approx(500 * KG)
    assert value(heavy, "per_tire", fitment="new", axle="front") == pytest.approx(540 * KG)


def test_heavier_wheels_and_tires_overload_an_axle_that_was_just_within_its_rating(tmp_path):
    # 1285 ± 10 kg as weighed; two wheels with tires that are 20 kg heavier each: 1325 ± 10 kg, over 1300
    near = ('load = "1000 kg ± 10 kg"\nladen_load = "1200 kg"', 'load = "1285 kg ± 10 kg"')
    assert told(truck(tmp_path, near), "loads.axle_overloaded")["front"] == "clear"
    heavy = truck(tmp_path, near, ('mass = "20 kg"', 'mass = "40 kg"'))
    assert told(heavy, "loads.axle_overloaded")["front"] == "raised"
    assert value(heavy, "carried_load", fitment="new", axle="front") == pytest.approx(1325 * KG)
    assert value(heavy, "carried_load", fitment="found", axle="front") == pytest.approx(1285 * KG)


def test_the_laden_sum_over_the_gross_weight_is_raised_though_each_axle_is_within_its_rating(tmp_path):
    # 1300 + 1701 > 3000, and the two ratings are 3100
    opened = truck(tmp_path, ('laden_load = "1200 kg"', 'laden_load = "1300 kg"'), ("1700 kg", "1701 kg"))
    assert told(opened, "loads.truck_overloaded") == {"": "raised"}
    assert told(opened, "loads.axle_overloaded") == {"front": "clear", "rear": "clear"}


def test_without_a_laden_load_the_sum_is_not_known_and_that_entry_is_asked_for(tmp_path):
    opened = truck(tmp_path, ('laden_load = "1700 kg"\n', ""))
    flag = answers(opened, "loads.truck_overloaded")[""]
    assert flag.verdict.answer == "not known" and flag.needs == ("axles.rear.laden_load",)


def test_a_truck_that_is_over_as_weighed_needs_no_laden_load_to_be_raised(tmp_path):
    opened = truck(tmp_path, ('laden_load = "1700 kg"\n', ""), ('"3000 kg"', '"1900 kg"'))
    assert told(opened, "loads.truck_overloaded") == {"": "raised"}


def test_unentered_the_rating_stands_in_for_what_one_axle_carries_laden(tmp_path):
    opened = truck(tmp_path, ('laden_load = "1700 kg"\n', ""))
    assert value(opened, "full_load", fitment="new", axle="rear") == pytest.approx(1800 * KG)
    assert value(opened, "full_load", fitment="new", axle="front") == pytest.approx(1200 * KG)


def test_tires_that_carry_the_truck_as_weighed_and_not_laden_are_raised(tmp_path):
    # two of 820 kg carry 1640, more than 1000 weighed and less than 1700 laden
    opened = truck(tmp_path, ('load_capacity = "1000 kg"', 'load_capacity = "820 kg"'))
    assert told(opened, "tire.carries_less_than_load") == {"front": "clear", "rear": "raised"}
    assert told(opened, "tire.carries_less_than_rating") == {"front": "clear", "rear": "raised"}


def test_what_is_a_stop_for_the_tire_is_one_for_the_wheel(tmp_path):
    opened = truck(tmp_path, ('load_rating = "1000 kg"', 'load_rating = "820 kg"'))
    assert told(opened, "wheel.rated_below_load") == {"front": "clear", "rear": "raised"}
    assert told(opened, "wheel.rated_below_axle") == {"front": "clear", "rear": "raised"}


def test_the_found_truck_is_judged_too_and_as_a_caution_since_what_comes_off_is_the_cure(tmp_path):
    # two of 820 kg under 1700 laden; wheels of 840 kg, under it too
    mass = 'mass = "30 kg ± 0 kg"'
    tire = (mass, f'load_capacity = "820 kg"\npassenger = "no"\n{mass}')
    wheel = ('mass = "20 kg ± 0 kg"\n', 'mass = "20 kg ± 0 kg"\nload_rating = "840 kg"\n')
    opened = truck(tmp_path, tire, wheel)
    for rule in ("loads.found_tires_overloaded", "loads.found_wheels_overloaded"):
        assert told(opened, rule) == {"front": "clear", "rear": "raised"}, rule
        assert answers(opened, rule)["rear"].rule.severity == "caution"
    assert told(truck(tmp_path), "loads.found_tires_overloaded") == {}  # nobody read their sidewalls
    # two of 860 carry 1720, enough for the 1700 laden, and not for the 1800 that the axle is rated for
    near = (tire[0], tire[1].replace("820", "860"))
    assert told(truck(tmp_path, near), "loads.found_tires_overloaded")["rear"] == "raised"
    unrated = ('rating = "1800 kg"\n', "")
    assert told(truck(tmp_path, near, unrated), "loads.found_tires_overloaded")["rear"] == "not known"


PAIR = ('rating = "1800 kg"\ntires = 2', 'rating = "1800 kg"\ntires = 4')


def test_four_tires_on_an_axle_count_for_what_each_carries_in_a_pair(tmp_path):
    assert told(truck(tmp_path, PAIR), "tire.carries_less_than_load")["rear"] == "not known"
    # single 500 kg would do: 4 × 500 = 2000; dual 420: 1680, less than 1700
    single = ('load_capacity = "1000 kg"', 'load_capacity = "500 kg"\nload_capacity_dual = "420 kg"')
    assert told(truck(tmp_path, PAIR, single), "tire.carries_less_than_load")["rear"] == "raised"
    enough = ('load_capacity = "1000 kg"', 'load_capacity = "500 kg"\nload_capacity_dual = "450 kg"')
    opened = truck(tmp_path, PAIR, enough)
    assert told(opened, "tire.carries_less_than_load")["rear"] == "clear"
    assert value(opened, "full_load_per_tire", fitment="new", axle="rear") == pytest.approx(425 * KG)


def test_a_pairs_bearings_carry_both_of_its_tires(tmp_path):
    opened = truck(tmp_path, PAIR)
    assert value(opened, "side_load", fitment="new", axle="rear") == pytest.approx(500 * KG)


def test_pressures_are_given_for_the_truck_as_weighed_and_laden(tmp_path):
    exponent = '[assumptions.pressure_exponent]\nvalue = "0.5 ± 0"\n'
    opened = truck(tmp_path, more=exponent)
    # 500 and 850 of 1000 kg on each rear tire: squared, of 4 bar
    assert value(opened, "running_pressure", fitment="new", axle="rear") == pytest.approx(1.00e5, rel=1e-3)
    assert value(opened, "laden_pressure", fitment="new", axle="rear") == pytest.approx(2.89e5)
    assert value(opened, "rating_pressure", fitment="new", axle="rear") == pytest.approx(3.24e5)


def test_a_wheel_that_takes_less_than_the_laden_tire_needs_is_raised(tmp_path):
    exponent = '[assumptions.pressure_exponent]\nvalue = "0.5 ± 0"\n'
    low = truck(tmp_path, ('greatest_pressure = "4 bar"', 'greatest_pressure = "2.8 bar"'), more=exponent)
    assert told(low, "wheel.pressure_past_wheels") == {"front": "clear", "rear": "raised"}
    # 3 bar carries the 1700 kg laden, and not the 1800 that the axle is rated for
    rated = truck(tmp_path, ('greatest_pressure = "4 bar"', 'greatest_pressure = "3 bar"'), more=exponent)
    assert told(rated, "wheel.pressure_past_wheels") == {"front": "clear", "rear": "raised"}
    assert told(rated, "wheel.sidewall_pressure_past_wheels") == {"front": "raised", "rear": "raised"}
    assert value(rated, "most_pressure", fitment="new", axle="rear") == pytest.approx(3e5)


@pytest.mark.parametrize(("takes", "answer"), [("2.8 bar", "raised"), ("3.9 bar", "not known"), ("4 bar", "clear")])
@pytest.mark.parametrize("missing", ['rating = "1800 kg"\n', 'least_pressure = "1 bar"\n'])
def test_without_every_pressure_a_wheel_is_clear_only_where_it_takes_all_that_the_tire_may_have(
    tmp_path, takes, answer, missing
):
    exponent = '[assumptions.pressure_exponent]\nvalue = "0.5 ± 0"\n'
    takes = ('greatest_pressure = "4 bar"', f'greatest_pressure = "{takes}"')
    opened = truck(tmp_path, (missing, ""), takes, more=exponent)
    assert told(opened, "wheel.pressure_past_wheels")["rear"] == answer


def test_of_a_wheel_of_which_nobody_said_what_pressure_it_takes_nothing_is_known_and_it_is_told_once(tmp_path):
    # the wheel may take 2 bar, where the laden tire needs more: nobody has said
    opened = truck(tmp_path, ('greatest_pressure = "4 bar"\n', ""))
    (flag,) = [one for one in flags(opened) if one.rule.name == "wheel.pressure_past_wheels"]
    assert flag.verdict.answer == "not known" and flag.needs == ("fitments.new.wheel.greatest_pressure",)
    assert told(opened, "wheel.pressure_past_wheels") == {"front": "not known", "rear": "not known"}
    assert told(opened, "wheel.sidewall_pressure_past_wheels") == {}  # the stop asks for both


RATED = ('rating = "1300 kg"', 'rating = "1300 kg"\nbearing_rating = "{}"')


def rated(bearings):
    return RATED[0], RATED[1].format(bearings)


def test_bearings_are_held_to_their_own_rating_where_it_is_entered(tmp_path):
    # laden 1200 kg, 600 a side, over the middle of the bearings (offset and setback are 50 mm both)
    assert told(truck(tmp_path, rated("601 kg")), "loads.bearings_overloaded") == {"front": "clear"}
    assert told(truck(tmp_path, rated("601 kg")), "steering.bearings_past_rating") == {"front": "clear"}
    assert told(truck(tmp_path, rated("599 kg")), "loads.bearings_overloaded") == {"front": "raised"}
    assert told(truck(tmp_path), "loads.bearings_overloaded") == {}
    # what is too much straight ahead is too much in a corner: one cause, told once
    corner = next(
        one for one in flags(truck(tmp_path, rated("599 kg"))) if one.rule.name == "steering.bearings_past_rating"
    )
    assert corner.verdict.answer == "raised" and corner.under is not None
    assert corner.under.rule.name == "loads.bearings_overloaded"


def test_a_tire_further_out_bends_them_more_in_a_corner(tmp_path):
    # 30 mm further out, where the side force's own arm is 0.3 × 400 = 120 mm: 600 × 150 / 120 = 750 kg
    out = ('offset = "50 mm ± 0 mm"\nload_rating', 'offset = "20 mm ± 0 mm"\nload_rating')
    assert told(truck(tmp_path, out, rated("740 kg")), "steering.bearings_past_rating") == {"front": "raised"}
    opened = truck(tmp_path, out, rated("760 kg"))
    assert told(opened, "steering.bearings_past_rating") == {"front": "clear"}
    assert value(opened, "bearing_load", fitment="new", axle="front") == pytest.approx(750 * KG)


def test_the_moment_found_is_no_limit_where_the_bearings_rating_is_entered(tmp_path):
    out = ('offset = "50 mm ± 0 mm"\nload_rating', 'offset = "20 mm ± 0 mm"\nload_rating')
    assert told(truck(tmp_path, out), "steering.bearing_moment_grown")["front"] == "raised"
    opened = truck(tmp_path, out, rated("760 kg"))
    flag = answers(opened, "steering.bearing_moment_grown")["front"]
    assert flag.verdict.answer == "clear" and "their own rating of 760 kg" in flag.says


def test_their_rating_bounds_the_backspace_and_what_was_found_does_not(tmp_path):
    # 600 kg a side laden, rated for 760: an arm of 120 × 760 / 600 − 120 = 32 mm to either side of the bearings, which
    # lie 50 mm inboard of the face; the rim is 200 mm wide and 10 mm thick at each flange
    rim = 'rim_width = "200 mm ± 0 mm"\nflange_thickness = "10 mm ± 0 mm"\n'
    found = ('mass = "20 kg ± 0 kg"\n', f'mass = "20 kg ± 0 kg"\n{rim}')
    new = ('load_rating = "1000 kg"\n', f'load_rating = "1000 kg"\n{rim}')
    opened = truck(tmp_path, found, new, rated("760 kg"))
    limits = {one.rule.node: one for one in backspace_limits(opened, "new", "front", 0.220).limits}
    bound = limits["bearings_past_rating"]
    assert bound.worst[1:] == pytest.approx((0.128, 0.192)) and bound.kindest[1:] == pytest.approx((0.128, 0.192))
    assert bound.rule.severity == "caution"  # so that the window which only keeps what stops does not count it
    assert limits["bearing_moment_grown"].worst[1:] == (float("-inf"), float("inf"))


SPARE = '[fitments.new.spare]\ndesignation = "7.50-16LT"\n'


def test_a_spare_that_carries_less_than_its_part_of_a_laden_axle_is_raised(tmp_path):
    rule = "tire.spare_carries_less"
    opened = truck(tmp_path, more=f'{SPARE}load_capacity = "800 kg"\n')
    assert told(opened, rule) == {"front": "clear", "rear": "raised"}  # 600 and 850 kg a tire
    bare = truck(tmp_path, more=SPARE)
    assert set(told(bare, rule).values()) == {"not known"}
    assert answers(bare, rule)["front"].needs == ("fitments.new.spare.load_capacity",)
    assert told(truck(tmp_path), rule) == {}


def test_a_spare_among_four_counts_for_what_it_carries_in_a_pair(tmp_path):
    single = f'{SPARE}load_capacity = "500 kg"\n'
    assert told(truck(tmp_path, PAIR, more=single), "tire.spare_carries_less")["rear"] == "not known"
    dual = truck(tmp_path, PAIR, more=f'{single}load_capacity_dual = "420 kg"\n')
    assert told(dual, "tire.spare_carries_less")["rear"] == "raised"  # 1700 kg on four: 425 each


def standing(tmp_path, high):
    track = ("tires = 2\nbearing_setback", 'tires = 2\nface_to_face = "1600 mm ± 0 mm"\nbearing_setback')
    rear = ('rating = "1800 kg"\n', 'rating = "1800 kg"\nface_to_face = "1600 mm ± 0 mm"\n')
    cg = ('units = "metric"\n', f'units = "metric"\ncg_height = "{high} mm ± 0 mm"\n')
    grip = '[assumptions.tire_grip]\nvalue = "0.8 ± 0"\n[assumptions.lean_share]\nvalue = "0.9 ± 0"\n'
    return truck(tmp_path, track, rear, cg, more=grip)


def test_an_absolute_word_on_tipping_stands_beside_the_relative_one(tmp_path):
    # track 1600 − 2 × 50 = 1500 mm: half of it over 850 mm, of which 0.9 is left, is 0.794; over 840 mm 0.8036
    tall = standing(tmp_path, 850)
    assert told(tall, "stance.tips_before_it_slides") == {"": "raised"}
    assert told(tall, "stance.stability_fallen") == {"": "clear"}  # it stood no better as found
    assert told(standing(tmp_path, 840), "stance.tips_before_it_slides") == {"": "clear"}


def test_an_age_and_a_share_are_said_as_a_mechanic_says_them(tmp_path):
    # Made in week 1 of 2008, looked at on 25 November 2026: 18.9 years, 8.9 over ten. Two of 3,000 lb on 6,100 lb.
    path = tmp_path / "truck.toml"
    entries = 'tires = 2\nladen_load = "6,100 lb"\nload = "6,100 lb"\n'
    tires = '[fitments.found.tire]\ndate_code = "0108"\n[fitments.tall.tire]\nload_capacity = "3,000 lb"\n'
    tires += 'designation = "37x12.50R17LT"\n'
    path.write_text(f"format = 2\n{tires}[axles.front]\n{entries}[axles.rear]\n{entries}", encoding="utf-8")
    told = {flag.rule.node: flag for flag in flags(open_project(path, date(2026, 11, 25)))}
    assert told["found_tires_too_old"].by == "over by 8.9 years"
    assert "carry 98.4 % ± 1.7 % of the heaviest load on it" in told["carries_less_than_load"].says
