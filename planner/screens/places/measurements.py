"""What is measured around the hubs: studs, kingpins, stops, travel, fenders, and what the tire must stay clear of."""

from collections.abc import Iterator

from planner.plan.answers.measure_next import WantedEntry, measure_next
from planner.plan.truck.forms import Field, field
from planner.plan.truck.keys import UnknownKey
from planner.project.facts import entrance_of
from planner.project.faults import as_key
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import fender_openings, stud_circles
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.picture_view import Picture
from planner.screens.widgets.row_list import RowList
from planner.tasks.kind import StandingTask
from planner.tasks.sequence import asked_for, standing

MEASURED = ("hub", "studs", "kingpin", "steering", "travel", "brake", "fender")
FEW = 6  # rows of what to measure next
OBSTACLES = next(task for task in standing() if task.id == "measure.obstacles")


class MeasurementsPlace(FactsPlace):
    PLACE = "measurements"
    SUBJECTS = ("bolts", "steering", "readings")
    NEW = "obstacle"

    def roots(self) -> tuple[str, ...]:
        ends = [f"axles.{axle}.{part}" for axle in ("front", "rear") for part in MEASURED]
        return (*ends, "obstacles", "readings")

    def flag_rows(self) -> Iterator[ListRow]:
        """What decides most is asked for first."""
        wanted = [one for one in measure_next(self.state.opened, self.state.flags) if _is_measured(one)]
        if wanted:
            yield heading("measure next: what decides most")
        for one in wanted[:FEW]:
            yield ListRow(_called(one), _waiting(one), mark="unknown", tone="muted", about=one)
        if len(wanted) > FEW:
            yield ListRow(f"… and {len(wanted) - FEW} more that something waits for", mark=" ", about="more")
        yield from super().flag_rows()

    def table_title(self, table: str) -> str:
        """The end of the truck and what is measured there; an obstacle by its name."""
        for label, one in self.state.opened.obstacles.items():
            if one.key == table:
                return f"obstacle: {label}"
        parts = table.split(".")
        if parts[0] == "axles" and len(parts) == 3:
            return f"{parts[1]} axle: {parts[2]}"
        for at in range(len(self.state.opened.project.readings)):
            if table == as_key(("readings", at)):
                return f"reading {at + 1}"
        return super().table_title(table)

    def words_for(self, row: ListRow) -> str:
        one = row.about
        if isinstance(one, WantedEntry):
            entry = self._field(one.key)
            words = super().words_for(row._replace(about=entry)) if entry else clean(f"{one.spoken}: {one.means}")
            lines = [words, f"{clean(one.waiting)}: {clean(', '.join(one.rules))}", *_how(one.key)]
        elif isinstance(one, Field):
            label = next((own for own in self.state.opened.obstacles.values() if one.table == own.key), None)
            own = label.measured.measure if label else None
            lines = [super().words_for(row)]
            lines += [clean(f"how: {own}")] if own and not one.key.endswith(".measure") else []
            lines += _how(one.key)
        else:
            return super().words_for(row)
        return "\n".join(lines)

    def _field(self, key: str) -> Field | None:
        try:
            return field(self.state.opened, key)
        except UnknownKey:
            return None

    def entry_of(self, row: ListRow) -> Field | None:
        """A row of what to measure next is changed like the entry itself."""
        return self._field(row.about.key) if isinstance(row.about, WantedEntry) else super().entry_of(row)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        if isinstance(event.row.about, WantedEntry) and self._field(event.row.about.key) is None:
            self.action_add()
        elif event.row.about == "more":
            self.lead_to("not known")
        else:
            super().on_row_list_chosen(event)

    def action_add(self) -> None:
        rows = [
            ListRow("an obstacle", "what the tire must stay clear of", about="obstacle"),
            ListRow("a reading", "who measured an entry, when and how", about="reading"),
        ]
        self.app.push_screen(Choose("What is new?", rows), self._add)

    def _add(self, what: str | None) -> None:
        if what == "obstacle":
            self.app.push_screen(Ask("A new obstacle: its name", "such as spring pack, front eye bolt"), self.add_named)
        elif what == "reading":
            row = self.query_one("#rows", RowList).current
            entry = self.entry_of(row) if row else None
            key = self.state.opened.typed(entry.key) if entry else ""
            self.app.push_screen(Ask("A new reading: of which entry, by its key", text=key), self._begin_reading)

    def add_named(self, name: str | None) -> None:
        if name:
            at = len(self.state.opened.project.obstacles)
            self.set_now(f"obstacles[{at}].name", name, f"obstacles[{at}].axle")

    def _begin_reading(self, key: str | None) -> None:
        if key:
            at = len(self.state.opened.project.readings)
            self.set_now(f"readings[{at}].of", key, f"readings[{at}].by")

    def pictures(self) -> list[Picture]:
        opened, fitment = self.state.opened, self.planner.fitment
        return [*stud_circles(opened, fitment), *fender_openings(opened, fitment)]


def _is_measured(one: WantedEntry) -> bool:
    """Whether it is read off the truck, and not decided."""
    return one.task.startswith(("measure.", "safe.")) or one.key.startswith("obstacles")


def _called(one: WantedEntry) -> str:
    """An entry by where it is and what it is called."""
    *before, last = one.spoken.removeprefix("axles.").replace("_", " ").split(".")
    return clean(f"{' '.join(before)}: {last}" if before else last)


def _waiting(one: WantedEntry) -> str:
    """What waits for it, as short as a column wants it."""
    return ", ".join(one.counts)


def _how(key: str) -> list[str]:
    """How it is measured and what to beware of, by the task that settles it."""
    tasks: tuple[StandingTask, ...] = ()
    if key.startswith("obstacles") and key.endswith((".at", ".to")):
        tasks = (OBSTACLES,)
    elif (found := entrance_of(key)) is not None:
        entrance, at = found
        tasks = asked_for(entrance.fact, found=at.get("fitment", "found") == "found")
    if not tasks:
        return []
    return [f"how: {tasks[0].how}", *([f"caution: {tasks[0].caution}"] if tasks[0].caution else [])]
