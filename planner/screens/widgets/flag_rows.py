"""How flags look in a list: a word for their gravity, never a color alone."""

from planner.plan.answers.flagging import STANDING, Flag
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import short_margin, together
from planner.quantities.text import clean
from planner.screens.widgets.columns import ListRow
from planner.worksheet.outcome import Spot

TONES = {"stop": "error", "caution": "warning", "note": "accent"}


def flag_mark(flag: Flag) -> str:
    """`STOP`, `CAUTION?` where it is too close to call, `also` where it follows from another, `unknown`, `clear`."""
    if flag.under is not None:
        return "also"
    match flag.verdict.answer:
        case "raised":
            return "accepted" if flag.accepted else flag.rule.severity.upper()
        case "too close to call":
            return f"{flag.rule.severity.upper()}?"
        case "not known":
            return "unknown"
        case answer:
            return answer


def flag_row(opened: OpenProject, flag: Flag) -> ListRow:
    """One flag as a row over the whole width, its margin at the right where there is room; a stop's always."""
    grave = flag.under is None and (flag.counts or flag.verdict.answer == "too close to call")
    margin, close = flag.verdict.margin, flag.verdict.answer == "too close to call"
    end = (
        short_margin(opened, flag.rule, margin, close) if margin is not None and flag.verdict.answer in STANDING else ""
    )
    return ListRow(
        flag.notice,
        mark=flag_mark(flag),
        tone=TONES[flag.rule.severity] if grave else "muted",
        spot=Spot(flag.rule.node, flag.places[0]) if any(flag.places[0]) or flag.verdict.margin else None,
        about=flag,
        end=end,
    )


def flag_text(flag: Flag) -> str:
    """Everything about a flag but its name, which its row says; what to do comes before where it is from."""
    lines = [flag.says] if flag.says else []
    if flag.under is not None:
        lines += [f"{flag.verdict.answer}; it follows from: {flag.under.notice}"]
    lines += [f"enter {', '.join(flag.wants)}"] if flag.wants else []
    lines += [f"to settle it, measure {together(flag.settles)}"] if flag.settles else []
    if flag.acceptance is not None:
        lines += [f"lapsed: {flag.lapsed}" if flag.lapsed else f"accepted: {flag.acceptance.because}"]
    lines += [f"do: {flag.cure}"] if flag.cure else []
    lines += [flag.by] if flag.by else []
    lines += [f"as found: {flag.as_found}"] if flag.as_found else []
    lines += [f"{flag.rule.name}; ground: {flag.rule.ground}"]
    return "\n".join(map(clean, lines))
