"""How one entry of the project file is declared: its kind, what it means, how to get it, and an example."""

import os
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from typing import Annotated, Any, NamedTuple

# Looking for plugins of pydantic's reads the metadata of every installed package: 20 ms at each start, for nothing.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.fields import FieldInfo
from pydantic_core import PydanticCustomError, core_schema

from planner.quantities import kinds
from planner.quantities.grammar import Point, read_value
from planner.quantities.kinds import Kind
from planner.quantities.money import MOST as MOST_MONEY
from planner.quantities.money import read_money
from planner.quantities.quantity import Quantity
from planner.quantities.unreadable import Unreadable


class Table(BaseModel):
    """One table of the file. Keys that the program does not know are kept: see `project.unknown`."""

    model_config = ConfigDict(extra="allow", frozen=True, defer_build=True)


@cache
def entries(model: type[Table]) -> Mapping[str, FieldInfo]:
    """The entries of a table by their keys in the file; `with` goes by another name in Python, whose word it is."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


class Reads:
    """Makes a pydantic field take what a person writes for values of one kind."""

    def __init__(self, kind: Kind) -> None:
        self.kind = kind

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return read_as(lambda written: read_value(written, self.kind))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return dict(_JSON_FORMS[self.kind.form])


class ReadsMoney:
    """Makes a pydantic field take what a person writes for an amount of money."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return read_as(read_money)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": ["number", "string"], "minimum": 0, "exclusiveMaximum": MOST_MONEY}


def read_as(read: Callable[[Any], Any]) -> core_schema.CoreSchema:
    """The schema of a field that is read by a function, whose `Unreadable` becomes a fault with its place."""

    def take(written: Any) -> Any:
        try:
            return read(written)
        except Unreadable as trouble:
            told = {"problem": trouble.problem, "accepted": trouble.accepted, "read": trouble.read}
            raise PydanticCustomError("unreadable", "{accepted}", told) from None

    return core_schema.no_info_plain_validator_function(take)


_JSON_FORMS: dict[str, dict[str, Any]] = {
    "quantity": {"type": "string", "maxLength": 64},
    "ratio": {"type": ["string", "number"]},
    "count": {"type": ["integer", "string"]},
    "text": {"type": "string"},
    "yes or no": {"type": ["boolean", "string"]},
    "points": {"type": "array", "items": {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}},
    "ratios": {"type": "array", "items": {"type": ["string", "number"]}},
}

# What a person may leave out is None. pydantic takes the kind, type checkers the type before it.
ALength = Annotated[Quantity | None, Reads(kinds.LENGTH)]
ADistance = Annotated[Quantity | None, Reads(kinds.DISTANCE)]
APosition = Annotated[Quantity | None, Reads(kinds.POSITION)]
AMass = Annotated[Quantity | None, Reads(kinds.MASS)]
AWeight = Annotated[Quantity | None, Reads(kinds.WEIGHT)]
APressure = Annotated[Quantity | None, Reads(kinds.PRESSURE)]
AnAngle = Annotated[Quantity | None, Reads(kinds.ANGLE)]
ASpeed = Annotated[Quantity | None, Reads(kinds.SPEED)]
ATurningSpeed = Annotated[Quantity | None, Reads(kinds.TURNING_SPEED)]
ATorque = Annotated[Quantity | None, Reads(kinds.TORQUE)]
APerMile = Annotated[Quantity | None, Reads(kinds.PER_MILE)]
ADuration = Annotated[Quantity | None, Reads(kinds.DURATION)]
ARatio = Annotated[Quantity | None, Reads(kinds.RATIO)]
ARimCode = Annotated[Quantity | None, Reads(kinds.RIM_CODE)]
AShare = Annotated[Quantity | None, Reads(kinds.SHARE)]
ACount = Annotated[int | None, Reads(kinds.COUNT)]
AText = Annotated[str | None, Reads(kinds.TEXT)]
AYesNo = Annotated[bool | None, Reads(kinds.YES_NO)]
SomePoints = Annotated[tuple[Point, ...] | None, Reads(kinds.POINTS)]
SomeRatios = Annotated[tuple[Quantity, ...] | None, Reads(kinds.RATIOS)]
AMoney = Annotated[Decimal | None, ReadsMoney()]
# Within a point or a table of names nothing is left out.
Coordinate = Annotated[Quantity, Reads(kinds.POSITION)]
NamedRatio = Annotated[Quantity, Reads(kinds.RATIO)]


class FactNote(NamedTuple):
    """What `fact` declares beside the field: the name that formulas read, and words for the person."""

    name: str | None
    means: str
    how: str
    example: str


class Usual(NamedTuple):
    """The tolerance that a measured entry takes where the person gives none: how well `tool` reads such a thing.

    Some entries are measured only on what is there: those of the wheels and tires that came with the truck. Of a
    candidate they may have a tolerance too: what a tire's maker tells of it `by_maker`, what its size tells `by_size`.
    """

    tolerance: str
    tool: str
    found_only: bool = False
    by_maker: str = ""
    by_size: str = ""

    @property
    def on_found(self) -> "Usual":
        """The same, of an entry that of a candidate is what its maker states, or what is ordered."""
        return self._replace(found_only=True)

    def or_made(self, by_maker: str, by_size: str) -> "Usual":
        """The same, of what a tire is made to: how far a new one may be off its maker's table, or off its size."""
        return self._replace(found_only=True, by_maker=by_maker, by_size=by_size)


class Since(NamedTuple):
    """From which version of the format a key is, and what reads it today where that is not a formula."""

    version: int
    read_by: str = ""


def fact(
    means: str,
    *,
    example: str = "",
    how: str = "",
    name: str | None = None,
    since: int = 1,
    usual: Usual | None = None,
) -> Any:
    """Declare an entry that formulas and rules may read, under its key or under `name`.

    `means` says what it is, `how` how a person with a tape gets it, `example` how it may be written, `usual` what
    tolerance it has where it is measured and none is given.
    """
    info: Any = Field(default=None, description=f"{means}. {how}" if how else f"{means}.")
    info.metadata.append(FactNote(name, means, how, example))
    if since > 1:  # most are of the first, and each start makes them all
        info.metadata.append(Since(since))
    if usual is not None:
        info.metadata.append(usual)
    return info


def words(
    means: str,
    *,
    default: Any = None,
    example: str = "",
    how: str = "",
    since: int = 1,
    read_by: str = "",
    alias: str | None = None,
    usual: Usual | None = None,
) -> Any:
    """Declare an entry that is kept and shown, and that no formula reads."""
    info: Any = Field(default=default, alias=alias, description=f"{means}. {how}" if how else f"{means}.")
    info.metadata.append(FactNote("", means, how, example))
    if since > 1 or read_by:
        info.metadata.append(Since(since, read_by))
    if usual is not None:
        info.metadata.append(usual)
    return info


def pictures_of_it() -> Any:
    """Declare a list of photos, each with what it shows behind a colon."""
    return words(
        "pictures of it, JPEG or PNG, beside this file",
        default=[],
        example='["hub.jpg", "drum.jpg: the rib that is tight"]',
        how="What it shows goes behind a colon; the build record prints them",
        since=2,
        read_by="the build record",
    )


def since(info: Any) -> Since:
    """From which version a declared field is; `Since(1)` where it does not say."""
    return next((extra for extra in info.metadata if isinstance(extra, Since)), Since(1))
