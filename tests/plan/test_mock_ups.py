"""Mock-up readings against the sweep: what one proves, the trucks in which its clear would be false, what differs."""

import pytest
from mocked_truck import TALL, TRUCK, Truck, answer, least, read

from planner.plan.answers.flagging import flags
from planner.plan.answers.stages import judged_stages

BUMP = """
[[changes]]
name = "stops"
kind = "other"
state = "decided"
[changes.sets]
"axles.rear.travel.bump" = "60 mm exact"
"""


@pytest.fixture
def truck(tmp_path):
    return Truck(tmp_path)


def test_without_a_mock_up_it_is_too_close_to_call(truck):
    # 39.6 − 5 = 34.6 mm at the worst, 44.6 at the best; 38 wanted
    opened = truck()
    assert answer(opened) == "too close to call"
    assert answer(opened, "mock_up_differs") == "not asked"


def test_a_reading_of_all_that_the_wheel_goes_through_settles_it(truck):
    opened = truck(read("40 mm ± 1 mm"))
    assert answer(opened) == "clear" and answer(opened, "mock_up_differs") == "clear"
    found = least(opened)
    assert (found.low, found.value, found.high) == pytest.approx((0.039, 0.040, 0.041), abs=1e-6)
    assert opened.mock_ups[0].predicted.low == pytest.approx(0.0346, abs=6e-4)  # what was predicted stays to be seen


def test_a_reading_that_falls_short_raises_it(truck):
    assert answer(truck(read("36 mm ± 1 mm"))) == "raised"


@pytest.mark.parametrize(("value", "told"), [("39.1 mm ± 1 mm", "clear"), ("38.9 mm ± 1 mm", "too close to call")])
def test_a_reading_whose_tolerance_straddles_the_limit_settles_nothing(truck, value, told):
    opened = truck(read(value))
    assert answer(opened) == told
    close = (flag for flag in flags(opened) if flag.rule.name == "fit.tire_near" and flag.settles)
    assert all(flag.settles == ("readings[0].value, measured at the mock-up",) for flag in close)


# Trucks in which a clear by the reading would be false


@pytest.mark.parametrize("reached", ["[]", '["bump", "droop"]', '["droop", "crossed"]', '["bump", "crossed"]'])
def test_what_was_not_gone_through_is_not_cleared(truck, reached):
    """Would be false of a reading at ride height, or on a level axle: the stone comes nearer where nobody looked."""
    assert answer(truck(read("40 mm ± 1 mm", reached))) == "too close to call"


def test_a_reading_at_ride_height_of_all_the_room_there_says_nothing(truck):
    """100 mm at ride height are as they should be: neither does it contradict the 40 at full bump, nor clear them."""
    opened = truck(read("100 mm ± 1 mm", "[]"))
    assert answer(opened) == "too close to call" and answer(opened, "mock_up_differs") == "clear"


def test_a_reading_that_stopped_short_of_the_bump_stop_clears_nothing(truck):
    """Would be false of a jack that ended at 55 mm, whatever was ticked: the last 5 mm were not seen."""
    assert answer(truck(read("40 mm ± 1 mm", more='came_up = "55 mm ± 1 mm"'))) == "too close to call"
    assert answer(truck(read("40 mm ± 1 mm", more='came_up = "60 mm ± 1 mm"'))) == "clear"


def test_a_reading_past_the_stops_of_the_plan_raises_nothing(truck):
    """A wheel that came up 70 mm was nearer than it ever will be: 30 mm there do not raise what is clear at 60."""
    opened = truck(read("30 mm ± 1 mm", "[]", more='came_up = "70 mm ± 1 mm"'))
    assert answer(opened) == "too close to call" and answer(opened, "mock_up_differs") == "not asked"


@pytest.mark.parametrize(("value", "told"), [("35 mm ± 1 mm", "too close to call"), ("10 mm ± 1 mm", "not known")])
def test_less_room_than_the_plan_has_anywhere_is_never_passed_over_for_want_of_how_far_it_went(truck, value, told):
    """A change sets the bump, and nobody said how far the wheel came up: 34.6 mm at the worst, and it read 10."""
    opened = truck(read(value, fitment="wide"), more=TALL + BUMP)
    assert answer(opened) == told and (answer(opened, "mock_up_differs") == "raised") == (told == "not known")


def test_one_side_proves_nothing_of_the_other(truck):
    """Would be false of a body that sits nearer on the right."""
    left, right = (read("40 mm ± 1 mm", more=f'side = "{side}"') for side in ("left", "right"))
    assert answer(truck(left, side="both")) == "too close to call"
    assert answer(truck(left, right, side="both")) == "clear"


def test_a_reading_without_its_side_could_be_of_the_better_one(truck):
    assert answer(truck(read("40 mm ± 1 mm"), side="both")) == "too close to call"
    assert answer(truck(read("36 mm ± 1 mm"), side="both")) == "raised"  # one of the two is so near


def test_a_reading_at_another_candidates_wheel_clears_nothing(truck):
    """Would be false of a wheel that was built otherwise: only the one that was on was seen."""
    assert answer(truck(read("40 mm ± 1 mm", fitment="wide"), more=TALL)) == "clear"
    assert answer(truck(read("40 mm ± 1 mm", fitment="tall"), more=TALL)) == "too close to call"


def test_what_one_candidates_wheel_contradicts_is_known_for_no_candidate(truck):
    """Would be false of a stone that was measured wrong: it stands there whichever wheel goes on."""
    opened = truck(read("60 mm ± 1 mm", fitment="tall"), more=TALL, wants="20 mm")
    assert answer(opened) == "not known"


def test_a_reading_of_a_wheel_that_was_changed_since_is_of_another_wheel(truck):
    """Would be false of the wheels sent back and ordered anew with a taller tire."""
    assert answer(truck(read("40 mm ± 1 mm"))) == "clear"
    opened = truck.later(('overall_diameter = "800 mm exact"', 'overall_diameter = "802 mm exact"'))
    assert answer(opened) == "too close to call"
    assert opened.mock_ups[0].answer == "not known" and "overall diameter was 800 mm" in opened.mock_ups[0].why


def test_a_reading_proves_nothing_once_the_obstacle_stands_elsewhere(truck):
    """Would be false of a brake line that was moved nearer; the reading is looked at once before it counts again."""
    truck(read("40 mm ± 1 mm"))
    opened = truck.later(("500 mm ± 5 mm", "499 mm ± 5 mm"))
    assert answer(opened) == "too close to call" and opened.mock_ups[0].answer == "agrees" and opened.mock_ups[0].why


def test_a_reading_written_by_hand_proves_nothing_until_it_was_looked_at(truck):
    """Nobody knows which wheel it was taken with; what it contradicts is in doubt all the same."""
    assert answer(truck(read("40 mm ± 1 mm"), rested=False)) == "too close to call"
    assert answer(truck(read("60 mm ± 1 mm"), rested=False), "mock_up_differs") == "raised"


def test_the_tire_that_grows_takes_room_from_what_was_read(truck):
    """Would be false of a tire that is new on the stand: 2 % of the 394.4 mm over its rim is 3.9 mm of radius."""
    opened = truck(read("40 mm ± 1 mm"), wants="36 mm")
    assert answer(opened) == "clear"
    assert opened.mock_ups[0].off == ()
    opened = truck.later(('[assumptions.bias_growth]\nvalue = "0 %"', '[assumptions.bias_growth]\nvalue = "1 % ± 1 %"'))
    grown = (0.800 - 0.4056) * 0.02 / 2
    assert opened.mock_ups[0].least == pytest.approx(0.039 - grown, abs=2e-4) and not opened.mock_ups[0].why
    assert answer(opened) == "too close to call"  # 35.06 mm


def test_a_bump_stop_that_gives_takes_room_from_what_was_read(truck):
    """Would be false on the first pothole: 10 mm more than the jack brought it up.

    Both stops stand at the hubs, 1500 mm apart, and so does what ends the droop: at this side, 750 mm out, the axle
    comes by 10 × (1500 + 1500)/3000 = 10 mm nearer, and by 20 × 505/3000 = 3.37 mm across: 10.55 mm together.
    """
    truck(read("40 mm ± 1 mm"), wants="20 mm")
    gives = ('[assumptions.bump_gives]\nvalue = "0 mm"', '[assumptions.bump_gives]\nvalue = "5 mm ± 5 mm"')
    opened = truck.later(gives)
    assert opened.mock_ups[0].least == pytest.approx(0.039 - 0.01055, abs=1e-4)


# What differs


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("32.9 mm ± 1 mm", "raised"),
        ("33.7 mm ± 1 mm", "clear"),
        ("45.5 mm ± 1 mm", "clear"),
        ("48 mm ± 1 mm", "raised"),
    ],
)
def test_a_reading_that_no_truck_within_the_tolerances_could_have_differs(truck, value, told):
    # at the worst 34.6 mm, proven to half a millimeter; at the best 44.6, proven to two
    assert answer(truck(read(value)), "mock_up_differs") == told


def test_where_it_differs_the_clearance_is_not_known_and_nothing_that_rests_on_it(truck):
    opened = truck(read("30 mm ± 1 mm"), wants="20 mm")
    differs = next(flag for flag in flags(opened) if flag.rule.name == "fit.mock_up_differs")
    assert differs.verdict.answer == "raised" and "measured 30 mm ± 1 mm, predicted 39.6 mm" in differs.says
    assert "rests on most: rear stone's position" in differs.cure, differs.cure
    assert answer(opened) == answer(opened, "tire_touches") == "not known"
    near = next(flag for flag in flags(opened) if flag.rule.name == "fit.tire_near")
    assert near.wants == ("readings[0].value, measured at the mock-up (it contradicts rear stone's position)",)


def test_correcting_what_was_wrong_settles_it(truck):
    truck(read("30 mm ± 1 mm"), wants="20 mm")
    opened = truck.later(("500 mm ± 5 mm", "490 mm ± 5 mm"))
    assert answer(opened, "mock_up_differs") == "clear" and answer(opened) == "clear"


def test_two_readings_of_one_place_that_no_truck_has_are_both_in_question(truck):
    opened = truck(read("36 mm ± 1 mm"), read("43 mm ± 1 mm"), wants="20 mm")
    assert [one.answer for one in opened.mock_ups] == ["differs", "differs"] and answer(opened) == "not known"


# What follows from the clearance that was settled

STEERED = """
[axles.front]
face_to_face = "1500 mm exact"
[axles.front.travel]
bump = "0 mm exact"
droop = "0 mm exact"
[axles.front.kingpin]
inset = "0 mm exact"
inclination = "0 deg exact"
caster = "0 deg exact"
[axles.front.steering]
stop_angle = "21.5 deg exact"
stop_arm = "150 mm exact"
[[obstacles]]
name = "rail"
axle = "front"
side = "left"
kind = "brake"
moves_with = "axle"
at = ["-300 mm ± 3 mm", "-250 mm ± 3 mm", "0 mm exact"]
wants = "20 mm"
"""


def rail(value, reached='["lock"]', more=""):
    return read(value, reached, more=more).replace('"stone"', '"rail"')


def test_the_stop_and_the_backspace_are_not_in_question_where_the_wheel_was_seen_to_be_clear(truck):
    """At 21.5° the rail is 390.5 mm × sin(39.81° − 21.5°) − 100 mm = 22.7 mm off, give or take 4.2: 20 are wanted."""
    rules = ("tire_too_near", "locks_too_wide", "backspace_outside_window")
    opened = truck(more=STEERED, wants="20 mm")
    assert [answer(opened, one, "rear") for one in rules] == ["too close to call"] * 3
    opened = truck(rail("22.5 mm ± 0.5 mm"), more=STEERED, wants="20 mm")
    assert [answer(opened, one, "rear") for one in rules] == ["clear", "not asked", "not asked"]
    opened = truck(rail("22.5 mm ± 0.5 mm", "[]"), more=STEERED, wants="20 mm")
    assert [answer(opened, one, "rear") for one in rules] == ["too close to call"] * 3


# The promise: a truck as it may be, read at the mock-up, and then driven with its tire grown and its bump stop squeezed


@pytest.mark.parametrize("high", [495, 497, 500, 503, 505])
@pytest.mark.parametrize(("growth", "gives"), [(0, 0), (2, 0), (0, 10), (2, 10)])
def test_what_is_clear_by_a_reading_is_clear_on_every_truck_that_it_may_have_been_read_on(truck, high, growth, gives):
    def made(growth, gives, *readings, at="500 mm ± 5 mm", wants="30 mm"):
        truck(*readings, wants=wants)
        grown, given = (f'[assumptions.{name}]\nvalue = "0' for name in ("bias_growth", "bump_gives"))
        return truck.later(
            ("500 mm ± 5 mm", at),
            (grown, grown.removesuffix("0") + growth),
            (given, given.removesuffix("0") + gives),
        )

    on_stands = least(made("0", "0", at=f"{high} mm exact")).value
    on_the_road = least(made(f"{growth}", f"{gives}", at=f"{high} mm exact")).value
    for wants in (on_the_road - 0.004, on_the_road + 0.0005, on_stands - 0.0015):
        taken = read(f"{on_stands * 1000:.4f} mm ± 1 mm")
        opened = made("1 % ± 1", "5 mm ± 5", taken, wants=f"{wants * 1000:.4f} mm")
        assert opened.mock_ups[0].answer == "agrees", opened.mock_ups
        assert answer(opened) != ("clear" if wants > on_the_road + 1e-4 else "raised")


def test_a_reading_settles_a_stage_at_which_that_wheel_is_on_and_no_other(truck):
    tall = TRUCK[TRUCK.index("[fitments.found.tire]") :].replace("fitments.found", "fitments.tall")
    stage = '[plan]\nchosen = "tall"\n[[plan.stages]]\nname = "one"\n{} = "tall"\n'
    told = {}
    for end in (
        "rear",
        "front",
    ):  # the stone stands at the rear: where that has the found wheel, the reading is of none
        opened = truck(read("40 mm ± 1 mm", fitment="tall"), more=tall + stage.format(end))
        assert answer(opened) == "clear"
        (staged,) = judged_stages(opened, flags(opened))
        told[end] = answer(staged.truck)
    assert told == {"rear": "clear", "front": "too close to call"}
