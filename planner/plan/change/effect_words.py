"""What a change touches, in words: the same for the command that shows it, for the screens, and for the slip."""

from collections.abc import Iterable

from planner.plan.change.changing import Effects, TriedChange
from planner.plan.change.figure_changes import FigureChange
from planner.plan.change.flag_changes import FlagChange
from planner.plan.change.widening import widening_words
from planner.plan.truck.wording import count
from planner.plan.work.money import amount
from planner.plan.work.record_flags import RECORD_RULES
from planner.project.changes import DELETE
from planner.project.faults import as_key, plain
from planner.quantities.text import clean


def summary(found: Effects) -> str:
    """What the change does, in one line."""
    beyond = sum(1 + row.more for row in found.figures if row.beyond)
    if not (found.up or found.cleared or found.changed or beyond or found.again or found.parts or found.sheets):
        return "No flag comes up or clears, and nothing else is touched."
    pieces = [
        f"{count(len(besides_records(found.up)), 'flag')} up",
        f"{len(besides_records(found.cleared))} cleared",
        f"{sum(flag.beyond for flag in besides_records(found.changed))} changed",
        f"{count(beyond, 'figure')} moved beyond tolerance",
        f"{len(found.again)} to look at again",
        f"{count(len(found.parts), 'part')} in question",
        f"{count(len(found.sheets), 'sheet')} out of date",
    ]
    return ", ".join(pieces)


def tolerance_lines(trial: TriedChange) -> list[str]:
    """What becomes of tolerances: kept, assumed, gone, and what is clear by that alone; none goes in silence."""
    lines = [one.says for one in trial.narrowed]
    lines += [f"Cleared only by that: {one.notice}" for one in trial.cleared_so]
    lines += trial.typed
    return lines + (widening_words(trial.widening) if trial.widening else [])


def besides_records(flags: Iterable[FlagChange]) -> list[FlagChange]:
    """Without those that say of a record what stands under "Look again" and the like."""
    return [one for one in flags if one.rule.node not in RECORD_RULES]


def written(value: object) -> str:
    """A value of the file in words; `nothing` where there is none."""
    if value is None or value is DELETE:
        return "nothing"
    if isinstance(value, dict):
        inside = ", ".join(f"{as_key((str(name),))} = {written(inner)}" for name, inner in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, list):
        return f"[{', '.join(map(written, value))}]"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return plain(str(value), longest=200) or "an empty text"


def answer(one: FlagChange, now: bool) -> str:
    """A flag's answer before or after the change, with its margin, or what it waits for."""
    flag = one.now if now else one.was
    if flag is None:
        return "nothing that applies"
    accepted = flag.acceptance is not None and flag.verdict.answer == "raised" and not flag.lapsed
    said = "accepted" if accepted else flag.verdict.answer
    needs = f"enter {', '.join(flag.wants)}" if flag.wants else ""
    return ": ".join(word for word in (said, flag.by or clean(flag.verdict.trouble) or needs) if word)


def name(row: FigureChange) -> str:
    """A figure that moved, with where."""
    more = f" and {row.more} more like it" if row.more else ""
    return f"{row.name} ({row.where}{more})" if row.where else row.name


def move(row: FigureChange) -> str:
    """From what to what, and by how much."""
    return f"{row.texts[0]} → {row.texts[1]}" + (f"  ({row.by})" if row.by else "")


def money_and_time(found: Effects) -> list[tuple[str, str]]:
    """What moves in cost and dates, as pairs of a name and what becomes of it."""
    before, after = found.cost
    rows = []
    for part in ("total", "spent"):
        one, other = getattr(before, part), getattr(after, part)
        if one != other:
            told = f"{amount(one, before.currency)} → {amount(other, after.currency)}"
            rows.append(("the whole build" if part == "total" else "spent so far", told))
    if (rows or before.budget != after.budget) and after.over is not None:
        over = after.over > 0
        stands = f"{amount(abs(after.over), after.currency)} {'over' if over else 'left'}"
        rows.append(("budget", f"{amount(after.budget, after.currency)}: {stands}"))
    if found.finish[0] != found.finish[1]:
        rows.append(("work done by", f"{found.finish[0] or 'not known'} → {found.finish[1] or 'not known'}"))
    return rows
