"""The task list, one task, and the parts, as plain pages."""

from collections.abc import Iterable, Iterator

from planner.commands.page import columns, ink, paragraph
from planner.plan.money import Money, Row, amount
from planner.plan.opening import OpenProject
from planner.plan.ranges import range_text, spots_of
from planner.plan.recording import recorded_stands
from planner.plan.schedule import Times
from planner.plan.wording import count, shown
from planner.plan.work import Item, Kept, Work, next_up
from planner.quantities.text import clean
from planner.tasks.kind import PHASES

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
_FEW = 3  # waits that are named in the list; `show` names all


def head(opened: OpenProject, listed: Work) -> list[str]:
    """What the truck is, how far the work is, and when it ends."""
    items = listed.items.values()
    states = [one.state for one in items]
    told = [f"{states.count('done')} of {len(states) - states.count('dropped')} done"]
    told += [f"{states.count('look again')} to look at again"] if "look again" in states else []
    told += [f"{states.count('ready')} can be done now", f"{states.count('waiting')} wait"]
    told += [f"{states.count('dropped')} dropped"] if "dropped" in states else []
    told += [f"{len(listed.kept)} kept"] if listed.kept else []
    lines = [ink(clean(opened.project.vehicle.name or "A truck without a name"), "strong")]
    return [*lines, *paragraph(", ".join(told), 2), *_dates(opened, listed), ""]


def _dates(opened: OpenProject, listed: Work) -> list[str]:
    ahead, planned = listed.when.ahead, listed.when.planned
    hours = sum(one.hours or 0.0 for one in listed.items.values() if not one.closed)
    told = f"{hours:g} hours of work are left"
    if listed.when.undated:
        lines = paragraph(f"{told}; {listed.when.undated}", 2)
    elif ahead.alone is None:
        lines = paragraph(f"{told}; that ends too far off for a date", 2)
    else:
        week = opened.project.plan.hours_a_week
        told += f", at {week:g} hours a week done {ahead.alone} by one pair of hands"
        told += f", {ahead.finish} by several" if ahead.finish != ahead.alone else ""
        lines = paragraph(told, 2)
        if ahead.finish and planned.finish and ahead.finish > planned.finish:
            late = (ahead.finish - planned.finish).days
            lines += paragraph(f"{count(late, 'day')} later than planned ({planned.finish})", 2)
    if listed.when.untimed:
        lines += paragraph(f"{count(len(listed.when.untimed), 'task')} of your own without a time, counted as none", 2)
    return lines


def listing(opened: OpenProject, listed: Work, items: Iterable[Item], *, kept: bool = False) -> list[str]:
    """The tasks by phase."""
    lines: list[str] = []
    by_phase: dict[str, list[Item]] = {}
    for one in items:
        by_phase.setdefault(one.phase, []).append(one)
    for phase in (*PHASES, ""):
        if phase in by_phase:
            lines += [ink(phase.upper() or "YOUR OWN, IN NO PHASE", "strong")]
            for one in by_phase[phase]:
                lines += _entry(opened, listed, one)
            lines.append("")
    if kept and listed.kept:
        lines += [ink("KEPT", "strong"), *(line for one in listed.kept for line in _kept(one)), ""]
    return lines


def _entry(opened: OpenProject, listed: Work, one: Item) -> list[str]:
    lines = paragraph(one.title, 0, f"{BOXES[one.state]} ")
    if one.state == "look again":
        lines[0] = ink(lines[0], "caution")
    told = [one.id, *(["HOLD POINT"] if one.hold else []), *_state(one)]
    if one.hours is not None and not one.closed:
        told.append(f"{one.hours:g} h")
    lines += [ink(line, "faint") for line in paragraph("; ".join(map(clean, told)), 4)]
    if one.state == "done" or (one.record and one.record.recorded):
        lines += [line for words in _recorded(opened, one) for line in paragraph(words, 4)]
    if one.closed:
        return lines
    if one.why:
        lines += paragraph(f"look again: {one.why}", 4)
    lines += [line for words in _to_write(opened, one) for line in paragraph(words, 4)]
    if one.caution:
        lines += paragraph(_first_sentence(one.caution), 4, "CAUTION: ")
    return lines


def _state(one: Item) -> Iterator[str]:
    on = f" {one.record.on}" if one.record is not None and one.record.on and one.closed else ""
    yield f"{WORDS[one.state]}{on}"
    if one.closed:
        return
    if one.waits:
        more = f" and {len(one.waits) - _FEW} more" if len(one.waits) > _FEW else ""
        yield f"after {', '.join(one.waits[:_FEW])}{more}"
    if one.holds:
        yield f"held by {one.holds[0]}"
    yield from (f"needs {need.id} ({need.part.state})" for need in one.lacks)


def _recorded(opened: OpenProject, one: Item) -> Iterator[str]:
    record = one.record
    if record is None:
        return
    if record.recorded:
        label = f"{one.task.records.label}: " if one.task and one.task.records else "recorded: "
        standing = recorded_stands(opened, one)
        marks = {"outside": "OUTSIDE of what is acceptable", "too close to call": "too close to call"}
        marks |= {"not known": "what is acceptable is not known", "not readable": "this is no such value"}
        yield f"{label}{clean(record.recorded)}" + (f" ({marks[standing]})" if standing in marks else "")
    if record.because:
        yield f"because: {clean(record.because)}"


def _to_write(opened: OpenProject, one: Item) -> Iterator[str]:
    task = one.task
    if task is not None and task.torque:
        yield f"torque: {torque(opened, task.torque, one.axle)}"
    elif one.record is not None and one.record.torque is not None:
        yield f"torque: {clean(one.record.torque.text)}"
    if task is not None and task.records is not None:
        wanted = range_text(opened, task.records, one.axle)
        yield f"write down: {task.records.label}" + (f" ({wanted})" if wanted else "")


def torque(opened: OpenProject, node: str, axle: str) -> str:
    """The torque at a node, as a person reads it."""
    told = dict.fromkeys(shown(opened, spot) for spot in spots_of(opened, node, axle))
    return " or ".join(told) or "not known"


def _first_sentence(text: str) -> str:
    return text.partition(". ")[0].rstrip(".") + "."


def _kept(one: Kept) -> list[str]:
    said = f"{one.id}: {one.record.state}"
    said += f" {one.record.on}" if one.record.on else ""
    said += f", recorded {one.record.recorded}" if one.record.recorded else ""
    said += f", note: {one.record.note}" if one.record.note else ""
    return paragraph(f"{clean(said)} ({one.why})", 4)


def whole(opened: OpenProject, listed: Work, one: Item) -> list[str]:
    """Everything about one task."""
    lines = [ink(line, "strong") for line in paragraph(one.title, 0, f"{BOXES[one.state]} ")]
    rows = [("id", one.id), ("phase", one.phase or "none"), ("stands", WORDS[one.state])]
    rows += [("", "hold point: nothing behind it goes on before it is signed")] if one.hold else []
    rows += [("look again", one.why)] if one.why else []
    rows += [("waits on", ", ".join(one.waits))] if one.waits else []
    rows += [("held by", ", ".join(one.holds))] if one.holds else []
    rows += [("part", f"{need.id}: {need.part.state}") for need in one.parts]
    rows += [("takes", f"{one.hours:g} h")] if one.hours is not None else []
    rows += [tuple(words.split(": ", 1)) for words in _to_write(opened, one)]  # type: ignore[misc]
    rows += [("when", _when(listed.when.ahead.times.get(one.id), bool(listed.when.undated)))] if not one.closed else []
    rows += [("flag", f"{one.flag.rule.name}: {one.flag.says}")] if one.flag else []
    record = one.record
    if record is not None:
        rows += [("done" if one.state != "dropped" else "dropped", str(record.on))] if record.on else []
        rows += [("on record", words) for words in _recorded(opened, one)]
        rows += [("note", record.note)] if record.note else []
        rows += [("rested on", f"{name} = {value}") for name, value in record.rested_on.items()]
    lines += ["", *columns((left, clean(right)) for left, right in rows), ""]
    if one.caution:
        lines += [*paragraph(one.caution, 2, "CAUTION: "), ""]
    return [*lines, *(paragraph(one.how, 2) if one.how else []), "", FIRST]


def _when(times: Times | None, undated: bool) -> str:
    if times is None:
        return "not known"
    slack = "on the critical path" if times.critical else f"{times.slack:.3g} working hours of slack"
    if undated or times.starts is None:
        return slack
    return f"{times.starts} to {times.ends} at the earliest, begun by {times.starts_by} at the latest; {slack}"


def next_page(opened: OpenProject, listed: Work) -> list[str]:
    """What can be done now, hold points first."""
    found = next_up(listed)
    if not found:
        return ["Nothing can be done now: see what each task waits on with planner task FILE."]
    return [line for one in found for line in (*_entry(opened, listed, one), "")] + [FIRST]


def parts_page(told: Money) -> list[str]:
    """Each part, what is promised and spent, and by when what is wanted must be ordered."""
    lines: list[str] = []
    for row in told.rows:
        lines += paragraph(row.title, 0)
        lines += [line for words in _row(row, told.currency) for line in paragraph(words, 4)]
    if not told.rows:
        lines.append("No parts are listed yet: enter them under [[parts]].")
    sums = [("wanted", amount(told.promised, told.currency)), ("spent", amount(told.spent, told.currency))]
    sums.append(("together", amount(told.total, told.currency)))
    if told.budget is not None:
        sums.append(("budget", amount(told.budget, told.currency)))
    if told.over is not None:
        over = told.over > 0
        sums.append(("OVER BY" if over else "left", amount(abs(told.over), told.currency)))
    lines += ["", *columns(sums)]
    if told.unpriced:
        lines += ["", *paragraph(f"without a price, in no sum: {', '.join(map(clean, told.unpriced))}")]
    return lines


def _row(row: Row, currency: str) -> Iterator[str]:
    sum_ = f"{row.quantity} × {amount(row.price, currency)} = {amount(row.total, currency)}"
    yield f"{clean(row.id)}; {row.state}; {sum_}" + ("" if row.counts else "; counts in no sum")
    if row.order_by is not None:
        weeks = f", {row.lead_days / 7:g} weeks to come" if row.lead_days else ", lead time not entered"
        yield f"order by {row.order_by}{weeks}" + (": THAT DATE HAS PASSED" if row.late else "")
