"""Small wrong changes to a source file: where each can be made, and the changed text.

A place is found again by the name of its function, the text of its expression and which such expression it is there, so
that modules may be moved and renamed around it. Words, annotations, docstrings, decorators and imports are left alone.
"""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from copy import copy
from functools import cache
from typing import NamedTuple

NUMBER = re.compile(r"(\d+ )?(\d+)/(\d+)|\d+(\.\d+)?")
SIGNS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv,
}
EDGES: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
PAIRS = ("low high", "down up", "least most", "least greatest", "smallest largest", "min max")
SIDES = {one: other for pair in PAIRS for one, other in (pair.split(), pair.split()[::-1])} | {"least": "most"}
TEXTS = (ast.JoinedStr, ast.List, ast.Tuple, ast.ListComp, ast.Dict, ast.Set)
DECLARING = frozenset({"limit", "assumed"})
BRANCHES = (ast.If, ast.IfExp, ast.While)
LEGIBLE, LONGEST = 12, 160  # characters of an expression by which a place is known
Place = ast.expr | ast.Return | ast.Assign | ast.AugAssign
PLACES = (ast.expr, ast.Return, ast.Assign, ast.AugAssign)


class Spot(NamedTuple):
    """One node of a module: its function (or the name assigned to), what is around it, whether it runs at import."""

    function: str
    node: ast.AST
    around: tuple[ast.AST, ...]
    inside: bool


class Change(NamedTuple):
    """One wrong change: `which` counts the expressions of that text in that function, from 1."""

    kind: str
    function: str
    before: str
    which: int
    after: str


def spots(tree: ast.Module) -> Iterator[Spot]:
    """Every node that may be changed, in the order of the file."""
    for statement in tree.body:
        if not (isinstance(statement, ast.If) and "__name__" in ast.unparse(statement.test)):
            yield from _spots(statement, "", (), False)


def _spots(node: ast.AST, function: str, around: tuple[ast.AST, ...], inside: bool) -> Iterator[Spot]:
    if isinstance(node, (ast.JoinedStr, ast.Import, ast.ImportFrom)) or _docstring(node):
        return
    if isinstance(node, (ast.Assign, ast.AnnAssign)) and not inside:
        if isinstance(node.value, ast.Subscript):
            return  # a type of a shorter name
        target = node.targets[0] if isinstance(node, ast.Assign) else node.target
        function = _joined(function, ast.unparse(target))
    named = isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef))
    if named:
        function = _joined(function, node.name)  # type: ignore[attr-defined]
    else:
        yield Spot(function, node, around, inside)
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "decorator_list", "bases", "targets", "target"):
            continue
        within = inside or (field == "body" and isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)))
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield from _spots(child, function, () if named else (*around, node), within)


def _docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _joined(function: str, name: str) -> str:
    return f"{function}.{name}" if function else name


def changes(source: str) -> list[Change]:
    """Every change that can be made to a module."""
    found = list(spots(ast.parse(source)))
    counts = _numbered(found)
    returned: dict[str, list[ast.expr]] = {}
    for spot in found:
        if isinstance(spot.node, ast.Return) and spot.node.value is not None:
            returned.setdefault(spot.function, []).append(spot.node.value)
    known: dict[str, set[str]] = {}  # what has a value by then, so that a change does not merely name the unknown
    made = []
    for spot in found:
        names = known.setdefault(spot.function, set())
        names |= _names(spot.node) if spot.inside else {spot.node.arg} if isinstance(spot.node, ast.arg) else set()
        for kind, node, after in _changed(spot, returned.get(spot.function, []), names):
            before = ast.unparse(node)
            if before != after and len(before) <= LONGEST and not _fleeting(kind, node):
                made.append(Change(kind, spot.function, before, counts[id(node)], after))
    return made


def mutated(source: str, function: str, before: str, which: int, after: str) -> str | None:
    """The module with one change made; None where the place is not in it."""
    spot = _place(source, function, before, which)
    if spot is None:
        return None
    node, data = spot.node, source.encode()
    assert isinstance(node, Place) and node.end_lineno and node.end_col_offset is not None
    starts = [0, *(end.end() for end in re.finditer(b"\n", data))]
    start, end = starts[node.lineno - 1] + node.col_offset, starts[node.end_lineno - 1] + node.end_col_offset
    text = f"({after})" if isinstance(node, ast.expr) else after
    return (data[:start] + text.encode() + data[end:]).decode()


def probed(source: str, function: str, before: str, which: int, call: str) -> str | None:
    """The module with a call, which gives nothing, made just before a place is evaluated; every line stays its own."""
    spot = _place(source, function, before, which)
    if spot is None:
        return None
    node, rows = spot.node, "\n" * (len(lines(source, function, before, which)) - 1)
    match node:
        case ast.Return(value=ast.expr() as value):
            after = f"return {call} or ({ast.unparse(value)}{rows})"
        case ast.AugAssign():
            start = ast.unparse(ast.AugAssign(node.target, node.op, ast.Name(call, ast.Load())))
            after = f"{start} or ({ast.unparse(node.value)}{rows})"
        case ast.expr():
            after = f"{call} or ({ast.unparse(node)}{rows})"
        case _:
            return None
    return mutated(source, function, before, which, after)


def lines(source: str, function: str, before: str, which: int) -> range:
    """The lines of a place, counted from 1; empty where it runs at import."""
    spot = _place(source, function, before, which)
    if spot is None or not spot.inside:
        return range(0)
    assert isinstance(spot.node, Place)
    return range(spot.node.lineno, (spot.node.end_lineno or spot.node.lineno) + 1)


def functions_with(source: str, before: str) -> list[str]:
    """The function around each place of that text."""
    if not all(word in source for word in re.findall(r"\w+", before)):
        return []
    found = _by_function(source).items()
    return [function for function, there in found for spot in there if ast.unparse(spot.node) == before]


def _place(source: str, function: str, before: str, which: int) -> Spot | None:
    if not all(word in source for word in re.findall(r"\w+", function)):
        return None  # spares reading most modules
    there = [spot for spot in _by_function(source).get(function, []) if ast.unparse(spot.node) == before]
    return there[which - 1] if which <= len(there) else None


@cache
def _by_function(source: str) -> dict[str, list[Spot]]:
    found: dict[str, list[Spot]] = {}
    for spot in spots(ast.parse(source)):
        if isinstance(spot.node, PLACES):
            found.setdefault(spot.function, []).append(spot)
    return found


def _numbered(found: list[Spot]) -> dict[int, int]:
    """For each node by its id the how many-th it is among those of its text in its function."""
    seen: Counter[tuple[str, str]] = Counter()
    numbered = {}
    for spot in found:
        if isinstance(spot.node, PLACES):
            seen[key := (spot.function, ast.unparse(spot.node))] += 1
            numbered[id(spot.node)] = seen[key]
    return numbered


def _changed(spot: Spot, returned: list[ast.expr], names: set[str]) -> Iterator[tuple[str, ast.AST, str]]:
    """What can be done at one node: the kind of change, the expression by which it is known, its text afterwards."""
    node = spot.node
    match node:
        case ast.BinOp() if type(node.op) in SIGNS and not _words(node.left) and not _words(node.right):
            yield "sign", node, ast.unparse(ast.BinOp(node.left, SIGNS[type(node.op)](), node.right))
        case ast.AugAssign() if type(node.op) in SIGNS and not _words(node.value):
            yield "sign", node, ast.unparse(ast.AugAssign(node.target, SIGNS[type(node.op)](), node.value))
        case ast.UnaryOp(op=ast.USub()):
            yield "sign", *_within(spot, node.operand)
        case ast.Call(func=ast.Name(id="abs"), args=[argument]):
            yield "sign", node, ast.unparse(argument)
        case ast.Compare(ops=[first, *rest]):
            for other in EDGES.get(type(first), ()):
                yield "comparison", node, ast.unparse(ast.Compare(node.left, [other(), *rest], node.comparators))
        case ast.BoolOp():
            joined = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
            yield "and or", node, ast.unparse(ast.BoolOp(joined, node.values))
        case ast.Constant(value=bool()) if spot.inside and not _strict(spot):
            yield "number", *_within(spot, ast.Constant(not node.value))
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
            for another in _other_numbers(number):
                yield "number" if spot.inside else "limit", *_within(spot, ast.Constant(another))
        case ast.Constant(value=str() as text) if _declared(spot):
            for scaled in _other_texts(text):
                yield "limit", node, repr(scaled)
        case ast.Name(id=name, ctx=ast.Load()) | ast.Attribute(attr=name, ctx=ast.Load()) if name in SIDES:
            if isinstance(node, ast.Attribute):
                yield "side", *_within(spot, ast.Attribute(node.value, SIDES[name], ast.Load()))
            elif name in ("min", "max") or SIDES[name] in names:
                yield "side", *_within(spot, ast.Name(SIDES[name], ast.Load()))
        case ast.Return(value=ast.expr() as value) if not _told(value):
            for result in returned:
                if not _told(result) and _names(result) <= names:
                    yield "return", node, f"return {ast.unparse(result)}"
    if isinstance(node, BRANCHES):
        yield "condition", node.test, _negated(node.test)
    if isinstance(node, ast.comprehension):
        yield from (("condition", test, _negated(test)) for test in node.ifs)


def _words(node: ast.AST | None) -> bool:
    return isinstance(node, TEXTS) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _told(node: ast.expr) -> bool:
    """Whether it says something to a person."""
    texts = [one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    return _words(node) or any(" " in text for text in texts)


def _strict(spot: Spot) -> bool:
    """The guard of a zip: no wrong answer comes of leaving it out."""
    return isinstance(spot.around[-1], ast.keyword) and spot.around[-1].arg == "strict"


def _fleeting(kind: str, node: ast.AST) -> bool:
    """Whether a place is hard to know again: a bare number in a function, an f-string (Pythons differ in its text)."""
    bare = kind == "number" and isinstance(node, ast.Constant)
    return bare or any(isinstance(one, ast.JoinedStr) for one in ast.walk(node))


def _names(node: ast.AST) -> set[str]:
    return {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}


def _negated(test: ast.expr) -> str:
    if isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not):
        return ast.unparse(test.operand)
    return f"not ({ast.unparse(test)})"


def _declared(spot: Spot) -> bool:
    """Whether a text is the value of a limit or of an assumed value."""
    call = spot.around[-1] if spot.around else None
    return (
        isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in DECLARING
        and call.args[1:2] == [spot.node]
    )


def _other_numbers(number: float) -> list[float]:
    if isinstance(number, int):
        return [number + 1] if number < 8 else [number + 1, round(number * 0.8), round(number * 1.25)]
    factors = (0.8, 1.25) if abs(number) > 1e-4 else (1000.0,)  # what guards against dust is not moved by a quarter
    return [float(f"{number * factor:.6g}") for factor in factors] if number else [1.0]


def _other_texts(text: str) -> list[str]:
    """A value as people write it, its number scaled; of a zero, one."""
    found = NUMBER.match(text)
    if found is None:
        return []
    whole, over, under, _ = found.groups()
    number = float(whole or 0) + float(over) / float(under) if over else float(found[0])
    return [f"{other:.6g}{text[found.end() :]}" for other in ((number * 0.8, number * 1.25) if number else (1.0,))]


def _within(spot: Spot, changed: ast.AST) -> tuple[ast.AST, str]:
    """The expression around a short node by which a reader knows it, and its text with the node changed."""
    top, text, child = spot.node, ast.unparse(changed), spot.node
    for parent in reversed(spot.around):
        if len(ast.unparse(top)) >= LEGIBLE or not isinstance(parent, (*PLACES, ast.keyword)):
            break
        changed, child = _with(parent, child, changed), parent
        if len(ast.unparse(parent)) > LONGEST:
            break
        if not isinstance(parent, (ast.keyword, ast.Slice, ast.Starred)):  # these do not stand alone
            top, text = parent, ast.unparse(changed)
    return top, text


def _with(parent: ast.AST, child: ast.AST, other: ast.AST) -> ast.AST:
    """A copy of a node with another child."""
    made = copy(parent)
    for field, value in ast.iter_fields(parent):
        if isinstance(value, list):
            setattr(made, field, [other if one is child else one for one in value])
        elif value is child:
            setattr(made, field, other)
    return made
