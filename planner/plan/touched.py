"""Parts that a change puts in question, and what the build costs before and after it."""

from collections.abc import Iterable, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any, NamedTuple

from planner.plan.again import Again
from planner.plan.answering import FlagMoved
from planner.plan.opening import OpenProject
from planner.project.diary_entries import Moved
from planner.project.models.work import Part
from planner.quantities.text import clean

BOUGHT = ("ordered", "arrived", "fitted")
_WORDS_ONLY = ("description", "price", "lead_time")  # of a fitment: no part is wrong for another price
_REMARKS = ("note", "title", "phase", "on", "because", "takes")  # of a task


class InQuestion(NamedTuple):
    """A part that was ordered, or is here already, and why it may no longer be the right one."""

    id: str
    title: str
    state: str
    why: tuple[str, ...]


class Cost(NamedTuple):
    """What the build costs: its parts, each candidate's own price where it has one, and what it may cost."""

    parts: Decimal
    fitments: Mapping[str, Decimal]
    budget: Decimal | None
    currency: str


def in_question(
    before: OpenProject,
    after: OpenProject,
    moved: Iterable[Moved],
    flags: Iterable[FlagMoved],
    again: Iterable[Again],
) -> list[InQuestion]:
    """The parts bought for a fitment or a task that the change reaches."""
    reasons: dict[str, list[str]] = {}
    for key, _, _ in moved:
        match key:
            case ("fitments", str(name), *below) if not (below and below[0] in _WORDS_ONLY):
                reasons.setdefault(name, []).append(".".join(map(str, below)) or "all of it")
            case ("tasks", int(at), *below) if not (below and below[0] in _REMARKS):
                for opened in (before, after):
                    tasks = opened.project.tasks
                    reasons.setdefault(str(tasks[at].id) if at < len(tasks) else "", []).append("its task")
    why = {name: [f"{clean(name)} changes: {', '.join(dict.fromkeys(what))}"] for name, what in reasons.items()}
    for name in before.planned:
        if name not in after.planned:
            why.setdefault(name, []).append(f"{clean(name)} is no longer planned")
    for record in again:
        if record.record == "task":
            task = after.project.tasks[int(record.key[6:-1])]
            why.setdefault(str(task.id), []).append(f"{record.name} wants another look")
    for flag in flags:
        if flag.how == "up" and flag.rule.severity == "stop" and flag.now is not None:
            for name in {place[0] for place in (flag.now.verdict.place, *flag.now.places) if place[0]}:
                why.setdefault(name, []).append(f"{flag.rule.name} stops {clean(name)}")
    return [one for part in after.project.parts if (one := _part(part, after, why)) is not None]


def _part(part: Part, after: OpenProject, why: Mapping[str, list[str]]) -> InQuestion | None:
    if part.state not in BOUGHT:
        return None
    # One that is bought for what is planned now as well stays right when the other is no longer planned.
    serves = any(name in after.planned for name in part.used_for)
    found = [
        reason
        for name in part.used_for
        for reason in why.get(name, ())
        if not (serves and reason.endswith("is no longer planned"))
    ]
    if not found:
        return None
    return InQuestion(clean(part.id or ""), clean(part.title or ""), part.state, tuple(dict.fromkeys(found)))


def cost(opened: OpenProject) -> Cost:
    """What is bought, and what is wanted for the fitments that are planned and for all that is no fitment's."""
    project = opened.project
    total = Decimal(0)
    for part in project.parts:
        others = part.used_for and all(name in project.fitments and name not in opened.planned for name in part.used_for)
        if part.price is not None and part.state != "returned" and (part.state in BOUGHT or not others):
            total += part.price * part.quantity
    prices = {name: price(fitment.price) for name, fitment in project.fitments.items()}
    known = {name: one for name, one in prices.items() if one is not None}
    return Cost(total, known, project.plan.budget, clean(project.plan.currency or ""))


def price(written: Any) -> Decimal | None:
    """A price as an amount; None where none is written, or words."""
    try:
        amount = Decimal(str(written).replace(",", "")) if written is not None else None
    except InvalidOperation:
        return None
    return amount if amount is not None and amount.is_finite() else None


def money(amount: Decimal, currency: str) -> str:
    """`3,785.50 USD`, without cents that are nothing."""
    whole = amount == amount.to_integral_value()
    return f"{amount:,.{0 if whole else 2}f} {currency}".rstrip()
