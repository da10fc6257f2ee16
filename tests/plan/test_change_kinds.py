"""Changes of each kind: what they are asked for, the truck in which a clear would be false till then, what they move.

What moves is held against a file over whose entries a hand wrote what will be measured then.
"""

import tomllib
from copy import deepcopy
from datetime import date
from functools import cache
from math import cos, hypot, pi, sin
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.plan.answers.flagging import Flag, each_flag, flag_of
from planner.plan.answers.open_project import as_if_chosen, work_out
from planner.plan.answers.verdicts import verdict_at
from planner.plan.revisit.plan_flags import plan_flags
from planner.plan.truck.change_words import asked_by_change
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.money import money
from planner.plan.work.task_list import work
from planner.plan.work.task_values import why_not_tick
from planner.project.change_kinds import KINDS
from planner.project.faults import as_key
from planner.project.models.project import Project
from planner.project.moved_entries import INCH, moved_entries
from planner.project.reading import understand
from planner.project.source import parse
from planner.project.truck_keys import truck_key
from planner.quantities.quantity import Quantity
from planner.tasks.kind import PHASES

PROJECTS = Path(__file__).parents[2] / "projects"
DAY = date(2026, 11, 28)
KEPT = ("drag link, wheel hard left", "fender lip, top", "tie rod end", "brake hose, lowest of the loop")
FRONT = "axles.front"


@cache
def county() -> dict[str, Any]:
    """The county truck with four of its obstacles, and nothing that rests on how it stood."""
    data = tomllib.loads((PROJECTS / "county-road-4x4.toml").read_text("utf-8"))
    gone = ("changes", "sheets", "tasks", "decisions", "acceptances", "parts")
    data = {key: value for key, value in data.items() if key not in gone}
    data["axles"]["front"]["steering"]["drag_link_angle"] = "3 deg ± 1 deg"
    return data | {"obstacles": [one for one in data["obstacles"] if one["name"] in KEPT]}


@cache
def county_project() -> Project:
    return understand(parse(PROJECTS / "truck.toml", tomli_w.dumps(county()).encode())).project


def opened(*changes: dict[str, Any], **over: Any) -> OpenProject:
    """The truck with these changes decided; `over` are entries written over what was found, `axles__front__load`."""
    data = deepcopy(county())
    for key, value in over.items():
        *tables, name = key.split("__")
        here = data
        for table in tables:
            here = here[int(table)] if isinstance(here, list) else here.setdefault(table, {})
        here[name] = value
    data["changes"] = [{"state": "decided", **one} for one in changes]
    found = work_out(understand(parse(PROJECTS / "truck.toml", tomli_w.dumps(data).encode())), DAY)
    assert not found.opened.faults, found.opened.faults
    return as_if_chosen(found, "tall")


def flag(truck: OpenProject, rule: str, axle: str = "front") -> Flag:
    node = rule.rpartition(".")[2]
    asked = [spot for spot in truck.seen_from(node).sheet.spots(node) if not axle or spot.place[1] in (axle, "")]
    (one,) = [found for spot in asked if (found := verdict_at(truck, spot)) is not None]
    return flag_of(truck, one, False)


def answer(truck: OpenProject, rule: str, axle: str = "front") -> str:
    return flag(truck, rule, axle).verdict.answer


# By kind: what the change sets, a rule that would be clear, the entry that it is asked for, and a value of that with
# which this very rule is raised. A clear while the question is open is false in the truck where that is so.
FALSE_CLEARS = [
    ("steering stops", {f"{FRONT}.steering.stop_angle": "20 deg"}, "fit.outer_lock_too_wide",
     f"{FRONT}.steering.stop_angle_out", "70 deg"),
    ("lift", {f"{FRONT}.lift": "2 in"}, "steering.drag_link_off_level", f"{FRONT}.steering.drag_link_angle", "14 deg"),
    ("lift", {f"{FRONT}.lift": "2 in"}, "brakes.brake_hose_short", f"{FRONT}.brake.hose_slack", "-1 in"),
    ("lift", {f"{FRONT}.lift": "2 in"}, "gearing.shaft_joint_too_steep", f"{FRONT}.driveshaft_angle", "11 deg"),
    ("bump stop", {f"{FRONT}.travel.bump_gives": "1/2 in"}, "fit.tire_large_for_opening",
     f"{FRONT}.travel.bump", "9 in"),
    ("fender or bed trimmed", {f"{FRONT}.fender.axle_to_fender": "25 in"}, "fit.poke_past_greatest",
     f"{FRONT}.fender.face_to_edge", "4 in"),
    ("spacer or adapter", {f"{FRONT}.spacer.thickness": "1/4 in"}, "wheel.thread_engagement_short",
     f"{FRONT}.spacer.own_studs", "no"),
    ("spacer or adapter", {f"{FRONT}.spacer.thickness": "1 1/4 in", f"{FRONT}.spacer.own_studs": "yes"},
     "wheel.spacer_nuts_short", f"{FRONT}.spacer.studs_engaged", "3/8 in"),
    ("spacer or adapter", {f"{FRONT}.spacer.thickness": "1 1/4 in", f"{FRONT}.spacer.own_studs": "yes"},
     "wheel.stud_circle_differs", f"{FRONT}.studs.circle", "8 in"),
    ("studs and nuts", {f"{FRONT}.studs.length": "1 3/4 in"}, "wheel.nut_thread_differs", f"{FRONT}.studs.diameter",
     "1/2 in"),
    ("hub bore or ring", {f"{FRONT}.hub.centring": "studs"}, "wheel.bore_smaller_than_pilot", f"{FRONT}.hub.pilot",
     "5.3 in"),
    ("gear set", {f"{FRONT}.pinion_teeth": 9}, "gearing.axles_travel_apart", f"{FRONT}.ring_teeth", 41),
    ("speedometer gear or adapter", {}, "speedometer.reads_low", "drivetrain.speedometer.driven_teeth", 30),
    ("brake parts", {f"{FRONT}.brake.radius": "6 3/4 in", f"{FRONT}.brake.face": "-1/8 in"},
     "brakes.braking_force_lost", f"{FRONT}.brake.torque_gain", "0.5"),
    ("brake parts", {f"{FRONT}.brake.face": "-1/8 in", f"{FRONT}.brake.torque_gain": "1.2"},
     "brakes.barrel_near_brake", f"{FRONT}.brake.radius", "9 in"),
    ("steering parts", {f"{FRONT}.steering.stop_angle": "26 deg"}, "steering.drag_link_off_level",
     f"{FRONT}.steering.drag_link_angle", "14 deg"),
]  # fmt: skip

AS_WELL = {  # what the rule waits for besides
    f"{FRONT}.studs.circle": {f"{FRONT}.studs.count": 6, f"{FRONT}.studs.diameter": "9/16 in"},
    f"{FRONT}.studs.diameter": {
        f"{FRONT}.studs.threads_per_inch": 20,
        f"{FRONT}.nuts.thread": "9/16-18",
        f"{FRONT}.nuts.hand_left": "left",
        f"{FRONT}.nuts.hand_right": "right",
    },
}


@pytest.mark.parametrize(("kind", "sets", "rule", "asked", "bad"), FALSE_CLEARS)
def test_a_question_left_open_keeps_from_clear_what_would_be_false_in_some_truck(kind, sets, rule, asked, bad):
    open_ = opened({"kind": kind, "sets": sets})
    told = flag(open_, rule)
    assert told.verdict.answer == "not known"
    assert as_key(("changes", 0, "sets", asked)) in told.needs
    true = opened({"kind": kind, "sets": {**sets, **AS_WELL.get(asked, {}), asked: bad}})
    assert answer(true, rule) in ("raised", "too close to call")


def test_every_kind_but_other_has_a_truck_in_which_its_clear_would_be_false():
    assert {one[0] for one in FALSE_CLEARS} == {one.name for one in KINDS} - {"other"}
    assert not asked_by_change(opened({"kind": "other"}), 0)


LIFT = {"kind": "lift", "sets": {f"{FRONT}.lift": "2 in ± 1/8 in"}}


def near(truck: OpenProject) -> dict[str, str]:
    """How near the tire comes, by obstacle."""
    told = [verdict_at(truck, spot) for spot in truck.sheet.spots("tire_too_near")]
    return {one.place[2]: one.answer for one in told if one is not None}


def test_after_a_lift_what_is_hung_between_frame_and_axle_is_not_known_until_it_is_measured():
    answers = near(opened(LIFT))
    assert answers == {
        "drag link, wheel hard left": "not known",
        "brake hose, lowest of the loop": "not known",
        "tie rod end": "not known",  # where the axle stops is not known either
    }


def test_what_a_lift_leaves_open_of_one_candidate_is_known_of_the_other_and_asked_for_by_its_own_key():
    truck = opened(LIFT | {"with": ["tall"]})
    near_link = [one for one in each_flag(truck) if one.rule.node == "tire_too_near" and "drag link" in one.where]
    assert [one.needs for one in near_link if "obstacles" in one.needs] == []
    assert near(as_if_chosen(truck, "modest"))["drag link, wheel hard left"] != "not known"


def test_another_change_may_answer_what_a_change_leaves_open():
    stop = {"name": "longer stops", "kind": "bump stop", "sets": {f"{FRONT}.travel.bump": "3 in"}}
    asked = asked_by_change(opened(LIFT, stop), 0)
    assert f"{FRONT}.travel.droop" in asked and f"{FRONT}.travel.bump" not in asked


def test_only_the_end_is_asked_about_that_a_change_names_and_steering_only_where_there_is_some():
    asked = asked_by_change(opened({"kind": "lift", "sets": {"axles.rear.lift": "1 in"}}), 0)
    assert "axles.rear.driveshaft_angle" in asked
    assert not any("front" in key or "drag_link" in key or "caster" in key for key in asked)


def test_a_lift_that_does_not_say_how_far_leaves_open_all_that_it_may_move():
    asked = asked_by_change(opened({"kind": "lift"}), 0)
    assert {f"{FRONT}.lift", "axles.rear.lift"} <= asked.keys()
    assert flag(opened({"kind": "lift"}), "fit.tire_large_for_opening").verdict.answer == "not known"


def value(truck: OpenProject, node: str, axle: str = "", fitment: str = "tall") -> tuple[float, float]:
    """The value at both ends of its tolerance, in inches."""
    found = truck.sheet.outcome(truck.spot(node, fitment=fitment, axle=axle))
    return round(found.low / 0.0254, 3), round(found.high / 0.0254, 3)


def test_a_lift_moves_what_rides_on_the_body_and_leaves_what_rides_on_the_axle():
    truck = opened(LIFT)
    found = opened()
    assert value(truck, "axle_to_fender", "front") == (23.5, 26.125)  # by none to all of 2 1/8 in, along some slope
    low, high = value(found, "lamp_height")
    assert value(truck, "lamp_height") == pytest.approx((low + 1.875, high + 2.125), abs=0.002)
    # 31 in ahead of the front axle, which stands 118 in ahead of the rear one that is not lifted: 2 × (1 + 31/118);
    # 44 in behind the rear axle it goes down, by 2 × 44/118.
    for node, up in (("front_point_height", 2.525424), ("rear_point_height", -0.745763), ("cg_height", None)):
        spots = [one.sheet.value(one.spot(node, fitment="tall")) / INCH for one in (found, truck)]
        assert spots[1] - spots[0] == pytest.approx(up, abs=1e-6) if up is not None else 0 < spots[1] - spots[0] < 2
    lip = {name: one.measured.at for name, one in truck.obstacles_of("tall").items()}
    as_found = {name: one.measured.at for name, one in found.obstacles_of("tall").items()}
    moved = {name: round((lip[name][2].value - as_found[name][2].value) / 0.0254, 6) for name in lip}
    assert moved["fender lip, top"] == 2 and moved["tie rod end"] == 0
    assert value(truck, "axle_to_fender", "front", "found") == value(found, "axle_to_fender", "front", "found")


def test_a_spacer_moves_the_face_and_all_that_is_measured_from_it():
    spacer = {f"{FRONT}.spacer.thickness": "1 in ± 1/32 in", f"{FRONT}.spacer.own_studs": "no"}
    truck = opened({"kind": "spacer or adapter", "sets": spacer})
    assert value(truck, "face_to_face", "front") == (65.812, 66.188)  # 64 ± 1/8, and twice 1 ± 1/32
    assert value(truck, "kingpin_inset", "front") == (5.344, 5.656)  # 4 1/2 ± 1/8
    assert value(truck, "bearing_setback", "front") == (3.594, 3.906)  # 2 3/4 ± 1/8
    assert value(truck, "face_to_fender_edge", "front") == (5.844, 6.156)  # 7 ± 1/8, less
    assert value(truck, "brake_face", "front") == (-1.188, -1.062)  # -1/8 ± 1/32, less
    assert value(truck, "stud_length", "front") == (0.25, 0.375)  # 1 5/16 ± 1/32, less
    before, after = opened().obstacles_of("tall"), truck.obstacles_of("tall")
    for name, one in after.items():
        assert round((one.measured.at[1].value - before[name].measured.at[1].value) / 0.0254, 9) == -1
    assert answer(truck, "wheel.spacer_between") == "raised"


def tasks(truck: OpenProject) -> dict[str, Item]:
    return {id_: one for id_, one in work(truck, []).items.items() if one.origin == "change"}


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kind_brings_its_work_with_its_caution_and_is_measured_again_before_the_truck_rolls(kind):
    truck = opened({"name": "it", "kind": kind.name})
    listed = work(truck, []).items
    one = listed["change.it"]
    assert (one.caution, one.phase, one.hours) == (kind.caution, kind.phase, kind.hours)
    assert ("change.it.measured" in listed) == bool(kind.asks)
    before_rolling = {id_ for id_, item in tasks(truck).items() if PHASES.index(item.phase) <= PHASES.index("check")}
    assert before_rolling <= set(listed["check.sign"].after)
    for step in kind.steps:
        item = listed[f"change.it.{step.id}"]
        if step.when == "before":
            assert item.id in one.after
        else:
            assert one.id in item.after
    for name in kind.before:
        assert "change.it" in listed[f"{name}.front"].after


def test_what_a_kind_asks_for_is_an_entry_that_a_change_can_set():
    project = opened().project
    for kind in KINDS:
        ways = [name for ways in kind.ways for way in ways for name in way]
        asked = [name for one in kind.asks for name in (one.entry, *one.one_of, one.condition) if name]
        for name in (*asked, *ways, *([kind.amount] if kind.amount else [])):
            assert truck_key(project, name.replace("{end}", "front")) is not None, name


def test_a_change_is_measured_once_each_entry_is_and_not_by_a_tick_alone():
    change = {"name": "stops", "kind": "steering stops", "state": "done", "sets": {
        f"{FRONT}.steering.stop_angle": "26 deg ± 1/2 deg", f"{FRONT}.steering.stop_angle_out": "22 deg ± 1/2 deg",
    }}  # fmt: skip
    one = tasks(opened(change))["change.stops.measured"]
    assert one.state != "done"
    assert one.unmeasured == ("front stop angle", "front stop angle of the outer wheel")
    against = list(why_not_tick(opened(change), one, None, ""))
    assert any("not measured yet: front stop angle" in why for why in against)
    measured = {key: {"value": value} for key, value in change["sets"].items()}
    assert tasks(opened({**change, "measured": measured}))["change.stops.measured"].state == "done"


def came_out(truck: OpenProject) -> Flag:
    (one,) = [one for one in plan_flags(truck, []) if one.rule.node == "change_came_out_otherwise"]
    return one


@pytest.mark.parametrize(
    ("measured", "stands"),
    [({}, "not known"), ("26 1/2 deg ± 1/4 deg", "clear"), ("26.51 deg ± 1/4 deg", "raised")],
)
def test_what_was_measured_of_a_change_is_held_against_what_was_planned(measured, stands):
    key = f"{FRONT}.steering.stop_angle"
    change = {"name": "stops", "state": "done", "sets": {key: "26 deg ± 1/2 deg"}}
    after = {"measured": {key: {"value": measured}}} if measured else {}
    assert came_out(opened({**change, **after})).verdict.answer == stands
    if not measured:
        asked = came_out(opened(change)).wants
        assert list(asked) == ["front stop angle (measured after the change 'stops')"]


@pytest.mark.parametrize(
    ("state", "listed"), [("considered", False), ("decided", True), ("done", True), ("given up", False)]
)
def test_only_what_is_decided_or_done_has_work_and_counts_for_what_is_planned(state, listed):
    truck = opened({"name": "it", "kind": "lift", "state": state, "price": 300, "sets": {f"{FRONT}.lift": "2 in"}})
    assert ("change.it" in tasks(truck)) == listed
    assert (flag(truck, "fit.tire_large_for_opening").verdict.answer == "not known") == listed
    assert [row.total for row in money(truck).rows if row.id == "changes[0]"] == [300] * listed


@settings(max_examples=40)
@given(
    lift=st.floats(0, 8),
    slope=st.floats(0, pi / 2),
    radius=st.floats(15, 35),
    off=st.floats(-1, 1),
    by=st.floats(-1, 1),
)
def test_the_tightest_point_of_an_opening_is_within_what_a_lift_makes_of_it(lift, slope, radius, off, by):
    """A point of it, at a true distance and slope, goes straight up by a true lift, each within its tolerance."""
    found, amount = Quantity(radius, 0.25), Quantity(lift, 0.0 if lift < 0.125 else 0.125)
    true, up = radius + 0.25 * off, lift + amount.tolerance * by
    after = hypot(true * cos(slope), true * sin(slope) + up)
    axles = county_project().axles
    front = axles.front.model_copy(update={"fender": axles.front.fender.model_copy(update={"axle_to_fender": found})})
    project = county_project().model_copy(update={"axles": axles.model_copy(update={"front": front})})
    moved = {one.key: one.value for one in moved_entries(project, "body", {"front": amount})}
    taken = moved["axles", "front", "fender", "axle_to_fender"]
    assert isinstance(taken, Quantity)
    assert taken.low - 1e-9 <= after <= taken.high + 1e-9


def faulty(written: str) -> OpenProject:
    """The truck with a change that has something written wrongly in it."""
    text = tomli_w.dumps({**county(), "changes": []}).replace("changes = []\n", "") + written
    return as_if_chosen(work_out(understand(parse(PROJECTS / "truck.toml", text.encode())), DAY), "tall")


@pytest.mark.parametrize(
    "written",
    [
        'kind = "lift"\nstate = "decided"\nsets = {"axles.front.lift" = "2 inches and some"}',
        'kind = "lift"\nstate = "desided"\nsets = {"axles.front.lift" = "2 in"}',
        'kind = "lift"\nstate = "decided"\nwith = ["tal"]\nsets = {"axles.front.lift" = "2 in"}',
    ],
)
def test_nothing_that_a_lift_would_move_is_known_while_what_was_written_of_it_is_not(written):
    truck = faulty(f"\n[[changes]]\n{written}\n")
    assert len(truck.opened.faults) == 1
    assert answer(truck, "fit.tire_large_for_opening") == "not known"
    assert set(near(truck).values()) == {"not known"}
