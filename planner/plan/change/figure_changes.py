"""Figures of a project before and after, or of its candidates, held against each other: which differ, and how far."""

from collections.abc import Iterable, Iterator, Sequence
from math import inf
from typing import Any, NamedTuple

from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import swept_names
from planner.plan.truck.wording import UNKNOWN, place_names
from planner.quantities.kinds import Kind
from planner.quantities.show import show, show_plain
from planner.quantities.text import clean
from planner.worksheet.outcome import Failed, Known, Outcome, Place, Spot, number

MATTERS = 1e-6  # relative; less than this is float arithmetic

STANDARD = 0.01  # a figure without a tolerance is held against a hundredth of itself

SLIGHT = 0.1  # and a tenth of that is nothing to go and look at

FEW = 2  # so many rows of one figure stand for themselves; more that move alike stand behind the first of them

_SWEPT = {node: name for name, node in swept_names().items()}  # which the sweep enters, and no person

At = tuple[str, Place]  # a node, and its place without the name of the one fitment that is planned


class FigureChange(NamedTuple):
    """One figure, or one part of it, that is not the same on all sides, and the places at which that is so alike.

    `size` is how far the sides are apart in the first one's tolerances, without one in hundredths of it; `beyond` says
    whether that is further than the tolerance. `numbers` are in SI, None where there is none; `more` counts other
    places that differ in the same proportion.
    """

    node: str
    name: str
    where: str
    texts: tuple[str, ...]
    by: str
    size: float
    beyond: bool
    numbers: tuple[float | None, ...]
    unit: str
    places: tuple[Place, ...]
    more: int = 0


def figure_changes(sides: Sequence[OpenProject], found: bool = True) -> list[FigureChange]:
    """What differs between the sides, worst first; with `found`, figures of the truck as found count too."""
    standing = [figure_spots(one, found) for one in sides]
    moved = {}
    for at in dict.fromkeys(at for one in reversed(standing) for at in one):
        spots = [one.get(at) or _for_all(one, at) for one in standing]
        if not _same(sides, spots) and not _entered(sides, spots):
            moved[at] = spots
    rows = []
    for at, spots in moved.items():
        node, (fitment, *rest) = at
        if fitment == "found" and (node, ("", *rest)) in moved:
            continue  # what moves for the truck as found and for the plan alike is told once
        outcomes = [side.sheet.outcome(spot) if spot else None for side, spot in zip(sides, spots, strict=True)]
        rows += list(_rows(sides, at, outcomes))
    return sorted(_folded(_gathered(rows)), key=lambda row: (not row.beyond, -row.size, row.name, row.where))


def figure_spots(opened: OpenProject, found: bool) -> dict[At, Spot]:
    """Every figure that people ask for, at every place that counts."""
    planned, sheet = opened.planned, opened.sheet
    alone = planned[0] if len(planned) == 1 else ""
    spots: dict[At, Spot] = {}
    for node in (*sheet.catalog.figures, *_SWEPT):
        for spot in sheet.spots(node):
            fitment, *rest = spot.place
            counts = fitment in ("", *planned, *(("found",) if found else ()))
            if counts and asked_there(opened, spot):
                spots[node, ("" if fitment == alone else fitment, *rest)] = spot
    return spots


def _for_all(spots: dict[At, Spot], at: At) -> Spot | None:
    """The figure as found where it is one for all fitments, as long as no change sets an entry behind it."""
    node, (fitment, *rest) = at
    spot = spots.get((node, ("", *rest))) if fitment == "found" else None
    return spot if spot is not None and not spot.place[0] else None


def _same(sides: Sequence[OpenProject], spots: list[Spot | None]) -> bool:
    first, *others = (side.sheet.value(spot) if spot else None for side, spot in zip(sides, spots, strict=True))
    return all(one == first for one in others)


def _entered(sides: Sequence[OpenProject], spots: list[Spot | None]) -> bool:
    """Whether a figure is an entry on every side that has it: then it is told as one."""
    return all(
        spot is None or (spot.node not in _SWEPT and side.sheet.entered(spot) is not None)
        for side, spot in zip(sides, spots, strict=True)
    )


def _rows(sides: Sequence[OpenProject], at: At, outcomes: Sequence[Outcome | None]) -> Iterator[FigureChange]:
    """A row for the figure, or for each of its parts that differs."""
    node, catalog = at[0], sides[0].sheet.catalog
    declared = catalog.figures.get(node)
    name = declared.name if declared else _SWEPT[node]
    if declared is None or not declared.parts:
        yield from _row(sides, at, name, outcomes, catalog.kind(node))
        return
    for part, kind in declared.parts.items():
        own = [outcome.part(part) if isinstance(outcome, Known) else outcome for outcome in outcomes]
        yield from _row(sides, at, f"{name}, {part.replace('_', ' ')}", own, kind)


def _row(
    sides: Sequence[OpenProject], at: At, name: str, outcomes: Sequence[Outcome | None], kind: Kind | None
) -> Iterator[FigureChange]:
    values = [outcome.value if isinstance(outcome, Known) else None for outcome in outcomes]
    if all(value == values[0] for value in values[1:]):
        return
    (node, place), apart = at, [distance(outcomes[0], other) for other in outcomes[1:]]
    size, beyond = max(far for far, _ in apart), any(past for _, past in apart)
    texts = tuple(brief(side, outcome, kind) for side, outcome in zip(sides, outcomes, strict=True))
    by, numbers = _by(outcomes[0], outcomes[-1], kind), tuple(map(_amount, outcomes))
    unit = kind.si if kind is not None else ""
    yield FigureChange(node, name, "", texts, by, size, beyond, numbers, unit, (place,))


def distance(one: Outcome | None, other: Outcome | None) -> tuple[float, bool]:
    """How far a value is from the first, in the first one's tolerances, and whether it is beyond them.

    What comes to be known, or no longer is, is as far as can be; words that differ are one tolerance apart.
    """
    if not isinstance(one, Known) or not isinstance(other, Known):
        return (0.0, False) if not isinstance(one, Known) and not isinstance(other, Known) else (inf, True)
    before, after = _amount(one), _amount(other)
    if before is None or after is None:
        return (0.0, False) if one.value == other.value else (1.0, True)
    far, half = abs(after - before), tolerance(one)
    if far <= MATTERS * abs(before):
        return 0.0, False
    if half:
        return far / half, far > half
    if not before:
        return inf, True
    size = far / abs(before) / STANDARD
    return size, size > SLIGHT


def tolerance(known: Known) -> float:
    """The wider half of a value's worst case; nothing where it has none, or no bound, or is picked from a list."""
    value = _amount(known)
    half = 0.0 if value is None or known.instead else max(known.high - value, value - known.low)
    return half if half < inf else 0.0


def _amount(outcome: Outcome | None) -> float | None:
    if not isinstance(outcome, Known) or isinstance(getattr(outcome.value, "margin", outcome.value), bool):
        return None
    return number(outcome.value)


def _by(one: Outcome | None, other: Outcome | None, kind: Kind | None) -> str:
    """By how much a number moved: `+4.2 %, 3.1 times its tolerance`; no share of what may be nothing or less."""
    if not isinstance(one, Known) or not isinstance(other, Known):
        return ""
    before, after = _amount(one), _amount(other)
    if before is None or after is None:
        return ""
    counted = before > 0 and (kind is None or kind.least >= 0)
    share = f"{(after - before) / before:+.1%}".replace("%", " %") if counted else ""
    half = tolerance(one)
    times = f"{abs(after - before) / half:.2g} times its tolerance" if half > MATTERS * abs(before) else ""
    return ", ".join(word for word in (share, times) if word)


def brief(opened: OpenProject, outcome: Outcome | None, kind: Kind | None) -> str:
    """A value for a narrow place: in the person's units alone, inches as decimals, since sixteenths hide a change."""
    if isinstance(outcome, Failed):
        return "impossible"
    if not isinstance(outcome, Known):
        return UNKNOWN
    value: Any = outcome.value
    if kind is None or not isinstance(value, (int, float, str, bool)):
        return clean(str(value)) if kind is None else show(value, kind, opened.style)
    return show_plain(value, kind, opened.style, tolerance(outcome) or None)


def _gathered(rows: Iterable[FigureChange]) -> Iterator[FigureChange]:
    """One row for all places at which a figure reads the same on each side."""
    alike: dict[tuple[Any, ...], list[FigureChange]] = {}
    for row in rows:
        alike.setdefault((row.name, row.texts, row.by, row.beyond), []).append(row)
    for same in alike.values():
        places = tuple(place for row in same for place in row.places)
        yield same[0]._replace(
            places=places, where=place_names(places, alone=False), size=max(row.size for row in same)
        )


def _folded(rows: Iterable[FigureChange]) -> Iterator[FigureChange]:
    """The first row for all that differ in the same proportion, such as a speed in every gear."""
    alike: dict[tuple[Any, ...], list[FigureChange]] = {}
    for at, row in enumerate(rows):
        first, *others = row.numbers
        steady = first and all(other is not None for other in others)
        shares = tuple(round(other / first, 3) for other in others if first and other is not None)
        alike.setdefault((row.name, row.beyond, shares if steady else at), []).append(row)
    for same in alike.values():
        if len(same) <= FEW:
            yield from same
        else:
            yield same[0]._replace(more=sum(len(row.places) for row in same[1:]), size=max(row.size for row in same))
