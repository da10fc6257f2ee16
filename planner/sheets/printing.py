"""Printing a sheet: its number, its file put in place whole or not at all, its record in project and diary."""

import os
from collections.abc import Mapping
from contextlib import suppress
from datetime import UTC, date, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from planner.plan.answers.basis import shown_basis
from planner.plan.truck.project import OpenProject
from planner.project.checks import MOST
from planner.project.diary import commit
from planner.project.diary_reading import diary_path, read_diary
from planner.project.faults import Faulty, why, without_path
from planner.project.migrating import amend_or_rewrite
from planner.project.own_files import put_in_place
from planner.project.saving import clear_left, fresh_name, put_file, synced
from planner.quantities.show import Style
from planner.quantities.text import clean
from planner.sheets.blocks import Sheet
from planner.sheets.kind import NOT_FOR_ORDER, PAGES, Asked, CannotPrint, SheetKind, Subject
from planner.sheets.sheet_file import standing_sheet

EPOCH = "SOURCE_DATE_EPOCH"


def usual_paper(style: Style) -> Literal["a4", "letter"]:
    """The paper that is in the printer of who thinks in these units."""
    return "letter" if style.system == "inch" else "a4"


def moment() -> datetime | None:
    """The moment that SOURCE_DATE_EPOCH names, for builds that must come out the same; raises `CannotPrint`."""
    text = os.environ.get(EPOCH, "")
    if not text:
        return None
    try:
        return datetime.fromtimestamp(int(text), UTC)
    except (ValueError, OverflowError, OSError):
        raise CannotPrint(f"{EPOCH}: read '{clean(text[:40])}'; accepted: whole seconds since 1970") from None


def made(opened: OpenProject, kind: SheetKind, asked: Asked, on: date, number: int = 0) -> Sheet:
    """The sheet of this kind, with that number, or with none where it is only looked at; raises `CannotPrint`.

    While the project has faults it has none, and they stand on it first.
    """
    content = kind.build(Subject(opened, asked, on))
    source = opened.opened.source
    faults = tuple(
        clean(f"fault{f' in line {fault.line}' if fault.line else ''}: {without_path(fault)}")
        for fault in opened.opened.faults
    )
    return Sheet(
        kind=kind.name,
        title=kind.title,
        truck=clean(opened.project.vehicle.name or "A truck without a name"),
        number=0 if faults else number,
        on=on,
        blocks=content.blocks,
        banner=NOT_FOR_ORDER if faults else content.banner if content.reasons else "",
        reasons=(*faults, *map(clean, content.reasons)),
        rests=f"{clean(source.path.name)}, state {source.digest[:8]}",
        rested_on=shown_basis(opened, content.spots) | {key: opened.text_of(key) for key in content.keys},
        slip=content.slip,
        read_from=content.read_from,
        signs=content.signs,
    )


def next_number(opened: OpenProject) -> int:
    """One more than any sheet had, those included of which the record was undone: they may hang on a wall."""
    numbers = [one.number for one in opened.project.sheets]
    with suppress(Faulty):
        for entry in read_diary(opened.opened.source.path).entries:
            number = entry.details.get("sheet") if entry.kind == "print" else None
            numbers += [number] if isinstance(number, int) and not isinstance(number, bool) else []
    return max(numbers, default=0) + 1


def default_path(opened: OpenProject, kind: SheetKind, number: int, ending: str) -> Path:
    """Beside the project: `truck-3-checklist.pdf`, `truck-not-numbered-checklist.pdf` where there is no number."""
    project = opened.opened.source.path
    return project.with_name(f"{project.name.removesuffix('.toml')}-{number or 'not-numbered'}-{kind.name}{ending}")


def put(
    opened: OpenProject, sheet: Sheet, raw: bytes, path: Path, pages: Mapping[str, int] = MappingProxyType({})
) -> None:
    """The sheet's file, and its record in the project and the diary: all of it or none; of one without a number only
    the file. `pages` says on which page each task stands.

    The bytes are on the disk under another name before the project is touched, so that a full disk or a folder that is
    not ours stops it in time. Raises `CannotPrint` or `NotSaved`.
    """
    if len(opened.project.sheets) >= MOST["sheets"]:  # one more, and the file could not be read again
        held = f"the project holds {len(opened.project.sheets)} sheets, and that's the most it can"
        raise CannotPrint(f"{held}: take old [[sheets]] out of it; the diary keeps them, and the numbers go on")
    target, old = _target(opened, path)
    clear_left(target, age=60)  # no lock is held yet: a younger one may be another program's
    fresh = fresh_name(target)
    try:
        put_file(fresh, raw, old or _project_beside(opened, target))
    except OSError as error:
        raise CannotPrint(f"{clean(str(path))}: not printed: {why(error)}") from None
    try:
        if sheet.number:
            _recorded(opened, sheet, path, pages)
        try:
            put_in_place(fresh, target, old)
        except OSError as error:  # just after it was looked at and written beside: next to never
            entered = f"it's entered as sheet {sheet.number}, but " if sheet.number else ""
            said = f"{entered}its file could not be put in place: {why(error)}"
            raise CannotPrint(f"{clean(str(path))}: {said}; print it again") from None
    finally:
        with suppress(OSError):
            os.unlink(fresh)
    synced(target.parent)


def _target(opened: OpenProject, path: Path) -> tuple[Path, os.stat_result | None]:
    """Where the file goes, and the sheet that it replaces; never over the project, its diary, or what is no sheet."""
    try:
        target = Path(os.path.realpath(path.parent)) / path.name
        if not target.parent.is_dir():
            raise CannotPrint(f"{clean(str(path))}: not printed: there is no folder {clean(str(path.parent))}")
        project = Path(os.path.realpath(opened.opened.source.path))
        if target in (project, diary_path(project)):
            raise CannotPrint(f"{clean(str(path))}: not printed: that is the project's own file")
        return target, standing_sheet(target)
    except ValueError:  # a NUL in the name
        raise CannotPrint("that won't work as a file name") from None
    except OSError as error:
        raise CannotPrint(f"{clean(str(path))}: not printed: {why(error)}") from None


def _project_beside(opened: OpenProject, target: Path) -> os.stat_result | None:
    """The project, where the sheet goes beside it: whoever may read the one may read the other."""
    project = opened.opened.source.path
    return os.stat(project) if project.parent == target.parent else None


def _recorded(opened: OpenProject, sheet: Sheet, path: Path, pages: Mapping[str, int]) -> None:
    source = opened.opened.source
    record: dict[str, object] = {"number": sheet.number, "kind": sheet.kind, "on": sheet.on}
    if not sheet.slip:
        record["rested_on"] = sheet.rested_on
    changes: dict[tuple[str | int, ...], object] = {("sheets", len(opened.project.sheets)): record}
    text, keep_old = amend_or_rewrite(source.text, changes)
    details: dict[str, object] = {"sheet": sheet.number, "kind": sheet.kind, "file": clean(path.name)}
    if pages:
        details[PAGES] = dict(pages)
    commit(source, text, kind="print", details=details, keep_old=keep_old)
