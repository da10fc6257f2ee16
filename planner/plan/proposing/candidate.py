"""A combination at a backspace as a candidate of the file, the project in which it alone is planned, and taking it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any, NamedTuple

from planner.plan.change.changing import TriedChange, try_changes
from planner.plan.proposing.space import Combination, SearchSpace, SoldRim
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.work.decisions import no_name
from planner.project.changes import table_at
from planner.project.faults import plain
from planner.project.lines import Key
from planner.project.models.changes import TruckChange
from planner.project.models.fitments import Fitment
from planner.project.models.project import Project
from planner.project.models.tools import MADE_TO
from planner.project.reading import Opened
from planner.project.usual_tolerances import with_usual_tolerances
from planner.quantities.grammar import read
from planner.quantities.kinds import DISTANCE
from planner.quantities.text import clean

INCH = 0.0254
DRIVEN = "drivetrain.speedometer.driven_teeth"
SIXTY_FOURTHS = 64
# Of a wheel, what goes with its size, or was read on one that came: the rest is taken as the template has it.
OF_ITS_SIZE = ("description", "rim_diameter", "rim_width", "backspace", "offset", "mass", "barrel_radius")


class PlacedCombination(NamedTuple):
    """A combination at one backspace, in m; at none where that is still asked."""

    combination: Combination
    backspace: float | None = None


def fitment_table(opened: OpenProject, space: SearchSpace, candidate: PlacedCombination) -> dict[str, Any]:
    """The candidate's own table, as the file has it: all that has no choice here is as the template has it."""
    tire, rim, gears, _ = candidate.combination
    template = table_at(opened.opened.data, ("fitments", space.template))  # from which the hub's side is taken
    wheel = _of_the_hub(template)
    wheel |= {"rim_diameter": f"{rim.code:g}", "rim_width": rim.width} | ({"mass": rim.mass} if rim.mass else {})
    if candidate.backspace is not None:
        metric = opened.project.vehicle.units == "metric"
        text = backspace_text(candidate, metric)
        wheel["backspace"] = text if rim.backspace is not None else f"{text} ± {MADE_TO[metric]}"
    found: dict[str, Any] = {"description": description(candidate.combination)}
    price, days = price_of(opened, candidate.combination), lead_days(candidate.combination)
    if price is not None:
        found["price"] = str(price)
    if days is not None and days > 0:
        found["lead_time"] = f"{days:g} days"
    if gears.ratio:
        found["axle_ratio"] = gears.ratio
    elif "axle_ratio" in template:
        found["axle_ratio"] = template["axle_ratio"]
    found |= {"tire": dict(tire.written), "wheel": wheel}
    for end in ("front", "rear"):
        own = template.get(end, {})
        kept = {name: own[name] for name in ("tires", "pair") if name in own}
        kept |= {"wheel": _of_the_hub(own)} if _of_the_hub(own) else {}
        found |= {end: kept} if kept else {}
    found |= {name: template[name] for name in ("tires", "pair") if name in template}
    if "spare" in template:
        known = {name: value for name, value in tire.written if name in ("overall_diameter", "load_capacity")}
        circle = {name: template["spare"][name] for name in ("stud_circle", "pieces") if name in template["spare"]}
        found["spare"] = {"designation": tire.size, **known, **circle}
    return found


def _of_the_hub(table: Mapping[str, Any]) -> dict[str, Any]:
    """Of a wheel, for both axles or for one, what does not go with its size."""
    return {name: value for name, value in table.get("wheel", {}).items() if name not in OF_ITS_SIZE}


def driven_change(teeth: int, name: str, because: str = "") -> dict[str, Any]:
    """The change of the truck that goes with a candidate whose speedometer gear is another."""
    found: dict[str, Any] = {
        "name": f"speedometer gear for {name}: {teeth} teeth",
        "kind": "speedometer gear or adapter",
        "state": "decided",
        "with": [name],
        "sets": {DRIVEN: str(teeth)},
    }
    return found | ({"because": because} if because else {})


def planned_alone(opened: OpenProject, name: str, table: Mapping[str, Any], driven: int | None) -> Opened:
    """The project with one candidate in place of its own, which is chosen."""
    was = opened.project
    fitments = {own: one for own, one in was.fitments.items() if own == "found"}
    fitments[name] = Fitment.model_validate(table)
    changes = list(was.changes)
    if driven is not None:
        changes.append(TruckChange.model_validate(driven_change(driven, name)))
    project: Project = was.model_copy(
        update={
            "fitments": fitments,
            "changes": changes,
            "readings": [one for one in was.readings if one.fitment is None],
            "plan": was.plan.model_copy(update={"chosen": name, "stages": []}),
        }
    )
    return opened.opened._replace(project=with_usual_tolerances(project) if opened.opened.assumes else project)


def backspace_text(candidate: PlacedCombination, metric: bool) -> str:
    """A backspace as a person writes it: in sixty-fourths of an inch where that is what it is, else in mm."""
    own = candidate.combination.rim.backspace
    if own is not None and own.text:
        return own.text
    assert candidate.backspace is not None
    parts = round(candidate.backspace / INCH * SIXTY_FOURTHS)
    if metric or abs(parts / SIXTY_FOURTHS * INCH - candidate.backspace) > 1e-7:
        return f"{candidate.backspace * 1000:.6g} mm"
    whole, rest = divmod(parts, SIXTY_FOURTHS)
    share = Fraction(rest, SIXTY_FOURTHS)
    return " ".join([*([str(whole)] if whole or not rest else []), *([str(share)] if rest else []), "in"])


def held_to(rim: SoldRim, metric: bool) -> float:
    """How far off its backspace a rim may come, in m: one that is made to order is held to what makers hold."""
    if rim.backspace is not None:
        return rim.backspace.tolerance
    return read(MADE_TO[metric], DISTANCE).value


def description(one: Combination) -> str:
    """`37x12.50R17LT on 17x9`, and the gear set where it is another."""
    wide = one.rim.width.removesuffix(" in")
    geared = f", {one.gears.ratio} gears" if one.gears.ratio else ""
    return clean(f"{one.tire.size} on {one.rim.code:g}x{wide}{geared}")


def pieces(opened: OpenProject) -> int:
    """How many tires and wheels a set has: those on the axles as planned, and the spare where one is entered."""
    spots = (opened.spot("tires", fitment=opened.planned[0], axle=axle) for axle in ("front", "rear"))
    spares = [one.spare for one in opened.project.fitments.values()]
    return sum(int(opened.sheet.value(one) or 2) for one in spots) + any(one.designation for one in spares)


def price_of(opened: OpenProject, one: Combination) -> Decimal | None:
    """What the set costs; None where the price of any part of it is not known."""
    if one.tire.price is None or one.rim.price is None or one.gears.price is None or one.driven.price is None:
        return None
    return (one.tire.price + one.rim.price) * pieces(opened) + one.gears.price + one.driven.price


def lead_days(one: Combination) -> float | None:
    """When the last of it comes; None where that is not known of any part."""
    days = [part.days for part in one.parts]
    return None if None in days else max(day for day in days if day is not None)


def taking(
    opened: OpenProject, space: SearchSpace, candidate: PlacedCombination, name: str, because: str = ""
) -> dict[Key, object]:
    """The changes to the file that make a candidate of it; raises `RefusedChange` where the name will not do."""
    trouble = no_name(opened, name)
    if trouble:
        raise RefusedChange(f"{plain(name)}: {trouble}")
    changes: dict[Key, object] = {("fitments", name): fitment_table(opened, space, candidate)}
    teeth = candidate.combination.driven.teeth
    if teeth is not None:
        changes["changes", len(opened.opened.data.get("changes", ()))] = driven_change(teeth, name, because)
    return changes


def try_taking(
    opened: OpenProject, space: SearchSpace, candidate: PlacedCombination, name: str, because: str = ""
) -> TriedChange:
    """What comes of taking it, before it is made."""
    return try_changes(opened, taking(opened, space, candidate, name, because))
