"""What a tire carries on a truck, and the pressure for it."""

from planner.quantities.kinds import (
    Count,
    GreatestMass,
    GreatestPressure,
    GreatestWeight,
    Mass,
    Pressure,
    Ratio,
    SmallestPressure,
    Weight,
    YesNo,
)
from planner.sources.citing import practice
from planner.sources.reasoning import TEXTBOOK
from planner.sources.us_federal import TIRE_INTERPRETATION_1976
from planner.worksheet.declare import Impossible, assumed, figure
from planner.worksheet.turning import greatest, least

STANDARD_GRAVITY = 9.80665

pressure_exponent = assumed(
    Ratio,
    "0.85 ± 0.15",
    means="how a tire's load goes up with pressure: load ∝ pressure to this power",
    better="two lines of the tire maker's load table (assumptions.pressure_exponent)",
    # Too little pressure is the danger, so the middle stands above the formula quoted and the table read.
    ground=practice(
        "0.70 to 0.75 in the one load table read, 0.8 in the European formula as quoted, up to 1 by a tire's "
        "stiffness; the higher power gives the higher pressure"
    ),
)


@figure(
    means="most load on one tire, as a truck may use it",
    ground=TIRE_INTERPRETATION_1976.read("quoting 49 CFR 571.120 S5.1.2; 49 CFR 571.110 says the same, from memory"),
)
def derated_load_capacity(load_capacity: Mass, passenger: YesNo) -> GreatestMass:
    """A passenger car tire on a truck counts for its load over 1.10; both in kg.

    >>> round(derated_load_capacity(1100.0, True), 6), derated_load_capacity(1100.0, False)
    (1000.0, 1100.0)
    """
    return load_capacity / 1.10 if passenger else load_capacity


@figure(
    means="weight one tire may carry",
    ground=TEXTBOOK,
    form="rated_load = load_capacity × 9.80665 m/s²; with more than two tires on the axle, dual_load_capacity, "
    "over 1.10 of a passenger car tire",
    reads={"load_capacity": "derated_load_capacity"},
)
def rated_load(
    load_capacity: Mass,
    tires: Count | None = None,
    dual_load_capacity: Mass | None = None,
    passenger: YesNo | None = None,
) -> GreatestWeight | None:
    """The mass of the load capacity as the weight that it presses with, in N, by standard gravity.

    Of two tires side by side each carries less, by an index or a load of its own: with more than two `tires` on the
    axle there is no answer without it.

    The Russian table prints 875 kgf as 8,581 N:

    >>> round(rated_load(875.0))
    8581
    """
    if tires is not None and tires > 2:
        if dual_load_capacity is None:
            return None
        dual = derated_load_capacity(dual_load_capacity, passenger is True)
        return least(load_capacity, dual) * STANDARD_GRAVITY
    return load_capacity * STANDARD_GRAVITY


@figure(
    means="cold pressure for the load on the tire",
    ground=practice("power law between the rated load and less; the tire maker's load table comes first"),
    form="pressure_for_load = rated_pressure × (load / rated_load) ^ (1 / exponent), but never less than "
    "least_pressure",
    reads={"rated_pressure": None, "exponent": "pressure_exponent"},
)
def pressure_for_load(
    load: Weight, rated_load: Weight, rated_pressure: Pressure, exponent: Ratio, least_pressure: Pressure | None = None
) -> SmallestPressure:
    """Cold pressure in Pa for a load under the rated one; loads in N, or both in one unit. For the bench only: in a
    project `running_pressure` asks for the maker's least pressure first.

    An estimate to start from, no more: the exponent is known to about a tenth, differs between constructions, and
    says nothing of heat, speed, or the bead on its seat. The tire maker's table for the very tire comes first, and
    never go below the maker's least pressure. Raises Impossible above the rated load, which no pressure makes good.
    By hand at half the load and an exponent of 0.5: (1/2)² of the pressure.

    >>> pressure_for_load(500.0, 1000.0, 400.0, 0.5), pressure_for_load(500.0, 1000.0, 400.0, 0.5, 150.0)
    (100.0, 150.0)
    """
    if load > rated_load:
        raise Impossible("load", "{load}", "at most the rated load, {rated_load}: more pressure doesn't carry more")
    if not 0.4 <= exponent <= 1.0:
        raise Impossible("exponent", "{exponent}", "tires follow something between 0.4 and 1")
    if least_pressure is not None and least_pressure > rated_pressure:
        raise Impossible("least_pressure", "{least_pressure}", "at most {rated_pressure}")
    pressure = rated_pressure * (load / rated_load) ** (1 / exponent)
    return pressure if least_pressure is None else greatest(pressure, least_pressure)


@figure(
    means="cold pressure for the load as weighed, not below the tire maker's minimum",
    ground=practice("power law between the rated load and less; the tire maker's load table comes first"),
    form="running_pressure = rated_pressure × (load / rated_load) ^ (1 / pressure_exponent), but never less than "
    "least_pressure",
)
def running_pressure(
    load: Weight, rated_load: Weight, rated_pressure: Pressure, pressure_exponent: Ratio, least_pressure: Pressure
) -> SmallestPressure:
    """As `pressure_for_load`, in Pa, with no answer until the maker's least pressure is known.

    >>> running_pressure(500.0, 1000.0, 400.0, 0.5, 150.0)
    150.0
    """
    return pressure_for_load(load, rated_load, rated_pressure, pressure_exponent, least_pressure)


@figure(
    means="cold pressure for the truck fully loaded, not below the tire maker's minimum",
    ground=practice("power law between the rated load and less; the tire maker's load table comes first"),
    form="laden_pressure = rated_pressure × (load / rated_load) ^ (1 / pressure_exponent), but never less than "
    "least_pressure",
    reads={"load": "full_load_per_tire"},
)
def laden_pressure(
    load: Weight, rated_load: Weight, rated_pressure: Pressure, pressure_exponent: Ratio, least_pressure: Pressure
) -> SmallestPressure:
    """As `running_pressure`, in Pa, for the heaviest that the tire will carry.

    >>> laden_pressure(1000.0, 1000.0, 400.0, 0.5, 150.0)
    400.0
    """
    return pressure_for_load(load, rated_load, rated_pressure, pressure_exponent, least_pressure)


@figure(
    means="cold pressure at which the axle's tires carry its rating",
    ground=practice("power law between the rated load and less; the tire maker's load table comes first"),
    form="rating_pressure = rated_pressure × (axle_rating / tires / rated_load) ^ (1 / pressure_exponent)",
)
def rating_pressure(
    axle_rating: Weight, tires: Count, rated_load: Weight, rated_pressure: Pressure, pressure_exponent: Ratio
) -> SmallestPressure:
    """In Pa; a wheel that may not have it makes tires that would carry the rating carry less.

    Half of the rated load at an exponent of 0.5:

    >>> rating_pressure(1000.0, 2, 1000.0, 400.0, 0.5)
    100.0
    """
    return pressure_for_load(axle_rating / tires, rated_load, rated_pressure, pressure_exponent)


@figure(
    means="most cold pressure that tire and wheel both take",
    ground=practice("as molded on the sidewall beside the maximum load, or what the wheel is rated for, if less"),
    form="most_pressure = the less of rated_pressure and greatest_pressure; rated_pressure where that is not given",
)
def most_pressure(rated_pressure: Pressure, greatest_pressure: Pressure | None = None) -> GreatestPressure:
    """In Pa.

    >>> most_pressure(550.0, 450.0), most_pressure(550.0)
    (450.0, 550.0)
    """
    return rated_pressure if greatest_pressure is None else least(rated_pressure, greatest_pressure)
