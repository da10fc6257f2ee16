"""What larger tires do to the brakes, and the room around drums and calipers."""

from planner.screens.facts import FactsPlace


class BrakesPlace(FactsPlace):
    PLACE = "brakes"
    SUBJECTS = ("brakes",)

    def roots(self) -> tuple[str, ...]:
        return ("axles.front.brake", "axles.rear.brake")
