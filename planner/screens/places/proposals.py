"""What fits: everything that can be had tried, what nothing beats, the map of sizes, and taking one as a candidate."""

import asyncio
from collections.abc import Iterator
from typing import NamedTuple

from textual import work
from textual.app import ComposeResult
from textual.widgets import Static

from planner.plan.proposing.candidate import taking
from planner.plan.proposing.proposal_words import head, map_key, row_lines, row_pairs, ruled_out_words
from planner.plan.proposing.question_checks import refuse_unsound
from planner.plan.proposing.rows import ProposalRow, rows
from planner.plan.proposing.search import MOST, FitSearch, Proposals
from planner.plan.proposing.size_map import size_map
from planner.plan.proposing.space import search_space
from planner.plan.state import State
from planner.plan.truck.progress import NoLongerWanted, Watch, watched
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording
from planner.plan.work.decisions import no_name
from planner.project.reading import raise_faults
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask
from planner.screens.dialogs.detail import Detail
from planner.screens.error_text import TROUBLES, error_text
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList
from planner.screens.widgets.side_panel import SidePanel

NOT_YET = "f tries every tire, rim and gear set that you can get, and lists what nothing beats."


class ToldAnswer(NamedTuple):
    """What a search found of a project so far, with its rows."""

    opened: OpenProject
    search: FitSearch
    found: Proposals
    rows: tuple[ProposalRow, ...]


class ProposalsPlace(PlaceScreen):
    PLACE = "proposals"
    ASKS = False

    def __init__(self) -> None:
        super().__init__()
        self._answer: ToldAnswer | None = None
        self._search: FitSearch | None = None
        self._watch: Watch | None = None
        self._trouble = ""

    def body(self) -> ComposeResult:
        yield Static("", id="status", markup=False)
        yield RowList(self.pointed, id="rows")
        yield SidePanel(id="side-panel")

    def fill(self) -> None:
        found = self._answer
        if self._watch is not None:
            status = "being tried; f stops it and says what fits by then"
        elif found is None:
            status = "nothing is tried yet"
        elif found.opened is not self.state.opened:
            status = "for the project as it was before; f tries it again"
        else:
            status = f"{found.found.tried:,} of {found.found.of:,} tried{'' if found.found.whole else ', then STOPPED'}"
        self.query_one("#status", Static).update(clean(self._trouble or status))
        trying = self._watch is not None
        self.query_one(RowList).fill(list(_list_rows(found, trying)) if found is not None else [ListRow(NOT_YET)])

    def words_for(self, row: ListRow) -> str:
        return "\n".join(self._told(row))

    def _told(self, row: ListRow) -> Iterator[str]:
        found = self._answer
        one = found.rows[row.about] if found is not None and isinstance(row.about, int) else None
        if found is None or one is None:
            yield clean(row.name)
            return
        yield from map(clean, row_lines(found.opened, one))
        yield from (clean(f"{name}: {told}") for name, told in row_pairs(one))

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        found = self._answer
        if found is not None and isinstance(event.row.about, int):
            one = found.rows[event.row.about]
            told: list[str | tuple[str, str]] = [*row_lines(found.opened, one), *row_pairs(one)]
            self.app.push_screen(Detail(f"{one.what}, backspace {one.backspace}", told))

    # trying

    def action_try_all(self) -> None:
        """Begins the search, or stops the one that runs."""
        if self._watch is not None:
            self._watch.drop()
        else:
            self._try_all(self.state)

    @work(exclusive=True, group="propose")
    async def _try_all(self, state: State) -> None:
        """In a thread: the first row as soon as it is judged, the whole list at the end, or what was found by then."""
        self._trouble, self._answer = "", None

        def tell(done: int, whole: int) -> None:
            self.app.call_from_thread(self.planner.show_busy, f"trying {done:,} of {whole:,}")

        with watched(tell) as self._watch:
            self.planner.show_busy("trying what fits")
            self.fill()
            try:
                search = await asyncio.to_thread(_begun, state.opened)
                for first in (True, False):
                    # Only the looking is watched: what was found is judged even where it was stopped.
                    await asyncio.to_thread(self._watch.run, _look, search, first)
                    self._answer = await asyncio.to_thread(_answered, state.opened, search, 1 if first else MOST)
                    self.fill()
            except TROUBLES as error:
                self._trouble = error_text(error)
            finally:
                self._watch = None
                self.planner.show_busy("")
                if self.query("#status"):  # it may be taken down already: the program ends
                    self.fill()

    # taking

    @work(exclusive=True, group="talk")
    async def action_take(self) -> None:
        row, found = self.query_one(RowList).current, self._answer
        if found is None or row is None or not isinstance(row.about, int):
            return
        if found.opened is not self.state.opened:
            self.planner.say("the project has changed since: f tries it again", bad=True)
            return
        one, ask = found.rows[row.about], self.app.push_screen_wait
        name = await ask(
            Ask(f"{one.what} is a candidate", "its name, a short one", check=lambda text: no_name(found.opened, text))
        )
        because = await ask(Ask(f"{clean(name)} is a candidate", "why this one?")) if name else None
        if not name or not because:
            return

        def taken(state: State) -> Recording:
            candidate = one.proposal.fitting.candidate
            changes = taking(state.opened, found.search.space, candidate, name, because)
            return Recording(changes, "change", f"{name} is a candidate now", because)

        await self.record("taking", taken)


def _begun(opened: OpenProject) -> FitSearch:
    """A search of which something can come; raises what a person is told where nothing can."""
    raise_faults(opened.opened)
    search = FitSearch(opened, search_space(opened))
    refuse_unsound(search)
    return search


def _look(search: FitSearch, first: bool) -> None:
    """Looks on to the end, to the `first` that fits, or to where it is stopped."""
    try:
        for _ in search.run():
            if first and search.still_in:
                return
    except NoLongerWanted:
        pass  # it was stopped: what was found stands


def _answered(opened: OpenProject, search: FitSearch, top: int) -> ToldAnswer:
    found = search.answer(top)
    return ToldAnswer(opened, search, found, tuple(rows(opened, found, search.wished)))


def _list_rows(told: ToldAnswer, so_far: bool) -> Iterator[ListRow]:
    """The list, what to know of it, what ruled out the rest, and the map with its key."""
    opened, found = told.opened, told.found
    yield heading("what nothing beats so far" if so_far else "what nothing beats")
    for at, row in enumerate(told.rows):
        yield ListRow(f"{at + 1}  {clean(row.what)}", f"backspace {row.backspace}", "; ".join(row.why), about=at)
    yield heading("good to know")
    for line in head(found, told.search, so_far):
        yield ListRow(clean(line))
    yield heading("what ruled out the rest")
    for number, words in ruled_out_words(opened, found):
        yield ListRow(f"{number:>6,}  {words}")
    drawn = size_map(found, opened.style)
    yield heading("sizes: diameter up, section width across")
    yield from map(ListRow, drawn.lines)
    for mark, means in map_key(opened, drawn, found):
        yield ListRow(f"{mark}  {means}")
