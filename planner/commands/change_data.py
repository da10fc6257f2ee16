"""What a change touches as one object of plain data, as `planner change --json` prints it."""

from collections.abc import Iterable
from typing import Any

from planner.commands.check import again_data, finite, flag_data
from planner.plan.change.changing import TriedChange
from planner.plan.change.effect_words import summary
from planner.plan.change.figure_changes import FigureChange
from planner.plan.change.flag_changes import FlagChange
from planner.plan.truck.change_words import read_otherwise
from planner.plan.work.money import Money
from planner.project.diary_entries import KeyChange
from planner.project.faults import as_key


def as_data(trial: TriedChange, number: int | None) -> dict[str, Any]:
    """All of it; numbers in SI, `number` is its entry in the diary once it is made."""
    found = trial.effects
    return {
        "made": number is not None,
        "diary": number,
        "changes": changes_data(trial.moved),
        "begins": list(trial.begun),
        "read_otherwise": list(read_otherwise(trial.after, (key for key, *_ in trial.moved))),
        "summary": summary(found),
        "tolerances": {
            "typed": list(trial.typed),
            "narrowed": [one.says for one in trial.narrowed],
            "cleared_by_that_alone": [_flag_data(one) for one in trial.cleared_so],
            "assumed_at_first_save": list(trial.widening.keys) if trial.widening else [],
        },
        "figures": [_figure_data(row) for row in found.figures],
        "flags": [_flag_data(one) for one in found.flags],
        "look_again": [again_data(one) for one in found.again],
        "sheets_out_of_date": [again_data(one) for one in found.sheets],
        "parts_in_question": [part._asdict() for part in found.parts],
        "cost": [cost_data(one) for one in found.cost],
        "finish": [one and one.isoformat() for one in found.finish],
    }


def changes_data(moved: Iterable[KeyChange]) -> list[dict[str, Any]]:
    """Each entry that changes, with what stood there and what will."""
    return [{"key": as_key(key), "was": plain_data(was), "now": plain_data(now)} for key, was, now in moved]


def _figure_data(row: FigureChange) -> dict[str, Any]:
    return {
        "figure": row.name,
        "where": row.where,
        "and_more_alike": row.more,
        "before": row.numbers[0] and finite(row.numbers[0]),
        "after": row.numbers[1] and finite(row.numbers[1]),
        "unit": row.unit,
        "shown": list(row.texts),
        "by": row.by,
        "size": finite(row.size),
        "beyond_tolerance": row.beyond,
    }


def _flag_data(one: FlagChange) -> dict[str, Any]:
    return {
        "how": one.how,
        "rule": one.rule.name,
        "severity": one.rule.severity,
        "where": one.where,
        "beyond_tolerance": one.beyond,
        "was": flag_data(one.was) if one.was else None,
        "now": flag_data(one.now) if one.now else None,
    }


def cost_data(cost: Money) -> dict[str, Any]:
    """What the build costs as plain data."""
    return {
        "total": float(cost.total),
        "spent": float(cost.spent),
        "no_price": list(cost.unpriced),
        "budget": None if cost.budget is None else float(cost.budget),
        "currency": cost.currency,
    }


def plain_data(value: Any) -> Any:
    """TOML data as JSON has it."""
    if isinstance(value, dict):
        return {name: plain_data(inner) for name, inner in value.items()}
    if isinstance(value, list):
        return [plain_data(inner) for inner in value]
    return value if value is None or isinstance(value, (bool, int, float, str)) else str(value)
