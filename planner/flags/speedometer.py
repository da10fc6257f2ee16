"""What the tires and gears do to the speedometer: low, high, off at highway speed, and the gear that sets it right."""

from typing import Annotated

from planner.quantities.kinds import CHANGE, SPEED_CHANGE, Change, Count, Share, Speed, Text
from planner.sources.citing import practice
from planner.sources.standards import SPEEDOMETER_DRIVES
from planner.sources.un import R39
from planner.sources.us_federal import CARRIER_SPEEDOMETERS
from planner.worksheet.declare import Finding, limit, rule
from planner.worksheet.turning import magnitude

speedometer_low_share = limit(
    Share,
    "0 %",
    means="how much a speedometer may read low, as a share of the true speed",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
)

carrier_test_speed = limit(
    Speed,
    "50 mph",
    means="road speed at which a carrier's speedometer has to be accurate",
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

greatest_found_reading_error = limit(
    Share,
    "5 %",
    means="how far the drive's teeth may leave the speedometer off on the tires as found",
    ground=practice(
        "makers matched the driven gear to the tires; if it's off by more, a count or the dial's turns are wrong"
    ),
)

_TELLING = 0.0005  # less than this shows as 0.0 %
_BASIS = "by the teeth of its drive"
_DIGITS = 12  # a speedometer that is exactly right does not read low by the last bit of a division


@rule(
    severity="caution",
    danger="control",
    notices="the speedometer reads low",
    says="At every speed the speedometer reads {reads}, {speedometer_basis}.",
    clear_says="At every speed the speedometer reads {reads}, {speedometer_basis}: no lower than the limit.",
    cure="You're going faster than it says. Before the truck goes on the road get another driven gear[ (nearest tooth "
    "count: {nearest_driven_gear})], a ratio adapter, or a recalibrated sender; check it over a measured mile "
    "or kilometer or with "
    "a GPS. Until then put a card with true speeds beside it.",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
    holds={"speedometer_error": "0 %", "speedometer_low_share": "0 %", "speedometer_basis": _BASIS},
    fails={"speedometer_error": "-0.1 %", "speedometer_low_share": "0 %", "speedometer_basis": _BASIS},
)
def reads_low(
    speedometer_error: Change,
    speedometer_low_share: Share,
    speedometer_basis: Text,
    nearest_driven_gear: Count | None = None,
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio: how far the reading stands above the least that is accepted."""
    margin = round(speedometer_error + speedometer_low_share, _DIGITS)
    return Finding(margin, {"reads": _reads(speedometer_error)})


@rule(
    severity="caution",
    notices="the speedometer reads too high",
    says="The speedometer reads {reads}, {speedometer_basis}; at a true {top_speed} it may read high by no more than "
    "{speedometer_high_share} and {speedometer_high_allowance}.",
    clear_says="The speedometer reads {reads}, {speedometer_basis}. It doesn't read too high: the limit is "
    "{speedometer_high_share} and {speedometer_high_allowance} over a true {top_speed}.",
    cure="Another driven gear[ (nearest tooth count: {nearest_driven_gear})], a ratio adapter, or a recalibrated "
    "sender. The odometer is over by the same amount.",
    ground=R39.read("paragraph 5.3, as two publications quote it alike"),
    holds={
        "speedometer_error": "13.8 %",
        "speedometer_basis": _BASIS,
        "top_speed": "65 mph",
        "speedometer_high_share": "10 %",
        "speedometer_high_allowance": "4 km/h",
    },
    fails={
        "speedometer_error": "13.9 %",
        "speedometer_basis": _BASIS,
        "top_speed": "65 mph",
        "speedometer_high_share": "10 %",
        "speedometer_high_allowance": "4 km/h",
    },
    beyond="over by",
)
def reads_high(
    speedometer_error: Change,
    speedometer_basis: Text,
    top_speed: Speed,
    speedometer_high_share: Share,
    speedometer_high_allowance: Speed,
    nearest_driven_gear: Count | None = None,
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio at the intended top speed, where the band is narrowest for an error in proportion."""
    allowed = speedometer_high_share + speedometer_high_allowance / top_speed
    return Finding(allowed - speedometer_error, {"reads": _reads(speedometer_error)})


@rule(
    severity="caution",
    danger="control",
    notices="the speedometer is off by more than carriers are allowed",
    says="At a true {carrier_test_speed} the speedometer reads {reads}, {speedometer_basis}; a carrier's may be off by "
    "{carrier_speedometer_error}.",
    clear_says="At a true {carrier_test_speed} the speedometer reads {reads}, {speedometer_basis}: within the "
    "{carrier_speedometer_error} either way that a carrier's may be off by.",
    cure="Another driven gear[ (nearest tooth count: {nearest_driven_gear})], a ratio adapter, or a recalibrated "
    "sender. The rule is for commercial trucks; for any other it's good sense.",
    ground=CARRIER_SPEEDOMETERS.read(),
    holds={
        "speedometer_error": "-9.9 %",
        "speedometer_basis": _BASIS,
        "carrier_test_speed": "50 mph",
        "carrier_speedometer_error": "5 mph",
    },
    fails={
        "speedometer_error": "-10.1 %",
        "speedometer_basis": _BASIS,
        "carrier_test_speed": "50 mph",
        "carrier_speedometer_error": "5 mph",
    },
    beyond="over by",
    follows=("reads_low", "reads_high"),
)
def off_at_highway_speed(
    speedometer_error: Change,
    speedometer_basis: Text,
    carrier_test_speed: Speed,
    carrier_speedometer_error: Speed,
    nearest_driven_gear: Count | None = None,
) -> Annotated[Finding, SPEED_CHANGE]:
    """Margin in m/s, either way: what is left to the accuracy asked."""
    margin = carrier_speedometer_error - magnitude(speedometer_error * carrier_test_speed)
    return Finding(margin, {"reads": _reads(speedometer_error)})


@rule(
    severity="note",
    notices="the nearest driven gear leaves the speedometer off",
    says="The closest driven gear has {nearest_driven_gear} teeth; with it the speedometer reads {reads}; the limit "
    "is {greatest_driven_gear_error} either way. An adapter of {adapter} with it (turns out for one turn in) would "
    "make it right.",
    clear_says="With the closest driven gear, {nearest_driven_gear} teeth, the speedometer reads {reads}: within the "
    "limit of {greatest_driven_gear_error} either way.",
    cure="A ratio adapter with that gear, another drive gear, or the next driven gear with fewer teeth, which reads "
    "high and not low.",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
    holds={"nearest_driven_gear": "20", "driven_gear_error": "1.9 %", "greatest_driven_gear_error": "2 %"},
    fails={"nearest_driven_gear": "9", "driven_gear_error": "-2.1 %", "greatest_driven_gear_error": "2 %"},
    only_with=("nearest_driven_gear",),
    beyond="over by",
)
def driven_gear_leaves_error(
    nearest_driven_gear: Count, driven_gear_error: Change, greatest_driven_gear_error: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio, either way: how much more error might be left."""
    words = {"reads": _reads(driven_gear_error), "adapter": f"{1 / (1 + driven_gear_error):.3f}"}
    return Finding(greatest_driven_gear_error - magnitude(driven_gear_error), words)


@rule(
    severity="note",
    notices="going by its teeth the speedometer was already off on the truck as found",
    says="By {drive_teeth} and {driven_teeth} teeth the speedometer read {reads} on the tires as found; "
    "the limit is {greatest_found_reading_error} either way.",
    clear_says="By {drive_teeth} and {driven_teeth} teeth the speedometer read {reads} on the tires as found: within "
    "the limit of {greatest_found_reading_error} either way.",
    cure="Check it over a measured mile or kilometer, or with a GPS before you order a gear. If it reads "
    "true, a count is wrong, or "
    "the dial needs another number of turns per mile: enter that (speedometer cable turns per mile).",
    if_close="Time it over a measured mile or kilometer, or with a GPS, on the tires as found.",
    ground=SPEEDOMETER_DRIVES.recalled("1000 turns to the mile"),
    holds={
        "found_fitted_gear_error": "-4.9 %",
        "drive_teeth": "6",
        "driven_teeth": "20",
        "greatest_found_reading_error": "5 %",
    },
    fails={
        "found_fitted_gear_error": "-5.1 %",
        "drive_teeth": "6",
        "driven_teeth": "20",
        "greatest_found_reading_error": "5 %",
    },
    only_with=("drive_teeth", "driven_teeth"),
    beyond="over by",
)
def found_reading_off(
    found_fitted_gear_error: Change, drive_teeth: Count, driven_teeth: Count, greatest_found_reading_error: Share
) -> Annotated[Finding, CHANGE]:
    """Margin as a ratio, either way."""
    return Finding(
        greatest_found_reading_error - magnitude(found_fitted_gear_error), {"reads": _reads(found_fitted_gear_error)}
    )


def _reads(error: float) -> str:
    """A speedometer's error in words.

    >>> _reads(-0.09), _reads(0.021), _reads(0.0)
    ('9.0 % low', '2.1 % high', 'true')
    """
    if abs(error) < _TELLING:
        return "true"
    return f"{abs(error) * 100:.1f} % {'high' if error > 0 else 'low'}"
