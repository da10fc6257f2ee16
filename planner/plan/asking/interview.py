"""Being asked, one question after the other: what is said leads to the next state, and nothing said is lost."""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from planner.plan.answers.open_project import open_project
from planner.plan.asking.answering import (
    GUESS,
    TOOLS,
    RefusedAnswer,
    Tool,
    left_off,
    made,
    not_there,
    such_as,
    understand_answer,
)
from planner.plan.asking.evening import news, tool_for
from planner.plan.asking.next_question import AskState, RankedQuestion, ask_state, next_question, places_left, ways_open
from planner.plan.asking.questions import IN_ORDER, INBOARD, STANDS, Question, Way
from planner.plan.truck.forms import Field, field
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.project.lines import Key
from planner.project.saving import ChangedOutside
from planner.project.starting import metric_margin

COMMANDS = {
    "skip": "s", "back": "b", "not there": "n", "later": "l", "tool": "t", "way": "w", "at": "a", "?": "?",
}  # fmt: skip
_ALSO_SAID = {"not on this truck": "not there", "quit": "later", "exit": "later"}
ANYWHERE = "anywhere"


class Interview(NamedTuple):
    """Where somebody is in being asked. `stands` is where they said that they are, `here` where they answered last.

    `behind` are the questions of this evening that were answered, `again` the one that they went back to; `tool` and
    `way` are what was chosen for the present question, and `answered` is what was said, for the evening's page.
    """

    state: AskState
    stands: str = ""
    here: str = ""
    put_off: tuple[str, ...] = ()
    behind: tuple[Question, ...] = ()
    again: Question | None = None
    tool: Tool | None = None
    way: int = 0
    answered: tuple[str, ...] = ()

    @property
    def asked(self) -> RankedQuestion | None:
        """The present question."""
        if self.again is not None:
            there = next((one for one in self.state.open if one.question.id == self.again.id), None)
            return there or RankedQuestion(self.again, 0)
        return next_question(self.state, self.stands, self.here, self.put_off)

    @property
    def ways(self) -> tuple[Way, ...]:
        asked = self.asked
        return ways_open(self.state.opened, asked.question) if asked else ()

    @property
    def fields(self) -> tuple[Field, ...]:
        """The single entries that the present question asks for, as it is taken."""
        keys = self.ways[self.way].keys if self.ways else ()
        return tuple(field(self.state.opened, key) for key in keys if not key.endswith(INBOARD) and key not in IN_ORDER)

    @property
    def progress(self) -> str:
        """`question 5 of about 12`, until a first wheel is known; then how many are left to the other, or open."""
        state, axle = self.state, self.state.first_axle
        axle = axle if self.asked is not None and (self.asked.for_first or self.again) else ""
        if axle and axle == state.wheels[0].axle:
            return f"question {state.answered_first + 1} of about {max(state.answered_first + state.left_first, 12)}"
        if axle:
            return f"about {state.left_first} more to the {axle} wheel"
        return f"{count(sum(not one.guessed for one in state.open), 'question')} open"

    @property
    def read_with(self) -> str:
        """What the value is read with: the tool that was chosen, or the usual one."""
        style = self.state.opened.style
        if self.tool is not None:
            return "a guess" if self.tool is GUESS else f"{self.tool.name}, ± {self.tool.reads_to(style)}"
        wants = self.fields[-1].wants if self.fields else None
        if wants is not None and wants.usual is not None:
            told = wants.usual.tolerance
            kind = wants.kind if style.system == "metric" else None
            return f"{wants.usual.tool}, ± {metric_margin(told, kind) if kind is not None else told}"
        return tool_for(self.state, self.asked) if self.asked is not None else ""


class Heard(NamedTuple):
    """What came of something that was said: what is told of it, whether it was refused, and whether it was the end."""

    then: Interview
    lines: tuple[str, ...] = ()
    refused: bool = False
    done: bool = False


def begin(opened: OpenProject) -> Interview:
    """Being asked taken up where it was left off."""
    asking = opened.project.asking
    stands = asking.stands if asking.stands in STANDS else None
    return Interview(ask_state(opened), stands or "", put_off=tuple(asking.skipped))


def with_project(interview: Interview, opened: OpenProject) -> Interview:
    """The same place in being asked, on a project that moved."""
    return interview._replace(state=ask_state(opened))


def hear(interview: Interview, text: str) -> Heard:
    """What comes of a line that somebody typed; raises `NotSaved`, and nothing is lost but that line."""
    command, rest = _command(interview, text.strip())
    asked = interview.asked
    if command == "later":
        return Heard(interview, done=True)
    if command == "at":
        return _moved(interview, rest)
    if asked is None:
        return Heard(interview, (f"Nothing left to ask {interview.stands or 'here'}.",), done=not interview.stands)
    if command == "back":
        return _back(interview)
    if command == "skip":
        put_off = (*(one for one in interview.put_off if one != asked.question.id), asked.question.id)
        return Heard(_fresh(interview)._replace(put_off=put_off), (f"Put off: {asked.question.name}.",))
    if command == "tool":
        return _tool(interview, rest)
    if command == "way":
        return _way(interview, rest)
    if command == "?":
        return Heard(interview, _help(interview))
    try:
        if command == "not there":
            return _gone(interview, asked)
        if not text.strip() and interview.again is not None:
            return Heard(_fresh(interview), ("Left as it is.",))
        return _answered(interview, asked, text)
    except RefusedAnswer as refused:
        return Heard(interview, (str(refused),), refused=True)


def ahead(interview: Interview, text: str) -> Interview | None:
    """The next question at once, as it would come if nothing hung on this answer: what it decides is worked out later.

    None where what was said is no answer, or will be refused, or no question is known to come.
    """
    command, _ = _command(interview, text.strip())
    asked, state = interview.asked, interview.state
    if command or asked is None or not text.strip():
        return None
    try:
        understand_answer(state.opened, asked.question, text, interview.tool, interview.way)
    except RefusedAnswer:
        return None
    left = tuple(one for one in state.open if one.question.id != asked.question.id)
    then = _past(interview, asked.question)._replace(
        state=state._replace(open=left, answered_first=state.answered_first + asked.for_first),
        put_off=tuple(one for one in interview.put_off if one != asked.question.id),
    )
    return then if then.asked is not None else None


def asking_of(interview: Interview, question: Question) -> Interview:
    """The same with this question as the present one, whatever would come next by itself."""
    there = interview.asked
    return interview if there is not None and there.question.id == question.id else interview._replace(again=question)


def leave(interview: Interview) -> OpenProject:
    """The project with where it was left off in it, so that it can be taken up again; raises `NotSaved`."""
    put_off = list(interview.put_off)
    return _made(interview.state.opened, lambda now: left_off(now, interview.stands, put_off), kind="asked")[0]


def _made(
    opened: OpenProject, changes_of: Callable[[OpenProject], Mapping[Key, object]], kind: str = "answer"
) -> tuple[OpenProject, bool]:
    """The project with changes made, and whether they are all that moved: another program may have been quicker."""
    for alone in (True, False):
        changes = changes_of(opened)
        try:
            return (made(opened, changes, kind) if changes else opened), alone
        except ChangedOutside:
            if not alone:
                raise
            opened = open_project(opened.opened.source.path, opened.today)
    raise AssertionError("unreachable")


def _answered(interview: Interview, asked: RankedQuestion, text: str) -> Heard:
    opened, question = interview.state.opened, asked.question
    answer = understand_answer(opened, question, text, interview.tool, interview.way)
    try:
        after, alone = _made(
            opened, lambda now: understand_answer(now, question, text, interview.tool, interview.way).changes
        )
    except RefusedAnswer as refused:
        raise RefusedAnswer(f"{refused}; {such_as(opened, question, interview.way)}") from None
    reads = f"Read as {answer.reads}{' (a guess: no flag rests on it)' if answer.guess else ''}."
    told = f"{question.name}: {answer.reads}{' (guess)' if answer.guess else ''}"
    state = ask_state(after, interview.state, answer.changes) if alone else ask_state(after)
    then = _past(interview, question)._replace(
        state=state,
        put_off=tuple(one for one in interview.put_off if one != question.id),
        answered=(*(one for one in interview.answered if not one.startswith(f"{question.name}: ")), told),
    )
    return Heard(then, (reads, *news(interview.state, state)))


def _gone(interview: Interview, asked: RankedQuestion) -> Heard:
    after, _ = _made(interview.state.opened, lambda now: not_there(now, asked.question))
    then = _past(interview, asked.question)._replace(state=ask_state(after))
    return Heard(then, (f"Not on this truck: {asked.question.name}.",))


def _past(interview: Interview, question: Question) -> Interview:
    """The same with a question behind, asked last and where it is answered."""
    behind = (*(one for one in interview.behind if one.id != question.id), question)
    return _fresh(interview)._replace(here=question.stand, behind=behind)


def _fresh(interview: Interview) -> Interview:
    return interview._replace(again=None, tool=None, way=0)


def _back(interview: Interview) -> Heard:
    behind = interview.behind
    at = next((at for at, one in enumerate(behind) if interview.again and one.id == interview.again.id), len(behind))
    if at == 0:
        return Heard(interview, ("There's nothing before this.",))
    return Heard(_fresh(interview)._replace(again=behind[at - 1]), ("Enter keeps what's there.",))


def _moved(interview: Interview, rest: str) -> Heard:
    """Where the person says they stand: by name, by its beginning, or by its number."""
    named = rest.lower().strip()
    if named in ("", ANYWHERE):
        left = ", ".join(f"{stand} ({number})" for stand, number in places_left(interview.state).items())
        then = interview if not named else _fresh(interview)._replace(stands="")
        return Heard(then, (f"Questions left {left or 'nowhere'}; say: at PLACE, or at {ANYWHERE}.",))
    numbered = STANDS[int(named) - 1] if named.isdecimal() and 1 <= int(named[:2]) <= len(STANDS) else None
    fitting = [one for one in STANDS if one.startswith(named)] or [one for one in STANDS if named in one]
    stand = numbered or (fitting[0] if len(fitting) == 1 else None)
    if stand is None:
        return Heard(interview, (f"where? accepted: {', '.join(STANDS)}, {ANYWHERE}",), refused=True)
    then = _fresh(interview)._replace(stands=stand)
    if then.asked is not None:
        return Heard(then, (f"From now on: what you can answer {stand}.",))
    return Heard(then, (f"Nothing left to ask {stand}; say: at {ANYWHERE}.",))


def _tool(interview: Interview, rest: str) -> Heard:
    """The tool that is named, or the next one."""
    if rest:
        tool = next((one for one in TOOLS if one.name.startswith(rest.lower())), None)
        if tool is None:
            return Heard(interview, (f"accepted: {', '.join(one.name for one in TOOLS)}",), refused=True)
    else:
        order = (None, *TOOLS)
        tool = order[(order.index(interview.tool) + 1) % len(order)]
    then = interview._replace(tool=tool)
    return Heard(then, (f"Read with {then.read_with}.",) if then.read_with else ())


def _way(interview: Interview, rest: str) -> Heard:
    ways = interview.ways
    if len(ways) < 2:
        return Heard(interview, ("There's only one way to measure this.",))
    way = int(rest) - 1 if rest.isdecimal() and 1 <= int(rest[:2]) <= len(ways) else (interview.way + 1) % len(ways)
    return Heard(interview._replace(way=way), (f"Now: {ways[way].name}.",))


def _help(interview: Interview) -> tuple[str, ...]:
    ways = [f"way {at}: {way.name}" for at, way in enumerate(interview.ways, 1) if way.name]
    style = interview.state.opened.style
    tools = ", ".join(f"{one.name} {one.reads_to(style)}".strip() for one in TOOLS)
    return (*ways, f"how well it was read: {tools}, or type ± and how much")


def _command(interview: Interview, text: str) -> tuple[str, str]:
    """The command in a line and what stands behind it; none where it is an answer, such as `no`."""
    words = text.lower()
    choices = [choice for one in interview.fields for choice in one.choices]
    for name, letter in COMMANDS.items():
        if words == name or (words == letter and not any(one.startswith(letter) for one in choices)):
            return name, ""
        if name in ("at", "tool", "way") and words.startswith((f"{name} ", f"{letter} ")):
            return name, text.partition(" ")[2].strip()
    return _ALSO_SAID.get(words, ""), ""
