"""Whether a rim is made for the tire on it: radials, the contour, and the slope of the bead seats."""

from math import radians
from typing import Annotated

from planner.quantities.kinds import ANGLE, Angle, RimCode, Text, YesNo
from planner.sources.citing import practice
from planner.sources.standards import RIM_DIAMETERS
from planner.sources.us_federal import RIM_SERVICING
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import greatest, magnitude

most_bead_seat_difference = limit(
    Angle,
    "2 deg",
    means="how far the slope of the bead seats may be from the one that the tire's rim code stands for",
    ground=practice("seats are either 5° or 15°; an angle finder on a seat reads to a degree or two"),
)


@rule(
    severity="stop",
    danger="burst",
    notices="a radial tire on a rim made for bias tires",
    says="The tire is radial, and {sign}.",
    clear_says="{sound}",
    cure="Don't mount radials on it: they flex the rim's flange and gutter more than bias tires do, and the rim "
    "cracks at the bead seat or the disc and lets go under air. Get rims whose maker allows radials at this load and "
    "pressure, stamped or in writing (then enter that: wheel radial allowed), or run bias tires. Don't weld or "
    "reinforce anything.",
    ground=RIM_SERVICING.recalled("(e): matching by the charts of tire and rim makers"),
    holds={"construction": "radial", "radial_allowed": "yes", "rim_tubeless": "no"},
    fails={"construction": "radial", "rim_tubeless": "no"},
    as_found=True,
)
def radial_on_bias_rim(
    construction: Text,
    radial_allowed: YesNo | None = None,
    rim_tubeless: YesNo | None = None,
    rim_pieces: Text | None = None,
) -> Finding | None:
    """Whether the rim's maker allows radials where the tire is one.

    Unsaid, a rim for tubes and one in pieces count as made for bias; of any other it is not known, since old tubeless
    rims in one piece were made for bias tires as well.
    """
    if construction != "radial":
        return Finding(
            True, {"sign": "", "sound": "The tires are bias, so the rim doesn't have to be one for radials."}
        )
    if radial_allowed is not None:
        words = {"sign": "the rim's maker doesn't allow radials on it", "sound": "The rim's maker allows radials."}
        return Finding(radial_allowed, words)
    signs = (
        "the rim is made for tubes" if rim_tubeless is False else "",
        "it comes apart in pieces" if rim_pieces == "multi" else "",
    )
    told = " and ".join(filter(None, signs))
    words = {"sign": f"{told}: nobody has entered that the rim's maker allows radials", "sound": ""}
    return Finding(False, words) if told else None


@rule(
    severity="stop",
    danger="blows apart",
    notices="the rim's contour isn't one the tire maker lists",
    says="The tire maker lists rim contour {tire_contour}; this one is {rim_contour}.",
    clear_says="The rim's contour, {rim_contour}, is one the tire maker lists ({tire_contour}).",
    cure="Don't mount it: a flange of the wrong height or shape cuts the bead or lets it go. Get a rim with a contour "
    "from the tire maker's table. If the table lists this one too, enter all it lists, with commas.",
    ground=RIM_SERVICING.recalled("(e): matching by the charts of tire and rim makers"),
    holds={"tire_contour": "J, JJ", "rim_contour": "JJ"},
    fails={"tire_contour": "J, JJ", "rim_contour": "K"},
    only_with=("tire_contour",),
)
def rim_contour_differs(tire_contour: Text, rim_contour: Text) -> bool:
    """Whether the rim's contour is among the tire maker's, letter case and spaces aside."""
    asked = tire_contour.replace(";", ",").replace("/", ",").replace(" or ", ",").split(",")
    return _bare(rim_contour) in {_bare(one) for one in asked}


def _bare(contour: str) -> str:
    return "".join(contour.split()).upper()


@rule(
    severity="stop",
    danger="blows apart",
    notices="the bead seats don't have the slope the tire needs",
    says="The rim's bead seats slope at {bead_seat_angle}; a tire of rim code {code} sits on seats of {asked}.",
    clear_says="The bead seats slope at {bead_seat_angle}, as a tire of its rim code needs.",
    cure="Never mount it: a bead on a seat of the wrong slope doesn't hold and bursts off when you air it up; that "
    "has killed people. Read the stamp on the rim and the code on the tire, measure the seat again, and get a rim "
    "with the tire's code. Tires with codes in .5 sit on 15° seats, whole codes on 5°.",
    ground=RIM_DIAMETERS.recalled("5° bead seats; 15° for codes in .5 by the tire makers' tables"),
    holds={"bead_seat_angle": "6.9 deg", "tire_rim_code": "16", "most_bead_seat_difference": "2 deg"},
    fails={"bead_seat_angle": "12.9 deg", "tire_rim_code": "16.5", "most_bead_seat_difference": "2 deg"},
    only_with=("bead_seat_angle",),
    beyond="over by",
)
def bead_seats_slope_otherwise(
    bead_seat_angle: Angle, tire_rim_code: RimCode, most_bead_seat_difference: Angle, rim_pieces: Text | None = None
) -> Annotated[Finding, ANGLE]:
    """Margin in rad; the flat base of a rim in pieces may lie anywhere from level to 5°."""
    asked = radians(15 if tire_rim_code % 1 else 5)
    flat = rim_pieces == "multi" and not tire_rim_code % 1
    words = {"code": f"{tire_rim_code:g}", "asked": "15°" if tire_rim_code % 1 else "0° to 5°" if flat else "5°"}
    off = greatest(bead_seat_angle - asked, -bead_seat_angle) if flat else magnitude(bead_seat_angle - asked)
    return Finding(most_bead_seat_difference - off, words)
