"""Reading a project: the file, the models over it, and everything wrong with it in one pass."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple, get_origin

from pydantic import BaseModel, ValidationError

from planner.project.alike_names import alike_faults, with_names_found
from planner.project.checks import checks
from planner.project.facts import inner_model
from planner.project.faults import Fault, Faulty, NothingToRead, as_key
from planner.project.lines import Key, line_of
from planner.project.models.project import Project
from planner.project.not_known import meant, set_aside, touching
from planner.project.source import ProjectText, load
from planner.project.versions import brought_up_to_date
from planner.quantities.grammar import as_text

_BOUNDS = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
}


MOST_PASSES = 8  # what is set aside can leave a table without what it needs, and that one its list; no deeper


class Opened(NamedTuple):
    """A project as read: the models, the text behind them, and what is kept though the program does not know it.

    `faults` is everything wrong in it. What they name is set aside, and the keys of that are `not_known`: an entry that
    is not in the models may be there and be one of these.
    """

    project: Project
    source: ProjectText
    notices: tuple[Fault, ...]
    faults: tuple[Fault, ...] = ()
    not_known: frozenset[Key] = frozenset()

    def with_faults(self, faults: Iterable[Fault]) -> "Opened":
        """The same with more faults, of entries that are in the models: whoever reads them goes by `not_known`."""
        more = list(faults)
        gone = {key for fault in more for key in (fault.key, *fault.against)}
        found = _sorted([*self.faults, *more], self.source)
        return self._replace(faults=found, not_known=self.not_known | gone)


def read_project(path: Path) -> Opened:
    """The project at `path`, with its faults; raises `Faulty` where there is nothing to read."""
    return understand(load(path))


def raise_faults(opened: Opened) -> None:
    """Raises `Faulty` with every fault, each with its line and key, where there is one: nothing is written over it."""
    if opened.faults:
        raise Faulty(opened.source.path, opened.faults)


def understand(source: ProjectText) -> Opened:
    """The project in a text that was read, with its faults; raises `Faulty` where its format is not known.

    `NothingToRead` where it names none, such as a file that was emptied.
    """
    data = brought_up_to_date(source.data)
    if isinstance(data, Fault):
        raise (Faulty if "format" in source.data else NothingToRead)(source.path, (_placed(data, source),))
    data = with_names_found(data)
    strange = list(_strangers(Project, data, ()))
    faults = [fault for fault in strange if fault.accepted] + list(alike_faults(source))
    notices = [fault for fault in strange if not fault.accepted]
    project, found, gone = _read(source, data, faults)
    return Opened(project, source, _sorted(notices, source), _sorted([*faults, *found], source), frozenset(gone))


def _read(source: ProjectText, data: Any, slips: list[Fault]) -> tuple[Project, list[Fault], set[Key]]:
    """The models over the data, all that is wrong with it beside slips in names, and the keys that are not known.

    What is found after something was set aside, and lies where that was, is no fault of the person's.
    """
    faults: list[Fault] = []
    gone: set[Key] = set()
    aside: list[tuple[Key, str]] = [(key, "") for fault in slips for key in (fault.key, *fault.against)]
    for _ in range(MOST_PASSES):
        if aside:
            data, more = set_aside(data, aside)
            gone |= more
        aside = []
        try:
            project = Project.model_validate(data)
        except ValidationError as wrong:
            found = [(_fault(error), error["type"]) for error in wrong.errors(include_url=False)]
        else:
            found = [(fault, "") for fault in checks(project)]
            found = [pair for pair in found if not any(touching(gone, key) for key in (pair[0].key, *pair[0].against))]
            if not found:
                return project, faults, gone
        faults += [fault for fault, _ in found if not touching(gone, fault.key)]
        aside = [(key, kind) for fault, kind in found for key in (fault.key, *fault.against)]
    raise Faulty(source.path, _sorted([*slips, *faults], source))


def _sorted(faults: list[Fault], source: ProjectText) -> tuple[Fault, ...]:
    placed = [_placed(fault, source) for fault in faults]
    return tuple(sorted(placed, key=lambda fault: (fault.line or 0, [str(part) for part in fault.key])))


def _placed(fault: Fault, source: ProjectText) -> Fault:
    return fault._replace(line=line_of(source.lines, fault.key))


def _fault(error: Any) -> Fault:
    """One fault of pydantic's in our words; what was read is shown where it is a plain value."""
    key: Key = tuple(error["loc"])
    given, kind, context = error.get("input"), error["type"], error.get("ctx", {})
    read = context.get("read") or as_text(given)
    match kind:
        case "unreadable":
            return Fault(f"it {context['problem']}", key, None, read, context["accepted"])
        case "missing":
            return Fault("this entry is missing", key)
        case "literal_error":
            return Fault("", key, None, read, context["expected"])
        case "model_type" | "dict_type":
            return Fault("", key, None, read, f"a table, [{_table(key)}] or {{ ... }}")
        case "list_type" | "tuple_type":
            return Fault("", key, None, read, "a list, [ ... ]")
        case "string_type":
            return Fault("", key, None, read, 'a text, in "quotes"')
        case "too_short" | "too_long":
            return Fault(
                "",
                key,
                None,
                f"{context.get('actual_length')} of them",
                f"{context.get('max_length', context.get('min_length'))} of them",
            )
        case _ if kind.startswith(("date", "is_instance")):
            return Fault("", key, None, read, "a date such as 2026-03-14, without quotes")
        case "greater_than" | "greater_than_equal" | "less_than" | "less_than_equal":
            words, bound = _BOUNDS[kind]
            return Fault("", key, None, read, f"{words} {float(context[bound]):g}")
        case _ if kind.startswith(("int", "decimal", "float", "finite")):
            return Fault("", key, None, read, "a whole number" if kind.startswith("int") else "a number")
        case _:
            return Fault(str(error["msg"]).lower(), key, None, read)


def _table(key: Key) -> str:
    return as_key(key)


def _strangers(model: type[BaseModel], data: Any, key: Key) -> Iterator[Fault]:
    """Every key that the models do not know."""
    if not isinstance(data, dict):
        return
    for name, value in data.items():
        info = model.model_fields.get(name)
        if info is None:
            yield _stranger(model, name, value, (*key, name))
            continue
        inner = inner_model(info.annotation)
        if inner is None:
            continue
        if get_origin(info.annotation) is dict and isinstance(value, dict):
            for member, one in value.items():
                yield from _strangers(inner, one, (*key, name, member))
        elif get_origin(info.annotation) is list and isinstance(value, list):
            for index, one in enumerate(value):
                yield from _strangers(inner, one, (*key, name, index))
        else:
            yield from _strangers(inner, value, (*key, name))


def _stranger(model: type[BaseModel], name: str, value: Any, key: Key) -> Fault:
    """A key close to one that is known is a slip of the pen; any other is the person's own, and kept.

    With a slip the entry that was meant is in question too: nothing may stand there that was only not entered.
    """
    from difflib import get_close_matches  # only a slip of the pen needs it

    near = get_close_matches(name, model.model_fields, n=1, cutoff=0.8)
    if near:
        accepted = f"{near[0]}, if that is what you meant"
        return Fault("there is no such entry", key, None, name, accepted, tuple(meant(model, near[0], value, key[:-1])))
    return Fault("not known to the planner; kept as it is, and read by nothing", key)
