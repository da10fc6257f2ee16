"""README and DEVELOPERS: their commands, samples and pieces of code are what they say they are."""

import re
import tomllib
from pathlib import Path

import pytest
from reference.guide_run import pieces
from reference.readme_sample import quoted, said

from planner.commands.table import COMMANDS

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
METADATA = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def block(comment):
    """The lines of the code block right behind a comment."""
    found = re.search(rf"<!-- {re.escape(comment)} -->\n```\w+\n(.*?)\n```", README, re.DOTALL)
    assert found, f"README.md has no block behind <!-- {comment} -->"
    return found[1].splitlines()


def test_the_test_command_is_one_line_with_an_environment_of_its_own():
    [line] = block("test command")
    assert line.startswith("python3 -m venv .venv-test && ") and line.endswith('-m pytest -m ""')


def test_every_command_is_listed_and_no_other():
    assert re.findall(r"^\| `planner (\w+)", README, re.MULTILINE) == list(COMMANDS)


@pytest.mark.parametrize("path", sorted(set(re.findall(r"\]\(((?:docs|projects)/[^)#]+)\)", README))))
def test_a_file_that_it_links_to_is_there(path):
    assert (ROOT / path).is_file()


def test_the_sample_is_what_the_command_prints():
    """Each piece whole and in its order, of a run of the very command that stands above it."""
    command, sample = quoted()
    printed = said()
    assert command in README.partition("## What it says")[0], "the sample is of another command than the first one"
    rest = printed.lines
    for piece in pieces(sample):
        at = next((at for at in range(len(rest)) if rest[at : at + len(piece)] == piece), None)
        assert at is not None, f"README.md is stale at {piece[0]}; in tests/ run: python -m reference.readme_sample"
        rest = rest[at + len(piece) :]


@pytest.mark.parametrize(
    "line", sorted(set("\n".join(re.findall(r"```python\n(.*?)```", GUIDE, re.DOTALL)).splitlines()))
)
def test_a_line_of_code_in_the_guide_is_in_the_code(line):
    """Word for word, but for lines that end in dots."""
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "planner").rglob("*.py"))
    assert "…" in line or f"{line}\n" in code


@pytest.mark.parametrize(
    "path", sorted(set(re.findall(r"`((?:worksheet|quantities|project|plan|screens|commands)/[\w/]+\.py)`", GUIDE)))
)
def test_a_module_that_the_guide_names_is_there(path):
    assert (ROOT / "planner" / path).is_file()


@pytest.mark.parametrize("path", sorted(set(re.findall(r"(?:tests/benchmarks/)?(bench_\w+\.py)", GUIDE))))
def test_a_benchmark_that_the_guide_names_is_there(path):
    assert (ROOT / "tests" / "benchmarks" / path).is_file()


def test_every_benchmark_there_is_has_its_word_in_the_guide():
    assert not [path.name for path in (ROOT / "tests" / "benchmarks").glob("bench_*.py") if path.name not in GUIDE]


@pytest.mark.parametrize("path", sorted(set(re.findall(r"`(tests/[\w/]+\.py)`", GUIDE))))
def test_a_script_that_the_guide_names_is_there(path):
    assert (ROOT / path).is_file()


def test_the_newest_heading_of_the_changes_is_the_version_and_each_heading_is_older_than_the_one_above():
    headings = re.findall(r"^## (\S+),", (ROOT / "docs" / "changes.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert headings[0] == METADATA["version"]
    as_numbers = [tuple(map(int, one.split("."))) for one in headings]
    assert as_numbers == sorted(set(as_numbers), reverse=True)


def test_the_metadata_leads_to_files_of_the_project_and_names_the_oldest_python_that_will_do():
    assert METADATA["keywords"] and all((ROOT / path).is_file() for path in METADATA["urls"].values())
    oldest = METADATA["requires-python"].removeprefix(">=")
    assert f"Programming Language :: Python :: {oldest}" in METADATA["classifiers"]


def test_the_guide_gives_a_reason_for_every_dependency():
    extras = METADATA["optional-dependencies"].values()
    wanted = [*METADATA["dependencies"], *(one for extra in extras for one in extra)]
    names = {re.split(r"[\[<>=]", one)[0] for one in wanted} - {METADATA["name"]}
    table = "\n".join(re.findall(r"^\| [^|]+ \|", GUIDE.split("### Dependencies")[1], re.MULTILINE))
    assert not [name for name in names if not re.search(rf"\b{name}\b", table)]
