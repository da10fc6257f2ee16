"""What is not asked of an axle that the engine does not drive: its gears, its shafts, and whether it travels along."""

from planner.plan.truck.project import OpenProject
from planner.project.facts import AXES
from planner.worksheet.outcome import Spot

FITMENT, AXLE = AXES.index("fitment"), AXES.index("axle")
ENDS = ("front", "rear")

OF_GEARS = frozenset({
    "axle_ratio", "tooth_ratio", "hub_ratio", "regear_ratio", "effective_axle_ratio", "restoring_axle_ratio",
    "nearest_gear_sets", "gear_sets", "overall_ratio", "crawl_ratio", "engine_speed", "road_speed",
    "axle_shaft_torque", "shaft_torque", "shaft_torque_governed_by", "axle_shaft_rating",
})  # fmt: skip
OF_BOTH = frozenset({"axle_mismatch", "axle_speed_difference"})  # of both axles, locked together


def undriven(opened: OpenProject, fitment: str, axle: str) -> bool:
    """Whether a person said of an axle that the engine does not drive it."""
    spot = opened.spot("driven", fitment=fitment, axle=axle)  # a change may set it for some fitments, and so for each
    return spot in opened.sheet.layout.index and opened.sheet.value(spot) is False


def of_undriven(opened: OpenProject, spot: Spot, about: list[Spot]) -> bool:
    """Whether a figure, or a rule by what it reads, is about the drive of an axle that has none."""
    fitment, axle = spot.place[FITMENT], spot.place[AXLE]
    if axle:
        return any(one.node in OF_GEARS for one in about) and undriven(opened, fitment, axle)
    return any(one.node in OF_BOTH for one in about) and any(undriven(opened, fitment, end) for end in ENDS)
