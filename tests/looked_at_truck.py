"""The first example as it stands once its plan is signed and its parts are ordered, for tests of what is asked again.

The rear axle is read with a caliper; every decision, order and receipt is looked at anew, so that each knows what it
rests on; the wheel order, the wall checklist and a measuring sheet hang on the wall.
"""

import shutil
from datetime import date
from pathlib import Path

from planner.commands.table import main
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.change.task_recordings import make_recording, reopen_task, tick_task
from planner.plan.revisit.acceptances import accept, take_back
from planner.plan.work.task_list import work

COUNTY = Path(__file__).parents[1] / "projects" / "county-road-4x4.toml"
DAY = date(2026, 12, 2)
WHY = "looked at with the caliper's readings"

BY_CALIPER = (
    ("axles.rear.studs.outer_edge_spacing", "7.166 in ± 0.003 in"),
    ("axles.rear.studs.outer_edge_skip", "2"),
    ("axles.rear.brake.radius", "7 3/16 in ± 1/32 in"),
)
BOUGHT = (("parts.tires.state", "ordered"), ("parts.speedometer_gear.state", "ordered"))
DECIDED = (
    ("safe.local_code", None),
    ("decide.tires", None),
    ("decide.wheel", None),
    ("decide.gears", None),
    ("decide.nuts.front", "110 ft·lb"),
    ("decide.nuts.rear", "110 ft·lb"),
    ("decide.brakes", "brake shop"),
    ("decide.sign", None),
    ("order.drawing", "wheel shop, 2 December"),
)
ORDERED = (
    ("order.wheels", None),
    ("order.small", None),
    ("receive.bore.front", "5.150 in"),
    ("receive.bore.rear", "5.150 in"),
    ("receive.backspace.front", "4 3/4 in"),
    ("receive.backspace.rear", "4 3/4 in"),
    ("mock_up.trial_fit.front", None),
)


def written(folder: Path) -> Path:
    """The truck in a folder, with its diary."""
    for beside in (COUNTY, COUNTY.with_name("county-road-4x4.diary.jsonl")):
        shutil.copy(beside, folder)
    path = folder / COUNTY.name
    _set(path, BY_CALIPER)
    _looked_at(path, DECIDED)
    _set(path, BOUGHT)
    _looked_at(path, ORDERED)
    _accepted(path)
    for kind in ("order", "checklist", "measuring"):
        assert main(["print", str(path), kind, "--text", "-o", str(folder / f"{kind}.txt")]) in (0, 1)
    return path


def _set(path: Path, settings: tuple[tuple[str, str], ...]) -> None:
    make(try_settings(open_project(path, DAY), [Setting(*one) for one in settings]), WHY)


def _looked_at(path: Path, tasks: tuple[tuple[str, str | None], ...]) -> None:
    for id_, value in tasks:
        opened = open_project(path, DAY)
        if work(opened).items[id_].state == "done":
            make_recording(opened, reopen_task(opened, work(opened), id_, WHY))
            opened = open_project(path, DAY)
        make_recording(opened, tick_task(opened, work(opened), id_, value, because=WHY, anyway=True, on=DAY))


def _accepted(path: Path) -> None:
    for _ in range(2):
        opened = open_project(path, DAY)
        make_recording(opened, take_back(opened, 0, WHY))
    for rule in ("steering.bearing_moment_grown", "brakes.braking_force_lost"):
        opened = open_project(path, DAY)
        for flag in [one for one in flags(opened) if one.rule.name == rule]:
            make_recording(open_project(path, DAY), accept(open_project(path, DAY), flag, WHY))
