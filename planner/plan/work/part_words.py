"""A part in words: what was asked for it, what was paid, when it comes; the same for command, screens and sheets."""

from collections.abc import Iterator

from planner.plan.truck.wording import count
from planner.plan.work.money import CostRow, amount
from planner.plan.work.parts import lead_time_of
from planner.plan.work.slips import late_words
from planner.project.models.work import Part, Quote
from planner.quantities.text import clean


def weeks_words(days: float) -> str:
    """How long something takes, in weeks.

    >>> weeks_words(7.0), weeks_words(42.0)
    ('1 week', '6 weeks')
    """
    return f"{days / 7:g} {'week' if days == 7 else 'weeks'}"


def bought_words(row: CostRow, currency: str) -> Iterator[str]:
    """Its quotes side by side, what was paid and is owed, and when it comes, a sentence a line."""
    if row.part is not None and row.part.quotes:
        yield from _quotes(row.part, currency)
    if row.paid is not None and row.part is not None:
        yield _payments(row, currency)
    if row.part is not None and row.part.as_ordered:
        yield f"ordered as: {'; '.join(clean(f'{name} {told}') for name, told in row.part.as_ordered.items())}"
    coming = row.coming
    if coming is not None and coming.days_late:
        wanted = f"would have come {coming.agreed} if you'd ordered it"
        by = f"to come {coming.agreed}" if row.state == "ordered" else wanted
        late = f"LATE by {count(coming.days_late, 'day')}: {by}; now {coming.expected} at the earliest"
        yield f"{late}: {late_words(coming)}"
    elif coming is not None:
        yield f"expected {coming.expected}"


def _quotes(part: Part, currency: str) -> Iterator[str]:
    """Every quote, the cheapest first; which of them counts, where none was taken or the price is another."""
    order = sorted(part.quotes, key=lambda one: (one.price is None, one.price or 0))
    yield f"quotes: {'; '.join(_quote(one, currency) for one in order)}"
    taken = next((one for one in part.quotes if one.taken), None)
    if part.price is not None:
        if taken is None or taken.price != part.price:
            yield f"the price you entered counts, {amount(part.price, currency)}, and no quote"
    elif taken is None:
        longest = lead_time_of(part)
        time = f" and the longest wait, {clean(longest.text)}," if longest is not None else ""
        yield (
            f"none is taken: the most expensive one{time} counts until one is"
            if len(part.quotes) > 1
            else "it is not taken yet"
        )


def _quote(one: Quote, currency: str) -> str:
    words = [
        amount(one.price, clean(one.currency or currency)) if one.price is not None else "no price yet",
        clean(one.lead_time.text) if one.lead_time is not None else "",
        clean(one.note or ""),
        f"of {one.on}" if one.on else "",
    ]
    told = f"{clean(one.seller or 'a seller without a name')} {', '.join(word for word in words if word)}"
    return f"{told} (TAKEN)" if one.taken else told


def _payments(row: CostRow, currency: str) -> str:
    part = row.part
    back = [one for one in part.payments if one.refund] if part is not None else []
    told = f"paid {amount(row.paid, currency)}"
    told += f" after {count(len(back), 'refund')}" if back else ""
    return told + (f", {amount(row.owed, currency)} still to pay" if row.owed else "")
