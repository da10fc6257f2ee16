"""The whole project file."""

from typing import Literal

from pydantic import Field

from planner.project.models.asking import Asking
from planner.project.models.axles import Axle
from planner.project.models.changes import TruckChange
from planner.project.models.drivetrain import Drivetrain
from planner.project.models.entry import Table, words
from planner.project.models.fitments import Fitment
from planner.project.models.look import Buyer, Outline
from planner.project.models.measurements import Obstacle, Reading, WhichCounts
from planner.project.models.plan import Plan
from planner.project.models.received import ReceivedWheel
from planner.project.models.vehicle import Legal, Use, Vehicle
from planner.project.models.wishes import Offered, Wishes
from planner.project.models.work import Acceptance, Decision, Override, Part, PrintedSheet, Task

FORMAT = 2


class Axles(Table):
    """The axles, front and rear."""

    front: Axle = Field(default=Axle.model_construct(), description="The front axle.")
    rear: Axle = Field(default=Axle.model_construct(), description="The rear axle.")


class Project(Table):
    """One truck: facts, candidates, decisions, tasks, parts, sheets. Figures and flags are never stored."""

    format: Literal[2] = Field(description="The version of this file's format.")
    vehicle: Vehicle = Field(default=Vehicle.model_construct(), description="The truck.")
    use: Use = Field(default=Use.model_construct(), description="What you'll use it for.")
    legal: Legal = Field(default=Legal.model_construct(), description="What the law says.")
    axles: Axles = Field(default=Axles.model_construct(), description="The axles.")
    drivetrain: Drivetrain = Field(default=Drivetrain.model_construct(), description="Engine to axle.")
    fitments: dict[str, Fitment] = Field(default={}, description="Fitments: `found`, and each candidate by name.")
    changes: list[TruckChange] = words("changes to the truck itself", default=[], since=2)
    obstacles: list[Obstacle] = Field(default=[], description="What the tire has to stay clear of.")
    readings: list[Reading] = Field(default=[], description="Who measured what, when and how.")
    which_counts: dict[str, WhichCounts] = words(
        "by the key of an entry in quotes, which of its readings counts: the middle, the worse, or one by its number",
        default={},
        since=2,
        read_by="the entry that the readings are of",
    )
    limits: dict[str, Override] = Field(default={}, description="Limits you set yourself, with reasons.")
    assumptions: dict[str, Override] = Field(default={}, description="Assumed values you know better.")
    wishes: Wishes = words("what you want", default=Wishes.model_construct(), since=2)
    offered: list[Offered] = words("what you can get", default=[], since=2)
    plan: Plan = Field(default=Plan.model_construct(), description="The build as a whole.")
    decisions: list[Decision] = Field(default=[], description="What was decided.")
    acceptances: list[Acceptance] = Field(default=[], description="Cautions you accept.")
    tasks: list[Task] = Field(default=[], description="Tasks.")
    parts: list[Part] = Field(default=[], description="Parts.")
    wheels: list[ReceivedWheel] = words("each wheel that came", default=[], since=2)
    buyer: Buyer = words("who is buying", default=Buyer.model_construct(), since=2)
    outline: Outline = words("the outline of the body", default=Outline.model_construct(), since=2)
    sheets: list[PrintedSheet] = Field(default=[], description="Sheets printed.")
    asking: Asking = words("being asked", default=Asking.model_construct(), since=2)
