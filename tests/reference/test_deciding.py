"""Every figure that decides something is held from outside, by checks that notice a wrong sign and a wrong frame."""

import inspect
from collections.abc import Callable, Iterator
from functools import cache
from importlib.util import module_from_spec, spec_from_file_location
from itertools import product
from numbers import Real
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

import pytest
from published_rows import FOLDER, ROWS, given
from test_published import agrees

from planner.plan.truck.catalog import catalog
from planner.reference.deciding import deciding
from planner.reference.rows import OUTSIDE, best_outside, read_libraries, read_rows
from planner.worksheet.bench import work
from planner.worksheet.declare import Figure

ROOT = FOLDER.parents[1]
LIBRARIES = read_libraries(FOLDER, catalog())
PUBLISHED = read_rows(FOLDER, catalog())
DECIDING = sorted(deciding(catalog()))
WRONG = {"the other way": -1, "twice": 2}  # a wrong sign; the whole for the half, a diameter for a radius
NUMBERS = ("quantity", "ratio", "count", "points", "ratios")
WAYS = tuple(WRONG)
NO_MATTER: dict[tuple[str, str, tuple[str, ...]], str] = {
    ("axle_speed_difference", "axle_mismatch", WAYS[:1]): "how far apart they run counts, and not which runs ahead",
    ("full_load", "axle_load", WAYS): "whether the axle was weighed counts, and not what it weighed",
    ("heaviest_load", "axle_load", WAYS): "whether the axle was weighed counts, and not what it weighed",
    ("stud_circle", "stud_count", WAYS[1:]): "of twice as many the longest chord is still the longest",
    ("stud_circle_disagreement", "stud_points", WAYS): "how many they are counts, and not where",
}
"""By figure, what goes in and how it is taken: where that makes no difference, and why."""


def scaled(value: Any, by: float) -> Any:
    if isinstance(value, tuple):
        return tuple(scaled(one, by) for one in value)
    return value * by if isinstance(value, Real) and not isinstance(value, bool) else value


def wrong(declared: Figure) -> Iterator[tuple[str, Callable[..., Any]]]:
    """The figure with one number that goes in, or one that comes out, taken wrongly."""
    signature = inspect.signature(declared.call)
    for taken, name in zip(declared.inputs, signature.parameters, strict=True):
        for said, by in WRONG.items():

            def with_input(*args: Any, _name: str = name, _by: float = by, **named: Any) -> Any:
                bound = signature.bind(*args, **named)
                if _name in bound.arguments:
                    bound.arguments[_name] = scaled(bound.arguments[_name], _by)
                return declared.call(*bound.args, **bound.kwargs)

            if taken.kind.form in NUMBERS:
                yield f"{taken.name} {said}", with_input
    for part, kind in declared.parts.items() or [("", declared.kind)]:
        for said, by in WRONG.items():

            def with_result(*args: Any, _part: str = part, _by: float = by, **named: Any) -> Any:
                found = declared.call(*args, **named)
                return found._replace(**{_part: scaled(getattr(found, _part), _by)}) if _part else scaled(found, _by)

            if kind is not None and kind.form in NUMBERS:
                yield f"{part or 'the result'} {said}", with_result


@cache
def module(file: str) -> ModuleType:
    spec = spec_from_file_location(f"checks_of_{Path(file).stem}", ROOT / file)
    assert spec is not None and spec.loader is not None
    made = module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


def names(code: CodeType) -> set[str]:
    inner = (one for one in code.co_consts if isinstance(one, CodeType))
    return {*code.co_names, *(name for one in inner for name in names(one))}


def cases(test: FunctionType) -> Iterator[dict[str, Any]]:
    """What pytest would call a test with, one case after the other."""
    marks = [mark.args for mark in getattr(test, "pytestmark", []) if mark.name == "parametrize"]
    keys = [key if isinstance(key, (tuple, list)) else (key,) for key, _ in marks]
    for values in product(*(rows for _, rows in marks)):
        pairs = (zip(key, one if len(key) > 1 else (one,), strict=True) for key, one in zip(keys, values, strict=True))
        yield {name: value for pair in pairs for name, value in pair}


def held(declared: Figure, call: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> bool:
    """Whether all that others have worked out of a figure agrees with what this gives in its place."""
    rows = [row for _, row in ROWS if catalog().named(row["figure"]) == declared.node and row["standing"] in OUTSIDE]
    try:
        for row in rows:
            if not agrees(row, declared, work(catalog(), declared._replace(call=call), given(row))):
                return False
        for file in dict.fromkeys(check.test for check in LIBRARIES.get(declared.node, [])):
            tests = module(file)
            called = next(name for name, value in vars(tests).items() if value is declared.call)
            with monkeypatch.context() as patched:
                patched.setattr(tests, called, call)
                for name, test in vars(tests).items():
                    if name.startswith("test_") and called in names(test.__code__):
                        for case in cases(test):
                            test(**case)
    except Exception:
        return False
    return True


def test_what_a_stop_an_order_or_a_bound_on_the_backspace_reads_decides_through_other_figures_too():
    decides = deciding(catalog())
    assert decides["register_gap"] == "stop, order"
    assert decides["flange_radius"] == "stop"  # which the sweep reads
    assert decides["scrub_radius"] == "stop, backspace" and decides["stability_factor"] == "backspace"
    assert decides["running_pressure"] == "order"
    assert "thread_engagement" in decides  # a part of it is read
    assert {"crawl_speed", "rake"}.isdisjoint(decides)


@pytest.mark.parametrize("node", DECIDING)
def test_what_decides_is_held_by_what_others_have_worked_out(node):
    assert best_outside(PUBLISHED.get(node, []), LIBRARIES.get(node, []))


@pytest.mark.parametrize("node", DECIDING)
def test_what_holds_it_notices_each_number_taken_the_other_way_or_twice(node, monkeypatch):
    """By what others have worked out alone: sums by hand, and cells of our own tables, are left out."""
    declared = catalog().figures[node]
    assert held(declared, declared.call, monkeypatch)
    unnoticed = [said for said, call in wrong(declared) if held(declared, call, monkeypatch)]
    alike = [f"{taken} {way}" for figure, taken, ways in NO_MATTER for way in ways if figure == node]
    assert unnoticed == alike
