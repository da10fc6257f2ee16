"""docs/guide.md: its commands run one after the other and print what it quotes; its pictures are the made ones."""

import re

import pytest
from reference import screen_pictures, sheet_pictures
from reference.guide_run import GUIDE, ROOT, anew, pieces, told

DOCS = ROOT / "docs"
PICTURE = re.compile(r"\]\((?:docs/)?(pictures/[\w.-]+)\)")
REMAKE = "in tests/ run: python -m reference.guide_run"


GUIDE_TEXT = GUIDE.read_text(encoding="utf-8")
BEGINNING = GUIDE_TEXT.partition("cp projects/")[0].rpartition("```sh")[0]  # of a truck that has nothing to sweep yet


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(BEGINNING, marks=pytest.mark.shortened, id="the beginning"),
        pytest.param(GUIDE_TEXT, marks=pytest.mark.slow, id="all of it"),
    ],
)
def test_every_command_runs_and_prints_what_is_quoted(text):
    blocks = told(text)
    assert blocks
    for said, block in blocks:
        assert said is not None, f"no command stands before:\n{block}"
        at = 0
        for piece in pieces(block):
            assert piece[0] in said.lines[at:], f"{said.line} does not print: {piece[0]}"
            at = said.lines.index(piece[0], at) + len(piece)
            assert said.lines[at - len(piece) : at] == piece, f"{said.line}: docs/guide.md is stale; {REMAKE}"


def test_a_stale_quotation_is_made_anew_at_its_length():
    assert anew("two\nold\n...\nfive", ["one", "two", "three", "four", "five", "six"]) == "two\nthree\n...\nfive"


def test_what_is_quoted_as_typed_is_typed_and_what_is_left_out_between_two_answers_needs_no_dots():
    [(said, block)] = told(
        "```sh\nplanner ask unit.toml\n```\n```text\n> 7.50-17\n> multi\n...\nBecame known\nold\n```"
    )
    assert said is not None and {"> 7.50-17", "> multi", "  rims that come apart: multi"} <= set(said.lines)
    made = "> 7.50-17\n> multi\n...\nBecame known\n  tires on the truck: 7.50-17"
    assert anew(block, said.lines) == made


@pytest.mark.parametrize("made", [screen_pictures.SCREENS, sheet_pictures.PAGES], ids=["screens", "sheets"])
def test_every_picture_that_is_made_is_in_the_guide_and_small_enough_to_be_loaded_with_it(made):
    shown = set(PICTURE.findall(GUIDE.read_text(encoding="utf-8")))
    assert {f"pictures/{name}" for name in made} <= shown
    for name in made:
        raw = (DOCS / "pictures" / name).read_bytes()
        assert raw.startswith(b"\x89PNG") and len(raw) < 150_000


def test_no_page_shows_a_picture_that_nobody_makes_and_none_lies_about_unshown():
    pages = [ROOT / "README.md", *DOCS.glob("*.md")]
    shown = {found for page in pages for found in PICTURE.findall(page.read_text(encoding="utf-8"))}
    made = {f"pictures/{name}" for name in (*screen_pictures.SCREENS, *sheet_pictures.PAGES)}
    assert shown == made == {f"pictures/{path.name}" for path in (DOCS / "pictures").iterdir()}


def test_every_link_between_hand_written_pages_leads_somewhere():
    for page in (GUIDE, DOCS / "sheets.md", DOCS / "sweep.md"):
        for file in re.findall(r"\]\(([\w-]+\.md)", page.read_text(encoding="utf-8")):
            assert (DOCS / file).is_file(), f"{page.name} links to {file}"
