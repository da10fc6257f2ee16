"""The list of mutants: it still fits the code, and what draws it changes what it should and nothing else."""

import ast
import json
import shutil
from pathlib import Path

import pytest
from trust import mutant_watch
from trust.mutant_runs import Choice, Covering, OneTest, Trial, batches, results
from trust.mutants import ROOMS, Mutant, drawn, followed, listed, lost, place
from trust.mutating import changes, lines, mutated, probed

TOY = '''"""Numbers: 1 + 1."""

from typing import Literal

Kind = Literal["a", "b"]
reach = limit(Length, "1 1/2 in ± 1/8 in", means="3 - 2")


@figure(form="a - b", holds={"count": 6})
def gap(low: Annotated[float, 4 > 3], high: float) -> float | None:
    """More than 2 * 3.

    >>> gap(1, 2) > 0
    """
    if not low or high > 7.5:
        raise ValueError(f"{low + 1} is too much")
    if high == low and low < 3:
        return high - low
    return abs(high / 2)


if __name__ == "__main__":
    print(1 + 1)
'''


def made(kind):
    return {(one.before, one.after) for one in changes(TOY) if one.kind == kind}


def test_at_least_nine_in_ten_mutants_of_the_list_are_still_found_in_the_code():
    mutants = listed()
    gone = lost(mutants)
    told = "\n".join(f"{one.id} {one.room}, {one.function}: {one.before}" for one in gone)
    assert len(mutants) >= 200
    assert len(gone) <= len(mutants) / 10, f"mend their function or expression in mutants.csv:\n{told}"


def test_the_list_has_every_room_and_every_kind_and_no_mutant_twice():
    mutants = listed()
    assert {one.room for one in mutants} == set(ROOMS)
    assert len({one.kind for one in mutants}) == 8
    assert len({(one.room, one.function, one.before, one.which) for one in mutants}) == len(mutants)
    assert all(one.before != one.after for one in mutants)


def test_each_kind_of_change_is_made_where_it_can_be():
    assert made("sign") == {("high - low", "high + low"), ("high / 2", "high * 2"), ("abs(high / 2)", "high / 2")}
    assert made("limit") == {
        ("'1 1/2 in ± 1/8 in'", "'1.2 in ± 1/8 in'"),
        ("'1 1/2 in ± 1/8 in'", "'1.875 in ± 1/8 in'"),
    }
    assert ("high > 7.5", "high >= 7.5") in made("comparison") and ("high > 7.5", "high < 7.5") in made("comparison")
    assert ("abs(high / 2)", "abs(high / 3)") in made("number")
    assert ("return high - low", "return low - low") in made("side")
    assert made("and or") == {
        ("not low or high > 7.5", "not low and high > 7.5"),
        ("high == low and low < 3", "high == low or low < 3"),
    }
    assert ("high == low and low < 3", "not (high == low and low < 3)") in made("condition")
    assert ("return abs(high / 2)", "return high - low") in made("return")


def test_words_types_docstrings_and_declarations_are_left_alone():
    untouched = ast.unparse(ast.parse(TOY))
    for one in changes(TOY):
        text = mutated(TOY, one.function, one.before, one.which, one.after)
        assert ast.unparse(ast.parse(text)) != untouched
        for kept in ('"""Numbers: 1 + 1."""', 'means="3 - 2"', '@figure(form="a - b", holds={"count": 6})', "4 > 3"):
            assert kept in text
        for kept in ("More than 2 * 3.", ">>> gap(1, 2) > 0", '{low + 1} is too much")', "    print(1 + 1)"):
            assert kept in text


def test_a_place_is_found_again_below_other_lines_and_which_of_several_is_told():
    twice = "def gap(a):\n    first = a + 1\n    return (\n        a + 1\n    )\n"
    assert mutated(twice, "gap", "a + 1", 2, "a - 1") == twice.replace("        a + 1", "        (a - 1)")
    assert mutated("# é\n\n" + twice, "gap", "a + 1", 1, "a - 1").count("first = (a - 1)") == 1
    assert mutated(twice, "gap", "a + 1", 3, "a - 1") is None
    assert mutated(twice, "gap", "a + 2", 1, "a - 2") is None
    assert list(lines(twice, "gap", "a + 1", 2)) == [4]
    assert not lines("LIMIT = 12\n", "LIMIT", "LIMIT = 12", 1)  # it runs at import, and every test is behind it


def test_a_place_is_measured_by_a_call_before_it_that_changes_nothing_and_moves_no_line():
    text = "def gap(a):\n    a += 1 + (\n    2)\n    return [\n    a + 1\n    for a in (1, 2) if a < 2\n    ], a"
    told = text
    for before in ("return ([a + 1 for a in (1, 2) if a < 2], a)", "a += 1 + 2", "a < 2", "a + 1"):
        told = probed(told, "gap", before, 1, f"seen({before!r})") or ""
    called: list[str] = []
    names: dict = {"seen": called.append}
    exec(told, names)
    assert names["gap"](4) == ([2], 7)
    assert called == ["a += 1 + 2", "return ([a + 1 for a in (1, 2) if a < 2], a)", "a < 2", "a + 1", "a < 2"]
    assert told.count("\n") == text.count("\n")


def test_a_long_expression_is_followed_into_a_function_of_another_name_where_it_stands_once():
    long, short = "first_reach + second_reach", "first + second"
    text = f"def renamed(first, second):\n    return {long}, {short}\n"
    sources = {"plan": {Path("planner/plan/a/moved.py"): text, Path("planner/plan/b.py"): "LIMIT = 1\n"}}
    mutants = [Mutant("M1", "plan", "old", "sign", one, 1, one.replace("+", "-")) for one in (long, short)]
    one, other = followed(mutants, sources)
    assert (one.function, place(one, sources["plan"])) == (
        "renamed",
        (Path("planner/plan/a/moved.py"), text.replace(long, "(first_reach - second_reach)")),
    )
    assert place(other, sources["plan"]) is None  # too short to be sure of
    sources["plan"][Path("planner/plan/b.py")] = text
    assert followed(mutants, sources) == mutants


def test_a_room_of_twice_the_lines_has_twice_the_mutants_and_a_seed_draws_the_same_again():
    long = "".join(f"def grow_{at}(a, b):\n    return a + b * {at + 2}\n\n\n" for at in range(40))
    sources = {"trade": [long], "plan": [long.replace("grow", "less"), long.replace("grow", "more")]}
    found = drawn(sources, 7, 30)
    assert [one.room for one in found].count("trade") == 10 and len(found) == 30
    assert found == drawn(sources, 7, 30) != drawn(sources, 8, 30)


def test_tests_of_the_own_room_come_first_snapshots_apart_and_slow_ones_only_where_asked(tmp_path):
    near, far, long, shown = (
        "tests/trade/test_a.py::x",
        "tests/plan/test_b.py::x",
        "tests/trust/c.py::x",
        "tests/d.py::x",
    )
    idle = "tests/trade/test_a.py::y"
    tests = [OneTest(far, False, False), OneTest(near, False, False), OneTest(long, True, False)]
    known = Covering(
        [*tests, OneTest(shown, False, True), OneTest(idle, False, False)], {"M1": {near, far, long, shown}}
    )
    trial = Trial("M1", "trade", "gap", tmp_path, "")

    def chosen(run, rest=False):
        numbers, quoted = batches(trial, known, Choice(run, rest, True), tmp_path)
        return [[one.id for one in batch] for batch in numbers], [one.id for one in quoted]

    assert chosen("bare") == ([[near], [far], []], [shown])
    assert chosen("bare", rest=True) == ([[near], [far], [idle]], [shown])
    assert chosen("slow") == ([[], [long], []], [])
    assert chosen("own") == ([[near], [], [idle]], [])


TOY_TESTS = """import pytest

from planner.trade.gap import gap


@pytest.fixture
def snapshot():
    return "3"


def test_wrong_anyway():
    assert gap(1, 2) == 7


def test_gap():
    assert gap(1, 3) == 2


def test_picture(snapshot):
    assert str(gap(0, 3)) == snapshot
"""


@pytest.mark.slow
def test_a_mutant_is_noticed_by_a_test_that_passes_without_it_and_never_by_a_picture(tmp_path):
    files = {
        "planner/quantities/__init__.py": "",
        "planner/trade/gap.py": "def gap(low, high):\n    return high - low\n",
        "tests/trade/test_gap.py": TOY_TESTS,
    }
    for name, text in files.items():
        (tmp_path / "tree" / name).parent.mkdir(parents=True)
        (tmp_path / "tree" / name).write_text(text)
    (tmp_path / "tree" / "tests" / "trust").mkdir()
    shutil.copy(mutant_watch.__file__, tmp_path / "tree" / "tests" / "trust")
    test = "tests/trade/test_gap.py::test_{}".format
    tests = [(test(name), False, name == "picture") for name in ("wrong_anyway", "gap", "picture")]
    (tmp_path / "covering.json").write_text(json.dumps({"tests": tests, "reach": {}}))
    changed = {"M1": "high + low", "M2": "abs(high - low)", "M3": "float(high - low)", "M4": "sum(iter(int, 1))"}
    trials = [
        Trial(
            id_, "trade", "gap", Path("planner/trade/gap.py"), files["planner/trade/gap.py"].replace("high - low", to)
        )
        for id_, to in changed.items()
    ]
    found = dict(results(tmp_path / "tree", trials, tmp_path / "covering.json", Choice("own", True, True), 2, 8))
    assert found == {
        "M1": f"killed by {test('gap')}",
        "M2": "alive",
        "M3": f"snapshot only, killed by {test('picture')}",
        "M4": f"timeout in {test('gap')}",
    }
    assert (tmp_path / "tree" / "planner" / "trade" / "gap.py").read_text() == files["planner/trade/gap.py"]
