"""Photos from beside the project: nothing outside its folder, no device, no pipe, nothing that is too large."""

import os
from pathlib import Path

import pytest
from made_pictures import jpeg, png

import planner.sheets.photo_files as module
from planner.sheets.photo_files import PhotoFolder, read_photo
from planner.sheets.picture_data import NoPicture, PictureData

HAS_LINKS = pytest.mark.skipif(os.name == "nt", reason="links need rights there")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "project"
    inside.mkdir()
    (tmp_path / "secret.png").write_bytes(png(8, 8))
    (inside / "hub.jpg").write_bytes(jpeg(8, 8))
    (inside / "more").mkdir()
    (inside / "more" / "drum.png").write_bytes(png(8, 8))
    return inside


def why_not(folder: Path, name: str) -> str:
    with pytest.raises(NoPicture) as trouble:
        read_photo(folder, name)
    return str(trouble.value)


def test_a_file_beside_the_project_or_in_a_folder_below_is_read(folder):
    assert read_photo(folder, "hub.jpg") == jpeg(8, 8)
    assert read_photo(folder, "more/drum.png") == read_photo(folder, "more\\drum.png") == png(8, 8)


@pytest.mark.parametrize(
    "name", ["../secret.png", "more/../../secret.png", "/etc/passwd.png", "C:\\x.png", "", "x.gif"]
)
def test_a_name_that_leads_out_is_never_opened(folder, name, monkeypatch):
    monkeypatch.setattr(module, "_opened", None)
    assert why_not(folder, name) == module.OUTSIDE


@HAS_LINKS
def test_a_link_that_leads_out_is_refused_whether_it_is_the_file_or_a_folder_on_the_way(folder, tmp_path):
    (folder / "link.png").symlink_to(tmp_path / "secret.png")
    (folder / "out").symlink_to(tmp_path, target_is_directory=True)
    assert why_not(folder, "link.png") == why_not(folder, "out/secret.png") == module.OUTSIDE


@HAS_LINKS
def test_a_link_that_stays_inside_is_followed_and_one_that_goes_in_circles_is_told(folder):
    (folder / "same.jpg").symlink_to("hub.jpg")
    (folder / "round.png").symlink_to("round.png")
    assert read_photo(folder, "same.jpg") == jpeg(8, 8)
    assert "can't be read" in why_not(folder, "round.png")


@HAS_LINKS
def test_a_link_put_in_the_way_after_the_look_is_not_followed(folder, tmp_path, monkeypatch):
    real = os.path.realpath

    def swapped(path, **how):
        found = real(path, **how)
        target = folder / "more" / "drum.png"
        if Path(found) == target and target.exists():
            target.unlink()
            target.symlink_to(tmp_path / "secret.png")
        return found

    monkeypatch.setattr(module.os.path, "realpath", swapped)
    assert "can't be read" in why_not(folder, "more/drum.png")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes there")
def test_a_pipe_a_device_and_a_folder_are_refused_without_waiting(folder):
    os.mkfifo(folder / "pipe.png")
    (folder / "folder.png").mkdir()
    assert why_not(folder, "pipe.png") == why_not(folder, "folder.png") == "it isn't an ordinary file"


def test_one_that_is_missing_empty_or_huge_is_told(folder):
    (folder / "empty.png").touch()
    with (folder / "huge.jpg").open("wb") as file:
        file.truncate(module.MOST_BYTES + 1)
    assert "no such file" in why_not(folder, "nowhere.png") and "no such file" in why_not(folder, "hub.jpg.png")
    assert why_not(folder, "empty.png") == "it's empty"
    assert why_not(folder, "huge.jpg") == "it's too large: 16 MB, and the limit is 16 MB"


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="everything may be read here")
def test_one_that_may_not_be_read_is_told(folder):
    (folder / "hub.jpg").chmod(0)
    assert "can't be read" in why_not(folder, "hub.jpg")


@pytest.mark.parametrize("name", ["a\0b.png", "x" * 300 + ".png", "\ud800.png", "ünï.png"])
def test_a_name_that_is_none_is_told(folder, name):
    assert why_not(folder, name)


def test_each_is_read_once_and_all_of_them_only_up_to_a_limit(folder, monkeypatch):
    photos = PhotoFolder(folder / "truck.toml")
    first = photos.picture("hub.jpg")
    assert isinstance(first, PictureData)
    (folder / "hub.jpg").unlink()
    assert photos.picture("hub.jpg") is first
    monkeypatch.setattr(module, "MOST_TOGETHER", len(first.raw) + 10)
    assert "most on one sheet" in str(photos.picture("more/drum.png"))
    monkeypatch.setattr(module, "MOST_PHOTOS", 2)
    assert "more than 2" in str(photos.picture("other.png"))
