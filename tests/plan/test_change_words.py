"""What is said and kept of changes to the truck: where a value is from, what was found, what lapses, tasks, money."""

import tomllib
from ast import literal_eval
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from planner.commands.table import main
from planner.plan.answers.basis import basis, basis_changes
from planner.plan.answers.open_project import as_if_chosen, work_out
from planner.plan.answers.why import why
from planner.plan.change.changing import Setting, try_settings
from planner.plan.change.comparing import compare
from planner.plan.change.task_recordings import make_recording, reopen_task, tick_task
from planner.plan.drawings.steered_tire import steered_tire
from planner.plan.revisit.tick_basis import tick_basis
from planner.plan.truck.change_words import changed_entries
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.money import money
from planner.plan.work.task_list import work
from planner.project.amending import amend
from planner.project.changes import DELETE
from planner.project.reading import understand
from planner.project.source import parse
from planner.sheets.blocks import Blanks, Rows
from planner.sheets.kind import Asked, kind_named
from planner.sheets.printing import made

COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
DAY = date(2026, 11, 25)
STOP = "axles.front.steering.stop_angle"
PLANNED_STOP = f'changes[0].sets."{STOP}"'


def truck(path: Path, *changes: dict) -> OpenProject:
    """The county truck with these changes instead of its own, and without what rests on the truck as it stood."""
    path.write_text(_text(repr(changes)), "utf-8")
    return again(path)


@cache
def _text(changes: str) -> str:
    text = COUNTY.read_text("utf-8")
    fewer = tomllib.loads(text)["obstacles"][::4]  # a sweep takes as long as there are obstacles
    sure = {  # the two readings by which stops are too close to call, so that its hold points can be signed
        ("axles", "rear", "brake", "radius"): "7 3/16 in ± 1/64 in",
        ("axles", "rear", "studs", "skip_spacing"): "6.602 in ± 0.002 in",
        ("axles", "front", "steering", "stop_angle_out"): DELETE,  # or each change of the stops is asked for it
    }
    return amend(text, {("changes",): list(literal_eval(changes)), ("sheets",): [], ("obstacles",): fewer, **sure})


def again(path: Path) -> OpenProject:
    return work_out(understand(parse(path, path.read_bytes())), DAY)


def stops(**more: object) -> dict:
    return {
        "name": "longer stop screws",
        "kind": "steering stops",
        "state": "decided",
        "sets": {STOP: "26 deg ± 1/2 deg"},
        **more,
    }


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "truck.toml"


def signed(path: Path) -> OpenProject:
    """With every hold point signed by hand."""
    opened = again(path)
    holds = [one for one in work(opened).items.values() if one.hold]
    first = len(opened.project.tasks)
    new = [one for one in holds if one.at is None]
    changes: dict = {
        ("tasks", first + at): {"id": one.id, "state": "done", "rested_on": {}} for at, one in enumerate(new)
    }
    changes |= {("tasks", one.at, name): value for one in holds if one.at is not None
                for name, value in (("state", "done"), ("rested_on", {}))}  # fmt: skip
    path.write_text(amend(path.read_text("utf-8"), changes), "utf-8")
    return again(path)


def degrees_at(opened: OpenProject, fitment: str) -> float:
    return round(opened.sheet.value(opened.spot("stop_angle", fitment=fitment, axle="front")) * 57.29577951308232, 9)


def test_a_change_is_read_by_the_candidates_that_it_goes_with_and_by_no_other(path):
    opened = truck(path, stops(**{"with": ["tall"]}))
    assert [degrees_at(opened, one) for one in ("found", "tall", "modest")] == [31, 26, 31]


@pytest.mark.parametrize(("state", "read"), [("considered", 31), ("decided", 26), ("done", 27.25), ("given up", 31)])
def test_what_is_read_follows_how_far_a_change_is(path, state, read):
    measured = {STOP: {"value": "27 1/4 deg ± 1/4 deg", "by": "owner"}}
    assert degrees_at(truck(path, stops(state=state, measured=measured)), "tall") == read


def test_done_and_not_measured_reads_what_was_meant_and_says_so(path):
    opened = truck(path, stops(state="done"))
    (entry,) = changed_entries(opened, "tall")
    assert (entry.planned, entry.found) == ("26 deg ± 1/2 deg", "31 deg ± 1 deg")
    assert entry.by == "the change 'longer stop screws', done, not measured since"


def test_why_names_the_change_and_what_was_found_beside_it(path):
    opened = truck(path, stops())
    step = why(opened, opened.spot("stop_angle", fitment="tall", axle="front")).steps[0]
    assert step.how == f"by the change 'longer stop screws', decided: {PLANNED_STOP}; found: 31 deg ± 1 deg"
    assert step.key == PLANNED_STOP
    found = why(opened, opened.spot("stop_angle", fitment="found", axle="front")).steps[0]
    assert found.how.startswith(f"entered: {STOP}; measured by owner, 2026-05-02") and found.key == STOP


def test_an_axle_that_is_made_to_steer_is_swept_so_for_its_candidate_alone(path):
    opened = truck(path, {"state": "decided", "with": ["tall"], "sets": {"axles.rear.steered": True}})
    assert [opened.steers("rear", one) for one in ("found", "tall", "modest")] == [False, True, False]


def test_an_obstacle_is_drawn_where_the_candidate_finds_it(path):
    moved = {"obstacles[0].at": ["-8 in", "-17 in", "4 in"], "obstacles[0].to": ["-22 in", "-17 in", "6 in"]}
    opened = truck(path, {"state": "decided", "sets": moved, "with": ["tall"]})
    own, found = opened.obstacles_of("tall"), opened.obstacles_of("modest")
    label = next(iter(own))
    assert (own[label].measured.at[1].text, found[label].measured.at[1].text) == ("-17 in", "-15 1/2 in ± 1/8 in")
    assert own[label].key_of("at") == 'changes[0].sets."obstacles[0].at"'
    lines = [line.points for line in steered_tire(opened, "tall", "front").lines]
    assert any(spot[1] == pytest.approx(-17 * 0.0254) for spots in lines for spot in spots)
    tightest = [as_if_chosen(one, "tall").sheet for one in (opened, truck(path))]
    at = opened.spot("least_clearance", fitment="tall", obstacle=label)
    assert tightest[0].value(at) > tightest[1].value(at)  # an inch and a half further in


def test_an_edit_of_what_was_found_warns_that_the_plan_reads_the_change(path, capsys):
    truck(path, stops())
    assert main(["change", str(path), f"{STOP}=30 deg"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "front stop angle says how the truck was found: tall reads 26 deg ± 1/2 deg by the change" in said
    assert main(["change", str(path), "axles.front.steering.stop_angle_out=25 deg"]) in (0, 1)
    assert "says how the truck was found" not in capsys.readouterr().out


def test_deciding_a_considered_change_shows_all_that_it_touches(path):
    opened = truck(path, stops(state="considered", price=40))
    found = try_settings(opened, [Setting("changes.longer stop screws.state", "decided")]).effects
    assert "steering.turning_radius" in {row.name for row in found.figures}
    assert "fit.locks_too_wide" in {one.rule.name for one in found.cleared}
    assert found.cost[1].total - found.cost[0].total == 40


def test_what_rests_on_a_change_lapses_when_the_change_is_edited(path):
    opened = truck(path, stops())
    kept = basis(opened, [opened.spot("outer_angle", fitment="tall", axle="front")])
    assert kept[PLANNED_STOP] == "26 deg ± 1/2 deg"
    assert STOP not in kept
    assert basis_changes(opened, kept) == ()
    (first, *_) = basis_changes(truck(path, stops(sets={STOP: "25 deg"})), kept)
    assert (first.then, first.now) == ("26 deg ± 1/2 deg", "25 deg")
    (first, *_) = basis_changes(truck(path, stops(state="given up")), kept)
    assert first.now == "31 deg ± 1 deg"
    measured = {STOP: {"value": "27 1/4 deg"}}
    (first, *_) = basis_changes(truck(path, stops(state="done", measured=measured)), kept)
    assert first.now == "27 1/4 deg"


def test_what_was_decided_for_a_candidate_lapses_when_a_change_is_decided_and_what_was_measured_stands(path):
    of_tall = {"fitments.tall.wheel.backspace": "4 3/4 in ± 1/32 in", STOP: "31 deg ± 1 deg"}
    assert basis_changes(truck(path), of_tall) == ()
    (moved,) = basis_changes(truck(path, stops()), of_tall)
    assert (moved.then, moved.now) == ("31 deg ± 1 deg", "26 deg ± 1/2 deg")
    assert basis_changes(truck(path, stops()), {STOP: "31 deg ± 1 deg"}) == ()
    assert basis_changes(truck(path, stops()), {**of_tall, PLANNED_STOP: "26 deg ± 1/2 deg"}) == ()


def test_measuring_the_truck_rests_on_what_was_found(path):
    opened = truck(path, stops())
    listed = work(opened).items
    one = next(one for one in listed.values() if one.task is not None and "stop_angle" in one.task.asks)
    kept = tick_basis(opened, listed, one)
    assert kept[STOP] == "31 deg ± 1 deg"
    assert PLANNED_STOP not in kept


def test_a_decided_change_is_a_task_with_its_caution_before_the_truck_rolls(path):
    listed = work(truck(path, stops())).items
    one = listed["change.longer_stop_screws"]
    assert (one.title, one.phase, one.origin, one.state) == ("longer stop screws", "fit", "change", "waiting")
    assert "safety parts" in one.caution
    assert "front stop angle to 26 deg ± 1/2 deg, found 31 deg ± 1 deg" in one.how
    assert one.id in listed["check.sign"].after
    assert "change.longer_stop_screws" not in work(truck(path, stops(state="considered"))).items
    assert work(truck(path, stops(state="done"))).items["change.longer_stop_screws"].state == "done"


def test_ticking_its_task_makes_a_change_done_and_opening_it_again_decided(path):
    opened = truck(path, stops())
    with pytest.raises(RefusedChange, match="hold point"):
        tick_task(opened, work(opened), "change.longer_stop_screws", because="by the shop", anyway=True)
    opened = signed(path)
    make_recording(opened, tick_task(opened, work(opened), "change.longer_stop_screws", because="shop", anyway=True))
    done = again(path)
    assert (done.project.changes[0].state, done.project.changes[0].on) == ("done", DAY)
    make_recording(done, reopen_task(done, work(done), "change.longer_stop_screws", "a screw came loose"))
    assert again(path).project.changes[0].state == "decided"


def test_the_price_of_a_change_counts_once_and_as_spent_when_it_is_done(path):
    before = money(truck(path))
    decided, done = money(truck(path, stops(price=40))), money(truck(path, stops(price=40, state="done")))
    assert (decided.promised - before.promised, decided.spent - before.spent) == (Decimal(40), Decimal(0))
    assert (done.promised - before.promised, done.spent - before.spent) == (Decimal(0), Decimal(40))
    assert sum(row.title == "longer stop screws" for row in decided.rows) == 1
    assert money(truck(path, stops(price=40, state="considered"))).total == before.total
    assert money(truck(path, stops(price=40, **{"with": ["modest"]}))).total == before.total  # tall is planned


def test_a_considered_change_is_tried_in_compare(path):
    opened = truck(path, stops(state="considered"), stops(name="shorter + later", state="considered"))
    found = compare(opened, ["tall", "tall+longer stop screws", "tall + shorter + later"])
    assert [one.name for one in found.candidates] == [
        "tall",
        "tall + longer stop screws",
        "tall + shorter + later",
    ]
    (entry,) = [one for one in found.entries if one.of_truck]
    assert (entry.key, entry.written) == (STOP, ("31 deg ± 1 deg", "26 deg ± 1/2 deg", "26 deg ± 1/2 deg"))
    decided = work_out(truck(path, stops()).opened, DAY)
    tried, alone = found.candidates[1].opened, as_if_chosen(decided, "tall")
    for node in ("turning_radius", "inner_steer_limit", "window_width"):
        at = alone.spot(node, fitment="tall", axle="front")
        assert tried.sheet.outcome(at) == alone.sheet.outcome(at)
    names = [one.name for one in compare(opened).candidates]
    assert names == ["found", "tall", "modest", "tall + longer stop screws", "tall + shorter + later"]


def test_what_a_lift_moves_along_is_compared_as_it_will_be_measured_and_not_as_the_lift(path):
    lift = {"name": "lift", "kind": "lift", "state": "considered", "sets": {"axles.front.lift": "2 in ± 1/4 in"}}
    found = compare(truck(path, lift), ["tall", "tall + lift"]).entries
    rows = {row.key: row.written for row in found if row.of_truck}
    assert rows["axles.front.lift"] == ("not entered", "2 in ± 1/4 in")
    # the opening goes up by none to all of what the lift is at the most: 2 1/4 in, in the middle 1 1/8 in
    assert rows["axles.front.fender.axle_to_fender"] == ("23 3/4 in ± 1/4 in", "24.875 in ± 1.375 in")


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("tall + longer screws", "there's no such change; accepted: longer stop screws"),
        ("tal + longer stop screws", "there's no such fitment; accepted: tall"),
        ("found + longer stop screws", "doesn't go with the truck as found"),
        ("modest + longer stop screws", "doesn't go with modest"),
        ("tall + screws", "screws is decided; you can only try a change that is considered"),
        ("tall + longer stop screws + longer stop screws", "given twice"),
        ("tall + longer stop screws + other screws", "set the same entry"),
        ("tall +", "which change?"),
    ],
)
def test_what_cannot_be_tried_is_told_by_name(path, name, told):
    tall = {"with": ["tall"]}
    opened = truck(
        path,
        stops(state="considered", **tall),
        stops(name="screws"),
        stops(name="other screws", state="considered"),
    )
    with pytest.raises(RefusedChange, match=r".") as refused:
        compare(opened, [name])
    assert told in str(refused.value)


def test_a_ratio_that_a_change_and_the_candidate_itself_set_is_a_fault_that_names_both(path):
    truck(path, {"name": "gears", "state": "decided", "sets": {"axles.front.ratio": "4.56"}})
    text = amend(path.read_text("utf-8"), {("fitments", "tall", "axle_ratio"): "4.88"})
    opened = work_out(understand(parse(path, text.encode())), DAY)
    (fault,) = opened.opened.faults
    assert fault.key == ("changes", 0, "sets", "axles.front.ratio")
    assert "sets axles.front.ratio, and fitments.tall.axle_ratio says something else" in fault.message
    ratios = [opened.sheet.value(opened.spot("axle_ratio", fitment=one, axle="front")) for one in ("found", "tall")]
    assert ratios == [5.22, None]  # neither of the two


@pytest.mark.parametrize(
    ("change", "lost"),
    [
        ({"sets": {STOP: "27 lb"}}, PLANNED_STOP),
        ({"state": "soon"}, "changes[0].state"),
        ({"with": ["wide"]}, "changes[0].with"),
    ],
)
def test_where_a_change_has_a_fault_its_candidates_read_nothing_and_what_was_found_stands(path, change, lost):
    opened = truck(path, stops(**change))
    assert opened.opened.faults
    stop = opened.spot("stop_angle", fitment="tall", axle="front")
    assert opened.sheet.value(stop) is None  # and not what was found, as if nothing were planned
    assert opened.keys_needed(stop) == (lost,)
    assert degrees_at(opened, "found") == 31


def rows_of(opened: OpenProject, kind: str) -> list[tuple[str, ...]]:
    sheet = made(opened, kind_named(kind), Asked(), DAY, 7)
    return [row for block in sheet.blocks if isinstance(block, Rows) for row in block.rows]


def test_the_record_says_what_was_found_and_how_and_never_that_the_planned_value_was_measured(path):
    rows = rows_of(truck(path, stops()), "record")
    (found,) = [row for row in rows if f"({STOP})" in row[0]]
    reading = next(one for one in tomllib.loads(COUNTY.read_text("utf-8"))["readings"] if one["of"] == STOP)
    assert found[1] == "31 deg ± 1 deg"
    assert reading["how"] in found[2]
    (planned,) = [row for row in rows if row[0] == STOP]
    assert planned == (STOP, "31 deg ± 1 deg", "26 deg ± 1/2 deg", "")
    measured = {STOP: {"value": "27 1/4 deg", "by": "owner", "how": "board on the drum"}}
    (done,) = [row for row in rows_of(truck(path, stops(state="done", measured=measured)), "record") if row[0] == STOP]
    assert done == (STOP, "31 deg ± 1 deg", "26 deg ± 1/2 deg", "27 1/4 deg, owner, board on the drum")


def test_the_measuring_sheet_asks_for_what_was_changed_and_not_measured_since(path):
    sheet = made(truck(path, stops(state="done")), kind_named("measuring"), Asked(), DAY, 7)
    ends = [end for block in sheet.blocks if isinstance(block, Blanks) for row in block.rows for end in row.readings]
    (blank,) = [one for one in ends if one.key.startswith("changes")]
    assert blank.key == f'changes[0].measured."{STOP}".value'
    assert blank.known == "set to 26 deg ± 1/2 deg, found 31 deg ± 1 deg"
