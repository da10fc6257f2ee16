"""The measuring sheet goes by the truck's state: left and right, twice, tool by tool; one page for the next evening."""

from datetime import date
from functools import cache
from math import hypot, pi, sin
from pathlib import Path

import pytest
from sheets.pdf_runs import pages, reader, runs, words

from planner.plan.answers.open_project import open_project
from planner.plan.asking.next_question import ask_state, next_question
from planner.project.sides import has_sides
from planner.project.written_keys import split_key
from planner.sheets.blocks import Blanks, Caution, DrawingBlock, Heading, Paragraph
from planner.sheets.kind import Asked, CannotPrint, kind_named
from planner.sheets.kinds.measuring import JACK, STATES
from planner.sheets.paper import SIZES, pdf
from planner.sheets.printing import made
from planner.sheets.stud_tapes import hubs, studs
from planner.sheets.text import text as plain_text
from planner.sheets.wanted_readings import ONCE_MORE

PROJECTS = Path(__file__).parents[2] / "projects"
EXAMPLES = ("just-begun", "county-road-4x4", "forestry-4x4", "quarry-flatbed")
ON = date(2026, 11, 25)
TITLES = [state.title for state in STATES]
HUB = """
[fitments.new.wheel]
rim_width = "9 in"
[axles.front.studs]
count = {0}
[axles.rear.studs]
count = {1}
"""


def sheet(opened, **asked):
    return made(opened, kind_named("measuring"), Asked(**asked), ON, 7)


@pytest.fixture(params=EXAMPLES, scope="module")
def name(request):
    return request.param


@cache
def opened_example(name):
    return open_project(PROJECTS / f"{name}.toml", ON)


@cache
def example_sheet(name, **asked):
    return sheet(opened_example(name), **asked)


@cache
def printed(name, paper, **asked):
    return pdf(example_sheet(name, **asked), paper)


@pytest.fixture
def truck(tmp_path):
    def write(text):
        path = tmp_path / "truck.toml"
        path.write_text(f"format = 2\n{text}", encoding="utf-8")
        return open_project(path, ON)

    return write


def by_state(made_sheet):
    """The blocks under each heading of a state."""
    found: dict[str, list] = {}
    for block in made_sheet.blocks:
        if isinstance(block, Heading) and block.level == 1:
            found[block.text] = []
        elif found:
            found[next(reversed(found))].append(block)
    return found


def rows(blocks):
    return [row for block in blocks if isinstance(block, Blanks) for row in block.rows]


def row_of(made_sheet, key):
    return next(row for row in rows(made_sheet.blocks) if any(one.key == key for one in row.readings))


@pytest.mark.parametrize("asked", [{}, {"everything": True}, {"next_only": True}], ids=["wanted", "all", "next"])
def test_its_parts_come_in_the_order_of_the_trucks_state(name, asked):
    parts = list(by_state(example_sheet(name, **asked)))
    assert parts and parts == [title for title in TITLES if title in parts]


def test_the_caution_stands_at_the_head_of_the_jacked_part_and_nowhere_else(name):
    made_sheet = example_sheet(name, everything=True)
    parts = by_state(made_sheet)
    assert isinstance(parts[TITLES[1]][0], Caution) and parts[TITLES[1]][0].text == JACK
    assert sum(isinstance(block, Caution) for block in made_sheet.blocks) == 1


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_caution_stands_on_the_page_of_the_first_reading_that_it_warns_of(name, paper):
    (page,) = (page for page in pages(printed(name, paper, everything=True)) if "Never get under" in page)
    assert "value, and how well it was measured" in page.split("Never get under")[1]


def test_what_needs_the_wheel_off_is_not_asked_for_while_it_is_on(name):
    parts = by_state(example_sheet(name, everything=True))
    off = {one.key for row in rows(parts[TITLES[1]]) for one in row.readings}
    on = {one.key for row in rows(parts[TITLES[0]]) for one in row.readings}
    for axle in ("front", "rear"):
        assert {f"axles.{axle}.hub.pilot", f"axles.{axle}.studs.adjacent_spacing", f"axles.{axle}.brake.radius"} <= off
        assert {f"axles.{axle}.fender.face_to_edge", f"axles.{axle}.travel.droop"} <= off
        assert {f"axles.{axle}.fender.axle_to_fender", f"axles.{axle}.travel.bump"} <= on
    assert "fitments.found.wheel.pieces" in on, "before anybody touches a nut"
    assert {one.key for row in rows(parts[TITLES[3]]) for one in row.readings} >= {
        "axles.front.load",
        "axles.rear.load",
    }


def test_left_and_right_each_have_a_blank(name):
    sided = 0
    for row in rows(example_sheet(name, everything=True).blocks):
        for one in row.readings:
            measured = row.spread and not row.parts and not one.key.startswith(("fitments.", "changes["))
            if measured and has_sides(split_key(one.key)):
                assert row.sides == ("left", "right"), one.key
                sided += 1
            elif measured:
                assert row.sides == (), one.key
    assert sided > 20


def test_an_obstacle_of_one_side_has_one_blank_and_any_other_two(name):
    for row in rows(example_sheet(name, everything=True).blocks):
        if row.parts:
            side = opened_example(name).obstacles[row.what].measured.side
            assert row.sides == (("left", "right") if side == "both" else (side,))


def test_what_an_order_rests_on_has_its_blanks_twice_and_is_asked_for_again_once_it_was_read(truck):
    bare = sheet(truck(HUB.format(5, 5)))
    assert row_of(bare, "axles.front.hub.pilot").times == 2
    assert row_of(bare, "axles.front.studs.adjacent_spacing").times == 2
    assert row_of(bare, "axles.front.brake.radius").times == 1
    read = sheet(truck(HUB.format(5, 5) + '[axles.front.hub]\npilot = "5 in"\n'))
    again = row_of(read, "axles.front.hub.pilot")
    assert again.times == 1 and [one.better for one in again.readings] == [ONCE_MORE]
    assert again.readings[0].known.startswith("5 in")
    reading = '[[readings]]\nof = "axles.front.hub.pilot"\nvalue = "5 in ± 0.005 in"\nby = "{}"\n'
    twice = sheet(truck(HUB.format(5, 5) + reading.format("owner") + reading.format("neighbor")))
    assert not [row for row in rows(twice.blocks) if any(one.key == "axles.front.hub.pilot" for one in row.readings)]


def test_the_tool_stands_beside_the_reading_with_what_it_reads_to(truck):
    inch, metric = (truck(f'[vehicle]\nunits = "{units}"\n{HUB.format(5, 5)}') for units in ("inch", "metric"))
    assert row_of(sheet(inch), "axles.front.hub.pilot").tool == "with a caliper: ± 0.005 in"
    assert row_of(sheet(inch), "axles.front.fender.axle_to_fender").tool == "with a tape: ± 1/8 in"
    assert row_of(sheet(metric), "axles.front.hub.pilot").tool == "with a caliper: ± 0.13 mm"
    assert row_of(sheet(metric), "axles.front.fender.axle_to_fender").tool == "with a tape: ± 3.2 mm"
    assert row_of(sheet(inch), "axles.front.nuts.thread").tool == "", "it is read off, not measured"


# the hub


@pytest.mark.parametrize("count", [3, 4, 5, 6, 8, 10])
def test_a_hub_is_drawn_with_its_own_studs_and_the_tape_on_two_of_them(count):
    scene = studs(count)
    assert len(scene.arcs) == count + 2  # the circle, the pilot
    ends = {one.text: (one.start, one.end) for one in scene.dimensions}
    length = {text: hypot(end[0] - start[0], end[1] - start[1]) for text, (start, end) in ends.items()}
    apart = 2 if count > 3 else 1
    assert length["A"] == pytest.approx(0.2 * sin(pi / count))  # a chord of a circle of 0.2
    assert length["B"] == pytest.approx(0.2 * sin(apart * pi / count))
    assert length["C"] == pytest.approx(length["B"] + 0.024)  # over the outsides of two of 0.024
    holes = [one.center for one in scene.arcs if one.center != (0, 0)]
    assert all(any(spot == pytest.approx(hole) for hole in holes) for spot in (*ends["A"], *ends["B"]))


def circles(made_sheet):
    return next(
        block.picture
        for block in made_sheet.blocks
        if isinstance(block, DrawingBlock) and "Bolt" in block.picture.title
    )


def test_hubs_that_differ_are_both_drawn_and_one_that_nobody_counted_says_so(truck):
    assert {one.text for one in circles(sheet(truck(HUB.format(8, 8)))).labels} == {"front and rear: 8 studs"}
    both = circles(sheet(truck(HUB.format(8, 5))))
    assert {one.text for one in both.labels} == {"front: 8 studs", "rear: 5 studs"}
    assert len(both.arcs) == 8 + 5 + 4
    unknown = circles(sheet(truck(HUB.format(8, 5).replace("[axles.rear.studs]\ncount = 5\n", ""))))
    assert "rear: drawn with six, so count yours" in {one.text for one in unknown.labels}
    assert hubs([(5, "front"), (6, "rear")]).words.startswith("front: 5 studs")


# the next evening


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_page_for_the_next_evening_is_one_page(name, paper):
    raw = printed(name, paper, next_only=True)
    assert len(reader(raw).pages) == 1
    lowest = min(run.foot for run in runs(raw) if run.foot > 60)
    assert lowest < 0.75 * SIZES[paper][1], "more than the head of it"


@pytest.mark.parametrize("name", EXAMPLES)
def test_very_long_names_leave_it_one_page(name, tmp_path):
    text = (PROJECTS / f"{name}.toml").read_text(encoding="utf-8")
    path = tmp_path / "long.toml"
    text = text.replace('name = "', f'name = "{"a very long name of a truck " * 6}', 1)
    path.write_text(text.replace('measure = "', f'measure = "{"by a very long way " * 8}'), encoding="utf-8")
    raw = pdf(sheet(open_project(path, ON), next_only=True), "letter")
    assert len(reader(raw).pages) == 1


@pytest.mark.parametrize("text", ["", HUB.format(5, 5)])
def test_a_project_just_made_has_one_too_and_it_begins_with_what_can_kill(truck, text):
    opened = truck(text)
    made_sheet = sheet(opened, next_only=True)
    assert len(reader(pdf(made_sheet)).pages) == 1
    assert "fitments.found.wheel.pieces" in {one.key for row in rows(made_sheet.blocks) for one in row.readings}


def test_it_asks_what_being_asked_asks_next():
    first = next_question(ask_state(opened_example("just-begun")))
    asked = {one.key for row in rows(example_sheet("just-begun", next_only=True).blocks) for one in row.readings}
    assert first is not None and set(first.question.keys) & asked


def test_where_nothing_is_open_it_has_what_is_to_be_read_again():
    made_sheet = example_sheet("county-road-4x4", next_only=True)
    better = {one.key: one.better for row in rows(made_sheet.blocks) for one in row.readings}
    assert better["axles.front.hub.pilot"] == better["axles.rear.hub.pilot"] == ONCE_MORE
    assert not [key for key in better if key.startswith("fitments.tall")], "nobody takes a candidate to the truck"


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({}, "everything the rules still need"),
        ({"next_only": True}, "next evening"),
        ({"everything": True}, "known or not"),
    ],
)
def test_each_says_what_it_is(name, asked, says):
    first = next(block for block in example_sheet(name, **asked).blocks if isinstance(block, Paragraph))
    assert says in first.text


# on paper and as text


def test_blanks_for_both_sides_stand_on_paper_and_in_plain_text(truck):
    made_sheet = sheet(truck(HUB.format(5, 5)))
    said = words(pdf(made_sheet))
    expected = sum(
        len(row.readings) * row.times * max(1, len(row.parts)) for row in rows(made_sheet.blocks) if row.sides
    )
    assert said.count("left right ±") + said.count("left right in") >= expected > 30
    plain = plain_text(made_sheet)
    assert "left __________ right __________ ± ________ in" in plain and "with a caliper: ± 0.005 in" in plain
    again = [line for line in plain.splitlines() if line.startswith("   again")]
    assert len(again) == sum(len(row.readings) for row in rows(made_sheet.blocks) if row.times == 2)
    assert max(map(len, plain.splitlines())) <= 80


def test_a_place_around_the_wheel_has_its_three_readings_in_a_row_for_each_side():
    made_sheet = example_sheet("county-road-4x4", everything=True)
    lines = sum(len(row.readings) * len(row.sides) for row in rows(made_sheet.blocks) if row.parts)
    plain = [line for line in plain_text(made_sheet).splitlines() if "forward ______" in line]
    assert len(plain) == lines > 20 and max(map(len, plain)) <= 80
    assert words(printed("county-road-4x4", "a4", everything=True)).count("forward outboard up in") == lines


def test_only_one_of_next_and_all_can_be_asked_for(truck, capsys, tmp_path):
    from planner.commands.print import run

    truck("")
    path = str(tmp_path / "truck.toml")
    with pytest.raises(SystemExit):
        run([path, "measuring", "--next", "--all", "--text"])
    assert run([path, "measuring", "--next", "--text"]) == 0
    assert "One page for the next evening" in capsys.readouterr().out


def test_nothing_left_is_one_plain_sentence(truck, monkeypatch):
    from planner.sheets.kinds import measuring

    monkeypatch.setattr(measuring, "wanted_readings", lambda subject: [])
    with pytest.raises(CannotPrint, match="nothing left to measure"):
        sheet(truck(""))
