"""A thread as people write it, `9/16-18` or `M14 x 1.5`, read into diameter, pitch and hand."""

import re
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.quantities.fineness import INCH
from planner.quantities.kinds import Length, Text
from planner.quantities.unreadable import Unreadable

MILLIMETER = 0.001
WORN = 0.0003  # m: worn threads read so much below their size
ROUNDED = 0.00005  # m: 14.29 mm is still 9/16 in
LONGEST = 32
ACCEPTED = (
    "write diameter and threads per inch, or diameter and pitch, such as 5/8-18, 9/16-18 UNF, 1 1/8-16 LH, M14 x 1.5 "
    "or 14 x 1.5"
)

_NUMBER = r"\d{1,2}(?:[.,]\d{1,4})?"
# Every quantifier is bounded and no two neighbors take the same character, so that no text can stall the reading.
_FORM = re.compile(
    rf"(?P<metric>M)? ?(?P<size>\d{{1,2}}[ -]\d{{1,2}}/[1-9]\d?|\d{{1,2}}/[1-9]\d?|{_NUMBER}|[.,]\d{{1,4}})"
    rf" ?(?P<unit>\"|''|IN(?:CH)?|MM)? ?(?:-|X|\*) ?"
    rf"(?P<step>{_NUMBER}) ?(?P<step_unit>MM|TPI)?(?P<rest>[ -].{{1,16}})?",
    re.ASCII,
)
_MARKS = re.compile(
    r"(?P<series>UNF|UNC|UNEF|UNS|UN|NF|NC|NEF|SAE)|(?P<whitworth>BSF|BSW|WHITWORTH)|(?P<fit>[123][AB]|[4-8][HG])"
    r"|(?P<left>LH|L\.H\.|LEFT(?:[ -]HAND)?|L)|(?P<right>RH|R\.H\.|RIGHT(?:[ -]HAND)?|R)",
    re.ASCII,
)
_WRITTEN = str.maketrans(
    {"×": "x", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "”": '"', "″": '"', "\u00a0": " "}
)
_WRITTEN |= str.maketrans({"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅝": " 5/8", "⅞": " 7/8", "⅜": " 3/8", "⅛": " 1/8"})


class ThreadMark(NamedTuple):
    """What a thread's mark says, in m; the hand is left or right, or None where it does not say."""

    diameter: Length
    pitch: Length
    hand: Text | None


def read_thread(text: str) -> ThreadMark:
    """A mark such as `9/16-18 UNF` or `M14x1.5`.

    Inch where a fraction, an inch mark or a size below 2 says so, metric where an M or mm does or the size is above 5.
    """
    plain = text[: LONGEST + 1].translate(_WRITTEN)
    line = " ".join(plain.upper().split())
    if len(text) > LONGEST or not plain.isascii() or not plain.isprintable():
        raise _unreadable(text)
    found = _FORM.fullmatch(line)
    if found is None:
        raise _unreadable(text)
    written, step = found["size"].replace(",", "."), float(found["step"].replace(",", "."))
    size = float(sum(Fraction(part) for part in re.split("[ -]", written)))
    inch = "/" in written or found["unit"] in ('"', "''", "IN", "INCH") or found["step_unit"] == "TPI" or size < 2
    metric = bool(found["metric"]) or "MM" in (found["unit"], found["step_unit"])
    hand = _hand(text, found["rest"] or "")
    if inch == (metric or size > 5):
        raise _unreadable(text)
    diameter, pitch = (size * INCH, INCH / step if step else 0.0) if inch else (size * MILLIMETER, step * MILLIMETER)
    # From a fine thread of 32 to the inch to a coarse one: no wheel's is finer or coarser than 0.75 to 4 mm.
    if not 0.006 <= diameter <= 0.060 or not 0.00075 <= pitch <= 0.004 or (inch and step % 1 and step != 11.5):
        raise _unreadable(text)
    return ThreadMark(diameter, pitch, hand)


def _hand(text: str, rest: str) -> str | None:
    """The hand by what stands behind the size, where it says one; each mark behind it must be known."""
    hand = None
    while rest := rest.lstrip(" -,"):
        mark = _MARKS.match(rest)
        if mark is None or (mark.end() < len(rest) and rest[mark.end()].isalnum()):
            raise _unreadable(text)
        if mark["whitworth"]:
            raise Unreadable(
                text,
                "is Whitworth, which has a different angle (55°) and isn't compared here",
                "leave it out, and ask somebody who knows them: no other nut goes on a stud like that",
            )
        if mark["left"] or mark["right"]:
            if hand is not None:
                raise _unreadable(text)
            hand = "left" if mark["left"] else "right"
        rest = rest[mark.end() :]
    return hand


def _unreadable(text: str) -> Unreadable:
    return Unreadable(text, "isn't a thread for a wheel stud or lug nut", ACCEPTED)


def thread_in_words(diameter: float, pitch: float) -> str:
    """A thread by its name where it has one, and as the other sort of gauge has it; worn threads read a little small.

    >>> thread_in_words(0.0142875, 0.0254 / 18), thread_in_words(0.014, 0.0015)
    ('9/16-18 (14.29 × 1.41 mm)', 'M14 x 1.5 (0.5512 in, 16.9 to the inch)')
    >>> thread_in_words(0.0284, 0.0254 / 16), thread_in_words(0.0142875, 0.0015)
    ('1 1/8-16 (28.4 × 1.59 mm)', '14.29 × 1.5 mm (0.5625 in, 16.9 to the inch)')
    """
    inches = f"{diameter / INCH:.4g} in, {INCH / pitch:.3g} to the inch"
    metric = f"{diameter / MILLIMETER:.4g} × {pitch / MILLIMETER:.3g} mm"
    whole, sixteenths = _up_to(diameter, MILLIMETER), _up_to(diameter, INCH / 16)
    if whole and _is_whole(pitch / (MILLIMETER / 4)):
        return f"M{whole} x {pitch / MILLIMETER:.3g} ({inches})"
    if sixteenths and _is_whole(INCH / pitch):
        inch, part = divmod(Fraction(sixteenths, 16), 1)
        return f"{' '.join(str(one) for one in (inch, part) if one)}-{INCH / pitch:.0f} ({metric})"
    return f"{metric} ({inches})"


def _up_to(diameter: float, step: float) -> int:
    """How many steps a thread is made to, worn a little below them or rounded above; 0 where it is made to none."""
    steps = ceil((diameter - ROUNDED) / step)
    return steps if steps * step - diameter < WORN else 0


def _is_whole(count: float) -> bool:
    return abs(count - round(count)) < 0.002 * count  # 16.93 to the inch, which is 1.5 mm, is not 17
