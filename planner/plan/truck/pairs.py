"""Where two wheels stand side by side at each end of an axle, and what is asked of those alone."""

from planner.plan.truck.project import OpenProject
from planner.plan.truck.undriven import of_undriven
from planner.project.facts import AXES
from planner.trade.wheel.pairs import PAIR
from planner.worksheet.outcome import Known, Spot, Waiting

# Figures and entries that say nothing of a single wheel, or what the wheel's own offset says already.
OF_PAIRS = frozenset({
    "paired_disc", "offset_to_hub", "inner_center_plane", "outer_center_plane", "outer_offset", "middle_offset",
    "clamped_thickness", "dual_spacing", "least_spacing", "offset_for_spacing", "loaded_width",
    "sidewall_gap", "most_pair_difference", "pair_held_by", "inner_nut_torque", "measured_dual_spacing",
    "measured_sidewall_gap", "pair_difference", "inner_valve_reached", "pair_offset_for_poke", "offset_face",
    "least_dual_spacing", "inner_clamp_share",
})  # fmt: skip
AS_IT_IS = {  # what a wheel that stands alone passes on, and of what
    "offset_to_hub": "offset", "outer_offset": "offset", "middle_offset": "offset",
    "clamped_thickness": "disc_thickness",
}  # fmt: skip
OF_SINGLES = frozenset({"offset_for_poke"})


def in_pairs(opened: OpenProject, fitment: str, axle: str) -> bool:
    """Whether an axle has pairs in a fitment.

    It may have where its number of tires was entered and is not known, and where something is said of a pair and
    nothing of how many there are.
    """
    tires, disc = (opened.sheet.outcome(opened.spot(n, fitment=fitment, axle=axle)) for n in ("tires", "paired_disc"))
    if isinstance(tires, Known):
        return bool(tires.value == PAIR)
    return not isinstance(disc, Known) or (isinstance(tires, Waiting) and bool(tires.barred))


def has_pairs(opened: OpenProject, fitment: str) -> bool:
    """Whether any axle has."""
    return any(in_pairs(opened, fitment, axle) for axle in ("front", "rear"))


def backspaces(opened: OpenProject, fitment: str, wide: float) -> tuple[float, float]:
    """Between which backspaces a wheel is looked for: the face lies within the rim, `wide` in all.

    On a truck with pairs it lies beyond it: those wheels are dished out past the rim, and one of them may stand alone.
    """
    return 0.0, 1.5 * wide if has_pairs(opened, fitment) else wide


def asked_there(opened: OpenProject, spot: Spot) -> bool:
    """Whether a figure, or a rule by what it reads, has to do with what is there: pairs or single wheels, a drive.

    What a rule of every wheel may leave out does not make it one of pairs.
    """
    rule, reads = spot.node in opened.sheet.catalog.rules, opened.sheet.reads(spot)
    if of_undriven(opened, spot, [one for one in reads if one is not None] if rule else [spot]):
        return False
    asked = zip(reads, opened.sheet.step(spot).required, strict=True)
    for one in [one for one, required in asked if one is not None and required] if rule else [spot]:
        if one.node in OF_PAIRS or one.node in OF_SINGLES:
            fitment, axle = (one.place[AXES.index(axis)] for axis in ("fitment", "axle"))
            if in_pairs(opened, fitment, axle) is not (one.node in OF_PAIRS):
                return False
    return True


def passed_on(opened: OpenProject, spot: Spot) -> Spot:
    """What a wheel that stands alone only passes on, by the name that people know it by."""
    known_by = AS_IT_IS.get(spot.node)
    return spot if known_by is None or asked_there(opened, spot) else Spot(known_by, spot.place)


def readers(opened: OpenProject, spot: Spot) -> list[Spot]:
    """What reads a spot, through all that a wheel that stands alone only passes on, and without what is of pairs."""
    found: dict[Spot, None] = {}
    for one in opened.sheet.readers(spot):
        if asked_there(opened, one):
            found[one] = None
        elif one.node in opened.sheet.catalog.figures:
            found.update(dict.fromkeys(readers(opened, one)))
    return list(found)
