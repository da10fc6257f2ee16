"""Every figure and rule, sampled densely across wide tolerances: nothing leaves its low and high.

A formula that turns back within a tolerance and is not written with what `planner/worksheet/turning.py` offers is found
here: one input at a time, each two together, and all at once. The examples are those of the rules and of the rows in
tests/published/.
"""

import random
from collections.abc import Iterator
from functools import cache
from itertools import combinations, product
from typing import Any

import pytest
from published_rows import ROWS, given

from planner.plan.truck.catalog import catalog
from planner.quantities.grammar import bare, read_value
from planner.quantities.kinds import RIM_CODE
from planner.quantities.quantity import Quantity
from planner.worksheet.bench import over_tolerances
from planner.worksheet.declare import Figure, Impossible, Rule
from planner.worksheet.outcome import Known, number

SAMPLES = 200
WIDE = 0.3  # of the value
THROUGH = 1.5  # of a value that may well be below nothing
BREATH = 1e-9

EVERY = [*catalog().figures.values(), *catalog().rules.values()]


@cache
def examples() -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {}
    for _, row in ROWS:
        found.setdefault(catalog().named(row["figure"]) or "", []).append(given(row))
    for rule in catalog().rules.values():
        found[rule.node] = [dict(one) for one in (rule.holds, rule.fails) if one]
    return found


def inputs_of(declared: Figure | Rule, example: dict[str, Any]) -> list[Any]:
    values = []
    for taken in declared.inputs:
        if taken.name in example:
            values.append(read_value(example[taken.name], taken.kind))
        elif (standing := catalog().assumed.get(taken.reads or taken.name)) is not None:
            values.append(read_value(standing.text, standing.kind))
        else:
            values.append(taken.default)
    return values


def loose_ones(declared: Figure | Rule, inputs: list[Any]) -> list[int]:
    """Which inputs are measured: a rim's code is a name."""
    return [
        at
        for at, (taken, value) in enumerate(zip(declared.inputs, inputs, strict=True))
        if isinstance(value, Quantity) and taken.kind.form in ("quantity", "ratio") and taken.kind != RIM_CODE
    ]


def widened(declared: Figure | Rule, inputs: list[Any], loose: tuple[int, ...], share: float) -> list[Any]:
    """The inputs, those that are loose with a wide tolerance, as wide as their kind lets them be."""
    wide = [Quantity(one.value) if isinstance(one, Quantity) else one for one in inputs]
    for at in loose:
        value, kind = inputs[at].value, declared.inputs[at].kind
        around = abs(value) * (THROUGH if share == WIDE and kind.least < 0 else share) or share / 10
        wide[at] = Quantity(value, min(around, max(0.0, value - kind.least) * 0.99, max(0.0, kind.most - value)))
    return wide


def leaves(declared: Figure | Rule, inputs: list[Any], loose: tuple[int, ...], pick: random.Random) -> Iterator[str]:
    """Where a sample stands outside of the low and high that the tolerances give."""
    for share in (WIDE, WIDE / 10):
        wide = widened(declared, inputs, loose, share)
        plain = [value if value is None else bare(value) for value in wide]
        try:
            known = over_tolerances(declared, wide, plain, declared.call(*plain))
        except (Impossible, ArithmeticError, ValueError, TypeError):
            return  # an example that is impossible, or has too little to answer
        yield from outside(declared, wide, plain, loose, known, pick)


def outside(
    declared: Figure | Rule,
    wide: list[Any],
    plain: list[Any],
    loose: tuple[int, ...],
    known: Known,
    pick: random.Random,
) -> Iterator[str]:
    for shares in samples(len(loose), pick):
        given_ = plain.copy()
        for at, part in zip(loose, shares, strict=True):
            given_[at] = wide[at].low + (wide[at].high - wide[at].low) * part
        try:
            value = declared.call(*given_)
        except (Impossible, ArithmeticError, ValueError, TypeError):
            continue
        for name, inner in (("", known), *known.parts.items()):
            here = number(getattr(value, name) if name else value)
            breath = BREATH * max(1.0, abs(here or 0.0))
            if here is None or number(inner.value) is None or inner.low - breath <= here <= inner.high + breath:
                continue
            where = {declared.inputs[at].name: given_[at] for at in loose}
            yield f"{name} {here} outside of {inner.low} to {inner.high} at {where}"
            return


def samples(count: int, pick: random.Random) -> Iterator[tuple[float, ...]]:
    if count == 1:
        yield from ((at / SAMPLES,) for at in range(SAMPLES + 1))
        return
    yield from ([*product((0.0, 1.0), repeat=count)] if count < 7 else [])
    for _ in range(SAMPLES):
        yield tuple(pick.choice((0.0, 1.0, pick.random())) for _ in range(count))


@cache
def found(node: str) -> tuple[str, ...]:
    declared: Any = catalog().figures.get(node) or catalog().rules[node]
    pick = random.Random(node)
    told = []
    for example in examples().get(node, [])[:3]:
        inputs = inputs_of(declared, example)
        loose = loose_ones(declared, inputs)
        together = [*((one,) for one in loose), *combinations(loose, 2)]
        if len(loose) > 2:
            together.append(tuple(loose))
        for some in together:
            told += [f"{example}: {wrong}" for wrong in leaves(declared, inputs, some, pick)]
    return tuple(told)


@pytest.mark.parametrize("declared", EVERY, ids=lambda one: one.name)
def test_no_sample_across_wide_tolerances_leaves_low_and_high(declared):
    assert not found(declared.node)[:1]


def test_a_figure_that_turns_and_does_not_say_so_is_found(monkeypatch):
    import planner.flags.steering as steering

    rule = catalog().rules["scrub_radius_changed"]
    monkeypatch.setattr(steering, "magnitude", abs)
    inputs = inputs_of(
        rule, {"found_scrub_radius": "0 mm", "planned_scrub_radius": "10 mm", "most_scrub_change": "1 mm"}
    )
    inputs[1] = Quantity(inputs[1].value, 0.014)
    plain = [bare(one) for one in inputs]
    known = over_tolerances(rule, inputs, plain, rule.call(*plain))
    assert list(outside(rule, inputs, plain, (1,), known, random.Random(1)))
