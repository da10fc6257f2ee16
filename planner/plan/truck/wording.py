"""Places, values, margins and templates in the person's words and units."""

import re
from collections.abc import Iterable, Mapping
from math import ceil, floor, inf

from planner.plan.truck.project import OpenProject
from planner.quantities.fineness import BESIDE
from planner.quantities.kinds import Kind
from planner.quantities.quantity import Quantity
from planner.quantities.show import show, show_other, show_plain
from planner.quantities.show_range import show_range
from planner.quantities.text import clean
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Failed, Known, Spot, Waiting, number


def place_name(place: tuple[str, ...], alone: bool = False) -> str:
    """A place in words; the fitment is left out where only one is planned (`alone`)."""
    return ", ".join(_members(place, alone))


def place_names(places: tuple[tuple[str, ...], ...], alone: bool) -> str:
    """Several places in words: `tall, front and rear`."""
    words = [_members(place, alone) for place in places]
    same = [members[0] for members in zip(*words, strict=False) if len(set(members)) == 1]
    differ = [", ".join(word for word in one if word not in same) for one in words]
    listed = " and ".join(dict.fromkeys(word for word in differ if word))
    return ", ".join(word for word in (*same, listed) if word)


def _members(place: tuple[str, ...], alone: bool) -> list[str]:
    return [clean(member) for member in (place[1:] if alone else place) if member]


UNKNOWN = "not known"

_DAY = 86400.0  # s
_YEAR = 365.25 * _DAY

_PASSAGE = re.compile(r"\[([^\[\]]*)\]")
_RANGE = re.compile(r"\{([a-z_]+)\} to \{([a-z_]+)\}")
TO = " to "  # between the two names under which a range's both ends are asked for together


def shown(opened: OpenProject, spot: Spot) -> str:
    """The value at a spot as a person reads it, with its worst case where it has a tolerance."""
    outcome = opened.sheet.outcome(spot)
    if isinstance(outcome, Waiting):
        return UNKNOWN
    if isinstance(outcome, Failed):
        return "impossible"
    return shown_value(opened, outcome, opened.sheet.catalog.kind(spot.node), opened.tolerance_assumed(spot))


def shown_value(opened: OpenProject, outcome: Known, kind: Kind | None, assumed: bool = False) -> str:
    """A known value in the person's units; results of several parts are shown part by part elsewhere."""
    if kind is None or number(outcome.value) is None:
        return show(outcome.value, kind, opened.style) if kind else clean(str(outcome.value))
    if outcome.instead:
        others = " or ".join(show(one, kind, opened.style) for one in outcome.instead)
        return f"{show(outcome.value, kind, opened.style)}, or {others} at worst"
    if isinstance(outcome.value, bool) or not isinstance(outcome.value, float):
        return show(outcome.value, kind, opened.style)
    half = _half(outcome)
    if half is None:
        # Two ends in one unit read better than four in two.
        plain = opened.style._replace(fractions=False)
        low, high = show_range(outcome.low, outcome.high, (kind, kind), plain, beside=False)
        middle = show_plain(outcome.value, kind, opened.style)
        return f"{low} to {high}" if middle in (low, high) else f"{middle} ({low} to {high})"
    return show(Quantity(outcome.value, half, stated=not assumed), kind, opened.style)


def in_columns(opened: OpenProject, spot: Spot) -> tuple[str, str] | None:
    """A value with its tolerance in the person's system, and without it in the other; None for what needs more words.

    `47 1/2 in ± 1/2 in` and `1206 mm`.
    """
    outcome, kind = opened.sheet.outcome(spot), opened.sheet.catalog.kind(spot.node)
    if not isinstance(outcome, Known) or kind is None or kind.name not in BESIDE or outcome.instead:
        return None
    half = _half(outcome)
    if not isinstance(outcome.value, float) or half is None or half == inf:
        return None
    read = Quantity(outcome.value, half, stated=not opened.tolerance_assumed(spot))
    own = show(read, kind, opened.style, beside=False)
    return own, show_other(Quantity(outcome.value, half), kind, opened.style)


def _half(outcome: Known) -> float | None:
    """Half of what a value spans; None where one side of it is much the wider, so that both ends are told.

    So where only the half would reach past nothing: of what never touches nobody is told that it may.
    """
    up, down = outcome.high - outcome.value, outcome.value - outcome.low
    half = float(max(up, down))
    past = outcome.low >= 0 > outcome.value - half or outcome.high <= 0 < outcome.value + half
    return None if half < inf and (past or min(up, down) < half * 0.8) else half


def fill(template: str, seen: Mapping[str, str]) -> str:
    """The words with values put in; a passage in [brackets] is left out where one of its values is not known.

    Each piece of the template is filled once, so that braces in a person's own text are never read as a template's.
    `{one} to {other}` is asked for as one, so that two ends that lie close together are told apart.
    """
    pieces = _PASSAGE.split(_RANGE.sub(rf"{{\1{TO}\2}}", template))  # outside, inside, outside, ...
    filled = [piece.format_map(seen) for piece in pieces]
    return "".join("" if at % 2 and UNKNOWN in text else text for at, text in enumerate(filled))


def shown_range(opened: OpenProject, low: Spot, high: Spot) -> str:
    """Two values that stand as a range, in as fine a measure as tells them apart."""
    ends = [opened.sheet.value(spot) for spot in (low, high)]
    kinds = [opened.sheet.catalog.kind(spot.node) for spot in (low, high)]
    bare = [
        isinstance(outcome, Known) and outcome.low == outcome.high for outcome in map(opened.sheet.outcome, (low, high))
    ]
    if all(isinstance(end, float) for end in ends) and all(bare) and kinds[0] is not None and kinds[1] is not None:
        return TO.join(show_range(ends[0], ends[1], (kinds[0], kinds[1]), opened.style))
    return f"{shown(opened, low)}{TO}{shown(opened, high)}"


def margin_text(opened: OpenProject, rule: Rule, margin: Known | None) -> str:
    """By how much a limit holds or fails, the worst of the tolerances counted; "" where the answer is yes or no."""
    if margin is None or rule.kind is None or isinstance(getattr(margin.value, "margin", margin.value), bool):
        return ""
    middle = number(margin.value) or 0.0
    here = _margin(middle, rule, opened)
    worst = margin.low if middle >= 0 else margin.high
    if worst == middle:
        return here
    other = _margin(worst, rule, opened)
    way = "wrong" if middle >= 0 else "right"
    still = "; still" if (worst >= 0) == (middle >= 0) else ", or"
    return f"{here}{still} {other} if every reading is off the {way} way"


def short_margin(opened: OpenProject, rule: Rule, margin: Known, close: bool) -> str:
    """`15.7 mm over`, in the person's own units alone; where it is too close to call, `up to 0.024 in short`."""
    if rule.kind is None or isinstance(getattr(margin.value, "margin", margin.value), bool):
        return ""
    lacks = -margin.low if close else -(number(margin.value) or 0.0)
    if lacks == inf:
        return "with no known bound"
    kind = rule.kind.unsigned().smallest()
    text = calendar_words(kind, lacks) or show(lacks, kind, opened.style, beside=False)
    return f"{'up to ' if close else ''}{text} {rule.beyond.removesuffix(' by')}"


def calendar_words(kind: Kind, value: float) -> str:
    """A time in days, a long one in years; empty for any other kind. Nobody reckons a tire's age in thousands of days,
    nor a day to order by in seconds.

    >>> from planner.quantities.kinds import DURATION
    >>> calendar_words(DURATION, 0.0), calendar_words(DURATION, 86_400.0), calendar_words(DURATION, 3.2e8)
    ('0 days', '1 day', '10.1 years')
    """
    if kind.name != "time":
        return ""
    if abs(value) >= 2 * _YEAR:
        return f"{abs(value) / _YEAR:.1f} years"
    days = abs(value) / _DAY
    days = {"": round(days), "down": floor(days), "up": ceil(days)}[kind.safe]
    return f"{days} day{'' if days == 1 else 's'}"


def _margin(value: float, rule: Rule, opened: OpenProject) -> str:
    """By how much a limit holds, never more than it does, or fails, never less; without a sign."""
    assert rule.kind is not None
    if abs(value) == inf:
        return "with no known bound"
    unsigned = rule.kind.unsigned()
    kind = unsigned.greatest() if value >= 0 else unsigned.smallest()
    text = calendar_words(kind, value) or show(abs(value), kind, opened.style)
    return f"{text} to spare" if value >= 0 else f"{rule.beyond} {text}"


def together(what: Iterable[str]) -> str:
    """What is to be measured so that a close call is decided: one alone would leave it close.

    >>> together(["the front rail's position", "the toe, to 1/16 in or better"])
    "the front rail's position, and the toe, to 1/16 in or better"
    """
    return ", and ".join(dict.fromkeys(what))


def stop_words(stops: int, close_stops: int) -> str:
    """`1 stop, 6 may be stops`: nobody is to read that there is none where one may be."""
    may_be = [f"{close_stops} may be {'a stop' if close_stops == 1 else 'stops'}"] if close_stops else []
    return ", ".join(([count(stops, "stop")] if stops or not may_be else []) + may_be)


def close_words(close: int, close_stops: int) -> str:
    """`12 more too close to call`, those that may be stops told before."""
    return f"{close - close_stops} {'more ' if close_stops else ''}too close to call"


def following_words(number: int) -> str:
    """How many flags are told under others: `, 1 more that follows from these`."""
    return f", {number} more that {'follows' if number == 1 else 'follow'} from these" if number else ""


def count(number: int, one: str, many: str | None = None) -> str:
    """`1 stop`, `3 stops`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
