"""What is marked on a tube and on a flap: the tire sizes that the tube is for, and the rim that the flap is for."""

import re
from typing import NamedTuple

from planner.quantities.kinds import Length, RimCode, Text, YesNo
from planner.sources.citing import practice
from planner.trade.tire.designation import INCH, read_designation
from planner.worksheet.declare import Impossible, figure

LONGEST = 60
TUBE_ACCEPTED = (
    "write the tire sizes it's marked for, all for one rim, such as 7.50-16, 7.00/7.50R16 or 235/85R16, several with "
    "commas"
)
FLAP_ACCEPTED = "write its mark, such as 16x6.00, 20 x 7.5, 7.50-16, or none if there is none"
NO_FLAP = frozenset({"none", "no", "no flap"})

_MARKED_FOR = practice("tubes and flaps are marked with the tire sizes or the rim that they are made for")
# Every quantifier is bounded and no two neighbors take the same character, so that no text can stall the reading.
_WIDTH = r"(?:\d{1,2}\.\d{1,2}|\d{3,4})"
_WIDTHS = re.compile(rf"({_WIDTH}(?:/{_WIDTH}){{0,4}}) ?([-R/X]) ?(\d{{2}}(?:\.5)?)", re.ASCII)
_FLAP = re.compile(r"(\d{2}(?:\.5)?) ?X ?(\d{1,2}(?:\.\d{1,3})?(?:/\d{1,2}(?:\.\d{1,3})?){0,2})[A-Z]?", re.ASCII)
_WRITTEN = str.maketrans({"×": "x", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", ";": ",", "\u00a0": " "})


class TubeMark(NamedTuple):
    """The tires that a tube is marked for, from the narrowest to the widest by their nominal widths; R for radials."""

    narrowest: Length
    widest: Length
    rim_code: RimCode
    radial: YesNo


@figure(
    means="tires the tube is marked for",
    ground=_MARKED_FOR,
    form="nominal widths and rim code as marked",
    publishes={
        "tube_narrowest": "narrowest",
        "tube_widest": "widest",
        "tube_rim_code": "rim_code",
        "tube_marked_radial": "radial",
    },
)
def tube_mark(tube_size: Text) -> TubeMark:
    """Widths in m. Raises Impossible for a text that is no mark, or for tires of several rims.

    7.00 in is 177.8 mm, 7.50 in is 190.5 mm.

    >>> mark = tube_mark("7.00/7.50R16")
    >>> round(mark.narrowest, 4), round(mark.widest, 4), mark.rim_code, mark.radial
    (0.1778, 0.1905, 16.0, True)
    """
    line = _plain(tube_size, "tube_size", TUBE_ACCEPTED)
    tires = [_tires(part.strip()) for part in line.removeprefix("TUBE ").split(",") if part.strip()]
    rims = {rim for _, rim, _ in tires}
    if len(rims) != 1:
        raise Impossible("tube_size", f"{line!r}", TUBE_ACCEPTED)
    widths = [width for own, _, _ in tires for width in own]
    return TubeMark(min(widths), max(widths), rims.pop(), any(radial for _, _, radial in tires))


def _tires(part: str) -> tuple[list[float], float, bool]:
    """The nominal widths, the rim code and whether there is an R, of `7.00/7.50R16` or of a tire's whole size."""
    found = _WIDTHS.fullmatch(part)
    if found:
        widths = [float(one) for one in found[1].split("/")]
        if all(width < 26 for width in widths) or all(400 <= width < 2600 for width in widths):  # 750-16 is 7.50-16
            return [width * INCH / (100 if width >= 400 else 1) for width in widths], float(found[3]), found[2] == "R"
    try:
        size = read_designation(part)
    except Impossible:
        raise Impossible("tube_size", f"{part!r}", TUBE_ACCEPTED) from None
    if size.nominal_section_width is None:
        raise Impossible("tube_size", f"{part!r}", TUBE_ACCEPTED)
    return [size.nominal_section_width], size.rim_diameter_code, size.construction == "radial"


class FlapMark(NamedTuple):
    """The rim that a flap is marked for: its code, and how wide it is, or which tires stand on it."""

    rim_code: RimCode | None
    rim_narrowest: Length | None
    rim_widest: Length | None
    tire_narrowest: Length | None
    tire_widest: Length | None


@figure(
    means="rim or tires the flap is marked for",
    ground=_MARKED_FOR,
    form="rim code and widths as marked; nothing where there is no flap",
    publishes={
        "flap_rim_code": "rim_code",
        "flap_rim_narrowest": "rim_narrowest",
        "flap_rim_widest": "rim_widest",
        "flap_tire_narrowest": "tire_narrowest",
        "flap_tire_widest": "tire_widest",
    },
)
def flap_size(flap_mark: Text) -> FlapMark:
    """Widths in m; nothing at all for `none`. Raises Impossible for a text that is no mark.

    20x7.50 is for a rim of code 20 that is 7.50 in, 190.5 mm, wide.

    >>> mark = flap_size("20x7.50")
    >>> mark.rim_code, round(mark.rim_narrowest, 4), flap_size("none").rim_code
    (20.0, 0.1905, None)
    """
    line = _plain(flap_mark, "flap_mark", FLAP_ACCEPTED).removeprefix("FLAP ")
    if line.lower() in NO_FLAP:
        return FlapMark(None, None, None, None, None)
    found = _FLAP.fullmatch(line)
    if found and 10 <= float(found[1]) <= 30:
        widths = [float(one) * INCH for one in found[2].split("/")]
        return FlapMark(float(found[1]), min(widths), max(widths), None, None)
    try:
        tires, rim, _ = _tires(line)
    except Impossible:
        raise Impossible("flap_mark", f"{line!r}", FLAP_ACCEPTED) from None
    return FlapMark(rim, None, None, min(tires), max(tires))


def _plain(text: str, key: str, accepted: str) -> str:
    """The text in capitals with single spaces and plain dashes; a long one or a strange one is none of them."""
    plain = text[: LONGEST + 1].translate(_WRITTEN)
    if len(text) > LONGEST or not plain.isascii() or not plain.isprintable() or not plain.strip():
        raise Impossible(key, repr("".join(one if one.isprintable() else "?" for one in text[:LONGEST])), accepted)
    return " ".join(plain.upper().split())
