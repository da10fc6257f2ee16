"""The example projects that come with the planner, and a copy of one for a person to try things on.

In a checkout they stand in `projects/`; an installed planner has them in `planner/examples/`, which is a link to it.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from planner.project.diary_reading import diary_path
from planner.project.faults import why
from planner.project.saving import CannotSave
from planner.quantities.text import clean


class Example(NamedTuple):
    """An example: its file, and its first words."""

    path: Path
    title: str


def examples() -> list[Example]:
    """The examples that are there, the most finished first."""
    found = [Example(path, _title(path)) for path in _folder().glob("*.toml")]
    return sorted(found, key=lambda one: -one.path.stat().st_size)


def copied(example: Path, folder: Path) -> Path:
    """A copy of an example with its diary in a folder, never over a file that is there; raises `CannotSave`."""
    parts = [(example, "")] + ([(diary, "diary")] if (diary := diary_path(example)).exists() else [])
    for path in _names(example.stem, folder):
        written: list[Path] = []
        try:
            for source, part in parts:
                target = diary_path(path) if part else path
                with target.open("xb") as file:
                    written.append(target)
                    file.write(source.read_bytes())
            return path
        except FileExistsError:
            _thrown_away(written)
        except OSError as error:
            _thrown_away(written)
            raise CannotSave(path, why(error)) from None
    raise CannotSave(folder / example.name, "there are already a hundred copies of it")


def _names(stem: str, folder: Path) -> Iterator[Path]:
    for number in range(1, 101):
        yield folder / f"{stem}{f'-{number}' if number > 1 else ''}.toml"


def _thrown_away(written: list[Path]) -> None:
    for one in written:
        with suppress(OSError):
            one.unlink()


def _folder() -> Path:
    room = Path(__file__).parents[1]
    installed = room / "examples"  # where links are not known, a checkout has a small text file there
    return installed if os.path.isdir(installed) else room.parent / "projects"


def _title(path: Path) -> str:
    """The name of the truck in it, read off its own line: to parse them all would take its time."""
    with path.open(encoding="utf-8") as file:
        named = next((line for line in file if line.startswith("name = ")), "")
    return clean(named.partition("=")[2].partition("#")[0].strip().strip('"')) or path.stem
