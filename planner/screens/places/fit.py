"""Whether it touches, where, and what would make it not touch: of the fitment in view, as if it were chosen."""

from collections.abc import Iterator, Sequence

from textual import work

from planner.plan.answers.fit_words import (
    NO_WINDOW,
    OF_OBSTACLES,
    OUTSIDE,
    STEERS,
    FitLine,
    ObstacleClearance,
    backspaces,
    clearances,
    largest,
    short_length,
    steering,
)
from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.open_project import as_if_chosen
from planner.plan.state import State
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.quantities.text import clean
from planner.screens.places.facts_place import FactsPlace
from planner.screens.places.pictures import ENDS, backspace_windows, clearance_maps, fender_openings, steered_tires
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.flag_rows import TONES, flag_mark, flag_row, flag_text
from planner.screens.widgets.row_list import RowList
from planner.tasks.sequence import standing

HERE = {*OF_OBSTACLES, NO_WINDOW, OUTSIDE, *(rule for *_, rule in STEERS)}  # shown with what they judge
MARKS = {
    "touches": ("TOUCHES", "error"), "too near": ("TOO CLOSE", "error"), "too close to call": ("CLOSE?", "warning"),
    "not known": ("unknown", "muted"), "clear": ("", ""),
}  # fmt: skip
HEADS = ("least", "at worst", "wanted", "where")  # of a table of obstacles
MEASURE = next(task for task in standing() if task.id == "measure.obstacles")


class FitPlace(FactsPlace):
    PLACE = "fit"
    PICTURES = (clearance_maps, backspace_windows, steered_tires, fender_openings)

    def __init__(self) -> None:
        super().__init__()
        self._alone: tuple[OpenProject, OpenProject, Sequence[Flag]] | None = None  # what it is of, it, its flags

    def seen(self) -> tuple[OpenProject, Sequence[Flag]] | None:
        """The project as the fitment in view makes it, and its flags; None while that is being swept."""
        opened, fitment = self.state.opened, self.planner.fitment
        if fitment in opened.planned:
            return opened, self.state.flags
        if self._alone is not None and self._alone[0] is opened and self._alone[1].planned == (fitment,):
            return self._alone[1:]
        return None

    def fill(self) -> None:
        super().fill()
        if self.seen() is None:
            self._sweep(self.planner.fitment)

    @work(exclusive=True, group="sweep")
    async def _sweep(self, fitment: str) -> None:
        """Sweeps a fitment that is not planned, as a job, since it works on the same worksheet."""

        def swept(state: State) -> State:
            alone = as_if_chosen(state.opened, fitment)
            self._alone = state.opened, alone, flags(alone)
            return state

        trouble = await self.planner.run_job(f"sweeping {clean(fitment)}", swept)
        if trouble:
            self.planner.say(trouble, bad=True)
        elif self.planner.fitment == fitment:
            super().fill()

    def flag_rows(self) -> Iterator[ListRow]:
        """First what touches or is too close, then what else is raised about the fit."""
        fitment = clean(self.planner.fitment)
        seen = self.seen()
        if seen is None:
            yield heading(f"{fitment}: being swept …")
            return
        opened, found = seen
        planned = "" if self.planner.fitment in self.state.opened.planned else ", as if it were chosen"
        near = [one for one in self._clearances() if one.stands not in ("clear", "not known")]
        others = [
            flag
            for flag in found
            if self.concerns(flag.rule.name)
            and flag.rule.name not in OF_OBSTACLES
            and flag.verdict.answer in ("raised", "too close to call")
            and any(place[0] in ("", self.planner.fitment) for place in flag.places)
        ]
        stops = [flag for flag in others if flag.rule.severity == "stop"]
        others = [flag for flag in others if flag.rule.severity != "stop" and flag.rule.name not in HERE]
        title = f"{fitment}{planned}: touches or too close (F9: another)"
        yield heading(title, *HEADS) if near else heading(title)
        yield from (clear_row(opened, one) for one in near)
        if not near:
            yield self._nothing_near()
        yield from (flag_row(opened, flag) for flag in stops)
        if others:
            yield heading("what else is raised about the fit")
            yield from (flag_row(opened, flag) for flag in others)

    def _clearances(self) -> list[ObstacleClearance]:
        seen = self.seen()
        return clearances(*seen, self.planner.fitment) if seen else []

    def _nothing_near(self) -> ListRow:
        """That nothing is too near is only as good as what was measured."""
        found = [one.stands for one in self._clearances()]
        if not found:
            return ListRow("no obstacle is measured yet: nothing says it clears (measurements, n: new)", mark="unknown")
        unknown = found.count("not known")
        text = f"none of the {count(found.count('clear'), 'obstacle')} that could be swept"
        return ListRow(f"{text}; {unknown} not known" if unknown else text, mark="unknown" if unknown else "clear")

    def figure_rows(self) -> Iterator[ListRow]:
        if self.seen() is not None:
            yield from super().figure_rows()

    @property
    def opened(self) -> OpenProject:
        seen = self.seen()
        return seen[0] if seen else self.state.opened

    def entry_rows(self) -> Iterator[ListRow]:
        seen = self.seen()
        if seen is None:
            return
        opened, found = seen
        fitment = self.planner.fitment
        for axle in ENDS:
            said = [*steering(opened, found, fitment, axle)]
            said += [one._replace(name=f"backspace, {one.name}") for one in backspaces(opened, found, fitment, axle)]
            said += largest(opened, fitment, axle)
            if said:
                yield heading(f"{axle}: what the sweep leaves room for, and what sets the limit")
            yield from map(said_row, said)
        for stands, title in (("not known", "not measured yet"), ("clear", "clear")):
            shown = [one for one in self._clearances() if one.stands == stands]
            if shown:
                yield heading(title, *(HEADS if stands == "clear" else ()))
            yield from (clear_row(opened, one) for one in shown)

    def words_for(self, row: ListRow) -> str:
        if isinstance(row.about, ObstacleClearance):
            return clear_words(row.about)
        if isinstance(row.about, FitLine):
            flag = row.about.flag
            words = f"{row.about.name}: {row.about.value}" + (f"; {row.about.binds}" if row.about.binds else "")
            return f"{words}\n{flag_text(flag)}" if flag is not None and flag.verdict.answer != "clear" else words
        return super().words_for(row)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        if isinstance(event.row.about, ObstacleClearance):
            self.planner.go_to_entry(f"{event.row.about.obstacle.key}.at")
        elif isinstance(event.row.about, FitLine):
            self.action_why()
        else:
            super().on_row_list_chosen(event)


def clear_row(opened: OpenProject, one: ObstacleClearance) -> ListRow:
    """An obstacle in a line: how near the tire comes, and where."""
    name, tone = MARKS[one.stands]
    if one.least is None or one.worst is None:
        return ListRow(f"{one.label}: {_lacks(one)}", mark=name, tone=tone, spot=one.spot, about=one)
    figures = (short_length(length, opened.style) for length in (one.least, one.worst, one.wants))
    return ListRow(one.label, mark=name or " ", tone=tone, spot=one.spot, about=one, table=(*figures, one.stance))


def _lacks(one: ObstacleClearance) -> str:
    if one.flag is not None and one.flag.verdict.trouble:
        return one.flag.verdict.trouble
    return f"enter {', '.join(one.flag.wants)}" if one.flag is not None and one.flag.wants else "not swept"


def clear_words(one: ObstacleClearance) -> str:
    """Where it is nearest and what to do, or how it is measured."""
    if one.stands == "not known":
        own = one.obstacle.measured.measure
        lines = [f"{one.label}: {_lacks(one)}", *([f"how: {own}"] if own else [f"{MEASURE.title}. {MEASURE.how}"])]
        return "\n".join(map(clean, [*lines, f"caution: {MEASURE.caution}"]))
    if one.stands == "clear" or one.flag is None:
        return clean(f"nearest: {one.reached}")
    return flag_text(one.flag)


def said_row(one: FitLine) -> ListRow:
    """A limit with what binds it; its mark is that of the flag which judges it."""
    flag = one.flag if one.flag is not None and one.flag.verdict.answer != "clear" else None
    tone = TONES[flag.rule.severity] if flag is not None else ""
    row = ListRow(one.name, mark=flag_mark(flag) if flag is not None else " ", tone=tone, spot=one.spot, about=one)
    note = one.limit or one.beside
    return row._replace(value=one.value, note=note) if note else row._replace(name=f"{one.name}: {one.value}")
