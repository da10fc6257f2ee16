"""A truck with work on it for the tests of tasks, parts and money, and the list as it stands on a day."""

from datetime import date
from pathlib import Path

from planner.plan.answers.open_project import open_project
from planner.plan.change.task_recordings import make_recording, tick_task
from planner.plan.truck.project import OpenProject
from planner.plan.work.task_list import Work, work

TODAY = date(2026, 1, 5)  # a Monday

TRUCK = """\
format = 1

# what is known of it
[axles.front]
rating = "4,000 lb"

[fitments.found.wheel]
pieces = "one"

[fitments.tall]
lead_time = "4 weeks"

[fitments.tall.wheel]
backspace = "5 in ± 1/16 in" # as ordered

[plan]
chosen = "tall"
start = 2026-01-05
hours_a_week = 7
"""


def written(folder: Path, more: str = "", name: str = "truck.toml") -> Path:
    path = folder / name
    path.write_text(TRUCK + more, encoding="utf-8")
    return path


def opened(path: Path, today: date = TODAY) -> OpenProject:
    return open_project(path, today)


def listed(path: Path, today: date = TODAY) -> Work:
    return work(opened(path, today))


def ticked(path: Path, id_: str, value: str | None = None, today: date = TODAY, **how: object) -> None:
    project = opened(path, today)
    make_recording(project, tick_task(project, work(project), id_, value, **how))  # type: ignore[arg-type]


def replace(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, old
    path.write_text(text.replace(old, new), encoding="utf-8")
