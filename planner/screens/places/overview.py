"""What stands: everything raised, too close to call or not known, the worst first, and what to do about each."""

from collections.abc import Iterator

from textual import work

from planner.plan.answers.flagging import Flag
from planner.plan.answers.measure_next import WantedEntry
from planner.plan.answers.stage_words import OF_STAGES, stage_lines
from planner.plan.answers.stages import judged_stages
from planner.project.faults import Fault, as_key, without_path
from planner.project.not_known import touching
from planner.quantities.text import clean
from planner.screens.dialogs.detail import Detail
from planner.screens.places.accept_flag import ask_and_accept
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.flag_rows import flag_mark, flag_row, flag_text
from planner.screens.widgets.row_list import RowList

STOPS, CAUTIONS, CLOSE, NOTES, UNKNOWN, ACCEPTED = (
    "stops, and what's too close to a stop to call",
    "cautions",
    "too close to call: measure better",
    "notes",
    "not known yet",
    "accepted",
)
FAULTS = "faults in the file: what they name isn't known, and nothing is saved until all of them are fixed"
MEND = (
    "Enter goes to the entry, if there is one: enter it again. Or fix the file in an editor, and ^r reads it; or undo "
    "the last change; or go to the diary, which brings back any earlier state."
)
NEXT = "enter next: what decides most"
FEW = 6  # rows of what to enter next


def group_of(flag: Flag) -> str:
    """Under which heading a flag stands; empty for one that is clear."""
    flag = flag.under or flag
    severity = flag.rule.severity
    match flag.verdict.answer:
        case "raised" if flag.accepted:
            return ACCEPTED
        case "raised" | "too close to call" if severity == "stop":
            return STOPS
        case "raised":
            return CAUTIONS if severity == "caution" else NOTES
        case "too close to call":
            return CLOSE
        case "not known":
            return UNKNOWN
    return ""


def _counted_as(flag: Flag) -> tuple[str, ...]:
    """Under which counts of the summary a flag is; what may be a stop is with the stops."""
    answer, severity = flag.verdict.answer, flag.rule.severity
    if answer == "too close to call" and severity == "stop":
        return (severity,)
    return (answer, severity) if flag.counts else (answer,)


class OverviewPlace(PlaceScreen):
    PLACE = "overview"

    def fill(self) -> None:
        self.query_one(RowList).fill(list(self._rows()))

    def _rows(self) -> Iterator[ListRow]:
        faults = self.state.opened.opened.faults
        if faults:
            yield heading(FAULTS)
        for fault in faults:
            lost = touching(self.state.opened.opened.not_known, fault.key)
            where = f"line {fault.line}: " if fault.line else ""
            text = clean(f"{where}{without_path(fault)}")
            yield ListRow(text, mark="FAULT", tone="error", key=as_key(lost or fault.key), about=fault)
        by_group: dict[str, list[Flag]] = {}
        for flag in self.state.flags:
            by_group.setdefault(group_of(flag), []).append(flag)
        for group in (STOPS, CAUTIONS, CLOSE, NOTES, UNKNOWN, ACCEPTED):
            if group == UNKNOWN:
                yield from self._next_rows()
            if group in by_group:
                yield heading(group)
                yield from (flag_row(self.state.opened, flag) for flag in by_group[group])

    def _next_rows(self) -> Iterator[ListRow]:
        wanted = self.state.wanted
        if wanted:
            yield heading(NEXT)
        for one in wanted[:FEW]:
            yield ListRow(one.spoken, one.waiting, mark="unknown", tone="muted", key=one.key, about=one)

    def show_first(self, kind: str) -> None:
        """The cursor on the first flag of a kind, as the summary counts them: a severity, or an answer."""
        for row in self.query_one(RowList).rows:
            flag = row.about
            if isinstance(flag, Flag) and kind in _counted_as(flag):
                self.query_one(RowList).point_at(about=flag)
                return

    def words_for(self, row: ListRow) -> str:
        about = row.about
        if isinstance(about, WantedEntry):
            return clean(f"{about.spoken}: {about.means}. {about.waiting} for it. {about.title}")
        return flag_text(about) if isinstance(about, Flag) else MEND if isinstance(about, Fault) else ""

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        flag = event.row.about
        if event.row.key:
            self.planner.go_to_entry(event.row.key)
        elif isinstance(flag, Flag) and flag.needs:
            self.planner.go_to_entry(flag.needs[0])
        elif isinstance(flag, Flag) and flag.rule.node in OF_STAGES:
            self._read_stage(flag.where)
        elif isinstance(flag, Flag):
            self.action_why()

    def _read_stage(self, name: str) -> None:
        """A stage of the build by itself: each of its flags that the finished truck has not, with its cure."""
        opened = self.state.opened
        judged = judged_stages(opened, self.state.flags)
        one = next((each for each in judged if clean(each.stage.name) == name), None)
        if one is None:
            return
        lines = [*stage_lines(opened, [one]), ""]
        for flag in (*one.own, *one.not_known):
            lines += [f"{flag_mark(flag)}  {flag.notice}", flag_text(flag), ""]
        self.app.push_screen(Detail(f"Stage {name}, as a truck of its own", lines))

    @work(exclusive=True, group="talk")
    async def action_accept(self) -> None:
        row = self.query_one(RowList).current
        if row is not None and isinstance(row.about, Flag):
            await ask_and_accept(self, row.about)
