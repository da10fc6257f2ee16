"""The build as a whole: what is chosen, when it starts, what it may cost, and what is on when."""

from datetime import date

from pydantic import Field

from planner.project.models.entry import AMoney, AText, AYesNo, Table, words

LEFT_OUT = "Left out: as in the stage above, in the first one found"
JUDGED = "each stage you drive, judged as a truck of its own"


class Stage(Table):
    """What's on the truck for a while, if you build one axle at a time."""

    name: AText = words("what you call it", example="rear first", since=2, read_by=JUDGED)
    front: AText = words("the fitment on the front axle", example="found", how=LEFT_OUT, since=2, read_by=JUDGED)
    rear: AText = words("the fitment on the rear axle", example="tall", how=LEFT_OUT, since=2, read_by=JUDGED)
    spare: AText = words("the fitment whose spare you carry", example="found", how=LEFT_OUT, since=2, read_by=JUDGED)
    driven: AYesNo = words("if the truck is driven like this; left out: yes", example="no", since=2, read_by=JUDGED)
    changes: list[str] = words(
        "changes to the truck that are done by then, by name",
        default=[],
        how="Added to those of the stages above; what's done counts in every stage",
        since=2,
        read_by=JUDGED,
    )
    on: date | None = words("from when", since=2, read_by=JUDGED)
    note: AText = words("a note", example="moved on the trailer only", since=2, read_by=JUDGED)


class Plan(Table):
    """The build as a whole: what is chosen, when it starts, what it may cost."""

    chosen: AText = words("the candidate you plan to build", example="taller")
    start: date | None = Field(default=None, description="When work starts.")
    hours_a_week: float | None = Field(default=None, gt=0, le=168, description="Hours a week you have for it.")
    currency: AText = words("the currency of all prices", example="USD")
    budget: AMoney = Field(default=None, description="What it may cost.")
    stages: list[Stage] = words("What is on when, in order", default=[], since=2)
