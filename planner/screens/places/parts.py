"""What is bought, what was decided, and the cautions that were taken on; each with what it rests on."""

from collections.abc import Iterator

from textual import work

from planner.plan.change.photo_recordings import ABOUT, photograph, why_no_photo
from planner.plan.revisit.acceptances import take_back
from planner.plan.revisit.stale_records import decisions
from planner.plan.truck.forms import fields
from planner.plan.work import buying
from planner.plan.work.decisions import WHICH, decide, decide_anew
from planner.plan.work.money import Money, money, sums
from planner.plan.work.received_words import piece_words
from planner.quantities.text import clean
from planner.screens.dialogs.ask import Agreed, Ask, Choose
from planner.screens.dialogs.detail import Detail
from planner.screens.dialogs.pick_several import PickSeveral, entries_and_figures
from planner.screens.places.accept_flag import ask_and_accept
from planner.screens.places.folded_place import Fold, UnfoldingPlace
from planner.screens.places.part_rows import (
    acceptance_row,
    acceptance_words,
    decision_row,
    decision_words,
    inner_name,
    part_row,
    part_words,
    piece_row,
    rested,
    sums_line,
)
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList

OTHER = "something else"


class PartsPlace(UnfoldingPlace):
    PLACE = "parts"
    ROOTS = ("plan", "parts", "wheels")
    NEW = "part or decision"

    def __init__(self) -> None:
        super().__init__()
        self._money: Money | None = None

    # what is shown

    def entry_rows(self) -> Iterator[ListRow]:
        state = self.state
        project = state.opened.project
        told = self._money = money(state.opened, state.work)
        yield heading(f"parts: {clean(sums_line(told, sums(told)))}")
        for at, row in enumerate(told.rows):
            part = project.parts[at] if at < len(project.parts) else None
            fold = Fold("parts", at)
            yield part_row(row, part, told.currency, "" if part is None else self.sign(fold))._replace(about=fold)
            if part is not None:
                yield from self._fields(fold)
        if not told.rows:
            yield ListRow("No parts are listed yet: n adds one.")
        if state.came:
            yield heading("wheels that came")
            for at, piece in enumerate(state.came):
                fold = Fold("wheels", at)
                yield piece_row(piece, self.sign(fold))._replace(about=fold)
                yield from self._fields(fold)
        yield heading("decisions")
        for at, (one, gone) in enumerate(decisions(state.opened)):
            yield decision_row(one, gone)._replace(about=("decisions", at))
        if not project.decisions:
            yield ListRow("Nothing is decided yet: n adds a decision.")
        if project.acceptances:
            yield heading("cautions you accepted")
            for at, acceptance in enumerate(project.acceptances):
                yield acceptance_row(state.opened, acceptance)._replace(about=("acceptances", at))
        yield heading("the plan")
        shown = (one for one in fields(state.opened, "plan") if not one.table.startswith("plan.stages"))
        yield from map(self.field_row, shown)

    def _fields(self, fold: Fold) -> Iterator[ListRow]:
        """What a part or a wheel has, further in than its own row; each quote and payment under a row that says so."""
        within, root = "", fold.key
        for one in fields(self.state.opened, root) if fold in self.unfolded else ():
            inner = one.table.removeprefix(f"{root}.") if one.table.startswith(f"{root}.") else ""
            if inner != within and inner:
                yield ListRow(f"    {inner_name(inner)}")
            within, row = inner, self.field_row(one)
            yield row._replace(name=f"{'      ' if inner else '    '}{row.name}")

    def figure_rows(self) -> Iterator[ListRow]:
        yield from ()

    def words_for(self, row: ListRow) -> str:
        return "\n".join(map(clean, self._words(*row.about))) if self._is_ours(row) else super().words_for(row)

    def _is_ours(self, row: ListRow | None) -> bool:
        return row is not None and (isinstance(row.about, Fold) or type(row.about) is tuple)

    def _words(self, what: str, at: int) -> Iterator[str]:
        opened = self.state.opened
        if what == "parts" and self._money is not None:
            parts = opened.project.parts
            part = parts[at] if at < len(parts) else None
            yield from part_words(self._money.rows[at], part, self._money.currency)
        elif what == "wheels":
            yield f"wheel {self.state.came[at].name}"
            yield from piece_words(self.state.came[at])
        elif what == "decisions":
            yield from decision_words(opened, *decisions(opened)[at])
        elif what == "acceptances":
            yield from acceptance_words(opened, opened.project.acceptances[at])

    # what a person does here

    def at_hand(self) -> tuple[str, int]:
        """What the cursor is on: a part, a wheel, a decision or an acceptance, by its place in the file."""
        row = self.query_one("#rows", RowList).current
        return row.about if row is not None and self._is_ours(row) else ("", 0)

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        if isinstance(event.row.about, Fold) or not self._is_ours(event.row):
            super().on_row_list_chosen(event)
            return
        what, at = event.row.about
        opened = self.state.opened
        one = opened.project.decisions[at] if what == "decisions" else opened.project.acceptances[at]
        title, *lines = self._words(what, at)
        self.app.push_screen(Detail(title, [*lines, *rested(opened, opened.rested_on(one))]))

    @work(exclusive=True, group="talk")
    async def action_step(self) -> None:
        what, at = self.at_hand()
        if what == "parts" and at < len(self.state.opened.project.parts):
            await self._next_state(at)
        elif what == "decisions":
            await self._decide_anew(at)
        elif what == "acceptances":
            await self._accept_again(at)

    @work(exclusive=True, group="talk")
    async def action_photo(self) -> None:
        table, at = self.at_hand()
        if table not in ("parts", "wheels", "decisions") or at >= len(getattr(self.state.opened.project, table)):
            self.planner.say("The cursor isn't on a part, a wheel or a decision.")
            return
        title = next(self._words(table, at))
        asked = Ask(f"Photo: {title}", ABOUT, check=why_no_photo)
        await self.ask_and_record(
            asked, "naming a photo", lambda state, photo: photograph(state.opened, table, at, photo)
        )

    async def _next_state(self, at: int) -> None:
        part = self.state.opened.project.parts[at]
        after, because = buying.NEXT[part.state], ""
        stopped = buying.stopped_by(self.state.opened, at, self.state.flags) if after == "ordered" else ""
        if stopped:
            self.planner.say(stopped, bad=True)
            return
        against = buying.why_not_order(self.state.opened, self.state.work, at) if after == "ordered" else ""
        if against or after == "returned":
            question = f"{part.title or 'It'}: {after} all the same?" if against else f"{part.title or 'It'} goes back"
            told = [f"against it: {against}"] if against else []
            answer = await self.app.push_screen_wait(Ask(question, "why?", told=told))
            if not answer:
                return
            because = answer
        elif not await self.app.push_screen_wait(Agreed(f"{part.title or part.id or 'It'}: {part.state} → {after}")):
            return
        await self.record(after, lambda state: buying.set_part_state(state.opened, at, after, because))

    async def _decide_anew(self, at: int) -> None:
        one, gone = decisions(self.state.opened)[at]
        if one.question == WHICH:
            self.planner.say("Choose a candidate in the candidates place.")
            self.planner.go("candidates")
            return
        chosen = await self._chosen(one.question or "What did you decide?", one.options, one.chosen or "")
        if not chosen:
            return
        told = [*decision_words(self.state.opened, one, gone)][1:]
        asked = Ask(f"{one.question} {chosen}", "why, as things are now?", told=told)
        await self.ask_and_record(
            asked, "deciding", lambda state, because: decide_anew(state.opened, at, chosen, because)
        )

    async def _chosen(self, question: str, options: list[str], before: str) -> str | None:
        rows = [ListRow(option, "as it is" if option == before else "", about=option) for option in options]
        rows.append(ListRow(OTHER, about=""))
        picked = await self.app.push_screen_wait(Choose(question, rows, at=before or None)) if options else ""
        return await self.app.push_screen_wait(Ask(question, "what did you choose?")) if picked == "" else picked

    async def _accept_again(self, at: int) -> None:
        one = self.state.opened.project.acceptances[at]
        flag = next((each for each in self.state.flags if each.acceptance is one), None)
        if flag is None:
            self.planner.say("What you accepted isn't raised right now; the acceptance is kept.")
        else:
            await ask_and_accept(self, flag)

    @work(exclusive=True, group="talk")
    async def action_back(self) -> None:
        what, at = self.at_hand()
        parts = self.state.opened.project.parts
        if what == "parts" and at < len(parts) and parts[at].state != "wanted":
            await self.ask_and_record(
                Ask(f"{parts[at].title or 'It'} goes back", "why?"),
                "saving",
                lambda state, because: buying.set_part_state(state.opened, at, "returned", because),
            )
        elif what == "acceptances":
            title = next(self._words(what, at))
            asked = Ask(f"Take back: {title}", "why?")
            await self.ask_and_record(asked, "saving", lambda state, because: take_back(state.opened, at, because))
        else:
            self.planner.say("There's nothing to send or take back here.")

    def action_clear(self) -> None:
        """A part is taken out of the list, an entry out of the file."""
        what, at = self.at_hand()
        if what == "parts" and at < len(self.state.opened.project.parts):
            self._remove(at)
        else:
            super().action_clear()

    @work(exclusive=True, group="talk")
    async def _remove(self, at: int) -> None:
        asked = Ask(f"Off the list: {self.state.opened.project.parts[at].title or 'this part'}", "why?")
        if await self.ask_and_record(asked, "saving", lambda state, why: buying.remove_part(state.opened, at, why)):
            gone = Fold("parts", at)
            behind = {one for one in self.unfolded if one.table == gone.table and one > gone}
            self.unfolded = (self.unfolded - {gone} - behind) | {one._replace(at=one.at - 1) for one in behind}
            self.fill()

    def action_add(self) -> None:
        self._enter()

    @work(exclusive=True, group="talk")
    async def _enter(self) -> None:
        here, at = self.at_hand()
        parts = self.state.opened.project.parts
        rows = [ListRow("a part", "something you buy", about="parts")]
        rows.append(ListRow("a decision", "what you decided, and why", about="decisions"))
        rows.append(ListRow("a wheel that came", "by its mark, with its measurements", about="wheels"))
        if here == "parts" and at < len(parts):
            title = clean(parts[at].title or "it")
            rows.append(ListRow("a quote", f"a price somebody gave for {title}", about="quotes"))
            rows.append(ListRow("a payment", f"what you paid for {title}, or got back", about="payments"))
        what = await self.app.push_screen_wait(Choose("Add what?", rows, at=here))
        if what == "parts":
            named = await self.app.push_screen_wait(Ask("A part: what is it?", "price and the rest come after it"))
            if named and await self.record("adding a part", lambda state: buying.new_part(state.opened, named)):
                self._then(f"parts[{len(self.state.opened.project.parts) - 1}].price")
        elif what == "decisions":
            await self._decide()
        elif what == "wheels":
            mark = await self.app.push_screen_wait(Ask("A wheel that came: its mark?", "such as W3"))
            if mark and await self.record("adding a wheel", lambda state: buying.new_wheel(state.opened, mark)):
                self._then(f"wheels[{len(self.state.opened.project.wheels) - 1}].position")
        elif what in ("quotes", "payments"):
            question = ("Who gave the quote?", "the rest comes after it")
            if what == "payments":
                question = ("How much did you pay?", "a minus before it if it came back")
            said = await self.app.push_screen_wait(Ask(*question))
            if said and await self.record("saving", lambda state: buying.new_in_part(state.opened, at, what, said)):
                last = len(getattr(self.state.opened.project.parts[at], what)) - 1
                self._then(f"parts[{at}].{what}[{last}].{'price' if what == 'quotes' else 'on'}")

    def _then(self, key: str) -> None:
        """The cursor on what is to be entered next."""
        self.call_after_refresh(self.show_entry, key)

    async def _decide(self) -> None:
        ask, opened = self.app.push_screen_wait, self.state.opened
        question = await ask(Ask("What do you have to decide?", "such as: which wheel width?"))
        written = await ask(Ask(question, "what you can choose from, with semicolons between")) if question else None
        options = [one.strip() for one in (written or "").split(";") if one.strip()]
        chosen = await self._chosen(question, options, "") if question and written else None
        because = await ask(Ask(f"{question} {chosen}", "why?")) if chosen else None
        pick = PickSeveral(
            "What does it rest on?", entries_and_figures(opened), "it rests on nothing", "backspace front, cruise"
        )
        spots = await ask(pick) if because else None
        if question and chosen and because and spots is not None:
            await self.record("deciding", lambda state: decide(state.opened, question, options, chosen, because, spots))
