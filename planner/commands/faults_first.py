"""What a command says of a project with faults: they stand first, and the exit code tells of them whatever follows."""

from collections.abc import Iterable
from typing import Any

from planner.commands.page import ink, paragraph
from planner.commands.table import WRONG, wrong
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.project.faults import Fault, as_key, as_line, plain, without_path
from planner.quantities.text import clean


def tell_faults(opened: OpenProject) -> None:
    """Each fault in a line on standard error."""
    for fault in opened.opened.faults:
        wrong(as_line(opened.opened.source.path, fault))


def exit_code(opened: OpenProject, code: int) -> int:
    """The exit code of a command that answered as far as the faults let it."""
    return WRONG if opened.opened.faults else code


def head(opened: OpenProject) -> list[str]:
    """What stands above a page that was made all the same; nothing where there are no faults."""
    faults = opened.opened.faults
    if not faults:
        return []
    lines = [ink(f"{count(len(faults), 'FAULT', 'FAULTS')} IN THE FILE", "stop")]
    for fault in faults:
        lines += paragraph(f"line {fault.line}: {as_key(fault.key)}" if fault.line else as_key(fault.key), 2)
    lines += paragraph("What they name isn't known, and neither is anything that rests on it. Nothing is written "
    "until you fix them, in an editor or with planner change.")  # fmt: skip
    return [*lines, ""]


def faults_data(faults: Iterable[Fault]) -> list[dict[str, Any]]:
    """Faults as plain data."""
    return [
        {
            "line": fault.line,
            "key": as_key(fault.key),
            "not_known": [as_key(key) for key in (fault.key, *fault.against)],
            "read": plain(fault.read) or None,
            "accepted": clean(fault.accepted) or None,
            "says": clean(without_path(fault)),
        }
        for fault in faults
    ]


def with_faults(opened: OpenProject, data: Any) -> Any:
    """An answer as plain data with the faults beside it; where there are any, a list stands under `answer`."""
    faults = faults_data(opened.opened.faults)
    if isinstance(data, dict):
        return {"faults": faults, **data}
    return {"faults": faults, "answer": data} if faults else data
