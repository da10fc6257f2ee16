"""What a person chose on the screens, kept for the next start: colors, paper, and the place last seen in each project.

It stands in a small file of our own under the person's state folder, beside the list of projects. Whatever else
somebody put there is passed over, and where it cannot be written nothing is kept.
"""

import json
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

from planner.project.faults import Faulty
from planner.project.recent import MOST, state_file
from planner.project.source import read_bytes


def choices_file() -> Path:
    """`choices.json`, beside the list of the projects that were opened last."""
    return state_file().with_name("choices.json")


def kept_choice(name: str) -> str:
    """What was chosen last, empty for nothing."""
    said = _read().get(name)
    return said if isinstance(said, str) else ""


def keep_choice(name: str, value: str) -> None:
    """Keeps it for the next start; tells nobody where that cannot be."""
    if kept_choice(name) != value:
        _write(_read() | {name: value})


def kept_place(project: Path) -> str:
    """The place that was last in sight in a project, empty for nothing."""
    said = _places(_read()).get(os.path.realpath(project))
    return said if isinstance(said, str) else ""


def keep_place(project: Path, place: str) -> None:
    """Keeps the place that is in sight; those of the projects opened last are enough."""
    if kept_place(project) != place:
        read, path = _read(), os.path.realpath(project)
        others = [(one, at) for one, at in _places(read).items() if one != path]
        _write(read | {"places": dict([*others, (path, place)][-MOST:])})


def _places(read: dict[str, Any]) -> dict[str, Any]:
    places = read.get("places")
    return places if isinstance(places, dict) else {}


def _read() -> dict[str, Any]:
    try:
        read = json.loads(read_bytes(choices_file()))
    except (OSError, Faulty, ValueError, RecursionError, RuntimeError):  # RuntimeError: no home
        return {}
    return read if isinstance(read, dict) else {}


def _write(choices: dict[str, Any]) -> None:
    with suppress(OSError, RuntimeError, UnicodeEncodeError):  # half a character in a path
        file = choices_file()
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        fresh = file.with_suffix(".new")
        fresh.write_text(json.dumps(choices, indent=1), encoding="utf-8")
        os.replace(fresh, file)
