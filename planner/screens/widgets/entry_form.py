"""One entry as it is written: what it is, its boxes, what was understood of them, and what it would touch."""

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.suggester import SuggestFromList
from textual.widgets import Static

from planner.plan.truck.forms import Field, understood
from planner.quantities.show import Style
from planner.quantities.text import clean
from planner.screens.widgets.box import TextBox

SIGNS = ("±", "+/-")
AGAIN = "◌"  # stands before what was so and is being worked out again


class EntryForm(Vertical):
    """Shows an entry and gives what is written in its boxes; it changes nothing."""

    def __init__(self) -> None:
        super().__init__()
        self._preview: tuple[list[str], bool] = ([], False)  # as it is in view

    def compose(self) -> ComposeResult:
        yield Static("", id="what", markup=False)
        yield Static("", id="how", markup=False)
        with Horizontal(id="boxes"):
            yield TextBox(id="value")
            yield Static("±", classes="sign", id="sign", markup=False)
            yield TextBox(id="tolerance", placeholder="tolerance")
        with Horizontal(id="reason"):
            yield Static("because", classes="sign", markup=False)
            yield TextBox(id="because", placeholder="if you want a reason in the diary")
        yield Static("", id="reads", markup=False)
        yield Static("", id="change-preview", markup=False)

    @property
    def text(self) -> str:
        """What is written, its tolerance put behind it."""
        value, tolerance = (self.query_one(f"#{name}", TextBox).value.strip() for name in ("value", "tolerance"))
        if not tolerance or not value or any(sign in value for sign in SIGNS):
            return value
        return f"{value} ± {tolerance}"

    @property
    def reason(self) -> str:
        return self.query_one("#because", TextBox).value.strip()

    def show_entry(self, field: Field, written: str, because: str) -> None:
        """What the entry is, with this written in its boxes."""
        words = f"{field.key}: {field.means}" + (f". Assumed: {field.assumed}" if field.assumed else "")
        self.query_one("#what", Static).update(clean(words))
        told = [field.how] if field.how else []
        told += [f"one of {', '.join(field.choices)}"] if field.choices else []
        told += [f"such as {field.example}"] if field.example and not field.choices else []
        self.query_one("#how", Static).update(clean("; ".join(told)))
        value, tolerance = _apart(written, field.takes_tolerance)
        box = self.query_one("#value", TextBox)
        box.suggester = SuggestFromList(field.choices, case_sensitive=False) if field.choices else None
        for name, text in (("value", value), ("tolerance", tolerance), ("because", because)):
            self.query_one(f"#{name}", TextBox).value = text
        for name in ("sign", "tolerance"):
            self.query_one(f"#{name}").display = field.takes_tolerance

    def show_understood(self, field: Field, style: Style) -> None:
        """How what is written is read, or what is wrong with it."""
        told = understood(field.wants, self.text, style)
        shown = self.query_one("#reads", Static)
        shown.set_class(bool(told.fault), "-bad")
        if told.fault:
            words = f"✗ {told.fault}"
        elif not self.text:
            words = "left empty: the entry is deleted" if field.written else "nothing typed yet"
        else:
            words = f"= {told.reads}"
        shown.update(clean(words), layout=False)

    def show_preview(self, lines: list[str], again: bool = False) -> None:
        """What it touches; `again` marks an answer to an older text, which stays in view until there is a newer."""
        if (lines, again) == self._preview:
            return
        self._preview = (lines, again)
        shown = self.query_one("#change-preview", Static)
        shown.set_class(again, "-again")
        shown.update("\n".join(f"{AGAIN} {line}" if again else line for line in lines), layout=False)

    @property
    def answer(self) -> list[str]:
        """What it touches, as it is in view."""
        return self._preview[0]


def _apart(text: str, tolerance: bool) -> tuple[str, str]:
    """A written value and its tolerance, for two boxes."""
    for sign in SIGNS if tolerance else ():
        if text.count(sign) == 1:
            value, _, rest = text.partition(sign)
            return value.strip(), rest.strip()
    return text, ""
