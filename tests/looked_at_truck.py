"""The first example as it stands once its plan is signed and its parts are ordered, for tests of what is asked again.

The rear axle is read with a caliper; each decision, order, receipt and acceptance is looked at anew, so that it knows
what it rests on; the wheel order, the step cards and a measuring sheet hang on the wall.
"""

import shutil
from datetime import date
from pathlib import Path

from planner.commands.table import main
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import Setting, make, try_settings
from planner.plan.change.task_recordings import make_recording
from planner.plan.revisit.acceptances import accept
from planner.plan.revisit.tick_basis import tick_basis
from planner.plan.truck.recording import Recording
from planner.plan.work.task_list import work
from planner.project.changes import DELETE
from planner.project.lines import Key

COUNTY = Path(__file__).parents[1] / "projects" / "county-road-4x4.toml"
DAY = date(2026, 12, 2)
WHY = "looked at with the caliper's readings"

SET = (
    ("axles.rear.studs.outer_edge_spacing", "7.166 in ± 0.003 in"),
    ("axles.rear.studs.outer_edge_skip", "2"),
    ("axles.rear.brake.radius", "7 3/16 in ± 1/32 in"),
    ("parts.tires.state", "ordered"),
    ("parts.speedometer_gear.state", "ordered"),
)
TWICE = {  # what the drawing rests on, as it stands, read once more by the neighbor
    "axles.front.hub.pilot": "5.122 in ± 0.003 in",
    "axles.rear.hub.pilot": "5.122 in ± 0.003 in",
    'obstacles."fender lip, top".at': ["-4 in ± 1/4 in", "7 in ± 1/8 in", "23 3/4 in ± 1/4 in"],
    'obstacles."bed skirt, lip over the tire".at': ["-12 in ± 1/4 in", "7 1/4 in ± 1/8 in", "25 1/2 in ± 1/4 in"],
}
TICKED = {
    "safe.local_code": None,
    "safe.air_out": "0 psi",
    "measure.stance": "1/8 in",
    "measure.lift_test": None,
    "decide.tires": None,
    "decide.wheel": None,
    "decide.gears": None,
    "decide.nuts.front": "110 ft·lb",
    "decide.nuts.rear": "110 ft·lb",
    "decide.brakes": "brake shop",
    "decide.sign": None,
    "order.drawing": "wheel shop, 2 December",
    "order.wheels": None,
    "order.small": None,
    "receive.bore.front": "5.150 in",
    "receive.bore.rear": "5.150 in",
    "receive.backspace.front": "4 3/4 in",
    "receive.backspace.rear": "4 3/4 in",
    "mock_up.trial_fit.front": "5/8 in",
}
ACCEPTED = ("steering.bearing_moment_grown", "gearing.shaft_torque_grown", "speedometer.reads_low")
SHEETS = ("order", "checklist", "measuring")  # they are numbered so, from 1


def written(folder: Path) -> Path:
    """The truck in a folder, with its diary."""
    for beside in (COUNTY, COUNTY.with_name("county-road-4x4.diary.jsonl")):
        shutil.copy(beside, folder)
    path = folder / COUNTY.name
    make(try_settings(open_project(path, DAY), [Setting(*one) for one in SET]), WHY)
    _read_twice(path)
    _accepted(path)
    _looked_at(path)
    for kind in SHEETS:
        assert main(["print", str(path), kind, "--text", "-o", str(folder / f"{kind}.txt")]) in (0, 1)
    return path


def _read_twice(path: Path) -> None:
    opened = open_project(path, DAY)
    first = len(opened.project.readings)
    readings = [{"of": of, "value": value, "by": by} for of, value in TWICE.items() for by in ("owner", "neighbor")]
    changes: dict[Key, object] = {("readings", first + at): one for at, one in enumerate(readings)}
    make_recording(opened, Recording(changes, "change", "read twice", WHY, {}))


def _looked_at(path: Path) -> None:
    """All of it ticked as it stands, in one save."""
    opened = open_project(path, DAY)
    listed, more = work(opened).items, len(opened.project.tasks)
    changes: dict[Key, object] = {}
    for id_, value in TICKED.items():
        one = listed[id_]
        record: dict[str, object] = {"id": id_, "state": "done", "on": DAY, "because": WHY}
        record |= {"recorded": value} if value else {}
        record["rested_on"] = tick_basis(opened, listed, one)
        changes[("tasks", more if one.at is None else one.at)] = record
        more += one.at is None
    make_recording(opened, Recording(changes, "tick", "looked at", WHY, {}))


def _accepted(path: Path) -> None:
    make_recording(open_project(path, DAY), Recording({("acceptances",): DELETE}, "acceptance", "none", WHY, {}))
    opened = open_project(path, DAY)
    taken = [accept(opened, one, WHY) for one in flags(opened) if one.rule.name in ACCEPTED]
    records = [record for one in taken for record in one.changes.values()]
    make_recording(opened, Recording({("acceptances",): records}, "acceptance", "accepted", WHY, {}))
