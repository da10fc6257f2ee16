"""The tire of the fitment in view: its size, its rating, the rim it wants, its age; and the set that it is of."""

from planner.screens.places.fitment_place import FitmentPlace
from planner.screens.places.pictures import fender_openings, wheel_sections


class TiresPlace(FitmentPlace):
    PLACE = "tires"
    PICTURES = (fender_openings, wheel_sections)
    PART = "tire"
    OWN = ("description", "tires", "price", "lead_time", "spare")
