"""What a type checker knows of the entries of a project: a name that no value has, and that an entry may be missing."""

import re
import subprocess
import sys
from pathlib import Path
from typing import Any, get_args

from planner.project.facts import inner_model
from planner.project.models.entry import Table, entries
from planner.project.models.project import Project

HOUSE = Path(__file__).parents[2]
# One of each sort of entry, and its type.
ENTRIES = {
    "project.vehicle.wheelbase": "Quantity | None",
    "project.fitments['tall'].tire.overall_diameter": "Quantity | None",
    "project.fitments['tall'].front.wheel.mass": "Quantity | None",
    "project.axles.front.steering.stop_angle": "Quantity | None",
    "project.axles.front.ratio": "Quantity | None",
    "project.axles.rear.studs.count": "int | None",
    "project.axles.rear.studs.points": "tuple[tuple[Quantity, Quantity], ...] | None",
    "project.axles.rear.gear_sets": "tuple[Quantity, ...] | None",
    "project.axles.front.steered": "bool | None",
    "project.drivetrain.gearbox['1st']": "Quantity",
    "project.drivetrain.part_time": "bool | None",
    "project.obstacles[0]": "Obstacle",
    "project.obstacles[0].name": "str | None",
    "project.obstacles[0].at": "tuple[Quantity, Quantity, Quantity] | None",
    "project.obstacles[0].wants": "Quantity | None",
    "project.parts[0].price": "Decimal | None",
    "project.tasks[0].takes": "Quantity | None",
    "project.readings[0].of": "str | None",
    "project.readings[0].on": "date | None",
    "project.limits['rim_reach'].value": "object",
    "project.vehicle.fractions": "bool",
    "project.axles.rear": "Axle",  # a table that the file leaves out is there, with nothing in it
}


def test_mypy_finds_a_name_that_no_value_of_an_entry_has(tmp_path):
    snippet = tmp_path / "snippet.py"
    lines = ["from planner.project.models.project import Project", "def read(project: Project) -> None:"]
    snippet.write_text("\n".join([*lines, *(f"    {entry}.no_such_thing" for entry in ENTRIES)]) + "\n", "utf-8")
    # A process of its own: in ours mypy would leave other limits of recursion and garbage behind.
    asked = [sys.executable, "-m", "mypy", "--strict", "--config-file=", f"--cache-dir={tmp_path}", str(snippet)]
    said = subprocess.run(asked, cwd=HOUSE, capture_output=True, text=True, check=False).stdout
    found: dict[str, set[str]] = {}
    for number, message in re.findall(r"^.*snippet\.py:(\d+): error: (.*)$", said, re.MULTILINE):
        of = re.search(r'"([^"]*)" has no attribute "no_such_thing"', message)
        found.setdefault(list(ENTRIES)[int(number) - 1 - len(lines)], set()).add(of[1] if of else message)
    assert found == {entry: {type_} for entry, type_ in ENTRIES.items()}, said


def parts(annotation: Any) -> list[Any]:
    return [annotation, *(part for inner in get_args(annotation) for part in parts(inner))]


def loose(model: type[Table], key: str = "") -> list[str]:
    """The entries of a model, and of those in it, that might be anything without a check."""
    found = []
    for name, info in entries(model).items():
        inner = inner_model(info.annotation)
        here = f"{key}{name}"
        found += loose(inner, f"{here}.") if inner else [here] if Any in parts(info.annotation) else []
    return found


def test_no_entry_is_of_a_type_that_hides_a_wrong_name():
    assert loose(Project) == []
