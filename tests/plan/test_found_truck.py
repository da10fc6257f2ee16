"""The truck as it was found, judged by the load that is on it: so it was, and no build has done it."""

from datetime import date

import pytest

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import work_out
from planner.project.reading import understand
from planner.project.source import parse

TRUCK = """\
format = 2
[axles.rear]
load = "2000 kg ± 20 kg"
tires = 2
[fitments.found.tire]
load_capacity = "{carries}"
passenger = "no"
[fitments.found.wheel]
load_rating = "{rated}"
[fitments.new.tire]
load_capacity = "1500 kg"
passenger = "no"
[fitments.new.wheel]
load_rating = "1500 kg"
"""


def told(tmp_path, **entered):
    opened = work_out(understand(parse(tmp_path / "truck.toml", TRUCK.format(**entered).encode())), date(2026, 11, 28))
    return {
        flag.rule.name: flag.verdict.answer
        for flag in flags(opened)
        if any("rear" in place for place in flag.places) and flag.rule.name.startswith("loads.found")
    }


@pytest.mark.parametrize(
    ("carries", "answer"), [("1100 kg", "clear"), ("1005 kg", "too close to call"), ("980 kg", "raised")]
)
def test_what_the_tires_and_wheels_found_carry_is_told_whatever_is_planned(tmp_path, carries, answer):
    found = told(tmp_path, carries=carries, rated=carries)
    assert found == {"loads.found_tires_overloaded": answer, "loads.found_wheels_overloaded": answer}


def test_tires_found_of_which_nobody_read_the_load_are_not_clear(tmp_path):
    text = TRUCK.replace('load_capacity = "{carries}"\n', "").replace(
        '[fitments.found.wheel]\nload_rating = "{rated}"', ""
    )
    opened = work_out(understand(parse(tmp_path / "truck.toml", text.encode())), date(2026, 11, 28))
    answers = {flag.rule.name: flag.verdict.answer for flag in flags(opened)}
    assert answers["loads.found_tires_overloaded"] == "not known"
    assert "loads.found_wheels_overloaded" not in answers  # most old wheels have no rating on them
