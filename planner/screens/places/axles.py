"""The axles that are kept, and what drives them."""

from planner.project.faults import as_key
from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import engine_speeds, stud_circles
from planner.screens.places.table import MEASURED
from planner.screens.widgets.picture_view import Picture


class AxlesPlace(FactsPlace):
    PLACE = "axles"
    NEW = "transmission gear"

    def roots(self) -> tuple[str, ...]:
        return ("axles.front", "axles.rear", "drivetrain")

    def has(self, key: str) -> bool:
        return super().has(key) and not any(f".{part}." in key for part in MEASURED)

    def add_named(self, name: str | None) -> None:
        if name:
            self.edit_new(as_key(("drivetrain", "gearbox", name)))

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*engine_speeds(opened, fitment), *stud_circles(opened, fitment)]
