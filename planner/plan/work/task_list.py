"""The project's task list: the standing sequence, what flags ask for, and the person's own, each with its state.

Records in the file attach by id. One whose task no longer applies, or whose flag is clear, is kept: when the task is
back in the list its tick, note and recorded value are with it.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from planner.plan.answers.basis_words import BasisChange, changes_in_words
from planner.plan.answers.flagging import Flag, flags, of_plan
from planner.plan.truck.change_words import planned_changes
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import together
from planner.plan.work.change_tasks import change_tasks, made_by_change
from planner.plan.work.dependencies import (
    FOR_CHANGES,
    FOR_FLAGS,
    FOR_STAGES,
    READY_TO_ROLL,
    holds_before,
    in_order,
    open_before,
    own_id,
    standing_task_of,
    with_dependencies,
)
from planner.plan.work.hold_points import open_stops, stops_in_words
from planner.plan.work.inspections import due, on_the_road
from planner.plan.work.item import Item, State
from planner.plan.work.measured_twice import measured_once
from planner.plan.work.parts import needed_parts, planned_parts
from planner.plan.work.record_changes import record_changes
from planner.plan.work.record_flags import received_flags
from planner.plan.work.schedule_error import ScheduleError, TwiceNamed
from planner.plan.work.stage_tasks import stage_items
from planner.plan.work.task_dates import TaskDates, task_dates
from planner.plan.work.task_values import applies_at
from planner.project.models.work import Task
from planner.quantities.text import clean, normal_name
from planner.tasks.kind import PHASES, StandingTask
from planner.tasks.sequence import asked_by, placed, standing

HOUR = 3600.0  # s
_WHY_KEPT = {
    FOR_FLAGS: "its flag isn't raised right now",
    FOR_CHANGES: "its change to the truck isn't planned right now",
    FOR_STAGES: "its stage is over, or isn't driven",
}


class Kept(NamedTuple):
    """A record whose task is not in the list at present, and why it is not."""

    id: str
    record: Task
    at: int
    why: str


class Work(NamedTuple):
    """The whole list in order, by id; what is kept for tasks that are not in it; and the dates."""

    items: Mapping[str, Item]
    kept: tuple[Kept, ...]
    dates: TaskDates
    today: date


def work(opened: OpenProject, found: Sequence[Flag] | None = None) -> Work:
    """The list as it stands today; raises `Unschedulable`, with one line that says what cannot be put in order.

    `found` are the project's flags, where they have been worked out already.
    """
    found = flags(opened) if found is None else found
    listed = with_dependencies(_listed(opened, found))
    dated = task_dates(opened, listed, opened.today)  # before the rest: a circle of waits ends here
    listed = in_order(listed)
    came = received_flags(opened, found) if found else []  # who asks for the order alone gives no flags
    _states(opened, listed, [*found, *came], opened.today)
    return Work(listed, tuple(_kept(opened, listed)), dated, opened.today)


def work_or_why(opened: OpenProject, found: Sequence[Flag]) -> tuple[Work | None, str]:
    """The list, or in a line why it has no order."""
    try:
        return work(opened, found), ""
    except ScheduleError as stuck:
        return None, str(stuck)


# what is in the list


def _listed(opened: OpenProject, found: Sequence[Flag]) -> dict[str, Item]:
    records = dict(_records(opened))
    parts = planned_parts(opened)
    items: dict[str, Item] = {}
    for one in (*_standing(opened, found), *change_tasks(opened), *_own(records)):
        if one.id in items:
            raise TwiceNamed(clean(one.id))
        items[one.id] = one
    for one in (*_asked_by_flags(found, items), *stage_items(opened, items, found)):
        items[one.id] = one
    for id_, one in items.items():
        at, record = records.get(id_, (None, None))
        one = one._replace(parts=needed_parts(parts, id_, one.task), record=record, at=at)
        items[id_] = _as_recorded(one, record) if record and one.origin != "own" else one
    places: dict[str, float] = {id_: at for at, id_ in enumerate(items)}
    last = places.get(READY_TO_ROLL, 0) - 1 / 2  # the finished truck is signed for after every stage
    places |= {id_: last for id_, one in items.items() if one.stage is not None}
    phases: dict[str, int] = {phase: at for at, phase in enumerate(PHASES)}
    return dict(sorted(items.items(), key=lambda pair: (phases.get(pair[1].phase, len(PHASES)), places[pair[0]])))


def _records(opened: OpenProject) -> Iterator[tuple[str, tuple[int, Task]]]:
    """The records by id; one without an id is known by its title."""
    taken = {record.id for record in opened.project.tasks if record.id}
    for at, record in enumerate(opened.project.tasks):
        id_ = record.id or own_id(record.title or "", taken)
        plain = normal_name(id_)
        id_ = plain if plain.startswith((FOR_FLAGS, FOR_STAGES)) or standing_task_of(plain) is not None else id_
        taken.add(id_)
        yield id_, (at, record)


def _as_recorded(one: Item, record: Task) -> Item:
    """What the person said of a task that is not their own: its time, and what else it waits on."""
    hours = one.hours if record.takes is None else float(record.takes.value) / HOUR
    return one._replace(hours=hours, after=tuple(dict.fromkeys((*one.after, *record.after))))


def _standing(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Item]:
    raised: dict[str, set[str]] = {}
    for flag in found:
        if flag.stands:
            raised.setdefault(flag.rule.name, set()).update(place[1] for place in flag.places)
    asked: dict[tuple[str, str], bool] = {}
    made = {opened.project.changes[at].kind for at in planned_changes(opened)}
    driven = on_the_road(opened) is not None

    def comes_up(task: StandingTask) -> bool:
        return (driven or task.every is None or task.every.once) and (
            not task.for_changes or not made.isdisjoint(task.for_changes)
        )

    def wanted(task: StandingTask, axle: str) -> bool:
        key = (task.id, axle)
        if key not in asked:
            ends = set[str]().union(*(raised.get(rule, set()) for rule in task.for_rules))
            called = not task.if_raised or bool(ends if not axle else ends & {axle, ""})
            asked[key] = called and applies_at(opened, task, axle) and comes_up(task)
        return asked[key]

    steered = [axle for axle in ("front", "rear") if any(opened.steers(axle, fitment) for fitment in opened.planned)]
    for one in placed(standing(), ("front", "rear"), steered, wanted):
        task = one.task
        title = f"{task.title} ({one.axle})" if one.axle else task.title
        yield Item(
            one.id, title, task.phase, "standing", task.how, task.caution, task.hours, one.after, one.axle,
            task.hold, task, short=task.short,
        )  # fmt: skip


def _asked_by_flags(found: Sequence[Flag], items: Mapping[str, Item]) -> Iterator[Item]:
    """A task for each rule that asks for something and that no task in the list serves, by the rule's name for good."""
    served = {one.task.id for one in items.values() if one.task}
    by_rule: dict[str, list[Flag]] = {}
    for flag in found:
        open_ = flag.stands or (flag.verdict.answer == "too close to call" and flag.rule.severity != "note")
        if open_ and not of_plan(flag.rule):
            by_rule.setdefault(flag.rule.name, []).append(flag)
    for rule, several in by_rule.items():
        if served.isdisjoint(task.id for task in asked_by(rule)):
            flag = several[0]
            at = " and ".join(dict.fromkeys(one.where for one in several if one.where))
            title = flag.rule.notices[0].upper() + flag.rule.notices[1:] + (f" ({at})" if at else "")
            caution = "Don't order, mount or drive until this is fixed." if flag.rule.severity == "stop" else ""
            yield Item(FOR_FLAGS + rule, title, "decide", "flag", _cures(several), caution, 1.0, flag=flag)


def _cures(several: Sequence[Flag]) -> str:
    settles = [one for flag in several for one in flag.settles]
    said = " ".join(dict.fromkeys(flag.cure for flag in several if flag.cure))
    return f"To settle it, measure {together(settles)}. {said}" if settles else said


def _own(records: Mapping[str, tuple[int, Task]]) -> Iterator[Item]:
    for id_, (_, record) in records.items():
        if id_.startswith((FOR_FLAGS, FOR_CHANGES, FOR_STAGES)) or standing_task_of(id_) is not None:
            continue
        hours = None if record.takes is None else float(record.takes.value) / HOUR
        phase = record.phase if record.phase in PHASES else ""
        yield Item(id_, clean(record.title or id_), phase, "own", hours=hours, after=tuple(record.after))


# how it stands


def _states(opened: OpenProject, items: dict[str, Item], found: Sequence[Flag], today: date) -> None:
    undecided = tuple(_undecided(opened)) if found else ()
    for id_, one in items.items():
        state, why, moved = _recorded_state(opened, one)
        next_ = due(opened, one, today)
        if next_ is not None and next_.answer == "overdue" and state != "dropped":
            state, why = "look again", f"{next_.says}; {why}" if why else next_.says
        elif next_ is not None and next_.answer == "not known" and state == "done":
            state = "ready"
        guarded = found if one.stage is None else one.stage.flags
        stops = open_stops(guarded, one.guards)
        if stops and state in ("done", "look again"):
            lapsed = f"its signature has lapsed: {stops_in_words(stops)}"
            state, why = "look again", f"{lapsed}; {why}" if why else lapsed
        lost = open_stops(guarded, one.guards, ("not known",))
        items[id_] = one._replace(
            state=state,
            why=why,
            moved=moved,
            stops=stops,
            not_known=lost,
            due=next_,
            once=measured_once(opened) if found and one.task and one.task.twice else (),
            undecided=undecided if one.hold and one.guards else (),
        )
    behind = holds_before(items)
    free = {id_ for id_, one in items.items() if one.due is not None}  # on the road nothing has to come before a look
    unsigned = [one.id for one in items.values() if one.hold and not one.closed]
    for id_, one in items.items():
        if one.closed:
            continue
        waits = () if id_ in free else tuple(open_before(one, items))
        holds = tuple(hold for hold in unsigned if hold in behind[id_] and hold not in waits and id_ not in free)
        early = one.due is not None and one.due.answer == "not yet"
        waiting = one.state == "ready" and (waits or holds or early or _is_held(one))
        items[id_] = one._replace(waits=waits, holds=holds, state="waiting" if waiting else one.state)


def _is_held(one: Item) -> bool:
    """Whether something other than a task is before it."""
    return bool(one.lacks or one.stops or one.once or one.undecided)


def _undecided(opened: OpenProject) -> Iterator[str]:
    """The questions whose decision needs another look."""
    for at, one in enumerate(opened.project.decisions):
        if not opened.fault_at("decisions", at) and record_changes(opened, one):
            yield clean(one.question or f"decisions[{at}]")


def _recorded_state(opened: OpenProject, one: Item) -> tuple[State, str, tuple[BasisChange, ...]]:
    record = one.record
    lost = None if one.at is None else opened.fault_at("tasks", one.at)
    if lost is not None:  # nobody can say that it is done
        return "look again", opened.asked_for(lost), ()
    if record is None or record.state == "open":
        return ("done" if made_by_change(opened, one) else "ready"), "", ()
    if record.state == "dropped":
        return ("ready" if one.hold else "dropped"), "", ()
    moved = record_changes(opened, record)
    if record.state == "look again":
        return "look again", changes_in_words(moved) or clean(record.because or ""), moved
    return ("look again" if moved else "done"), changes_in_words(moved), moved


def _kept(opened: OpenProject, items: Mapping[str, Item]) -> Iterator[Kept]:
    for id_, (at, record) in _records(opened):
        if id_ not in items:
            why = (words for start, words in _WHY_KEPT.items() if id_.startswith(start))
            yield Kept(id_, record, at, next(why, "it doesn't apply to what's planned right now"))


# looking at it


def next_up(listed: Work) -> list[Item]:
    """What can be done now: hold points first, then what is to be looked at again, then what presses most."""

    def presses(one: Item) -> tuple[Any, ...]:
        times = listed.dates.ahead.times.get(one.id)
        return not one.hold, one.state != "look again", times.slack if times else 0.0

    return sorted((one for one in listed.items.values() if can_be_done(one)), key=presses)


def next_behind(listed: Work) -> list[Item]:
    """What waits only for what can be done now."""
    now = {one.id for one in listed.items.values() if can_be_done(one)}
    return [
        one
        for one in listed.items.values()
        if one.state == "waiting" and not (one.lacks or one.stops) and now.issuperset((*one.waits, *one.holds))
    ]


def can_be_done(one: Item) -> bool:
    """Whether nothing is before it: ready, or to be looked at again without anything else that is."""
    return one.state == "ready" or (one.state == "look again" and not (one.waits or one.holds or _is_held(one)))
