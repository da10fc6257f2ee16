"""How the tire stands and rolls: loaded radius, rolling circumference, revolutions over a distance."""

from planner.quantities.kinds import Distance, Length, PerLength, Ratio, Text
from planner.sources.reasoning import ARITHMETIC, GEOMETRY
from planner.sources.standards import COMMERCIAL_TIRE_SIZES, TIRE_FACTORS
from planner.worksheet.declare import Impossible, assumed, figure

deflection_share = assumed(
    Ratio,
    "0.07 ± 0.025",
    means="share of its free radius the tire squashes under load",
    better="the tires' loaded radius (tire.loaded_radius)",
    ground=COMMERCIAL_TIRE_SIZES.read(
        "Annex A, Table A.1: 0.060 to 0.091 for its radials, 0.053 to 0.063 for its bias tires"
    ),
)

_ROLL_OUT = "the tires' roll-out over the floor (tire.rolling_circumference)"

# The standard lets a rolling circumference lie 1.5 % above to 2.5 % below; the wider side stands both ways here.
radial_rolling_factor = assumed(
    Ratio,
    "3.05 ± 0.076",
    means="rolling circumference of a radial over its overall diameter",
    better=_ROLL_OUT,
    ground=TIRE_FACTORS.recalled("F = 3.05 radial; 1.5 % up, 2.5 % down"),
)
bias_rolling_factor = assumed(
    Ratio,
    "2.99 ± 0.075",
    means="rolling circumference of a bias tire over its overall diameter",
    better=_ROLL_OUT,
    ground=TIRE_FACTORS.recalled("F = 2.99 bias; 1.5 % up, 2.5 % down"),
)


@figure(means="tire's free radius", ground=GEOMETRY)
def free_radius(overall_diameter: Length) -> Length:
    """Half the overall diameter; both in m.

    >>> free_radius(0.8)
    0.4
    """
    return overall_diameter / 2


@figure(means="how far the tire squashes under load, until somebody measures it", ground=GEOMETRY)
def estimated_deflection(overall_diameter: Length, deflection_share: Ratio) -> Distance:
    """A share of the free radius; both lengths in m. A tire far under its rated load gives less.

    >>> round(estimated_deflection(0.8, 0.07), 6)
    0.028
    """
    return deflection_share * overall_diameter / 2


@figure(
    means="axle center to the ground, tire loaded",
    ground=GEOMETRY,
    form="static_loaded_radius = loaded_radius as measured, else overall_diameter / 2 − deflection",
    also=("loaded_radius", "radius"),
    reads={"loaded_radius": "measured_loaded_radius", "deflection": "estimated_deflection"},
)
def static_loaded_radius(
    overall_diameter: Length, deflection: Distance | None = None, loaded_radius: Length | None = None
) -> Length:
    """The measured radius where there is one, else the free radius less the deflection; all in m.

    Raises Impossible when neither is given, when the deflection leaves nothing, and when a loaded radius is more than
    the free one. The table's 185/80R15C is 674 mm tall and stands 310 mm: it gives 27 mm.

    >>> round(static_loaded_radius(0.674, deflection=0.027), 4)
    0.31
    """
    if loaded_radius is not None:
        if loaded_radius > overall_diameter / 2:
            raise Impossible(
                "loaded_radius", "{loaded_radius}", "under load it's no more than half of {overall_diameter}"
            )
        return loaded_radius
    if deflection is None:
        raise Impossible("deflection", "nothing entered", "give the deflection or the measured loaded_radius")
    if deflection >= overall_diameter / 2:
        raise Impossible("deflection", "{deflection}", "it's less than half of {overall_diameter}")
    return overall_diameter / 2 - deflection


@figure(
    means="how far the tire rolls in one turn",
    ground=TIRE_FACTORS.recalled("F × D, F = 3.05 radial, 2.99 bias"),
    form="rolling_circumference = radial_rolling_factor × overall_diameter for a radial, "
    "bias_rolling_factor × overall_diameter for a bias tire; a measured roll-out comes first",
    also=("circumference",),
)
def rolling_circumference(
    overall_diameter: Length, construction: Text, radial_rolling_factor: Ratio, bias_rolling_factor: Ratio
) -> Length:
    """Way in one turn under load, in m, from the overall diameter; a roll-out on the floor comes first.

    The factors want the design diameter. What they are off by is shared by tires of one construction and leaves the
    ratio of two of them alone; a radial against a bias tire is known to about 5 % until both are rolled out. Raises
    Impossible for a construction that is neither radial nor bias.

    >>> [round(rolling_circumference(0.8, kind, 3.05, 2.99), 6) for kind in ("radial", "bias")]
    [2.44, 2.392]
    """
    kind = construction.strip().lower()
    if kind not in ("radial", "bias"):
        raise Impossible("construction", f"{construction[:40]!r}", "write radial or bias")
    return (radial_rolling_factor if kind == "radial" else bias_rolling_factor) * overall_diameter


@figure(means="turns of the tire over a distance", ground=ARITHMETIC)
def revolutions_per_mile(rolling_circumference: Length) -> PerLength:
    """Turns per meter, shown per mile and per kilometer: 63,360 over the circumference in inches is the same.

    >>> round(revolutions_per_mile(2.5) * 1000)
    400
    """
    return 1 / rolling_circumference
