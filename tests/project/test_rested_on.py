"""What records rested on goes into the diary with a save, and is known only by an entry that still says it."""

import shutil
import tomllib
from pathlib import Path
from time import process_time

import pytest
from benchmarks.bench_diary import write_diary
from resting import rested_on

from planner.project import rested_on as module
from planner.project.amending import amend
from planner.project.diary import PUT_BACK, Committed, bring_back, commit, undo
from planner.project.diary_reading import diary_path, entry_numbered, read_diary
from planner.project.migrating import amend_or_rewrite
from planner.project.models.work import RestedOn
from planner.project.rested_on import values_rested_on
from planner.project.source import load

TRUCK = """\
format = 2

[vehicle]
wheelbase = "145 in" # by tape

[[decisions]] # the first
question = "which rim?"

# what it was decided by
[decisions.rested_on]
"vehicle.wheelbase" = "145 in"
"wheel.offset (tall, front)" = "1/2 in"

[[decisions]]
question = "which tire?"
rested_on = { "vehicle.wheelbase" = "144 in" }

[[tasks]]
id = "own.wash"
"""
PUT_AWAY = """\
format = 2

[vehicle]
wheelbase = "146 in" # by tape

[[decisions]] # the first
question = "which rim?"
rests = "2 {first}"

# what it was decided by

[[decisions]]
question = "which tire?"
rests = "2 {second}"

[[tasks]]
id = "own.wash"
"""
FIRST = {"vehicle.wheelbase": "145 in", "wheel.offset (tall, front)": "1/2 in"}
SECOND = {"vehicle.wheelbase": "144 in"}


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def save(path: Path, changes: dict | None = None, **more: object) -> Committed:
    source = load(path)
    text = amend(source.text, {("vehicle", "wheelbase"): "146 in"} if changes is None else changes)
    return commit(source, text, kind="change", **more)  # type: ignore[arg-type]


def decisions(path: Path) -> list[dict]:
    return tomllib.loads(path.read_text(encoding="utf-8"))["decisions"]


def known(path: Path, rests: str | None) -> object:
    return values_rested_on(path, RestedOn.model_validate({"rests": rests} if rests is not None else {}))


def test_a_save_leaves_an_entrys_number_and_a_digest_in_the_file_and_comments_where_they_were(truck: Path) -> None:
    done = save(truck)
    first, second = decisions(truck)
    digests = [one["rests"].removeprefix("2 ") for one in (first, second)]
    assert truck.read_text(encoding="utf-8") == PUT_AWAY.format(first=digests[0], second=digests[1])
    assert all(len(one) == 6 and set(one) <= set("0123456789abcdef") for one in digests)
    assert (rested_on(truck, first), rested_on(truck, second)) == (FIRST, SECOND)
    assert list(rested_on(truck, first)) == list(FIRST), "in the order of the record"
    assert done.written.source == load(truck) and done.entries[-1].number == 2
    assert [one.key for one in read_diary(truck).entries[-1].moved] == [("vehicle", "wheelbase")], "nobody changed more"


def test_the_number_is_that_of_the_saves_own_entry_also_behind_one_for_an_edit_by_hand(truck: Path) -> None:
    save(truck)
    text = truck.read_text(encoding="utf-8")
    truck.write_text(text + '\n[tasks.rested_on]\n"a" = "1"\n', encoding="utf-8")
    save(truck, {("vehicle", "wheelbase"): "147 in"})
    (task,) = tomllib.loads(truck.read_text(encoding="utf-8"))["tasks"]
    assert [one.kind for one in read_diary(truck).entries] == ["began", "change", "hand edit", "change"]
    assert task["rests"].startswith("4 ") and rested_on(truck, task) == {"a": "1"}
    assert rested_on(truck, decisions(truck)[0]) == FIRST, "the older entry still says it"


def test_what_a_record_rests_on_anew_takes_the_place_of_what_it_rested_on(truck: Path) -> None:
    save(truck)
    save(truck, {("decisions", 0, "rested_on"): {"b": "2"}})
    assert rested_on(truck, decisions(truck)[0]) == {"b": "2"}
    assert [one["rests"].split()[0] for one in decisions(truck)] == ["3", "2"]


def test_an_earlier_text_comes_back_to_the_byte_and_one_that_was_left_alone_stays(truck: Path) -> None:
    save(truck)
    later = truck.read_bytes()
    undo(load(truck))
    assert truck.read_text(encoding="utf-8") == TRUCK
    commit(load(truck), load(truck).text, kind="note")
    assert truck.read_text(encoding="utf-8") == TRUCK
    bring_back(load(truck), 2)
    assert truck.read_bytes() == later and rested_on(truck, decisions(truck)[1]) == SECOND


def test_what_a_screen_puts_back_is_what_it_showed_to_the_byte(truck: Path) -> None:
    commit(load(truck), TRUCK.replace("by tape", "by eye"), kind=PUT_BACK)
    assert truck.read_text(encoding="utf-8") == TRUCK.replace("by tape", "by eye")


def test_an_older_format_keeps_its_own_keys(truck: Path) -> None:
    truck.write_text(TRUCK.replace("format = 2", "format = 1"), encoding="utf-8")
    save(truck)
    assert [one["rested_on"] for one in decisions(truck)] == [FIRST, SECOND]


def test_a_table_that_a_person_wrote_a_comment_into_stays_with_it(truck: Path) -> None:
    truck.write_text(TRUCK.replace('= "1/2 in"', '= "1/2 in" # drawn'), encoding="utf-8")
    save(truck)
    first, second = decisions(truck)
    assert "# drawn" in truck.read_text(encoding="utf-8") and first["rested_on"] == FIRST
    assert rested_on(truck, second) == SECOND


@pytest.mark.parametrize(
    "wrong", ["", "2", "2 {0}0", "1 {0}", "3 {0}", "99999999999999999999 {0}", "2 000000", "-2 {0}"]
)
def test_a_wrong_or_missing_number_or_digest_says_nothing(truck: Path, wrong: str) -> None:
    save(truck)
    right = decisions(truck)[0]["rests"]
    assert known(truck, right) == FIRST
    assert known(truck, wrong.format(right.split()[1])) is None
    assert known(truck, None) is None


def test_without_its_diary_or_beside_another_a_record_says_nothing(truck: Path) -> None:
    save(truck)
    rests = decisions(truck)[0]["rests"]
    diary = diary_path(truck)
    diary.rename(diary.with_suffix(".away"))
    assert known(truck, rests) is None
    save(truck, {("vehicle", "wheelbase"): "150 in"})  # begun anew, with an entry of that number
    assert read_diary(truck).entries[1].number == 2 and known(truck, rests) is None


def test_an_entry_that_is_damaged_or_keeps_other_values_under_the_digest_says_nothing(truck: Path) -> None:
    save(truck)
    rests = decisions(truck)[0]["rests"]
    save(truck, {("vehicle", "wheelbase"): "147 in"}, details={"rested_on": {rests.split()[1]: SECOND}})
    assert known(truck, f"3 {rests.split()[1]}") is None
    raw = diary_path(truck).read_bytes()
    diary_path(truck).write_bytes(raw.replace(b"1/2 in", b"3/4 in"))
    assert known(truck, rests) is None


def test_two_digests_alike_in_one_save_never_stand_for_one_another(
    truck: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_digest", lambda values: "abcdef")
    save(truck)
    first, second = decisions(truck)
    assert rested_on(truck, first) == FIRST and second["rested_on"] == SECOND
    save(truck, {("vehicle", "wheelbase"): "147 in"})
    assert rested_on(truck, decisions(truck)[1]) == SECOND


def test_what_one_entry_has_no_room_for_goes_with_the_next_save(truck: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "LARGEST_MOVED", 100)
    save(truck)
    assert ["rested_on" in one for one in decisions(truck)] == [False, True]
    save(truck, {("vehicle", "wheelbase"): "147 in"})
    assert [rested_on(truck, one) for one in decisions(truck)] == [FIRST, SECOND]


def test_an_old_file_has_none_of_it_left_after_its_first_save(tmp_path: Path) -> None:
    path = tmp_path / "truck.toml"
    shutil.copy(Path(__file__).parent / "format_1" / "county-road-4x4.toml", path)
    before = tomllib.loads(path.read_text(encoding="utf-8"))
    source = load(path)
    commit(source, amend_or_rewrite(source.text, {("vehicle", "name"): "unit 15"})[0], kind="change")
    after = tomllib.loads(path.read_text(encoding="utf-8"))
    for table in ("decisions", "acceptances", "tasks"):
        for old, new in zip(before[table], after[table], strict=True):
            if "rested_on" in old:
                assert len(rested_on(path, new)) == len(old["rested_on"])
    assert "rested_on" not in path.read_text(encoding="utf-8")


def test_every_entry_is_found_by_its_number_among_damaged_and_empty_lines(truck: Path) -> None:
    write_diary(truck, 300)
    rows = diary_path(truck).read_bytes().splitlines(keepends=True)
    rows[100] = b"\n\n"
    rows[200] = rows[200].replace(b"weighed", b"weighted")
    rows[250:250] = [b"x" * 70_000 + b"\n"]
    diary_path(truck).write_bytes(b"".join(rows))
    for number in range(302):
        found = entry_numbered(truck, number)
        gone = number in (0, 101, 201, 301)
        assert found is None if gone else found is not None and found.number == number, number


def test_an_entry_of_a_long_diary_is_found_without_reading_it(truck: Path) -> None:
    write_diary(truck, 40_000)
    start = process_time()
    assert len(diary_path(truck).read_bytes().splitlines()) == 40_000
    whole = process_time() - start
    start = process_time()
    for number in range(1, 40_001, 4_000):
        found = entry_numbered(truck, number)
        assert found is not None and found.number == number
    assert (process_time() - start) / 10 < whole / 5, "one look-up against cutting it into lines once"
