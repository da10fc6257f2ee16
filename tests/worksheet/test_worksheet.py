"""The machinery, with toy declarations: adding content to the planner breaks nothing here."""

import ast
from typing import NamedTuple

import pytest

from planner.quantities.grammar import read_value
from planner.quantities.kinds import LENGTH, RATIO, Change, Length, Position, Ratio, Ratios
from planner.sources.citing import COMMON_PRACTICE
from planner.sources.reasoning import GEOMETRY
from planner.worksheet.catalog import Catalog, Edge, Fact, WiringFault, make
from planner.worksheet.declare import Assumed, Impossible, figure, rule
from planner.worksheet.explain import explain, shown
from planner.worksheet.layout import lay_out
from planner.worksheet.outcome import Barred, Failed, Known, Share, Spot, Waiting
from planner.worksheet.sheet import Worksheet
from planner.worksheet.verdict import judge

AXES = {"truck": ("old", "new"), "end": ("front", "back")}
CALLS: list[str] = []


def fact(name, *scopes, kind=LENGTH):
    return Fact(name, kind, name, "", "", tuple(map(frozenset, scopes)) or (frozenset(),), (name,))


@figure(means="area's side", ground=GEOMETRY)
def doubled(side: Length) -> Length:
    CALLS.append("doubled")
    return side + side


@figure(means="against the old one", ground=GEOMETRY)
def growth(old_doubled: Length, doubled: Length) -> Ratio:
    CALLS.append("growth")
    return doubled / old_doubled


@figure(means="all ends", ground=GEOMETRY, form="the largest of all")
def largest(each_doubled: Ratios) -> Length:
    return max(each_doubled)


@figure(means="left part", ground=GEOMETRY)
def left(right: Length, whole: Length) -> Length:
    return whole - right


@figure(means="right part", ground=GEOMETRY)
def right(left: Length, whole: Length) -> Length:
    return whole - left


@figure(means="root", ground=GEOMETRY, form="never below nothing")
def picky(side: Length) -> Length:
    if side > 5:
        raise Impossible("side", f"{side:g} m", "accepted: at most 5 m")
    return side


@figure(means="after picky", ground=GEOMETRY)
def after_picky(picky: Length) -> Length:
    return picky + 1.0


class Halves(NamedTuple):
    first: Length
    second: Length


@figure(means="halves", ground=GEOMETRY, publishes={"second_half": "second"}, form="halves")
def halves(whole: Length) -> Halves:
    return Halves(whole / 4, 3 * whole / 4)


@figure(means="with a choice", ground=GEOMETRY, form="side plus extra")
def extended(side: Length, extra: Length | None = None) -> Length:
    return side + (extra or 0.0)


@figure(means="as made", ground=GEOMETRY)
def as_made(side: Length, over: Ratio) -> Length:
    return side * over


@figure(means="one end against the other", ground=GEOMETRY)
def ends_apart(front_as_made: Length, as_made: Length) -> Ratio:
    return front_as_made / as_made


@figure(means="against the old one as made", ground=GEOMETRY)
def made_larger(old_as_made: Length, as_made: Length) -> Ratio:
    return as_made / old_as_made


@rule(
    severity="stop",
    notices="too small",
    says="{side}",
    clear_says="",
    cure="",
    ground=COMMON_PRACTICE,
    holds={},
    fails={},
)
def too_small(side: Length, least: Length) -> Position:
    return side - least


def catalog(*more_facts) -> Catalog:
    facts = [
        fact("side", {"truck"}, {"truck", "end"}),
        fact("whole"),
        fact("left"),
        fact("right"),
        fact("extra"),
        *more_facts,
    ]
    named = (doubled, growth, largest, left, right, picky, after_picky, halves, extended, too_small)
    named = (*named, as_made, ends_apart, made_larger)
    over = Assumed("1 ± 0.1", RATIO, "over", COMMON_PRACTICE, limit=False, node="over", name="toy.over", of="side")
    least = Assumed("1 m", LENGTH, "least", COMMON_PRACTICE, limit=True, node="least", name="toy.least")
    prefixes = {"old_": ("truck", "old"), "front_": ("end", "front")}
    return make(facts, [one.declared for one in named] + [least, over], prefixes)


def sheet(**entries):
    given = {}
    for name, written in entries.items():
        node, *place = name.split("__")
        place = [*place, "", ""][:2]
        given[Spot(node, tuple(place))] = read_value(written, LENGTH)
    return Worksheet(lay_out(catalog(), AXES), given)


def value(sheet, node, *place):
    return sheet.value(Spot(node, (*place, "", "")[:2]))


def test_a_figure_stands_at_every_place_of_what_it_reads():
    assert {spot.place for spot in sheet().spots("doubled")} == {(t, e) for t in AXES["truck"] for e in AXES["end"]}
    assert [spot.place for spot in sheet().spots("right")] == [("", "")]


def test_the_most_particular_entry_comes_first():
    ours = sheet(side__old="1 m", side__new="2 m", side__new__back="3 m")
    assert value(ours, "doubled", "new", "front") == 4.0
    assert value(ours, "doubled", "new", "back") == 6.0


def test_a_prefix_pins_the_place():
    ours = sheet(side__old="1 m", side__new="2 m", side__new__back="3 m")
    assert value(ours, "growth", "new", "back") == 3.0
    assert value(ours, "growth", "old", "back") == 1.0


def test_each_gathers_the_innermost_axis():
    ours = sheet(side__old="1 m", side__new="2 m", side__new__back="3 m")
    assert value(ours, "largest", "new") == 6.0


def test_what_is_missing_is_waiting_with_its_root_never_zero():
    ours = sheet(side__old="1 m")
    outcome = ours.outcome(Spot("growth", ("new", "front")))
    assert outcome == Waiting((Spot("side", ("new", "front")),))


def test_two_formulas_that_give_each_other_wait_for_either():
    outcome = sheet(whole="3 m").outcome(Spot("left", ("", "")))
    assert isinstance(outcome, Waiting)
    assert {spot.node for spot in outcome.either} == {"left", "right"}
    assert value(sheet(whole="3 m", left="1 m"), "right") == 2.0
    assert value(sheet(whole="3 m", right="1 m"), "left") == 2.0


def test_an_entry_outranks_its_formula():
    ours = sheet(whole="3 m", left="1 m", right="1.5 m")
    assert (value(ours, "left"), value(ours, "right")) == (1.0, 1.5)


def test_an_impossible_value_fails_what_rests_on_it_and_nothing_else():
    ours = sheet(side__old="9 m", side__new="1 m")
    assert isinstance(ours.outcome(Spot("after_picky", ("old", "front"))), Failed)
    assert value(ours, "after_picky", "new", "front") == 2.0
    assert value(ours, "doubled", "old", "front") == 18.0


def test_a_part_of_a_result_is_a_node():
    assert value(sheet(whole="4 m"), "second_half") == 3.0


def test_an_optional_input_may_be_missing():
    assert value(sheet(side__old="1 m"), "extended", "old", "front") == 1.0
    assert value(sheet(side__old="1 m", extra="2 m"), "extended", "old", "front") == 3.0


def test_nothing_is_worked_out_twice():
    CALLS.clear()
    sheet(side__old="1 m", side__new="2 m")
    assert CALLS.count("doubled") == 4 and CALLS.count("growth") == 4


def test_an_edit_works_out_only_what_it_reaches():
    ours = sheet(side__old="1 m", side__new="2 m", side__new__back="3 m")
    CALLS.clear()
    change = ours.change({Spot("side", ("new", "back")): read_value("4 m", LENGTH)})
    assert CALLS == ["doubled", "growth"]
    assert value(ours, "growth", "new", "back") == 4.0
    assert {moved.spot.node for moved in change.moved} >= {"side", "doubled", "growth", "largest"}


def test_an_edit_stops_where_a_result_comes_out_equal():
    ours = sheet(side__old="1 m", side__new="2 m", side__new__back="3 m")
    change = ours.change({Spot("side", ("new", "")): read_value("2.5 m", LENGTH)})
    assert Spot("largest", ("new", "")) in change.settled
    assert value(ours, "largest", "new") == 6.0


def test_an_entry_taken_away_leaves_a_wait_and_coming_back_mends_it():
    ours = sheet(whole="3 m", left="1 m")
    ours.change({Spot("left", ("", "")): None})
    assert isinstance(ours.outcome(Spot("right", ("", ""))), Waiting)
    ours.change({Spot("right", ("", "")): read_value("1 m", LENGTH)})
    assert value(ours, "left") == 2.0


def test_what_was_asked_for_while_it_waited_is_there_once_its_entry_is():
    ours = sheet()
    spot = Spot("doubled", ("old", "front"))
    assert isinstance(ours.outcome(spot), Waiting)
    ours.change({Spot("side", ("old", "")): read_value("1 m", LENGTH)})
    assert ours.outcome(spot).value == 2.0


def test_working_everything_out_again_changes_nothing():
    ours = sheet(side__old="1 m", side__new="2 m", side__new__back="9 m", whole="3 m", left="1 m")
    before = {spot: (ours.value(spot), type(ours.outcome(spot))) for spot in ours.layout.index}
    ours.rework()
    assert before == {spot: (ours.value(spot), type(ours.outcome(spot))) for spot in ours.layout.index}


def test_a_tolerance_reaches_the_figure_and_one_entry_behind_two_inputs_counts_once():
    ours = sheet(side__old="1 m ± 0.1 m", side__new="2 m ± 0.2 m")
    doubled_there = ours.outcome(Spot("doubled", ("old", "front")))
    assert (doubled_there.low, doubled_there.high) == pytest.approx((1.8, 2.2))
    itself = ours.outcome(Spot("growth", ("old", "front")))
    assert (itself.low, itself.high) == (1.0, 1.0)  # the same entry above and below cancels
    there = ours.outcome(Spot("growth", ("new", "front")))
    assert there.low <= 1.8 / 1.1 and there.high == pytest.approx(2.2 / 0.9)  # both entries at their worst
    assert there.likely == pytest.approx((0.2**2 + (2 / 0.9 - 2) ** 2) ** 0.5)
    assert sum(share.part for share in there.shares) == pytest.approx(1.0)


def test_a_formula_that_fails_within_a_tolerance_leaves_the_bound_open():
    outcome = sheet(side__old="4.9 m ± 0.2 m").outcome(Spot("picky", ("old", "front")))
    assert isinstance(outcome, Known) and outcome.high == float("inf") and outcome.low == -float("inf")


@pytest.mark.parametrize(
    ("side", "answer"),
    [
        ("1.5 m ± 0.4 m", "clear"),
        ("0.5 m ± 0.4 m", "raised"),
        ("1.1 m ± 0.4 m", "too close to call"),
        ("1 m", "clear"),
        ("0.99999999999 m", "raised"),  # a hundred-millionth of a millimeter is more than float arithmetic leaves over
    ],
)
def test_a_rule_has_four_answers(side, answer):
    ours = sheet(side__old=side)
    spot = Spot("too_small", ("old", "front"))
    verdict = judge(too_small.declared, spot.place, ours.outcome(spot))
    assert verdict.answer == answer
    missing = Spot("too_small", ("new", "front"))
    assert judge(too_small.declared, missing.place, ours.outcome(missing)).answer == "not known"


def test_a_close_call_says_what_to_measure_and_how_well():
    ours = sheet(side__old="1.1 m ± 0.4 m")
    spot = Spot("too_small", ("old", "front"))
    (settles,) = judge(too_small.declared, spot.place, ours.outcome(spot)).settles
    assert settles.alone and settles.spot == Spot("side", ("old", "")) and settles.factor == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("margin", "halves", "settling"),
    [
        # half of the first's 0.4 takes 0.2 off the spread of 0.5: what is left is the margin
        (0.3, (0.4, 0.1), [("a", 0.5, True)]),
        (-0.3, (0.4, 0.1), [("a", 0.5, True)]),
        # two taken exactly leave 0.05 of the 0.1, so 1/12 of their 0.6; of all three 0.1 / 0.65 may be kept
        (0.1, (0.3, 0.3, 0.05), [("a", 2 / 13, False), ("b", 2 / 13, False), ("c", 2 / 13, False)]),
    ],
)
def test_of_several_readings_the_one_that_settles_it_easily_is_named_or_else_all_that_have_to_be_better(
    margin, halves, settling
):
    spread = sum(halves)
    shares = tuple(Share(Spot(name, ()), half, 0.0) for name, half in zip("abc", halves, strict=False))
    close = Known(margin, margin - spread, margin + spread, shares=shares)
    settles = judge(too_small.declared, (), close).settles
    assert [(one.spot.node, one.alone) for one in settles] == [(name, alone) for name, _, alone in settling]
    assert [one.factor for one in settles] == pytest.approx([factor for _, factor, _ in settling])


def test_another_name_of_a_node_reads_that_node_behind_a_prefix_too():
    ours = make([fact("side")], [doubled.declared], {"old_": ("truck", "old")}, {"edge_length": "side"})
    assert ours.edge("edge_length") == Edge("side")
    assert ours.edge("each_old_edge_length") == Edge("side", ("truck", "old"), each=True)


def test_what_is_impossible_is_told_with_what_was_written():
    fault = Impossible("width", "{width}", "more than {height}")
    written = {"width": ("door", "3 ft"), "height": ("sill", "4 ft")}
    assert fault.told(written.get) == "door: 3 ft is impossible; more than sill, 4 ft"
    assert str(fault) == "width: width is impossible; more than height"


def test_the_wiring_check_names_what_does_not_fit():
    @figure(means="", ground=GEOMETRY)
    def lost(nowhere: Length) -> Length:
        return nowhere

    @figure(means="", ground=GEOMETRY)
    def muddled(side: Ratio) -> Change:
        return side

    with pytest.raises(WiringFault, match="nowhere"):
        make([fact("side")], [lost.declared], {})
    with pytest.raises(WiringFault, match="side is a length"):
        make([fact("side")], [muddled.declared], {})
    with pytest.raises(WiringFault, match="two declarations"):
        make([fact("side")], [doubled.declared, doubled.declared], {})


def test_why_goes_down_to_the_entries():
    ours = sheet(side__old="1 m ± 0.1 m", side__new="2 m")
    reason = explain(ours, Spot("growth", ("new", "back")))
    assert reason.how == "worked out"
    below = reason.rests_on[0]
    assert below.spot == Spot("doubled", ("old", "back"))
    assert below.rests_on[0].how == "entered" and below.rests_on[0].entered_at == Spot("side", ("old", ""))


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("a * (b - c)", "a × (b − c)"),
        ("a - (b - c) + d", "a − (b − c) + d"),
        ("a * b / (c * d) - e", "a × b / (c × d) − e"),
        ("(a + b) ** 2", "(a + b) ^ 2"),
    ],
)
def test_a_formula_told_keeps_the_brackets_that_it_needs_and_no_others(written, said):
    assert shown(ast.parse(written, mode="eval").body) == said


def test_a_ratio_kind_is_read_with_a_tolerance():
    assert read_value("0.2 ± 0.05", RATIO).tolerance == pytest.approx(0.05)


@figure(means="with a rim, or as if it had none", ground=GEOMETRY)
def rimmed(side: Length, rim: Length = 0.0) -> Length:
    return side + rim


def test_what_is_barred_has_no_default_no_assumed_value_no_other_way_and_no_entry_of_a_wider_place():
    facts = [fact("side", {"end"}, ()), fact("rim"), fact("left"), fact("whole"), fact("right")]
    made = make(facts, [doubled.declared, rimmed.declared, left.declared, right.declared], {})
    front, here = Spot("side", ("", "front")), ("", "")
    entries = {Spot("side", here): 2.0, front: Barred(front), Spot("rim", here): Barred(Spot("rim", here))}
    sheet = Worksheet(lay_out(made, AXES), entries)
    assert sheet.outcome(Spot("doubled", ("", "front"))) == Waiting((front,), (), (front,))
    assert sheet.value(Spot("doubled", ("", "back"))) == 4.0  # 2 + 2: it does not rest on the front's
    rim = Spot("rim", here)
    assert sheet.outcome(Spot("rimmed", ("", "back"))) == Waiting((rim,), (), (rim,))  # nor is it 2 + 0
    assert sheet.outcome(Spot("rimmed", ("", "front"))) == Waiting((front, rim), (), (front, rim))
    assert sheet.given(rim) is None
    left_, whole, right_ = (Spot(name, here) for name in ("left", "whole", "right"))
    sheet.change({left_: Barred(left_), whole: 5.0, right_: 2.0})
    assert sheet.outcome(left_) == Waiting((left_,), (), (left_,))  # though 5 - 2 is 3
    sheet.change({left_: None, rim: 1.0})
    assert (sheet.value(left_), sheet.value(Spot("rimmed", ("", "back")))) == (3.0, 3.0)


def test_an_assumed_value_does_not_stand_where_another_was_set_and_is_barred():
    assumed = Assumed("3 m", LENGTH, "a rim", COMMON_PRACTICE, limit=False, node="rim", name="toy.rim")
    made = make([fact("side")], [assumed, rimmed.declared], {})
    here = ("", "")
    sheet = Worksheet(lay_out(made, AXES), {Spot("side", here): 1.0})
    assert sheet.value(Spot("rimmed", here)) == 4.0  # 1 + 3
    rim = Spot("rim", here)
    sheet.change({rim: Barred(rim)})
    assert sheet.outcome(Spot("rimmed", here)) == Waiting((rim,), (), (rim,))


def test_what_is_assumed_of_a_thing_is_one_amount_for_all_places_that_share_it_and_another_for_each_other_thing():
    for given in ({}, {Spot("over", ("", "")): read_value("1 ± 0.1", RATIO)}):  # assumed, or set by the person
        ours = sheet(side__new="2 m", side__old="2 m")
        ours.change(given)
        # Front and back share one entry, so that what it is off by falls out; old and new are two.
        assert ours.outcome(Spot("ends_apart", ("new", "back"))) == Known(1.0, 1.0, 1.0)
        apart = ours.outcome(Spot("made_larger", ("new", "back")))
        assert apart.low <= 0.9 / 1.1 and apart.high == pytest.approx(1.1 / 0.9)
        assert {share.spot.place for share in apart.shares} <= {("old", "front"), ("new", "front"), ("", "")}
        assert len(apart.shares) == 2


def test_two_ends_with_an_entry_each_are_off_each_by_itself():
    ours = sheet(side__new__front="2 m", side__new__back="2 m")
    apart = ours.outcome(Spot("ends_apart", ("new", "back")))
    assert apart.low <= 0.9 / 1.1 and apart.high == pytest.approx(1.1 / 0.9)


def test_another_amount_for_what_is_assumed_of_a_thing_counts_at_every_place():
    ours = sheet(side__new="2 m")
    ours.change({Spot("over", ("", "")): read_value("1.5", RATIO)})
    assert value(ours, "as_made", "new", "front") == value(ours, "as_made", "new", "back") == 3.0
    ours.change({Spot("over", ("", "")): None})
    assert value(ours, "as_made", "new", "front") == 2.0
