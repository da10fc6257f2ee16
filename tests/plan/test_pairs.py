"""Two wheels side by side: sums by hand of the quarry flatbed, and trucks of which a clear would be false."""

import tomllib
from copy import deepcopy
from datetime import date
from pathlib import Path

import pytest
import tomli_w

from planner.plan.answers.figure_rows import figure_lines
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import work_out
from planner.plan.answers.why import why
from planner.plan.change.figure_changes import figure_spots
from planner.plan.drawings.wheel_section import wheel_section
from planner.project.faults import as_key
from planner.project.reading import understand
from planner.project.source import parse
from planner.sheets.kind import Asked, kind_named
from planner.sheets.printing import made
from planner.sheets.shop_section import shop_section
from planner.sheets.text import text
from planner.worksheet.outcome import Known

PROJECTS = Path(__file__).parents[2] / "projects"
QUARRY = tomllib.loads((PROJECTS / "quarry-flatbed.toml").read_text("utf-8"))
DAY = date(2026, 11, 25)
INCH = 0.0254
GONE = object()
HOOK = next(one for one in QUARRY["obstacles"] if one["name"].startswith("hook"))  # between the two tires


def truck(**entries: object):
    """The flatbed without its obstacles, with some entries set otherwise, their keys joined by __ in place of a dot."""
    data = deepcopy({key: value for key, value in QUARRY.items() if key not in ("obstacles", "readings", "tasks")})
    for key, value in entries.items():
        *way, last = key.split("__")
        holder = data
        for name in way:
            holder = holder.setdefault(name, {})
        if value is GONE:
            del holder[last]
        else:
            holder[last] = value
    return work_out(understand(parse(Path("truck.toml"), tomli_w.dumps(data).encode())), DAY)


def inches(opened, node: str, axle: str = "rear", fitment: str = "wide") -> float | None:
    value = opened.sheet.value(opened.spot(node, fitment=fitment, axle=axle))
    return None if value is None else value / INCH


def answers(opened, rule: str) -> dict[str, str]:
    """What a rule says, by axle."""
    return {place[1]: one.verdict.answer for one in flags(opened) if one.rule.name == rule for place in one.places}


def needs(opened, rule: str) -> set[str]:
    return {need for one in flags(opened) if one.rule.name == rule for need in one.needs}


def faults(opened) -> set[str]:
    return {as_key(one.key) for one in opened.opened.faults}


def test_the_two_wheels_of_a_pair_stand_where_a_drawing_puts_them():
    opened = truck()
    # Offset 5 3/8 to the face on the hub, discs of 7/16: −5.375 and 5.375 + 2 × 0.4375
    assert inches(opened, "inner_center_plane") == pytest.approx(-5.375)
    assert inches(opened, "outer_center_plane") == pytest.approx(6.25)
    assert inches(opened, "dual_spacing") == pytest.approx(11.625)
    # faces 66 apart, the middle of each pair a disc further out
    assert inches(opened, "track") == pytest.approx(66 + 2 * 0.4375)
    assert inches(opened, "bearing_arm") == pytest.approx(4.25 + 0.4375)
    # 10 in of section, grown by 1 % ± 1 %: 6.25 + 10.1 / 2 past the face; the bed's rail is 13 out
    assert inches(opened, "outboard_reach") == pytest.approx(11.3)
    assert inches(opened, "inboard_reach") == pytest.approx(5.375 + 5.05)
    assert inches(opened, "poke") == pytest.approx(11.3 - 13)
    assert inches(opened, "width_over_tires") == pytest.approx(66 + 2 * 11.3)


def test_in_front_the_same_wheel_stands_alone_and_lies_as_the_inner_one_does():
    opened = truck()
    assert inches(opened, "outboard_reach", "front") == pytest.approx(5.05 - 5.375)
    assert inches(opened, "track", "front") == pytest.approx(75.5 - 2 * 5.375)
    assert answers(opened, "wheel.spare_for_each_axle") == {"": "clear"}
    # by its own entry half an inch off: another kind of wheel
    other = truck(fitments__wide__front__wheel__offset="4 7/8 in")
    assert answers(other, "wheel.spare_for_each_axle") == {"": "raised"}


def test_load_is_shared_by_four_and_judged_by_the_dual_rating():
    opened = truck()
    per_tire, rated = (
        opened.sheet.value(opened.spot(n, fitment="wide", axle="rear")) for n in ("per_tire", "rated_load")
    )
    # As weighed with four wheels and tires of 88 + 78 lb; four of 74 + 81 lb are 44 lb lighter.
    assert per_tire == pytest.approx((5100 - 44) / 4 * 4.4482216)
    assert rated == pytest.approx(2300 * 9.80665)  # load index 137, behind the stroke
    front = opened.sheet.value(opened.spot("rated_load", fitment="wide", axle="front"))
    assert front == pytest.approx(2500 * 9.80665)  # 140
    bare = truck(fitments__wide__tire__designation="255/70R22.5 140M")  # no dual index on the sidewall
    assert answers(bare, "tire.carries_less_than_load") == {"front": "clear", "rear": "not known"}


def test_a_spare_for_a_pair_is_asked_for_what_it_carries_in_one():
    bare = truck(fitments__wide__spare__designation="255/70R22.5 140M")
    assert answers(bare, "tire.spare_carries_less") == {"front": "clear", "rear": "not known"}
    assert needs(bare, "tire.spare_carries_less") == {"fitments.wide.spare.load_capacity_dual"}


def test_a_spare_that_a_person_derates_carries_no_more_side_by_side_than_alone():
    # Laden the rear axle puts 11,800 / 4 = 2,950 lb on each of its tires.
    assert answers(truck(), "tire.spare_carries_less")["rear"] == "clear"
    derated = truck(fitments__wide__spare__load_capacity="2,600 lb")
    assert answers(derated, "tire.spare_carries_less")["rear"] == "raised"


def test_tires_that_were_seen_to_touch_at_the_road_are_not_clear():
    assert answers(truck(), "wheel.sidewalls_too_near")["rear"] == "clear"
    touching = truck(fitments__wide__rear__pair__sidewall_gap="0 in ± 1/32 in")
    assert answers(touching, "wheel.sidewalls_too_near")["rear"] == "raised"


@pytest.mark.parametrize("gap", ["4 in", "14 in"])
def test_a_gap_that_would_make_the_tires_narrower_at_the_road_than_their_section_clears_nothing(gap):
    # 10 in wide, on planes 11 5/8 in apart: at the most 1 5/8 in is between them
    opened = truck(fitments__wide__rear__pair__sidewall_gap=gap)
    assert answers(opened, "wheel.sidewalls_too_near")["rear"] == "not known"


def test_a_wheel_whose_face_lies_inboard_of_its_rim_is_none_that_runs_in_pairs():
    assert answers(truck(), "wheel.face_outside_rim")["rear"] == "clear"
    wrong = truck(fitments__wide__wheel__offset="-5 3/8 in ± 1/64 in")
    assert answers(wrong, "wheel.face_outside_rim")["rear"] == "raised"


def test_one_tire_more_to_the_side_bends_the_bearings_with_both():
    # both tires' load, 2550 lb as weighed, at 4.6875 in of arm, and 0.3 of it to the side at 17.25 in
    opened = truck()
    moment = opened.sheet.value(opened.spot("bearing_moment", fitment="wide", axle="rear"))
    assert moment == pytest.approx(2550 * 4.4482216 * (4.6875 + 0.3 * 17.25) * INCH)


@pytest.mark.parametrize("entry", ["disc_thickness", "offset_face"])
def test_without_what_places_its_wheels_nothing_that_rests_on_them_is_clear(entry):
    opened = truck(**{f"fitments__wide__wheel__{entry}": GONE})
    key = f"fitments.wide.wheel.{entry}"
    for rule in ("fit.poke_past_local_code", "fit.wider_than_legal", "wheel.spacing_below_makers",
                 "wheel.sidewalls_too_near", "steering.bearing_moment_grown"):  # fmt: skip
        assert answers(opened, rule)["rear"] == "not known", rule
        assert key in needs(opened, rule), rule
    assert answers(opened, "fit.poke_past_local_code")["front"] == "clear"  # it stands alone and needs neither
    assert inches(opened, "inner_center_plane") is None


def test_an_offset_to_the_face_between_the_discs_is_one_disc_more_for_the_same_wheel():
    own = {"offset": "5 3/8 in ± 1/64 in", "offset_face": "hub"}
    opened = truck(
        fitments__wide__wheel__offset="5 13/16 in ± 1/64 in",
        fitments__wide__wheel__offset_face="disc",
        fitments__wide__front__wheel=own,
    )
    assert not faults(opened)
    assert inches(opened, "inner_center_plane") == pytest.approx(-5.375)
    assert inches(opened, "outer_center_plane") == pytest.approx(6.25)
    assert inches(opened, "offset_to_hub", "front") == pytest.approx(5.375)


def test_taking_one_face_for_the_other_moves_the_spacing_by_two_discs_and_is_found_by_the_tape():
    sound = truck(plan__chosen=GONE, fitments__wide__rear__pair__spacing="11 5/8 in ± 1/8 in")
    assert answers(sound, "wheel.spacing_and_offset")["rear"] == "clear"
    wrong = truck(
        fitments__wide__rear__pair__spacing="11 5/8 in ± 1/8 in",
        fitments__wide__rear__wheel={"offset_face": "disc"},
    )
    assert answers(wrong, "wheel.spacing_and_offset") == {"rear": "raised"}


def test_a_wheel_that_stands_alone_has_no_face_between_discs():
    opened = truck(fitments__wide__wheel__offset_face="disc")
    assert faults(opened) == {"fitments.wide.wheel.offset_face"}
    assert answers(opened, "fit.poke_past_local_code") == {"front": "not known", "rear": "not known"}


@pytest.mark.parametrize("tires", [1, 3, 6, 8])
def test_other_numbers_of_tires_are_told_by_name_and_clear_nothing(tires):
    opened = truck(axles__rear__tires=tires)
    (fault,) = opened.opened.faults
    assert as_key(fault.key) == "axles.rear.tires"
    assert ("more than four" in fault.message) == (tires > 4)
    for rule in ("fit.poke_past_local_code", "tire.carries_less_than_load", "wheel.spacing_below_makers"):
        assert answers(opened, rule)["rear"] == "not known", rule


def test_what_speaks_of_a_pair_is_not_taken_for_a_wheel_that_stands_alone():
    opened = truck(axles__rear__tires=GONE)
    (flag,) = [one for one in flags(opened) if one.rule.name == "fit.poke_past_local_code" and "rear" in one.where]
    assert flag.verdict.answer == "not known" and flag.needs == ("axles.rear.tires",)
    assert all("." in key or key == "obstacles" for one in flags(opened) for key in one.needs)  # no name of ours
    assert not [one for one in flags(opened) if one.rule.name.startswith("steering.scrub") and "rear" in one.where]
    assert inches(opened, "track") is None
    # Of nothing said of pairs a wheel stands alone, as it always did.
    plain = truck(
        axles__front__tires=GONE, fitments__wide__wheel__offset_face=GONE,
        fitments__wide__rear__wheel={"offset_face": "hub"},
    )  # fmt: skip
    assert inches(plain, "track", "front") == pytest.approx(75.5 - 2 * 5.375)


@pytest.mark.parametrize("said", ["hub", GONE])
def test_a_deep_dish_lies_outside_of_no_rim_while_nobody_said_how_many_tires_a_pair_has(said):
    # 5 3/8 + (7 1/2 + 2 × 1/2) / 2 = 9 5/8 in of backspace on 8 1/2 in: alone it would lie outside by 1 1/8 in.
    face = {"fitments__wide__wheel__offset_face": said}  # without it only what holds the pair speaks of one
    opened = truck(axles__rear__tires=GONE, **face)
    assert answers(opened, "wheel.face_outside_rim") == {"front": "not known", "rear": "not known"}
    assert "axles.rear.tires" in needs(opened, "wheel.face_outside_rim")
    single = truck(axles__rear__tires=2, **face)
    assert answers(single, "wheel.face_outside_rim") == {"front": "raised", "rear": "raised"}
    assert answers(truck(**face), "wheel.face_outside_rim") == {"front": "clear", "rear": "clear"}


def test_a_window_that_ends_at_the_rim_or_does_not_is_not_known_before_the_tires_are_counted():
    text = (PROJECTS / "quarry-flatbed.toml").read_text("utf-8")
    assert text.count("tires = 4\n") == 1
    opened = work_out(understand(parse(Path("truck.toml"), text.replace("tires = 4\n", "").encode())), DAY)
    for rule in ("fit.no_backspace_fits", "fit.no_backspace_clears"):
        assert answers(opened, rule)["front"] == "not known"
        assert "axles.rear.tires" in needs(opened, rule)


def test_a_fitment_may_have_pairs_where_another_has_not():
    opened = truck(fitments__wide__rear__tires=2)
    assert inches(opened, "track") == pytest.approx(66 - 2 * 5.375)
    assert inches(opened, "track", fitment="found") == pytest.approx(66 + 2 * 0.375)
    assert not answers(opened, "wheel.spacing_below_makers")


def test_rims_that_are_clamped_to_a_spoked_hub_are_not_worked_out():
    opened = truck(fitments__wide__rear__pair__held_by="clamps", obstacles=[HOOK])
    assert answers(opened, "fit.poke_past_local_code")["rear"] == "not known"
    assert inches(opened, "outer_center_plane") is None
    told = {one.rule.name: one for one in flags(opened) if one.verdict.trouble}
    assert all("a pair held by clamps can't be worked out" in one.verdict.trouble for one in told.values())
    assert all("clamped to a spoked hub" in one.verdict.trouble for one in told.values())
    assert {"fit.no_backspace_clears", "wheel.thread_engagement_short"} <= told.keys()
    assert all("." in key or key == "obstacles" for one in flags(opened) for key in one.needs)  # no name of ours
    assert not [name for name in told if name.startswith("steering.scrub")]  # this axle doesn't steer


def test_what_the_sweep_cannot_do_is_no_answer_to_an_entry_that_is_missing_beside_it():
    opened = truck(
        axles__rear__suspension="independent", fitments__wide__wheel__load_rating=GONE, obstacles=[HOOK]
    )  # fmt: skip
    assert set(needs(opened, "wheel.rated_below_load")) == {"fitments.wide.wheel.load_rating"}
    (window,) = [one for one in flags(opened) if one.rule.name == "fit.no_backspace_clears" and "rear" in one.where]
    assert "independent" in window.verdict.trouble


def test_tires_nearer_than_their_maker_asks_are_a_stop_and_the_cure_says_which_offset():
    # 2 × (5.17 + 0.4375) = 11.215 in, where 11.3 is asked; 11.3 / 2 − 0.4375 = 5.2125
    near = truck(fitments__wide__wheel__offset="5.17 in ± 0.001 in")
    (flag,) = [one for one in flags(near) if one.rule.name == "wheel.spacing_below_makers"]
    assert flag.verdict.answer == "raised" and "5.21" in flag.cure
    far = truck(fitments__wide__wheel__offset="5.24 in ± 0.001 in", fitments__wide__wheel__disc_thickness="7/16 in")
    assert answers(far, "wheel.spacing_below_makers") == {"rear": "clear"}


def test_without_the_makers_table_common_practice_is_told_as_such():
    # 1.15 × 10 in = 11.5 in; 11.625 is apart, and of 11.4 it is a caution and no stop
    free = truck(fitments__wide__tire__least_dual_spacing=GONE)
    assert answers(free, "wheel.spacing_below_usual")["rear"] in ("clear", "too close to call")
    assert not answers(free, "wheel.spacing_below_makers")
    near = truck(fitments__wide__tire__least_dual_spacing=GONE, fitments__wide__wheel__offset="5 in ± 0.01 in")
    (flag,) = [one for one in flags(near) if one.rule.name == "wheel.spacing_below_usual"]
    assert (flag.verdict.answer, flag.rule.severity) == ("raised", "caution")
    assert "common practice" in str(flag.rule.ground)


def test_sidewalls_that_touch_at_the_road_are_a_stop_and_a_measured_gap_counts_before_the_estimate():
    near = truck(fitments__wide__wheel__offset="4 1/2 in ± 1/64 in")  # 9.875 apart, tires of 10 in and their bulge
    assert answers(near, "wheel.sidewalls_too_near") == {"rear": "raised"}
    measured = truck(
        fitments__wide__rear__pair__spacing="11 5/8 in ± 1/16 in",
        fitments__wide__rear__pair__sidewall_gap="1/4 in ± 1/16 in",
    )
    # 11.625 − 0.25 wide, and it may grow by 2 %: 0.0225 in is left at the worst nominal
    assert inches(measured, "sidewall_gap") < 0.25
    assert answers(measured, "wheel.sidewalls_too_near")["rear"] != "clear"


def test_two_tires_of_one_size_are_matched_by_the_table():
    # 36.7 in tall: 3/8 in at the most
    alike, other = (truck(fitments__wide__rear__pair__diameter_difference=d) for d in ("5/16 in ± 0.01 in", "1/2 in"))
    assert answers(alike, "wheel.pair_unmatched") == {"rear": "clear"}
    assert answers(other, "wheel.pair_unmatched") == {"rear": "raised"}
    assert answers(truck(), "wheel.pair_unmatched") == {"rear": "not known"}


def test_an_inner_valve_that_nobody_looked_at_is_not_known():
    assert answers(truck(), "wheel.inner_valve_out_of_reach") == {"rear": "not known"}
    cut = truck(fitments__wide__rear__pair__inner_valve_reached="no")
    assert answers(cut, "wheel.inner_valve_out_of_reach") == {"rear": "raised"}


def test_a_spacing_entered_for_both_axles_contradicts_nothing_at_the_one_with_single_wheels():
    entered = {"fitments__found__rear__pair": GONE, "fitments__found__pair": {"spacing": "10 3/4 in ± 1/8 in"}}
    assert not truck(**entered).at_odds


def test_a_pairs_offset_of_the_wrong_sign_contradicts_the_spacing_that_was_measured():
    """−5 3/8 in to the hub puts the outer wheel inboard of the inner one: 2 × −5.375 + 2 × 0.4375 = −9.875 in apart."""
    measured = {"held_by": "inner nuts", "inner_nut_torque": "280 ft·lb", "spacing": "11 5/8 in ± 1/8 in"}
    wrong = truck(fitments__wide__wheel__offset="-5 3/8 in ± 1/64 in", fitments__wide__rear__pair=measured)
    apart = wrong.as_read.value(wrong.spot("dual_spacing", fitment="wide", axle="rear"))
    assert apart / INCH == pytest.approx(-9.875)
    assert answers(wrong, "wheel.spacing_and_offset") == {"rear": "raised"}
    assert answers(wrong, "wheel.spacing_below_makers") == {"rear": "not known"}
    assert not truck(fitments__wide__rear__pair=measured).at_odds


def test_outer_nuts_clamp_by_the_thread_that_they_turn_on():
    """3/4-16 studs proved for 85 ksi hold 31.7 kip; 250 lbf·ft are 20 kip, or 13.3 on 1 1/8 in: 0.42."""
    weak = truck(axles__rear__studs__torque="250 ft·lb", axles__front__studs__torque="250 ft·lb")
    assert answers(weak, "wheel.studs_slack") == {"front": "clear", "rear": "too close to call"}
    both = {"fitments__wide__rear__pair": GONE, "fitments__wide__pair": {"held_by": "inner nuts"}}
    assert answers(truck(axles__front__studs__torque="250 ft·lb", **both), "wheel.studs_slack")["front"] == "clear"
    assert answers(truck(fitments__wide__rear__pair__held_by=GONE), "wheel.studs_slack")["rear"] == "not known"


def test_long_studs_go_through_both_discs():
    # 2 1/8 in of stud, less 1/8 in of seat: 2 in less one disc under an inner nut, less two on long studs
    inner, long = (truck(fitments__wide__rear__pair__held_by=held) for held in ("inner nuts", "long studs"))
    assert inches(inner, "engaged_length") == pytest.approx(2 - 0.4375)
    assert inches(long, "engaged_length") == pytest.approx(2 - 2 * 0.4375)
    short = truck(fitments__wide__rear__pair__held_by="long studs", axles__rear__studs__length="1 1/2 in ± 1/16 in")
    assert answers(short, "wheel.thread_engagement_short")["rear"] == "raised"
    nobody = truck(fitments__wide__rear__pair={})
    assert answers(nobody, "wheel.thread_engagement_short") == {"front": "clear", "rear": "not known"}


def test_two_wheels_for_one_are_twice_the_mass_that_no_spring_carries():
    # 4 × (74 + 81) for 2 × (78 + 88) lb: 1.87 times; four for four are lighter
    grown = truck(fitments__found__rear__tires=2)
    assert answers(grown, "wheel.unsprung_mass_grown")["rear"] == "raised"
    assert "4 of them for 2" in next(one.says for one in flags(grown) if one.rule.name == "wheel.unsprung_mass_grown")
    assert answers(truck(), "wheel.unsprung_mass_grown") == {"front": "clear", "rear": "clear"}
    # The scale read 5100 lb on two: 4 × 155 − 2 × 166 lb more stands on the road now.
    carried = grown.sheet.value(grown.spot("carried_load", fitment="wide", axle="rear"))
    assert carried == pytest.approx((5100 + 4 * 155 - 2 * 166) * 4.4482216)


def test_inner_nuts_are_held_to_what_the_studs_are_proved_for():
    # 3/4-16: 0.3724 in², proof 85,000 psi: 31,650 lb. 280 ft·lb dry: 3360 / (0.2 × 0.75) = 22,400 lb, 0.71 of it, and a
    # quarter more where friction is least; 450 ft·lb: 36,000 lb, 1.14 of it, and 0.91 at the kindest.
    assert answers(truck(), "wheel.inner_nuts_past_proof") == {"rear": "clear"}
    hard = truck(fitments__wide__rear__pair__inner_nut_torque="600 ft·lb")
    assert answers(hard, "wheel.inner_nuts_past_proof") == {"rear": "raised"}
    nobody = truck(fitments__wide__rear__pair__inner_nut_torque=GONE)
    assert needs(nobody, "wheel.inner_nuts_past_proof") == {"fitments.wide.pair.inner_nut_torque"}
    long = truck(fitments__wide__rear__pair={"held_by": "long studs"})
    assert answers(long, "wheel.inner_nuts_past_proof") == {"rear": "clear"}


def test_of_a_single_wheel_nothing_is_asked_told_or_shown_that_is_of_pairs():
    opened = truck(axles__rear__tires=2)
    names = {one.rule.name for one in flags(opened)}
    of_pairs = ("spacing_below_makers", "spacing_below_usual", "sidewalls_too_near", "pair_unmatched")
    assert not names & {f"wheel.{one}" for one in (*of_pairs, "inner_valve_out_of_reach", "spare_for_each_axle")}
    assert not [line.name for line in figure_lines(opened, ("wheel",)) if "plane" in line.name or "dual" in line.name]
    assert not [node for node, _ in figure_spots(opened, found=True) if node == "dual_spacing"]
    for node in ("offset_to_hub", "inner_center_plane", "outer_center_plane"):
        assert isinstance(opened.sheet.outcome(opened.spot(node, fitment="wide", axle="front")), Known)


def test_the_order_is_for_the_pair_names_the_face_and_draws_both_wheels():
    opened = truck()
    scene = shop_section(opened, "wide", "rear")
    # The rim's edges by hand: −5.375 ∓ 4.25; the outer one mirrored about the face between the discs, 7/16 out
    solid = [x for line in scene.lines if line.cut for x, _ in line.points]
    outer = [x for line in scene.lines if line.weight == "thin" and line.closed for x, _ in line.points]
    assert min(solid) / INCH == pytest.approx(-9.625)
    assert max(outer) / INCH == pytest.approx(2 * 0.4375 + 9.625)
    texts = [one.text for one in scene.dimensions]
    assert any(one.startswith("spacing of the pair 11.625 in") for one in texts)
    assert "measured to the face on the hub" in scene.words
    assert not any("spacing" in one.text for one in shop_section(opened, "wide", "front").dimensions)
    printed = " ".join(text(made(opened, kind_named("order"), Asked(), DAY, 1)).split())
    assert "two of these go side by side" in printed
    assert "this order is for duals" in printed


@pytest.mark.parametrize("draw", [shop_section, wheel_section])
def test_a_disc_out_of_its_rim_is_drawn_past_the_brake_and_what_is_written_stands_beside_it(draw):
    scene = draw(truck(), "wide", "front")
    # The rim ends at −5.375 + 4.25 = −1.125; the disc's inner face lies at 0 out to the brake's 8.75, 7/16 thick
    drawn = [line.points for line in scene.lines]
    assert any((0.0, pytest.approx(8.75 * INCH)) in points for points in drawn)
    tread = max(x for points in drawn for x, y in points if y > 11.25 * INCH)
    written = [one.at[0] for one in scene.labels if one.anchor == "left"]
    assert written and min(written) > 0.4375 * INCH and tread < 0


def test_no_pair_is_ordered_before_the_face_is_named():
    opened = truck(fitments__wide__wheel__offset_face=GONE)
    printed = "".join(text(made(opened, kind_named("order"), Asked(), DAY, 1)).split())
    assert "NOTFORORDER" in printed and "facethatthenexttwoareNOTKNOWN" in printed


def test_why_passes_over_what_a_single_wheel_only_passes_on():
    opened = truck()
    alone = why(opened, opened.spot("track", fitment="wide", axle="front"))
    assert [one.spot.node for one in alone.steps if one.depth == 1] == ["face_to_face", "offset"]
    pair = why(opened, opened.spot("track", fitment="wide", axle="rear"))
    assert {"middle_offset", "outer_center_plane", "disc_thickness"} <= {one.spot.node for one in pair.steps}
    read_by = {name for name, _ in why(opened, opened.spot("offset", fitment="wide", axle="front")).read_by}
    assert {"wheel.track", "wheel.outboard_reach", "steering.scrub_radius"} <= read_by
    assert not read_by & {"wheel.offset_to_hub", "wheel.spacing_below_makers"}
