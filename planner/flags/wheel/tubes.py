"""Whether a tube and its flap are those of the tire and rim that they are put into."""

from planner.quantities.kinds import Distance, Length, RimCode, Text, YesNo
from planner.sources.citing import COMMON_PRACTICE, practice
from planner.sources.us_federal import RIM_SERVICING
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import least, where

most_flap_difference = limit(
    Distance,
    "1/2 in",
    means="how far a rim's width may be from the one marked on a flap",
    ground=practice(
        "flaps are made for rims by the half inch; one that's too narrow lets the tube into the rim's edge"
    ),
)

_ROUNDED = 0.0002  # m: 190 mm and 7.50 in are not one size, 190.5 mm and 7.50 in are

_NO_TUBE = "The tire runs without a tube."


@rule(
    severity="stop",
    danger="burst",
    notices="the tube isn't the tire's size",
    says="{trouble}",
    clear_says="{sound}",
    cure="Don't inflate it: a tube that's too small stretches thin and bursts, one that's too large folds and chafes "
    "through, both at speed. Get a new tube marked for this tire's size; if the tube maker's chart lists the tire "
    "too, enter the chart's sizes with the mark. Have a tire shop with a cage mount it.",
    ground=RIM_SERVICING.recalled("(e): matching by the charts of tire and rim makers"),
    holds={
        "tire_tube": "tube",
        "tube_size": "7.00/7.50-16",
        "tube_narrowest": "7 in",
        "tube_widest": "7.5 in",
        "tube_rim_code": "16",
        "designation": "7.50-16",
        "nominal_section_width": "7.5 in",
        "tire_rim_code": "16",
    },
    fails={
        "tire_tube": "tube",
        "tube_size": "6.50/7.00-16",
        "tube_narrowest": "6.5 in",
        "tube_widest": "7 in",
        "tube_rim_code": "16",
        "designation": "7.50-16",
        "nominal_section_width": "7.5 in",
        "tire_rim_code": "16",
    },
)
def tube_of_another_size(
    tire_tube: Text,
    tube_size: Text | None = None,
    tube_narrowest: Length | None = None,
    tube_widest: Length | None = None,
    tube_rim_code: RimCode | None = None,
    designation: Text | None = None,
    nominal_section_width: Length | None = None,
    tire_rim_code: RimCode | None = None,
) -> Finding | None:
    """Whether the tire's nominal width and rim are among those marked on the tube; nothing to ask without a tube."""
    if tire_tube != "tube":
        return Finding(True, {"trouble": "", "sound": _NO_TUBE})
    if tube_rim_code is None or tire_rim_code is None:
        return None
    words = {
        "trouble": f"The tube is marked {tube_size} and the tire is {designation}.",
        "sound": f"The tube, marked {tube_size}, is for the tire, {designation}.",
    }
    if tube_rim_code != tire_rim_code:
        return Finding(False, words)
    margin = _within(nominal_section_width, tube_narrowest, tube_widest, _ROUNDED)
    return None if margin is None else Finding(where(margin, True, False), words)


@rule(
    severity="stop",
    danger="burst",
    notices="a radial tire with a tube not made for radials",
    says="The tire is radial and takes a tube, and the tube isn't marked for radials.",
    clear_says="{sound}",
    cure="Don't run it: a radial's sidewall flexes more, and a tube made for bias tires chafes, heats up and bursts "
    "in it. Get a new tube marked radial (R, or the word), the tire's size, powdered, with a new flap if the rim "
    "takes one.",
    ground=practice("tubes for radials say so, and run in bias tires too; the other way around they fail"),
    holds={"tire_tube": "tube", "construction": "radial", "tube_radial": "yes"},
    fails={"tire_tube": "tube", "construction": "radial", "tube_radial": "no"},
)
def tube_not_for_radials(
    tire_tube: Text, construction: Text, tube_radial: YesNo | None = None, tube_marked_radial: YesNo | None = None
) -> Finding | None:
    """Whether a radial's tube is made for it; an R in its mark says so where nobody has."""
    if tire_tube != "tube":
        return Finding(True, {"sound": _NO_TUBE})
    if construction != "radial":
        return Finding(True, {"sound": "The tire is bias, and a tube for either goes into it."})
    if tube_radial is None and not tube_marked_radial:
        return None
    return Finding(tube_radial is not False, {"sound": "The tube is made for radial tires, as the tire is."})


@rule(
    severity="caution",
    danger="burst",
    notices="a tube in a tubeless tire",
    says="The tire is tubeless, and a tube marked {tube_size} is entered for it.",
    clear_says="The tire is one that runs with a tube; another rule checks if {tube_size} is its size.",
    cure="Leave it out: air gets trapped between tube and liner, the labels and ribs inside chafe it, and it fails "
    "all at once where a tubeless tire would leak slowly. Use one only if the tire maker allows a tube in this exact "
    "tire, and only the tube they name.",
    ground=COMMON_PRACTICE,
    holds={"tire_tube": "tube", "tube_size": "7.50-16"},
    fails={"tire_tube": "tubeless", "tube_size": "7.50R16"},
    only_with=("tube_size",),
)
def tube_in_tubeless_tire(tire_tube: Text, tube_size: Text) -> bool:
    """Whether the tire that a tube was entered for wants one."""
    return tire_tube == "tube"


@rule(
    severity="note",
    notices="a tube on a rim made for tubeless tires",
    says="The tire takes a tube, and the rim is made for tubeless tires.",
    clear_says="{sound}.",
    cure="It's OK if the tire maker lists the rim. Check before it's mounted: no burrs, welds or labels inside, humps "
    "and drop center smooth, and the valve hole bushed to the tube's stem, or it chafes and shears there.",
    ground=COMMON_PRACTICE,
    holds={"tire_tube": "tube", "rim_tubeless": "no"},
    fails={"tire_tube": "tube", "rim_tubeless": "yes"},
)
def tube_on_tubeless_rim(tire_tube: Text, rim_tubeless: YesNo) -> Finding:
    """Whether tube and rim were made for each other, or there is no tube."""
    if tire_tube != "tube":
        return Finding(True, {"sound": _NO_TUBE.rstrip(".")})
    return Finding(not rim_tubeless, {"sound": "The tire takes a tube, and the rim is made for one"})


@rule(
    severity="caution",
    danger="burst",
    notices="the flap is missing or for another rim",
    says="{trouble}",
    clear_says="{sound}",
    cure="Don't inflate it like this: without the right flap the beads and the rim's slot pinch the tube, and it "
    "bursts. Get a new flap marked for this rim, with the new tube. If the rim maker says this one takes none, accept "
    "this and give their word as the reason.",
    ground=practice("multi-piece rims with a flat base take a flap between tube and rim; most drop centers take none"),
    holds={
        "tire_tube": "tube",
        "rim_pieces": "multi",
        "flap_mark": "20x7.50",
        "flap_rim_code": "20",
        "flap_rim_narrowest": "7.5 in",
        "flap_rim_widest": "7.5 in",
        "rim_diameter_code": "20",
        "rim_width": "8 in",
    },
    fails={
        "tire_tube": "tube",
        "rim_pieces": "multi",
        "flap_mark": "20x7.50",
        "flap_rim_code": "20",
        "flap_rim_narrowest": "7.5 in",
        "flap_rim_widest": "7.5 in",
        "rim_diameter_code": "20",
        "rim_width": "8.02 in",
    },
)
def flap_missing_or_another_rims(
    tire_tube: Text,
    rim_pieces: Text,
    most_flap_difference: Distance,
    flap_mark: Text | None = None,
    flap_rim_code: RimCode | None = None,
    flap_rim_narrowest: Length | None = None,
    flap_rim_widest: Length | None = None,
    flap_tire_narrowest: Length | None = None,
    flap_tire_widest: Length | None = None,
    rim_diameter_code: RimCode | None = None,
    rim_width: Length | None = None,
    nominal_section_width: Length | None = None,
) -> Finding | None:
    """Whether tube and rim have the flap that they need; without a tube or with a one-piece rim none is asked for."""
    if tire_tube != "tube":
        return Finding(True, {"trouble": "", "sound": _NO_TUBE})
    if flap_mark is None:
        sound = {"trouble": "", "sound": "The rim is in one piece: the tube lies on it without a flap."}
        return None if rim_pieces == "multi" else Finding(True, sound)
    if flap_rim_code is None:
        words = {"trouble": "The rim comes apart in pieces, the tire has a tube, and there is no flap between them."}
        return Finding(rim_pieces != "multi", words | {"sound": "The rim is in one piece and needs no flap."})
    words = {
        "trouble": f"The flap is marked {flap_mark}, which isn't for this rim and tire.",
        "sound": f"The flap, marked {flap_mark}, is for this rim and tire.",
    }
    if rim_diameter_code is not None and flap_rim_code != rim_diameter_code:
        return Finding(False, words)
    by_rim = _within(rim_width, flap_rim_narrowest, flap_rim_widest, most_flap_difference)
    by_tire = _within(nominal_section_width, flap_tire_narrowest, flap_tire_widest, _ROUNDED)
    margin = by_tire if by_rim is None else by_rim
    return None if margin is None or rim_diameter_code is None else Finding(where(margin, True, False), words)


def _within(value: float | None, narrowest: float | None, widest: float | None, by: float) -> float | None:
    """Margin in m by which a width lies in a range, or no further out of it than so much; None where one is missing."""
    if value is None or narrowest is None or widest is None:
        return None
    return least(value - narrowest, widest - value) + by
