"""Printing one sheet: what stands against using it, its paper and its choices, a look at it, and where it goes."""

import asyncio
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import NamedTuple

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widgets import Static

from planner.plan.state import State, read
from planner.project.kept_choices import keep_choice, kept_choice
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Ask
from planner.screens.dialogs.dialog import Dialog
from planner.screens.dialogs.long_text import LongText, harmless
from planner.screens.error_text import TROUBLES, error_text
from planner.screens.state_app import StateApp, planner_of
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList
from planner.sheets.blocks import Sheet, not_printed
from planner.sheets.kind import Asked, CannotPrint, SheetKind
from planner.sheets.paper import PAPERS, WALL_PAPERS, Paper, laid_out, pdf, step_pages
from planner.sheets.printing import default_path, made, moment, next_number, put, usual_paper
from planner.sheets.reading_distance import read_distance
from planner.tasks.kind import PHASES

PRINT, TEXT, PAPER, PATH = "print", "text", "paper", "path"
PHASE, OPEN, ALL, SINCE, DISTANCE = "phase", "open", "all", "since", "distance"
TAKES = {"wall": (DISTANCE, PHASE, OPEN), "checklist": (PHASE, OPEN), "measuring": (ALL,), "slip": (SINCE,)}
NEXT = "one page for the next evening"
HINT = "Enter changes or does what the cursor is on  t looks at it  Escape leaves"


class SheetPreview(NamedTuple):
    """A sheet as it would be printed, and the file that it would go to; or why it cannot be made."""

    sheet: Sheet | None
    path: Path | None = None
    trouble: str = ""


class PrintSheet(Dialog[int | None]):
    """Gives the number of the sheet that was printed, or None where the person left."""

    BINDINGS = [Binding("t", "look", "look at it")]

    def __init__(self, kind: SheetKind, since: int | None = None) -> None:
        super().__init__(f"{kind.title}: {kind.what}", HINT, tall=True)
        self._kind, self._asked = kind, Asked(since=since)
        self._papers = WALL_PAPERS if DISTANCE in TAKES.get(kind.name, ()) else PAPERS
        self._paper: Paper = self._papers[0]
        self._path: Path | None = None
        self._preview: SheetPreview | None = None

    @property
    def planner(self) -> StateApp:
        return planner_of(self)

    @property
    def _of_paper(self) -> str:
        """Under which name the choice of paper is kept: the wall has a printer of its own."""
        return PAPER if self._papers is PAPERS else f"{PAPER} of the wall sheet"

    def body(self) -> ComposeResult:
        yield RowList(id="rows")
        with VerticalScroll(id="against", can_focus=False):
            yield Static("", id="said", markup=False)

    def on_mount(self) -> None:
        kept, usual = kept_choice(self._of_paper), usual_paper(self.planner.style)
        self._paper = next((one for one in self._papers if one == kept), usual)
        self._show()
        self._look_again()

    def _show(self) -> None:
        self.query_one(RowList).fill_whole(list(self._rows()))

    def _rows(self) -> Iterator[ListRow]:
        yield ListRow("print it", about=PRINT)
        yield ListRow("look at it as text", about=TEXT)
        yield ListRow("paper", self._paper, about=PAPER)
        takes, asked = TAKES.get(self._kind.name, ()), self._asked
        if DISTANCE in takes:
            yield ListRow("read from", self._distance() or "…", about=DISTANCE)
        if PHASE in takes:
            yield ListRow("phase", asked.phase or "all of them", about=PHASE)
        if OPEN in takes:
            yield ListRow("tasks", "only what is not done" if asked.open_only else "all, the done ones too", about=OPEN)
        if ALL in takes:
            which = "all" if asked.everything else NEXT if asked.next_only else "only what is not known yet"
            yield ListRow("readings", which, about=ALL)
        if SINCE in takes:
            yield ListRow("since sheet", str(asked.since or "the last one"), about=SINCE)
        path = self._path or (self._preview.path if self._preview else None)
        beside = "" if path is None or path.parent != self._project.parent else ", beside the project"
        yield ListRow("goes to", f"{path.name if beside else path}{beside}" if path else "…", about=PATH)

    @property
    def _project(self) -> Path:
        assert self.planner.state is not None
        return self.planner.state.source.path

    @work(exclusive=True, group="look")
    async def _look_again(self) -> None:
        """Makes the sheet in a thread, without a number, to see what stands against using it."""
        said = self.query_one("#said", Static)
        said.update("working out what goes on it …")
        state = self.planner.state
        assert state is not None
        self._preview = await asyncio.to_thread(_previewed, state, self._kind, self._asked, self._paper)
        self._show()
        said.update(harmless("\n".join(_against(self._preview))))
        said.set_class(bool(self._preview.trouble or (self._preview.sheet and self._preview.sheet.banner)), "-bad")

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        asked = self._asked
        match event.row.about:
            case "print":
                self.action_print()
            case "text":
                self.action_look()
            case "paper":
                self._paper = self._papers[(self._papers.index(self._paper) + 1) % len(self._papers)]
                keep_choice(self._of_paper, self._paper)
                self._ask_for(asked)
            case "distance":
                question = "Read from how far away? The letters are sized for that"
                self.app.push_screen(Ask(question, text=self._distance(), check=self._bad_distance), self._read_from)
            case "phase":
                phases = ("", *PHASES)
                self._ask_for(asked._replace(phase=phases[(phases.index(asked.phase) + 1) % len(phases)]))
            case "open":
                self._ask_for(asked._replace(open_only=not asked.open_only))
            case "all":
                following = not asked.everything and not asked.next_only
                self._ask_for(asked._replace(next_only=following, everything=asked.next_only))
            case "since":
                assert self.planner.state is not None
                sheets = self.planner.state.opened.project.sheets
                numbers = [None, *(one.number for one in sheets if one.kind != "slip")]
                at = numbers.index(asked.since) if asked.since in numbers else 0
                self._ask_for(asked._replace(since=numbers[(at + 1) % len(numbers)]))
            case "path":
                path = self._path or (self._preview.path if self._preview else None)
                self.app.push_screen(Ask("Where to? A PDF file", text=str(path or "")), self._put_at)

    def _ask_for(self, asked: Asked) -> None:
        self._asked = asked
        self._show()
        self._look_again()

    def _distance(self) -> str:
        """What is asked for, or the usual one once the sheet was tried."""
        read_from = self._preview.sheet.read_from if self._preview and self._preview.sheet else None
        return self._asked.distance or (read_from.says if read_from else "")

    def _bad_distance(self, text: str) -> str:
        assert self.planner.state is not None
        try:
            read_distance(text, self.planner.state.opened.style)
        except CannotPrint as trouble:
            return str(trouble)
        return ""

    def _read_from(self, text: str | None) -> None:
        if text is not None:
            self._ask_for(self._asked._replace(distance=text))

    def _put_at(self, text: str | None) -> None:
        if text:
            self._path = self._project.parent / Path(text)
            self._show()

    @work(exclusive=True, group="look text")
    async def action_look(self) -> None:
        from planner.sheets.text import text

        if self._preview is None or self._preview.sheet is None:
            return
        shown = await asyncio.to_thread(text, self._preview.sheet)
        self.app.push_screen(LongText(f"{self._kind.title}, as text", shown))

    @work(exclusive=True, group="print")
    async def action_print(self) -> None:
        """Prints it in a thread; says where it is, or why it is nowhere."""
        printed: list[tuple[Sheet, Path]] = []
        said = self.query_one("#said", Static)

        def tell(what: str) -> None:
            self.app.call_from_thread(self.planner.show_busy, what)
            self.app.call_from_thread(said.update, f"{what} …")

        def job(state: State) -> State:
            sheet, path = print_it(state, self._kind, self._asked, self._paper, self._path, tell)
            printed.append((sheet, path))
            return read(state.source.path, state.day)

        trouble = await self.planner.run_job(f"printing the {self._kind.title.lower()}", job)
        if trouble:
            said.update(clean(trouble))
            said.add_class("-bad")
            return
        sheet, path = printed[0]
        banner = f"; {sheet.banner}" if sheet.banner else ""
        self.planner.say(f"{sheet.named}: {path}{banner}")
        self.dismiss(sheet.number)


def print_it(
    state: State, kind: SheetKind, asked: Asked, paper: Paper, path: Path | None, tell: Callable[[str], object]
) -> tuple[Sheet, Path]:
    """The sheet set, on the disk and in the diary, and its file; raises `CannotPrint` or `NotSaved`."""
    opened, at = state.opened, moment()
    tell("working out the sheet")
    sheet = made(opened, kind, asked, at.date() if at else _today(state), next_number(opened))
    tell("setting it in type")
    raw = pdf(sheet, paper, at)
    target = path or default_path(opened, kind, sheet.number, ".pdf")
    tell("writing it")
    put(opened, sheet, raw, target, step_pages(sheet, paper))
    return sheet, target


def _today(state: State) -> date:
    return state.day or date.today()


def _previewed(state: State, kind: SheetKind, asked: Asked, paper: Paper) -> SheetPreview:
    number = 0 if state.opened.opened.faults else next_number(state.opened)
    path = default_path(state.opened, kind, number, ".pdf")
    try:
        sheet = made(state.opened, kind, asked, _today(state))
        laid_out(sheet, paper)
        return SheetPreview(sheet, path)
    except TROUBLES as error:
        told = error_text(error)
        return SheetPreview(None, path, told)


def _against(preview: SheetPreview) -> list[str]:
    if preview.sheet is None:
        return [f"It can't be printed: {preview.trouble}"]
    photos = [f"- {said}" for said in not_printed(preview.sheet)]
    if not preview.sheet.banner:
        return ["Nothing says not to use it.", *photos]
    return [preview.sheet.banner, *(f"- {reason}" for reason in preview.sheet.reasons), *photos]
