"""The gear train from engine to wheel: the overall ratio in each gear, and the lowest and highest there are.

Ratios multiply: gearbox × transfer case × axle. A truck without a transfer case has one range, of ratio 1.
"""

from planner.quantities.kinds import Ratio, Ratios, YesNo
from planner.sources.reasoning import KINEMATICS
from planner.worksheet.declare import Impossible, figure


@figure(means="engine turns for one turn of the wheel", ground=KINEMATICS)
def overall_ratio(gearbox_ratio: Ratio, transfer_ratio: Ratio, axle_ratio: Ratio) -> Ratio:
    """The whole train's ratio in one gear and range.

    >>> overall_ratio(3.0, 2.0, 4.0)
    24.0
    """
    return gearbox_ratio * transfer_ratio * axle_ratio


@figure(
    means="lowest gear in the transmission",
    ground=KINEMATICS,
    reads={"gearbox_ratios": "each_gearbox_ratio"},
    form="lowest gear ratio = largest of the gearbox ratios",
)
def lowest_gear_ratio(gearbox_ratios: Ratios) -> Ratio:
    """The greatest ratio in the gearbox; leave reverse out of the list, or it may be taken for the lowest gear.

    Raises Impossible on an empty list.

    >>> lowest_gear_ratio((6.4, 3.1, 1.7, 1.0))
    6.4
    """
    _some(gearbox_ratios, "gearbox_ratios")
    return max(gearbox_ratios)


@figure(
    means="top gear in the transmission",
    ground=KINEMATICS,
    reads={"gearbox_ratios": "each_gearbox_ratio"},
    form="top gear ratio = smallest of the gearbox ratios",
)
def top_gear_ratio(gearbox_ratios: Ratios) -> Ratio:
    """The least ratio in the gearbox, an overdrive included; raises Impossible on an empty list.

    >>> top_gear_ratio((6.4, 3.1, 1.7, 1.0))
    1.0
    """
    _some(gearbox_ratios, "gearbox_ratios")
    return min(gearbox_ratios)


@figure(
    means="low range of the transfer case",
    ground=KINEMATICS,
    reads={"transfer_ratios": "each_transfer_ratio"},
    form="low range ratio = greatest of the transfer ratios; 1 where only one axle is driven and none is entered",
)
def low_range_ratio(
    transfer_ratios: Ratios | None = None, front_driven: YesNo | None = None, rear_driven: YesNo | None = None
) -> Ratio | None:
    """The greatest ratio of the transfer case; raises Impossible on an empty list.

    A truck of which one axle is said not to be driven has no transfer case where none is entered.

    >>> low_range_ratio((1.0, 1.98)), low_range_ratio(None, False, True), low_range_ratio(None, True, True)
    (1.98, 1.0, None)
    """
    if transfer_ratios is None:
        return 1.0 if False in (front_driven, rear_driven) else None
    _some(transfer_ratios, "transfer_ratios")
    return max(transfer_ratios)


@figure(
    means="high range of the transfer case",
    ground=KINEMATICS,
    reads={"transfer_ratios": "each_transfer_ratio"},
    form="high range ratio = least of the transfer ratios; 1 where only one axle is driven and none is entered",
)
def high_range_ratio(
    transfer_ratios: Ratios | None = None, front_driven: YesNo | None = None, rear_driven: YesNo | None = None
) -> Ratio | None:
    """The least ratio of the transfer case; raises Impossible on an empty list.

    A truck of which one axle is said not to be driven has no transfer case where none is entered.

    >>> high_range_ratio((1.0, 1.98)), high_range_ratio(None, False, True), high_range_ratio(None, True, True)
    (1.0, 1.0, None)
    """
    if transfer_ratios is None:
        return 1.0 if False in (front_driven, rear_driven) else None
    _some(transfer_ratios, "transfer_ratios")
    return min(transfer_ratios)


@figure(
    means="lowest gear of all: engine turns for one turn of the wheel",
    ground=KINEMATICS,
    reads={"gearbox_ratio": "lowest_gear_ratio", "transfer_ratio": "low_range_ratio"},
)
def crawl_ratio(gearbox_ratio: Ratio, transfer_ratio: Ratio, axle_ratio: Ratio) -> Ratio:
    """The overall ratio in the lowest gear and low range.

    >>> crawl_ratio(6.0, 2.0, 5.0)
    60.0
    """
    return gearbox_ratio * transfer_ratio * axle_ratio


@figure(
    means="highest gear of all: engine turns for one turn of the wheel",
    ground=KINEMATICS,
    reads={"gearbox_ratio": "top_gear_ratio", "transfer_ratio": "high_range_ratio"},
)
def cruise_ratio(gearbox_ratio: Ratio, transfer_ratio: Ratio, axle_ratio: Ratio) -> Ratio:
    """The overall ratio in top gear and high range, the one that the truck cruises in.

    >>> cruise_ratio(1.0, 1.0, 4.89)
    4.89
    """
    return gearbox_ratio * transfer_ratio * axle_ratio


def _some(ratios: Ratios, key: str) -> None:
    if not ratios:
        raise Impossible(key, "an empty list", "enter at least one ratio, such as 1.00")
