"""Changes to the truck, each with what it leaves open: begun, entered, decided, done and measured; and the stages."""

from collections.abc import Iterator

from textual import work

from planner.plan.change.task_recordings import tick_task
from planner.plan.state import State
from planner.plan.truck.change_words import asked_by_change, entries_of, title_of, written_at
from planner.plan.truck.forms import field
from planner.plan.truck.keys import UnknownKey
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.change_tasks import MEASURED, NEXT, new_change, set_change_state, unmeasured
from planner.project.change_kinds import KINDS, kind_called
from planner.project.faults import as_key
from planner.project.models.changes import MeasuredAfter, TruckChange
from planner.project.models.entry import entries
from planner.project.models.plan import Stage
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Agreed, Ask, Choose
from planner.screens.places.folded_place import Fold, UnfoldingPlace
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList

TONES = {"considered": "muted", "given up": "muted"}
OWN = tuple(name for name in entries(TruckChange) if name not in ("sets", "measured"))


class ChangesPlace(UnfoldingPlace):
    PLACE = "changes"
    ROOTS = ("changes", "plan.stages")
    NEW = "change"

    def concerns(self, rule: str) -> bool:
        return rule == "plan.change_came_out_otherwise"

    # what is shown

    def entry_rows(self) -> Iterator[ListRow]:
        opened = self.state.opened
        for at, change in enumerate(opened.project.changes):
            asked, left = self._asked(at), unmeasured(opened, at) if change.state == "done" else {}
            note = f"{len(asked)} open" if asked else f"{len(left)} to measure" if left else ""
            fold = Fold("changes", at)
            yield ListRow(
                f"{self.sign(fold)} {clean(title_of(opened, at))}", change.kind, note, mark=change.state,
                tone=TONES.get(change.state, "warning" if note else ""), about=fold,
            )  # fmt: skip
            if fold in self.unfolded:
                yield from self._fields(at, change)
        if not opened.project.changes:
            yield ListRow("No change to the truck is entered: n starts one.")
        if opened.project.plan.stages:
            yield heading("stages: what is on when, if you build one axle at a time")
        for at, stage in enumerate(opened.project.plan.stages):
            on = [f"{end} {fitment}" for end, fitment in (("front", stage.front), ("rear", stage.rear)) if fitment]
            fold, name, told = Fold("plan.stages", at), clean(stage.name or "a stage"), clean(", ".join(on))
            yield ListRow(f"{self.sign(fold)} {name}", told, str(stage.on or ""), mark="stage", about=fold)
            if fold in self.unfolded:
                yield from self._rows([f"{fold.key}.{name}" for name in entries(Stage)])

    def _fields(self, at: int, change: TruckChange) -> Iterator[ListRow]:
        """What is said of a change, what it sets, what it leaves open, and what was measured once it was done."""
        yield from self._rows([f"changes[{at}].{name}" for name in OWN])
        yield ListRow("    it sets", "Enter sets a value; n adds an entry")
        yield from self._rows([as_key(("changes", at, "sets", written)) for written in change.sets])
        asked = self._asked(at)
        if asked:
            yield ListRow("    it leaves open", "what rests on these is not known")
            yield from self._rows([as_key(("changes", at, "sets", written)) for written in asked.values()])
        if change.state == "done":
            yield ListRow("    measured after it")
            after = entries(MeasuredAfter)
            measured = [
                as_key(("changes", at, MEASURED, written, name)) for written in change.measured for name in after
            ]
            yield from self._rows([*measured, *unmeasured(self.state.opened, at).values()])

    def _rows(self, keys: list[str]) -> Iterator[ListRow]:
        for key in keys:
            try:
                row = self.field_row(field(self.state.opened, key))
            except UnknownKey:  # what it sets is no entry: the fault says so
                continue
            yield row._replace(name=f"      {row.name}")

    def _asked(self, at: int) -> dict[str, str]:
        """What it leaves open."""
        return asked_by_change(self.state.opened, at)

    def words_for(self, row: ListRow) -> str:
        at = self._at(row)
        if at is None:
            own = self.state.opened.truck_key_of(row.key) if row.key else None
            found = [f"found: {written_at(self.state.opened, own)}"] if own is not None else []
            return "\n".join([super().words_for(row), *map(clean, found)])
        kind, change = kind_called(self.state.opened.project.changes[at].kind), self.state.opened.project.changes[at]
        sets = [
            f"{self.state.opened.spoken(one.key)}: {one.planned}, found {one.found}"
            for one in entries_of(self.state.opened, at)
        ]
        lines = [title_of(self.state.opened, at), *([kind.caution] if kind.caution else []), *sets]
        asked = "; ".join(map(self.state.opened.spoken, self._asked(at)))
        lines += [f"leaves open: {asked}"] if asked else []
        lines += ["space decides it: then it's judged with everything it leaves open"] * (change.state == "considered")
        return "\n".join(map(clean, lines))

    # what a person does here

    def _at(self, row: ListRow | None) -> int | None:
        about = row.about if row is not None else None
        return about.at if isinstance(about, Fold) and about.table == "changes" else None

    def at_hand(self) -> int | None:
        """The change that the cursor is on, or within."""
        row_list = self.query_one("#rows", RowList)
        above = reversed(row_list.rows[: (row_list.highlighted or 0) + 1])
        return next((at for row in above if (at := self._at(row)) is not None), None)

    @work(exclusive=True, group="talk")
    async def action_step(self) -> None:
        at = self.at_hand()
        if at is None:
            return
        change = self.state.opened.project.changes[at]
        after = NEXT.get(change.state, "")
        if not after:
            self.planner.say(f"{clean(title_of(self.state.opened, at))} is done: now measure it")
        else:
            await self._take(at, change.state, after)

    async def _take(self, at: int, before: str, after: str) -> None:
        """Its next state, once the person has seen which it is; what is refused is said before that."""

        def taken(state: State) -> Recording:
            return _done(state, at) if after == "done" else set_change_state(state.opened, at, after)

        try:
            taken(self.state)
        except RefusedChange as refused:
            self.planner.say(str(refused), bad=True)
            return
        title = clean(title_of(self.state.opened, at))
        told = ["It's judged with everything it leaves open from then on."] if after == "decided" else []
        if await self.app.push_screen_wait(Agreed(f"{title}: {before} → {after}", told)):
            await self.record(after, taken)

    @work(exclusive=True, group="talk")
    async def action_back(self) -> None:
        at = self.at_hand()
        if at is None or self.state.opened.project.changes[at].state == "given up":
            self.planner.say("There's nothing to give up here.")
            return
        asked = Ask(f"Give up {title_of(self.state.opened, at)}", "why?")
        await self.ask_and_record(
            asked, "saving", lambda state, why: set_change_state(state.opened, at, "given up", why)
        )

    def action_add(self) -> None:
        self._begin()

    @work(exclusive=True, group="talk")
    async def _begin(self) -> None:
        ask, at = self.app.push_screen_wait, self.at_hand()
        rows = [
            ListRow("a change", "something done to the truck itself", about="change"),
            ListRow("a stage", "what is on when, if you build one axle at a time", about="stage"),
        ]
        if at is not None:
            title = clean(title_of(self.state.opened, at))
            rows.insert(0, ListRow("an entry", f"that {title} sets, by its key", about="entry"))
        what = await ask(Choose("What is new?", rows))
        if what == "entry" and at is not None:
            key = await ask(Ask("It sets which entry, by its key?", "such as axles.front.travel.bump"))
            if key:
                self._edit(as_key(("changes", at, "sets", key)), key)
        elif what == "stage":
            name = await ask(Ask("A stage of the build: its name", "such as rear first"))
            if name:
                stage = f"plan.stages[{len(self.state.opened.project.plan.stages)}]"
                self.set_now(f"{stage}.name", name, f"{stage}.front")
        elif what == "change":
            kinds = [ListRow(one.name, one.caution or one.does, about=one.name) for one in KINDS]
            kind = await ask(Choose("A change to the truck: which kind?", kinds))
            name = await ask(Ask(f"{kind}: what do you call it?", "such as 2 in lift; kept for good")) if kind else None
            if (
                kind
                and name
                and await self.record("adding a change", lambda state: new_change(state.opened, name, kind))
            ):
                last = len(self.state.opened.project.changes) - 1
                amount = kind_called(kind).amount.replace("{end}", "front")
                then = as_key(("changes", last, "sets", amount)) if amount else f"changes[{last}].because"
                self.call_after_refresh(self.show_entry, then)

    def _edit(self, key: str, written: str) -> None:
        try:
            self.edit_new(key)
        except UnknownKey:
            self.planner.say(f"a change can't set {clean(written)}", bad=True)


def _done(state: State, at: int) -> Recording:
    """By its task, which says what stands before it; one that goes with nothing planned has none."""
    listed = state.work
    task = next((one for one in listed.items.values() if one.change == at and not one.step), None) if listed else None
    if listed is None or task is None:
        return set_change_state(state.opened, at, "done")
    return tick_task(state.opened, listed, task.id)
