"""The candidates side by side: the verdict on each, what differs, what it costs; and choosing one, with the reason."""

import asyncio
from collections.abc import Iterator, Sequence

from textual import work
from textual.app import ComposeResult
from textual.widgets import Static

from planner.plan.answers.open_project import work_out
from planner.plan.change import comparing as words
from planner.plan.change.changing import TriedChange, try_changes
from planner.plan.change.comparing import Comparison, compare
from planner.plan.state import State
from planner.plan.truck.progress import watched
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.decisions import FOUND, begin_candidate, choose_candidate, no_name, remove_candidate
from planner.project.faults import as_key
from planner.quantities.text import clean, in_words
from planner.screens.dialogs.ask import Ask, Choose
from planner.screens.dialogs.detail import Detail
from planner.screens.dialogs.touched import Touched
from planner.screens.error_text import TROUBLES, error_text
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.change_preview import preview_lines
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList
from planner.screens.widgets.side_panel import SidePanel
from planner.worksheet.declare import SEVERITIES
from planner.worksheet.outcome import Spot

ABREAST, ABREAST_WIDE = 3, 5  # columns beside each other; the others come with the left and right keys
MOST_TOUCHED = 10
PRESSING = ("stops", "may be stops", "cautions", "too close", "not known")
AT_HAND = "▸"


class CandidatesPlace(PlaceScreen):
    PLACE = "candidates"

    def __init__(self) -> None:
        super().__init__()
        self._found: Comparison | None = None
        self._found_for: tuple[State, bool] | None = None
        self._everything = False
        self._trouble = ""
        self._begun = ""  # a candidate that the cursor is to stand on once it is in the list

    def body(self) -> ComposeResult:
        yield Static("", id="status", markup=False)
        yield RowList(self.pointed, id="rows")
        yield SidePanel(id="side-panel")

    # what is shown

    def fill(self) -> None:
        if not self._fresh:
            self._compare(self.state, self._everything)
        self._show()

    @property
    def _fresh(self) -> bool:
        """Whether what was found is of the state as it is."""
        found_for = self._found_for
        return found_for is not None and found_for[0] is self.state and found_for[1] == self._everything

    @work(exclusive=True, group="compare")
    async def _compare(self, state: State, everything: bool) -> None:
        """In a thread; the last answer stays in sight meanwhile, and a newer state drops it."""
        self.planner.show_busy("comparing")
        try:
            with watched() as watch:
                self._found = await asyncio.to_thread(watch.run, _side_by_side, state, everything)
            self._found_for, self._trouble = (state, everything), ""
        except RefusedChange as refused:
            self._found, self._found_for, self._trouble = None, (state, everything), str(refused)
        finally:
            self.planner.show_busy("")
        self._show()

    def _show(self) -> None:
        shown = "all rows" if self._everything else "only what's different"
        told = (
            "being worked out" + (" again: this is how it was before" if self._found else "")
            if not self._fresh
            else shown
        )
        self.query_one("#status", Static).update(
            clean(self._trouble or f"{told}; {AT_HAND} marks the one you're on (← →)")
        )
        row_list = self.query_one(RowList)
        row_list.fill(list(self._rows(self._found)) if self._found else [ListRow("n starts a candidate.")])
        if self._begun and row_list.point_at(about=("candidate", self._begun)):
            self._begun = ""

    def _rows(self, found: Comparison) -> Iterator[ListRow]:
        project = self.state.opened.project
        yield heading("", *PRESSING)
        for one in found.candidates:
            mark = "planned" if one.name == project.plan.chosen else "as found" if one.name == FOUND else "candidate"
            mark = mark if one.name == one.fitment else "tried"
            name = f"{AT_HAND if one.name == self.planner.fitment else ' '} {one.name}"
            tone = "error" if one.tally.stops else ""
            told = words.pressing(one)
            yield ListRow(name, mark=mark, tone=tone, about=("candidate", one.name), table=told)
        group = self._group(found)
        names = tuple(f"{AT_HAND}{one.name}" if one.name == self.planner.fitment else one.name
                      for one in found.candidates[group])  # fmt: skip
        yield _head("cost and time", names)
        for label, *cells in words.costs(found.candidates[group]):
            yield ListRow(label, cells=tuple(cells), about=("cost", label))
        for severity in SEVERITIES:
            rows = [row for row in found.flags if row.rule.severity == severity]
            if rows:
                yield _head(f"{severity}s", names)
            for flag in rows:
                marks = tuple(map(words.mark, flag.answers[group]))
                yield ListRow(words.flag_label(flag), cells=marks, about=("flag", flag.rule.name, flag.where))
        if found.entries:
            yield _head("entries", names)
        for entry in found.entries:
            key = entry.of_truck or f"{as_key(('fitments', self.planner.fitment))}.{entry.key}"
            yield ListRow(in_words(entry.key), cells=entry.written[group], key=key, about=("entry", entry.key))
        if found.figures:
            yield _head("figures", names)
        for figure in found.figures:
            spot = self._spot(figure.node, figure.places[0])
            about = ("figure", figure.name, figure.where)
            yield ListRow(words.figure_label(figure), cells=figure.texts[group], spot=spot, about=about)

    def _group(self, found: Comparison) -> slice:
        """The columns in sight: those around the candidate at hand."""
        most = ABREAST_WIDE if self.is_wide else ABREAST
        at = next((at for at, one in enumerate(found.candidates) if one.name == self.planner.fitment), 0)
        first = max(0, min(at - most // 2, len(found.candidates) - most))
        return slice(first, first + most)

    def _spot(self, node: str, place: tuple[str, ...]) -> Spot | None:
        """Where a figure of the candidate at hand can be asked about."""
        sheet = self.state.opened.sheet
        spot = Spot(node, (self.planner.fitment, *place[1:]))
        return spot if spot in sheet else None

    def words_for(self, row: ListRow) -> str:
        return "\n".join(map(clean, self._told(row)))

    def _told(self, row: ListRow) -> Iterator[str]:
        """The row whole: of a candidate what it is, of a row each cell in full."""
        found = self._found
        if found is None or not isinstance(row.about, tuple):
            return
        if row.about[0] == "candidate":
            one = next(each for each in found.candidates if each.name == row.about[1])
            fitment = self.state.opened.project.fitments.get(one.fitment)
            yield f"{one.name}: {fitment.description or 'no description'}" if fitment else one.name
            yield words.verdict(one)
            yield "; ".join(f"{label} {cell}" for label, cell in words.costs([one]) if cell != "-")
            return
        yield row.name
        names = [one.name for one in found.candidates[self._group(found)]]
        yield "; ".join(f"{name}: {cell}" for name, cell in zip(names, row.cells, strict=False))
        if row.about[0] == "flag":
            rule = next(each.rule for each in found.flags if each.rule.name == row.about[1])
            yield f"do: {rule.cure}"

    # what a person does here

    def at_hand(self) -> str:
        """The candidate under the cursor, or the one whose column is at hand."""
        row = self.query_one(RowList).current
        about = row.about if row is not None else None
        return str(about[1]) if isinstance(about, tuple) and about[0] == "candidate" else self.planner.fitment

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        row = event.row
        if row.key:
            self.planner.go_to_entry(row.key)
        elif row.spot is not None:
            self.ask_why(row.spot)
        elif row.about is not None:
            title, *lines = self._told(row)
            self.app.push_screen(Detail(title, lines))

    def action_before(self) -> None:
        self._move(-1)

    def action_after(self) -> None:
        self._move(1)

    def _move(self, by: int) -> None:
        names = list(dict.fromkeys(one.fitment for one in self._found.candidates)) if self._found else []
        if names:
            at = names.index(self.planner.fitment) if self.planner.fitment in names else 0
            self.planner.fitment = names[(at + by) % len(names)]
            self._show()
            row_list = self.query_one(RowList)
            row = row_list.current
            if row is not None and isinstance(row.about, tuple) and row.about[0] == "candidate":
                row_list.point_at(about=("candidate", self.planner.fitment))  # else space would choose another

    def action_everything(self) -> None:
        self._everything = not self._everything
        self.fill()

    @work(exclusive=True, group="talk")
    async def action_choose(self) -> None:
        name, state = self.at_hand(), self.state
        if name not in state.opened.project.fitments:
            self.planner.say(f"{name} is only tried: decide its change first", bad=True)
            return
        self.planner.show_busy("seeing what it touches")
        try:
            touched = await asyncio.to_thread(_preview, state, name)
        except TROUBLES as error:
            told = error_text(error)
            self.planner.say(told, bad=True)
            return
        finally:
            self.planner.show_busy("")
        question = f"{name} is the plan from now on"
        lines = preview_lines(touched, MOST_TOUCHED)
        asked = Ask(question, "why this one?", told=lines, whole=lambda: Touched(touched))
        because = await self.app.push_screen_wait(asked)
        if because:
            self.planner.fitment = name
            await self.record("choosing", lambda state: choose_candidate(state.opened, name, because))

    @work(exclusive=True, group="talk")
    async def action_remove(self) -> None:
        name = self.at_hand()
        try:
            remove_candidate(self.state.opened, name, "?")
        except RefusedChange as refused:
            self.planner.say(str(refused), bad=True)
            return
        asked = Ask(f"{name} isn't a candidate anymore", "why?")
        await self.ask_and_record(asked, "removing", lambda state, why: remove_candidate(state.opened, name, why))

    @work(exclusive=True, group="talk")
    async def action_add(self) -> None:
        ask = self.app.push_screen_wait
        names = list(self.state.opened.project.fitments)
        rows = [
            ListRow("empty", about=""),
            *(ListRow(f"as a copy of {name}", about=name) for name in names),
        ]
        copy_of = await ask(Choose("A new candidate", rows, at=self.at_hand()))
        if copy_of is None:
            return
        name = await ask(
            Ask("Its name", "a short one, such as taller", check=lambda text: no_name(self.state.opened, text))
        )
        described = await ask(Ask(f"{name}: what is it?", "such as: 35 in radials on 17x8 wheels")) if name else None
        if not name or described is None:
            return

        def begun(state: State) -> Recording:
            return begin_candidate(state.opened, name, described, copy_of)

        if await self.record("starting a candidate", begun):
            self.planner.fitment = self._begun = name
            if copy_of:
                self._show()
            else:
                self.planner.go("tires")


def _head(text: str, names: Sequence[str]) -> ListRow:
    return ListRow(text, heading=True, cells=tuple(names))


def _side_by_side(state: State, everything: bool) -> Comparison:
    """On a worksheet of its own: others read the state's own meanwhile."""
    opened = state.opened
    return compare(work_out(opened.opened, opened.today), everything=everything)


def _preview(state: State, name: str) -> TriedChange:
    return try_changes(state.opened, choose_candidate(state.opened, name, "?").changes)
