"""`planner new FILE`: begin a project with what everybody fills in; never writes over a file that is there."""

from pathlib import Path

from planner.commands.table import FINE, WRONG, Parser, wrong
from planner.quantities.text import clean

EXAMPLE = """example:
  planner new county-road.toml --name "County road truck"
  planner new forest.toml --units metric
  planner check county-road.toml"""


def run(arguments: list[str]) -> int:
    parser = Parser("planner new", __doc__, EXAMPLE)
    parser.add_argument("file", type=Path, metavar="FILE", help="the project file to write, such as truck.toml")
    parser.add_argument("--name", default="My truck", help="what you call the truck")
    parser.add_argument("--units", choices=("inch", "metric"), default="inch", help="the units you think in")
    parser.add_argument("--all", action="store_true", help="the whole form: every entry there is, explained")
    asked = parser.parse_args(arguments)
    from planner.project.project_path import new_file
    from planner.project.saving import NotSaved, write
    from planner.project.starting import starting_text

    file = new_file(asked.file)
    try:
        write(file, starting_text(clean(asked.name), asked.units, every=asked.all), expected_digest=None)
    except NotSaved as trouble:
        wrong(f"planner new: {trouble}")
        return WRONG
    print(f"{clean(str(file))} is written. Open it in an editor, measure, fill in what you know, and run:")
    print(f"  planner check {clean(str(file))}")
    return FINE
