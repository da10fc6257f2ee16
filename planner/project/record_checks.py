"""Faults of what is written down during a build: readings, wheels that came, quotes, dates that belong together."""

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from itertools import accumulate, pairwise

from planner.project.faults import Fault, as_key, plain
from planner.project.lines import Key
from planner.project.mock_ups import mock_up_faults
from planner.project.model_faults import model_fault
from planner.project.models.project import Project
from planner.project.models.wishes import Wishes
from planner.project.models.work import Part
from planner.project.photo_names import A_NAME, ACCEPTED, photo_named, steps_to
from planner.project.sides import has_sides
from planner.project.truck_keys import faults_in, truck_key
from planner.project.which_counts import MEASURED
from planner.quantities.text import normal_name

_ACCEPTED = "a single entry of the truck or of a fitment, such as axles.front.face_to_face"
_OWN_PLACE = "a place of its own for each"


def record_faults(project: Project) -> Iterator[Fault]:
    """Everything wrong with what was written down, each fault with its place."""
    yield from _readings(project)
    yield from _which_counts(project)
    yield from _wheels(project)
    for number, part in enumerate(project.parts):
        yield from _quotes(("parts", number), part, project.plan.currency)
        yield from _part_dates(("parts", number), part)
        yield from _payments(("parts", number), part)
    yield from _set_payments(project)
    yield from _stages(project)
    for number, task in enumerate(project.tasks):
        times = [*(one.on for one in task.earlier), task.on if task.state == "done" else None]
        for index, (before, after) in enumerate(pairwise(times)):
            own: Key = ("earlier", index + 1, "on") if index + 1 < len(task.earlier) else ("on",)
            yield from _not_before(("tasks", number, *own), after, before, "the time before it")
    yield from _wishes(project)
    yield from _photos(project)
    for number, change in enumerate(project.changes):
        for key, one in change.measured.items():
            at: Key = ("changes", number, "measured", key, "on")
            yield from _not_before(at, one.on, change.on, "the work was done")


def reading_key(project: Project, of: str | None) -> Key | None:
    """The entry that a reading is of, by its place in the file; None where it names no single entry."""
    entry = truck_key(project, of, MEASURED) if of else None
    return entry.key if entry is not None else None


def _readings(project: Project) -> Iterator[Fault]:
    """A reading with a value is of an entry, and read as it; one without, which format 1 had, may be of anything."""
    for number, reading in enumerate(project.readings):
        at: Key = ("readings", number)
        if reading.fitment is not None:
            yield from _fitment((*at, "fitment"), reading.fitment, project)
            yield from mock_up_faults(project, number)  # what is read is the room at an obstacle, and no entry
            continue
        if reading.value is None:
            continue
        entry = truck_key(project, reading.of, MEASURED) if reading.of else None
        if entry is None:
            yield Fault("this entry can't be measured", (*at, "of"), None, reading.of or "", _ACCEPTED)
            continue
        if entry.key[0] == "fitments":
            yield from _fitment((*at, "of"), str(entry.key[1]), project)
        if reading.side is not None and not has_sides(entry.key):
            accepted = "no side: an obstacle says its own" if entry.key[0] == "obstacles" else "no side"
            yield Fault(f"{as_key(entry.key)} has no sides", (*at, "side"), None, reading.side, accepted)
        for error in faults_in(entry, reading.value):
            fault = model_fault(error)
            yield fault._replace(key=(*at, "value", *fault.key[len(entry.within) :]))


def _which_counts(project: Project) -> Iterator[Fault]:
    for written, which in project.which_counts.items():
        at: Key = ("which_counts", written)
        entry = truck_key(project, written, MEASURED)
        if entry is None:
            yield Fault("this entry can't be measured", at, None, written, f"{_ACCEPTED}, in quotes")
            continue
        own = [
            one
            for one in project.readings
            if one.value is not None and one.fitment is None and reading_key(project, one.of) == entry.key
        ]
        if not own:
            yield Fault(f"no reading of {as_key(entry.key)} has a value", at, None, str(which))
        elif isinstance(which, int) and which > len(own):
            yield Fault("", at, None, str(which), f"a reading's number, 1 to {len(own)}, 'middle' or 'worse'")


def _wheels(project: Project) -> Iterator[Fault]:
    """A place takes one wheel, or an inner and an outer one; a truck may carry several spares.

    What was sent back stands nowhere.
    """
    marks: dict[str, int] = {}
    places: dict[str, int] = {}
    for number, wheel in enumerate(project.wheels):
        if wheel.mark is not None:
            first = marks.setdefault(normal_name(wheel.mark).casefold(), number)
            if first != number:
                yield _one_mark(project, first, number)
        ordered = [one.ordered for one in project.parts if one.ordered and _is_wheels(one)]
        if ordered:
            at: Key = ("wheels", number, "received")
            yield from _not_before(at, wheel.received, min(ordered), "wheels were ordered", wheel.mark)
        if wheel.position in (None, "spare") or wheel.state == "sent back":
            continue
        whole = wheel.position.removesuffix(" inner").removesuffix(" outer")
        taken = next((at for at in _shared(wheel.position, whole) if at in places), None)
        if taken is not None:
            told = f"two wheels are in one place; the other is {_wheel_name(project, places[taken])}, {taken}"
            other: Key = ("wheels", places[taken], "position")
            yield Fault(told, ("wheels", number, "position"), None, wheel.position, _OWN_PLACE, (other,))
        places.setdefault(wheel.position, number)


def _one_mark(project: Project, first: int, number: int) -> Fault:
    """Two wheels by one mark: one wheel in two places, or two that nobody can tell apart."""
    other, wheel = project.wheels[first], project.wheels[number]
    told = f"two wheels have the same mark; the other is wheels[{first}]"
    if other.position is not None and wheel.position is not None and other.position != wheel.position:
        told = f"one wheel in two places, {other.position} by wheels[{first}] and {wheel.position} here"
    against: tuple[Key, ...] = (("wheels", first, "mark"),)
    return Fault(told, ("wheels", number, "mark"), None, wheel.mark or "", "a mark of its own for each", against)


def _wheel_name(project: Project, number: int) -> str:
    mark = project.wheels[number].mark
    return f"{plain(mark)} (wheels[{number}])" if mark else f"wheels[{number}]"


def _is_wheels(part: Part) -> bool:
    if part.kind is not None:
        return "wheels" in part.kind
    return part.id is not None and (part.id == "wheels" or part.id.startswith("wheels_"))


def _shared(position: str, whole: str) -> tuple[str, ...]:
    """The places that a wheel at this one would share."""
    return (whole, f"{whole} inner", f"{whole} outer") if position == whole else (position, whole)


def _quotes(at: Key, part: Part, currency: str | None) -> Iterator[Fault]:
    """Prices that cannot be added, and more than one quote taken."""
    taken: int | None = None
    first: tuple[int, str] | None = None
    for number, quote in enumerate(part.quotes):
        here: Key = (*at, "quotes", number)
        if quote.taken and taken is not None:
            told = f"two quotes are marked as taken; the other is {as_key((*at, 'quotes', taken))}"
            yield Fault(told, (*here, "taken"), None, "yes", "one of them taken", ((*at, "quotes", taken, "taken"),))
        taken = number if quote.taken and taken is None else taken
        if quote.currency is None:
            continue
        if currency is not None and quote.currency != currency:
            told = "a quote in a different currency than the project's"
            yield Fault(told, (*here, "currency"), None, quote.currency, f"{plain(currency)}, as plan.currency says")
        elif first is not None and quote.currency != first[1]:
            told = (
                f"two quotes of one part in two currencies; {as_key((*at, 'quotes', first[0]))} is in {plain(first[1])}"
            )
            yield Fault(told, (*here, "currency"), None, quote.currency, "one currency for all")
        first = first or (number, quote.currency)


def _part_dates(at: Key, part: Part) -> Iterator[Fault]:
    name = part.id or part.title
    yield from _not_before((*at, "arrived"), part.arrived, part.ordered, "it was ordered", name)
    yield from _not_before((*at, "promised"), part.promised, part.ordered, "it was ordered", name)
    for number, quote in enumerate(part.quotes):
        if quote.taken:
            yield from _not_before(
                (*at, "ordered"), part.ordered, quote.on, f"quote {number + 1}, which was taken", name
            )
    yield from _paid_before_order(at, part)
    paid = [payment.on for payment in part.payments if payment.on is not None and not payment.refund]
    for number, payment in enumerate(part.payments):
        if payment.refund and paid:
            here: Key = (*at, "payments", number, "on")
            yield from _not_before(here, payment.on, min(paid), "anything was paid", name)


def _paid_before_order(at: Key, part: Part) -> Iterator[Fault]:
    """Money that went out before the order; what came back before it as well was of an order given up."""
    if part.ordered is None:
        return
    before = [(number, one) for number, one in enumerate(part.payments) if one.on and one.on < part.ordered]
    out = [(number, one) for number, one in before if not one.refund]
    back = sum((one.amount or Decimal(0) for _, one in before if one.refund), Decimal(0))
    if out and sum((one.amount or Decimal(0) for _, one in out), Decimal(0)) > back:
        number, one = out[-1]
        here: Key = (*at, "payments", number, "on")
        yield from _not_before(here, one.on, part.ordered, "it was ordered", part.id or part.title)


def _payments(at: Key, part: Part) -> Iterator[Fault]:
    """More paid than the part costs, and more paid back than was paid; told where it goes past that."""
    price = part.price if part.price is not None else next((one.price for one in part.quotes if one.taken), None)
    out = [(number, one.amount) for number, one in enumerate(part.payments) if one.amount and not one.refund]
    back = [(number, one.amount) for number, one in enumerate(part.payments) if one.amount and one.refund]
    paid, repaid = sum((one for _, one in out), Decimal(0)), sum((one for _, one in back), Decimal(0))
    of = f" for {plain(name)}" if (name := part.id or part.title) else ""
    all_known = all(one.amount is not None for one in part.payments)
    if repaid > paid and all_known:
        number = _past(back, paid)
        accepted = f"no more than the {_money(paid)} you paid"
        told = _money(dict(back)[number])
        yield Fault(f"you got back more{of} than you paid", (*at, "payments", number, "amount"), None, told, accepted)
    if price is not None and paid - repaid > price * part.quantity:
        number = _past(out, price * part.quantity + repaid)
        accepted = f"{part.quantity} × {_money(price)} = {_money(price * part.quantity)} at most, together"
        told = _money(dict(out)[number])
        yield Fault(f"you paid more{of} than it costs", (*at, "payments", number, "amount"), None, told, accepted)


def _set_payments(project: Project) -> Iterator[Fault]:
    """More paid for a candidate's tires and wheels, where they have no price of their own, than its set costs."""
    for name, fitment in project.fitments.items():
        own = [(at, part) for at, part in enumerate(project.parts) if _is_in_set(part, name)]
        paid = [
            (("parts", at, "payments", number, "amount"), -one.amount if one.refund else one.amount)
            for at, part in own
            for number, one in enumerate(part.payments)
            if one.amount
        ]
        if fitment.price is None or sum((amount for _, amount in paid), Decimal(0)) <= fitment.price:
            continue
        sums = accumulate(amount for _, amount in paid)
        key, amount = next(one for one, sum_ in zip(paid, sums, strict=True) if sum_ > fitment.price)
        told = f"more is paid for the set of {plain(name)} than it costs"
        yield Fault(told, key, None, _money(amount), f"{_money(fitment.price)} at most, together")


def _is_in_set(part: Part, fitment: str) -> bool:
    """Whether a part is of a candidate's set and costs what that does."""
    priced = part.price is not None or any(one.price is not None for one in part.quotes)
    return not priced and part.kind in ("tires", "wheels", "tires and wheels") and part.used_for == [fitment]


def _past(amounts: Sequence[tuple[int, Decimal]], most: Decimal) -> int:
    """The number of the one with which the sum goes past the most."""
    sums = accumulate(amount for _, amount in amounts)
    return next(number for (number, _), sum_ in zip(amounts, sums, strict=True) if sum_ > most)


def _money(amount: Decimal) -> str:
    """`1425` for what is read as 1425.0000."""
    return f"{amount.normalize():,f}"


def _stages(project: Project) -> Iterator[Fault]:
    """Each names fitments and changes that there are, and none begins before the one above it."""
    named = [change.name for change in project.changes if change.name]
    before: date | None = None
    for number, stage in enumerate(project.plan.stages):
        at: Key = ("plan", "stages", number)
        for end, fitment in (("front", stage.front), ("rear", stage.rear), ("spare", stage.spare)):
            if fitment is not None:
                yield from _fitment((*at, end), fitment, project)
        for index, name in enumerate(stage.changes):
            if name not in named:
                accepted = " or ".join(map(plain, named)) or "a change by its name; there is none under [[changes]] yet"
                yield Fault("", (*at, "changes", index), None, name, accepted)
        yield from _not_before((*at, "on"), stage.on, before, "the stage before it")
        before = stage.on or before


def _fitment(key: Key, name: str, project: Project) -> Iterator[Fault]:
    known = list(dict.fromkeys(("found", *project.fitments)))
    if name not in known:
        yield Fault("", key, None, name, " or ".join(known))


def _wishes(project: Project) -> Iterator[Fault]:
    wishes = [name for name in Wishes.model_fields if name != "order"]
    for number, name in enumerate(project.wishes.order):
        if name not in wishes:
            yield Fault("", ("wishes", "order", number), None, name, f"a wish by its name: {', '.join(wishes)}")


def _photos(project: Project) -> Iterator[Fault]:
    """A picture lies beside the project; no other file of the machine is ever opened for it."""
    for table in ("readings", "wheels", "parts", "tasks", "decisions"):
        for number, record in enumerate(getattr(project, table)):
            for index, written in enumerate(record.photos):
                yield from _picture((table, number, "photos", index), photo_named(written).name)
    if project.outline.photo is not None:
        yield from _picture(("outline", "photo"), project.outline.photo, A_NAME)


def _picture(key: Key, name: str, accepted: str = ACCEPTED) -> Iterator[Fault]:
    if not steps_to(name):
        yield Fault("", key, None, name, accepted)


def _not_before(
    key: Key, later: date | None, earlier: date | None, what: str, name: str | None = None
) -> Iterator[Fault]:
    if later is not None and earlier is not None and later < earlier:
        told = f"the dates of {plain(name)} run backward" if name else ""
        yield Fault(told, key, None, str(later), f"not before {what}, {earlier}")
