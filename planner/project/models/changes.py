"""Changes to the truck: what a plan sets otherwise than it was found, and what was measured once it was done."""

from datetime import date
from typing import Literal

from pydantic import Field

from planner.project.models.entry import AMoney, AText, Table, words

ChangeKind = Literal[
    "steering stops",
    "lift",
    "bump stop",
    "fender or bed trimmed",
    "spacer or adapter",
    "studs and nuts",
    "hub bore or ring",
    "gear set",
    "speedometer gear or adapter",
    "brake parts",
    "steering parts",
    "other",
]


class MeasuredAfter(Table):
    """One entry of the truck, measured again after the work."""

    value: object = Field(default=None, description="The value, written as for the entry itself.")
    by: AText = words("who measured it", example="owner")
    on: date | None = Field(default=None, description="When.")
    how: AText = words("how", example="board on the drum")
    tool: AText = words("with what", example="rule, 1/32 in")


class TruckChange(Table):
    """A change to the truck itself, such as longer stop screws or a lift: what was found stays as it was found."""

    name: AText = words("what you call it, kept for good", example="longer stop screws")
    kind: ChangeKind = words("what is changed", default="other", example="steering stops")
    state: Literal["considered", "decided", "done", "given up"] = words(
        "where it stands", default="considered", example="decided"
    )
    with_fitments: list[str] = Field(
        default=[], alias="with", description="The candidates that it goes with; left out: all of them."
    )
    because: AText = words("why", example="a degree more than the spring allows")
    price: AMoney = words("what it costs, in the project's currency", example="40")
    done_by: AText = words("who does the work", example="brake shop")
    on: date | None = Field(default=None, description="When it was done.")
    sets: dict[str, object] = Field(
        default={}, description="Entries of the truck that it sets, each key in quotes, and their values."
    )
    measured: dict[str, MeasuredAfter] = Field(
        default={}, description="Entries of the truck as measured once it is done, each key in quotes."
    )
