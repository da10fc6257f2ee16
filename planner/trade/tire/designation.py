"""A tire's size as molded on the sidewall, read into its parts: kind, width, aspect, rim, construction, service."""

import re
from collections import Counter
from functools import lru_cache
from typing import NamedTuple

from planner.quantities.kinds import Count, Length, Ratio, RimCode, Text, YesNo
from planner.sources.un import R54
from planner.worksheet.declare import Impossible, figure

INCH = 0.0254
MILLIMETRE = 0.001
LONGEST = 40
ACCEPTED = (
    "write it as molded on the sidewall, such as LT235/85R16 120/116R, 265/70R17, 37x12.50R17LT, 7.50-16, 9.00-20, "
    "185R14C or H78-15"
)

# Every quantifier is bounded and no two neighbors take the same character, so that no text can stall the reading.
_BUILD = r" ?(?P<build>ZR|R|-|D|B) ?(?P<rim>\d{2}(?:\.5)?)"
_FORMS = {
    "metric": re.compile(rf"(?P<prefix>P|LT)? ?(?P<width>\d{{3}})(?: ?/ ?(?P<aspect>\d{{2,3}}))?{_BUILD}", re.ASCII),
    "flotation": re.compile(
        rf"(?P<prefix>LT)? ?(?P<tall>\d{{2}}(?:\.\d{{1,2}})?) ?X ?(?P<width>\d{{1,2}}(?:\.\d{{1,2}})?){_BUILD}",
        re.ASCII,
    ),
    "numeric": re.compile(rf"(?P<prefix>LT)? ?(?P<width>\d{{1,2}}(?:\.\d{{1,2}})?){_BUILD}", re.ASCII),
    "alphanumeric": re.compile(rf"(?P<letter>[A-N]R?) ?(?P<aspect>\d{{2}}){_BUILD}", re.ASCII),
}
_MARKS = {
    "tube type": re.compile(r" ?(?:TT|TUBE ?TYPE)(?![A-Z])"),
    "tubeless": re.compile(r" ?(?:TL|TUBELESS)(?![A-Z])"),
    "light truck": re.compile(r" ?LT"),
    "car load": re.compile(r" ?(?:XL|SL|RF|EXTRA LOAD|REINFORCED)(?![A-Z])"),
    "snow": re.compile(r" ?M ?[+/&] ?S(?![A-Z])"),
    "mountain": re.compile(r" ?3PMSF(?![A-Z])"),
    "truck's use": re.compile(r" ?(?:MPT|POR|ET|ML)(?![A-Z])"),
    "ply": re.compile(r" ?(\d{1,2}) ?-? ?(?:PR|PLY)(?: RATING)?(?![A-Z])", re.ASCII),
    "service": re.compile(
        r" ?(?P<open>\()?(?P<single>\d{2,3})(?: ?/ ?(?P<dual>\d{2,3}))? ?(?P<symbol>A[1-8]|[B-HJ-NP-WY])"
        r"(?(open)\))(?![A-Z0-9])",
        re.ASCII,
    ),
    "range": re.compile(r" ?(?:/ ?|LR ?|LOAD RANGE )?([A-HJLMN])(?![A-Z])"),
}
# What no tire that steers, drives or carries this truck bears: UN R54, 2, and the American yearbooks, from memory.
_OTHERS = {
    "ST": "ST is for trailers only: their wheels don't steer or drive",
    "FRT": "FRT is for trailers' axles only",
    "NHS": "NHS is not for use on roads",
    "IMP": "IMP is for farm implements, not for use on roads",
    "T": "T is a temporary spare, for short trips only",
}
_OTHER = re.compile(r"(?:^|[0-9C] ?)(ST|FRT|NHS|IMP)(?![A-Z])|^(T|ST) ?(?=[0-9]{2})", re.ASCII)
_WRITTEN = str.maketrans({"×": "x", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "\u00a0": " ", "\u202f": " "})

# Load ranges by ply rating as the American yearbooks give them, from memory: the letters stand two plies apart.
_PLIES = {"A": 2, "B": 4, "C": 6, "D": 8, "E": 10, "F": 12, "G": 14, "H": 16, "J": 18, "L": 20, "M": 22, "N": 24}
_RANGES = {plies: letter for letter, plies in _PLIES.items()}

# UN R117, from memory: a tire of load index 122 and up, or of a speed symbol below M, is a truck's.
_TRUCK_INDEX = 122
_TRUCK_SYMBOLS = frozenset("FGJKL")


class TireSize(NamedTuple):
    """What a designation says; None where it does not say."""

    kind: Text  # metric, flotation, numeric or alphanumeric
    nominal_section_width: Length | None
    aspect_ratio: Ratio | None
    nominal_overall_diameter: Length | None
    rim_diameter_code: RimCode
    construction: Text  # radial or bias; bias-belted counts as bias
    load_index: Count | None
    load_index_dual: Count | None
    speed_symbol: Text | None
    load_range: Text | None
    ply_rating: Count | None
    light_truck: YesNo
    commercial: YesNo
    passenger: YesNo | None
    tube: Text | None  # tube or tubeless


@figure(
    means="tire size as its sidewall says it",
    ground=R54.recalled("2, size designations; UN R30, 2"),
    name="designation",
    form="designation, taken apart by the forms of UN R30, UN R54 and the older inch sizes",
    publishes={
        "construction": "construction",
        "nominal_section_width": "nominal_section_width",
        "aspect_ratio": "aspect_ratio",
        "tire_rim_code": "rim_diameter_code",
        "load_index": "load_index",
        "load_index_dual": "load_index_dual",
        "speed_symbol": "speed_symbol",
        "load_range": "load_range",
        "ply_rating": "ply_rating",
        "passenger": "passenger",
        "tire_tube": "tube",
        # What the size says, whatever is entered beside it.
        "marked_construction": "construction",
        "marked_load_index": "load_index",
        "marked_load_index_dual": "load_index_dual",
        "marked_speed_symbol": "speed_symbol",
        "marked_passenger": "passenger",
        "marked_tube": "tube",
    },
)
def tire_size(designation: Text) -> TireSize:
    """The parts of a designation; lengths in m, the aspect as a ratio.

    Raises Impossible for a text that is no tire size. Whether a tire is a passenger car's is left open where the
    text does not tell: LT is often dropped when a size is copied down.

    >>> size = tire_size("LT235/85R16 120/116R")
    >>> size.nominal_section_width, size.aspect_ratio, size.rim_diameter_code
    (0.235, 0.85, 16.0)
    >>> size.construction, size.load_index, size.load_index_dual, size.speed_symbol, size.passenger
    ('radial', 120, 116, 'R', False)
    """
    return read_designation(designation)


@lru_cache(maxsize=512)
def read_designation(text: str) -> TireSize:
    """The same, remembered; every tire formula that takes a designation reads it here."""
    plain = text[: LONGEST + 1].translate(_WRITTEN)
    if len(text) > LONGEST or not plain.isascii() or not plain.isprintable():
        raise _unreadable(text)
    line = " ".join(plain.upper().split())
    other = _OTHER.search(line)
    if other:
        raise _unreadable(text, _OTHERS[other[1] or other[2]])
    for kind, form in _FORMS.items():
        found = form.match(line)
        if found:
            return _size(text, kind, found[0], found.groupdict(), _marks(text, line[found.end() :]))
    raise _unreadable(text)


def _unreadable(text: str, why: str = "") -> Impossible:
    shown = "".join(letter if letter.isprintable() else "?" for letter in text[:LONGEST])
    return Impossible("designation", f"{shown!r}", f"{why}; {ACCEPTED}" if why else ACCEPTED)


def _marks(text: str, rest: str) -> list[tuple[str, re.Match[str]]]:
    """What stands behind the size, in any order, each sort of mark once (a second letter may follow a C)."""
    marks: list[tuple[str, re.Match[str]]] = []
    while rest:
        for name, pattern in _MARKS.items():
            found = pattern.match(rest)
            if found:
                marks.append((name, found))
                rest = rest[found.end() :]
                break
        else:
            raise _unreadable(text, f"{rest.strip()!r} after the size isn't understood")
    counts = Counter(name for name, _ in marks)
    if any(count > (2 if name == "range" else 1) for name, count in counts.items()):
        raise _unreadable(text, "one mark is there twice")
    return marks


def _size(
    text: str, kind: str, size_: str, parts: dict[str, str | None], marks: list[tuple[str, re.Match[str]]]
) -> TireSize:
    names = {name for name, _ in marks}
    prefix = parts.get("prefix")
    light_truck = prefix == "LT" or "light truck" in names
    letters = [found[1] for name, found in marks if name == "range"]
    # Behind a size in millimeters or a plain inch size, a bare C without LT or P says commercial and not load range C;
    # but set apart from an old bias size, as in 7.50-16 C, it is the load range that such tires bear.
    bare = next((found[0] for name, found in marks if name == "range"), "")
    apart = kind == "numeric" and parts["build"] == "-" and " " not in size_ and bare == " C"
    commercial = (
        bare.strip() == "C" and kind in ("metric", "numeric") and not light_truck and prefix != "P" and not apart
    )
    if commercial:
        letters = letters[1:]
    if (
        len(letters) > 1
        or (prefix == "P" and light_truck)
        or {"tube type", "tubeless"} <= names
        or (prefix and "light truck" in names)
    ):
        raise _unreadable(text, "its marks contradict each other")
    plies = next((int(found[1]) for name, found in marks if name == "ply"), None)
    if plies is not None and plies not in _RANGES:
        raise _unreadable(text, f"a ply rating is an even number from 2 to 24, not {plies}")
    if plies and letters and _PLIES[letters[0]] != plies:
        raise _unreadable(text, f"load range {letters[0]} and {plies} plies contradict each other")
    single, dual, symbol = _service(text, marks)
    width, aspect, tall, rim = _measures(text, kind, parts)
    build = parts["build"] or ""
    size = TireSize(
        kind=kind,
        nominal_section_width=width,
        aspect_ratio=aspect,
        nominal_overall_diameter=tall,
        rim_diameter_code=rim,
        construction="radial" if "R" in build + (parts.get("letter") or "")[1:] else "bias",
        load_index=single,
        load_index_dual=dual,
        speed_symbol=symbol,
        load_range=letters[0] if letters else _RANGES[plies] if plies else None,
        ply_rating=plies or (_PLIES[letters[0]] if letters else None),
        light_truck=light_truck,
        commercial=commercial,
        passenger=True if prefix == "P" else None,
        tube="tube" if "tube type" in names else "tubeless" if "tubeless" in names else None,
    )
    return size if size.passenger else _with_passenger(size, "truck's use" in names)


def _service(text: str, marks: list[tuple[str, re.Match[str]]]) -> tuple[int | None, int | None, str | None]:
    found = next((found for name, found in marks if name == "service"), None)
    if found is None:
        return None, None, None
    single, dual = int(found["single"]), int(found["dual"]) if found["dual"] else None
    if single > 200 or (dual is not None and dual > single):
        raise _unreadable(text, "a load index is no more than 200, and the dual one no more than the single one")
    return single, dual, found["symbol"]


def _measures(
    text: str, kind: str, parts: dict[str, str | None]
) -> tuple[float | None, float | None, float | None, float]:
    """Width in m, aspect as a ratio, diameter in m, and the rim's code, held to what tires can be."""
    rim = float(parts["rim"] or 0)
    aspect = float(parts["aspect"] or 0) / 100 if parts.get("aspect") else None
    tall = float(parts["tall"] or 0) if parts.get("tall") else None
    written = float(parts["width"] or 0) if parts.get("width") else None
    if not 10 <= rim <= 30:
        raise _unreadable(text, f"no road rim has code {rim:g}")
    if aspect is not None and not 0.2 <= aspect <= 1:
        raise _unreadable(text, f"no tire has an aspect ratio of {aspect:.0%}")
    if kind == "metric" and written is not None and aspect is None and written >= 400:
        # An old inch size without its point would be read as a tire twice as wide.
        raise _unreadable(
            text, f"an old size has a decimal point, {written / 100:.2f}-{rim:g}, and a metric one its aspect ratio"
        )
    least, most = (105, 685) if kind == "metric" else (3, 26)
    if written is not None and not least <= written <= most:
        raise _unreadable(text, f"no tire is {written:g} {'mm' if kind == 'metric' else 'in'} wide")
    if tall is not None and not rim + 3 <= tall <= 70:
        raise _unreadable(text, f"no {tall:g} in tire goes on a {rim:g} in rim")
    # Divided and not multiplied, so that 235 mm is 0.235 to the last bit.
    width = written and (written / 1000 if kind == "metric" else written * INCH)
    return width, aspect, tall and tall * INCH, rim


def _with_passenger(size: TireSize, truck_use: bool) -> TireSize:
    """The size with what the text tells about passenger use; the safe way round, None where it tells nothing."""
    width_in = (size.nominal_section_width or 0) / INCH
    heavy_numeric = size.kind == "numeric" and (
        size.rim_diameter_code % 1 == 0.5 or (width_in >= 8.2 and size.rim_diameter_code >= 17)
    )
    trucks = (
        size.light_truck
        or size.commercial
        or truck_use
        or size.load_index_dual is not None
        or (size.load_index or 0) >= _TRUCK_INDEX
        or size.speed_symbol in _TRUCK_SYMBOLS
        or (size.ply_rating or 0) >= 6
        or heavy_numeric
    )
    cars = size.kind == "alphanumeric" or (size.kind == "metric" and size.load_index is not None)
    return size._replace(passenger=False if trucks else True if cars else None)
