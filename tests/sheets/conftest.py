"""Sheets made of small projects, and of the examples."""

from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from planner.plan.answers.open_project import open_project
from planner.plan.truck.project import OpenProject
from planner.sheets.blocks import Block, Sheet
from planner.sheets.kind import Asked, kind_named
from planner.sheets.paper import pdf
from planner.sheets.printing import made

ROOT = Path(__file__).parents[2]
ON = date(2026, 11, 25)

Make = Callable[..., Sheet]
Printed = Callable[..., bytes]
_shared: list[OpenProject] = []  # they stay as they are to the end


@pytest.fixture(scope="session")
def county() -> OpenProject:
    _shared.append(open_project(ROOT / "projects" / "county-road-4x4.toml", ON))
    return _shared[-1]


@pytest.fixture(scope="session")
def begun() -> OpenProject:
    _shared.append(open_project(ROOT / "projects" / "just-begun.toml", ON))
    return _shared[-1]


@pytest.fixture
def truck(tmp_path: Path) -> Callable[[str], OpenProject]:
    def write(text: str) -> OpenProject:
        path = tmp_path / "truck.toml"
        path.write_text("format = 1\n" + text, encoding="utf-8")
        return open_project(path, ON)

    return write


def _made(opened: OpenProject, name: str, number: int = 7, **asked: object) -> Sheet:
    return made(opened, kind_named(name), Asked(**asked), ON, number)  # type: ignore[arg-type]


@cache
def _of_shared(at: int, name: str, number: int = 7, **asked: object) -> Sheet:
    return _made(_shared[at], name, number, **asked)


@pytest.fixture
def sheet() -> Make:
    """A sheet of a project; of those that all tests share each is made once."""

    def make(opened: OpenProject, name: str, number: int = 7, **asked: object) -> Sheet:
        at = next((at for at, one in enumerate(_shared) if one is opened), None)
        return _made(opened, name, number, **asked) if at is None else _of_shared(at, name, number, **asked)

    return make


@pytest.fixture(scope="session")
def printed(county: OpenProject) -> Printed:
    """The county truck's sheets as PDF, each made once."""

    @cache
    def make(name: str, paper: str = "a4") -> bytes:
        return pdf(_of_shared(_shared.index(county), name), paper)

    return make


@pytest.fixture
def bare() -> Make:
    def make(*blocks: Block, **more: object) -> Sheet:
        kept = {"kind": "record", "title": "Trial", "truck": "A truck", "number": 7, "on": ON, "blocks": blocks} | more
        return Sheet(**kept)  # type: ignore[arg-type]

    return make
