"""Candidates side by side, each judged as if it were the chosen one: what differs, what it raises, costs and takes."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any, NamedTuple

from planner.plan.answers.flagging import SEVERITIES, Flag, flags, of_plan
from planner.plan.answers.open_project import as_if_chosen
from planner.plan.change.changing import finish
from planner.plan.change.figure_changes import FigureChange, figure_changes
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.truck.wording import count, place_names
from planner.plan.work.money import Money, amount, money
from planner.project.faults import LONGEST_SAID, plain
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean, name_among
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Place

NOTHING = "-"

APART = "does not apply"

MOST = 8  # each is judged as a truck of its own, and nobody reads more columns


class Tally(NamedTuple):
    """How many of each answer a candidate gets, counted as `check` counts them."""

    stops: int
    cautions: int
    notes: int
    too_close: int
    not_known: int
    clear: int
    accepted: int


class Candidate(NamedTuple):
    """One fitment as if it were chosen.

    `price` is the set's own as written, `cost` the whole build's, `lead_time` the longest that is still to wait for.
    """

    name: str
    opened: OpenProject
    tally: Tally
    price: str
    cost: Money
    lead_time: str
    finish: date | None


class ComparedEntry(NamedTuple):
    """One key of a fitment, with what is written there for each candidate, `-` for nothing."""

    key: str
    written: tuple[str, ...]


class ComparedAnswers(NamedTuple):
    """One rule at one place, with its answer for each candidate."""

    rule: Rule
    where: str
    answers: tuple[str, ...]


class Comparison(NamedTuple):
    """Everything that a choice rests on; rows that are the same for all candidates are in it only where asked for."""

    candidates: tuple[Candidate, ...]
    entries: tuple[ComparedEntry, ...]
    figures: tuple[FigureChange, ...]
    flags: tuple[ComparedAnswers, ...]


def compare(opened: OpenProject, names: Sequence[str] = (), everything: bool = False) -> Comparison:
    """The named fitments side by side, or all there are; raises `RefusedChange`.

    Figures are held against the first candidate's, and are left out where they are within its tolerance; with
    `everything` no row is left out but those of figures that are the same.
    """
    chosen = _chosen(opened, names)
    alone = [as_if_chosen(opened, name) for name in chosen]
    fits = [flags(one) for one in alone]
    found = [all_flags(one, each) for one, each in zip(alone, fits, strict=True)]
    return Comparison(
        tuple(_candidate(*each) for each in zip(alone, fits, found, strict=True)),
        tuple(row for row in _entries(opened, chosen) if everything or len(set(row.written)) > 1),
        tuple(row for row in figure_changes(alone, found=False) if everything or row.beyond),
        tuple(row for row in _answers(found) if everything or _differs(row)),
    )


def _chosen(opened: OpenProject, names: Sequence[str]) -> list[str]:
    there = list(opened.project.fitments)
    if not there:
        raise RefusedChange("there is nothing to compare: the file has no [fitments] yet")
    meant = [name_among(there, name) for name in names]
    for at, name in enumerate(names):
        if meant[at] is None:
            from difflib import get_close_matches  # only a slip of the pen needs it

            near = get_close_matches(name, there, n=1) or there
            raise RefusedChange(
                f"{plain(name)}: there is no such fitment; accepted: {plain(', '.join(near), LONGEST_SAID)}"
            )
        if meant[at] in meant[:at]:
            raise RefusedChange(f"{plain(name)}: given twice")
    chosen = [name for name in meant if name is not None] or sorted(there, key=lambda name: name != "found")
    if len(chosen) > MOST:
        raise RefusedChange(f"{len(chosen)} are too many to put side by side: name {MOST} of them at most")
    return chosen


def tally(found: Sequence[Flag]) -> Tally:
    """The flags counted."""
    standing = [flag.rule.severity for flag in found if flag.counts]
    answers = [flag.verdict.answer for flag in found]
    return Tally(
        stops=standing.count("stop"),
        cautions=standing.count("caution"),
        notes=standing.count("note"),
        too_close=answers.count("too close to call"),
        not_known=answers.count("not known"),
        clear=answers.count("clear"),
        accepted=answers.count("raised") - len(standing),
    )


def _candidate(alone: OpenProject, fits: Sequence[Flag], found: Sequence[Flag]) -> Candidate:
    name = alone.planned[0]
    fitment = alone.project.fitments[name]
    times = [(one.value, one.text) for one in (fitment.lead_time, *_part_times(alone, name)) if one is not None]
    longest = max(times, default=(0.0, ""))[1]
    price = "" if fitment.price is None else plain(str(fitment.price))
    return Candidate(name, alone, tally(found), price, money(alone), clean(longest), finish(alone, fits)[0])


def _part_times(alone: OpenProject, name: str) -> Iterator[Quantity | None]:
    for part in alone.project.parts:
        if name in part.used_for and part.state == "wanted":
            yield part.lead_time


def _entries(opened: OpenProject, names: Sequence[str]) -> Iterator[ComparedEntry]:
    """Every key under any of the fitments, as written in the file."""
    tables = opened.opened.data.get("fitments", {})
    written = [dict(_flat(tables.get(name, {}), "")) for name in names]
    keys = dict.fromkeys(key for one in sorted(written, key=len, reverse=True) for key in one)
    for key in keys:
        yield ComparedEntry(key, tuple(one.get(key, NOTHING) for one in written))


def _flat(table: Any, key: str) -> Iterator[tuple[str, str]]:
    for name, value in table.items():
        below = f"{key}.{plain(str(name))}" if key else plain(str(name))
        if isinstance(value, dict):
            yield from _flat(value, below)
        else:
            yield below, plain(str(value), LONGEST_SAID)


def _answers(found: Sequence[Sequence[Flag]]) -> list[ComparedAnswers]:
    """Every rule at every place, the worst first; places at which all candidates get the same stand together."""
    by_place = [{(flag.rule.name, place): flag for flag in each for place in _places(flag)} for each in found]
    alike: dict[tuple[str, tuple[str, ...]], list[Place]] = {}
    rules: dict[str, Rule] = {}
    for name, place in dict.fromkeys(at for one in by_place for at in one):
        flags_here = [one.get((name, place)) for one in by_place]
        rules[name] = next(flag.rule for flag in flags_here if flag is not None)
        alike.setdefault((name, tuple(map(_answer, flags_here))), []).append(("", *place))
    rows = [
        ComparedAnswers(rules[name], place_names(tuple(places), alone=False), said)
        for (name, said), places in alike.items()
    ]
    return sorted(rows, key=lambda row: (SEVERITIES.index(row.rule.severity), row.rule.name, row.where))


def _places(flag: Flag) -> Iterator[Place]:
    """Where a flag stands, without its fitment; for a record of the plan that is the record's name."""
    yield from [(flag.where,)] if of_plan(flag.rule) else [place[1:] for place in flag.places]


def _differs(row: ComparedAnswers) -> bool:
    """Whether the answers differ; that a rule is clear here and does not apply there says nothing."""
    return len(set(row.answers)) > 1 and not set(row.answers) <= {APART, "clear"}


def _answer(flag: Flag | None) -> str:
    if flag is None:
        return APART
    return "accepted" if flag.verdict.answer == "raised" and not flag.counts else flag.verdict.answer


MARKS = {"raised": "RAISED", "clear": "clear", "too close to call": "too close", "not known": "not known"}


def verdict(one: Candidate) -> str:
    """`0 stops, 12 cautions, 3 notes, 12 too close to call, 0 not known, 2 accepted`."""
    told = one.tally
    counts = [count(told.stops, "stop"), count(told.cautions, "caution"), count(told.notes, "note")]
    counts += [f"{told.too_close} too close to call", f"{told.not_known} not known"]
    counts += [f"{told.accepted} accepted"] if told.accepted else []
    return ", ".join(counts)


def short_verdict(one: Candidate) -> str:
    """What presses, for a narrow place."""
    told = one.tally
    counts = [count(told.stops, "stop"), count(told.cautions, "caution")]
    return ", ".join([*counts, f"{told.too_close} too close", f"{told.not_known} not known"])


def costs(candidates: Sequence[Candidate]) -> list[tuple[str, ...]]:
    """Money and time, a row each: what it is, and a cell for each candidate."""
    return [
        ("price of the set", *(one.price or NOTHING for one in candidates)),
        ("whole build", *(amount(one.cost.total, one.cost.currency) for one in candidates)),
        ("left of the budget", *(_left(one) for one in candidates)),
        ("longest lead time", *(one.lead_time or NOTHING for one in candidates)),
        ("work done by", *(one.finish.isoformat() if one.finish else NOTHING for one in candidates)),
    ]


def mark(answer: str) -> str:
    return MARKS.get(answer, answer)


def flag_label(row: ComparedAnswers) -> str:
    return f"{row.rule.notices}{f' ({row.where})' if row.where else ''}"


def figure_label(row: FigureChange) -> str:
    alike = f" and {row.more} more alike" if row.more else ""
    where = f" ({row.where}{alike})" if row.where else ""
    return f"{row.name.replace('.', ': ', 1).replace('_', ' ')}{where}"


def _left(one: Candidate) -> str:
    over = one.cost.over
    return NOTHING if over is None else amount(-over, one.cost.currency)
