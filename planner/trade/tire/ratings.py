"""What the marks on the sidewall allow: load, speed; how old the tire is; and what the spare's size says."""

from datetime import date, timedelta

from planner.quantities.kinds import Count, Duration, GreatestMass, GreatestSpeed, GreatestWeight, Length, Mass, Text
from planner.sources.citing import practice
from planner.sources.france import TIRE_ORDER
from planner.sources.un import R54
from planner.trade.tire.charts import load_capacities, speeds
from planner.trade.tire.designation import TireSize, read_designation
from planner.trade.tire.loading import STANDARD_GRAVITY, derated_load_capacity
from planner.trade.tire.sizes import design_diameter
from planner.worksheet.declare import Impossible, figure
from planner.worksheet.turning import least

DAY = 86400.0

BY_LOAD_INDEX = TIRE_ORDER.read("Annexe II; indices 59, 87, 104, 112, 118, 123, 131 and 143 from memory")


@figure(
    means="most load on one tire, single",
    ground=BY_LOAD_INDEX,
    form="load_capacity = the table's mass at load_index",
)
def load_capacity(load_index: Count) -> GreatestMass:
    """Mass in kg by load index, at the speed of the symbol; the load molded on the sidewall comes before it.

    Raises Impossible for an index that is not in the table.

    >>> load_capacity(121)
    1450.0
    """
    return _by_table("load_index", load_index)


@figure(
    means="most load on one of two tires side by side",
    ground=BY_LOAD_INDEX,
    form="dual_load_capacity = the table's mass at load_index_dual",
)
def dual_load_capacity(load_index_dual: Count) -> GreatestMass:
    """Mass in kg by the index behind the stroke, as 116 in 120/116R; raises Impossible where the table has none.

    By the table 116 is 1250 kg:

    >>> dual_load_capacity(116)
    1250.0
    """
    return _by_table("load_index_dual", load_index_dual)


@figure(
    means="most load on one tire by its load index, single",
    ground=BY_LOAD_INDEX,
    form="capacity_by_index = the table's mass at load_index",
)
def capacity_by_index(load_index: Count) -> GreatestMass:
    """Mass in kg, whatever load is entered beside the index.

    >>> capacity_by_index(121)
    1450.0
    """
    return _by_table("load_index", load_index)


@figure(
    means="most load on one of two tires side by side by their load index",
    ground=BY_LOAD_INDEX,
    form="dual_capacity_by_index = the table's mass at load_index_dual",
)
def dual_capacity_by_index(load_index_dual: Count) -> GreatestMass:
    """Mass in kg, whatever load is entered beside the index.

    >>> dual_capacity_by_index(116)
    1250.0
    """
    return _by_table("load_index_dual", load_index_dual)


def _by_table(key: str, load_index: int) -> float:
    """The table's mass in kg; raises Impossible, under the key that the index was read at, where it has none."""
    mass = load_capacities().get(load_index)
    if mass is None:
        raise Impossible(key, f"{load_index:.6g}", "write a whole number from 0 to 200, as on the sidewall")
    return mass


@figure(
    means="fastest the tire may be driven",
    ground=TIRE_ORDER.read("Annexe I, F to V; the other symbols from a secondary table"),
    form="speed_limit = the table's speed at speed_symbol",
)
def speed_limit(speed_symbol: Text) -> GreatestSpeed:
    """Speed in m/s by symbol. H stands between U and V. Raises Impossible for a symbol that is not in the table.

    By the table Q is 160 km/h = 160 / 3.6 m/s:

    >>> round(speed_limit("Q"), 3)
    44.444
    """
    kmh = speeds().get(speed_symbol.strip().upper())
    if kmh is None:
        raise Impossible("speed_symbol", f"{speed_symbol[:40]!r}", "write one of A1 to A8, B to H, J to N, P to W, Y")
    return kmh / 3.6


@figure(
    means="fastest the tire may be driven by the speed symbol in its size",
    ground=TIRE_ORDER.read("Annexe I, F to V; the other symbols from a secondary table"),
    form="marked_speed_limit = the table's speed at the symbol in designation",
    reads={"speed_symbol": "marked_speed_symbol"},
)
def marked_speed_limit(speed_symbol: Text) -> GreatestSpeed:
    """Speed in m/s, whatever symbol is entered beside the size.

    >>> round(marked_speed_limit("Q"), 3)
    44.444
    """
    return speed_limit(speed_symbol)


@figure(
    means="tire's age by its date code",
    ground=practice("four digits since 2000: week and year of making"),
    name="age",
    form="tire_age = today − first day of the week that date_code names",
)
def tire_age(date_code: Text, today: Text) -> Duration:
    """Time in s since the week of the date code; `today` is written as 2026-03-31.

    Raises Impossible for a code of another form (three digits: made before 2000), or a week still to come.
    Week 01 of 2025 to a year later, 365 days of 86,400 s:

    >>> tire_age("0125", "2026-01-01") / 86400
    365.0
    """
    now = _date(today)
    code = date_code.strip()
    if not (len(code) == 4 and code.isascii() and code.isdigit() and 1 <= int(code[:2]) <= 53):
        raise Impossible(
            "date_code", f"{code[:40]!r}", "write week and year, such as 2625; three digits are from before 2000"
        )
    made = date(2000 + int(code[2:]), 1, 1) + timedelta(weeks=int(code[:2]) - 1)
    if made > now:
        raise Impossible("date_code", f"{code!r}", f"its week is after {today.strip()}: read it again")
    return (now - made).days * DAY


def _date(today: str | None) -> date:
    try:
        return date.fromisoformat((today or "").strip())
    except ValueError:
        raise Impossible("today", f"{(today or 'nothing')[:40]!r}", "write a date such as 2026-03-31") from None


@figure(
    means="construction of the spare",
    ground=R54.recalled("2, size designations; UN R30, 2"),
    form="spare_construction = radial or bias, as spare_designation says",
)
def spare_construction(spare_designation: Text) -> Text:
    """Radial or bias by the spare's size. Raises Impossible for a text that is no tire size.

    >>> spare_construction("7.50-16")
    'bias'
    """
    return _spare(spare_designation).construction


@figure(
    means="weight the spare may carry, single",
    ground=BY_LOAD_INDEX,
    form="spare_rated_load = (spare_load_capacity, or the mass by the load index in spare_designation, if less) × "
    "9.80665 m/s², over 1.10 unless its size says that it is no passenger tire",
)
def spare_rated_load(spare_designation: Text, spare_load_capacity: Mass | None = None) -> GreatestWeight | None:
    """In N; no answer where neither its size nor an entry says what it carries. An entry above its index counts for no
    more than that.

    By the table 121 is 1450 kg:

    >>> round(spare_rated_load("LT255/80R17 121/118Q") / 9.80665, 6)
    1450.0
    """
    size = _spare(spare_designation)
    return _rated(size, size.load_index, spare_load_capacity)


@figure(
    means="weight the spare may carry as one of two side by side",
    ground=BY_LOAD_INDEX,
    form="spare_dual_rated_load = (the least of spare_dual_load_capacity, the mass by the dual load index in "
    "spare_designation, and spare_load_capacity) × 9.80665 m/s², over 1.10 unless its size says that it is no "
    "passenger tire",
)
def spare_dual_rated_load(
    spare_designation: Text, spare_dual_load_capacity: Mass | None = None, spare_load_capacity: Mass | None = None
) -> GreatestWeight | None:
    """The same in a pair, by the index behind the stroke; never more than what is entered of it standing alone.

    By the table 116 is 1250 kg:

    >>> round(spare_dual_rated_load("LT235/85R16 120/116R") / 9.80665, 6)
    1250.0
    """
    size = _spare(spare_designation)
    by_dual = _rated(size, size.load_index_dual, spare_dual_load_capacity)
    alone = _rated(size, None, spare_load_capacity)
    return by_dual if by_dual is None or alone is None else least(by_dual, alone)


def _spare(designation: str) -> TireSize:
    try:
        return read_designation(designation)
    except Impossible as fault:
        raise Impossible("spare_designation", fault.read, fault.accepted) from None


def _rated(size: TireSize, index: int | None, entered: float | None) -> float | None:
    by_index = None if index is None else _by_table("spare_designation", index)
    known = [one for one in (by_index, entered) if one is not None]
    return derated_load_capacity(least(*known), size.passenger is not False) * STANDARD_GRAVITY if known else None


@figure(
    means="most load on the spare by the load index in its size, single",
    ground=BY_LOAD_INDEX,
    form="spare_capacity_by_index = the table's mass at the load index in spare_designation",
)
def spare_capacity_by_index(spare_designation: Text) -> GreatestMass | None:
    """Mass in kg; nothing where the size has no load index.

    >>> spare_capacity_by_index("LT235/85R16 120/116R")
    1400.0
    """
    index = _spare(spare_designation).load_index
    return None if index is None else _by_table("spare_designation", index)


@figure(
    means="most load on the spare by the load index in its size, in a pair",
    ground=BY_LOAD_INDEX,
    form="spare_dual_capacity_by_index = the table's mass at the dual load index in spare_designation",
)
def spare_dual_capacity_by_index(spare_designation: Text) -> GreatestMass | None:
    """Mass in kg; nothing where the size has no load index for a pair.

    >>> spare_dual_capacity_by_index("LT235/85R16 120/116R")
    1250.0
    """
    index = _spare(spare_designation).load_index_dual
    return None if index is None else _by_table("spare_designation", index)


@figure(
    means="spare's overall diameter, going by its size",
    ground=R54.recalled("6.1.2, D = d + 2H; the same in UN R30; Annex 5 for sizes without an aspect"),
    form="spare_design_diameter = the design diameter of spare_designation",
)
def spare_design_diameter(spare_designation: Text) -> Length:
    """Diameter in m. Raises Impossible for a text that is no tire size, or one without a diameter.

    >>> spare_design_diameter("7.50-16")
    0.806
    """
    try:
        return design_diameter(spare_designation)
    except Impossible as fault:
        raise Impossible("spare_designation", fault.read, fault.accepted) from None
