"""That tests keep what was worked out changes nothing: a truck opened after others has what it has opened alone."""

import tomllib
from copy import deepcopy

import pytest
import tomli_w
import worksheets_kept
from changing_truck import COUNTY, DAY

from planner.plan.answers.open_project import work_out
from planner.project.reading import understand
from planner.project.source import parse

DATA = tomllib.loads(COUNTY.read_text("utf-8"))
OTHERS = {
    "a tolerance": (("axles", "front", "face_to_face"), "58 1/2 in ± 1/2 in"),
    "one tire for both ends": (("fitments", "tall", "tire", "overall_diameter"), "36.5 in ± 1/2 in"),
    "what is assumed": (("assumptions", "diameter_as_made"), {"value": "1 ± 4 %"}),
    "units": (("vehicle", "units"), "metric"),
}


def outcomes(*changes):
    data = deepcopy(DATA)
    for (*way, last), value in changes:
        held = data
        for name in way:
            held = held.setdefault(name, {})
        held[last] = value
    sheet = work_out(understand(parse(COUNTY, tomli_w.dumps(data).encode())), DAY).sheet
    return {spot: sheet.outcome(spot) for spot in sheet.layout.index}


@pytest.fixture(scope="module")
def opened_before():
    return outcomes()


@pytest.mark.parametrize("other", OTHERS)
def test_a_truck_opened_after_another_has_what_it_has_alone(opened_before, other):
    after = outcomes(OTHERS[other])
    with worksheets_kept.none_kept():
        alone = outcomes(OTHERS[other])
    assert after == alone != opened_before
