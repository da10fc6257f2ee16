"""What asking for a number can give: a known value with its spread, a wait for entries, or a failure."""

from collections.abc import Mapping
from math import inf
from typing import Any, NamedTuple

from planner.worksheet.declare import Finding, Impossible

Place = tuple[str, ...]  # one member an axis, in the axes' order; empty where the node does not vary over it


class Spot(NamedTuple):
    """One node at one place: what a value is filed under."""

    node: str
    place: Place

    def __str__(self) -> str:
        where = ", ".join(member for member in self.place if member)
        return f"{self.node} ({where})" if where else self.node


class Share(NamedTuple):
    """How much of a value's spread one entry brings: `half` its effect at its tolerance, `part` of the whole."""

    spot: Spot
    half: float
    part: float


class Known(NamedTuple):
    """A value; `low` and `high` are its worst case, `likely` its root-sum-square half-width, `shares` who brings them.

    For a result with several parts `parts` holds each numeric one as a `Known` of its own. Of one that is picked
    from a list `instead` holds what else might be picked within the tolerances.
    """

    value: Any
    low: float = -inf
    high: float = inf
    likely: float = 0.0
    shares: tuple[Share, ...] = ()
    parts: Mapping[str, "Known"] = {}
    instead: tuple[float, ...] = ()

    def part(self, name: str) -> "Known | None":
        """One part of a result that has several; None where that has no value."""
        value = getattr(self.value, name, None)
        return None if value is None else self.parts.get(name, Known(value))


class Waiting(NamedTuple):
    """No value: these entries are missing, the ones at the root of it; of `either` any one would do.

    `barred` are those of the missing that were entered and could not be read: nothing takes their place.
    """

    needs: tuple[Spot, ...]
    either: tuple[Spot, ...] = ()
    barred: tuple[Spot, ...] = ()


class Barred(NamedTuple):
    """Stands in place of an entry that was made at `spot` and is not known: no other way to the value is taken."""

    spot: Spot


class Absent(NamedTuple):
    """Stands in place of an entry made at a wider place, which does not hold at this one; there is none here."""


ABSENT = Absent()


class Failed(NamedTuple):
    """No value: what was entered is impossible together, and why; `cause` can be told in a person's words."""

    why: str
    key: str = ""
    spot: Spot | None = None
    cause: Impossible | None = None


Outcome = Known | Waiting | Failed


def number(value: Any) -> float | None:
    """The number in a value: a finding's margin, yes as 1 and no as 0; None for texts and results of several parts."""
    if isinstance(value, Finding):
        value = value.margin
    return float(value) if isinstance(value, (int, float)) else None
