"""The tire as a solid: trucks of which a clear would be false if a tire were just as its size says."""

from datetime import date
from random import Random

import pytest
from plain_truck import STILL_AXLE

from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project

TODAY = date(2026, 11, 28)


def truck(folder, tire="", wheel="", at="", more="", rides="body"):
    """A rear axle that does not steer or travel, and an obstacle at `at`, in mm from the hub's face, exactly."""
    place = ", ".join(f'"{one} mm exact"' for one in at.split())
    path = folder / "truck.toml"
    path.write_text(
        'format = 2\n[vehicle]\nunits = "metric"\n[axles.rear]\nface_to_face = "1500 mm exact"\n'
        '[axles.rear.travel]\nbump = "0 mm exact"\ndroop = "0 mm exact"\n'
        f'[fitments.tall.wheel]\nrim_width = "7 in"\nrim_diameter = 16\noffset = "0 mm"\n{wheel}\n'
        f"[fitments.tall.tire]\n{tire}\n{more}\n"
        + STILL_AXLE
        + (f'[[obstacles]]\nname = "stone"\naxle = "rear"\nmoves_with = "{rides}"\nat = [{place}]\n' if at else "")
        + ('wants = "{}"\n'.format("15 mm" if rides == "axle" else "30 mm") if at else ""),
        encoding="utf-8",
    )
    return open_project(path, TODAY)


def clearance(opened):
    return opened.sheet.outcome(opened.spot("least_clearance", fitment="tall", obstacle="stone"))


def answer(opened, rule="fit.tire_too_near"):
    return next(one.verdict.answer for one in flags(opened) if one.rule.name == rule)


def test_over_the_tread_of_a_tire_known_by_its_size_alone_it_is_too_close_to_call(tmp_path):
    # By hand: 805.5 mm, made 2 % over: 821.61, and grown by 2 % of what is over 406 mm of rim: 829.92, or 414.96 from
    # the axle. At the least it is new and 2 % under: 789.39, or 394.7. So the stone at 440 is 25.0 to 45.3 mm away.
    opened = truck(tmp_path, 'designation = "LT235/85R16"', at="0 0 440")
    found = clearance(opened)
    assert found.low == pytest.approx(0.02504, abs=6e-4) and found.low <= 0.02504
    assert found.high == pytest.approx(0.0453, abs=1e-4)
    assert answer(opened) == "too close to call"
    told = next(one.settles for one in flags(opened) if one.rule.name == "fit.tire_too_near")
    assert "a tape around the tread (tire.overall_diameter)" in told[0]


def test_its_own_size_with_its_growth_settles_it(tmp_path):
    # 806 mm as measured, to 2 mm, and 1 % by its maker: at the most 816.08, half of it 408.04 and 31.96 mm of room.
    tire = 'designation = "LT235/85R16"\nsize_from = "measured"\noverall_diameter = "806 mm ± 2 mm"\ngrowth = "1 %"'
    opened = truck(tmp_path, tire, at="0 0 440")
    assert clearance(opened).low == pytest.approx(0.03196, abs=6e-4)
    assert answer(opened) == "clear"


NARROW = 'section_width = "180 mm exact"\noverall_diameter = "800 mm exact"\nconstruction = "radial"\n'


def test_a_rim_that_is_wider_than_its_tire_is_kept_clear_of_a_tie_rod_with_what_is_clipped_to_it(tmp_path):
    # 7 in between the beads and half an inch of flange to each side: 101.6 mm from the middle, where the tire ends at
    # 90, or grown at 91.8. The point at 111.6, 200 mm from the axle and below the flange's tip at 220.1, is 19.8 mm
    # from the tire, which would keep its 15 mm; but it is 10 mm from the rim, and with weights of 10 mm it is touched.
    opened = truck(tmp_path, NARROW, 'flange_height = "17.3 mm"', at="0 -111.6 200", rides="axle")
    assert clearance(opened).low == pytest.approx(0.0, abs=6e-4)
    assert clearance(opened).high == pytest.approx(0.010, abs=1e-4)
    assert answer(opened) == "raised"


def test_a_flange_that_nobody_measured_may_be_a_high_one(tmp_path):
    # The same rim without weights, and a point 230 mm from the axle, 10 mm out of it. Flanges of 28 mm would have their
    # tips at 202.8 + 28 = 230.8 mm and stand beside it; with 12 mm it looks past them at the tire, further in.
    opened = truck(tmp_path, NARROW, at="0 -111.6 230", more='[assumptions]\nweight_reach = { value = "0 mm" }')
    assert clearance(opened).low == pytest.approx(0.010, abs=6e-4)
    assert clearance(opened).high > 0.011


SQUARE = 'overall_diameter = "800 mm exact"\nsection_width = "300 mm exact"\nconstruction = "radial"\n'
NEW = '[assumptions]\nradial_growth = { value = "0 %" }\nradial_width_growth = { value = "0 %" }\n'


def test_at_the_shoulder_a_tread_that_nobody_measured_may_be_square_and_flat(tmp_path):
    # At the most 0.95 of the section wide, 285 mm, dropping by 0.01 of 0.75 of it, 2.25 mm, and the highest flange.
    at = "0 -150 400"
    assumed = clearance(truck(tmp_path, SQUARE, at=at, more=NEW))
    worst = 'tread_width = "285 mm exact"\ncrown_drop = "2.25 mm exact"\n'
    entered = clearance(truck(tmp_path, SQUARE + worst, 'flange_height = "28 mm exact"', at=at, more=NEW))
    assert assumed.low == pytest.approx(entered.low, abs=6e-4)
    # And a round one has room there: a tread of 225 mm that drops by 13.5.
    round_one = 'tread_width = "225 mm exact"\ncrown_drop = "13.5 mm exact"\n'
    kind = clearance(truck(tmp_path, SQUARE + round_one, 'flange_height = "12 mm exact"', at=at, more=NEW))
    assert kind.value > entered.value + 0.010
    assert assumed.high >= kind.value


GEARS = "[drivetrain]\ntransfer = { high = 1 }\n[axles.front]\nratio = 4.1\n[axles.rear]\nratio = 4.1\n"


def gears(folder, tires):
    path = folder / "truck.toml"
    path.write_text(f"format = 2\n{GEARS}{tires}", encoding="utf-8")
    return open_project(path, TODAY)


def mismatch(opened):
    return opened.sheet.outcome(opened.spot("axle_mismatch", fitment="tall"))


def test_where_both_axles_wear_one_size_only_the_spread_of_its_pieces_sets_them_apart(tmp_path):
    found = mismatch(gears(tmp_path, '[fitments.tall.tire]\ndesignation = "LT235/85R16"\n'))
    assert (found.low, found.high) == (pytest.approx(-0.005), pytest.approx(0.005))
    two = '[fitments.tall.{}.tire]\ndesignation = "LT235/85R16"\n'
    found = mismatch(gears(tmp_path, two.format("front") + two.format("rear")))
    # Two tires of which each may be 2 % off either way.
    assert found.high >= 1.02 / 0.98 - 1


def test_two_that_were_rolled_out_each_by_itself_are_apart_by_their_own_readings_alone(tmp_path):
    rolled = '[fitments.tall.{}.tire]\nrolling_circumference = "{} mm exact"\n'
    found = mismatch(gears(tmp_path, rolled.format("front", 2430) + rolled.format("rear", 2400)))
    assert (found.low, found.high) == (pytest.approx(30 / 2400), pytest.approx(30 / 2400))


def test_two_sizes_of_two_fitments_are_off_each_by_itself_even_where_they_read_alike(tmp_path):
    one = '[fitments.{}.tire]\ndesignation = "LT235/85R16"\n'
    opened = gears(tmp_path, one.format("found") + one.format("tall"))
    feels = opened.sheet.outcome(opened.spot("effective_axle_ratio", fitment="tall", axle="rear"))
    assert feels.high >= 4.1 * 1.02 / 0.98 * (1 - 1e-9)


def test_a_grown_tire_is_no_larger_for_load_gearing_and_speedometer(tmp_path):
    tire = '[fitments.tall.tire]\ndesignation = "LT235/85R16"\noverall_diameter = "800 mm exact"\n'
    opened = gears(tmp_path, tire)
    grown = opened.sheet.outcome(opened.spot("grown_diameter", fitment="tall", axle="rear"))
    # 2 % of the 394 mm over 406 mm of rim.
    assert (grown.low, grown.high) == (pytest.approx(0.8), pytest.approx(0.80788))
    for node in ("rolling_circumference", "static_loaded_radius"):
        found = opened.sheet.outcome(opened.spot(node, fitment="tall", axle="rear"))
        assert not [share for share in found.shares if "growth" in share.spot.node]


RANGES = {
    "diameter_as_made": (0.98, 1.02), "width_as_made": (0.96, 1.04), "radial_growth": (0.0, 0.02),
    "radial_width_growth": (0.0, 0.02), "tread_share": (0.75, 0.95), "crown_share": (0.01, 0.06),
    "flange_height": (0.012, 0.028), "weight_reach": (0.0, 0.010),
}  # fmt: skip
UNITS = {"flange_height": " m exact", "weight_reach": " m exact"}
PLACES = ("0 0 440", "0 -150 400", "300 120 250", "-200 -130 330", "50 -125 215", "0 100 -120")


@pytest.mark.parametrize("at", PLACES)
def test_every_tire_that_agrees_with_what_was_entered_has_a_clearance_between_the_two_ends(tmp_path, at):
    tire = 'designation = "LT235/85R16"'
    told = clearance(truck(tmp_path, tire, at=at))
    random = Random(at)
    for draw in range(12):
        ends = {name: random.choice(pair) if draw < 8 else random.uniform(*pair) for name, pair in RANGES.items()}
        more = "[assumptions]\n" + "\n".join(
            f'{name} = {{ value = "{value:.6f}{UNITS.get(name, "")}" }}' for name, value in ends.items()
        )
        drawn = clearance(truck(tmp_path, tire, at=at, more=more))
        assert told.low - 1e-9 <= drawn.value <= told.high + 1e-9, ends
