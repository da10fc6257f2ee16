"""What records rested on: the diary's entry of the save has the values, the file its number and a digest."""

import json
import os
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from planner.project.amending import CannotAmend, amend
from planner.project.diary_entries import LARGEST_MOVED
from planner.project.diary_reading import diary_path, entry_numbered
from planner.project.lines import tokens
from planner.project.models.project import FORMAT
from planner.project.models.work import RestedOn
from planner.project.sections import cut
from planner.project.source import BYTE_ORDER_MARK, ProjectText, parse
from planner.project.versions import version_of

KEPT = "rested_on"  # the table in the file until a save, and what an entry's details call the values, by their digest
RECORDS = ("decisions", "acceptances", "tasks", "sheets", "parts", "readings")

_RESTS = re.compile(r"([0-9]{1,15}) ([0-9a-f]{6})")
_SHORT = 6  # digits of the digest: a slip of the pen shows, and two records of one save seldom have the same


def put_away(new: ProjectText, number: int) -> tuple[ProjectText, dict[str, object]]:
    """The text with what its records rested on taken out, and the details that keep it in the entry of that number.

    What an entry has no room for stays until another save, and what a person wrote comments into stays.
    """
    held = list(_holding(new.data)) if version_of(new.data) == FORMAT else []
    if not held:
        return new, {}
    commented = _commented(new.text)
    kept: dict[str, dict[str, str]] = {}
    changes: dict[tuple[str | int, ...], object] = {}
    length = 0
    for table, at, record in held:
        if (table, at) in commented:
            continue
        values = record[KEPT]
        length += len(json.dumps(values))
        if length > LARGEST_MOVED:
            break
        digest = _digest(values)
        if kept.setdefault(digest, values) == values:
            records = changes.setdefault((table,), [*new.data[table]])
            rest = {name: value for name, value in record.items() if name != KEPT}
            records[at] = rest | {"rests": f"{number} {digest}"}  # type: ignore[index]
    try:
        text = amend(new.text, changes)
    except CannotAmend:
        return new, {}
    return (parse(new.path, text.encode("utf-8")), {KEPT: kept}) if kept else (new, {})


def values_rested_on(project: Path, record: RestedOn) -> Mapping[str, str] | None:
    """Entries and figures with their values then; None where that is not known, as without the diary."""
    if KEPT in record.model_fields_set:
        return record.rested_on
    named = _RESTS.fullmatch(record.rests or "")
    if named is None:
        return None
    diary = diary_path(project)
    try:
        stands = os.stat(diary)
    except OSError:
        return None
    return _kept_in(project, int(named[1]), (str(diary), stands.st_mtime_ns, stands.st_size)).get(named[2])


@lru_cache(maxsize=2048)
def _kept_in(project: Path, number: int, _stands: tuple[str, int, int]) -> Mapping[str, Mapping[str, str]]:
    """What an entry keeps, by its digest; nothing that is not as it was written there."""
    entry = entry_numbered(project, number)
    kept = entry.details.get(KEPT) if entry is not None else None
    rows = kept.items() if isinstance(kept, dict) else ()
    return {digest: values for digest, values in rows if _are_texts(values) and _digest(values) == digest}


def _holding(data: Mapping[str, Any]) -> Iterator[tuple[str, int, dict[str, Any]]]:
    """The records in whose own table of the file it stands what they rested on."""
    for table in RECORDS:
        records = data.get(table)
        for at, record in enumerate(records if isinstance(records, list) else ()):
            if isinstance(record, dict) and _are_texts(record.get(KEPT)):
                yield table, at, record


def _commented(text: str) -> set[tuple[str | int, ...]]:
    """The records in whose own table under a heading stands a comment: what goes takes it along."""
    sections = cut(text.removeprefix(BYTE_ORDER_MARK).replace("\r\n", "\n"))
    tables = (section for section in sections if section.path[2:] == (KEPT,))
    return {one.path[:2] for one in tables if any(kind == "comment" for kind, *_ in tokens(one.heading + one.body))}


def _are_texts(values: object) -> bool:
    return isinstance(values, dict) and all(isinstance(text, str) for text in values.values())


def _digest(values: Mapping[str, str]) -> str:
    return sha256(json.dumps(values, sort_keys=True).encode("ascii")).hexdigest()[:_SHORT]
