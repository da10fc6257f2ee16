"""What a change would touch, in a few lines beside the field: what comes up first, then what moves."""

from collections.abc import Iterator

from planner.plan.change.changing import TriedChange
from planner.plan.change.effect_words import besides_records, money_and_time, move, name, tolerance_lines
from planner.plan.truck.change_words import read_otherwise
from planner.plan.truck.wording import count
from planner.quantities.text import clean

FEW = 5  # lines


def preview_lines(trial: TriedChange, most: int = FEW) -> list[str]:
    """The lines, the gravest first; the last says how many more there are."""
    lines = [clean(line) for line in _lines(trial)]
    if not lines:
        return ["It doesn't touch anything else."]
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], f"… and {len(lines) - most + 1} more"]


def _lines(trial: TriedChange) -> Iterator[str]:
    found = trial.effects
    yield from (f"± {line}" for line in tolerance_lines(trial))
    yield from (f"! {said}" for said in read_otherwise(trial.after, (key for key, *_ in trial.moved)))
    for one in besides_records(found.up):
        yield f"↑ {one.rule.severity.upper()} {f'{one.where}: ' if one.where else ''}{one.rule.notices}"
    for one in besides_records(found.cleared):
        yield f"↓ clears: {f'{one.where}: ' if one.where else ''}{one.rule.notices}"
    for part in found.parts:
        yield f"! in question: {part.title or part.id} ({part.state}): {'; '.join(part.why)}"
    for again in found.again:
        yield f"! look again: {again.record} {again.name}"
    if found.sheets:
        yield f"! {count(len(found.sheets), 'sheet')} out of date: {', '.join(one.name for one in found.sheets)}"
    for what, becomes in money_and_time(found):
        yield f"· {what}: {becomes}"
    for row in found.figures:
        if row.beyond:
            yield f"· {name(row)}: {move(row)}"
    for one in besides_records(found.changed):
        if one.beyond:
            yield f"· changes: {f'{one.where}: ' if one.where else ''}{one.rule.notices}"
    within = sum(1 + row.more for row in found.figures if not row.beyond)
    if within:
        yield f"· {count(within, 'figure moves', 'figures move')} within tolerance"
