"""What was measured around the wheels: obstacles in the hub's frame, and who measured what, when and how."""

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from planner.project.models.entry import ADistance, AnAngle, AText, Coordinate, Table, pictures_of_it, read_as, words
from planner.project.models.tools import ANGLE, TAPE
from planner.project.models.work import RestedOn
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
    """A point, or an edge between two points, that the tire or wheel has to stay clear of.

    Positions are [forward, outboard, up] from the center of the hub's mounting face, wheel straight ahead at ride
    height.
    """

    name: AText = words("what it is", example="spring pack, front eye bolt")
    axle: Literal["front", "rear"] | None = words("at which axle", example="front")
    side: Literal["left", "right", "both"] = words(
        "which side; both if it's the same mirrored", default="both", example="left"
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
    wants: ADistance = words("least clearance you want", example="1 in")
    kind: ObstacleKind | None = words("what kind of thing it is", example="spring", since=2, read_by="the sweep")
    measured_from: Literal["face", "plumb"] | None = words(
        "how it was measured: from the hub face, or by plumb line and level",
        example="face",
        since=2,
        read_by="the sweep",
    )
    measure: AText = words(
        "how to measure it with a tape", example="plumb line from the side of the spring to the floor"
    )


Reached = Literal["bump", "droop", "crossed", "lock"]
FULL_CYCLE: tuple[Reached, ...] = ("bump", "droop", "crossed", "lock")


class Reading(RestedOn):
    """One reading: of what, its value, and who took it, when, how and with which tool.

    With a `fitment` it is of a mock-up: the least room between that candidate's wheel and an obstacle, on one side.
    """

    of: AText = words(
        "which entry, by its key; of a mock-up, which obstacle, by its name", example="axles.front.face_to_face"
    )
    value: object = words("what was read, written as for the entry itself", since=2, read_by="the entry that it is of")
    side: Literal["left", "right"] | None = words(
        "on which side of the truck", example="left", since=2, read_by="the sweep, a side with its own readings"
    )
    fitment: AText = words(
        "which candidate's wheel was on, for a mock-up", example="tall", since=2, read_by="the mock-up"
    )
    place: AText = words("where the wheel was, for a mock-up", example="left, full lock, at the bump stop", since=2)
    reached: list[Reached] = words(
        "what you moved it through while looking for the tightest spot, each to its end and everything between",
        default=[],
        example='["bump", "droop", "crossed", "lock"]',
        how="On the bump stops, in full droop, crossed both ways, and lock to lock all along. If you leave one out, "
        "you didn't go there, and the reading clears nothing there.",
        since=2,
        read_by="the mock-up",
    )
    turned: AnAngle = words(
        "the farthest the inner wheel was turned, for a mock-up",
        example="31 deg ± 1/2 deg",
        since=2,
        read_by="the mock-up",
        usual=ANGLE,
    )
    came_up: ADistance = words(
        "the farthest the wheel came up from ride height, for a mock-up",
        example="4 in ± 1/8 in",
        since=2,
        read_by="the mock-up",
        usual=TAPE,
    )
    by: AText = words("who", example="owner")
    on: date | None = Field(default=None, description="When.")
    how: AText = words("how", example="tape across both faces, straightedges on the studs")
    tool: AText = words(
        "with which tool", example="steel tape", since=2, read_by="wherever a value's readings are told"
    )
    photos: list[str] = pictures_of_it()
    rested_on: dict[str, str] = words(
        "entries with their values then, until the next save puts them in the diary", default={}, since=2
    )
