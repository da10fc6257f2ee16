"""The axles that are kept, and what drives them."""

from textual import work

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
        self._begin()

    @work(exclusive=True, group="talk")
    async def _begin(self) -> None:
        rows = [
            ListRow("a gear of the transmission", "with its ratio", about="gearbox"),
            ListRow("a range of the transfer case", "with its ratio", about="transfer"),
        ]
        asked = {
            "gearbox": ("A new gear: its name", "such as 5th"),
            "transfer": ("A new range: its name", "such as low"),
        }
        table = await self.app.push_screen_wait(Choose("What is new?", rows))
        name = await self.app.push_screen_wait(Ask(*asked[table])) if table else None
        if table and name:
            self.edit_new(as_key(("drivetrain", table, name)))
