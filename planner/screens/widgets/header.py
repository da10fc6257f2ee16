"""What stands at the top of every place: the truck and the place, and a summary that leads to what it names."""

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.reactive import reactive
from textual.widgets import Static

from planner.plan.answers.flagging import Tally
from planner.plan.truck.wording import count, stop_words
from planner.quantities.text import clean, cut


class Header(Static):
    """One line: truck, place, what is planned, and whether anything is being worked out."""

    truck = reactive("")
    place = reactive("")
    planned = reactive("")
    busy = reactive("")

    def __init__(self, place: str) -> None:
        super().__init__(markup=False)
        self.set_reactive(Header.place, place)

    def render(self) -> str:
        right = f"◌ {self.busy} …" if self.busy else self.planned
        wide = self.size.width
        right = cut(clean(right), max(0, wide * 2 // 5))
        left = cut(f"{self.place.upper()}  {clean(self.truck)}", max(0, wide - len(right) - 2))
        return f"{left}{right:>{max(0, wide - len(left))}}"


class SummaryItem(Static, can_focus=True):
    """One thing of the summary; a click or Enter leads to it."""

    BINDINGS = [("enter", "go", "go there")]

    class Followed(Message):
        def __init__(self, to: str) -> None:
            super().__init__()
            self.to = to

    def __init__(self, to: str, classes: str = "") -> None:
        super().__init__(markup=False, classes=classes)
        self.to = to
        self.text = ""

    def action_go(self) -> None:
        self.post_message(self.Followed(self.to))

    def on_click(self) -> None:
        self.action_go()


class Summary(Horizontal):
    """How many stops, cautions, answers too close to call and unknowns there are, and the task that comes next."""

    def compose(self) -> ComposeResult:
        yield SummaryItem("stop", "stops")
        yield SummaryItem("caution", "cautions")
        yield SummaryItem("too close to call", "close")
        yield SummaryItem("not known", "unknown")
        yield SummaryItem("next", "next")

    def tell(self, told: Tally, following: str) -> None:
        """Other counts; none of something is said too, so that nothing jumps about."""
        said = (
            stop_words(told.stops, told.close_stops),
            count(told.cautions, "caution"),
            f"{told.too_close - told.close_stops} too close",
            f"{told.not_known} not known",
            f"next: {clean(following)}" if following else "",
        )
        for item, text in zip(self.query(SummaryItem), said, strict=True):
            if item.text != text:
                item.text = text
                item.update(text)
        self.query_one(".stops").set_class(told.stops + told.close_stops > 0, "-any")
        self.query_one(".cautions").set_class(told.cautions > 0, "-any")
