"""Wishes as ranges: how people write them, what is refused, and the two ends that rules read."""

import pytest

from planner.project.facts import entered
from planner.project.models.ranges import read_range
from planner.project.reading import read_project
from planner.quantities.kinds import ANGLE, LENGTH, POSITION, SHARE

INCH = 0.0254


@pytest.mark.parametrize(
    ("written", "kind", "low", "high"),
    [
        ("1 to 2 in", POSITION, INCH, 2 * INCH),
        ("1 in to 2 in", POSITION, INCH, 2 * INCH),
        ("1 - 2 in", POSITION, INCH, 2 * INCH),
        ("1–2 in", POSITION, INCH, 2 * INCH),
        ("-1/2 to 1/2 in", POSITION, -INCH / 2, INCH / 2),
        ("1-1/2 in to 40 mm", POSITION, 1.5 * INCH, 0.04),
        ("1 in ± 1/4 in", POSITION, 0.75 * INCH, 1.25 * INCH),
        ("75 to 85 %", SHARE, 0.75, 0.85),
        ("80 % ± 5 %", SHARE, 0.75, 0.85),
        ("0 to 1 deg", ANGLE, 0.0, 0.017453292519943295),
        ("35 to 37 in", LENGTH, 35 * INCH, 37 * INCH),
    ],
)
def test_a_range_is_read_as_people_write_it(written, kind, low, high):
    found = read_range(written, kind)
    assert found.low is not None and found.high is not None
    assert (found.low.value, found.high.value) == pytest.approx((low, high))
    assert not found.low.tolerance and not found.high.tolerance  # a wish is exact
    assert found.text == written


@pytest.mark.parametrize("written", ["as large as clears", "As Large As Clears "])
def test_as_large_as_clears_has_no_ends(written):
    assert read_range(written, POSITION)[:2] == (None, None)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('poke = "1 in"', "a range such as 1 in to 2 in"),  # nothing comes out at just an inch
        ('fender_fill = "plenty"', "a range such as 75 % to 85 %"),
        ('rake = "as large as clears"', "a range such as 0 deg to 1 deg"),
        ('poke = "2 to 1 in"', "a range such as 1 in to 2 in"),
        ('poke = "1 to 2 to 3 in"', "a range such as 1 in to 2 in"),
        ("poke = 3", "a range such as 1 in to 2 in"),
    ],
)
def test_what_is_no_range_is_told_with_one_that_is(tmp_path, line, told):
    path = tmp_path / "truck.toml"
    path.write_text(f"format = 2\n[wishes]\n{line}\n", "utf-8")
    (fault,) = read_project(path).faults
    assert fault.key == ("wishes", line.split(" ")[0]) and told in fault.accepted


def test_rules_read_both_ends_of_a_wish_and_none_of_one_that_has_no_ends(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(
        'format = 2\n[wishes]\npoke = "1 to 2 in"\nfender_fill = "as large as clears"\ndiameter = "37 in"\n', "utf-8"
    )
    found = {fact: value.value for fact, place, _, value in entered(read_project(path).project)}  # type: ignore[union-attr]
    assert found == pytest.approx({"poke_wished_low": INCH, "poke_wished_high": 2 * INCH})
