"""What each figure was checked against: the rows of tests/published, counted by standing."""

import csv
import re
from collections import Counter
from pathlib import Path
from typing import NamedTuple

from planner.worksheet.catalog import Catalog

# How a row's value was had, the strongest first, in the words of the `standing` column.
STANDINGS = {
    "read": "read in the publication or in a faithful copy of it",
    "read in a secondary page": "read in a page that repeats the publication",
    "reference library": "worked out by a general library that is not ours",
    "worked by hand": "worked out by hand, the sum standing beside it: the formula is computed as meant",
    "transcribed": "a cell of the planner's own table once more: the table is read right, and that is all",
    "common practice": "what the trade goes by; no standard says it",
    "from memory": "known from memory; nobody here had the publication open",
}
OUTSIDE = ("read", "read in a secondary page", "reference library")  # what somebody else has worked out

MEMORY = "from memory"
PUBLISHED = (*OUTSIDE, MEMORY)
LIBRARIES_FILE = "libraries.csv"


class PublishedRow(NamedTuple):
    """One check: what goes in, what comes out, and where that is from."""

    inputs: tuple[tuple[str, str], ...]
    part: str
    expected: str
    unit: str
    source: str
    standing: str


class LibraryCheck(NamedTuple):
    """A figure that a general library answers too: which one, how, and in which test."""

    library: str
    how: str
    test: str


Rows = dict[str, list[PublishedRow]]
LibraryChecks = dict[str, list[LibraryCheck]]


def read_rows(folder: Path, catalog: Catalog) -> Rows:
    """Every row below `folder` by the node of its figure, the strongest standing first."""
    rows: Rows = {}
    for path in sorted(folder.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            reader = csv.DictReader(file)
            if not {"figure", "standing"} <= set(reader.fieldnames or ()):
                continue  # a table of another kind
            for line in reader:
                node = catalog.named(line["figure"])
                if node is not None:
                    rows.setdefault(node, []).append(_row(line))
    order = list(STANDINGS)
    for checks in rows.values():
        checks.sort(key=lambda row: order.index(row.standing))
    return rows


def read_libraries(folder: Path, catalog: Catalog) -> LibraryChecks:
    """What libraries answer, by the node of the figure."""
    checks: LibraryChecks = {}
    path = folder / LIBRARIES_FILE
    if not path.exists():
        return checks
    with path.open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            node = catalog.named(line["figure"])
            if node is not None:
                checks.setdefault(node, []).append(LibraryCheck(line["library"], line["how"], line["test"]))
    return checks


def best_outside(rows: list[PublishedRow], libraries: list[LibraryCheck]) -> str:
    """What somebody else has worked out, the strongest of it: a publication before a library; empty for none."""
    outside = next((row for row in rows if row.standing in OUTSIDE), None)
    if outside is not None:
        return f"{document(outside)} ({outside.standing})"
    return f"{libraries[0].library}: {libraries[0].how}" if libraries else ""


def _row(line: dict[str, str]) -> PublishedRow:
    pairs = [pair.strip().partition("=") for pair in line["inputs"].split(" ; ")]
    inputs = tuple((key, value) for key, _, value in pairs)
    return PublishedRow(inputs, line["part"], line["expected"], line["unit"], line["source"], line["standing"])


def by_standing(rows: list[PublishedRow]) -> Counter[str]:
    """How many rows there are of each standing."""
    return Counter(row.standing for row in rows)


def counted(rows: list[PublishedRow]) -> str:
    """The rows in a few words: `3 read, 1 worked by hand`."""
    counts = by_standing(rows)
    return ", ".join(f"{counts[one]} {one}" for one in STANDINGS if counts[one]) or "no row; the room's own tests only"


def document(row: PublishedRow) -> str:
    """The publication or library by its name, which stands before the place in it; empty for a sum by hand."""
    return re.split(r"[:,] ", row.source)[0] if row.standing in PUBLISHED else ""


def publications(rows: Rows) -> dict[str, Counter[str]]:
    """By publication or library, how many rows of each standing it gave."""
    found: dict[str, Counter[str]] = {}
    for row in (row for checks in rows.values() for row in checks if document(row)):
        found.setdefault(document(row), Counter())[row.standing] += 1
    return found
