"""Sheets as plain text: the same content as on paper, 80 columns, harmless."""

import pytest

from planner.sheets.blocks import (
    Blank,
    BlankEnd,
    Blanks,
    Caution,
    Contents,
    Fields,
    Heading,
    Hold,
    Paragraph,
    Rows,
    SignatureBox,
    TaskBlock,
    Tick,
)
from planner.sheets.text import text

LONG = "x" * 300
WILD = "red \x1b[31m bell \x07 \u202e line\nline"


def everything(said: str):
    tick = Tick("front", "look again", said, said, said, "", "", said, said, said)
    step = TaskBlock(said, (tick, tick._replace(where="rear", state="done", done=said)), said, said)
    return (
        Heading(said), Heading(said, 2), Contents(), Paragraph(said), Fields(((said, said),)),
        Rows((said, "b", "c"), ((said, said, said),), (1, 2, 3)), Caution(said),
        SignatureBox(said, (said, "name"), said),
        step, Hold(step), Hold(TaskBlock(said, (tick,))),
        Blanks((Blank("A", said, said, (BlankEnd(said, said, said, said), BlankEnd("rear", said)), "in"),)),
    )  # fmt: skip


@pytest.mark.parametrize("name", ["measuring", "order", "checklist", "record"])
def test_no_line_is_longer_than_80_columns(county, sheet, name):
    assert max(map(len, text(sheet(county, name)).splitlines())) <= 80


@pytest.mark.parametrize("said", [LONG, "word " * 60, WILD, ""])
def test_no_line_is_longer_than_80_columns_whatever_stands_in_it(bare, said):
    made = text(bare(*everything(said), truck=said, banner=said[:40], reasons=(said,), rests=said))
    assert max(map(len, made.splitlines())) <= 80


def test_nothing_in_it_can_drive_a_terminal(bare):
    made = text(bare(*everything(WILD), truck=WILD, reasons=(WILD,), banner="STOP"))
    assert not {mark for mark in made if mark != "\n" and not mark.isprintable()}
    assert "\\x1b[31m" in made


def test_a_task_has_a_box_its_caution_and_a_blank_with_its_range(bare):
    tick = Tick("", "ready", "150 lbf·ft", "stud circle", "at most 1/16 in")
    made = text(bare(TaskBlock("Measure the circle", (tick,), "It falls.", "With a caliper.")))
    assert "[ ] Measure the circle" in made
    assert "! CAUTION: It falls." in made and "torque: 150 lbf·ft" in made
    assert "write down stud circle: ____" in made and "acceptable: at most 1/16 in" in made
    assert made.index("CAUTION") < made.index("With a caliper")


def test_a_hold_point_is_a_heavy_bar_with_a_line_to_sign_until_it_is_signed(bare):
    made = text(bare(Hold(TaskBlock("Sign", (Tick(""),)))))
    assert "#" * 80 in made and "HOLD" in made and "signed ____" in made
    signed = text(bare(Hold(TaskBlock("Sign", (Tick("", "done", done="done 2026-07-01"),)))))
    assert "signed ____" not in signed and "HOLD, signed." in signed


def test_a_task_that_is_closed_stands_in_short_with_what_was_written_down(bare):
    tick = Tick("", "done", record="stud circle", range="at most 1/16 in", recorded="1/32 in", done="done 2026-07-01")
    made = text(bare(TaskBlock("Measure the circle", (tick,), "It falls.", "With a caliper.")))
    assert "[x] Measure the circle" in made and "stud circle: 1/32 in" in made and "done 2026-07-01" in made
    assert "It falls" not in made and "caliper" not in made


def test_one_that_is_only_looked_at_says_that_it_has_no_number(bare):
    assert "not numbered" in text(bare(number=0)) and "sheet 7" in text(bare())
