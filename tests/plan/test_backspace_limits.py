"""Each bound on the backspace is where the rule that declares it turns: judged there by the worksheet itself."""

import tomllib
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.plan.answers.open_project import work_out
from planner.plan.fit.backspace_limits import BackspacesTried, backspace_limits, kept, rule_spot
from planner.plan.truck.pairs import asked_there, backspaces
from planner.plan.truck.project import OpenProject
from planner.project.reading import understand
from planner.project.source import parse
from planner.quantities.quantity import Quantity
from planner.worksheet.outcome import Known, Outcome, Spot, number
from planner.worksheet.verdict import judge

PROJECTS = Path(__file__).parents[2] / "projects"
DAY = date(2026, 11, 25)
HAIR = 1e-7  # m
COUNTY, FORESTRY, QUARRY = (
    tomllib.loads((PROJECTS / f"{name}.toml").read_text("utf-8"))
    for name in ("county-road-4x4", "forestry-4x4", "quarry-flatbed")
)
OF_ONE_WHEEL = {"offset_and_backspace", "spacing_and_offset", "spare_for_each_axle"}  # its readings, and its spare
# What the backspace moves and does not bound it: the window itself, a cure that quotes it, and how high the truck
# stands for its track, which no backspace makes good: that it stood no better as found bounds it.
NO_BOUND = {"backspace_outside_window", "locks_too_wide", "no_backspace_fits", "no_backspace_clears",
            "tips_before_it_slides"} | OF_ONE_WHEEL  # fmt: skip


def opened(data: dict) -> OpenProject:
    """A truck without its obstacles: what is asked here needs no sweep."""
    bare = {key: value for key, value in data.items() if key not in ("obstacles", "sheets", "tasks", "acceptances")}
    made = work_out(understand(parse(Path("truck.toml"), tomli_w.dumps(bare).encode())), DAY)
    assert not made.opened.faults, made.opened.faults
    return made


@cache
def example(name: str) -> OpenProject:
    return opened({"county": COUNTY, "forestry": FORESTRY, "quarry": QUARRY}[name])


def with_backspace(truck: OpenProject, fitment: str, axle: str, backspace: float, rule: Spot) -> Outcome:
    """What the worksheet says of a rule with this backspace entered where the wheel was, which it then takes back."""
    sheet = truck.sheet
    here = [truck.spot(node, fitment=fitment, axle=axle) for node in ("backspace", "offset", "rim_width")]
    place = next(entry.place for spot in here if (entry := sheet.entered(spot)) is not None)
    backspace_at, offset_at = Spot("backspace", place), Spot("offset", place)
    before = {spot: sheet.given(spot) for spot in (backspace_at, offset_at)}
    sheet.change({backspace_at: Quantity(backspace), offset_at: None})
    outcome = sheet.outcome(rule)
    sheet.change(before)
    return outcome


def ends_of_bounds(truck: OpenProject, fitment: str, axle: str) -> Iterator[tuple[Spot, str, float, float]]:
    """Each end of each bound: the rule, which end of its margin is nothing there, where, and which way is outside."""
    wide = truck.sheet.value(truck.spot("overall_width", fitment=fitment, axle=axle))
    for one in backspace_limits(truck, fitment, axle, wide).limits:
        at = rule_spot(truck, one.rule.node, fitment, axle)
        for margin, limit in (("low", one.worst), ("high", one.kindest)):
            for end, outward in ((limit.low, -1.0), (limit.high, 1.0)):
                if 0.0 < end < backspaces(truck, fitment, wide)[1]:
                    yield at, margin, end, outward


def each_bound_is_where_its_rule_turns(truck: OpenProject, fitment: str, axle: str) -> set[tuple[str, str, float]]:
    seen = set()
    for at, margin, end, outward in ends_of_bounds(truck, fitment, axle):
        on, inside, outside = (
            with_backspace(truck, fitment, axle, end + way * outward * HAIR, at) for way in (0.0, -1.0, 1.0)
        )
        assert abs(getattr(on, margin)) < 1e-9, (at, margin, end, on)
        rule = truck.sheet.catalog.rules[at.node]
        within, past = (judge(rule, at.place, one).answer for one in (inside, outside))
        if margin == "low":
            assert within == "clear" and past != "clear", (at, end, within, past)
        else:
            assert within != "raised" and past == "raised", (at, end, within, past)
        seen.add((at.node, margin, outward))
    return seen


@pytest.mark.parametrize(
    ("name", "fitment"), [("county", "tall"), ("county", "modest"), ("forestry", "soft"), ("forestry", "hard")]
)
def test_at_each_bound_its_own_rule_has_nothing_to_spare_and_turns(name, fitment):
    truck = example(name)
    fitment = fitment if fitment in truck.candidates else truck.candidates[-1]
    seen = each_bound_is_where_its_rule_turns(truck, fitment, "front")
    seen |= each_bound_is_where_its_rule_turns(truck, fitment, "rear")
    assert {"poke_past_local_code", "bearing_moment_grown", "scrub_radius_changed"} <= {node for node, _, _ in seen}
    assert {(margin, outward) for _, margin, outward in seen} == {(m, o) for m in ("low", "high") for o in (-1.0, 1.0)}


def test_at_each_bound_of_a_pair_its_own_rule_turns_and_more_backspace_takes_the_outer_tire_out():
    seen = each_bound_is_where_its_rule_turns(example("quarry"), "wide", "rear")
    # Less of it brings the two together, more of it takes the outer one past the bed.
    assert {(node, outward) for node, _, outward in seen} == {
        ("spacing_below_makers", -1.0),
        ("sidewalls_too_near", -1.0),
        ("poke_past_local_code", 1.0),
    }
    # By hand: sidewall at the rail, 13 in, with the outer plane at offset + 2 × 7/16 and 10 in of tire; the rim is
    # 8 1/2 in over the flanges, so its backspace 4 1/4 in more. At the worst 10.1 in grown by 2 %, 1/4 in of rail, 1/64
    # of each disc.
    limits = {one.rule.node: one for one in backspace_limits(example("quarry"), "wide", "rear", 0.2159).limits}
    worst = 13 - 0.25 - 10.1 * 1.02 / 2 - 2 * (7 / 16 + 1 / 64) + 4.25
    assert limits["poke_past_local_code"].worst.high == pytest.approx(worst * 0.0254, abs=1e-9)
    # 11.3 in at the least, 2 × (backspace − 4 1/4 + 7/16 − 1/64)
    least = 11.3 / 2 + 4.25 - 7 / 16 + 1 / 64
    assert limits["spacing_below_makers"].worst.low == pytest.approx(least * 0.0254, abs=1e-9)


def inches(low: float, high: float, most: float) -> st.SearchStrategy[str]:
    return st.builds("{:.3f} in ± {:.3f} in".format, st.floats(low, high), st.floats(0.0, most))


@st.composite
def drawn(draw: st.DrawFn) -> dict:
    """The county truck with what bounds its backspace drawn anew, tolerances and all, and one wheel or two."""
    data = tomllib.loads(tomli_w.dumps(COUNTY))
    tall = data["fitments"]["tall"]
    wheel = tall.pop("wheel")
    places = [tall] if draw(st.booleans()) else [tall.setdefault("front", {}), tall.setdefault("rear", {})]
    for place in places:
        own = {key: value for key, value in wheel.items() if key != "backspace"}
        own["rim_width"] = draw(inches(8.5, 10.0, 0.1))
        own[draw(st.sampled_from(["backspace", "offset"]))] = draw(inches(3.0, 5.0, 0.1))
        place["wheel"] = own
    tall["tire"]["section_width"] = draw(inches(11.0, 13.0, 0.3))
    data["fitments"]["found"]["wheel"]["backspace"] = draw(inches(3.5, 5.5, 0.2))
    for axle in ("front", "rear"):
        data["axles"][axle]["face_to_face"] = draw(inches(54.0, 80.0, 0.3))
        data["axles"][axle]["bearing_setback"] = draw(inches(1.0, 4.0, 0.3))
        data["axles"][axle]["fender"]["face_to_edge"] = draw(inches(5.0, 8.0, 0.3))
        data["axles"][axle]["fender"]["wanted_poke"] = f"{draw(st.floats(-2.0, 1.0)):.3f} in"
    data["axles"]["front"]["kingpin"]["inset"] = draw(inches(3.0, 6.0, 0.3))
    data["limits"]["most_scrub_change"] = {"value": f"{draw(st.floats(0.2, 2.0)):.3f} in", "because": "drawn"}
    data["limits"]["most_bearing_moment"] = {"value": f"{draw(st.floats(1.0, 1.6)):.3f}", "because": "drawn"}
    return {key: value for key, value in data.items() if key not in ("changes", "readings", "decisions")}


@settings(max_examples=settings().max_examples // 4)  # a draw takes as long as fifty of a formula
@given(drawn(), st.sampled_from(["front", "rear"]))
def test_at_each_bound_of_a_drawn_truck_its_own_rule_turns(data, axle):
    truck = opened(data)
    each_bound_is_where_its_rule_turns(truck, "tall", axle)


@settings(max_examples=settings().max_examples // 10)
@given(drawn(), st.sampled_from(["front", "rear"]))
def test_a_margin_holds_along_one_stretch_of_backspaces_and_no_other(data, axle):
    truck = opened(data)
    wide = truck.sheet.value(truck.spot("overall_width", fitment="tall", axle=axle))
    tried = BackspacesTried(truck, "tall", axle)
    for one in backspace_limits(truck, "tall", axle, wide).limits:
        at = rule_spot(truck, one.rule.node, "tall", axle)
        for margin, limit in (("low", one.worst), ("high", one.kindest)):
            for step in range(101):
                backspace = wide * step / 100
                holds = tried.margins(at, margin)(backspace) >= -1e-12
                if min(abs(backspace - limit.low), abs(backspace - limit.high)) > 1e-9:
                    assert holds == (limit.low <= backspace <= limit.high), (at, margin, backspace, limit)


def test_every_rule_that_the_backspace_moves_bounds_it():
    truck = example("county")
    layout = truck.sheet.layout
    moved = layout.reach([layout.index[truck.spot("backspace", fitment="tall", axle="front")],
                          layout.index[truck.spot("offset", fitment="tall", axle="front")]])  # fmt: skip
    rules = truck.sheet.catalog.rules
    nodes = {layout.steps[at].spot.node for at in moved} & rules.keys()
    assert {node for node in nodes if not rules[node].bounds} <= NO_BOUND
    assert {node for node, rule in rules.items() if rule.bounds} <= nodes


def test_a_wheel_tried_on_the_truck_as_found_is_held_to_what_was_found():
    # a candidate that is the found wheel and tire once more asks the same of another backspace
    data = tomllib.loads(tomli_w.dumps(COUNTY))
    data["fitments"]["twin"] = {name: data["fitments"]["found"][name] for name in ("tire", "wheel")}
    truck = opened({key: value for key, value in data.items() if key != "changes"})
    found, twin = (BackspacesTried(truck, name, "front") for name in ("found", "twin"))
    bounding = [
        node
        for node, rule in truck.sheet.catalog.rules.items()
        if rule.bounds and node not in ("bearings_past_rating", "poke_not_as_wished")  # which nobody rated, or wishes
    ]
    rules = [node for node in bounding if asked_there(truck, rule_spot(truck, node, "twin", "front"))]
    asked = [(node, 0.0254 * backspace) for node in rules for backspace in (2.0, 4.75, 6.0)]
    told = [
        [tried.outcome(rule_spot(truck, node, name, "front"), backspace) for node, backspace in asked]
        for name, tried in (("found", found), ("twin", twin))
    ]
    # The two share no tolerance, so that only the values can be held against each other.
    assert len(told[0]) > 20
    for at, one, other in zip(asked, *told, strict=True):
        assert isinstance(one, Known) and isinstance(other, Known), at
        assert number(one.value) == pytest.approx(number(other.value)), at


def test_without_a_backspace_the_same_limits_bound_it():
    data = tomllib.loads(tomli_w.dumps(COUNTY))
    del data["fitments"]["tall"]["wheel"]["backspace"]
    bare, whole = opened(data), example("county")
    limits = [backspace_limits(truck, "tall", "front", 0.254).limits for truck in (bare, whole)]
    assert [one.rule.node for one in limits[0]] == [one.rule.node for one in limits[1]]
    for one, other in zip(*limits, strict=True):
        assert one.worst[1:] == pytest.approx(other.worst[1:], abs=1e-9), one.rule.node


def test_the_poke_of_the_county_truck_bounds_its_backspace_where_the_tape_says():
    assert COUNTY["axles"]["front"]["fender"]["face_to_edge"] == "7 in ± 1/8 in"  # section 12.1 ± 0.2 in, no poke
    # Grown by 2 %, 12.546 / 2 − (7 − 1/8) = −0.602 in of offset, and half of a wheel 9 + 2 × 1/2 in wide: 4.398 in
    limits = {one.rule.node: one for one in backspace_limits(example("county"), "tall", "front", 0.254).limits}
    poke = limits["poke_past_local_code"]
    assert poke.worst.low == pytest.approx(4.398 * 0.0254, abs=1e-9)
    # 11.9 / 2 − (7 + 1/8) = −1.175 in of offset, 3.825 in of backspace at the kindest
    assert poke.kindest.low == pytest.approx(3.825 * 0.0254, abs=5e-5) and poke.kindest.low <= 3.825 * 0.0254


def test_a_stretch_is_found_on_lines_on_both_sides_of_a_v_and_nowhere_where_nothing_holds():
    assert kept(lambda x: 3.0 - x, 0.0, 10.0) == pytest.approx((0.0, 3.0))
    assert kept(lambda x: x - 3.0, 0.0, 10.0) == pytest.approx((3.0, 10.0))
    assert kept(lambda x: 0.5 - abs(x - 7.25), 0.0, 10.0) == pytest.approx((6.75, 7.75))
    assert kept(lambda x: 1e-9 - abs(x - 7.25), 0.0, 10.0) == pytest.approx((7.25, 7.25))
    assert kept(lambda x: 4.0 - (x - 5.0) ** 2, 0.0, 10.0) == pytest.approx((3.0, 7.0))
    assert kept(lambda x: -1.0 - abs(x - 7.25), 0.0, 10.0) == (float("inf"), float("inf"))
    assert kept(lambda x: min(x, 4.0 - x), 0.0, 10.0) == pytest.approx((0.0, 4.0))  # it begins at nothing and rises
