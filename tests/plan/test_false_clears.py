"""Where a fault stops and where not: for each kind of entry a truck of which a clear would be false."""

import tomllib
from copy import deepcopy
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import tomli_w

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import work_out
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.project import EVERYWHERE
from planner.plan.work.task_list import next_up, work
from planner.project.faults import as_key
from planner.project.reading import understand
from planner.project.source import parse
from planner.worksheet.outcome import Spot, Waiting

COUNTY_TRUCK = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"  # its diary knows what records rest on
COUNTY = tomllib.loads(COUNTY_TRUCK.read_text(encoding="utf-8"))
COUNTY["obstacles"] = [*COUNTY["obstacles"][:2], *COUNTY["obstacles"][3::4]]  # springs and some: each takes its time
for one in ("tall", "modest"):
    COUNTY["fitments"][one]["wheel"]["greatest_pressure"] = "80 psi"  # else it alone is asked for
TODAY = date(2026, 11, 25)
TAKEN_AWAY = object()


def truck(**entries: object):
    """The county truck with some entries set otherwise, their keys joined by __ in place of a dot."""
    data = deepcopy(COUNTY)
    for key, value in entries.items():
        *way, last = [int(name) if name.isdigit() else name for name in key.split("__")]
        holder = data
        for name in way:
            holder = holder.setdefault(name, {}) if isinstance(holder, dict) else holder[name]
        if value is TAKEN_AWAY:
            del holder[last]
        else:
            holder[last] = value
    return work_out(understand(parse(COUNTY_TRUCK, tomli_w.dumps(data).encode())), TODAY)


def told(opened) -> dict[tuple[str, str], str]:
    """Each answer by rule and place."""
    found = {}
    for flag in all_flags(opened, flags(opened)):
        for place in flag.places:
            axle = place[1] or place[2]
            found[flag.rule.name, axle or ("" if any(place) else flag.where)] = flag.verdict.answer
    return found


@cache
def sound() -> dict[tuple[str, str], str]:
    """The answers for the truck without a fault."""
    return told(truck())


def faulty(opened) -> list[str]:
    return [as_key(fault.key) for fault in opened.opened.faults]


def asks(opened, rule: str) -> str:
    return "; ".join(want for flag in flags(opened) if flag.rule.name == rule for want in flag.wants)


BODY = COUNTY["obstacles"][0]
FIT = ("fit.locks_too_wide", "fit.outer_lock_too_wide", "fit.no_backspace_clears", "fit.no_backspace_fits")


def test_without_a_fault_the_rules_asked_here_have_answers():
    assert faulty(truck()) == [] and "not known" not in sound().values()


@pytest.mark.parametrize(
    ("entry", "value"),
    [("at", "left of the spring"), ("to", ["1 in"]), ("wants", "some"), ("moves_with", "frame"), ("side", "near"),
     ("name", 5), ("measure", 5), ("wnats", "1 in")],
)  # fmt: skip
def test_an_obstacle_with_a_fault_stays_half_entered_and_nothing_fits_at_its_axle_for_sure(entry, value):
    opened = truck(**{f"obstacles__0__{entry}": value})
    answers = told(opened)
    label = list(opened.obstacles)[0]
    assert BODY["axle"] == "front" and faulty(opened) and answers["fit.tire_touches", label] == "not known"
    assert {answers[rule, "front"] for rule in FIT} == {"not known"}
    assert all(answers[at] == sound()[at] for at in sound() if at[1] == "rear")  # the other axle does not rest on it
    assert "enter it again: line " in asks(opened, "fit.tire_touches")


def test_an_obstacle_of_which_the_axle_is_not_known_may_stand_at_either():
    answers = told(truck(obstacles__0__axle="fore"))
    assert {answers["fit.no_backspace_fits", axle] for axle in ("front", "rear")} == {"not known"}


@pytest.mark.parametrize("whole", [5, "none", [5]])
def test_obstacles_that_are_no_list_of_them_may_be_anywhere(whole):
    answers = told(truck(obstacles=whole))
    assert {answers["fit.no_backspace_fits", axle] for axle in ("front", "rear")} == {"not known"}
    assert answers["fit.locks_too_wide", "front"] == "not known"


@pytest.mark.parametrize("change", [
    {"value": "x", "because": "b"}, {"value": "3 mm"}, {"because": "b"}, {"value": "3 mm", "because": 4},
    {"valu": "9 mm", "because": "b"}, 5,
])  # fmt: skip
def test_a_limit_with_a_fault_is_not_the_limit_that_stands_without_it(change):
    # 1/2 in was wanted of the brake, say, and 3 mm stands without it: a clear by 3 mm is none
    opened = truck(limits__least_brake_gap=change)
    assert faulty(opened) and {told(opened)["brakes.barrel_near_brake", at] for at in ("front", "rear")} == {
        "not known"
    }


def test_a_limit_of_the_backspace_that_is_not_known_leaves_no_window():
    opened = truck(limits__most_scrub_change={"value": "a little", "because": "b"})
    assert told(opened)["fit.no_backspace_fits", "front"] == "not known"
    assert asks(opened, "fit.no_backspace_fits").startswith("limits.most_scrub_change (enter it again: line ")


def test_a_limit_of_a_name_like_none_may_be_any_of_them():
    opened = truck(limits__qqq={"value": "3 mm", "because": "b"})
    assert told(opened)["brakes.barrel_near_brake", "front"] == "not known"
    near = truck(limits__least_brake_gpa={"value": "9 mm", "because": "b"})
    assert told(near)["brakes.barrel_near_brake", "front"] == "not known"
    assert told(near)["tire.too_old", "front"] == sound()["tire.too_old", "front"]


def test_an_obstacles_clearance_that_is_not_known_is_none_that_is_kept():
    lost = {"value": "x", "because": "b"}
    opened = truck(limits__obstacle_clearance=lost, obstacles__0__wants=TAKEN_AWAY, obstacles__1__wants=TAKEN_AWAY)
    own = [label for label, one in opened.obstacles.items() if one.measured.wants is None]
    assert own and {told(opened)["fit.tire_touches", label] for label in own} == {"not known"}


@pytest.mark.parametrize("name", ["tires", "tirs"])
def test_a_count_of_tires_with_a_fault_is_not_two(name):
    opened = truck(**{f"axles__rear__{name}": 4 if name == "tirs" else "four"})
    assert told(opened)["tire.carries_less_than_load", "rear"] == "not known"
    assert told(opened)["tire.carries_less_than_load", "front"] == sound()["tire.carries_less_than_load", "front"]


def test_another_way_to_a_value_does_not_stand_in_for_the_entry_with_the_fault():
    spacing = {"count": 6, "circle": "8 foo", "adjacent_spacing": "4.375 in ± 0.010 in"}
    opened = truck(axles__front__studs=spacing)
    at = opened.spot("stud_circle", axle="front")
    outcome = opened.sheet.outcome(at)
    assert isinstance(outcome, Waiting) and [".".join(opened.keys[one]) for one in outcome.barred] == [
        "axles.front.studs.circle"
    ]
    assert told(opened)["wheel.stud_circle_differs", "front"] == "not known"


def test_a_tire_at_one_axle_does_not_stand_in_for_the_tire_of_both_nor_the_other_way():
    tire = COUNTY["fitments"]["tall"]["tire"]
    both = truck(fitments__tall__tire__overall_diameter="tall")
    one = truck(fitments__tall__front__tire={"overall_diameter": "tall"})
    assert "overall_diameter" in tire
    for opened, unknown in ((both, {"front", "rear"}), (one, {"front"})):
        waits = {
            axle
            for axle in ("front", "rear")
            if isinstance(opened.sheet.outcome(opened.spot("overall_diameter", fitment="tall", axle=axle)), Waiting)
        }
        assert waits == unknown


def test_an_axle_of_which_nobody_knows_whether_it_steers_is_not_swept_straight_ahead():
    opened = truck(axles__rear__steered="perhaps")
    near = {told(opened)["fit.tire_touches", label] for label, one in opened.obstacles.items()
            if one.measured.axle == "rear" and one.measured.kind == "spring"}  # fmt: skip
    assert near == {"not known"} and told(opened)["fit.no_backspace_fits", "rear"] == "not known"


def test_a_gear_with_a_fault_is_a_gear():
    gears = COUNTY["drivetrain"]["gearbox"]
    low = max(gears, key=lambda name: float(gears[name]))
    for lost in (truck(**{f"drivetrain__gearbox__{low}": "lowest"}), truck(drivetrain__gearbox="four of them")):
        assert told(lost)["gearing.crawls_fast_at_idle", ""] == "not known"
        assert told(lost)["gearing.grade_out_of_reach", ""] == "not known"


def test_a_wish_with_a_fault_is_a_wish():
    opened = truck(use__door_height="low")
    assert told(opened)["stance.taller_than_the_door", ""] == "not known"
    assert ("stance.taller_than_the_door", "") not in told(truck(use__door_height=TAKEN_AWAY))


def test_an_assumed_value_does_not_stand_in_for_one_that_was_set():
    name = next(iter(COUNTY["assumptions"])) if COUNTY.get("assumptions") else "backspace_step"
    opened = truck(**{f"assumptions__{name}": {"value": "many"}})
    outcome = opened.sheet.outcome(Spot(name, EVERYWHERE))
    assert isinstance(outcome, Waiting) and outcome.barred == (Spot(name, EVERYWHERE),)


def test_while_it_is_not_known_what_is_chosen_each_candidate_is_judged_and_nothing_is_planned():
    opened = truck(plan__chosen="nobody")
    assert faulty(opened) == ["plan.chosen"] and opened.planned == opened.candidates
    assert told(opened)["plan.cost_past_budget", ""] == "not known"


def test_entries_that_contradict_each_other_are_none_of_them_known():
    # a tread wider than its section: which of the two is wrong nobody can tell
    opened = truck(fitments__tall__tire__tread_width="15 in")
    assert faulty(opened) == ["fitments.tall.tire.tread_width"]
    for node in ("tread_width", "section_width"):
        assert isinstance(opened.sheet.outcome(opened.spot(node, fitment="tall", axle="front")), Waiting), node
    assert told(opened)["fit.wider_than_legal", "front"] == "not known"


def test_a_size_that_the_tables_do_not_have_is_not_known():
    opened = truck(fitments__tall__tire__load_index=500, fitments__tall__tire__load_capacity=TAKEN_AWAY)
    assert faulty(opened) == ["fitments.tall.tire.load_index"]
    assert told(opened)["tire.carries_less_than_load", "front"] == "not known"


def test_an_obstacle_inside_the_tire_leaves_neither_of_them_known():
    opened = truck(obstacles__0__at=["0 in", "0 in", "10 in"], obstacles__0__to=["1 in", "0 in", "10 in"])
    label = list(opened.obstacles)[0]
    assert faulty(opened) == ["obstacles[0].at"] and "it contradicts" in opened.opened.faults[0].message
    assert told(opened)["fit.tire_touches", label] == "not known"
    assert told(opened)["fit.no_backspace_fits", "front"] == "not known"
    found = opened.sheet.outcome(opened.spot("overall_diameter", fitment="found", axle="front"))
    assert isinstance(found, Waiting) and found.barred  # it may be the tire that was read wrong


def test_an_acceptance_with_a_fault_accepts_nothing():
    def counts(opened) -> dict[str, bool]:
        rule = "steering.bearing_moment_grown"
        return {at: flag.counts for flag in flags(opened) if flag.rule.name == rule for at in flag.where.split(" and ")}

    assert [one["at"] for one in COUNTY["acceptances"]] == ["front", "rear"]
    assert counts(truck()) == {"front": False, "rear": False}
    assert counts(truck(acceptances__0__at=7)) == {"front": True, "rear": False}
    assert counts(truck(acceptances__0__becuase="it is so")) == {"front": True, "rear": False}


def test_a_task_with_a_fault_is_not_done():
    at = next(at for at, one in enumerate(COUNTY["tasks"]) if one.get("state") == "done")
    id_ = COUNTY["tasks"][at]["id"]
    opened = truck(**{f"tasks__{at}__on": "soon"})
    one = work(opened).items[id_]
    assert one.state == "look again" and "enter it again: line " in one.why
    assert told(opened)["plan.finished_task_rests_on_changed", f"tasks[{at}]"] == "not known"
    assert all(one.id not in each.waits for each in next_up(work(opened)))


@pytest.mark.parametrize(("entry", "value"), [("price", "cheap"), ("quantity", "two"), ("state", "bought")])
def test_a_part_with_a_fault_leaves_no_sum_that_keeps_within_the_budget(entry, value):
    opened = truck(**{f"parts__0__{entry}": value, "plan__budget": 1_000_000})
    assert told(opened)["plan.cost_past_budget", ""] == "not known"
    assert told(truck(plan__budget=1_000_000))["plan.cost_past_budget", ""] == "clear"
    assert told(truck(plan__budget="all I have"))["plan.cost_past_budget", ""] == "not known"


def test_tables_that_are_none_are_not_known_whole():
    answers = told(truck(axles="two of them"))
    apart = "fit.tightest_point_contradicted"  # of its two readings neither is left
    of_axles = [rule for rule, at in sound() if rule.startswith("fit.") and at in ("front", "rear") and rule != apart]
    assert of_axles and {answers[rule, "front"] for rule in of_axles if (rule, "front") in sound()} == {"not known"}


@pytest.mark.parametrize(
    ("gone", "end", "past"), [("widest_rim", "narrowest_rim", "9 1/4 in"), ("narrowest_rim", "widest_rim", "8 3/4 in")]
)
def test_one_end_of_the_rims_that_a_tires_maker_approves_raises_and_never_clears(gone, end, past):
    # The county truck's rims are 9 in wide, between 8 1/2 and 11 in as its tire's maker approves.
    tire = "fitments__tall__tire__"
    for text, answer in (("9 in", "not known"), (past, "raised"), (TAKEN_AWAY, None)):
        opened = truck(obstacles=[], **{tire + gone: TAKEN_AWAY, tire + end: text})
        assert told(opened).get(("tire.rim_outside_tires_range", "front")) == answer
