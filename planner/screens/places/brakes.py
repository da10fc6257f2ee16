"""What larger tires do to the brakes, and the room around drums and calipers."""

from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import wheel_sections


class BrakesPlace(FactsPlace):
    PLACE = "brakes"
    ROOTS = ("axles.front.brake", "axles.rear.brake")
    PICTURES = (wheel_sections,)
