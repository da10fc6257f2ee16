"""The step cards: every task by phase with a box to tick, what to write down, cautions and hold points."""

from collections.abc import Iterable, Iterator

from planner.plan.answers.mock_up_words import predicted_words
from planner.plan.fit.brake_gaps import predicted_gap
from planner.plan.fit.mock_ups import band_words
from planner.plan.truck.project import OpenProject, PlannedObstacle
from planner.plan.work.item import Item
from planner.plan.work.task_values import range_text
from planner.plan.work.task_words import torque
from planner.project.sides import SIDES
from planner.quantities.kinds import DISTANCE, TEXT
from planner.quantities.show import show_plain
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Caution, Heading, Hold, Paragraph, Rows, TaskBlock, Tick
from planner.sheets.kind import Content, SheetKind, Subject, stops
from planner.sheets.task_sheets import by_phase, phase_name, task_spots, together, wanted_items
from planner.worksheet.outcome import Spot


def build(subject: Subject) -> Content:
    opened, asked = subject.opened, subject.asked
    items = wanted_items(subject)
    blocks: list[Block] = [
        Caution(
            "Stop at every heavy bar: don't start anything below it until the step in it is signed. If in doubt, "
            "ask somebody licensed for it."
        )
    ]
    for phase, several in by_phase(items):
        done = sum(one.closed for one in several)
        blocks.append(Heading(f"{phase_name(phase)}: {len(several)} task{'s' * (len(several) > 1)}, {done} done"))
        for same in together(several):
            blocks += [_block(opened, same), *(_gaps(opened, same) if asked.phase else ())]
    spots = dict.fromkeys(task_spots(opened, items))
    if asked.phase:
        spots |= dict.fromkeys(_gap_spots(opened, items))
    return Content(tuple(blocks), tuple(spots), reasons=stops(subject.flags))


def _block(opened: OpenProject, same: list[Item]) -> Block:
    first = same[0]
    title = first.task.title if len(same) > 1 and first.task else first.title
    step = TaskBlock(
        clean(title),
        tuple(_tick(opened, one, len(same) > 1) for one in same),
        first.caution,
        first.how,
        first.task.tools if first.task else "",
    )
    return Hold(step) if first.hold else step


def _gaps(opened: OpenProject, same: list[Item]) -> Iterator[Block]:
    """A blank for the gap at each obstacle, beside what the sweep says there: of the one candidate that is planned.

    They go on the sheet of the phase alone, which is written on: what hangs on the wall is read from afar.
    """
    task = same[0].task
    if task is None or task.records is None or not task.records.gaps or len(opened.planned) != 1:
        return
    if task.records.kind is not TEXT:
        rows = [_brake_gap(opened, one.axle) for one in same if not one.closed]
        yield from [Rows(("at", "predicted", "left", "right"), tuple(rows), (7, 4, 2, 2))] if rows else []
        return
    rows = [_gap(opened, label, one) for label, one in opened.obstacles.items() if _is_at(one, same)]
    if rows:
        yield Rows(("at the worst", "predicted", "wants", "left", "right"), tuple(rows), (7, 4, 2, 2, 2))
        yield Paragraph(_GONE_THROUGH)


_GONE_THROUGH = (
    "Moved through, all the way: [ ] bump stop  [ ] full droop  [ ] crossed both ways  [ ] lock to lock. The inner "
    "wheel turned ________; it came up ________. What you skipped isn't cleared."
)
_BLANK = "________"


def _brake_gap(opened: OpenProject, axle: str) -> tuple[str, ...]:
    predicted = predicted_gap(opened, opened.planned[0], axle)
    told = "not known" if predicted is None else band_words(opened.style, predicted)
    return f"{axle} brake, through a full turn", told, _BLANK, _BLANK


def _gap_spots(opened: OpenProject, items: Iterable[Item]) -> Iterator[Spot]:
    recorded = ((one, one.task.records) for one in items if one.task is not None and one.task.records is not None)
    gapped = [one for one, record in recorded if record.gaps and record.kind is TEXT]
    for label, one in opened.obstacles.items():
        if _is_at(one, gapped) and len(opened.planned) == 1:
            yield opened.spot("least_clearance", fitment=opened.planned[0], obstacle=label)


def _is_at(one: PlannedObstacle, same: list[Item]) -> bool:
    return any(one.measured.axle == item.axle and not item.closed for item in same)


def _gap(opened: OpenProject, label: str, one: PlannedObstacle) -> tuple[str, ...]:
    fitment, style = opened.planned[0], opened.style
    place = opened.swept.words(opened.spot("least_clearance", fitment=fitment, obstacle=label))
    wants = show_plain(one.required, DISTANCE, style) if one.required is not None else ""
    blanks = (_BLANK if one.measured.side in (side, "both") else "" for side in SIDES)
    return clean(place or label), predicted_words(opened, fitment, label), wants, *blanks


def _tick(opened: OpenProject, one: Item, several: bool) -> Tick:
    record, wanted = one.record, one.task.records if one.task else None
    done, next_ = "", one.due.says if one.due and one.due.says not in one.why else ""
    if one.state == "done":
        done = f"done{f' {record.on}' if record and record.on else ''}"
    elif one.state == "dropped":
        done = f"dropped: {clean(record.because or '') if record else ''}"
    return Tick(
        where=one.axle if several else "",
        state=one.state,
        torque=torque(opened, one),
        record=wanted.label if wanted else "",
        range=range_text(opened, wanted, one.axle) if wanted else "",
        recorded=clean(record.recorded) if record and record.recorded else "",
        done=done,
        why=clean(one.why),
        parts=", ".join(f"{clean(need.part.title or need.id)} ({need.part.state})" for need in one.lacks),
        note="; ".join(clean(text) for text in (record.note if record else "", next_) if text),
        words=wanted is not None and wanted.kind is TEXT,
        id=one.id,
    )


KIND = SheetKind("checklist", "Step cards", "for the bench: how each task is done, cautions, tools, values", build)
