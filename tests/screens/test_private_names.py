"""The screens use of Textual what it offers to everybody: another version of it changes the rest without a word."""

import ast
import inspect
import re
from functools import cache
from importlib import import_module
from pathlib import Path
from textwrap import dedent

import planner.screens

FOLDER = Path(planner.screens.__file__).parent
MODULES = {path: ast.parse(path.read_text("utf-8")) for path in sorted(FOLDER.rglob("*.py"))}
BOUND = {"_fatal_error"}  # pyproject.toml bounds the version for it
PRIVATE = re.compile(r"_(?!_)\w+")


def used(tree: ast.AST) -> set[str]:
    """Every private name behind a dot."""
    return {one.attr for one in ast.walk(tree) if isinstance(one, ast.Attribute) and PRIVATE.fullmatch(one.attr)}


def made(tree: ast.AST) -> set[str]:
    """Every private name that is defined, or set on an object."""
    functions = {one.name for one in ast.walk(tree) if isinstance(one, (ast.FunctionDef, ast.AsyncFunctionDef))}
    stored = {one.attr for one in ast.walk(tree) if isinstance(one, ast.Attribute) and isinstance(one.ctx, ast.Store)}
    return {name for name in functions | stored if PRIVATE.fullmatch(name)}


@cache
def theirs(base: type) -> set[str]:
    return made(ast.parse(dedent(inspect.getsource(base))))


def test_a_private_name_behind_a_dot_is_one_of_our_own():
    ours = set().union(*map(made, MODULES.values())) | {"_replace"}
    assert {path.name: used(tree) - ours for path, tree in MODULES.items() if used(tree) - ours} == {}


def test_no_class_of_ours_takes_a_private_name_that_textual_has():
    taken = set()
    for path, tree in MODULES.items():
        module = import_module(".".join(("planner.screens", *path.relative_to(FOLDER).with_suffix("").parts)))
        for one in (one for one in tree.body if isinstance(one, ast.ClassDef)):
            bases = [base for base in getattr(module, one.name).__mro__ if base.__module__.startswith("textual.")]
            taken |= made(one) & set().union(*map(theirs, bases))
    assert taken == BOUND
