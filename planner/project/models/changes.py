"""Changes to the truck: what the plan sets different from what was found, and what was measured once it was done."""

from datetime import date
from typing import Literal

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

    value: object = words(
        "the value, written as for the entry itself", since=2, read_by="as what the change sets, once it is done"
    )
    by: AText = words("who measured it", example="owner", since=2, read_by="the build record")
    on: date | None = words("when", since=2, read_by="the build record")
    how: AText = words("how", example="board on the drum", since=2, read_by="the build record")
    tool: AText = words("with which tool", example="steel rule", since=2)


class TruckChange(Table):
    """A change to the truck itself, such as longer stop screws or a lift: what was found stays as it was found."""

    name: AText = words(
        "what you call it, kept for good", example="longer stop screws", since=2, read_by="the task, compare, why"
    )
    kind: ChangeKind = words(
        "what you change", default="other", example="steering stops", since=2, read_by="the task's caution"
    )
    state: Literal["considered", "decided", "done", "given up"] = words(
        "where it stands", default="considered", example="decided", since=2, read_by="every candidate it goes with"
    )
    with_fitments: list[str] = words(
        "the candidates it goes with; left out: all of them",
        default=[],
        alias="with",
        since=2,
        read_by="every candidate it goes with",
    )
    because: AText = words("why", example="a degree more than the spring allows", since=2, read_by="the build record")
    price: AMoney = words(
        "what it costs, in the project's currency", example="40", since=2, read_by="the sum of the build"
    )
    done_by: AText = words("who does the work", example="brake shop", since=2, read_by="the build record")
    on: date | None = words("when it was done", since=2, read_by="the build record")
    sets: dict[str, object] = words(
        "entries of the truck it sets, each key in quotes, and their values",
        default={},
        example='{ "axles.front.steering.stop_angle" = "27 deg ± 1/2 deg" }',
        since=2,
        read_by="formulas, the sweep and sheets, in place of what was found",
    )
    measured: dict[str, MeasuredAfter] = words(
        "entries of the truck as measured once it's done, each key in quotes", default={}, since=2
    )
