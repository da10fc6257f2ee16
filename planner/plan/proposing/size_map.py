"""The map of sizes, diameter by section width: a mark for each, that says whether it fits, or what is in its way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import floor
from typing import NamedTuple

from planner.plan.proposing.quick_look import PairLook, RuledOut
from planner.plan.proposing.search import Proposals, sizes_of
from planner.plan.proposing.space import SoldTire
from planner.quantities.show import Style

INCH = 0.0254
ROW = {"inch": INCH, "metric": 0.025}  # m, by the person's system; a column is half as much
FITS, WISHED_AWAY = "o", "·"
LETTERS = "abcdefghijklmnpqrstuvwxyz"  # an o is what fits


class SizePoint(NamedTuple):
    """One size of tire: `proposal` is its number on the list, `out` what rules it out on most rims where none fits."""

    tire: SoldTire
    diameter: float
    section: float
    fits: bool
    proposal: int | None
    out: RuledOut | None


class SizeMap(NamedTuple):
    """Lines of the map, the tallest first, and what each letter in it stands for."""

    lines: tuple[str, ...]
    letters: tuple[tuple[str, RuledOut], ...]
    points: tuple[SizePoint, ...]


def size_points(found: Proposals) -> Iterator[SizePoint]:
    """Every size that was looked at."""
    looks: dict[SoldTire, list[PairLook]] = {}
    for look in found.looks:
        looks.setdefault(look.tire, []).append(look)
    numbers: dict[SoldTire, int] = {}
    for at, one in enumerate(found.proposals, 1):
        numbers.setdefault(one.fitting.look.tire, at)
    for tire, several in looks.items():
        fits = any(look.out is None for look in several)
        outs = Counter(look.out._replace(close=False, better="") for look in several if look.out is not None)
        out = None if fits or not outs else outs.most_common(1)[0][0]
        yield SizePoint(tire, *sizes_of(tire), fits, numbers.get(tire), out)


def size_map(found: Proposals, style: Style) -> SizeMap:
    """The map: of several sizes in one place what is proposed shows first, then what fits, then what does not."""
    points = tuple(size_points(found))
    told = Counter(one.out for one in points if one.out is not None and not one.out.rule.startswith("wishes."))
    letters = {out: letter for (out, _), letter in zip(told.most_common(), LETTERS, strict=False)}
    cells: dict[tuple[int, int], tuple[int, str]] = {}
    tall, wide = ROW[style.system], ROW[style.system] / 2
    for one in points:
        at = floor(one.diameter / tall), floor(one.section / wide)
        cells[at] = min(cells.get(at, (9, "")), _mark(one, letters))
    if not cells:
        return SizeMap((), (), points)
    rows, columns = ([at[axis] for at in cells] for axis in (0, 1))
    across = range(min(columns), max(columns) + 1)
    lines = [
        f"{_label(row * tall, style):>7} " + "".join(f"{cells.get((row, column), (0, ''))[1]:>2}" for column in across)
        for row in range(max(rows), min(rows) - 1, -1)
    ]
    return SizeMap(
        tuple(line.rstrip() for line in (*lines, *_axis(across, style))),
        tuple((letter, out) for out, letter in letters.items()),
        points,
    )


def _mark(one: SizePoint, letters: dict[RuledOut, str]) -> tuple[int, str]:
    if one.proposal is not None:
        return 0, str(one.proposal)
    if one.fits:
        return 1, FITS
    return (2, letters[one.out]) if one.out in letters else (3, WISHED_AWAY)


def _axis(across: Sequence[int], style: Style) -> Iterator[str]:
    """The section widths under the map, one at each second inch or each 50 mm."""
    marks = [" "] * (2 * len(across) + 6)
    for place, column in enumerate(across):
        if column % 4 == 0:
            text = _label(column * ROW[style.system] / 2, style)
            marks[2 * place + 1 : 2 * place + 1 + len(text)] = text
    yield " " * 8 + "".join(marks)


def _label(length: float, style: Style) -> str:
    return f"{length / INCH:g} in" if style.system == "inch" else f"{length * 1000:.0f} mm"
