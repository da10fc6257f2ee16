"""Picking several of many by their words, one after the other: what a decision rests on, what a task waits on."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from textual.widgets import Input

from planner.plan.answers.figure_rows import figure_lines
from planner.plan.truck.project import OpenProject
from planner.screens.dialogs.search_words import MOST, SearchWords
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

DONE = "That's all"


class PickSeveral(SearchWords[list[Any] | None]):
    """Gives the `about` of the rows that were picked, or None where the person left; Enter picks, or drops again.

    `offered` are the rows, each with the words by which it is found; `nothing` is said where none is picked, `listed`
    whether all stand in sight before a word is written, and `picked` are those that are picked to begin with.
    """

    def __init__(
        self,
        question: str,
        offered: Iterable[tuple[str, ListRow]],
        nothing: str,
        such_as: str,
        listed: bool = False,
        picked: Sequence[Any] = (),
    ) -> None:
        super().__init__(question, f"Enter picks it, and on “{DONE}” goes on. Escape leaves", such_as, offered)
        self._nothing, self._listed = nothing, listed
        self._picked = {row.about: row for _, row in self._all if row.about in picked}

    def show_found(self) -> None:
        if self.wanted:
            rows = self.found()[:MOST]
        else:
            rows = [ListRow(DONE if self._picked else f"{DONE}: {self._nothing}"), *self._picked.values()]
            rows += [row for _, row in self._all if row.about not in self._picked] if self._listed else []
        marked = [row._replace(mark="picked" if row.about in self._picked else "") for row in rows]
        row_list = self.query_one(RowList)
        row_list.fill(marked)
        row_list.highlighted = 0 if marked else None

    def take(self, row: ListRow | None) -> None:
        if row is None:
            return
        if row.about is None:
            self.dismiss(list(self._picked))
        elif row.about in self._picked:
            del self._picked[row.about]
        else:
            self._picked[row.about] = row._replace(mark="")
        box = self.query_one(Input)
        box.focus()
        if box.value:
            box.value = ""
        else:
            self.show_found()


def entries_and_figures(opened: OpenProject) -> Iterator[tuple[str, ListRow]]:
    """What was entered and what was worked out, each with the words by which it is found."""
    for spot in opened.keys:
        key = opened.key_of(spot)
        means = opened.sheet.catalog.means(spot.node)
        yield f"{means} {key.replace('_', ' ')} entry", ListRow(key, opened.written_at(key), spot=spot, about=spot)
    for line in figure_lines(opened):
        for spot in line.spots[:1]:
            means = opened.sheet.catalog.means(spot.node)
            yield f"{means} figure", ListRow(f"{line.subject}: {line.name}", line.text, spot=spot, about=spot)
