"""The axles that are kept, and what drives them."""

from planner.project.faults import as_key
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import engine_speeds, stud_circles
from planner.screens.places.table import MEASURED
from planner.screens.widgets.columns import ListRow


class AxlesPlace(FactsPlace):
    PLACE = "axles"
    ROOTS = ("axles.front", "axles.rear", "drivetrain")
    NEW = "gear or transfer case range"
    PICTURES = (engine_speeds, stud_circles)

    def has(self, key: str) -> bool:
        return super().has(key) and not any(f".{part}." in key for part in MEASURED)

    def action_add(self) -> None:
        rows = [
            ListRow("a gear of the transmission", "with its ratio", about="gearbox"),
            ListRow("a range of the transfer case", "with its ratio", about="transfer"),
        ]
        self.app.push_screen(Choose("What is new?", rows), self._add)

    def _add(self, table: str | None) -> None:
        def named(name: str | None) -> None:
            if name:
                self.edit_new(as_key(("drivetrain", str(table), name)))

        asked = {
            "gearbox": ("A new gear: its name", "such as 5th"),
            "transfer": ("A new range: its name", "such as low"),
        }
        if table:
            self.app.push_screen(Ask(*asked[table]), named)
