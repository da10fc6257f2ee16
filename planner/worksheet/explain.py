"""Why a number is what it is: the tree from a figure down to the entries behind it, and who reads it."""

import ast
import inspect
from collections.abc import Callable
from functools import cache
from textwrap import dedent
from typing import Any, NamedTuple

from planner.quantities.text import in_words
from planner.worksheet.declare import Assumed, Figure, Rule
from planner.worksheet.outcome import Outcome, Spot
from planner.worksheet.sheet import Worksheet


class Reason(NamedTuple):
    """One step of the tree: the outcome at a spot, how it was had, and what it rests on."""

    spot: Spot
    outcome: Outcome
    how: str  # "entered", "assumed", "worked out" or "missing"
    declared: Figure | Assumed | Rule | None
    entered_at: Spot | None
    rests_on: tuple["Reason", ...]
    again: bool = False  # already explained further up or to the left


def explain(sheet: Worksheet, spot: Spot, passed_on: Callable[[Spot], Spot] = lambda one: one) -> Reason:
    """The tree below a spot; a branch that stands twice is opened once.

    `passed_on` gives for a value that is another one passed on as it is that other one, which stands in its place.
    """
    return _explain(sheet, spot, passed_on, set())


def _explain(sheet: Worksheet, spot: Spot, passed_on: Callable[[Spot], Spot], seen: set[Spot]) -> Reason:
    catalog, entered = sheet.catalog, sheet.entered(spot)
    worked_by = catalog.figures.get(spot.node) or catalog.rules.get(spot.node)
    part = catalog.parts.get(spot.node)
    declared: Figure | Assumed | Rule | None = worked_by or catalog.assumed.get(spot.node)
    if part and not entered:
        declared = catalog.figures[part[0]]
    inputs = list(dict.fromkeys(map(passed_on, sheet.used(spot))))
    how = "entered" if entered else "worked out" if inputs else "assumed" if spot.node in catalog.assumed else "missing"
    again = spot in seen and bool(inputs)
    seen.add(spot)
    below = () if again else tuple(_explain(sheet, one, passed_on, seen) for one in inputs)
    return Reason(spot, sheet.outcome(spot), how, None if entered else declared, entered, below, again)


def formula(declared: Figure) -> str:
    """The formula as shown: read from the code, or the written form of a body with branches.

    >>> from planner.trade.wheel.reach import offset
    >>> formula(offset.declared)
    'offset = backspace − rim width / 2 − flange thickness'
    """
    if declared.form is not None:
        return declared.form
    body = single_expression(declared.call)
    if body is None:
        raise TypeError(f"{declared.name} has branches: give it a form")
    return f"{declared.name.split('.')[1].replace('_', ' ')} = {shown(body)}"


@cache
def single_expression(function: Callable[..., Any]) -> ast.expr | None:
    """The expression of a function that is one `return`; None for one with more to it."""
    tree = ast.parse(dedent(inspect.getsource(function)))
    body = tree.body[0].body if isinstance(tree.body[0], ast.FunctionDef) else []
    steps = [step for step in body if not (isinstance(step, ast.Expr) and isinstance(step.value, ast.Constant))]
    return steps[0].value if len(steps) == 1 and isinstance(steps[0], ast.Return) else None


_SIGNS = {ast.Add: "+", ast.Sub: "−", ast.Mult: "×", ast.Div: "/", ast.Pow: "^"}
_STRENGTH = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.Pow: 4}


def shown(tree: ast.expr, values: Callable[[str], str] | None = None) -> str:
    """An expression in words and signs, with `values` put in for the names where given."""
    return _shown(tree, values, 0)


def _shown(tree: ast.expr, values: Callable[[str], str] | None, outer: int) -> str:
    match tree:
        case ast.BinOp(left=left, op=op, right=right):
            strength = _STRENGTH[type(op)]
            tight = strength + (1 if isinstance(op, (ast.Sub, ast.Div)) else 0)
            text = f"{_shown(left, values, strength)} {_SIGNS[type(op)]} {_shown(right, values, tight)}"
            return f"({text})" if strength < outer else text
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return f"−{_shown(operand, values, 3)}"
        case ast.Call(func=func, args=args):
            name = func.attr if isinstance(func, ast.Attribute) else ast.unparse(func)
            return f"{name.replace('_', ' ')}({', '.join(_shown(arg, values, 0) for arg in args)})"
        case ast.Name(id=name):
            return values(name) if values else in_words(name.strip("_"))
        case ast.Attribute(attr=name):
            return "π" if name == "pi" else in_words(name)
        case _:
            return in_words(ast.unparse(tree))
