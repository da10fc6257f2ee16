"""`planner import`: each row held against what is there, all made in one step, nothing of a table with a bad row."""

import json
from datetime import date
from pathlib import Path

import pytest
import tomli_w
from calling import call
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.plan.answers.open_project import open_project, work_out
from planner.plan.change.importing import held_table
from planner.plan.truck.reading_rows import ReadingRow, reading_rows
from planner.project.csv_tables import csv_bytes
from planner.project.diary_reading import diary_path, read_diary
from planner.project.reading import understand
from planner.project.source import parse

PROJECTS = Path(__file__).parents[2] / "projects"

TRUCK = """\
format = 2

[vehicle]
name = "Unit 9" # ours
wheelbase = "118 in ± 1/4 in"

[axles.front.hub]
pilot = "5.122 in ± 0.003 in"

[axles.rear]
rating = "4,000 lb"

[drivetrain.speedometer]
driven_teeth = 18

[[obstacles]]
name = "spring pack"
axle = "front"
moves_with = "axle"
at = ["2 in ± 1/8 in", "-7 in ± 1/8 in", "6 in ± 1/8 in"]

[[readings]]
of = "vehicle.wheelbase"
by = "owner"
on = 2026-04-11
how = "tape"
"""
OLD = "5.122 in ± 0.003 in"


@pytest.fixture
def truck(tmp_path) -> Path:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def table(truck: Path, *rows: str, head: str = "entry,value,side,by,on,how") -> Path:
    path = truck.with_name("readings.csv")
    path.write_text("\n".join((head, *rows, "")), encoding="utf-8")
    return path


def outcomes(capsys, truck: Path, *rows: str, **more: str) -> list[tuple[str, str]]:
    """What each row is told to be, and what it was held against; nothing is written."""
    before = truck.read_bytes()
    code, out, err = call(capsys, "import", truck, table(truck, *rows, **more), "--json")
    assert code in (0, 1) and not err and truck.read_bytes() == before, err
    return [(one["outcome"], one["against"] or "") for one in json.loads(out)["readings"]]


def made(capsys, truck: Path, *rows: str, **more: str) -> list[dict]:
    """The readings in the file once the rows are made."""
    code, _, err = call(capsys, "import", truck, table(truck, *rows, **more), "--apply")
    assert code in (0, 1), err
    return open_project(truck).opened.source.data.get("readings", [])


def bad(capsys, truck: Path, *rows: str, **more: str) -> list[str]:
    before = truck.read_bytes()
    code, out, err = call(capsys, "import", truck, table(truck, *rows, **more), "--apply")
    assert (code, out) == (2, "") and truck.read_bytes() == before and not diary_path(truck).exists()
    return [line.partition("readings.csv:")[2] for line in err.splitlines()]


@pytest.mark.parametrize("path", sorted(PROJECTS.glob("*.toml")), ids=lambda path: path.stem)
def test_what_was_exported_and_not_touched_is_nothing_new(path):
    opened = open_project(path)
    rows = list(reading_rows(opened))
    held = held_table(opened, Path("r.csv"), csv_bytes(ReadingRow._fields, rows))
    assert len(held.rows) == len(rows) > 0
    assert not held.changes and {one.outcome for one in held.rows} == {"same"}


SAID = st.text(min_size=1, max_size=12).filter(str.strip) | st.text(alphabet="=+-@'; ,\"a1", min_size=1, max_size=8)
LENGTHS = st.integers(1, 400).map(lambda n: f"{n}/16 in") | st.integers(1, 900).map(lambda n: f"{n} mm ± 1.5 mm")
READINGS = st.lists(
    st.fixed_dictionaries(
        {
            "of": st.sampled_from(["axles.front.hub.pilot", "axles.rear.brake.radius", "vehicle.wheelbase"]),
            "value": LENGTHS,
        },
        optional={
            "side": st.sampled_from(["left", "right"]), "by": SAID, "how": SAID, "tool": SAID,
            "on": st.dates(min_value=date(2020, 1, 1)),
        },
    ),
    max_size=6,
)  # fmt: skip


@given(READINGS, st.dictionaries(st.just("face_to_face"), LENGTHS))
def test_whatever_stands_in_a_project_its_export_says_nothing_new(readings, axle):
    raw = tomli_w.dumps({"format": 2, "axles": {"front": axle}, "readings": readings}).encode()
    opened = work_out(understand(parse(Path("truck.toml"), raw)), date(2026, 11, 25))
    assume(not opened.opened.faults)  # such as a length that cannot be
    rows = list(reading_rows(opened))
    assert len(rows) == len(readings) + len(axle)
    held = held_table(opened, Path("r.csv"), csv_bytes(ReadingRow._fields, rows))
    assert not held.changes, [(one.row, one.outcome) for one in held.rows]


def test_a_table_brings_an_empty_project_to_what_another_knows(capsys, tmp_path):
    """What was measured of one truck, read into a file that says nothing, is what was measured."""
    opened = open_project(PROJECTS / "forestry-4x4.toml")
    rows = [one for one in reading_rows(opened) if not one.key.startswith(("obstacles", "fitments.soft"))]
    bare = tmp_path / "bare.toml"
    bare.write_text('format = 2\n[vehicle]\nunits = "metric"\n', encoding="utf-8")
    csv = tmp_path / "r.csv"
    csv.write_bytes(csv_bytes(ReadingRow._fields, rows))
    assert call(capsys, "import", bare, csv, "--apply")[0] in (0, 1)
    assert list(reading_rows(open_project(bare))) == rows
    assert len([one for one in read_diary(bare).entries if one.kind == "change"]) == 1


def test_each_row_is_held_against_what_is_there(capsys, truck):
    assert outcomes(
        capsys, truck,
        "wheelbase,118 in ± 1/4 in,,owner,2026-04-11,tape",
        "wheelbase,118 in,,,,",
        "front hub pilot,5.121 in ± 0.002 in,,neighbor,,",
        "rear hub pilot,5.121 in ± 0.002 in,,,,",
        "rear axle rating,\"4,000 lb\",,owner,,",
        "front spring pack's position,\"2 in, -9 in, 6 in\",,owner,,",
    ) == [
        ("same", "118 in ± 1/4 in"), ("twice", "118 in ± 1/4 in"), ("agrees", OLD), ("new", ""),
        ("completed", "4,000 lb"), ("contradicts", "2 in ± 1/8 in, -7 in ± 1/8 in, 6 in ± 1/8 in"),
    ]  # fmt: skip


def test_the_table_of_what_would_come_is_shown_and_nothing_made(capsys, truck):
    rows = ("front hub pilot,5.121 in ± 0.002 in,,neighbor,,", "wheelbase,119 in ± 1/4 in,,,,", "rear axle load,,,,,")
    before = truck.read_bytes()
    code, out, err = call(capsys, "import", truck, table(truck, *rows))
    assert not err and truck.read_bytes() == before and not diary_path(truck).exists()
    assert "Unit 9: tried, not made" in out and "2 readings; 1 row has no value" in " ".join(out.split())
    assert out.index("Contradicts what is there") < out.index("wheelbase  119 in ± 1/4 in; there: 118 in")
    assert "Read again, and agrees (1)" in out and "(neighbor); there: 5.122 in ± 0.003 in" in out
    assert code == 1 and "two readings of one thing are farther apart than" in out and "--apply" in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_all_of_it_is_one_entry_of_the_diary_and_undone_to_the_byte(capsys, truck):
    old = truck.read_bytes()
    rows = ("front hub pilot,5.121 in ± 0.002 in,,neighbor,2026-11-20,micrometer", "rear hub pilot,5.1 in,,,,")
    assert made(capsys, truck, *rows)[1:] == [
        {"of": "axles.front.hub.pilot", "value": OLD},  # what stood there is a reading now, beside the other
        {
            "of": "axles.front.hub.pilot", "value": "5.121 in ± 0.002 in", "by": "neighbor",
            "on": date(2026, 11, 20), "how": "micrometer",
        },
    ]  # fmt: skip
    assert open_project(truck).opened.data["axles"]["rear"]["hub"]["pilot"] == "5.1 in"
    assert [one.because for one in read_diary(truck).entries if one.kind == "change"] == ["from readings.csv"]
    assert outcomes(capsys, truck, *rows) == [("same", "5.121 in ± 0.002 in"), ("same", "5.1 in")]
    assert call(capsys, "diary", truck, "undo")[0] == 0 and truck.read_bytes() == old


def test_nothing_new_writes_nothing(capsys, truck):
    before = truck.read_bytes()
    code, out, _ = call(capsys, "import", truck, table(truck, "wheelbase,118 in,,,,"), "--apply")
    assert code == 0 and "the file already says all of it" in out
    assert truck.read_bytes() == before and not diary_path(truck).exists()


def test_who_is_said_of_a_value_that_stands_goes_into_its_record_and_counts_as_no_second_reading(capsys, truck):
    readings = made(capsys, truck, 'wheelbase,118 in ± 1/4 in,,,,"tape, twice"', "front hub pilot,5.122 in,,owner,,")
    # how it was done is said otherwise: another reading; who measured the pilot nobody had said
    assert [one.get("how") for one in readings] == ["tape", "tape, twice", None]
    assert readings[2] == {"of": "axles.front.hub.pilot", "value": OLD, "by": "owner"}
    assert len(open_project(truck).opened.counted["axles", "front", "hub", "pilot"].readings) == 1


def test_two_rows_that_differ_are_two_readings_and_two_that_do_not_are_one(capsys, truck):
    pair = ("rear hub pilot,5.120 in ± 0.002 in,,owner,,", "rear hub pilot,5.121 in ± 0.002 in,,owner,,")
    assert [one for one, _ in outcomes(capsys, truck, *pair)] == ["new", "agrees"]
    assert outcomes(capsys, truck, pair[0], pair[0])[1] == ("twice", "line 2")
    assert [one for one, _ in outcomes(capsys, truck, pair[0], pair[0].replace("owner", "neighbor"))] == [
        "new",
        "agrees",
    ]
    assert [one["value"] for one in made(capsys, truck, *pair)[1:]] == ["5.120 in ± 0.002 in", "5.121 in ± 0.002 in"]
    # from 5.118 to 5.123 in, while nobody says which counts
    pilot = open_project(truck).project.axles.rear.hub.pilot
    assert (pilot.low, pilot.high) == pytest.approx((5.118 * 0.0254, 5.123 * 0.0254))


def test_left_and_right_are_readings_of_their_sides(capsys, truck):
    rows = ("rear brake radius,7 1/8 in ± 1/16 in,left,,,", "rear brake radius,7 3/16 in ± 1/16 in,Right,,,")
    assert [one["side"] for one in made(capsys, truck, *rows)[1:]] == ["left", "right"]
    counted = open_project(truck).opened.counted["axles", "rear", "brake", "radius"]
    assert list(counted.sides) == ["left", "right"]
    assert [one for one, _ in outcomes(capsys, truck, *rows)] == ["same", "same"]


def test_a_new_obstacle_begins_with_its_rows(capsys, truck):
    rows = (
        'obstacle: rear brake hose,"0 in, -7 in, 6 in",,owner,,',
        'obstacle: rear brake hose\'s other end,"3 in, -7 in, 6 in",,,,',
    )
    assert [one for one, _ in outcomes(capsys, truck, *rows)] == ["new", "new"]
    assert made(capsys, truck, *rows)[1]["of"] == 'obstacles."brake hose".at'
    hose = open_project(truck).opened.data["obstacles"][1]
    assert (hose["axle"], hose["at"], hose["to"]) == ("rear", ["0 in", "-7 in", "6 in"], ["3 in", "-7 in", "6 in"])
    assert [one for one, _ in outcomes(capsys, truck, *rows)] == ["same", "same"]


def test_an_entry_goes_by_its_key_or_its_name_and_both_have_to_be_of_one(capsys, truck):
    head = "key,name,value"
    rows = ("axles.front.hub.pilot,front hub pilot,5.122 in", "vehicle.wheelbase,,118 in", ",hub pilot front,5.122 in")
    assert [one for one, _ in outcomes(capsys, truck, *rows[:2], head=head)] == ["same", "same"]
    assert outcomes(capsys, truck, rows[2], head=head) == [("same", OLD)]
    assert "two entries" in bad(capsys, truck, "vehicle.wheelbase,front hub pilot,5 in", head=head)[0]


@pytest.mark.parametrize(
    ("written", "read"), [("2026-11-05", "2026-11-05"), ("11/25/2026", "2026-11-25"), ("25.11.2026", "2026-11-25")]
)
def test_a_date_that_a_spreadsheet_wrote_anew_is_read_where_no_other_can_be_meant(capsys, truck, written, read):
    assert str(made(capsys, truck, f"rear hub pilot,5 in,,,{written},")[1]["on"]) == read


def test_nothing_is_made_where_a_row_is_bad_and_each_is_told_with_its_line_and_an_example_of_its_entry(capsys, truck):
    told = bad(
        capsys, truck,
        "wheelbase,118 parsecs,,,,",
        "front hub pilot,5.121 in ± 0.002 in,,neighbor,,",  # good, and not made
        "rear brake radius,7 in,middle,,,",
        "rear axle load,\"3,000 lb\",left,,,",
        "rear brake radiu,7 in,,,,",
        "front hub pilot,5 in,,,4/5/2026,",
        "front hub pilot,5 in,,,yesterday,",
        "front hub pilot,5 in ± 1 kg,,,,",
        "number of rear studs,seven,,,,",
        "front spring pack's position,\"2 in, 3 in\",,,,",
        "use.door_height,84 in,,,,",
        "truck's name,other,,,,",
        "nobody's set's wheel backspace,5 in,,,,",
        "speedometer driven teeth,20,,neighbor,,",
        ",5 in,,,,",
        "wheelbase,=1+1,,,,",
    )  # fmt: skip
    words = {
        2: "such as 126 in ± 1/4 in", 4: "accepted: left or right, or nothing", 5: "has no sides",
        6: "near it: rear brake radius", 7: "2026-04-05 or 2026-05-04", 8: "a date such as 2026-11-25",
        9: "a mass", 10: "such as 6", 11: "2 values; read '2 in, 3 in'; accepted: 3 with commas between, such as 2 in",
        12: "can't be measured", 13: "isn't measured", 14: "no such key",
        15: "the project has '18'", 16: "it doesn't say what was read", 17: "read '=1+1'",
    }  # fmt: skip
    assert [int(line.partition(":")[0]) for line in told] == list(words)
    for line, one in zip(told, words.values(), strict=True):
        assert one in line, line


def test_a_comma_that_may_be_thousands_or_decimals_is_asked_about_where_semicolons_part_the_cells(capsys, truck):
    table = truck.parent / "readings.csv"
    table.write_text("entry;value\nfront brake radius;7,125 in\nrear brake radius;7,12 in\nrear axle rating;4,000 lb\n")
    status, _, told = call(capsys, "import", truck, table, "--apply")
    assert status == 2 and truck.read_text(encoding="utf-8") == TRUCK
    assert "readings.csv:2: front brake radius: thousands or decimals; read '7,125'" in told
    assert "7.125 or 7125, whichever it was" in told and len(told.splitlines()) == 1

    table.write_text('entry,value\nfront axle rating,"4,000 lb"\n')
    assert call(capsys, "import", truck, table)[0] == 0


def test_a_count_that_contradicts_is_refused_since_two_of_it_cannot_be(capsys, truck):
    (told,) = bad(capsys, truck, "speedometer driven teeth,20,,neighbor,,")
    assert told.startswith("2: speedometer driven teeth: the project has '18'") and "planner change FILE" in told


def test_what_cannot_be_together_is_told_by_the_row(capsys, truck):
    (told,) = bad(capsys, truck, "vehicle.year,9,,,,", head="key,value,side,by,on,how")
    assert told.startswith("2: ")


def test_a_project_with_a_fault_takes_no_readings(capsys, truck):
    truck.write_text(TRUCK.replace("4,000 lb", "12 parsecs"), encoding="utf-8")
    code, out, err = call(capsys, "import", truck, table(truck, "wheelbase,118 in,,,,"), "--apply")
    assert (code, out) == (2, "") and "axles.rear.rating" in err


def test_the_two_files_the_other_way_around_and_what_is_no_file(capsys, truck, tmp_path):
    csv = table(truck, "wheelbase,118 in,,,,")
    assert "the project comes first" in call(capsys, "import", csv, truck)[2]
    for path, words in ((tmp_path, "a folder"), ("/dev/zero", "a device"), (tmp_path / "no.csv", "no such file")):
        code, out, err = call(capsys, "import", truck, path)
        assert (code, out, err.count("\n")) == (2, "", 1) and words in err


def test_a_huge_table_is_refused_before_it_is_read(capsys, truck):
    huge = truck.with_name("huge.csv")
    huge.write_bytes(b"entry,value\n" + b"wheelbase,118 in\n" * 60_000)
    code, out, err = call(capsys, "import", truck, huge)
    assert (code, out) == (2, "") and "too large" in err
