"""The page of the project file: every table and key, what it means, how to get it, and how it may be written."""

from collections.abc import Iterator
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from planner.project.checks import MOST, MOST_SWEEPS
from planner.project.facts import inner_model
from planner.project.models.entry import FactNote, Reads, Table, entries
from planner.project.models.measurements import ReadsWhich
from planner.project.models.project import FORMAT, Project
from planner.project.models.ranges import LARGEST, ReadsRange
from planner.project.source import LARGEST_FILE, MOST_ENTRIES
from planner.project.usual_tolerances import usual_of
from planner.quantities.spellings import ACCEPTED, SPELLINGS
from planner.quantities.text import grouped
from planner.reference.format_keys import PER_NAME, format_section
from planner.reference.markdown import code, page, plain, sentence, table
from planner.reference.wording import kind_words
from planner.sources.standards import UNCERTAINTY

_MOST = ", ".join(f"{most} `{name}`" for name, most in MOST.items())
INTRO = f"""
One truck, one TOML file, to be read and edited by hand. `planner new FILE` writes one with what everybody fills in,
`planner check FILE` reads it, `planner schema` prints a JSON Schema by which an editor can check and complete it.

- Everything but `format = {FORMAT}` may be left out: what is missing is *not known*, and the planner says what it is
  needed for. Nothing missing is ever taken as zero.
- Values are texts, as you would write them on paper: `"24 in ± 1/8 in"`. See
  [how values are written](#how-values-are-written).
- A key that is close to a known one is reported as a slip of the pen. Any other key that the planner does not know is
  kept, read by nothing, and mentioned. Comments stay.
- A name that you give (a fitment, a gear, a range, an obstacle, a task, a part) is one name however its letters are
  composed, however many spaces of whatever kind stand in it, and with or without characters that nobody sees. Two
  fitments, gears, ranges, tasks or parts of one name are a fault that names both lines; a name typed otherwise means
  the one that is there. Capitals count: `R` and `r` are two.
- `truck` stands for `truck.toml` in every command and on the screens. Where both files are there you are asked which.
- So that no file keeps you waiting it has at most {LARGEST_FILE // 1024} KB, {MOST_ENTRIES:,} entries in all,
  {_MOST};
  and obstacles times fitments make {MOST_SWEEPS} at most.
- Figures and flags are never stored in the file. What can be set otherwise in it: [limits](flags.md#limits), with a
  reason, and [assumed values](figures.md#assumed-values).

Positions around a wheel are measured from the center of the hub's mounting face, straight ahead at ride height:
forward, outboard and up are positive.
"""
WRITTEN = """
A number and its unit, in fractions or decimals, with or without a tolerance behind ± (or `+/-`): `5 1/2 in`, `5½"`,
`2 ft 3 in`, `139.7 mm`, `24 in ± 1/8 in`, `8°30'`, `1,250 lb`, `4.89 ± 0.01`, `5 %`. The tolerance says how well you
measured, and it matters: it decides whether a close fit can be called. Ratios, counts and rim codes have no unit.

A length, an angle or a weight that is measured, and is typed without a ±, isn't exact: it takes the tolerance that
stands in the tables above as *usual*, which is how well the usual tool reads such a thing (common practice), and is
shown as *assumed*. `"24 in exact"`, or `"24 in ± 0 in"`, says that it is exact. *Found* beside a usual tolerance:
only on the wheels and tires that came with the truck, or where a tire's `size_from` says `measured`; of a candidate
the value is its maker's, or what you order, and exact, but for a tire's diameter and section width: new ones are off
their maker's table, and further off what their size says, which is what `size_from` tells (from memory). Ratings,
law, wishes, counts, ratios, prices and torque are always exact without a ±. In a file of format 1 a value without a ±
stays exact until the planner first saves it; it says beforehand what that changes. A value that you type over another
keeps the larger of the old ± and the usual one, unless you give one.
"""
READINGS = f"""
A reading in `[[readings]]` says who read what, when, how and with what, and its `value`. Then the reading *is* the
entry: the entry may be left out; where it is written too, and says otherwise, that is a fault that names both. An
entry that no reading is behind says so. Of several readings `which_counts` says which one counts:

- nothing said, or `"worse"`: all of them, from the lowest end of any reading to the highest. That holds whichever of
  them is right. With the first alone *clear* would be false on a truck that is as only the second reading has it.
- `"middle"`: the mean. While no two are further apart than one of them states, it is as sure as the largest ± of
  them: where every reading holds, the truth is within the mean of their ± of it. Otherwise it reaches the far end of
  each. The mean is the usual estimate ({UNCERTAINTY.recalled()}); the division of its scatter by the root of the
  number, which goes with it there, is left out, since who reads one tape twice makes the same error twice.
- a number, `2`: the second reading of that entry in the file's order, as it stands.

Two readings of one side that are further apart than either states are a [caution](flags.md#readings), until a number
says which of them counts.

What is measured at a wheel may be read on each side, `side = "left"`. Then each side is swept with its own readings,
and its axle rolls as far as the other side's own travel lets it; the worst is told with its side. Every other figure
takes the span over both, the limits of steer and the window of backspaces among them. With a number that names a
reading of one side, the other side is as all of its own readings have it. As soon as one reading says its side, one
that does not could be of either: it widens a side that was read, and makes none known. Where only one side was read,
the entry is *not known* for whatever needs the other, even where it is written: with the one taken for both *clear*
would be false on a truck that is bent on the other. Of a stop's angle the side is that of the wheel that turns.

What was measured once a change was done stands with the change, and is not mixed with readings of the truck as found.
A reading with a `fitment` is of a mock-up, the room at an obstacle or a brake, and of no entry.
"""


def project_file_page() -> str:
    """The whole page."""
    tables = grouped(
        (model, path) for path, model in _tables(Project, "") if any(map(_is_entry, entries(model).values()))
    )
    parts = [_table(model, paths) for model, paths in tables.items()]
    return page("The project file", INTRO, _top(), *parts, _readings(), format_section(), _written(), _spellings())


def _tables(model: type[Table], path: str) -> Iterator[tuple[str, type[Table]]]:
    """Every table of the file with its model, in order, where tables of names have `<name>` for a name."""
    for name, info in entries(model).items():
        inner, origin = inner_model(info.annotation), get_origin(info.annotation)
        if inner is None:
            continue
        here = f"{path}.{name}" if path else name
        if origin is dict:
            here = f"{here}.{PER_NAME.get(name, '<name>')}"
        yield (f"[{here}]" if origin is list else here), inner
        yield from _tables(inner, here)


def _top() -> Iterator[str]:
    yield from ("## The top of the file", "")
    rows = [
        (code(name), plain(sentence(info.description or name)), written_as(info))
        for name, info in entries(Project).items()
        if _is_entry(info)
    ]
    yield from table(("key", "what it is", "written"), rows)


def _table(model: type[Table], paths: list[str]) -> Iterator[str]:
    yield from (f"## {plain(paths[0].strip('[]'))}", "")
    heads = ", ".join(code(f"[{path}]") for path in paths)
    yield from (f"{plain(_about(model))} Tables: {heads}." if len(paths) > 1 else plain(_about(model)), "")
    rows = [_key(name, info) for name, info in entries(model).items() if _is_entry(info)]
    yield from table(("key", "what it is, and how to get it", "written", "example", "usual", "formulas call it"), rows)


def _about(model: type[Table]) -> str:
    return " ".join((model.__doc__ or "").split())


def _is_entry(info: Any) -> bool:
    return inner_model(info.annotation) is None


def _key(name: str, info: Any) -> tuple[str, ...]:
    note = next((extra for extra in info.metadata if isinstance(extra, FactNote)), None)
    about = sentence(info.description or name.replace("_", " "))
    read_by_formulas = note is not None and note.name != ""
    called = code((note.name if note else "") or name) if read_by_formulas else ""
    example = code(note.example) if note and note.example else ""
    usual = usual_of(info)
    margin = f"± {usual.tolerance}{', found' if usual.found_only else ''}" if usual else ""
    if usual and usual.by_maker:
        margin += f"; ± {usual.by_maker} by its maker, ± {usual.by_size} by its size"
    return code(name), plain(about), written_as(info), example, margin, called


def written_as(info: Any) -> str:
    """How an entry is written: a kind of value, one of some words, a date, a number."""
    kind = next((extra.kind for extra in info.metadata if isinstance(extra, Reads)), None)
    ranged = next((extra.range_of for extra in info.metadata if isinstance(extra, ReadsRange)), None)
    if ranged is not None:
        return f"{kind_words(ranged)}, from one to another, or {code(LARGEST)}"
    return kind_words(kind) if kind is not None else _form(info.annotation)


def _form(annotation: Any) -> str:
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin is Literal:
        return " or ".join(code(str(word)) for word in inner)
    if origin in (Union, UnionType):
        return _form(next(part for part in inner if part is not type(None)))
    if origin is dict:
        return f"table: {_form(inner[1])} by name"
    if origin is list:
        return f"list: {_form(inner[0])}"
    if origin is tuple:
        return f"list of {len(inner)}: {_form(inner[0])}"
    for extra in getattr(annotation, "__metadata__", ()):
        if isinstance(extra, Reads):
            return kind_words(extra.kind)
        if isinstance(extra, ReadsWhich):
            return "`middle` or `worse` or a reading's number"
        if isinstance(extra, ReadsRange):
            return f"range: {kind_words(extra.range_of)}"
    annotation = getattr(annotation, "__origin__", annotation)  # a number with its bounds
    forms = {str: "text", bool: "`true` or `false`", int: "whole number", float: "number"}
    named = {"date": "date, such as `2026-03-14`", "Decimal": "number", "object": "text or number"}
    return forms.get(annotation) or named[getattr(annotation, "__name__", "object")]


def _readings() -> Iterator[str]:
    yield from ("## Which reading counts", "", READINGS.strip(), "")


def _written() -> Iterator[str]:
    yield from ("## How values are written", "", WRITTEN.strip(), "")
    yield from table(
        ("kind", "units in use", "example"), ((kind, units, code(one)) for kind, (units, one) in ACCEPTED.items())
    )


def _spellings() -> Iterator[str]:
    yield from ("## Every spelling of a unit that is read", "")
    yield "Upper and lower case are alike. `·` stands for a space, a hyphen or a raised dot; `/` may be written *per*."
    yield ""
    yield from table(
        ("unit", "spellings"),
        ((name.replace("_", " "), " ".join(map(code, spelled.split()))) for name, spelled in SPELLINGS.items()),
    )
