"""What it takes to run a tire: each change is the least that clears its stop, checked in full a hair to either side."""

import json
import tomllib
from collections.abc import Collection
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import tomli_w
from calling import call

from planner.plan.answers.flagging import STANDING, flags
from planner.plan.answers.open_project import open_project, work_out
from planner.plan.answers.verdicts import verdict_at, verdicts
from planner.plan.takes.considering import considered
from planner.plan.takes.least_changes import LeastChange, WhatItTakes, what_it_takes
from planner.plan.takes.sized_candidate import AskedFor, asked_for
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.project.models.changes import TruckChange
from planner.project.models.fitments import Fitment
from planner.project.models.tires import Tire
from planner.project.models.wheels import Wheel
from planner.project.reading import Opened, read_project
from planner.quantities.quantity import Quantity
from planner.worksheet.outcome import Spot
from planner.worksheet.verdict import Verdict

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
DAY = date(2026, 11, 25)
Capture = pytest.CaptureFixture[str]
FEW = ("drag link, wheel hard left", "fender lip, top", "inner fender, rear, at the cab step")
MEASURED = {"overall_diameter": "38 in ± 1/8 in", "section_width": "13.2 in ± 1/8 in"}  # too large for this truck


@cache
def too_large() -> OpenProject:
    """The county truck, its planned tire one that was measured and bears no size, so that any of it may be another."""
    read = read_project(COUNTY)
    tall = read.project.fitments["tall"].model_copy(update={"tire": Tire.model_validate(MEASURED)})
    return with_fitment(read, tall)


@cache
def past_nothing() -> OpenProject:
    """The county truck without its obstacles, for what does not ask if a tire clears them."""
    read = read_project(COUNTY)
    return with_fitment(read, read.project.fitments["tall"], past=())


def with_fitment(
    read: Opened, fitment: Fitment, *changes: TruckChange, past: Collection[str] | None = None
) -> OpenProject:
    """As entered so; `past` are the obstacles that are swept, where not all: no other counts for one."""
    project = read.project
    readings = [one for one in project.readings if one.fitment is None]
    obstacles = [one for one in project.obstacles if past is None or one.name in past]
    update = {"fitments": {**project.fitments, "tall": fitment}, "readings": readings, "obstacles": obstacles}
    whole = project.model_copy(update={**update, "changes": [*project.changes, *changes]})
    tried = {"tall": tuple(range(len(project.changes), len(whole.changes)))} if changes else None
    return work_out(read._replace(project=whole), DAY, tried)


@cache
def told_before() -> list[Verdict]:
    """Every answer before it is asked what it takes."""
    return list(verdicts(too_large()))


@cache
def taken() -> WhatItTakes:
    told_before()
    return what_it_takes(too_large(), "tall")


def made(change: LeastChange, amount: float, stop: Spot) -> OpenProject:
    """The project with one change made of it as a person would enter it, worked out with what a stop is about."""
    moved = change.lever.obstacles  # by their places in the file: then none may be missing
    return all_made([change._replace(amount=amount)], None if moved else stop.place)


def all_made(several: list[LeastChange], past: Collection[str] | None = None) -> OpenProject:
    opened = too_large()
    fitment, changes = opened.project.fitments["tall"], []
    for change in several:
        if change.lever.kind:
            recording = considered(opened, AskedFor(opened, "tall"), change, "a trial")
            (fields,) = recording.changes.values()
            assert isinstance(fields, dict)
            exact = {one.key: one.at(change.amount) for one in change.lever.entries}
            sets = {
                key: _written(exact[key], value) if key in exact else value for key, value in fields["sets"].items()
            }
            changes.append(TruckChange.model_validate({**fields, "sets": sets, "with": []}))
            continue
        (entry,) = change.lever.entries
        value = {entry.key: Quantity(entry.at(change.amount))}
        part = "tire" if entry.key in Tire.model_fields else "wheel"
        whole: Tire | Wheel = getattr(fitment, part).model_copy(update=value)
        fitment = fitment.model_copy(update={part: whole})
    return with_fitment(opened.opened, fitment, *changes, past=past)


def _written(value: float, shown: str) -> str:
    return f"{value!r} {'rad' if shown.endswith('°') else 'm'}"


def stop_at(opened: OpenProject, spot: Spot) -> Verdict:
    found = verdict_at(opened, spot)
    assert found is not None
    return found


WAYS = (  # as they come out; they are not worked out while tests are collected, which each process does at each run
    "steer less",
    "bump less",
    "lift",
    "move up",
    "move back",
    "smaller tire",
    "narrower tire",
    "less backspace",
    "more backspace",
    "wider rim",
    "narrower rim",
)


def single() -> list[tuple[Spot, LeastChange]]:
    return [(stop.spot, change) for stop in taken().stops for change in stop.changes]


def test_several_stops_and_most_ways_are_looked_at() -> None:
    assert len(taken().stops) >= 4
    assert {change.lever.name for _, change in single()} == set(WAYS)


@pytest.mark.slow
@pytest.mark.parametrize("way", WAYS)
def test_a_change_clears_its_stop_and_a_hair_less_does_not(way: str) -> None:
    own = {spot.node: (spot, change) for spot, change in single() if change.lever.name == way}  # one of each kind
    assert own
    for spot, change in own.values():
        assert stop_at(made(change, change.amount, spot), spot).answer == "clear", spot
        less = change.amount - 2 * change.lever.step
        if less > 0:
            assert stop_at(made(change, less, spot), spot).answer in STANDING, spot


@pytest.mark.slow
def test_what_clears_all_of_them_does_so_in_full_and_raises_no_other() -> None:
    was = {(one.rule.name, one.place) for one in told_before() if one.answer != "clear"}
    assert taken().together
    for way in taken().together:
        truck = all_made(list(way))
        left = [
            (one.rule.name, one.place)
            for one in verdicts(truck)
            if one.rule.severity == "stop" and one.answer in STANDING
        ]
        cleared = {("fit." + stop.spot.node, stop.spot.place) for stop in taken().stops}
        assert not cleared & set(left)
        assert set(left) <= was


def test_stops_that_no_change_here_clears_are_told_apart() -> None:
    assert "wheel.stud_circle_differs" in {flag.rule.name for flag in taken().beyond}
    told = {(stop.flag.rule.name, stop.spot.place) for stop in taken().stops}
    told |= {(flag.rule.name, place) for flag in taken().beyond for place in flag.places}
    raised = {
        (flag.rule.name, place)
        for flag in flags(too_large())
        if flag.rule.severity == "stop" and flag.verdict.answer in STANDING
        for place in flag.places
    }
    follow = {"fit.locks_too_wide", "fit.outer_lock_too_wide", "fit.no_backspace_clears"}
    assert raised - told == {one for one in raised if one[0] in follow}


def test_less_steer_costs_turning_radius() -> None:
    steer = next(change for _, change in single() if change.lever.name == "steer less")
    (cost,) = steer.costs
    assert cost.spot.node == "turning_radius"
    assert cost.after.value > cost.before.value


def test_asking_leaves_the_project_as_it_was() -> None:
    assert taken()
    assert list(verdicts(too_large())) == told_before()


def test_a_candidate_in_the_way_of_nothing_takes_nothing() -> None:
    opened = open_project(COUNTY, DAY)
    found = what_it_takes(opened, "tall")
    assert not found.stops
    assert {flag.rule.name for flag in found.beyond} == {"wheel.stud_circle_differs", "brakes.barrel_near_brake"}


def test_a_size_stands_on_the_wheels_of_the_planned_candidate_with_its_changes() -> None:
    asked = asked_for(past_nothing(), "38x13.50R17LT")
    here = asked.opened.project.fitments[asked.fitment]
    assert (asked.size, asked.like, here.tire.designation) == ("38x13.50R17LT", "tall", "38x13.50R17LT")
    assert here.wheel == past_nothing().project.fitments["tall"].wheel
    stop = asked.opened.spot("stop_angle", fitment=asked.fitment, axle="front")
    assert asked.opened.sheet.value(stop) == pytest.approx(0.4538, abs=1e-4)  # 26°, as the change sets it


def test_a_size_for_another_rim_has_rims_of_its_own_diameter_and_no_barrel_of_the_old() -> None:
    asked = asked_for(past_nothing(), "9.00-20")
    wheel = asked.opened.project.fitments[asked.fitment].wheel
    assert wheel.rim_diameter is not None
    assert (wheel.rim_diameter.value, wheel.barrel_radius) == (20.0, None)


@pytest.mark.parametrize("written", ["", "thirty-seven", "ST235/80R16", "37x"])
def test_what_is_no_size_and_no_candidate_is_told_with_both(written: str) -> None:
    with pytest.raises(RefusedChange, match="is no candidate .tall, modest., and no tire size"):
        asked_for(past_nothing(), written)


@pytest.fixture
def county(tmp_path: Path) -> Path:
    """The county truck with a few of its obstacles: a page of each kind of change is as good as one of all."""
    path = tmp_path / "truck.toml"
    data = tomllib.loads(COUNTY.read_text("utf-8"))
    data["obstacles"] = [one for one in data["obstacles"] if one["name"] in FEW]
    path.write_text(tomli_w.dumps(data), "utf-8")
    return path


def test_the_page_says_what_clears_all_first_then_each_stop(county: Path, capsys: Capture) -> None:
    code, text, _ = call(capsys, "takes", county, "38x13.50R17LT")
    assert code == 1
    assert text.index("To clear all of them") < text.index("STOP?") < text.index("None of these changes clears")
    assert text.index("CAUTION  Steering stops are safety parts") < text.index("Local codes")
    assert all(len(line) <= 80 for line in text.splitlines())


def test_the_data_has_amounts_as_numbers(county: Path, capsys: Capture) -> None:
    data = json.loads(call(capsys, "takes", county, "38x13.50R17LT", "--json")[1])
    first = data["stops"][0]
    assert first["short_by"] > 0
    assert all(one["amount"] > 0 for one in first["changes"])
    assert data["none_clears"] and data["together"] and data["not_known"]


def test_a_change_is_written_down_as_one_that_is_considered(county: Path, capsys: Capture) -> None:
    taller = "fitments.tall.tire.overall_diameter=37.6 in ± 1/8 in"
    assert call(capsys, "change", county, taller, "--because", "as measured", "--apply")[0] == 1  # raised
    found = what_it_takes(open_project(county), "tall")
    changes = [one for stop in found.stops for one in stop.changes]
    of_truck, of_candidate = (
        next(at for at, one in enumerate(changes, start=1) if bool(one.lever.kind) == kind) for kind in (True, False)
    )
    code, _, err = call(capsys, "takes", county, "tall", "--consider", of_truck, "--because", "to see")
    assert code == 0, err
    change = open_project(county).project.changes[-1]
    assert (change.state, change.with_fitments, change.because) == ("considered", ["tall"], "to see")
    assert change.kind == changes[of_truck - 1].lever.kind
    for number, says in ((of_candidate, "but another candidate: --as NAME"), (99, "there is no change 99")):
        code, _, err = call(capsys, "takes", county, "tall", "--consider", number)
        assert code == 2 and says in err


def test_a_considered_change_names_the_decided_one_that_sets_the_same(county: Path, capsys: Capture) -> None:
    call(capsys, "takes", county, "38x13.50R17LT", "--as", "fresh")
    changes = json.loads(call(capsys, "takes", county, "fresh", "--json")[1])["stops"]
    steer = next(
        at for at, one in enumerate((c for s in changes for c in s["changes"]), 1) if "stops at" in one["says"]
    )
    code, told, err = call(capsys, "takes", county, "fresh", "--consider", steer)
    assert code == 0, err
    assert "; 'longer stop screws' sets the same: before you decide this one, take that one back" in told


def test_of_a_truck_with_nothing_measured_only_the_first_entries_are_listed(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "new.toml"
    call(capsys, "new", path)
    code, text, _ = call(capsys, "takes", path, "37x12.50R17LT")
    assert code == 1, "nobody knows if something stands in the way"
    said = " ".join(text.split())
    assert " stops that can't be judged yet" in said and said.count(" more. ") == 2
    assert "Each is the least" not in said and len(text.splitlines()) < 25


def test_a_size_is_started_as_a_candidate_with_the_changes_of_the_one_it_is_like(county: Path, capsys: Capture) -> None:
    code, _, err = call(capsys, "takes", county, "9.00-20", "--as", "twenties", "--because", "they can be had")
    assert code == 0, err
    project = open_project(county).project
    twenties, tall = project.fitments["twenties"], project.fitments["tall"]
    assert twenties.tire.designation == "9.00-20" and twenties.tire.load_capacity is None
    assert twenties.wheel.rim_diameter is not None and twenties.wheel.rim_diameter.value == 20.0
    assert (twenties.wheel.well_depth, twenties.wheel.stud_circle) == (None, tall.wheel.stud_circle)
    assert project.changes[0].with_fitments in ([], ["tall", "twenties"])
    code, _, err = call(capsys, "takes", county, "9.00-20", "--as", "tall")
    assert code == 2 and "there is already a tall" in err


def test_another_backspace_is_started_as_a_candidate(county: Path, capsys: Capture) -> None:
    taller = "fitments.tall.tire.overall_diameter=37.6 in ± 1/8 in"
    call(capsys, "change", county, taller, "--because", "as measured", "--apply")
    found = what_it_takes(open_project(county), "tall")
    changes = [one for stop in found.stops for one in stop.changes]
    at, backspace = next((at, one) for at, one in enumerate(changes, 1) if "backspace" in one.lever.name)
    code, _, err = call(capsys, "takes", county, "tall", "--consider", at, "--as", "other dish")
    assert code == 0, err
    wheel = open_project(county).project.fitments["other dish"].wheel
    assert wheel.backspace is not None
    (entry,) = backspace.lever.entries
    assert (wheel.backspace.value - entry.at(backspace.amount)) * entry.way >= -1e-9
    tire = next(at for at, one in enumerate(changes, 1) if one.lever.name == "smaller tire")
    code, _, err = call(capsys, "takes", county, "tall", "--consider", tire, "--as", "x")
    assert code == 2 and "another tire is another size" in err


def test_what_is_considered_reads_no_less_than_it_takes() -> None:
    """It is rounded in a person's unit, away from danger."""
    opened = too_large()
    for _, change in single():
        if change.lever.kind and change.lever.entries:
            (fields,) = considered(opened, AskedFor(opened, "tall"), change, "").changes.values()
            assert isinstance(fields, dict)
            written = TruckChange.model_validate(fields).sets
            truck = with_fitment(
                opened.opened, opened.project.fitments["tall"], TruckChange.model_validate(fields), past=()
            )
            for entry in change.lever.entries:
                value = truck.sheet.value(entry.spots[0])
                assert value <= entry.at(change.amount) + 1e-9, (written, entry)
