"""The promise: what is called clear or raised stays so for every truck that agrees with what was entered.

A project is judged; then each of its values, entered or assumed, is drawn somewhere within its tolerance and the truck,
exact now, is judged again. No clear may become raised, no raised clear, no figure may leave its low and high. The draws
are hard ones: for one rule at a time everything that moves its margin stands where it hurts, or helps, most.

    (cd tests && python -m trust.promise --draws 2000 --seed 1)
"""

import argparse
import random
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cached_property
from itertools import cycle, islice
from pathlib import Path
from typing import Any, NamedTuple

from trust.drawn_values import Drawn, Name, Span, drawn, loose
from trust.made_up_trucks import truck

from planner.plan.answers.open_project import work_out
from planner.plan.answers.verdicts import verdicts
from planner.plan.truck.project import EVERYWHERE, OpenProject
from planner.plan.truck.sweep_results import FIGURES
from planner.plan.truck.sweep_results import NODES as SWEPT
from planner.project.reading import Opened, understand
from planner.project.source import parse
from planner.quantities.quantity import Quantity
from planner.worksheet.outcome import Known, Spot, number

PROJECTS = Path(__file__).parents[2] / "projects"
DAY = date(2026, 11, 25)
BREATH = 1e-9  # relative: what float arithmetic leaves
PROVEN = 1.5e-4  # m or rad: the sweep proves its results to a tenth of a millimeter, at a drawn truck too
STRAIGHT = 1e-12  # relative: less than this moves no margin
UNTOLD = {figure.node for figure in FIGURES if not figure.name}  # what only rules read: they are held to it
SWEPT_TABLES = ("obstacles", "kingpin", "steering", "travel", "face_to_face", "tire", "wheel")  # what the sweep reads

Moves = Mapping[Name, tuple[Mapping[Spot, float], Mapping[Spot, float]]]  # all margins with a value at its two ends


class Judged(NamedTuple):
    """What a truck is told: each rule's answer, and by how much its limit holds."""

    answers: Mapping[Spot, str]
    margins: Mapping[Spot, float]


class Broken(NamedTuple):
    """The promise broken at a spot: in words, and by which draw."""

    spot: Spot
    told: str
    values: Drawn


class Promised:
    """One truck as it was entered, with its loose values; draws are held against what it is told."""

    def __init__(self, name: str, opened: Opened, every: int = 1) -> None:
        self.name, self.opened, self.every = name, opened, every
        self.loose = loose(opened)
        self.judged, self.found = judge(opened)
        self.figures = dict(figures(self.found))

    def broken(self, values: Drawn) -> Iterator[Broken]:
        """Every place at which the promise does not hold for the truck with these values."""
        now, found = judge(drawn(self.opened, values))
        for spot, answer in self.judged.answers.items():
            if found.sheet.catalog.rules[spot.node].close_agrees:
                continue  # a draw in which two entries part too far is no truck that agrees with both
            if {answer, now.answers.get(spot)} == {"clear", "raised"}:
                yield Broken(spot, f"{answer} became {now.answers[spot]}", values)
        for spot, before in self.figures.items():
            value = number(found.sheet.value(spot)) if spot in found.sheet else None
            if value is not None and spot.node not in UNTOLD:
                breath = PROVEN if spot.node in SWEPT else BREATH * max(1.0, abs(value))
                at_least = found.swept.words(spot) == "the stop"  # nothing is too near as far as that lets it turn
                # What is far from its limit is swept no closer than need be: of this truck its own low is proven.
                sure = value if spot.node not in SWEPT else found.sheet.outcome(spot).low
                if not (at_least or before.low - breath <= value) or sure > before.high + breath:
                    yield Broken(spot, f"{value:.9g} lies outside {before.low:.9g} to {before.high:.9g}", values)

    def targets(self) -> list[Spot]:
        """The rules with a margin, at their places."""
        return list(self.judged.margins)

    def hurting(self, target: Spot, pick: random.Random) -> Drawn:
        """Everything that moves a rule's margin where that takes its answer away; the rest at corners."""
        raised = self.judged.answers[target] == "raised"
        values = corners(self.loose, pick)
        middle = self.judged.margins[target]
        moves = self._swept_moves if self.reads_sweep(target) else self._moves
        for name, (low, high) in moves.items():
            down, up = low.get(target, middle), high.get(target, middle)
            if max(abs(down - middle), abs(up - middle)) > STRAIGHT * max(1.0, abs(middle)):
                span = self.loose[name]
                values[name] = span.high if (up > down) == raised else span.low
        return values

    def reads_sweep(self, target: Spot) -> bool:
        return any(spot.node in SWEPT for spot in self.found.sheet.inputs(target))

    @cached_property
    def _moves(self) -> Moves:
        """What each loose value at its ends does to the margins, by the worksheet alone: the sweep stays."""
        sheet, filed = self.found.sheet, dict[Name, list[Spot]]()
        for spot, key in self.found.keys.items():
            if spot in self.found.along:
                continue  # it is worked out of what moves it, and of what was found
            filed.setdefault(key, []).append(spot)
        found = {}
        for name, span in self.loose.items():
            spots, way = [Spot(name[1], EVERYWHERE)] if name[0] == "assumed" else [], ()
            key = name if name[0] == "change" else name[1] if name[0] == "side" else name[1:]
            if name[0] == "change":
                key = ("changes", *name[1:], *(("value",) if name[2] == "measured" else ()))
            while key and not spots:
                spots, way, key = filed.get(key, []), (*key[-1:], *way), key[:-1]
            if not spots:
                continue  # no formula reads it: the sweep does
            before = {spot: sheet.given(spot) for spot in spots}
            ends = []
            for end in (span.low, span.high):
                sheet.change({spot: _with(one, way[1:], end) for spot, one in before.items()})
                ends.append({target: number(sheet.value(target)) or 0.0 for target in self.judged.margins})
            sheet.change(before)
            found[name] = ends[0], ends[1]
        return found

    @cached_property
    def _swept_moves(self) -> Moves:
        """The same with the sweep done again for each, or for one of `every`: what it reads, that is."""
        found = {}
        read = [one for one in self.loose if one[0] in ("change", "side") or any(own in SWEPT_TABLES for own in one)]
        for name in read[:: self.every]:
            ends = (self.loose[name].low, self.loose[name].high)
            low, high = (judge(drawn(self.opened, {name: end}))[0].margins for end in ends)
            found[name] = low, high
        return found


def _with(value: Any, way: Name, end: float) -> Any:
    """An entry, or one of the values in it, at the end of its tolerance."""
    if not way:
        return Quantity(end)
    return tuple(_with(one, way[1:], end) if at == way[0] else one for at, one in enumerate(value))


def judge(opened: Opened) -> tuple[Judged, OpenProject]:
    """A truck judged as it stands."""
    found = work_out(opened, DAY)
    answers, margins = {}, {}
    for verdict in verdicts(found):
        spot = Spot(verdict.rule.node, verdict.place)
        answers[spot] = verdict.answer
        margin = number(verdict.margin.value) if verdict.margin is not None else None
        if margin is not None and verdict.rule.kind is not None:
            margins[spot] = margin
    return Judged(answers, margins), found


def figures(found: OpenProject) -> Iterator[tuple[Spot, Known]]:
    sheet = found.sheet
    for step in sheet.layout.steps:
        spot = step.spot
        if spot.node not in sheet.catalog.rules and sheet.value(spot) is not None:
            outcome = sheet.outcome(spot)
            if isinstance(outcome, Known) and number(outcome.value) is not None:
                yield spot, outcome


def corners(spans: Mapping[Name, Span], pick: random.Random) -> dict[Name, float]:
    return {name: pick.choice((span.low, span.high)) for name, span in spans.items()}


def inside(spans: Mapping[Name, Span], pick: random.Random) -> dict[Name, float]:
    return {name: pick.uniform(span.low, span.high) for name, span in spans.items()}


def draws(promised: Promised, pick: random.Random, swept: bool = True) -> Iterator[Drawn]:
    """Hard draws without end: at each rule in turn, with random corners and values inside between them.

    Without `swept` no rule that reads the sweep is aimed at: to see what moves such a one takes a sweep for each value.
    """
    targets = [spot for spot in promised.targets() if swept or not promised.reads_sweep(spot)]
    pick.shuffle(targets)
    ways = (corners, inside)
    for number_, target in enumerate(cycle(targets) if targets else cycle([None])):
        if target is not None:
            yield promised.hurting(target, pick)
        if number_ % 4 == 3 or target is None:
            yield ways[number_ // 4 % 2](promised.loose, pick)


def example(name: str) -> Promised:
    path = PROJECTS / f"{name}.toml"
    return Promised(name, understand(parse(path, path.read_bytes())))


def made_up(number_: int, every: int = 1) -> Promised:
    name = f"made-up truck {number_}"
    return Promised(name, understand(parse(PROJECTS / "made-up.toml", truck(number_).encode())), every)


def broken_by(promised: Promised, count: int, pick: random.Random, swept: bool = True) -> Iterator[Broken]:
    """What `count` draws of one truck break."""
    for values in islice(draws(promised, pick, swept), count):
        yield from promised.broken(values)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--draws", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--every", type=int, default=6, help="of how many swept values one is aimed along")
    asked = parser.parse_args()
    pick = random.Random(asked.seed)
    names = sorted(path.stem for path in PROJECTS.glob("*.toml"))
    half = asked.draws // 2
    broken: Counter[str] = Counter()
    first: dict[str, str] = {}
    made = [(example(name), half // len(names)) for name in names]
    each = 40
    made += [(made_up(asked.seed * 1000 + at, asked.every), each) for at in range(max(1, half // each))]
    for promised, count in made:
        for one in broken_by(promised, count, pick):
            broken[one.spot.node] += 1
            first.setdefault(one.spot.node, f"{promised.name}: {one.spot}: {one.told}")
        print(f"{promised.name}: {count} draws", flush=True)
    for node, count in broken.most_common():
        print(f"{count:6} {node}: {first[node]}")
    print(f"{sum(count for _, count in made)} draws of {len(made)} trucks: {len(broken)} names break the promise")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
