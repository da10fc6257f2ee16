"""What it takes, in words: for the command and for whoever shows it."""

from collections.abc import Iterator
from typing import Any

from planner.plan.takes.least_changes import FigureMoved, LeastChange, Together, WhatItTakes
from planner.plan.takes.sized_candidate import AskedFor
from planner.plan.truck.change_words import title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count
from planner.project.change_kinds import kind_called
from planner.quantities.kinds import DISTANCE
from planner.quantities.show import show_plain
from planner.quantities.text import clean, in_words

AND = ", and "


def title(asked: AskedFor) -> str:
    """`40x13.50R17LT on the wheels of 'tall', with 'longer stop screws'`."""
    changes = [f"'{clean(title_of(asked.opened, at))}'" for at in asked.opened.changes_of(asked.fitment)]
    named = f"{clean(asked.size)} on the wheels of '{clean(asked.like)}'" if asked.size else clean(asked.fitment)
    return f"{named}, with {' and '.join(changes)}" if changes else named


def change_words(opened: OpenProject, one: LeastChange) -> str:
    return one.lever.says(one.amount, opened.style)


def together_words(opened: OpenProject, way: Together) -> str:
    return AND.join(change_words(opened, one) for one in way)


def cost_words(opened: OpenProject, one: LeastChange) -> str:
    """`turning radius 26.4 ft to 30.1 ft`; empty where it moves nothing that people mind."""
    by = show_plain(one.amount, DISTANCE.smallest(), opened.style)
    own = {
        "lift": f"body {by} higher at the {one.lever.end}; measure springs, steering and brake hoses again",
        "bump stop": f"{by} less travel",
    }.get(one.lever.kind, "")
    return "; ".join([*([own] if own else []), *(_cost(opened, moved) for moved in one.costs)])


def _cost(opened: OpenProject, moved: FigureMoved) -> str:
    kind = opened.sheet.catalog.kind(moved.spot.node)
    assert kind is not None
    before, after = (show_plain(one.value, kind, opened.style) for one in (moved.before, moved.after))
    return f"{in_words(moved.spot.node)} {before} to {after}"


def cautions(found: WhatItTakes) -> Iterator[str]:
    """The danger of each kind of change that is offered, once."""
    changes = [one for stop in found.stops for one in stop.changes]
    kinds = dict.fromkeys(one.lever.kind for one in changes if one.lever.kind)
    yield from (caution for kind in kinds if (caution := kind_called(kind).caution))


def summary(found: WhatItTakes) -> str:
    """`5 stops in the way, 2 more that none of these changes clears, 6 that can't be judged yet`."""
    parts = [(found.stops, "a change here can clear"), (found.beyond, "none here clears")]
    told = [(len(each), words) for each, words in [*parts, (found.not_known, "can't be judged yet")] if each]
    numbers = [str(number) if at else count(number, "stop") for at, (number, _) in enumerate(told)]
    return ", ".join(f"{number} that {words}" for number, (_, words) in zip(numbers, told, strict=True))


def as_data(found: WhatItTakes, asked: AskedFor) -> dict[str, Any]:
    """All of it as plain data; amounts and values in SI."""
    return {
        "asked": asked.size or asked.fitment,
        "like": asked.like or None,
        "stops": [
            {
                "rule": stop.flag.rule.name,
                "where": stop.flag.where,
                "answer": stop.flag.verdict.answer,
                "short_by": None if stop.flag.verdict.margin is None else -stop.flag.verdict.margin.low,
                "unit": stop.flag.rule.kind.si if stop.flag.rule.kind else "",
                "changes": [_change_data(found.opened, one) for one in stop.changes],
            }
            for stop in found.stops
        ],
        "together": [[_change_data(found.opened, one) for one in way] for way in found.together],
        "none_clears": [{"rule": one.rule.name, "where": one.where} for one in found.beyond],
        "not_known": [{"rule": one.rule.name, "where": one.where, "needs": list(one.needs)} for one in found.not_known],
    }


def _change_data(opened: OpenProject, one: LeastChange) -> dict[str, Any]:
    return {
        "change": one.lever.name,
        "end": one.lever.end,
        "says": change_words(opened, one),
        "amount": one.amount,
        "sets": {entry.key: entry.at(one.amount) for entry in one.lever.entries},
        "moves": {name: [one.amount * part for part in way] for name, way in one.lever.obstacles},
        "costs": [
            {"figure": moved.spot.node, "before": moved.before.value, "after": moved.after.value} for moved in one.costs
        ],
    }
