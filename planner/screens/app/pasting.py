"""Several lines pasted into a field of one: asked about, so that none is lost without a word."""

from planner.screens.dialogs.ask import Choose
from planner.screens.state_app import StateApp
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow

ALL, FIRST = "all", "first"


def ask_about_lines(planner: StateApp, pasted: TextBox.ManyLines) -> None:
    """All of it in one line, the first line alone, or nothing of it."""
    lines, box = pasted.lines, pasted.box

    def put(choice: str | None) -> None:
        if choice is not None and box.is_mounted:
            box.insert_text_at_cursor(" ".join(lines) if choice == ALL else lines[0])
        if box.is_mounted:
            box.focus()

    rows = [
        ListRow("all of it in one line", " ".join(lines), about=ALL),
        ListRow("the first line only", lines[0], about=FIRST),
    ]
    planner.push_screen(Choose(f"You pasted {len(lines)} lines, and the field takes one. What goes in?", rows), put)
