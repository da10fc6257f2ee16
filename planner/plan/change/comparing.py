"""Candidates side by side, each judged as if it were the chosen one: what differs, what it raises, costs and takes."""

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, NamedTuple

from planner.plan.answers.flagging import Flag, Tally, flags, of_plan, tally, tally_words
from planner.plan.answers.open_project import as_if_chosen, work_out
from planner.plan.change.effect_words import name as figure_name
from planner.plan.change.figure_changes import FigureChange, figure_changes
from planner.plan.change.trying_changes import TriedFitment, tried_fitment, tries, with_changes
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.change_words import written_at
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.truck.wording import following_words, place_names
from planner.plan.work.money import Money, amount, money
from planner.plan.work.parts import OF_A_SET, lead_time_of, planned_parts, set_kinds
from planner.plan.work.task_list import work_or_why
from planner.project.faults import LONGEST_SAID, as_key, plain
from planner.project.lines import Key
from planner.project.truck_keys import value_at
from planner.quantities.quantity import Quantity
from planner.quantities.text import clean
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Place

NOTHING = "-"

APART = "does not apply"

MOST = 8  # each is judged as a truck of its own, and nobody reads more columns


class Candidate(NamedTuple):
    """One fitment as if it were chosen, with `tried` changes as if they were decided; `name` has both.

    `price` is the set's own, `cost` the whole build's, `lead_time` the longest that is still to wait for.
    """

    name: str
    fitment: str
    opened: OpenProject
    tally: Tally
    price: Decimal | None
    cost: Money
    lead_time: str
    finish: date | None


class ComparedEntry(NamedTuple):
    """One key of a fitment, with what is written there for each candidate, `-` for nothing.

    `of_truck` is the whole key of an entry of the truck, which a change sets for one of them.
    """

    key: str
    written: tuple[str, ...]
    of_truck: str = ""


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
    """The named fitments side by side, or all there are and what is considered for them; raises `RefusedChange`.

    `tall + longer stop screws` is a fitment with a considered change, judged as if that were decided. Figures are held
    against the first candidate's, and are left out where they are within its tolerance; with `everything` no row is
    left out but those of figures that are the same.
    """
    chosen = _chosen(opened, names)
    alone = [_as_if_decided(opened, one) for one in chosen]
    fits = [flags(one) for one in alone]
    found = [all_flags(one, each) for one, each in zip(alone, fits, strict=True)]
    return Comparison(
        tuple(_candidate(*each) for each in zip(chosen, alone, fits, found, strict=True)),
        tuple(row for row in (*_changed(alone), *_entries(opened, chosen)) if everything or len(set(row.written)) > 1),
        tuple(row for row in figure_changes(alone, found=False) if everything or row.beyond),
        tuple(row for row in _answers(found) if everything or _differs(row)),
    )


def _chosen(opened: OpenProject, names: Sequence[str]) -> list[TriedFitment]:
    there = list(opened.project.fitments)
    if not there:
        raise RefusedChange("there is nothing to compare: the file has no [fitments] yet")
    chosen = [tried_fitment(opened.project, name) for name in names]
    if not chosen:
        chosen = [TriedFitment(name, ()) for name in sorted(there, key=lambda name: name != "found")]
        tried = [one for name in opened.planned for one in tries(opened.project, name)]
        chosen += tried[: max(0, MOST - len(chosen))]
    for at, one in enumerate(chosen):
        if one in chosen[:at]:
            raise RefusedChange(f"{plain(names[at])}: given twice")
    if len(chosen) > MOST:
        raise RefusedChange(f"{len(chosen)} are too many to put side by side: name no more than {MOST}")
    return chosen


def _as_if_decided(opened: OpenProject, one: TriedFitment) -> OpenProject:
    if one.changes:
        opened = work_out(opened.opened, opened.today, {one.fitment: one.changes})
    return as_if_chosen(opened, one.fitment)


def _candidate(one: TriedFitment, alone: OpenProject, fits: Sequence[Flag], found: Sequence[Flag]) -> Candidate:
    name = one.fitment
    fitment = alone.project.fitments[name]
    times = [(one.value, one.text) for one in _times(alone, name) if one is not None]
    longest = max(times, default=(0.0, ""))[1]
    listed, _ = work_or_why(alone, fits)
    end = listed.dates.ahead.finish if listed else None
    called = with_changes(alone.project, one)
    return Candidate(called, name, alone, tally(found), fitment.price, money(alone), clean(longest), end)


def _times(alone: OpenProject, name: str) -> Iterator[Quantity | None]:
    """How long what is not ordered yet is to come: the set's own time for as much of it as is no part of the list."""
    needs = planned_parts(alone)
    of_set = {need.id: set_kinds(alone, need, name) for need in needs}
    whole = {kind for kinds in of_set.values() for kind in kinds} >= set(OF_A_SET)
    yield None if whole else alone.project.fitments[name].lead_time
    for need in needs:
        if need.part.state == "wanted":
            own = lead_time_of(need.part)
            yield own if own is not None or not of_set[need.id] else alone.project.fitments[name].lead_time


def _changed(alone: Sequence[OpenProject]) -> Iterator[ComparedEntry]:
    """Every entry of the truck that one of the fitments does not find as it was found."""
    over = [one.set_over(one.planned[0]) for one in alone]
    for key in dict.fromkeys(key for one in over for key in one):
        texts = (_written(side, key) for side in alone)
        yield ComparedEntry(alone[0].typed(as_key(key)), tuple(texts), as_key(key))


def _written(alone: OpenProject, key: Key) -> str:
    """An entry of the truck as its candidate finds it; what a change moves along stands nowhere, so as worked out."""
    entry = alone.set_over(alone.planned[0]).get(key)
    if entry is None or not entry.moved:
        return written_at(alone, key if entry is None else entry.key)
    moved = value_at(alone.truck(alone.planned[0]), key)
    return ", ".join(one.text for one in (moved if isinstance(moved, tuple) else (moved,)))


def _entries(opened: OpenProject, chosen: Sequence[TriedFitment]) -> Iterator[ComparedEntry]:
    """Every key under any of the fitments, as written in the file."""
    tables = opened.opened.data.get("fitments", {})
    written = [dict(_flat(tables.get(one.fitment, {}), "")) for one in chosen]
    keys = dict.fromkeys(key for one in sorted(written, key=len, reverse=True) for key in one)
    for key in keys:
        yield ComparedEntry(key, tuple(one.get(key, NOTHING) for one in written))


def _flat(table: Any, key: str) -> Iterator[tuple[str, str]]:
    for name, value in table.items():
        below = f"{key}.{plain(str(name))}" if key else plain(str(name))
        if isinstance(value, dict):
            yield from _flat(value, below)
        else:
            said = ("no", "yes")[value] if isinstance(value, bool) else str(value)
            yield below, plain(said, LONGEST_SAID)


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
    return sorted(rows, key=lambda row: (row.rule.order, row.where))


def _places(flag: Flag) -> Iterator[Place]:
    """Where a flag stands, without its fitment; for a record of the plan that is the record's name."""
    yield from [(flag.where,)] if of_plan(flag.rule) else [place[1:] for place in flag.places]


def _differs(row: ComparedAnswers) -> bool:
    """Whether the answers differ; that a rule is clear here and does not apply there says nothing."""
    return len(set(row.answers)) > 1 and not set(row.answers) <= {APART, "clear"}


def _answer(flag: Flag | None) -> str:
    if flag is None:
        return APART
    return "accepted" if flag.accepted else flag.verdict.answer


MARKS = {"raised": "RAISED", "clear": "clear", "too close to call": "too close", "not known": "not known"}


def verdict(one: Candidate) -> str:
    """`2 may be stops, 12 cautions, 3 notes, 12 more too close to call, 0 not known, 2 accepted`."""
    told = one.tally
    counts = tally_words(told) + ([f"{told.accepted} accepted"] if told.accepted else [])
    return ", ".join(counts) + following_words(told.following)


def pressing(one: Candidate) -> tuple[str, ...]:
    """How many stops, what may be one, cautions, what else is too close to call, and what is not known.

    That there is no stop is not said beside what may be one.
    """
    told = one.tally
    stops = NOTHING if told.close_stops and not told.stops else str(told.stops)
    others = (told.close_stops, told.cautions, told.too_close - told.close_stops, told.not_known)
    return stops, *map(str, others)


def costs(candidates: Sequence[Candidate]) -> list[tuple[str, ...]]:
    """Money and time, a row each: what it is, and a cell for each candidate."""
    return [
        ("price of the set", *(_of_set(one) for one in candidates)),
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
    return figure_name(row._replace(name=row.name.replace(".", ": ", 1).replace("_", " ")))


def _of_set(one: Candidate) -> str:
    return NOTHING if one.price is None else amount(one.price, one.cost.currency)


def _left(one: Candidate) -> str:
    over = one.cost.over
    return NOTHING if over is None else amount(-over, one.cost.currency)
