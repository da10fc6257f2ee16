"""The keys that a format of the project file brought: which, what each is, and what reads it today."""

from collections.abc import Iterator
from typing import Any, get_origin

from planner.project.facts import inner_model
from planner.project.models.entry import FactNote, Table, entries, since
from planner.project.models.project import FORMAT, Project
from planner.project.versions import TABLES_MOVED
from planner.reference.markdown import code, plain, sentence, table

_AXLES = ("front", "rear")
PER_NAME = {"fitments": "<fitment>", "measured": "<key>", "limits": "<limit>", "assumptions": "<assumed value>"}


def _rows() -> Iterator[tuple[str, str, str, str]]:
    """A row for every key that came with a later format; `<axle>` stands for both ends, `[]` for each of a list."""
    seen: set[tuple[type[Table], str]] = set()
    for model, key, name, info, version in _walk(Project, "", 1):
        if version > 1 and (model, name) not in seen:
            seen.add((model, name))
            means = info.description or name.replace("_", " ")
            own = f"{key}.{name}" if key else name
            yield code(own), plain(sentence(means)), str(version), _read_by(name, info)


def _walk(model: type[Table], key: str, version: int) -> Iterator[tuple[type[Table], str, str, Any, int]]:
    """Every single entry; one in a table that came later is as young as its table."""
    for name, info in entries(model).items():
        own = max(version, since(info).version)
        inner, of = inner_model(info.annotation), get_origin(info.annotation)
        if inner is None:
            yield model, key, name, info, own
            continue
        called = "<axle>" if name in _AXLES else name
        here = f"{key}.{called}" if key else called
        if of is list:
            here += "[]"
        elif of is dict:
            here += f".{PER_NAME.get(name, '<name>')}"
        yield from _walk(inner, here, own)


def _read_by(name: str, info: Any) -> str:
    note = next((extra for extra in info.metadata if isinstance(extra, FactNote)), None)
    if note is not None and note.name != "":
        return f"formulas, as {code(note.name or name)}"
    return plain(since(info).read_by) or "nothing yet: checked and kept"


def format_section() -> Iterator[str]:
    """The section of the page."""
    yield from (f"## Keys of format {FORMAT}", "")
    yield (
        "A file of an older format is read for ever. In memory it is brought up to date; its text is changed in place "
        "at the first save, comments and all, and the old file stays beside it under a name such as "
        f"{code('truck.toml.v1.bak')}. {code('planner change FILE format=2 --apply')} does that and nothing else. "
        "A key of your own that format 2 has a meaning for, or that is spelled almost like one, is kept with "
        f"{code('_of_format_1')} behind it."
    )
    yield ""
    rows = [
        (code(".".join(map(str, (*old, name)))), code(".".join(map(str, (*new, name)))))
        for moved in TABLES_MOVED.values()
        for old, new, names in moved
        for name in names
    ]
    yield from table(("was", "is now"), rows)
    yield from table(("key", "what it is", "since format", "what reads it today"), _rows())
