"""Candidates side by side in words: the verdict on each, what it costs and takes, and what each row is called."""

from collections.abc import Sequence

from planner.plan.comparing import NOTHING, Answers, Candidate
from planner.plan.differing import Differing
from planner.plan.money import amount
from planner.plan.wording import count

MARKS = {"raised": "RAISED", "clear": "clear", "too close to call": "too close", "not known": "not known"}


def verdict(one: Candidate) -> str:
    """`0 stops, 12 cautions, 3 notes, 12 too close to call, 0 not known, 2 accepted`."""
    told = one.tally
    counts = [count(told.stops, "stop"), count(told.cautions, "caution"), count(told.notes, "note")]
    counts += [f"{told.too_close} too close to call", f"{told.not_known} not known"]
    counts += [f"{told.accepted} accepted"] if told.accepted else []
    return ", ".join(counts)


def short_verdict(one: Candidate) -> str:
    """What presses, for a narrow place."""
    told = one.tally
    counts = [count(told.stops, "stop"), count(told.cautions, "caution")]
    return ", ".join([*counts, f"{told.too_close} too close", f"{told.not_known} not known"])


def costs(candidates: Sequence[Candidate]) -> list[tuple[str, ...]]:
    """Money and time, a row each: what it is, and a cell for each candidate."""
    return [
        ("price of the set", *(one.price or NOTHING for one in candidates)),
        ("whole build", *(amount(one.cost.total, one.cost.currency) for one in candidates)),
        ("left of the budget", *(_left(one) for one in candidates)),
        ("longest lead time", *(one.lead_time or NOTHING for one in candidates)),
        ("work done by", *(one.finish.isoformat() if one.finish else NOTHING for one in candidates)),
    ]


def mark(answer: str) -> str:
    return MARKS.get(answer, answer)


def flag_label(row: Answers) -> str:
    return f"{row.rule.notices}{f' ({row.where})' if row.where else ''}"


def figure_label(row: Differing) -> str:
    alike = f" and {row.more} more alike" if row.more else ""
    where = f" ({row.where}{alike})" if row.where else ""
    return f"{row.name.replace('.', ': ', 1).replace('_', ' ')}{where}"


def _left(one: Candidate) -> str:
    over = one.cost.over
    return NOTHING if over is None else amount(-over, one.cost.currency)
