"""The readings of an entry: which of them counts, what the entry is by them, and what contradicts them."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.project.faults import Faulty
from planner.project.planned_truck import planned_trucks
from planner.project.reading import raise_faults, read_project
from planner.project.which_counts import combined
from planner.quantities.quantity import Quantity

INCH = 0.0254
EDGE = "axles.front.fender.face_to_edge"
TRACK = "axles.front.face_to_face"


def opened(folder: Path, text: str):
    path = folder / "truck.toml"
    path.write_text("format = 2\n" + text, encoding="utf-8")
    return read_project(path)


def faults(folder: Path, text: str) -> str:
    with pytest.raises(Faulty) as faulty:
        raise_faults(opened(folder, text))
    return str(faulty.value)


def entry(value: str) -> str:
    return f'[axles.front.fender]\nface_to_edge = "{value}"\n'


def reading(value: str, side: str = "", of: str = EDGE) -> str:
    return f'[[readings]]\nof = "{of}"\nvalue = "{value}"\nby = "owner"\n' + (f'side = "{side}"\n' if side else "")


def counts(which: str, of: str = EDGE) -> str:
    return f'[which_counts]\n"{of}" = {which}\n'


def edge(folder: Path, text: str) -> Quantity | None:
    return opened(folder, text).project.axles.front.fender.face_to_edge


def inches(value: Quantity | None) -> tuple[float, float]:
    assert value is not None
    return pytest.approx((value.low / INCH, value.high / INCH), abs=1e-9)


def test_one_reading_is_the_entry_whether_it_is_written_or_left_out(tmp_path):
    only = edge(tmp_path, reading("6 1/2 in ± 1/8 in"))
    assert only is not None and only.text == "6 1/2 in ± 1/8 in"
    assert only == edge(tmp_path, entry("6 1/2 in ± 1/8 in"))
    assert only == edge(tmp_path, entry("6 1/2 in ± 1/8 in") + reading("6 1/2 in ± 1/8 in"))


def test_an_entry_that_states_no_tolerance_has_that_of_its_reading(tmp_path):
    assert inches(edge(tmp_path, entry("6 1/2 in") + reading("6 1/2 in ± 1/8 in"))) == (6.375, 6.625)


def test_an_entry_that_its_reading_contradicts_is_a_fault_that_names_both_with_their_lines(tmp_path):
    told = faults(tmp_path, entry("7 in ± 1/8 in") + reading("6 1/2 in ± 1/8 in"))
    assert f"truck.toml:3: {EDGE}" in told and "'7 in ± 1/8 in'" in told
    assert "readings[0].value" in told and "line 6" in told and "'6 1/2 in ± 1/8 in'" in told
    assert "6 1/2 in ± 1/8 in" in told.partition("accepted:")[2]


def test_another_tolerance_than_the_reading_states_is_another_result(tmp_path):
    assert "± 1/16 in" in faults(tmp_path, entry("6 1/2 in ± 1/16 in") + reading("6 1/2 in ± 1/8 in"))


TWICE = reading("6 1/2 in ± 1/8 in") + reading("6 3/8 in ± 1/8 in")


def test_the_number_of_a_reading_makes_the_entry_that_reading(tmp_path):
    assert inches(edge(tmp_path, TWICE + counts("2"))) == (6.25, 6.5)
    assert inches(edge(tmp_path, entry("6 3/8 in ± 1/8 in") + TWICE + counts("2"))) == (6.25, 6.5)
    assert "readings[1].value" in faults(tmp_path, entry("6 1/2 in ± 1/8 in") + TWICE + counts("2"))


def test_the_worse_reaches_from_the_lowest_end_of_any_reading_to_the_highest(tmp_path):
    # 6 1/2 reaches 6 3/8 to 6 5/8, 6 3/8 reaches 6 1/4 to 6 1/2
    assert inches(edge(tmp_path, TWICE + counts('"worse"'))) == (6.25, 6.625)


def test_the_middle_of_readings_that_agree_keeps_the_larger_tolerance(tmp_path):
    # (6.5 + 6.375)/2 = 6.4375; one tape and one pair of eyes read no better by reading twice
    assert inches(edge(tmp_path, TWICE + counts('"middle"'))) == (6.4375 - 0.125, 6.4375 + 0.125)


def test_the_middle_of_readings_that_differ_reaches_the_far_end_of_each(tmp_path):
    apart = reading("6 1/2 in ± 1/8 in") + reading("6 in ± 1/4 in")
    # mean 6.25; 6.5 + 0.125 is 0.375 away, 6 - 0.25 is 0.5 away
    assert inches(edge(tmp_path, apart + counts('"middle"'))) == (5.75, 6.75)


def test_without_a_word_on_which_counts_all_of_them_do(tmp_path):
    """Would be false with the first alone: a truck whose edge stands where only the second reading has it."""
    assert inches(edge(tmp_path, TWICE)) == (6.25, 6.625)
    assert inches(edge(tmp_path, entry("6 1/2 in ± 1/8 in") + TWICE)) == (6.25, 6.625)
    assert "7 in" in faults(tmp_path, entry("7 in") + TWICE)


def test_a_written_result_is_accepted_as_the_fault_spells_it(tmp_path):
    thirds = reading("6 1/2 in ± 1/8 in") + reading("6 3/8 in ± 1/8 in") + reading("6 1/2 in ± 1/16 in")
    told = faults(tmp_path, entry("7 in") + thirds + counts('"middle"'))
    spelled = told.partition("accepted: ")[2].partition(",")[0]
    assert edge(tmp_path, entry(spelled) + thirds + counts('"middle"')) is not None


SIDES = reading("6 1/2 in ± 1/8 in", "left") + reading("6 in ± 1/8 in", "right")


def test_sides_stand_apart_and_the_entry_is_the_span_over_both(tmp_path):
    read = opened(tmp_path, SIDES)
    assert inches(read.project.axles.front.fender.face_to_edge) == (5.875, 6.625)
    sides = read.counted["axles", "front", "fender", "face_to_edge"].sides
    assert {side: inches(value) for side, value in sides.items()} == {"left": (6.375, 6.625), "right": (5.875, 6.125)}


def test_the_middle_of_each_side_is_its_own(tmp_path):
    read = opened(tmp_path, SIDES + reading("6 7/16 in ± 1/8 in", "left") + counts('"middle"'))
    sides = read.counted["axles", "front", "fender", "face_to_edge"].sides
    assert inches(sides["left"]) == (6.46875 - 0.125, 6.46875 + 0.125)
    assert inches(sides["right"]) == (5.875, 6.125)


def test_a_number_picks_its_own_side_and_leaves_the_other_as_it_was_read(tmp_path):
    read = opened(tmp_path, SIDES + reading("6 1/4 in ± 1/8 in", "left") + counts("3"))
    sides = read.counted["axles", "front", "fender", "face_to_edge"].sides
    assert (inches(sides["left"]), inches(sides["right"])) == ((6.125, 6.375), (5.875, 6.125))


@pytest.mark.parametrize("more", ["", entry("6 1/2 in ± 1/8 in"), reading("6 1/2 in ± 1/8 in")])
def test_where_only_one_side_was_read_the_other_is_not_known(tmp_path, more):
    """Would be false if it were taken for equal: a truck whose right fender was bent in."""
    read = opened(tmp_path, more + reading("6 1/2 in ± 1/8 in", "left"))
    assert read.project.axles.front.fender.face_to_edge is None
    counted = read.counted["axles", "front", "fender", "face_to_edge"]
    assert list(counted.sides) == ["left"] and counted.unknown_sides == ("right",)


def test_an_obstacle_is_read_like_an_entry_each_way_of_its_own(tmp_path):
    lists = """[[obstacles]]
name = "rail"
axle = "front"
[[readings]]
of = "obstacles.rail.at"
value = ["2 in ± 1/8 in", "-7 in ± 1/8 in", "6 in ± 1/8 in"]
[[readings]]
of = "obstacles[0].at"
value = ["2 in ± 1/8 in", "-6 1/2 in ± 1/8 in", "6 in ± 1/8 in"]
"""
    at = opened(tmp_path, lists).project.obstacles[0].at
    assert at is not None
    assert [inches(one) for one in at] == [(1.875, 2.125), (-7.125, -6.375), (5.875, 6.125)]


def test_what_is_counted_and_not_measured_is_one_reading_or_a_fault(tmp_path):
    studs = "axles.front.studs.count"
    assert opened(tmp_path, reading("6", of=studs) + reading("6", of=studs)).project.axles.front.studs.count == 6
    told = faults(tmp_path, reading("6", of=studs) + reading("5", of=studs))
    assert "readings[0].value" in told and "readings[1].value" in told and "1 to 2" in told
    differing = reading("6", of=studs) + reading("5", of=studs)
    assert opened(tmp_path, differing + counts("1", studs)).project.axles.front.studs.count == 6
    assert "by its number" in faults(tmp_path, differing + counts('"middle"', studs))


def test_what_two_readings_make_impossible_together_with_another_entry_is_a_fault(tmp_path):
    tire = '[fitments.tall.tire]\ntread_width = "12 in"\n'
    assert "section" in faults(tmp_path, tire + reading("10 in", of="fitments.tall.tire.section_width"))


@pytest.mark.parametrize(
    ("text", "named"),
    [
        (reading("60 in", "left", TRACK), "no sides"),
        (reading("6 in", of="fitments.ghost.wheel.backspace"), "ghost"),
        (counts("1"), "no reading"),
        (reading("6 in") + counts("2"), "1 to 1"),
        (reading("6 in") + counts("0"), "1, 2 and so on"),
    ],
)
def test_bad_input_is_told_by_name(tmp_path, text, named):
    assert named in faults(tmp_path, text)


FENDER_EDGE = ("axles", "front", "fender", "face_to_edge")


@pytest.mark.parametrize(
    "text",
    [
        entry("7 in ± 1/8 in") + reading("6 1/2 in ± 1/8 in"),
        reading("6 1/2 in ± 1/8 in") + reading("six inches"),
        reading("6 1/2 in ± 1/8 in") + reading("6 in ± 1/8 in", "lefft"),
        TWICE + counts("3"),
        TWICE + counts('"best"'),
    ],
)
def test_an_entry_whose_readings_have_a_fault_is_not_known_by_what_is_left_of_them(tmp_path, text):
    """Would be false by the good reading alone: on a truck that is as the other one, which nobody can read, has it."""
    assert FENDER_EDGE in opened(tmp_path, text).not_known


def test_a_mock_up_is_no_reading_of_an_entry(tmp_path):
    mocked = f'[[obstacles]]\nname = "{EDGE}"\n' + reading("1 in") + 'fitment = "tall"\n'
    assert edge(tmp_path, "[fitments.tall]\n" + entry("6 1/2 in exact") + mocked) == Quantity(0.1651)


def test_readings_of_an_entry_are_not_mixed_with_what_was_measured_after_a_change(tmp_path):
    after = f"""[[changes]]
name = "trimmed"
state = "done"
[changes.measured]
"{EDGE}" = {{ value = "7 in ± 1/8 in", by = "owner" }}
"""
    assert inches(edge(tmp_path, reading("6 1/2 in ± 1/8 in") + after)) == (6.375, 6.625)


# The promise: whatever the truck is, if a reading holds within what it states, the entry holds with it.

some = st.lists(
    st.builds(Quantity, st.integers(1, 400).map(lambda n: n / 64), st.integers(0, 40).map(lambda n: n / 64)),
    min_size=1,
    max_size=5,
)


@given(some, st.data())
def test_all_readings_and_the_worse_hold_where_any_one_reading_does(values, data):
    right = data.draw(st.sampled_from(values))
    truth = data.draw(st.sampled_from([right.low, right.value, right.high]))
    taken = combined(values, "worse")
    assert taken.low - 1e-12 <= truth <= taken.high + 1e-12


@given(some)
def test_the_middle_holds_where_every_reading_does_and_holds_every_value_that_was_read(values):
    taken = combined(values, "middle")
    lowest, highest = max(one.low for one in values), min(one.high for one in values)
    held = [lowest, highest] if lowest <= highest else []  # where every reading holds
    apart = any(abs(a.value - b.value) > max(a.tolerance, b.tolerance) for a in values for b in values)
    held += [end for one in values for end in ([one.low, one.high] if apart else [one.value])]
    assert all(taken.low - 1e-12 <= truth <= taken.high + 1e-12 for truth in held)


@given(some, st.sampled_from(["middle", "worse"]))
def test_reading_the_same_again_moves_nothing_to_the_bit(values, which):
    first = values[0]
    assert combined([first] * 4, which) is first


def test_a_reading_that_states_no_tolerance_has_the_usual_one_of_its_entry(tmp_path):
    """Would be false if it were exact: 6 in by a tape, which reads to 1/8 in (common practice), may be 5 7/8 in."""
    assert inches(edge(tmp_path, reading("6 in"))) == (5.875, 6.125)
    assert inches(edge(tmp_path, reading("6 in") + reading("6 1/2 in"))) == (5.875, 6.625)
    assert inches(edge(tmp_path, entry("6 in ± 1/16 in") + reading("6 in"))) == (5.875, 6.125)


def test_what_was_measured_after_a_change_has_the_usual_tolerance_and_what_is_planned_is_exact(tmp_path):
    """Would be false if it were exact: the edge measured at 6 in with a tape may stand 5 7/8 in out."""
    change = f"""[fitments.tall]
[[changes]]
name = "trimmed"
state = "done"
[changes.sets]
"{EDGE}" = "6 in"
"""
    measured = f'[changes.measured]\n"{EDGE}" = {{ value = "6 in" }}\n'
    for text, ends in ((change, (6.0, 6.0)), (change + measured, (5.875, 6.125))):
        read = opened(tmp_path, entry("7 in ± 1/8 in") + text)
        truck = planned_trucks(read.project, read.not_known, {}, read.assumes)["tall"]
        assert inches(truck.project.axles.front.fender.face_to_edge) == ends
