"""How two entries that say different things of one thing are declared to contradict each other."""

from collections.abc import Callable, Mapping
from typing import Any

from planner.sources.citing import Ground
from planner.worksheet.declare import Danger, F, rule


def contradiction(
    subject: str,
    what: str,
    *,
    says: str,
    clear_says: str,
    cure: str,
    ground: Ground,
    holds: Mapping[str, Any],
    fails: Mapping[str, Any],
    bars: tuple[str, ...],
    beyond: str = "over by",
    danger: Danger = "burst",
) -> Callable[[F], F]:
    """Declare a rule that holds its first two inputs against each other; nothing that rests on `bars` is known then."""
    return rule(
        subject=subject,
        severity="stop",
        danger=danger,
        notices=f"two entries contradict each other: {what}",
        says=says,
        clear_says=clear_says,
        cure=cure,
        ground=ground,
        holds=holds,
        fails=fails,
        beyond=beyond,
        bars=bars,
        close_agrees=True,
    )
