"""How a line of a wheel order is written: exactly as it was entered, and never rounded to where it would do harm."""

from decimal import ROUND_FLOOR, Decimal
from functools import cache
from math import isfinite
from typing import Any

from planner.plan.truck.pairs import in_pairs
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import shown
from planner.plan.work.order_lines import BUYER, MAKER, OF_PAIRS, SEATS, OrderLine
from planner.project.faults import as_key
from planner.project.models.entry import Reads, entries
from planner.project.models.tools import MADE_TO
from planner.project.models.wheels import Wheel
from planner.quantities.grammar import read_value
from planner.quantities.kinds import PRESSURE, TEXT, WEIGHT, Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import Style, as_written, show
from planner.quantities.text import clean
from planner.quantities.unreadable import Unreadable
from planner.worksheet.outcome import Known

BLANK = "________ "
OWN = "wheel."  # before the name of an entry of the wheel's that no formula reads
AT_THE_MOST = {
    "per_tire": WEIGHT.smallest(),
    "full_load_per_tire": WEIGHT.smallest(),
    "rated_pressure": PRESSURE.smallest(),
    "running_pressure": PRESSURE.smallest(),
    "laden_pressure": PRESSURE.smallest(),
}  # told by their upper end, rounded up: what the wheel must take
IN_WORDS = {
    "rim_pieces": {"one": "one piece", "multi": "several pieces"},
    "offset_face": {"hub": "the one on the hub", "disc": "the one between the two discs"},
    "wheel.humps": {"none": "none", "outboard": "at the outboard bead", "both": "at both beads"},
}
ALWAYS = {  # what the sheet itself asks of every wheel, where nothing else is entered
    "wheel.masked": "mounting face, bore and nut seats",
    "wheel.marking": f"at least the load rating; {BLANK}{MAKER}",
}
GENERAL: dict[str, tuple[str, tuple[str, str] | None]] = {  # where a line has no tolerance of its own
    "length": ("± {}", MADE_TO),
    "angle": ("± 0.5°", None),
    "bore": ("+ {} and nothing under", ("0.010 in", "0.25 mm")),
    "position": ("each hole within {} of its place", ("0.010 in", "0.25 mm")),
    "runout": ("no more than {}, full swing of the needle", ("0.030 in", "0.75 mm")),
}
ROOM = ("register_gap", "radial_clearance", "face_clearance")  # never told to be more than it is
AT_LEAST = ("least_brake_gap", "least_dual_spacing")  # never told to be less
OF_TRUCK = (  # in a drawing: measured, or following from that
    "stud_circle", "hub_pilot", "register_gap", "brake_radius", "radial_clearance", "face_clearance",
)  # fmt: skip
_FROM = {"offset": "backspace", "backspace": "offset"}  # of the two one is ordered, and gives the other


def general(kind: str, style: Style) -> str:
    """A general tolerance, in the person's own system first."""
    text, both = GENERAL[kind]
    if both is None:
        return text
    first, other = both if style.system == "inch" else both[::-1]
    return text.format(f"{first} ({other})")


def line_text(opened: OpenProject, fitment: str, axle: str, line: OrderLine) -> str:
    """What stands in a line of a wheel; empty where it is left out: it says nothing of this wheel."""
    if line.source in OF_PAIRS and not in_pairs(opened, fitment, axle):
        return ""
    text = ordered_text(opened, fitment, axle, line.source)
    if text and line.source in _FROM and not entered(opened, fitment, axle, line.source):
        return f"{text}, follows from the {_FROM[line.source]}"
    if text:
        own = "±" in text or " to " in text or line.general in ("", "runout")
        return text if own else f"{text}, {general(line.general, opened.style)}"
    if line.general == "runout":
        return general("runout", opened.style)
    seat = SEATS.get(line.source)
    if seat and ordered_text(opened, fitment, axle, "wheel_seat") not in ("", seat):
        return ""
    if line.needed:
        return f"NOT KNOWN {BLANK}{BUYER}"
    if line.source == "greatest_pressure":
        least = [ordered_text(opened, fitment, axle, node) for node in ("rated_pressure", "laden_pressure")]
        return f"{BLANK}{MAKER}{f', {least[0] or least[1]} at least' if any(least) else ''}"
    return ALWAYS.get(line.source, f"{BLANK}{line.whose}" if line.whose else "")


def ordered_text(opened: OpenProject, fitment: str, axle: str, source: str) -> str:
    """A value as it stands on the sheet; empty where nobody knows it. What is only assumed nobody ordered."""
    if source.startswith(OWN):
        text = _own_text(opened, fitment, axle, source.removeprefix(OWN))
        return IN_WORDS.get(source, {}).get(text, text)
    spot = opened.spot(source, fitment=fitment, axle=axle)
    outcome = opened.sheet.outcome(spot)
    if not isinstance(outcome, Known) or (
        source in opened.sheet.catalog.assumed and opened.sheet.entered(spot) is None
    ):
        return ""
    if source in AT_THE_MOST:
        most = show(outcome.high, AT_THE_MOST[source], opened.style)
        return most if source.endswith("pressure") else f"up to {most}"
    kind, at = opened.sheet.catalog.kind(spot.node), opened.sheet.entered(spot)
    given = opened.given(at) if at is not None else None
    if isinstance(given, Quantity) and given.text and kind is not None and not outcome.instead:
        return exactly(given, kind, opened.style)
    if kind is None or kind.name != "length" or not isinstance(outcome.value, float) or outcome.instead:
        text = shown(opened, spot)
        return IN_WORDS.get(source, {}).get(text, text)
    return worked_out(outcome, kind, opened.style)


def entered(opened: OpenProject, fitment: str, axle: str, node: str) -> bool:
    return opened.sheet.entered(opened.spot(node, fitment=fitment, axle=axle)) is not None


def own_key(opened: OpenProject, fitment: str, axle: str, name: str) -> str:
    """The key at which an entry of a wheel stands: at its axle, or else for both."""
    one = opened.project.fitments[fitment]
    at_axle = getattr(getattr(one, axle).wheel, name) is not None
    return as_key(("fitments", fitment, *((axle,) if at_axle else ()), "wheel", name))


def own_value(opened: OpenProject, fitment: str, axle: str, name: str) -> Any:
    """An entry of the wheel's that no formula reads, as it was read; None where there is none."""
    one = opened.project.fitments.get(fitment)
    value = None if one is None else getattr(getattr(one, axle).wheel, name)
    return getattr(one.wheel, name) if one is not None and value is None else value


def _own_text(opened: OpenProject, fitment: str, axle: str, name: str) -> str:
    value = own_value(opened, fitment, axle, name)
    if isinstance(value, Quantity):
        return exactly(value, _kind_of(name), opened.style)
    return "" if value is None else clean(str(value))


@cache
def _kind_of(name: str) -> Kind:
    return next((extra.kind for extra in entries(Wheel)[name].metadata if isinstance(extra, Reads)), TEXT)


def exactly(value: Quantity, kind: Kind, style: Style) -> str:
    """An entry in both systems; as it was written where the way it is shown would read back as another."""
    own = show(value, kind, style, beside=False)
    if _reads_back(own, value, kind):
        return show(value, kind, style)
    other = show(value, kind, style.other, beside=False)
    return f"{as_written(value, kind, style)} ({other})" if other != own else as_written(value, kind, style)


def _reads_back(text: str, value: Quantity, kind: Kind) -> bool:
    try:
        read: Any = read_value(text.removesuffix(" assumed"), kind)
    except Unreadable:
        return False
    return isinstance(read, Quantity) and all(
        abs(one - other) <= 1e-9 * max(1.0, abs(other))
        for one, other in ((read.value, value.value), (read.tolerance, value.tolerance))
    )


def worked_out(outcome: Known, kind: Kind, style: Style) -> str:
    """A length of the wheel that follows from others, with no more tolerance than they leave it.

    Rounded up, as a tolerance is everywhere else, it would let a maker do what the entries do not.
    """
    return f"{_side(outcome, style.system)} ({_side(outcome, style.other.system)})"


def _side(outcome: Known, system: str) -> str:
    unit, size, step = ("in", 0.0254, Decimal("0.001")) if system == "inch" else ("mm", 0.001, Decimal("0.01"))
    value = (Decimal(outcome.value) / Decimal(size)).quantize(step) + 0  # no negative nothing
    half = min(outcome.high - float(value) * size, float(value) * size - outcome.low)
    if not isfinite(half):
        return f"{value} {unit}"
    spread = (Decimal(half) / Decimal(size) + Decimal("1e-7")).quantize(step, rounding=ROUND_FLOOR)
    return f"{value} {unit} ± {spread} {unit}" if spread > 0 else f"{value} {unit}"


def drawn_text(opened: OpenProject, fitment: str, axle: str, node: str) -> str:
    """A value as it stands in a drawing of the wheel: what is of the truck is measured, all else is ordered."""
    return (measured_text if node in OF_TRUCK else ordered_text)(opened, fitment, axle, node)


def measured_text(opened: OpenProject, fitment: str, axle: str, node: str) -> str:
    """What was measured of the truck, or follows from that: its tolerance is what it may be off by, and never less."""
    spot = opened.spot(node, fitment=fitment, axle=axle)
    outcome, kind = opened.sheet.outcome(spot), opened.sheet.catalog.kind(spot.node)
    if kind is None or kind.name != "length" or not isinstance(outcome, Known) or entered(opened, fitment, axle, node):
        return ordered_text(opened, fitment, axle, node)
    half = max(outcome.high - outcome.value, outcome.value - outcome.low)
    plain = opened.style._replace(fractions=False)
    safe = kind.greatest() if node in ROOM else kind.smallest() if node in AT_LEAST else kind
    return show(Quantity(outcome.value, half), safe, plain)
