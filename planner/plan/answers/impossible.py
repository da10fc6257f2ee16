"""Entries that no truck can have together: each a fault that names both, with their values as the person wrote them."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from planner.plan.truck.project import entry_name
from planner.plan.truck.wording import place_name
from planner.project.faults import Fault
from planner.project.lines import Key
from planner.quantities.show import Style, show
from planner.quantities.text import in_words
from planner.worksheet.outcome import Failed, Known, Spot
from planner.worksheet.sheet import Tell, Worksheet

FEW = 2  # so many of the entries behind a value are named

Keys = Mapping[Spot, Key]

# What reads a text off a sidewall, a tube or a thread.
READERS = (
    "tire_size", "load_capacity", "dual_load_capacity", "speed_limit", "tire_age", "nut_thread_size",
    "right_stud_size", "tube_mark", "flap_size",
)  # fmt: skip


class AtMost(NamedTuple):
    """A value that stands against a greater one: `node` is at the most `share` of `bound`, in words `accepted`."""

    node: str
    bound: str
    share: float
    accepted: str


AT_MOST = (
    AtMost("tread_width", "section_width", 1.0, "at most the section width"),
    AtMost("section_width", "overall_diameter", 1.0, "at most the tire's overall diameter"),
    AtMost("rim_width", "overall_diameter", 1.0, "at most the tire's overall diameter"),
    AtMost("barrel_radius", "overall_diameter", 0.5, "at most half the tire's overall diameter"),
    AtMost("barrel_radius", "specified_rim_diameter", 0.5, "at most half the rim's diameter at the bead seat"),
    # The deepest dished wheels, made to run in pairs, have nine tenths; from memory of makers' lists.
    AtMost("offset", "rim_width", 1.0, "a mounting face no farther from the rim's middle than the rim is wide"),
)


def impossible(sheet: Worksheet, keys: Keys, tell: Tell) -> list[Fault]:
    """Every fault that takes more than one entry, or a table of the trade, to see; each entry is blamed once.

    What it stands against in any way is in question with it.
    """
    found: dict[tuple[str, ...], Fault] = {}
    for fault in (*_misread(sheet, keys), *_beyond(sheet, keys, tell)):
        first = found.setdefault(tuple(map(str, fault.key)), fault)
        found[tuple(map(str, fault.key))] = first._replace(
            against=tuple(dict.fromkeys((*first.against, *fault.against)))
        )
    return list(found.values())


def _misread(sheet: Worksheet, keys: Keys) -> Iterator[Fault]:
    """Entries whose text the tables of the trade do not know: a size, a load index, a date code, a thread."""
    for node in READERS:
        for spot in sheet.spots(node):
            outcome = sheet.outcome(spot)
            if not isinstance(outcome, Failed) or outcome.spot != spot:
                continue
            for read in sheet.inputs(spot):
                at = sheet.entered(read)
                if at is not None and read.node == outcome.key and at in keys:
                    why = outcome.cause.accepted if outcome.cause else outcome.why
                    yield Fault("", keys[at], None, written(sheet, at), why)


def _beyond(sheet: Worksheet, keys: Keys, tell: Tell) -> Iterator[Fault]:
    """Sizes past what they stand within, even at the best of their tolerances."""
    for one in AT_MOST:
        for spot in sheet.spots(one.node):
            bound = next((other for other in sheet.spots(one.bound) if other.place == spot.place), None)
            value, most_of = sheet.value(spot), sheet.value(bound) if bound else None
            if bound is None or value is None or most_of is None or abs(value) <= one.share * most_of:
                continue
            here, most = sheet.outcome(spot), sheet.outcome(bound)
            if not (isinstance(here, Known) and isinstance(most, Known)):
                continue
            least = max(here.low, -here.high, 0.0)
            if least <= one.share * most.high:
                continue
            behind = list(dict.fromkeys(at for side in (spot, bound) for at in entries_behind(sheet, side, keys)))
            if behind:
                others = [f"{name} = {text}" for name, text in (tell(sheet, at) for at in behind[1:])]
                accepted = one.accepted + (f"; it contradicts {', '.join(others)}" if others else "")
                against = tuple(keys[at] for at in behind[1:])
                yield Fault("", keys[behind[0]], None, written(sheet, behind[0]), accepted, against)


def entries_behind(sheet: Worksheet, spot: Spot, keys: Keys) -> list[Spot]:
    """The entries right behind a value, nearest first, without what is only assumed."""
    at = sheet.entered(spot)
    if at is not None:
        return [at] if at in keys else []
    return [one for below in sheet.inputs(spot) if below != spot for one in entries_behind(sheet, below, keys)]


def teller(keys: Keys, style: Style) -> Tell:
    """What to call a value, and its text: an entry by its key and as written, else its name and the entries behind."""

    def tell(sheet: Worksheet, spot: Spot) -> tuple[str, str]:
        at = sheet.entered(spot)
        if at is not None and at in keys:
            return entry_name(keys[at]), written(sheet, at)
        place = place_name(spot.place)
        value, kind = sheet.value(spot), sheet.catalog.kind(spot.node)
        text = show(value, kind, style) if kind is not None and isinstance(value, (int, float, str)) else str(value)
        behind = [f"{entry_name(keys[one])} = {written(sheet, one)}" for one in entries_behind(sheet, spot, keys)[:FEW]]
        by = f", by {' and '.join(dict.fromkeys(behind))}" if behind else ""
        return in_words(spot.node) + (f" ({place})" if place else ""), text + by

    return tell


def written(sheet: Worksheet, at: Spot) -> str:
    """The text of an entry."""
    return str(getattr(sheet.given(at), "text", "") or sheet.given(at))
