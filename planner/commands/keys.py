"""`planner keys FILE`: every key that `planner change` takes, one per line; tab completion reads it."""

from planner.commands.table import FINE, faults_told, project_parser
from planner.plan.truck.keys import known_keys
from planner.project.faults import Faulty
from planner.project.reading import read_project

EXAMPLE = """example:
  planner keys projects/county-road-4x4.toml
  planner keys projects/county-road-4x4.toml | grep backspace"""


def run(arguments: list[str]) -> int:
    parser = project_parser("planner keys", __doc__, EXAMPLE)
    asked = parser.parse_args(arguments)
    try:
        opened = read_project(asked.file)
    except Faulty as faulty:
        return faults_told(faulty)
    print("\n".join(known_keys(opened)))
    return FINE
