"""What a mending of a faulty file does, as `planner change` prints it: the faults that go, and what then stands."""

from typing import Any

from planner.commands.change_data import changes_data
from planner.commands.change_lines import ending, setting_lines
from planner.commands.check import summary
from planner.commands.page import ink, paragraph
from planner.plan.answers.flagging import flags
from planner.plan.change.changing import Mended
from planner.plan.revisit.plan_flags import all_flags
from planner.project.faults import as_line
from planner.quantities.text import clean


def page(trial: Mended, number: int | None) -> list[str]:
    """The mending, line by line; `number` is its entry in the diary once it is made."""
    truck = clean(trial.after.project.vehicle.name or "A truck without a name")
    lines = [ink(f"{truck}: {'fixed' if number is not None else 'fix tried, not made'}", "strong"), ""]
    lines += setting_lines(trial.after, trial.moved, trial.begun)
    lines += ["", ink("Faults this fixes", "strong")]
    for fault in trial.before.opened.faults:
        lines += paragraph(as_line(trial.before.opened.source.path, fault), 2)
    lines += ["", *paragraph(f"Then there are {_summary(trial)}: planner check shows them."), ""]
    return [*lines, *paragraph(ending(number)), "Local codes and licensed practice come first."]


def as_data(trial: Mended, number: int | None) -> dict[str, Any]:
    """The mending as one object of plain data."""
    return {
        "made": number is not None,
        "diary": number,
        "changes": changes_data(trial.moved),
        "begins": list(trial.begun),
        "mends": [as_line(trial.before.opened.source.path, fault) for fault in trial.before.opened.faults],
        "summary": _summary(trial),
    }


def _summary(trial: Mended) -> str:
    return summary(all_flags(trial.after, flags(trial.after)))
