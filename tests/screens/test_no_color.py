"""NO_COLOR: no color is sent, and cursor, what is raised and the present place can be told all the same."""

import os
import pty
import re
import select
import subprocess
import sys
import time
from functools import cache

import pytest
from screens_visit import copied, sit, visit

from planner.screens.app.theme import THEMES
from planner.screens.places.table import NAMES, place_named

COLOR = re.compile(r"(?:3[0-8]|4[0-8]|9\d|10[0-7])")
PATIENCE = 60.0  # seconds


def lines(here):
    return [list(strip) for strip in here.app.screen._compositor.render_strips()]


def told(line):
    return "".join(segment.text for segment in line)


@pytest.fixture(scope="module")
def without_color(tmp_path_factory):
    """One visit to all places: the lines of each, what its cursor is on, and the lines of what opens over it.

    Last those of the overview where its list has not the keys.
    """

    async def story():
        seen, rows, over = {}, {}, []
        async with visit(copied(tmp_path_factory.mktemp("gray"))) as here:
            assert here.app.screen.PLACE == "overview"
            assert here.rows[1].mark == "STOP?" and "STOP?" in here.screen
            await here.press("tab")
            beside = lines(here)
            await here.press("shift+tab")
            for place in NAMES:
                await here.go(place)
                row = here.app.screen.row_list and here.app.screen.row_list.current
                seen[place], rows[place] = lines(here), row and row.name.strip()
                for key in ("f1", "f2", "f3", "enter") if place in ("vehicle", "tasks") else ():
                    await here.press(key)
                    over.append((place, lines(here)))
                    await here.press("escape")
        return seen, rows, over, beside

    def once():
        with pytest.MonkeyPatch.context() as patched:
            patched.setenv("NO_COLOR", "1")
            return sit(story())

    return cache(once)


def test_no_line_of_any_place_has_a_color(without_color):
    seen, _, over, _ = without_color()
    assert len(over) == 2 * 4
    for place, shown in (*seen.items(), *over):
        for line in shown:
            for text, style, _ in line:
                assert style is None or (style.color is None and style.bgcolor is None), (place, text)


def test_without_color_the_cursor_the_place_and_what_is_raised_are_told_in_reverse_bold_and_words(without_color):
    seen, rows, _, beside = without_color()
    for place in NAMES[1:]:
        head, *rest = seen[place]
        assert place_named(place).title.upper() in told(head) and head[1].style.reverse
        if rows[place] is not None:
            under = [line for line in rest[:-1] if any(one.style.reverse and one.text.strip() for one in line)]
            assert under and any(rows[place][:8] in told(line) for line in under), place
    assert any(one.style.underline and "STOP?" in told(line) for line in beside for one in line if one.style), (
        "the cursor is told where the list has not the keys, too"
    )


def test_a_terminal_gets_no_color_code(tmp_path):
    """The program itself, in a terminal of its own: every byte that it sends in a short visit."""
    path = copied(tmp_path)
    here, there = pty.openpty()
    environment = {**os.environ, "NO_COLOR": "1", "TERM": "xterm-256color", "COLORTERM": "truecolor"}
    environment |= {"COLUMNS": "100", "LINES": "30", "XDG_STATE_HOME": str(tmp_path / "state")}
    program = subprocess.Popen(
        [sys.executable, "-m", "planner", str(path)], stdin=there, stdout=there, stderr=there, env=environment
    )
    os.close(there)
    got = b""

    def read_until(words):
        nonlocal got
        until = time.monotonic() + PATIENCE
        seen = len(got)
        while words not in got[seen:] and time.monotonic() < until:
            if select.select([here], [], [], 0.1)[0]:
                got += os.read(here, 65536)
        assert words in got[seen:], got[-300:]

    try:
        read_until(b"OVERVIEW")
        for keys, words in ((b"\x1b[B", b"STOP?"), (b"\x1b[19~", b"VEHICLE"), (b"\x1b[17~", b""), (b"7", b"wheelbase")):
            os.write(here, keys)
            if words:
                read_until(words)
        os.write(here, b"\x11")
        program.wait(timeout=PATIENCE)
    finally:
        program.kill()
        program.wait()
        os.close(here)
    codes = re.findall(rb"\x1b\[([\d;:]*)m", got)
    assert codes, "bold and reverse are sent"
    sent = [code for code in codes if any(COLOR.fullmatch(one.decode()) for one in re.split(rb"[;:]", code))]
    assert not sent, sent[:5]


def brightness(color):
    """Relative luminance, as the web's accessibility guidelines define it."""
    red, green, blue = (
        part / 255 / 12.92 if part / 255 <= 0.04045 else ((part / 255 + 0.055) / 1.055) ** 2.4
        for part in color.get_truecolor()
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    light, dark = sorted((brightness(one), brightness(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("theme", [one.name for one in THEMES])
def test_dark_and_light_are_both_legible(tmp_path, theme):
    """4.5 to 1, the web's least contrast of text (WCAG 2.1, 1.4.3)."""

    async def story():
        async with visit(copied(tmp_path), (120, 40)) as here:
            here.app.theme = theme
            await here.settle()
            for place in NAMES:
                await here.go(place)
                for line in lines(here):
                    for text, style, _ in line:
                        if re.search(r"\w", text) and style and style.color and style.bgcolor:
                            told = (place, text, style)
                            assert contrast(style.color, style.bgcolor) >= 4.5, told

    sit(story())
