"""How the truck is meant to stand, against how it will: nothing here is dangerous, and nothing here stops the work."""

from planner.quantities.kinds import Angle, Change, Position, Share
from planner.sources.reasoning import ENTERED
from planner.worksheet.declare import rule
from planner.worksheet.turning import least


@rule(
    severity="note",
    notices="the poke isn't what you wish for",
    says="The sidewall sticks out {poke} past the fender edge (minus is inside it); you wish for {poke_wished_low} to "
    "{poke_wished_high}.",
    clear_says="The sidewall sticks out {poke} past the fender edge (minus is inside it), as you wish: "
    "{poke_wished_low} to {poke_wished_high}.",
    cure="More backspace brings it in, less brings it out (the other way around for a pair's wheels)[: by {to_clear} "
    "at least]. See what that does to the room inboard, to scrub and bearings, and what local code says.",
    ground=ENTERED,
    holds={"poke": "1.01 in", "poke_wished_low": "1 in", "poke_wished_high": "2 in"},
    fails={"poke": "0.99 in", "poke_wished_low": "1 in", "poke_wished_high": "2 in"},
    only_with=("poke_wished_low", "poke_wished_high"),
    beyond="off by",
    bounds="the poke you wish for",
    follows=("poke_past_local_code", "poke_past_greatest", "poke_not_as_wanted"),
)
def poke_not_as_wished(poke: Position, poke_wished_low: Position, poke_wished_high: Position) -> Position:
    """Margin in m to the nearer end of the wish."""
    return least(poke - poke_wished_low, poke_wished_high - poke)


@rule(
    severity="note",
    notices="the tire doesn't fill its opening as you wish",
    says="The tire takes {fender_fill} of the fender opening's width; you wish for {fill_wished_low} to "
    "{fill_wished_high}.",
    clear_says="The tire takes {fender_fill} of the fender opening's width, as you wish: {fill_wished_low} to "
    "{fill_wished_high}.",
    cure="A taller tire fills more, a shorter one less. See if it clears before you fall for it: planner print FILE "
    "look shows both, the sweep through steer and travel decides.",
    ground=ENTERED,
    holds={"fender_fill": "75.1 %", "fill_wished_low": "75 %", "fill_wished_high": "85 %"},
    fails={"fender_fill": "74.9 %", "fill_wished_low": "75 %", "fill_wished_high": "85 %"},
    only_with=("fill_wished_low", "fill_wished_high"),
    beyond="off by",
)
def fill_not_as_wished(fender_fill: Share, fill_wished_low: Share, fill_wished_high: Share) -> Change:
    """Margin as a share of the opening, to the nearer end of the wish."""
    return least(fender_fill - fill_wished_low, fill_wished_high - fender_fill)


@rule(
    severity="note",
    notices="the rake isn't what you wish for",
    says="The frame leans {rake} down toward the front (minus is up)[, {rake_height} over the wheelbase]; you wish for "
    "{rake_wished_low} to {rake_wished_high}.",
    clear_says="The frame leans {rake} down toward the front (minus is up)[, {rake_height} over the wheelbase], as you "
    "wish: {rake_wished_low} to {rake_wished_high}.",
    cure="Springs or tires of another height at one end. Grease and work the springs, then measure again before you "
    "buy any: a tired set settles by as much.",
    ground=ENTERED,
    holds={"rake": "0.99 deg", "rake_wished_low": "0 deg", "rake_wished_high": "1 deg"},
    fails={"rake": "1.01 deg", "rake_wished_low": "0 deg", "rake_wished_high": "1 deg"},
    only_with=("rake_wished_low", "rake_wished_high"),
    beyond="off by",
)
def rake_not_as_wished(
    rake: Angle, rake_wished_low: Angle, rake_wished_high: Angle, rake_height: Position | None = None
) -> Angle:
    """Margin in rad to the nearer end of the wish."""
    return least(rake - rake_wished_low, rake_wished_high - rake)
