"""Reading an amount of money: a number as people write them, within what anything for a truck may cost."""

from decimal import Decimal

from planner.quantities.amounts import plain
from planner.quantities.grammar import as_text
from planner.quantities.numerals import number
from planner.quantities.unreadable import Accepted, Unreadable

MOST = 10**12  # more than a truck costs in any currency, and little enough for a float to hold its cents
PER_UNIT = 10_000  # of one unit of the currency, to which an amount is read
ACCEPTED = Accepted("write a number from 0 to 999,999,999,999", "1,425 or 6.50")


def read_money(given: object) -> Decimal:
    """The amount that a person gave, as a text or as what TOML made of it; raises `Unreadable`.

    >>> read_money("1,425"), read_money(6.5)
    (Decimal('1425'), Decimal('6.5'))
    """
    said = as_text(given)
    if isinstance(given, bool) or not isinstance(given, (str, int, float)):
        raise Unreadable(said, "isn't an amount of money", ACCEPTED)
    written = plain(said, ACCEPTED)
    try:
        amount, end = number(written)
    except ValueError as fault:
        raise Unreadable(said, "isn't an amount of money", ACCEPTED) from fault
    if end != len(written):
        raise Unreadable(said, "isn't an amount of money", ACCEPTED)
    if amount >= MOST:
        raise Unreadable(said, "is more than anything on a truck costs", ACCEPTED)
    return Decimal(round(amount * PER_UNIT)) / PER_UNIT
