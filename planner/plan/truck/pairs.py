"""What goes for some axles alone: of those with two wheels side by side at each end, of those that are driven.

What is not asked of an axle that the engine does not drive: its gears, its shafts, and whether it travels along. Where
nobody says that both are driven, nobody has to say what locking them together does.
"""

from planner.plan.truck.project import OpenProject
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

OF_GEARS = frozenset({
    "axle_ratio", "tooth_ratio", "hub_ratio", "regear_ratio", "effective_axle_ratio", "restoring_axle_ratio",
    "nearest_gear_sets", "gear_sets", "overall_ratio", "crawl_ratio", "engine_speed", "road_speed",
    "driveshaft_angle", "axle_shaft_torque", "shaft_torque", "shaft_torque_governed_by", "axle_shaft_rating",
})  # fmt: skip
OF_BOTH = frozenset({"axle_mismatch", "axle_speed_difference"})  # of both axles, locked together
LOCKS = "part_time_four_wheel_drive"  # what a rule reads that asks what locking them does

FITMENT, AXLE = AXES.index("fitment"), AXES.index("axle")
ENDS = ("front", "rear")


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
    return any(in_pairs(opened, fitment, axle) for axle in ENDS)


def backspaces(opened: OpenProject, fitment: str, wide: float) -> tuple[float, float]:
    """Between which backspaces a wheel is looked for: the face lies within the rim, `wide` in all.

    On a truck with pairs it lies beyond it: those wheels are dished out past the rim, and one of them may stand alone.
    """
    return 0.0, 1.5 * wide if has_pairs(opened, fitment) else wide


def undriven(opened: OpenProject, fitment: str, axle: str) -> bool:
    """Whether a person said of an axle that the engine does not drive it."""
    spot = opened.spot("driven", fitment=fitment, axle=axle)  # a change may set it for some fitments, and so for each
    return spot in opened.sheet.layout.index and opened.sheet.value(spot) is False


def may_lock(opened: OpenProject, fitment: str) -> bool:
    """Whether something may lock the two axles together: a person spoke of that, or of both axles as driven."""
    return _said(opened, opened.spot(LOCKS, fitment=fitment)) or all(
        opened.sheet.value(opened.spot("driven", fitment=fitment, axle=end)) is True
        or _said(opened, opened.spot("axle_ratio", fitment=fitment, axle=end))
        for end in ENDS
    )


def _said(opened: OpenProject, spot: Spot) -> bool:
    """Whether something was entered there, or behind it; what was and is not known may be anything."""
    outcome = opened.sheet.outcome(spot)
    return not isinstance(outcome, Waiting) or bool(outcome.barred)


def of_undriven(opened: OpenProject, spot: Spot, about: list[Spot]) -> bool:
    """Whether a figure, or a rule by what it reads, is about the drive of an axle that has none."""
    fitment, axle = spot.place[FITMENT], spot.place[AXLE]
    if axle:
        return any(one.node in OF_GEARS for one in about) and undriven(opened, fitment, axle)
    if not any(one.node in OF_BOTH for one in about):
        return False
    asks = any(one.node == LOCKS for one in about)
    return any(undriven(opened, fitment, end) for end in ENDS) or (asks and not may_lock(opened, fitment))


def asked_there(opened: OpenProject, spot: Spot) -> bool:
    """Whether a figure, or a rule by what it reads, has to do with what is there: pairs or single wheels, a drive.

    What a rule of every wheel may leave out does not make it one of pairs.
    """
    rule, reads = spot.node in opened.sheet.catalog.rules, opened.sheet.reads(spot)
    if of_undriven(opened, spot, [one for one in reads if one is not None] if rule else [spot]):
        return False
    asked = zip(reads, opened.sheet.step(spot).required, strict=True)
    for one in [one for one, required in asked if one is not None and required] if rule else [spot]:
        of_pairs, of_singles = one.node in OF_PAIRS, one.node in OF_SINGLES
        if (of_pairs or of_singles) and in_pairs(opened, one.place[FITMENT], one.place[AXLE]) is not of_pairs:
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
