"""Every entry that has no place of its own: who buys, the outline of the body, what is kept of tasks and decisions."""

from planner.plan.truck.keys import UnknownKey, find_key
from planner.project.faults import as_key
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.places.folded_place import Fold, FoldedPlace
from planner.screens.places.part_rows import notices
from planner.screens.widgets.columns import ListRow

TITLES = {
    "buyer": "who is buying",
    "outline": "the outline of the body, from the side",
    "outline.known": "points of the photo whose places are known",
    "which_counts": "which of several readings counts",
    "tasks": "what is kept of each task",
    "decisions": "decisions",
    "acceptances": "cautions you accepted",
}


class OthersPlace(FoldedPlace):
    PLACE = "others"
    ROOTS = ("buyer", "outline", "which_counts", "decisions", "acceptances", "tasks")
    NEW = "entry"

    def table_title(self, table: str) -> str:
        return TITLES.get(table, table)

    def fold_words(self, fold: Fold) -> tuple[str, str]:
        project, at = self.state.opened.project, fold.at
        if fold.table == "tasks" and at < len(project.tasks):
            one = project.tasks[at]
            listed = self.state.work
            item = listed.items.get(str(one.id)) if listed else None
            return (item.title if item else one.title or one.id or fold.key), one.state
        if fold.table == "decisions" and at < len(project.decisions):
            return project.decisions[at].question or fold.key, project.decisions[at].chosen or ""
        if fold.table == "acceptances" and at < len(project.acceptances):
            return notices(project.acceptances[at]), project.acceptances[at].at or ""
        return f"point {at + 1}", ""

    # what is begun here

    def action_add(self) -> None:
        rows = [
            ListRow("which reading counts", "of an entry that was read more than once", about="which_counts"),
            ListRow("a known point", "of the photo that the outline is taken from", about="outline.known"),
            ListRow("an entry of a task", "such as how often it comes up, or its photos", about="tasks"),
        ]
        self.app.push_screen(Choose("What is new?", rows), self._add)

    def _add(self, what: str | None) -> None:
        if what == "which_counts":
            self.app.push_screen(Ask("Of which entry?", "its name, such as front steering stop angle"), self._of_entry)
        elif what == "outline.known":
            self.edit_new(f"outline.known[{len(self.state.opened.project.outline.known)}].pixel")
        elif what == "tasks" and self.state.work is not None:
            kept = {str(one.id) for one in self.state.opened.project.tasks}
            items = [one for one in self.state.work.items.values() if one.id not in kept]
            rows = [ListRow(clean(one.title), one.phase, about=one.id) for one in items]
            self.app.push_screen(Choose("Of which task?", rows, tall=True), self._of_task)

    def _of_entry(self, name: str | None) -> None:
        if name:
            key = self._key_of(name)
            if key:
                self.edit_new(as_key(("which_counts", key)))
            else:
                self.planner.say(f"There's no entry called {clean(name)}.", bad=True)

    def _key_of(self, name: str) -> str:
        try:
            return as_key(find_key(self.state.opened.opened, name).key)
        except UnknownKey:
            return ""

    def _of_task(self, id_: str | None) -> None:
        if id_:
            task = f"tasks[{len(self.state.opened.project.tasks)}]"
            self.set_now(f"{task}.id", id_, f"{task}.every_months")
