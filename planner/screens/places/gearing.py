"""Engine speed over road speed, effective gearing, and what the speedometer says."""

from planner.project.faults import as_key
from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import engine_speeds


class GearingPlace(FactsPlace):
    PLACE = "gearing"
    PICTURES = (engine_speeds,)

    def roots(self) -> tuple[str, ...]:
        root = as_key(("fitments", self.planner.fitment))
        return (
            f"{root}.axle_ratio",
            f"{root}.front.axle_ratio",
            f"{root}.rear.axle_ratio",
            "axles.front.ratio",
            "axles.rear.ratio",
            "use",
            "drivetrain",
        )

    def has(self, key: str) -> bool:
        """The axle ratio of any fitment: the place turns to that one."""
        _, inner = self.in_fitment(key)
        return inner[-1] == "axle_ratio" if inner else super().has(key)

    def show_entry(self, key: str) -> bool:
        self.turn_to(key)
        return super().show_entry(key)
