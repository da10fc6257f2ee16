"""What the build costs: each part with its price and state, what is promised and what is spent, against the budget."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from planner.plan.truck.change_words import planned_changes, title_of
from planner.plan.truck.project import OpenProject
from planner.plan.work.parts import (
    OF_A_SET,
    NeededPart,
    lead_days,
    paid_for,
    part_name,
    planned_parts,
    price_of,
    serving,
    set_days,
    set_kinds,
)
from planner.plan.work.slips import ExpectedPart
from planner.plan.work.task_list import Work
from planner.project.models.work import Part
from planner.quantities.text import clean

SPENT = frozenset({"ordered", "arrived", "fitted"})

PAID = SPENT | {"done"}  # of a change to the truck

IN_SET = "in the price of the set"

_CENT = Decimal("0.01")


class CostRow(NamedTuple):
    """One part, a change to the truck, or the price of a candidate's set as far as its own parts do not say it.

    `late` is set past its order-by date, `coming` where it has a day to come by; `because` says why it is in no sum.
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
    part: Part | None = None
    coming: ExpectedPart | None = None
    because: str = ""

    @property
    def total(self) -> Decimal | None:
        return None if self.price is None else self.price * self.quantity

    @property
    def paid(self) -> Decimal | None:
        """What was paid for it and did not come back; None where no payment is entered."""
        return None if self.part is None else paid_for(self.part)

    @property
    def spent(self) -> Decimal:
        """What is gone for it: its price once it is ordered, and before that or in no sum what was paid for it."""
        paid = self.paid or Decimal(0)
        if self.counts and self.state in PAID and self.total is not None:
            return self.total
        return max(paid, Decimal(0))

    @property
    def promised(self) -> Decimal:
        """What is still wanted for it."""
        return max(self.total - self.spent, Decimal(0)) if self.counts and self.total is not None else Decimal(0)

    @property
    def owed(self) -> Decimal | None:
        """What is still to be paid of what was ordered, where payments are entered."""
        if self.paid is None or self.total is None or self.state not in PAID:
            return None
        return max(self.total - self.paid, Decimal(0))


class Money(NamedTuple):
    """All rows; `promised` is still wanted, `spent` is ordered, here or fitted; `unpriced` have no price.

    `paid` and `owed` are of the parts whose payments are entered. While several candidates are planned the sums are of
    what they share, and `each` has what the whole build costs with each of them.
    """

    rows: tuple[CostRow, ...]
    promised: Decimal
    spent: Decimal
    unpriced: tuple[str, ...]
    budget: Decimal | None
    currency: str
    paid: Decimal | None = None
    owed: Decimal | None = None
    each: tuple[tuple[str, "Money"], ...] = ()

    @property
    def total(self) -> Decimal:
        return self.promised + self.spent

    @property
    def over(self) -> Decimal | None:
        """By how much it comes to more than the budget; less than nothing where some is left."""
        return None if self.budget is None else self.total - self.budget


def money(opened: OpenProject, listed: Work | None = None) -> Money:
    """What the plan costs; order-by dates come from the task list, where there is one."""
    needs = [NeededPart(part_name(part, at), part) for at, part in enumerate(opened.project.parts)]
    planned = planned_parts(opened)
    rows = [_row(opened, need, need in planned, listed) for need in needs]
    # Of one with a fault no price counts: how many there are may be what is not known.
    rows = [row._replace(price=None) if opened.fault_at("parts", at) else row for at, row in enumerate(rows)]
    for name in opened.planned:
        rows = _with_set(opened, name, rows, needs, listed)
    rows += _changes(opened)
    plan = opened.project.plan
    paid = [row.paid for row in rows if row.paid is not None]
    owed = [row.owed for row in rows if row.owed is not None]
    several = opened.planned if len(opened.planned) > 1 else ()
    return Money(
        rows=tuple(rows),
        promised=_sum(row.promised for row in rows),
        spent=_sum(row.spent for row in rows),
        unpriced=tuple(row.id for row in rows if row.counts and row.price is None),
        budget=plan.budget,
        currency=clean(plan.currency or ""),
        paid=_sum(paid) if paid else None,
        owed=_sum(owed) if owed else None,
        each=tuple((name, money(opened._replace(alone=name))) for name in several),
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
    shown = [("wanted", told.promised), ("spent", told.spent)]
    shown += [("paid so far", told.paid)] if told.paid is not None else []
    shown += [("still to pay of what is ordered", told.owed)] if told.owed is not None else []
    shown += [(f"together with {clean(name)}", one.total) for name, one in told.each] or [("together", told.total)]
    shown += [("budget", told.budget)] if told.budget is not None else []
    if told.over is not None and not told.each:
        shown.append(("OVER BY" if told.over > 0 else "left", abs(told.over)))
    return [(name, amount(value, told.currency)) for name, value in shown]


def _row(opened: OpenProject, need: NeededPart, planned: bool, listed: Work | None) -> CostRow:
    part = need.part
    order_by = listed.dates.order_by.get(need.id) if listed else None
    late = order_by is not None and listed is not None and order_by < listed.today
    because = _why_in_no_sum(opened, need, planned)
    return CostRow(
        id=need.id,
        title=clean(part.title or need.id),
        state=part.state,
        quantity=part.quantity,
        price=price_of(part),
        counts=not because,
        lead_days=lead_days(opened, need),
        order_by=order_by,
        late=late,
        part=part,
        coming=listed.dates.coming.get(need.id) if listed else None,
        because=because,
    )


def _why_in_no_sum(opened: OpenProject, need: NeededPart, planned: bool) -> str:
    """Why a part counts in no sum: what was bought is spent, whatever is planned now; what came back is not."""
    if need.part.state == "returned":
        return "it went back"
    if need.part.state in SPENT:
        return ""
    if not planned:
        return "it's for something that isn't planned"
    left_out = [name for name in opened.planned if name not in serving(opened, need)]
    return f"not with {', '.join(map(clean, left_out))}, and nothing is chosen yet" if left_out else ""


def _with_set(
    opened: OpenProject, name: str, rows: list[CostRow], needs: list[NeededPart], listed: Work | None
) -> list[CostRow]:
    """The rows with the price of a candidate's set, less what its own tires and wheels with a price come to.

    Where those are all of it the set has no row. One of them without a price is in the set's.
    """
    fitment = opened.project.fitments.get(name)
    if fitment is None or fitment.price is None:
        return rows
    own = {at: set_kinds(opened, need, name) for at, need in enumerate(needs)}
    own = {at: kinds for at, kinds in own.items() if kinds}
    priced = {at for at in own if rows[at].total is not None}
    if {kind for at in priced for kind in own[at]} >= set(OF_A_SET):
        return rows
    known = [rows[at].total if at in priced else rows[at].paid for at in own]
    rest = fitment.price - _sum(one for one in known if one is not None)
    if not rest:
        return rows
    title = clean(fitment.description or name) + (", the rest of the set" if rest != fitment.price else "")
    order_by = listed.dates.order_by.get(f"fitments.{name}") if listed else None
    late = order_by is not None and listed is not None and order_by < listed.today
    alone = len(opened.planned) == 1
    row = CostRow(
        id=f"fitments.{name}",
        title=title,
        state="wanted",
        quantity=1,
        price=rest if rest > 0 else None,
        counts=alone,
        lead_days=set_days(opened, name),
        order_by=order_by,
        late=late,
        because="" if alone else "nothing is chosen yet",
    )
    within = [
        one._replace(counts=False, because=IN_SET) if at in own and at not in priced and one.counts else one
        for at, one in enumerate(rows)
    ]
    return [*within, row]


def _changes(opened: OpenProject) -> list[CostRow]:
    """The changes to the truck that have a price and go with what is planned, each once; what is done was paid for."""
    planned = planned_changes(opened)
    return [
        CostRow(f"changes[{at}]", title_of(opened, at), one.state, 1, one.price, counts=True)
        for at, one in enumerate(opened.project.changes)
        if one.price is not None and (at in planned or one.state == "done")
    ]


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal(0))
