"""What is on the truck now, end by end, by what was ticked, fitted and written down; nothing that is only planned."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from datetime import date
from typing import NamedTuple

from planner.plan.truck.change_words import title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, shown
from planner.plan.work.item import Item
from planner.plan.work.task_values import range_text
from planner.plan.work.task_words import short_torque
from planner.project.diary_entries import KeyChange
from planner.project.diary_reading import read_diary
from planner.project.faults import Faulty
from planner.project.lines import Key
from planner.project.models.work import Task
from planner.quantities.text import clean, normal_name, same_name

ENDS = ("front", "rear")
FOUND = "found"
DONE = ("done", "look again")  # a task to be looked at again was done
TORQUED = ("fit.wheels", "again.torque_50", "again.torque_500", "use.nuts")
AIRED, CARD = "adjust.pressures", "adjust.pressure_card"
NOT_WRITTEN = "not written down"
AS_FOUND = "as found: no record says otherwise"


class Fitted(NamedTuple):
    """Which fitment is on an end, empty where nobody can say, and how that is known."""

    fitment: str
    by: str

    @property
    def new(self) -> bool:
        return self.fitment != FOUND


class EndNow(NamedTuple):
    """One thing on the truck, front and rear."""

    what: str
    front: str
    rear: str


def fitted(opened: OpenProject) -> dict[str, Fitted]:
    """What is on each end, and which spare is carried."""
    return {end: _fitted(opened, end) for end in (*ENDS, "spare")}


def _fitted(opened: OpenProject, end: str) -> Fitted:
    record = record_of(opened, "fit.spare" if end == "spare" else f"fit.wheels.{end}")
    if record is not None:
        return _called(opened, planned_when(opened, record), f"put on{f' {record.on}' if record.on else ''}")
    if any(one.state == "fitted" and (one.position or "").startswith(end) for one in opened.project.wheels):
        return _called(opened, _planned(opened), "wheels entered as fitted")
    bought = "" if end == "spare" else _bought(opened)
    return _called(opened, bought, "the wheels are entered as fitted") if bought else Fitted(FOUND, AS_FOUND)


def _called(opened: OpenProject, fitment: str, by: str) -> Fitted:
    """What is on by such a record; nobody can say it where no candidate was chosen then, or it is gone since."""
    if fitment == FOUND:
        return Fitted(FOUND, "as found")
    if fitment in opened.project.fitments:
        return Fitted(fitment, f"'{clean(fitment)}': {by}")
    why = f"'{clean(fitment)}' is no longer in the project" if fitment else "no candidate was chosen"
    return Fitted("", f"{by}; which ones nobody can say: {why}")


def _planned(opened: OpenProject) -> str:
    return opened.planned[0] if len(opened.planned) == 1 else ""


def planned_when(opened: OpenProject, record: Task) -> str:
    """The fitment that was planned when a task was ticked, by the diary: what is planned since is not on for that.

    A tick knows its entry of the diary; of one written by hand its day is all that there is.
    """
    entry, _, _ = (record.rests or "").partition(" ")
    with suppress(Faulty):
        for one in read_diary(opened.opened.source.path).entries:
            later = one.number > int(entry) if entry.isdecimal() else record.on and one.at[:10] > record.on.isoformat()
            chosen = [_chosen(moved) for moved in one.moved if moved.key in (("plan",), ("plan", "chosen"))]
            if later and chosen:
                return chosen[0]
    return _planned(opened)


def _chosen(moved: KeyChange) -> str:
    was = moved.was.get("chosen") if isinstance(moved.was, dict) else moved.was
    return was if isinstance(was, str) else ""


def record_of(opened: OpenProject, id_: str) -> Task | None:
    """The record of a task that was done."""
    return next((one for one in opened.project.tasks if normal_name(one.id or "") == id_ and one.state in DONE), None)


def _bought(opened: OpenProject) -> str:
    """The one candidate whose wheels are entered as fitted among the parts."""
    on = [one for one in opened.project.parts if one.state == "fitted" and "wheels" in (one.kind or "")]
    named = {own for part in on for name in part.used_for for own in opened.candidates if same_name(name, own)}
    return named.pop() if len(named) == 1 else ""


def on_each_end(opened: OpenProject, items: Mapping[str, Item]) -> Iterator[EndNow]:
    """Tires, wheels, pressures, torques, gear sets and steering stops as they are on the truck now."""
    on = fitted(opened)
    yield EndNow("set", *(on[end].by for end in ENDS))
    yield EndNow("tires", *(_tires(opened, on[end].fitment, end) for end in ENDS))
    yield EndNow("wheels", *(_wheels(opened, on[end].fitment, end) for end in ENDS))
    for what, id_ in (("cold pressure", AIRED), ("cold pressure, loaded", CARD)):
        yield EndNow(what, *(_pressure(opened, items, id_, end, on[end]) for end in ENDS))
    yield EndNow("lug nut torque", *(_torque(opened, items, end, on[end]) for end in ENDS))
    yield EndNow("gear set", *(_gears(opened, end) for end in ENDS))
    yield EndNow("steering stops", *(_stops(opened, end) for end in ENDS))


def spare(opened: OpenProject) -> str:
    """The spare that is carried."""
    on = fitted(opened)["spare"]
    size = _value(opened, "spare_designation", on.fitment) if on.fitment else ""
    return ", ".join(filter(None, (size or "size not entered", on.by)))


def changes_done(opened: OpenProject) -> list[str]:
    """The changes to the truck that are done, each with its day and who did it."""
    told = []
    for number, one in enumerate(opened.project.changes):
        if one.state == "done":
            by = f"by {clean(one.done_by)}" if one.done_by else ""
            told.append(" ".join(filter(None, (title_of(opened, number), str(one.on or ""), by))))
    return told


def _value(opened: OpenProject, node: str, fitment: str, end: str = "") -> str:
    """An entry or a figure of a fitment as people read it; empty where there is none."""
    if not fitment or not opened.sheet.catalog.knows(node):
        return ""
    said = shown(opened, opened.spot(node, fitment=fitment, **({"axle": end} if end else {})))
    return "" if said == UNKNOWN else said


def _tires(opened: OpenProject, fitment: str, end: str) -> str:
    size = _value(opened, "designation", fitment, end)
    number = _value(opened, "tires", fitment, end)
    code = _value(opened, "date_code", fitment, end)
    made = f"made week {code[:2]} of 20{code[2:]}" if len(code) == 4 and code.isdigit() else code
    told = f"{f'{number} × ' if number and size else ''}{size}" or "size not entered"
    return ", ".join(filter(None, (told, made)))


def _wheels(opened: OpenProject, fitment: str, end: str) -> str:
    rim = [_value(opened, "rim_diameter_code", fitment, end), _own(opened, "rim_width", fitment, end)]
    size = " × ".join(filter(None, rim))
    back = _own(opened, "backspace", fitment, end)
    marks = [
        f"{clean(one.mark or 'no mark')} {clean(str(one.position)).removeprefix(end).strip()}"
        for one in opened.project.wheels
        if one.state == "fitted" and (one.position or "").startswith(end)
    ]
    pieces = {"one": "one-piece", "multi": "MULTI-PIECE"}.get(_value(opened, "rim_pieces", fitment, end), "")
    told = [size or "size not entered", pieces, f"backspace {back}" if back else "", ", ".join(marks)]
    return ", ".join(filter(None, told))


def _own(opened: OpenProject, node: str, fitment: str, end: str) -> str:
    """An entry as it was written, so that the page stays one; a figure as it is shown."""
    spot = opened.spot(node, fitment=fitment, axle=end) if fitment else None
    source = opened.sheet.entered(spot) if spot is not None else None
    if source is not None and source in opened.keys:
        return clean(opened.text_of(opened.key_of(source)))
    return _value(opened, node, fitment, end)


def _pressure(opened: OpenProject, items: Mapping[str, Item], id_: str, end: str, on: Fitted) -> str:
    return _written(opened, [f"{id_}.{end}"], on) or _meant(opened, items.get(f"{id_}.{end}"), on)


def _torque(opened: OpenProject, items: Mapping[str, Item], end: str, on: Fitted) -> str:
    told = _written(opened, [f"{id_}.{end}" for id_ in TORQUED], on)
    item = items.get(f"fit.wheels.{end}")
    meant = short_torque(opened, item) if item is not None and on.fitment in opened.planned else ""
    return told or (f"{NOT_WRITTEN}; to be {meant}" if meant not in ("", UNKNOWN) else NOT_WRITTEN)


def _written(opened: OpenProject, ids: Iterable[str], on: Fitted) -> str:
    """What was written down last, and when; of wheels that are on no more, nothing."""
    records = [one for one in map(lambda id_: record_of(opened, id_), ids) if one is not None and one.recorded]
    last = max(records, key=lambda one: one.on or date.min, default=None)
    if last is None or not on.new:
        return ""
    told = [clean(last.recorded or ""), str(last.on or ""), f"by {clean(last.by)}" if last.by else ""]
    return ", ".join(filter(None, told))


def _meant(opened: OpenProject, item: Item | None, on: Fitted) -> str:
    wants = item.task.records if item is not None and item.task is not None else None
    if item is None or wants is None or not on.new or on.fitment not in opened.planned:
        return NOT_WRITTEN
    text = range_text(opened, wants, item.axle)
    return f"{NOT_WRITTEN}; to be {text}" if text and not text.startswith("not known") else NOT_WRITTEN


def _gears(opened: OpenProject, end: str) -> str:
    """The gears that were set up by a tick, else those found; what is planned beside them."""
    set_up = record_of(opened, f"fit.gears.{end}")
    on = _called(opened, planned_when(opened, set_up), "") if set_up is not None else Fitted(FOUND, "")
    now, found = (_value(opened, "axle_ratio", one, end) for one in (on.fitment, FOUND))
    if set_up is not None and now != found:
        done = f"set up{f' {set_up.on}' if set_up.on else ''}"
        return f"{now}, {done}" if now else f"{done}{on.by}"
    wanted = _value(opened, "axle_ratio", _planned(opened), end)
    return f"{now or 'not entered'}, as found" + (f"; {wanted} is planned" if wanted and wanted != now else "")


def _stops(opened: OpenProject, end: str) -> str:
    """The stops as a change that is done has set them, whichever candidate it goes with, else as found."""
    if not opened.steers(end, opened.planned[0]):
        return "doesn't steer"
    key: Key = ("axles", end, "steering", "stop_angle")
    by_state = {
        opened.project.changes[truck.set_over[key].number].state: fitment
        for fitment, truck in opened.trucks.items()
        if key in truck.set_over
    }
    now = _value(opened, "stop_angle", by_state.get("done", FOUND), end)
    set_last = record_of(opened, f"adjust.stops.{end}")
    told = [f"inner wheel {now}" if now else "not entered"]
    told += [f"set at {clean(set_last.recorded)} {set_last.on or ''}".strip()] if set_last and set_last.recorded else []
    if "done" not in by_state and "decided" in by_state:
        told += [f"{_value(opened, 'stop_angle', by_state['decided'], end)} is planned"]
    return "; ".join(told)
