"""Threads as people write them, and which of them catch on each other, against a published table of threads."""

from math import isclose

import pytest

from planner.quantities.threads import nearly_interchange, read_thread, same_thread
from planner.quantities.unreadable import Unreadable

INCH, MM = 0.0254, 0.001
# Inside minor diameters of nuts in inches, from a UNF table in general circulation.
UNF = {"1/2": (0.5, 20, 0.4459), "9/16": (0.5625, 18, 0.5024), "5/8": (0.625, 18, 0.5649), "3/4": (0.75, 16, 0.6823)}


@pytest.mark.parametrize(
    ("text", "diameter", "pitch", "hand"),
    [
        ("5/8-18", 0.625 * INCH, INCH / 18, None),
        ("9/16-18 UNF", 0.5625 * INCH, INCH / 18, None),
        ("9/16 – 18 unf-2b lh", 0.5625 * INCH, INCH / 18, "left"),
        ('5/8"-18 L.H.', 0.625 * INCH, INCH / 18, "left"),
        ("1/2 in x 20", 0.5 * INCH, INCH / 20, None),
        ("0.5625-18", 0.5625 * INCH, INCH / 18, None),
        (".75-16 RH", 0.75 * INCH, INCH / 16, "right"),
        ("1 1/8-16", 1.125 * INCH, INCH / 16, None),
        ("1-1/8-16 left hand", 1.125 * INCH, INCH / 16, "left"),
        ("¾-16", 0.75 * INCH, INCH / 16, None),
        ("M14 x 1.5", 14 * MM, 1.5 * MM, None),
        ("m14x1,5", 14 * MM, 1.5 * MM, None),
        ("M14-1.5 6H", 14 * MM, 1.5 * MM, None),
        ("14 × 1.5", 14 * MM, 1.5 * MM, None),
        ("22 mm x 1.5 mm R", 22 * MM, 1.5 * MM, "right"),
    ],
)
def test_a_thread_is_read_as_it_is_marked(text, diameter, pitch, hand):
    read = read_thread(text)
    assert isclose(read.diameter, diameter) and isclose(read.pitch, pitch) and read.hand == hand


@pytest.mark.parametrize(
    "text",
    ["", "big", "M14", "5/8", "18-5/8", "9/0-18", "5/8-0", "5/8-18.5", "M5/8-18", "3-1.5", "14-18", "M14 x 15", "9/16-18 ?",
     "9/16-18 LH RH", "9/16-18 UNFX", "5/8-11 BSW", "9" * 40, "M14 x 1.5 \x1b[31m", "٩/١٦-١٨", "200 x 1.5"],
)  # fmt: skip
def test_what_is_no_thread_is_told_and_never_guessed(text):
    with pytest.raises(Unreadable) as trouble:
        read_thread(text)
    assert trouble.value.accepted and "\x1b" not in str(trouble.value)


@pytest.mark.parametrize("size", UNF)
def test_a_nut_catches_on_what_is_thicker_than_its_minor_diameter(size):
    major, per_inch, minor = UNF[size]
    pitch = INCH / per_inch
    for off in (0.0005, -0.0005):  # in, more than the table rounds
        stud = (minor + off) * INCH
        assert nearly_interchange(major * INCH, pitch, stud, pitch) == (off > 0)
        assert nearly_interchange(stud, pitch, major * INCH, pitch) == (off > 0)


@pytest.mark.parametrize(
    ("one", "other"),
    [("9/16-18", "M14 x 1.5"), ("1/2-20", "M12 x 1.25"), ("5/8-18", "M16 x 1.5"), ("1/2-20", "M12 x 1.5"),
     ("M12 x 1.25", "M12 x 1.5"), ("3/4-16", "M20 x 1.5")],
)  # fmt: skip
def test_the_pairs_that_the_trade_warns_of_nearly_interchange_and_are_not_the_same(one, other):
    (a, p, _), (b, q, _) = read_thread(one), read_thread(other)
    assert nearly_interchange(a, p, b, q) and nearly_interchange(b, q, a, p) and not same_thread(a, p, b, q)


@pytest.mark.parametrize(
    ("one", "other"),
    [("9/16-18", "5/8-18"), ("1/2-20", "9/16-18"), ("M14 x 1.5", "M16 x 1.5"), ("M14 x 1.5", "M14 x 2"), ("5/8-18", "3/4-16")],
)  # fmt: skip
def test_neighboring_sizes_neither_match_nor_catch(one, other):
    (a, p, _), (b, q, _) = read_thread(one), read_thread(other)
    assert not nearly_interchange(a, p, b, q) and not same_thread(a, p, b, q)
