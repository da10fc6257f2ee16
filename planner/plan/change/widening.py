"""What the first save of an older file changes of its answers: values without a ± count as exact no more.

Until then an older file is read as ever. So it is said before it is made, and kept in the diary.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from planner.plan.answers.open_project import work_out
from planner.plan.change.figure_changes import figure_spots
from planner.plan.change.flag_changes import FlagChange, flag_changes
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import count, place_name, shown
from planner.project.diary_words import ASSUMED
from planner.project.faults import as_key
from planner.project.migrating import in_newest_format
from planner.project.reading import understand
from planner.project.source import parse
from planner.project.usual_tolerances import assumed_keys
from planner.quantities.text import in_words
from planner.worksheet.outcome import Known


class Widening(NamedTuple):
    """The entries that take an assumed tolerance, and the figures, in words, and flags that move by that alone."""

    keys: tuple[str, ...]
    figures: tuple[str, ...]
    flags: tuple[FlagChange, ...]

    @property
    def details(self) -> Mapping[str, object]:
        """What the diary keeps of it: all of it."""
        flags = [f"{one.rule.name}{f' ({one.where})' if one.where else ''}" for one in self.flags]
        return {ASSUMED: {"values": list(self.keys), "figures": list(self.figures), "flags": flags}}


def widening(opened: OpenProject) -> Widening | None:
    """What a save brings besides its own change; None where no value takes a tolerance by it."""
    source = opened.opened.source
    if opened.opened.assumes:
        return None
    text, _ = in_newest_format(source.text)
    then = understand(parse(source.path, text.encode("utf-8")))
    keys = tuple(opened.typed(as_key(key)) for key in assumed_keys(then.project))
    if not keys:
        return None
    wide = work_out(then, opened.today)
    flags = tuple(one for one in flag_changes(opened, wide) if one.how != "margin")
    return Widening(keys, tuple(_figures(opened, wide)), flags)


def _figures(before: OpenProject, after: OpenProject) -> Iterator[str]:
    """The figures that are known less closely than before."""
    catalog = before.sheet.catalog
    for spot in figure_spots(before, found=True).values():
        if spot.node in catalog.figures and before.sheet.entered(spot) is not None:
            continue  # it is one of the values
        one, two = before.sheet.outcome(spot), after.sheet.outcome(spot)
        if isinstance(one, Known) and isinstance(two, Known) and (one.low, one.high) == (two.low, two.high):
            continue
        was, now = shown(before, spot), shown(after, spot)
        if was != now:
            declared, at = catalog.figures.get(spot.node), place_name(spot.place)
            name = declared.name if declared else in_words(spot.node)
            yield f"{name} ({at}): {was}, now {now}" if at else f"{name}: {was}, now {now}"


def widening_words(found: Widening) -> list[str]:
    """A line with the counts, one that says what to do, and one for each flag that is another by it."""
    values = count(len(found.keys), "measured value")
    figures = count(len(found.figures), "figure is", "figures are")
    lines = [
        f"This file is in format 1, where a value typed without ± was exact. When you save, {values} in it will take "
        f"the usual ± of its field, as assumed, and {figures} not known as closely.",
        'If you know a value better, give its ±, or "exact"; the diary keeps the whole list.',
    ]
    for one in found.flags:
        was = one.was.verdict.answer if one.was else "not asked"
        now = one.now.verdict.answer if one.now else "not asked"
        lines.append(f"Only from that: {one.rule.severity.upper()} {one.notice}: was {was}, now {now}")
    return lines
