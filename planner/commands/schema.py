"""`planner schema`: the JSON Schema of the project file, so that an editor can check and complete it."""

from argparse import RawDescriptionHelpFormatter

from planner.commands.page import as_json
from planner.commands.table import FINE, Parser

EXAMPLE = """example:
  planner schema > truck.schema.json
  then put this line at the top of the project file:
  #:schema ./truck.schema.json"""


def run(arguments: list[str]) -> int:
    parser = Parser("planner schema", description=__doc__, epilog=EXAMPLE, formatter_class=RawDescriptionHelpFormatter)
    parser.add_argument("--json", action="store_true", help="as other commands have it: the schema is always JSON")
    parser.parse_args(arguments)
    from planner.project.schema import json_schema

    print(as_json(json_schema()))
    return FINE
