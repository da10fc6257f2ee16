"""The projects that were opened last, in a small file of our own under the person's state folder.

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

MOST = 12
LONGEST = 4096  # characters of a path


def state_file(environment: "os._Environ[str] | dict[str, str]" = os.environ) -> Path:
    """`$XDG_STATE_HOME/truck-wheel-planner/recent.json`; where that is not an absolute path, under `~/.local/state`."""
    said = environment.get("XDG_STATE_HOME", "")
    folder = Path(said) if os.path.isabs(said) else Path.home() / ".local" / "state"
    return folder / "truck-wheel-planner" / "recent.json"


def recent() -> list[Path]:
    """The projects opened last and still there, the latest first."""
    there = (os.path.realpath(path) for path in _listed() if os.path.isfile(path))
    return [Path(path) for path in dict.fromkeys(there)]


def opened(project: Path) -> None:
    """Puts a project first in the list, by the file itself; tells nobody where that cannot be."""
    path = os.path.realpath(project)
    rest = [str(one) for one in _listed() if os.path.realpath(one) != path]
    if _sound(path):
        _write([path, *rest][:MOST])


def _listed() -> list[Path]:
    try:
        rows = json.loads(read_bytes(state_file()))["projects"]
        return [Path(one) for one in rows if _sound(one)][:MOST] if isinstance(rows, list) else []
    except (
        OSError,
        Faulty,
        ValueError,
        TypeError,
        KeyError,
        RuntimeError,
    ):  # RuntimeError: no home
        return []


def _sound(path: Any) -> bool:
    if not isinstance(path, str) or not 0 < len(path) <= LONGEST or "\0" in path:
        return False
    try:
        path.encode("utf-8")
    except UnicodeEncodeError:  # half a character
        return False
    return os.path.isabs(path)


def _write(paths: list[str]) -> None:
    with suppress(OSError, RuntimeError):
        file = state_file()
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        fresh = file.with_suffix(".new")
        fresh.write_text(json.dumps({"projects": paths}, indent=1), encoding="utf-8")
        os.replace(fresh, file)
