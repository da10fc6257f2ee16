"""Which missing entries stand first: those on which most hangs, with the task that settles them."""

from datetime import date
from pathlib import Path

import pytest

from planner.commands.check import by_table
from planner.commands.flag_page import next_lines
from planner.plan.answers.flagging import flags
from planner.plan.answers.measure_next import measure_next
from planner.plan.answers.open_project import open_project
from planner.plan.truck.keys import find_key

TODAY = date(2026, 11, 25)
BEGUN = Path(__file__).parents[2] / "projects" / "just-begun.toml"
GRAVITY = ("stop", "caution", "note")


@pytest.fixture(scope="module")
def begun():
    opened = open_project(BEGUN, TODAY)
    return opened, flags(opened)


def waiting(found, key: str, alone: bool = False) -> dict[str, str]:
    """The rules that wait for an entry, counted anew from the flags themselves."""
    return {
        flag.rule.name: flag.rule.severity
        for flag in found
        if flag.verdict.answer == "not known" and (flag.needs == (key,) if alone else key in flag.needs)
    }


def test_what_more_and_graver_rules_wait_for_comes_first(begun):
    opened, found = begun
    ranked = measure_next(opened, found)
    assert {one.key for one in ranked} == {need for flag in found for need in flag.needs}
    for one, after in zip(ranked, ranked[1:], strict=False):
        here, there = waiting(found, one.key), waiting(found, after.key)
        assert set(one.rules) == set(here) and set(one.alone) == set(waiting(found, one.key, alone=True))
        counts = [[list(rules.values()).count(each) for each in GRAVITY] for rules in (here, there)]
        # never behind an entry for which as many or more of every severity wait
        assert counts[0] == counts[1] or any(mine > its for mine, its in zip(*counts, strict=True))


def test_an_entry_to_measure_brings_the_words_of_the_task_that_settles_it(begun):
    ranked = {one.key: one for one in measure_next(*begun)}
    weighed = ranked["axles.rear.load"]
    assert weighed.task == "measure.weigh.rear" and weighed.title.startswith("Weigh the truck axle by axle")
    assert weighed.means.startswith("load on this axle")


def test_every_row_of_what_is_missing_says_what(begun):
    _, found = begun
    rows = by_table(sorted({need for flag in found for need in flag.needs}))
    assert rows and all(head.startswith("[") and right.strip() for head, right in rows)
    told = " ".join(f"{head} {right}" for head, right in rows)
    assert "<" not in told and "[] " not in told
    assert "[axles.front.hub] and [axles.rear.hub]" in told


def test_an_obstacle_is_named_by_its_name_and_the_name_can_be_typed(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(
        'format = 1\n[[obstacles]]\nname = "rod end"\naxle = "front"\n'
        + "".join(f'[[obstacles]]\nname = "lip"\naxle = "front"\nside = "{side}"\n' for side in ("left", "right"))
        + "[[obstacles]]\n"
    )
    opened = open_project(path, TODAY)
    assert opened.spoken("obstacles[0].at") == "front rod end's position"
    assert opened.typed("obstacles[0].at") == 'obstacles."rod end".at'
    assert find_key(opened.opened, "front rod end's position").key == ("obstacles", 0, "at")
    assert find_key(opened.opened, 'obstacles."rod end".at').key == ("obstacles", 0, "at")
    # where two share a name, or one has none, only the number says which
    assert opened.spoken("obstacles[2].at") == "obstacles[2].at (right front lip)"
    assert opened.spoken("obstacles[3].at") == "obstacles[3].at (obstacle 4)"
    wants = [one for flag in flags(opened) for one in flag.wants]
    assert any("front rod end's position" in one for one in wants) and not any("obstacles[0]" in one for one in wants)


def test_a_second_way_to_take_a_bolt_circle_is_one_thing_to_do_and_not_six(tmp_path):
    truck = tmp_path / "truck.toml"
    studs = 'count = 5\ndiameter = "1/2 in"\nadjacent_spacing = "3.674 in ± 0.003 in"\n'
    truck.write_text(f"format = 2\n[axles.front.studs]\n{studs}[axles.rear]\ntires = 2\n", "utf-8")
    opened = open_project(truck, TODAY)
    front, rear = (one for one in flags(opened) if one.rule.node == "stud_readings_disagree")
    assert len(front.needs) == 6 and front.wants == ("front bolt circle, taken another way",)
    assert rear.wants == ("rear bolt circle", "rear stud diameter", "number of rear studs")
    told = "\n".join(next_lines(opened, [front]))
    assert told.count("waits for it") == 1 and "Measure the front bolt circle, taken another way" in told
