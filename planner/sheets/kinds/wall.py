"""The wall sheet: a phase a page, in letters for the distance that it is read from, a line a task and no more."""

from collections.abc import Iterator

from planner.plan.answers.stage_words import all_to_mind
from planner.plan.truck.change_words import title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import UNKNOWN, count
from planner.plan.work.item import Item
from planner.plan.work.task_values import short_range
from planner.plan.work.task_words import short_torque
from planner.quantities.kinds import TEXT
from planner.quantities.show import default_unit
from planner.quantities.text import clean, cut
from planner.sheets.blocks import WallBox, WallPhase, WallPiece, WallTask
from planner.sheets.kind import Content, SheetKind, Subject, stops
from planner.sheets.reading_distance import read_distance
from planner.sheets.task_sheets import OTHERS, by_phase, phase_name, task_spots, together, wall_title, wanted_items
from planner.tasks.kind import PHASES, WORST

MOST_SAID = 60  # of what somebody wrote down; the rest is on the card
ENDS = {"front": "Fr", "rear": "Rr"}  # as in parts catalogs: R alone is the right side
ON_CARD = "the rest is on its card"

Line = tuple[WallPiece, ...]


def build(subject: Subject) -> Content:
    opened = subject.opened
    read_from = read_distance(subject.asked.distance, opened.style)
    items = wanted_items(subject)
    phases = tuple(
        WallPhase(
            phase_name(phase),
            f"{sum(one.closed for one in several)} of {len(several)} done",
            next((said for name, said in WORST.items() if name == phase), ""),
            tuple(_task(subject, same) for same in together(several)),
        )
        for phase, several in by_phase(items)
    )
    spots = tuple(dict.fromkeys(task_spots(opened, items)))
    return Content(phases, spots, reasons=stops(subject.flags, named=False), read_from=read_from)


def _task(subject: Subject, same: list[Item]) -> WallTask:
    opened, first = subject.opened, same[0]
    return WallTask(
        wall_title(first),
        tuple(box for one in same for box in _boxes(one)),
        (*_first_elsewhere(subject, same), *_lines(opened, same)),
        first.hold,
        _signed(first) if first.hold and first.closed else "",
    )


def _first_elsewhere(subject: Subject, same: list[Item]) -> Iterator[Line]:
    """What it waits on and stands on a later page, where nobody has looked yet who goes from the top."""
    items, later = subject.work.items, list[Item]()
    for one in same:
        found = (items[id_] for id_ in one.after if not one.closed)
        later += [each for each in found if not each.closed and _at(each) > _at(one)]
    told = list(dict.fromkeys(each.short or each.title for each in later))
    if told:
        more = f", and {len(told) - 1} more" if len(told) > 1 else ""
        yield (
            WallPiece(f"First, under {phase_name(later[0].phase or OTHERS)}: {cut(clean(told[0]), MOST_SAID)}{more}"),
        )


def _at(one: Item) -> int:
    return PHASES.index(one.phase) if one.phase in PHASES else len(PHASES)


def _boxes(one: Item) -> Iterator[WallBox]:
    end = ENDS.get(one.axle, "")
    for side in ("L", "R") if end and one.task is not None and one.task.each_wheel else ("",):
        yield WallBox(end, side, one.state, one.id)


def _signed(one: Item) -> str:
    record = one.record
    by = f" by {cut(clean(record.by), MOST_SAID)}" if record and record.by else ""
    return f"Signed{by}{f', {record.on}' if record and record.on else ''}"


def _lines(opened: OpenProject, same: list[Item]) -> Iterator[Line]:
    """What stands under a task; what is the same at both ends stands once."""
    first = same[0]
    if first.change is not None and first.step:
        yield (WallPiece(cut(clean(title_of(opened, first.change)), MOST_SAID)),)
    if first.stage is not None and not first.closed:
        yield from _watch_out(opened, first)
    if len({one.state == "look again" for one in same}) == 1 and first.state == "look again":
        yield (WallPiece("LOOK AGAIN", strong=True),)
    else:
        yield from (
            (WallPiece(f"{ENDS.get(one.axle, '')} LOOK AGAIN".strip(), strong=True),)
            for one in same
            if one.state == "look again"
        )
    left = [one for one in same if not one.closed]
    torques = list(dict.fromkeys(short_torque(opened, one) for one in left))
    if any(torques) and len(torques) == 1:
        yield (_torque(torques[0]),)
    elif any(torques):
        yield tuple(_torque(short_torque(opened, one), ENDS.get(one.axle, "")) for one in left)
    yield from _recorded(same)
    yield from _to_write(opened, left)


def _torque(said: str, end: str = "") -> WallPiece:
    known = said != UNKNOWN
    return WallPiece(f"{end} torque {said if known else 'not known yet'}".strip(), strong=known)


def _watch_out(opened: OpenProject, one: Item) -> Iterator[Line]:
    """A stage's hold point lists what to mind on the road: how much it is, and the worst of it."""
    assert one.stage is not None
    minded = all_to_mind(opened, one.stage)
    if minded:
        more = f"; {ON_CARD}" if len(minded) > 1 else ""
        told = f"Watch out for {count(len(minded), 'thing')}"
        yield (WallPiece(f"{told}, first: {cut(clean(minded[0]), MOST_SAID)}{more}.", strong=True),)


def _recorded(same: list[Item]) -> Iterator[Line]:
    several = len(same) > 1
    for one in same:
        record, wanted = one.record, one.task.records if one.task else None
        if one.state == "dropped":
            yield (WallPiece(f"{ENDS.get(one.axle, '') if several else ''} dropped".strip()),)
        elif wanted is not None and record is not None and record.recorded:
            end = f"{ENDS[one.axle]} " if several and one.axle else ""
            yield (WallPiece(f"{end}{wanted.short}: {cut(clean(record.recorded), MOST_SAID)}"),)


def _to_write(opened: OpenProject, same: list[Item]) -> Iterator[Line]:
    left = [one for one in same if one.task and one.task.records and not (one.record and one.record.recorded)]
    if not left or left[0].task is None or left[0].task.records is None:
        return
    record = left[0].task.records
    blank = "words" if record.kind is TEXT else "value"
    unit = default_unit(record.kind, opened.style)
    ranges = [short_range(opened, record, one.axle) or unit for one in left]
    if len(set(ranges)) > 1:
        for one, said in zip(left, ranges, strict=True):
            yield WallPiece(f"{record.short} {ENDS[one.axle]}", blank), WallPiece(said)  # type: ignore[arg-type]
        return
    ends = [ENDS.get(one.axle, "") if len(same) > 1 or one.axle else "" for one in left]
    pieces = [WallPiece(f"{record.short} {ends[0]}".strip(), blank)]  # type: ignore[arg-type]
    pieces += [WallPiece(end, blank) for end in ends[1:]]  # type: ignore[arg-type]
    yield (*pieces, *([WallPiece(ranges[0])] if ranges[0] else []))


KIND = SheetKind("wall", "Wall sheet", "a phase a page, in letters to read from where you work", build)
