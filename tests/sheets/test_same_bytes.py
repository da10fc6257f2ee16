"""The same project and date give the same bytes, whichever process prints them."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from planner.commands.print import run
from planner.sheets.kind import names

ROOT = Path(__file__).parents[2]
PRINTED = """
import hashlib, sys
from datetime import date
from pathlib import Path
from planner.plan.answers.open_project import open_project
from planner.sheets.kind import Asked, kinds
from planner.sheets.paper import pdf
from planner.sheets.printing import made
from planner.sheets.text import text
on = date(2026, 11, 25)
opened = open_project(Path(sys.argv[1]), on)
for name, kind in kinds().items():
    sheet = made(opened, kind, Asked(), on, 7)
    for raw in (pdf(sheet), text(sheet).encode()):
        print(name, hashlib.sha256(raw).hexdigest())
"""


@pytest.fixture(scope="module")
def truck(tmp_path_factory):
    """A project with a sheet printed and something moved since, so that there is a slip to print."""
    path = tmp_path_factory.mktemp("bytes") / "truck.toml"
    text = (ROOT / "projects" / "just-begun.toml").read_text(encoding="utf-8")
    assert text.count("\nface_to_face = ") == 1
    path.write_text(text.replace("\nface_to_face = ", '\nrating = "2,500 lb"\nface_to_face = '), encoding="utf-8")
    assert run([str(path), "wall", "--text", "-o", str(path.with_name("wall.txt"))]) == 0
    path.write_text(path.read_text(encoding="utf-8").replace("2,500 lb", "2,700 lb"), encoding="utf-8")
    return path


def printed(path, seed):
    """Every kind of sheet as PDF and as text, in a process of its own."""
    own = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-c", PRINTED, str(path)], env=own, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_every_kind_of_sheet_gives_the_same_bytes_in_two_processes(truck):
    one, other = printed(truck, "1"), printed(truck, "2")
    assert one == other
    kinds = {line.split()[0] for line in one}
    assert kinds == set(names()) and len(one) == 2 * len(kinds)
    assert len({line.split()[1] for line in one}) == len(one)
    assert hashlib.sha256(b"").hexdigest() not in "".join(one)
