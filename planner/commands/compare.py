"""`planner compare FILE [A B ...]`: candidates side by side, each judged as if it were the chosen one."""

from argparse import Namespace
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from textwrap import wrap
from typing import Any

from planner.commands import faults_first
from planner.commands.change_data import cost_data
from planner.commands.check import finite
from planner.commands.page import WIDTH, as_json, ink, paragraph
from planner.commands.recorded import carried_out
from planner.commands.table import FINE, project_parser
from planner.plan.answers.open_project import open_project
from planner.plan.change import comparing
from planner.plan.change.comparing import Candidate, Comparison, compare, figure_label, flag_label, mark
from planner.plan.truck.project import OpenProject
from planner.quantities.text import clean
from planner.worksheet.declare import SEVERITIES

EXAMPLE = """examples:
  planner compare projects/county-road-4x4.toml
  planner compare projects/county-road-4x4.toml tall modest --all
  planner compare truck.toml tall "tall + longer stop screws"

After a + come changes to the truck that you're considering: they are judged as if
you had decided on them.

exit code: 0 they are compared, 2 the file or the command is wrong"""

ABREAST = 3  # candidates beside each other; more stand below, in a table of their own
LEFT = 26
MOST_LINES = 6  # of one cell

Cells = tuple[str, ...]


def run(arguments: list[str]) -> int:
    parser = project_parser("planner compare", __doc__, EXAMPLE)
    parser.add_argument("names", nargs="*", metavar="NAME", help="fitments; all of them if you name none")
    parser.add_argument("--all", action="store_true", help="also list what's the same")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_args(arguments)
    return carried_out("planner compare", lambda: _answer(asked))


def _answer(asked: Namespace) -> int:
    opened = open_project(asked.file)
    faults_first.tell_faults(opened)
    found = compare(opened, asked.names, everything=asked.all)
    if asked.json:
        print(as_json(faults_first.with_faults(opened, as_data(found))))
    else:
        print("\n".join([*faults_first.head(opened), *page(opened, found)]))
    return faults_first.exit_code(opened, FINE)


def page(opened: OpenProject, found: Comparison) -> list[str]:
    """The tables, and a plain verdict for each candidate, first and last what matters most."""
    lines = [ink(clean(opened.project.vehicle.name or "A truck without a name"), "strong"), ""]
    for one in found.candidates:
        lines += paragraph(verdict(opened, one))
    for first in range(0, len(found.candidates), ABREAST):
        group = slice(first, first + ABREAST)
        names = tuple(clean(one.name) for one in found.candidates[group])
        for heading, rows in _tables(found, group):
            if rows:
                lines += ["", ink("".join(_line((heading, *names), len(names))[0]).rstrip(), "strong")]
                lines += [line for row in rows for line in _line(row, len(names))]
    lines += ["", *paragraph("Left out: figures within the first one's tolerance, and everything that's the same; "
    "--all lists all. What each flag means: planner check.")]  # fmt: skip
    return [*lines, "Local codes and licensed practice come first."]


def verdict(opened: OpenProject, one: Candidate) -> str:
    """`tall (planned): 0 stops, 12 cautions, 3 notes, 12 too close to call, 0 not known, 2 accepted`."""
    tried = one.name != one.fitment
    planned = " (tried)" if tried else " (planned)" if one.name == opened.project.plan.chosen else ""
    return f"{clean(one.name)}{planned}: {comparing.verdict(one)}"


def _tables(found: Comparison, group: slice) -> Iterator[tuple[str, list[Cells]]]:
    here = found.candidates[group]
    yield "Cost and time", list(comparing.costs(here))
    for severity in SEVERITIES:
        rows = [row for row in found.flags if row.rule.severity == severity]
        yield f"{severity.capitalize()}s", [(flag_label(row), *map(mark, row.answers[group])) for row in rows]
    yield "Entries", [(row.key, *row.written[group]) for row in found.entries]
    yield "Figures", [(figure_label(row), *row.texts[group]) for row in found.figures]


def _line(cells: Sequence[str], columns: int) -> list[str]:
    """One row: a label and a cell for each candidate, each wrapped in its own column."""
    wide = (WIDTH - LEFT) // columns
    wrapped = [_label(cells[0]), *(_wrapped(cell, wide - 1) for cell in cells[1:])]
    widths = [LEFT, *([wide] * columns)]
    return [
        "".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in zip_longest(*wrapped, fillvalue="")
    ]


def _label(text: str) -> list[str]:
    """A row's name; a key that is too long is broken behind its dots."""
    if max(map(len, text.split()), default=0) < LEFT:
        return _wrapped(text, LEFT - 1)
    return [line.replace(". ", ".") for line in _wrapped(text.replace(".", ". "), LEFT - 1)]


def _wrapped(text: str, width: int) -> list[str]:
    """A cell's lines, six at the most."""
    lines = wrap(text, width, subsequent_indent=" ", break_on_hyphens=False) or [""]
    return lines if len(lines) <= MOST_LINES else [*lines[: MOST_LINES - 1], " …"]


def as_data(found: Comparison) -> dict[str, Any]:
    """All of it as one object of plain data, each row with a value by candidate; numbers in SI."""
    names = [one.name for one in found.candidates]

    def by_name(values: Sequence[Any]) -> dict[str, Any]:
        return dict(zip(names, values, strict=True))

    return {
        "candidates": {
            one.name: {
                "verdict": one.tally._asdict(),
                "price": None if one.price is None else str(one.price),
                "cost": cost_data(one.cost),
                "lead_time": one.lead_time or None,
                "finish": one.finish and one.finish.isoformat(),
            }
            for one in found.candidates
        },
        "flags": [
            {
                "rule": row.rule.name,
                "severity": row.rule.severity,
                "where": row.where,
                "answers": by_name(row.answers),
            }
            for row in found.flags
        ],
        "entries": {row.key: by_name(row.written) for row in found.entries},
        "figures": [
            {
                "figure": row.name,
                "where": row.where,
                "and_more_alike": row.more,
                "values": by_name([one and finite(one) for one in row.numbers]),
                "unit": row.unit,
                "shown": by_name(row.texts),
            }
            for row in found.figures
        ],
    }
