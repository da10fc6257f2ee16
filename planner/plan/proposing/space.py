"""What can be had: tires, rims, gear sets and speedometer gears, each with where it is known from."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from decimal import Decimal
from math import ceil, floor
from typing import NamedTuple

from planner.plan.truck.project import EVERYWHERE, OpenProject
from planner.project.faults import plain
from planner.project.models.entry import entries
from planner.project.models.tires import Tire
from planner.project.models.wishes import Offered
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean, normal_name
from planner.trade.tire.charts import sold_sizes
from planner.trade.tire.designation import INCH, read_designation
from planner.trade.tire.sizes import design_diameter, design_section_width
from planner.worksheet.declare import Impossible
from planner.worksheet.outcome import Spot

HALF_INCH = INCH / 2  # the step in which rims are made wider
HAIR = 1e-9  # m
DAY = 86_400.0
OFFERED = "offered"  # where something is known from: [[offered]], a candidate of the file, or the table of sizes
Written = tuple[tuple[str, object], ...]  # entries of a table of the file, as a person writes them


class SoldTire(NamedTuple):
    """A tire: its size, its entries as a candidate's tire has them, and the widest and narrowest rim in m."""

    size: str
    written: Written
    code: float
    rims: tuple[float, float]
    known_from: str
    price: Decimal | None = None
    days: float | None = None


class SoldRim(NamedTuple):
    """A rim `width` wide as written; made at any backspace where it has none of its own, in the maker's `step`."""

    code: float
    width: str
    meters: float
    known_from: str
    backspace: Quantity | None = None
    step: float | None = None
    price: Decimal | None = None
    days: float | None = None
    mass: str = ""


class SoldGears(NamedTuple):
    """A gear set in every driven axle, or what is in them now where it has no `ratio`."""

    ratio: str = ""
    known_from: str = "in the truck"
    price: Decimal | None = Decimal(0)
    days: float | None = 0.0


class SoldDrivenGear(NamedTuple):
    """A driven gear of the speedometer, or the one in it now where it has no `teeth`."""

    teeth: int | None = None
    known_from: str = "in the truck"
    price: Decimal | None = Decimal(0)
    days: float | None = 0.0


class Combination(NamedTuple):
    """One of each."""

    tire: SoldTire
    rim: SoldRim
    gears: SoldGears
    driven: SoldDrivenGear

    @property
    def parts(self) -> tuple[SoldTire, SoldRim, SoldGears, SoldDrivenGear]:
        return self.tire, self.rim, self.gears, self.driven


class SearchSpace(NamedTuple):
    """All that is combined; `template` is the candidate whose wheel is taken for all that has no choice here.

    `left_out` says what was offered and cannot be read.
    """

    template: str
    tires: tuple[SoldTire, ...]
    rims: tuple[SoldRim, ...]
    gears: tuple[SoldGears, ...]
    driven: tuple[SoldDrivenGear, ...]
    left_out: tuple[str, ...] = ()

    def pairs(self) -> Iterator[tuple[SoldTire, SoldRim]]:
        """Every tire on every rim of its code: on one that is made to order where its maker, or practice, allows it."""
        for tire in self.tires:
            for rim in self.rims:
                if rim.code == tire.code:
                    yield tire, rim
            low, high = tire.rims
            for count in range(ceil((low - HAIR) / HALF_INCH), floor((high + HAIR) / HALF_INCH) + 1):
                wide = f"{count / 2:g} in"
                if not any(one.code == tire.code and abs(one.meters - count * HALF_INCH) < HAIR for one in self.rims):
                    yield tire, SoldRim(tire.code, wide, count * HALF_INCH, "made to order")

    @property
    def geared(self) -> int:
        """How many ways there are to gear each of them."""
        return len(self.gears) * len(self.driven)


def search_space(opened: OpenProject, only: tuple[str, ...] = (), offered_alone: bool = False) -> SearchSpace:
    """What can be had: what is offered, what the candidates have, and unless `offered_alone` every size of the table.

    Of tires it may be `only` those in whose size, or the name they are offered under, one of these texts stands.
    """
    left_out: list[str] = []
    template = next((name for name in (opened.project.plan.chosen, *opened.candidates) if name and name != "found"), "")
    wanted = [normal_name(text).lower() for text in only]
    tires: dict[tuple[object, ...], SoldTire] = {}
    for one in _tires(opened, left_out, offered_alone):
        if not wanted or any(text in normal_name(one.size).lower() for text in wanted):
            tires.setdefault(_alike(one, tires), one)
    return SearchSpace(
        template,
        tuple(tires.values()),
        tuple(_rims(opened, left_out)),
        (SoldGears(), *_gears(opened)),
        (SoldDrivenGear(), *_driven(opened)),
        tuple(left_out),
    )


def offers(opened: OpenProject, kind: str) -> Iterator[tuple[int, Offered]]:
    """What is offered of a kind, with its place in the file; one that does not say goes by what it tells of itself."""
    for at, one in enumerate(opened.project.offered):
        said = one.kind or (
            "tire" if one.designation else "wheel" if one.rim_width else "gear set" if one.ratio else
            "speedometer gear" if one.teeth else None
        )  # fmt: skip
        if said == kind:
            yield at, one


def _alike(tire: SoldTire, there: Container[tuple[object, ...]]) -> tuple[object, ...]:
    """By what two tires are one: the size, and where both are offered what their makers say of it."""
    size = read_designation(tire.size)
    plain = (size.nominal_section_width, size.aspect_ratio, size.nominal_overall_diameter, size.rim_diameter_code)
    own = tuple(pair for pair in tire.written if pair[0] in ("overall_diameter", "section_width"))
    return (*plain, *own) if tire.known_from == OFFERED and plain in there else plain


def _tires(opened: OpenProject, left_out: list[str], offered_alone: bool) -> Iterator[SoldTire]:
    for at, one in offers(opened, "tire"):
        raw = opened.opened.data["offered"][at]
        names = ("designation", "overall_diameter", "section_width", "mass")
        written = {name: raw[name] for name in names if name in raw} | {"size_from": "maker"}
        if "overall_diameter" not in raw:
            written["size_from"] = "designation"
        yield from _tire(opened, f"offered[{at}]", one.designation, written, OFFERED, left_out, one.price, _days(one))
    if offered_alone:
        return
    for name in opened.candidates:
        fitment = opened.project.fitments[name]
        ends = [fitment.tire] if fitment.tire.designation else [fitment.front.tire, fitment.rear.tire]
        if len({one.designation for one in ends}) == 1 and ends[0].designation:
            table = opened.opened.data["fitments"][name]
            raw = table.get("tire") or table.get("front", {}).get("tire", {})
            yield from _tire(opened, f"fitments.{name}.tire", ends[0].designation, dict(raw), name, left_out)
    for size in sold_sizes():
        written = {"designation": size.designation, "size_from": "designation"}
        if size.diameter:
            written |= {"overall_diameter": size.diameter, "section_width": size.section_width, "size_from": "maker"}
        known_from = f"{size.source}{'' if size.standing == 'read' else f' ({size.standing})'}"
        yield from _tire(opened, size.designation, size.designation, written, known_from, left_out)


def _tire(
    opened: OpenProject,
    key: str,
    size: str | None,
    written: Mapping[str, object],
    known_from: str,
    left_out: list[str],
    price: Decimal | None = None,
    days: float | None = None,
) -> Iterator[SoldTire]:
    if not size:
        left_out.append(f"{key}: no designation; enter its size as molded, such as 37x12.50R17LT")
        return
    tire = Tire.model_validate({name: value for name, value in written.items() if name in entries(Tire)})
    try:
        said = read_designation(size)
        wide = design_section_width(size) if tire.section_width is None else tire.section_width.value
        if tire.overall_diameter is None:
            design_diameter(size)
    except Impossible as trouble:
        left_out.append(f"{key}: {plain(size)}: {clean(trouble.accepted)}")
        return
    low, high = (opened.sheet.value(Spot(f"{end}_rim_ratio", EVERYWHERE)) * wide for end in ("narrowest", "widest"))
    rims = (
        low if tire.narrowest_rim is None else tire.narrowest_rim.value,
        high if tire.widest_rim is None else tire.widest_rim.value,
    )
    yield SoldTire(size, tuple(written.items()), said.rim_diameter_code, rims, known_from, price, days)


def _rims(opened: OpenProject, left_out: list[str]) -> Iterator[SoldRim]:
    for at, one in offers(opened, "wheel"):
        if one.rim_diameter is None or one.rim_width is None:
            lacks = "rim_diameter" if one.rim_diameter is None else "rim_width"
            left_out.append(f"offered[{at}]: no {lacks}")
            continue
        step = None if one.backspace_step is None else one.backspace_step.value
        mass = "" if one.mass is None else one.mass.text
        wide = one.rim_width
        code = one.rim_diameter.value
        yield SoldRim(code, wide.text, wide.value, OFFERED, one.backspace, step, one.price, _days(one), mass)


def _gears(opened: OpenProject) -> Iterator[SoldGears]:
    """What there is for every axle of which a ratio is known: both go by one, or they fight each other."""
    axles = opened.project.axles
    there = {name: axle for name, axle in (("front", axles.front), ("rear", axles.rear)) if axle.ratio is not None}
    offered = [one for _, one in offers(opened, "gear set") if one.ratio is not None]
    now = {axle.ratio.value for axle in there.values() if axle.ratio is not None}
    ratios = {one.ratio.value: one.ratio.text for one in offered if one.ratio is not None}
    listed = {name: {one.value: one.text for one in axle.gear_sets or ()} for name, axle in there.items()}
    for texts in listed.values():
        ratios = texts | ratios
    for ratio, written in ratios.items():
        sets: list[Offered | None] = []
        for name in there:
            own = [one for one in offered if one.ratio and one.ratio.value == ratio]
            fits = [one for one in own if one.axle in (name, "both", None)]
            cheapest = min(fits, key=lambda one: one.price or Decimal("Infinity"), default=None)
            sets += [cheapest] if fits or ratio in listed[name] else []
        if ratio in now or not there or len(sets) < len(there):
            continue
        prices = [None if one is None else one.price for one in sets]
        days = [None if one is None else _days(one) for one in sets]
        price = None if None in prices else sum((one for one in prices if one is not None), Decimal(0))
        longest = None if None in days else max(one for one in days if one is not None)
        yield SoldGears(written, OFFERED if any(sets) else "gear_sets of the axles", price, longest)


def _days(one: Offered) -> float | None:
    """How long something that is offered takes to come."""
    return 0.0 if one.in_stock else None if one.lead_time is None else one.lead_time.value / DAY


def _driven(opened: OpenProject) -> Iterator[SoldDrivenGear]:
    for _, one in offers(opened, "speedometer gear"):
        if one.teeth is not None:
            yield SoldDrivenGear(one.teeth, OFFERED, one.price, _days(one))
