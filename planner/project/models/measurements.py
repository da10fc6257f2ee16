"""What was measured around the wheels: obstacles in the hub's frame, and who measured what, when and how."""

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from planner.project.models.entry import ADistance, AText, Coordinate, Table, read_as, words
from planner.project.models.tools import TAPE
from planner.quantities.grammar import as_text
from planner.quantities.unreadable import Unreadable


class ReadsWhich:
    """Makes a pydantic field take which of several readings counts."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return read_as(_which)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [{"enum": ["middle", "worse"]}, {"type": "integer", "minimum": 1}]}


def _which(written: object) -> str | int:
    if written in ("middle", "worse"):
        return str(written)
    if isinstance(written, bool) or not isinstance(written, int) or written < 1:
        raise Unreadable(as_text(written), "is no reading", "'middle', 'worse', or a reading's number: 1, 2 and so on")
    return written


WhichCounts = Annotated[Literal["middle", "worse"] | int, ReadsWhich()]
Point = tuple[Coordinate, Coordinate, Coordinate]


ObstacleKind = Literal["steering", "brake", "fuel", "exhaust", "spring", "frame", "sheet metal", "other"]


class Obstacle(Table):
    """A point, or an edge between two points, that the tire or wheel must stay clear of.

    Positions are [forward, outboard, up] from the center of the hub's mounting face, wheel straight ahead at ride
    height.
    """

    name: AText = words("what it is", example="spring pack, front eye bolt")
    axle: Literal["front", "rear"] | None = words("at which axle", example="front")
    side: Literal["left", "right", "both"] = words(
        "on which side; both where it is the same mirrored", default="both", example="left"
    )
    moves_with: Literal["body", "axle", "knuckle"] | None = words(
        "what it is fixed to: body, axle, or knuckle", example="body"
    )
    at: Point | None = words(
        "where it is: [forward, outboard, up]",
        example='["2 in ± 1/8 in", "-7 in ± 1/8 in", "6 in ± 1/8 in"]',
        usual=TAPE,
    )
    to: Point | None = words("its other end, for an edge", example='["9 in", "-7 in", "6 in"]', usual=TAPE)
    wants: ADistance = words("least clearance wanted", example="1 in")
    kind: ObstacleKind | None = words("what kind of thing it is", example="spring", since=2, read_by="the sweep")
    measured_from: Literal["face", "plumb"] | None = words(
        "how it was measured: from the hub's face, or by plumb line and level",
        example="face",
        since=2,
        read_by="the sweep",
    )
    measure: AText = words("how to measure it with a tape", example="plumb line from the spring's side to the floor")


class Reading(Table):
    """One reading: of what, its value, and who took it, when, how and with what."""

    of: AText = words("which entry, by its key", example="axles.front.face_to_face")
    value: object = words("what was read, written as for the entry itself", since=2, read_by="the entry that it is of")
    side: Literal["left", "right"] | None = words(
        "on which side of the truck", example="left", since=2, read_by="the sweep, a side with its own readings"
    )
    fitment: AText = words("which candidate's wheel was on, for a mock-up", example="tall", since=2)
    place: AText = words("where the wheel stood, for a mock-up", example="left, full lock, at the bump stop", since=2)
    by: AText = words("who", example="owner")
    on: date | None = Field(default=None, description="When.")
    how: AText = words("how", example="tape across both faces, straight edges on the studs")
    tool: AText = words("with what", example="steel tape", since=2, read_by="wherever a value's readings are told")
    photos: list[str] = words("pictures of it, JPEG or PNG, beside this file", default=[], since=2)
