"""Flags before and after a change: which come up, which are cleared, which change their answer or their margin."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Literal, NamedTuple

from planner.plan.answers.flagging import STANDING, Flag, each_flag, flag_of, of_plan
from planner.plan.change.figure_changes import distance
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import place_names
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Place

WhatBecame = Literal["up", "cleared", "answer", "margin"]

# A rule and its place, without the fitment where one alone is planned before and after; or the name of a record.
At = tuple[str, Place]


class FlagChange(NamedTuple):
    """What became of one rule's answer; `was` and `now` are None where the rule did not, or does not, apply.

    `beyond` is False for a margin that moved within its own tolerance.
    """

    how: WhatBecame
    was: Flag | None
    now: Flag | None
    where: str
    places: tuple[Place, ...]
    beyond: bool = True

    @property
    def rule(self) -> Rule:
        flag = self.now or self.was
        assert flag is not None
        return flag.rule

    @property
    def notice(self) -> str:
        """`rear: the barrel is too close to the brake`: what it notices, and where."""
        return f"{self.where}: {self.rule.notices}" if self.where else self.rule.notices


class SideFlags(NamedTuple):
    """A project with its flags, each at its one place, and those of the plan itself."""

    opened: OpenProject
    each: Sequence[Flag]
    of_plan: Sequence[Flag] = ()


def flag_changes(before: OpenProject, after: OpenProject) -> list[FlagChange]:
    """Every flag of the truck that is not as it was: what comes up first, the worst first."""
    return differing(SideFlags(before, each_flag(before)), SideFlags(after, each_flag(after)))


def differing(was: SideFlags, now: SideFlags) -> list[FlagChange]:
    """The same of flags that were worked out already."""
    before, after = was.opened, now.opened
    alone = len(before.planned) == len(after.planned) == 1  # else each candidate is held against itself
    old, new = _by_place(was, alone), _by_place(now, alone)
    moved = []
    for at in dict.fromkeys((*new, *old)):
        one = _moved(before, after, at, old.get(at), new.get(at))
        if one is not None:
            moved.append(one)
    return sorted(_gathered(moved), key=_worst_first)


def _by_place(side: SideFlags, alone: bool) -> dict[At, Flag]:
    left_out = side.opened.planned[0] if alone else ""
    found: dict[At, Flag] = {}
    for flag in side.each:
        fitment, *rest = flag.verdict.place
        found[flag.rule.name, ("" if fitment == left_out else fitment, *rest)] = flag
    return found | {(flag.rule.name, ("", flag.where)): flag for flag in side.of_plan}


def _moved(before: OpenProject, after: OpenProject, at: At, was: Flag | None, now: Flag | None) -> FlagChange | None:
    how, beyond = _how(was, now)
    if how is None:
        return None
    return FlagChange(how, _worded(before, was), _worded(after, now), "", (at[1],), beyond)


def _worded(opened: OpenProject, flag: Flag | None) -> Flag | None:
    return flag if flag is None or of_plan(flag.rule) else flag_of(opened, flag.verdict, True)


def _how(was: Flag | None, now: Flag | None) -> tuple[WhatBecame | None, bool]:
    stood, stands = was is not None and was.stands, now is not None and now.stands
    if stands and not stood:
        return "up", True
    answer, later = was.verdict.answer if was else None, now.verdict.answer if now else None
    if answer in STANDING and later in ("clear", None):
        return "cleared", True
    if answer != later:
        return ("answer", True) if {answer, later} != {"clear", None} else (None, False)
    if was is None or now is None:
        return None, False
    if stood != stands or bool(was.lapsed) != bool(now.lapsed):
        return "answer", True  # an acceptance that holds again, or lapses
    far, beyond = distance(was.verdict.margin, now.verdict.margin)
    return ("margin", beyond and answer in STANDING) if far else (None, False)


def _gathered(moved: Iterable[FlagChange]) -> Iterator[FlagChange]:
    """One for all places at which the same became of a rule's answer."""
    alike: dict[tuple[Any, ...], list[FlagChange]] = {}
    for one in moved:
        said = [(flag.verdict.answer, flag.says, flag.by, flag.lapsed) for flag in (one.was, one.now) if flag]
        alike.setdefault((one.rule.name, one.how, one.beyond, one.was is None, *said), []).append(one)
    for same in alike.values():
        places = tuple(place for one in same for place in one.places)
        yield same[0]._replace(places=places, where=place_names(places, alone=False))


def _worst_first(one: FlagChange) -> tuple[Any, ...]:
    order = ("up", "answer", "margin", "cleared")
    return order.index(one.how), not one.beyond, one.rule.order, one.where
