"""Reading a project: the file, the models over it, and everything wrong with it in one pass."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple, get_origin

from pydantic import ValidationError

from planner.project.checks import checks
from planner.project.facts import inner_model
from planner.project.faults import Fault, Faulty
from planner.project.lines import Key, line_of
from planner.project.model_faults import model_fault
from planner.project.models.entry import Table, entries
from planner.project.models.project import Project
from planner.project.source import ProjectText, load
from planner.project.versions import brought_up_to_date


class Opened(NamedTuple):
    """A project as read: the models, the text behind them, and what is kept though the program does not know it."""

    project: Project
    source: ProjectText
    notices: tuple[Fault, ...]


def read_project(path: Path) -> Opened:
    """The project at `path`; raises `Faulty` with every fault in it, each with its line and key."""
    source = load(path)
    return understand(source)


def understand(source: ProjectText) -> Opened:
    """The project in a text that was read; raises `Faulty`."""
    data = brought_up_to_date(source.data)
    if isinstance(data, Fault):
        raise Faulty(source.path, (_placed(data, source),))
    strange = list(_strangers(Project, data, ()))
    faults = [fault for fault in strange if fault.accepted]
    notices = [fault for fault in strange if not fault.accepted]
    try:
        project = Project.model_validate(data)
    except ValidationError as wrong:
        faults += [model_fault(error) for error in wrong.errors(include_url=False)]
        raise Faulty(source.path, _sorted(faults, source)) from None
    faults += checks(project)
    if faults:
        raise Faulty(source.path, _sorted(faults, source))
    return Opened(project, source, _sorted(notices, source))


def _sorted(faults: list[Fault], source: ProjectText) -> tuple[Fault, ...]:
    placed = [_placed(fault, source) for fault in faults]
    return tuple(sorted(placed, key=lambda fault: (fault.line or 0, [str(part) for part in fault.key])))


def _placed(fault: Fault, source: ProjectText) -> Fault:
    return fault._replace(line=line_of(source.lines, fault.key))


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
    from difflib import get_close_matches  # only a slip of the pen needs it

    near = get_close_matches(name, entries(model), n=1, cutoff=0.8)
    if near:
        return Fault("there is no such entry", key, None, name, f"{near[0]}, if that is what you meant")
    return Fault("not known to the planner; kept as it is, and read by nothing", key)
