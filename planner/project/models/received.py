"""Each wheel that came, measured piece by piece."""

from datetime import date
from typing import Literal

from planner.project.models.entry import ADistance, ALength, APosition, AText, Table, pictures_of_it, words
from planner.project.models.tools import CALIPER, DIAL, RULE

Position = Literal[
    "front left",
    "front right",
    "rear left",
    "rear right",
    "front left inner",
    "front left outer",
    "front right inner",
    "front right outer",
    "rear left inner",
    "rear left outer",
    "rear right inner",
    "rear right outer",
    "spare",
]


class ReceivedWheel(Table):
    """One wheel that came, as measured."""

    mark: AText = words("what's stamped or painted on it", example="W3", since=2)
    position: Position | None = words("where it goes on the truck", example="rear left", since=2)
    backspace: APosition = words(
        "mounting face to the rim's inboard edge", example="4 11/16 in ± 1/64 in", since=2, usual=RULE
    )
    offset: APosition = words(
        "mounting face outboard of the rim's center plane", example="5 mm ± 0.5 mm", since=2, usual=RULE
    )
    bore: ALength = words("center bore", example="5.76 in ± 0.005 in", since=2, usual=CALIPER)
    radial_runout: ADistance = words("radial runout, full swing of the needle", example="0.030 in", since=2, usual=DIAL)
    lateral_runout: ADistance = words(
        "lateral runout, full swing of the needle", example="0.045 in", since=2, usual=DIAL
    )
    received: date | None = words("when it came", since=2)
    state: Literal["received", "accepted", "fitted", "sent back"] = words(
        "where it stands", default="received", example="accepted", since=2
    )
    note: AText = words("a note", example="paint in two seats, scraped off", since=2)
    photos: list[str] = pictures_of_it()
