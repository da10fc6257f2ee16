"""What is written to a file is read back as the same value to the last bit."""

from math import inf, nan

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from planner.quantities import kinds
from planner.quantities.grammar import Unreadable, read_value
from planner.quantities.kinds import COUNT, LENGTH, POINT, POINTS, POSITION, RATIO, RATIOS, TEXT, YES_NO, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import write
from planner.quantities.spellings import units

MEASURED = [kind for kind in vars(kinds).values() if isinstance(kind, Kind) and kind.form in ("quantity", "ratio")]
UNITS = {kind: [unit.shown for unit in units().values() if kind.name in unit.kinds] or [None] for kind in MEASURED}
TOLERANCES = st.just(0.0) | st.floats(1e-29, 1e29)


def _values(kind: Kind) -> st.SearchStrategy[float]:
    least, most = max(kind.least, -1e29), min(kind.most, 1e29)
    values = st.floats(least, most).filter(lambda value: value == 0 or abs(value) > 1e-29)
    return values.filter(lambda value: not kind.fault(value)) | st.floats(0.001, 1.5)


@given(st.data(), st.sampled_from(MEASURED))
def test_every_kind_is_read_back_as_it_was_written_in_every_unit(data, kind):
    value = Quantity(data.draw(_values(kind)), data.draw(TOLERANCES))
    assume(not kind.above or value.tolerance < value.value - kind.least)
    text = write(value, kind, data.draw(st.sampled_from(UNITS[kind])))
    found = read_value(text, kind)
    assert found == value, text
    assert len(text) <= 64
    assert write(found, kind) == write(value, kind)


@given(st.floats(1e-6, 1e6), st.sampled_from(["in", "ft", "mm", "mile", "yd"]))
@example(0.1397, "in")
@example(0.1 + 0.2, "in")
@example(2.0**-3 * (2 - 2.0**-52), "in")
def test_a_length_is_read_back_as_it_was_written(value, unit):
    assert read_value(write(value, LENGTH, unit), LENGTH) == Quantity(value)


@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9)), min_size=1, max_size=12))
def test_points_are_read_back_as_they_were_written(points):
    points = tuple(tuple(0.0 if abs(half) < 1e-29 else half for half in point) for point in points)
    found = read_value(write(points, POINTS, "in"), POINTS)
    assert tuple((x.value, y.value) for x, y in found) == points


def test_the_other_forms_are_read_back_as_they_were_written():
    for value, kind in [(8, COUNT), (True, YES_NO), (False, YES_NO), ("235/85R16", TEXT)]:
        assert read_value(write(value, kind), kind) == value
    assert write(read_value("1 in, 2 in ± 1/8 in", POINT), POINT, "in") == "1 in, 2 in ± 0.125 in"
    assert write(read_value("3.54, 3.73 ± 0.01", RATIOS), RATIOS) == "3.54; 3.73 ± 0.01"


def test_what_a_person_would_write_is_written_so():
    assert write(read_value("24 in ± 1/8 in", LENGTH), LENGTH, "in") == "24 in ± 0.125 in"
    assert write(read_value("5 1/2 in", LENGTH), LENGTH, "mm") == "139.7 mm"
    assert write(-0.1397, POSITION) == "-0.1397 m"
    assert write(4.1, RATIO) == "4.1"


@pytest.mark.parametrize("value", [nan, inf, 1e31, 1e-31])
def test_what_no_reading_can_give_is_not_written(value):
    with pytest.raises(ValueError):
        write(value, LENGTH)


def test_a_unit_of_another_kind_is_refused():
    with pytest.raises(Unreadable, match="'psi' isn't a unit of a length: write in, ft, mm, cm or m"):
        write(1.0, LENGTH, "psi")
