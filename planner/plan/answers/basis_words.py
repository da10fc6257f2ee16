"""One thing that moved under a record, and how several of them are told: short, by name, what turned over first."""

from collections.abc import Iterable
from typing import NamedTuple

FEW = 4  # of all that moved under a record; the record itself has the rest


class BasisChange(NamedTuple):
    """One thing that a record rested on and that is no longer so, as a person reads it.

    `at` is the place of a figure, `own_units` are then and now without the other system of units. `turned` is set
    where a rule has another answer, and `key` where it is an entry, which is called by its name.
    """

    called: str
    then: str
    now: str
    at: str = ""
    own_units: tuple[str, str] = ("", "")
    turned: bool = False
    key: str = ""

    @property
    def name(self) -> str:
        """A figure with its place, or an entry."""
        return f"{self.called} ({self.at})" if self.at else self.called

    @property
    def briefly(self) -> tuple[str, str]:
        """Then and now for a narrow place: in one system of units, where they differ in it."""
        then, now = self.own_units
        return (self.then, self.now) if then == now else (then, now)

    @property
    def says(self) -> str:
        """What moved in one sentence."""
        return LOOK_ONCE if self == UNKNOWN_BASIS else f"{self.name} was {self.then}, now {self.now}"


LOOK_ONCE = "nobody knows what it rested on: look at it once"

UNKNOWN_BASIS = BasisChange("what it rested on", "", "not known")  # of a record without its diary, or written by hand


def changes_told(moved: Iterable[BasisChange]) -> list[str]:
    """What moved, a sentence each: entries and answers that turned over first, the same at both ends once, a few."""
    alike: dict[tuple[str, str, str], list[BasisChange]] = {}
    for one in sorted(moved, key=lambda one: bool(one.at) and not one.turned):
        alike.setdefault((one.called, one.then, one.now) if one.at else (one.name, one.then, one.now), []).append(one)
    told = [same[0]._replace(at=places_told([one.at for one in same])).says for same in alike.values()]
    return told[:FEW] + [f"and {len(told) - FEW} more"] * (len(told) > FEW)


def places_told(ends: list[str]) -> str:
    """`tall, front and rear`, where nothing but the end differs."""
    first, *others = [one.rpartition(", ") for one in ends]
    alike = all(one[0] == first[0] for one in others)
    return f"{first[0]}{first[1]}{' and '.join(one[2] for one in (first, *others))}" if alike else "; ".join(ends)


def changes_in_words(moved: Iterable[BasisChange]) -> str:
    """The same in one line."""
    return "; ".join(changes_told(moved))
