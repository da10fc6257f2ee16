"""What was measured around the wheels: obstacles in the hub's frame, and who measured what, when and how."""

from datetime import date
from typing import Literal

from pydantic import Field

from planner.project.models.entry import ADistance, AText, Coordinate, Table, words

Point = tuple[Coordinate, Coordinate, Coordinate]


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
        "where it is: [forward, outboard, up]", example='["2 in ± 1/8 in", "-7 in ± 1/8 in", "6 in ± 1/8 in"]'
    )
    to: Point | None = words("its other end, for an edge", example='["9 in", "-7 in", "6 in"]')
    wants: ADistance = words("least clearance wanted", example="1 in")
    measure: AText = words("how to measure it with a tape", example="plumb line from the spring's side to the floor")


class Reading(Table):
    """Who took a reading, when and how."""

    of: AText = words("which entry, by its key", example="axles.front.face_to_face")
    by: AText = words("who", example="owner")
    on: date | None = Field(default=None, description="When.")
    how: AText = words("how", example="tape across both faces, straight edges on the studs")
