"""All that a change would touch, group by group with how many there are of each; any of it can be opened."""

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.binding import Binding

from planner.plan.change.changing import TriedChange
from planner.plan.change.effect_groups import TouchedThing, counts_line, effect_groups
from planner.quantities.text import clean
from planner.screens.dialogs.detail import Detail
from planner.screens.dialogs.dialog import Dialog
from planner.screens.dialogs.why import WhyScreen
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.flag_rows import flag_mark, flag_text
from planner.screens.widgets.row_list import RowList
from planner.screens.widgets.side_panel import SidePanel

NOTHING = "It doesn't touch anything else."


class Touched(Dialog[None]):
    """The project as it would be is what its figures and flags are told of."""

    BINDINGS = [Binding("f6", "leave", "leave"), Binding("question_mark,f4", "open", "open")]

    def __init__(self, trial: TriedChange) -> None:
        self._trial, self._groups = trial, effect_groups(trial)
        super().__init__(
            counts_line(self._groups) or NOTHING, "Enter opens it, Escape goes back to the field", tall=True
        )

    def body(self) -> ComposeResult:
        yield RowList(self.pointed, id="rows")
        yield SidePanel(id="side-panel")

    def on_mount(self) -> None:
        self.query_one(RowList).fill(list(self._rows()))

    def _rows(self) -> Iterator[ListRow]:
        for group in self._groups:
            yield heading(group.title)
            for one in group.things:
                mark = flag_mark(one.flag) if one.flag is not None else ""
                yield ListRow(one.name, one.note, mark=mark, spot=one.spot, about=one)

    def pointed(self, row: ListRow) -> None:
        if isinstance(row.about, TouchedThing):
            self.query_one(SidePanel).tell("\n".join(map(clean, _words(row.about))))

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        self._open(event.row.about)

    def action_open(self) -> None:
        row = self.query_one(RowList).current
        if row is not None:
            self._open(row.about)

    def _open(self, one: TouchedThing) -> None:
        if one.spot is not None:
            self.app.push_screen(WhyScreen(self._trial.after, one.spot))
        else:
            self.app.push_screen(Detail(one.name, list(_words(one))))


def _words(one: TouchedThing) -> Iterator[str]:
    """All there is to say of it but its name."""
    if one.note:
        yield one.note
    yield from one.lines
    if one.flag is not None:
        yield from flag_text(one.flag).split("\n")
