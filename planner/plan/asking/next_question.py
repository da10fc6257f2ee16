"""Which question comes next: the one that decides most, among those that can be answered where the person stands.

Before a first wheel is known, what it waits for comes first, in the order of walking around the truck; after that
whatever most rules wait for, the grave ones more.
"""

from collections.abc import Collection, Mapping
from typing import Any, NamedTuple

from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.measure_next import WantedEntry, measure_next
from planner.plan.asking.first_wheel import OF_FIRST_WHEEL, FirstWheel, first_wheels
from planner.plan.asking.guesses import fitment_in_mind
from planner.plan.asking.plain_questions import plain_question
from planner.plan.asking.questions import QUESTIONS, STANDS, Question, Way, asked_by_key
from planner.plan.fit.swept_by import moves_fit
from planner.plan.truck.project import UNMEASURED, OpenProject
from planner.project.lines import Key
from planner.project.written_keys import split_key
from planner.quantities.text import clean

STAYS = 3  # a question here may decide a third of what the best one elsewhere does, before it is time to walk


class RankedQuestion(NamedTuple):
    """A question that is open: how much hangs on it by the worksheet, and whether the first wheel waits for it."""

    question: Question
    weight: int
    waiting: str = ""  # `2 stops and 1 caution wait`
    for_first: bool = False
    guessed: bool = False


class AskState(NamedTuple):
    """A project as its questions see it; `open` are those that are not answered, the one that decides most first."""

    opened: OpenProject
    flags: tuple[Flag, ...]
    wheels: tuple[FirstWheel, ...]
    open: tuple[RankedQuestion, ...]
    answered_first: int = 0

    @property
    def first_axle(self) -> str:
        """The axle whose first wheel comes next; empty once both are known."""
        asked = {one.question.id for one in self.open if one.for_first}
        return next((one.axle for one in self.wheels if any(f".{one.axle}." in each for each in asked)), "") or (
            self.wheels[0].axle if asked else ""
        )

    @property
    def left_first(self) -> int:
        """How many questions are left before a first wheel is known."""
        return sum(one.for_first and not one.guessed for one in self.open)


def ask_state(opened: OpenProject, before: AskState | None = None, moved: Collection[Key] = ()) -> AskState:
    """Every question that is open in a project; `before` is what it was, and only what is at `moved` is another."""
    found = tuple(flags(opened))
    same = before is not None and fitment_in_mind(before.opened) == fitment_in_mind(opened)
    if before is not None and same and not moves_fit(opened, moved, OF_FIRST_WHEEL):
        wheels = before.wheels
    else:
        wheels = first_wheels(opened)
    by_key = asked_by_key(fitment_in_mind(opened))
    wanted = _by_question(opened, measure_next(opened, found), by_key)
    first = _first(opened, wheels, by_key)
    guesses, not_there = opened.project.asking.guesses, set(opened.project.asking.not_there)
    rows: list[RankedQuestion] = []
    for question in [*first, *(one for one in wanted if one not in first)]:
        if question.id in not_there or any(key in not_there for key in question.keys) or _taken(opened, question):
            continue
        entries = wanted.get(question, [])
        rules = {rule: one for one in entries for rule in one.rules}
        weight = max((one.weight for one in entries), default=0)
        best = max(entries, key=lambda one: one.weight, default=None)
        guessed = any(key in guesses for key in (question.id, *question.keys))
        rows.append(
            RankedQuestion(question, weight, best.waiting if rules and best else "", question in first, guessed)
        )
    rest = sorted((one for one in rows if not one.for_first), key=lambda one: (-one.weight, one.question.id))
    done = sum(_answered(opened, one) for one in _every_first(wheels))
    return AskState(opened, found, wheels, (*(one for one in rows if one.for_first), *rest), done)


def next_question(
    state: AskState, stands: str = "", here: str = "", put_off: Collection[str] = ()
) -> RankedQuestion | None:
    """The next question; None where none is left at the place where the person `stands`, or at all.

    `here` is where the last one was answered. What was put off comes once nothing else is left, a guess last.
    """
    for pool in (
        [one for one in state.open if not one.guessed and one.question.id not in put_off],
        [one for one in state.open if not one.guessed and one.question.id in put_off],
        [one for one in state.open if one.guessed],
    ):
        found = _among([one for one in pool if not stands or one.question.stand == stands], stands, here)
        if found is not None:
            return found
    return None


def _among(pool: list[RankedQuestion], stands: str, here: str) -> RankedQuestion | None:
    first = [one for one in pool if one.for_first]
    if first:
        return min(first, key=lambda one: STANDS.index(one.question.stand))
    if not pool or stands:
        return pool[0] if pool else None
    near = next((one for one in pool if one.question.stand == here), None)
    return near if near is not None and near.weight * STAYS >= pool[0].weight else pool[0]


def places_left(state: AskState) -> dict[str, int]:
    """Where questions are left, and how many, in the order of walking."""
    left = [one.question.stand for one in state.open if not one.guessed]
    return {stand: left.count(stand) for stand in STANDS if stand in left}


def ways_open(opened: OpenProject, question: Question) -> tuple[Way, ...]:
    """The ways to take a question, without what of each is entered already."""
    ways = []
    for way in question.ways:
        keys = tuple(key for key in way.keys if not is_entered(opened, key))
        ways.append(Way(way.name, keys or way.keys))
    return tuple(ways)


def is_entered(opened: OpenProject, key: str) -> bool:
    """Whether something stands at a key in the file."""
    data: Any = opened.opened.data
    for name in split_key(key) or (key,):
        data = data.get(name) if isinstance(data, dict) else None
    return data is not None


# which there are


def _by_question(
    opened: OpenProject, wanted: list[WantedEntry], by_key: Mapping[str, Question]
) -> dict[Question, list[WantedEntry]]:
    """What the rules wait for, by the question that settles it; alternatives come as one."""
    found: dict[Question, list[WantedEntry]] = {}
    for one in wanted:
        question = by_key.get(one.key) or _plain(opened, one.key)
        if question is not None:
            found.setdefault(question, []).append(one)
    return found


def _plain(opened: OpenProject, key: str) -> Question | None:
    """The question for an entry without one in the table; None where there is no single entry to make."""
    label = next((name for name, one in opened.obstacles.items() if key == f"{one.key}.at"), "")
    if label:
        obstacle = opened.obstacles[label].measured
        asks = f"Where is the {clean(label)} ({obstacle.axle or 'which'} axle)?"
        return plain_question(key, clean(obstacle.measure or ""))._replace(name=clean(label), asks=asks)
    return None if "<" in key or key in UNMEASURED or key == "obstacles" else plain_question(key)


def _first(opened: OpenProject, wheels: tuple[FirstWheel, ...], by_key: Mapping[str, Question]) -> list[Question]:
    """What the first wheel waits for that is not known yet; one axle after the other."""
    for wheel in wheels:
        found = [one for one in _identity(wheel) if not _answered(opened, one)]
        for key in wheel.needs:
            if key == "obstacles":
                key = f"obstacles.{wheel.axle}.inboard"
            question = by_key.get(key) or _plain(opened, key)
            if question is not None and question not in found and not _answered(opened, question):
                found.append(question)
        if found:
            return found
    return []


def _identity(wheel: FirstWheel) -> list[Question]:
    return [one.at(wheel.axle, wheel.fitment) for one in QUESTIONS if one.first]


def _every_first(wheels: tuple[FirstWheel, ...]) -> list[Question]:
    """The questions of a first wheel at the axle that comes first."""
    upto = next(at for at, one in enumerate(QUESTIONS) if one.id == "fitments.{fitment}.wheel.rim_width")
    return [one.at(wheels[0].axle, wheels[0].fitment) for one in QUESTIONS[: upto + 1]]


def _answered(opened: OpenProject, question: Question) -> bool:
    """Whether one of its ways is taken, or a guess stands for it."""
    asking = opened.project.asking
    if question.id.startswith("obstacles."):
        axle = question.id.split(".")[1]
        there = any(one.axle == axle and one.at and one.at[1].value < 0 for one in opened.project.obstacles)
        return there or question.id in asking.guesses
    return _taken(opened, question) or any(key in asking.guesses for key in (question.id, *question.keys))


def _taken(opened: OpenProject, question: Question) -> bool:
    """Whether it was taken one way: another would be a second reading, and nothing waits for that."""
    return any(all(is_entered(opened, key) for key in way.keys) for way in question.ways)
