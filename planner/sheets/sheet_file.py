"""A sheet's file on the disk: the mark by which the planner knows its own sheets, and the one thing they may replace.

What stands under a name is judged by the file that was opened, never by the name, and looked at once more just before
the new sheet takes its place (`project/own_files.py`).
"""

import os
from contextlib import suppress
from pathlib import Path

from planner.project.faults import Faulty
from planner.project.own_files import OddFile, standing_file
from planner.project.source import LARGEST_FILE, parse
from planner.quantities.text import clean
from planner.sheets.blocks import MARK
from planner.sheets.kind import CannotPrint

LARGEST_SHEET = 32 * 1024**2  # bytes; a large build record has some two million
_IN_TEXT = f"\n{MARK}.\n".encode()
_IN_PDF = f"<pdf:Keywords>{MARK}</pdf:Keywords>".encode()


def is_sheet(raw: bytes) -> bool:
    """Whether these bytes are a sheet that the planner printed: a text by its last line, a PDF by its keywords."""
    return _IN_PDF in raw if raw.startswith(b"%PDF-") else raw.endswith(_IN_TEXT)


def standing_sheet(path: Path) -> os.stat_result | None:
    """The sheet of ours that stands under this name, None where nothing does; raises `CannotPrint` or `OSError`."""
    try:
        found = standing_file(path, LARGEST_SHEET)
    except OddFile as odd:
        cure = "choose another name"
        said = f"that is {odd.what}"
        if odd.what == "a link":
            said, cure = "there's a link there, and printing doesn't follow links", f"{cure}, or remove the link first"
        raise CannotPrint(f"{clean(str(path))}: not printed: {said}: {cure}") from None
    if found is None:
        return None
    if len(found.raw) > LARGEST_SHEET or not is_sheet(found.raw):
        said = f"{_named(path, found.raw)} is there, and printing only replaces sheets the planner printed"
        raise CannotPrint(f"{clean(str(path))}: not printed: {said}: choose another name, or move that file first")
    return found.status


def _named(path: Path, raw: bytes) -> str:
    """What a file is that is no sheet of ours, as far as it can be told."""
    if not raw:
        return "an empty file"
    if raw.startswith(b"%PDF-"):
        return "a PDF without the planner's mark"
    if len(raw) <= LARGEST_FILE:
        with suppress(Faulty):
            if "format" in parse(path, raw).data:
                return "a project file"
    return "another file"
