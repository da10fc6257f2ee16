"""How flags look in a list: a word for their gravity, never a color alone."""

from planner.plan.flagging import Flag
from planner.screens.ledger import Row
from planner.worksheet.outcome import Spot

TONES = {"stop": "error", "caution": "warning", "note": "accent"}


def mark(flag: Flag) -> str:
    """`STOP`, `CAUTION?` where it is too close to call, `unknown`, `clear`."""
    match flag.verdict.answer:
        case "raised":
            return flag.rule.severity.upper() if flag.counts else "accepted"
        case "too close to call":
            return f"{flag.rule.severity.upper()}?"
        case "not known":
            return "unknown"
        case answer:
            return answer


def flag_row(flag: Flag) -> Row:
    """One flag as a row over the whole width."""
    at = f"{flag.where}: " if flag.where else ""
    grave = flag.verdict.answer in ("raised", "too close to call")
    return Row(
        f"{at}{flag.rule.notices}",
        mark=mark(flag),
        tone=TONES[flag.rule.severity] if grave else "muted",
        spot=Spot(flag.rule.node, flag.places[0]) if any(flag.places[0]) or flag.verdict.margin else None,
        about=flag,
    )
