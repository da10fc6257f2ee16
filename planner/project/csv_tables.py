"""Tables as CSV: written so that no cell starts a formula, read as spreadsheets save them.

What is written says of itself that it is ours: the last head is `planner:` and a digest of all the rest. So a file that
somebody else wrote, or changed since, is told from one that may be replaced.
"""

import csv
import hashlib
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, Literal, NamedTuple

from planner.project.faults import Fault, Faulty, plain
from planner.quantities.text import clean, normal_name

MOST_ROWS = 2_000
LONGEST_CELL = 4_096
MARK = "planner:"
_BLANK = "0" * 16
_MARKED = re.compile(rb"planner:([0-9a-f]{16})(?=\r?\n)")
_FIGURES = 9  # of a number: what a tape reads has five, and float arithmetic leaves its dust behind the fifteenth
_BYTE_ORDER_MARK = "\ufeff"

# A spreadsheet takes a cell for a formula by its first mark; one that parts cells at semicolons, also behind those, and
# there it takes a quotation mark for the beginning of a quoted cell.
_FORMULA = r"\"*(?:\s*[=+\-@\uff0b\uff0d\uff1d\uff20]|[\t\r\n])"
_STARTS = re.compile(rf"(^|;)('*)(?={_FORMULA})")
_MADE_HARMLESS = re.compile(rf"(^|;)'('*)(?={_FORMULA})")
_NUMBER = re.compile(r"-?\d+(\.\d+)?")


class CsvRow(NamedTuple):
    """One row that was read: its line in the file, and what stands in it under each head that is known.

    `fault` is what is wrong with it as a row, whatever stands in it; `apart` is what parts the cells of its table.
    """

    line: int
    cells: Mapping[str, str]
    fault: Fault | None = None
    apart: str = ","


def harmless(text: str) -> str:
    """A text as a cell that no spreadsheet takes for a formula; a negative number stays one.

    >>> harmless("=1+1"), harmless("-7 in"), harmless("-0.5"), harmless("'=1")
    ("'=1+1", "'-7 in", '-0.5', "''=1")
    """
    return text if _NUMBER.fullmatch(text) else _STARTS.sub(r"\1'\2", text)


def as_it_was(cell: str) -> str:
    """The text that was made harmless.

    >>> as_it_was("'-7 in"), as_it_was("''=1"), as_it_was("'tis")
    ('-7 in', "'=1", "'tis")
    """
    return _MADE_HARMLESS.sub(r"\1\2", cell)


def csv_bytes(heads: Sequence[str], rows: Iterable[Sequence[Any]]) -> bytes:
    """The table as UTF-8 with the mark by which spreadsheets know that, and with our own."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*heads, f"{MARK}{_BLANK}"])
    writer.writerows([*map(_cell, row), ""] for row in rows)
    raw = f"{_BYTE_ORDER_MARK}{out.getvalue()}".encode()
    return raw.replace(f"{MARK}{_BLANK}".encode(), f"{MARK}{_digest(raw)}".encode(), 1)


def whose(raw: bytes) -> Literal["ours", "changed", "another"]:
    """Whether the program wrote these bytes, wrote them and they were changed since, or never did."""
    head, end, rest = raw.partition(b"\n")
    found = _MARKED.search(head + end)
    if found is None:
        return "changed" if MARK.encode() in head else "another"
    blank = head[: found.start(1)] + _BLANK.encode() + head[found.end(1) :] + end + rest
    return "ours" if _digest(blank).encode() == found[1] else "changed"


def read_csv(path: Path, raw: bytes, heads: Mapping[str, str], required: Sequence[Sequence[str]]) -> list[CsvRow]:
    """The rows of a table with these heads, each by the name under which it is known; raises `Faulty` where it is no
    such table. Of each of `required` one has to be there.
    """
    text = _decoded(path, raw)
    lines = list(io.StringIO(text, newline=""))
    first = next((at for at, line in enumerate(lines) if line.strip(" \t\r\n,;")), None)
    if first is None:
        raise Faulty(
            path, (Fault("the file is empty", accepted=f"a heading row such as {', '.join(dict.fromkeys(heads))}"),)
        )
    apart, said = _separator(lines[first], heads)
    rows = list(_rows(path, lines[first + said :], first + said, apart))
    if not rows:
        raise Faulty(path, (Fault("there's no heading row"),))
    (line, head), *body = rows
    columns = _columns(path, line, head, heads, required)
    if len(body) > MOST_ROWS:
        raise Faulty(path, (Fault(f"{len(body)} rows", accepted=f"{MOST_ROWS:,} at most; split the file"),))
    found: list[CsvRow] = []
    for line, cells in body:
        if any(cell.strip() for cell in cells):
            pairs = zip(columns, cells, strict=False)
            texts = {name: as_it_was(cell).strip() for name, cell in pairs if name}
            found.append(CsvRow(line, texts, _row_fault(line, cells, columns), apart))
    return found


def _cell(value: Any) -> str:
    """What stands in a cell: a number to nine figures, a text that starts no formula."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value + 0.0:.{_FIGURES}g}"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, (int, date)):
        return str(value)
    if isinstance(value, (list, tuple)):
        return harmless("; ".join(clean(str(one)) for one in value))
    return harmless(clean(str(value)))


def _digest(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()[: len(_BLANK)]


def _decoded(path: Path, raw: bytes) -> str:
    """The text, by the mark at its beginning; an encoding that has none but UTF-8 could be any."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            text = raw.decode("utf-16")
        except UnicodeDecodeError:
            raise Faulty(path, (Fault("the file is cut off in the middle of a letter"),)) from None
    elif b"\0" in raw and 3 * raw.count(b"\0") >= len(raw):
        told = "the file is UTF-16 without the mark that says so"
        raise Faulty(path, (Fault(told, accepted="'CSV UTF-8', as spreadsheets save it"),))
    else:
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = raw.count(b"\n", 0, error.start) + 1
            read = raw.split(b"\n")[line - 1].decode("latin-1").strip()
            told = "a letter that isn't UTF-8: the file is Latin-1, Windows-1252 or another old encoding"
            accepted = "save it again as 'CSV UTF-8'"
            raise Faulty(path, (Fault(told, line=line, read=read, accepted=accepted),)) from None
    at = text.find("\0")
    if at >= 0:
        line = text.count("\n", 0, at) + 1
        raise Faulty(path, (Fault("a NUL: this isn't text", line=line, accepted="'CSV UTF-8'"),))
    return text


def _separator(line: str, heads: Mapping[str, str]) -> tuple[str, int]:
    """What the cells are parted by, and how many lines say so: the mark by which most heads are known."""
    said = re.fullmatch(r"\"?sep=(.)\"?\s*", line)
    if said:
        return said[1], 1

    def known(apart: str) -> int:
        return sum(_head(cell) in heads for cell in next(csv.reader([line], delimiter=apart), ()))

    return max(",;\t", key=known), 0


def _rows(path: Path, lines: Sequence[str], before: int, apart: str) -> Iterator[tuple[int, list[str]]]:
    """Each row with the line on which it begins."""
    reader = csv.reader(lines, delimiter=apart, strict=True)
    line = before + 1
    try:
        for cells in reader:
            yield line, cells
            line = before + reader.line_num + 1
    except csv.Error:
        told = "the quotes around a cell don't close, or something comes after them"
        accepted = 'a quote in a cell twice, such as "5 1/2"""'
        raise Faulty(path, (Fault(told, line=line, accepted=accepted),)) from None


def _head(cell: str) -> str:
    return normal_name(cell).casefold()


def _columns(
    path: Path, line: int, head: Sequence[str], heads: Mapping[str, str], required: Sequence[Sequence[str]]
) -> list[str]:
    """For each column the name under which it is known; empty for one without a head, or with our mark."""
    named = [_head(cell) for cell in head]
    columns = ["" if name.startswith(MARK) else heads.get(name, "") for name in named]
    knows = f"these columns: {', '.join(heads)}"
    strange = [plain(cell) for cell, name in zip(head, named, strict=True) if name and name not in heads]
    strange = [cell for cell in strange if not _head(cell).startswith(MARK)]
    if strange:
        said = "there's no such column" if len(strange) == 1 else "there are no such columns"
        raise Faulty(path, (Fault(said, line=line, read=", ".join(strange[:6]), accepted=knows),))
    twice = next((name for at, name in enumerate(columns) if name and name in columns[:at]), "")
    if twice:
        raise Faulty(path, (Fault(f"two columns are '{twice}'", line=line, accepted=knows),))
    missing = next((names for names in required if not set(names) & set(columns)), ())
    if missing:
        raise Faulty(path, (Fault(f"there's no column '{missing[0]}'", line=line, accepted=knows),))
    return columns


def _row_fault(line: int, cells: Sequence[str], columns: Sequence[str]) -> Fault | None:
    """What is wrong with a row as such: too many cells, a cell that is too long, or marks that are no text."""
    if any(cell.strip() for cell in cells[len(columns) :]):
        told = f"{len(cells)} cells under {len(columns)} headings"
        return Fault(told, line=line, read=plain(cells[-1]), accepted="a cell with a comma in it in quotes")
    for cell in cells:
        if len(cell) > LONGEST_CELL:
            return Fault("a cell is too long", line=line, read=plain(cell), accepted=f"{LONGEST_CELL:,} characters")
        if clean(cell.strip()) != cell.strip():
            return Fault("a cell has marks that aren't text", line=line, read=plain(cell), accepted="one line of text")
    return None
