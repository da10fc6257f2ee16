"""Which wheels an order is for: one kind for both ends or one for each, how many, and what each has to go with."""

from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import reading_lines
from planner.plan.truck.wording import UNKNOWN
from planner.plan.work.measured_twice import WAYS, measured_once
from planner.plan.work.order_lines import AXLES, BUYER, WHEEL
from planner.plan.work.parts import NeededPart, matching_parts, planned_parts, serving
from planner.project.faults import as_key
from planner.quantities.text import clean
from planner.sheets.order_text import BLANK, line_text, measured_text, ordered_text

CENTERS = {
    "hub": "the bore, on the hub's pilot",
    "studs": "the nuts in their seats; the bore only clears the pilot",
}
Lines = tuple[tuple[str, tuple[tuple[str, str], ...]], ...]


class OrderedWheel(NamedTuple):
    """One kind of wheel: the ends that it is for, and its lines, group by group."""

    axles: tuple[str, ...]
    groups: Lines


def ordered_wheels(opened: OpenProject, fitment: str) -> tuple[OrderedWheel, ...]:
    """One for both ends, or one for each where anything about the wheel itself differs.

    What is asked of a pair alone, such as its face, does not make it another wheel where the other end has singles.
    """
    ends = {axle: _groups(opened, fitment, axle) for axle in AXLES}
    alone = [_without_pairs(ends[axle]) for axle in AXLES]
    if alone[0] == alone[1]:
        return (OrderedWheel(AXLES, max(ends.values(), key=lambda one: sum(len(lines) for _, lines in one))),)
    return tuple(OrderedWheel((axle,), groups) for axle, groups in ends.items())


def _groups(opened: OpenProject, fitment: str, axle: str) -> Lines:
    written = (
        (group.title, ((line.label, line_text(opened, fitment, axle, line)) for line in group.lines)) for group in WHEEL
    )
    return tuple((title, tuple(line for line in lines if line[1])) for title, lines in written)


def _without_pairs(groups: Lines) -> Lines:
    faces = {line.label for group in WHEEL for line in group.lines if line.source == "offset_face"}
    return tuple((title, tuple(line for line in lines if line[0] not in faces)) for title, lines in groups)


# how many


def quantity(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> str:
    """How many are still to be made: by the parts list, or of one end alone by its tires; else a blank."""
    if len(axles) == 1:
        tires = ordered_text(opened, fitment, axles[0], "tires")
        listed = _counted(opened, fitment)
        of = f" (of {listed} in the parts list; add the spare, if it's this kind)" if listed else ""
        return f"{tires}{of}" if tires else f"{BLANK}{BUYER}{of}"
    needs = _needs(opened, fitment)
    wanted = [need for need in needs if not need.there]
    came = ((need.part.quantity, f" {need.part.arrived}" if need.part.arrived else "") for need in needs if need.there)
    here = "; ".join(f"{number} came{on}" for number, on in came)
    if not needs:
        return f"{BLANK}{BUYER} (the spare counts too)"
    if not wanted:
        return f"{sum(need.part.quantity for need in needs)} ({here})"
    each = ", ".join(f"{need.part.quantity} {need.called}" for need in wanted) if len(wanted) > 1 else ""
    more = "; ".join(one for one in (each, here) if one)
    return f"{sum(need.part.quantity for need in wanted)}{f' ({more})' if more else ''}"


def pieces(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> int:
    """How many that is, as a number; where nobody says, as many as the truck has tires there, and the spare."""
    if len(axles) > 1 and (counted := _counted(opened, fitment)):
        return counted
    tires = [opened.sheet.value(opened.spot("tires", fitment=fitment, axle=axle)) for axle in axles]
    return sum(int(one) if one else 2 for one in tires) + (len(axles) > 1)


def _counted(opened: OpenProject, fitment: str) -> int:
    needs = _needs(opened, fitment)
    wanted = [need for need in needs if not need.there] or needs
    return sum(need.part.quantity for need in wanted)


def _needs(opened: OpenProject, fitment: str) -> list[NeededPart]:
    return [
        need
        for need in matching_parts(planned_parts(opened), ("wheels",))
        if fitment in serving(opened, need) and need.part.state != "returned"
    ]


# what it goes with


def at_ends(texts: dict[str, str]) -> str:
    """What is so at each end, once where it is the same."""
    if len(set(texts.values())) == 1:
        return next(iter(texts.values()))
    return "; ".join(f"{axle}: {text}" for axle, text in texts.items())


def what_centers(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> str:
    """What centers the wheel at each end."""
    found = {axle: ordered_text(opened, fitment, axle, "centring") for axle in axles}
    return at_ends({axle: CENTERS.get(one, f"{BLANK}{BUYER}") for axle, one in found.items()})


def what_goes_on(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> str:
    """The nuts at each end, as far as they are known."""
    return at_ends({axle: _nuts(opened, fitment, axle) for axle in axles})


def _nuts(opened: OpenProject, fitment: str, axle: str) -> str:
    def one(node: str) -> str:
        return ordered_text(opened, fitment, axle, node)

    seat = one("nut_seat")
    radius = one("nut_ball_radius")
    shape = {"cone": one("nut_seat_angle"), "ball": f"radius {radius}" if radius else ""}
    hands = {side: one(f"thread_hand_{side}") for side in ("left", "right")}
    hand = ", ".join(f"{turn}-hand on the truck's {side}" for side, turn in hands.items() if turn)
    told_of = (one("nut_thread"), f"{seat} seat" if seat else "", shape.get(seat, ""), hand)
    return ", ".join(filter(None, told_of)) or f"{BLANK}{BUYER}"


def valve_room(opened: OpenProject, fitment: str, axles: tuple[str, ...]) -> str:
    """Whether the valve keeps clear of the brake at each end."""
    least = measured_text(opened, fitment, axles[0], "least_brake_gap")

    def one(axle: str) -> str:
        if ordered_text(opened, fitment, axle, "valve_side") == "outboard":
            return "the disc is between them"
        room = measured_text(opened, fitment, axle, "valve_clearance")
        asked = f"at least {least} through a full turn" if least else "through a full turn"
        return f"{room}, {asked}" if room else asked

    return at_ends({axle: one(axle) for axle in axles})


def circle_readings(opened: OpenProject, axle: str) -> str:
    """By which readings the hub's bolt circle is known, and whether it was read twice."""
    ways = [as_key(("axles", axle, "studs", name)) for name in WAYS]
    there = [key for key in ways if opened.spot_at(key) is not None]
    if not there:
        stated = as_key(("axles", axle, "studs", "circle"))
        text = opened.written_at(stated) if opened.spot_at(stated) is not None else ""
        return f"off a drawing or plate, {text}" if text else UNKNOWN
    once = any(one.called == f"bolt circle, {axle}" for one in measured_once(opened))
    each = [_reading(opened, key) for key in there]
    return f"{'; '.join(each)}: {'read only once' if once else 'read twice'}"


def _reading(opened: OpenProject, key: str) -> str:
    lines = reading_lines(opened, key)
    by = f" ({'; '.join(lines)})" if lines else ""
    means = clean(opened.spoken(key))
    return f"{means} {opened.written_at(key)}{by}"
