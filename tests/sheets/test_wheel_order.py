"""The wheel order line by line: what is known stands there, nothing is invented, the drawings are true to scale."""

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from shapely import Polygon
from sheets.pdf_runs import runs

from planner.plan.answers.basis import basis_changes
from planner.plan.answers.open_project import open_project
from planner.plan.drawings.scene import Label
from planner.plan.work.order_lines import TRUCK, WHEEL
from planner.project.models.entry import entries
from planner.project.models.wheels import Wheel
from planner.sheets.blocks import Fields, Heading, Rows, SignatureBox
from planner.sheets.drafting import METER, SCALES, drafted
from planner.sheets.kind import Asked, kind_named
from planner.sheets.paper import MARGIN, SIZES, pdf
from planner.sheets.printing import made
from planner.sheets.shop_section import shop_section
from planner.sheets.text import text as plain_text

PROJECTS = Path(__file__).parents[2] / "projects"
COUNTY = re.sub(  # with nobody who buys yet, and no marking
    r"\n\[buyer\]\n.*\n.*\n|marking = .*\n", "", (PROJECTS / "county-road-4x4.toml").read_text(encoding="utf-8")
)
QUARRY = (PROJECTS / "quarry-flatbed.toml").read_text(encoding="utf-8")
BACKSPACE = 'backspace = "4 3/4 in ± 1/32 in"\nbore'
EXACT = 'backspace = "4 3/4 in"\nbore'
OWN = {  # what no formula reads, as it is entered, and what of it stands on the order
    "flange_height": ("0.69 in", "0.69 in"),
    "well_width": ("1 3/4 in", "1 3/4 in (44.5 mm)"),
    "well_position": ("3 3/4 in", "3 3/4 in"),
    "bead_seat_angle": ("5 deg", "5.0°"),
    "contour": ("J", "J"),
    "humps": ("both", "at both beads"),
    "rim_material": ("steel of a kind", "steel of a kind"),
    "disc_material": ("plate of a kind", "plate of a kind"),
    "welds": ("full weld, both sides", "full weld, both sides"),
    "vents": ("eight round holes", "eight round holes"),
    "face_flatness": ("0.010 in", "0.010 in"),
    "hole_diameter": ("0.70 in", "0.70 in"),
    "seat_diameter": ("1 1/8 in", "1 1/8 in"),
    "seat_depth": ("1/4 in", "1/4 in"),
    "valve_hole": ("0.453 in", "0.453 in"),
    "valve_radius": ("7 1/2 in", "7 1/2 in"),
    "valve_reach": ("1 1/4 in", "1 1/4 in"),
    "greatest_pressure": ("81 psi", "81.0 psi"),
    "radial_runout": ("0.031 in", "0.031 in"),
    "lateral_runout": ("0.045 in", "0.045 in"),
    "balance": ("2 oz at the edge", "2 oz at the edge"),
    "standard": ("the maker's own", "the maker's own"),
    "finish": ("gray powder", "gray powder"),
    "masked": ("face and seats", "face and seats"),
    "marking": ("W1 to W5", "W1 to W5"),
}
BUYER = '\n[buyer]\nname = "the owner"\naddress = "12 County Road 5"\nphone = "555 0100"\n'
ENTERED = "".join(f'{name} = "{written}"\n' for name, (written, _) in OWN.items())
FULL = COUNTY.replace(BACKSPACE, BACKSPACE.replace("bore", f"{ENTERED}bore")) + BUYER


def opened_at(path: Path, text: str):
    path.write_text(text, encoding="utf-8")
    return open_project(path, date(2026, 11, 25))


def order(opened):
    return made(opened, kind_named("order"), Asked(), date(2026, 11, 25), 7)


def lines(sheet):
    """By what each line is called what is ordered; of what the truck has, what it has in front."""
    return {row[0]: row[1] for block in sheet.blocks if isinstance(block, Rows) for row in block.rows}


def dished(backspace: str) -> str:
    return COUNTY.replace(BACKSPACE, BACKSPACE.replace("4 3/4 in", backspace))


@pytest.fixture(scope="module")
def truck(tmp_path_factory):
    """A truck of this text, each opened once: nothing here changes one."""
    return cache(lambda text: opened_at(tmp_path_factory.mktemp("truck") / "truck.toml", text))


# what stands in it


def test_a_wheel_entered_whole_leaves_nothing_for_anybody_to_propose(truck):
    sheet = order(truck(FULL))
    told = lines(sheet)
    for name, (_, shown) in OWN.items():
        assert any(shown in text for text in told.values()), name
    assert "to propose" not in "".join(told.values()) and "to fill in" not in "".join(told.values())
    fields = dict(row for block in sheet.blocks if isinstance(block, Fields) for row in block.rows)
    assert fields["buyer"] == "the owner" and fields["address"] == "12 County Road 5"
    assert fields["phone, e-mail"] == "555 0100" and fields["quantity, this order alone"].startswith("5 ")


def test_every_entry_of_a_wheel_has_its_line_on_the_order():
    nodes = {line.source.removeprefix("wheel.") for group in WHEEL for line in group.lines}
    names = {"description": "", "mass": "", "barrel_thickness": "thickness", "rim_diameter": "rim_diameter_code"}
    called = {"bore": "wheel_bore", "stud_count": "wheel_stud_count", "stud_circle": "wheel_stud_circle"}
    called |= {"seat": "wheel_seat", "seat_angle": "wheel_seat_angle", "seat_ball_radius": "wheel_ball_radius"}
    called |= {"load_rating": "wheel_load_rating", "pieces": "rim_pieces", "tubeless": "rim_tubeless"}
    called |= {"contour": "rim_contour"} | names
    wanted = {called.get(name, name) for name in entries(Wheel)} - {""}
    assert wanted <= nodes


@pytest.mark.parametrize("name", sorted(OWN))
def test_what_nobody_entered_is_marked_for_whom_to_say_and_never_invented(truck, name):
    if name in ("masked", "radial_runout", "lateral_runout", "seat_ball_radius"):
        return  # what the sheet asks of every wheel stands there
    written, shown = OWN[name]
    told = lines(order(truck(FULL.replace(f'{name} = "{written}"\n', ""))))
    assert not [text for text in told.values() if text == shown]
    assert sum("maker to propose" in text or "buyer to fill in" in text for text in told.values()) == 1


def test_what_is_only_assumed_is_not_ordered(truck):
    told = lines(order(truck(COUNTY)))  # a flange of 17.5 mm is reckoned with, and nobody asked for one
    assert told["flange, height over the bead seat"] == "________ maker to propose"


def test_a_line_without_a_tolerance_of_its_own_says_the_general_one(truck):
    told = lines(order(truck(COUNTY)))
    assert told["width between the flanges, at the bead seats"] == "9 in (228.6 mm), ± 1/32 in (0.8 mm)"
    assert told["angle of the cone, included"] == "60.0°, ± 0.5°"
    assert told["center bore"] == "5.150 in ± 0.005 in (130.81 mm ± 0.13 mm)"
    assert told["radial runout, at both bead seats"] == "no more than 0.030 in (0.75 mm), full swing of the needle"


def test_a_backspace_judged_as_exact_is_not_for_order(truck):
    """Its room may be less than the 1/32 in that the sheet lets the maker be off by."""
    (said,) = [one for one in order(truck(COUNTY.replace(BACKSPACE, EXACT))).reasons if one.startswith("no ± for")]
    assert said.startswith("no ± for the backspace (tall): the room is worked out as if it came out exact")
    assert said.endswith("such as ± 1/32 in (0.8 mm)")
    assert not [one for one in order(truck(COUNTY)).reasons if one.startswith("no ± for")]


def test_what_cannot_be_judged_yet_is_told_in_words(truck):
    reasons = order(truck(COUNTY.replace('seat_angle = "60 deg"\n', ""))).reasons
    (said,) = [one for one in reasons if one.startswith("can't be judged yet: ")]
    assert "cone seats of nut and wheel differ in angle. Enter " in said and "wheel." not in said


def test_a_dimension_is_never_rounded_to_another(truck):
    odd = COUNTY.replace('rim_width = "9 in"', 'rim_width = "9 3/64 in"').replace(
        'disc_thickness = "3/8 in"', 'disc_thickness = "0.3753 in"'
    )
    told = lines(order(truck(odd)))
    assert told["width between the flanges, at the bead seats"].startswith("9 3/64 in (")
    assert told["thickness at the studs"].startswith("0.3753 in (")


def test_what_follows_from_others_has_no_more_tolerance_than_they_leave_it(truck):
    # 4 3/4 in ± 1/32 less half of 9 in, less a flange of 1/2 in: -1/4 in, ± 0.03125 in and 0.79375 mm, not rounded up
    text = lines(order(truck(COUNTY)))
    offset = next(told for label, told in text.items() if label.startswith("offset"))
    assert offset == "-0.250 in ± 0.031 in (-6.35 mm ± 0.79 mm), follows from the backspace"
    # the flat bed's wheel is entered by its offset: 5 3/8 + 7 1/2 / 2 + 1/2 = 9.625 in
    text = lines(order(truck(QUARRY)))
    assert next(told for label, told in text.items() if label.startswith("backspace")).startswith("9.625 in ± 0.015 in")


def test_how_many_are_ordered_is_what_is_not_there_yet(truck):
    def quantity(text):
        sheet = order(truck(text))
        return next(row[1] for b in sheet.blocks if isinstance(b, Fields) for row in b.rows if "quantity" in row[0])

    arrived = 'state = "arrived"\nlead_time = "9 weeks"'
    assert quantity(COUNTY) == "5 (5 came 2026-10-16)"
    one_more = '\n[[parts]]\nid = "wheels_more"\nquantity = 2\nused_for = ["tall"]\n'
    assert quantity(COUNTY + one_more) == "2 (5 came 2026-10-16)"
    wanted = COUNTY.replace(arrived, 'lead_time = "9 weeks"')
    assert quantity(wanted + one_more) == "7 (5 wheels, 2 wheels_more)"
    assert "spare counts too" in quantity(QUARRY)


def test_wheels_that_differ_by_end_are_two_orders_on_one_sheet_each_with_its_number(truck):
    both = COUNTY.replace(
        "[fitments.tall.wheel]", '[fitments.tall.rear.wheel]\nbackspace = "5 in"\n\n[fitments.tall.wheel]'
    )
    said = plain_text(order(truck(both)))
    assert "The front wheels" in said and "The rear wheels" in said
    assert said.count("2 (of 5 in the parts list") == 2
    assert "4 3/4 in ± 1/32 in" in said and "5 in (127.0 mm), ± 1/32 in" in said


def test_the_hubs_circle_is_told_by_its_readings_and_whether_there_are_two(truck):
    told = lines(order(truck(COUNTY)))
    assert "front stud outer edge spacing 7.166 in ± 0.003 in" in told["front"] and told["front"].endswith("read twice")
    one = COUNTY.replace('adjacent_spacing = "3 13/16 in ± 1/64 in"\n', "")
    assert one != COUNTY
    assert lines(order(truck(one)))["rear"].endswith("read only once")


def test_a_circle_that_only_a_plate_gives_was_not_measured_and_nothing_is_ordered_by_it(truck):
    ways = re.compile(r"^(adjacent_spacing|skip_spacing|skip|outer_edge_spacing|outer_edge_skip) = .*\n", re.M)
    studs = COUNTY.index("[axles.rear.studs]")
    text = COUNTY[:studs] + '[axles.rear.studs]\ncircle = "7 5/8 in"\n' + ways.sub("", COUNTY[studs + 19 :])
    sheet = order(truck(text))
    assert any("bolt circle, rear" in reason for reason in sheet.reasons if reason.startswith("measured only once"))
    assert lines(sheet)["rear"] == "off a drawing or plate, 7 5/8 in"


def test_it_says_for_order_only_where_nothing_speaks_against_it(truck):
    # The flat bed has nothing open but the second readings.
    assert order(truck(QUARRY)).banner == "NOT FOR ORDER" and "For order" not in headings(order(truck(QUARRY)))
    twice = QUARRY
    for key in ('obstacles."front spring pack".at', 'obstacles."rear spring pack".at'):
        ahead, inboard, up = ("-6", "-22", "4") if "front" in key else ("-7", "-13 1/2", "3")
        point = "[" + ", ".join(f'"{one} in ± 1/8 in"' for one in (ahead, inboard, up)) + "]"
        twice += "".join(reading(key, point, by) for by in ("owner", "neighbor"))
    for axle in ("front", "rear"):
        key = f"axles.{axle}.hub.pilot"
        twice += "".join(reading(key, '"6.500 in ± 0.005 in"', by) for by in ("owner", "neighbor"))
    ready = order(truck(twice))
    assert not ready.banner and not ready.reasons and headings(ready)[0] == "For order"
    once = twice.replace('by = "neighbor"', 'by = "owner"', 1)  # the same again is no second reading
    assert order(truck(once)).banner == "NOT FOR ORDER" and "For order" not in headings(order(truck(once)))
    broken = order(truck(twice.replace('mass = "74 lb"', 'mass = "heavy"')))
    assert broken.banner == "NOT FOR ORDER" and "For order" not in headings(broken)


def reading(key: str, value: str, by: str) -> str:
    return f"\n[[readings]]\nof = '{key}'\nvalue = {value}\nby = \"{by}\"\n"


def headings(sheet):
    return [block.text for block in sheet.blocks if isinstance(block, Heading)]


def test_an_order_is_out_of_date_when_what_no_formula_reads_is_another(truck):
    rested_on = order(truck(FULL)).rested_on
    assert not basis_changes(truck(FULL), rested_on)
    gone = basis_changes(truck(FULL.replace("gray powder", "red powder")), rested_on)
    assert [(one.name, one.then, one.now) for one in gone] == [("tall set's wheel finish", "gray powder", "red powder")]
    assert "buyer.address" in {one.name for one in basis_changes(truck(FULL.replace("Road 5", "Road 6")), rested_on)}


# how it is drawn

DISHES = ["4 3/4 in", "1 in", "-2 in", "9 1/4 in", "12 in"]


def in_meters(text: str) -> float:
    """What a dimension says, by its millimeters: they stand in brackets behind the inches."""
    return float(re.search(r"\((-?[\d.]+) mm", text)[1]) / 1000


@pytest.mark.parametrize(
    ("text", "axle"), [*((dished(one), "front") for one in DISHES), (QUARRY, "front"), (QUARRY, "rear"), (FULL, "rear")]
)
def test_each_dimension_is_drawn_as_long_as_it_says(truck, text, axle):
    opened = truck(text)
    scene = shop_section(opened, opened.planned[0], axle)
    assert len(scene.dimensions) >= 5
    for one in scene.dimensions:
        level = abs(one.end[0] - one.start[0]) > abs(one.end[1] - one.start[1])
        drawn = abs(one.end[0] - one.start[0]) if level else abs(one.end[1] - one.start[1])
        whole = 2 * drawn if "Ø" in one.text else drawn
        assert whole == pytest.approx(abs(in_meters(one.text)), abs=6e-5), one.text


@pytest.mark.parametrize("wide", [SIZES["a4"][0] - 2 * MARGIN, SIZES["letter"][0] - 2 * MARGIN])
@pytest.mark.parametrize("text", [*map(dished, DISHES), QUARRY, FULL], ids=[*DISHES, "pair", "full"])
def test_a_drawing_has_a_round_scale_and_keeps_it_on_paper(truck, text, wide):
    opened = truck(text)
    scene = shop_section(opened, opened.planned[0], "rear")
    drawing = drafted(scene, wide, 360, scaled=True)
    to = float(re.search(r", scale 1:([\d.]+)$", drawing["title"])[1])
    assert to in SCALES and to <= 10
    assert drawing["wide"] <= wide and drawing["tall"] <= 360
    rim = next(line for line in drawing["lines"] if line["cut"])["points"]  # 10 in over its flanges, or 8 1/2 in
    across = (max(x for x, _ in rim) - min(x for x, _ in rim)) / METER * to
    assert across == pytest.approx((8.5 if text is QUARRY else 10.0) * 0.0254, rel=1e-6)


@pytest.mark.parametrize("text", [*map(dished, DISHES), QUARRY], ids=[*DISHES, "pair"])
def test_no_text_of_a_deep_dish_or_a_pair_lies_on_another(truck, text):
    opened = truck(text)
    drawing = drafted(shop_section(opened, opened.planned[0], "rear"), 505, 360, scaled=True)
    boxes = [(t["x"], t["y"], t["x"] + t["wide"], t["y"] + t["tall"], t["lines"]) for t in drawing["texts"]]
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            across, down = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
            assert across < 1 or down < 1, (one[4], other[4])


@pytest.mark.parametrize("text", [*map(dished, DISHES)], ids=DISHES)
def test_the_disc_of_any_dish_reaches_the_rim_and_stays_inside_it(truck, text):
    rim, disc = (Polygon(line.points) for line in shop_section(truck(text), "tall", "front").lines if line.cut)
    assert disc.is_valid and disc.distance(rim) < 1e-9
    assert disc.intersection(rim).area < 0.02 * disc.area
    touching = disc.buffer(1e-6).intersection(rim.boundary).length
    assert touching > 0.007, "as wide as the disc is thick, not at a corner alone"  # 3/8 in is 9.5 mm


# on paper


@pytest.fixture(scope="module")
def printed_pages(truck):
    long = FULL.replace("gray powder", "powder coat of many coats " * 12).replace(
        "12 County Road 5", "a long road " * 20
    )
    both = FULL.replace(
        "[fitments.tall.wheel]", '[fitments.tall.rear.wheel]\nbackspace = "5 in"\n\n[fitments.tall.wheel]'
    )
    found = []
    for name, text in (("county", COUNTY), ("full", FULL), ("long", long), ("both", both), ("quarry", QUARRY)):
        sheet = order(truck(text))
        for paper in ("a4", "letter"):
            found.append((f"{name} on {paper}", sheet, paper, runs(pdf(sheet, paper))))
    return found


def by_page(found):
    pages: dict[int, list] = {}
    for run in found:
        pages.setdefault(run.page, []).append(run)
    return pages


def test_a_table_of_the_order_never_leaves_a_row_alone_on_a_page(printed_pages):
    for name, sheet, _, found in printed_pages:
        said = " ".join("".join(run.text for run in page) for page in by_page(found).values()).replace("\u200b", "")
        tables = [block for block in sheet.blocks if isinstance(block, Rows)]
        for heads in {block.heads for block in tables}:
            # On a page to which a table goes on its heads come again: once for each table, and none goes on.
            told = "".join(heads).replace(" ", "")
            assert said.replace(" ", "").count(told) == sum(block.heads == heads for block in tables), (name, heads)


def test_a_table_that_fits_no_page_goes_on_and_loses_nothing(bare):
    table = Rows(("what", "as built"), tuple((f"line{n}", "") for n in range(120)), (3, 1), together=True)
    said = " ".join(run.text for run in runs(pdf(bare(table))))
    assert all(f"line{n}" in said for n in range(120))


def test_the_pages_of_an_order_are_filled(printed_pages):
    for name, _, paper, found in printed_pages:
        pages = by_page(found)
        body = SIZES[paper][1] - 62 - 74
        for number in sorted(pages)[:-1]:
            lowest = min(run.foot for run in pages[number] if run.foot > 76)
            assert lowest - 74 < 0.3 * body, f"{name}, page {number + 1}: {lowest - 74:.0f} of {body:.0f} pt empty"


def test_there_is_a_place_to_sign_at_the_foot_of_each_page(printed_pages):
    for name, _, _, found in printed_pages:
        for number, page in by_page(found).items():
            foot = " ".join(run.text for run in page if run.foot < 74)
            assert "maker, this page read" in foot and "buyer" in foot and "date" in foot, (name, number)


def test_the_plain_text_has_every_line_and_the_places_to_sign(truck):
    sheet = order(truck(FULL))
    said = " ".join(plain_text(sheet).split())
    for group in WHEEL:
        assert group.title in said
    assert said.count("as built") == len(WHEEL) and "maker, this page read: ____" in said
    assert any(isinstance(block, SignatureBox) for block in sheet.blocks)


def test_both_faces_of_a_pair_give_the_same_picture(truck):
    # 5 3/8 in from the hub's face is 5 13/16 in from the one between the discs, 7/16 in further out
    pair, face = "[fitments.wide.rear.pair]", 'offset = "5 13/16 in ± 1/64 in"\noffset_face = "disc"'
    disc = QUARRY.replace(pair, f"[fitments.wide.rear.wheel]\n{face}\n\n{pair}")
    hub, other = (shop_section(truck(text), "wide", "rear") for text in (QUARRY, disc))
    assert [line.points for line in hub.lines if line.cut] == [
        tuple(pytest.approx(spot) for spot in line.points) for line in other.lines if line.cut
    ]
    assert not [one for one in other.labels if isinstance(one, Label) and "face on the hub" in one.text]
    assert {line.source for line in TRUCK} >= {"dual_spacing", "pair_held_by"}
