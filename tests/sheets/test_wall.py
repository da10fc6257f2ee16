"""The wall sheet: letters as high as the distance asks for, a phase a page, a line a task, nothing known left blank."""

import tomllib
from datetime import date
from functools import cache
from math import radians, tan
from pathlib import Path

import pytest
from sheets.pdf_runs import capitals, pages, reader, rules, runs, together, words

from planner.plan.answers.open_project import open_project
from planner.plan.answers.stage_words import all_to_mind
from planner.plan.work.task_list import work
from planner.project.change_kinds import KINDS
from planner.quantities.show import Style
from planner.sheets.blocks import ReadFrom, WallPhase
from planner.sheets.kind import Asked, CannotPrint, kind_named
from planner.sheets.paper import FONTS, SIZES, pdf
from planner.sheets.printing import made
from planner.sheets.reading_distance import fitted, read_distance
from planner.sheets.text import text
from planner.tasks.kind import MOST_LABEL, MOST_LETTERS, PHASES, WORST
from planner.tasks.sequence import standing

PROJECTS = Path(__file__).parents[2] / "projects"
ON = date(2026, 11, 25)
MM = 72 / 25.4  # pt


@cache
def wall_of(name):
    return made(open_project(PROJECTS / f"{name}.toml", ON), kind_named("wall"), Asked(), ON, 7)


@cache
def printed_wall(name, paper="a4"):
    return pdf(wall_of(name), paper)


def phases(sheet):
    return [block for block in sheet.blocks if isinstance(block, WallPhase)]


def tasks(sheet):
    return [task for phase in phases(sheet) for task in phase.tasks]


def task(sheet, title):
    return next(one for one in tasks(sheet) if one.title == title)


def said(one):
    return [" ".join(f"{piece.says}{' ____' if piece.blank else ''}" for piece in line) for line in one.lines]


def body(raw, paper="a4", across=False):
    """What stands between head and foot."""
    tall = SIZES[paper][0 if across else 1]
    return [run for run in runs(raw) if 47 < run.foot < tall - 47]


# words


def test_every_standing_task_is_said_on_the_wall_in_34_letters_at_most():
    told = [one.short for one in standing()] + [step.short for kind in KINDS for step in kind.steps]
    assert len(standing()) > 90 and all(told)
    assert [short for short in told if len(short) > 34] == [] and MOST_LETTERS == 34
    assert [short for short in told if not short[0].isupper() or short.endswith(".")] == []
    for phase in PHASES:
        several = [one.short for one in standing() if one.phase == phase]
        assert len(set(several)) == len(several), "two lines of a page that can't be told apart"


def test_every_value_to_record_has_a_label_for_the_wall():
    labels = [one.records.short for one in standing() if one.records is not None]
    assert all(labels) and max(map(len, labels)) <= MOST_LABEL == 14


def test_each_phase_has_one_caution_of_two_lines_at_most():
    assert tuple(WORST) == PHASES and max(map(len, WORST.values())) <= 2 * MOST_LETTERS


# letters


@pytest.mark.parametrize(
    ("distance", "millimeters", "paper", "across"),
    [
        ("2 ft", 609.6, "a4", False),
        ("4 ft", 1219.2, "a4", False),
        ("4 ft", 1219.2, "letter", False),
        ("1.2 m", 1200.0, "a4", False),
        ("1.5 m", 1500.0, "a4", True),
        ("5.5 ft", 1676.4, "letter", True),
        ("4 ft", 1219.2, "a3", True),
        ("6 ft", 1828.8, "a3", False),
        ("9 ft", 2743.2, "tabloid", True),
    ],
)
def test_capitals_are_as_high_as_the_distance_asks_for(begun, sheet, distance, millimeters, paper, across):
    # NUREG-0700 rev. 2, 1.3.1-4: height = 6.283 x distance x minutes of arc / 21600; 16 at the least, 24 at the most
    least, most = (6.283 * millimeters * minutes / 21600 for minutes in (16, 24))
    raw = pdf(sheet(begun, "wall", distance=distance), paper)
    high = capitals(raw)
    assert set(high) >= {"SourceSansPro-Bold", "SourceSansPro-Regular"}
    lowest = min(tall for name, tall in high.items() if name.startswith("SourceSans"))
    on_page = [run for run in body(raw, paper, across) if run.text.strip()]
    assert min(run.size for run in on_page) * lowest / MM >= least
    tasks_are = [run.size for run in on_page if run.text.startswith("Park") or run.text.startswith("Level")]
    assert tasks_are and max(tasks_are) * lowest / MM <= most
    page = reader(raw).pages[0].mediabox
    assert (page.width > page.height) == across
    assert all(f"Read it from {distance}." in one for one in pages(raw))


def test_a_capital_at_two_meters_is_nine_point_three_millimeters():
    laid = fitted(ReadFrom("2 m", 2.0), "a3", SIZES["a3"])
    assert laid.letters * 0.652 / MM >= 9.3  # 16 minutes at 2 m: 9.31 mm


@pytest.mark.parametrize(("system", "usual"), [("inch", ("4 ft", 1.2192)), ("metric", ("1.2 m", 1.2))])
def test_the_usual_distance_is_in_the_persons_units(system, usual):
    assert read_distance("", Style(system)) == usual


def test_a_distance_is_read_as_any_length_is():
    inch, metric = Style("inch"), Style("metric")
    assert read_distance("4", inch).meters == pytest.approx(1.2192)
    assert read_distance("1.5", metric).meters == 1.5
    assert read_distance("5 ft 6 in", inch).meters == pytest.approx(1.6764)
    assert read_distance("4 ft ± 1 ft", inch).meters == pytest.approx(1.524), "it is read from the far end too"
    for bad in ("0", "0 ft", "-1 ft", "1 ft", "4 kg", "across the shop", "9" * 500):
        with pytest.raises(CannotPrint, match="distance: read"):
            read_distance(bad, inch)


def test_a_paper_that_is_too_small_says_how_far_it_reaches():
    with pytest.raises(CannotPrint, match=r"A4 can be read from 6\.2 ft \(1\.9 m\) at most, A3 and tabloid further"):
        fitted(ReadFrom("1 mile", 1609.0), "a4", SIZES["a4"])
    # long side 841.89 - 56.7 pt, over 20.3 letters' sizes, capitals 0.65 of that: 25.1 pt or 8.87 mm
    assert 8.87e-3 / tan(radians(16 / 60)) == pytest.approx(1.906, abs=0.001)


# pages


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["county-road-4x4", "quarry-flatbed", "forestry-4x4", "just-begun"])
def test_each_page_has_one_phase_with_its_caution_at_the_head(name, paper):
    sheet, raw = wall_of(name), printed_wall(name, paper)
    begun, large = [], 1.4 * min(run.size for run in body(raw, paper))
    for page, told in enumerate(pages(raw)):
        (head,) = {run.text for run in runs(raw) if run.page == page and run.size > large}
        phase = next(one for one in phases(sheet) if one.name == head)
        assert phase.caution and together(phase.caution) in together(told)
        begun.append(head)
        assert ("continued" in told) == (head in begun[:-1])
    assert list(dict.fromkeys(begun)) == [one.name for one in phases(sheet)]
    for run in runs(raw):
        assert run.left >= 28 and run.right <= SIZES[paper][0] - 28, run


@pytest.mark.parametrize("paper", ["a3", "tabloid"])
def test_a_large_paper_has_two_phases_side_by_side(paper):
    raw = printed_wall("county-road-4x4", paper)
    both = [page for page in pages(raw) if "Decide" in page and "Order" in page]
    assert both and len(pages(raw)) < len(pages(printed_wall("county-road-4x4")))


@pytest.mark.parametrize("name", ["county-road-4x4", "quarry-flatbed"])
def test_a_task_of_the_list_is_one_line(name):
    lines: dict[tuple[int, int], str] = {}
    for run in runs(printed_wall(name)):
        key = run.page, round(run.foot)
        lines[key] = lines.get(key, "") + together(run.text)
    shorts = {one.short for one in standing()}
    listed = [one.title for one in tasks(wall_of(name)) if one.title in shorts]
    assert len(listed) > 60
    for title in listed:
        assert any(together(title) in line for line in lines.values()), title


def test_every_task_is_on_the_wall_with_a_box_for_each_end(county, sheet):
    items = list(work(county).items.values())
    made = sheet(county, "wall")
    whole = sum(len([box for box in one.boxes if box.side != "R"]) for one in tasks(made))
    assert whole == len(items) > 100
    assert sum(one.hold for one in tasks(made)) == sum(one.hold for one in items)
    nuts = task(made, "Wheels on: by hand, star, 3 stages")
    assert [(box.end, box.side) for box in nuts.boxes] == [("Fr", "L"), ("Fr", "R"), ("Rr", "L"), ("Rr", "R")]
    studs = task(made, "Measure the bolt circle two ways")
    assert [(box.end, box.side) for box in studs.boxes] == [("Fr", ""), ("Rr", "")]


def test_300_tasks_of_ones_own_with_long_names_are_all_there(truck, sheet):
    long = "and once more all the way around " * 9
    more = {0: long, 1: "W" * 90}
    own = "".join(
        f'[[tasks]]\nid = "own.t{n}"\ntitle = "job {n:03}. {more.get(n % 10, "")}"\nphase = "{PHASES[n % 11]}"\n'
        for n in range(300)
    )
    opened = truck(f'[vehicle]\nname = "{"A name as long as a sheet is wide " * 9}"\n{own}')
    raw = pdf(sheet(opened, "wall"))
    told = words(raw)
    assert all(f"Job {n:03}." in told for n in range(300))
    assert all(run.right <= SIZES["a4"][0] - 28 and 20 < run.foot < SIZES["a4"][1] - 20 for run in runs(raw))
    assert "…" in told, "the rest of a very long name is on its card"


# lines


def test_what_is_known_is_never_blank(county, sheet):
    made = sheet(county, "wall")
    assert said(task(made, "Wheels on: by hand, star, 3 stages")) == [
        "torque 110 lbf·ft",
        "clicked at Fr ____ Rr ____ 106 to 114 lbf·ft",  # 4 % to either side of 110
    ]
    assert said(task(made, "Measure wheelbase, heights, width")) == ["L minus R: 1/8 in"]
    assert said(task(made, "Get stands rated for the axle")) == [
        "rating Fr ____ at least 3500 lb",
        "rating Rr ____ at least 4900 lb",
    ]
    assert said(task(made, "Copy all the plates")) == []


def test_what_is_not_known_yet_is_said_without_a_key(truck, sheet):
    made = sheet(truck(""), "wall")
    wheels = said(task(made, "Wheels on: by hand, star, 3 stages"))
    assert wheels == ["torque not known yet", "clicked at Fr ____ Rr ____ range not known yet"]
    assert "axles." not in text(made)


def test_what_has_to_be_done_first_under_a_later_phase_is_said(truck, sheet):
    made = sheet(truck('[fitments.found.wheel]\npieces = "multi"\n'), "wall")
    air = said(task(made, "All air out, cores out: then nuts"))
    assert air[0].startswith("First, under Measure: Weigh each axle, loaded to go, and"), "it won't roll after that"
    first = "First, under"
    others = [one.title for one in tasks(made) if any(line.startswith(first) for line in said(one))]
    assert others == ["All air out, cores out: then nuts"]


def test_a_hold_point_has_room_for_initials_and_date_until_it_is_signed(county, sheet):
    made = sheet(county, "wall")
    signed, open_ = task(made, "Read the local code; sign it off"), task(made, "Clear every stop, sign the plan")
    assert signed.closed and signed.signed == "Signed, 2026-07-12" and not open_.signed
    shown = text(made)
    assert shown.count("initials ____") == sum(one.hold and not one.closed for one in tasks(made))


def test_what_was_done_dropped_or_wants_another_look_is_said(truck, sheet):
    records = """
[[tasks]]
id = "safe.chock"
state = "dropped"
because = "it stands in a pit"
[[tasks]]
id = "measure.brake.front"
state = "look again"
because = "the drum was turned"
[[tasks]]
id = "fit.brakes"
state = "done"
recorded = "the brake shop: linings, hoses, and the front drums turned, which took a week longer than they said"
"""
    made = sheet(truck(records), "wall")
    assert task(made, "Level ground; chock it both ways").boxes[0].state == "dropped"
    assert said(task(made, "Level ground; chock it both ways")) == ["dropped"]
    assert said(task(made, "Measure the brake: radius and face")) == ["Fr LOOK AGAIN"]
    (brakes,) = said(task(made, "Do the brake work that was asked"))
    assert brakes.startswith("who, what: the brake shop: linings") and len(brakes) < 80


@pytest.fixture
def newer(tmp_path):
    """A project with what came with the second format."""

    def write(text):
        path = tmp_path / "truck.toml"
        path.write_text(f"format = 2\n{text}", encoding="utf-8")
        return open_project(path, ON)

    return write


STOP = """
[axles.front.hub]
pilot = "5 in ± 0.001 in"
[fitments.new.wheel]
bore = "4.900 in ± 0.001 in"
"""


def test_a_raised_stop_stands_at_the_head_of_each_page_without_the_name_of_its_rule(truck, sheet):
    made = sheet(truck(f'[plan]\nchosen = "new"\n{STOP}'), "wall")
    assert made.banner == "STOP RAISED"
    for page in pages(pdf(made)):
        assert "STOP RAISED. " in page and "wheel.bore" not in page


STAGES = """
[axles.front]
ratio = 4.10
driven = true
[axles.rear]
ratio = 4.10
driven = true
[drivetrain]
part_time = true
[use]
locked_on_hard_road = true
[fitments.found.tire]
rolling_circumference = "2500 mm"
construction = "bias"
[fitments.tall.tire]
rolling_circumference = "2750 mm"
construction = "radial"
[plan]
chosen = "tall"
[[plan.stages]]
name = "rear first"
rear = "tall"
"""


def test_of_what_to_mind_at_a_stage_the_wall_says_how_much_and_the_worst(newer, sheet):
    opened = newer(STAGES)
    (stage,) = [one.stage for one in work(opened).items.values() if one.stage is not None]
    minded = all_to_mind(opened, stage)
    (told,) = said(task(sheet(opened, "wall"), "Look it over, sign stage 'rear first'"))
    assert len(minded) > 1 and "the rest is on its card" in told
    assert told.startswith(f"Watch out for {len(minded)} thing") and minded[0][:40] in told


def test_the_work_of_a_change_says_of_which_change_it_is(newer, sheet):
    new = '[plan]\nchosen = "new"\n[fitments.new.wheel]\nrim_width = "7 in"\n'
    made = sheet(newer(new + '[[changes]]\nkind = "gear set"\nname = "lower gears"\nstate = "decided"\n'), "wall")
    assert said(task(made, "Run the new gears in, easy")) == ["lower gears"]


# room for a hand


@pytest.mark.parametrize("kind", ["wall", "checklist"])
def test_blanks_for_who_and_when_are_wide_and_tall_enough_for_a_hand(begun, sheet, kind):
    raw = pdf(sheet(begun, kind))
    texts = runs(raw)
    names = [run for run in texts if run.text.strip() in ("Initials", "Signed")]
    assert len(names) == sum(one.hold for one in work(begun).items.values())
    for name in names:
        line = min(
            (
                one
                for one in rules(raw)
                if one.page == name.page and one.left > name.left and abs(one.at - name.foot) < 9
            ),
            key=lambda one: one.left,
        )
        assert line.right - line.left >= 60 * MM, "60 mm for a name"
        over = [
            run.foot - line.at
            for run in texts
            if run.page == line.page and run.left < line.right and run.right > line.left and run.foot > line.at + 9
        ]
        assert min(over) >= 8 * MM, "8 mm for a hand"


# files


def test_the_sans_serif_stands_beside_its_license():
    assert {path.name for path in FONTS.iterdir()} == {
        "LICENSE.txt", "SourceSansPro-Bold.ttf", "SourceSansPro-Regular.ttf",
    }  # fmt: skip
    built = tomllib.loads((PROJECTS.parent / "pyproject.toml").read_text())["tool"]["setuptools"]["package-data"]
    assert built["planner.sheets"] == ["fonts/*"], "in the wheel too"
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONTS / "LICENSE.txt").read_text(encoding="utf-8")
