"""What stands: everything raised, too close to call or not known, the worst first, and what to do about each."""

from collections.abc import Iterator
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical

from planner.plan.flagging import Flag
from planner.screens.accepting import ask_and_accept
from planner.screens.actions import bindings
from planner.screens.aside import Aside
from planner.screens.columns import Row, heading
from planner.screens.ledger import Ledger
from planner.screens.marks import flag_row, told
from planner.screens.place import Place

GROUPS = (
    ("raised", "what is raised"),
    ("too close to call", "too close to call: measure better"),
    ("not known", "not known yet"),
    ("accepted", "accepted"),
)


class StandsPlace(Place):
    PLACE = "stands"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("stands")]

    def body(self) -> ComposeResult:
        with Container(id="work", classes="-bare"):
            yield Ledger(id="rows")
            with Vertical(id="side"):
                yield Aside(id="aside-wide")
        yield Aside(id="aside")

    def fill(self) -> None:
        self.query_one(Ledger).fill(list(self._rows()))

    def _rows(self) -> Iterator[Row]:
        by_group: dict[str, list[Flag]] = {}
        for flag in self.state.flags:
            answer = flag.verdict.answer
            by_group.setdefault("accepted" if answer == "raised" and not flag.counts else answer, []).append(flag)
        for group, title in GROUPS:
            if group in by_group:
                yield heading(title)
                yield from map(flag_row, by_group[group])

    def show_first(self, group: str) -> None:
        """The cursor on the first flag of a kind: a severity, or an answer."""
        for row in self.query_one(Ledger).rows:
            flag = row.about
            if isinstance(flag, Flag) and (
                flag.verdict.answer == group or (flag.counts and flag.rule.severity == group)
            ):
                self.query_one(Ledger).point_at(about=flag)
                return

    def on_ledger_pointed(self, event: Ledger.Pointed) -> None:
        words = told(event.row.about) if isinstance(event.row.about, Flag) else ""
        for aside in self.query(Aside):
            aside.tell(words)

    def on_ledger_chosen(self, event: Ledger.Chosen) -> None:
        flag = event.row.about
        if isinstance(flag, Flag) and flag.needs:
            self.planner.go_to_entry(flag.needs[0])
        elif isinstance(flag, Flag):
            self.action_why()

    @work(exclusive=True, group="talk")
    async def action_accept(self) -> None:
        row = self.query_one(Ledger).current
        if row is not None and isinstance(row.about, Flag):
            await ask_and_accept(self, row.about)
