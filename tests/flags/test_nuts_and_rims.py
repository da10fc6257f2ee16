"""Trucks of which a clear about nuts, tubes, rims and valves would be false, each told by the rule that must see it."""

import random
from datetime import date

import pytest
from trust.promise import Promised, broken_by

from planner.flags.wheel.threads import mates, starts_on_it
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.project.reading import understand
from planner.project.source import parse
from planner.quantities.threads import read_thread

TODAY = date(2026, 11, 28)
# Studs 9/16-18, 34 mm out of the face; a disc of 10 mm and seats of 4 mm: the studs reach 20 mm into the nuts.
TRUCK = {
    "vehicle": {"units": "metric"},
    "axles.front.studs": {"diameter": "9/16 in", "threads_per_inch": 18, "length": "34 mm ± 0.5 mm"},
    "axles.front.nuts": {"thread": "9/16-18", "closed": "no", "depth": "18 mm ± 0.5 mm"},
    "axles.front.brake": {"radius": "170 mm ± 1 mm"},
    "fitments.found.tire": {"designation": "7.50-16", "tube": "tube"},
    "fitments.found.wheel": {"pieces": "one", "rim_diameter": 16},
    "fitments.new.tire": {"designation": "7.50R16", "tube": "tubeless"},
    "fitments.new.wheel": {
        "pieces": "one",
        "tubeless": "yes",
        "radial_allowed": "yes",
        "rim_diameter": 16,
        "rim_width": "6 in",
        "disc_thickness": "10 mm",
        "seat_height": "4 mm",
        "valve_side": "outboard",
    },
}
GONE = object()
INCH = 0.0254
# Inside minor diameters of nuts in inches, from a UNF table in general circulation.
UNF = {"1/2": (0.5, 20, 0.4459), "9/16": (0.5625, 18, 0.5024), "5/8": (0.625, 18, 0.5649), "3/4": (0.75, 16, 0.6823)}


def written(**entries: object) -> str:
    """The truck's file, with entries set otherwise; their keys are joined by __ in place of a dot."""
    tables = {name: dict(table) for name, table in TRUCK.items()}
    for key, value in entries.items():
        table, _, entry = key.replace("__", ".").rpartition(".")
        tables.setdefault(table, {})[entry] = value
    lines = ["format = 2"]
    for name, table in tables.items():
        kept = {entry: value for entry, value in table.items() if value is not GONE}
        lines += [f"[{name}]", *(f"{entry} = {_toml(value)}" for entry, value in kept.items())]
    return "\n".join(lines) + "\n"


@pytest.fixture
def told(tmp_path):
    """What each rule answers at the candidate's front, with its words, for the truck with entries set otherwise."""

    def tell(**entries: object) -> dict[str, tuple[str, str]]:
        path = tmp_path / "truck.toml"
        path.write_text(written(**entries), encoding="utf-8")
        found = {}
        for flag in flags(open_project(path, TODAY), worded=True):
            for place in flag.places:
                if place[1] in ("front", ""):
                    found[flag.rule.name] = (flag.verdict.answer, flag.says)
        return found

    return tell


def _toml(value: object) -> str:
    return str(value) if isinstance(value, int) else f'"{value}"'


def test_a_truck_whose_nuts_rims_and_valves_are_right_is_clear(told):
    answers = told()
    for rule in ("wheel.nut_thread_differs", "wheel.closed_nut_bottoms", "wheel.nut_thread_short",
                 "wheel.thread_engagement_short", "wheel.tube_of_another_size", "wheel.tube_not_for_radials",
                 "wheel.flap_missing_or_another_rims", "wheel.radial_on_bias_rim", "wheel.planned_multi_piece_rims",
                 "wheel.multi_piece_rims", "brakes.valve_near_brake"):  # fmt: skip
        assert answers[rule][0] == "clear" and answers[rule][1], rule


@pytest.mark.parametrize("gone", ["thread", "closed", "depth"])
def test_what_nobody_looked_at_of_the_nuts_is_not_clear(told, gone):
    rule = {"thread": "nut_thread_differs", "closed": "closed_nut_bottoms", "depth": "nut_thread_short"}[gone]
    assert told(**{f"axles__front__nuts__{gone}": GONE})[f"wheel.{rule}"][0] == "not known"


def test_a_metric_nut_that_starts_on_an_inch_stud_is_a_stop_that_says_so(told):
    answer, says = told(axles__front__nuts__thread="14 × 1.5")["wheel.nut_thread_differs"]
    assert answer == "raised" and "still starts on them" in says and "the studs are 9/16-18" in says


def test_a_nut_of_the_right_size_and_another_pitch_is_a_stop(told):
    answer, says = told(axles__front__nuts__thread="9/16-12")["wheel.nut_thread_differs"]
    assert answer == "raised" and "starts" not in says  # 12 to the inch and 18 are half as much again apart


@pytest.mark.parametrize(("left", "answer"), [("left", "clear"), ("right", "raised"), (GONE, "not known")])
def test_nuts_marked_left_hand_belong_on_an_axle_that_has_such_studs(told, left, answer):
    hands = {"axles__front__nuts__hand_left": left, "axles__front__nuts__hand_right": "right"}
    assert told(axles__front__nuts__thread="9/16-18 LH", **hands)["wheel.nut_thread_differs"][0] == answer


def test_studs_without_a_pitch_have_no_thread_to_compare(told):
    assert told(axles__front__studs__threads_per_inch=GONE)["wheel.nut_thread_differs"][0] == "not known"


@pytest.mark.parametrize(
    ("length", "depth", "answer"),
    [
        # the studs reach 14 mm less into the nuts than they are long; 1/16 in, 1.5875 mm, must be left behind them
        ("34 mm", "18 mm", "raised"),  # 18 − 20 = −2
        ("32 mm", "19.6 mm", "too close to call"),  # 19.6 − 18 − 1.5875 = 0.01, and the two are read to 0.3
        ("30 mm", "18 mm", "clear"),  # 18 − 16 − 1.5875 = 0.41, more than 0.3
    ],
)
def test_a_closed_nut_must_leave_the_studs_end_room(told, length, depth, answer):
    entries = {"axles__front__nuts__closed": "yes", "axles__front__studs__length": f"{length} ± 0.2 mm",
               "axles__front__nuts__depth": f"{depth} ± 0.1 mm"}  # fmt: skip
    assert told(**entries)["wheel.closed_nut_bottoms"][0] == answer


def test_thin_nuts_on_long_studs_hold_too_little(told):
    answers = told(axles__front__nuts__depth="12 mm ± 0.5 mm")  # of 14.3 mm
    assert answers["wheel.thread_engagement_short"][0] == "clear"  # the studs are long enough
    assert answers["wheel.nut_thread_short"][0] == "raised"


def test_turns_that_were_counted_short_are_a_stop_whatever_the_rule_says(told):
    assert "wheel.counted_thread_short" not in told()
    answers = told(axles__front__nuts__engaged_length="12 mm ± 0.5 mm")
    assert answers["wheel.counted_thread_short"][0] == "raised"


@pytest.mark.parametrize(
    ("rear", "answer"),
    [
        ({"diameter": "14 mm", "pitch": "1.5 mm"}, "raised"),
        ({"diameter": "9/16 in", "threads_per_inch": 18}, "clear"),
        ({"diameter": "5/8 in", "threads_per_inch": 18}, "clear"),
        ({"diameter": "18 mm", "pitch": "1.5 mm"}, "clear"),
        ({"diameter": "14 mm"}, "not known"),
    ],
)
def test_threads_that_nearly_interchange_front_to_rear_are_a_caution(told, rear, answer):
    found = told(**{f"axles__rear__studs__{entry}": value for entry, value in rear.items()})
    assert found["wheel.threads_nearly_interchange"][0] == answer


def test_another_thread_on_the_right_side_is_a_stop(told):
    assert "wheel.threads_differ_left_and_right" not in told()
    found = told(axles__front__studs__right_thread="M14x1.5")["wheel.threads_differ_left_and_right"]
    assert found[0] == "raised" and "starts on the other" in found[1]
    assert told(axles__front__studs__right_thread="9/16-18 RH")["wheel.threads_differ_left_and_right"][0] == "clear"


@pytest.mark.parametrize(
    ("wheel", "answer"),
    [
        ({"radial_allowed": GONE}, "not known"),  # an old tubeless rim in one piece was made for bias tires as well
        ({"radial_allowed": GONE, "tubeless": "no"}, "raised"),
        ({"radial_allowed": GONE, "pieces": "multi"}, "raised"),
        ({"radial_allowed": "no"}, "raised"),
        ({"tubeless": "no", "pieces": "multi"}, "clear"),  # its maker allows it
    ],
)
def test_radials_on_rims_for_bias_tires_are_a_stop_unless_the_maker_allows_it(told, wheel, answer):
    tube = "tube" if wheel.get("tubeless") == "no" else "tubeless"
    on_it = {f"fitments__new__wheel__{entry}": value for entry, value in wheel.items()}
    assert told(fitments__new__tire__tube=tube, **on_it)["wheel.radial_on_bias_rim"][0] == answer


def test_bias_tires_ask_no_rim_about_radials(told):
    found = told(fitments__new__tire__designation="7.50-16", fitments__new__wheel__radial_allowed="no")
    assert found["wheel.radial_on_bias_rim"][0] == "clear"


@pytest.mark.parametrize(
    ("tube", "size", "radial"),
    [
        ({}, "not known", "not known"),
        ({"tube_size": "7.00/7.50R16"}, "clear", "clear"),
        ({"tube_size": "7.50-16"}, "clear", "not known"),
        ({"tube_size": "7.50-16", "tube_radial": "yes"}, "clear", "clear"),
        ({"tube_size": "7.50R16", "tube_radial": "no"}, "clear", "raised"),
        ({"tube_size": "6.50/7.00R16"}, "raised", "clear"),
        ({"tube_size": "7.50R15"}, "raised", "clear"),
    ],
)
def test_a_tube_is_of_the_tires_size_and_for_radials_in_one(told, tube, size, radial):
    entries = {"tube": "tube", **tube}
    on_it = {f"fitments__new__tire__{entry}": value for entry, value in entries.items()}
    found = told(fitments__new__wheel__tubeless="no", **on_it)
    assert (found["wheel.tube_of_another_size"][0], found["wheel.tube_not_for_radials"][0]) == (size, radial)


def test_a_tube_in_a_tubeless_tire_is_a_caution(told):
    assert "wheel.tube_in_tubeless_tire" not in told()
    assert told(fitments__new__tire__tube_size="7.50R16")["wheel.tube_in_tubeless_tire"][0] == "raised"


@pytest.mark.parametrize(
    ("pieces", "flap", "answer"),
    [
        ("multi", GONE, "not known"),
        ("multi", "none", "raised"),
        ("multi", "16x6.00", "clear"),
        ("multi", "16x8.00", "raised"),  # for a rim two inches wider
        ("multi", "20 x 7.50", "raised"),
        ("multi", "7.50-16", "clear"),
        ("multi", "9.00-16", "raised"),
        ("one", GONE, "clear"),
        ("one", "20x7.5", "raised"),
    ],
)
def test_a_tube_on_a_rim_in_pieces_has_the_rims_flap(told, pieces, flap, answer):
    rim = {"fitments__new__wheel__pieces": pieces, "fitments__new__wheel__tubeless": "no"}
    found = told(fitments__new__tire__tube="tube", fitments__new__tire__flap=flap, **rim)
    assert found["wheel.flap_missing_or_another_rims"][0] == answer


@pytest.mark.parametrize(
    ("asked", "contour", "answer"),
    [("J, JJ", "jj", "clear"), ("J or JK", "K", "raised"), ("J", GONE, "not known"), (GONE, "J", "")],
)
def test_the_rims_contour_is_one_of_those_that_the_tires_maker_asks_for(told, asked, contour, answer):
    found = told(fitments__new__tire__contour=asked, fitments__new__wheel__contour=contour)
    assert found.get("wheel.rim_contour_differs", ("",))[0] == answer


@pytest.mark.parametrize(
    ("slope", "pieces", "answer"),
    [("5 deg", "one", "clear"), ("15 deg", "one", "raised"), ("0 deg", "one", "raised"), ("0 deg", "multi", "clear"),
     ("15 deg", "multi", "raised")],
)  # fmt: skip
def test_beads_sit_on_seats_of_their_own_slope(told, slope, pieces, answer):
    found = told(fitments__new__wheel__bead_seat_angle=slope, fitments__new__wheel__pieces=pieces)
    assert found["wheel.bead_seats_slope_otherwise"][0] == answer


@pytest.mark.parametrize(
    ("valve", "answer"),
    [
        ({"valve_side": GONE}, "not known"),
        ({"valve_side": "inboard"}, "not known"),
        # the brake reaches 171 mm at the most and wants 3: a valve of 20 from 195 keeps 175 at the worst
        ({"valve_side": "inboard", "valve_radius": "195 mm", "valve_reach": "20 mm"}, "clear"),
        # of 25 it may come to 170 where it points at the hub, and keeps 195 where it lies along the axle
        ({"valve_side": "inboard", "valve_radius": "195 mm", "valve_reach": "25 mm"}, "too close to call"),
        ({"valve_side": "inboard", "valve_radius": "171 mm", "valve_reach": "20 mm"}, "raised"),
    ],
)
def test_a_valve_on_the_brakes_side_keeps_clear_of_it_through_the_whole_turn(told, valve, answer):
    found = told(**{f"fitments__new__wheel__{entry}": value for entry, value in valve.items()})
    assert found["brakes.valve_near_brake"][0] == answer


@pytest.mark.parametrize(
    ("found", "new", "spare", "kept", "planned"),
    [
        ("one", "one", {}, "clear", "clear"),
        ("one", "multi", {}, "clear", "raised"),
        ("multi", "multi", {}, "raised", "raised"),
        ("one", GONE, {}, "clear", "not known"),
        ("one", "one", {"designation": "7.50R16"}, "clear", "not known"),
        ("one", "one", {"designation": "7.50R16", "pieces": "one"}, "clear", "clear"),
        ("one", "one", {"pieces": "multi"}, "clear", "raised"),
    ],
)
def test_rims_that_come_apart_are_told_found_or_planned_kept_new_or_spare(told, found, new, spare, kept, planned):
    spares = {f"fitments__new__spare__{entry}": value for entry, value in spare.items()}
    answers = told(fitments__found__wheel__pieces=found, fitments__new__wheel__pieces=new, **spares)
    assert (answers["wheel.multi_piece_rims"][0], answers["wheel.planned_multi_piece_rims"][0]) == (kept, planned)


@pytest.mark.parametrize(("pieces", "answer"), [("multi", "raised"), ("one", "clear"), (GONE, "not known")])
def test_the_spare_that_was_found_is_one_of_the_rims_found(told, pieces, answer):
    spare = {"fitments__found__spare__designation": "7.50-16", "fitments__found__spare__pieces": pieces}
    assert told(**spare)["wheel.multi_piece_rims"][0] == answer


@pytest.mark.parametrize("size", UNF)
def test_a_nut_catches_on_what_is_thicker_than_its_minor_diameter(size):
    major, per_inch, minor = UNF[size]
    pitch = INCH / per_inch
    for off in (0.0005, -0.0005):  # in, more than the table rounds
        stud = (minor + off) * INCH
        assert (starts_on_it(major * INCH, pitch, stud, pitch) > 0) == (off > 0)
        assert (starts_on_it(stud, pitch, major * INCH, pitch) > 0) == (off > 0)


@pytest.mark.parametrize(
    ("one", "other"),
    [("9/16-18", "M14 x 1.5"), ("1/2-20", "M12 x 1.25"), ("5/8-18", "M16 x 1.5"), ("1/2-20", "M12 x 1.5"),
     ("M12 x 1.25", "M12 x 1.5"), ("3/4-16", "M20 x 1.5")],
)  # fmt: skip
def test_the_pairs_that_the_trade_warns_of_nearly_interchange_and_are_not_the_same(one, other):
    (a, p, _), (b, q, _) = read_thread(one), read_thread(other)
    assert starts_on_it(a, p, b, q) > 0 and starts_on_it(b, q, a, p) > 0 and mates(a, p, b, q) < 0


@pytest.mark.parametrize(
    ("one", "other"),
    [("9/16-18", "5/8-18"), ("1/2-20", "9/16-18"), ("M14 x 1.5", "M16 x 1.5"), ("M14 x 1.5", "M14 x 2"),
     ("5/8-18", "3/4-16")],
)  # fmt: skip
def test_neighboring_sizes_neither_match_nor_catch(one, other):
    (a, p, _), (b, q, _) = read_thread(one), read_thread(other)
    assert starts_on_it(a, p, b, q) < 0 and mates(a, p, b, q) < 0


FOUND = {
    "fitments__found__wheel__disc_thickness": "6 mm ± 0.2 mm",
    "fitments__found__wheel__seat_height": "2 mm ± 0.2 mm",
}


@pytest.mark.parametrize(
    ("closed", "depth", "found", "planned"),
    [
        # the studs reach 34 - 6 - 2 = 26 mm into the nuts on the wheels found, and 20 mm on the new ones; 1.6 is wanted
        ("yes", "25 mm", "raised", "clear"),
        ("yes", "30 mm", "clear", "clear"),
        ("no", "25 mm", "clear", "clear"),
        (GONE, "25 mm", "not known", "not known"),
    ],
)
def test_nuts_that_bottom_on_the_wheels_found_are_told_though_the_new_ones_cure_it(told, closed, depth, found, planned):
    nuts = {"axles__front__nuts__closed": closed, "axles__front__nuts__depth": f"{depth} ± 0.2 mm"}
    answers = told(**FOUND, **nuts)
    assert answers["wheel.found_closed_nut_bottoms"][0] == found
    assert answers["wheel.closed_nut_bottoms"][0] == planned


def test_of_wheels_that_nobody_measured_no_nut_is_said_to_bottom(told):
    assert "wheel.found_closed_nut_bottoms" not in told()


@pytest.mark.parametrize(
    ("wheel", "nut", "answer"),
    [
        ("14 mm", "14 mm", "clear"),
        ("14 mm", "12 mm", "raised"),
        (GONE, "14 mm", "not known"),
        ("14 mm", GONE, "not known"),
    ],
)
def test_ball_seats_are_of_one_radius(told, wheel, nut, answer):
    seats = {"fitments__new__wheel__seat": "ball", "axles__front__nuts__seat": "ball"}
    radii = {"fitments__new__wheel__seat_ball_radius": wheel, "axles__front__nuts__ball_radius": nut}
    assert told(**seats, **radii)["wheel.ball_radius_differs"][0] == answer


def test_other_seats_have_no_radius_to_compare(told):
    seats = {"fitments__new__wheel__seat": "cone", "axles__front__nuts__seat": "cone"}
    assert told(**seats)["wheel.ball_radius_differs"][0] == "clear"


def test_a_tube_on_a_tubeless_rim_is_a_note_and_no_contradiction(told):
    answers = told(fitments__new__tire__tube="tube")
    assert answers["wheel.tube_on_tubeless_rim"][0] == "raised"
    assert answers["tire.tube_and_rim_mismatched"][0] == "clear"
    assert told()["wheel.tube_on_tubeless_rim"][0] == "clear"
    answers = told(fitments__new__wheel__tubeless="no")
    assert answers["tire.tube_and_rim_mismatched"][0] == "raised"


@pytest.mark.parametrize(
    ("rear", "answer"),
    [
        ({"diameter": "1/2 in", "threads_per_inch": 20}, "raised"),
        ({"diameter": "9/16 in", "threads_per_inch": 18}, "clear"),
        ({"diameter": "14 mm", "pitch": "1.5 mm"}, "clear"),  # the caution for those that nearly match tells it
    ],
)
def test_other_threads_behind_than_in_front_are_told_once(told, rear, answer):
    found = told(**{f"axles__rear__studs__{entry}": value for entry, value in rear.items()})
    assert found["wheel.threads_differ_front_to_rear"][0] == answer


# Each entry with a wide tolerance about a place where an answer turns.
DOUBTFUL = {
    "axles__front__studs__diameter": "14.1 mm ± 0.3 mm",
    "axles__front__studs__length": "34 mm ± 3 mm",
    "axles__front__nuts__closed": "yes",
    "axles__front__nuts__depth": "22 mm ± 3 mm",
    "axles__front__nuts__engaged_length": "14 mm ± 1 mm",
    "axles__rear__studs__diameter": "12.8 mm ± 0.8 mm",
    "axles__rear__studs__threads_per_inch": 18,
    "fitments__new__tire__tube": "tube",
    "fitments__new__tire__flap": "16x6.50",
    "fitments__new__wheel__pieces": "multi",
    "fitments__new__wheel__rim_width": "6 in ± 1/4 in",
    "fitments__new__wheel__bead_seat_angle": "7 deg ± 1 deg",
    "fitments__new__wheel__valve_side": "inboard",
    "fitments__new__wheel__valve_radius": "185 mm ± 12 mm",
    "fitments__new__wheel__valve_reach": "20 mm ± 5 mm",
    "fitments__new__wheel__seat": "ball",
    "axles__front__nuts__seat": "ball",
    "fitments__new__wheel__seat_ball_radius": "14 mm ± 0.4 mm",
    "axles__front__nuts__ball_radius": "13.7 mm ± 0.4 mm",
    **FOUND,
}


def test_no_truck_within_the_tolerances_is_told_otherwise_of_its_nuts_rims_and_valve(tmp_path):
    path = tmp_path / "truck.toml"
    promised = Promised("nuts and rims", understand(parse(path, written(**DOUBTFUL).encode())))
    assert not promised.opened.faults
    close = {spot.node for spot, answer in promised.judged.answers.items() if answer == "too close to call"}
    assert {"nut_thread_differs", "closed_nut_bottoms", "threads_nearly_interchange", "valve_near_brake",
            "flap_missing_or_another_rims", "ball_radius_differs", "counted_thread_short"} <= close  # fmt: skip
    assert [f"{one.spot}: {one.told}" for one in broken_by(promised, 60, random.Random(14))] == []
