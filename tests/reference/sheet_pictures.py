"""The pictures in docs/pictures/, pages of sheets; in tests/ `python -m reference.sheet_pictures` makes them.

They are of the county truck on a day that stands here, so that they come out the same each time.
"""

from datetime import date
from pathlib import Path

from planner.plan.answers.open_project import open_project
from planner.sheets.kind import Asked, kind_named
from planner.sheets.paper import pictures
from planner.sheets.printing import made

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docs" / "pictures"
ON = date(2026, 11, 25)
PAGES = {  # the sheet, and its page
    "look-sheet.png": ("look", 1),
    "measuring-sheet.png": ("measuring", 1),
    "wall-sheet.png": ("wall", 10),
    "wheel-order.png": ("order", 2),
}
NUMBER = 12


def picture(name: str) -> bytes:
    """One picture by its file's name."""
    kind, page = PAGES[name]
    opened = open_project(ROOT / "projects" / "county-road-4x4.toml", ON)
    return pictures(made(opened, kind_named(kind), Asked(), ON, NUMBER), form="png", ppi=72)[page - 1]


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name in PAGES:
        (FOLDER / name).write_bytes(picture(name))
        print(f"{FOLDER / name}: written")
