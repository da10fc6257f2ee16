"""All that a change touches, group by group: how many there are of each, and each one with all there is to say."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.plan.answers.basis_words import changes_told
from planner.plan.answers.flagging import Flag
from planner.plan.change.changing import TriedChange
from planner.plan.change.effect_words import answer, besides_records, money_and_time, move, name, tolerance_lines
from planner.plan.change.figure_changes import FigureChange
from planner.plan.change.flag_changes import FlagChange
from planner.plan.revisit.stale_records import StaleRecord
from planner.plan.truck.catalog import catalog
from planner.plan.truck.change_words import read_otherwise
from planner.plan.truck.wording import count, stop_words
from planner.tasks.sequence import standing
from planner.worksheet.declare import SEVERITIES
from planner.worksheet.outcome import Spot

WITHIN = "moved within tolerance"
RECORDS = ("decision", "acceptance", "task", "reading")


class TouchedThing(NamedTuple):
    """One thing that is touched: a line, more lines about it, and the flag or the figure that it is."""

    name: str
    note: str = ""
    lines: tuple[str, ...] = ()
    flag: Flag | None = None
    spot: Spot | None = None


class EffectGroup(NamedTuple):
    """Things of one kind that are touched, the gravest first, and how many there are, in words.

    `becomes` says what becomes of them, and is empty where that is said already.
    """

    counted: str
    becomes: str
    things: tuple[TouchedThing, ...]

    @property
    def title(self) -> str:
        return f"{self.counted} {self.becomes}".strip()


def effect_groups(trial: TriedChange) -> list[EffectGroup]:
    """The groups in which there is anything: stops, cautions, decisions, tasks, parts, sheets, and what else moves."""
    return [one for one in _groups(trial) if one.things]


def counts_line(groups: Sequence[EffectGroup]) -> str:
    """How many of each, in one line; what moves within its tolerance only where nothing else does."""
    told = [one.counted for one in groups if one.becomes != WITHIN] or [one.title for one in groups]
    return ", ".join(told)


def _groups(trial: TriedChange) -> Iterator[EffectGroup]:
    found = trial.effects
    yield from _raised(besides_records(found.up))
    for record in RECORDS:
        again = tuple(_record(trial, one) for one in found.again if one.record == record)
        yield EffectGroup(count(len(again), record), "to look at again", again)
    parts = tuple(TouchedThing(one.title or one.id, one.state, tuple(one.why)) for one in found.parts)
    yield EffectGroup(count(len(parts), "part"), "in question", parts)
    sheets = tuple(_record(trial, one) for one in found.sheets)
    yield EffectGroup(count(len(sheets), "sheet"), "out of date", sheets)
    cleared = tuple(map(_flag, besides_records(found.cleared)))
    yield EffectGroup(f"{len(cleared)} cleared", "", cleared)
    changed = tuple(_flag(one) for one in besides_records(found.changed) if one.beyond)
    yield EffectGroup(count(len(changed), "other answer"), "or another margin", changed)
    money = tuple(TouchedThing(what, becomes) for what, becomes in money_and_time(found))
    yield EffectGroup("cost and time", "", money)
    read = [*tolerance_lines(trial), *read_otherwise(trial.after, (key for key, *_ in trial.moved))]
    yield EffectGroup("how it is read", "", tuple(map(TouchedThing, read)))
    for beyond, becomes in ((True, "moved"), (False, WITHIN)):
        rows = [row for row in found.figures if row.beyond == beyond]
        things = tuple(TouchedThing(name(row), move(row), spot=_spot(trial, row)) for row in rows)
        yield EffectGroup(count(sum(1 + row.more for row in rows), "figure"), becomes, things)


def _raised(up: Sequence[FlagChange]) -> Iterator[EffectGroup]:
    """What comes up, by how grave it is."""
    for severity in SEVERITIES:
        shown = [one for one in up if one.rule.severity == severity]
        close = sum(one.now is not None and one.now.verdict.answer == "too close to call" for one in shown)
        sure = len(shown) - close
        counted = stop_words(sure, close) if severity == "stop" else count(len(shown), severity)
        yield EffectGroup(counted, "up", tuple(map(_flag, shown)))


def _flag(one: FlagChange) -> TouchedThing:
    lines = (f"was {answer(one, now=False)}", f"now {answer(one, now=True)}")
    return TouchedThing(one.notice, "", lines, one.now or one.was)


def _spot(trial: TriedChange, row: FigureChange) -> Spot | None:
    """Where the figure can be asked about once the change is made; a fitment that is left out is the planned one."""
    fitment, *rest = row.places[0]
    spots = [Spot(row.node, (one, *rest)) for one in (fitment, *trial.after.planned)]
    return next((spot for spot in spots if spot in trial.after.sheet), None)


def _record(trial: TriedChange, one: StaleRecord) -> TouchedThing:
    """A record by what people call it: a task by its title, an acceptance by what was accepted."""
    project, name = trial.after.project, one.name
    if one.record == "task":
        task = project.tasks[one.at]
        bare, _, end = str(task.id).rpartition(".")
        title = next((each.title for each in standing() if each.id in (task.id, bare)), task.title or one.name)
        name = f"{end}: {title}" if bare in {each.id for each in standing()} else title
    elif one.record == "acceptance":
        accepted = project.acceptances[one.at]
        rule = catalog().rule_named(accepted.flag or "")
        notices = rule.notices if rule is not None else one.name
        name = f"{accepted.at}: {notices}" if accepted.at else notices
    return TouchedThing(name, "", tuple(changes_told(one.moved)))
