"""How the truck will sit: what you wish for, what the picture is drawn from, and the picture itself."""

from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import fender_openings, looks

_OPENING = ("ahead", "up_ahead", "top", "up_behind", "behind")


class LookPlace(FactsPlace):
    PLACE = "look"
    PICTURES = (looks, fender_openings)

    def roots(self) -> tuple[str, ...]:
        openings = (f"axles.{axle}.fender.{one}" for axle in ("front", "rear") for one in _OPENING)
        return ("wishes", *openings, "axles.front.ride_height", "axles.rear.ride_height", "outline")
