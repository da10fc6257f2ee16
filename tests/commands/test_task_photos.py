"""What the build record asks of a tick: photos beside the project with what they show, and who did it."""

import tomllib
from pathlib import Path

import pytest
from calling import call
from made_pictures import jpeg

TRUCK = 'format = 2\n[[tasks]]\nid = "own.paint"\ntitle = "paint the hubs"\n'


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    (tmp_path / "hub.jpg").write_bytes(jpeg(8, 8))
    return path


def task(path: Path, id_: str):
    return next(one for one in tomllib.loads(path.read_text(encoding="utf-8"))["tasks"] if one["id"] == id_)


def test_a_photo_is_put_to_a_task_and_shown_with_it(capsys, path):
    code, out, _ = call(capsys, "task", path, "photo", "own.paint", "hub.jpg: two coats, front left")
    assert code == 0 and "own.paint: photo hub.jpg" in out and "there is no" not in out
    assert task(path, "own.paint")["photos"] == ["hub.jpg: two coats, front left"]
    assert "hub.jpg: two coats, front left" in call(capsys, "task", path, "show", "own.paint")[1]


def test_one_of_the_standing_list_gets_its_record_with_its_first_photo(capsys, path):
    call(capsys, "task", path, "photo", "safe.local_code", "hub.jpg", "hub.png: later")
    assert task(path, "safe.local_code") == {"id": "safe.local_code", "photos": ["hub.jpg", "hub.png: later"]}


def test_a_photo_named_again_has_its_new_caption_and_the_others_stay(capsys, path):
    for photo in ("hub.jpg: wrong", "other.png", "hub.jpg: right"):
        call(capsys, "task", path, "photo", "own.paint", photo)
    assert task(path, "own.paint")["photos"] == ["hub.jpg: right", "other.png"]


def test_a_photo_that_is_not_there_yet_is_entered_and_that_is_said(capsys, path):
    code, out, _ = call(capsys, "task", path, "photo", "own.paint", "drum.png")
    assert code == 0 and "beside the project there is no drum.png yet" in " ".join(out.split())


@pytest.mark.parametrize("photo", ["/etc/hub.jpg", "../hub.jpg", "hub.gif", "hub", "C:\\hub.jpg", ""])
def test_what_is_no_picture_beside_the_project_is_refused_in_one_line(capsys, path, photo):
    before = path.read_bytes()
    code, out, err = call(capsys, "task", path, "photo", "own.paint", photo)
    assert code == 2 and not out and err.count("\n") == 1 and "beside this one" in err
    assert path.read_bytes() == before


def test_no_more_are_taken_than_a_task_may_have(capsys, path):
    names = [f"p{n}.jpg" for n in range(21)]
    assert "the limit is 20" in call(capsys, "task", path, "photo", "own.paint", *names)[2]
    assert call(capsys, "task", path, "photo", "own.paint", *names[:20])[0] == 0


def test_a_tick_takes_its_photos_with_it(capsys, path):
    call(capsys, "task", path, "tick", "own.paint", "--photo", "hub.jpg: dry")
    assert task(path, "own.paint")["state"] == "done" and task(path, "own.paint")["photos"] == ["hub.jpg: dry"]


def test_a_tick_says_who_did_it_and_the_next_one_without_a_name_is_nobody_s(capsys, path):
    call(capsys, "task", path, "tick", "own.paint", "--by", "R.\x1b, the neighbor")
    assert "\x1b" not in task(path, "own.paint")["by"] and task(path, "own.paint")["by"].endswith("the neighbor")
    assert "the neighbor" in call(capsys, "task", path, "show", "own.paint")[1]
    call(capsys, "task", path, "reopen", "own.paint", "--because", "a run in it")
    call(capsys, "task", path, "tick", "own.paint")
    assert "by" not in task(path, "own.paint")


def test_photos_typed_with_commas_are_several_and_a_caption_keeps_its_own(capsys, path):
    call(capsys, "change", path, "tasks.own.paint.photos=hub.jpg: front, left, drum.png", "--apply", "--because", "x")
    assert task(path, "own.paint")["photos"] == ["hub.jpg: front, left", "drum.png"]
