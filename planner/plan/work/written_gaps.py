"""Gaps of a mock-up as a tick records them: `spring pack, rear half, left, full cycle: 7/8 in; frame rail: 1 in`."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.project.mock_ups import obstacle_meant
from planner.project.models.measurements import FULL_CYCLE
from planner.project.sides import SIDES
from planner.quantities.grammar import read_value
from planner.quantities.kinds import ANGLE, DISTANCE, TEXT, Kind
from planner.quantities.text import clean, normal_name
from planner.quantities.unreadable import Unreadable

AS_WRITTEN = (
    "the obstacle's name, its side, what you moved it through, then the gap: spring pack, left, full cycle: 7/8 in"
)
_CYCLE = "full cycle"
_AMOUNTS: dict[str, tuple[str, Kind]] = {"turned ": ("turned", ANGLE), "came up ": ("came_up", DISTANCE)}


class NotAGap(ValueError):
    """What was written as a gap and cannot be read as one; the message says what is accepted."""


class WrittenGap(NamedTuple):
    """One gap: which obstacle it is at, and the reading's other entries as they go in the file."""

    label: str
    entries: dict[str, object]


def written_gaps(opened: OpenProject, axle: str, text: str, kind: Kind = TEXT) -> list[WrittenGap]:
    """The gaps in a text; none where it names no place. A distance alone is that at the brake. Raises `NotAGap`."""
    if kind is not TEXT:
        return [WrittenGap(f"axles.{axle}.brake", {"value": text})]
    return list(_gaps(opened, axle, text)) if ":" in text else []


def _gaps(opened: OpenProject, axle: str, text: str) -> Iterator[WrittenGap]:
    labels = list(opened.obstacles)
    for part in filter(None, map(str.strip, text.split(";"))):
        where, _, gap = part.rpartition(":")
        entries: dict[str, object] = {"value": _read(gap, DISTANCE)}
        name, words = where.strip(), list[str]()
        while (number := obstacle_meant(opened.project, name)) is None and "," in name:
            name, _, last = (piece.strip() for piece in name.rpartition(","))
            words.append(last)
        if number is None or opened.obstacles[labels[number]].measured.axle != axle:
            here = [label for label, one in opened.obstacles.items() if one.measured.axle == axle]
            told = "; ".join(map(clean, here)) or "there is none there yet"
            raise NotAGap(f"'{clean(where.strip())}' is no obstacle at the {axle} axle; there are: {told}")
        for word in reversed(words):
            _take(entries, normal_name(word))
        yield WrittenGap(labels[number], entries)


def _take(entries: dict[str, object], word: str) -> None:
    """One word behind an obstacle's name."""
    amount = next((begins for begins in _AMOUNTS if word.startswith(begins)), None)
    reached = entries.get("reached", [])
    assert isinstance(reached, list)
    if word in SIDES:
        entries["side"] = word
    elif word == _CYCLE:
        entries["reached"] = list(FULL_CYCLE)
    elif word in FULL_CYCLE:
        entries["reached"] = [*reached, word]
    elif amount is not None:
        entry, kind = _AMOUNTS[amount]
        entries[entry] = _read(word.removeprefix(amount), kind)
    else:
        accepted = ", ".join((*SIDES, _CYCLE, *FULL_CYCLE, "turned 31 deg, came up 4 in"))
        raise NotAGap(f"read '{clean(word)}' behind an obstacle's name; accepted: {accepted}")


def _read(text: str, kind: Kind) -> str:
    text = text.strip()
    try:
        read_value(text, kind)
    except Unreadable as wrong:
        raise NotAGap(f"read '{clean(wrong.read)}': it {wrong.problem}; accepted: {wrong.accepted}") from None
    return text
