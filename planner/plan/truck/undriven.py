"""What is not asked of an axle that the engine does not drive: its gears, its shafts, and whether it travels along.

Where nobody says that both are driven, nobody is asked what locking them together does.
"""

from planner.plan.truck.project import OpenProject
from planner.project.facts import AXES
from planner.worksheet.outcome import Spot, Waiting

FITMENT, AXLE = AXES.index("fitment"), AXES.index("axle")
ENDS = ("front", "rear")

OF_GEARS = frozenset({
    "axle_ratio", "tooth_ratio", "hub_ratio", "regear_ratio", "effective_axle_ratio", "restoring_axle_ratio",
    "nearest_gear_sets", "gear_sets", "overall_ratio", "crawl_ratio", "engine_speed", "road_speed",
    "driveshaft_angle", "axle_shaft_torque", "shaft_torque", "shaft_torque_governed_by", "axle_shaft_rating",
})  # fmt: skip
OF_BOTH = frozenset({"axle_mismatch", "axle_speed_difference"})  # of both axles, locked together
LOCKS = "part_time_four_wheel_drive"  # what a rule reads that asks what locking them does


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
