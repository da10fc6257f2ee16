"""`planner print` as a person calls it: numbers, records, diary, change slips, and what is refused in one line."""

import os
import stat
import tomllib
from datetime import date
from pathlib import Path

import pytest
from calling import call as call_command
from pypdf import PdfReader
from resting import rested_on

from planner.plan.answers.open_project import open_project
from planner.project.checks import MOST
from planner.project.diary_reading import diary_path, read_diary
from planner.sheets.blocks import Rows
from planner.sheets.kind import Asked, kind_named
from planner.sheets.printing import made

TRUCK = """# the old truck
format = 2

[vehicle]
name = "The old truck"

[axles.front]
load = "3,000 lb ± 20 lb"  # on the scale
face_to_face = "60 in"

[axles.front.studs]
count = 6
torque = "110 ft·lb"

[fitments.new.wheel]
rim_width = "9 in"
backspace = "5 in"
"""


@pytest.fixture(autouse=True)
def one_day(monkeypatch):
    import planner.commands.print as command

    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1795564800")  # 2026-11-25
    monkeypatch.setattr(command, "PATIENCE", 60.0)  # a machine under load says nothing either


@pytest.fixture
def truck(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return path


def call(capsys, *arguments: object) -> tuple[int, str, str]:
    return call_command(capsys, "print", *arguments)


def refused(capsys, *arguments: object) -> str:
    code, out, err = call(capsys, *arguments)
    assert code == 2 and not out
    assert err.count("\n") == 1 and err.endswith("\n"), err
    return err


def sheets(path: Path) -> list[dict]:
    return tomllib.loads(path.read_text(encoding="utf-8")).get("sheets", [])


def beside(path: Path) -> set[str]:
    return {one.name for one in path.parent.iterdir() if one.name != f".{path.name}.lock"}


def test_a_sheet_takes_the_next_number_and_its_file_stands_beside_the_project(capsys, truck):
    for number, name in ((1, "measuring"), (2, "checklist")):
        code, out, err = call(capsys, truck, name)
        assert (code, err) == (0, "")
        made = truck.with_name(f"truck-{number}-{name}.pdf")
        assert made.name in out and made.read_bytes().startswith(b"%PDF")
    assert [(one["number"], one["kind"], str(one["on"])) for one in sheets(truck)] == [
        (1, "measuring", "2026-11-25"),
        (2, "checklist", "2026-11-25"),
    ]
    assert "# on the scale" in truck.read_text(encoding="utf-8"), "comments stay"


def test_it_is_entered_in_the_diary(capsys, truck):
    call(capsys, truck, "checklist")
    last = read_diary(truck).entries[-1]
    assert last.kind == "print"
    told = {name: value for name, value in last.details.items() if name not in ("rested_on", "pages")}
    assert told == {"sheet": 1, "kind": "checklist", "file": "truck-1-checklist.pdf"}
    assert last.details["pages"]["safe.local_code"] == 1


def test_text_alone_is_a_look_and_leaves_no_trace(capsys, truck):
    before = truck.read_bytes()
    code, out, err = call(capsys, truck, "checklist", "--text")
    assert code == 0 and not err and "not numbered" in out and "STEP CARDS" in out
    assert truck.read_bytes() == before and beside(truck) == {"truck.toml"}


def test_text_into_a_file_is_a_sheet_like_any_other(capsys, truck, tmp_path):
    out = tmp_path / "list.txt"
    assert call(capsys, truck, "checklist", "--text", "-o", out)[0] == 0
    assert "sheet 1" in out.read_text(encoding="utf-8") and sheets(truck)[0]["number"] == 1


def test_the_same_project_on_the_same_day_gives_the_same_bytes(capsys, tmp_path):
    made = []
    for folder in ("one", "two"):
        (tmp_path / folder).mkdir()
        path = tmp_path / folder / "truck.toml"
        path.write_text(TRUCK, encoding="utf-8")
        call(capsys, path, "checklist", "--paper", "letter")
        made.append(path.with_name("truck-1-checklist.pdf").read_bytes())
    assert made[0] == made[1]


def test_a_number_is_never_given_twice_even_where_the_print_was_undone(capsys, truck):
    from planner.project.diary import undo
    from planner.project.source import load

    call(capsys, truck, "checklist")
    undo(load(truck))
    assert sheets(truck) == []
    call(capsys, truck, "checklist")
    assert sheets(truck)[0]["number"] == 2


def test_a_project_is_not_given_more_sheets_than_it_may_be_read_with(capsys, truck):
    held = "".join(
        f'\n[[sheets]]\nnumber = {n}\nkind = "slip"\non = 2026-01-01\n' for n in range(1, MOST["sheets"] + 1)
    )
    truck.write_text(TRUCK + held, encoding="utf-8")
    assert "[[sheets]]" in refused(capsys, truck, "checklist")
    assert truck.read_text(encoding="utf-8") == TRUCK + held and beside(truck) == {"truck.toml"}


def test_a_sheet_that_rests_on_nothing_yet_is_not_out_of_date(capsys, tmp_path):
    path = tmp_path / "empty.toml"
    path.write_text("format = 2\n", encoding="utf-8")
    call(capsys, path, "checklist", "--phase", "road test")
    assert rested_on(path, sheets(path)[0]) == {}
    assert "out of date" not in call_command(capsys, "check", path, "--full")[1]


def test_the_slip_says_which_numbers_moved_since_a_sheet_was_printed(capsys, truck):
    call(capsys, truck, "checklist")
    assert rested_on(truck, sheets(truck)[0])["axles.front.studs.torque"] == "110 ft·lb"
    truck.write_text(truck.read_text(encoding="utf-8").replace('"110 ft·lb"', '"120 ft·lb"', 1), encoding="utf-8")
    code, out, _ = call(capsys, truck, "slip", "--since", "1", "--text")
    assert code == 0
    assert call(capsys, truck, "slip", "--since", "1")[0] == 0, "on paper too"
    said = " ".join(out.split())
    assert "Changes to step cards, sheet 1" in said
    assert "axles.front.studs.torque 110 ft·lb 120 ft·lb" in said or "110" in said and "120" in said


def test_the_slip_tells_of_tasks_that_came_and_went(capsys, truck):
    call(capsys, truck, "checklist")
    more = '\n[[tasks]]\nid = "own.paint"\ntitle = "paint the hubs"\nphase = "fit"\n'
    truck.write_text(truck.read_text(encoding="utf-8") + more, encoding="utf-8")
    _, out, _ = call(capsys, truck, "slip", "--text")
    assert "added" in out and "paint the hubs" in out
    call(capsys, truck, "checklist")
    truck.write_text(truck.read_text(encoding="utf-8").replace(more, ""), encoding="utf-8")
    _, out, _ = call(capsys, truck, "slip", "--since", "2", "--text")
    assert "dropped" in out and "paint the hubs" in out


def test_a_slip_where_nothing_moved_takes_no_number_and_writes_nothing(capsys, truck):
    call(capsys, truck, "checklist")
    before, there = truck.read_bytes(), beside(truck)
    for how in ((), ("--text",), ("--since", "1"), ("-o", truck.with_name("slip.pdf"))):
        code, out, err = call(capsys, truck, "slip", *how)
        assert (code, err) == (0, "")
        assert out == "Nothing on sheet 1 has changed, so it needs no slip; no number was taken.\n"
    assert truck.read_bytes() == before and beside(truck) == there
    assert len(read_diary(truck).entries) == 2, "the file as it was, and the sheet"


def test_a_slip_names_the_step_its_page_and_the_torque_before_and_after(capsys, truck):
    call(capsys, truck, "checklist")
    set_torque = 'torque = "{}"'
    text = truck.read_text(encoding="utf-8").replace(set_torque.format("110 ft·lb"), set_torque.format("120 ft·lb"))
    truck.write_text(text, encoding="utf-8")
    rows = steps_that_changed(truck)
    pages = PdfReader(truck.with_name("truck-1-checklist.pdf")).pages
    step = "Put the wheels on: nuts by hand, then in a star, in three stages"
    (at,) = [n for n, page in enumerate(pages, 1) if step in " ".join(page.extract_text().split())]
    (row,) = [one for one in rows if one[1].startswith(step)]
    assert row[:2] == (str(at), f"{step} (front)")
    # a wrench is held to four percent: 0.96 and 1.04 of 110 and of 120, rounded inward
    assert row[2] == "torque 110 lbf·ft, range 106 to 114 lbf·ft"
    assert row[3] == "torque 120 lbf·ft, range 116 to 124 lbf·ft"
    assert "torque 120 lbf·ft" in " ".join(call(capsys, truck, "slip", "--text")[1].split())


def test_a_slip_over_the_wall_says_the_step_as_the_wall_does(capsys, truck):
    call(capsys, truck, "wall")
    truck.write_text(truck.read_text(encoding="utf-8").replace("110 ft·lb", "120 ft·lb"), encoding="utf-8")
    (row,) = [one for one in steps_that_changed(truck) if one[1].startswith("Wheels on")]
    pages = PdfReader(truck.with_name("truck-1-wall.pdf")).pages
    (at,) = [n for n, page in enumerate(pages, 1) if "Wheels on: by hand" in " ".join(page.extract_text().split())]
    assert row[:2] == (str(at), "Wheels on: by hand, star, 3 stages (front)")


def test_a_slip_shows_the_range_that_a_step_may_have_before_and_after(capsys, truck):
    call(capsys, truck, "checklist")
    text = truck.read_text(encoding="utf-8").replace('backspace = "5 in"', 'backspace = "4 1/2 in"')
    truck.write_text(text, encoding="utf-8")
    ((_, _, was, is_),) = [one for one in steps_that_changed(truck) if one[1].startswith("Measure the backspace")]
    # a wheel is taken within a sixteenth of what was ordered: 5 and then 4 1/2
    assert was == "range 4 15/16 to 5 1/16 in"
    assert is_ == "range 4 7/16 to 4 9/16 in"


def test_a_slip_over_a_sheet_of_one_phase_tells_nothing_of_the_others(capsys, truck):
    call(capsys, truck, "checklist", "--phase", "road test")
    text = truck.read_text(encoding="utf-8")
    truck.write_text(text + '\n[[tasks]]\nid = "own.paint"\ntitle = "paint the hubs"\nphase = "fit"\n')
    assert "Nothing on sheet 1 has changed" in call(capsys, truck, "slip", "--text")[1]
    truck.write_text(text + '\n[[tasks]]\nid = "own.drive"\ntitle = "drive to the mill"\nphase = "road test"\n')
    assert "drive to the mill" in call(capsys, truck, "slip", "--text")[1]


def test_a_sheet_of_which_the_diary_knows_nothing_is_printed_again_and_gets_no_slip(capsys, truck):
    call(capsys, truck, "checklist", "--phase", "road test")
    diary_path(truck).unlink()
    held = truck.read_bytes()
    assert "print that sheet again" in refused(capsys, truck, "slip")
    assert truck.read_bytes() == held and not diary_path(truck).exists()


def steps_that_changed(truck):
    """The rows of the steps on a slip since the last sheet: page, step, was, is."""
    opened = open_project(truck, date(2026, 11, 25))
    blocks = made(opened, kind_named("slip"), Asked(), date(2026, 11, 25)).blocks
    return next(one.rows for one in blocks if isinstance(one, Rows) and "step" in one.heads)


def test_a_slip_needs_a_sheet_that_was_printed(capsys, truck):
    assert "no sheet has been printed" in refused(capsys, truck, "slip")
    call(capsys, truck, "checklist")
    assert "no sheet number 9" in refused(capsys, truck, "slip", "--since", "9")


@pytest.mark.parametrize("name", ["order", "record"])
def test_a_sheet_of_an_empty_project_is_refused_in_one_line_and_leaves_nothing(capsys, tmp_path, name):
    path = tmp_path / "empty.toml"
    path.write_text("format = 2\n", encoding="utf-8")
    refused(capsys, path, name)
    assert beside(path) == {"empty.toml"} and path.read_text() == "format = 2\n"


@pytest.mark.parametrize("name", ["checklist", "wall"])
def test_a_missing_folder_is_told_and_nothing_is_written(capsys, truck, tmp_path, name):
    assert "there is no folder" in refused(capsys, truck, name, "-o", tmp_path / "no" / "x.pdf")
    assert sheets(truck) == [] and beside(truck) == {"truck.toml"}


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="everything may be written here")
def test_a_folder_that_may_not_be_written_is_told_and_nothing_is_recorded(capsys, truck, tmp_path):
    folder = tmp_path / "closed"
    folder.mkdir()
    folder.chmod(stat.S_IRUSR | stat.S_IXUSR)
    refused(capsys, truck, "checklist", "-o", folder / "x.pdf")
    assert sheets(truck) == []


@pytest.mark.parametrize("trouble", [OSError(28, "No space left on device"), OSError(13, "Permission denied")])
def test_a_full_disk_leaves_no_half_of_a_sheet_and_no_record(capsys, truck, monkeypatch, trouble):
    import planner.sheets.printing as printing

    def full(path, raw, like):
        raise trouble

    monkeypatch.setattr(printing, "put_file", full)
    refused(capsys, truck, "checklist")
    assert sheets(truck) == [] and beside(truck) == {"truck.toml"}


@pytest.mark.parametrize("name", ["checklist", "wall"])
def test_a_disk_that_fills_while_the_sheet_is_written_leaves_nothing(capsys, truck, monkeypatch, name):
    real = os.write

    def short(handle, data):
        if bytes(data[:4]) == b"%PDF":
            real(handle, bytes(data[:1000]))
            raise OSError(28, "No space left on device")
        return real(handle, data)

    monkeypatch.setattr(os, "write", short)
    refused(capsys, truck, name)
    assert sheets(truck) == [] and beside(truck) == {"truck.toml"}


def test_where_the_project_cannot_be_saved_there_is_no_sheet(capsys, truck, monkeypatch):
    import planner.sheets.printing as printing
    from planner.project.saving import Busy

    def busy(*_, **__):
        raise Busy(truck, "another program is saving it; try again")

    monkeypatch.setattr(printing, "commit", busy)
    assert "another program" in refused(capsys, truck, "checklist")
    assert beside(truck) == {"truck.toml"}


def test_the_projects_own_files_are_never_printed_over(capsys, truck):
    call(capsys, truck, "measuring")
    for name in ("truck.toml", "truck.diary.jsonl"):
        before = truck.with_name(name).read_bytes()
        assert "own file" in refused(capsys, truck, "checklist", "-o", truck.with_name(name))
        assert truck.with_name(name).read_bytes() == before


@pytest.mark.parametrize("as_text", [[], ["--text"]], ids=["PDF", "text"])
def test_only_a_sheet_is_printed_over_and_anything_else_is_named(capsys, truck, tmp_path, as_text):
    other, link = tmp_path / "other.toml", tmp_path / "link"
    other.write_text(TRUCK)
    link.symlink_to(other)
    said = refused(capsys, truck, "checklist", *as_text, "-o", other)
    assert "a project file is there" in said and "choose another name" in said
    assert "a link" in refused(capsys, truck, "checklist", *as_text, "-o", link)
    assert other.read_text() == TRUCK and link.is_symlink() and sheets(truck) == []


@pytest.mark.parametrize("as_text", [[], ["--text"]], ids=["PDF", "text"])
def test_a_sheet_is_printed_over_a_sheet(capsys, truck, tmp_path, as_text):
    for number in (1, 2):
        assert call(capsys, truck, "checklist", *as_text, "-o", tmp_path / "list")[0] == 0
        assert sheets(truck)[-1]["number"] == number
    assert {one.name for one in tmp_path.iterdir() if not one.name.startswith(".")} == {
        "truck.toml", "truck.diary.jsonl", "list",
    }  # fmt: skip


def test_what_comes_under_the_name_while_the_sheet_is_recorded_is_left_alone(capsys, truck, tmp_path, monkeypatch):
    import planner.sheets.printing as printing

    real, out = printing.commit, tmp_path / "list.txt"

    def meanwhile(*given, **named):
        out.write_text("typed meanwhile")
        return real(*given, **named)

    monkeypatch.setattr(printing, "commit", meanwhile)
    said = refused(capsys, truck, "checklist", "--text", "-o", out)
    assert "another file took that name" in said and "print it again" in said
    assert out.read_text() == "typed meanwhile" and not list(tmp_path.glob(".*.new"))


def test_a_folder_in_place_of_the_file_is_told(capsys, truck, tmp_path):
    assert "folder" in refused(capsys, truck, "checklist", "-o", tmp_path)


@pytest.mark.parametrize("text", ["soon", "-1e9", "99999999999999999999"])
def test_a_moment_that_is_none_is_refused(capsys, truck, monkeypatch, text):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", text)
    assert "SOURCE_DATE_EPOCH" in refused(capsys, truck, "checklist")


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["poster"], "poster"),
        (["checklist", "--paper", "a3"], "a3"),
        (["wall", "--from", "0 ft"], "0 ft"),
        (["wall", "--from", "1 mile"], "1 mile"),
        (["wall", "--from", "1 ft"], "bench"),
        (["wall", "--from", "far"], "far"),
        (["wall", "--from", "7 ft"], "A3"),
        (["wall", "--from", "10 ft", "--paper", "tabloid"], "9.2 ft"),  # 1167 pt / 20.3 x 0.65 / tan 16' is 2.83 m
        (["checklist", "--phase", "paint"], "paint"),
        (["slip", "--since", "x"], "x"),
    ],
)
def test_what_is_wrong_with_the_command_is_said_in_one_line(capsys, truck, arguments, named):
    assert named in refused(capsys, truck, *arguments)


def test_without_the_typesetter_pdf_says_what_to_do_and_text_goes_on(capsys, truck, monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "typst", None)
    assert "--text" in refused(capsys, truck, "checklist")
    assert sheets(truck) == []
    assert call(capsys, truck, "checklist", "--text")[0] == 0


@pytest.mark.parametrize("how", [("--text",), ("--text", "-o", "out.txt"), ()])
def test_a_project_with_faults_is_printed_without_a_number_and_is_not_for_order(capsys, tmp_path, monkeypatch, how):
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "bad.toml"
    path.write_text('format = 2\n[vehicle]\nwheelbase = "wide"\n')
    code, out, err = call(capsys, path, "checklist", *how)
    assert code == 2 and "bad.toml:3: vehicle.wheelbase" in err and "NOT FOR ORDER" in out
    assert path.read_text() == 'format = 2\n[vehicle]\nwheelbase = "wide"\n' and not diary_path(path).exists()
    if "-o" in how:
        out = (tmp_path / "out.txt").read_text(encoding="utf-8")
    elif not how:
        pages = PdfReader(tmp_path / "bad-not-numbered-checklist.pdf").pages
        out = " ".join(page.extract_text() for page in pages).replace("\n", " ")
    assert "not numbered" in out and "NOT FOR ORDER" in out and "fault in line 3" in out and "wide" in out


def test_long_work_says_what_takes_the_time(capsys, truck, monkeypatch):
    import planner.commands.print as command

    monkeypatch.setattr(command, "PATIENCE", 0.0)
    _, _, err = call(capsys, truck, "checklist", "--text")
    assert err.startswith("printing the step cards: 0 s\n")
