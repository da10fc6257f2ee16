"""The rows of tests/published/*.csv: one published or worked value each, with its citation."""

import csv
from collections.abc import Iterator
from pathlib import Path

FOLDER = Path(__file__).parent / "published"
COLUMNS = ["figure", "inputs", "part", "expected", "unit", "tolerance", "source", "standing"]

Row = dict[str, str]


def rows() -> Iterator[tuple[str, Row]]:
    """Each row with its place, such as `tires:12`."""
    for path in sorted(FOLDER.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            reader = csv.DictReader(file)
            if reader.fieldnames != COLUMNS:
                continue  # a table that a test of its own reads
            yield from ((f"{path.stem}:{reader.line_num}", row) for row in reader)


def given(row: Row) -> dict[str, str]:
    """The row's inputs by key, as a person writes them."""
    return dict(pair.strip().split("=", 1) for pair in row["inputs"].split(" ; "))


ROWS = list(rows())
