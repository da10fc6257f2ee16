"""`planner open FILE`, or `planner FILE`: the project on the screen.

Without a FILE it opens on what there is to open: a new project, one of those opened last, an example.
"""

import gc
import sys
from pathlib import Path

from planner.commands.table import FINE, WRONG, Parser, wrong

EXAMPLE = """example:
  planner open truck.toml
  planner truck.toml
  planner                 to begin a project, or to choose one"""


def run(arguments: list[str]) -> int:
    parser = Parser("planner open", __doc__, EXAMPLE)
    parser.add_argument("file", type=Path, nargs="?", metavar="FILE", help="the project file")
    asked = parser.parse_args(arguments)
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        wrong("planner open: this isn't a terminal; planner check FILE prints the overview")
        return WRONG
    from planner.screens.app.app import Planner

    gc.enable()  # an evening is long enough to make garbage
    planner = Planner(asked.file)
    planner.run()
    return planner.return_code or FINE
