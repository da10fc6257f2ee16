"""A sheet as a PDF: its blocks handed to the template as plain data, so that no text on it is ever read as markup.

The fonts are those inside the typesetter and our own sans serif, so that the same sheet comes out with the same bytes
everywhere. What they cannot show is printed as a visible escape.
"""

import json
import re
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Literal

from planner.quantities.text import clean, cut
from planner.sheets.blocks import MARK, DrawingBlock, Heading, Hold, Photos, Sheet, plainly
from planner.sheets.kind import CannotPrint
from planner.sheets.photo_setting import beside_photos, photos_for_template, without_unreadable
from planner.sheets.reading_distance import BETWEEN, EDGE, WallLayout, fitted

Paper = Literal["a4", "letter", "a3", "tabloid"]
SIZES: dict[str, tuple[float, float]] = {  # pt, upright
    "a4": (595.28, 841.89),
    "letter": (612.0, 792.0),
    "a3": (841.89, 1190.55),
    "tabloid": (792.0, 1224.0),
}
PAPERS: tuple[Paper, ...] = ("a4", "letter")  # for any sheet
WALL_PAPERS: tuple[Paper, ...] = (*PAPERS, "a3", "tabloid")
MARGIN = 45.0  # pt
STANDARDS = ("a-2a", "ua-1")  # in these a missing glyph is an error, never an empty box on the paper
TEMPLATE = Path(__file__).with_name("sheet.typ")
WALL_TEMPLATE = Path(__file__).with_name("wall.typ")
FONTS = Path(__file__).with_name("fonts")
SANS, PLAIN = "Source Sans Pro", "DejaVu Sans Mono"
_TYPESETTER_NAMES = {"letter": "us-letter", "tabloid": "us-tabloid"}
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
    if any(isinstance(one, Photos) for one in sheet.blocks):
        return {}  # no task stands on it, and its photos would be laid out once more

    def asked(typst: Any, given: dict[str, Any]) -> Any:
        return typst.query(selector="<step>", field="value", **given)

    return {str(id_): int(page) for id_, page in json.loads(_set(sheet, paper, asked))}


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
    data = plain(sheet, paper)
    with beside_photos(sheet, template(sheet)) as laid:
        for _ in range(3):
            given = {"input": laid, "root": laid.parent, "font_paths": [FONTS], "ignore_system_fonts": True}
            try:
                return ask(typst, given | {"sys_inputs": {"sheet": json.dumps(data, ensure_ascii=False)}})
            except typst.TypstError as error:
                lost = _lost(str(error.diagnostic))
                others = None if lost else without_unreadable(sheet, typst, laid, STANDARDS)
                if others is not None:
                    return _set(others, paper, ask)
                if not lost:
                    raise
                data = _escaped(data, lost)
    raise CannotPrint("there's text no font can show; print it as plain text", as_text=True)


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


def template(sheet: Sheet) -> Path:
    return TEMPLATE if sheet.read_from is None else WALL_TEMPLATE


def plain(sheet: Sheet, paper: Paper) -> dict[str, Any]:
    """All that the template reads: texts cleaned, with places to break, and pictures drawn to the paper's width.

    Raises `CannotPrint` where the paper is none for this sheet.
    """
    wide = SIZES[paper][0] - 2 * MARGIN
    data = sheet._asdict() | {
        "paper": _TYPESETTER_NAMES.get(paper, paper),
        "sans": SANS,
        "plain": PLAIN,
        "wall": _wall(sheet, paper),
        "on": sheet.on.isoformat(),
        "named": sheet.named,
        "mark": MARK,
        "margin": MARGIN,
        "blocks": list(_blocks(sheet, wide)),
    }
    del data["rested_on"], data["read_from"]
    made: dict[str, Any] = _each_text(data, breakable)
    return made


def laid_out(sheet: Sheet, paper: Paper) -> WallLayout | None:
    """How a wall sheet lies on its paper, None for any other sheet; raises `CannotPrint` where the paper won't do."""
    if sheet.read_from is not None:
        return fitted(sheet.read_from, paper, SIZES[paper])
    if paper not in PAPERS:
        raise CannotPrint(f"paper {paper}: only the wall sheet goes on it; accepted: {', '.join(PAPERS)}")
    return None


def _wall(sheet: Sheet, paper: Paper) -> dict[str, Any] | None:
    laid = laid_out(sheet, paper)
    if laid is None or sheet.read_from is None:
        return None
    return laid._asdict() | {
        "truck": cut(clean(sheet.truck), 60),
        "reason": cut(clean("".join(sheet.reasons[:1])), 68),
        "says": sheet.read_from.says,
        "edge": EDGE,
        "between": BETWEEN,
    }


def _blocks(sheet: Sheet, wide: float) -> Iterator[dict[str, Any]]:
    """The blocks; a heading's `depth` never skips a level, which whoever hears the sheet read would stumble over."""
    depth = 0
    for one in sheet.blocks:
        if isinstance(one, DrawingBlock):
            from planner.sheets.drafting import drafted  # a sheet of tasks has none

            picture = drafted(one.picture, wide, one.tall, one.scaled)
            yield {"type": "drawing", "note": one.note, "scaled": one.scaled, "picture": picture}
        elif isinstance(one, Photos):
            yield photos_for_template(one, wide)
        elif isinstance(one, Heading):
            depth = min(one.level, depth + 1)
            yield plainly(one) | {"depth": depth}
        elif isinstance(one, Hold):
            yield plainly(one) | {"words": one.words}
        else:
            yield plainly(one)


def breakable(text: str) -> str:
    """A text made harmless, with a place to break in every word that is longer than a narrow column."""
    return _LONG.sub(lambda word: _RUN.sub(rf"\g<0>{BREAK}", _JOINT.sub(BREAK, word[0])), clean(text))


def _each_text(data: Any, change: Callable[[str], str]) -> Any:
    """The data with every text in it changed, except for ids, by which places on the paper are found."""
    if isinstance(data, str):
        return change(data)
    if isinstance(data, dict):
        return {name: value if name == "id" else _each_text(value, change) for name, value in data.items()}
    return [_each_text(value, change) for value in data] if isinstance(data, (list, tuple)) else data


def _lost(diagnostic: str) -> set[str]:
    """Every character that the typesetter says it has no glyph for; what only combines with one of ours is ours."""
    return {mark for text in _MISSING.findall(diagnostic) for mark in _characters(text) if not mark.isascii()}


def _characters(quoted: str) -> str:
    text = _DEBUG.sub(lambda code: chr(int(code[1], 16)), quoted)
    return text.replace('\\"', '"').replace("\\\\", "\\")


def _escaped(data: Any, lost: set[str]) -> Any:
    """The data with a visible escape for each of these characters."""
    escapes = {ord(mark): _named(mark) for mark in lost}
    return _each_text(data, lambda text: text.translate(escapes))


def _named(mark: str) -> str:
    return f"\\u{ord(mark):04x}" if ord(mark) <= 0xFFFF else f"\\U{ord(mark):08x}"
