"""Ticking a task, with the value recorded, reopening, adding and dropping: as changes to the file, and their making."""

import datetime
import math
from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from planner.plan.answers.open_project import work_out
from planner.plan.change.cure import refuse_half_cure
from planner.plan.change.refused_over_stops import refuse_over_stops
from planner.plan.change.tick_filling import filled_by
from planner.plan.change.ticking_again import a_distance, before_it, odometer_entry, odometer_read
from planner.plan.change.widening import Widening, widening
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.dependencies import FOR_CHANGES, FOR_FLAGS, FOR_STAGES, own_id, standing_task_of
from planner.plan.work.hold_points import why_not_sign
from planner.plan.work.item import Item
from planner.plan.work.parts import BOUGHT
from planner.plan.work.task_list import Work, work
from planner.plan.work.task_values import NoSuchValue, value_to_record, why_not_tick
from planner.project.changes import DELETE
from planner.project.diary import Committed, commit
from planner.project.faults import Faulty, StillFaulty
from planner.project.lines import Key
from planner.project.migrating import amend_or_rewrite
from planner.project.reading import raise_faults, understand
from planner.project.source import parse
from planner.quantities.text import clean, name_among, normal_name, same_name
from planner.tasks.kind import PHASES

LONGEST_ID = 60

MOST_HOURS = 10_000

MOST_MONTHS = 600

RESTS_ON_NOTHING: Mapping[str, object] = {"rested_on": None, "rests": None}


def find_task(listed: Work, id_: str) -> Item:
    """The task of that id, or the only one whose title begins so; `RefusedChange` names the nearest."""
    id_ = name_among(listed.items, id_) or id_
    if id_ in listed.items:
        return listed.items[id_]
    kept = next((one for one in listed.kept if same_name(one.id, id_)), None)
    if kept is not None:
        raise RefusedChange(f"{clean(id_)}: {kept.why}; what you recorded on it is kept")
    said = normal_name(id_).casefold()
    titled = [one for one in listed.items.values() if said and normal_name(one.title).casefold().startswith(said)]
    if len(titled) == 1:
        return titled[0]
    ends = [one for one in (f"{id_}.front", f"{id_}.rear") if one in listed.items] or [one.id for one in titled[:3]]
    near = ends or get_close_matches(id_, listed.items, n=3, cutoff=0.5)
    hint = f"; near it: {', '.join(map(clean, near))}" if near else ""
    raise RefusedChange(f"no task is called '{clean(id_[:LONGEST_ID])}'{hint}", "" if near else "list")


def tick_task(
    opened: OpenProject,
    listed: Work,
    id_: str,
    value: str | None = None,
    *,
    because: str = "",
    note: str = "",
    anyway: bool = False,
    counts: str = "",
    odometer: str = "",
    by: str = "",
    on: datetime.date | None = None,
) -> Recording:
    """A task done, with the value that was to be recorded; `RefusedChange` where something stands against it.

    A value that is a reading of an entry is written there, with the reading, where nothing stands yet. Where it differs
    from what stands, `counts` says which of the two does: `this`, or the `entry`.

    A value outside of what is acceptable, or not surely within it, goes in only `anyway` and with a reason, and so does
    a tick before its time. A hold point is signed by its reason, and nothing goes past one that is not signed.
    """
    one = find_task(listed, id_)
    id_ = one.id
    stopped = no_reason_helps(listed, one)
    if stopped:
        raise RefusedChange(stopped)
    if one.hold and not because:
        raise RefusedChange(f"{clean(id_)} is a hold point: whoever looked has to sign it", "signature")
    if anyway and not because:
        raise RefusedChange(f"{clean(id_)}: to tick it all the same, give a reason", "reason")
    try:
        recorded, standing = (None, "") if value is None else value_to_record(opened, one, value)
    except NoSuchValue as trouble:
        raise RefusedChange(f"{clean(id_)}: {trouble}") from None
    stand = list(why_not_tick(opened, one, value, standing))
    if stand and not (anyway and because):
        raise RefusedChange(f"{clean(id_)}: {stand[0]}; to tick it all the same, give a reason", "all the same")
    read = odometer_read(opened, one, odometer, on or listed.today)
    filled = filled_by(opened, listed, one, recorded or "", counts, on or listed.today)
    fields: dict[str, object] = {
        "state": "done",
        "recorded": recorded,
        "note": note or None,
        "on": on or listed.today,
        "because": because or None,
        "by": clean(by) or None,
        **({"odometer": read.text} if read is not None else {}),
        **_rests(filled.rests_on, one),
    }
    says = f"{clean(id_)} is done" + (f", recorded {clean(recorded)}" if recorded else "")
    says += f" ({'; '.join(stand)}; done all the same)" if stand else ""
    says += filled.says
    if one.due is not None and read is None:
        says += "; without what the odometer shows (--odometer) nothing is known by distance"
    details = {"task": id_, "recorded": recorded or "", "stands": standing}
    changes = {**_fields(opened, one, fields), **before_it(one, fields), **filled.changes}
    if read is not None:
        changes |= odometer_entry(opened, read, on or listed.today)
    if one.change is not None and not one.step:
        changes |= {("changes", one.change, "state"): "done", ("changes", one.change, "on"): on or listed.today}
    return Recording(changes, "tick", says, because, details)


def no_reason_helps(listed: Work, one: Item) -> str:
    """Why a task cannot be ticked now, whatever reason is given; empty where it can."""
    id_ = clean(one.id)
    holds = [*(hold for hold in one.waits if listed.items[hold].hold), *one.holds]
    if one.state == "done" and one.due is None:
        on = one.record.on if one.record else None
        return f"{id_} is already done{f', on {on}' if on else ''}; reopen it first"
    if one.state == "dropped":
        return f"{id_} was dropped; reopen it first"
    stopped = why_not_sign(one, listed.items)
    if stopped:
        return stopped
    return f"{id_} comes after the hold point {clean(holds[0])}: sign that first" if holds else ""


def note_task(opened: OpenProject, listed: Work, id_: str, note: str) -> Recording:
    """A task's note in place of the one that it has; an empty one takes it away."""
    one = find_task(listed, id_)
    id_ = one.id
    if note:
        return Recording(_fields(opened, one, {"note": note}), "note", f"{clean(id_)}: noted", "", {"task": id_})
    if one.at is None or not (one.record and one.record.note):
        raise RefusedChange(f"{clean(id_)} has no note to delete")
    taken: dict[Key, object] = {("tasks", one.at, "note"): DELETE}
    return Recording(taken, "note", f"{clean(id_)} has no note anymore", "", {"task": id_})


def reopen_task(opened: OpenProject, listed: Work, id_: str, because: str) -> Recording:
    """A task open again; value and note stay."""
    one = find_task(listed, id_)
    id_ = one.id
    if one.record is None or one.record.state == "open":
        raise RefusedChange(f"{clean(id_)} is open")
    if not because:
        raise RefusedChange(f"{clean(id_)}: give a reason for reopening it", "reason")
    fields: dict[str, object] = {"state": "open", "on": None, **RESTS_ON_NOTHING, "because": because}
    changes = _fields(opened, one, fields)
    if one.change is not None and not one.step:
        changes |= {("changes", one.change, "state"): "decided", ("changes", one.change, "on"): DELETE}
    return Recording(changes, "reopen", f"{clean(id_)} is open again", because, {"task": id_})


def drop_task(opened: OpenProject, listed: Work, id_: str, because: str, on: datetime.date | None = None) -> Recording:
    """A task that will not be done; a hold point is never dropped."""
    one = find_task(listed, id_)
    id_ = one.id
    if one.hold:
        raise RefusedChange(f"{clean(id_)} is a hold point: sign it; it can't be dropped")
    if one.change is not None and not one.step:
        raise RefusedChange(
            f'{clean(id_)} is a change you decided on: give it up with changes[{one.change}].state="given up"'
        )
    if one.state == "dropped":
        raise RefusedChange(f"{clean(id_)} is already dropped")
    if not because:
        raise RefusedChange(f"{clean(id_)}: give a reason for dropping it", "reason")
    fields = {"state": "dropped", "because": because, "on": on or listed.today, **RESTS_ON_NOTHING}
    return Recording(_fields(opened, one, fields), "drop", f"{clean(id_)} is dropped", because, {"task": id_})


def add_task(
    opened: OpenProject,
    listed: Work,
    title: str,
    *,
    phase: str = "",
    after: Iterable[str] = (),
    hours: float | None = None,
    id_: str = "",
    note: str = "",
    every: str = "",
    months: int | None = None,
) -> Recording:
    """A task of the person's own; with `every` or `months` it comes again after so far, or so long."""
    title = clean(" ".join(title.split()))
    if not title:
        raise RefusedChange("a task needs a title")
    if phase and phase not in PHASES:
        near = get_close_matches(phase, PHASES, n=1)
        hint = f"{near[0]}, if that is what you meant" if near else ", ".join(PHASES)
        raise RefusedChange(f"phase: read '{clean(phase)}'; accepted: {hint}")
    if hours is not None and not (math.isfinite(hours) and 0 < hours <= MOST_HOURS):
        raise RefusedChange(f"hours: read '{hours:g}'; accepted: more than 0 and no more than {MOST_HOURS}")
    if months is not None and not 0 < months <= MOST_MONTHS:
        raise RefusedChange(f"months: read '{months}'; accepted: 1 to {MOST_MONTHS}")
    taken = {*listed.items, *(one.id for one in listed.kept)}
    _refuse_id(id_ or own_id(title, taken), taken)
    id_ = normal_name(id_) or own_id(title, taken)
    waits = list(dict.fromkeys(name_among(listed.items, name) or normal_name(name) for name in after))
    for at, name in enumerate(waits):
        if f"{name}.front" not in listed.items and f"{name}.rear" not in listed.items:
            waits[at] = find_task(listed, name).id
    fields = {
        "id": id_,
        "title": title,
        "phase": phase or None,
        "after": waits or None,
        "takes": None if hours is None else f"{hours:.10g} h",
        "note": note or None,
        "every_distance": a_distance(opened, every, "every").text if every else None,
        "every_months": months,
    }
    record = {name: value for name, value in fields.items() if value is not None}
    at = len(opened.project.tasks)
    return Recording({("tasks", at): record}, "task", f"{clean(id_)} is in the list: {title}", "", {"task": id_})


def set_dependencies(opened: OpenProject, listed: Work, id_: str, after: Iterable[str]) -> Recording:
    """What a task waits on besides the sequence, in place of what the person said before.

    A wait on a task that does not apply at present stays: nobody could have seen it to take it away.
    """
    one = find_task(listed, id_)
    id_ = one.id
    before = one.record.after if one.record else []
    aside = [name for name in before if not {name, f"{name}.front", f"{name}.rear"} & listed.items.keys()]
    names = list(dict.fromkeys((*aside, *(find_task(listed, name).id for name in after))))
    if names == before:
        raise RefusedChange(f"{clean(id_)} waits on the same as before")
    says = f"{clean(id_)} waits on {', '.join(map(clean, names)) if names else 'none of your tasks'}"
    return Recording(_fields(opened, one, {"after": names or None}), "waits", says, "", {"task": id_})


def _refuse_id(id_: str, taken: Iterable[str]) -> None:
    if len(id_) > LONGEST_ID or clean(id_) != id_ or not id_.strip() or any(mark.isspace() for mark in id_):
        raise RefusedChange(
            f"id: read '{clean(id_[:LONGEST_ID])}'; accepted: a name of plain characters without spaces"
        )
    if name_among(taken, id_):
        raise RefusedChange(f"id: there is already a task called {clean(id_)}")
    if id_.startswith((FOR_FLAGS, FOR_CHANGES, FOR_STAGES)) or standing_task_of(id_) is not None:
        raise RefusedChange(f"id: {clean(id_)} is in the standing list; use one such as own.paint_wheels")


def _rests(rested_on: dict[str, str], one: Item) -> Mapping[str, object]:
    """What a tick rests on; where it is nothing yet that is kept too, unless it can never be anything."""
    could = one.change is not None or (one.task is not None and one.task.rests_on_something)
    return {"rested_on": rested_on} if rested_on or could else RESTS_ON_NOTHING


def _fields(opened: OpenProject, one: Item, fields: Mapping[str, object]) -> dict[Key, object]:
    """The changes that set these fields of a task's record; None takes an entry away."""
    if one.at is None:
        given = {name: value for name, value in fields.items() if value is not None}
        return {("tasks", len(opened.project.tasks)): {"id": one.id, **given}}
    record = opened.project.tasks[one.at]
    changes: dict[Key, object] = {} if record.id else {("tasks", one.at, "id"): one.id}
    for name, value in fields.items():
        key: Key = ("tasks", one.at, name)
        if value is not None:
            changes[key] = value
        elif name not in ("recorded", "note"):  # a new tick without them leaves the old ones to be read
            changes[key] = DELETE
    return changes


# making it


def _signs_or_orders(recording: Recording) -> bool:
    ordered = any(key[0] == "parts" and key[-1] == "state" and to in BOUGHT for key, to in recording.changes.items())
    return ordered or recording.kind == "tick"


def make_recording(opened: OpenProject, recording: Recording, *, widened: Widening | None = None) -> Committed:
    """Writes the recording and its entry in the diary, both or neither.

    `widened` is what the first save of an older file brings, where that was worked out and told already.
    Raises `NotSaved`, `Faulty` or `Unschedulable`, and nothing is written; while the project has faults it does, unless
    this takes all of them away.
    """
    source, faulty = opened.opened.source, bool(opened.opened.faults)
    widened = widened or widening(opened)
    try:
        text, keep_old = amend_or_rewrite(source.text, recording.changes)
        then = understand(parse(source.path, text.encode("utf-8")))
    except (ValueError, Faulty):  # such as a tick where the tasks are no list
        if faulty:
            raise StillFaulty(source.path, opened.opened.faults) from None
        raise
    if not faulty:
        raise_faults(then)
    waits, signs = recording.kind in ("task", "waits"), _signs_or_orders(recording)
    if faulty or waits or signs:  # nothing else brings new waits
        now = work_out(then, datetime.date.today())
        refuse_half_cure(opened, now)
        work(now, [])
    if signs:
        refuse_over_stops(opened, now)
    return commit(
        source,
        text,
        kind=recording.kind,
        because=recording.because,
        details={**recording.details, **(widened.details if widened else {})},
        keep_old=keep_old,
    )
