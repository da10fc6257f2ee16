"""The kinds of value that a formula takes and gives: dimension, SI unit, and the range that is possible at all."""

from dataclasses import dataclass, replace
from math import inf, isfinite, pi
from typing import Annotated, Any, Literal


@dataclass(frozen=True, slots=True)
class Kind:
    """What a value is, said once and read by the grammar, the formulas, the project file and the screens.

    `si` is the unit that floats of this kind are in; `least` and `most` bound what is possible,
    `least` itself excluded when `above` is set. `form` says how it is written: a quantity (number and unit),
    a bare number, a whole number, a text, yes or no, or a list of points or ratios. `bare` is the unit of a number
    written without one, where the entry's own name says it; `beside` is what is shown next to it, such as a grade.
    `safe` is the way in which a limit may be rounded: a greatest value down, a least one up; without it to the nearest.
    """

    name: str
    si: str = ""
    least: float = -inf
    most: float = inf
    above: bool = False
    form: str = "quantity"
    bare: str = ""
    beside: str = ""
    safe: Literal["", "down", "up"] = ""

    def unsigned(self) -> "Kind":
        """The kind of an amount by which something of this kind is more or less; of a ratio, a share."""
        return replace(self, least=0.0, name="share" if self.form == "ratio" else self.name)

    def greatest(self) -> "Kind":
        """The kind of a limit that something of this kind must not pass: rounded down only."""
        return replace(self, safe="down")

    def smallest(self) -> "Kind":
        """The kind of a limit that something of this kind must reach: rounded up only."""
        return replace(self, safe="up")

    def fault(self, value: float) -> str | None:
        """What is impossible about `value`, or None where it is possible."""
        if not isfinite(value):
            return "it isn't a finite number"
        if value < self.least or (self.above and value == self.least):
            bound = "more than" if self.above else "at least"
            return f"it has to be {bound} {self.least:g}{' ' + self.si if self.si and self.least else ''}"
        if value > self.most:
            return f"it has to be at most {self.most:g}{' ' + self.si if self.si else ''}"
        return None


LENGTH = Kind("length", "m", 0.0, above=True)
DISTANCE = Kind("length", "m", 0.0)
POSITION = Kind("length", "m")
MASS = Kind("mass", "kg", 0.0, above=True)
WEIGHT = Kind("weight", "N", 0.0, above=True)
WEIGHT_CHANGE = Kind("weight", "N")
FORCE = Kind("force", "N")
PRESSURE = Kind("pressure", "Pa", 0.0, above=True)
PRESSURE_CHANGE = Kind("pressure", "Pa")
ANGLE = Kind("angle", "rad", -pi / 2, pi / 2)
GRADE = Kind("angle", "rad", -pi / 2, pi / 2, beside="grade")
SPEED = Kind("speed", "m/s", 0.0)
SPEED_CHANGE = Kind("speed", "m/s")
TURNING_SPEED = Kind("turning speed", "rad/s", 0.0)
TURNING_SPEED_CHANGE = Kind("turning speed", "rad/s")
TORQUE = Kind("torque", "N·m", 0.0, above=True)
TORQUE_CHANGE = Kind("torque", "N·m")
ENERGY = Kind("energy", "J", 0.0)
INERTIA = Kind("moment of inertia", "kg·m²", 0.0)
AREA = Kind("area", "m²", 0.0, above=True)
PER_LENGTH = Kind("count per length", "1/m", 0.0, above=True)
PER_MILE = Kind("count per length", "1/m", 0.0, above=True, bare="/mile")
DURATION = Kind("time", "s", 0.0)
RATIO = Kind("ratio", "", 0.0, above=True, form="ratio")
SHARE = Kind("share", "", 0.0, form="ratio")
MULTIPLE = Kind("ratio", "", 0.0, form="ratio")
CHANGE = Kind("ratio", "", form="ratio")
RIM_CODE = Kind("rim code", "", 0.0, above=True, form="ratio")
COUNT = Kind("count", "", 0.0, above=True, form="count")
TEXT = Kind("text", form="text")
YES_NO = Kind("yes or no", form="yes or no")
POINT = Kind("point", "m", form="point")
POINTS = Kind("points", "m", form="points")
RATIOS = Kind("ratios", "", 0.0, above=True, form="ratios")

Length = Annotated[float, LENGTH]  # more than nothing
Distance = Annotated[float, DISTANCE]  # nothing is possible
Position = Annotated[float, POSITION]  # signed
Mass = Annotated[float, MASS]
Weight = Annotated[float, WEIGHT]  # a force that people read off a scale: lb and kg are taken as weights
WeightChange = Annotated[float, WEIGHT_CHANGE]  # signed
Force = Annotated[float, FORCE]
Pressure = Annotated[float, PRESSURE]
PressureChange = Annotated[float, PRESSURE_CHANGE]  # signed
Angle = Annotated[float, ANGLE]
Grade = Annotated[float, GRADE]  # the angle of a slope, shown in percent too
Speed = Annotated[float, SPEED]
SpeedChange = Annotated[float, SPEED_CHANGE]  # signed
TurningSpeed = Annotated[float, TURNING_SPEED]
TurningSpeedChange = Annotated[float, TURNING_SPEED_CHANGE]  # signed
Torque = Annotated[float, TORQUE]
Energy = Annotated[float, ENERGY]
Inertia = Annotated[float, INERTIA]
Area = Annotated[float, AREA]
PerLength = Annotated[float, PER_LENGTH]
PerMile = Annotated[float, PER_MILE]  # a bare number is taken per mile
Duration = Annotated[float, DURATION]
Ratio = Annotated[float, RATIO]  # more than nothing
Share = Annotated[float, SHARE]  # of a whole, shown in percent; nothing is possible
Multiple = Annotated[float, MULTIPLE]  # nothing is possible
Change = Annotated[float, CHANGE]  # signed
RimCode = Annotated[float, RIM_CODE]  # a rim diameter code, such as 17 or 22.5
Count = Annotated[int, COUNT]
Text = Annotated[str, TEXT]
YesNo = Annotated[bool, YES_NO]
Point = Annotated[tuple[float, float], POINT]
Points = Annotated[tuple[tuple[float, float], ...], POINTS]
Ratios = Annotated[tuple[float, ...], RATIOS]

# Limits, which no rounding takes to the side of danger.
GreatestLength = Annotated[float, LENGTH.greatest()]
SmallestLength = Annotated[float, LENGTH.smallest()]
SmallestPosition = Annotated[float, POSITION.smallest()]
GreatestMass = Annotated[float, MASS.greatest()]
GreatestWeight = Annotated[float, WEIGHT.greatest()]
GreatestPressure = Annotated[float, PRESSURE.greatest()]
GreatestSpeed = Annotated[float, SPEED.greatest()]
SmallestPressure = Annotated[float, PRESSURE.smallest()]


def kind_of(annotation: Any) -> Kind:
    """The kind that an annotation such as `Length` or `Length | None` carries; raises TypeError where it has none."""
    for part in (annotation, *getattr(annotation, "__args__", ())):
        for extra in getattr(part, "__metadata__", ()):
            if isinstance(extra, Kind):
                return extra
    raise TypeError(f"{annotation!r} carries no kind")
