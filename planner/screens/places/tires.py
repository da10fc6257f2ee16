"""The tire of the fitment in view: its size, its rating, the rim it wants, its age."""

from planner.screens.drawing import Picture
from planner.screens.fitment import FitmentPlace
from planner.screens.pictures import fender_openings, wheel_sections


class TiresPlace(FitmentPlace):
    PLACE = "tires"
    SUBJECTS = ("tire", "loads")
    PART = "tire"

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*fender_openings(opened, fitment), *wheel_sections(opened, fitment)]
