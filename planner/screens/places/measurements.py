"""What is measured around the hubs: studs, kingpins, stops, travel, fenders, and what the tire has to stay clear of."""

from collections.abc import Iterator

from textual import work

from planner.plan.answers.measure_next import WantedEntry
from planner.plan.answers.mock_up_words import stands_words
from planner.plan.change.changing import Setting
from planner.plan.fit.mock_ups import mock_up_words
from planner.plan.truck.forms import Field, field
from planner.plan.truck.keys import UnknownKey
from planner.project.facts import entrance_of
from planner.project.faults import as_key
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import fender_openings, stud_circles
from planner.screens.places.table import MEASURED
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList
from planner.tasks.kind import StandingTask
from planner.tasks.sequence import asked_for, standing

_OF_A_MOCK_UP = ("rests", "reached", "turned", "came_up")
FEW = 6  # rows of what to measure next
OBSTACLES = next(task for task in standing() if task.id == "measure.obstacles")


class MeasurementsPlace(FactsPlace):
    PLACE = "measurements"
    NEW = "obstacle"
    PICTURES = (stud_circles, fender_openings)

    def roots(self) -> tuple[str, ...]:
        ends = [f"axles.{axle}.{part}" for axle in ("front", "rear") for part in MEASURED]
        return (*ends, "obstacles", "readings")

    def shown_fields(self) -> list[Field]:
        """A reading of an entry has nothing to say of how far the wheel went."""
        readings = self.state.opened.project.readings
        mocked = {f"readings[{at}]" for at, one in enumerate(readings) if one.fitment is not None}
        hidden = {f"readings[{at}].{name}" for at in range(len(readings)) for name in _OF_A_MOCK_UP}
        shown = (one for one in super().shown_fields() if one.table in mocked or one.key not in hidden)
        return [one for one in shown if not (one.table in mocked and one.label == "rests")]

    def flag_rows(self) -> Iterator[ListRow]:
        """What decides most is asked for first."""
        wanted = [one for one in self.state.wanted if one.is_measured]
        if wanted:
            yield heading("measure next: what decides most")
        for one in wanted[:FEW]:
            yield ListRow(_called(one), ", ".join(one.counts), mark="unknown", tone="muted", about=one)
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
                own = self.state.opened.project.readings[at]
                return f"reading {at + 1}" + (f", mock-up of {clean(own.fitment)}" if own.fitment else "")
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
            lines += self._mocked_up(one.key.rpartition(".")[0])
        else:
            return super().words_for(row)
        return "\n".join(lines)

    def _mocked_up(self, table: str) -> list[str]:
        """The mock-up readings of an obstacle, or the one of this table: measured, predicted, and what it says."""
        opened = self.state.opened
        tables = {label: one.key for label, one in opened.obstacles.items()}  # a brake's own is its label
        own = [
            one for one in opened.mock_ups if table in (f"readings[{one.taken.at}]", tables.get(one.label, one.label))
        ]
        return [clean(f"mock-up, {mock_up_words(opened, one)}: {stands_words(opened, one)}") for one in own]

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
        self._begin()

    @work(exclusive=True, group="talk")
    async def _begin(self) -> None:
        ask, opened = self.app.push_screen_wait, self.state.opened
        row = self.query_one("#rows", RowList).current
        rows = [
            ListRow("an obstacle", "what the tire has to stay clear of", about="obstacle"),
            ListRow("a reading", "who measured an entry, when and how", about="reading"),
            ListRow("a mock-up reading", "the room at an obstacle, with the planned wheel on", about="mock-up"),
        ]
        what, reading = await ask(Choose("What is new?", rows)), f"readings[{len(opened.project.readings)}]"
        if what == "obstacle":
            name = await ask(Ask("A new obstacle: its name", "such as spring pack, front eye bolt"))
            if name:
                obstacle = f"obstacles[{len(opened.project.obstacles)}]"
                self.set_now(f"{obstacle}.name", name, f"{obstacle}.axle")
        elif what == "reading":
            entry = self.entry_of(row) if row else None
            key = opened.typed(entry.key) if entry else ""
            of = await ask(Ask("A new reading: of which entry, by its key", text=key))
            if of:
                self.set_now(f"{reading}.of", of, f"{reading}.value")
        elif what == "mock-up":
            key = row.about.key if row is not None and isinstance(row.about, Field) else ""
            here = next((label for label, one in opened.obstacles.items() if key.startswith(f"{one.key}.")), "")
            of = await ask(Ask("A mock-up reading: at which obstacle, or front brake", text=here))
            if of:
                fitment = Setting(f"{reading}.fitment", self.planner.fitment)
                self.set_now(f"{reading}.of", of, f"{reading}.value", fitment)


def _called(one: WantedEntry) -> str:
    """An entry by where it is and what it is called."""
    *before, last = one.spoken.removeprefix("axles.").replace("_", " ").split(".")
    return clean(f"{' '.join(before)}: {last}" if before else last)


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
