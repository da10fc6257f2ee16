"""How people spell each unit of the trade, which units go with a kind of value, and their exact factors to SI."""

import json
import re
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import NamedTuple

from planner.quantities.kinds import Kind
from planner.quantities.unreadable import Accepted

# Unit of units.txt: its spellings, the first of them as it is shown. Case does not count, a space, a hyphen and
# a raised dot are one and the same between words, and "per" is a slash. One spelling may stand for units of several
# kinds ("min" of time and of arc); within one kind it stands for one unit only, which a test holds.
SPELLINGS = {
    "metre": "m metre metres meter meters",
    "millimetre": "mm millimetre millimetres millimeter millimeters",
    "centimetre": "cm centimetre centimetres centimeter centimeters",
    "kilometre": "km kilometre kilometres kilometer kilometers",
    "inch": 'in " ins inch inches',
    "foot": "ft ' foot feet",
    "yard": "yd yds yard yards",
    "mile": "mile miles mi",
    "thou": "thou mil mils",
    "kilogram": "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    "gram": "g gram grams gramme grammes",
    "tonne": "t tonne tonnes metric·ton metric·tons",
    "pound": "lb lbs lbm pound pounds",
    "ounce": "oz ounce ounces",
    "short_ton": "short·ton short·tons us·ton us·tons",
    "second": "s sec secs second seconds",
    "minute": "min mins minute minutes",
    "hour": "h hr hrs hour hours",
    "day": "day days d",
    "week": "week weeks wk wks",
    "radian": "rad rads radian radians",
    "degree": "deg ° degs degree degrees",
    "arcminute": "arcmin ' arcmins arcminute arcminutes min minute minutes",
    "arcsecond": 'arcsec " arcsecs arcsecond arcseconds sec second seconds',
    "turn": "turn turns rev revs revolution revolutions",
    "newton": "N newton newtons",
    "kilonewton": "kN kilonewton kilonewtons",
    "pound_force": "lbf lbsf pound-force pounds-force",
    "kilogram_force": "kgf kp kilogram-force",
    "pascal": "Pa pascal pascals",
    "kilopascal": "kPa kilopascal kilopascals",
    "megapascal": "MPa megapascal megapascals N/mm²",
    "bar": "bar bars",
    "kilopound_force_per_square_inch": "ksi",
    "pound_force_per_square_inch": "psi lb/in² lbf/in² lb/sq·in lbs/sq·in pounds/square·inch",
    "kilogram_force_per_square_centimetre": "kgf/cm² kg/cm² kp/cm²",
    "metre_per_second": "m/s m/sec mps metres/second meters/second",
    "kilometre_per_hour": "km/h kmh kph kmph km/hr km/hour kilometres/hour kilometers/hour",
    "mile_per_hour": "mph mi/h mile/h miles/h mile/hour miles/hour",
    "radian_per_second": "rad/s rad/sec radians/second",
    "turn_per_minute": "rpm rev/min revs/min turns/min r/min revolutions/minute turns/minute",
    "newton_metre": "N·m nm newton·metre newton·metres newton·meter newton·meters",
    "pound_force_foot": "lbf·ft lb·ft lbs·ft ft·lb ft·lbs ft·lbf lbft lbsft lbfft ftlb ftlbs ftlbf foot·pound"
    " foot·pounds foot·lb foot·lbs pound·foot pound·feet pounds·feet",
    "pound_force_inch": "lbf·in lb·in lbs·in in·lb in·lbs in·lbf lbin lbfin inlb inlbs inlbf inch·pound inch·pounds"
    " inch·lb inch·lbs pound·inch pound·inches",
    "kilogram_force_metre": "kgf·m kgfm m·kgf kg·m kgm m·kg mkg kp·m",
    "joule": "J joule joules",
    "kilojoule": "kJ kilojoule kilojoules",
    "kilogram_square_metre": "kg·m² kgm²",
    "pound_square_foot": "lb·ft² lbft² lbm·ft²",
    "square_metre": "m² sq·m square·metre square·metres square·meter square·meters",
    "square_millimetre": "mm² sq·mm square·millimetre square·millimetres square·millimeter square·millimeters",
    "square_centimetre": "cm² sq·cm square·centimetre square·centimetres square·centimeter square·centimeters",
    "square_inch": "in² sq·in square·inch square·inches",
    "per_metre": "1/m 1/metre 1/meter",
    "per_kilometre": "1/km 1/kilometre 1/kilometer rev/km revs/km turns/km pulses/km",
    "per_mile": "1/mile 1/mi rev/mile revs/mile rev/mi revs/mi turns/mile pulses/mile revolutions/mile",
}

# Units that may follow one another in one value, the greater first: 2 ft 3 in, 8° 30', 1 h 30 min.
LADDERS = (
    ("yard", "foot", "inch"),
    ("metre", "centimetre", "millimetre"),
    ("degree", "arcminute", "arcsecond"),
    ("pound", "ounce"),
    ("week", "day", "hour", "minute", "second"),
)

# What a person is told to write: the units in use, and an example.
ACCEPTED = {
    "length": ("in, ft, mm, cm or m", "5 1/2 in"),
    "mass": ("lb, kg, t or short ton", "165 lb"),
    "weight": ("lb, kg, lbf, N or kN", "6,800 lb"),
    "force": ("lbf, N, kN or kgf", "1,200 lbf"),
    "pressure": ("psi, kPa or bar", "75 psi"),
    "angle": ("deg or rad", "8.5 deg"),
    "speed": ("mph, km/h or m/s", "55 mph"),
    "turning speed": ("rpm or rad/s", "2,400 rpm"),
    "torque": ("lbf·ft, lbf·in, N·m or kgf·m", "70 lbf·ft"),
    "energy": ("kJ, J or ft·lbf", "800 kJ"),
    "moment of inertia": ("kg·m² or lb·ft²", "6.5 kg·m²"),
    "area": ("in², mm², cm² or m²", "0.142 in²"),
    "count per length": ("per mile, per km or per m", "634 per mile"),
    "time": ("min, h, days or weeks", "45 min"),
}


class Unit(NamedTuple):
    """A unit of units.txt: one of it is `factor` of `si`; the first of `kinds` is what it is called in a message."""

    name: str
    si: str
    factor: Fraction
    kinds: tuple[str, ...]
    shown: str


@cache
def units() -> dict[str, Unit]:
    """Every unit by its name in units.txt, with the factors that Pint worked out (see registry.py)."""
    table = json.loads(Path(__file__).with_name("factors.json").read_text(encoding="utf-8"))
    return {
        name: Unit(name, row["si"], Fraction(row["factor"]), tuple(row["kinds"]), SPELLINGS.get(name, name).split()[0])
        for name, row in table.items()
    }


_PER = re.compile(r"(?:^|(?<=[a-z.] ))per ")
_BETWEEN = re.compile(r"[ .·-]+")


def spelling_key(text: str) -> str:
    """The form under which a spelling is looked up: lower case, one sort of separator.

    >>> spelling_key("Ft-Lb"), spelling_key("revs per mile"), spelling_key("lb. ft."), spelling_key("1/m")
    ('ft·lb', 'revs/mile', 'lb·ft', '/m')
    """
    key = _BETWEEN.sub("·", _PER.sub("/", text.lower())).strip("·").replace("·/", "/").replace("/·", "/")
    return key[1:] if key.startswith("1/") else key


@cache
def _by_spelling() -> dict[str, tuple[Unit, ...]]:
    found: dict[str, tuple[Unit, ...]] = {}
    for name, spellings in SPELLINGS.items():
        for spelling in spellings.split():
            key = spelling_key(spelling)
            found[key] = (*found.get(key, ()), units()[name])
    return found


def units_spelled(text: str) -> tuple[Unit, ...]:
    """The units that a spelling can stand for; none where nobody spells a unit so."""
    return _by_spelling().get(spelling_key(text), ())


def unit_of(text: str, kind: Kind) -> Unit | None:
    """The unit of this kind that a spelling stands for, or None."""
    return next((unit for unit in units_spelled(text) if kind.name in unit.kinds), None)


def factor(unit: Unit, kind: Kind) -> Fraction:
    """How many of the kind's SI unit one of `unit` is, exactly.

    Pounds and kilograms taken as a weight, and forces taken as a mass, go by standard gravity.
    """
    if unit.si == "kg" and kind.si == "N":
        return unit.factor * units()["standard_gravity"].factor
    if unit.si == "N" and kind.si == "kg":
        return unit.factor / units()["standard_gravity"].factor
    return unit.factor


def accepted(kind: Kind) -> str:
    """What to write for a quantity of this kind, as the end of an error."""
    if kind.name not in ACCEPTED:
        return f"write a number with {kind.si}"
    names, example = ACCEPTED[kind.name]
    return Accepted(f"write a number with {names}", example)
