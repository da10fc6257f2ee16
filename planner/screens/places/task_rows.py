"""How tasks look: a row in the list, a few lines below it, and all of it at its side."""

from collections.abc import Iterator

from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.task_list import Work
from planner.plan.work.task_values import is_outside, range_of
from planner.plan.work.task_words import BOXES, first_sentence, recorded, short_torque, stands, to_write, when
from planner.quantities.show import show
from planner.quantities.text import clean
from planner.screens.dialogs.pick_several import PickSeveral
from planner.screens.widgets.columns import ListRow, short, short_day

CAUTION, CRITICAL = "▲", "●"
LEGEND = f"[ ] now  [-] waits  [x] done  [!] again  [/] dropped  {CAUTION} caution  {CRITICAL} critical"
OUTSIDE = "!"  # beside a tick whose value is out of range
ROOM = 16  # cells for what is written down: its title wants the rest
TONES = {"look again": "warning", "done": "muted", "dropped": "muted", "ready": "success", "waiting": ""}


def task_row(opened: OpenProject, listed: Work, one: Item) -> ListRow:
    """Its box, whether it is a hold point and has a caution; what it wants written down or tightened; by when."""
    outside = is_outside(opened, one)
    sign = OUTSIDE if outside else CAUTION if one.caution and not one.closed else " "
    mark = f"{BOXES[one.state]}{sign}{'HOLD' if one.hold else ''}"
    tone = "accent" if one.hold and not one.closed and one.state != "look again" else TONES[one.state]
    wants = f"OUTSIDE {one.record.recorded}" if outside and one.record else _wants(opened, one)
    return ListRow(
        task_name(one), short(wants, ROOM), _by(listed, one) or " ", mark=mark, tone="warning" if outside else tone,
        about=one.id,
    )  # fmt: skip


def waits_dialog(listed: Work, title: str, one: Item | None = None) -> PickSeveral:
    """Asks what a task waits on; what it waits on by the standing sequence is not up for choice."""
    own = set(_own_waits(listed, one)) if one else set[str]()
    others = [
        (f"{each.phase} {each.id}", ListRow(task_name(each), about=each.id))
        for each in listed.items.values()
        if each.id in own or (not each.closed and (one is None or (each.id != one.id and each.id not in one.after)))
    ]
    question, nothing = f"What has to be done before it? {title}", f"it waits on nothing{' else' if one else ''}"
    return PickSeveral(question, others, nothing, "mock, brake lines, front", listed=True, picked=sorted(own))


def _own_waits(listed: Work, one: Item) -> Iterator[str]:
    """What the person said that it waits on; a task at both axles is one at each."""
    for name in one.record.after if one.record else ():
        yield from (id_ for id_ in (name, f"{name}.front", f"{name}.rear") if id_ in listed.items)


def task_name(one: Item) -> str:
    """Its title, at which axle first: the end may be cut."""
    return f"{one.axle}: {one.task.title}" if one.axle and one.task else one.title


def _wants(opened: OpenProject, one: Item) -> str:
    if one.closed:
        return one.record.recorded or "" if one.record else ""
    if one.due is not None and one.due.answer == "overdue":
        return "OVERDUE"
    if one.state == "look again":
        return "LOOK AGAIN"
    if tight := short_torque(opened, one):
        return tight
    record = one.task.records if one.task else None
    if record is None:
        return ""
    found = range_of(opened, record, one.axle)
    if found.missing:
        return "range not known"
    least, most = found.sure
    low = "" if least is None else show(least, record.kind.smallest(), opened.style, beside=False)
    high = "" if most is None else show(most, record.kind.greatest(), opened.style, beside=False)
    if low and high:
        return low if low == high else f"{low} to {high}"
    return f"≥ {low}" if low else f"≤ {high}" if high else "write down"


def _by(listed: Work, one: Item) -> str:
    """The last day to begin, with a mark on the critical path; without dates, the hours to spare."""
    if one.closed:
        return short_day(one.record.on) if one.record and one.record.on else one.state
    if one.due is not None:
        return f"by {short_day(one.due.day)}" if one.due.day is not None else ""
    times = listed.dates.ahead.times.get(one.id)
    if times is None:
        return ""
    if listed.dates.undated or times.starts_by is None:
        return CRITICAL if times.critical else f"{times.slack:.3g} h"
    return f"by {short_day(times.starts_by)}{f' {CRITICAL}' if times.critical else ''}"


def short_words(opened: OpenProject, one: Item) -> str:
    """What must not be missed, in a few lines: the danger first."""
    lines = [f"{one.title}{f'  ({one.hours:g} h)' if one.hours and not one.closed else ''}"]
    if not one.closed:
        lines += [f"CAUTION: {first_sentence(one.caution)}"] if one.caution else []
        lines += [f"look again: {one.why}"] if one.why else []
        lines += [f"{name}: {told}" for name, told in to_write(opened, one)]
    lines += recorded(opened, one)
    lines += ["; ".join([*(["HOLD POINT"] if one.hold else []), *stands(one)])]
    lines += [f"note: {one.record.note}"] if one.record and one.record.note else []
    return "\n".join(map(clean, lines))


def task_lines(opened: OpenProject, listed: Work, one: Item) -> list[str | tuple[str, str]]:
    """All that somebody wants beside the truck, the danger first."""
    lines: list[str | tuple[str, str]] = [f"{BOXES[one.state]} {one.title}", ""]
    if one.hold:
        lines += ["HOLD POINT: don't start anything after it until it's signed.", ""]
    if one.why:
        lines += [f"LOOK AGAIN: {one.why}", ""]
    if one.caution:
        lines += [f"CAUTION: {one.caution}", ""]
    if one.how:
        lines += [one.how, ""]
    lines += [*(f"{name}: {told}" for name, told in to_write(opened, one)), *recorded(opened, one)]
    lines += [f"note: {one.record.note}"] if one.record and one.record.note else []
    lines += [f"photo: {photo}" for photo in (one.record.photos if one.record else ())]
    lines += ["; ".join(stands(one))]
    if not one.closed:
        lines += [when(listed, one)]
    return lines
