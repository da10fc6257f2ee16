"""Readings of a wheel that came, held against its order: as that was kept when it went out, or else as planned."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import shown
from planner.plan.work.parts import matching_parts, planned_parts
from planner.project.models.received import ReceivedWheel
from planner.quantities.grammar import read_value
from planner.quantities.kinds import DISTANCE, LENGTH, POSITION, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, as_written, default_unit, show, show_plain, write
from planner.quantities.text import in_words
from planner.quantities.unreadable import Unreadable
from planner.worksheet.outcome import Known, Outcome

AXLES = ("front", "rear")

Answer = Literal["within", "outside", "too close to call", "not known"]

NODES: dict[str, tuple[str, Kind]] = {  # what a piece is read for, and the node of the plan's own
    "backspace": ("backspace", POSITION),
    "offset": ("offset", POSITION),
    "bore": ("wheel_bore", LENGTH),
}
# What else of the order sheet is the wheel's own, kept with the order to be read.
ALSO_KEPT = {
    "rim diameter code": "rim_diameter_code",
    "rim width": "rim_width",
    "stud holes": "wheel_stud_count",
    "bolt circle": "wheel_stud_circle",
    "seat": "wheel_seat",
    "seat angle": "wheel_seat_angle",
    "disc thickness": "disc_thickness",
    "load rating": "wheel_load_rating",
}
RUNOUTS = ("radial_runout", "lateral_runout")

# Where the order's dimension carries no tolerance of its own: the general ones on the order sheet, and at receiving.
LOOSE = {"backspace": (1 / 32, 1 / 32), "offset": (1 / 32, 1 / 32), "bore": (0.0, 0.010)}  # inches below and above
MOST_ORDERED_RUNOUT = 0.030  # in
INCH = 0.0254
_DUST = 1e-9  # m: what float sums leave over


class HeldReading(NamedTuple):
    """One reading of a piece against its order, both as people write them."""

    what: str
    read: str
    ordered: str
    answer: Answer


def planned_candidate(opened: OpenProject) -> str:
    """The one candidate that wheels can have been ordered for; empty while there is none, or several."""
    return opened.planned[0] if len(opened.planned) == 1 and opened.planned[0] in opened.candidates else ""


def order_copy(opened: OpenProject) -> dict[str, str]:
    """The planned wheel's figures, to be kept with the order: a piece is held against them. By end if they differ."""
    fitment = planned_candidate(opened)
    if not fitment:
        return {}
    copy: dict[str, str] = {}
    for name, node in ({name: node for name, (node, _) in NODES.items()} | ALSO_KEPT).items():
        kind = opened.sheet.catalog.kind(node)
        spots = [opened.spot(node, fitment=fitment, axle=axle) for axle in AXLES]
        text = _text if name in NODES else _shown
        known = [text(opened.sheet.outcome(spot), kind, opened.style) for spot in spots]
        if known[0] == known[1]:
            copy |= {name: known[0]} if known[0] else {}
        else:
            copy |= {f"{axle} {name}": text for axle, text in zip(AXLES, known, strict=True) if text}
    for name in RUNOUTS:
        runouts = {axle: _entered_runout(opened, fitment, axle, name) for axle in AXLES}
        unit = default_unit(DISTANCE, opened.style)
        copy |= {
            f"{axle} {in_words(name)}": write(one, DISTANCE, unit) for axle, one in runouts.items() if one is not None
        }
    return copy


def _text(outcome: Outcome, kind: Kind | None, style: Style) -> str:
    """A value as it is read back; empty where it is not known."""
    if not isinstance(outcome, Known) or not isinstance(outcome.value, float) or kind is None:
        return ""
    half = max(outcome.high - outcome.value, outcome.value - outcome.low)
    return write(Quantity(round(outcome.value, 9), round(half, 9)), kind, default_unit(kind, style))


def _shown(outcome: Outcome, kind: Kind | None, style: Style) -> str:
    """A value as people read it; empty where it is not known."""
    if not isinstance(outcome, Known):
        return ""
    if kind is None or kind.form != "quantity" or not isinstance(outcome.value, float):
        return f"{outcome.value:g}" if isinstance(outcome.value, float) else str(outcome.value)
    half = max(outcome.high - outcome.value, outcome.value - outcome.low)
    return show(Quantity(outcome.value, half), kind, style, beside=False)


def held_readings(opened: OpenProject, fitment: str, wheel: ReceivedWheel) -> Iterator[HeldReading]:
    """Each reading against the order for the end where the wheel goes; a spare's against either end's."""
    place = wheel.position or ""
    axles = [axle for axle in AXLES if place.startswith(axle)] or AXLES
    for name, (node, kind) in NODES.items():
        read = getattr(wheel, name)
        if read is None:
            continue
        ordered = [_ordered(opened, fitment, axle, name, node, kind) for axle in axles]
        known = [one for one in ordered if one is not None]
        told = " or ".join(dict.fromkeys(text for _, _, text in known)) or "not known"
        said = {_answer(read, low, high) for low, high, _ in known}
        answers: tuple[Answer, ...] = ("within", "too close to call", "outside")  # a spare is of either order
        answer: Answer = next((one for one in answers if one in said), "not known")
        yield HeldReading(name, as_written(read, kind, opened.style), told, answer)
    for name in RUNOUTS:
        read = getattr(wheel, name)
        if read is not None:
            most = max(_most_runout(opened, fitment, axle, name) for axle in axles)  # a spare is of either order
            told = f"up to {show_plain(most, DISTANCE, opened.style)}"
            answer = _answer(read, -most, most)
            yield HeldReading(in_words(name), as_written(read, DISTANCE, opened.style), told, answer)


def _most_runout(opened: OpenProject, fitment: str, axle: str, name: str) -> float:
    """The runout that the order allows: as it was kept, as the wheel has it entered, or what the sheet asks of each."""
    for need in matching_parts(planned_parts(opened), ("wheels",)):
        kept = need.part.as_ordered.get(f"{axle} {in_words(name)}") or need.part.as_ordered.get(in_words(name))
        if kept is not None:
            try:
                read = read_value(kept, DISTANCE)
            except Unreadable:
                continue
            if isinstance(read, Quantity):
                return read.value
    entered = _entered_runout(opened, fitment, axle, name)
    return MOST_ORDERED_RUNOUT * INCH if entered is None else entered.value


def _entered_runout(opened: OpenProject, fitment: str, axle: str, name: str) -> Quantity | None:
    one = opened.project.fitments[fitment]
    at_axle: Quantity | None = getattr(getattr(one, axle).wheel, name)
    whole: Quantity | None = getattr(one.wheel, name)
    return at_axle if at_axle is not None else whole


def _ordered(
    opened: OpenProject, fitment: str, axle: str, name: str, node: str, kind: Kind
) -> tuple[float, float, str] | None:
    """From where to where the order lets a reading be, and the order in words: as it was kept, or else as planned."""
    for need in matching_parts(planned_parts(opened), ("wheels",)):
        kept = need.part.as_ordered.get(f"{axle} {name}") or need.part.as_ordered.get(name)
        if kept is not None:
            try:
                value = read_value(kept, kind)
            except Unreadable:
                return None
            if not isinstance(value, Quantity):
                return None
            return *_range(name, value.value, value.low, value.high), as_written(value, kind, opened.style)
    spot = opened.spot(node, fitment=fitment, axle=axle)
    outcome = opened.sheet.outcome(spot)
    if not isinstance(outcome, Known) or not isinstance(outcome.value, float):
        return None
    return *_range(name, outcome.value, outcome.low, outcome.high), shown(opened, spot)


def _range(name: str, value: float, low: float, high: float) -> tuple[float, float]:
    below, above = LOOSE[name]
    return (low, high) if low < high else (value - below * INCH, value + above * INCH)


def _answer(read: Quantity, low: float, high: float) -> Answer:
    if inside(read, low, high):
        return "within"
    apart = read.value + read.tolerance < low - _DUST or read.value - read.tolerance > high + _DUST
    return "outside" if apart else "too close to call"


def inside(read: Quantity, low: float, high: float) -> bool:
    """Whether a reading lies between two ends with all of its tolerance."""
    return low - _DUST <= read.value - read.tolerance and read.value + read.tolerance <= high + _DUST
