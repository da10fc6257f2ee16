"""What comes again after the build: due by day and by odometer, whichever comes first, and never clear unless told."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from calling import call
from work_truck import listed, opened, replace, ticked

from planner.plan.answers.flagging import flags
from planner.plan.change.task_recordings import make_recording
from planner.plan.change.ticking_again import enter_odometer
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.inspections import months_after
from planner.plan.work.task_words import how_far

DRIVEN = date(2026, 3, 31)

TRUCK = """\
format = 2
[vehicle]
name = "Ridge truck"
odometer = "52,000 mi"
odometer_on = 2026-03-31
[fitments.tall.wheel]
backspace = "5 in ± 1/16 in"
[plan]
chosen = "tall"
[[tasks]]
id = "road.qualified"
state = "done"
on = 2026-03-31
odometer = "52,000 mi"
"""
TIRES, BEARINGS, NUTS = "use.tires.front", "use.bearings.front", "use.nuts.front"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def due(path: Path, id_: str, day: date):
    return listed(path, day).items[id_].due


def shows(path: Path, miles: int, on: date) -> None:
    project = opened(path, on)
    make_recording(project, enter_odometer(project, f"{miles}", on))


def overdue(path: Path, day: date):
    project = opened(path, day)
    found = [one for one in all_flags(project, flags(project)) if one.rule.node == "inspection_overdue"]
    return {one.verdict.answer: one for one in found}


def test_they_come_up_once_the_truck_is_on_the_road(path):
    assert TIRES in listed(path, DRIVEN).items
    replace(path, 'state = "done"', 'state = "open"')
    assert TIRES not in listed(path, DRIVEN).items and not overdue(path, DRIVEN)


def test_a_day_is_a_month_later_or_the_last_of_a_shorter_month():
    assert months_after(date(2026, 1, 31), 1) == date(2026, 2, 28)
    assert months_after(date(2023, 11, 30), 3) == date(2024, 2, 29)
    assert months_after(date(2026, 12, 1), 12) == date(2027, 12, 1)


@pytest.mark.parametrize(
    ("miles", "day", "answer"),
    [
        (53_000, date(2026, 4, 30), "not yet"),  # 1,000 mi and a month to the day: neither is past
        (53_001, date(2026, 4, 30), "overdue"),
        (52_100, date(2026, 5, 1), "overdue"),
    ],
)
def test_tires_are_due_after_a_thousand_miles_or_a_month_whichever_comes_first(path, miles, day, answer):
    shows(path, miles, day)
    told = due(path, TIRES, day)
    assert told.answer == answer and told.day == date(2026, 4, 30) and told.at == pytest.approx(53_000 * 1609.344)
    assert ("raised" in overdue(path, day)) or answer == "not yet"


def test_the_first_look_at_new_set_bearings_comes_sooner_than_those_after_it(path):
    assert due(path, BEARINGS, DRIVEN).at == pytest.approx(52_500 * 1609.344)
    ticked(path, BEARINGS, "0.003 in", date(2026, 4, 10), odometer="52,480 mi")
    told = due(path, BEARINGS, date(2026, 4, 10))
    assert told.at == pytest.approx(64_480 * 1609.344) and told.day == date(2027, 4, 10)


def test_the_nuts_are_torqued_once_after_fifty_miles_and_then_no_more_on_that_line(path):
    shows(path, 52_051, date(2026, 4, 2))
    assert due(path, "again.torque_50.front", date(2026, 4, 2)).answer == "overdue"
    ticked(path, "again.torque_50.front", "120 ft·lb", date(2026, 4, 2), because="no torque known", anyway=True)
    one = listed(path, date(2026, 9, 2)).items["again.torque_50.front"]
    assert one.due is None


# what nobody can say is not known, and never that nothing is due


@pytest.mark.parametrize(
    ("old", "new", "day", "why"),
    [
        ('"52,000 mi"\nodometer_on = 2026-03-31', '"51,000 mi"', date(2026, 5, 2), "last read on 2026-03-31"),
        ('"52,000 mi"\nodometer_on = 2026-03-31', '"52,100 mi"', DRIVEN, "nobody says when"),
        (
            "odometer_on = 2026-03-31",
            "odometer_on = 2026-05-05",
            date(2026, 4, 2),
            "on 2026-05-05, which is in the future",
        ),
        ('on = 2026-03-31\nodometer = "52,000 mi"', "on = 2026-03-31", DRIVEN, "was not written down the last time"),
        ('"done"\non = 2026-03-31', '"done"', DRIVEN, "when it was last done"),
        ('"done"\non = 2026-03-31', '"done"\non = 2027-03-31', DRIVEN, "2027-03-31, which is in the future"),
    ],
)
def test_without_day_or_odometer_it_is_not_known(path, old, new, day, why):
    replace(path, old, new)
    told = due(path, NUTS, day)
    assert told.answer == "not known" and why in told.says
    (answer,) = overdue(path, day)
    assert answer == "not known" or "not known without" in overdue(path, day)["raised"].says


def test_an_odometer_that_shows_less_than_before_tells_nothing(path):
    shows(path, 40, date(2026, 4, 1))
    told = due(path, NUTS, date(2026, 4, 1))
    assert told.answer == "not known" and "rolled over, or was changed" in told.says


def test_without_any_odometer_reading_it_is_asked_for(path):
    text = path.read_text("utf-8").replace('odometer = "52,000 mi"\n', "").replace("odometer_on = 2026-03-31\n", "")
    path.write_text(text, "utf-8")
    assert "no odometer reading is entered" in due(path, NUTS, DRIVEN).says
    assert overdue(path, DRIVEN)["not known"].needs == ("vehicle.odometer",)


def test_a_reading_says_no_more_that_a_distance_is_not_past_once_the_truck_may_have_driven_it(path):
    """Nuts are due 3,000 mi on, so 30 days at 100 mi a day; the first retorque after 50 mi, less than a day."""
    assert due(path, NUTS, DRIVEN + timedelta(days=30)).answer == "not yet"
    assert due(path, NUTS, DRIVEN + timedelta(days=31)).answer == "not known"
    first = "again.torque_50.front"
    assert due(path, first, DRIVEN).answer == "not yet"
    assert due(path, first, DRIVEN + timedelta(days=1)).answer == "not known"
    ticked(path, BEARINGS, "0.003 in", DRIVEN, odometer="52,000 mi")  # 12,000 mi to go: a month all the same
    assert due(path, BEARINGS, DRIVEN + timedelta(days=31)).answer == "not yet"
    assert due(path, BEARINGS, DRIVEN + timedelta(days=32)).answer == "not known"


def test_past_its_day_it_is_overdue_whatever_nobody_knows_of_the_odometer(path):
    replace(path, 'odometer = "52,000 mi"\nodometer_on = 2026-03-31\n', "")
    assert due(path, TIRES, date(2026, 5, 1)).answer == "overdue"


def test_larger_tires_on_an_old_odometer_make_it_due_at_fewer_miles_shown(path):
    with path.open("a", encoding="utf-8") as file:
        file.write('[fitments.found.tire]\nrolling_circumference = "2500 mm ± 0 mm"\n')
        file.write('[fitments.tall.tire]\nrolling_circumference = "2750 mm ± 0 mm"\n')
    # 3,000 mi of road are 3,000 / 1.1 = 2,727 on an odometer that counts turns of the smaller tire.
    assert due(path, NUTS, DRIVEN).at == pytest.approx((52_000 + 3_000 / 1.1) * 1609.344, rel=1e-6)


# ticking


def test_each_time_is_kept_and_the_next_comes_up(path):
    ticked(path, TIRES, "9/32 in", date(2026, 4, 20), odometer="52,700", note="even")
    ticked(path, TIRES, "8/32 in", date(2026, 5, 20), odometer="53,500 mi")
    record = next(one for one in opened(path).project.tasks if one.id == TIRES)
    assert (record.recorded, record.on, record.odometer.text, record.note) == (
        "8/32 in", date(2026, 5, 20), "53,500 mi", None,
    )  # fmt: skip
    (first,) = record.earlier
    assert (first.recorded, first.on, first.odometer.text, first.note) == (
        "9/32 in", date(2026, 4, 20), "52,700 mi", "even",
    )  # fmt: skip
    told = due(path, TIRES, date(2026, 5, 20))
    assert told.answer == "not yet" and told.day == date(2026, 6, 20)
    assert listed(path, date(2026, 5, 20)).items[TIRES].state == "done"


def test_a_tick_enters_the_odometer_but_never_an_older_reading(path):
    ticked(path, TIRES, "9/32 in", date(2026, 4, 20), odometer="52,700 mi")
    assert opened(path).project.vehicle.odometer.text == "52,700 mi"
    ticked(path, "use.tires.rear", "9/32 in", date(2026, 4, 10), odometer="52,300 mi")
    assert opened(path).project.vehicle.odometer_on == date(2026, 4, 20)


def test_on_the_road_no_hold_point_keeps_anybody_from_looking_at_a_wheel(path):
    one = listed(path, date(2026, 5, 1)).items[TIRES]
    assert one.state == "look again" and "OVERDUE" in one.why and not one.waits and not one.holds


def test_worn_tread_is_out_of_range(path):
    with pytest.raises(RefusedChange, match="is outside the range"):
        ticked(path, TIRES, "1/32 in", date(2026, 4, 20))


def test_what_is_no_distance_is_refused(path):
    with pytest.raises(RefusedChange, match="odometer: read 'far'; accepted: a distance"):
        ticked(path, TIRES, "9/32 in", date(2026, 4, 20), odometer="far")


def test_times_that_run_backward_are_a_fault(path):
    with path.open("a", encoding="utf-8") as file:
        file.write('[[tasks]]\nid = "use.tires.front"\nstate = "done"\non = 2026-05-01\n')
        file.write("[[tasks.earlier]]\non = 2026-06-01\n")
    project = opened(path)
    assert any("not before the time before it" in str(fault.accepted) for fault in project.opened.faults)


@pytest.mark.parametrize(("kind", "id_"), [("spacer or adapter", "use.spacers"), ("lift", "use.lift")])
def test_spacers_and_lifts_are_looked_at_where_there_are_any(path, kind, id_):
    assert id_ not in listed(path, DRIVEN).items
    text = path.read_text("utf-8")
    path.write_text(f'{text}[[changes]]\nname = "x"\nkind = "{kind}"\nstate = "done"\n', "utf-8")
    assert listed(path, DRIVEN).items[id_].due is not None


def test_a_task_of_ones_own_comes_again_and_an_interval_can_be_set_otherwise(path, capsys):
    code, _, _ = call(capsys, "task", path, "add", "grease the shafts", "--every", "2,000 mi", "--months", "3")
    assert code == 0
    told = due(path, "own.grease_the_shafts", DRIVEN)
    assert told.day == date(2026, 6, 30) and told.at == pytest.approx(54_000 * 1609.344)
    with path.open("a", encoding="utf-8") as file:
        file.write('[[tasks]]\nid = "use.tires.front"\nevery_distance = "500 mi"\nevery_months = 2\n')
    told = due(path, TIRES, DRIVEN)
    assert told.day == date(2026, 5, 31) and told.at == pytest.approx(52_500 * 1609.344)


def test_what_comes_again_is_no_part_of_the_build_and_never_ends_it(path):
    plain = listed(path, DRIVEN)
    assert TIRES not in plain.dates.ahead.times and TIRES in plain.items


# told


def test_one_that_comes_again_is_told_as_one(path):
    listed_ = listed(path, DRIVEN)
    one = listed_._replace(items={TIRES: listed_.items[TIRES]})
    assert "1 inspection that comes again" in how_far(opened(path), one)


def test_list_wall_and_record_tell_it(path, capsys):
    call(capsys, "task", path, "odometer", "58,000")
    _, page, _ = call(capsys, "task", path)
    assert "inspections that come again" in " ".join(page.split()) and "OVERDUE" in page
    ticked(path, TIRES, "9/32 in", odometer="58,010 mi", today=date.today())
    ticked(path, TIRES, "8/32 in", odometer="58,020 mi", today=date.today())
    _, wall, _ = call(capsys, "print", path, "checklist", "--text", "--phase", "check again")
    assert "at 59,020 mi, whichever comes first" in " ".join(wall.split())
    _, record, _ = call(capsys, "print", path, "record", "--text")
    assert "58,010 mi: 9/32 in" in " ".join(record.split())
