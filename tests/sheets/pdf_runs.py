"""The texts of a PDF with where each stands and how large it is: what a sheet is read back with."""

import codecs
import io
import re
import struct
from functools import cache
from typing import Any, NamedTuple

from fontTools.ttLib import TTFont
from pypdf import PdfReader

_CHAR = re.compile(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")
_BLOCK = re.compile(rb"beginbfchar(.*?)endbfchar", re.S)
_RANGES = re.compile(rb"beginbfrange(.*?)endbfrange", re.S)
_RANGE = re.compile(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")
_INSIDE = rb"[^()\\]|\\."
_PAIR = rb"\((?:" + _INSIDE + rb"|\((?:" + _INSIDE + rb")*\))*\)"  # parentheses in a text stand in pairs
_TEXT = rb"\((?:" + _INSIDE + rb"|" + _PAIR + rb")*\)"
_NUMBER = rb"-?[\d.]+"
# What is done on a page, as far as texts go; pypdf's own reading of it takes many times as long.
_STEP = re.compile(
    rb"(?P<told>\[(?:[^\]()]|" + _TEXT + rb")*\]|" + _TEXT + rb")\s*T[jJ]\b|"
    rb"(?P<by>(?:" + _NUMBER + rb"\s+){6})(?P<moves>cm|Tm)\b|"
    rb"/(?P<font>\w+)\s+(?P<size>" + _NUMBER + rb")\s+Tf\b|"
    rb"(?<![\w/])(?P<alone>q|Q|BT)(?!\w)",
    re.S,
)
_RULE = re.compile(  # a box of which only the foot is drawn, as the typesetter fills it
    rb"q 1 0 0 -1 (?P<left>" + _NUMBER + rb") (?P<top>" + _NUMBER + rb") cm/c0 cs 0 scn (?P<wide>" + _NUMBER + rb") "
    + _NUMBER + rb" m (?P=wide) (?P<tall>" + _NUMBER + rb") l 0 (?P=tall) l 0 " + _NUMBER + rb" l\s+h\s+f"
)  # fmt: skip
_PIECE = re.compile(rb"(" + _TEXT + rb")|(" + _NUMBER + rb")", re.S)
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.S)
_AS_IN_PYTHON = re.compile(rb"(?:[^\\]|\\[0-7nrtbf\\])*")  # a text whose escapes are Python's too
_NAMED = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}


class Run(NamedTuple):
    """One piece of text on a page: its left and right end and its foot line, in points from the lower left.

    `right` is where the last ink ends, `ends` where the next piece would begin.
    """

    page: int
    text: str
    left: float
    right: float
    foot: float
    size: float
    ends: float


def reader(raw: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(raw))


@cache
def pages(raw: bytes, first: int | None = None) -> list[str]:
    """The text of each page, or of so many at the front, its line ends taken out."""
    texts = [""] * len(reader(raw).pages[:first])
    last: Run | None = None
    for run in runs(raw, first):
        on = last is not None and last.page == run.page and abs(last.foot - run.foot) < 1
        goes_on = on and last is not None and abs(last.ends - run.left) < 1  # another font within a word
        texts[run.page] += run.text if goes_on else f" {run.text}"
        last = run
    return [" ".join(text.split()) for text in texts]


def words(raw: bytes) -> str:
    """All text of all pages, without the places to break, for looking things up in it."""
    return " ".join(" ".join(pages(raw)).replace("\u200b", "").split())


def together(text: str) -> str:
    """Without any space: a word broken over two lines, or over two cells, is found all the same."""
    return "".join(text.replace("\u200b", "").split())


@cache
def runs(raw: bytes, first: int | None = None) -> list[Run]:
    pdf = reader(raw)
    return [run for number, page in enumerate(pdf.pages[:first]) for run in _page(number, page)]


def _page(number: int, page: Any) -> list[Run]:
    fonts = {name[1:]: _Font(font.get_object()) for name, font in page["/Resources"].get("/Font", {}).items()}
    found: list[Run] = []
    matrix, kept = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), []
    text, font, size = matrix, None, 0.0
    for step in _STEP.finditer(page.get_contents().get_data()):
        operator = step["alone"] or step["moves"] or (b"Tf" if step["font"] else b"TJ")
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"BT":
            text = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
        elif operator == b"cm":
            matrix = _times(tuple(map(float, step["by"].split())), matrix)
        elif operator == b"Tm":
            text = tuple(map(float, step["by"].split()))
        elif operator == b"Tf":
            font, size = fonts[step["font"].decode()], float(step["size"])
        else:
            said, wide, whole = font.read(_PIECE.findall(step["told"]))
            a, b, c, d, e, f = _times(text, matrix)
            scale = size / 1000 * a
            found.append(Run(number, said, e, e + wide * scale, f, size * abs(d), e + whole * scale))
            text = _times((1.0, 0.0, 0.0, 1.0, whole * size / 1000, 0.0), text)
    return found


class Rule(NamedTuple):
    """A line under a blank, in points from the lower left."""

    page: int
    left: float
    right: float
    at: float


@cache
def rules(raw: bytes) -> list[Rule]:
    """Every line under a blank."""
    found = []
    for number, page in enumerate(reader(raw).pages):
        for step in _RULE.finditer(page.get_contents().get_data()):
            left, top, wide, tall = (float(step[name]) for name in ("left", "top", "wide", "tall"))
            found.append(Rule(number, left, left + wide, top - tall))
    return found


def capitals(raw: bytes) -> dict[str, float]:
    """How high an H is in each font that the PDF carries, in the size of its letters, by its own outline."""
    found: dict[str, float] = {}
    for page in reader(raw).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            name = str(inner["/BaseFont"]).partition("+")[2]
            told = {glyph: code for glyph, code in _Font(font.get_object()).characters.items() if code in "EFHIT"}
            if "/FontFile2" in inner["/FontDescriptor"].get_object():
                carried = inner["/FontDescriptor"].get_object()["/FontFile2"].get_object().get_data()
                outlines = TTFont(io.BytesIO(carried))
                tall = [outlines["glyf"][outlines.getGlyphName(glyph)].yMax for glyph in told]
                if tall:
                    found[name] = min([*tall, *([found[name]] if name in found else [])])
    return {name: tall / 1000 for name, tall in found.items()}


class _Font:
    """A font's widths and its characters by glyph."""

    def __init__(self, font: Any) -> None:
        inner = font["/DescendantFonts"][0].get_object()
        self.default = float(inner.get("/DW", 1000))
        self.widths: dict[int, float] = {}
        listed = [one.get_object() for one in inner["/W"]]
        at = 0
        while at < len(listed):
            if isinstance(listed[at + 1], list):
                self.widths |= {int(listed[at]) + k: float(w) for k, w in enumerate(listed[at + 1])}
                at += 2
            else:
                self.widths |= {g: float(listed[at + 2]) for g in range(int(listed[at]), int(listed[at + 1]) + 1)}
                at += 3
        self.characters: dict[int, str] = {}
        table = font["/ToUnicode"].get_object().get_data()
        for block in _BLOCK.findall(table):
            for glyph, code in _CHAR.findall(block):
                self.characters[int(glyph, 16)] = bytes.fromhex(code.decode()).decode("utf-16-be")
        for block in _RANGES.findall(table):
            for first, last, code in _RANGE.findall(block):
                for step, glyph in enumerate(range(int(first, 16), int(last, 16) + 1)):
                    self.characters[glyph] = chr(int(code, 16) + step)

        self.drawn: dict[int, tuple[str, float, bool]] = {}

    def glyph(self, glyph: int) -> tuple[str, float, bool]:
        """Its character, its width, and whether there is ink in it."""
        character = self.characters.get(glyph)
        found = character or "", self.widths.get(glyph, self.default), bool((character or "x").strip("\u200b "))
        return self.drawn.setdefault(glyph, found)

    def read(self, pieces: list[tuple[bytes, bytes]]) -> tuple[str, float, float]:
        """The text, its width without the spaces at its end, and with them."""
        said, wide, inked, drawn = [], 0.0, 0.0, self.drawn
        for text, closer in pieces:
            if closer:
                wide -= float(closer)
                continue
            for glyph in _glyphs(text[1:-1]):
                character, width, ink = drawn.get(glyph) or self.glyph(glyph)
                said.append(character)
                wide += width
                if ink:
                    inked = wide
        return "".join(said), inked, wide


def _glyphs(text: bytes) -> tuple[int, ...]:
    """Two bytes each."""
    plain = _AS_IN_PYTHON.fullmatch(text)
    raw = codecs.escape_decode(text)[0] if plain else _ESCAPE.sub(_escaped, text)
    return struct.unpack(f">{len(raw) // 2}H", raw)


def _escaped(found: re.Match[bytes]) -> bytes:
    what = found[1]
    return bytes([int(what, 8)]) if what.isdigit() else _NAMED.get(what, what)


def _times(one: Any, other: Any) -> Any:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)
