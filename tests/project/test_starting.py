"""The file that a new project begins with, read as a newcomer reads it: do its examples hold together?"""

import re
from datetime import date

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.work.task_list import work
from planner.project.starting import starting_text

TODAY = date(2026, 3, 14)
UNITS = pytest.mark.parametrize("units", ["inch", "metric"])
INCHES = re.compile(r'= \[*".*\d (in|lb|mph|psi|ft·lb)( ±|")')
IN_WORDS = ("recorded", "description", "title", "because", "note")


def filled(units: str) -> str:
    """The file with the # taken away from every example."""
    lines = starting_text("x", units, every=True).splitlines()
    blanks = [line.startswith("#") and not line.startswith(("# ", "#:")) and '"?' not in line for line in lines]
    return "\n".join(line[1:] if blank else line for line, blank in zip(lines, blanks, strict=True))


def table(text: str, head: str) -> str:
    return text.partition(f"[{head}]\n")[2].partition("\n[")[0]


@UNITS
def test_the_examples_are_one_truck_that_nothing_stops(tmp_path, units):
    path = tmp_path / "truck.toml"
    path.write_text(filled(units), encoding="utf-8")
    opened = open_project(path, TODAY)
    found = flags(opened)
    stands = ("raised", "too close to call")
    assert not [flag.rule.name for flag in found if flag.rule.severity == "stop" and flag.verdict.answer in stands]
    agree = [flag for flag in found if flag.rule.name == "wheel.stud_readings_disagree"]
    assert agree and all(flag.verdict.answer == "clear" for flag in agree)
    assert work(opened, found).items["own.paint_wheels"].after


@UNITS
def test_no_line_ends_in_a_blank_and_every_line_fits(units):
    lines = starting_text("x", units, every=True).splitlines()
    assert not [line for line in lines if line != line.rstrip()]
    assert not [line for line in lines if len(line) > 120 and not line.startswith(("measure", "#because"))]


@UNITS
def test_what_was_found_and_the_rear_axle_have_examples_of_their_own(units):
    text = filled(units)
    for part in ("", ".tire", ".wheel", ".spare"):
        found, planned = table(text, f"fitments.found{part}"), table(text, f"fitments.taller{part}")
        assert found and planned and "37" not in found and "17x9" not in found
        for key in ("description", "designation", "rim_diameter", "price"):
            line = re.compile(rf"^{key} = .*", re.MULTILINE)
            mine, its = line.search(found), line.search(planned)
            assert (mine is None) == (its is None) and (mine is None or mine[0].split("#")[0] != its[0].split("#")[0])
    assert "front" not in table(text, "axles.rear").partition("# if this axle")[0]


def test_a_metric_file_has_metric_examples():
    told = [line for line in filled("metric").splitlines() if INCHES.search(line)]
    assert not [line for line in told if not line.startswith(IN_WORDS)]


def test_no_example_is_a_number_that_nobody_would_write():
    numbers = re.findall(r'"(-?[\d.]+)[^"\d]*"', filled("metric"))
    assert numbers and not [number for number in numbers if len(number.strip("-").replace(".", "").strip("0")) > 4]


@UNITS
def test_what_everybody_fills_in_is_one_page(tmp_path, units):
    text = starting_text("x", units)
    assert len(text.splitlines()) <= 60 and max(map(len, text.splitlines())) <= 118
    every = set(filled(units).split())
    path = tmp_path / "truck.toml"
    rows = [
        line[1:] if line.startswith("#") and line[1:2] not in (" ", ":", "") else line for line in text.splitlines()
    ]
    assert {row.split(" = ")[0] for row in rows if " = " in row and row[:1] != "#"} <= every
    path.write_text("\n".join(rows), encoding="utf-8")
    opened = open_project(path, TODAY)
    assert not opened.opened.faults and not opened.opened.notices and opened.planned == ("taller",)
    stands = ("raised", "too close to call")
    stops = [one.rule.name for one in flags(opened) if one.rule.severity == "stop" and one.verdict.answer in stands]
    assert not stops
    for name in ("tire_for_clearance", "offset_for_poke", "stud_circle"):
        assert any(opened.sheet.value(spot) is not None for spot in opened.sheet.spots(name)), name
