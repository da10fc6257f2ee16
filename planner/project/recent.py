"""The projects that were opened last, in a small file of our own under the person's state folder; how such are kept.

It holds paths and nothing else. Whatever else somebody put there is passed over, and where it cannot be written nothing
is remembered: no project is ever lost or found by it.
"""

import json
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

from planner.project.faults import Faulty
from planner.project.source import read_bytes

LIST = "recent.json"
MOST = 12
LONGEST = 4096  # characters of a path


def state_file(name: str = LIST) -> Path:
    """`$XDG_STATE_HOME/truck-wheel-planner/recent.json`; where that is not an absolute path, under `~/.local/state`."""
    said = os.environ.get("XDG_STATE_HOME", "")
    folder = Path(said) if os.path.isabs(said) else Path.home() / ".local" / "state"
    return folder / "truck-wheel-planner" / name


def recent() -> list[Path]:
    """The projects opened last and still there, the latest first."""
    there = (os.path.realpath(path) for path in _listed() if os.path.isfile(path))
    return [Path(path) for path in dict.fromkeys(there)]


def opened(project: Path) -> None:
    """Puts a project first in the list, by the file itself; tells nobody where that cannot be."""
    path = os.path.realpath(project)
    rest = [str(one) for one in _listed() if os.path.realpath(one) != path]
    if _sound(path):
        write_state(LIST, {"projects": [path, *rest][:MOST]})


def read_state(name: str) -> dict[str, Any]:
    """What stands in a small file of our own; nothing where it is none of ours, or cannot be read."""
    try:
        read = json.loads(read_bytes(state_file(name)))
    except (OSError, Faulty, ValueError, RuntimeError):  # RuntimeError: no home, or nested too deep
        return {}
    return read if isinstance(read, dict) else {}


def write_state(name: str, state: dict[str, Any]) -> None:
    """Writes such a file whole; tells nobody where that cannot be."""
    with suppress(OSError, RuntimeError, UnicodeEncodeError):  # half a character in a path
        file = state_file(name)
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        fresh = file.with_suffix(".new")
        fresh.write_text(json.dumps(state, indent=1), encoding="utf-8")
        os.replace(fresh, file)


def _listed() -> list[Path]:
    rows = read_state(LIST).get("projects")
    return [Path(one) for one in rows if _sound(one)][:MOST] if isinstance(rows, list) else []


def _sound(path: Any) -> bool:
    if not isinstance(path, str) or not 0 < len(path) <= LONGEST or "\0" in path:
        return False
    try:
        path.encode("utf-8")
    except UnicodeEncodeError:  # half a character
        return False
    return os.path.isabs(path)
