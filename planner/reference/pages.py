"""The pages of docs/, made from the declarations: `python -m planner.reference.pages docs/` writes them.

    python -m planner.reference.pages docs/ --rows tests/published --check

ROWS holds the published checks; without it they are looked for beside the docs folder. `--check` writes nothing and
names the pages that are stale.
"""

import argparse
import sys
from pathlib import Path

from planner.plan.truck.catalog import catalog
from planner.reference.cautions import cautions_page
from planner.reference.checks import checks_page
from planner.reference.figures import figures_page
from planner.reference.flags import flags_page
from planner.reference.project_file import project_file_page
from planner.reference.rows import read_libraries, read_rows


def pages(rows_folder: Path) -> dict[str, str]:
    """Every page by its file's name."""
    rows = read_rows(rows_folder, catalog())
    return {
        "figures.md": figures_page(catalog(), rows),
        "flags.md": flags_page(catalog()),
        "project-file.md": project_file_page(),
        "cautions.md": cautions_page(catalog()),
        "checks.md": checks_page(catalog(), rows, read_libraries(rows_folder, catalog())),
    }


def stale(folder: Path, rows_folder: Path) -> list[str]:
    """The pages in `folder` that are missing or say something else than the declarations do."""
    return [name for name, text in pages(rows_folder).items() if _read(folder / name) != text]


def _read(path: Path) -> str | None:
    return path.read_text(encoding="utf-8") if path.exists() else None


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m planner.reference.pages", description=__doc__)
    parser.add_argument("docs", type=Path, metavar="DOCS", help="the folder to write the pages to")
    parser.add_argument("--rows", type=Path, help="the folder of published checks")
    parser.add_argument("--check", action="store_true", help="write nothing; name the pages that are stale")
    asked = parser.parse_args(arguments)
    rows_folder = asked.rows or asked.docs.resolve().parent / "tests" / "published"
    if not rows_folder.is_dir():
        parser.error(f"{rows_folder} is not a folder; --rows names the one with the published checks")
    old = stale(asked.docs, rows_folder)
    if not asked.check:
        asked.docs.mkdir(parents=True, exist_ok=True)
        for name in old:
            (asked.docs / name).write_text(pages(rows_folder)[name], encoding="utf-8", newline="\n")
    for name in old:
        print(f"{asked.docs / name}: {'stale' if asked.check else 'written'}")
    return 1 if asked.check and old else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
