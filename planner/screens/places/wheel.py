"""The wheel of the fitment in view: the one that suits tire, hub, brake and body."""

from planner.screens.places.fitment_place import FitmentPlace
from planner.screens.places.pictures import stud_circles, wheel_sections
from planner.screens.widgets.picture_view import Picture


class WheelPlace(FitmentPlace):
    PLACE = "wheel"
    PART = "wheel"
    IN_PAIRS = ("pair",)

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*wheel_sections(opened, fitment), *stud_circles(opened, fitment)]
