"""Hard draws of the promise, a hundred where all tests run; `promise.py` makes thousands."""

import random
import tomllib
from functools import cache

import pytest
import tomli_w
from trust import promise
from trust.drawn_values import Drawn, drawn, loose
from trust.promise import Promised, broken_by, corners, example, made_up

from planner.plan.answers.open_project import work_out
from planner.plan.answers.stages import stage_truck
from planner.project.reading import understand
from planner.project.source import parse
from planner.project.staged_truck import stages

DRAWS = {
    "county-road-4x4": 15,
    "forestry-4x4": 10,
    "quarry-flatbed": 10,
    "just-begun": 5,
    "sides apart": 16,
    "changes planned": 15,
    "both axles steer": 14,
    "pairs": 15,
}
MADE_UP = {"sides apart": 1, "changes planned": 2, "both axles steer": 3, "pairs": 9}

AIMED = MADE_UP.keys() - {"pairs"}  # at the rules on the sweep: that takes a sweep for each value first


# To see what moves a swept margin takes two sweeps for each of fifty values: of every third, and of each by hand.
EVERY = {"sides apart": 3, "changes planned": 3, "both axles steer": 3, "pairs": 6}


@cache
def promised(name: str) -> Promised:
    return made_up(MADE_UP[name], EVERY[name]) if name in MADE_UP else example(name)


@pytest.mark.parametrize(
    ("name", "share"),
    [
        *(pytest.param(name, 1, marks=pytest.mark.slow) for name in DRAWS),
        *(pytest.param(name, 3, marks=pytest.mark.shortened) for name in DRAWS if name not in AIMED),
    ],
)
def test_no_truck_that_agrees_with_what_was_entered_is_told_otherwise(name, share):
    drawn_ones = broken_by(promised(name), DRAWS[name] // share, random.Random(name), swept=name in AIMED)
    assert [f"{one.spot}: {one.told}" for one in drawn_ones] == []


@pytest.mark.slow
def test_nor_is_one_with_pairs_where_the_draws_are_aimed_at_the_sweep():
    found = broken_by(promised("pairs"), 12, random.Random(1))
    assert [f"{one.spot}: {one.told}" for one in found] == []


def test_a_hundred_draws_are_made_and_all_that_is_loose_is_drawn():
    assert sum(DRAWS.values()) == 100
    for name in DRAWS:
        opened = promised(name).opened
        assert loose(opened) and not loose(drawn(opened, corners(loose(opened), random.Random(1))))


def values_of(one: Promised) -> Drawn:
    return corners(one.loose, random.Random(1))


def test_a_formula_whose_sign_is_wrong_at_the_drawn_truck_is_caught(monkeypatch, swept_anew):
    one = promised("sides apart")
    for step in one.found.sheet.layout.steps:
        if step.spot.node == "poke":
            monkeypatch.setattr(step, "call", lambda reach, edge: reach + edge)
    assert "poke" in {each.spot.node for each in one.broken(values_of(one))}


def test_a_tolerance_that_is_followed_the_wrong_way_is_caught(monkeypatch, swept_anew):
    import planner.worksheet.spread as spread

    true = spread._effect
    monkeypatch.setattr(spread, "_effect", lambda *given: true(*given)._replace(down=0.0, at_down=0.5))
    one = made_up(MADE_UP["changes planned"])
    assert {"poke", "scrub_radius"} <= {each.spot.node for each in one.broken(values_of(one))}


@pytest.mark.parametrize("name", MADE_UP)
def test_a_made_up_truck_is_swept_so_that_its_fit_is_held_to_the_promise_too(name):
    # A designation that contradicts what was measured would leave nothing of its tires known, and nothing to break.
    swept = promised(name).found.swept
    assert len(swept.found) >= 2 and any(spot.node == "window_width" for spot in swept.results)


@pytest.mark.slow
@pytest.mark.parametrize("end", ["front", "rear"])
def test_nor_is_a_truck_half_old_and_half_new_at_a_stage_of_its_build(monkeypatch, end):
    def at_the_stage(opened, day):
        whole = work_out(opened, day)
        return stage_truck(whole, stages(whole.project)[0])[0]

    monkeypatch.setattr(promise, "work_out", at_the_stage)
    path = promise.PROJECTS / "county-road-4x4.toml"
    data = tomllib.loads(path.read_text("utf-8"))
    data["plan"]["stages"] = [{"name": "half", end: data["plan"]["chosen"]}]
    data["obstacles"] = data["obstacles"][::4]
    half = Promised("half", understand(parse(path, tomli_w.dumps(data).encode())), 50)
    assert len(half.judged.answers) > 150
    found = broken_by(half, 12, random.Random(end), swept=False)
    assert [f"{one.spot}: {one.told}" for one in found] == []
