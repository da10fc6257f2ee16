"""What the build keeps beside the numbers: decisions, acceptances, tasks, parts, money, sheets printed."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from planner.project.models.entry import (
    ADuration,
    ALength,
    AMoney,
    AText,
    ATorque,
    AYesNo,
    Table,
    pictures_of_it,
    words,
)

AGAIN = "when it's due again"
TIMES = "the task, the build record"


class Override(Table):
    """A limit or an assumed value that you set, and why."""

    value: object = Field(default=None, description="The value, written as for any entry of its kind.")
    because: AText = words("why", example="the wheel maker's own figure")


class RestedOn(Table):
    """A record that remembers what it rested on: keys and figures with their values at the time."""

    rests: AText = words(
        "number of the diary entry that says what it rested on, and a short digest of that",
        example="29 7f3a9c",
        how="Without that entry, or left out where it could rest on something, look at the record once.",
        since=2,
        read_by="looking again at what moved",
    )
    rested_on: dict[str, str] = Field(
        default={},
        description="Entries and figures with their values then, until the next save puts them in the diary.",
    )


class Decision(RestedOn):
    """A decision."""

    question: AText = words("what had to be decided", example="which wheel width?")
    options: list[str] = Field(default=[], description="What you could have chosen.")
    chosen: AText = words("what you chose", example="17x9")
    because: AText = words("why", example="the 11 in rim puts the sidewall into the spring at full lock")
    by: AText = words("who decided", example="owner", since=2)
    on: date | None = Field(default=None, description="When.")
    photos: list[str] = pictures_of_it()


class Acceptance(RestedOn):
    """A caution you accept, with a reason; it lapses when what it rested on changes."""

    flag: AText = words("the rule, by its name", example="tire.mixed_construction")
    at: AText = words("where: the fitment and the rest of the place, as the flag says it", example="tall, front")
    because: AText = words("why", example="moved only on the trailer until the rear pair arrives")
    by: AText = words("who accepts it", example="owner", since=2)
    on: date | None = Field(default=None, description="When.")


class DoneBefore(Table):
    """An earlier time that a repeating task was done."""

    on: date | None = words("when it was done", since=2, read_by=TIMES)
    odometer: ALength = words("what the odometer showed", example="12,345 mi", since=2, read_by=TIMES)
    recorded: AText = words("the value recorded", example="135 ft·lb", since=2, read_by=TIMES)
    note: AText = words("a note", example="left rear moved an eighth of a turn", since=2, read_by=TIMES)
    because: AText = words("why it was done with a value out of range", since=2, read_by=TIMES)
    by: AText = words("who did it", example="owner", since=2, read_by=TIMES)


class Task(RestedOn):
    """A task of your own, or what you recorded on one from the standing list."""

    id: AText = words("its name in the list, kept for good", example="own.paint_wheels")
    title: AText = words("what to do", example="paint the inside of the wheels")
    phase: AText = words("which phase it's in", example="fit")
    after: list[str] = Field(default=[], description="Tasks that must be done first.")
    takes: ADuration = words("working time", example="3 h")
    torque: ATorque = words("torque, if a fastener is tightened", example="150 ft·lb")
    state: Literal["open", "done", "look again", "dropped"] = words("where it stands", default="open")
    recorded: AText = words("the value recorded when it was done", example="0.012 in")
    note: AText = words("a note", example="clay at the tie rod end read 9 mm")
    on: date | None = Field(default=None, description="When it was done.")
    because: AText = words("why it was done with a value out of range, or dropped", example="shop measured again")
    by: AText = words("who did it, or signed", example="owner", since=2)
    odometer: ALength = words("what the odometer showed then", example="12,345 mi", since=2, read_by=AGAIN)
    every_distance: ALength = words(
        "how far until it's due again, if not as the list has it",
        example="3,000 mi",
        since=2,
        read_by=AGAIN,
    )
    every_months: Annotated[int | None, Field(ge=1, le=600)] = words(
        "how many months until it's due again", example="6", since=2, read_by=AGAIN
    )
    earlier: list[DoneBefore] = words("the earlier times, if it repeats", default=[], since=2, read_by=TIMES)
    photos: list[str] = pictures_of_it()


class Quote(Table):
    """The price one seller gave for a part."""

    seller: AText = words("who gave the quote", alias="from", example="wheel shop two towns over", since=2)
    price: AMoney = words("price of one", example="285", since=2)
    currency: AText = words("its currency; left out: the project's", example="USD", since=2)
    lead_time: ADuration = words("from order to arrival", example="8 weeks", since=2)
    on: date | None = words("when it was given", since=2)
    taken: AYesNo = words("if this is the one you took", example="yes", since=2)
    note: AText = words("a note", example="with hub rings", since=2)


class Payment(Table):
    """Money that went to a seller, or came back."""

    amount: AMoney = words("how much, in the project's currency", example="400", since=2)
    on: date | None = words("when", since=2)
    refund: AYesNo = words("if it came back", example="no", since=2)
    note: AText = words("a note", example="down payment", since=2)


class Part(RestedOn):
    """Something you buy."""

    id: AText = words("its name, kept for good", example="wheels")
    title: AText = words("what it is", example="five wheels, 17x9")
    price: AMoney = Field(default=None, description="Price of one, in the project's currency.")
    quantity: int = Field(default=1, ge=0, le=100_000, description="How many.")
    state: Literal["wanted", "ordered", "arrived", "fitted", "returned"] = words("where it stands", default="wanted")
    lead_time: ADuration = words("from order to arrival", example="8 weeks")
    ordered: date | None = Field(default=None, description="When it was ordered.")
    arrived: date | None = Field(default=None, description="When it arrived.")
    source: AText = words("where from", example="wheel shop two towns over")
    used_for: list[str] = Field(default=[], description="Tasks or fitments that need it.")
    kind: Literal["tires", "wheels", "tires and wheels", "gear set", "other"] | None = words(
        "what it is, if it takes the place of a candidate's set price", example="wheels", since=2
    )
    promised: date | None = words("the date promised", since=2)
    note: AText = words("a note", example="call before they powder coat", since=2)
    rests: AText = words(
        "number of the diary's entry that says what it was ordered by, and a short digest of that",
        since=2,
        read_by="looking again at what moved",
    )
    rested_on: dict[str, str] = words(
        "what it was ordered by, until the next save puts it in the diary", default={}, since=2
    )
    photos: list[str] = pictures_of_it()
    as_ordered: dict[str, str] = words("figures on the order sheet as they were ordered", default={}, since=2)
    quotes: list[Quote] = words("prices quoted for it", default=[], since=2)
    payments: list[Payment] = words("what you paid for it, and got back", default=[], since=2)


class PrintedSheet(RestedOn):
    """A sheet that was printed."""

    number: int = Field(ge=1, description="Its number.")
    kind: Literal["measuring", "order", "wall", "checklist", "record", "slip", "look"] | None = words(
        "which sheet", example="checklist"
    )
    on: date | None = Field(default=None, description="When.")
