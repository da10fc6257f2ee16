"""Wheels that came, in words: against their order, where each would do, whether to send it back; said once for all."""

from collections.abc import Iterator

from planner.plan.truck.wording import count
from planner.plan.work.hold_points import stops_in_words
from planner.plan.work.received_wheels import Piece
from planner.tasks.receiving import MOST_RUNOUT

OUT_OF_TRUE = f"it runs out of true by more than 0.047 in ({MOST_RUNOUT}): don't mount it at either end"

MAY_BE_OUT = f"it may run out of true by more than 0.047 in ({MOST_RUNOUT}): too close to call"


def against_words(piece: Piece) -> str:
    """What stands against a piece where it is to go; empty where nothing does."""
    stops = list(_runout(piece))
    return "; ".join([*stops, *([stops_in_words(piece.against)] if piece.against else [])])


def _runout(piece: Piece) -> Iterator[str]:
    if piece.runs_out:
        yield OUT_OF_TRUE
    elif piece.may_run_out:
        yield MAY_BE_OUT


def outside_words(piece: Piece) -> str:
    """What of a piece is not as it was ordered; empty where all that was measured is."""
    off = [one for one in piece.held if one.answer in ("outside", "too close to call")]
    close = {"too close to call": " (too close to call)"}
    return "; ".join(f"{one.what} read {one.read}, ordered {one.ordered}{close.get(one.answer, '')}" for one in off)


def would_do(piece: Piece) -> str:
    """Where a piece would do, as a sentence without its full stop."""
    others = [place for place in piece.does_at if place not in piece.own_places]
    own = [place for place in piece.does_at if place in piece.own_places]
    there = " and at the ".join(others or own)
    known = ", as far as anybody knows" if any(one.open for one in piece.places if one.name in (others or own)) else ""
    if others:
        return f"It would do at the {there}{known}"
    if own and len(own) < len(piece.own_places):
        return f"It would do at the {there} alone{known}"
    if own:
        return ""
    if piece.may_run_out:
        return "Don't mount it at either end until a better dial indicator says it runs true"
    if piece.may_do_at:
        return f"Whether it would fit the {' or the '.join(piece.may_do_at)} is too close to call"
    return "It won't fit either end: send it back"


def advice(piece: Piece) -> str:
    """Whether to keep a piece, have it elsewhere or send it back."""
    if piece.wheel.state == "sent back":
        return "it went back"
    if not piece.measured:
        return "not measured yet: measure it before you paint or mount it"
    if against_words(piece):
        told = would_do(piece)
        if piece.close:
            better = "too close to call where it's supposed to go: measure it better before you mount it"
            return f"{better}; {told[0].lower()}{told[1:]}" if piece.does_at else better
        return told[0].lower() + told[1:] + ("" if told.endswith("back") else "; if not, send it back")
    if piece.not_measured:
        return f"nobody can say yet if it will fit: measure its {' and its '.join(piece.not_measured)}"
    match piece.as_ordered:
        case "outside":
            return (
                "outside the order's tolerance, but it raises nothing more where it's supposed to go: keep it or "
                "return it, as you like"
            )
        case "too close to call":
            return "too close to the order's tolerance to call: measure it better before you paint or mount it"
        case "within":
            return "as ordered"
    return "no order to check it against: nothing was ordered, or no one candidate is planned"


def piece_words(piece: Piece) -> Iterator[str]:
    """Everything about a piece, a sentence a line; its name is the heading."""
    yield ", ".join([piece.wheel.position or "no place given", piece.wheel.state, advice(piece)])
    for held in piece.held:
        yield f"{held.what} {held.read}, ordered {held.ordered}: {held.answer}"
    yield from _runout(piece)
    for one in () if piece.wheel.state == "sent back" else piece.places:
        open_ = f"; {count(len(one.open), 'stop')} can't be judged there yet" if one.open else ""
        if one.against:
            not_there = "not for sure" if one.name in piece.may_do_at else "NOT"
            yield f"{not_there} at the {one.name}: {stops_in_words(one.against, one.axle)}"
        elif one.standing:
            told = f"at the {one.name} it raises no more than the plan does"
            yield f"{told}: {stops_in_words(one.standing, one.axle)}{open_}"
        else:
            yield f"at the {one.name} it raises no stop{open_}"
