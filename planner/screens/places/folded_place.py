"""A form of which each table in a list is folded into one row: what it is, and Enter shows its entries."""

import re
from collections.abc import Iterator
from itertools import groupby

from textual import work

from planner.plan.change.changing import Setting
from planner.plan.state import accept, prepare
from planner.plan.truck.forms import Field
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask
from planner.screens.places.facts_place import FactsPlace
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList

_FOLD = re.compile(r"[\w.]+\[\d+\]")


class FoldedPlace(FactsPlace):
    """Its rows are the tables under its roots."""

    def __init__(self) -> None:
        super().__init__()
        self._unfolded: set[str] = set()

    def fold_words(self, table: str) -> tuple[str, str]:
        """What a table in a list is called, and the little there is to say of it beside."""
        return table, ""

    def entry_rows(self) -> Iterator[ListRow]:
        title = ""
        for fold, shown in groupby(self.shown_fields(), lambda one: _fold_of(one.key)):
            if not fold:
                for table, entries in groupby(shown, lambda one: one.table):
                    yield heading(self.table_title(table))
                    yield from map(self.field_row, entries)
                continue
            root = fold.partition("[")[0]
            if root != title:
                title = root
                yield heading(self.table_title(root))
            yield from self._folded(fold, list(shown))

    def _folded(self, fold: str, shown: list[Field]) -> Iterator[ListRow]:
        name, value = self.fold_words(fold)
        is_open = fold in self._unfolded
        yield ListRow(f"{'▾' if is_open else '▸'} {clean(name)}", clean(value), about=("table", fold))
        for one in shown if is_open else ():
            row = self.field_row(one)
            inner = one.table.removeprefix(fold).strip(".").replace("_", " ")
            yield row._replace(name=f"    {f'{inner}: ' if inner else ''}{row.name}")

    def show_entry(self, key: str) -> bool:
        fold = _fold_of(key)
        if fold and fold not in self._unfolded:
            self._unfolded.add(fold)
            self.fill()
        return super().show_entry(key)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        about = event.row.about
        if type(about) is tuple and about[0] == "table":
            self._unfolded ^= {about[1]}
            self.fill()
        else:
            super().on_row_list_chosen(event)

    def action_clear(self) -> None:
        row = self.query_one("#rows", RowList).current
        if row is not None and type(row.about) is tuple and row.about[0] == "table":
            self._remove(row.about[1], row.name)
        else:
            super().action_clear()

    @work(exclusive=True, group="talk")
    async def _remove(self, table: str, name: str) -> None:
        because = await self.app.push_screen_wait(Ask(f"Delete: {name[2:]}", "why?"))
        if because:
            self._unfolded.clear()  # those behind it move up
            trouble = await self.planner.run_job(
                "saving", lambda state: accept(prepare(state, [Setting(table, "")], because), because)
            )
            self.planner.say(trouble or f"{name[2:]} is deleted", bad=bool(trouble))


def _fold_of(key: str) -> str:
    """The table in a list that an entry is of; empty for one that is in none."""
    found = _FOLD.match(key)
    return found[0] if found else ""
