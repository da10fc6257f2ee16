"""The file that a new project begins with: every entry there is, explained, with an example to write over."""

import json
from collections.abc import Iterator
from functools import cache
from math import floor, log10
from textwrap import wrap
from typing import Any, get_origin

from pydantic_core import PydanticUndefined

from planner.project.facts import inner_model
from planner.project.models.entry import FactNote, Reads, Table, entries
from planner.project.models.project import FORMAT, Project
from planner.project.models.ranges import LARGEST, ReadsRange
from planner.project.samples import sample
from planner.project.suspects import SUSPECTS, ZERO
from planner.quantities.grammar import read_value
from planner.quantities.kinds import POSITION, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, default_unit, in_unit, margin_shown

_TABLES = {
    "gearbox": ['"1st" = "6.40"', '"2nd" = "3.09"', '"3rd" = "1.69"', '"4th" = "1"'],
    "transfer": ['high = "1"', 'low = "1.96"'],
    # A remark, and no blank: there is nothing to choose while there are no readings.
    "which_counts": [' such as: "axles.front.steering.stop_angle" = "middle"'],
}
_NOT_ON: dict[tuple[str, ...], tuple[str, ...]] = {
    ("axles", "front"): ("spacer",),  # what a change brings is entered under the change
    ("axles", "rear"): ("kingpin", "steering", "spacer"),
}  # entered only where a rear axle steers
CANDIDATE = "taller"
_MANY_PASCALS = 1e7  # from here on people write MPa
_NO_BLANKS = ("limits", "assumptions", "sheets", "asking")  # planner keys lists two; the planner writes the others
_ELSEWHERE = {  # what a change brings, and what only a mock-up's reading has
    "axles": ("lift",),
    "readings": ("fitment", "place", "reached", "turned", "came_up"),
}
_WRITTEN_BY_US = ("format", "rested_on", "rests")
_MEASURED = '"axles.front.steering.stop_angle"'  # an entry for an example of what a change sets
_ABOUT = {
    "axles.front": "The front axle.",
    "axles.rear": "The rear axle.",
    "fitments.found": "Found: the tires, wheels and gearing the truck came with. If front and rear differ, the same "
    "entries\n# go under [fitments.found.front.tire], [fitments.found.rear.wheel] and so on.",
    f"fitments.{CANDIDATE}": "A candidate: as many as you like, each under a name of your own. plan.chosen says which "
    "one you plan to build.",
}
SCHEMA_FILE = "truck.schema.json"  # beside the project; `planner schema -o` writes it
_SCHEMA_LINE = f"#:schema ./{SCHEMA_FILE}"  # by which an editor that knows TOML completes and checks the entries
_HEAD = """\
# One truck, one file. A line that begins with # is not read: take the # away and write your own value over the
# example. What you leave out is simply not known yet; `planner check` says what it is needed for.
#
# Write values as you would on paper: 5 1/2 in, 5½", 2 ft 3 in, 139.7 mm, 24 in ± 1/8 in, 75 psi, 8.5 deg, 55 mph.
# The ± is how well you measured it, and matters: it decides whether a close fit can be called.
# Keys of your own and comments stay when the planner saves the file. `planner schema -o` writes the file named in the
# first line: with it an editor that knows TOML completes what you write, and marks what can't be.
#
# SAFETY FIRST. Chock the wheels, stand the axles on rated stands, never get under a truck that's only on a jack.
# Multi-piece rims kill: let ALL the air out through the valve core before you touch a nut.
"""
_SHORT_HEAD = """\
# SAFETY FIRST. Chock the wheels, stand the axles on rated stands, never get under a truck that's only on a jack.
# Multi-piece rims kill: let ALL the air out through the valve core before you touch a nut.
#
# What everybody fills in: take the # away and write your own value over the example, ± how well you measured it.
# `planner ask` asks you for it, one question at a time, and `planner check` says what comes of it. What else there
# is, `planner keys` lists and `planner new --all` writes out.
"""
_AN_AXLE = {
    "": ("tires", "load"),
    ".studs": ("count", "adjacent_spacing"),
    ".travel": ("bump",),
    ".brake": ("radius",),
    ".fender": ("axle_to_fender", "face_to_edge", "clearance", "wanted_poke"),
}
_EVERYBODY = {  # in the order of standing at the truck: the rear first, since no steering enters there
    "vehicle": ("name", "units"),
    "fitments.found.tire": ("designation",),
    "fitments.found.wheel": ("pieces",),
    **{f"axles.{end}{table}": names for end in ("rear", "front") for table, names in _AN_AXLE.items()},
    f"fitments.{CANDIDATE}.tire": ("designation",),
    f"fitments.{CANDIDATE}.wheel": ("rim_diameter", "rim_width", "backspace"),
}
_OBSTACLES = """\
# What the tire must stay clear of goes by its name, with its place forward, outboard and up from the hub's face:
#   planner change FILE "obstacle: spring pack={at}" --apply
"""
_OBSTACLE_AT = {"inch": "2 in, -7 in, 6 in", "metric": "50 mm, -180 mm, 150 mm"}


def starting_text(name: str, units: str, every: bool = False) -> str:
    """The starting file for a truck of that name, its examples in `units`, inch or metric: with what everybody fills
    in, or with `every` entry that there is.
    """
    if not every:
        return _short_text(name, units)
    lines = [_SCHEMA_LINE, *_HEAD.splitlines(), "", f"format = {FORMAT}", ""]
    for key, model, count in _tables(Project, ()):
        lines += _table(key, model, count, name, units)
    return "\n".join(lines).rstrip() + "\n"


def _short_text(name: str, units: str) -> str:
    tables = {".".join(key): model for key, model, count in _tables(Project, ()) if count == "one"}
    lines = [_SCHEMA_LINE, *_SHORT_HEAD.splitlines(), f"format = {FORMAT}"]
    for dotted, names in _EVERYBODY.items():
        key = tuple(dotted.split("."))
        lines += [""] if len(key) <= 2 or key[0] == "fitments" and key[-1] == "tire" else []
        lines.append(f"{'#' if CANDIDATE in key else ''}[{dotted}]")
        for field in names:
            *_, entry = _entry(key, field, entries(tables[dotted])[field], name, units, short=True)
            lines.append(entry)
    return "\n".join([*lines, "", *_OBSTACLES.format(at=_OBSTACLE_AT[units]).splitlines()]) + "\n"


def _tables(model: type[Table], key: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any, str]]:
    """Every table of the file in order: its key, its model, and whether there is one, one by name, or a list."""
    for name, info in entries(model).items():
        here = (*key, name)
        inner, origin = inner_model(info.annotation), get_origin(info.annotation)
        if name in _NO_BLANKS or name in _NOT_ON.get(key, ()):
            continue
        if name in _TABLES:
            yield here, info, "ratios"
        elif name == "fitments" and inner is not None:
            for fitment in ("found", CANDIDATE):
                yield (*here, fitment), inner, "one"
                for part in ("tire", "wheel", "pair", "spare"):
                    yield (*here, fitment, part), inner_model(entries(inner)[part].annotation), "one"
        elif inner is not None and origin is list:
            yield here, inner, "list"
            for below, table, _ in _tables(inner, here):
                own = entries(inner).get(below[-1])
                yield below, table, "list" if own is not None and get_origin(own.annotation) is list else "below"
        elif inner is not None and origin is dict:
            yield (*here, _MEASURED), inner, "below"
        elif inner is not None:
            yield here, inner, "one"
            yield from _tables(inner, here)


def _table(key: tuple[str, ...], model: Any, count: str, name: str, units: str) -> list[str]:
    dotted = ".".join(key)
    if count == "ratios":
        return [f"# {model.description}", f"[{dotted}]", *(f"#{line}" for line in _TABLES[key[-1]]), ""]
    written = [line for field, info in entries(model).items() for line in _entry(key, field, info, name, units)]
    if key == ("obstacles",):
        return _suspects(units)
    if count == "list":
        return [f"# {model.__doc__.splitlines()[0]}", "# One table like this for each:", f"#[[{dotted}]]", *written, ""]
    if not written:
        return []
    candidate = key[:2] == ("fitments", CANDIDATE)
    head = f"#[{dotted}]" if candidate or count == "below" else f"[{dotted}]"
    if candidate and len(key) > 2:  # the entries were explained with what was found
        return [
            head,
            *(line.split("  # ")[0].rstrip() for line in written if line.startswith("#") and " = " in line),
            "",
        ]
    return [f"# {_ABOUT.get(dotted) or model.__doc__.splitlines()[0]}", head, *written, ""]


def _suspects(units: str) -> list[str]:
    """The usual suspects as blanks: each is not known until its `at` is written."""
    unit, slack, wants = ("in", "1/8 in", "1 in") if units == "inch" else ("mm", "3 mm", "25 mm")
    # No numbers here: what looks like a reading would be taken for one.
    at = f'["? {unit} ± {slack}", "-? {unit} ± {slack}", "? {unit} ± {slack}"]'
    to = f'["? {unit}", "-? {unit}", "? {unit}"]'
    lines = [f"# {line}" for line in wrap(f"What the tire has to stay clear of. {ZERO}", 112)]
    lines += [
        "# `to` is for an edge's other end. Measure with the truck on its wheels or on rated stands, never on a jack.",
        "",
    ]
    for suspect in SUSPECTS:
        lines += [
            "[[obstacles]]",
            f"name = {json.dumps(suspect.name)}",
            'axle = "front"',
            f'side = "{suspect.side}"',
            f'moves_with = "{suspect.moves_with}"',
            f'kind = "{suspect.kind}"',
            f"measure = {json.dumps(suspect.measure, ensure_ascii=False)}",
            f"#at = {at}",
            f"#to = {to}",
            f'#wants = "{wants}"',
            '#measured_from = "face"',
            "",
        ]
    return lines


def _entry(key: tuple[str, ...], field: str, info: Any, name: str, units: str, short: bool = False) -> Iterator[str]:
    """The line of an entry, and what it is beside it or above; where it is to be `short`, not how to get it."""
    note = next((extra for extra in info.metadata if isinstance(extra, FactNote)), None)
    if inner_model(info.annotation) is not None or field in _TABLES or field in _WRITTEN_BY_US:
        return
    if field in _ELSEWHERE.get(key[0], ()):
        return
    entry = f"#{field} = {_example('.'.join(key), field, info, note, units)}"
    if key == ("vehicle",) and field in ("name", "units"):
        entry = f"{field} = {json.dumps(name if field == 'name' else units, ensure_ascii=False)}"
    about = (note.means if short and note else info.description or field).removesuffix(".")
    about = about[:1].lower() + about[1:]
    beside = f"{entry:<44}  # {about}"
    if len(beside) <= 118:
        yield beside
    else:
        yield from (f"# {line}" for line in wrap(about, 112))
        yield entry


def example_at(key: tuple[str | int, ...], units: str) -> Any:
    """How the entry at a key of a file is written, as TOML would read it; "" where there is no such entry."""
    import tomllib

    model: Any = Project
    table: list[str] = []
    for at, name in enumerate(key):
        info = entries(model).get(str(name)) if isinstance(name, str) and model is not None else None
        if info is None:
            continue  # a place in a list, or a name of the person's
        inner = inner_model(info.annotation)
        if inner is None:
            note = next((extra for extra in info.metadata if isinstance(extra, FactNote)), None)
            return tomllib.loads(f"example = {_example('.'.join(table), str(name), info, note, units)}")["example"]
        model, table = inner, [*table, str(name)]
        if str(name) == "fitments" and at + 1 < len(key):
            table.append("found" if key[at + 1] == "found" else CANDIDATE)
    return ""


def _example(table: str, field: str, info: Any, note: FactNote | None, units: str) -> str:
    example = sample(table, field, note.example if note else "")
    kind = next((extra.kind for extra in info.metadata if isinstance(extra, Reads)), None)
    ranged = next((extra.range_of for extra in info.metadata if isinstance(extra, ReadsRange)), None)
    if kind is not None and units == "metric" and example:
        example = metric(example, kind)
    elif ranged is not None and units == "metric" and example != LARGEST:
        example = " to ".join(metric(end, ranged) for end in example.split(" to "))
    elif "Quantity" in str(info.annotation) and example.startswith("[") and units == "metric":
        example = f"[{', '.join(json.dumps(metric(one, POSITION)) for one in json.loads(example))}]"
    if example.startswith(("[", "{")) or example in ("true", "false"):
        return example
    if kind is None and not example:
        return _plain_example(info)
    if kind is not None and kind.form in ("count",) or example.isdigit() and kind is None:
        return example
    return json.dumps(example, ensure_ascii=False)


@cache
def metric(example: str, kind: Kind) -> str:
    """An example in metric units, rounded as somebody would write it who measured so."""
    if kind.form == "points":
        points = [", ".join(f'"{metric(one, POSITION)}"' for one in pair) for pair in json.loads(example)]
        return f"[[{'], ['.join(points)}]]"
    unit = default_unit(kind, Style("metric", False))
    if (
        kind.form != "quantity"
        or kind.bare
        or unit == default_unit(kind, Style("inch", False))
        or example.endswith(f" {unit}")
    ):
        return example
    value = read_value(example, kind)
    assert isinstance(value, Quantity)
    if unit == "kPa" and value.value >= _MANY_PASCALS:
        unit = "MPa"
    amount, margin = in_unit(value.value, kind, unit), in_unit(value.tolerance, kind, unit)
    if not margin:
        return f"{_figures(amount, 3)} {unit}"
    places = max(0, -floor(log10(margin)))  # to the digit that the tolerance has
    return f"{_figures(round(amount, places), 4)} {unit} ± {_figures(margin, 1)} {unit}"


@cache
def metric_margin(tolerance: str, kind: Kind) -> str:
    """How well a tool reads, as it stands behind a value that takes it: in metric units, and rounded up.

    >>> from planner.quantities.kinds import LENGTH
    >>> metric_margin("1/8 in", LENGTH)
    '3.2 mm'
    """
    if kind.form != "quantity":
        return tolerance
    value = read_value(tolerance, kind)
    assert isinstance(value, Quantity)
    return margin_shown(Quantity(value.value, value.value), kind, Style("metric", False)).removeprefix("± ")


def _figures(amount: float, figures: int) -> str:
    """A number of so many figures, without an exponent."""
    return f"{float(f'{amount:.{figures}g}'):.10g}"


def _plain_example(info: Any) -> str:
    """An example for a field that says none: a date, a number, a list, or the default."""
    if "date" in str(info.annotation):
        return "2026-03-14"
    if info.default is not PydanticUndefined and info.default is not None:
        return json.dumps(info.default)
    return "[]" if get_origin(info.annotation) is list else "{}" if get_origin(info.annotation) is dict else "1"
