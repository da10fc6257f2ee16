"""The tables beside this file: load indices, speed symbols, nominal rim diameters, and sizes: by table, and as sold."""

import csv
from functools import cache
from pathlib import Path
from typing import NamedTuple

from planner.trade.tire.designation import INCH, MILLIMETRE, TireSize, read_designation

Key = tuple[str, float | None, float | None, float, str, bool]


class Charted(NamedTuple):
    """One row of sizes.csv, in m; a cell left empty in the table is None."""

    measuring_rim: float | None
    overall_diameter: float | None
    section_width: float | None
    source: str
    standing: str


_SOLD = ("size", "diameter", "section_width", "source", "standing")  # the columns


class SoldSize(NamedTuple):
    """A size that may be had, with diameter and section width as its source writes them, empty where it has none.

    `standing` says whether the source was read, or the size is known from memory.
    """

    designation: str
    diameter: str
    section_width: str
    source: str
    standing: str


def _rows(name: str) -> list[dict[str, str]]:
    with Path(__file__).with_name(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@cache
def load_capacities() -> dict[int, float]:
    """Mass in kg by load index; eight rows that the copy of the order has garbled or lost are from memory."""
    return {int(row["load_index"]): float(row["max_mass_kg"]) for row in _rows("load_index.csv")}


@cache
def speeds() -> dict[str, float]:
    """Speed in km/h by speed symbol."""
    return {row["symbol"]: float(row["kmh"]) for row in _rows("speed_symbols.csv")}


@cache
def rim_diameters() -> dict[float, float]:
    """Nominal rim diameter d of the UN regulations in m by code; not where the bead sits: see the wheel's table."""
    return {float(row["code"]): float(row["mm"]) / 1000 for row in _rows("rim_diameters.csv")}


@cache
def _sizes() -> dict[Key, Charted]:
    return {_key(read_designation(row["size"])): _charted(row) for row in _rows("sizes.csv")}


def charted(size: TireSize) -> Charted | None:
    """The table's row for a size; a light truck's row comes before the plain one of the same numbers."""
    found = _sizes().get(_key(size))
    return found or _sizes().get((*_key(size)[:-1], False))


@cache
def sold_sizes() -> tuple[SoldSize, ...]:
    """Sizes that one-piece rims are made for, to look among where nothing is offered yet."""
    return tuple(SoldSize(*(row[name] for name in _SOLD)) for row in _rows("sold_sizes.csv"))


def _charted(row: dict[str, str]) -> Charted:
    def cell(name: str, unit: float) -> float | None:
        return float(row[name]) * unit if row[name] else None

    return Charted(
        measuring_rim=cell("measuring_rim_in", INCH),
        overall_diameter=cell("diameter_mm", MILLIMETRE),
        section_width=cell("section_width_mm", MILLIMETRE),
        source=row["source"],
        standing=row["standing"],
    )


def _key(size: TireSize) -> Key:
    return (
        size.kind,
        size.nominal_section_width,
        size.aspect_ratio,
        size.rim_diameter_code,
        size.construction,
        size.light_truck,
    )
