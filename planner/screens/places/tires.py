"""The tire of the fitment in view: its size, its rating, the rim it wants, its age; and the set that it is of."""

from planner.screens.places.fitment_place import FitmentPlace
from planner.screens.places.pictures import fender_openings, wheel_sections
from planner.screens.widgets.picture_view import Picture


class TiresPlace(FitmentPlace):
    PLACE = "tires"
    PART = "tire"
    OWN = ("description", "tires", "price", "lead_time", "spare")

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*fender_openings(opened, fitment), *wheel_sections(opened, fitment)]
