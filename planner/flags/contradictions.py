"""Entries that say different things of one thing: which of them is wrong nobody can tell but by reading again."""

from collections.abc import Callable, Mapping
from typing import Any

from planner.quantities.kinds import (
    Change,
    Count,
    Distance,
    Length,
    Mass,
    Position,
    Share,
    Speed,
    SpeedChange,
    Text,
    YesNo,
)
from planner.sources.citing import Ground, practice
from planner.sources.reasoning import GEOMETRY
from planner.sources.un import R54
from planner.worksheet.declare import F, limit, rule
from planner.worksheet.turning import magnitude

most_capacity_over_index = limit(
    Share,
    "1 %",
    means="how far a molded load may lie over the one of the load index",
    ground=practice("a load is molded to the nearest 5 or 10 lb; one step of the index is 2 1/2 % or more"),
)
most_width_from_size = limit(
    Share,
    "12 %",
    means="how far a tire's section width may lie from the one of its size",
    ground=practice("4 % as made, as much again grown, and a rim two inches narrower or wider 6 %"),
)
most_diameter_from_size = limit(
    Share,
    "5 %",
    means="how far a tire's overall diameter may lie from the one of its size",
    ground=practice("2 % as made and a tread worn out 3 %; the next size in a catalog is 5 or 6 % away"),
)
most_offset_difference = limit(
    Distance,
    "1/4 in",
    means="how far the offset may lie from the one that goes with backspace and rim width",
    ground=practice("a flange that is not as thick as was taken, and a backspace stated to the nearest eighth"),
)
most_kingpin_track_difference = limit(
    Distance,
    "3/4 in",
    means="how far the kingpin track may lie from the face to face width less both insets",
    ground=practice("four tape readings to centers that nobody can touch"),
)

_SIDEWALL = (
    "Read the tire's sidewall again, on the tire that this is about, and correct the entry that is wrong. Until then "
    "do not order, load or drive by it."
)
_TAPE = "Measure again, and correct the entry that is wrong. Until then order nothing by them."


def contradiction(
    what: str,
    *,
    says: str,
    clear_says: str,
    cure: str,
    ground: Ground,
    holds: Mapping[str, Any],
    fails: Mapping[str, Any],
    bars: tuple[str, ...],
    beyond: str = "over by",
) -> Callable[[F], F]:
    """Declare a rule that holds its first two inputs against each other; nothing that rests on `bars` is known then."""
    return rule(
        severity="stop",
        notices=f"two entries contradict each other: {what}",
        says=says,
        clear_says=clear_says,
        cure=cure,
        ground=ground,
        holds=holds,
        fails=fails,
        beyond=beyond,
        bars=bars,
        close_agrees=True,
    )


@contradiction(
    "the tire's load index",
    says="The load index entered is {load_index}; the size has {marked_load_index}.",
    clear_says="Entry and size both have the load index {load_index}.",
    cure=_SIDEWALL,
    ground=R54.recalled("2, service description"),
    holds={"load_index": "120", "marked_load_index": "120"},
    fails={"load_index": "121", "marked_load_index": "120"},
    bars=("load_index", "load_capacity"),
)
def load_index_and_size(load_index: Count, marked_load_index: Count) -> bool:
    """Whether both are one."""
    return load_index == marked_load_index


@contradiction(
    "the tire's load index in a pair",
    says="The load index in a pair entered is {load_index_dual}; the size has {marked_load_index_dual}.",
    clear_says="Entry and size both have the load index {load_index_dual} in a pair.",
    cure=_SIDEWALL,
    ground=R54.recalled("2, service description"),
    holds={"load_index_dual": "116", "marked_load_index_dual": "116"},
    fails={"load_index_dual": "117", "marked_load_index_dual": "116"},
    bars=("load_index_dual", "dual_load_capacity"),
)
def dual_index_and_size(load_index_dual: Count, marked_load_index_dual: Count) -> bool:
    """Whether both are one."""
    return load_index_dual == marked_load_index_dual


@contradiction(
    "what one tire carries",
    says="The load capacity entered is {load_capacity}; the load index allows {capacity_by_index}.",
    clear_says="The load capacity entered, {load_capacity}, is within the {capacity_by_index} of the load index.",
    cure=f"{_SIDEWALL} A tire that is to carry less than its index is entered with the lower load.",
    ground=R54.recalled("2.29, load-capacity index"),
    holds={"load_capacity": "3,117 lb", "capacity_by_index": "1,400 kg", "most_capacity_over_index": "1 %"},
    fails={"load_capacity": "3,118 lb", "capacity_by_index": "1,400 kg", "most_capacity_over_index": "1 %"},
    bars=("load_capacity", "load_index"),
)
def capacity_and_index(load_capacity: Mass, capacity_by_index: Mass, most_capacity_over_index: Share) -> Change:
    """Margin as a ratio; a lower load is a person's own derating."""
    return most_capacity_over_index - (load_capacity / capacity_by_index - 1)


@contradiction(
    "what one tire of a pair carries",
    says="The load capacity in a pair entered is {dual_load_capacity}; the load index allows {dual_capacity_by_index}.",
    clear_says="The load capacity in a pair entered, {dual_load_capacity}, is within the {dual_capacity_by_index} of "
    "the load index.",
    cure=f"{_SIDEWALL} A tire that is to carry less than its index is entered with the lower load.",
    ground=R54.recalled("2.29, load-capacity index"),
    holds={"dual_load_capacity": "2,783 lb", "dual_capacity_by_index": "1,250 kg", "most_capacity_over_index": "1 %"},
    fails={"dual_load_capacity": "2,784 lb", "dual_capacity_by_index": "1,250 kg", "most_capacity_over_index": "1 %"},
    bars=("dual_load_capacity", "load_index_dual"),
)
def dual_capacity_and_index(
    dual_load_capacity: Mass, dual_capacity_by_index: Mass, most_capacity_over_index: Share
) -> Change:
    """Margin as a ratio; a lower load is a person's own derating."""
    return most_capacity_over_index - (dual_load_capacity / dual_capacity_by_index - 1)


@contradiction(
    "the tire's speed symbol",
    says="The speed symbol entered, {speed_symbol}, allows {speed_limit}; the size's {marked_speed_symbol} allows "
    "{marked_speed_limit}.",
    clear_says="The speed symbol entered, {speed_symbol}, is no faster than the size's {marked_speed_symbol}.",
    cure=f"{_SIDEWALL} A tire that is to be kept to less than its symbol is entered with the slower one.",
    ground=R54.recalled("2.30, speed category symbol"),
    holds={
        "speed_limit": "160 km/h", "marked_speed_limit": "160 km/h",
        "speed_symbol": "Q", "marked_speed_symbol": "Q",
    },
    fails={
        "speed_limit": "170 km/h", "marked_speed_limit": "160 km/h",
        "speed_symbol": "R", "marked_speed_symbol": "Q",
    },
    bars=("speed_symbol",),
)  # fmt: skip
def speed_symbol_and_size(
    speed_limit: Speed, marked_speed_limit: Speed, speed_symbol: Text, marked_speed_symbol: Text
) -> SpeedChange:
    """Margin in m/s; a slower symbol is a person's own derating."""
    return marked_speed_limit - speed_limit


@contradiction(
    "the tire's construction",
    says="The construction entered is {construction}; the size is that of a {marked_construction} tire.",
    clear_says="Entry and size both say {construction}.",
    cure=_SIDEWALL,
    ground=R54.recalled("2, size designations; UN R30, 2"),
    holds={"construction": "radial", "marked_construction": "radial"},
    fails={"construction": "bias", "marked_construction": "radial"},
    bars=("construction",),
)
def construction_and_size(construction: Text, marked_construction: Text) -> bool:
    """Whether both are one."""
    return construction == marked_construction


@contradiction(
    "whether the tire wants a tube",
    says="The entry says {tire_tube}, the size {marked_tube}.",
    clear_says="Entry and size both say {tire_tube}.",
    cure=_SIDEWALL,
    ground=R54.recalled("3, markings: TUBELESS"),
    holds={"tire_tube": "tubeless", "marked_tube": "tubeless"},
    fails={"tire_tube": "tube", "marked_tube": "tubeless"},
    bars=("tire_tube",),
)
def tube_and_size(tire_tube: Text, marked_tube: Text) -> bool:
    """Whether both are one."""
    return tire_tube == marked_tube


@contradiction(
    "whether it is a passenger car tire",
    says="Passenger car tire: the entry says {passenger}, the size {marked_passenger}.",
    clear_says="Passenger car tire: entry and size both say {passenger}.",
    cure=_SIDEWALL,
    ground=R54.recalled("2, size designations; UN R30, 2"),
    holds={"passenger": "no", "marked_passenger": "no"},
    fails={"passenger": "yes", "marked_passenger": "no"},
    bars=("passenger",),
)
def passenger_and_size(passenger: YesNo, marked_passenger: YesNo) -> bool:
    """Whether both are one."""
    return passenger == marked_passenger


@contradiction(
    "the tire's section width",
    says="The section width entered is {section_width}; tires of this size are made {design_section_width} wide. "
    "{most_width_from_size} apart is let pass.",
    clear_says="The section width entered, {section_width}, goes with the size's {design_section_width}.",
    cure=f"Straight edges to both sidewalls, or the maker's table. {_SIDEWALL}",
    ground=practice("a tire so far from its size is another tire, or was read wrongly"),
    holds={"section_width": "263 mm", "design_section_width": "235 mm", "most_width_from_size": "12 %"},
    fails={"section_width": "264 mm", "design_section_width": "235 mm", "most_width_from_size": "12 %"},
    bars=("section_width", "designation"),
)
def width_and_size(section_width: Length, design_section_width: Length, most_width_from_size: Share) -> Change:
    """Margin as a ratio, either way."""
    return most_width_from_size - magnitude(section_width / design_section_width - 1)


@contradiction(
    "the tire's overall diameter",
    says="The overall diameter entered is {overall_diameter}; tires of this size are made {design_diameter} tall. "
    "{most_diameter_from_size} apart is let pass.",
    clear_says="The overall diameter entered, {overall_diameter}, goes with the size's {design_diameter}.",
    cure=f"A tape around the tread, divided by 3.1416, or the maker's table. {_SIDEWALL}",
    ground=practice("a tire so far from its size is another tire, or was read wrongly"),
    holds={"overall_diameter": "845 mm", "design_diameter": "805.5 mm", "most_diameter_from_size": "5 %"},
    fails={"overall_diameter": "846 mm", "design_diameter": "805.5 mm", "most_diameter_from_size": "5 %"},
    bars=("overall_diameter", "designation"),
)
def diameter_and_size(overall_diameter: Length, design_diameter: Length, most_diameter_from_size: Share) -> Change:
    """Margin as a ratio, either way."""
    return most_diameter_from_size - magnitude(overall_diameter / design_diameter - 1)


@contradiction(
    "the spare's overall diameter",
    says="The spare's diameter entered is {spare_diameter}; tires of its size are made {spare_design_diameter} tall. "
    "{most_diameter_from_size} apart is let pass.",
    clear_says="The spare's diameter entered, {spare_diameter}, goes with its size's {spare_design_diameter}.",
    cure="A tape around the spare's tread, divided by 3.1416, and its sidewall read again; correct the entry that is "
    "wrong. Until then do not count on the spare.",
    ground=practice("a tire so far from its size is another tire, or was read wrongly"),
    holds={"spare_diameter": "845 mm", "spare_design_diameter": "805.5 mm", "most_diameter_from_size": "5 %"},
    fails={"spare_diameter": "846 mm", "spare_design_diameter": "805.5 mm", "most_diameter_from_size": "5 %"},
    bars=("spare_diameter", "spare_designation"),
)
def spare_and_its_size(spare_diameter: Length, spare_design_diameter: Length, most_diameter_from_size: Share) -> Change:
    """Margin as a ratio, either way."""
    return most_diameter_from_size - magnitude(spare_diameter / spare_design_diameter - 1)


@contradiction(
    "the wheel's offset and its backspace",
    says="The offset entered is {offset}; by backspace and rim width it is {offset_by_backspace}. "
    "{most_offset_difference} apart is let pass.",
    clear_says="The offset entered, {offset}, goes with backspace and rim width, which give {offset_by_backspace}.",
    cure="Lay the wheel face down, straight edge over the rim, and measure to the mounting face; measure the rim "
    f"between the bead seats and its flange. Offset is positive where the face lies outboard of the middle. {_TAPE}",
    ground=GEOMETRY,
    holds={"offset": "1/4 in", "offset_by_backspace": "0 in", "most_offset_difference": "1/4 in"},
    fails={"offset": "0.26 in", "offset_by_backspace": "0 in", "most_offset_difference": "1/4 in"},
    bars=("offset", "backspace", "rim_width"),
)
def offset_and_backspace(offset: Position, offset_by_backspace: Position, most_offset_difference: Distance) -> Position:
    """Margin in m, either way."""
    return most_offset_difference - magnitude(offset - offset_by_backspace)


@contradiction(
    "where the kingpins stand",
    says="The kingpin track entered is {kingpin_track}; by face to face and inset it is {kingpin_track_by_inset}. "
    "{most_kingpin_track_difference} apart is let pass.",
    clear_says="The kingpin track entered, {kingpin_track}, goes with face to face and inset, which give "
    "{kingpin_track_by_inset}.",
    cure="Both insets from the hub's face to the pin's center line at hub height, and face to face again, with the "
    f"wheels straight ahead; a quarter inch on the inset is a half inch on the track. {_TAPE}",
    ground=GEOMETRY,
    holds={
        "kingpin_track": "55 3/4 in", "kingpin_track_by_inset": "55 in", "most_kingpin_track_difference": "3/4 in",
    },
    fails={
        "kingpin_track": "55.8 in", "kingpin_track_by_inset": "55 in", "most_kingpin_track_difference": "3/4 in",
    },
    bars=("kingpin_track", "face_to_face", "kingpin_inset"),
)  # fmt: skip
def kingpin_track_and_inset(
    kingpin_track: Length, kingpin_track_by_inset: Length, most_kingpin_track_difference: Distance
) -> Position:
    """Margin in m, either way."""
    return most_kingpin_track_difference - magnitude(kingpin_track - kingpin_track_by_inset)
