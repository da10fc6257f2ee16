"""Which file a name means: `truck` and `truck.toml` are one project, with one lock, one diary and one draft."""

import os
from pathlib import Path

from planner.project.faults import Fault, Faulty

ENDING = ".toml"


def project_file(path: Path) -> Path:
    """The file itself that a person names, links followed; `truck` is `truck.toml` where that is there.

    Raises `Faulty` where a file `truck` and another, `truck.toml`, are both there, and `ValueError` for no name at all.
    """
    target = Path(os.path.realpath(path))
    if target.name.endswith(ENDING):
        return target
    whole = Path(os.path.realpath(_with_ending(target)))
    if not os.path.isfile(whole):
        return target
    if os.path.isfile(target) and not os.path.samefile(target, whole):
        said = f"which file? {target.name} and {whole.name} are both there, and one diary is for both"
        raise Faulty(path, (Fault(said, accepted=f"{whole.name}, or {target.name} under another name"),))
    return whole


def new_file(path: Path) -> Path:
    """The file that a new project of this name is written in."""
    return path if path.name.endswith(ENDING) else _with_ending(path)


def beside(target: Path, ending: str) -> Path:
    """A hidden file beside the project for the planner's own use: the same for `truck` and `truck.toml`."""
    return target.with_name(f".{new_file(target).name}.{ending}")


def _with_ending(path: Path) -> Path:
    return path.with_name(path.name + ENDING) if path.name else path
