"""The change slip: what is no longer as sheet number N has it, small enough to be pinned over it."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from planner.plan.answers.basis import shown_basis
from planner.plan.answers.basis_words import UNKNOWN_BASIS, BasisChange
from planner.plan.answers.open_project import work_out
from planner.plan.change.flag_changes import flag_changes
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.order_basis import work_changes
from planner.plan.work.record_changes import record_changes
from planner.plan.work.schedule_error import ScheduleError
from planner.plan.work.task_list import Work, work
from planner.plan.work.task_values import short_range, spots_shown
from planner.plan.work.task_words import torque
from planner.project.diary_entries import DiaryEntry
from planner.project.diary_reading import Diary, read_diary, text_at
from planner.project.faults import Faulty
from planner.project.models.work import PrintedSheet
from planner.project.reading import raise_faults, understand
from planner.project.source import parse
from planner.quantities.text import clean, grouped
from planner.sheets.blocks import Block, Heading, Paragraph, Rows
from planner.sheets.kind import PAGES, CannotPrint, Content, NothingMoved, SheetKind, Subject, kind_named, names, stops
from planner.sheets.task_sheets import wall_title
from planner.sheets.titles import both_ends

BY_HAND = f"Pinned by {'_' * 28} on {'_' * 14}"
_WITH_STEPS = ("checklist", "wall")


class Hanging(NamedTuple):
    """The sheet that hangs there: the project as it was made of it, its tasks, and on which page each of them stands.

    Of one printed as text, or by an older planner, no page is known.
    """

    then: OpenProject
    work: Work
    pages: Mapping[str, int]
    wall: bool = False

    def step(self, one: Item) -> "Step":
        """A task by the words that it has on the sheet."""
        title = f"{wall_title(one)}{f' ({one.axle})' if one.axle else ''}" if self.wall else clean(one.title)
        return Step(title, self.pages.get(one.id, 0))

    def has(self, one: Item) -> bool:
        """Whether a task stands on it, or would where it is new: a sheet may be of one phase alone."""
        if not self.pages or one.id in self.pages:
            return True
        phases = {self.work.items[id_].phase for id_ in self.pages if id_ in self.work.items}
        return one.id not in self.work.items and one.phase in phases


class Step(NamedTuple):
    """A task as the sheet names it, and its page there; 0 where that is not known."""

    title: str
    page: int


class MovedStep(NamedTuple):
    """A step of which the sheet shows another torque or range than is so now; the task as it was `then`."""

    step: Step
    then: Item
    was: str
    now: str


def build(subject: Subject) -> Content:
    opened = subject.opened
    sheet = _sheet(subject)
    hanging = _hanging(opened, sheet, subject.on)
    gone = record_changes(opened, sheet)
    if hanging is None and set(gone) <= {UNKNOWN_BASIS}:
        raise CannotPrint(
            f"the diary can't say how the project was when sheet {sheet.number} was printed, so nothing can be "
            "compared; print that sheet again"
        )
    kind = kind_named(sheet.kind) if sheet.kind in names() else None
    named = f"{kind.title.lower()}, " if kind else ""
    blocks: list[Block] = [Paragraph(f"Changes to {named}sheet {sheet.number} of {sheet.on}. Pin it over that sheet.")]
    steps = list(_values(opened, hanging, subject.work)) if hanging and sheet.kind in _WITH_STEPS else []
    if steps:
        blocks += [Heading("Steps that changed", 2), _step_table(steps)]
    numbers = _besides(opened, sheet, hanging.then, [one.then for one in steps]) if hanging and steps else gone
    if numbers:
        rows = tuple(_moved(opened, numbers))
        blocks += [Heading("Numbers that changed", 2), Rows(("what", "was", "is"), rows, (5, 3, 3))]
    if hanging is None:
        blocks.append(Paragraph("The diary can't say how the project was then, so tasks and flags aren't compared."))
    else:
        tasks = tuple(_gathered(_tasks(hanging, subject.work, {one.name for one in gone})))
        flags = tuple(_by_answer(_flags(hanging.then, opened)))
        blocks += [Heading("Tasks", 2), Rows(("", "task"), tasks, (2, 9))] if tasks else []
        blocks += [Heading("Flags", 2), Rows(("", "flag"), flags, (2, 9))] if flags else []
    if len(blocks) == 1:
        raise NothingMoved(f"nothing on sheet {sheet.number} has changed, so it needs no slip; no number was taken")
    blocks.append(Paragraph(BY_HAND))
    return Content(tuple(blocks), reasons=stops(subject.flags), slip=True)


def _sheet(subject: Subject) -> PrintedSheet:
    """The sheet that is asked for, or else the last one that is no slip."""
    sheets = [one for one in subject.opened.project.sheets if one.kind != "slip"]
    since = subject.asked.since
    if not sheets:
        raise CannotPrint("no sheet has been printed yet, so none has changed")
    if since is None:
        return sheets[-1]
    found = next((one for one in sheets if one.number == since), None)
    if found is None:
        there = ", ".join(str(one.number) for one in sheets)
        raise CannotPrint(f"there is no sheet number {since} that could have changed; printed so far: {there}")
    return found


def _hanging(opened: OpenProject, sheet: PrintedSheet, today: date) -> Hanging | None:
    """The sheet as it was printed, by the diary; None where that cannot be told."""
    path = opened.opened.source.path
    try:
        diary = read_diary(path)
        entry = _entry(diary, sheet)
        if entry is None:
            return None
        source = parse(path, text_at(diary, entry.number).encode("utf-8"))
        then = work_out(understand(source), sheet.on or today)
        raise_faults(then.opened)
        return Hanging(then, work(then), _pages(entry.details.get(PAGES)), sheet.kind == "wall")
    except (Faulty, ScheduleError, UnicodeEncodeError):
        return None


def _pages(kept: object) -> dict[str, int]:
    """As the diary has them, in which anybody may have written."""
    table = kept if isinstance(kept, Mapping) else {}
    return {str(id_): page for id_, page in table.items() if type(page) is int and page > 0}


def _entry(diary: Diary, sheet: PrintedSheet) -> DiaryEntry | None:
    """The diary's entry for this print; the last one, where a print was undone and made again."""
    found = [e for e in diary.entries if e.kind == "print" and e.details.get("sheet") == sheet.number]
    return found[-1] if found else None


def _values(now: OpenProject, hanging: Hanging, work_now: Work) -> Iterator[MovedStep]:
    """Each step of which the torque or the range is no longer as the sheet shows it."""
    for id_, one in work_now.items.items():
        before = hanging.work.items.get(id_)
        if before is None or one.state == "dropped" or not hanging.has(one):
            continue
        was, is_ = ((torque(of, item), _range(of, item)) for of, item in ((hanging.then, before), (now, one)))
        if was != is_:
            yield MovedStep(hanging.step(before), before, _told(was, is_), _told(is_, was))


def _told(shown: tuple[str, str], beside: tuple[str, str]) -> str:
    """Torque and range as far as they differ from those that stand beside."""
    told = [
        f"{what} {text}" if text else f"no {what}"
        for what, text, other in zip(("torque", "range"), shown, beside, strict=True)
        if text != other
    ]
    return ", ".join(told)


def _besides(opened: OpenProject, sheet: PrintedSheet, then: OpenProject, told: list[Item]) -> tuple[BasisChange, ...]:
    """What moved of the numbers on the sheet besides those behind the steps that are told."""
    behind = shown_basis(then, (spot for one in told for spot in spots_shown(then, one)))
    rested_on = opened.rested_on(sheet) or {}
    return work_changes(opened, {name: value for name, value in rested_on.items() if name not in behind})


def _range(opened: OpenProject, one: Item) -> str:
    wants = one.task.records if one.task is not None else None
    return short_range(opened, wants, one.axle) if wants is not None else ""


def _step_table(steps: Iterable[MovedStep]) -> Rows:
    """Page by page, those of one page of which the same is said in one row; without pages where none is known."""
    by_page = sorted(steps, key=lambda one: one.step.page)
    alike = grouped(((one.step.page, one.was, one.now), one.step.title) for one in by_page)
    rows = tuple(
        (str(page or ""), "; ".join(both_ends(titles)), was, now) for (page, was, now), titles in alike.items()
    )
    if not any(page for page, *_ in alike):
        return Rows(("step", "was", "is"), tuple(row[1:] for row in rows), (6, 4, 4))
    return Rows(("page", "step", "was", "is"), rows, (1.3, 6, 4, 4))


def _tasks(hanging: Hanging, now: Work, told: set[str]) -> Iterator[tuple[str, Step, str]]:
    """What became of each task on the sheet, and why; numbers that stand above are not told again."""
    then = hanging.work
    for id_, one in now.items.items():
        before, step = then.items.get(id_), hanging.step(one)
        if not hanging.has(one):
            continue
        if before is None:
            yield "added", step, one.phase
        elif one.state == "look again" and before.state != "look again":
            above = one.moved and {each.name for each in one.moved} <= told
            yield "look again", step, "" if above else clean(one.why)
        elif (one.state == "dropped") != (before.state == "dropped"):
            because = clean(one.record.because or "") if one.record else ""
            yield "dropped" if one.state == "dropped" else "back again", step, because
        elif one.state == "done" and before.state != "done":
            yield "done", step, str(one.record.on or "") if one.record else ""
        elif one.title != before.title or one.how != before.how:
            yield "reads differently", step, ""
    for id_, one in then.items.items():
        if id_ not in now.items and hanging.has(one):
            yield "dropped", hanging.step(one), "no longer in the list"


def _moved(opened: OpenProject, gone: Iterable[BasisChange]) -> Iterator[tuple[str, str, str]]:
    """Each number in one system of units; the same at both axles stands once."""
    for (name, then, now), places in grouped(((one.called, *one.briefly), one.at) for one in gone).items():
        yield f"{name} ({'; '.join(places)})" if any(places) else name, then, now


def _gathered(rows: Iterable[tuple[str, Step, str]]) -> Iterator[tuple[str, str]]:
    """Tasks of which the same is said in one row, with the pages on which they stand: a slip is small."""
    for (how, why), steps in grouped(((how, why), step) for how, step, why in rows).items():
        yield how, "; ".join(_with_pages(steps)) + (f": {why}" if why else "")


def _with_pages(steps: Iterable[Step]) -> Iterator[str]:
    """`page 3: Measure it (front and rear)`; those of one page together."""
    for page, titles in sorted(grouped((step.page, step.title) for step in steps).items()):
        yield (f"page {page}: " if page else "") + "; ".join(both_ends(titles))


def _flags(then: OpenProject, now: OpenProject) -> Iterator[tuple[str, str]]:
    for one in flag_changes(then, now):
        if one.rule.severity != "note" and one.how in ("up", "cleared", "answer"):
            answer = {"up": "up", "cleared": "cleared"}.get(one.how) or (one.now.verdict.answer if one.now else "")
            yield answer, f"{one.rule.severity}: {one.rule.notices}{f' ({one.where})' if one.where else ''}"


def _by_answer(rows: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    for answer, several in grouped(rows).items():
        yield answer, "; ".join(both_ends(several))


KIND = SheetKind("slip", "Change slip", "what has changed since a sheet was printed", build)
