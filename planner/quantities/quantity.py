"""A quantity: a value that a person wrote, with its tolerance and the text as written; and a band worked out."""

from dataclasses import dataclass, field
from typing import NamedTuple


@dataclass(frozen=True, slots=True)
class Quantity:
    """`value` and `tolerance` (half-width, never negative) in the SI unit of the kind; `text` as the person wrote it.

    Two quantities are equal when value and tolerance are, however they were written. `stated` is False where the person
    gave no tolerance: what stands then is nothing, or what is assumed of such an entry.
    """

    value: float
    tolerance: float = 0.0
    text: str = field(default="", compare=False)
    stated: bool = field(default=True, compare=False)

    @property
    def assumed(self) -> bool:
        """Whether the tolerance is not the person's own, but what is assumed of such an entry."""
        return self.tolerance > 0 and not self.stated

    @property
    def low(self) -> float:
        return self.value - self.tolerance

    @property
    def high(self) -> float:
        return self.value + self.tolerance


class Band(NamedTuple):
    """A value worked out elsewhere, in SI, with a low and a high end that need not lie alike to both sides."""

    value: float
    low: float
    high: float
