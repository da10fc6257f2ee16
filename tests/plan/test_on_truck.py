"""What is on the truck now: by ticks and by what is entered as fitted, never by what is only planned."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from planner.plan.answers.open_project import open_project
from planner.plan.work.on_truck import changes_done, fitted, on_each_end, spare
from planner.plan.work.task_list import work
from planner.project.diary import commit
from planner.project.source import load

TRUCK = """\
format = 2
[axles.front]
ratio = 4.10
[axles.front.studs]
torque = "110 ft·lb"
[axles.rear]
ratio = 4.10
[axles.front.steering]
stop_angle = "31 deg ± 1 deg"
stop_angle_out = "26 deg ± 1 deg"
[fitments.found.tire]
designation = "7.50-16"
date_code = "1409"
[fitments.found.wheel]
rim_diameter = "16"
rim_width = "6 in"
[fitments.found.spare]
designation = "7.50-16"
[fitments.tall]
axle_ratio = 4.88
[fitments.tall.tire]
designation = "37x12.50R17LT"
[fitments.tall.wheel]
rim_diameter = "17"
rim_width = "9 in"
backspace = "4 3/4 in ± 1/32 in"
pieces = "one"
[fitments.tall.spare]
designation = "37x12.50R17LT"
[plan]
chosen = "tall"
"""
REAR_ON = """
[[tasks]]
id = "fit.wheels.rear"
state = "done"
recorded = "108 ft·lb"
on = 2026-05-09
by = "owner"
"""
STOPS = """
[[changes]]
name = "longer stop screws"
kind = "steering stops"
state = "{}"
on = 2026-05-01
done_by = "brake shop"
[changes.sets]
"axles.front.steering.stop_angle" = "26 deg ± 1/2 deg"
"axles.front.steering.stop_angle_out" = "22 deg ± 1/2 deg"
"""


@pytest.fixture
def truck(tmp_path: Path):
    def write(more: str = "", without: str = ""):
        path = tmp_path / "truck.toml"
        path.write_text(TRUCK.replace(without, "") + more if without else TRUCK + more, encoding="utf-8")
        return open_project(path, date(2026, 6, 1))

    return write


def now(opened):
    return {one.what: (one.front, one.rear) for one in on_each_end(opened, work(opened).items)}


def test_what_is_planned_is_not_on_the_truck(truck):
    opened = truck()
    assert {end: on.fitment for end, on in fitted(opened).items()} == dict.fromkeys(("front", "rear", "spare"), "found")
    said = now(opened)
    assert said["tires"] == ("7.50-16, made week 14 of 2009",) * 2
    assert said["wheels"] == ("16 × 6 in",) * 2
    assert said["gear set"] == ("4.10, as found; 4.88 is planned",) * 2


def test_a_tick_puts_the_new_wheels_on_one_end_and_the_other_stays_as_found(truck):
    opened = truck(REAR_ON)
    said = now(opened)
    assert said["set"] == ("as found: no record says otherwise", "'tall': put on 2026-05-09")
    assert said["wheels"][1] == "17 × 9 in, one-piece, backspace 4 3/4 in ± 1/32 in"
    assert said["tires"] == ("7.50-16, made week 14 of 2009", "37x12.50R17LT")
    assert said["lug nut torque"] == ("not written down", "108 ft·lb, 2026-05-09, by owner")
    assert spare(opened).startswith("7.50-16"), "the old one is carried until the new one is mounted"


def test_a_tick_to_be_looked_at_again_was_done_all_the_same(truck):
    assert fitted(truck(REAR_ON.replace('"done"', '"look again"')))["rear"].fitment == "tall"
    assert fitted(truck(REAR_ON.replace('"done"', '"open"')))["rear"].fitment == "found"


def test_the_torque_written_down_last_is_told_whichever_task_it_is_of(truck):
    again = REAR_ON.replace("fit.wheels.rear", "again.torque_50.rear").replace("108", "112").replace("05-09", "05-20")
    assert now(truck(again + REAR_ON))["lug nut torque"][1] == "112 ft·lb, 2026-05-20, by owner"


def test_a_torque_that_nobody_wrote_down_is_told_as_it_is_to_be(truck):
    opened = truck(REAR_ON.replace('recorded = "108 ft·lb"\n', "").replace("rear", "front"))
    assert now(opened)["lug nut torque"][0] == "not written down; to be 110 lbf·ft"


def test_wheels_entered_as_fitted_are_on_and_told_by_their_marks(truck):
    opened = truck('\n[[wheels]]\nmark = "W3"\nposition = "rear left"\nstate = "fitted"\n')
    assert now(opened)["set"] == ("as found: no record says otherwise", "'tall': wheels entered as fitted")
    assert now(opened)["wheels"][1].endswith("backspace 4 3/4 in ± 1/32 in, W3 left")
    sent = truck('\n[[wheels]]\nmark = "W3"\nposition = "rear left"\nstate = "sent back"\n')
    assert fitted(sent)["rear"].fitment == "found"


def test_gears_that_were_set_up_are_in_and_others_are_planned(truck):
    opened = truck('\n[[tasks]]\nid = "fit.gears.rear"\nstate = "done"\non = 2026-05-02\n')
    assert now(opened)["gear set"] == ("4.10, as found; 4.88 is planned", "4.88, set up 2026-05-02")


@pytest.mark.parametrize(
    ("state", "says"),
    [("done", "inner wheel 26.0° ± 0.5°"), ("decided", "inner wheel 31.0° ± 1°; 26.0° ± 0.5° is planned")],
)
def test_stops_are_as_found_until_the_change_is_done(truck, state, says):
    opened = truck(STOPS.format(state).replace("on = 2026-05-01\n", "" if state == "decided" else "on = 2026-05-01\n"))
    assert now(opened)["steering stops"] == (says, "doesn't steer")
    assert changes_done(opened) == (["longer stop screws 2026-05-01 by brake shop"] if state == "done" else [])


def test_stops_that_were_set_for_one_candidate_stay_set_when_another_is_chosen(truck):
    of_tall = STOPS.format("done").replace('state = "done"', 'state = "done"\nwith = ["tall"]')
    opened = truck(
        '[fitments.low.wheel]\nrim_width = "7 in"\n[plan]\nchosen = "low"\n' + of_tall, '[plan]\nchosen = "tall"\n'
    )
    assert opened.planned == ("low",) and now(opened)["steering stops"][0] == "inner wheel 26.0° ± 0.5°"


def test_with_no_candidate_chosen_nobody_can_say_which_wheels_are_on(truck):
    other = '\n[fitments.low.wheel]\nrim_width = "7 in"\n'
    opened = truck(other + REAR_ON, without='[plan]\nchosen = "tall"\n')
    assert fitted(opened)["rear"].fitment == "" and now(opened)["wheels"][1] == "size not entered"
    assert "nobody can say" in now(opened)["set"][1]


OTHER = '\n[fitments.low]\naxle_ratio = 4.56\n[fitments.low.wheel]\nrim_width = "7 in"\n'


def chosen_later(tmp_path, name, without_entry=False):
    """The wheels and gears of the rear are ticked while the tall set is planned, and another is chosen afterwards."""
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK + OTHER, encoding="utf-8")
    source = load(path)
    gears = REAR_ON.replace("fit.wheels.rear", "fit.gears.rear").replace('recorded = "108 ft·lb"\n', "")
    rests = "" if without_entry else 'rests = "2 aaaaaa"\n'
    text = source.text + "".join(f"{one}{rests}" for one in (REAR_ON, gears))
    commit(source, text, kind="tick", at=datetime(2026, 5, 9, 12, tzinfo=UTC))
    source = load(path)
    changed = source.text.replace('chosen = "tall"', f'chosen = "{name}"' if name else "")
    commit(source, changed, kind="decision", at=datetime(2026, 5, 20, 12, tzinfo=UTC))
    return open_project(path, date(2026, 6, 1))


@pytest.mark.parametrize("without_entry", [False, True])
def test_wheels_that_were_put_on_stay_what_they_are_when_another_set_is_chosen(tmp_path, without_entry):
    opened = chosen_later(tmp_path, "low", without_entry)
    said = now(opened)
    assert said["set"][1] == "'tall': put on 2026-05-09"
    assert said["wheels"][1].startswith("17 × 9 in")
    assert said["gear set"] == ("4.10, as found; 4.56 is planned", "4.88, set up 2026-05-09")
    assert said["cold pressure"][1] == "not written down", "the range is that of another set"


def test_wheels_of_a_set_that_is_gone_from_the_project_are_told_so(tmp_path):
    opened = chosen_later(tmp_path, "low")
    path = tmp_path / "truck.toml"
    start, _, rest = path.read_text(encoding="utf-8").partition("[fitments.tall]")
    path.write_text(start + "[plan]" + rest.partition("[plan]")[2], encoding="utf-8")
    opened = open_project(path, date(2026, 6, 1))
    assert now(opened)["set"][1].endswith("which ones nobody can say: 'tall' is no longer in the project")
    assert now(opened)["gear set"][1].startswith("set up 2026-05-09; which ones nobody can say")


def test_the_wheels_bought_for_one_set_are_those_of_that_set(truck):
    fitted_part = '\n[[parts]]\nid = "wheels"\nkind = "wheels"\nstate = "fitted"\nused_for = ["tall"]\n'
    opened = truck(OTHER + fitted_part, without='[plan]\nchosen = "tall"\n')
    assert fitted(opened)["front"].fitment == "tall"
