"""The build as a whole: what is chosen, when it starts, what it may cost, and what is on when."""

from datetime import date

from pydantic import Field

from planner.project.models.entry import AMoney, AText, AYesNo, Table, words


class Stage(Table):
    """What is on the truck for a while, where the build goes one axle at a time."""

    name: AText = words("what you call it", example="rear first", since=2)
    front: AText = words("the fitment on the front axle", example="found", since=2)
    rear: AText = words("the fitment on the rear axle", example="tall", since=2)
    driven: AYesNo = words("whether the truck is driven like this", example="no", since=2)
    changes: list[str] = words("changes to the truck that are done by then, by name", default=[], since=2)
    on: date | None = words("from when", since=2)
    note: AText = words("a note", example="moved on the trailer only", since=2)


class Plan(Table):
    """The build as a whole: what is chosen, when it starts, what it may cost."""

    chosen: AText = words("the candidate that is planned", example="taller")
    start: date | None = Field(default=None, description="When work starts.")
    hours_a_week: float | None = Field(default=None, gt=0, le=168, description="Working hours that you have a week.")
    currency: AText = words("the currency of all prices", example="USD")
    budget: AMoney = Field(default=None, description="What it may cost.")
    stages: list[Stage] = words("What is on when, in order", default=[], since=2)
