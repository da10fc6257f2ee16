"""Projects in which every text that a person can write is up to no good, each text with a mark of its own."""

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple, get_args, get_origin

import tomli_w

from planner.project.facts import inner_model
from planner.project.models.entry import Reads, Table, entries
from planner.project.models.project import Project
from planner.quantities.kinds import TEXT
from planner.quantities.text import clean

BEGUN = (Path(__file__).parents[2] / "projects" / "just-begun.toml").read_text(encoding="utf-8")

# The start of a formula, two that drive a terminal, one that turns the text, and what Rich, Textual, Typst, HTML and
# Python's own formats would act on. No blanks: a face may break the line anywhere.
ODD = (
    '\x1b[2J\x9b31m\x07\u202e[red]x[/red][@click=app.quit]y[/]#let(z)#read("/etc/passwd")$a$*b*_c_`d`'
    "<script>e</script>&amp;{f}%s\\n//g"
)
PLAIN_ODD = "[b]#h*i*$j$<k>&"  # for names, which take no others and no more than 40


class Field(NamedTuple):
    """One place for a text in the models; `[]` stands for an element of a list, `<>` for a name of the person's."""

    key: tuple[str, ...]

    @property
    def named(self) -> str:
        return ".".join(self.key)


def fields(model: type[Table] = Project, key: tuple[str, ...] = ()) -> Iterator[Field]:
    """Every text field that the models know, so that one added tomorrow is attacked too."""
    for name, info in entries(model).items():
        inner, origin = inner_model(info.annotation), get_origin(info.annotation)
        here = (*key, name)
        if inner is not None:
            if origin is dict and name not in ("limits", "assumptions"):  # those have names of ours
                yield Field((*here, "<>"))
            yield from fields(inner, (*here, "<>" if origin is dict else "[]") if origin in (dict, list) else here)
        elif any(isinstance(each, Reads) and each.kind is TEXT for each in info.metadata):
            yield Field(here)
        elif origin is list and str in get_args(info.annotation):
            yield Field((*here, "[]"))
        elif origin is dict:
            yield Field((*here, "<>"))


def mark(number: int) -> str:
    return f"Q{number:03}q"


def odd(number: int) -> str:
    """The text of one field: its mark stands behind the start of a formula."""
    return f"=1+{mark(number)}{ODD}"


def name_of(number: int) -> str:
    """A name for a fitment, a gear or a range: at most 40 plain characters."""
    return f"={mark(number)}{PLAIN_ODD}"


def told_otherwise(shown: str, number: int, text: str, until: str = "") -> Iterator[str]:
    """What stands there for the field's text wherever its mark does, where that is not the text to the letter.

    A text may stand there with its escapes, as a quoted key of TOML, or as JSON writes it; `until` is as far as it is
    looked at.
    """
    plain = clean(text)
    as_json = clean(json.dumps(text, ensure_ascii=False)[1:-1])
    ways = (plain, plain.replace("\\", "\\\\").replace('"', '\\"'), as_json, text)
    wanted = ["".join(way.partition(mark(number))[2].split()) for way in ways]
    wanted = ["".join(way.partition(until)[:2]) for way in wanted] if until else wanted
    for piece in shown.split(mark(number))[1:]:
        if not any(_begins(piece, way) for way in wanted):
            yield piece[:150]


def _begins(piece: str, wanted: str) -> bool:
    piece = piece[: len(wanted)]
    cut = piece.find("…")
    return wanted.startswith(piece if cut < 0 else piece[:cut]) and (len(piece) == len(wanted) or cut >= 0)


# What would stop everything else, or leave most of it without a meaning, is tried in a file of its own.
APART = (
    *(
        "plan.chosen",
        "after.[]",
        "tire.designation",
        "spare.designation",
        "speed_symbol",
        "date_code",
        "nuts.thread",
        "studs.right_thread",
        "tire.tube_size",
        "tire.flap",
        "photos.[]",
        "outline.photo",
    ),
    *("readings.[].fitment", "which_counts.<>", "wishes.order.[]", "quotes.[].currency"),
    *("changes.[].with.[]", "changes.[].sets.<>", "changes.[].measured.<>"),
    *("stages.[].front", "stages.[].rear", "stages.[].spare", "stages.[].changes.[]"),
)
KEY_AND_VALUE = ("rested_on", "as_ordered", "guesses")  # tables of texts by texts
_NAMES = {
    "fitments": "taller",
    "limits": "least_brake_gap",
    "assumptions": "flange_thickness",
    "measured": "axles.front.rating",
}
_VALUES = {"limits": "3 mm", "assumptions": "12 mm", "measured": "4,000 lb"}


def project(fields_: dict[int, Field]) -> str:
    """A project in which every one of those fields holds its odd text."""
    data = tomllib.loads(BEGUN)
    for number, field in fields_.items():
        _put(data, field.key, number)
    data.setdefault("tasks", []).append({"id": "own.plain", "title": "plain"})
    if any("currency" in quote for part in data.get("parts", ()) for quote in part.get("quotes", ())):
        data.setdefault("plan", {})["currency"] = "USD"
    for sheet in data.get("sheets", ()):
        sheet.update(number=1, kind="checklist")
    for task in data["tasks"][:-1]:
        task.update(state="done")
    return tomli_w.dumps(data)


def _put(data: Any, key: tuple[str, ...], number: int) -> None:
    name, *rest = key
    if not rest:
        if name == "[]":
            data.append(odd(number))
        elif name == "<>":
            data[name_of(number)] = {}
        else:
            data[name] = odd(number)
    elif rest == ["<>"] and name in KEY_AND_VALUE:  # the key and the value, each as a person writes it
        data.setdefault(name, {}).update({odd(number): odd(number), "vehicle.wheelbase": odd(number)})
    elif rest == ["<>"] and name in ("gearbox", "transfer"):
        data.setdefault(name, {})[name_of(number)] = 3
    elif name == "[]":
        data or data.append({})
        _put(data[0], (*rest,), number)
    elif rest[0] == "<>" and rest[1:]:
        inner = data.setdefault(name, {}).setdefault(_NAMES[name], {})
        if name in _VALUES:
            inner["value"] = _VALUES[name]
        _put(inner, (*rest[1:],), number)
    else:
        _put(data.setdefault(name, [] if rest[0] == "[]" else {}), (*rest,), number)
