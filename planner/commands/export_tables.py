"""The tables that `planner export` writes: figures, flags, tasks, parts and readings, each a row a thing."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from planner.commands.check import finite
from planner.plan.answers.figure_numbers import figure_numbers, in_people_unit, people_unit, plain_value
from planner.plan.answers.flagging import Flag
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_rows import ReadingRow, reading_rows
from planner.plan.work.money import money
from planner.plan.work.task_list import Work
from planner.plan.work.task_values import recorded_stands
from planner.project.facts import AXES


class ExportedProject(NamedTuple):
    """The project as it is exported, with what was worked out of it once."""

    opened: OpenProject
    flags: Sequence[Flag]
    work: Work


class ExportedTable(NamedTuple):
    """One table: its heads, and its rows."""

    heads: tuple[str, ...]
    rows: Callable[[ExportedProject], Iterator[Sequence[Any]]]


def _figures(one: ExportedProject) -> Iterator[Sequence[Any]]:
    style = one.opened.style
    for row in figure_numbers(one.opened):
        numbers = (in_people_unit(value, row.kind, style) for value in (row.value, row.low, row.high))
        places = (row.place.get(axis, "") for axis in AXES)
        yield row.figure, row.part, *places, *numbers, people_unit(row.kind, style), row.shown


def _flags(one: ExportedProject) -> Iterator[Sequence[Any]]:
    style = one.opened.style
    for flag in one.flags:
        rule, verdict = flag.rule, flag.verdict
        numbers: tuple[Any, ...] = (None, None, None, "")
        if verdict.margin is not None and rule.kind is not None:
            ends = (getattr(verdict.margin.value, "margin", verdict.margin.value), *map(finite, verdict.margin[1:3]))
            values = (in_people_unit(plain_value(value), rule.kind, style) for value in ends)
            numbers = (*values, people_unit(rule.kind, style))
        accepted = flag.acceptance.because if flag.acceptance is not None and flag.accepted else None
        under = flag.under.rule.name if flag.under is not None else None
        words = (flag.says, flag.cure, flag.needs, accepted, under, str(rule.ground))
        yield rule.name, rule.severity, verdict.answer, flag.where, rule.notices, *numbers, *words


def _tasks(one: ExportedProject) -> Iterator[Sequence[Any]]:
    for item in one.work.items.values():
        times = None if item.closed else one.work.dates.ahead.times.get(item.id)
        record = item.record
        dates = (times.starts, times.ends, times.slack, times.critical) if times is not None else (None,) * 4
        done: tuple[Any, ...] = (None,) * 5
        if record is not None:
            done = (record.on, record.recorded, recorded_stands(one.opened, item), record.note, record.because)
        yield (
            item.id, item.title, item.phase, item.origin, item.state, item.hold, item.hours, *dates,
            (*item.waits, *item.holds), [need.called for need in item.parts], item.why,
            *done, item.caution,
        )  # fmt: skip


def _parts(one: ExportedProject) -> Iterator[Sequence[Any]]:
    for row in money(one.opened, one.work).rows:
        part = row.part
        dates = (part.ordered, part.promised, part.arrived) if part is not None else (None,) * 3
        told = (part.source, part.note, part.used_for) if part is not None else (None,) * 3
        yield (
            row.id, row.title, row.state, row.quantity, row.price, row.total, row.paid, row.owed,
            one.opened.project.plan.currency, row.counts, row.because, row.lead_days, row.order_by, row.late,
            *dates, *told,
        )  # fmt: skip


TABLES: Mapping[str, ExportedTable] = {
    "figures": ExportedTable(("figure", "part", *AXES, "value", "low", "high", "unit", "shown"), _figures),
    "flags": ExportedTable(
        (
            "rule", "severity", "answer", "where", "notices", "margin", "margin low", "margin high", "unit",
            "says", "do", "needs", "accepted because", "follows from", "ground",
        ),
        _flags,
    ),
    "tasks": ExportedTable(
        (
            "id", "title", "phase", "from", "state", "hold point", "hours", "starts", "ends", "slack hours", "critical",
            "waits for", "parts", "look again", "on", "recorded", "stands", "note", "because", "caution",
        ),
        _tasks,
    ),
    "parts": ExportedTable(
        (
            "id", "title", "state", "quantity", "price", "total", "paid", "owed", "currency", "counts", "because",
            "lead days", "order by", "late", "ordered", "promised", "arrived", "source", "note", "used for",
        ),
        _parts,
    ),
    "readings": ExportedTable(ReadingRow._fields, lambda one: reading_rows(one.opened)),
}  # fmt: skip
