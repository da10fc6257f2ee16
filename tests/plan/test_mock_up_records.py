"""Mock-up readings written down by key and by tick, with what they were taken by, and looked at again."""

import re

import pytest
from mocked_truck import TALL, TODAY, TWICE, Truck, answer, read
from work_truck import ticked

from planner.plan.answers.mock_up_words import by_mock_up, mock_up_lines
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.change.mock_up_recordings import reading_stands
from planner.plan.change.task_recordings import make_recording, no_reason_helps, reopen_task, tick_task
from planner.plan.revisit.stale_records import stale_records
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.task_list import work
from planner.tasks.kind import PHASES


@pytest.fixture
def truck(tmp_path):
    return Truck(tmp_path)


# Written down, and looked at again


def set_by(truck, opened, **entries):
    """The first reading set key by key, as by command or on the screens."""
    settings = [Setting(f"readings[0].{name}", value) for name, value in entries.items()]
    make(try_settings(opened, settings), "mocked up")
    return open_project(truck.path, TODAY)


TAKEN = {"of": "stone", "fitment": "found", "value": "40 mm ± 1 mm", "reached": "bump, droop, crossed"}


def test_a_reading_that_is_set_keeps_what_it_was_taken_by_in_the_diary(truck):
    opened = set_by(truck, truck(), **TAKEN)
    assert answer(opened) == "clear" and not stale_records(opened)
    assert opened.project.readings[0].rests and "rested_on" not in truck.path.read_text()


def test_what_a_person_set_is_told_without_what_is_kept_beside_it(truck):
    trial = try_settings(truck(), [Setting(f"readings[0].{name}", value) for name, value in TAKEN.items()])
    (moved,) = trial.moved
    assert [set(one) for one in moved.now] == [set(TAKEN)]
    assert [one.rule.name for one in trial.effects.cleared] == ["fit.tire_near"]


def test_a_reading_under_which_something_moved_wants_another_look_and_counts_after_it(truck):
    set_by(truck, truck(), **TAKEN)
    opened = truck.later(("500 mm ± 5 mm", "499 mm ± 5 mm"))
    (stale,) = stale_records(opened)
    assert (stale.record, stale.key) == ("reading", "readings[0]")
    assert stale.moved[
        0
    ].says == "rear stone's position was 0 mm exact, 0 mm exact, 500 mm ± 5 mm, now 0 mm exact, " + (
        "0 mm exact, 499 mm ± 5 mm"
    )
    make_recording(opened, reading_stands(opened, 0, "the tape was off by a millimeter, nothing was moved"))
    opened = open_project(truck.path, TODAY)
    assert not stale_records(opened) and answer(opened) == "clear"


def test_an_obstacle_entered_above_it_moves_nothing_under_a_reading(truck):
    set_by(truck, truck(), **TAKEN)
    opened = truck.later(("[[obstacles]]", '[[obstacles]]\nname = "step"\naxle = "rear"\n\n[[obstacles]]'))
    assert not stale_records(opened) and answer(opened) == "clear"


def test_a_remark_on_a_reading_is_no_new_reading(truck):
    """Would be false if a name written beside it took an old reading for one of the new wheel."""
    set_by(truck, truck(), **TAKEN)
    opened = truck.later(('overall_diameter = "800 mm exact"', 'overall_diameter = "802 mm exact"'))
    assert answer(set_by(truck, opened, by="owner")) == "too close to call"
    assert answer(set_by(truck, open_project(truck.path, TODAY), value="39.5 mm ± 1 mm")) == "clear"


def test_a_reading_is_told_with_what_was_predicted_and_what_it_says(truck):
    opened = truck(read("40 mm ± 1 mm", '["bump"]'))
    ((what, says),) = mock_up_lines(opened)
    assert what.startswith("found: stone: measured 40 mm ± 1 mm, predicted 39.6 mm")
    assert says.startswith("they agree (at most 41.0 mm") and says.endswith("the axle was not crossed both ways")
    spot = opened.spot("least_clearance", fitment="found", obstacle="stone")
    assert by_mock_up(opened, spot).startswith("mock-up, measured 40 mm ± 1 mm")


# By a tick


@pytest.fixture
def signed(truck):
    """A truck with its plan signed, and the wide candidate's wheel on for the mock-up."""
    truck(*(TWICE.format(by=by) for by in ("owner", "neighbor")), more=TALL, rested=False)
    listed = work(open_project(truck.path, TODAY))
    before = PHASES[: PHASES.index("mock up")]
    for id_ in [one.id for one in listed.items.values() if one.hold and one.phase in before]:
        ticked(truck.path, id_, because="looked at all of it", anyway=True)
    return truck


def clayed(truck, text):
    ticked(truck.path, "mock_up.clay.rear", text, because="in one afternoon", anyway=True)
    return open_project(truck.path, TODAY)


def test_a_tick_writes_each_gap_as_a_mock_up_reading_with_the_planned_wheel(signed):
    opened = clayed(signed, "stone, left, bump, crossed, droop: 40 mm ± 1 mm")
    *_, reading = opened.project.readings
    assert (reading.of, reading.fitment, reading.side, reading.value) == ("stone", "wide", "left", "40 mm ± 1 mm")
    assert sorted(reading.reached) == ["bump", "crossed", "droop"] and "Clay" in reading.how
    assert answer(opened) == "clear" and not [one for one in stale_records(opened) if one.record == "reading"]


def test_a_tick_without_what_was_gone_through_clears_nothing(signed):
    """Would be false of clay that was sliced before the axle was crossed."""
    assert answer(clayed(signed, "stone, left: 40 mm ± 1 mm")) == "too close to call"
    assert answer(clayed_again(signed, "stone, left, full cycle: 40 mm ± 1 mm")) == "clear"
    assert len(open_project(signed.path, TODAY).project.readings) == 3  # the same place by the same task, taken anew


def clayed_again(truck, text):
    opened = open_project(truck.path, TODAY)
    make_recording(opened, reopen_task(opened, work(opened), "mock_up.clay.rear", "once more"))
    return clayed(truck, text)


def test_a_tick_that_differs_from_the_sweep_says_so_and_the_mock_up_cannot_be_signed(signed):
    opened = open_project(signed.path, TODAY)
    listed = work(opened)
    said = tick_task(opened, listed, "mock_up.clay.rear", "stone, left: 20 mm ± 1 mm", because="x", anyway=True).says
    assert "stone, left: measured 20 mm ± 1 mm, predicted 39.6 mm" in said and "they differ" in said
    listed = work(clayed(signed, "stone, left: 20 mm ± 1 mm"))
    assert "the mock-up and the sweep don't agree" in no_reason_helps(listed, listed.items["mock_up.sign"])


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("stones, left: 40 mm", "'stones, left' is no obstacle at the rear axle; there are: stone"),
        ("stone, lefft: 40 mm", "read 'lefft' behind an obstacle's name; accepted: left, right, full cycle"),
        ("stone, left: 40", "read '40': it has no unit"),
    ],
)
def test_a_gap_that_cannot_be_read_is_not_ticked(signed, text, told):
    with pytest.raises(RefusedChange, match=re.escape(told)):
        clayed(signed, text)


def test_a_text_that_names_no_place_is_kept_and_held_against_nothing(signed):
    opened = open_project(signed.path, TODAY)
    said = tick_task(opened, work(opened), "mock_up.clay.rear", "an inch all around", because="x", anyway=True).says
    assert "it names no place, so nothing is checked against the sweep" in said
    assert not clayed(signed, "an inch all around").mock_ups
