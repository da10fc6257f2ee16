"""What stands on each kind of sheet, for a truck just begun, one well on, and small ones made for the question."""

from datetime import date
from pathlib import Path

import pytest

from planner.commands.task_data import item_data
from planner.plan.answers.basis import basis_changes
from planner.plan.answers.flagging import flags
from planner.plan.answers.open_project import open_project
from planner.plan.work.task_list import work
from planner.plan.work.task_words import about
from planner.project.facts import entrance_of
from planner.project.models.work import PrintedSheet as Record
from planner.sheets.blocks import Blanks, DrawingBlock, Heading, Hold, Paragraph, Rows, TaskBlock
from planner.sheets.kind import Asked, CannotPrint, kind_named, kinds, names
from planner.sheets.printing import made
from planner.sheets.text import text
from planner.sheets.wanted_readings import ONCE_MORE

SOUND = """
[plan]
chosen = "new"
[axles.front.studs]
count = 6
adjacent_spacing = "4 in ± 0.001 in"
skip_spacing = "6.9282 in ± 0.001 in"
skip = 2
[axles.front.hub]
pilot = "5 in ± 0.001 in"
[axles.rear.studs]
count = 6
adjacent_spacing = "4 in ± 0.001 in"
skip_spacing = "6.9282 in ± 0.001 in"
skip = 2
[axles.rear.hub]
pilot = "5 in ± 0.001 in"
[fitments.new.wheel]
rim_diameter = "16"
rim_width = "7 in"
backspace = "4 in ± 1/32 in"
bore = "5.010 in ± 0.001 in"
stud_count = 6
stud_circle = "8 in ± 0.001 in"
seat = "cone"
load_rating = "3,000 lb"
"""


def blanks(sheet):
    return [row for block in sheet.blocks if isinstance(block, Blanks) for row in block.rows]


def steps(sheet):
    return [b.step if isinstance(b, Hold) else b for b in sheet.blocks if isinstance(b, (TaskBlock, Hold))]


def test_every_kind_can_be_kept_in_the_project_file():
    assert set(names()) == set(kinds()) == {"measuring", "order", "wall", "checklist", "record", "slip", "look"}
    assert all(Record(number=1, kind=name).kind == name for name in names())


# measuring


def test_the_measuring_sheet_asks_for_what_rules_wait_for_and_for_each_once(begun, sheet):
    asked = [reading.key for row in blanks(sheet(begun, "measuring")) for reading in row.readings]
    assert len(asked) == len(set(asked))
    needed = {need for flag in flags(begun) for need in flag.needs if entrance_of(need)}
    assert needed and needed <= set(asked)
    assert "vehicle.wheelbase" not in asked, "it is known already"


def test_all_asks_for_everything_and_says_what_is_known(begun, sheet):
    some, all_ = blanks(sheet(begun, "measuring")), blanks(sheet(begun, "measuring", everything=True))
    known = {reading.key: reading.known for row in all_ for reading in row.readings}
    assert len(all_) > len(some)
    assert known["axles.front.studs.adjacent_spacing"] == "3 1/4 in ± 1/16 in"
    assert known["vehicle.wheelbase"] == "112 in ± 1/2 in"


def test_each_reading_with_a_letter_stands_behind_a_drawing_that_has_it(begun, sheet):
    drawn: set[str] = set()
    for block in sheet(begun, "measuring").blocks:
        if isinstance(block, Heading):
            drawn = set()
        if isinstance(block, DrawingBlock):
            drawn = {one.text for one in (*block.picture.dimensions, *block.picture.labels)}
        if isinstance(block, Blanks):
            assert {row.mark for row in block.rows} - {"", "E"} <= drawn


def test_a_close_call_is_measured_again_and_the_sheet_says_how_well(county, sheet):
    better = {r.key: r.better for row in blanks(sheet(county, "measuring")) for r in row.readings if r.better}
    settling = {key for flag in flags(county) for key, _ in flag.better}
    closer = {key for key, how in better.items() if how != ONCE_MORE}
    assert closer and closer <= settling | {key.replace(".at", ".to") for key in settling}
    assert {"axles.front.hub.pilot", "axles.rear.hub.pilot"} <= set(better), "an order rests on it"


def test_obstacles_are_asked_for_with_the_persons_own_way_of_measuring(truck, sheet):
    opened = truck('[[obstacles]]\nname = "spring pack"\naxle = "front"\nmeasure = "plumb line to the floor"\n')
    row = next(row for row in blanks(sheet(opened, "measuring")) if row.what == "spring pack")
    assert "plumb line to the floor" in row.how and row.parts == ("forward", "outboard", "up")
    assert "moves with" in row.how


# order


def test_an_order_that_may_go_out_carries_no_banner(truck, sheet):
    order = sheet(truck(SOUND), "order")
    stops = [
        reason for reason in order.reasons if not reason.startswith(("can't be judged yet: ", "measured only once"))
    ]
    assert stops == []


TWICE = """
[[readings]]
of = "axles.{0}.hub.pilot"
value = "5 in ± 0.001 in"
by = "owner"
[[readings]]
of = "axles.{0}.hub.pilot"
value = "{1} in ± 0.001 in"
by = "{2}"
"""


@pytest.mark.parametrize(
    ("readings", "once"),
    [
        ("", "pilot, front; pilot, rear"),
        (TWICE.format("front", 5.001, "neighbor"), "pilot, rear"),
        (TWICE.format("front", 5.001, "owner"), "pilot, front; pilot, rear"),  # the same again
        (TWICE.format("front", 5.002, "neighbor"), "pilot, front; pilot, rear"),  # they disagree
        (TWICE.format("front", 5.001, "neighbor") + TWICE.format("rear", 5.001, "neighbor"), ""),
    ],
)
def test_an_order_goes_out_when_what_it_rests_on_was_measured_twice(tmp_path, sheet, readings, once):
    text = f"format = 2\n{SOUND}"
    for axle in ("front", "rear") if readings else ():
        if f"axles.{axle}" in readings:  # what was read is the entry
            text = text.replace(f'[axles.{axle}.hub]\npilot = "5 in ± 0.001 in"\n', "")
    path = tmp_path / "truck.toml"
    path.write_text(text + readings)
    opened = open_project(path, date(2026, 11, 25))
    found = [reason for reason in sheet(opened, "order").reasons if reason.startswith("measured only once")]
    told = f"measured only once, and the wheels depend on it: {once}; measure it another way"
    assert [reason[: len(told)] for reason in found] == ([told] if once else [])


def test_a_raised_stop_makes_it_not_for_order_and_says_why(truck, sheet):
    order = sheet(truck(SOUND.replace("5.010 in", "4.900 in")), "order")
    assert order.banner == "NOT FOR ORDER"
    assert any("wheel.bore_smaller_than_pilot" in reason for reason in order.reasons)


def test_an_unknown_that_matters_makes_it_not_for_order_and_says_what_to_enter(truck, sheet):
    order = sheet(truck(SOUND.replace('bore = "5.010 in ± 0.001 in"\n', "")), "order")
    assert order.banner == "NOT FOR ORDER"
    assert any("center bore" in reason for reason in order.reasons)


def test_with_no_candidate_chosen_it_is_not_for_order(truck, sheet):
    order = sheet(truck(SOUND.replace('chosen = "new"', "") + '[fitments.other.wheel]\nrim_width = "8 in"\n'), "order")
    assert order.banner == "NOT FOR ORDER" and any("chosen set" in reason for reason in order.reasons)


STUDS = """diameter = "9/16 in"
threads_per_inch = 18
seat = "cone"
seat_angle = "60 deg"
"""


@pytest.mark.parametrize(
    ("was", "now", "key"),
    [
        ("count = 6\nadj", "count = 5\nadj", "number of front studs"),
        ('[axles.front.hub]\npilot = "5 in', '[axles.front.hub]\npilot = "5.2 in', "front hub pilot"),
        ('diameter = "9/16 in"', 'diameter = "5/8 in"', "front stud diameter"),
        ("threads_per_inch = 18", "threads_per_inch = 12", "front stud threads per inch"),
        ('seat = "cone"', 'seat = "ball"', "front nut seat"),
        ('seat_angle = "60 deg"', 'seat_angle = "90 deg"', "front nut seat angle"),
        ('skip_spacing = "6.9282 in', 'skip_spacing = "7.1 in', "bolts.stud_circle (front)"),
    ],
)
def test_an_order_is_out_of_date_when_what_it_says_of_the_hub_moves(truck, sheet, was, now, key):
    text = SOUND.replace("[axles.front.studs]\n", f"[axles.front.studs]\n{STUDS}")
    rested_on = sheet(truck(text), "order").rested_on
    assert not basis_changes(truck(text), rested_on)
    assert was in text
    assert key in {one.name for one in basis_changes(truck(text.replace(was, now, 1)), rested_on)}


def test_what_an_order_did_not_know_puts_it_out_of_date_once_it_is_entered(truck, sheet):
    unknown = SOUND.replace('[axles.rear.hub]\npilot = "5 in ± 0.001 in"\n', "").replace('seat = "cone"\n', "")
    rested_on = sheet(truck(unknown), "order").rested_on
    assert not basis_changes(truck(unknown), rested_on)
    gone = {one.name: (one.then, one.now) for one in basis_changes(truck(SOUND), rested_on)}
    assert gone["new set's wheel seat"] == ("not known", "cone")
    assert gone["rear hub pilot"][0] == "not known"
    with_front = unknown + '[fitments.new.front.wheel]\nseat = "cone"\n'
    assert "new set's front wheel seat" in {one.name for one in basis_changes(truck(with_front), rested_on)}


def test_the_general_tolerances_of_an_order_stand_in_the_persons_units_first(truck, sheet):
    def says(units):
        made = sheet(truck(f'[vehicle]\nunits = "{units}"\n{SOUND}'), "order")
        return next(b.text for b in made.blocks if isinstance(b, Paragraph) and "tolerance of its own" in b.text)

    assert "lengths ± 1/32 in (0.8 mm)" in says("inch") and "no more than 0.030 in (0.75 mm)" in says("inch")
    assert "lengths ± 0.8 mm (1/32 in)" in says("metric") and "no more than 0.75 mm (0.030 in)" in says("metric")
    assert "the bore + 0.25 mm (0.010 in) and nothing under" in says("metric")


# 1000 lb on each tire as weighed and 1500 laden, of 2000 at 40 psi: by the square a quarter and nine sixteenths of it
LOADED = """
[plan]
chosen = "new"
[assumptions.pressure_exponent]
value = "0.5 exact"
[axles.front]
load = "2,000 lb exact"
rating = "3,000 lb"
tires = 2
[fitments.found.tire]
mass = "50 lb exact"
[fitments.found.wheel]
mass = "40 lb exact"
[fitments.new.tire]
load_capacity = "2,000 lb"
rated_pressure = "40 psi"
least_pressure = "5 psi"
passenger = "no"
mass = "50 lb"
[fitments.new.wheel]
mass = "40 lb"
greatest_pressure = "36 psi"
"""


@pytest.fixture
def loaded(tmp_path):
    def write(text):
        path = tmp_path / "truck.toml"
        path.write_text(f"format = 2\n{text}", encoding="utf-8")
        return open_project(path, date(2026, 11, 25))

    return write


def ordered(made_sheet):
    return dict(row[:2] for block in made_sheet.blocks if isinstance(block, Rows) for row in block.rows)


def test_every_sheet_that_shows_a_pressure_shows_it_as_weighed_and_laden(loaded, sheet):
    order = ordered(sheet(loaded(LOADED), "order"))
    assert order["tire's cold pressure, truck as weighed"] == "10.0 psi"
    assert order["tire's cold pressure, truck fully loaded"] == "22.5 psi"
    assert order["load on each wheel, fully loaded"] == "up to 1500 lb"
    ticks = [tick for step in steps(sheet(loaded(LOADED), "checklist")) for tick in step.ticks if tick.where == "front"]
    ranges = {tick.record: tick.range for tick in ticks if tick.record.startswith("cold pressure")}
    assert ranges == {
        "cold pressure": "10.0 psi to 36.0 psi",
        "cold pressure, truck fully loaded": "22.5 psi to 36.0 psi",
    }


def test_what_the_wheel_must_carry_is_told_at_its_most(loaded, sheet):
    order = ordered(sheet(loaded(LOADED.replace('load = "2,000 lb exact"', 'load = "2,000 lb ± 21 lb"')), "order"))
    assert order["load on each wheel, as weighed"] == "up to 1011 lb"  # 1010.5


def test_a_truck_without_a_candidate_has_no_wheel_to_order(truck, sheet):
    with pytest.raises(CannotPrint, match="candidate"):
        sheet(truck(""), "order")


# checklist


def test_the_checklist_has_every_task_of_the_list_with_a_box(county, sheet):
    boxes = [tick for step in steps(sheet(county, "checklist")) for tick in step.ticks]
    assert len(boxes) == len(work(county).items)


def test_hold_points_are_bars_and_nothing_else_is(county, sheet):
    holds = [block.step.title for block in sheet(county, "checklist").blocks if isinstance(block, Hold)]
    assert holds == [one.title for one in work(county).items.values() if one.hold]


def test_a_phase_and_only_what_is_open_can_be_asked_for(county, sheet):
    fit = sheet(county, "checklist", phase="fit")
    items = [one for one in work(county).items.values() if one.phase == "fit"]
    assert [b.text.split(":")[0] for b in fit.blocks if isinstance(b, Heading)] == ["Fit"]
    assert sum(len(step.ticks) for step in steps(fit)) == len(items)
    left = steps(sheet(county, "checklist", open_only=True))
    assert all(not step.closed for step in left)
    with pytest.raises(CannotPrint, match="phase"):
        sheet(county, "checklist", phase="paint")


def test_torque_range_and_caution_stand_with_their_task(county, sheet):
    wheels = next(step for step in steps(sheet(county, "checklist")) if step.title.startswith("Put the wheels on"))
    assert [tick.where for tick in wheels.ticks] == ["front", "rear"]
    assert all(tick.torque.startswith("110") for tick in wheels.ticks), "ft·lb, as entered"
    assert wheels.caution and wheels.how


@pytest.mark.parametrize("name", ["checklist", "measuring", "record"])
def test_a_raised_stop_stands_across_the_head(truck, sheet, name):
    assert sheet(truck(SOUND.replace("5.010 in", "4.900 in")), name).banner == "STOP RAISED"
    assert sheet(truck('[vehicle]\nwheelbase = "100 in"\n'), name).banner == ""


def test_the_checklist_rests_on_its_torques_and_ranges(county, sheet):
    kept = sheet(county, "checklist").rested_on
    assert "axles.front.studs.torque" in kept and kept["axles.front.studs.torque"] == "110 ft·lb"


@pytest.mark.parametrize(
    ("own", "says"),
    [
        ("120 ft·lb", "120 ft·lb, as you set it for this task; the worksheet has 110 lbf·ft"),
        ("1320 in·lb", "1320 in·lb"),  # twelve times 110: the same
    ],
)
def test_a_torque_of_ones_own_reads_alike_on_the_checklist_and_in_the_list(truck, sheet, own, says):
    more = f"""
[axles.front.studs]
torque = "110 ft·lb"
[[tasks]]
id = "fit.wheels.front"
torque = "{own}"
"""
    opened = truck(more)
    printed = [tick.torque for step in steps(sheet(opened, "checklist")) for tick in step.ticks if tick.torque]
    listed = work(opened)
    one = listed.items["fit.wheels.front"]
    assert says in printed
    assert dict(about(opened, listed, one))["torque"] == says
    assert item_data(opened, listed, one)["torque"] == says


# record


def test_the_record_has_a_formula_values_and_a_ground_for_every_figure_with_a_value(county, sheet):
    from planner.plan.truck.pairs import asked_there
    from planner.worksheet.explain import formula
    from planner.worksheet.outcome import Known

    said = text(sheet(county, "record"))
    flat = "".join(said.split())
    for node, declared in county.sheet.catalog.figures.items():
        spots = [s for s in county.sheet.spots(node) if s.place[0] in ("", "found", "tall")]
        if any(isinstance(county.sheet.outcome(s), Known) and asked_there(county, s) for s in spots):
            assert "".join(f"{declared.name}: {declared.means}".split()) in flat, node
            assert "".join(formula(declared).split()) in flat, node
            assert "".join(f"Ground: {declared.ground}".split()) in flat, node


def test_the_values_put_in_are_those_of_the_formula(county, sheet):
    tables = [b for b in sheet(county, "record").blocks if isinstance(b, Rows)]
    rows = [row for table in tables if table.heads[1] == "values put in" for row in table.rows]
    # offset = backspace − rim width / 2 − flange: 4 3/4 − 9 / 2 − 1/2 = −1/4
    assert any("4.75 in − 9.00 in / 2 − 0.500 in" in put_in and "-1/4 in" in result for _, put_in, result in rows)


def test_decisions_acceptances_and_every_entry_are_in_the_record(county, sheet):
    said = " ".join(text(sheet(county, "record")).split())
    project = county.project
    for decision in project.decisions:
        assert decision.question in said
    assert "rested on front axle ratio = 5.22; rear axle ratio = 5.22; cruise speed = 50 mph" in said
    assert "ACCEPTED" in said
    tables = [block for block in sheet(county, "record").blocks if isinstance(block, Rows)]
    facts = [row for table in tables if table.heads[1] == "as written" for row in table.rows]
    for spot, key in county.keys.items():
        if key[0] in ("vehicle", "axles") and key[-1] != "gear_sets":
            as_entered = str(getattr(county.sheet.given(spot), "text", county.sheet.given(spot)))
            as_entered = {"True": "yes", "False": "no"}.get(as_entered, as_entered)
            assert any(f"({'.'.join(key)})" in what and as_entered == written for what, written, _ in facts), key


BOUGHT = """
[[parts]]
id = "wheels"
quantity = 5
state = "ordered"
used_for = ["new"]
[[parts.quotes]]
from = "wheel shop"
price = 285
lead_time = "9 weeks"
taken = true
[[parts.payments]]
amount = 400

[[wheels]]
mark = "W3"
position = "rear left"
backspace = "4 3/32 in ± 1/64 in"
"""


def test_quotes_payments_and_every_wheel_that_came_are_in_the_record(tmp_path, sheet):
    path = tmp_path / "truck.toml"
    path.write_text(f"format = 2\n{SOUND}{BOUGHT}")
    said = " ".join(text(sheet(open_project(path, date(2026, 11, 25)), "record")).split())
    assert "quotes: wheel shop 285, 9 weeks (TAKEN)" in said and "paid 400, 1,025 still to pay" in said
    assert "still to pay" in said and "paid so far" in said
    assert "W3" in said and "backspace 4 3/32 in ± 1/64 in" in said and "outside" in said


def test_an_empty_project_has_nothing_to_record(truck, sheet):
    with pytest.raises(CannotPrint, match="nothing is entered"):
        sheet(truck(""), "record")


# all


@pytest.mark.parametrize("name", ["measuring", "wall", "checklist"])
def test_an_empty_project_can_be_measured_and_begun(truck, sheet, name):
    assert sheet(truck(""), name).blocks


def test_the_same_project_on_the_same_day_gives_the_same_sheet(county, sheet):
    for name in ("measuring", "order", "checklist", "record"):
        assert made(county, kind_named(name), Asked(), date(2026, 11, 25), 7) == sheet(county, name)


def test_a_drawing_of_where_the_tape_goes_has_the_letters_of_what_is_wanted_and_no_others(county, sheet):
    made = sheet(county, "measuring")
    blocks = list(made.blocks)
    for at, block in enumerate(blocks):
        if isinstance(block, DrawingBlock) and isinstance(blocks[at + 1], Blanks):
            listed = {row.mark for row in blocks[at + 1].rows} - {""}
            drawn = {one.text for one in (*block.picture.dimensions, *block.picture.labels) if len(one.text) == 1}
            assert drawn <= listed


def test_the_measuring_sheet_rests_on_the_readings_that_it_wants_better(county, sheet):
    assert sheet(county, "measuring").rested_on["axles.front.travel.bump"] == "3 in ± 1/4 in"


def test_a_formula_with_a_written_form_has_its_values_by_name_and_none_of_our_own_words(county, sheet):
    tables = [block for block in sheet(county, "record").blocks if isinstance(block, Rows)]
    put_in = [row[1] for block in tables if block.heads[1] == "values put in" for row in block.rows]
    assert len(put_in) > 100
    assert not [text for text in put_in if "_" in text.split("entered:")[0]]
    assert not [text for text in put_in if "chord share(" in text or "standard circles(" in text]


def test_an_order_says_that_the_brake_of_one_axle_is_not_measured_and_what_else_is_not_known_there(truck, sheet):
    made = sheet(truck(f'[vehicle]\nunits = "inch"\n{SOUND}\n[axles.front.brake]\nradius = "6 in"\n'), "order")
    differ = next(block for block in made.blocks if isinstance(block, Rows) and block.heads[1:] == ("front", "rear"))
    assert ("brake's largest radius", "6 in (152.4 mm)", "NOT KNOWN") in differ.rows
    sections = [
        block.picture for block in made.blocks if isinstance(block, DrawingBlock) and "section" in block.picture.title
    ]
    told = ["NOBODY HAS MEASURED THE BRAKE" in {one.text for one in each.labels} for each in sections]
    assert told == [False, True]


COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
MOCKED = """
[[readings]]
of = "tie rod end"
fitment = "tall"
side = "left"
value = "1 in ± 1/16 in"
by = "neighbor"
"""


def test_the_sheet_of_the_mock_up_has_a_blank_for_each_gap_beside_what_is_predicted(county, sheet):
    tables = [one for one in sheet(county, "checklist", phase="mock up").blocks if isinstance(one, Rows)]
    brakes, rows = (one.rows for one in tables)
    assert [row[0] for row in brakes] == ["front brake, through a full turn", "rear brake, through a full turn"]
    assert all("in to" in row[1] and row[2:] == ("________", "________") for row in brakes)
    assert len(rows) == len(county.obstacles)
    outcome = county.sheet.outcome(county.spot("least_clearance", fitment="tall", obstacle="exhaust pipe"))
    (pipe,) = (row for row in rows if row[0].endswith("to exhaust pipe"))
    assert pipe[1].startswith(f"{outcome.value / 0.0254:.2f} in (") and pipe[2:] == ("2.00 in", "", "________")
    assert not [one for one in sheet(county, "checklist").blocks if isinstance(one, Rows)]


def test_the_record_shows_what_was_measured_at_the_mock_up_beside_what_was_predicted(tmp_path, sheet):
    path = tmp_path / "truck.toml"
    path.write_text(COUNTY.read_text(encoding="utf-8") + MOCKED, encoding="utf-8")
    blocks = sheet(open_project(path, date(2026, 11, 25)), "record").blocks
    ((what, says),) = next(one for one in blocks if isinstance(one, Rows) and "predicted" in one.heads[0]).rows
    assert what.startswith("tall: tie rod end: left: measured 1 in ± 1/16 in") and "predicted 1.41 in" in what
    assert "by neighbor" in what and says.startswith("they differ")
