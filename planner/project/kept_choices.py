"""What a person chose on the screens, kept for the next start: colors, paper, and the place last seen in each project.

It stands in a small file of our own under the person's state folder, beside the list of projects. Whatever else
somebody put there is passed over, and where it cannot be written nothing is kept.
"""

import os
from pathlib import Path
from typing import Any

from planner.project.recent import MOST, read_state, write_state

CHOICES = "choices.json"  # beside the list of the projects that were opened last


def kept_choice(name: str) -> str:
    """What was chosen last, empty for nothing."""
    said = read_state(CHOICES).get(name)
    return said if isinstance(said, str) else ""


def keep_choice(name: str, value: str) -> None:
    """Keeps it for the next start; tells nobody where that cannot be."""
    if kept_choice(name) != value:
        write_state(CHOICES, read_state(CHOICES) | {name: value})


def kept_place(project: Path) -> str:
    """The place that was last in sight in a project, empty for nothing."""
    said = _places(read_state(CHOICES)).get(os.path.realpath(project))
    return said if isinstance(said, str) else ""


def keep_place(project: Path, place: str) -> None:
    """Keeps the place that is in sight; those of the projects opened last are enough."""
    if kept_place(project) != place:
        read, path = read_state(CHOICES), os.path.realpath(project)
        others = [(one, at) for one, at in _places(read).items() if one != path]
        write_state(CHOICES, read | {"places": dict([*others, (path, place)][-MOST:])})


def _places(read: dict[str, Any]) -> dict[str, Any]:
    places = read.get("places")
    return places if isinstance(places, dict) else {}
