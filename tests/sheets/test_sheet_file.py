"""Printing replaces a sheet of the planner and nothing else, whatever stands or comes under the name."""

import os
import socket
from datetime import date
from pathlib import Path

import pytest

from planner.project.own_files import put_in_place
from planner.sheets.blocks import Paragraph, Sheet
from planner.sheets.kind import CannotPrint
from planner.sheets.paper import pdf
from planner.sheets.sheet_file import is_sheet, standing_sheet
from planner.sheets.text import text

SHEET = Sheet("record", "Build record", "The old truck", 3, date(2026, 11, 25), (Paragraph("the words"),))
TEXT = text(SHEET).encode()
OTHERS = {
    "a project": (b'format = 1\n[vehicle]\nname = "theirs"\n', "a project file"),
    "a project that quotes the mark": (TEXT.splitlines(True)[-1].join([b"format = 1\n# ", b""]), "a project file"),
    "notes": (b"keep me\n", "another file"),
    "notes about a sheet": (TEXT + b"what I think of it\n", "another file"),
    "nothing": (b"", "an empty file"),
    "a PDF from elsewhere": (b"%PDF-1.7\n" + TEXT, "a PDF without the planner's mark"),
    "bytes": (bytes(range(256)) * 9, "another file"),
}


def refused(path: Path) -> str:
    with pytest.raises(CannotPrint) as told:
        standing_sheet(path)
    assert "\n" not in str(told.value) and "choose another name" in str(told.value)
    return str(told.value)


@pytest.mark.parametrize("raw", [TEXT, pdf(SHEET)], ids=["text", "PDF"])
def test_a_sheet_carries_its_mark_and_may_be_replaced(tmp_path, raw):
    path = tmp_path / "sheet"
    assert standing_sheet(path) is None
    path.write_bytes(raw)
    assert is_sheet(raw)
    assert standing_sheet(path) is not None


@pytest.mark.parametrize(("raw", "named"), OTHERS.values(), ids=OTHERS)
def test_what_is_no_sheet_is_named_and_left_alone(tmp_path, raw, named):
    path = tmp_path / "sheet.txt"
    path.write_bytes(raw)
    assert named in refused(path)
    assert path.read_bytes() == raw


def test_no_link_is_followed_not_even_to_a_sheet_or_to_nothing(tmp_path):
    (tmp_path / "sheet").write_bytes(TEXT)
    for there in ("sheet", "nothing", "."):
        link = tmp_path / "link"
        link.symlink_to(tmp_path / there)
        assert "a link" in refused(link)
        link.unlink()


def test_what_is_no_file_is_told_without_waiting(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    os.mkfifo("pipe")
    with socket.socket(socket.AF_UNIX) as plug:
        plug.bind("plug")
        for name in ("pipe", "plug", "/dev/null", "/dev/zero"):
            assert "a device" in refused(Path(name))
    assert "a folder" in refused(tmp_path)


def test_a_link_that_comes_between_the_look_and_the_opening_is_not_followed(tmp_path, monkeypatch):
    path = tmp_path / "link"
    (tmp_path / "sheet").write_bytes(TEXT)
    path.symlink_to("sheet")
    monkeypatch.setattr(os, "lstat", os.stat)  # the look saw the sheet that stood there a moment ago
    with pytest.raises(OSError):
        standing_sheet(path)


def test_another_name_of_the_replaced_sheet_keeps_what_it_held(tmp_path):
    path, other, fresh = tmp_path / "sheet", tmp_path / "copy", tmp_path / "fresh"
    path.write_bytes(TEXT)
    os.link(path, other)
    fresh.write_bytes(b"new")
    put_in_place(fresh, path, standing_sheet(path))
    assert path.read_bytes() == b"new" and other.read_bytes() == TEXT


def came(path: Path, what: str) -> None:
    """Something comes under the name in the last moment."""
    if what == "link":
        path.unlink(missing_ok=True)
        path.symlink_to("keep")
    elif what == "words in it":
        path.write_bytes(b"typed meanwhile")
    else:
        other = path.with_name("other")
        other.write_bytes(b"typed meanwhile")
        other.replace(path)


@pytest.mark.parametrize("what", ["link", "words in it", "another file"])
@pytest.mark.parametrize("stood", [True, False])
def test_what_comes_under_the_name_meanwhile_is_neither_replaced_nor_followed(tmp_path, what, stood):
    path, keep, fresh = tmp_path / "sheet", tmp_path / "keep", tmp_path / "fresh"
    keep.write_bytes(TEXT)
    fresh.write_bytes(b"new")
    if stood:
        path.write_bytes(TEXT)
    old = standing_sheet(path)
    came(path, what)
    with pytest.raises(FileExistsError):
        put_in_place(fresh, path, old)
    assert keep.read_bytes() == TEXT
    assert path.is_symlink() if what == "link" else path.read_bytes() == b"typed meanwhile"


def test_a_disk_that_knows_no_second_name_for_a_file_takes_a_new_sheet_all_the_same(tmp_path, monkeypatch):
    def cannot(*_):
        raise PermissionError

    path, fresh = tmp_path / "sheet", tmp_path / "fresh"
    monkeypatch.setattr(os, "link", cannot)
    fresh.write_bytes(b"new")
    put_in_place(fresh, path, None)
    assert path.read_bytes() == b"new" and not fresh.exists()
    fresh.write_bytes(b"newer")
    with pytest.raises(FileExistsError):
        put_in_place(fresh, path, None)
    assert path.read_bytes() == b"new"
