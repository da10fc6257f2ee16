"""Forms in which a table in a list is folded into one row: what it is, and Enter shows its entries."""

import re
from collections.abc import Iterator
from itertools import groupby
from typing import NamedTuple

from textual import work

from planner.plan.change.changing import Setting
from planner.plan.state import accept, prepare
from planner.plan.truck.forms import Field
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask
from planner.screens.places.facts_place import FactsPlace
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList

_FOLD = re.compile(r"([\w.]+)\[(\d+)\]")


class Fold(NamedTuple):
    """A table in a list, such as the first under `parts`: what a row is about that is folded."""

    table: str
    at: int

    @property
    def key(self) -> str:
        return f"{self.table}[{self.at}]"


class UnfoldingPlace(FactsPlace):
    """A form with rows that unfold: by Enter, and where the cursor is sent to an entry that is within."""

    def __init__(self) -> None:
        super().__init__()
        self.unfolded: set[Fold] = set()

    def sign(self, fold: Fold) -> str:
        """What stands before its name."""
        return "▾" if fold in self.unfolded else "▸"

    def show_entry(self, key: str) -> bool:
        fold = _fold_of(key)
        if fold is not None and fold not in self.unfolded:
            self.unfolded.add(fold)
            self.fill()
        return super().show_entry(key)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        if isinstance(event.row.about, Fold):
            self.unfolded ^= {event.row.about}
            self.fill()
        else:
            super().on_row_list_chosen(event)


class FoldedPlace(UnfoldingPlace):
    """Its rows are the tables under its roots."""

    def fold_words(self, fold: Fold) -> tuple[str, str]:
        """What a table in a list is called, and the little there is to say of it beside."""
        return fold.key, ""

    def entry_rows(self) -> Iterator[ListRow]:
        title = ""
        for fold, shown in groupby(self.shown_fields(), lambda one: _fold_of(one.key)):
            if fold is None:
                for table, entries in groupby(shown, lambda one: one.table):
                    yield heading(self.table_title(table))
                    yield from map(self.field_row, entries)
                continue
            if fold.table != title:
                title = fold.table
                yield heading(self.table_title(title))
            yield from self._folded(fold, list(shown))

    def _folded(self, fold: Fold, shown: list[Field]) -> Iterator[ListRow]:
        name, value = self.fold_words(fold)
        yield ListRow(f"{self.sign(fold)} {clean(name)}", clean(value), about=fold)
        for one in shown if fold in self.unfolded else ():
            row = self.field_row(one)
            inner = one.table.removeprefix(fold.key).strip(".").replace("_", " ")
            yield row._replace(name=f"    {f'{inner}: ' if inner else ''}{row.name}")

    def action_clear(self) -> None:
        row = self.query_one("#rows", RowList).current
        if row is not None and isinstance(row.about, Fold):
            self._remove(row.about.key, row.name)
        else:
            super().action_clear()

    @work(exclusive=True, group="talk")
    async def _remove(self, table: str, name: str) -> None:
        because = await self.app.push_screen_wait(Ask(f"Delete: {name[2:]}", "why?"))
        if because:
            self.unfolded.clear()  # those behind it move up
            trouble = await self.planner.run_job(
                "saving", lambda state: accept(prepare(state, [Setting(table, "")], because), because)
            )
            self.planner.say(trouble or f"{name[2:]} is deleted", bad=bool(trouble))


def _fold_of(key: str) -> Fold | None:
    """The table in a list that an entry is of; None for one that is in none."""
    found = _FOLD.match(key)
    return Fold(found[1], int(found[2])) if found else None
