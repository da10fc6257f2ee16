"""`planner diary` as a person calls it, and the diary that comes with the first project."""

import json
from pathlib import Path

import pytest
from calling import call
from work_truck import replace, ticked, written

from planner.project.diary_reading import diary_path, read_diary, text_at
from planner.project.source import digest_of

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"


@pytest.fixture
def truck(tmp_path):
    """A truck with a diary of three entries: begun, signed, chocked."""
    path = written(tmp_path)
    ticked(path, "safe.local_code", because="signed: read it")
    ticked(path, "safe.chock")
    return path


def test_entries_stand_newest_first_with_their_reasons(capsys, truck):
    code, out, err = call(capsys, "diary", truck)
    assert code == 0 and not err
    assert out.index("tick safe.chock") < out.index("tick safe.local_code: signed: read it") < out.index("began")
    assert max(map(len, out.splitlines())) <= 80


def test_one_entry_is_shown_whole_and_as_data(capsys, truck):
    _, out, _ = call(capsys, "diary", truck, "show", 2)
    assert out.startswith("2  ") and "signed: read it" in out
    _, out, _ = call(capsys, "diary", truck, "show", 2, "--json")
    assert json.loads(out)["details"]["task"] == "safe.local_code"


def test_undo_and_redo_give_the_same_bytes_back(capsys, truck):
    after = truck.read_bytes()
    code, out, _ = call(capsys, "diary", truck, "undo", "--because", "too soon")
    assert code == 0 and "undo, entry 3: too soon" in out and truck.read_bytes() != after
    assert call(capsys, "diary", truck, "redo")[0] == 0
    assert truck.read_bytes() == after


def test_nothing_to_undo_is_one_line(capsys, tmp_path):
    code, out, err = call(capsys, "diary", written(tmp_path), "undo")
    assert code == 2 and not out and err.count("\n") == 1 and "nothing to undo" in err


def test_an_earlier_state_is_seen_compared_and_brought_back(capsys, truck):
    first = text_at(read_diary(truck), 1)
    _, out, _ = call(capsys, "diary", truck, "at", 1, "--text")
    assert out == first
    _, out, _ = call(capsys, "diary", truck, "at", 1)
    assert "tasks: nothing" in out and "bring-back" in out
    _, out, _ = call(capsys, "diary", truck, "compare", 1, 2)
    assert "safe.local_code" in out and "safe.chock" not in out
    _, out, _ = call(capsys, "diary", truck, "compare", 2, 2)
    assert "Nothing is different" in out
    code, out, _ = call(capsys, "diary", truck, "bring-back", 1, "--because", "all again")
    assert code == 0 and "restore, entry 1: all again" in out
    assert truck.read_text(encoding="utf-8") == first


@pytest.mark.parametrize(
    "given", [["show", 9], ["at", 9], ["bring-back", 9], ["compare", 1, 9], ["show", "x"], ["und"]]
)
def test_what_is_asked_wrongly_is_one_line(capsys, truck, given):
    before = truck.read_bytes(), diary_path(truck).read_bytes()
    code, out, err = call(capsys, "diary", truck, *given)
    assert code == 2 and not out and err.count("\n") == 1
    assert (truck.read_bytes(), diary_path(truck).read_bytes()) == before


def test_an_edit_by_hand_is_told_and_written_down(capsys, truck):
    replace(truck, "hours_a_week = 7", "hours_a_week = 10")
    _, out, _ = call(capsys, "diary", truck)
    assert "edited since the last entry" in out
    code, out, _ = call(capsys, "diary", truck, "catch-up")
    assert code == 0 and "hand edit" in out and "hours a week: 7 → 10" in out
    _, out, _ = call(capsys, "diary", truck, "catch-up")
    assert "Nothing has happened" in out


def test_an_edit_by_hand_is_written_down_before_the_next_tick(truck):
    replace(truck, "hours_a_week = 7", "hours_a_week = 10")
    ticked(truck, "safe.stands.front", "5,000 lb")
    assert [entry.kind for entry in read_diary(truck).entries][-2:] == ["hand edit", "tick"]


def test_without_a_diary_it_says_when_one_begins(capsys, tmp_path):
    code, out, err = call(capsys, "diary", written(tmp_path))
    assert code == 0 and not err and "no diary yet" in out


def test_a_torn_last_line_is_one_line_on_the_side_and_never_fatal(capsys, truck):
    path = diary_path(truck)
    whole = path.read_bytes()
    path.write_bytes(whole + whole.splitlines(keepends=True)[-1][:40])
    code, out, err = call(capsys, "diary", truck)
    assert code == 0 and "tick safe.chock" in out
    assert err.count("\n") == 1 and "never finished" in err
    code, out, err = call(capsys, "task", truck, "tick", "safe.stands.front", "5,000 lb")
    assert code == 0 and "set aside" in err
    assert read_diary(truck).troubles == []


def test_a_damaged_entry_is_one_line_and_the_others_are_told(capsys, truck):
    path = diary_path(truck)
    rows = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(rows[0] + rows[1].replace(b"signed", b"signet") + rows[2])
    code, out, err = call(capsys, "diary", truck)
    assert code == 0 and "began" in out and "tick safe.chock" in out
    assert err.count("\n") == 1 and "entry 2 cannot be read" in err


# the diary of the first project


def test_the_county_trucks_diary_is_whole_and_ends_with_the_file_as_it_is():
    diary = read_diary(COUNTY)
    assert diary.troubles == [] and not diary.torn and not diary.unended
    assert diary.entries[-1].after == digest_of(COUNTY.read_bytes())
    for before, entry in zip(diary.entries, diary.entries[1:], strict=False):
        assert entry.previous == before.sum and entry.before == before.after
    assert text_at(diary, diary.entries[-1].number).encode() == COUNTY.read_bytes()


def test_the_county_trucks_diary_tells_of_wheels_that_came_different_and_what_that_reopened():
    entries = read_diary(COUNTY).entries
    came = next(entry for entry in entries if "came different" in entry.because)
    assert [(one.key, one.was, one.now) for one in came.moved] == [
        (("fitments", "tall", "wheel", "backspace"), "5 in ± 1/16 in", "4 3/4 in ± 1/32 in")
    ]
    assert {"decisions[1]", "acceptances[0]", "acceptances[1]"} <= set(came.details["look_again"])
    assert "plan.ordered_part_rests_on_changed" in came.details["raised"]
    after = [entry for entry in entries if entry.number > came.number]
    decision = next(entry for entry in after if entry.kind == "decision")
    assert ("5 in", "4 3/4 in, as they came") in [(one.was, one.now) for one in decision.moved]
    again = {entry.details.get("task") for entry in after if entry.kind == "tick"}
    assert {"decide.wheel", "decide.sign", "order.drawing", "order.wheels"} <= again


def test_times_in_the_county_trucks_diary_go_forward():
    times = [entry.at for entry in read_diary(COUNTY).entries]
    assert times == sorted(times)


OBSTACLE = '\n[[obstacles]]\nname = "{name}"\naxle = "front"\nmoves_with = "body"\nat = ["1 in", "2 in", "{up}"]\n'


def test_an_obstacle_is_told_by_its_name_where_something_of_it_moved(capsys, tmp_path):
    path = written(tmp_path, OBSTACLE.format(name="rail", up="3 in") + OBSTACLE.format(name="spring pack", up="4 in"))
    call(capsys, "change", path, "obstacles[1].wants=1 in", "--because", "tight", "--apply")
    replace(path, '"4 in"', '"5 in"')
    call(capsys, "diary", path, "catch-up")
    _, out, _ = call(capsys, "diary", path)
    assert 'obstacles."spring pack".wants: nothing → 1 in' in out
    assert 'obstacles."spring pack".at[2]: 4 in → 5 in' in out
    assert "obstacles[1]" not in out
    _, out, _ = call(capsys, "diary", path, "compare", 1, 3)
    assert 'obstacles."spring pack".at[2]: 4 in → 5 in' in out


def test_an_obstacle_keeps_its_number_where_its_name_would_be_a_guess(capsys, tmp_path):
    path = written(tmp_path, OBSTACLE.format(name="rail", up="3 in") + OBSTACLE.format(name="rail", up="4 in"))
    call(capsys, "change", path, "obstacles[1].wants=1 in", "--because", "two are called so", "--apply")
    call(capsys, "change", path, "obstacles[1].name=box", "--because", "it had another name before", "--apply")
    _, out, _ = call(capsys, "diary", path)
    assert "obstacles[1].wants: nothing → 1 in" in out and "obstacles[1].name: rail → box" in out
