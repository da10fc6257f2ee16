"""Reading a project: the file, the models over it, and everything wrong with it in one pass."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple, get_origin

from pydantic import ValidationError

from planner.project.checks import checks
from planner.project.facts import inner_model
from planner.project.faults import Fault, Faulty, as_key
from planner.project.lines import Key, line_of
from planner.project.model_faults import model_fault
from planner.project.models.entry import Table, entries
from planner.project.models.project import Project
from planner.project.source import ProjectText, load
from planner.project.versions import brought_up_to_date, keys_as_written


class Opened(NamedTuple):
    """A project as read: the models, the text behind them, and what is kept though the program does not know it.

    `data` is that of the text, in the newest format; `was` has, by its key there, the key of an entry that an older
    file has elsewhere.
    """

    project: Project
    source: ProjectText
    notices: tuple[Fault, ...]
    data: dict[str, Any]
    was: Mapping[Key, Key] = {}

    def placed(self, fault: Fault) -> Fault:
        """The fault with the key as the file has it, and its line."""
        return _placed(fault, self.source, self.was)


def read_project(path: Path) -> Opened:
    """The project at `path`; raises `Faulty` with every fault in it, each with its line and key."""
    source = load(path)
    return understand(source)


def understand(source: ProjectText) -> Opened:
    """The project in a text that was read; raises `Faulty`."""
    data = brought_up_to_date(source.data)
    if isinstance(data, Fault):
        raise Faulty(source.path, (_placed(data, source, {}),))
    was = keys_as_written(source.data) if data is not source.data else {}
    strange = list(_strangers(Project, data, ()))
    faults = [fault for fault in strange if fault.accepted]
    notices = [fault for fault in strange if not fault.accepted]
    try:
        project = Project.model_validate(data)
    except ValidationError as wrong:
        faults += [model_fault(error) for error in wrong.errors(include_url=False)]
        raise Faulty(source.path, _sorted(faults, source, was)) from None
    faults += checks(project)
    if faults:
        raise Faulty(source.path, _sorted(faults, source, was))
    return Opened(project, source, _sorted(notices, source, was), data, was)


def _sorted(faults: list[Fault], source: ProjectText, was: Mapping[Key, Key]) -> tuple[Fault, ...]:
    placed = [_placed(fault, source, was) for fault in faults]
    return tuple(sorted(placed, key=lambda fault: (fault.line or 0, [str(part) for part in fault.key])))


def _placed(fault: Fault, source: ProjectText, was: Mapping[Key, Key]) -> Fault:
    """A fault deep in an entry that moved is one in that entry where the file has it."""
    moved = next((depth for depth in range(len(fault.key), 0, -1) if fault.key[:depth] in was), None) if was else None
    key = fault.key if moved is None else (*was[fault.key[:moved]], *fault.key[moved:])
    return fault._replace(key=key, line=line_of(source.lines, key))


def _strangers(model: type[Table], data: Any, key: Key) -> Iterator[Fault]:
    """Every key that the models do not know."""
    if not isinstance(data, dict):
        return
    for name, value in data.items():
        info = entries(model).get(name)
        if info is None:
            yield _stranger(model, name, (*key, name))
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


def _stranger(model: type[Table], name: str, key: Key) -> Fault:
    """A key close to one that is known is a slip of the pen; any other is the person's own, and kept."""
    from planner.project.versions import GONE, near_name  # only a slip of the pen needs it

    gone = GONE.get(model, {})
    if name in gone:
        place = as_key((*key[:-2], gone[name], name))
        return Fault("this entry has another place since format 2", key, None, name, place)
    near = near_name(name, [*entries(model), *gone])
    if near:
        return Fault("there is no such entry", key, None, name, f"{near}, if that is what you meant")
    return Fault("not known to the planner; kept as it is, and read by nothing", key)
