"""The one list of tasks by phase: what is done, what can be done now, what must be looked at again."""

from collections.abc import Callable, Iterator
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widgets import Static

from planner.plan import recording
from planner.plan.drawings.scene import Grid
from planner.plan.drawings.task_bars import size, task_bars
from planner.plan.state import State
from planner.plan.task_words import about, how_far, how_long
from planner.plan.when import PART
from planner.plan.work import Item, Work, can_be_done
from planner.quantities.text import clean
from planner.screens.actions import bindings
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.dialogs.detail import Whole, as_text
from planner.screens.dialogs.tick import Ticking
from planner.screens.places.place_screen import Place
from planner.screens.places.task_rows import LEGEND, at_length, called, in_short, task_row, waiting
from planner.screens.widgets.columns import Row, heading
from planner.screens.widgets.drawing import Drawing, Picture
from planner.screens.widgets.row_list import Ledger
from planner.screens.widgets.side_panel import Aside
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
MOST_HOURS = recording.MOST_HOURS


class TasksPlace(Place):
    PLACE = "tasks"
    ASKS = False
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("tasks")]

    def __init__(self) -> None:
        super().__init__()
        self._filter = ""

    def body(self) -> ComposeResult:
        yield Static("", id="told", markup=False)
        with Container(id="work", classes="-bare"):
            yield Ledger(self.pointed, id="rows")
            with Vertical(id="side"):
                yield Drawing()
                yield Aside(id="aside-wide")
        yield Aside(id="aside")

    # what is shown

    def fill(self) -> None:
        listed = self.state.work
        self.query_one("#told", Static).update(clean(self._told(listed)))
        ledger = self.query_one(Ledger)
        first = not ledger.rows
        ledger.fill(list(self._rows(listed)))
        if first and self.state.next_task is not None:
            ledger.point_at(about=self.state.next_task.id)
        self.query_one(Drawing).offer(self.pictures())

    def _told(self, listed: Work | None) -> str:
        if listed is None:
            return f"The tasks have no order: {self.state.tangled}"
        name = FILTERS[self._filter][0] if self._filter in FILTERS else self._filter
        return f"{name.upper()}: {how_far(listed)}"

    def _rows(self, listed: Work | None) -> Iterator[Row]:
        if listed is None:
            return
        if not self._filter:
            yield from (Row(words, heading=True) for words in (*how_long(self.state.opened, listed), *LEGEND))
        shown = [one for one in listed.items.values() if self._shows(one)]
        for phase in (*PHASES, ""):
            here = [one for one in shown if one.phase == phase]
            if here:
                done = sum(one.state == "done" for one in here)
                yield heading(f"{phase or 'your own, in no phase'}   {done} of {len(here)} done")
            for one in here:
                yield task_row(self.state.opened, listed, one)
        if not shown:
            yield Row("No task is so; f shows others.")

    def _shows(self, one: Item) -> bool:
        return FILTERS[self._filter][1](one) if self._filter in FILTERS else one.phase == self._filter

    def pictures(self) -> list[Picture]:
        return [Picture("tasks over time", self._bars)] if self.state.work is not None else []

    def _bars(self, width: int, height: int) -> Grid:
        """What is left to do and to wait for, as early as it can be."""
        listed = self.state.work
        assert listed is not None
        times = listed.when.ahead.times
        ahead = [(called(one), times[one.id]) for one in listed.items.values() if not one.closed and one.id in times]
        parts = {PART + need.id: need for one in listed.items.values() for need in one.lacks}
        ahead += [
            (f"delivery: {need.part.title or need.id}", times[id_]) for id_, need in parts.items() if id_ in times
        ]
        ahead.sort(key=lambda pair: pair[1].earliest_start)
        dated = not listed.when.undated and all(one.starts and one.ends for _, one in ahead)
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

    def pointed(self, row: Row) -> None:
        one = self._item(row)
        listed = self.state.work
        short = "" if one is None else in_short(self.state.opened, one)
        whole = "" if one is None or listed is None else as_text(at_length(self.state.opened, listed, one))
        self.query_one("#aside", Aside).tell(short)
        self.query_one("#aside-wide", Aside).tell(whole)

    def _item(self, row: Row | None = None) -> Item | None:
        """The task of a row, or the one under the cursor."""
        row = row or self.query_one(Ledger).current
        return self.state.work.items.get(str(row.about)) if row is not None and self.state.work else None

    def show_about(self, about: object) -> None:
        """The cursor on a task, whatever was filtered."""
        if isinstance(about, Item):
            if not self._shows(about):
                self._filter = ""
                self.fill()
            super().show_about(about.id)

    # what a person does here

    def on_ledger_chosen(self, event: Ledger.Chosen) -> None:
        self._read(self._item(event.row))

    def action_read(self) -> None:
        self._read(self._item())

    def _read(self, one: Item | None) -> None:
        if one is not None and self.state.work is not None:
            lines = at_length(self.state.opened, self.state.work, one)[1:]
            self.app.push_screen(Whole(one.title, [*lines, "", *about(self.state.opened, self.state.work, one)]))

    @work(exclusive=True, group="talk")
    async def action_tick(self) -> None:
        one, listed = self._item(), self.state.work
        if one is None or listed is None:
            return
        stopped = recording.no_reason_helps(listed, one)
        if stopped:
            self.planner.say(stopped, bad=True)
            return
        told = await self.app.push_screen_wait(Ticking(self.state.opened, one))
        if told is None:
            return

        def ticked(state: State) -> recording.Recording:
            return recording.tick(
                state.opened, _listed(state), one.id, told.value, because=told.because, note=told.note,
                anyway=told.anyway,
            )  # fmt: skip

        await self.record("ticking", ticked)

    @work(exclusive=True, group="talk")
    async def action_reopen(self) -> None:
        await self._with_reason("Open again", "why is it open again?", recording.reopen)

    @work(exclusive=True, group="talk")
    async def action_drop(self) -> None:
        await self._with_reason("Drop", "why will it not be done?", recording.drop)

    async def _with_reason(self, what: str, question: str, make: Callable[..., recording.Recording]) -> None:
        """What is refused is said before anything is asked."""
        one, listed = self._item(), self.state.work
        if one is None or listed is None:
            return
        try:
            make(self.state.opened, listed, one.id, question)
        except recording.RefusedChange as refused:
            self.planner.say(str(refused), bad=True)
            return
        because = await self.app.push_screen_wait(Ask(f"{what}: {one.title}", question))
        if because:
            await self.record(what.lower(), lambda state: make(state.opened, _listed(state), one.id, because))

    @work(exclusive=True, group="talk")
    async def action_note(self) -> None:
        one = self._item()
        if one is None:
            return
        old = (one.record.note or "") if one.record else ""
        note = await self.app.push_screen_wait(
            Ask(f"Note: {one.title}", "an empty one takes the note away", old, lambda text: "")
        )
        if note is not None and note != old:
            await self.record("noting", lambda state: recording.noted(state.opened, _listed(state), one.id, note))

    @work(exclusive=True, group="talk")
    async def action_add(self) -> None:
        if self.state.work is None:
            return
        title = await self.app.push_screen_wait(Ask("A task of your own: what is to be done?"))
        if not title:
            return
        here = self._item()
        phases = [Row(phase, about=phase) for phase in PHASES] + [Row("in no phase", about="")]
        phase = await self.app.push_screen_wait(Choose("In which phase?", phases, at=here.phase if here else None))
        if phase is None:
            return
        hours = await self.app.push_screen_wait(
            Ask("How many hours of work?", "such as 2.5; nothing where you cannot say", check=_no_hours)
        )
        if hours is None:
            return
        number = float(hours) if hours else None
        after = await self.app.push_screen_wait(waiting(self.state.work, title))
        if after is None:
            return

        def added(state: State) -> recording.Recording:
            return recording.add(state.opened, _listed(state), title, phase=phase, hours=number, after=after)

        before = set(self.state.work.items)
        if await self.record("adding a task", added) and self.state.work is not None:
            new = next((one for id_, one in self.state.work.items.items() if id_ not in before), None)
            self.show_about(new)

    @work(exclusive=True, group="talk")
    async def action_waits(self) -> None:
        one, listed = self._item(), self.state.work
        if one is None or listed is None:
            return
        after = await self.app.push_screen_wait(waiting(listed, one.title, one))
        if after is not None:
            await self.record("saving", lambda state: recording.waits(state.opened, _listed(state), one.id, after))

    @work(exclusive=True, group="talk")
    async def action_filter(self) -> None:
        items = self.state.work.items.values() if self.state.work else ()
        rows = [Row(words, str(sum(map(asks, items))), about=name) for name, (words, asks) in FILTERS.items()]
        rows += [Row(f"phase: {phase}", str(sum(o.phase == phase for o in items)), about=phase) for phase in PHASES]
        chosen = await self.app.push_screen_wait(Choose("Show which tasks?", rows, at=self._filter))
        if chosen is not None:
            self._filter = chosen
            self.fill()

    def action_picture(self) -> None:
        shown = self.toggle_class("-picture").has_class("-picture")
        self.query_one("#work").set_class(not shown, "-bare")
        (self.query_one(Drawing) if shown else self.query_one(Ledger)).focus()


def _listed(state: State) -> Work:
    if state.work is None:
        raise recording.RefusedChange(f"the tasks have no order: {state.tangled}")
    return state.work


def _no_hours(text: str) -> str:
    """What is wrong with a number of hours; nothing written is no number, and fine."""
    try:
        fine = not text or 0 < float(text) <= MOST_HOURS
    except ValueError:
        fine = False
    return "" if fine else f"accepted: a number of hours, more than 0 and at most {MOST_HOURS}"
