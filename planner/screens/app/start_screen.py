"""What the program shows when it was opened on nothing: begin a project, go on with one, or look at an example."""

from collections.abc import Callable, Iterator
from pathlib import Path

from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Static

from planner.project.examples import Example, copied, examples
from planner.project.faults import Faulty, without_path
from planner.project.project_path import project_file
from planner.project.recent import recent
from planner.project.saving import NotSaved
from planner.quantities.text import clean
from planner.screens.app.new_project import NewProject, as_path, here
from planner.screens.dialogs.ask import Ask
from planner.screens.state_app import planner_of
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.keys_line import KeysLine
from planner.screens.widgets.row_list import RowList

BEGIN, OPEN = "begin", "open"
WELCOME = (
    "Tires, wheels and gearing for the axles you keep. One truck, one file: you put in what you measure, it tells you "
    "what follows, and it says so when it doesn't know. It helps you plan; it doesn't clear a truck for the road."
)
HINT = "Enter or a click chooses  ^q leaves"
COPIED = "An example, and a copy: change what you like in it."


class StartScreen(Screen[None]):
    """Enter or a click chooses a row."""

    BINDINGS = [Binding("ctrl+q,q", "app.quit", "quit")]
    AUTO_FOCUS = "#rows"

    def __init__(self, open_project: Callable[[Path], None]) -> None:
        super().__init__()
        self._open_project = open_project

    def compose(self) -> ComposeResult:
        yield Static("PLANNER", id="screen-head", markup=False)
        yield Static(WELCOME, id="start-words", markup=False)
        yield RowList(id="rows")
        yield Static(HINT, id="start-hint", markup=False)
        yield KeysLine()

    def on_mount(self) -> None:
        self.query_one(RowList).fill(list(_rows()))

    def on_screen_resume(self) -> None:
        self.query_one(RowList).fill(list(_rows()))

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        about = event.row.about
        if about == BEGIN:
            self.app.push_screen(NewProject(), self._open)
        elif about == OPEN:
            hint = "A path, from this folder or from the root; Enter opens it, Escape leaves"
            self.app.push_screen(Ask("Which file?", hint, text=f"{here()}/", check=_no_file), self._open_typed)
        elif isinstance(about, Example):
            self._look_at(about, here())
        elif isinstance(about, Path):
            self._open(about)

    def _open(self, path: Path | None) -> None:
        if path is not None:
            self._open_project(path)

    def _open_typed(self, text: str | None) -> None:
        if text is not None:
            self._open_project(as_path(text))

    def _look_at(self, example: Example, folder: Path) -> None:
        """A copy in the folder, or in one that is asked for where nothing can be written there."""
        try:
            path = copied(example.path, folder)
        except NotSaved as trouble:
            question = f"The copy needs a folder you can write in: {trouble}"
            self.app.push_screen(
                Ask(question, text=str(Path.home()), check=_no_folder),
                lambda text: None if text is None else self._look_at(example, as_path(text)),
            )
            return
        planner_of(self).say(f"{COPIED} It is {path.name}, in {path.parent}")
        self._open_project(path)


def _rows() -> Iterator[ListRow]:
    yield ListRow("Start a new project", "every entry in it is explained", about=BEGIN)
    yield ListRow("Open a project by its path", about=OPEN)
    there = recent()
    if there:
        yield heading("opened last")
    for path in there:
        yield ListRow(path.name, _folder(path), about=path)
    found = examples()
    if found:
        yield heading("examples: each opened as a copy in this folder")
    for one in found:
        yield ListRow(one.title, one.path.name, about=one)


def _folder(path: Path) -> str:
    folder, home = str(path.parent), str(Path.home())
    return clean("~" + folder.removeprefix(home) if folder == home or folder.startswith(home + "/") else folder)


def _no_file(text: str) -> str:
    if "\0" in text or not text:
        return "that isn't a path"
    path = as_path(text)
    try:
        if project_file(path).is_file():
            return ""
        return "that's a folder" if path.is_dir() else "" if path.exists() else f"there's no file {clean(str(path))}"
    except Faulty as faulty:
        return without_path(faulty.faults[0])
    except OSError as error:
        return str(error.strerror)


def _no_folder(text: str) -> str:
    return "" if "\0" not in text and text and as_path(text).is_dir() else "there's no such folder"
