"""What every place has in common: its head and foot, and how it takes the project's state when that moves."""

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Container, Vertical

from planner.plan.state import State, record
from planner.plan.truck.recording import Recording
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask
from planner.screens.places.place_keys import PlaceKeys
from planner.screens.places.table import PLACES
from planner.screens.places.way_states import place_states
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.header import Header, Summary, SummaryItem
from planner.screens.widgets.keys_line import KeysLine
from planner.screens.widgets.row_list import RowList
from planner.screens.widgets.side_panel import SidePanel
from planner.screens.widgets.way import BuildWay


class PlaceScreen(PlaceKeys):
    """A place of the program. It shows the app's state; what a person does there becomes a job of the app."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide"), (160, "-widest")]
    AUTO_FOCUS = "#rows"

    def __init__(self) -> None:
        super().__init__(name=self.PLACE)
        self._shown: tuple[State, str] | None = None  # with the fitment in view

    def compose(self) -> ComposeResult:
        wide = self.app.size.width  # known before it is laid out: nothing is painted first as in another width
        self.add_class(next(name for least, name in reversed(self.HORIZONTAL_BREAKPOINTS) if wide >= least))
        yield BuildWay([(one.name, one.short_title) for one in PLACES], self.PLACE)
        yield Header(self.about.title)
        yield Summary()
        yield from self.body()
        yield KeysLine()

    def body(self) -> ComposeResult:
        """What stands between head and foot: a list, with what there is to say of the row beside or below it."""
        with Container(id="work", classes="-bare"):
            yield RowList(self.pointed, id="rows")
            with Vertical(id="side"):
                yield SidePanel(id="side-panel-wide")
        yield SidePanel(id="side-panel")

    def fill(self) -> None:
        """Shows the state anew."""

    def words_for(self, row: ListRow) -> str:
        """What there is to say of the row under the cursor."""
        return ""

    def pointed(self, row: ListRow) -> None:
        words = self.words_for(row)
        for panel in self.query(SidePanel):
            panel.tell(words)

    @property
    def is_wide(self) -> bool:
        """Whether what is said of a row stands beside or below the list, and the way through the build at the left."""
        return not self.has_class("-narrow")

    def on_mount(self) -> None:
        self.take_state()

    def on_screen_resume(self) -> None:
        self.take_state()
        if isinstance(self.focused, SummaryItem):  # it led away, and has done what it was for
            self.arrive()

    def arrive(self) -> None:
        """The list has the keys, or the field that is being written in, and the row under its cursor is in sight."""
        if not self.is_mounted:
            return
        if not self.editing and self.AUTO_FOCUS:
            self.set_focus(self.query_one(self.AUTO_FOCUS))
        if self.row_list is not None:
            self.row_list.scroll_to_highlight()

    def take_state(self) -> None:
        state = self.planner.state
        head = self.query_one(Header)
        head.busy = self.planner.busy
        if state is None:
            return
        shown = (state, self.planner.fitment)
        if self._shown is not None and self._shown[0] is state and self._shown[1] == shown[1]:
            return
        self._shown = shown
        project = state.opened.project
        head.truck = clean(project.vehicle.name or "A truck without a name")
        chosen = project.plan.chosen
        lost = state.opened.fault_at("plan", "chosen")
        head.planned = (
            f"planned: {clean(chosen)}" if chosen else "the plan isn't known" if lost else "nothing chosen yet"
        )
        following = state.next_task
        self.query_one(BuildWay).tell(place_states(state))
        self.query_one(Summary).tell(state.tally, following.title if following else state.schedule_error)
        self.fill()

    def on_build_way_followed(self, event: BuildWay.Followed) -> None:
        self.planner.go(event.name)

    def on_summary_item_followed(self, event: SummaryItem.Followed) -> None:
        self.lead_to(event.to)

    async def ask_and_record(self, asked: Ask, what: str, recording: Callable[[State, str], Recording]) -> bool:
        """Writes down what a job makes of the answer, unless the person left; whether it could be done."""
        said = await self.app.push_screen_wait(asked)
        return bool(said) and await self.record(what, lambda state: recording(state, said or ""))

    async def record(self, what: str, recording: Callable[[State], Recording]) -> bool:
        """Writes down what a job makes of the state, and says so; whether it could be done."""
        said = []

        def made(state: State) -> State:
            one = recording(state)
            said.append(one.says)
            return record(state, one)

        trouble = await self.planner.run_job(what, made)
        self.planner.say(trouble or said[-1], bad=bool(trouble))
        return not trouble
