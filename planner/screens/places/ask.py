"""Being asked: one question at a time with a picture of where the tape goes, and what became known by each answer."""

import asyncio
from textwrap import wrap

from textual import work
from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from planner.plan.asking.evening import evening_page
from planner.plan.asking.interview import Heard, Interview, ahead, asking_of, begin, hear, leave, with_project
from planner.plan.asking.next_question import places_left
from planner.plan.asking.question_words import answer_words, hangs_words, known_lines, way_words
from planner.plan.asking.questions import STANDS
from planner.plan.state import State, state_of
from planner.plan.truck.wording import count
from planner.quantities.text import clean, cut
from planner.screens.dialogs.ask import Choose
from planner.screens.dialogs.long_text import LongText
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.box import TextBox
from planner.screens.widgets.canvas.draw import LEAST_HEIGHT, draw
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.side_panel import SidePanel
from planner.sheets.tape_places import picture_at

ANYWHERE = "anywhere"
HEARD = 2  # lines that stand below the field
TALLEST = 14  # lines of a picture
WAITING = "◌ being worked out"


class QuestionView(Widget):
    """The present question, and as much of its picture as there is room for."""

    DEFAULT_CSS = """
    QuestionView { height: 1fr; padding: 0 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._interview: Interview | None = None

    def tell(self, interview: Interview) -> None:
        self._interview = interview
        self.refresh()

    def render(self) -> Content:
        if self._interview is None:
            return Content(WAITING).stylize("dim")
        wide, high = self.content_size
        beside = not self.screen.has_class("-narrow")
        known = "" if beside else "; ".join(known_lines(self._interview))
        return Content("\n").join(question_lines(self._interview, wide, high, known)[:high])


def question_lines(interview: Interview, wide: int, high: int, known: str = "") -> list[Content]:
    """A question, line by line, with what is `known` so far; the picture takes what room the words leave."""
    asked = interview.asked
    if asked is None:
        told = f"Nothing left to ask {interview.stands}." if interview.stands else "Nothing left to ask."
        return [Content(told).stylize("bold"), Content("Escape shows this evening's page.")]
    question = asked.question
    right = interview.progress
    head = f"{question.stand.upper():<{max(1, wide - len(right))}}{right}"
    before = [Content(head).stylize("$text-primary"), Content("")]
    before += [Content(line).stylize("bold") for line in wrap(clean(question.asks), wide)]
    before += [Content(line) for line in wrap(clean(question.how), wide)]
    after = [Content(line).stylize("dim") for told in answer_words(interview) for line in wrap(clean(told), wide)]
    after += [Content(line) for line in wrap(clean(hangs_words(interview)), wide)]
    ways, left = way_words(interview), high - len(before) - len(after) - 2
    if left - len(ways) < LEAST_HEIGHT:  # the picture tells more than the ways that are not taken
        ways = [(f"{mark}of {len(ways) - 1}: ", name) for mark, name in ways if mark.startswith(">")] + ways[-1:]
    after = [*(Content(cut(f"{mark}{name}", wide)) for mark, name in ways), *after]
    room, scene = min(TALLEST, left - len(ways)), picture_at(interview.ways[interview.way].keys)
    drawn = draw(scene, min(wide, 76), room).lines if scene is not None and room >= LEAST_HEIGHT else ()
    if known and (not drawn or left - len(ways) > room):
        after.append(Content(cut(f"Known so far: {known}", wide)).stylize("dim"))
    return [*before, *(Content(clean(line)) for line in drawn if line.strip()), Content(""), *after]


class AskPlace(PlaceScreen):
    PLACE = "ask"
    ASKS = False
    AUTO_FOCUS = "#answer"

    def __init__(self) -> None:
        super().__init__()
        self._interview: Interview | None = None
        self._ahead: Interview | None = None  # with the next question, while what was said last is worked out
        self._saying = 0  # answers that are being worked out

    def body(self) -> ComposeResult:
        with Container(id="work", classes="-bare"):
            with Vertical(id="asked"):
                yield QuestionView()
                yield TextBox(id="answer", placeholder="your answer")
                yield Static("", id="heard", markup=False)
            with Vertical(id="side"):
                yield SidePanel(id="side-panel-wide")

    def as_text(self) -> str:
        """The evening's page."""
        return "\n".join(self._evening()) + "\n"

    def fill(self) -> None:
        interview, opened = self._interview, self.state.opened
        if interview is not None and interview.state.opened is opened:
            self._show()
        else:
            self._take_up()

    @work(exclusive=True, group="asking")
    async def _take_up(self) -> None:
        """Works out what to ask of a project that is another, in a thread."""
        before, opened = self._interview, self.state.opened
        if before is not None and before.state.opened is opened:  # an answer has brought it along
            return
        again = begin if before is None else lambda now: with_project(before, now)
        found = await asyncio.to_thread(again, opened)
        if self.state.opened is opened:
            self._interview = found
            self._show()

    def _show(self) -> None:
        interview = self._ahead or self._interview
        if interview is None:
            return
        self.query_one(QuestionView).tell(interview)
        for panel in self.query(SidePanel):
            panel.tell("\n".join(["KNOWN SO FAR", "", *known_lines(interview)]))

    def _evening(self) -> list[str]:
        interview = self._interview
        if interview is None:
            return []
        found = evening_page(interview.state, interview.answered, interview.put_off)
        return [line for one in found for line in (one.heading.upper(), *(f"  {row}" for row in one.lines), "")]

    # what is said

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self._say(event.value)

    @work(group="asked")
    async def _say(self, text: str) -> None:
        """What was typed or pressed, as a job of the app; a refused answer stays in its field.

        The next question is in sight before what this one decides is worked out, and can be answered.
        """
        came: list[Heard] = []
        shown = self._ahead or self._interview
        question = self._ahead.asked.question if self._ahead is not None and self._ahead.asked is not None else None
        then_asked = ahead(shown, text) if shown is not None else None
        if then_asked is not None:
            self._ahead = then_asked
            self.query_one("#answer", TextBox).value = ""
            self._show()
            self._tell(f"{WAITING}: what became known. You can go on.")
        self._saying += 1

        def job(state: State) -> State:
            before = self._interview
            interview = begin(state.opened) if before is None else before
            if interview.state.opened is not state.opened:
                interview = with_project(interview, state.opened)
            if question is not None:
                interview = asking_of(interview, question)
            heard = hear(interview, text)
            came.append(heard)
            after = heard.then.state
            return state if after.opened is state.opened else state_of(after.opened, state.day, after.flags)

        def then() -> None:
            self._take(came[0], "" if then_asked is None else text)

        trouble = await self.planner.run_job("taking it", job, then)
        if trouble:
            self._over(text)
            self._tell(trouble, bad=True)

    def _over(self, text: str) -> None:
        """One answer is worked out; once none is, the question in sight is the one that is so asked."""
        self._saying -= 1
        box = self.query_one("#answer", TextBox)
        if self._saying == 0:
            shown, self._ahead = self._ahead, None
            if box.value and shown is not None and shown.asked is not None and self._interview is not None:
                self._interview = asking_of(self._interview, shown.asked.question)  # it is being answered
        if text and not box.value:
            box.value = text
        self._show()

    def _take(self, heard: Heard, taken: str) -> None:
        """What came of an answer; `taken` is what was taken out of the field before it was known."""
        self._interview = heard.then
        if not heard.refused and not taken:
            self.query_one("#answer", TextBox).value = ""
        self._over(taken if heard.refused else "")
        self._tell("\n".join(heard.lines[:HEARD]), bad=heard.refused)
        if heard.done:
            self.action_later()
        elif len(heard.lines) > HEARD:  # a first wheel is known
            self.app.push_screen(LongText(heard.lines[1], "\n".join(heard.lines[2:])))

    def _tell(self, text: str, bad: bool = False) -> None:
        told = self.query_one("#heard", Static)
        told.set_class(bad, "-bad")
        told.update("\n".join(clean(line) for line in text.split("\n")))

    # keys

    def action_answer(self) -> None:
        """Enter is taken by the field."""

    def action_skip(self) -> None:
        self._say("skip")

    def action_back(self) -> None:
        self._say("back")

    def action_not_there(self) -> None:
        self._say("not there")

    def action_tool(self) -> None:
        self._say("tool")

    def action_way(self) -> None:
        self._say("way")

    def action_place_at(self) -> None:
        if self._interview is None:
            return
        left = places_left(self._interview.state)
        rows = [ListRow(one, count(left.get(one, 0), "question"), about=one) for one in (*STANDS, ANYWHERE)]
        rows[-1] = rows[-1]._replace(value="")
        self.app.push_screen(Choose("Where do you stand?", rows), self._stand)

    def _stand(self, at: str | None) -> None:
        if at:
            self._say(f"at {at}")

    def action_later(self) -> None:
        """The evening's page; where it was left off is kept in the file."""
        self.app.push_screen(LongText("This evening", "\n".join(self._evening())))

    def on_screen_suspend(self) -> None:
        interview = self._interview
        if interview is not None and self.planner.state is not None and not self.planner.busy:
            self._leave(interview)

    async def leaving(self) -> None:
        """What was put off and where the person stands is kept in the file before the program ends."""
        if self._interview is not None and self.planner.state is not None:
            await self._leave(self._interview).wait()

    @work(group="asked")
    async def _leave(self, interview: Interview) -> None:
        def job(state: State) -> State:
            if state.opened is not interview.state.opened:
                return state
            kept = leave(interview)
            if kept is state.opened:
                return state
            self._interview = interview._replace(state=interview.state._replace(opened=kept))
            return state_of(kept, state.day, interview.state.flags)

        trouble = await self.planner.run_job("keeping the place", job)
        if trouble:
            self.planner.say(trouble, bad=True)
