"""That tests keep a sweep changes none of them: what a sweep reads has a key of its own, and nothing else moves it."""

import tomllib
from copy import deepcopy
from typing import Any

import pytest
import tomli_w
from changing_truck import COUNTY, DAY
from sweeps_kept import sweep_key

from planner.plan.answers.open_project import as_if_chosen, work_out
from planner.plan.fit import run_sweep
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import SweepResults
from planner.project.reading import understand
from planner.project.source import parse

DATA = tomllib.loads(COUNTY.read_text("utf-8"))
BOUNDING = {"flag": "steering.scrub_radius_changed", "at": "front", "because": "seen"}


def truck(*changes: tuple[tuple[str | int, ...], Any]) -> OpenProject:
    data: Any = deepcopy(DATA)
    for (*way, last), value in changes:
        held = data
        for name in way:
            held = held[name]
        held[last] = value
    return work_out(understand(parse(COUNTY, tomli_w.dumps(data).encode())), DAY)


@pytest.fixture
def unswept(monkeypatch):
    """A truck just before its sweep, of which the key is asked."""
    none = SweepResults({}, {}, {}, {}, {}, set(), set(), set())
    monkeypatch.setattr(run_sweep, "run_sweep", lambda planned: none)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        (("axles", "front", "travel", "bump"), "4 in ± 1/4 in"),  # as it stands, but for its tolerance
        (("axles", "front", "steering", "stop_angle"), "33 deg"),
        (("axles", "rear", "steered"), True),
        (("fitments", "tall", "tire", "section_width"), "twelve"),
        (("obstacles", 0, "wants"), "1.25 in"),
        (("obstacles", 0, "name"), "another"),
        (("obstacles", 0, "at", 1), "-15 in"),
        (("limits", "least_brake_gap"), {"value": "9 mm", "because": "so"}),
        (("plan", "chosen"), "modest"),
        (("vehicle", "units"), "metric"),
        (("changes", 0, "state"), "given up"),
        (("acceptances",), [BOUNDING]),
    ],
)
def test_whatever_a_sweep_reads_has_a_sweep_of_its_own(key, value, unswept):
    assert sweep_key(truck((key, value))) != sweep_key(truck())


def test_each_candidate_alone_has_one_of_its_own(unswept):
    opened = truck()
    keys = {sweep_key(as_if_chosen(opened, name)) for name in opened.candidates}
    assert len(keys) == len(opened.candidates) > 1


DONE = ((("tasks", 0, "state"), "done"), (("plan", "budget"), 1), (("acceptances", 0, "because"), "seen again"))


def test_a_tick_and_a_sum_have_none(unswept):
    assert sweep_key(truck(*DONE)) == sweep_key(truck())


def test_nor_do_they_change_what_is_swept(swept_anew):
    assert truck(*DONE).swept == truck().swept
