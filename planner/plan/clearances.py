"""Every obstacle with its least clearance against what it must keep, what touches or is too near coming first."""

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from planner.plan.flagging import Flag
from planner.plan.opening import OpenProject, PlannedObstacle
from planner.project.facts import AXES
from planner.worksheet.outcome import Known, Spot

TOO_NEAR = "fit.tire_too_near"
Stands = Literal["touches", "too near", "too close to call", "not known", "clear"]
ORDER: tuple[Stands, ...] = ("touches", "too near", "too close to call", "not known", "clear")


class Clear(NamedTuple):
    """One obstacle of a fitment: how near the tire comes, and at the worst of the tolerances, in m; None if not known.

    `where` says where in the sweep that is, and with which part of the tire.
    """

    label: str
    obstacle: PlannedObstacle
    stands: Stands
    spot: Spot
    least: float | None = None
    worst: float | None = None
    where: str = ""
    flag: Flag | None = None

    @property
    def wants(self) -> float:
        """What it must keep, in m."""
        return float(self.obstacle.required.value)

    @property
    def spare(self) -> float:
        """What is left over what it must keep at the worst, in m."""
        return float("inf") if self.worst is None else self.worst - self.wants


def clearances(opened: OpenProject, found: Iterable[Flag], fitment: str) -> list[Clear]:
    """The worst first; what could not be swept comes before what is clear."""
    flags = {
        place[AXES.index("obstacle")]: flag
        for flag in found
        if flag.rule.name == TOO_NEAR
        for place in flag.places
        if place[0] == fitment
    }
    made = _each(opened, flags, fitment)
    return sorted(made, key=lambda one: (ORDER.index(one.stands), one.spare))


def _each(opened: OpenProject, flags: dict[str, Flag], fitment: str) -> Iterator[Clear]:
    for label, obstacle in opened.obstacles.items():
        spot = opened.spot("least_clearance", fitment=fitment, obstacle=label)
        flag = flags.get(label)
        outcome = opened.sheet.outcome(spot)
        if not isinstance(outcome, Known):
            yield Clear(label, obstacle, "not known", spot, flag=flag)
            continue
        least, worst = float(outcome.value), float(outcome.low)
        stands = _stands(least, flag)
        yield Clear(label, obstacle, stands, spot, least, worst, opened.swept.words(spot), flag)


def _stands(least: float, flag: Flag | None) -> Stands:
    """As the rule judges it, so that no list says otherwise than the flags."""
    if flag is None:
        return "not known"
    if flag.verdict.answer == "raised":
        return "touches" if least <= 0.0 else "too near"
    return flag.verdict.answer
