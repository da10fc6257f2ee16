"""What a drawing of the truck and an order need beside the numbers: its outline, and who buys."""

from typing import Annotated

from pydantic import Field

from planner.project.models.entry import AText, Coordinate, SomePoints, Table, words

LOOK = "the look"  # what reads it
Pixel = tuple[Annotated[float, Field(ge=0, le=100_000)], Annotated[float, Field(ge=0, le=100_000)]]


class KnownPoint(Table):
    """A point on the photo whose place on the truck is known."""

    pixel: Pixel | None = words("where it is on the photo: right, down", example="[410, 912]", since=2, read_by=LOOK)
    at: tuple[Coordinate, Coordinate] | None = words(
        "where it is on the truck: behind the front axle's center, above the ground",
        example='["0 in", "15 1/4 in"]',
        since=2,
        read_by=LOOK,
    )


class Outline(Table):
    """The body's outline as points, above the ground as found: from the side, and if you like from both ends."""

    points: SomePoints = words(
        "points along the outline from the side, in order: behind the front axle's center, above the ground",
        example='[["-34 in", "22 in"], ["-34 in", "46 in"], ["10 in", "50 in"]]',
        since=2,
        read_by=LOOK,
    )
    front: SomePoints = words(
        "points along one half of the outline from the front: out from the truck's middle, above the ground",
        example='[["0 in", "78 in"], ["28 in", "76 in"], ["38 in", "46 in"]]',
        since=2,
        read_by=LOOK,
    )
    rear: SomePoints = words(
        "the same from the rear",
        example='[["0 in", "46 in"], ["39 in", "46 in"], ["39 in", "40 in"]]',
        since=2,
        read_by=LOOK,
    )
    photo: AText = words("the picture the pixels are from", example="side.jpg", since=2)
    pixels: list[Pixel] = words(
        "points along the outline on a photo taken square to the side: right, down",
        default=[],
        example="[[212, 640], [214, 410], [530, 388]]",
        since=2,
        read_by=LOOK,
    )
    known: list[KnownPoint] = words("two points on the photo whose places are known", default=[], since=2, read_by=LOOK)


class Buyer(Table):
    """Who is buying, as it goes on an order."""

    name: AText = words("name", example="the owner", since=2)
    address: AText = words("address", example="12 County Road 5", since=2)
    phone: AText = words("phone", example="555 0100", since=2)
    email: AText = words("e-mail", example="owner@example.org", since=2)
