"""What a change would touch, in a few lines beside the field: how much of each, what comes up, then what moves."""

from collections.abc import Iterator

from planner.plan.change.changing import TriedChange
from planner.plan.change.effect_groups import counts_line, effect_groups
from planner.plan.change.effect_words import besides_records, money_and_time, move, name, tolerance_lines
from planner.plan.truck.change_words import read_otherwise
from planner.quantities.text import clean

FEW = 6  # lines
ALL_OF_IT = "F6 or a click shows everything"


def preview_lines(trial: TriedChange, most: int = FEW) -> list[str]:
    """How many there are of each, then the lines, the gravest first; the last says how many more there are."""
    counted, lines = counts_line(effect_groups(trial)), [clean(line) for line in _lines(trial)]
    if not counted:
        return ["It doesn't touch anything else."]
    lines.insert(0, f"touches: {counted}")
    if len(lines) <= most - 1:
        return [*lines, ALL_OF_IT]
    return [*lines[: most - 1], f"… and {len(lines) - most + 1} more; {ALL_OF_IT}"]


def _lines(trial: TriedChange) -> Iterator[str]:
    found = trial.effects
    yield from (f"± {line}" for line in tolerance_lines(trial))
    yield from (f"! {said}" for said in read_otherwise(trial.after, (key for key, *_ in trial.moved)))
    for one in besides_records(found.up):
        yield f"↑ {one.rule.severity.upper()} {one.notice}"
    for one in besides_records(found.cleared):
        yield f"↓ clears: {one.notice}"
    for part in found.parts:
        yield f"! in question: {part.title or part.id} ({part.state}): {'; '.join(part.why)}"
    for again in found.again:
        yield f"! look again: {again.record} {again.name}"
    for what, becomes in money_and_time(found):
        yield f"· {what}: {becomes}"
    for row in found.figures:
        if row.beyond:
            yield f"· {name(row)}: {move(row)}"
    for one in besides_records(found.changed):
        if one.beyond:
            yield f"· changes: {one.notice}"
