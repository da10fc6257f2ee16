"""A person's text is harmless once it is cleaned, and as it was where it was harmless."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.quantities.text import clean, cut
from planner.quantities.unreadable import Unreadable

UNSAFE = [
    *map(chr, range(0x20)), *map(chr, range(0x7F, 0xA0)), "\u00ad", "\u061c", "\u200b", "\u200c", "\u200d", "\u200e",
    "\u200f", "\u2028", "\u2029", "\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2060", "\u2066", "\u2067",
    "\u2068", "\u2069", "\ufeff", "\ud800", "\udfff", "\ue000", "\U000e0001", "\U0010fffd",
]  # fmt: skip


@pytest.mark.parametrize("mark", UNSAFE, ids=ascii)
def test_each_unsafe_character_becomes_a_visible_escape(mark):
    assert clean(f"a{mark}b").isascii() and clean(mark).startswith("\\") and ascii(mark).strip("'")[-2:] in (
        clean(mark)[-2:], "\\t", "\\n", "\\r"
    )  # fmt: skip


@given(st.text(st.characters(), max_size=60))
def test_cleaning_twice_changes_nothing_more(text):
    assert clean(clean(text)) == clean(text)


@given(st.text(st.characters(), max_size=60))
def test_a_cleaned_text_holds_no_unsafe_character_and_can_be_encoded(text):
    assert not set(clean(text)) & set(UNSAFE)
    clean(text).encode()


@pytest.mark.parametrize("text", ["5½ in ± ⅛", "naïve café", "Ünal 車輪 колесо", "a\u00a0b", "\\x1b", "8° 30′"])
def test_a_harmless_text_stays_as_it_is(text):
    assert clean(text) == text


@given(st.text(max_size=60), st.integers(-1, 70))
def test_a_cut_text_is_as_wide_as_asked_at_most(text, width):
    assert len(cut(text, width)) <= max(width, 0)
    if len(text) <= width:
        assert cut(text, width) == text


def test_a_cut_is_marked():
    assert cut("five and a half", 8) == "five an…"
    assert cut("five", 1) == "…"


def test_an_error_is_one_plain_line_however_long_and_odd_its_text():
    error = Unreadable("\x1b[2J\n" + "9" * 1_000_000, "is not a length", "write a number")
    assert str(error).isprintable() and len(error.read) == 40
    assert isinstance(error, ValueError)
