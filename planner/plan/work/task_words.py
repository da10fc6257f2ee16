"""Tasks in words: how each stands, what it waits on, what is written down, when; the same for command and screens."""

from collections.abc import Iterator

from planner.plan.answers.basis import rested_words
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, count, shown
from planner.plan.work.hold_points import not_known_words, stops_in_words
from planner.plan.work.inspections import comes_again, earlier_words
from planner.plan.work.item import Item
from planner.plan.work.schedule import Times
from planner.plan.work.task_list import Work
from planner.plan.work.task_values import is_outside, range_text, recorded_stands, spots_of
from planner.quantities.kinds import TORQUE
from planner.quantities.show import show
from planner.quantities.text import clean

BOXES = {"ready": "[ ]", "waiting": "[-]", "done": "[x]", "look again": "[!]", "dropped": "[/]"}

WORDS = {
    "ready": "can be done now",
    "look again": "LOOK AGAIN",
    "waiting": "waits",
    "done": "done",
    "dropped": "dropped",
}

LEGEND = "[ ] can be done now  [-] waits  [x] done  [!] look again  [/] dropped"

FIRST = "Local codes and licensed practice come first."

_FEW = 3  # waits that are named in the list


def how_far(opened: OpenProject, listed: Work) -> str:
    """How far the work is, in one sentence of counts; what was recorded out of range stays marked until it is not."""
    again = [one for one in listed.items.values() if comes_again(one)]
    once = [one for one in listed.items.values() if not comes_again(one)]
    outside = sum(is_outside(opened, one) for one in listed.items.values())
    states = [one.state for one in once]
    told = [f"{states.count('done')} of {len(states) - states.count('dropped')} done"]
    told += [f"{states.count('look again')} to look at again"] if "look again" in states else []
    told += [f"{states.count('ready')} can be done now", f"{states.count('waiting')} wait"]
    if again:
        late = sum(one.due is not None and one.due.answer == "overdue" for one in again)
        coming = count(len(again), "inspection that comes", "inspections that come")
        told += [f"{coming} again" + (f", {late} OVERDUE" if late else "")]
    told += [f"{count(outside, 'value')} out of range"] if outside else []
    told += [f"{states.count('dropped')} dropped"] if "dropped" in states else []
    told += [f"{len(listed.kept)} kept"] if listed.kept else []
    return ", ".join(told)


def how_long(opened: OpenProject, listed: Work) -> Iterator[str]:
    """What work is left and when it ends, a sentence a line."""
    ahead, planned = listed.dates.ahead, listed.dates.planned
    hours = sum(one.hours or 0.0 for one in listed.items.values() if not one.closed and not comes_again(one))
    told = f"{hours:g} hours of work left"
    if listed.dates.undated:
        yield f"{told}; {listed.dates.undated}"
    elif ahead.alone is None:
        yield f"{told}; that ends too far out for a date"
    else:
        week = opened.project.plan.hours_a_week
        told += f", at {week:g} hours a week done {ahead.alone} by one person"
        told += f", {ahead.finish} by several" if ahead.finish != ahead.alone else ""
        yield told
        if ahead.finish and planned.finish and ahead.finish > planned.finish:
            late = (ahead.finish - planned.finish).days
            yield f"{count(late, 'day')} later than planned ({planned.finish})"
    if listed.dates.untimed:
        yield f"{count(len(listed.dates.untimed), 'task')} of your own without hours, counted as zero"


def stands(one: Item) -> Iterator[str]:
    """How a task stands, and what it waits on."""
    on = f" {one.record.on}" if one.record is not None and one.record.on and one.closed else ""
    yield f"{WORDS[one.state]}{on}"
    if one.due is not None and one.due.says not in one.why:
        yield one.due.says
    if one.closed:
        return
    if one.waits:
        more = f" and {len(one.waits) - _FEW} more" if len(one.waits) > _FEW else ""
        yield f"after {', '.join(one.waits[:_FEW])}{more}"
    if one.holds:
        yield f"held by {one.holds[0]}"
    if one.stops:
        yield f"{count(len(one.stops), 'stop')} against it"
    if one.once:
        yield f"{len(one.once)} measured only once"
    if one.undecided:
        yield f"{count(len(one.undecided), 'decision')} to look at again first"
    yield from (f"needs {need.id} ({need.part.state})" for need in one.lacks)


def recorded(opened: OpenProject, one: Item) -> Iterator[str]:
    """What is on record of a task, and how its value stands now."""
    record = one.record
    if record is None:
        return
    if record.recorded:
        label = f"{one.task.records.label}: " if one.task and one.task.records else "recorded: "
        standing = recorded_stands(opened, one)
        marks = {"outside": "OUTSIDE the range", "too close to call": "too close to call"}
        marks |= {"not known": "the range isn't known", "not readable": "this isn't a value like that"}
        yield f"{label}{clean(record.recorded)}" + (f" ({marks[standing]})" if standing in marks else "")
    if record.because:
        yield f"because: {clean(record.because)}"
    if record.odometer is not None:
        yield f"odometer: {clean(record.odometer.text)}"
    yield from (f"the time before: {clean(earlier_words(opened, one))}" for one in reversed(record.earlier))


def to_write(opened: OpenProject, one: Item) -> Iterator[tuple[str, str]]:
    """The torque to tighten to, and the value to write down with its range, each behind its name."""
    tight = torque(opened, one)
    if tight:
        yield "torque", tight
    if one.task is not None and one.task.records is not None:
        wanted = range_text(opened, one.task.records, one.axle)
        yield "write down", one.task.records.label + (f" ({wanted})" if wanted else "")


def short_torque(opened: OpenProject, one: Item) -> str:
    """The torque of a task for a narrow column: the person's own, or else the worksheet's."""
    own = one.record.torque if one.record is not None else None
    if own is not None:
        return clean(own.text)
    node = one.task.torque if one.task is not None else ""
    values = [opened.sheet.value(spot) for spot in spots_of(opened, node, one.axle)] if node else []
    told = dict.fromkeys(UNKNOWN if one is None else show(one, TORQUE, opened.style, beside=False) for one in values)
    return " or ".join(told) or (UNKNOWN if node else "")


def torque(opened: OpenProject, one: Item) -> str:
    """The torque of a task: the person's own for it before what the worksheet has, and both where they differ."""
    node = one.task.torque if one.task is not None else ""
    spots = spots_of(opened, node, one.axle) if node else []
    told = dict.fromkeys(shown(opened, spot) for spot in spots)
    own = one.record.torque if one.record is not None else None
    if own is None:
        return " or ".join(told) or (UNKNOWN if node else "")
    differ = [text for text in told if text not in (UNKNOWN, show(own, TORQUE, opened.style))]
    told_own = clean(own.text)
    return f"{told_own}, as you set it for this task; the worksheet has {' or '.join(differ)}" if differ else told_own


def first_sentence(text: str) -> str:
    return text.partition(". ")[0].rstrip(".") + "."


def about(opened: OpenProject, listed: Work, one: Item) -> list[tuple[str, str]]:
    """Everything about one task but its how and its caution, as pairs of a name and what there is."""
    rows = [("id", one.id), ("phase", one.phase or "none"), ("stands", WORDS[one.state])]
    rows += [("", "hold point: don't start anything after it until it's signed")] if one.hold else []
    rows += [("look again", one.why)] if one.why else []
    rows += [("due", one.due.says)] if one.due is not None and one.due.says not in one.why else []
    rows += [("waits on", ", ".join(one.waits))] if one.waits else []
    rows += [("held by", ", ".join(one.holds))] if one.holds else []
    rows += [("is against it", stops_in_words(one.stops))] if one.stops else []
    rows += [("only once", f"{each.called} ({each.key})") for each in one.once]
    rows += [("decide again", question) for question in one.undecided]
    rows += [("not known", not_known_words(one.not_known))] if one.not_known else []
    rows += [("part", f"{need.id}: {need.part.state}") for need in one.parts]
    rows += [("takes", f"{one.hours:g} h")] if one.hours is not None else []
    rows += to_write(opened, one)
    rows += [("when", when(listed, one))] if not one.closed and one.id in listed.dates.ahead.times else []
    rows += [("flag", f"{one.flag.rule.name}: {one.flag.says}")] if one.flag else []
    record = one.record
    if record is not None:
        rows += [("done" if one.state != "dropped" else "dropped", str(record.on))] if record.on else []
        rows += [("on record", words) for words in recorded(opened, one)]
        rows += [("by", record.by)] if record.by else []
        rows += [("note", record.note)] if record.note else []
        rows += [("photo", photo) for photo in record.photos]
        rows += [("rested on", " = ".join(one)) for one in rested_words(opened, opened.rested_on(record))]
    return [(name, clean(told)) for name, told in rows]


def when(listed: Work, one: Item) -> str:
    """When a task can be done, and by how much it can be late."""
    times: Times | None = listed.dates.ahead.times.get(one.id)
    if times is None:
        return "not known"
    slack = "on the critical path" if times.critical else f"{times.slack:.3g} working hours of slack"
    if listed.dates.undated or times.starts is None:
        return slack
    return f"{times.starts} to {times.ends} at the earliest, start it by {times.starts_by} at the latest; {slack}"
