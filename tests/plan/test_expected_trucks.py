"""Six made-up trucks against what an experienced builder expects to be told of them.

What he expects stands beside each truck and was written down before the first run; where program and builder parted,
the settlement says which of the two was wrong, and what is still the program's is a failure that is expected here.
"""

import csv
from datetime import date
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import work_out
from planner.plan.truck.catalog import catalog
from planner.project.reading import understand
from planner.project.source import parse
from planner.quantities.show import in_unit

FOLDER = Path(__file__).with_name("expected_trucks")
TRUCKS = sorted(path.stem for path in FOLDER.glob("*.toml"))
DAY = date(2026, 11, 28)
ANSWERS = {"raised": "raised", "clear": "clear", "close": "too close to call", "not known": "not known"}
AXLES = ("front", "rear")


class Expectation(NamedTuple):
    """One line of a truck's table, as it stands once it was settled; `told_by` names who tells it in the program."""

    subject: str
    told_by: str
    fitment: str
    axle: str
    expect: tuple[str, ...]
    severity: tuple[str, ...]
    value: str
    unit: str
    within: str


@cache
def opened(truck: str):
    path = FOLDER / f"{truck}.toml"
    return work_out(understand(parse(path, path.read_bytes())), DAY)


@cache
def told(truck: str):
    return flags(opened(truck), worded=True)


def table(name: str) -> dict[str, dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return {row["number"]: row for row in csv.DictReader(file)}


def expectations():
    for truck in TRUCKS:
        settled = table(f"{truck}.settled.csv")
        for number, row in table(f"{truck}.csv").items():
            how = settled[number]
            one = {key: how.get(key) or row[key] for key in row}
            if how["whose"] == "ours" and how["expect"]:
                one["severity"] = how["severity"]
            marks = (
                [pytest.mark.xfail(reason=how["why"], raises=AssertionError, strict=True)]
                if how["whose"] == "defect"
                else []
            )
            yield pytest.param(
                truck,
                Expectation(
                    one["subject"],
                    how["told_by"],
                    "" if one["fitment"] == "any" else one["fitment"],
                    "" if one["axle"] == "any" else one["axle"],
                    tuple(one["expect"].split("|")),
                    tuple(one["severity"].split("|")) if one["severity"] else (),
                    one["value"],
                    one["unit"],
                    one["within"],
                ),
                id=f"{truck} {number}",
                marks=marks,
            )


def here(project, place: tuple[str, ...], fitment: str, axle: str, obstacle: str) -> bool:
    """Whether a flag's place is the one that is meant; what a place does not name is true of all."""
    fitments = [one for one in place if one in project.project.fitments]
    ends = [one for one in place if one in AXLES]
    return (
        (not fitment or not fitments or fitment in fitments)
        and (not axle or not ends or axle in ends)
        and (not obstacle or obstacle in place)
    )


def answers(truck: str, one: Expectation) -> list[tuple[str, str]]:
    """What the rules that are named say there, each answer with its severity."""
    project, found = opened(truck), []
    for named in one.told_by.split("|"):
        rule, _, obstacle = named.partition("@")
        assert any(rule == each.name for each in catalog().rules.values()), f"no rule is called {rule}"
        found += [
            (flag.verdict.answer, flag.rule.severity)
            for flag in told(truck)
            if flag.rule.name == rule
            and any(here(project, place, one.fitment, one.axle, obstacle) for place in flag.places)
        ]
    return found


def is_told(truck: str, one: Expectation, expect: str) -> bool:
    kind, _, what = one.told_by.rpartition(":")
    if kind == "fault" or expect == "fault":
        return expect == "fault" and any(".".join(map(str, fault.key)) == what for fault in opened(truck).opened.faults)
    if kind == "asked":
        return not any(what in need for flag in told(truck) for need in flag.needs)
    if kind == "first":
        first = next(flag for flag in told(truck) if any(one.fitment in place for place in flag.places))
        return (first.rule.name, first.verdict.answer) == (what, expect)
    found = answers(truck, one)
    if expect == "not told":
        return not any(answer == "raised" and severity in (one.severity or (severity,)) for answer, severity in found)
    if expect == "raised":
        return any(answer == "raised" and severity in (one.severity or (severity,)) for answer, severity in found)
    return bool(found) and {answer for answer, _ in found} == {ANSWERS[expect]}


def figure(truck: str, one: Expectation) -> float | None:
    name, _, times = one.told_by.removeprefix("figure:").partition("*")
    project = opened(truck)
    place = {"fitment": one.fitment or project.planned[0], "axle": one.axle or "rear"}
    value = project.sheet.value(project.spot(name, **place))
    kind = catalog().kind(name)
    return None if value is None else (in_unit(value, kind, one.unit) if one.unit else value) * float(times or 1)


@pytest.mark.parametrize(("truck", "one"), list(expectations()))
def test_an_experienced_builder_is_told_what_he_expects(truck, one):
    if one.told_by.startswith("figure:"):
        value = figure(truck, one)
        if one.expect == ("not known",):
            assert value is None
        else:
            assert value is not None and abs(value - float(one.value)) <= float(one.within), value
    else:
        assert any(is_told(truck, one, expect) for expect in one.expect), one.told_by


@pytest.mark.parametrize("truck", TRUCKS)
def test_every_expectation_is_settled_with_a_reason_where_the_two_parted(truck):
    settled = table(f"{truck}.settled.csv")
    assert list(settled) == list(table(f"{truck}.csv"))
    assert all(row["whose"] in ("", "ours", "defect") and (row["why"] or not row["whose"]) for row in settled.values())


def test_there_are_six_trucks_with_fifteen_expectations_and_more_each():
    assert len(TRUCKS) == 6 and all(len(table(f"{truck}.csv")) >= 15 for truck in TRUCKS)
