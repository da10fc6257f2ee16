"""Entries that cannot be together, or on no road: told by name as faults, and nothing is worked out from them."""

import pytest

from planner.project.reading import understand
from planner.project.source import parse

STEERING = '[axles.front.steering]\nstop_angle = "{0}"\nstop_angle_out = "{1}"\n'
CRUISE = '[use]\nlowest_cruise_engine_speed = "{0}"\nhighest_cruise_engine_speed = "{1}"\n'
HEIGHT = '[vehicle]\noverall_height = "{0}"\n'


@pytest.mark.parametrize(
    ("text", "key"),
    [
        (STEERING.format("25 deg ± 1 deg", "31 deg ± 1 deg"), "axles.front.steering.stop_angle_out"),
        (STEERING.format("31 deg ± 1 deg", "25 deg ± 1 deg"), ""),
        (STEERING.format("28 deg ± 1 deg", "29 deg ± 1 deg"), ""),  # within what both may be off by
        (CRUISE.format("2600 rpm", "1800 rpm"), "use.lowest_cruise_engine_speed"),
        (CRUISE.format("1800 rpm", "2600 rpm"), ""),
        (HEIGHT.format("78 ft"), "vehicle.overall_height"),
        (HEIGHT.format("128 in"), ""),
    ],
)
def test_what_cannot_be_is_told_by_its_key_and_what_may_be_is_let_pass(tmp_path, text, key):
    faults = understand(parse(tmp_path / "truck.toml", f"format = 2\n{text}".encode())).faults
    assert [".".join(map(str, one.key)) for one in faults] == ([key] if key else [])


def test_of_two_that_are_swapped_neither_is_known(tmp_path):
    text = "format = 2\n" + STEERING.format("25 deg ± 1 deg", "31 deg ± 1 deg")
    known = understand(parse(tmp_path / "truck.toml", text.encode()))
    assert {("axles", "front", "steering", "stop_angle"), ("axles", "front", "steering", "stop_angle_out")} <= set(
        known.not_known
    )
