"""Sheets as PDF, read back: what is on them, where, how large; hostile text, long words, the same bytes again."""

import re
from datetime import UTC, date, datetime
from itertools import product
from pathlib import Path

import pytest
from sheets.pdf_runs import pages, reader, runs, together, words

from planner.plan.answers.open_project import open_project
from planner.plan.drawings.scene import Chart, Dimension, Label, Line, Scene
from planner.project.diary_reading import diary_path
from planner.sheets.blocks import Caution, DrawingBlock, Fields, Heading, Paragraph, Rows, SignatureBox, TaskBlock, Tick
from planner.sheets.paper import MARGIN, SIZES, breakable, pdf, pictures
from planner.sheets.printing import put
from planner.sheets.text import text as plain_text

ON = date(2026, 11, 25)
COUNTY = Path(__file__).parents[2] / "projects" / "county-road-4x4.toml"
LINES = (Line(((0, 0), (0.2286, 0), (0.2286, 0.1), (0, 0.1)), closed=True),)
HOSTILE = [
    '#panic("x")',
    "$x$ $ integral $",
    "*b* _i_ `raw` <label> @ref = heading",
    "<script>alert(1)</script>",
    '"}],"blocks":[]',
    "// not a comment /* nor this */",
    "\\u{0} #sys.inputs",
]


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_text_is_printed_as_the_text_that_it_is(bare, hostile):
    raw = pdf(
        bare(
            Heading(hostile),
            Paragraph(hostile),
            Fields(((hostile, hostile),)),
            Rows((hostile,), ((hostile,),), (1,)),
            Caution(hostile),
            SignatureBox(hostile, (hostile,)),
            TaskBlock(hostile, (Tick("", note=hostile, record=hostile, range=hostile),), hostile, hostile),
            DrawingBlock(Scene(hostile, hostile, LINES, labels=(Label((0.1, 0), hostile),), legend=(("a", hostile),))),
            truck=hostile,
            banner=hostile,
            reasons=(hostile,),
        )
    )
    assert together(words(raw)).count(together(hostile)) >= 15


@pytest.mark.parametrize(
    ("wild", "tamed"),
    [
        ("bell \x07 escape \x1b[31m", "bell\\x07escape\\x1b[31m"),
        ("grin 😀 grin", "grin\\U0001f600grin"),
        ("漢字 wheel", "\\u6f22\\u5b57wheel"),
        ("turned \u202e round", "turned\\u202eround"),
        ("joined e\u0301 \u0301", "joinede"),
    ],
)
def test_what_no_font_has_or_what_would_hide_is_printed_as_a_visible_escape(bare, wild, tamed):
    assert tamed in together(words(pdf(bare(Paragraph(wild), Fields(((wild, wild),))))))


def test_right_to_left_text_is_printed_and_hides_nothing_beside_it(bare):
    raw = words(pdf(bare(Fields((("owner", "שלום"), ("wheel", "9 in"))))))
    assert "owner" in raw and "wheel" in raw and "9 in" in raw
    assert set("שלום") <= set(raw)


def test_a_very_long_word_breaks_and_nothing_passes_the_margins(bare):
    long = "W" * 400
    key = "fitments." + ".".join(["a_very_long_name_of_a_candidate"] * 8)
    blocks = (
        Heading(long),
        Paragraph(long),
        Fields(((long, key), (key, long))),
        Rows((long, key, "x"), ((key, long, long),), (1, 1, 6)),
        Caution(key),
        SignatureBox(long, (long, key)),
        TaskBlock(
            long, (Tick("front", note=key, torque=long, record=key, range=long, why=long, state="look again"),), key
        ),
        TaskBlock(long, (Tick("front", note=key, record=key, recorded=long, state="done", done=long),)),
        DrawingBlock(Scene(long, long, LINES, labels=(Label((0.1, 0), key, points_to=(0, 0)),), legend=((key, long),))),
        DrawingBlock(Chart(long, long, "mph", "rpm", ((long, ((0, 0), (9, 9))),), (Label((3, 3), key),))),
        DrawingBlock(Scene(long, long, missing=(key, long))),
    )
    for paper in ("a4", "letter"):
        wide = SIZES[paper][0]
        for kind in ("record", "checklist"):
            for run in runs(pdf(bare(*blocks, kind=kind, truck=long, banner=key, reasons=(long,)), paper)):
                assert run.left >= MARGIN - 1 and run.right <= wide - MARGIN + 1, run


@pytest.mark.parametrize(
    ("name", "paper"),
    [
        *product(("measuring", "order", "checklist"), ("a4", "letter")),
        ("record", "a4"),
        pytest.param("record", "letter", marks=pytest.mark.slow),
    ],
)
def test_no_sheet_of_a_real_truck_passes_its_margins(printed, name, paper):
    raw = printed(name, paper)
    wide, tall = SIZES[paper]
    page = reader(raw).pages[0].mediabox
    assert (float(page.width), float(page.height)) == pytest.approx((wide, tall), abs=1)
    for run in runs(raw):
        assert run.left >= MARGIN - 1 and run.right <= wide - MARGIN + 1 and 20 < run.foot < tall - 20, run


@pytest.mark.parametrize("name", ["measuring", "order", "wall", "checklist", "record"])
def test_every_page_says_which_it_is_of_how_many_and_whose(printed, name):
    raw = printed(name)
    texts = pages(raw)
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
        assert "County road truck, unit 14" in text and "sheet 7" in text and "2026-11-25" in text
        assert "Local codes and licensed practice come first" in text


def test_a_banner_stands_on_every_page(printed):
    raw = printed("order")
    assert all("NOT FOR ORDER" in page for page in pages(raw))


def test_the_same_sheet_gives_the_same_bytes_and_carries_the_moment_that_it_is_given(begun, sheet):
    one = sheet(begun, "measuring")
    printed = pdf(one)
    assert pdf(one) == printed
    at = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)
    assert reader(pdf(one, at=at)).metadata["/CreationDate"].startswith("D:20260314093000")
    assert reader(printed).metadata["/CreationDate"].startswith("D:20261125000000")


@pytest.mark.parametrize("name", ["measuring", "order", "wall", "checklist", "look", "record", "slip"])
def test_the_pdf_is_tagged_and_carries_title_and_language(printed, bare, name):
    changed = Rows(("what", "was", "is"), (("wheel.offset", "1 in", "2 in"),), (3, 1, 1))
    slip = bare(changed, kind="slip", slip=True, truck="County road truck")
    read = reader(printed(name) if name != "slip" else pdf(slip))
    root = read.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root
    assert str(root["/Lang"]).startswith("en")
    assert "sheet 7" in read.metadata.title and "County road truck" in read.metadata.title
    marks = root["/Metadata"].get_object().get_data().decode()
    assert "pdfuaid:part" in marks and "pdfaid:part" in marks


def test_every_task_stands_on_the_step_cards_once_and_in_large_type(county, printed):
    from planner.plan.work.task_list import work

    raw = printed("checklist")
    text = together(words(raw))
    titles = {item.task.title if item.task else item.title for item in work(county).items.values()}
    assert len(titles) > 60
    for title in titles:
        others = sum(together(title) in together(other) for other in titles if other != title)
        assert text.count(together(title)) == 1 + others, title
    small = [run for run in runs(raw) if run.size < 13.9 and 60 < run.foot < SIZES["a4"][1] - 70]
    on_first = {run.text for run in small if run.page == 0}
    assert {run.text for run in small} <= on_first | {"✓", "–"}, "only the head of the first page is smaller"


def test_a_phase_heading_never_stands_alone_at_the_foot_of_a_page(printed):
    by_page: dict[int, list] = {}
    for run in runs(printed("checklist")):
        by_page.setdefault(run.page, []).append(run)
    for several in by_page.values():
        lowest = min((run for run in several if run.foot > 60), key=lambda run: run.foot)
        assert lowest.size < 18, lowest


def test_a_page_that_goes_on_with_a_phase_says_so_in_its_head(printed):
    texts = pages(printed("checklist"))
    going_on = [re.match(r".*?2026-11-25 · ([A-Z][a-z ]+): \d+ tasks, \d+ done, continued", page) for page in texts]
    assert not going_on[0] and sum(map(bool, going_on)) > len(texts) / 2
    begun = ""
    for page, found in zip(texts, going_on, strict=True):
        assert not found or found[1] == begun
        heads = re.findall(r"([A-Z][a-z ]+): \d+ tasks, \d+ done(?!, continued)", page)
        begun = heads[-1] if heads else begun


def test_the_build_record_has_a_table_of_contents_that_names_the_right_pages(printed):
    raw = printed("record")
    texts = pages(raw)
    titles = "Figures|Flags|Decisions|Work|Parts and money|Facts, as they were entered"
    listed = dict(re.findall(rf"({titles}) ?\.[ .]*(\d+)", texts[1]))
    assert len(listed) == 6
    for title, number in listed.items():
        assert title in texts[int(number) - 1], (title, number)


def test_a_slip_stays_within_a_quarter_of_the_page(begun, sheet, bare):
    table = Rows(("what", "was", "is"), (("wheel.offset", "1 in", "2 in"),), (3, 1, 1))
    slip = bare(Paragraph("Changes to sheet 3."), table, kind="slip", slip=True)
    for paper in ("a4", "letter"):
        wide, tall = SIZES[paper]
        raw = pdf(slip, paper)
        assert len(reader(raw).pages) == 1 and "Page 1 of 1" in words(raw)
        for run in runs(raw):
            assert run.right < wide / 2 and run.foot > tall / 2


@pytest.mark.parametrize("few", [True, False])
def test_a_slip_of_a_few_changes_to_a_real_truck_stays_within_a_quarter_and_of_more_within_half(tmp_path, sheet, few):
    path = tmp_path / COUNTY.name
    for one in (COUNTY, diary_path(COUNTY)):
        (tmp_path / one.name).write_bytes(one.read_bytes())
    opened = open_project(path, ON)
    made = sheet(opened, "checklist", 40)
    put(opened, made, b"%PDF-1.7", tmp_path / "list.pdf")
    text = path.read_text(encoding="utf-8")
    for before, after in (
        (('torque = "110 ft·lb"', 'torque = "120 ft·lb"'),)
        if few
        else (
            ('torque = "110 ft·lb"', 'torque = "120 ft·lb"'),
            ('\nbackspace = "4 3/4 in ± 1/32 in"', '\nbackspace = "5 in ± 1/32 in"'),
        )
    ):
        assert before in text
        text = text.replace(before, after)
    path.write_text(text, encoding="utf-8")
    slip = sheet(open_project(path, ON), "slip", 41)
    said = together(plain_text(slip))
    assert "lookagain" in said and ("range415/16to" in said) is not few
    raw = pdf(slip)
    for run in runs(raw):
        assert run.right < SIZES["a4"][0] / (2 if few else 1) and run.foot > SIZES["a4"][1] / 2


def test_a_slip_that_has_more_to_say_grows_to_half_a_page_and_then_to_several(bare):
    def slip(rows: int):
        table = Rows(
            ("what", "was", "is"),
            tuple((f"figure{n} " + "of a wheel " * 6, "1 in", "2 in") for n in range(rows)),
            (3, 1, 1),
        )
        return pdf(bare(table, kind="slip", slip=True))

    half, many = runs(slip(19)), slip(120)
    assert max(run.right for run in half) > SIZES["a4"][0] / 2
    assert min(run.foot for run in half) > SIZES["a4"][1] / 2
    assert len(reader(many).pages) > 1
    assert together("figure119") in together(words(many))


def test_a_drawing_keeps_its_dimensions_and_shows_both_units(bare):
    scene = Scene(
        "wheel",
        "A wheel nine inches wide.",
        lines=LINES,
        dimensions=(Dimension((0, 0), (0.2286, 0), "9 in (228.6 mm)", -0.03),),
    )
    raw = pdf(bare(Heading("a drawing"), DrawingBlock(scene)))
    assert "9 in" in words(raw) and "228.6 mm" in words(raw)
    assert "A wheel nine inches wide" in _said_instead(raw)


def _said_instead(raw: bytes) -> str:
    """What a screen reader says in place of each picture."""
    read, found = reader(raw), []
    waiting = [read.trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        one = waiting.pop().get_object()
        if isinstance(one, list):
            waiting += one
        elif hasattr(one, "get"):
            found.append(str(one.get("/Alt", "")))
            waiting += [one["/K"]] if "/K" in one else []
    return " ".join(found)


def test_places_to_break_change_nothing_that_is_read():
    key = "fitments.tall.wheel.disc_inner_face"
    assert breakable(key) != key and breakable(key).replace("\u200b", "") == key
    assert breakable("short words stay as they are") == "short words stay as they are"
    pieces = breakable("x" * 200).split("\u200b")
    assert max(map(len, pieces)) <= 16


def test_headings_may_come_in_any_order(bare):
    raw = pdf(bare(Heading("deep", 3), Heading("less", 2), Heading("top"), Heading("deep again", 3)))
    assert all(text in words(raw) for text in ("deep", "less", "top", "deep again"))


def test_pages_can_be_had_as_pictures(begun, sheet):
    drawn = pictures(sheet(begun, "measuring"))
    assert len(drawn) > 2 and all(page.startswith(b"<svg") for page in drawn)
