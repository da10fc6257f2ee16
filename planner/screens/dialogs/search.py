"""Searching entries, figures, flags, tasks and parts by what they are called and what they mean."""

from collections.abc import Iterator

from planner.plan.answers.figure_rows import figure_lines
from planner.plan.state import State
from planner.plan.truck.entry_names import name_of
from planner.plan.truck.forms import fields
from planner.project.written_keys import split_key
from planner.screens.dialogs.search_words import MOST, SearchWords
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.flag_rows import flag_mark
from planner.screens.widgets.row_list import RowList

GOES = "Enter goes there, Escape leaves"
ROOTS = ("vehicle", "use", "legal", "axles", "drivetrain", "fitments", "changes", "obstacles", "readings", "limits",
         "assumptions", "wishes", "offered", "plan", "parts", "wheels", "buyer", "outline")  # fmt: skip


class Search(SearchWords[ListRow | None]):
    """Gives the row that was chosen: its `key` for an entry, `spot` for a figure, `about` for a flag or a task."""

    def __init__(self, state: State) -> None:
        super().__init__("Search", GOES, "front fender, poke, torque", _everything(state))

    def searched(self, words: str) -> str:
        """What people call in two ways is found by either."""
        said = super().searched(words)
        return said.replace("stud circle", "bolt circle").replace("bolt circle", "stud bolt circle")

    def show_found(self) -> None:
        found = self.found() if self.wanted else []
        self.query_one(RowList).fill(found[:MOST])
        more = f", {MOST} shown" if len(found) > MOST else ""
        self.show_hint(
            f"{len(found)} found{more}; {GOES}" if self.wanted else f"Entries, figures, flags and tasks. {GOES}"
        )

    def take(self, row: ListRow | None) -> None:
        self.dismiss(row)


def _everything(state: State) -> Iterator[tuple[str, ListRow]]:
    """Each row with the words by which it is found."""
    opened = state.opened
    for flag in state.flags:
        if flag.verdict.answer != "clear":
            yield (
                f"{flag.rule.name} flag {flag.says}",
                ListRow(flag.notice, mark=flag_mark(flag), about=flag),
            )
    for line in figure_lines(opened):
        name = f"{line.subject}: {line.name}"
        node = line.spots[0].node
        yield (
            f"{opened.sheet.catalog.means(node)} {node.replace('_', ' ')} figure",
            ListRow(name, line.text, mark="figure", spot=line.spots[0], about=line.spots[0]),
        )
    for one in fields(opened, *ROOTS):
        words = f"{one.means} {one.key} {one.key.replace('_', ' ')} entry {one.written}"
        key = split_key(one.key)
        name = name_of(key, opened.opened.source.data) if key is not None else ""
        yield words, ListRow(name or one.key, one.written, mark="entry", key=one.key)
    for task in state.work.items.values() if state.work else ():
        yield f"{task.id} task {task.phase}", ListRow(task.title, mark="task", about=task)
