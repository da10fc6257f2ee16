"""What the build costs: each part with its price and state, what is promised and what is spent, against the budget."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from planner.plan.truck.change_words import planned_changes, title_of
from planner.plan.truck.project import OpenProject
from planner.plan.work.parts import NeededPart, lead_days, part_name, planned_parts
from planner.plan.work.task_list import Work
from planner.quantities.text import clean

SPENT = frozenset({"ordered", "arrived", "fitted"})

PAID = SPENT | {"done"}  # of a change to the truck

_CENT = Decimal("0.01")


class CostRow(NamedTuple):
    """One part, a change to the truck, or the price of a whole fitment of which no part is listed.

    `late` is set past its order-by date.
    """

    id: str
    title: str
    state: str
    quantity: int
    price: Decimal | None
    counts: bool
    lead_days: float | None = None
    order_by: date | None = None
    late: bool = False

    @property
    def total(self) -> Decimal | None:
        return None if self.price is None else self.price * self.quantity


class Money(NamedTuple):
    """All rows; `promised` is still wanted, `spent` is ordered, here or fitted; `unpriced` have no price."""

    rows: tuple[CostRow, ...]
    promised: Decimal
    spent: Decimal
    unpriced: tuple[str, ...]
    budget: Decimal | None
    currency: str

    @property
    def total(self) -> Decimal:
        return self.promised + self.spent

    @property
    def over(self) -> Decimal | None:
        """By how much it comes to more than the budget; less than nothing where some is left."""
        return None if self.budget is None else self.total - self.budget


def money(opened: OpenProject, listed: Work | None = None) -> Money:
    """What the plan costs; order-by dates come from the task list, where there is one."""
    planned = planned_parts(opened)
    rows = [_row(opened, need, need in planned, listed) for need in _all_parts(opened)]
    # Of one with a fault no price counts: how many there are may be what is not known.
    rows = [row._replace(price=None) if opened.fault_at("parts", at) else row for at, row in enumerate(rows)]
    rows += [*_whole_fitments(opened), *_changes(opened)]
    counted = [row for row in rows if row.counts]
    plan = opened.project.plan
    return Money(
        rows=tuple(rows),
        promised=_sum(row for row in counted if row.state not in PAID),
        spent=_sum(row for row in counted if row.state in PAID),
        unpriced=tuple(row.id for row in counted if row.price is None),
        budget=plan.budget,
        currency=clean(plan.currency or ""),
    )


def amount(value: Decimal | None, currency: str = "") -> str:
    """An amount of money, cents only where there are any.

    >>> amount(Decimal("1425"), "USD"), amount(Decimal("6.5")), amount(None)
    ('1,425 USD', '6.50', '?')
    """
    if value is None:
        return "?"
    whole = value == value.to_integral_value()
    text = f"{value:,.0f}" if whole else f"{value.quantize(_CENT):,}"
    return f"{text} {currency}".rstrip()


def sums(told: Money) -> list[tuple[str, str]]:
    """What is wanted, spent, both together, and how that stands to the budget, as pairs of a name and an amount."""
    shown = [("wanted", told.promised), ("spent", told.spent), ("together", told.total)]
    shown += [("budget", told.budget)] if told.budget is not None else []
    if told.over is not None:
        shown.append(("OVER BY" if told.over > 0 else "left", abs(told.over)))
    return [(name, amount(value, told.currency)) for name, value in shown]


def _all_parts(opened: OpenProject) -> list[NeededPart]:
    return [NeededPart(part_name(part, at), part) for at, part in enumerate(opened.project.parts)]


def _row(opened: OpenProject, need: NeededPart, planned: bool, listed: Work | None) -> CostRow:
    part = need.part
    order_by = listed.dates.order_by.get(need.id) if listed else None
    # What was bought is spent, whatever is planned now; what came back is not.
    counts = part.state != "returned" and (planned or part.state in SPENT)
    late = order_by is not None and listed is not None and order_by < listed.today
    title = clean(part.title or need.id)
    return CostRow(
        need.id, title, part.state, part.quantity, part.price, counts, lead_days(opened, part), order_by, late
    )  # fmt: skip


def _whole_fitments(opened: OpenProject) -> list[CostRow]:
    """The one planned fitment by its own price, as long as none of its parts is listed."""
    rows = []
    for name in opened.planned if len(opened.planned) == 1 else ():
        fitment = opened.project.fitments.get(name)
        listed = any(name in part.used_for for part in opened.project.parts)
        if fitment is not None and fitment.price is not None and not listed:
            title = clean(fitment.description or name)
            rows.append(CostRow(f"fitments.{name}", title, "wanted", 1, fitment.price, counts=True))
    return rows


def _changes(opened: OpenProject) -> list[CostRow]:
    """The changes to the truck that have a price and go with what is planned, each once; what is done was paid for."""
    planned = planned_changes(opened)
    return [
        CostRow(f"changes[{at}]", title_of(opened, at), one.state, 1, one.price, counts=True)
        for at, one in enumerate(opened.project.changes)
        if one.price is not None and (at in planned or one.state == "done")
    ]


def _sum(rows: Iterable[CostRow]) -> Decimal:
    return sum((row.total for row in rows if row.total is not None), Decimal(0))
