"""The one list of tasks by phase: what is done, what can be done now, what must be looked at again."""

from collections.abc import Callable, Iterator

from textual import work
from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.widgets import Static

from planner.plan.change import task_recordings
from planner.plan.change.photo_recordings import ABOUT, photograph_task, why_no_photo
from planner.plan.drawings.scene import Grid
from planner.plan.drawings.task_bars import size, task_bars
from planner.plan.state import State
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.item import Item
from planner.plan.work.slips import PART
from planner.plan.work.task_list import Work, can_be_done
from planner.plan.work.task_words import about, how_far, how_long
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.dialogs.detail import Detail, as_text
from planner.screens.dialogs.tick_task import TickTask
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.places.task_rows import LEGEND, short_words, task_lines, task_name, task_row, waits_dialog
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.picture_view import Picture, PictureView
from planner.screens.widgets.row_list import RowList
from planner.screens.widgets.side_panel import SidePanel
from planner.tasks.kind import PHASES

FILTERS: dict[str, tuple[str, Callable[[Item], bool]]] = {
    "": ("all tasks", lambda one: True),
    "now": ("what can be done now", can_be_done),
    "again": ("to look at again", lambda one: one.state == "look again"),
    "holds": ("hold points", lambda one: one.hold),
    "open": ("open", lambda one: not one.closed),
    "done": ("done or dropped", lambda one: one.closed),
    "own": ("your own", lambda one: one.origin == "own"),
}
MOST_HOURS = task_recordings.MOST_HOURS


class TasksPlace(PlaceScreen):
    PLACE = "tasks"
    ASKS = False

    def __init__(self) -> None:
        super().__init__()
        self._filter = ""

    def body(self) -> ComposeResult:
        yield Static("", id="status", markup=False)
        with Container(id="work", classes="-bare"):
            yield RowList(self.pointed, id="rows")
            with Vertical(id="side"):
                yield PictureView()
                yield SidePanel(id="side-panel-wide")
        yield SidePanel(id="side-panel")

    # what is shown

    def fill(self) -> None:
        listed = self.state.work
        self.query_one("#status", Static).update(clean(self._told(listed)))
        row_list = self.query_one(RowList)
        first = not row_list.rows
        row_list.fill(list(self._rows(listed)))
        if first and self.state.next_task is not None:
            row_list.point_at(about=self.state.next_task.id)
        self.query_one(PictureView).offer(self.pictures())

    def _told(self, listed: Work | None) -> str:
        if listed is None:
            return f"The tasks can't be put in order: {self.state.schedule_error}"
        name = FILTERS[self._filter][0] if self._filter in FILTERS else self._filter
        return f"{name.upper()}: {how_far(self.state.opened, listed)}"

    def _rows(self, listed: Work | None) -> Iterator[ListRow]:
        if listed is None:
            return
        if not self._filter:
            yield from (ListRow(words, heading=True) for words in how_long(self.state.opened, listed))
            yield ListRow(LEGEND, heading=True, tone="muted")
        shown = [one for one in listed.items.values() if self._shows(one)]
        for phase in (*PHASES, ""):
            here = [one for one in shown if one.phase == phase]
            if here:
                done = sum(one.state == "done" for one in here)
                yield heading(f"{phase or 'your own, in no phase'}   {done} of {len(here)} done")
            for one in here:
                yield task_row(self.state.opened, listed, one)
        if not shown:
            yield ListRow("No tasks match; f changes the filter.")

    def _shows(self, one: Item) -> bool:
        return FILTERS[self._filter][1](one) if self._filter in FILTERS else one.phase == self._filter

    def pictures(self) -> list[Picture]:
        return [Picture("tasks over time", self._bars)] if self.state.work is not None else []

    def _bars(self, width: int, height: int) -> Grid:
        """What is left to do and to wait for, as early as it can be."""
        listed = self.state.work
        assert listed is not None
        times = listed.dates.ahead.times
        ahead = [(task_name(one), times[one.id]) for one in listed.items.values() if not one.closed and one.id in times]
        parts = {PART + need.id: need for one in listed.items.values() for need in one.lacks}
        ahead += [
            (f"delivery: {need.part.title or need.id}", times[id_]) for id_, need in parts.items() if id_ in times
        ]
        ahead.sort(key=lambda pair: pair[1].earliest_start)
        dated = not listed.dates.undated and all(one.starts and one.ends for _, one in ahead)
        rows, columns = size(width, height)
        return task_bars(
            [
                (title, one.starts or 0.0, one.ends or 0.0, one.critical)
                if dated
                else (title, one.earliest_start, one.earliest_finish, one.critical)
                for title, one in ahead
            ],
            rows,
            columns,
        )

    def pointed(self, row: ListRow) -> None:
        one = self._item(row)
        listed = self.state.work
        short = "" if one is None else short_words(self.state.opened, one)
        whole = "" if one is None or listed is None else as_text(task_lines(self.state.opened, listed, one))
        self.query_one("#side-panel", SidePanel).tell(short)
        self.query_one("#side-panel-wide", SidePanel).tell(whole)

    def _item(self, row: ListRow | None = None) -> Item | None:
        """The task of a row, or the one under the cursor."""
        row = row or self.query_one(RowList).current
        return self.state.work.items.get(str(row.about)) if row is not None and self.state.work else None

    def show_about(self, about: object) -> None:
        """The cursor on a task, whatever was filtered."""
        if isinstance(about, Item):
            if not self._shows(about):
                self._filter = ""
                self.fill()
            super().show_about(about.id)

    def arrive(self) -> None:
        if self.has_class("-picture"):
            self.action_picture()
        super().arrive()

    # what a person does here

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self._read(self._item(event.row))

    def action_read(self) -> None:
        self._read(self._item())

    def _read(self, one: Item | None) -> None:
        if one is not None and self.state.work is not None:
            lines = task_lines(self.state.opened, self.state.work, one)[1:]
            self.app.push_screen(Detail(one.title, [*lines, "", *about(self.state.opened, self.state.work, one)]))

    @work(exclusive=True, group="talk")
    async def action_tick(self) -> None:
        one, listed = self._item(), self.state.work
        if one is None or listed is None:
            return
        stopped = task_recordings.no_reason_helps(listed, one)
        if stopped:
            self.planner.say(stopped, bad=True)
            return
        told = await self.app.push_screen_wait(TickTask(self.state.opened, one))
        if told is None:
            return

        def ticked(state: State) -> Recording:
            return task_recordings.tick_task(
                state.opened, _listed(state), one.id, told.value, counts=told.counts, because=told.because,
                note=told.note, anyway=told.anyway, odometer=told.odometer,
            )  # fmt: skip

        await self.record("ticking", ticked)

    @work(exclusive=True, group="talk")
    async def action_reopen(self) -> None:
        await self._with_reason("Reopen", "why reopen it?", task_recordings.reopen_task)

    @work(exclusive=True, group="talk")
    async def action_drop(self) -> None:
        await self._with_reason("Drop", "why won't you do it?", task_recordings.drop_task)

    async def _with_reason(self, what: str, question: str, make: Callable[..., Recording]) -> None:
        """What is refused is said before anything is asked."""
        one, listed = self._item(), self.state.work
        if one is None or listed is None:
            return
        try:
            make(self.state.opened, listed, one.id, question)
        except RefusedChange as refused:
            self.planner.say(str(refused), bad=True)
            return
        asked = Ask(f"{what}: {one.title}", question)
        await self.ask_and_record(
            asked, what.lower(), lambda state, because: make(state.opened, _listed(state), one.id, because)
        )

    @work(exclusive=True, group="talk")
    async def action_note(self) -> None:
        one = self._item()
        if one is None:
            return
        old = (one.record.note or "") if one.record else ""
        note = await self.app.push_screen_wait(
            Ask(f"Note: {one.title}", "leave it empty to delete the note", old, lambda text: "")
        )
        if note is not None and note != old:
            await self.record(
                "noting", lambda state: task_recordings.note_task(state.opened, _listed(state), one.id, note)
            )

    @work(exclusive=True, group="talk")
    async def action_photo(self) -> None:
        one = self._item()
        if one is None:
            return
        asked = Ask(f"Photo: {one.title}", ABOUT, check=why_no_photo)
        await self.ask_and_record(
            asked,
            "naming a photo",
            lambda state, photo: photograph_task(state.opened, _listed(state), one.id, [photo]),
        )

    @work(exclusive=True, group="talk")
    async def action_add(self) -> None:
        if self.state.work is None:
            return
        title = await self.app.push_screen_wait(Ask("A task of your own: what has to be done?"))
        if not title:
            return
        here = self._item()
        phases = [ListRow(phase, about=phase) for phase in PHASES] + [ListRow("in no phase", about="")]
        phase = await self.app.push_screen_wait(Choose("Which phase?", phases, at=here.phase if here else None))
        if phase is None:
            return
        hours = await self.app.push_screen_wait(
            Ask("How many hours of work?", "such as 2.5; leave it empty if you can't say", check=_no_hours)
        )
        if hours is None:
            return
        number = float(hours) if hours else None
        after = await self.app.push_screen_wait(waits_dialog(self.state.work, title))
        if after is None:
            return

        def added(state: State) -> Recording:
            return task_recordings.add_task(state.opened, _listed(state), title, phase=phase, hours=number, after=after)

        before = set(self.state.work.items)
        if await self.record("adding a task", added) and self.state.work is not None:
            new = next((one for id_, one in self.state.work.items.items() if id_ not in before), None)
            self.show_about(new)

    @work(exclusive=True, group="talk")
    async def action_waits(self) -> None:
        one, listed = self._item(), self.state.work
        if one is None or listed is None:
            return
        after = await self.app.push_screen_wait(waits_dialog(listed, one.title, one))
        if after is not None:
            await self.record(
                "saving", lambda state: task_recordings.set_dependencies(state.opened, _listed(state), one.id, after)
            )

    @work(exclusive=True, group="talk")
    async def action_filter(self) -> None:
        items = self.state.work.items.values() if self.state.work else ()
        rows = [ListRow(words, str(sum(map(asks, items))), about=name) for name, (words, asks) in FILTERS.items()]
        rows += [ListRow(f"phase: {phase}", str(sum(o.phase == phase for o in items)), about=phase) for phase in PHASES]
        chosen = await self.app.push_screen_wait(Choose("Show which tasks?", rows, at=self._filter))
        if chosen is not None:
            self._filter = chosen
            self.fill()

    def action_picture(self) -> None:
        shown = self.toggle_class("-picture").has_class("-picture")
        self.query_one("#work").set_class(not shown, "-bare")
        (self.query_one(PictureView) if shown else self.query_one(RowList)).focus()


def _listed(state: State) -> Work:
    if state.work is None:
        raise RefusedChange(f"the tasks can't be put in order: {state.schedule_error}")
    return state.work


def _no_hours(text: str) -> str:
    """What is wrong with a number of hours; nothing written is no number, and fine."""
    try:
        fine = not text or 0 < float(text) <= MOST_HOURS
    except ValueError:
        fine = False
    return "" if fine else f"accepted: a number of hours, more than 0 and no more than {MOST_HOURS}"
