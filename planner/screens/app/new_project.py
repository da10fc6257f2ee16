"""Beginning a project: what the truck is called, the units that its owner thinks in, and the file."""

import os
import re
from pathlib import Path

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.widgets import Button, Input, Static

from planner.project.project_path import new_file
from planner.project.saving import NotSaved, write
from planner.quantities.text import clean
from planner.screens.dialogs.dialog import Dialog
from planner.screens.widgets.box import TextBox

UNITS = ("inch", "metric")
LONGEST_STEM = 60
HINT = "Tab goes on  Space changes the units  Enter starts  Escape leaves"


class UnitsChoice(Static, can_focus=True):
    """The one or the other system; a key or a click changes it."""

    BINDINGS = [Binding("space,left,right", "other", "the other units")]

    def __init__(self) -> None:
        super().__init__(markup=False, id="units")
        self.chosen = UNITS[0]

    def on_mount(self) -> None:
        self._show()

    def action_other(self) -> None:
        self.chosen = UNITS[UNITS.index(self.chosen) - 1]
        self._show()

    def on_click(self, event: events.Click) -> None:
        self.action_other()

    def _show(self) -> None:
        self.update("   ".join(f"({'•' if one == self.chosen else ' '}) {one}" for one in UNITS))


class NewProject(Dialog[Path | None]):
    """Writes the starting file, never over one that is there; gives its path, or None where the person left."""

    BINDINGS = [Binding("enter", "begin", "begin")]

    def __init__(self, path: Path | None = None) -> None:
        super().__init__("Start a project", HINT)
        self._path = path

    def body(self) -> ComposeResult:
        with Horizontal(classes="line"):
            yield Static("the truck", classes="label", markup=False)
            yield TextBox("My truck", id="name")
        with Horizontal(classes="line"):
            yield Static("units", classes="label", markup=False)
            yield UnitsChoice()
        with Horizontal(classes="line"):
            yield Static("its file", classes="label", markup=False)
            yield TextBox(str(self._path or file_for("My truck")), id="file")
        with Horizontal(classes="line"):
            yield Button("begin", id="go", compact=True)
            yield Button("leave", id="leave", compact=True)

    def on_input_changed(self, event: Input.Changed) -> None:
        """The file goes by the truck's name, until somebody names it otherwise."""
        box = self.query_one("#file", Input)
        if event.input.id == "name" and self._path is None:
            with box.prevent(Input.Changed):
                box.value = str(file_for(event.value))
        elif event.input is box and box.has_focus:
            self._path = Path(box.value)

    def on_input_submitted(self) -> None:
        self.action_begin()

    def on_button_pressed(self, event: Button.Pressed) -> None:
        if event.button.id == "go":
            self.action_begin()
        else:
            self.action_leave()

    def action_begin(self) -> None:
        from planner.project.starting import starting_text

        name = clean(self.query_one("#name", Input).value.strip())
        typed = self.query_one("#file", Input).value.strip()
        if not name or not typed:
            self.show_hint("the truck and its file each need a name")
            return
        try:
            path = new_file(as_path(typed))
            write(path, starting_text(name, self.query_one(UnitsChoice).chosen, every=True), expected_digest=None)
        except NotSaved as trouble:
            self.show_hint(str(trouble))
        else:
            self.dismiss(path)


def here() -> Path:
    """The folder that the program was called in, or the person's own where that is gone."""
    try:
        return Path(os.getcwd())
    except OSError:
        return Path.home()


def as_path(text: str) -> Path:
    """A path as a person types it, from this folder on and `~` understood."""
    try:
        return here() / Path(text).expanduser()
    except RuntimeError:  # a home that nobody has
        return here() / text


def file_for(name: str) -> Path:
    """A file for a truck of that name: `the-shed-pickup.toml`."""
    stem = re.sub(r"[^\w]+", "-", name.lower()).strip("-_")[:LONGEST_STEM] or "truck"
    return here() / f"{stem}.toml"
