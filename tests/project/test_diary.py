"""The diary says what moved, when and why; undo, redo and bringing back are entries of it too."""

import datetime
import json
import random
import stat
from pathlib import Path

import pytest
from diary_truck import TRUCK, by_hand, change, kinds, sound, three

from planner.project import diary_reading
from planner.project.diary import NothingThere, bring_back, catch_up, commit, redo, standing, undo
from planner.project.diary_entries import WHOLE_EVERY, KeyChange, key_changes
from planner.project.diary_reading import compare, diary_path, read_diary, read_end, text_at
from planner.project.diary_words import entry_lines
from planner.project.saving import CannotSave, ChangedOutside, NotSaved
from planner.project.source import LARGEST_FILE, load


@pytest.fixture
def truck(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def test_the_first_save_begins_the_diary_and_says_what_moved_and_why(truck: Path) -> None:
    when = datetime.datetime(2026, 3, 14, 10, 26, 53, tzinfo=datetime.timezone(datetime.timedelta(hours=1)))
    done = change(truck, "146 in", because="measured again, on level ground", details={"task": "measure"}, at=when)
    assert load(truck) == done.written.source
    began, entry = sound(truck).entries
    assert done.entries == (began, entry)
    assert (began.number, began.kind, began.before) == (1, "began", "")
    assert (entry.number, entry.kind, entry.at) == (2, "change", "2026-03-14T09:26:53Z")
    assert (entry.because, entry.details) == ("measured again, on level ground", {"task": "measure"})
    assert entry.moved == (KeyChange(("vehicle", "wheelbase"), "145 in ± 1/2 in", "146 in"),)
    assert text_at(read_diary(truck), 1) == TRUCK
    assert text_at(read_diary(truck), 2) == TRUCK.replace("145 in ± 1/2 in", "146 in")
    assert {found.name for found in truck.parent.iterdir()} == {"truck.toml", "truck.diary.jsonl", ".truck.toml.lock"}


def test_an_entry_says_nothing_of_who_or_where(truck: Path) -> None:
    change(truck, "146 in")
    for row in diary_path(truck).read_text().splitlines():
        assert sorted(json.loads(row)) == sorted(
            ["sum", "previous", "format", "number", "at", "kind", "because", "moved", "left_out", "details"]
            + ["before", "after", "text", "since"]
        )
        assert str(truck.parent) not in row


def test_an_entry_that_leaves_the_text_alone_does_not_touch_the_project(truck: Path) -> None:
    change(truck, "146 in")
    before = truck.stat()
    source = load(truck)
    commit(source, source.text, kind="print", details={"sheet": 1, "on": datetime.date(2026, 3, 14)})
    assert truck.stat().st_ino == before.st_ino
    last = sound(truck).entries[-1]
    assert (last.kind, last.moved, last.packed) == ("print", (), None)
    assert last.details == {"sheet": 1, "on": datetime.date(2026, 3, 14)}
    with pytest.raises(NotSaved):
        commit(source, source.text, kind="print", details={"sheet": object()})
    with pytest.raises(ValueError):
        commit(source, source.text, kind="undo")


def test_a_clock_that_was_moved_back_changes_nothing(truck: Path) -> None:
    for year, value in ((2030, "1 in"), (2001, "2 in"), (2020, "3 in")):
        change(truck, value, at=datetime.datetime(year, 1, 1, tzinfo=datetime.UTC))
    diary = sound(truck)
    assert [entry.at[:4] for entry in diary.entries] == ["2030", "2030", "2001", "2020"]
    assert '"2 in"' in text_at(diary, 3)
    undo(load(truck))
    assert '"2 in"' in truck.read_text()


def test_a_change_by_hand_shows_up_as_an_entry(truck: Path) -> None:
    change(truck, "146 in")
    assert catch_up(load(truck)) is None
    source = by_hand(truck, truck.read_text().replace("# by tape", "# by laser").replace("146", "147") + "y = 1\n")
    assert standing(read_diary(truck), source) == "hand edit"
    done = catch_up(source)
    assert done is not None
    assert done.entries[-1].kind == "hand edit"
    wheelbase = KeyChange(("vehicle", "wheelbase"), "146 in", "147 in")
    assert done.entries[-1].moved == (wheelbase, KeyChange(("parts", 0, "y"), None, 1))
    by_hand(truck, TRUCK + "# only a remark\n")
    change(truck, "150 in")
    assert kinds(truck) == ["began", "change", "hand edit", "hand edit", "change"]
    assert text_at(sound(truck), 4) == TRUCK + "# only a remark\n"


def test_no_diary_is_begun_by_looking(truck: Path) -> None:
    assert catch_up(load(truck)) is None
    assert standing(read_diary(truck), load(truck)) == "no diary"
    with pytest.raises(NothingThere):
        undo(load(truck))
    assert not diary_path(truck).exists()


def test_undo_redo_and_bringing_back_are_entries_too(truck: Path) -> None:
    for value in ("1 in", "2 in", "3 in"):
        change(truck, value)
    done = undo(load(truck), "it was the wrong truck")
    assert (done.entries[-1].because, done.entries[-1].details) == (
        "it was the wrong truck",
        {"entry": 4, "kind": "change"},
    )
    undo(load(truck))
    assert '"1 in"' in truck.read_text()
    redo(load(truck))
    assert '"2 in"' in truck.read_text()
    change(truck, "9 in")
    with pytest.raises(NothingThere, match="nothing to redo"):
        redo(load(truck))
    bring_back(load(truck), 4)
    assert '"3 in"' in truck.read_text()
    with pytest.raises(NothingThere, match="already"):
        bring_back(load(truck), 4)
    with pytest.raises(NotSaved, match="there is no entry 99"):
        bring_back(load(truck), 99)
    undo(load(truck))
    assert '"9 in"' in truck.read_text()
    for _ in range(3):
        undo(load(truck))
    assert truck.read_text() == TRUCK
    with pytest.raises(NothingThere, match="nothing to undo"):
        undo(load(truck))
    diary = sound(truck)
    assert len(diary.entries) == 1 + 3 + 3 + 1 + 1 + 4
    assert compare(diary, 2, 4) == [KeyChange(("vehicle", "wheelbase"), "1 in", "3 in")]


@pytest.mark.parametrize("seed", range(4))
def test_any_walk_of_changes_agrees_with_a_list_of_texts(truck: Path, seed: int) -> None:
    """The model: the texts in order of the entries, and two stacks of (before, after)."""
    chance = random.Random(seed)
    texts: list[str] = []
    done: list[tuple[str, str]] = []
    undone: list[tuple[str, str]] = []
    text = TRUCK
    change(truck, "0 in")
    texts += [TRUCK, text := TRUCK.replace("145 in ± 1/2 in", "0 in")]
    done.append((TRUCK, text))
    for number in range(90):
        kind = chance.choice(["change", "change", "hand", "note", "undo", "undo", "redo", "restore", "cut"])
        source = load(truck)
        new = text.replace(" in", f"{number} in", 1) if chance.random() < 0.5 else f"{text}# {number}\n"
        if len(new) > 700:
            new = TRUCK.replace("145", str(number))
        if kind == "change":
            commit(source, new, kind="change")
        elif kind == "hand":
            catch_up(by_hand(truck, new))
        elif kind == "note":
            commit(source, text, kind="note")
            texts.append(text)
        elif kind == "cut":  # the power went between the two files
            commit(source, new, kind="change")
            catch_up(by_hand(truck, text))
            texts += [new, text]
        elif kind == "undo":
            if not done:
                with pytest.raises(NothingThere):
                    undo(source)
                continue
            undo(source)
            undone.append(done.pop())
            text = undone[-1][0]
            texts.append(text)
        elif kind == "redo":
            if not undone:
                with pytest.raises(NothingThere):
                    redo(source)
                continue
            redo(source)
            done.append(undone.pop())
            text = done[-1][1]
            texts.append(text)
        elif kind == "restore":
            which = chance.randrange(len(texts))
            if texts[which] == text:
                continue
            new = texts[which]
            bring_back(source, which + 1)
        if kind in ("change", "hand", "restore"):
            done.append((text, new))
            undone = []
            text = new
            texts.append(text)
        assert truck.read_bytes() == text.encode()
    diary = sound(truck)
    assert [text_at(diary, at + 1) for at in range(len(texts))] == texts
    assert len(diary.entries) == len(texts)


def test_a_text_is_kept_whole_every_so_often_and_takes_few_steps_to_make(truck: Path) -> None:
    source = load(truck)
    for number in range(3 * WHOLE_EVERY):
        new = f"{TRUCK}n = {number}\n" if number % 3 else source.text
        source = commit(source, new, kind="change").written.source
    entries = sound(truck).entries
    whole = [at for at, entry in enumerate(entries) if entry.packed and entry.packed.keep is None]
    assert (
        max(later - sooner for sooner, later in zip(whole, [*whole[1:], len(entries)], strict=True)) <= WHOLE_EVERY + 3
    )
    assert len(whole) < 8


def test_what_moved_in_a_list_is_told_where_it_was_taken_out_or_put_in() -> None:
    old = {"a": 1, "parts": [{"id": "rim"}, {"id": "tire"}, {"id": "nut"}]}
    new = {"parts": [{"id": "rim"}, {"id": "nut", "price": 2}], "b": True}
    assert list(key_changes((), old, new)) == [
        KeyChange(("a",), 1, None),
        KeyChange(("parts", 1, "id"), "tire", "nut"),
        KeyChange(("parts", 1, "price"), None, 2),
        KeyChange(("parts", 2), {"id": "nut"}, None),
        KeyChange(("b",), None, True),
    ]
    assert list(key_changes((), {"list": [1, 2, 3]}, {"list": [2, 3]})) == [KeyChange(("list", 0), 1, None)]


def test_of_a_change_that_moves_too_much_the_entry_lists_what_fits_and_counts_the_rest(truck: Path) -> None:
    source = load(truck)
    deep = ".".join(f'"{"x" * 3000}{at}"' for at in range(30))
    new = f"{TRUCK}[{deep}]\n" + "".join(f'k{number} = "{"ü" * 40}"\n' for number in range(300))
    source = commit(source, TRUCK + f"[{deep}]\n", kind="change").written.source
    entry = commit(source, new, kind="change").entries[-1]
    assert entry.left_out > 200
    assert len(entry.moved) + entry.left_out == 300
    assert text_at(sound(truck), 3) == new


def test_a_project_changed_outside_or_a_text_that_is_none_leaves_both_alone(truck: Path) -> None:
    raw, _ = three(truck)
    source = load(truck)
    for wrong in ("a = \n", "a = '\ud800'\n", "#" * LARGEST_FILE + "#"):
        with pytest.raises(CannotSave):
            commit(source, wrong, kind="change")
    with pytest.raises(CannotSave, match="reason is too long"):
        commit(source, "a = 1\n", kind="change", because="x" * 5000)
    by_hand(truck, "mine = 1\n")
    with pytest.raises(ChangedOutside):
        commit(source, "a = 1\n", kind="change")
    assert diary_path(truck).read_bytes() == raw
    truck.unlink()
    with pytest.raises(ChangedOutside):
        undo(source)
    assert not truck.exists()


def test_the_diary_is_as_private_as_the_project_and_stands_beside_it(truck: Path, tmp_path: Path) -> None:
    truck.chmod(0o600)
    link = tmp_path / "there" / "link.toml"
    link.parent.mkdir()
    link.symlink_to(truck)
    change(link, "1 in")
    assert stat.S_IMODE(diary_path(truck).stat().st_mode) == 0o600
    assert diary_path(link) == diary_path(truck) == tmp_path / "truck.diary.jsonl"
    assert [found.name for found in link.parent.iterdir()] == ["link.toml"]


def test_an_entry_is_told_on_a_line_and_each_key_that_moved_on_another(truck: Path) -> None:
    change(truck, "146 in", because="measured again", at=datetime.datetime(2026, 3, 14, tzinfo=datetime.UTC))
    undo(load(truck), at=datetime.datetime(2026, 3, 15, tzinfo=datetime.UTC))
    _, first, second = read_diary(truck).entries
    assert entry_lines(first) == [
        "2  2026-03-14T00:00:00Z  change: measured again",
        "  vehicle.wheelbase: 145 in ± 1/2 in → 146 in",
    ]
    assert entry_lines(second)[0] == "3  2026-03-15T00:00:00Z  undo, entry 2"


def test_a_diary_of_thousands_is_added_to_without_being_read_whole(
    truck: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(40):
        change(truck, f"{number} in", because="x" * 3900)
    assert len(read_end(truck).entries) == 1
    monkeypatch.setattr(diary_reading, "read_diary", None)
    assert change(truck, "99 in").entries[-1].number == 42


def test_what_is_refused_does_not_write_down_the_hand_edit_before_it_and_what_is_made_writes_both_at_once(
    truck: Path,
) -> None:
    raw, _ = three(truck)
    source = by_hand(truck, truck.read_text() + "# by hand\n")
    with pytest.raises(NothingThere, match="nothing to redo"):
        redo(source)
    with pytest.raises(CannotSave, match="no entry 9"):
        bring_back(source, 9)
    assert diary_path(truck).read_bytes() == raw
    assert [entry.kind for entry in undo(source).entries] == ["hand edit", "undo"]
    assert sound(truck).entries[-1].details["entry"] == 5
