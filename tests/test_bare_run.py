"""A bare run leaves out what takes long, by a list that names tests as they are."""

from pathlib import Path

import bare_run
import pytest

ROOT = Path(__file__).parents[1]


class Item:
    """As much of a collected test as its marks ask for."""

    def __init__(self, nodeid: str, *marks: str) -> None:
        self.nodeid, self.marks = nodeid, list(marks)

    def get_closest_marker(self, name: str) -> str | None:
        return name if name in self.marks else None

    def add_marker(self, name: str) -> None:
        self.marks.append(name)


def marked(*items: Item) -> list[list[str]]:
    bare_run.mark_long(items)  # type: ignore[arg-type]
    return [item.marks for item in items]


def test_of_a_test_with_many_values_the_first_ones_are_kept_and_what_is_not_listed_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(bare_run, "listed", lambda: {"a.py::test_many": 2, "a.py::test_long": 0})
    many = [Item(f"a.py::test_many[{value}]") for value in "abcd"]
    assert marked(*many, Item("a.py::test_long"), Item("a.py::test_short")) == [
        [],
        [],
        ["slow"],
        ["slow"],
        ["slow"],
        [],
    ]


def test_what_is_slow_by_hand_is_not_counted_among_the_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bare_run, "listed", lambda: {"a.py::test_many": 1})
    assert marked(Item("a.py::test_many[a]", "slow"), Item("a.py::test_many[b]")) == [["slow"], []]


def test_as_many_values_are_kept_as_there_is_time_for() -> None:
    assert bare_run.kept([bare_run.LONG / 4] * 3) == 3
    assert bare_run.kept([bare_run.LONG / 4] * 16) == 4
    assert bare_run.kept([bare_run.LONG * 2]) == 0


def test_every_test_of_the_list_is_there_and_none_by_which_alone_a_mutant_is_noticed() -> None:
    listed = bare_run.listed()
    for name in listed:
        file, _, test = name.partition("::")
        text = (ROOT / file).read_text(encoding="utf-8")
        assert f"def {test.rpartition('::')[2].rpartition('.')[2]}(" in text, f"{name} is gone: python -m bare_run"
    assert not listed.keys() & bare_run.noticing()
    assert bare_run.noticing() > {"tests/flags/test_rules.py::test_a_rule_is_raised_on_its_own_example_that_fails"}
