"""The one Pint registry, made from units.txt when it is first asked for, and the table of factors that Pint makes.

Importing Pint and building even this small registry takes some 0.2 s, which every command would pay to read a single
`5 1/2 in`. So the door reads `factors.json`, in which Pint's own answers are kept as exact fractions; a test works
them out again and fails when the table is stale. To rewrite it after a change to units.txt:

    python -m planner.quantities.registry

Pint itself still serves wherever dimensions are checked. Never give it a person's text: `9**9**9 m` never returns.
"""

import json
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint

ROOM = Path(__file__).parent
DEFINITIONS = ROOM / "units.txt"
FACTORS = ROOM / "factors.json"

# The SI unit of a kind, as kinds.py writes it, in Pint's words.
SI_UNITS = {
    "": "dimensionless",
    "m": "metre",
    "kg": "kilogram",
    "N": "newton",
    "Pa": "pascal",
    "rad": "radian",
    "m/s": "metre / second",
    "rad/s": "radian / second",
    "N·m": "newton * metre",
    "J": "joule",
    "kg·m²": "kilogram * metre ** 2",
    "m²": "metre ** 2",
    "1/m": "1 / metre",
    "s": "second",
    "m/s²": "metre / second ** 2",
}

# Which kinds a unit serves: all whose SI unit has its dimension, in this order, the first being what it is called.
KIND_SI = {
    "length": "m", "mass": "kg", "force": "N", "pressure": "Pa", "angle": "rad", "speed": "m/s",
    "turning speed": "rad/s", "torque": "N·m", "energy": "J", "moment of inertia": "kg·m²", "area": "m²",
    "count per length": "1/m", "time": "s",
}  # fmt: skip
# Torque and energy share a dimension, yet nobody gives a torque in joules or an energy in kilogram-force metres.
_ONLY = {
    "joule": ["energy"],
    "kilojoule": ["energy"],
    "kilogram_force_metre": ["torque"],
    "pound_force_inch": ["torque"],
}
# Scales are marked in lb and kg, and both weights and masses are read off them.
_ALSO = {"mass": ["weight"], "force": ["weight", "mass"]}


@cache
def registry() -> "pint.UnitRegistry[Any]":
    """The one registry: our own units, exact fractions for every factor."""
    from pint import UnitRegistry  # here and not above: see the head of this file

    return UnitRegistry(str(DEFINITIONS), non_int_type=Fraction)


def factor_table() -> dict[str, dict[str, Any]]:
    """Every unit of units.txt: its SI unit, its exact factor to it as "num/den", and the kinds it serves."""
    pint_units = registry()
    dimension = {kind: pint_units.Unit(SI_UNITS[si]).dimensionality for kind, si in KIND_SI.items()}
    table: dict[str, dict[str, Any]] = {}
    for name in _unit_names():
        exact, _ = pint_units.get_base_units(name)
        kinds = [kind for kind in KIND_SI if dimension[kind] == pint_units.Unit(name).dimensionality]
        kinds = _ONLY.get(name, kinds)
        si = KIND_SI[kinds[0]] if kinds else "m/s²"
        for kind in tuple(kinds):
            kinds = kinds + _ALSO.get(kind, [])
        value = Fraction(str(exact))  # exact is a Fraction, or an int for a base unit
        table[name] = {"si": si, "factor": f"{value.numerator}/{value.denominator}", "kinds": kinds}
    return table


def _unit_names() -> list[str]:
    lines = DEFINITIONS.read_text(encoding="utf-8").splitlines()
    names = [line.partition("=")[0].strip() for line in lines if "=" in line and not line.startswith("#")]
    return [name for name in names if name != "pi_number"]


def factor_text() -> str:
    """What factors.json holds: one unit on a line, so that a change shows as the lines that it changes."""
    rows = [f"  {json.dumps(name)}: {json.dumps(row, ensure_ascii=False)}" for name, row in factor_table().items()]
    return "{\n" + ",\n".join(rows) + "\n}\n"


if __name__ == "__main__":
    FACTORS.write_text(factor_text(), encoding="utf-8")
    print(f"{FACTORS.name}: {len(factor_table())} units")
