"""The change slip: what is no longer as sheet number N has it, small enough to be pinned over it."""

import re
from collections.abc import Iterable, Iterator
from datetime import date

from planner.plan.answers.basis_words import BasisChange
from planner.plan.answers.open_project import work_out
from planner.plan.change.flag_changes import flag_changes
from planner.plan.truck.project import OpenProject
from planner.plan.work.item import Item
from planner.plan.work.record_changes import record_changes
from planner.plan.work.task_list import Work, work
from planner.project.diary_reading import Diary, read_diary, text_at
from planner.project.faults import Faulty
from planner.project.models.work import PrintedSheet
from planner.project.reading import raise_faults, understand
from planner.project.source import parse
from planner.quantities.text import clean
from planner.sheets.blocks import Block, Heading, Paragraph, Rows
from planner.sheets.kind import CannotPrint, Content, SheetKind, Subject, kind_named, names, stops

_END = re.compile(r"(.*) \((front|rear)\)", re.S)


def build(subject: Subject) -> Content:
    opened = subject.opened
    sheet = _sheet(subject)
    then = _then(opened, sheet, subject.on)
    kind = kind_named(sheet.kind) if sheet.kind in names() else None
    named = f"{kind.title.lower()}, " if kind else ""
    blocks: list[Block] = [Paragraph(f"Changes to {named}sheet {sheet.number} of {sheet.on}. Pin it over that sheet.")]
    gone = record_changes(opened, sheet)
    changes = list(_gathered(_tasks(work(then), subject.work, {one.name for one in gone}))) if then else []
    if gone:
        blocks += [Heading("Numbers that changed", 2), Rows(("what", "was", "is"), tuple(_moved(gone)), (5, 3, 3))]
    if changes:
        blocks += [Heading("Tasks", 2), Rows(("", "task"), tuple(changes), (2, 9))]
    flags = list(_by_answer(_flags(then, opened))) if then else []
    if flags:
        blocks += [Heading("Flags", 2), Rows(("", "flag"), tuple(flags), (2, 9))]
    if then is None:
        blocks.append(Paragraph("The diary can't say how the project was then, so tasks and flags aren't compared."))
    if not (gone or changes or flags):
        blocks.append(
            Paragraph(f"Nothing that sheet {sheet.number} rests on has changed." if then else "No number changed.")
        )
    raised = stops(subject.flags)
    return Content(tuple(blocks), (), "STOP RAISED" if raised else "", raised, slip=True)


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
        raise CannotPrint(f"there is no sheet number {since} that could have changed; printed are {there}")
    return found


def _then(opened: OpenProject, sheet: PrintedSheet, today: date) -> OpenProject | None:
    """The project as the sheet was printed from it, by its diary; None where that cannot be told."""
    path = opened.opened.source.path
    try:
        diary = read_diary(path)
        number = _entry(diary, sheet)
        if number is None:
            return None
        source = parse(path, text_at(diary, number).encode("utf-8"))
        then = work_out(understand(source), sheet.on or today)
        raise_faults(then.opened)
        return then
    except (Faulty, UnicodeEncodeError):
        return None


def _entry(diary: Diary, sheet: PrintedSheet) -> int | None:
    """The number of the diary's entry for this print; the last one, where a print was undone and made again."""
    numbers = [e.number for e in diary.entries if e.kind == "print" and e.details.get("sheet") == sheet.number]
    return numbers[-1] if numbers else None


def _tasks(then: Work, now: Work, told: set[str]) -> Iterator[tuple[str, str, str]]:
    """What became of each task, its title, and why; numbers that stand above are not told again."""
    for id_, one in now.items.items():
        before = then.items.get(id_)
        if before is None:
            yield "added", clean(one.title), one.phase
        elif one.state == "look again" and before.state != "look again":
            above = one.moved and {each.name for each in one.moved} <= told
            yield "look again", clean(one.title), "" if above else clean(one.why)
        elif (one.state == "dropped") != (before.state == "dropped"):
            yield "dropped" if one.state == "dropped" else "back again", clean(one.title), _because(one)
        elif one.state == "done" and before.state != "done":
            yield "done", clean(one.title), str(one.record.on or "") if one.record else ""
        elif one.title != before.title or one.how != before.how:
            yield "reads anew", clean(one.title), ""
    for id_, one in then.items.items():
        if id_ not in now.items:
            yield "dropped", clean(one.title), "no longer in the list"


def _moved(gone: Iterable[BasisChange]) -> Iterator[tuple[str, str, str]]:
    """Each number in one system of units; the same at both axles stands once."""
    alike: dict[tuple[str, str, str], list[str]] = {}
    for one in gone:
        alike.setdefault((one.called, *one.briefly), []).append(one.at)
    for (name, then, now), places in alike.items():
        yield f"{name} ({'; '.join(places)})" if any(places) else name, then, now


def _gathered(rows: Iterable[tuple[str, str, str]]) -> Iterator[tuple[str, str]]:
    """Tasks of which the same is said in one row: a slip is small."""
    alike: dict[tuple[str, str], list[str]] = {}
    for how, title, why in rows:
        alike.setdefault((how, why), []).append(title)
    for (how, why), titles in alike.items():
        yield how, "; ".join(_both_ends(titles)) + (f": {why}" if why else "")


def _both_ends(titles: Iterable[str]) -> Iterator[str]:
    """`Measure it (front and rear)`, where both stand in a list."""
    ends: dict[str, list[str]] = {}
    for title in titles:
        found = _END.fullmatch(title)
        ends.setdefault(found[1] if found else title, []).append(found[2] if found else "")
    for title, several in ends.items():
        yield f"{title} ({' and '.join(several)})" if any(several) else title


def _because(one: Item) -> str:
    return clean(one.record.because or "") if one.record else ""


def _flags(then: OpenProject, now: OpenProject) -> Iterator[tuple[str, str]]:
    for one in flag_changes(then, now):
        if one.rule.severity != "note" and one.how in ("up", "cleared", "answer"):
            answer = {"up": "up", "cleared": "cleared"}.get(one.how) or (one.now.verdict.answer if one.now else "")
            yield answer, f"{one.rule.severity}: {one.rule.notices}{f' ({one.where})' if one.where else ''}"


def _by_answer(rows: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    alike: dict[str, list[str]] = {}
    for answer, flag in rows:
        alike.setdefault(answer, []).append(flag)
    for answer, several in alike.items():
        yield answer, "; ".join(_both_ends(several))


KIND = SheetKind("slip", "Change slip", "what has changed since a sheet was printed", build)
