"""What a page or the help of a command puts in code is there: commands with their options, keys of the file and of the
screens, values as people write them, files, and in DEVELOPERS the names of the code.
"""

import io
import re
import shlex
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from functools import cache
from importlib import import_module
from pathlib import Path
from unittest import mock

import pytest

from planner.commands.table import COMMANDS, FINE, Parser, main
from planner.plan.truck.catalog import catalog
from planner.project.schema import json_schema
from planner.quantities import kinds as kinds_of_value
from planner.quantities.grammar import Unreadable, read_value
from planner.quantities.kinds import Kind
from planner.screens.actions import ACTIONS

ROOT = Path(__file__).parents[2]
PAGES = ["README.md", "DEVELOPERS.md", *sorted(f"docs/{path.name}" for path in (ROOT / "docs").glob("*.md"))]
FENCED = re.compile(r"^```(\w+)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
BY_HAND = ["README.md", "docs/guide.md", "docs/sheets.md", "docs/sweep.md", "docs/changes.md"]
DEVELOPERS = "DEVELOPERS.md"
PRINT = "planner print FILE SHEET"  # what a page tells of that names no command: the one of sheets
# What is shown as a sample of something, and is in no program: a file that a print makes, a mark, a slip of the pen.
SAMPLES = {
    "#:schema",
    "5?",
    r"\u6f22",
    "truck-3-wall.pdf",
    ".venv\\Scripts\\",
    '"tall + longer stop screws"',
    "weelbase",
    "my_notes",
}
STANDS_FOR = {
    "FILE": "truck.toml",
    "SHEET": "wall",
    "N": "1",
    "FOLDER": "tables",
}  # what has to be of a kind, in a command as a page has it
MEASURED = [one for one in vars(kinds_of_value).values() if isinstance(one, Kind) and one.form == "quantity"]


def read(page: str) -> str:
    return (ROOT / page).read_text(encoding="utf-8")


def spans(text: str) -> list[str]:
    return [" ".join(one.split()) for one in re.findall(r"`([^`]+)`", FENCED.sub("", text))]


def commands_in(text: str) -> list[str]:
    """Every line of a shell block that calls the planner."""
    blocks = [body for kind, body in FENCED.findall(text) if kind == "sh"]
    lines = "\n".join(re.sub(r"\s*\\\n\s*", " ", one) for one in blocks).splitlines()
    return [line.rpartition(" && .venv/bin/")[2] for line in lines if re.search(r"(^|bin/)planner ", line)]


class Parsed(BaseException):
    """A command was understood with all its options, and is not carried out."""


def parses(line: str) -> bool:
    def stopping(parse):
        def parsed(*arguments):
            parse(*arguments)
            raise Parsed

        return parsed

    line = line.partition(" | ")[0].partition(" > ")[0]
    if not re.match(r"planner\b", line):
        return False
    if line.removeprefix("planner ") in COMMANDS:
        return True  # only named
    words = [STANDS_FOR.get(word, word) for word in shlex.split(line, comments=True) if word != "..."][1:]
    with (
        mock.patch.object(Parser, "parse_args", stopping(Parser.parse_args)),
        mock.patch.object(Parser, "parse_intermixed_args", stopping(Parser.parse_intermixed_args)),
        redirect_stderr(io.StringIO()),
        redirect_stdout(io.StringIO()),
    ):
        try:
            return main(words) == FINE or not words
        except Parsed:
            return True
        except SystemExit as left:
            return left.code == FINE


@cache
def schema() -> dict:
    return json_schema()


def below(node: dict) -> Iterator[dict]:
    """A node of the schema, and every one that may stand in its place."""
    node = schema()["$defs"][node["$ref"].rpartition("/")[2]] if "$ref" in node else node
    yield node
    for other in (*node.get("anyOf", ()), *node.get("allOf", ())):
        yield from below(other)
    if isinstance(items := node.get("items"), dict):
        yield from below(items)


def is_key(text: str) -> bool:
    """Whether the models know it: from the top of the file, or by itself, as a page says it of its table."""
    path = text.partition(" = ")[0].strip("[]").replace('"', "")
    path, *names = re.sub(r"\[\d*\]", "", path).split(".")
    if not names and path in every_key():
        return True
    nodes = [schema()]
    for name in [path, *names]:
        nodes = [
            found
            for node in nodes
            for one in below(node)
            for found in (one.get("properties", {}).get(name), one.get("additionalProperties"))
            if isinstance(found, dict)
        ]
    return bool(nodes)


@cache
def every_key() -> set[str]:
    return {name for one in (schema(), *schema()["$defs"].values()) for name in one.get("properties", {})}


def is_value(text: str) -> bool:
    def reads(kind: Kind) -> bool:
        try:
            read_value(text.strip('"'), kind)
        except Unreadable:
            return False
        return True

    return any(map(reads, MEASURED))


@cache
def code(*folders: str) -> str:
    return "\n".join(path.read_text(encoding="utf-8") for one in folders for path in sorted((ROOT / one).rglob("*.py")))


def is_said(text: str) -> bool:
    """Whether it stands by itself in the code: a word that is typed, the head of a column, what is shown."""
    return f'"{text}"' in code("planner")


def is_option(text: str, commands: list[str]) -> bool:
    return text.startswith("-") and any(parses(f"{command} {text}") for command in commands)


@cache
def files() -> set[tuple[str, ...]]:
    """Every file and folder by its last names."""
    there = [one.relative_to(ROOT).parts for top in ("planner", "tests") for one in (ROOT / top).rglob("*")]
    return {parts[at:] for parts in there for at in range(len(parts))}


def is_file(text: str) -> bool:
    return (ROOT / text).exists() or Path(text).parts in files()


def unknown(page: str) -> Iterator[str]:
    """Each span of a page that is none of these, an option with a command that its section or its row tells of."""
    figures = {*catalog().figures, *catalog().rules}
    shown = {key for one in ACTIONS for key in one.keys.split(",")}
    for section in re.split(r"^(?=## |\| `planner )", read(page), flags=re.MULTILINE):
        named = spans(section)
        commands = [*commands_in(section), *(one for one in named if one.startswith("planner "))] or [PRINT]
        for one in set(named) - SAMPLES:
            there = one in shown | figures or is_said(one) or is_key(one) or is_value(one) or is_file(one)
            if not (there or parses(one) or is_option(one, commands)):
                yield one


@pytest.mark.parametrize("page", BY_HAND)
def test_what_a_page_puts_in_code_is_there(page):
    assert list(unknown(page)) == []


def test_what_developers_puts_in_code_is_a_name_of_the_code_or_a_file():
    words = set(
        re.findall(r"\w+", code("planner", "tests") + read(".ci/run") + read("pyproject.toml") + read(".gitignore"))
    )
    for one in set(spans(read(DEVELOPERS))) - SAMPLES:
        one = re.sub(r"/[A-Z]+\b(\.\w+)?", "", one)  # NAME.py, of a file that somebody adds
        assert is_file(one.rstrip("/")) or words.issuperset(re.findall(r"\b[A-Za-z]\w+", one)), one


@pytest.mark.parametrize("page", PAGES)
def test_every_command_of_a_page_is_taken_with_its_options(page):
    named = [one for one in spans(read(page)) if one.startswith("planner ")]
    assert [one for one in (*commands_in(read(page)), *named) if not parses(one)] == []


@pytest.mark.parametrize("name", [*COMMANDS, "keys"])
def test_every_example_in_the_help_of_a_command_is_taken(name):
    said = import_module(f"planner.commands.{name}").EXAMPLE
    examples = re.findall(r"^  (?:.* \| )?(planner\b.*?)(?:   .*)?$", said, re.MULTILINE)
    assert examples and [one for one in examples if not parses(one)] == []


def test_every_function_key_that_a_page_names_does_something():
    bound = {key.upper() for one in ACTIONS for key in one.keys.split(",")}
    assert {key for page in BY_HAND for key in re.findall(r"\bF\d+\b", read(page))} <= bound


def test_a_slip_in_a_page_is_found():
    slips = [
        "planner check FILE --whole",
        "planner chek FILE",
        "axles.front.hub.pilt",
        "wheel.ofset",
        "5 1/2 im",
        "ctrl+j",
    ]
    with mock.patch(f"{__name__}.read", lambda page: " and ".join(f"`{one}`" for one in slips)):
        assert sorted(unknown("README.md")) == sorted(slips)
