"""What readings do to a truck: figures by the one that counts, each side swept with its own, what is said of them."""

from datetime import date
from pathlib import Path

import pytest
from plain_truck import PLAIN

from planner.plan.answers.open_project import open_project
from planner.worksheet.outcome import Known, Waiting

TODAY = date(2026, 11, 28)
# A rear axle that does not steer, all heights about the hub: the tire's radius is 400 mm, half its section 100 mm.
TRUCK = """
format = 2
[vehicle]
units = "metric"
[axles.rear]
face_to_face = "1500 mm"
[axles.rear.travel]
droop = "0 mm"
[axles.rear.fender]
axle_to_fender = "600 mm"
[fitments.found.tire]
overall_diameter = "800 mm"
section_width = "200 mm"
tread_width = "200 mm"
[fitments.found.wheel]
rim_width = "160 mm"
rim_diameter = 16
barrel_radius = "190 mm"
offset = "0 mm"
"""
BUMP = "axles.rear.travel.bump"


def stone(side: str, name: str = "stone") -> str:
    """A point 500 mm above the hub: 100 mm above the tread."""
    return (
        f'[[obstacles]]\nname = "{name}"\naxle = "rear"\nside = "{side}"\nmoves_with = "body"\n'
        'at = ["0 mm", "0 mm", "500 mm"]\n'
    )


def reading(value: str, side: str = "", of: str = BUMP) -> str:
    return f'[[readings]]\nof = "{of}"\nvalue = "{value}"\nby = "owner"\n' + (f'side = "{side}"\n' if side else "")


@pytest.fixture
def truck(tmp_path: Path):
    def make(more: str, bump: str = ""):
        text = TRUCK + PLAIN + more
        if "axles.rear.travel.droop" in more:
            text = text.replace('droop = "0 mm"\n', "", 1)
        if bump:
            text = text.replace("[axles.rear.travel]", f'[axles.rear.travel]\nbump = "{bump}"')
        path = tmp_path / "truck.toml"
        path.write_text(text, encoding="utf-8")
        return open_project(path, TODAY)

    return make


def clearance(opened, name: str = "stone"):
    return opened.sheet.outcome(opened.spot("least_clearance", fitment="found", obstacle=name))


def place(opened, name: str = "stone") -> str:
    return opened.sheet.value(opened.spot("clearance_place", fitment="found", obstacle=name))


def every_outcome(opened):
    return {
        step.spot: opened.sheet.outcome(step.spot) for step in opened.sheet.layout.steps if step.spot in opened.sheet
    }


def test_a_reading_equal_to_the_entry_moves_no_figure_not_by_a_bit(truck):
    alone = every_outcome(truck(stone("both"), bump="60 mm ± 2 mm"))
    read = every_outcome(truck(stone("both") + reading("60 mm ± 2 mm"), bump="60 mm ± 2 mm"))
    sides = reading("60 mm ± 2 mm", "left") + reading("60 mm ± 2 mm", "right")
    assert read == alone
    assert every_outcome(truck(stone("both") + sides, bump="60 mm ± 2 mm")) == alone
    assert every_outcome(truck(stone("both") + sides)) == alone


def test_the_reading_that_counts_gives_the_figures_of_a_file_that_holds_it(truck):
    chosen = reading("40 mm ± 1 mm") + reading("60 mm ± 2 mm") + f'[which_counts]\n"{BUMP}" = 2\n'
    assert every_outcome(truck(stone("both") + chosen)) == every_outcome(truck(stone("both"), bump="60 mm ± 2 mm"))


# Up by b at both ends leaves 100 - b. Crossed, the other end held at no droop, the axle rolls about its middle by
# sin φ = b/1500: 60 mm leave 39.624 mm and 20 mm leave 500 cos φ − 750 sin φ − 20 ... worked out below.
def crossed(bump: float) -> float:
    """The room that is left crossed, by hand: the hub up by half the travel, the point turned by φ about the middle."""
    from math import cos, sqrt

    sine = bump / 1500
    cosine = sqrt(1 - sine**2)
    assert cosine == pytest.approx(cos(sine), abs=1e-6)
    return (500 - bump / 2) * cosine - 750 * sine - 400


APART = reading("20 mm ± 1 mm", "left") + reading("60 mm ± 1 mm", "right")


def test_each_side_is_swept_with_its_own_reading_and_the_worst_is_told_with_its_side(truck):
    opened = truck(stone("both") + APART)
    assert isinstance(clearance(opened), Known)
    assert clearance(opened).value * 1000 == pytest.approx(crossed(60), abs=0.15)
    assert place(opened).startswith("right rear, this wheel up 60.0 mm")


def test_an_obstacle_of_one_side_is_swept_with_that_sides_reading_alone(truck):
    opened = truck(stone("left") + stone("right", "pin") + APART)
    assert clearance(opened).value * 1000 == pytest.approx(crossed(20), abs=0.15)
    assert clearance(opened, "pin").value * 1000 == pytest.approx(crossed(60), abs=0.15)
    assert place(opened).startswith("left rear") and place(opened, "pin").startswith("right rear")


def test_clear_on_both_sides_is_as_sure_as_the_worse_of_them(truck):
    """Would be false with the middle of both sides, or with the first: a truck whose right spring gives more."""
    opened = truck(stone("both") + APART)
    alone = truck(stone("both"), bump="60 mm ± 1 mm")
    assert clearance(opened).low == pytest.approx(clearance(alone).low, abs=5e-4)  # as closely as it is proven
    assert clearance(opened).value == pytest.approx(clearance(alone).value, abs=1e-4)


def test_a_figure_that_has_no_side_takes_the_span_over_both(truck):
    opened = truck(stone("both") + APART)
    bump = opened.sheet.outcome(opened.spot("bump_travel", axle="rear"))
    assert (bump.low * 1000, bump.high * 1000) == pytest.approx((19, 61))


def test_an_axle_rolls_as_far_as_the_other_sides_own_travel_lets_it(truck):
    """Would be false with each side's travel at both ends: a truck whose right spring hangs further than the left."""
    # Left up 60, right down 60: the middle stays, sin φ = 120/1500, 500 cos φ − 750 sin φ − 400 = 38.397 mm.
    # With the left side's own droop, none, at the right end it would be 39.624 mm.
    droop = "axles.rear.travel.droop"
    more = "".join(
        reading(value, side, of)
        for side, of, value in (
            ("left", BUMP, "60 mm"),
            ("right", BUMP, "0 mm"),
            ("left", droop, "0 mm"),
            ("right", droop, "60 mm"),
        )
    )
    opened = truck(stone("left") + more)
    assert clearance(opened).value * 1000 == pytest.approx(38.397, abs=0.15)


DIAMETER = "fitments.found.rear.tire.overall_diameter"


def test_where_one_side_was_read_the_other_waits_for_its_reading_by_name(truck):
    read = reading("800 mm", "left", DIAMETER)
    opened = truck(stone("left") + stone("both", "pin") + read, bump="0 mm")
    assert clearance(opened).value * 1000 == pytest.approx(100, abs=0.15)
    waits = clearance(opened, "pin")
    assert isinstance(waits, Waiting)
    told = {spot.node for spot in opened.swept.results if "pin" in spot.place}
    assert told == {"required_clearance"}  # what was entered, and nothing of one side alone
    (need,) = {key for spot in waits.needs for key in opened.keys_needed(spot)}
    assert opened.spoken(need) == "found rear tire overall diameter (a reading on the right)"


def test_travel_that_was_read_on_one_side_leaves_the_other_side_of_the_axle_not_known_for_both(truck):
    opened = truck(stone("left") + reading("20 mm ± 1 mm", "left"))
    waits = clearance(opened)
    assert isinstance(waits, Waiting)
    assert {key for spot in waits.needs for key in opened.keys_needed(spot)} == {BUMP}


def test_an_obstacle_inside_the_tire_on_one_side_is_found_on_that_side(truck, tmp_path):
    """A tire that was measured larger on the right takes in a stone that the left one leaves out."""
    sides = reading("800 mm", "left", DIAMETER) + reading("1020 mm", "right", DIAMETER)
    assert not truck(stone("left") + sides + reading("0 mm")).opened.faults
    (fault,) = truck(stone("right") + sides + reading("0 mm")).opened.faults
    assert "inside the tire" in fault.message


TAKEN = f"""[[readings]]
of = "{BUMP}"
value = "60 mm ± 2 mm"
by = "owner"
on = 2026-11-14
how = "block on the axle"
tool = "steel rule"
"""


def why_page(opened, capsys, *more: str) -> str:
    from planner.__main__ import main

    main(["why", str(opened.opened.source.path), "bump_travel", *more])
    return " ".join(capsys.readouterr().out.split())


def test_a_value_without_a_reading_says_so_and_one_with_says_whose(truck, capsys):
    assert f'entered: {BUMP} = "60 mm"; no reading behind it' in why_page(truck("", bump="60 mm"), capsys)
    page = why_page(truck(TAKEN), capsys)
    assert "measured by owner, 2026-11-14, block on the axle, steel rule" in page and "no reading" not in page


def test_a_reading_that_kept_no_value_is_not_said_to_be_behind_the_entry(truck, capsys):
    """The record of a stop angle measured and then planned otherwise said that the plan had been measured."""
    old = f'[[readings]]\nof = "{BUMP}"\nby = "owner"\nhow = "block on the axle"\n'
    page = why_page(truck(old, bump="60 mm"), capsys)
    assert "measured by owner, block on the axle; the reading itself wasn't kept" in page


def test_several_readings_are_told_each_with_which_counts(truck, capsys):
    page = why_page(truck(TAKEN + reading("50 mm ± 2 mm") + f'[which_counts]\n"{BUMP}" = 1\n'), capsys)
    assert "2 readings, reading 1 counts" in page
    assert "reading 1 (counts): 60 mm ± 2 mm, by owner, 2026-11-14" in page and "reading 2: 50 mm ± 2 mm" in page


def apart_flag(opened):
    from planner.plan.revisit.plan_flags import plan_flags

    return next((one for one in plan_flags(opened, []) if one.rule.name.startswith("readings.")), None)


def test_readings_further_apart_than_they_state_are_a_caution_with_both(truck):
    flag = apart_flag(truck(reading("60 mm ± 2 mm") + reading("63 mm ± 2 mm")))
    assert flag is not None and flag.verdict.answer == "raised" and flag.rule.severity == "caution"
    assert "reading 1 says 60 mm ± 2 mm and reading 2 says 63 mm ± 2 mm" in flag.says
    # from 58 to 65 mm
    bump = truck(reading("60 mm ± 2 mm") + reading("63 mm ± 2 mm")).sheet.outcome
    opened = truck(reading("60 mm ± 2 mm") + reading("63 mm ± 2 mm"))
    assert bump(opened.spot("bump_travel", axle="rear")).low * 1000 == pytest.approx(58)


def test_readings_within_what_they_state_and_sides_that_differ_are_none(truck):
    agree = apart_flag(truck(reading("60 mm ± 2 mm") + reading("62 mm ± 2 mm")))
    assert agree is not None and agree.verdict.answer == "clear"
    sides = apart_flag(truck(APART))
    assert sides is not None and sides.verdict.answer == "clear"
    assert apart_flag(truck(reading("60 mm ± 2 mm"))) is None


def test_check_lists_what_was_read_more_than_once_and_on_request_every_reading(truck, capsys):
    from planner.__main__ import main

    opened = truck(APART + reading("600 mm ± 1 mm", of="axles.rear.fender.axle_to_fender"))
    path = str(opened.opened.source.path)
    main(["check", path, "--full"])
    page = " ".join(capsys.readouterr().out.split())
    assert "rear bump travel: 2 readings, all of them count: left 20 mm ± 1 mm, right 60 mm ± 1 mm" in page
    assert "rear axle center to fender: measured" not in page
    main(["check", path, "--readings"])
    page = " ".join(capsys.readouterr().out.split())
    assert "rear axle center to fender: measured by owner: 600 mm ± 1 mm" in page
    assert "reading 2: 60 mm ± 1 mm, right, by owner" in page
    assert "Entered without a reading" in page and "[axles.rear.travel] droop" in page


def test_check_gives_readings_as_data(truck, capsys):
    import json

    from planner.__main__ import main

    main(["check", str(truck(APART).opened.source.path), "--json"])
    data = json.loads(capsys.readouterr().out)
    (entry,) = data["readings"]
    assert entry["entry"] == BUMP and entry["which_counts"] == "all"
    assert [(one["value"], one["side"], one["by"]) for one in entry["readings"]] == [
        ("20 mm ± 1 mm", "left", "owner"),
        ("60 mm ± 1 mm", "right", "owner"),
    ]
    assert "axles.rear.travel.droop" in data["no_reading"] and BUMP not in data["no_reading"]


@pytest.mark.parametrize(("sheet", "more"), [("record", []), ("measuring", ["--all"])])
def test_the_sheets_show_an_entrys_readings(truck, tmp_path, sheet, more):
    from planner.__main__ import main

    main(["print", str(truck(APART + TAKEN).opened.source.path), sheet, "--text", "-o", str(tmp_path / "out"), *more])
    page = "".join((tmp_path / "out").read_text(encoding="utf-8").split())
    whole = "reading 1: 20 mm ± 1 mm, left", "right, by owner", "block on the axle", "steel rule"
    in_a_column = "reading 1: 20 mm ± 1", "mm, left, by owner", "3: 60 mm ± 2"  # beside what the entry is called
    for said in ("2026-11-14", *(in_a_column if sheet == "record" else whole)):
        assert "".join(said.split()) in page


def test_a_reading_chosen_by_its_number_settles_the_caution_and_the_middle_does_not(truck):
    differing = reading("60 mm ± 2 mm") + reading("63 mm ± 2 mm") + f'[which_counts]\n"{BUMP}" = '
    chosen, middle = apart_flag(truck(differing + "2\n")), apart_flag(truck(differing + '"middle"\n'))
    assert chosen is not None and chosen.verdict.answer == "clear"
    assert middle is not None and middle.verdict.answer == "raised"
    assert "The planner uses 61.5 mm ± 3.5 mm" in middle.says  # (60 + 63)/2, and 60 - 2 and 63 + 2 are 3.5 away


def test_a_reading_is_entered_by_keys_and_the_change_says_which_two_differ(truck, capsys):
    from planner.__main__ import main

    path = str(truck(reading("60 mm ± 2 mm")).opened.source.path)
    keys = [f"readings[1].of={BUMP}", "readings[1].value=63 mm ± 2 mm", "readings[1].by=neighbor"]
    main(["change", path, *keys, "--because", "measured again", "--apply"])
    page = " ".join(capsys.readouterr().out.split())
    assert "reading 1 says 60 mm ± 2 mm and reading 2 says 63 mm ± 2 mm. The planner uses 61.5 mm ± 3.5 mm" in page
    assert len(open_project(Path(path), TODAY).opened.counted["axles", "rear", "travel", "bump"].readings) == 2
    contradicting = ["axles.rear.travel.bump=50 mm ± 2 mm", "--because", "a slip of the pen", "--apply"]
    main(["change", path, *contradicting])  # one more reading, and never over the others: all count, 48 to 65 mm
    counted = open_project(Path(path), TODAY).opened.counted["axles", "rear", "travel", "bump"]
    assert (counted.value.low, counted.value.high) == pytest.approx((0.048, 0.065))
