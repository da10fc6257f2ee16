"""Both tires of a pair past what was measured: between them, inboard, outboard and above; what is not known of them.

Each truck here is one of which a clear would be false if a pair were swept as one wide tire, or as one of its two.
"""

from datetime import date
from math import cos, hypot, radians, sin
from pathlib import Path

import numpy as np
import pytest
from plain_truck import PLAIN

from planner.plan.answers import fit_words
from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.open_project import open_project
from planner.plan.drawings.backspace_window import backspace_window
from planner.plan.drawings.clearance_map import clearance_map
from planner.plan.drawings.steered_tire import steered_tire
from planner.plan.fit.clearances import Onset, first_onset
from planner.plan.truck.project import OpenProject

TODAY = date(2026, 11, 28)
# Two tires 800 mm tall and 200 mm wide, the rim 160 + 2 × 10 = 180 mm over its flanges. Offset 120 mm to the face on
# the hub, discs of 10 mm: the inner tire's center plane stands 120 mm inboard of the hub's face, its sidewalls at −220
# and −20; the outer one's 120 + 2 × 10 = 140 mm outboard, its sidewalls at 40 and 240. Between the two are 60 mm.
TRUCK = """format = 2
[vehicle]
units = "metric"
[axles.{axle}]
face_to_face = "1500 mm ± 0 mm"
tires = {tires}
{steers}
[axles.{axle}.travel]
bump = "{bump} ± 0 mm"
droop = "{bump} ± 0 mm"
[axles.front.kingpin]
inset = "0 mm ± 0 mm"
inclination = "0 deg ± 0 deg"
caster = "0 deg ± 0 deg"
[axles.front.steering]
stop_angle = "30 deg ± 0 deg"
[fitments.found.tire]
overall_diameter = "800 mm ± 0 mm"
section_width = "200 mm ± 0 mm"
tread_width = "200 mm ± 0 mm"
crown_drop = "0 mm ± 0 mm"
{tire}
[fitments.found.wheel]
rim_width = "160 mm ± 0 mm"
flange_thickness = "10 mm ± 0 mm"
flange_height = "17.3 mm ± 0 mm"
rim_diameter = 16
barrel_radius = "190 mm ± 0 mm"
{wheel}
"""
FACE = 'offset_face = "hub"'
DISC = 'disc_thickness = "10 mm ± 0 mm"'
OFFSET = 'offset = "120 mm ± 0 mm"'
HOSE, FRAME, LIP = "hose", "frame", "lip"
BETWEEN, INBOARD, OUTBOARD = (0, 10, 300), (0, -260, 300), (0, 285, 300)


@pytest.fixture
def truck(tmp_path: Path):
    def make(*obstacles: tuple[str, tuple[float, ...]], wheel: str = f"{OFFSET}\n{DISC}\n{FACE}", tires: str = "4",
             bump: str = "0 mm", axle: str = "rear", steers: str = "", tire: str = "", more: str = "",
             rides: str = "body") -> OpenProject:  # fmt: skip
        text = TRUCK.format(wheel=wheel, tires=tires, bump=bump, axle=axle, steers=steers, tire=tire) + PLAIN + more
        for name, at in obstacles:
            ends = [str([f"{one} mm ± 0 mm" for one in at[first : first + 3]]) for first in range(0, len(at), 3)]
            text += f'[[obstacles]]\nname = "{name}"\naxle = "{axle}"\nmoves_with = "{rides}"\nwants = "20 mm"\n'
            text += "".join(f"{key} = {end}\n" for key, end in zip(("at", "to"), ends, strict=False)).replace("'", '"')
        path = tmp_path / "truck.toml"
        path.write_text(text, encoding="utf-8")
        return open_project(path, TODAY)

    return make


def clearance(opened: OpenProject, name: str):
    return opened.sheet.outcome(opened.spot("least_clearance", fitment="found", obstacle=name))


def place(opened: OpenProject, name: str) -> str:
    return str(opened.sheet.value(opened.spot("clearance_place", fitment="found", obstacle=name)))


def told(opened: OpenProject, rule: str, where: str = "rear") -> Flag:
    return next(
        one for one in flags(opened, worded=True) if one.rule.node == rule and any(where in at for at in one.places)
    )


def value(opened: OpenProject, node: str) -> float:
    return opened.sheet.value(opened.spot(node, fitment="found", axle="rear"))


@pytest.mark.parametrize(
    ("at", "room", "tire"),
    [
        (BETWEEN, 30, "the outer tire's inboard sidewall"),  # 40 − 10; to the inner one 10 + 20 are left too
        ((0, 0, 300), 20, "the inner tire's outboard sidewall"),
        ((0, 25, 300), 15, "the outer tire's inboard sidewall"),
        (INBOARD, 40, "the inner tire's inboard sidewall"),
        (OUTBOARD, 45, "the outer tire's outboard sidewall"),
        ((0, -100, 460), 60, "the inner tire's tread"),
        ((0, 100, 460), 60, "the outer tire's tread"),
        # Over the gap, 430 mm up: 30 mm over either tread's line, 30 and 30 mm aside of the shoulders' corners.
        ((0, 10, 430), hypot(30, 30), "the outer tire's"),
        ((0, -400, 440, 0, 400, 440), 40, "tire's tread"),
    ],
)  # fmt: skip
def test_each_obstacle_is_judged_by_the_true_gap_to_the_nearer_of_the_two_tires(truck, at, room, tire):
    opened = truck((HOSE, at))
    assert clearance(opened, HOSE).value * 1000 == pytest.approx(room, abs=0.11)
    assert tire in place(opened, HOSE)


@pytest.mark.parametrize("across", [-100, 100])
def test_what_would_stand_inside_either_tire_was_measured_wrongly(truck, across):
    opened = truck((HOSE, (0, across, 300)))
    (fault,) = opened.opened.faults
    assert "hose is inside the tire" in fault.message and "disc_thickness = 10 mm" in fault.message
    assert told(opened, "spacing_below_usual").verdict.answer == "not known"  # which reading is wrong nobody can say


def least_by_grid(at, axle: str, bump: float, lock: float, planes=(-0.120, 0.140)) -> float:
    """The least distance of a point to two boxes turned about the axle line, over all that a bar 1,500 mm long does."""
    x, y, z = (one / 1000 for one in at)
    roll = np.linspace(-bump / 0.75, bump / 0.75, 81)[:, None, None]  # its ends rise and sink by as much as the bump
    height = np.linspace(-1, 1, 21)[None, :, None] * (bump - 0.75 * np.abs(roll))
    steer = np.linspace(-lock, lock, 121 if axle == "front" else 1)[None, None, :]
    turn = np.sqrt(1 - roll**2)
    side, up = y + 0.75, z - height
    y, z = turn * side + roll * up - 0.75, turn * up - roll * side
    forward, outboard = x * np.cos(steer) - y * np.sin(steer), x * np.sin(steer) + y * np.cos(steer)
    radial = np.hypot(forward, z)
    deep = np.maximum(radial - 0.400, 0.190 - radial)
    least = []
    for plane in planes:
        beside = np.abs(outboard - plane) - 0.100
        outside = np.hypot(np.maximum(beside, 0), np.maximum(deep, 0))
        least.append(np.where(outside > 0, outside, np.maximum(beside, deep)).min())
    return min(least)


@pytest.mark.parametrize("axle", ["front", "rear"])
def test_over_all_steer_and_travel_the_least_of_both_is_that_of_a_dense_grid(truck, axle):
    random = np.random.default_rng(5)
    spots = [(*random.uniform((-350, -25, 200), (350, 45, 480)),) for _ in range(6)]  # in and over the gap
    spots += [(*random.uniform((-400, -400, 100), (400, 350, 560)),) for _ in range(10)]
    spots = [at for at in spots if least_by_grid(at, axle, 0.0, 0.0) > 0.002]  # none that stood inside at rest
    bump, lock = 0.055, radians(30) if axle == "front" else 0.0
    opened = truck(*((f"spot {at}", spot) for at, spot in enumerate(spots)), bump="55 mm", axle=axle)
    assert len(spots) > 9 and not opened.opened.faults
    told = set()
    for at, spot in enumerate(spots):
        found, dense = clearance(opened, f"spot {at}"), least_by_grid(spot, axle, bump, lock)
        margin = max(2e-4, 0.06 * abs(dense - 0.020))  # what is far from its limit is found to a twentieth
        assert found.value <= dense + margin and found.low <= dense + 1e-6
        assert found.value >= dense - 2.5e-3  # the grid stands no further than that from the worst place
        told.add(next(tire for tire in ("inner", "outer") if f"the {tire} tire's" in place(opened, f"spot {at}")))
    assert told == {"inner", "outer"}


def test_the_most_steer_is_what_both_tires_allow(truck):
    # Ahead of the hub's face and outboard of the outer tire nothing but that one comes; inboard stands a far rail.
    opened = truck(("bumper", (380, 290, 0)), ("rail", (0, -900, 0)), axle="front", rides="axle")
    limit = opened.sheet.value(opened.spot("outer_steer_limit", fitment="found", axle="front"))
    inner = opened.sheet.value(opened.spot("inner_steer_limit", fitment="found", axle="front"))
    both = [least_by_steer((380, 290, 0), way) for way in (1, -1)]
    assert (limit, inner) == (pytest.approx(both[0], abs=3e-4), pytest.approx(both[1], abs=3e-4))
    assert min(limit, inner) < radians(29)
    alone = truck(("bumper", (380, 290, 0)), ("rail", (0, -900, 0)), axle="front", rides="axle", tires="2")
    assert alone.sheet.value(alone.spot("inner_steer_limit", fitment="found", axle="front")) > inner


def least_by_steer(at, way: int) -> float:
    """The first steer at which a point is nearer than 20 mm to either box, by small steps; else the stop."""
    x, y, z = (one / 1000 for one in at)
    for step in range(30001):
        steer = way * radians(step / 1000)
        forward, outboard = x * cos(steer) - y * sin(steer), x * sin(steer) + y * cos(steer)
        deep = max(hypot(forward, z) - 0.400, 0.0)
        if min(hypot(max(abs(outboard - plane) - 0.100, 0.0), deep) for plane in (-0.120, 0.140)) < 0.020:
            return abs(steer)
    return radians(30)


@pytest.mark.parametrize("tires", ["2", "4"])
def test_the_limits_at_an_offset_anywhere_within_its_tolerance_lie_within_their_ends(truck, tires):
    at = (300, -340, 50) if tires == "4" else (300, -330, 50)

    def limits(offset: str):
        opened = truck(
            (HOSE, at), axle="front", rides="axle", tires=tires, wheel=f'offset = "{offset}"\n{DISC}\n{FACE}'
        )
        spots = (opened.spot(node, fitment="found", axle="front") for node in ("outer_steer_limit", "largest_tire"))
        return [opened.sheet.outcome(spot) for spot in spots]

    every = (limits(offset) for offset in ("120 mm ± 10 mm", "110 mm ± 0 mm", "130 mm ± 0 mm"))
    steers, tallest = zip(*every, strict=True)
    for loose, low, high in (steers, tallest):
        assert loose.low - 1e-4 <= min(low.value, high.value) < max(low.value, high.value) <= loose.high + 1e-4


def test_a_tire_grows_until_the_first_of_both_comes_too_near(truck):
    opened = truck((HOSE, (0, -100, 460)), (LIP, (0, 140, 500)))  # 460 − 20 over the inner one: 880 tall
    assert value(opened, "largest_tire") == pytest.approx(0.880, abs=2e-4)
    assert value(opened, "largest_tire_binds") == HOSE


SPACED = 'least_dual_spacing = "230 mm ± 0 mm"'  # 2 × 105 + 2 × 10: an offset of 105 and more


@pytest.mark.parametrize("offset", [OFFSET, ""])
def test_a_pairs_window_lies_between_what_keeps_the_two_apart_and_what_stands_in_and_outboard(truck, offset):
    # Frame: the inner tire's inboard sidewall at −offset − 100, at the least −240: an offset of 140 at the most. Lip:
    # the outer one's outboard sidewall at offset + 20 + 100, at the most 265: of 145. Backspace is offset + 90.
    wheel = f"{offset}\n{DISC}\n{FACE}"
    apart = truck((FRAME, INBOARD), (LIP, OUTBOARD), wheel=wheel, tire=SPACED)
    assert value(apart, "window_low") == pytest.approx(0.195, abs=1.1e-4)
    assert value(apart, "window_high") == pytest.approx(0.230, abs=1.1e-4)
    assert value(apart, "window_words") == "the pair's spacing sets the low end, frame the high end"
    # The hose between the two: the outer tire's inboard sidewall at offset + 20 − 100, at the least 30: 110 and more.
    hose = truck((FRAME, INBOARD), (LIP, OUTBOARD), (HOSE, BETWEEN), wheel=wheel, tire=SPACED)
    assert value(hose, "window_low") == pytest.approx(0.200, abs=1.1e-4)
    assert value(hose, "window_words") == "hose sets the low end, frame the high end"


def test_to_the_face_between_the_discs_the_same_wheels_have_a_backspace_of_one_disc_more(truck):
    wheel = f'offset = "130 mm ± 0 mm"\n{DISC}\noffset_face = "disc"'
    opened = truck((FRAME, INBOARD), (LIP, OUTBOARD), (HOSE, BETWEEN), wheel=wheel, tire=SPACED)
    assert clearance(opened, HOSE).value == pytest.approx(0.030, abs=1e-4)
    assert value(opened, "window_low") == pytest.approx(0.210, abs=1.1e-4)
    assert value(opened, "window_high") == pytest.approx(0.240, abs=1.1e-4)


def test_what_the_disc_may_be_thicker_moves_the_outer_tire_by_twice_as_much(truck):
    loose = DISC.replace("± 0 mm", "± 1 mm")
    opened = truck((FRAME, INBOARD), (LIP, OUTBOARD), (HOSE, BETWEEN), wheel=f"{OFFSET}\n{loose}\n{FACE}", tire=SPACED)
    hose, frame = clearance(opened, HOSE), clearance(opened, FRAME)
    # At the kindest the outer one is at 32 mm from the hose, and the inner one at 30 whatever the disc.
    assert (hose.low, hose.high) == (pytest.approx(0.028, abs=6e-4), pytest.approx(0.030, abs=2e-4))
    assert (frame.low, frame.high) == (pytest.approx(0.040, abs=6e-4), pytest.approx(0.040, abs=2e-4))
    low = opened.sheet.outcome(opened.spot("window_low", fitment="found", axle="rear"))
    assert (low.low, low.high) == (pytest.approx(0.200, abs=2e-4), pytest.approx(0.202, abs=2e-4))
    told_of = opened.swept.tolerance_sources[opened.spot("least_clearance", fitment="found", obstacle=HOSE)]
    assert told_of[0][0] == "fitments.found.wheel.disc_thickness"


def test_of_two_tires_that_differ_either_may_be_the_larger(truck):
    more = '[fitments.found.pair]\ndiameter_difference = "6 mm ± 0 mm"\n'
    found = clearance(truck((HOSE, (0, -100, 460)), more=more), HOSE)
    assert (found.low, found.high) == (pytest.approx(0.057, abs=6e-4), pytest.approx(0.063, abs=2e-4))
    broken = truck((HOSE, (0, -100, 460)), more=more.replace("6 mm ± 0 mm", "little"))
    assert told(broken, "tire_too_near", HOSE).verdict.answer == "not known"


def test_toward_the_sides_where_nobody_measured_no_end_of_a_pairs_window_is_known(truck):
    # More backspace takes the inner tire inboard and the outer one outboard: both have to be known for its end.
    for obstacle, side in ((INBOARD, "outboard"), (OUTBOARD, "inboard")):
        opened = truck((FRAME, obstacle), tire=SPACED)
        assert value(opened, "window_high") is None
        assert value(opened, "window_low") == pytest.approx(0.195, abs=1.1e-4)
        asked = told(opened, "no_backspace_clears")
        assert asked.verdict.answer == "not known" and f"obstacles.rear.{side}" in " ".join(asked.needs)


@pytest.mark.parametrize(
    ("wheel", "tires", "needs"),
    [
        (f"{OFFSET}\n{FACE}", "4", "fitments.found.wheel.disc_thickness"),
        (f"{OFFSET}\n{DISC}", "4", "fitments.found.wheel.offset_face"),
        (f"{DISC}\n{FACE}", "4", "fitments.found.wheel.offset"),
        (f"{OFFSET}\n{DISC}\n{FACE}", "6", "axles.rear.tires"),
        (f"{OFFSET}\n{DISC}\n{FACE}", '"four"', "axles.rear.tires"),
        (f'{OFFSET}\ndisc_thickness = "thin"\n{FACE}', "4", "fitments.found.wheel.disc_thickness"),
    ],
)
def test_where_the_two_tires_stand_is_not_known_without_this_and_so_nothing_of_them_is_clear(
    truck, wheel, tires, needs
):
    opened = truck((HOSE, (0, 0, 900)), (FRAME, INBOARD), wheel=wheel, tires=tires)
    for flag in flags(opened, worded=True):
        if flag.rule.node == "tire_too_near":
            assert flag.verdict.answer == "not known" and needs in " ".join(flag.needs)
    for node in ("least_clearance", "largest_tire", "window_width"):
        spot = opened.spot(node, fitment="found", axle="rear", obstacle=HOSE)
        assert opened.sheet.value(spot) is None or (node == "window_width" and "offset" in needs)


def test_a_candidate_with_single_wheels_on_that_axle_is_swept_as_one_tire_and_the_pair_found_as_two(truck):
    single = """[fitments.single.rear]
tires = 2
[fitments.single.tire]
overall_diameter = "800 mm ± 0 mm"
section_width = "200 mm ± 0 mm"
tread_width = "200 mm ± 0 mm"
crown_drop = "0 mm ± 0 mm"
[fitments.single.wheel]
rim_width = "160 mm ± 0 mm"
flange_thickness = "10 mm ± 0 mm"
rim_diameter = 16
barrel_radius = "190 mm ± 0 mm"
offset = "0 mm ± 0 mm"
"""
    opened = truck((HOSE, BETWEEN), (LIP, OUTBOARD), more=single)
    lip = opened.sheet.value(opened.spot("least_clearance", fitment="single", obstacle=LIP))
    assert lip == pytest.approx(0.185, abs=1e-4)  # 285 − 100
    hose = opened.sheet.value(opened.spot("least_clearance", fitment="single", obstacle=HOSE))
    assert hose < -0.08  # in the middle of the one tire, where the pair had it between its two
    where = opened.sheet.value(opened.spot("clearance_place", fitment="single", obstacle=LIP))
    assert "tire's" not in where


def test_the_pictures_of_the_fit_show_both_tires(truck):
    two = truck((HOSE, (0, 0, 700)), (FRAME, (0, -300, 250)), (LIP, (0, 330, 250)), axle="front", tire=SPACED)
    one = truck((HOSE, (0, 0, 700)), (FRAME, (0, -300, 250)), (LIP, (0, 330, 250)), axle="front", tires="2")
    drawn = [steered_tire(opened, "found", "front") for opened in (one, two)]
    closed = [sum(line.closed for line in scene.lines) for scene in drawn]
    assert closed[1] == 2 * closed[0] > 0 and "Both tires" in drawn[1].words
    (row,) = (one for one in fit_words.clearances(two, flags(two), "found") if one.label == FRAME)
    assert "the inner tire's inboard" in row.where
    map_ = clearance_map(two, "found", "front", 5, 5)
    assert "either tire" in map_.words and "tire's" in map_.words
    window = backspace_window(two, "found", "front", 5, 41)
    assert not window.missing and {"A", "B"} <= {mark for row in window.cells for mark in row}


def test_what_comes_too_near_does_so_from_where_the_first_of_both_tires_meets_it(truck):
    several = [Onset(0.3, None), Onset(None, 0.2), Onset(0.1, 0.4)]
    assert first_onset(several) == Onset(0.1, 0.2) and first_onset([Onset(None, None)]) == Onset(None, None)
    # 20 mm are wanted of a point 450 mm up over the inner tire; up by 55 with the far one down it comes 25 mm too near.
    opened = truck((HOSE, (0, -200, 450)), bump="55 mm")
    words = opened.sheet.value(opened.spot("onset_words", fitment="found", obstacle=HOSE))
    # Level, the axle does it by its own rise: 450 − 55 − 400 is less than nothing.
    assert words.startswith("on a level axle")
