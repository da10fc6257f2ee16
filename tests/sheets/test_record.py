"""The build record: its first page, who and when, and a diary that can be read."""

from datetime import date
from functools import cache
from pathlib import Path
from time import process_time

import pytest
from made_pictures import jpeg, png
from sheets.pdf_runs import pages, reader, together, words

from planner.plan.answers.open_project import open_project
from planner.sheets.blocks import Heading, Paragraph, Rows, SignatureBox, not_printed
from planner.sheets.kind import Asked, kind_named
from planner.sheets.paper import pdf
from planner.sheets.picture_data import PictureData
from planner.sheets.printing import made
from planner.sheets.text import text

PROJECTS = Path(__file__).parents[2] / "projects"
COUNTY = PROJECTS / "county-road-4x4.toml"
ON = date(2026, 11, 25)
DRIVEN = """
[vehicle]
odometer = "51,320 mi"
odometer_on = 2026-11-24
[axles.front.studs]
torque = "110 ft·lb"
[fitments.tall.wheel]
rim_width = "9 in"
[plan]
chosen = "tall"
[[acceptances]]
flag = "tire.radial_and_bias_on_one_truck"
at = "tall, front"
because = "moved only on the trailer"
by = "the owner"
on = 2026-10-18
[[acceptances]]
flag = "steering.bearing_moment_grown"
at = "tall, front"
because = "new bearings"
on = 2026-10-19
[[tasks]]
id = "fit.wheels.front"
state = "done"
recorded = "110 ft·lb"
on = 2026-11-10
[[tasks]]
id = "check.sign"
state = "done"
because = "signed: walked around with the list"
by = "R."
on = 2026-11-13
[[tasks]]
id = "road.qualified"
state = "done"
because = "signed by the brake shop"
odometer = "51,200 mi"
on = 2026-11-20
"""


@cache
def record(path: Path):
    return made(open_project(path, ON), kind_named("record"), Asked(), ON, 7)


def under(sheet, heading: str) -> list[tuple[str, ...]]:
    """The rows of the table under a heading."""
    blocks = list(sheet.blocks)
    at = next(n for n, one in enumerate(blocks) if isinstance(one, Heading) and one.text == heading)
    return list(next(one.rows for one in blocks[at:] if isinstance(one, Rows)))


@pytest.fixture
def driven(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(f"format = 2\n{DRIVEN}", encoding="utf-8")
    return record(path)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["county-road-4x4", "forestry-4x4", "just-begun", "quarry-flatbed"])
def test_the_first_page_stands_alone_and_the_contents_on_the_next(name, paper):
    first, second = pages(pdf(record(PROJECTS / f"{name}.toml"), paper), 2)
    assert "On the truck now" in first and "Look at again, and when" in first and "Contents" not in first
    assert "Contents" in second and "Look at again, and when" in second


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_first_page_stays_one_where_all_on_it_is_long_and_much(tmp_path, paper):
    words = "the moment on the wheel bearings has grown and everybody looked at it once more " * 4
    more = "".join(
        f'\n[[acceptances]]\nflag = "steering.bearing_moment_grown"\nat = "tall, front"\nbecause = "{words}"\n'
        f'\n[[decisions]]\nquestion = "{words}{n}"\nchosen = "{words}"\nrests = "{n} 123abc"\n'
        f'\n[[changes]]\nname = "{words[:60]}{n}"\nkind = "other"\nstate = "done"\ndone_by = "{words}"\n'
        f'\n[[wheels]]\nmark = "{words[:40]}{n}"\nposition = "{end}"\nstate = "fitted"\n'
        for n, end in enumerate(("front left", "front right", "rear left", "rear right"), 1)
    )
    path = tmp_path / "truck.toml"
    named = DRIVEN.replace("[vehicle]\n", f'[vehicle]\nname = "{words[:120]}"\n').replace("the owner", words)
    path.write_text(f"format = 2\n{named}{more}", encoding="utf-8")
    assert "Contents" in pages(pdf(record(path), paper), 2)[1]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_first_page_stays_one_under_a_raised_stop(tmp_path, paper):
    path = tmp_path / "truck.toml"
    text = DRIVEN.replace("[axles.front.studs]", '[axles.front.hub]\npilot = "5 in"\n[axles.front.studs]')
    path.write_text("format = 2\n" + text.replace('rim_width = "9 in"', 'rim_width = "9 in"\nbore = "4.9 in"'))
    first, second = pages(pdf(record(path), paper), 2)
    assert "STOP RAISED" in first and "Look at again, and when" in first and "Contents" in second


def test_what_is_on_the_truck_opens_the_record(driven):
    headings = [one.text for one in driven.blocks if isinstance(one, Heading) and one.level == 1]
    assert headings[:4] == ["On the truck now", "Accepted, and by whom", "Look at again, and when", "Contents"]
    now = {row[0]: row[1:] for row in under(driven, "On the truck now")}
    assert now["lug nut torque"] == ("110 ft·lb, 2026-11-10", "not written down")
    assert now["set"][0] == "'tall': put on 2026-11-10"


def test_what_was_accepted_and_signed_names_who_and_leaves_a_blank_where_nobody_did(driven):
    rows = {row[0]: row[1:] for row in under(driven, "Accepted, and by whom")}
    assert rows["radial tires at one axle and bias tires at the other (tall, front)"][1] == "the owner, 2026-10-18"
    (blank,) = [row[2] for row in under(driven, "Accepted, and by whom") if "bearings" in row[0]]
    assert blank == f"by {'_' * 24}, 2026-10-19"
    (signed,) = [row for name, row in rows.items() if name.startswith("hold point: Walk around")]
    assert signed[1] == "R., 2026-11-13"


def test_what_is_due_comes_first_by_its_day(driven):
    rows = under(driven, "Look at again, and when")
    # the list has 50 miles after the road test at 51,200: due at 51,250, and the odometer shows 51,320
    assert rows[0] == (
        "Retorque the lug nuts after the first 50 miles (80 km) (front and rear)",
        "OVERDUE by distance: the odometer shows 51,320 mi, and it was due at 51,250 mi",
    )
    days = [said.partition("due by ")[2][:10] for _, said in rows if said.startswith("due by ")]
    assert days and days == sorted(days)


def test_before_the_road_test_nothing_comes_again_and_that_is_said():
    assert any(
        isinstance(one, Paragraph) and "count from the day the road test is signed" in one.text
        for one in record(COUNTY).blocks
    )


def test_who_looked_it_over_can_be_written_in_by_hand():
    box = next(one for one in record(COUNTY).blocks if isinstance(one, SignatureBox))
    assert box.labels[:2] == ("by", "on")


def test_the_diary_of_the_record_has_names_and_values():
    rows = {row[0]: row for row in under(record(COUNTY), "Diary")}
    assert rows["20"][3] == "tall set's wheel backspace: 5 in ± 1/16 in → 4 3/4 in ± 1/32 in"
    assert rows["29"][3].startswith("wheel bearings and seals, four hubs: wanted → ordered")
    assert not [row for row in rows.values() if "tasks[" in row[3] or "parts[" in row[3]]


# photos

PHOTOS = """
[vehicle]
wheelbase = "112 in"
[[readings]]
of = "vehicle.wheelbase"
value = "112 in"
by = "owner"
photos = ["tape.png: the tape on both hubs"]
[[decisions]]
question = "which width?"
chosen = "9 in"
photos = ["board.jpg"]
[[tasks]]
id = "safe.local_code"
state = "done"
photos = ["stands.jpg: on the axle, not on the frame", "gone.jpg: the jack", "text.png"]
[[tasks]]
id = "own.paint"
title = "paint the hubs"
photos = ["hubs.png"]
[[parts]]
title = "wheel bearings"
photos = ["box.jpg: the number on the box"]
[[wheels]]
mark = "W3"
photos = ["w3.png"]
"""


@pytest.fixture
def with_photos(tmp_path):
    path = tmp_path / "truck.toml"
    path.write_text(f"format = 2\n{PHOTOS}", encoding="utf-8")
    for n, name in enumerate(("tape.png", "hubs.png", "w3.png")):
        (tmp_path / name).write_bytes(png(120, 90, n))
    for n, name in enumerate(("board.jpg", "stands.jpg", "box.jpg")):
        (tmp_path / name).write_bytes(jpeg(120, 90, n))
    (tmp_path / "text.png").write_text("no picture", encoding="utf-8")
    return path


def test_photos_stand_with_what_they_are_of_each_above_its_caption(with_photos):
    raw = pdf(record(with_photos))
    said = words(raw)
    for caption in (
        "wheelbase, owner: the tape on both hubs (tape.png)",
        "board.jpg",
        "on the axle, not on the frame (stands.jpg)",
        "paint the hubs (hubs.png)",
        "wheel bearings: the number on the box (box.jpg)",
        "wheel W3 (w3.png)",
    ):
        assert together(caption) in together(said), caption
    assert sum(len(page.images) for page in reader(raw).pages) == 6


def test_a_photo_that_is_missing_or_no_picture_is_told_in_its_place(with_photos):
    said = words(pdf(record(with_photos)))
    assert together("the jack (gone.jpg): there is no such file beside the project") in together(said)
    assert together("(text.png): it's neither a JPEG nor a PNG") in together(said).replace("’", "'")
    assert not_printed(record(with_photos)) == [
        "photo gone.jpg isn't printed: there is no such file beside the project",
        "photo text.png isn't printed: it's neither a JPEG nor a PNG",
    ]


def test_the_text_of_the_record_names_its_photos(with_photos):
    said = " ".join(text(record(with_photos)).split())
    assert "photo: wheel bearings: the number on the box (box.jpg)" in said
    assert "the jack (gone.jpg): there is no such file beside the project" in said


def test_the_same_photos_give_the_same_bytes_wherever_the_project_stands(with_photos, tmp_path):
    first = pdf(record(with_photos))
    assert pdf(record(with_photos)) == first
    other = tmp_path / "elsewhere"
    other.mkdir()
    for path in tmp_path.iterdir():
        if path.is_file():
            (other / path.name).write_bytes(path.read_bytes())
    assert pdf(record(other / "truck.toml")) == first


def test_a_picture_that_only_the_typesetter_cannot_read_is_told_and_the_others_are_printed(with_photos, monkeypatch):
    import planner.sheets.photo_files as module

    real = module.picture_in

    def lenient(raw):
        return real(raw) if raw.startswith((b"\x89", b"\xff")) else PictureData(raw, ".png", 10, 10)

    monkeypatch.setattr(module, "picture_in", lenient)
    raw = pdf(record(with_photos))
    assert together("(text.png): the typesetter can't read it") in together(words(raw)).replace("’", "'")
    assert sum(len(page.images) for page in reader(raw).pages) == 6


def test_a_name_of_a_photo_cannot_break_out_of_its_line(tmp_path):
    path = tmp_path / "truck.toml"
    hostile = '[[tasks]]\nid = "safe.stands"\nphotos = ["#panic()\\u001b[31m\\n.png: $x$ \\u202e"]\n'
    path.write_text(f'format = 2\n[vehicle]\nwheelbase = "112 in"\n{hostile}', encoding="utf-8")
    said = words(pdf(record(path)))
    assert "#panic()" in said and "\x1b" not in said
    assert "\x1b" not in text(record(path))


def test_a_record_with_twenty_photos_of_a_telephone_is_set_within_ten_seconds(tmp_path):
    """Twelve million pixels each; the time is that of the process, on a machine that others use."""
    names = [f"p{n}.{'jpg' if n % 2 else 'png'}" for n in range(20)]
    for n, name in enumerate(names):
        # a large JPEG takes our own coder long, and the typesetter does not decode it: its size is in its head
        (tmp_path / name).write_bytes(jpeg(1600, 1200, n) if n % 2 else png(4000, 3000, n))
    path = tmp_path / "truck.toml"
    listed = ", ".join(f'"{name}: photo {name}"' for name in names)
    path.write_text(
        f'format = 2\n[vehicle]\nwheelbase = "112 in"\n[[tasks]]\nid = "safe.stands"\nphotos = [{listed}]\n'
    )
    began = process_time()
    raw = pdf(record(path))
    assert process_time() - began < 10
    assert sum(len(page.images) for page in reader(raw).pages) == 20
