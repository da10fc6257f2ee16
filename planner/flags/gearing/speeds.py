"""Whether the engine turns as fast as is wanted of it: at cruise, at the top speed, and crawling at idle."""

from typing import Annotated

from planner.quantities.kinds import SPEED_CHANGE, TURNING_SPEED_CHANGE, Ratio, Speed, TurningSpeed
from planner.sources.reasoning import ENTERED
from planner.worksheet.declare import Finding, rule


@rule(
    severity="caution",
    danger="breakage",
    notices="the engine turns too slowly at cruise",
    says="The engine turns {cruise_engine_speed} at cruise in top gear; you want at least "
    "{lowest_cruise_engine_speed}.",
    clear_says="The engine turns {cruise_engine_speed} at cruise in top gear, no less than the "
    "{lowest_cruise_engine_speed} that you want.",
    cure="Lower (numerically higher) gears in both axles[, at least about {ratio}], or smaller tires; or cruise a "
    "gear down. A lugging engine runs hot and overheats its bearings.",
    ground=ENTERED,
    holds={"cruise_engine_speed": "1,605 rpm", "lowest_cruise_engine_speed": "1,600 rpm"},
    fails={"cruise_engine_speed": "1,595 rpm", "lowest_cruise_engine_speed": "1,600 rpm"},
    only_with=("lowest_cruise_engine_speed",),
    as_found=True,
)
def engine_slow_at_cruise(
    cruise_engine_speed: TurningSpeed, lowest_cruise_engine_speed: TurningSpeed, rear_axle_ratio: Ratio | None = None
) -> Annotated[Finding, TURNING_SPEED_CHANGE]:
    """Margin in rad/s: how far the engine turns above the floor."""
    return Finding(
        cruise_engine_speed - lowest_cruise_engine_speed,
        _gears(rear_axle_ratio, lowest_cruise_engine_speed / cruise_engine_speed),
    )


@rule(
    severity="caution",
    notices="the engine turns too fast at cruise",
    says="The engine turns {cruise_engine_speed} at cruise in top gear; you want no more than "
    "{highest_cruise_engine_speed}.",
    clear_says="The engine turns {cruise_engine_speed} at cruise in top gear, no more than the "
    "{highest_cruise_engine_speed} that you want.",
    cure="Taller (numerically lower) gears in both axles[, no more than about {ratio}], an overdrive, or a slower "
    "cruise.",
    ground=ENTERED,
    holds={"cruise_engine_speed": "2,795 rpm", "highest_cruise_engine_speed": "2,800 rpm"},
    fails={"cruise_engine_speed": "2,805 rpm", "highest_cruise_engine_speed": "2,800 rpm"},
    only_with=("highest_cruise_engine_speed",),
    beyond="over by",
    as_found=True,
)
def engine_fast_at_cruise(
    cruise_engine_speed: TurningSpeed, highest_cruise_engine_speed: TurningSpeed, rear_axle_ratio: Ratio | None = None
) -> Annotated[Finding, TURNING_SPEED_CHANGE]:
    """Margin in rad/s: how far the engine turns below the ceiling."""
    return Finding(
        highest_cruise_engine_speed - cruise_engine_speed,
        _gears(rear_axle_ratio, highest_cruise_engine_speed / cruise_engine_speed),
    )


@rule(
    severity="caution",
    danger="breakage",
    notices="the engine would overrev at your top speed",
    says="The engine turns {top_engine_speed} at your top speed in top gear; its limit is {highest_engine_speed}.",
    clear_says="The engine turns {top_engine_speed} at your top speed in top gear, no more than its limit of "
    "{highest_engine_speed}.",
    cure="Past its limit an old engine can throw a rod or burst a flywheel. Taller axle gears[, no more than about "
    "{ratio},] or a lower top speed.",
    ground=ENTERED,
    holds={"top_engine_speed": "3,595 rpm", "highest_engine_speed": "3,600 rpm"},
    fails={"top_engine_speed": "3,605 rpm", "highest_engine_speed": "3,600 rpm"},
    beyond="over by",
    as_found=True,
)
def engine_past_its_top_speed(
    top_engine_speed: TurningSpeed, highest_engine_speed: TurningSpeed, rear_axle_ratio: Ratio | None = None
) -> Annotated[Finding, TURNING_SPEED_CHANGE]:
    """Margin in rad/s: how far the engine stays below its limit."""
    return Finding(
        highest_engine_speed - top_engine_speed, _gears(rear_axle_ratio, highest_engine_speed / top_engine_speed)
    )


@rule(
    severity="note",
    notices="the truck crawls faster at idle than you want",
    says="The truck goes {crawl_speed} at idle in the lowest gear; you want {wanted_crawl_speed}.",
    clear_says="The truck goes {crawl_speed} at idle in the lowest gear, no faster than the {wanted_crawl_speed} you "
    "want.",
    cure="Lower axle gears[, at least about {ratio}], a lower transfer case, or smaller tires. Going down, the brakes "
    "have to do what the gears don't.",
    ground=ENTERED,
    holds={"crawl_speed": "1.49 mph", "wanted_crawl_speed": "1.5 mph"},
    fails={"crawl_speed": "1.51 mph", "wanted_crawl_speed": "1.5 mph"},
    only_with=("wanted_crawl_speed",),
    beyond="over by",
    as_found=True,
)
def crawls_fast_at_idle(
    crawl_speed: Speed, wanted_crawl_speed: Speed, rear_axle_ratio: Ratio | None = None
) -> Annotated[Finding, SPEED_CHANGE]:
    """Margin in m/s: how much slower than wanted it can go."""
    return Finding(wanted_crawl_speed - crawl_speed, _gears(rear_axle_ratio, crawl_speed / wanted_crawl_speed))


def _gears(axle_ratio: float | None, times: float) -> dict[str, str]:
    """The axle ratio at which a speed would be just as wanted, to two decimals.

    >>> _gears(4.10, 1.1), _gears(None, 1.1)
    ({'ratio': '4.51'}, {'ratio': 'not known'})
    """
    return {"ratio": "not known" if axle_ratio is None else f"{axle_ratio * times:.2f}"}
