"""What larger tires do to the brakes, and the room around drums and calipers."""

from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import wheel_sections
from planner.screens.widgets.picture_view import Picture


class BrakesPlace(FactsPlace):
    PLACE = "brakes"

    def roots(self) -> tuple[str, ...]:
        return ("axles.front.brake", "axles.rear.brake")

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*wheel_sections(opened, fitment)]
