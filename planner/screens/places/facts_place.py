"""A place that is a form: its flags, its entries with what is written, its figures, and pictures of them."""

from collections.abc import Callable, Iterable, Iterator
from typing import ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical

from planner.plan.answers.figure_rows import figure_lines, value_text
from planner.plan.answers.flagging import Flag
from planner.plan.change.changing import Setting, TriedChange
from planner.plan.state import State, accept, prepare
from planner.plan.truck.change_words import read_otherwise
from planner.plan.truck.forms import Field, field, fields, tables, understood
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import provenance, reading_lines, taken_at
from planner.project.faults import as_key
from planner.project.written_keys import split_key
from planner.quantities.text import clean
from planner.screens.actions import FACTS, bindings
from planner.screens.dialogs.ask import Ask
from planner.screens.dialogs.touched import Touched
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.editor import Editor
from planner.screens.widgets.flag_rows import flag_row, flag_text
from planner.screens.widgets.picture_view import Picture, PictureView
from planner.screens.widgets.row_list import RowList
from planner.screens.widgets.side_panel import SidePanel

NUMERAL = frozenset("0123456789.-")  # what a number begins with
BLANK = "–"  # stands where nothing is written


class FactsPlace(PlaceScreen):
    """A form made from the project's models; its keys stand under `ROOTS`, figures and flags are of its subjects."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings(FACTS)]
    _new_key = ""  # the key of an entry that is begun and not accepted yet
    ROOTS: ClassVar[tuple[str, ...]] = ()
    PICTURES: ClassVar[tuple[Callable[[OpenProject, str], Iterable[Picture]], ...]] = ()  # what makes them
    NEW: ClassVar[str] = ""  # what Action("add") begins here, such as "obstacle"

    def __init__(self) -> None:
        super().__init__()
        self.editor = Editor(self.closed, self.foresee, self.show_touched)
        self._foreseen: tuple[OpenProject | None, list[ListRow]] = (None, [])

    @property
    def action_groups(self) -> tuple[str, ...]:
        return ("", FACTS, self.PLACE)

    def roots(self) -> tuple[str, ...]:
        """The keys under which the entries of this place stand."""
        return self.ROOTS

    def pictures(self) -> list[Picture]:
        return [picture for make in self.PICTURES for picture in make(self.opened, self.planner.fitment)]

    def body(self) -> ComposeResult:
        with Container(id="work"):
            yield RowList(self.pointed, id="rows")
            with Vertical(id="side"):
                yield PictureView()
                yield SidePanel(id="side-panel-wide")
        yield SidePanel(id="side-panel")
        yield self.editor

    def arrive(self) -> None:
        if self.editing:
            self.set_focus(self.editor.query_one("#value", TextBox))
        self.remove_class("-picture")
        super().arrive()

    @property
    def editing(self) -> bool:
        return self.editor.is_open

    def fill(self) -> None:
        row_list = self.query_one("#rows", RowList)
        row_list.fill([*self.flag_rows(), *self.entry_rows(), *self.figure_rows()])
        pictures = self.pictures()
        self.query_one("#work").set_class(not pictures, "-bare")
        self.query_one(PictureView).offer(pictures)

    def flag_rows(self) -> Iterator[ListRow]:
        shown = [one for one in self.state.flags if self.concerns(one.rule.name)]
        raised = [one for one in shown if one.verdict.answer in ("raised", "too close to call")]
        yield from (flag_row(self.opened, flag) for flag in raised)

    def concerns(self, rule: str) -> bool:
        return rule.partition(".")[0] in self.about.subjects

    def entry_rows(self) -> Iterator[ListRow]:
        for table, shown in tables(self.shown_fields()):
            yield heading(f"{self.table_title(table)}")
            yield from map(self.field_row, shown)

    def field_row(self, one: Field) -> ListRow:
        """An entry with what is written, and what that is in the other system."""
        note = understood(one.wants, one.written, self.planner.style).beside if one.takes_tolerance else ""
        read = taken_at(self.state.opened, one.key)
        value = f"{one.written} {one.margin}".strip() or read or (f"({one.assumed})" if one.assumed else BLANK)
        tone = "error" if one.key in self.state.opened.at_odds else "" if one.written or read else "muted"
        spot = self.state.opened.spot_at(one.key)
        return ListRow(one.label, value, note, tone=tone, key=one.key, spot=spot, about=one)

    def shown_fields(self) -> list[Field]:
        return [one for one in fields(self.state.opened, *self.roots()) if self.has(one.key)]

    def table_title(self, table: str) -> str:
        """A heading for a table of the file: obstacles by their name."""
        return table.replace(".", " · ").replace("_", " ")

    def figure_rows(self) -> Iterator[ListRow]:
        opened, rows = self._foreseen
        yield from rows if opened is self.opened else self._figure_rows(self.opened)

    def foresee(self, state: State) -> None:
        """Sets the figures of a state that there may be, so that no key waits for them once there is."""
        self._foreseen = (state.opened, list(self._figure_rows(state.opened)))

    def _figure_rows(self, opened: OpenProject) -> Iterator[ListRow]:
        subject = ""
        for line in figure_lines(opened, self.about.subjects) if self.about.subjects else ():
            if line.subject != subject:
                subject = line.subject
                yield heading(f"worked out: {subject}")
            spot = line.spots[0]
            yield ListRow(line.name, line.value, line.beside, spot=spot, about=(spot.node, spot.place))

    def has(self, key: str) -> bool:
        return any(key == root or key.startswith((f"{root}.", f"{root}[")) for root in self.roots())

    def in_fitment(self, key: str) -> tuple[str, list[str]]:
        """The fitment that an entry is of, and its names within; both empty for an entry of the truck."""
        for name in self.state.opened.project.fitments:
            root = as_key(("fitments", name)) + "."
            if key.startswith(root):
                return name, key.removeprefix(root).split(".")
        return "", []

    def turn_to(self, key: str) -> None:
        """The fitment that an entry is of comes in view."""
        name, _ = self.in_fitment(key)
        if name and name != self.planner.fitment:
            self.planner.fitment = name
            self.take_state()

    def entry_of(self, row: ListRow) -> Field | None:
        """The entry that a row is about, for changing it."""
        return row.about if isinstance(row.about, Field) else None

    # what a person does here

    def words_for(self, row: ListRow) -> str:
        """A few lines about the row under the cursor."""
        one = row.about
        if isinstance(one, Field):
            return entry_words(self.state.opened, one, row)
        if isinstance(one, Flag):
            return flag_text(one)
        if row.spot is not None:
            words = f"{clean(row.name)}: {value_text(self.opened, row.spot)}" if row.value else clean(row.name)
            return f"{words}\n{clean(self.opened.sheet.catalog.means(row.spot.node))}".strip()
        return clean(row.note or row.name)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        entry = self.entry_of(event.row)
        if entry is not None:
            self.editor.edit(entry)
        elif isinstance(event.row.about, Flag):
            self.planner.go("overview").show_about(event.row.about)
        elif event.row.spot is not None:
            self.action_why()

    def on_key(self, event: events.Key) -> None:
        """A digit on an entry begins to write it, as one would on paper, and a letter where it takes words.

        What is typed at once behind it is on its way to the list while the field opens: it belongs in the field.
        """
        row_list = self.query_one("#rows", RowList)
        if self.editing and event.is_printable:
            event.stop()
            self.editor.query_one("#value", TextBox).post_message(events.Key(event.key, event.character))
            return
        row = row_list.current
        entry = self.entry_of(row) if row is not None and row_list.has_focus else None
        if entry is not None and event.character and _begins(entry, event.character):
            event.stop()
            self.editor.edit(entry, typed=event.character)

    def action_change(self) -> None:
        self.query_one("#rows", RowList).action_select()

    def action_clear(self) -> None:
        row = self.query_one("#rows", RowList).current
        if row is not None and isinstance(row.about, Field) and row.about.written:
            editor = self.editor
            editor.edit(row.about, typed="")
            editor.try_it()

    def closed(self, moved: bool) -> None:
        """The editor is done."""
        row_list = self.query_one("#rows", RowList)
        self.set_focus(row_list)
        begun, self._new_key = self._new_key, ""
        if moved and begun:
            self.show_entry(begun)
        elif moved and row_list.current is not None and isinstance(row_list.current.about, Field):
            row_list.action_cursor_down()  # a row that was settled is gone by itself

    def show_touched(self, trial: TriedChange) -> None:
        """All that what is being written would touch."""
        self.app.push_screen(Touched(trial))

    def action_add(self) -> None:
        if not self.NEW:
            self.planner.say("You can't start anything here.")
            return
        self.planner.push_screen(Ask(f"A new {self.NEW}: its name"), self.add_named)

    def add_named(self, name: str | None) -> None:
        """Begins a new thing of this name; each place that has such says how."""

    def edit_new(self, key: str) -> None:
        """Opens the editor on an entry that is not there yet."""
        self._new_key = key
        self.editor.edit(field(self.state.opened, key))

    def edit_typed(self, key: str, text: str, because: str) -> None:
        """Goes on with what was typed for an entry before; raises `UnknownKey`."""
        self.show_entry(key)
        self.editor.edit(field(self.state.opened, key), typed=text, because=because)

    @work(group="begin")
    async def set_now(self, key: str, value: str, then: str, *more: Setting) -> None:
        """Makes an entry that nothing rests on yet, such as the name of a new obstacle, and goes on to the next."""
        trouble = await self.planner.run_job(
            "saving", lambda state: accept(prepare(state, [Setting(key, value), *more]))
        )
        if trouble:
            self.planner.say(trouble, bad=True)
        else:
            self.query_one("#rows").focus()
            self.show_entry(then)

    def action_picture(self) -> None:
        drawing = self.query_one(PictureView)
        if self.is_wide:
            drawing.next()
        elif not self.has_class("-picture"):
            self.add_class("-picture")
            drawing.focus()
        elif not drawing.next():
            self.action_list()

    def action_list(self) -> None:
        self.remove_class("-picture")
        self.query_one("#rows").focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        if action == "add" and not self.NEW:
            return False
        return super().check_action(action, parameters)


def entry_words(opened: OpenProject, one: Field, row: ListRow) -> str:
    """What an entry is, what is written, how to come by it, and where it stands in the file."""
    lines = [one.means if one.label == one.means else f"{one.label}: {one.means}"]
    counted = taken_at(opened, one.key)
    if one.written:
        lines.append(f"written: {one.written}{f' = {row.note}' if row.note else ''}")
    elif counted:
        lines.append(f"from its readings: {counted}")
    elif one.assumed:
        lines.append(f"assumed: {one.assumed}")
    else:
        example = f"one of {', '.join(one.choices)}" if one.choices else f"write it like {one.example}"
        lines.append(f"not known yet{f'; {example}' if one.choices or one.example else ''}")
    read = provenance(opened, one.key) if one.written or counted else ""
    several = reading_lines(opened, one.key) if counted else []
    lines += several if len(several) > 1 else [read] if read else []
    against = opened.contradicts(one.key)
    lines += [against] if against else []
    lines += [one.how] if one.how else []
    lines += read_otherwise(opened, [split_key(one.key) or ()])
    return "\n".join(map(clean, [*lines, f"in the file: {opened.typed(one.key)}"]))


def _begins(entry: Field, character: str) -> bool:
    """Whether a key begins to write an entry: on a number letters stay keys of the place."""
    return character in NUMERAL or (character.isalpha() and entry.takes_words)
