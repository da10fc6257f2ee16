"""A small truck, and what the tests of its diary do with it."""

from pathlib import Path
from typing import Any

from planner.project.amending import amend
from planner.project.diary import Committed, commit
from planner.project.diary_reading import Diary, diary_path, read_diary, text_at
from planner.project.source import ProjectText, digest_of, load

TRUCK = """\
# The old truck, begun in spring
format = 1

[vehicle] # the donor
wheelbase = "145 in ± 1/2 in" # by tape
bought = 2021-06-05

[[parts]]
id = "rim" # from the fair
"""


def change(truck: Path, value: str, **named: Any) -> Committed:
    source = load(truck)
    return commit(source, amend(source.text, {("vehicle", "wheelbase"): value}), kind="change", **named)


def by_hand(truck: Path, text: str) -> ProjectText:
    truck.write_bytes(text.encode())
    return load(truck)


def kinds(truck: Path) -> list[str]:
    return [entry.kind for entry in read_diary(truck).entries]


def sound(truck: Path) -> Diary:
    diary = read_diary(truck)
    assert diary.troubles == []
    assert (diary.torn, diary.unended, diary.following) == (0, False, len(diary.entries) + 1)
    assert diary.size == diary.path.stat().st_size
    assert diary.entries[-1].after == load(truck).digest
    for entry in diary.entries:
        assert digest_of(text_at(diary, entry.number).encode()) == entry.after
    return diary


def three(truck: Path) -> tuple[bytes, Diary]:
    """A diary of four entries, its bytes and how it reads."""
    for value in ("1 in", "2 in", "3 in"):
        change(truck, value)
    return diary_path(truck).read_bytes(), sound(truck)
