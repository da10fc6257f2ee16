"""The county truck as the tests of changing and comparing want it: its measurements, and records of their own."""

import tomllib
from datetime import date
from functools import cache
from pathlib import Path

from planner.project.amending import amend
from planner.project.changes import DELETE

COUNTY = Path(__file__).parents[1] / "projects" / "county-road-4x4.toml"
DAY = date(2026, 11, 25)
BACKSPACE = "fitments.tall.wheel.backspace"

_DECISIONS = [
    {
        "question": "regear with the 37s?",
        "chosen": "keep 5.22",
        "rested_on": {"axles.front.ratio": "5.22", "axles.rear.ratio": "5.22", "use.cruise_speed": "50 mph"},
    },
    {"question": "which rim?", "chosen": "9 in", "rested_on": {"fitments.tall.wheel.rim_width": "9 in"}},
]
_ACCEPTANCES = [
    {
        "flag": "steering.bearing_moment_grown",
        "at": end,
        "because": "new bearings go in",
        "rested_on": {BACKSPACE: "5 in ± 1/16 in", "fitments.tall.wheel.rim_width": "9 in"},
    }
    for end in ("front", "rear")
]
_TASKS = [
    {"id": "own.hub_marks", "title": "stamp L and R on hubs", "phase": "make safe", "state": "done"},
    {"id": "own.bearings", "title": "new bearings", "phase": "fit", "takes": "14 h"},
    {"id": "own.brake_shop", "title": "brake shop", "phase": "road test", "after": ["own.bearings"], "takes": "3 h"},
]
_PARTS = [
    {"id": "wheels", "title": "five wheels", "price": 285, "quantity": 5, "lead_time": "9 weeks", "used_for": ["tall"]},
    {"id": "tires", "title": "five tires", "price": 472, "quantity": 5, "lead_time": "2 weeks", "used_for": ["tall"]},
    {"id": "nuts", "title": "nuts", "price": 6.5, "quantity": 28, "state": "arrived", "used_for": ["tall", "modest"]},
    {"id": "bearings", "title": "bearings", "price": 640, "state": "ordered", "used_for": ["own.bearings"]},
]
# One of each kind and motion, at both axles: a sweep takes as long as there are obstacles.
_OBSTACLES = (
    "spring pack, rear half",
    "tie rod end",
    "drag link, wheel hard left",
    "fender lip, front",
    "bump stop bracket",
    "shock",
    "spring pack",
    "bed skirt, lip over the tire",
)


def write(folder: Path) -> Path:
    """The truck in a folder; its tall wheel has 5 in of backspace, ± 1/16 in, and tall is chosen."""
    path = folder / "truck.toml"
    path.write_bytes(_text().encode("utf-8"))
    return path


@cache
def _text() -> str:
    text = COUNTY.read_bytes().decode("utf-8")
    return amend(
        text,
        {
            ("obstacles",): [one for one in tomllib.loads(text)["obstacles"] if one["name"] in _OBSTACLES],
            ("fitments", "tall", "wheel", "backspace"): "5 in ± 1/16 in",
            ("plan", "chosen"): "tall",
            ("plan", "budget"): 6500,
            ("plan", "start"): date(2026, 12, 5),
            ("plan", "hours_a_week"): 8,
            ("decisions",): _DECISIONS,
            ("acceptances",): _ACCEPTANCES,
            ("tasks",): _TASKS,
            ("parts",): _PARTS,
            ("sheets",): DELETE,
            ("changes",): DELETE,
        },
    )
