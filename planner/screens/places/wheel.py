"""The wheel of the fitment in view: the one that suits tire, hub, brake and body."""

from planner.screens.drawing import Picture
from planner.screens.fitment import FitmentPlace
from planner.screens.pictures import stud_circles, wheel_sections


class WheelPlace(FitmentPlace):
    PLACE = "wheel"
    SUBJECTS = ("wheel", "bolts")
    PART = "wheel"

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*wheel_sections(opened, fitment), *stud_circles(opened, fitment)]
