"""What you want from a build, and what you can get for it."""

from datetime import date
from typing import Annotated, Literal

from planner.project.models.entry import (
    ACount,
    ADuration,
    ALength,
    AMass,
    AMoney,
    AnAngle,
    ARatio,
    ARimCode,
    AText,
    AYesNo,
    Table,
    fact,
    words,
)
from planner.project.models.ranges import LARGEST, ReadsRange, WishedRange
from planner.quantities import kinds

AWishedLength = Annotated[WishedRange | None, ReadsRange(kinds.LENGTH, one=True)]
AWishedPosition = Annotated[WishedRange | None, ReadsRange(kinds.POSITION)]
AWishedShare = Annotated[WishedRange | None, ReadsRange(kinds.SHARE)]
AWishedAngle = Annotated[WishedRange | None, ReadsRange(kinds.ANGLE, clears=False)]

SEARCH = "the search for what fits"


class Wishes(Table):
    """What you want, each as a range, or as much as clears."""

    diameter: AWishedLength = words("overall diameter of the tire", example="35 in to 37 in", since=2, read_by=SEARCH)
    section_width: AWishedLength = words("section width of the tire", example=LARGEST, since=2, read_by=SEARCH)
    poke: AWishedPosition = fact(
        "how far the sidewall sticks out past the fender", name="poke_wished", example="1 in to 2 in", since=2
    )
    fender_fill: AWishedShare = fact(
        "how much of the fender opening's width the tire takes",
        name="fill_wished",
        example="75 % to 85 %",
        since=2,
    )
    rake: AWishedAngle = fact(
        "how far the frame leans down toward the front; negative if the front sits higher",
        name="rake_wished",
        example="0 deg to 1 deg",
        since=2,
    )
    least_steer: AnAngle = words("the least steer to keep", example="27 deg", since=2, read_by=SEARCH)
    longest_lead_time: ADuration = words(
        "the longest you'd wait for a part", example="10 weeks", since=2, read_by=SEARCH
    )
    budget: AMoney = words("what tires, wheels and gears may cost", example="3200", since=2, read_by=SEARCH)
    order: list[str] = words(
        "which of these come first, by their names", default=[], example='["diameter", "poke"]', since=2, read_by=SEARCH
    )


class Offered(Table):
    """Something you can buy: a tire, a wheel, a gear set, as its seller describes it."""

    kind: Literal["tire", "wheel", "gear set", "speedometer gear"] | None = words(
        "what it is", example="tire", since=2, read_by=SEARCH
    )
    name: AText = words("what the seller calls it", example="37 in all-terrain", since=2)
    designation: AText = words("a tire's size", example="37x12.50R17LT", since=2, read_by=SEARCH)
    overall_diameter: ALength = words("a tire's diameter, from its maker", example="36.8 in", since=2, read_by=SEARCH)
    section_width: ALength = words("a tire's section width, from its maker", example="12.5 in", since=2, read_by=SEARCH)
    mass: AMass = words("what one weighs", example="72 lb", since=2, read_by=SEARCH)
    rim_diameter: ARimCode = words("a wheel's rim diameter code", example="17", since=2, read_by=SEARCH)
    rim_width: ALength = words("a wheel's width between the bead seats", example="9 in", since=2, read_by=SEARCH)
    backspace: ALength = words("a wheel's backspace, if there is only one", example="4 1/2 in", since=2, read_by=SEARCH)
    backspace_step: ALength = words("steps the maker offers backspace in", example="1/8 in", since=2, read_by=SEARCH)
    ratio: ARatio = words("a gear set's ratio", example="4.56", since=2, read_by=SEARCH)
    axle: Literal["front", "rear", "both"] | None = words("a gear set's axle", example="both", since=2, read_by=SEARCH)
    teeth: ACount = words("a speedometer gear's teeth", example="17", since=2, read_by=SEARCH)
    price: AMoney = words("price of one", example="472", since=2, read_by=SEARCH)
    lead_time: ADuration = words("from order to arrival", example="2 weeks", since=2, read_by=SEARCH)
    seller: AText = words("where from", alias="from", example="tire shop in the next town", since=2)
    on: date | None = words("when it was offered", since=2)
    note: AText = words("a note", example="five in stock", since=2)
    in_stock: AYesNo = words("if you can get it right away", example="yes", since=2, read_by=SEARCH)
