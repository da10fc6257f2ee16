"""Folders of tests run in any combination: whichever two are named, the tests of both are found."""

import json
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import pytest

TESTS = Path(__file__).parent
FOLDERS = sorted({path.relative_to(TESTS).parts[0] for path in TESTS.glob("*/**/test_*.py")})
OF_THEIR_OWN = [folder for folder in FOLDERS if (TESTS / folder / "conftest.py").exists()]
# One process for all pairs, and of each folder all that is no test and the smallest file of tests: two folders get into
# each other's way by what they are called and what is loaded before any test, not by how many tests they have.
COLLECTS = """
import contextlib, io, json, sys, pytest
from pathlib import Path

pairs = json.load(sys.stdin)
smallest = {
    min(Path("tests", one).rglob("test_*.py"), key=lambda path: path.stat().st_size).resolve()
    for pair in pairs for one in pair
}

class Kept:
    def pytest_ignore_collect(self, collection_path):
        return True if collection_path.name.startswith("test_") and collection_path not in smallest else None

    def pytest_collection_finish(self, session):
        self.folders = [item.nodeid.split("/")[1] for item in session.items]

found = []
for pair in pairs:
    kept, said = Kept(), io.StringIO()
    with contextlib.redirect_stdout(said):
        code = pytest.main(["--collect-only", "-n0", "-m", "", *(f"tests/{one}" for one in pair)], plugins=[kept])
    found.append([int(code), [kept.folders.count(one) for one in pair] if code == 0 else said.getvalue()[-2000:]])
json.dump(found, sys.stdout)
"""


@pytest.mark.parametrize(
    "folders",
    [pytest.param(OF_THEIR_OWN, marks=pytest.mark.shortened), pytest.param(FOLDERS, marks=pytest.mark.slow)],
    ids=["with a conftest of their own", "all"],
)
def test_the_tests_of_both_folders_are_found_whichever_two_are_named(folders: list[str]) -> None:
    pairs = list(combinations(folders, 2))
    assert ("screens", "sheets") in pairs
    told = [sys.executable, "-c", COLLECTS]
    done = subprocess.run(
        told, input=json.dumps(pairs), capture_output=True, text=True, check=True, cwd=TESTS.parent, timeout=300
    )
    for pair, (code, found) in zip(pairs, json.loads(done.stdout), strict=True):
        assert code == 0 and all(found), (pair, found)
