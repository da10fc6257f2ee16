"""What a person can do at every place: its keys, and where they lead."""

from typing import ClassVar

from textual.binding import BindingType
from textual.css.query import NoMatches

from planner.plan.state import State, make_again, read, take_back
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.quantities.text import clean
from planner.screens.actions import bindings
from planner.screens.dialogs.ask import Choose
from planner.screens.dialogs.help import Help
from planner.screens.dialogs.search import Search
from planner.screens.dialogs.why import WhyScreen
from planner.screens.places.saved_lists import save_list
from planner.screens.places.table import NAMES, PLACES, PlaceName, place_named
from planner.screens.places.undo import undo_or_redo
from planner.screens.state_app import StateScreen
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.header import Header
from planner.screens.widgets.picture_view import Picture
from planner.screens.widgets.row_list import RowList
from planner.worksheet.outcome import Spot


class PlaceKeys(StateScreen):
    """The keys that every place has; what is the program's own business goes to the app."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("")]
    PLACE: ClassVar[str] = ""  # its name, by which it has its own keys too
    ASKS: ClassVar[bool] = True  # whether anything in its list can be asked why

    def __init_subclass__(cls, **options: bool) -> None:
        if "PLACE" in vars(cls):
            cls.BINDINGS = [*bindings(cls.PLACE)]
        super().__init_subclass__(**options)

    @property
    def state(self) -> State:
        """The project as it stands; a place is shown only when there is one."""
        state = self.planner.state
        assert state is not None
        return state

    @property
    def opened(self) -> OpenProject:
        """The project as this place shows it."""
        return self.state.opened

    @property
    def action_groups(self) -> tuple[str, ...]:
        """Whose actions it has, in the table of actions."""
        return ("", self.PLACE)

    @property
    def about(self) -> PlaceName:
        return place_named(self.PLACE)

    @property
    def editing(self) -> bool:
        """Whether a person writes in a field of it."""
        return False

    @property
    def row_list(self) -> RowList | None:
        try:
            return self.query_one("#rows", RowList)
        except NoMatches:
            return None

    def as_text(self) -> str:
        """The list as text, for the clipboard and for a file."""
        row_list = self.row_list
        lines = [f"{clean(self.query_one(Header).truck)}: {self.about.title}"]
        return "\n".join([*lines, *(clean_row(row.text) for row in (row_list.rows if row_list else ()))]) + "\n"

    def show_entry(self, key: str) -> bool:
        return self.row_list is not None and self.row_list.point_at(key)

    def pictures(self) -> list[Picture]:
        """What can be drawn here, each with its name and what makes it."""
        return []

    # keys

    def action_help(self) -> None:
        self.app.push_screen(Help(self.about.title, self.about.what, self.action_groups))

    def action_places(self) -> None:
        rows = [ListRow(one.title, one.what, about=one.name) for one in PLACES]
        self.app.push_screen(Choose("Go to", rows, tall=True), self._go)

    def _go(self, name: str | None) -> None:
        if name:
            self.planner.go(name)

    def action_search(self) -> None:
        self.app.push_screen(Search(self.state), self.lead_to_row)

    def lead_to_row(self, row: ListRow | None) -> None:
        """To the entry, figure, flag or task of a row."""
        if row is None:
            return
        if row.key:
            self.planner.go_to_entry(row.key)
        elif row.spot is not None:
            self.ask_why(row.spot)
        elif isinstance(row.about, Item):
            self.planner.go("tasks").show_about(row.about)
        else:
            self.planner.go("overview").show_about(row.about)

    def show_about(self, about: object) -> None:
        if self.row_list is not None:
            self.call_after_refresh(self.row_list.point_at, "", about)

    def action_why(self) -> None:
        row = self.row_list.current if self.row_list else None
        if row is None or row.spot is None or row.spot not in self.opened.sheet:
            self.planner.say("There's no value under the cursor to ask about.")
        else:
            self.ask_why(row.spot)

    def ask_why(self, spot: Spot) -> None:
        self.app.push_screen(WhyScreen(self.opened, spot), self._go_to_entry)

    def _go_to_entry(self, key: str | None) -> None:
        if key:
            self.planner.go_to_entry(key)

    def lead_to(self, what: str) -> None:
        """To what the summary names: a severity, an answer, or the next task."""
        if what == "next":
            self.planner.go("tasks").show_about(self.state.next_task)
        else:
            overview = self.planner.go("overview")
            overview.call_after_refresh(overview.show_first, what)

    def action_overview(self) -> None:
        self.planner.go("overview")

    def action_next_task(self) -> None:
        self.lead_to("next")

    def action_place_after(self) -> None:
        self.planner.go(NAMES[(NAMES.index(self.PLACE) + 1) % len(NAMES)])

    def action_place_before(self) -> None:
        self.planner.go(NAMES[NAMES.index(self.PLACE) - 1])

    def action_undo(self) -> None:
        told = undo_or_redo(self.planner, "undoing the last change", take_back, "Undone; ^y redoes it")
        self.app.run_worker(told, group="asked")

    def action_redo(self) -> None:
        told = undo_or_redo(self.planner, "redoing it", make_again, "Redone; ^z undoes it")
        self.app.run_worker(told, group="asked")

    def action_read_again(self) -> None:
        self.planner.start_job("reading the file", lambda state: read(state.source.path, state.day))

    def action_menu(self) -> None:
        self.post_message(self.CloseWanted())

    def action_copy(self) -> None:
        self.app.copy_to_clipboard(self.as_text())
        self.planner.say("The list is copied, if the terminal allows it; F12 saves it as a file.")

    def action_save_list(self) -> None:
        self.planner.say(save_list(self.state.source.path, self.PLACE, self.as_text()))

    def action_picture(self) -> None:
        self.planner.say("This place has no picture.")

    def action_other_fitment(self) -> None:
        names = list(self.state.opened.project.fitments)
        if names:
            at = names.index(self.planner.fitment) if self.planner.fitment in names else -1
            self.planner.fitment = names[(at + 1) % len(names)]
            self.take_state()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys of the list rest while a person writes; what the place cannot do is not offered."""
        if self.editing and action not in ("help", "menu"):
            return False
        if action == "picture" and (self.planner.state is None or not self.pictures()):
            return False
        return action != "why" or self.ASKS


def clean_row(text: str) -> str:
    """A row made harmless, its columns kept apart."""
    return "\t".join(clean(piece) for piece in text.split("\t")) if "\n" not in text else text
