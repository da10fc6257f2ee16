"""What is measured around the hubs: studs, kingpins, stops, travel, fenders, and what the tire must stay clear of."""

from planner.screens.drawing import Picture
from planner.screens.facts import FactsPlace
from planner.screens.pictures import fender_openings, stud_circles

MEASURED = ("hub", "studs", "kingpin", "steering", "travel", "brake", "fender")


class MeasurementsPlace(FactsPlace):
    PLACE = "measurements"
    SUBJECTS = ("bolts", "steering")
    NEW = "obstacle"

    def roots(self) -> tuple[str, ...]:
        ends = [f"axles.{axle}.{part}" for axle in ("front", "rear") for part in MEASURED]
        return (*ends, "obstacles", "readings")

    def table_title(self, table: str) -> str:
        for label, one in self.state.opened.obstacles.items():
            if one.key == table:
                return f"obstacle · {label}"
        return super().table_title(table)

    def begin(self, name: str | None) -> None:
        if name:
            at = len(self.state.opened.project.obstacles)
            self.set_now(f"obstacles[{at}].name", name)

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*stud_circles(opened, fitment), *fender_openings(opened, fitment)]
