"""`planner schema`: the JSON Schema of the project file, so that an editor can check and complete it."""

import os
from contextlib import suppress
from pathlib import Path

from planner.commands.page import as_json
from planner.commands.table import FINE, WRONG, Parser, wrong
from planner.quantities.text import clean

LARGEST = 4 * 1024**2  # bytes, of a file that is looked at before it is replaced
EXAMPLE = """example:
  planner schema -o               writes truck.schema.json into this folder
  planner schema > other.json

A project that the planner starts names that file in its first line:
  #:schema ./truck.schema.json
Put the line at the top of one that you wrote yourself. An editor that knows TOML
schemas then completes the keys, says what each is for, and marks what can't be.

It replaces only a schema that it wrote."""


def run(arguments: list[str]) -> int:
    from planner.project.starting import SCHEMA_FILE

    parser = Parser("planner schema", __doc__, EXAMPLE)
    parser.add_argument("--json", action="store_true", help="as other commands have it: the schema is always JSON")
    parser.add_argument(
        "-o", "--output", type=Path, nargs="?", const=Path(SCHEMA_FILE), metavar="FILE",
        help=f"write it to a file, {SCHEMA_FILE} if you name none",
    )  # fmt: skip
    asked = parser.parse_args(arguments)
    from planner.project.schema import json_schema

    text = as_json(json_schema()) + "\n"
    if asked.output is None:
        print(text, end="")
        return FINE
    if trouble := _not_written(asked.output, text.encode()):
        wrong(f"planner schema: {clean(str(asked.output))}: {trouble}")
        return WRONG
    print(f"{clean(str(asked.output))} is written.")
    return FINE


def _not_written(path: Path, raw: bytes) -> str:
    """Writes the file whole, and says why where it can't."""
    from planner.project.faults import why
    from planner.project.own_files import OddFile, put_in_place, standing_file
    from planner.project.saving import fresh_name, put_file
    from planner.project.schema import TITLE

    try:
        old = standing_file(path, LARGEST)
        if old is not None and f'"title": "{TITLE}"'.encode() not in old.raw:
            return "that isn't a schema that the planner wrote: choose another name"
        fresh = fresh_name(path)
        try:
            put_file(fresh, raw, old.status if old else None)
            put_in_place(fresh, path, old.status if old else None)
        finally:
            with suppress(OSError):
                os.unlink(fresh)
    except OddFile as odd:
        return f"there's {odd.what} there: choose another name"
    except ValueError:  # a NUL in the name
        return "that won't work as a file name"
    except OSError as error:
        return f"can't be written: {why(error)}"
    return ""
