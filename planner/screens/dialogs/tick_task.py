"""Ticking a task: its caution, the value that it wants with its range, what stands against it, and who says so."""

from typing import NamedTuple

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Input, Static

from planner.plan.change.ticking_again import odometer_counts
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.task_values import JudgedValue, judge_value, range_text, wanted
from planner.plan.work.task_words import torque
from planner.quantities.text import clean
from planner.screens.dialogs.dialog import Dialog
from planner.screens.widgets.box import TextBox

STANDS = {"within": "within the range", "outside": "OUTSIDE the range"}
ENTER = "Enter goes on, and ticks it in the last box; Escape leaves it as it was"


class TickAnswer(NamedTuple):
    """What a person wrote with a tick; `anyway` where something stood against it."""

    value: str | None
    note: str
    because: str
    anyway: bool
    counts: str
    odometer: str = ""


class TickTask(Dialog[TickAnswer | None]):
    """Asks for all that goes with one tick; gives it, or None where the person left."""

    def __init__(self, opened: OpenProject, one: Item) -> None:
        super().__init__(one.title, ENTER)
        self._opened, self._one, self._wants = opened, one, wanted(one)
        self._by_distance = odometer_counts(one)
        self._passed = False  # the value was left empty on purpose

    def body(self) -> ComposeResult:
        one, opened = self._one, self._opened
        if one.caution:
            yield Static(f"CAUTION: {clean(one.caution)}", classes="caution", markup=False)
        if torque(opened, one):
            yield Static(clean(f"torque: {torque(opened, one)}"), markup=False)
        if self._wants:
            good = range_text(opened, self._wants, one.axle)
            yield Static(clean(f"{self._wants.label}{f': {good}' if good else ''}"), markup=False)
            yield from _box("value", "write down")
            yield Static("", id="reads", markup=False)
            yield Static("", id="differs", classes="caution", markup=False)
            yield from _box("counts", "counts", "this, or entry")
        yield Static("", id="against", markup=False)
        if one.hold:  # what makes it a hold point comes before what may be left empty
            yield from _box("because", "who looked", "and that it's right")
        if self._by_distance:
            yield from _box("odometer", "odometer", "what it shows, such as 12,345 mi")
        yield from _box("note", "note", "if you have anything to say")
        if not one.hold:
            yield from _box("because", "because")

    def on_mount(self) -> None:
        self._say()

    @property
    def judged(self) -> JudgedValue:
        return judge_value(self._opened, self._one, self._written("value") if self._wants else "")

    def _written(self, name: str) -> str:
        return self.query_one(f"#{name}", Input).value.strip()

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        self._say()

    def _say(self) -> JudgedValue:
        """What was understood, and what stands against it, as it stands written."""
        told, one = self.judged, self._one
        if self._wants:
            shown = self.query_one("#reads", Static)
            shown.set_class(bool(told.fault) or told.standing in ("outside", "too close to call"), "-bad")
            stands = STANDS.get(told.standing, told.standing)
            understood = f"= {told.reads}{f': {stands}' if stands else ''}" if told.reads else ""
            shown.update(clean(f"✗ {told.fault}" if told.fault else understood))
            shown.display = bool(told.fault or understood)
        empty = self._wants is not None and not self._written("value") and not self._passed
        against = told.against[:-1] if empty else told.against  # that a value is wanted is said where it was passed by
        words = [f"against it: {each}" for each in against]
        words += ["Don't start anything after a hold point until it's signed."] if one.hold else []
        words += ["Tick it all the same? Then say why."] if against and not one.hold else []
        self.query_one("#against", Static).update("\n".join(map(clean, words)))
        self.query_one("#against").display = bool(words)
        if self._wants:
            differs = self.query_one("#differs", Static)
            differs.update(clean(f"Watch out: {told.differs}. Which counts?"))
            differs.display = self.query_one("#counts-row").display = bool(told.differs)
        self.query_one("#because-row").display = bool(against) or one.hold
        return told

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        if event.input.id == "value":
            self._passed = not self._written("value")
        told = self._say()
        if told.fault:
            self.query_one("#value").focus()
            return
        if self._one.hold and event.input.id == "because" and not event.value.strip():
            self._ask_why()
            return
        boxes = [box for box in self.query(Input) if box.parent is not None and getattr(box.parent, "display", True)]
        after = boxes[boxes.index(event.input) + 1 :] if event.input in boxes else []
        if after:
            after[0].focus()
        else:
            self._accept(told)

    @property
    def _counts(self) -> str:
        """Which of two readings counts, as far as it was typed: `this`, `entry`, or nothing yet."""
        typed = self._written("counts").lower() if self._wants else ""
        return next((each for each in ("this", "entry") if typed and each.startswith(typed)), "")

    def _accept(self, told: JudgedValue) -> None:
        if told.differs and not self._counts:
            self.show_hint("type this, or entry: which of the two readings counts")
            self.query_one("#counts").focus()
            return
        because = self._written("because")
        if (told.against or self._one.hold) and not because:
            self._ask_why()
            return
        value = self._written("value") if self._wants else ""
        odometer = self._written("odometer") if self._by_distance else ""
        note, anyway = self._written("note"), bool(told.against)
        self.dismiss(TickAnswer(value or None, note, because, anyway, self._counts, odometer))

    def _ask_why(self) -> None:
        asked = "say who looked, and that it's right" if self._one.hold else "say why you tick it all the same"
        self.show_hint(asked)
        self.query_one("#because").focus()


def _box(name: str, label: str, hint: str = "") -> ComposeResult:
    with Horizontal(classes="box", id=f"{name}-row"):
        yield Static(label, classes="label", markup=False)
        yield TextBox(id=name, placeholder=hint)
