"""Wheels that came, one by one: each held against its order, and where on the truck one that is otherwise would do.

A wheel within what was planned needs no judging of its own: what is clear for the plan is clear for it. Any other is
judged as the truck that has it, with its own readings in place of the order's at both ends.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple
from weakref import WeakKeyDictionary

from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.open_project import work_out
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import place_name
from planner.plan.work.held_readings import (
    AXLES,
    NODES,
    RUNOUTS,
    Answer,
    HeldReading,
    held_readings,
    inside,
    planned_candidate,
)
from planner.plan.work.hold_points import open_stops
from planner.project.models.project import Project
from planner.project.models.received import ReceivedWheel
from planner.project.sides import SIDES
from planner.quantities.grammar import read
from planner.quantities.kinds import DISTANCE
from planner.quantities.text import clean
from planner.tasks.kind import EVERY_STOP
from planner.tasks.receiving import MOST_RUNOUT
from planner.worksheet.outcome import Known, Place
from planner.worksheet.sheet import Worksheet

# By worksheet and candidate: a piece that is otherwise takes a sweep of its own, and a list, its flags and a page ask.
_KEPT: WeakKeyDictionary[Worksheet, dict[str, tuple["Piece", ...]]] = WeakKeyDictionary()


class AtPlace(NamedTuple):
    """A piece at one axle: the stops that stand with it and not with the order, and those that stand with both.

    `open` are the stops of which nobody can say yet whether they stand there. Where left and right differ, by an
    obstacle of one side, each has its `side`.
    """

    axle: str
    side: str
    against: tuple[Flag, ...]
    standing: tuple[Flag, ...]
    open: tuple[Flag, ...] = ()

    @property
    def name(self) -> str:
        return f"{self.axle} {self.side}".rstrip()


class Piece(NamedTuple):
    """A wheel that came. `places` is empty where it is as planned, or where nothing of it can be judged.

    `runs_out` says that it runs out of true by more than is mounted anywhere, `may_run_out` that it may.
    """

    at: int
    name: str
    wheel: ReceivedWheel
    held: tuple[HeldReading, ...]
    places: tuple[AtPlace, ...] = ()
    runs_out: bool = False
    may_run_out: bool = False

    @property
    def own_ends(self) -> tuple[str, ...]:
        """The axles that it is for; a spare has to do at both."""
        place = self.wheel.position or ""
        return tuple(axle for axle in AXLES if place.startswith(axle)) or AXLES

    @property
    def own_places(self) -> tuple[str, ...]:
        """Of the places that were judged those that it is for; a spare has to do at all of them."""
        sides = {"left", "right"} & set((self.wheel.position or "").split()) or {"left", "right"}
        return tuple(one.name for one in self.places if one.axle in self.own_ends and one.side in ("", *sides))

    @property
    def as_ordered(self) -> Answer:
        """The worst of what is said of its readings."""
        order: tuple[Answer, ...] = ("outside", "too close to call", "within")
        said = {one.answer for one in self.held}
        return next((one for one in order if one in said), "not known")

    @property
    def measured(self) -> bool:
        """Whether anything of it was."""
        return any(getattr(self.wheel, name) is not None for name in (*NODES, *RUNOUTS))

    @property
    def not_measured(self) -> tuple[str, ...]:
        """What has to be measured of it before anybody can say that it will do."""
        place = () if self.wheel.backspace is not None or self.wheel.offset is not None else ("backspace",)
        return (*place, *(() if self.wheel.bore is not None else ("bore",)))

    @property
    def against(self) -> tuple[Flag, ...]:
        """What stands against it where it is to go."""
        return tuple(flag for one in self.places if one.name in self.own_places for flag in one.against)

    @property
    def close(self) -> bool:
        """Whether what stands against it where it is to go is all too close to call."""
        return not self.runs_out and (bool(self.against) or self.may_run_out) and not any(map(_is_raised, self.against))

    @property
    def may_do_at(self) -> tuple[str, ...]:
        """The places at which all that stands against it is too close to call."""
        return () if self.runs_out else tuple(one.name for one in self.places if not any(map(_is_raised, one.against)))

    @property
    def does_at(self) -> tuple[str, ...]:
        """The places at which nothing stands against it that does not stand against the order."""
        out = self.runs_out or self.may_run_out
        return () if out else tuple(one.name for one in self.places if not one.against)


def received_wheels(opened: OpenProject, found: Sequence[Flag]) -> tuple[Piece, ...]:
    """Every wheel that came; `found` are the flags of the plan. Nothing is judged while no one candidate is planned."""
    kept = _KEPT.setdefault(opened.sheet, {})
    if opened.alone not in kept:
        kept[opened.alone] = tuple(_received(opened, found))
    return kept[opened.alone]


def _received(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Piece]:
    fitment = planned_candidate(opened)
    judged: dict[tuple[Any, ...], tuple[AtPlace, ...]] = {}
    for at, wheel in enumerate(opened.project.wheels):
        lost = opened.fault_at("wheels", at) is not None
        name = clean(wheel.mark or f"wheels[{at}]")
        piece = Piece(at, name, wheel, () if lost or not fitment else tuple(held_readings(opened, fitment, wheel)))
        runs = [one for one in (getattr(wheel, name) for name in RUNOUTS) if one is not None]
        most = read(MOST_RUNOUT, DISTANCE).value
        out = any(one.low > most for one in runs)
        piece = piece._replace(runs_out=out, may_run_out=not out and any(one.high > most for one in runs))
        if not lost and fitment and wheel.state != "sent back" and _is_other(opened, fitment, piece):
            readings = (wheel.backspace, wheel.offset, wheel.bore)
            if readings not in judged:
                judged[readings] = tuple(_places(opened, fitment, wheel, found))
            piece = piece._replace(places=judged[readings])
        yield piece


def _is_raised(flag: Flag) -> bool:
    return flag.verdict.answer == "raised"


def _is_other(opened: OpenProject, fitment: str, piece: Piece) -> bool:
    """Whether a reading lies outside of what the plan is judged with, at an end where the piece is to go."""
    for name, (node, _) in NODES.items():
        read = getattr(piece.wheel, name)
        for axle in piece.own_ends if read is not None else ():
            planned = opened.sheet.outcome(opened.spot(node, fitment=fitment, axle=axle))
            if not isinstance(planned, Known) or not inside(read, planned.low, planned.high):
                return True
    return False


# on the truck


def _places(opened: OpenProject, fitment: str, wheel: ReceivedWheel, found: Sequence[Flag]) -> Iterator[AtPlace]:
    """What stands at each place with the piece there; both ends are judged at once, since each wheel has its own."""
    had = opened.opened._replace(project=_with(opened.project, fitment, wheel))
    now = flags(work_out(had, opened.today)._replace(alone=opened.alone))
    known = {at for flag in found if flag.verdict.answer != "not known" for at, _ in _each(flag)}
    was = {at: flag for flag in open_stops(found, EVERY_STOP) for at, _ in _each(flag)}
    standing = [pair for flag in open_stops(now, EVERY_STOP) for pair in _each(flag)]
    unsure = [flag for flag in now if flag.rule.severity == "stop" and flag.verdict.answer == "not known"]
    lost = [pair for flag in unsure for pair in _each(flag)]
    standing += [(at, flag) for at, flag in lost if at in known]  # nobody can say any more that it holds
    for axle in AXLES:
        both = []
        for side in SIDES:
            here = [(at, flag) for at, flag in standing if _is_at(opened, at[1], axle, side)]
            new = tuple(flag for at, flag in here if at not in was or (_is_raised(flag) and not _is_raised(was[at])))
            open_ = tuple(flag for at, flag in lost if at not in known and _is_at(opened, at[1], axle, side))
            both.append(AtPlace(axle, side, new, tuple(flag for _, flag in here if flag not in new), open_))
        alike = both[0]._replace(side="") == both[1]._replace(side="")
        yield from [both[0]._replace(side="")] if alike else both


def _each(flag: Flag) -> Iterator[tuple[tuple[str, Place], Flag]]:
    """A flag at each of its places by itself."""
    for place in flag.places:
        yield (flag.rule.name, place), flag._replace(places=(place,), where=place_name(place, alone=True))


def _is_at(opened: OpenProject, place: Place, axle: str, side: str) -> bool:
    """Whether a flag's place is there: at that axle, of its obstacle on that side, or of the whole truck."""
    _, own_axle, obstacle, *_ = place
    own = opened.obstacles.get(obstacle) if obstacle else None
    if own is None:
        return own_axle in (axle, "")
    return (own_axle or own.measured.axle or "") in (axle, "") and own.measured.side in (side, "both")


def _with(project: Project, fitment: str, wheel: ReceivedWheel) -> Project:
    """The project with a piece's own readings at both ends of a fitment, in place of what stands there."""
    own = {name: getattr(wheel, name) for name in NODES if getattr(wheel, name) is not None}
    place = {"backspace", "offset"} if {"backspace", "offset"} & set(own) else set[str]()  # one gives the other
    gone = dict.fromkeys(place | set(own))
    one = project.fitments[fitment]
    ends = {
        axle: getattr(one, axle).model_copy(
            update={"wheel": getattr(one, axle).wheel.model_copy(update={**gone, **own})}
        )
        for axle in AXLES
    }
    changed = one.model_copy(update={"wheel": one.wheel.model_copy(update=gone), **ends})
    return project.model_copy(update={"fitments": {**project.fitments, fitment: changed}})
