"""Which flag follows from which: what one cause brings about is told once, under the flag of the cause."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.project.facts import AXES
from planner.quantities.kinds import TEXT
from planner.worksheet.declare import SEVERITIES, Rule
from planner.worksheet.outcome import Place, Spot

AXLE, OBSTACLE = AXES.index("axle"), AXES.index("obstacle")


class StandingRule(NamedTuple):
    """What stands against a plan: a rule and the places at which it says the same."""

    rule: Rule
    places: tuple[Place, ...]


def heads(opened: OpenProject, standing: Sequence[StandingRule]) -> list[int | None]:
    """For each of what stands, the worst first, the place in the list of the cause that it follows from in the end."""
    causes = [_cause(opened, one, standing) for one in standing]
    return [_head(causes, at) for at in range(len(standing))]


def _head(causes: list[int | None], at: int) -> int | None:
    head = causes[at]
    while head is not None and (further := causes[head]) is not None:
        head = further
    return head


def _cause(opened: OpenProject, one: StandingRule, standing: Sequence[StandingRule]) -> int | None:
    """The first that it follows from everywhere; nothing is gathered under what is less grave."""
    for at, other in enumerate(standing) if one.rule.follows else ():
        grave = SEVERITIES.index(other.rule.severity) <= SEVERITIES.index(one.rule.severity)
        if grave and other.rule.node in one.rule.follows and _everywhere(opened, one, other):
            return at
    return None


def _everywhere(opened: OpenProject, one: StandingRule, other: StandingRule) -> bool:
    return all(any(_follows(opened, one.rule, a, other.rule, b) for b in other.places) for a in one.places)


def _follows(opened: OpenProject, rule: Rule, here: Place, other: Rule, there: Place) -> bool:
    """Whether both stand at one place, and what binds the one, where it says so, is what the other is about."""
    if any(a and b and a != b for a, b in zip(_with_axle(opened, here), _with_axle(opened, there), strict=True)):
        return False
    about, told = there[OBSTACLE] or other.bounds, set(_told(opened, rule, here))
    named = about in told
    return named if there[OBSTACLE] and not here[OBSTACLE] else named or not (other.bounds and told)


def _with_axle(opened: OpenProject, place: Place) -> list[str]:
    """A place; that of an obstacle with the axle that it is measured from."""
    obstacle = opened.obstacles_of(place[0]).get(place[OBSTACLE])
    full = list(place)
    full[AXLE] = full[AXLE] or (obstacle.measured.axle or "" if obstacle is not None else "")
    return full


def _told(opened: OpenProject, rule: Rule, place: Place) -> Iterator[str]:
    """The names that a rule reads, such as of what binds a limit."""
    for taken, spot in zip(rule.inputs, opened.sheet.reads(Spot(rule.node, place)), strict=True):
        if taken.kind == TEXT and spot is not None:
            value = opened.sheet.value(spot)
            if isinstance(value, str):
                yield value
