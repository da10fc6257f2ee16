"""Phrases that no mechanic says do not come back: in nothing that a person can meet is one of them."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import planner
from planner.plan.truck.catalog import catalog
from planner.tasks.sequence import standing

ROOM = Path(planner.__file__).parent
HERE = Path(__file__).parent
DOCS = HERE.parents[1]
BY_HAND = ("README.md", "docs/guide.md", "docs/sheets.md", "docs/sweep.md", "docs/changes.md")
NOT_SAID = tuple(line for line in (HERE / "not_said.txt").read_text(encoding="utf-8").splitlines() if line)
# Docstrings that are shown: as a command's help, on the pages of entries and in a starting file, on those of figures.
SHOWN = {"commands": ast.Module, "project/models": ast.ClassDef, "trade": ast.FunctionDef}
SOURCES = "sources"  # titles as their publishers spell them


def literals(path: Path) -> Iterator[tuple[int, str]]:
    """Every text of a module with its line; its docstrings only where they are shown."""
    tree, place = ast.parse(path.read_text(encoding="utf-8")), path.relative_to(ROOM).as_posix()
    shown = next((kind for room, kind in SHOWN.items() if place.startswith(room)), ())
    owners = [
        node
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef))
    ]
    docstrings = {
        id(owner.body[0].value)
        for owner in owners
        if owner.body and isinstance(owner.body[0], ast.Expr)
        if not (isinstance(owner, shown) and (place.startswith("project") or getattr(owner, "decorator_list", True)))
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield node.lineno, "".join(str(one.value) if isinstance(one, ast.Constant) else "…" for one in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            yield node.lineno, node.value


def unfit(text: str) -> list[str]:
    """The phrases of the list in a text, however its words are spaced."""
    words = re.sub(r"\s+", " ", text).casefold()
    return [phrase for phrase in NOT_SAID if re.search(rf"\b{re.escape(phrase.casefold())}", words)]


def test_the_list_is_one_of_phrases_each_once():
    assert len(NOT_SAID) == len(set(NOT_SAID)) >= 30


def test_no_text_of_the_program_has_a_phrase_that_no_mechanic_says():
    found = [
        f"{path.relative_to(ROOM)}:{line}: {phrase!r} in {text[:80]!r}"
        for path in sorted(ROOM.rglob("*.py"))
        if SOURCES not in path.relative_to(ROOM).parts
        for line, text in literals(path)
        if " " in text and text not in NOT_SAID  # a name that is looked for, to be said otherwise
        for phrase in unfit(text)
    ]
    assert not found, "\n".join(found)


def test_no_page_written_by_hand_has_one_either():
    found = []
    for name in BY_HAND:
        prose = re.sub(r"```.*?```|`[^`]*`", "", (DOCS / name).read_text(encoding="utf-8"), flags=re.DOTALL)
        for paragraph in prose.split("\n\n"):
            found += [f"{name}: {phrase!r} in {paragraph[:80]!r}" for phrase in unfit(paragraph)]
    assert not found, "\n".join(found)


def test_what_is_told_beside_the_truck_names_no_key_of_the_file():
    """People go by the names that the screens show, and `planner change` takes those too."""
    told = [(one.name, words) for one in catalog().rules.values() for words in (one.says, one.clear_says, one.cure)]
    told += [(one.id, words) for one in standing() for words in (one.title, one.how, one.caution)]
    keys = re.compile(r"\w+_\w+|\[\[|\b(axles|fitments|vehicle|drivetrain|use|plan|limits)\.\w+")
    found = [(name, key[0]) for name, words in told if (key := keys.search(re.sub(r"\{\w+\}", "", words)))]
    assert not found
