"""What a part costs and how long it takes by its own entries and its quotes, and what was paid for it."""

from decimal import Decimal

from planner.project.models.work import Part, Quote
from planner.quantities.quantity import Quantity


def asked_quotes(part: Part) -> list[Quote]:
    """The quote that was taken, or all of them while none is."""
    return [quote for quote in part.quotes if quote.taken] or part.quotes


def price_of(part: Part) -> Decimal | None:
    """The price of one: the part's own, or else its quote's; the dearest while none is taken, never their sum."""
    if part.price is not None:
        return part.price
    return max((one.price for one in asked_quotes(part) if one.price is not None), default=None)


def lead_time_of(part: Part) -> Quantity | None:
    """From order to arrival: the part's own, or else its quote's; the longest while none is taken."""
    if part.lead_time is not None:
        return part.lead_time
    times = [one.lead_time for one in asked_quotes(part) if one.lead_time is not None]
    return max(times, key=lambda time: time.value, default=None)


def paid_for(part: Part) -> Decimal | None:
    """What was paid for a part and did not come back; None where no payment is entered."""
    sums = ((-1 if one.refund else 1) * (one.amount or Decimal(0)) for one in part.payments)
    return sum(sums, Decimal(0)) if part.payments else None
