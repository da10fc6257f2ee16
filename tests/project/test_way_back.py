"""A project whose file is gone, cut short or no project any more comes back by its diary, with one command."""

import pytest
from calling import call

from planner.plan.state import make_again, read
from planner.project.diary import commit, standing
from planner.project.diary_reading import diary_path, read_diary, text_at
from planner.project.faults import Faulty
from planner.project.saving import NotSaved
from planner.project.source import load
from planner.project.way_back import KEPT, bring_back_unread, last_good, standing_words, way_back

TRUCK = 'format = 1\n\n[vehicle]\nname = "Unit 14"\nwheelbase = "126 in" # taped twice\n'
LONGER = TRUCK.replace("126", "128")


@pytest.fixture
def truck(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    commit(load(path), LONGER, kind="change", because="measured again")
    return path


RUINS = {
    "empty": b"",
    "cut short": LONGER.encode()[:40],
    "no TOML": b"what happened here?\n",
    "bytes": b"\xff\xfe\x00\x01",
    "NULs": b"\x00" * 300,
}


@pytest.fixture(params=[*RUINS, "gone"])
def ruin(request, truck):
    if request.param == "gone":
        truck.unlink()
        return truck, None
    truck.write_bytes(RUINS[request.param])
    return truck, RUINS[request.param]


@pytest.mark.parametrize(
    "command",
    [("check",), ("task",), ("why", "stud_circle"), ("compare",), ("print", "checklist", "--text"), ("accept",),
     ("again",), ("change", "vehicle.name=x"), ("diary",), ("diary", "undo"), ("diary", "catch-up")],
    ids=" ".join,
)  # fmt: skip
def test_every_command_that_meets_it_names_the_one_that_brings_it_back(capsys, ruin, command):
    path, raw = ruin
    name, *more = command
    code, _, err = call(capsys, name, path, *more)
    if raw != b"" or name != "diary":  # emptied it is TOML: the diary takes that for an edit like any
        assert code == 2 and f"`planner diary {path} bring-back 2` brings back the last good state, of 20" in err
        assert (path.read_bytes() if path.exists() else None) == raw and len(read_diary(path).entries) == 2


def test_one_command_brings_it_back_to_the_byte_and_what_stood_there_is_kept(capsys, ruin):
    path, raw = ruin
    code, out, err = call(capsys, "diary", path, "bring-back", "2", "--because", "the disk was full")
    assert code == 0 and "restore" in out and path.read_bytes() == LONGER.encode()
    kept = path.with_name(path.name + KEPT)
    if raw is None:
        assert not kept.exists()
    elif raw:
        assert kept.read_bytes() == raw and str(kept) in err
    assert standing(read_diary(path), load(path)) == "in step" and not read_diary(path).troubles
    assert call(capsys, "diary", path, "bring-back", "1")[0] == 0 and path.read_text(encoding="utf-8") == TRUCK
    assert call(capsys, "diary", path, "undo")[0] == 0 and path.read_text(encoding="utf-8") == LONGER


def test_the_diary_tells_all_it_holds_whatever_became_of_the_file(capsys, ruin):
    path, _ = ruin
    code, out, _ = call(capsys, "diary", path)
    assert "wheelbase: 126 in → 128 in" in out
    assert call(capsys, "diary", path, "at", "1", "--text")[1] == TRUCK
    assert "126 in → 128 in" in call(capsys, "diary", path, "compare", "1", "2")[1]
    assert code == (2 if path.exists() is False or path.read_bytes() else 0)


def test_an_earlier_state_comes_back_too_and_can_be_undone(truck):
    truck.write_text("[", encoding="utf-8")
    done = bring_back_unread(truck, 1)
    assert truck.read_text(encoding="utf-8") == TRUCK == text_at(read_diary(truck), done.entries[-1].number)


def test_the_last_good_state_has_no_fault(truck):
    commit(load(truck), LONGER.replace("128 in", "wide"), kind="change")
    found = last_good(read_diary(truck))
    assert found is not None and found.number == 2  # the third left a fault


def test_without_a_diary_nothing_is_promised(capsys, tmp_path):
    code, _, err = call(capsys, "check", tmp_path / "nothing.toml")
    assert code == 2 and "bring" not in err
    with pytest.raises(NotSaved):
        bring_back_unread(tmp_path / "nothing.toml", 1)


def test_a_renamed_file_is_told_which_diary_continues_from_it(capsys, truck):
    new = truck.rename(truck.with_name("county.toml"))
    code, out, _ = call(capsys, "diary", new)
    told = " ".join(out.split())
    assert code == 0 and "truck.diary.jsonl continues from exactly this text" in told
    assert "rename that to county.diary.jsonl" in told
    assert any("county.toml reads just as its diary left it" in line for line in way_back(truck))
    diary_path(truck).rename(diary_path(new))
    assert standing_words(read_diary(new), load(new)) == ""


def test_a_copy_beside_its_project_is_not_taken_for_a_renamed_one(truck):
    copy = truck.with_name("other.toml")
    copy.write_bytes(truck.read_bytes())
    assert "There is no diary yet" in standing_words(read_diary(copy), load(copy))


PARTS = "".join(f'[[parts]]\nid = "part {at}"\nprice = {at + 100}\n' for at in range(12))
OTHER = 'format = 1\n\n[vehicle]\nname = "Forester"\n' + "".join(
    f'[[tasks]]\nid = "own.{at}"\ntitle = "paint {at}"\n' for at in range(12)
)


def test_another_projects_diary_is_told_and_not_taken_for_a_hand_edit_of_everything(capsys, tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK + PARTS, encoding="utf-8")
    commit(load(path), LONGER + PARTS, kind="change")
    path.write_text(OTHER, encoding="utf-8")
    before = diary_path(path).read_bytes()
    assert "another project's diary" in " ".join(call(capsys, "diary", path)[1].split())
    for command in (("change", "vehicle.name=x", "--apply"), ("diary", "undo"), ("diary", "catch-up")):
        code, _, err = call(capsys, command[0], path, *command[1:])
        assert code == 2 and "another project's diary, truck.diary.jsonl" in err
    assert path.read_text(encoding="utf-8") == OTHER and diary_path(path).read_bytes() == before


def test_a_large_hand_edit_of_the_same_truck_is_one(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK + PARTS, encoding="utf-8")
    commit(load(path), LONGER + PARTS, kind="change")
    path.write_text(TRUCK + OTHER.partition('"Forester"\n')[2], encoding="utf-8")  # its name is what it was
    assert "edited since" in standing_words(read_diary(path), load(path))


def test_a_return_to_a_text_of_which_nothing_can_be_read_is_refused_and_its_text_still_told(capsys, truck):
    text = truck.read_text()
    truck.write_text("# all of it gone\n")
    assert call(capsys, "diary", truck, "undo")[0] == 0
    number = read_diary(truck).entries[-1].number - 1
    before = truck.read_text(), diary_path(truck).read_bytes()
    assert before[0] == text
    for words in (["redo"], ["bring-back", number]):
        code, out, err = call(capsys, "diary", truck, *words)
        assert (code, out) == (2, "") and "couldn't read the text that would be left" in err
    with pytest.raises(Faulty, match="doesn't say which format"):
        make_again(read(truck))
    assert (truck.read_text(), diary_path(truck).read_bytes()) == before
    assert call(capsys, "diary", truck, "at", number, "--text")[1] == "# all of it gone\n"
