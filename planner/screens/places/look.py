"""How the truck will sit: what you wish for, what the picture is drawn from, and the picture itself."""

from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import fender_openings, looks
from planner.screens.widgets.picture_view import Picture

_OPENING = ("ahead", "up_ahead", "top", "up_behind", "behind")


class LookPlace(FactsPlace):
    PLACE = "look"

    def roots(self) -> tuple[str, ...]:
        openings = (f"axles.{axle}.fender.{one}" for axle in ("front", "rear") for one in _OPENING)
        return ("wishes", *openings, "axles.front.ride_height", "axles.rear.ride_height", "outline")

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*looks(opened, fitment), *fender_openings(opened, fitment)]
