"""Every project text of format 1 that the tests know: whole files, what stands in the tests, and texts from a seed."""

import ast
import random
import tomllib
from collections.abc import Iterator
from pathlib import Path

from tests.trust.commented_files import file

TESTS = Path(__file__).parents[1]
FILES = sorted((Path(__file__).parent / "format_1").glob("*.toml"))

NUTS = """
# the studs, {0}
[axles.{0}.studs] # heading {0}
count = 6 # count {0}

# the nuts that came in a can, {0}
seat = "cone" # seat {0}
#seat_angle = "90 deg"  # example {0}
seat_angle = "60 deg" # angle {0}
torque = "110 ft·lb" # torque {0}
hand_left = "left" # left {0}
  # below {0}
"""


def texts_in_tests() -> Iterator[tuple[str, str]]:
    """Each text in a test's module that says `format = 1` and is TOML, with where it stands."""
    for path in sorted(TESTS.rglob("*.py")):
        text = path.read_text("utf-8")
        for node in ast.walk(ast.parse(text)) if "format = 1" in text else ():
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and "format = 1\n" in node.value:
                try:
                    data = tomllib.loads(node.value)
                except tomllib.TOMLDecodeError:
                    continue
                if data.get("format") == 1:
                    yield f"{path.relative_to(TESTS)}:{node.lineno}", node.value


def seeded(seed: int) -> str:
    """A text with odd comments, quotes, blanks and line ends, and nuts among the studs of both axles."""
    text = file(random.Random(seed))
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    body = text.removeprefix(mark)
    windows = "\r\n" in body
    whole = "format = 1 # the first\n" + body.replace("\r\n", "\n")
    whole += ("" if whole.endswith("\n") else "\n") + NUTS.format("front") + NUTS.format("rear")
    return mark + (whole.replace("\n", "\r\n") if windows else whole)
