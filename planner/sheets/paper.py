"""A sheet as a PDF: its blocks handed to the template as plain data, so that no text on it is ever read as markup.

The fonts are those inside the typesetter, so that the same sheet comes out with the same bytes everywhere. What they
cannot show is printed as a visible escape.
"""

import json
import re
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

from planner.project.faults import why
from planner.quantities.text import clean
from planner.sheets.blocks import (
    MARK,
    Block,
    DrawingBlock,
    Heading,
    Hold,
    Photo,
    Photos,
    Sheet,
    TaskBlock,
    Tick,
    plainly,
)
from planner.sheets.drafting import drafted
from planner.sheets.kind import CannotPrint
from planner.sheets.picture_data import PictureData

Paper = Literal["a4", "letter"]
SIZES: dict[str, tuple[float, float]] = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}  # pt
MARGIN = 45.0  # pt
TALLEST = 200.0  # pt, of a photo
STANDARDS = ("a-2a", "ua-1")  # in these a missing glyph is an error, never an empty box on the paper
TEMPLATE = Path(__file__).with_name("sheet.typ")
BREAK = "\u200b"  # a place where a word may be broken
_LONG = re.compile(r"[^\s\u200b]{19,}")
_JOINT = re.compile(r"(?<=[._/\-,;:=])(?=[^\s._/\-,;:=])")
_RUN = re.compile(r"[^\s\u200b]{12}(?=[^\s\u200b]{4})")
_MISSING = re.compile(r'the text `"((?:[^"\\]|\\.)*)"` could not be displayed')
_DEBUG = re.compile(r"\\u\{([0-9a-f]+)\}")


def pdf(sheet: Sheet, paper: Paper = "a4", at: datetime | None = None) -> bytes:
    """The sheet as a tagged PDF, made `at` a moment or on its own date; raises `CannotPrint` without a typesetter."""
    return _compiled(sheet, paper, at or _midnight(sheet.on), "pdf")[0]


def step_pages(sheet: Sheet, paper: Paper = "a4") -> dict[str, int]:
    """The page on which each task of the sheet stands, by its id; quick once the sheet was set."""

    if not any(tick.id for block in sheet.blocks for tick in _ticks(block)):
        return {}

    def asked(typst: Any, given: dict[str, Any]) -> Any:
        return typst.query(selector="<step>", field="value", **given)

    return {str(id_): int(page) for id_, page in json.loads(_set(sheet, paper, asked))}


def _ticks(block: Block) -> tuple[Tick, ...]:
    step = block.step if isinstance(block, Hold) else block
    return step.ticks if isinstance(step, TaskBlock) else ()


def pictures(sheet: Sheet, paper: Paper = "a4", form: Literal["svg", "png"] = "svg", ppi: float = 96) -> list[bytes]:
    """Each page of the sheet as a picture: for screens, for tests, and for pages that tell of it."""
    return _compiled(sheet, paper, _midnight(sheet.on), form, ppi)


def _compiled(
    sheet: Sheet, paper: Paper, at: datetime, form: Literal["pdf", "svg", "png"], ppi: float = 96
) -> list[bytes]:
    def compiled(typst: Any, given: dict[str, Any]) -> Any:
        standards = list(STANDARDS) if form == "pdf" else []
        return typst.compile(format=form, ppi=ppi, timestamp=int(at.timestamp()), pdf_standards=standards, **given)

    made = _set(sheet, paper, compiled)
    return made if isinstance(made, list) else [made]


def _set(sheet: Sheet, paper: Paper, ask: Callable[[Any, dict[str, Any]], Any]) -> Any:
    """What the typesetter answers of the sheet, each character that no font has put there as its escape."""
    typst = _typesetter()
    with _laid_out(sheet) as template:
        data = plain(sheet, paper)
        for _ in range(3):
            given = {"input": template, "root": template.parent, "ignore_system_fonts": True}
            try:
                return ask(typst, given | {"sys_inputs": {"sheet": json.dumps(data, ensure_ascii=False)}})
            except typst.TypstError as error:
                lost = _lost(str(error.diagnostic))
                unset = set() if lost else _unset(typst, template.parent)
                if unset:
                    return _set(_without(sheet, unset), paper, ask)
                if not lost:
                    raise
                data = _escaped(data, lost)
    raise CannotPrint("there's text no font can show; print it as plain text", as_text=True)


def _unset(typst: Any, folder: Path) -> set[str]:
    """The photos in the folder that the typesetter cannot read, each tried alone."""
    found = set()
    for path in folder.iterdir() if folder != TEMPLATE.parent else ():
        if path.suffix in (".jpg", ".png"):
            text = f'#set document(title: "photo")\n#image("{path.name}", width: 10pt, alt: "photo")'
            trial = path.with_suffix(".typ")
            trial.write_text(text, encoding="utf-8")
            try:
                typst.compile(trial, root=folder, ignore_system_fonts=True, pdf_standards=list(STANDARDS))
            except typst.TypstError:
                found.add(path.name)
    return found


def _without(sheet: Sheet, unset: set[str]) -> Sheet:
    """The sheet with these photos told of instead."""

    def left(photo: Photo) -> Photo:
        bad = photo.picture is not None and _file_of(photo.picture) in unset
        return photo._replace(picture=None, trouble="the typesetter can't read it") if bad else photo

    told = (Photos(tuple(map(left, one.rows))) if isinstance(one, Photos) else one for one in sheet.blocks)
    return sheet._replace(blocks=tuple(told))


@contextmanager
def _laid_out(sheet: Sheet) -> Iterator[Path]:
    """The template; beside the photos of the sheet, where it has any, since the typesetter reads no other folder."""
    found = [one.picture for block in sheet.blocks if isinstance(block, Photos) for one in block.rows if one.picture]
    if not found:
        yield TEMPLATE
        return
    try:
        folder = TemporaryDirectory(prefix="planner-")
    except OSError as error:
        raise CannotPrint(f"there's no room for the photos: {why(error)}", as_text=True) from None
    with folder as name:
        try:
            for picture in found:
                Path(name, _file_of(picture)).write_bytes(picture.raw)
            shutil.copyfile(TEMPLATE, Path(name, TEMPLATE.name))
        except OSError as error:
            raise CannotPrint(f"there's no room for the photos: {why(error)}", as_text=True) from None
        yield Path(name, TEMPLATE.name)


def _typesetter() -> Any:
    try:
        import typst
    except ImportError:
        raise CannotPrint(
            "PDF needs the typst package (pip install typst); without it you can print a sheet as plain text",
            as_text=True,
        ) from None
    return typst


def _midnight(on: date) -> datetime:
    return datetime(on.year, on.month, on.day, tzinfo=UTC)


def plain(sheet: Sheet, paper: Paper) -> dict[str, Any]:
    """All that the template reads: texts cleaned, with places to break, and pictures drawn to the paper's width."""
    wide = SIZES[paper][0] - 2 * MARGIN
    data = sheet._asdict() | {
        "paper": "us-letter" if paper == "letter" else "a4",
        "on": sheet.on.isoformat(),
        "named": sheet.named,
        "mark": MARK,
        "margin": MARGIN,
        "blocks": list(_blocks(sheet, wide)),
    }
    del data["rested_on"]
    made: dict[str, Any] = _broken(data)
    return made


def _blocks(sheet: Sheet, wide: float) -> Iterator[dict[str, Any]]:
    """The blocks; a heading's `depth` never skips a level, which whoever hears the sheet read would stumble over."""
    depth = 0
    for one in sheet.blocks:
        if isinstance(one, DrawingBlock):
            yield {"type": "drawing", "note": one.note, "picture": drafted(one.picture, wide, one.tall)}
        elif isinstance(one, Photos):
            yield {"type": "photos", "rows": [_photo(photo, wide / 2 - 6) for photo in one.rows]}
        elif isinstance(one, Heading):
            depth = min(one.level, depth + 1)
            yield plainly(one) | {"depth": depth}
        elif isinstance(one, Hold):
            yield plainly(one) | {"words": one.words}
        else:
            yield plainly(one)


def _photo(photo: Photo, wide: float) -> dict[str, Any]:
    """A photo by the name of its file, as high as its width allows."""
    if photo.picture is None:
        return {"id": "", "tall": 0, "says": photo.says}
    tall = min(TALLEST, wide * photo.picture.tall / photo.picture.wide)
    return {"id": _file_of(photo.picture), "tall": tall, "says": photo.says}


def _file_of(picture: PictureData) -> str:
    return sha256(picture.raw).hexdigest() + picture.ending


def breakable(text: str) -> str:
    """A text made harmless, with a place to break in every word that is longer than a narrow column."""
    return _LONG.sub(lambda word: _RUN.sub(rf"\g<0>{BREAK}", _JOINT.sub(BREAK, word[0])), clean(text))


def _broken(data: Any) -> Any:
    if isinstance(data, str):
        return breakable(data)
    if isinstance(data, dict):
        return {name: value if name == "id" else _broken(value) for name, value in data.items()}
    return [_broken(value) for value in data] if isinstance(data, (list, tuple)) else data


def _lost(diagnostic: str) -> set[str]:
    """Every character that the typesetter says it has no glyph for; what only combines with one of ours is ours."""
    return {mark for text in _MISSING.findall(diagnostic) for mark in _characters(text) if not mark.isascii()}


def _characters(quoted: str) -> str:
    text = _DEBUG.sub(lambda code: chr(int(code[1], 16)), quoted)
    return text.replace('\\"', '"').replace("\\\\", "\\")


def _escaped(data: Any, lost: set[str]) -> Any:
    """The data with a visible escape for each of these characters."""
    if isinstance(data, str):
        return "".join(_named(mark) if mark in lost else mark for mark in data) if lost & set(data) else data
    if isinstance(data, dict):
        return {name: value if name == "id" else _escaped(value, lost) for name, value in data.items()}
    return [_escaped(value, lost) for value in data] if isinstance(data, list) else data


def _named(mark: str) -> str:
    return f"\\u{ord(mark):04x}" if ord(mark) <= 0xFFFF else f"\\U{ord(mark):08x}"
