"""Every entry that has no place of its own: who buys, the outline of the body, what is kept of tasks and decisions."""

from textual import work

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
        self._begin()

    @work(exclusive=True, group="talk")
    async def _begin(self) -> None:
        ask, project, listed = self.app.push_screen_wait, self.state.opened.project, self.state.work
        rows = [
            ListRow("which reading counts", "of an entry that was read more than once", about="which_counts"),
            ListRow("a known point", "of the photo that the outline is taken from", about="outline.known"),
            ListRow("an entry of a task", "such as how often it comes up, or its photos", about="tasks"),
        ]
        what = await ask(Choose("What is new?", rows))
        if what == "which_counts":
            name = await ask(Ask("Of which entry?", "its name, such as front steering stop angle"))
            if name:
                self._choose_reading(name)
        elif what == "outline.known":
            self.edit_new(f"outline.known[{len(project.outline.known)}].pixel")
        elif what == "tasks" and listed is not None:
            kept = {str(one.id) for one in project.tasks}
            items = [one for one in listed.items.values() if one.id not in kept]
            rows = [ListRow(clean(one.title), one.phase, about=one.id) for one in items]
            id_ = await ask(Choose("Of which task?", rows, tall=True))
            if id_:
                task = f"tasks[{len(project.tasks)}]"
                self.set_now(f"{task}.id", id_, f"{task}.every_months")

    def _choose_reading(self, name: str) -> None:
        try:
            key = find_key(self.state.opened.opened, name).key
        except UnknownKey:
            self.planner.say(f"There's no entry called {clean(name)}.", bad=True)
        else:
            self.edit_new(as_key(("which_counts", as_key(key))))
