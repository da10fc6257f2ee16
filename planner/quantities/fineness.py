"""In which unit, and to what digit, each kind of value is shown to people."""

from math import inf
from typing import Literal, NamedTuple

System = Literal["inch", "metric"]


class Rung(NamedTuple):
    """Below `below` (in SI) a value is shown in `unit`: to `places` decimals, or to `figures` significant figures."""

    below: float
    unit: str
    places: int | None = None
    figures: int = 0


INCH, FOOT, MILE = 0.0254, 0.3048, 1609.344
POUND, GRAVITY = 0.45359237, 9.80665


def _both(*rungs: Rung) -> dict[System, tuple[Rung, ...]]:
    return {"inch": rungs, "metric": rungs}


# By kind and system, the least first. The digit is what a tape, a scale or a gauge in the trade can tell.
RUNGS: dict[str, dict[System, tuple[Rung, ...]]] = {
    "length": {
        "inch": (Rung(INCH, "in", 3), Rung(200 * INCH, "in", 2), Rung(MILE, "ft", 1), Rung(inf, "miles", 2)),
        "metric": (Rung(0.01, "mm", 2), Rung(1, "mm", 1), Rung(10, "mm", 0), Rung(1000, "m", 2), Rung(inf, "km", 2)),
    },
    "mass": {
        "inch": (Rung(10 * POUND, "lb", 2), Rung(100 * POUND, "lb", 1), Rung(inf, "lb", 0)),
        "metric": (Rung(10, "kg", 2), Rung(100, "kg", 1), Rung(inf, "kg", 0)),
    },
    "weight": {
        "inch": (Rung(100 * POUND * GRAVITY, "lb", 1), Rung(inf, "lb", 0)),
        "metric": (Rung(100 * GRAVITY, "kg", 1), Rung(inf, "kg", 0)),
    },
    "force": {
        "inch": (Rung(100 * POUND * GRAVITY, "lbf", 1), Rung(inf, "lbf", 0)),
        "metric": (Rung(100, "N", 1), Rung(10_000, "N", 0), Rung(inf, "kN", 2)),
    },
    "pressure": {"inch": (Rung(inf, "psi", 1),), "metric": (Rung(inf, "kPa", 0),)},
    "angle": _both(Rung(inf, "°", 1)),
    "speed": {"inch": (Rung(inf, "mph", 1),), "metric": (Rung(inf, "km/h", 1),)},
    "turning speed": _both(Rung(10.5, "rpm", 1), Rung(inf, "rpm", 0)),
    "torque": {
        "inch": (Rung(100 * POUND * GRAVITY * FOOT, "lbf·ft", 1), Rung(inf, "lbf·ft", 0)),
        "metric": (Rung(100, "N·m", 1), Rung(inf, "N·m", 0)),
    },
    "energy": _both(Rung(1000, "J", figures=3), Rung(inf, "kJ", figures=3)),
    "moment of inertia": {"inch": (Rung(inf, "lb·ft²", figures=4),), "metric": (Rung(inf, "kg·m²", figures=4),)},
    "area": {"inch": (Rung(inf, "in²", figures=4),), "metric": (Rung(inf, "mm²", figures=4),)},
    "count per length": {"inch": (Rung(inf, "per mile", figures=4),), "metric": (Rung(inf, "per km", figures=4),)},
    "time": _both(
        Rung(120, "s", figures=3), Rung(7200, "min", figures=3), Rung(172_800, "h", figures=3),
        Rung(inf, "days", figures=3),
    ),
}  # fmt: skip

# Shown in both systems beside each other: a tape has both edges, and speedometers are set up by either.
BESIDE = frozenset({"length", "count per length"})

# Where the unit that a new entry is begun in is not that of the first rung.
DEFAULT_UNITS = {"angle": "deg", "energy": "kJ", "time": "h"}


def rung_for(kind_name: str, system: System, value: float) -> Rung | None:
    """The rung that a value of this size is shown on; None for a kind that has none."""
    rungs = RUNGS.get(kind_name)
    return next((rung for rung in rungs[system] if abs(value) < rung.below), rungs[system][-1]) if rungs else None


def first_unit(kind_name: str, system: System) -> str:
    """The unit that a value of this kind is asked for in, "" for a kind without units."""
    given = DEFAULT_UNITS.get(kind_name)
    return given or (RUNGS[kind_name][system][0].unit if kind_name in RUNGS else "")
