"""The parts that tasks need: which of the project's parts each name means, whether they are there, what each costs."""

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from functools import cache
from typing import NamedTuple

from planner.plan.truck.project import OpenProject
from planner.project.models.work import Part, Quote
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean
from planner.tasks.kind import StandingTask
from planner.tasks.sequence import standing

# What a part that says its kind goes by, whatever it is called.
OF_KIND = {"wheels": ("wheels",), "tires": ("tires",), "tires and wheels": ("wheels", "tires"), "gear set": ("gears",)}

# What one is by its title, where neither its kind nor its id says what it is; what follows `for` is another thing.
TITLED = {
    "wheels": re.compile(r"\b(?:wheels|rims)\b|\b(?:wheel|rim)$"),
    "tires": re.compile(r"\b(?:tires|tyres)\b|\b(?:tire|tyre)$"),
    "gears": re.compile(r"\bgears\b|\bgear sets?$"),
}
# Or by its size alone: `five 37x12.50R17LT`, `17x9, steel`. What stands beside it may make it another thing.
_TIRE_SIZE = re.compile(r"\d{2}x\d{1,2}\.\d{1,2} ?[-rb] ?\d{2}|\d{3}/\d{2} ?[-rb] ?\d{2}|\b\d{1,2}\.\d{2} ?[-r] ?\d{2}")
_NO_TIRE = re.compile(r"\b(?:tube|flap|chain|wheel|rim|valve|cover|bag|gear)")
_WHEEL_SIZE = re.compile(r"\b(?:1[3-9]|2[0-4])(?:\.5)? ?[x×] ?(?:[4-9]|1[0-4])(?:\.\d+)?\b")
_BESIDE_SIZE = re.compile(r"[\W\d]|\b(?:one|two|four|five|six|seven|eight|set|pairs?|new|used|spare|steel)\b")
_HEAD = re.compile(r"[,;:(]|\b(?:for|from|in|of|on|to|with)\b")

OF_A_SET = ("wheels", "tires")  # what a candidate's own price and lead time are for

THERE = frozenset({"arrived", "fitted"})
BOUGHT = THERE | {"ordered"}

DAY = 86400.0  # s


class NeededPart(NamedTuple):
    """A part that a task needs, by its id in the project."""

    id: str
    part: Part

    @property
    def called(self) -> str:
        """What people call it: its id, or its title where it has none."""
        return clean(self.part.id or self.part.title or self.id)

    @property
    def there(self) -> bool:
        return self.part.state in THERE

    @property
    def ordered(self) -> bool:
        return self.part.state in BOUGHT


def part_name(part: Part, at: int) -> str:
    """What a part is called: its id, or its place in the file where it has none."""
    return part.id or f"parts[{at}]"


def planned_parts(opened: OpenProject) -> list[NeededPart]:
    """The parts of what is planned: all but those that are for other fitments alone."""
    needs = [NeededPart(part_name(part, at), part) for at, part in enumerate(opened.project.parts)]
    return [need for need in needs if serving(opened, need)]


def serving(opened: OpenProject, need: NeededPart) -> tuple[str, ...]:
    """The planned fitments that a part is for; one that names a task, or no fitment, is for each of them."""
    served = [name for name in need.part.used_for if name in opened.project.fitments]
    every = not served or len(served) < len(need.part.used_for)
    return tuple(name for name in opened.planned if every or name in served)


def matching_parts(parts: Iterable[NeededPart], names: Sequence[str]) -> list[NeededPart]:
    """The parts that go by these names: `nuts` is also `nuts_left`, and what says its kind goes by that."""
    return [need for need in parts if any(_goes_by(need, name) for name in names)]


def _goes_by(need: NeededPart, name: str) -> bool:
    return _called(need.id, name) or name in OF_KIND.get(need.part.kind or "", ()) or by_title(need, name)


def _called(id_: str, name: str) -> bool:
    return id_ == name or id_.startswith(f"{name}_")


def by_title(need: NeededPart, name: str) -> bool:
    """Whether a part is that by its title alone: `seven wheels` and `five 17x9` are, `nuts for the wheels` are not."""
    if name not in TITLED or need.part.kind is not None or any(_called(need.id, one) for one in _part_names()):
        return False
    heads = [head.strip() for head in _HEAD.split((need.part.title or "").lower())]
    head = next((one for one in heads if re.search("[a-z]{3}", one)), "")
    return TITLED[name].search(head) is not None or (bool(heads) and _by_size(heads[0], name))


def _by_size(head: str, name: str) -> bool:
    if name == "tires":
        return _TIRE_SIZE.search(head) is not None and _NO_TIRE.search(head) is None
    return name == "wheels" and bool(_WHEEL_SIZE.search(head)) and not _BESIDE_SIZE.sub("", _WHEEL_SIZE.sub("", head))


@cache
def _part_names() -> frozenset[str]:
    """The names by which tasks know parts."""
    return frozenset(name for task in standing() for name in (*task.parts, *task.orders))


def set_kinds(opened: OpenProject, need: NeededPart, fitment: str) -> tuple[str, ...]:
    """Which of a candidate's own tires and wheels a part is: by its kind, or by its name where it says none.

    One that names no fitment is for each of them; what went back is nobody's.
    """
    served = [name for name in need.part.used_for if name in opened.project.fitments]
    if need.part.state == "returned" or (served and fitment not in served):
        return ()
    own = need.part.kind is None or need.part.kind in OF_KIND
    return tuple(name for name in OF_A_SET if own and matching_parts([need], (name,)))


def needed_parts(parts: Sequence[NeededPart], id_: str, task: StandingTask | None) -> tuple[NeededPart, ...]:
    """The parts that a task needs: by its own names for them, or because the part says that it is for this task."""
    own = matching_parts(parts, task.parts) if task else []
    for need in parts:
        if need not in own and (id_ in need.part.used_for or (task is not None and task.id in need.part.used_for)):
            own.append(need)
    return tuple(own)


def lead_days(opened: OpenProject, need: NeededPart) -> float | None:
    """Days from order to arrival: the part's own, its quote's, or else the longest of the sets that it is of."""
    own = lead_time_of(need.part)
    if own is not None:
        return float(own.value) / DAY
    times = [set_days(opened, name) for name in opened.planned if set_kinds(opened, need, name)]
    return max((one for one in times if one is not None), default=None)


def set_days(opened: OpenProject, fitment: str) -> float | None:
    """Days from order to arrival of a candidate's own tires and wheels; None where it does not say."""
    one = opened.project.fitments.get(fitment)
    return None if one is None or one.lead_time is None else float(one.lead_time.value) / DAY


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
