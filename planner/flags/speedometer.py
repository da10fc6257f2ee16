"""What the tires and gears do to the speedometer: low, high, off at highway speed, and the gear that sets it right."""

from typing import Annotated

from planner.quantities.kinds import CHANGE, SPEED_CHANGE, Change, Count, Share, Speed
from planner.sources.citing import practice
from planner.sources.standards import SPEEDOMETER_DRIVES
from planner.sources.un import R39
from planner.sources.us_federal import CARRIER_SPEEDOMETERS
from planner.worksheet.declare import Finding, limit, rule

speedometer_low_share = limit(
    Share,
    "0 %",
    means="how much a speedometer may read low, as a part of the true speed",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
)

carrier_test_speed = limit(
    Speed,
    "50 mph",
    means="road speed at which a carrier's speedometer is held to its accuracy",
    ground=CARRIER_SPEEDOMETERS.read(),
)

carrier_speedometer_error = limit(
    Speed,
    "5 mph",
    means="how far off a carrier's speedometer may be at that speed",
    ground=CARRIER_SPEEDOMETERS.read(),
)

greatest_driven_gear_error = limit(
    Share,
    "2 %",
    means="how far off the nearest driven gear may leave the speedometer",
    ground=practice("half the step from one tooth to the next on a gear of twenty-odd is about 2 %"),
)

_TELLING = 0.0005  # less than this shows as 0.0 %
_DIGITS = 12  # a speedometer that is exactly right does not read low by the last bit of a division


@rule(
    severity="caution",
    notices="the speedometer reads low",
    says="at every speed the speedometer reads {reads}",
    cure="Reading low, it lets you go faster than it says. Another driven gear, a ratio adapter, or a recalibrated "
    "sender, before the truck goes on the road; check it against a measured mile or a satellite receiver. Until then "
    "put a card with true speeds beside it.",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
    holds={"speedometer_error": "3 %", "speedometer_low_share": "0 %"},
    fails={"speedometer_error": "-9 %", "speedometer_low_share": "0 %"},
)
def reads_low(speedometer_error: Change, speedometer_low_share: Share) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how far the reading stands above the least that is accepted."""
    margin = round(speedometer_error + speedometer_low_share, _DIGITS)
    return Finding(margin, {"reads": _reads(speedometer_error)})


@rule(
    severity="caution",
    notices="the speedometer reads high past the band",
    says="the speedometer reads {reads}; at a true {top_speed} at most {speedometer_high_share} and "
    "{speedometer_high_allowance} are accepted",
    cure="Another driven gear, a ratio adapter, or a recalibrated sender; the odometer counts too many miles by the "
    "same part.",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
    holds={
        "speedometer_error": "4 %",
        "top_speed": "65 mph",
        "speedometer_high_share": "10 %",
        "speedometer_high_allowance": "4 km/h",
    },
    fails={
        "speedometer_error": "16 %",
        "top_speed": "65 mph",
        "speedometer_high_share": "10 %",
        "speedometer_high_allowance": "4 km/h",
    },
)
def reads_high(
    speedometer_error: Change, top_speed: Speed, speedometer_high_share: Share, speedometer_high_allowance: Speed
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio at the intended top speed, where the band is narrowest for an error in proportion."""
    allowed = speedometer_high_share + speedometer_high_allowance / top_speed
    return Finding(allowed - speedometer_error, {"reads": _reads(speedometer_error)})


@rule(
    severity="caution",
    notices="the speedometer is off by more than carriers are allowed",
    says="at a true {carrier_test_speed} the speedometer reads {reads}; a carrier's may be off by "
    "{carrier_speedometer_error}",
    cure="Another driven gear, a ratio adapter, or a recalibrated sender. The rule binds commercial trucks; for any "
    "other it is a measure of what is sensible.",
    ground=CARRIER_SPEEDOMETERS.read(),
    holds={"speedometer_error": "-4 %", "carrier_test_speed": "50 mph", "carrier_speedometer_error": "5 mph"},
    fails={"speedometer_error": "-12 %", "carrier_test_speed": "50 mph", "carrier_speedometer_error": "5 mph"},
)
def off_at_highway_speed(
    speedometer_error: Change, carrier_test_speed: Speed, carrier_speedometer_error: Speed
) -> Annotated[Finding, SPEED_CHANGE]:
    """Margin in m/s, either way: what is left to the accuracy asked."""
    margin = carrier_speedometer_error - abs(speedometer_error) * carrier_test_speed
    return Finding(margin, {"reads": _reads(speedometer_error)})


@rule(
    severity="note",
    notices="the nearest driven gear leaves the speedometer off",
    says="with a driven gear of {nearest_driven_gear} teeth the speedometer reads {reads}; "
    "{greatest_driven_gear_error} is the limit; an adapter of {adapter} beside it (turns out for "
    "one turn in) would put it right",
    cure="A ratio adapter beside that gear, another drive gear, or the next driven gear with fewer teeth, which reads "
    "high and not low.",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
    holds={"nearest_driven_gear": "20", "driven_gear_error": "0.8 %", "greatest_driven_gear_error": "2 %"},
    fails={"nearest_driven_gear": "9", "driven_gear_error": "-4.5 %", "greatest_driven_gear_error": "2 %"},
    only_with=("nearest_driven_gear",),
)
def driven_gear_leaves_error(
    nearest_driven_gear: Count, driven_gear_error: Change, greatest_driven_gear_error: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio, either way: how much more error might be left."""
    words = {"reads": _reads(driven_gear_error), "adapter": f"{1 / (1 + driven_gear_error):.3f}"}
    return Finding(greatest_driven_gear_error - abs(driven_gear_error), words)


def _reads(error: float) -> str:
    """A speedometer's error in words.

    >>> _reads(-0.09), _reads(0.021), _reads(0.0)
    ('9.0 % low', '2.1 % high', 'true')
    """
    if abs(error) < _TELLING:
        return "true"
    return f"{abs(error) * 100:.1f} % {'high' if error > 0 else 'low'}"
