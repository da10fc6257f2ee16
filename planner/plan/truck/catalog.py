"""Every fact, figure, limit and rule there is, wired together, and the key at which each would be entered."""

from functools import cache

from planner.plan.truck.sweep_results import swept_facts, swept_names
from planner.project.facts import AXES, Entrance, entrances, key_at
from planner.quantities.kinds import MULTIPLE, TEXT, YES_NO
from planner.worksheet.catalog import Catalog, Fact, declared_in, make
from planner.worksheet.outcome import Spot

PREFIXES = {
    "found_": ("fitment", "found"),
    "planned_": None,
    "front_": ("axle", "front"),
    "rear_": ("axle", "rear"),
}
AT_STAGES = (frozenset({"fitment"}), frozenset({"fitment", "axle"}))  # at a stage one axle has them still
AS_WEIGHED = "if these are the wheels the axle was weighed on: the ones found"


@cache
def ways_in() -> dict[str, list[Entrance]]:
    """By fact, every key at which it can be entered."""
    by_name: dict[str, list[Entrance]] = {}
    for entrance in entrances():
        by_name.setdefault(entrance.fact, []).append(entrance)
    return by_name


@cache
def catalog() -> Catalog:
    """Every fact, figure, limit and rule there is, wired together."""
    facts = [
        Fact(
            name=name,
            kind=ways[0].kind,
            means=ways[0].note.means,
            how=ways[0].note.how,
            example=ways[0].note.example,
            scopes=tuple(dict.fromkeys(frozenset(way.axes) for way in ways)),
            keys=tuple(dict.fromkeys(".".join(way.key) for way in ways)),
        )
        for name, ways in ways_in().items()
    ]
    facts += [*swept_facts(), *plan_facts()]
    facts += [
        Fact("today", TEXT, "today's date", "", "2026-03-14", (frozenset(),), ("today",)),
        Fact("as_weighed", YES_NO, AS_WEIGHED, "", "yes", AT_STAGES, ("fitments.found",)),
    ]
    return make(facts, (*declared_in("planner.trade"), *declared_in("planner.flags")), PREFIXES, swept_names())


@cache
def catalog_with(planned: frozenset[str]) -> Catalog:
    """The same, but that these facts may be entered for one fitment too, which finds them changed."""
    if not planned:
        return catalog()
    by_name = catalog().facts
    fitted = {
        name: by_name[name]._replace(
            scopes=tuple(dict.fromkeys((*by_name[name].scopes, *(one | {"fitment"} for one in by_name[name].scopes))))
        )
        for name in planned
    }
    return catalog()._replace(facts={**by_name, **fitted})


def of_fitments(fact: str) -> bool:
    """Whether a fact is entered with fitments, and not with the truck, which a change may set for them."""
    return any("fitment" in scope for scope in catalog().facts[fact].scopes)


@cache
def entry_key(spot: Spot) -> str:
    """The key at which a spot would be entered in the file, the one that serves most places, for messages."""
    place = {axis: member for axis, member in zip(AXES, spot.place, strict=True) if member}
    ways = ways_in().get(spot.node, [])
    fitting = [way for way in ways if set(way.axes) <= set(place)]
    exact = [
        way for way in fitting if all(part not in ("front", "rear") or part == place.get("axle") for part in way.key)
    ]
    best = min(exact or fitting or ways, key=_nearness, default=None)
    return ".".join(key_at(best, place)) if best else spot.node


def _nearness(way: Entrance) -> tuple[bool, int, int]:
    """What holds for every fitment comes first (an axle's ratio), then what serves both axles."""
    return "fitment" in way.axes, len(way.axes), len(way.key)


BY_THE_RECORDS = "the records"

_WORDS = {  # what is seen of a record, with an example
    "decision": ("what a decision was about", "which backspace?"),
    "finished_task": ("a ticked task", "decide.wheel"),
    "signed_task": ("a signed hold point", "decide.sign"),
    "standing_stops": ("the stops raised since", "rear: wheel and hub have different bolt circles"),
    "ordered_part": ("an ordered part", "wheels"),
    "printed_sheet": ("a printed sheet", "sheet 3 (order)"),
    "moved_since": ("what a record rested on that has changed since", "top speed was 55 mph, now 60 mph"),
    "wanted_part": ("a part that isn't ordered", "wheels"),
    "order_by": ("the last day to order it by the schedule", "2026-08-14"),
    "came_wheel": ("a wheel that came, measured", "W3"),
    "stands_against": ("the stops it raises that the plan doesn't", "rear: the tire comes too close"),
    "would_do_at": ("which axle it would still fit", "It would fit the front"),
    "outside_order": ("what about it isn't as ordered", "bore read 5.20 in, ordered 5.15 in"),
    "agreed_day": ("the day a part was due", "2026-12-14"),
    "expected_day": ("the earliest day it can come", "2027-01-15"),
    "what_slips": ("what starts later because of it, by name", "fit.bearings.front starts 2027-01-15, not 2026-12-14"),
    "waiting_task": ("a task that waits only for its parts", "fit.bearings.front"),
    "driven_stage": ("a stage of the build you drive", "rear first"),
    "stage_is": ("what is on the truck then", "front found, rear tall, spare found"),
    "stage_stops": ("what says not to drive it", "rear: wheel and hub have different bolt circles"),
    "stage_cautions": ("what to watch out for then, and not on the finished truck", "the axles travel apart"),
    "made_change": ("a change to the truck that is done", "longer stop screws"),
    "measured_apart": ("what of it was measured otherwise than planned", "the stop angle is 29 deg, planned 26"),
    "inspections": ("how many inspections are looked after, now that the truck is on the road", "12"),
    "overdue_since": ("what of it is overdue, and since when", "use.nuts.front is OVERDUE since 2027-05-01"),
    "read_entry": ("an entry with more than one reading", "front hub face to fender edge"),
    "readings_apart": ("two of its readings that contradict each other", "reading 1 says 6 in, reading 2 says 7 in"),
    "taken_reading": ("what it is by its readings", "6 1/2 in ± 1/8 in"),
}
_AMOUNTS = {"plan_cost": ("what the parts come to", "6200"), "plan_budget": ("what they may cost", "6500")}


def plan_facts() -> list[Fact]:
    """Each as an entry that the program makes, one set for every record."""
    return [
        Fact(name, kind, means, "", example, (frozenset(),), (BY_THE_RECORDS,))
        for kind, seen in ((TEXT, _WORDS), (MULTIPLE, _AMOUNTS))
        for name, (means, example) in seen.items()
    ]
