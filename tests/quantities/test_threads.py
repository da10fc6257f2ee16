"""Threads as people write them, in the ways of shops, drawings and boxes."""

from math import isclose

import pytest

from planner.quantities.threads import read_thread
from planner.quantities.unreadable import Unreadable

INCH, MM = 0.0254, 0.001


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
    ["", "big", "M14", "5/8", "18-5/8", "9/0-18", "5/8-0", "5/8-18.5", "M5/8-18", "3-1.5", "14-18", "M14 x 15",
     "9/16-18 ?", "9/16-18 LH RH", "9/16-18 UNFX", "5/8-11 BSW", "9" * 40, "M14 x 1.5 \x1b[31m",
     "٩/١٦-١٨", "200 x 1.5"],
)  # fmt: skip
def test_what_is_no_thread_is_told_and_never_guessed(text):
    with pytest.raises(Unreadable) as trouble:
        read_thread(text)
    assert trouble.value.accepted and "\x1b" not in str(trouble.value)
