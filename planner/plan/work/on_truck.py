"""What is on the truck now, end by end, by what was ticked, fitted and written down; nothing that is only planned."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from planner.plan.truck.change_words import title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, shown
from planner.plan.work.item import Item
from planner.plan.work.task_values import range_text
from planner.plan.work.task_words import short_torque
from planner.project.lines import Key
from planner.project.models.work import Task
from planner.quantities.text import clean, normal_name, same_name

ENDS = ("front", "rear")
FOUND = "found"
DONE = ("done", "look again")  # a task to be looked at again was done
TORQUED = ("fit.wheels", "again.torque_50", "again.torque_500", "use.nuts")
AIRED, CARD = "adjust.pressures", "adjust.pressure_card"
NOT_WRITTEN = "not written down"


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
    planned = opened.planned[0] if len(opened.planned) == 1 else ""
    by = _ticked(opened, "fit.spare" if end == "spare" else f"fit.wheels.{end}")
    by = by or _piece(opened, end) or ("" if end == "spare" else _bought(opened, planned))
    if not by:
        return Fitted(FOUND, "as found: no record says otherwise")
    if not planned:
        return Fitted("", f"{by}; which ones nobody can say, since no candidate is chosen")
    return Fitted(planned, "as found" if planned == FOUND else f"'{clean(planned)}': {by}")


def record_of(opened: OpenProject, id_: str) -> Task | None:
    """The record of a task that was done."""
    return next((one for one in opened.project.tasks if normal_name(one.id or "") == id_ and one.state in DONE), None)


def _ticked(opened: OpenProject, id_: str) -> str:
    record = record_of(opened, id_)
    return "" if record is None else f"put on{f' {record.on}' if record.on else ''}"


def _piece(opened: OpenProject, end: str) -> str:
    on = [one for one in opened.project.wheels if one.state == "fitted" and (one.position or "").startswith(end)]
    return "wheels entered as fitted" if on else ""


def _bought(opened: OpenProject, planned: str) -> str:
    wheels = [one for one in opened.project.parts if one.state == "fitted" and "wheels" in (one.kind or "")]
    on = [one for one in wheels if any(same_name(name, planned) for name in one.used_for)]
    return "the wheels are entered as fitted" if on else ""


def on_each_end(opened: OpenProject, items: Mapping[str, Item]) -> Iterator[EndNow]:
    """Tires, wheels, pressures, torques, gear sets and steering stops as they are on the truck now."""
    on = fitted(opened)
    yield EndNow("set", *(on[end].by for end in ENDS))
    yield EndNow("tires", *(_tires(opened, on[end].fitment, end) for end in ENDS))
    yield EndNow("wheels", *(_wheels(opened, on[end].fitment, end) for end in ENDS))
    for what, id_ in (("cold pressure", AIRED), ("cold pressure, loaded", CARD)):
        yield EndNow(what, *(_pressure(opened, items, id_, end, on[end]) for end in ENDS))
    yield EndNow("lug nut torque", *(_torque(opened, items, end, on[end]) for end in ENDS))
    yield EndNow("gear set", *(_gears(opened, end, on[end].fitment) for end in ENDS))
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
    meant = short_torque(opened, item) if item is not None and on.new else ""
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
    if item is None or wants is None or not on.new:
        return NOT_WRITTEN
    text = range_text(opened, wants, item.axle)
    return f"{NOT_WRITTEN}; to be {text}" if text and not text.startswith("not known") else NOT_WRITTEN


def _gears(opened: OpenProject, end: str, fitment: str) -> str:
    planned = opened.planned[0] if len(opened.planned) == 1 else ""
    set_up = record_of(opened, f"fit.gears.{end}")
    now = _value(opened, "axle_ratio", planned if set_up is not None and planned else FOUND, end)
    then = _value(opened, "axle_ratio", FOUND, end)
    wanted = _value(opened, "axle_ratio", planned, end)
    told = now or "not entered"
    if set_up is not None and now != then:
        return f"{told}, set up{f' {set_up.on}' if set_up.on else ''}"
    return f"{told}, as found" + (f"; {wanted} is planned" if wanted and wanted != told else "")


def _stops(opened: OpenProject, end: str) -> str:
    planned = opened.planned[0]
    if not opened.steers(end, planned):
        return "doesn't steer"
    key: Key = ("axles", end, "steering", "stop_angle")
    truck = opened.trucks.get(planned)
    entry = truck.set_over.get(key) if truck is not None else None
    done = entry is not None and opened.project.changes[entry.number].state == "done"
    now = _value(opened, "stop_angle", planned if done or entry is None else FOUND, end)
    set_last = record_of(opened, f"adjust.stops.{end}")
    told = [f"inner wheel {now}" if now else "not entered"]
    told += [f"set at {clean(set_last.recorded)} {set_last.on or ''}".strip()] if set_last and set_last.recorded else []
    if entry is not None and not done:
        told += [f"{_value(opened, 'stop_angle', planned, end)} is planned"]
    return "; ".join(told)
