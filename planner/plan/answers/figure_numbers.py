"""The figures of a project as numbers, for other programs: each at each place, one of several parts part by part."""

from collections.abc import Iterator
from math import inf
from typing import Any, NamedTuple

from planner.plan.answers.figure_rows import figure_spots
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import shown, shown_value
from planner.project.facts import AXES
from planner.quantities.kinds import Kind
from planner.quantities.show import Style, default_unit, in_unit
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Spot

_LONG = {"time": "days"}  # of which the first unit is one that nobody reckons ages in


class FigureNumber(NamedTuple):
    """One figure at one place, or one part of it, in SI: `value` None where it is not known, the ends where endless."""

    figure: str
    part: str
    spot: Spot
    value: Any
    low: float | None
    high: float | None
    kind: Kind | None
    shown: str

    @property
    def place(self) -> dict[str, str]:
        """The members by their axes, of those over which the figure varies."""
        return {axis: member for axis, member in zip(AXES, self.spot.place, strict=True) if member}

    @property
    def unit(self) -> str:
        """The SI unit; empty where there is none."""
        return self.kind.si if self.kind is not None else ""

    @property
    def plain(self) -> dict[str, Any]:
        """As plain data, in SI."""
        part = {"part": self.part} if self.part else {}
        numbers = {"value": self.value, "low": self.low, "high": self.high, "unit": self.unit}
        return {"figure": self.figure, **part, "place": self.place, **numbers, "shown": self.shown}


def figure_numbers(opened: OpenProject) -> Iterator[FigureNumber]:
    """Every figure at every place where it is asked, in the order of the pages that people read."""
    for name, spots in figure_spots(opened):
        for spot in spots:
            yield from numbers_at(opened, name, spot)


def numbers_at(opened: OpenProject, name: str, spot: Spot) -> Iterator[FigureNumber]:
    """What stands at a spot: one number, or the parts of its result that have a value."""
    outcome, declared = opened.sheet.outcome(spot), opened.sheet.catalog.figures.get(spot.node)
    kind = opened.sheet.catalog.kind(spot.node)
    if not isinstance(outcome, Known):
        yield FigureNumber(name, "", spot, None, None, None, kind, shown(opened, spot))
    elif declared is None or not declared.parts or opened.sheet.entered(spot) is not None:
        yield _number(name, "", spot, outcome, kind, shown(opened, spot))
    else:
        for part, own in declared.parts.items():
            known = outcome.part(part)
            if known is not None:
                yield _number(name, part, spot, known, own, shown_value(opened, known, own))


def _number(name: str, part: str, spot: Spot, known: Known, kind: Kind | None, shown_: str) -> FigureNumber:
    value = plain_value(known.value)
    ends = (known.low, known.high) if isinstance(value, float) else (inf, inf)
    low, high = (None if abs(end) == inf else float(end) for end in ends)
    return FigureNumber(name, part, spot, value, low, high, kind, clean(shown_))


def people_unit(kind: Kind | None, style: Style) -> str:
    """The one unit of this kind that a person reckons in; empty where there is none."""
    if kind is None or kind.form != "quantity":
        return ""
    return _LONG.get(kind.name) or default_unit(kind, style) or kind.si


def in_people_unit(value: Any, kind: Kind | None, style: Style) -> Any:
    """A value in that unit; as it is where it is no number of one."""
    unit = people_unit(kind, style)
    return in_unit(value, kind, unit) if kind is not None and unit and isinstance(value, float) else value


def plain_value(value: Any) -> Any:
    """A value as JSON has it: a number, yes or no, a text, or a list of those; None where it is endless."""
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, (int, float)):
        return None if abs(value) == inf or value != value else value if isinstance(value, int) else float(value)
    if isinstance(value, tuple):
        return [plain_value(one) for one in value]
    return clean(str(value))
