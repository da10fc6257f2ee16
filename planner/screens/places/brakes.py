"""What larger tires do to the brakes, and the room around drums and calipers."""

from planner.screens.drawing import Picture
from planner.screens.facts import FactsPlace
from planner.screens.pictures import wheel_sections


class BrakesPlace(FactsPlace):
    PLACE = "brakes"
    SUBJECTS = ("brakes",)

    def roots(self) -> tuple[str, ...]:
        return ("axles.front.brake", "axles.rear.brake")

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*wheel_sections(opened, fitment)]
