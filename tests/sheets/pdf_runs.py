"""The texts of a PDF with where each stands and how large it is: what a sheet is read back with."""

import io
import re
from functools import cache
from typing import Any, NamedTuple

from pypdf import PdfReader
from pypdf.generic import ContentStream

_CHAR = re.compile(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")
_BLOCK = re.compile(rb"beginbfchar(.*?)endbfchar", re.S)
_RANGES = re.compile(rb"beginbfrange(.*?)endbfrange", re.S)
_RANGE = re.compile(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")


class Run(NamedTuple):
    """One piece of text on a page: its left and right end and its foot line, in points from the lower left."""

    page: int
    text: str
    left: float
    right: float
    foot: float
    size: float


def reader(raw: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(raw))


@cache
def pages(raw: bytes) -> list[str]:
    """The text of each page, its line ends taken out."""
    return [" ".join(page.extract_text().split()) for page in reader(raw).pages]


def words(raw: bytes) -> str:
    """All text of all pages, without the places to break, for looking things up in it."""
    return " ".join(" ".join(pages(raw)).replace("\u200b", "").split())


def together(text: str) -> str:
    """Without any space: a word broken over two lines, or over two cells, is found all the same."""
    return "".join(text.replace("\u200b", "").split())


@cache
def runs(raw: bytes) -> list[Run]:
    pdf = reader(raw)
    return [run for number, page in enumerate(pdf.pages) for run in _page(number, page, pdf)]


def _page(number: int, page: Any, pdf: PdfReader) -> list[Run]:
    fonts = {name: _Font(font.get_object()) for name, font in page["/Resources"].get("/Font", {}).items()}
    found: list[Run] = []
    matrix, kept = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), []
    text, font, size = matrix, None, 0.0
    for operands, operator in ContentStream(page.get_contents(), pdf).operations:
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = _times(tuple(map(float, operands)), matrix)
        elif operator == b"BT":
            text = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
        elif operator == b"Tm":
            text = tuple(map(float, operands))
        elif operator == b"Tf":
            font, size = fonts[operands[0]], float(operands[1])
        elif operator in (b"Tj", b"TJ"):
            pieces = operands[0] if operator == b"TJ" else [operands[0]]
            said, wide, whole = font.read(pieces)
            a, b, c, d, e, f = _times(text, matrix)
            found.append(Run(number, said, e, e + wide * size / 1000 * a, f, size * abs(d)))
            text = _times((1.0, 0.0, 0.0, 1.0, whole * size / 1000, 0.0), text)
    return found


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

    def read(self, pieces: Any) -> tuple[str, float, float]:
        """The text, its width without the spaces at its end, and with them."""
        said, wide, inked = "", 0.0, 0.0
        for piece in pieces:
            if isinstance(piece, (int, float)):
                wide -= float(piece)
                continue
            raw = piece.original_bytes if hasattr(piece, "original_bytes") else bytes(piece)
            for at in range(0, len(raw), 2):
                glyph = int.from_bytes(raw[at : at + 2], "big")
                said += self.characters.get(glyph, "")
                wide += self.widths.get(glyph, self.default)
                inked = wide if self.characters.get(glyph, "x").strip("\u200b ") else inked
        return said, inked, wide


def _times(one: Any, other: Any) -> Any:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)
