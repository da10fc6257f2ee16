"""The wheel of the fitment in view: the one that suits tire, hub, brake and body."""

from planner.screens.places.fitment_place import FitmentPlace
from planner.screens.places.pictures import stud_circles, wheel_sections


class WheelPlace(FitmentPlace):
    PLACE = "wheel"
    PICTURES = (wheel_sections, stud_circles)
    PART = "wheel"
    IN_PAIRS = ("pair",)
