"""What holds for every rule: its own examples, its words, its ground."""

from string import Formatter

import pytest

from planner.plan.truck.catalog import catalog
from planner.plan.truck.wording import TO, UNKNOWN, fill
from planner.quantities.grammar import bare, read_value
from planner.worksheet.declare import TO_CLEAR, Finding
from planner.worksheet.outcome import Known, number
from planner.worksheet.verdict import judge

RULES = sorted(catalog().rules.values(), key=lambda one: one.name)


def outcome(rule, example):
    """The rule's answer on an example written as people write; a limit left out has its default."""
    values = []
    for taken in rule.inputs:
        if taken.name in example:
            values.append(bare(read_value(example[taken.name], taken.kind)))
        elif taken.reads in catalog().assumed:
            standing = catalog().assumed[taken.reads]
            values.append(bare(read_value(standing.text, standing.kind)))
        else:
            assert taken.optional, f"the example of {rule.name} leaves out {taken.name}"
            values.append(taken.default)
    unknown = set(example) - {taken.name for taken in rule.inputs}
    assert not unknown, f"the example of {rule.name} gives {unknown}"
    value = rule.call(*values)
    exact = number(value)
    return Known(value, exact, exact)


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_is_clear_on_its_own_example_that_holds(rule):
    assert judge(rule, (), outcome(rule, rule.holds)).answer == "clear"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_is_raised_on_its_own_example_that_fails(rule):
    assert judge(rule, (), outcome(rule, rule.fails)).answer == "raised"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_quotes_only_what_it_reads_or_finds(rule):
    names = {taken.name for taken in rule.inputs}
    for template in (rule.says, rule.cure, rule.clear_says, rule.if_close):
        found = outcome(rule, rule.holds if template == rule.clear_says else rule.fails).value
        words = set(found.words) if isinstance(found, Finding) else set()
        words |= {TO_CLEAR} if rule.kind is not None and template in (rule.cure, rule.if_close) else set()
        quoted = {name for _, name, _, _ in Formatter().parse(template) if name}
        assert quoted <= names | words, f"{rule.name} quotes {quoted - names - words}"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_says_what_it_notices_what_to_do_and_on_what_ground(rule):
    assert rule.severity in ("stop", "caution", "note")
    assert rule.notices and rule.cure and str(rule.ground)


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_a_rule_speaks_in_sentences_and_notices_in_a_clause(rule):
    found = outcome(rule, rule.fails).value
    words = found.words if isinstance(found, Finding) else {}
    filled = {taken.name: "8" for taken in rule.inputs} | words | {TO_CLEAR: "1"}
    for template in (rule.says, rule.cure, rule.clear_says, rule.if_close):
        text = template.format_map(filled)
        assert not text or text[0].isupper() or text[0].isdigit(), text
        assert not text or text.endswith("."), text
        assert "  " not in text and ".." not in text, text
    first = next(iter(Formatter().parse(rule.says)))
    starts_with = next((taken for taken in rule.inputs if not first[0] and taken.name == first[1]), None)
    assert starts_with is None or starts_with.kind.form == "text", "a quantity starts no sentence"
    assert rule.notices[0].islower() and not rule.notices.endswith(".")


def sentence(rule, template, example):
    """A rule's words on an example, as people read them; what the example leaves out is not known."""
    found = outcome(rule, example).value
    seen = {taken.name: example.get(taken.name, UNKNOWN) for taken in rule.inputs}
    seen |= {name: catalog().assumed[name].text for name in seen if name in catalog().assumed and name not in example}
    return fill(template, Ends(seen | dict(found.words if isinstance(found, Finding) else {})))


class Ends(dict):
    """Names and their values, two that stand as a range too."""

    def __missing__(self, name):
        first, second = name.split(TO)
        return f"{self[first]}{TO}{self[second]}"


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_what_is_clear_has_a_sentence_of_its_own_with_every_value_in_it(rule):
    told = sentence(rule, rule.clear_says, rule.holds)
    assert told.endswith(".") and len(told) > 20, told
    assert not set("{}[]…") & set(told) and UNKNOWN not in told, told
    assert told != sentence(rule, rule.says, rule.holds)
    assert told != sentence(rule, rule.says, rule.fails)


OTHER_WAYS = {  # ways to a clear on which the sentence of the example would not be true
    "rim_outside_usual_band": (
        {"narrowest_rim": "8 in", "widest_rim": "10 in"},
        "The tire's maker says which rims are approved, and no rule of thumb counts.",
    ),
    "rim_smaller_than_brake_asks": (
        {"radial_clearance": "-6 mm", "smallest_rim_code": None},
        "You measured the barrel itself, so no rim code is estimated from its drop center.",
    ),
    "too_old": (
        {"tire_age": "700 weeks", "found_tire_age": "700 weeks"},
        "By its date code the tire is 13.4 years old, like the tires found; another rule covers those.",
    ),
    "bore_loose_on_pilot": (
        {"register_gap": "0.1 mm", "wheel_seat": "flat"},
        "The wheel is centered by the hub's pilot.",
    ),
    "spacing_below_usual": (
        {"dual_spacing": "9 in", "least_dual_spacing": "10.6 in"},
        "Their maker says how far apart the two tires have to be, and no rule of thumb counts.",
    ),
    "closed_nut_bottoms": ({"nut_closed": "no"}, "The nuts are open, and no stud bottoms in them."),
    "found_closed_nut_bottoms": ({"nut_closed": "no"}, "The nuts are open, and no stud bottoms in them."),
    "ball_radius_differs": (
        {"wheel_seat": "cone"},
        "Wheel and nuts aren't both ball seats, so no radius has to match.",
    ),
    "threads_differ_front_to_rear": (
        {"rear_stud_diameter": "14 mm", "rear_stud_pitch": "1.5 mm"},
        "Front and rear studs have threads that nearly match; another rule covers that.",
    ),
    "valve_near_brake": (
        {"valve_side": "outboard", "valve_clearance": None},
        "The valve is on the outboard side, with the disc between it and the brake.",
    ),
    "axles_travel_apart": ({"part_time_four_wheel_drive": "no"}, "Nothing locks the two axles together."),
    "tube_and_rim_mismatched": (
        {"tire_tube": "tube", "rim_tubeless": "no"},
        "The tire takes a tube, which holds the air.",
    ),
    "threads_nearly_interchange": ({"rear_stud_diameter": "9/16 in"}, "Front and rear studs have one thread."),
    "wider_than_legal": (
        {"body_width": None},
        "The truck is 101.99 in wide over its tires, no wider than the 102 in allowed.",
    ),
}


@pytest.mark.parametrize("node", OTHER_WAYS)
def test_what_is_clear_another_way_says_so(node):
    rule, (changed, said) = catalog().rules[node], OTHER_WAYS[node]
    example = {name: value for name, value in {**rule.holds, **changed}.items() if value is not None}
    assert judge(rule, (), outcome(rule, example)).answer == "clear"
    assert sentence(rule, rule.clear_says, example) == said


@pytest.mark.parametrize(
    ("node", "changed", "said"),
    [
        ("shaft_torque_past_rating", {"shaft_torque_governed_by": "engine"}, "set by the engine and its gears,"),
        ("shaft_torque_past_rating", {"shaft_torque_governed_by": "grip"}, "set by the tires' grip,"),
        (
            "grade_out_of_reach",
            {"gradeability": "38 deg", "grip_limited_grade": "21.7 deg"},
            "grip, all wheels driven,",
        ),
        (
            "grade_out_of_reach",
            {"gradeability": "38 deg", "grip_limited_grade": "21.7 deg", "front_driven": "no"},
            "grip, two wheels driven,",
        ),
        ("bead_seats_slope_otherwise", {"rim_pieces": "multi"}, "sits on seats of 15°."),
        (
            "bead_seats_slope_otherwise",
            {"bead_seat_angle": "7.5 deg", "tire_rim_code": "16", "rim_pieces": "multi"},
            "sits on seats of 0° to 5°.",
        ),
        ("rim_outside_usual_band", {"rim_width": "8.11 in"}, "wide is too narrow;"),
        ("rim_outside_usual_band", {"rim_width": "11.26 in"}, "wide is too wide;"),
        # 4.70 / 4.95 = 0.9495 and 5.38 / 4.95 = 1.0869, the nearest on either side.
        (
            "no_gear_set_restores",
            {"gear_sets": "3.73, 4.10, 4.70, 5.38, 6.00"},
            "4.70 feels 5.1 % taller (slower engine, less pull); 5.38 feels 8.7 % lower (faster engine, more pull).",
        ),
    ],
)
def test_what_is_wrong_is_said_as_it_is(node, changed, said):
    rule = catalog().rules[node]
    example = {**rule.fails, **changed}
    assert judge(rule, (), outcome(rule, example)).answer == "raised"
    assert said in sentence(rule, rule.says, example)


@pytest.mark.parametrize(("wheel", "answer"), [("80 psi", "clear"), ("79 psi", "not known")])
def test_a_wheel_that_takes_what_stands_on_the_tire_needs_no_other_pressure(wheel, answer):
    rule = catalog().rules["pressure_past_wheels"]
    assert judge(rule, (), outcome(rule, {"greatest_pressure": wheel, "rated_pressure": "80 psi"})).answer == answer


@pytest.mark.parametrize(
    ("seat", "code", "pieces", "answer"),
    [
        ("0.5 deg", "16", "multi", "clear"),
        ("0.5 deg", "16", "one", "raised"),
        ("7.5 deg", "16", "multi", "raised"),
        ("15 deg", "16.5", "multi", "clear"),
        ("5 deg", "16.5", "multi", "raised"),
    ],
)
def test_only_a_rim_in_pieces_for_a_whole_code_may_have_a_level_base(seat, code, pieces, answer):
    rule = catalog().rules["bead_seats_slope_otherwise"]
    example = {"bead_seat_angle": seat, "tire_rim_code": code, "rim_pieces": pieces}
    assert judge(rule, (), outcome(rule, example)).answer == answer


@pytest.mark.parametrize(("cost", "answer"), [("0", "clear"), ("1", "raised")])
def test_a_budget_of_nothing_holds_nothing(cost, answer):
    rule = catalog().rules["cost_past_budget"]
    assert judge(rule, (), outcome(rule, {"plan_cost": cost, "plan_budget": "0"})).answer == answer


@pytest.mark.parametrize("answer", ["clear", "raised"])
def test_what_a_division_leaves_over_is_nothing_and_anything_more_reads_low(answer):
    rule = catalog().rules["reads_low"]
    error = "-0.0000000000000002" if answer == "clear" else "-0.00000000002"  # a float next to 1 is off by 2e-16
    assert judge(rule, (), outcome(rule, {**rule.fails, "speedometer_error": error})).answer == answer


@pytest.mark.parametrize("rule", RULES, ids=lambda one: one.name)
def test_what_passes_a_greatest_value_is_over_and_not_short(rule):
    greatest = [taken.name for taken in rule.inputs if taken.name.startswith(("greatest_", "most_", "highest_"))]
    least = [taken.name for taken in rule.inputs if taken.name.startswith(("least_", "lowest_", "smallest_"))]
    if greatest and not least and rule.kind is not None:
        assert rule.beyond == "over by"


def test_rims_that_nobody_has_looked_at_count_as_multi_piece():
    rule = catalog().rules["multi_piece_rims"]
    assert judge(rule, (), outcome(rule, {})).answer == "raised"
    assert "Nobody has said" in outcome(rule, {}).value.words["pieces"]


@pytest.mark.parametrize(("wheel", "nut"), [("ball", "ball"), ("flat", "cone")])
def test_only_cones_have_an_angle_to_agree_on(wheel, nut):
    rule = catalog().rules["seat_angle_differs"]
    assert judge(rule, (), outcome(rule, {"wheel_seat": wheel, "nut_seat": nut})).answer == "clear"


@pytest.mark.parametrize(("centring", "answer"), [("studs", "clear"), ("hub", "raised")])
def test_seats_that_center_need_no_pilot_unless_the_hub_is_made_to_center(centring, answer):
    rule = catalog().rules["bore_loose_on_pilot"]
    loose = {"register_gap": "2 mm", "wheel_seat": "cone", "centring": centring}
    assert judge(rule, (), outcome(rule, loose)).answer == answer


def test_a_tire_taken_over_from_the_found_fitment_is_judged_once():
    rule = catalog().rules["too_old"]
    same = {"tire_age": "700 weeks", "found_tire_age": "700 weeks"}
    assert judge(rule, (), outcome(rule, same)).answer == "clear"


@pytest.mark.parametrize("limit", [one for one in catalog().assumed.values()], ids=lambda one: one.name)
def test_an_assumed_value_can_be_read_and_has_a_ground(limit):
    read_value(limit.text, limit.kind)
    assert str(limit.ground) and limit.means
