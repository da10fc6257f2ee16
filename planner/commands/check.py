"""`planner check FILE`: flags first, the worst first, then what is not known, then the figures."""

import sys
from argparse import RawDescriptionHelpFormatter
from pathlib import Path
from typing import Any

from planner.commands.page import columns, ink, paragraph
from planner.commands.table import FINE, RAISED, WRONG, Parser, wrong
from planner.plan.again import Again, look_again
from planner.plan.figures import figure_rows
from planner.plan.flagging import Flag, flags
from planner.plan.opening import OpenProject, open_project
from planner.plan.standing_flags import all_flags
from planner.plan.wording import count
from planner.project.faults import Faulty, as_line
from planner.quantities.text import clean

EXAMPLE = """example:
  planner check projects/county-road-4x4.toml
  planner check projects/county-road-4x4.toml --figures
  planner check projects/county-road-4x4.toml --json | less

exit code: 0 nothing is raised, 1 something is, 2 the file or the command is wrong"""


def run(arguments: list[str]) -> int:
    parser = Parser("planner check", description=__doc__, epilog=EXAMPLE, formatter_class=RawDescriptionHelpFormatter)
    parser.add_argument("file", type=Path, metavar="FILE", help="the project file")
    parser.add_argument("--figures", action="store_true", help="list every figure too")
    parser.add_argument("--waiting", action="store_true", help="list what each missing entry is needed for")
    parser.add_argument("--clear", action="store_true", help="list the rules that hold, each with its margin")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_args(arguments)
    try:
        opened = open_project(asked.file)
    except Faulty as faulty:
        for fault in faulty.faults:
            wrong(as_line(faulty.path, fault))
        return WRONG
    found = all_flags(opened, flags(opened, worded=asked.json or asked.clear))
    if asked.json:
        import json

        json.dump(as_data(opened, found), sys.stdout, indent=2, ensure_ascii=False)
        print()
    else:
        for notice in opened.opened.notices:
            wrong(as_line(opened.opened.source.path, notice))
        print("\n".join(page(opened, found, figures=asked.figures, clear=asked.clear, waiting=asked.waiting)))
    return RAISED if any(flag.counts for flag in found) else FINE


def page(
    opened: OpenProject, found: list[Flag], *, figures: bool = False, clear: bool = False, waiting: bool = False
) -> list[str]:
    """The report, line by line."""
    lines = [*_head(opened), *(ink(line, "strong") for line in paragraph(summary(found))), ""]
    for flag in found:
        if flag.verdict.answer in ("raised", "too close to call"):
            lines += [*flag_lines(flag), ""]
    lines += _not_known(opened, found, waiting)
    if clear:
        lines += _clear(found)
    if figures:
        for heading, rows in figure_rows(opened):
            lines += [ink(heading, "strong"), *columns(rows), ""]
    lines.append("Local codes and licensed practice come first.")
    return lines


def _head(opened: OpenProject) -> list[str]:
    project = opened.project
    name = clean(project.vehicle.name or "A truck without a name")
    lines = [ink(name, "strong")]
    for planned in opened.planned:
        fitment = project.fitments.get(planned)
        words = f": {clean(fitment.description)}" if fitment and fitment.description else ""
        kind = "planned" if project.plan.chosen else "as found" if planned == "found" else "candidate"
        name_of = "" if planned == "found" else f" {clean(planned)}"
        lines += paragraph(f"{kind}{name_of}{words}", 2)
    if not project.plan.chosen and len(opened.candidates) > 1:
        lines += paragraph("None is chosen yet (plan.chosen), so each candidate is judged.", 2)
    return [*lines, ""]


def summary(found: list[Flag]) -> str:
    """How many of each answer there are, in one line."""
    standing = [flag.rule.severity for flag in found if flag.counts]
    answers = [flag.verdict.answer for flag in found]
    accepted = sum(flag.verdict.answer == "raised" and not flag.counts for flag in found)
    pieces = [count(standing.count(s), s) for s in ("stop", "caution", "note")]
    close = [flag.rule.severity for flag in found if flag.verdict.answer == "too close to call"]
    stops = (
        f" ({close.count('stop')} of them {'stop' if close.count('stop') == 1 else 'stops'})" if "stop" in close else ""
    )
    pieces.append(f"{len(close)} too close to call{stops}")
    pieces.append(f"{answers.count('not known')} not known")
    pieces.append(f"{answers.count('clear')} clear")
    if accepted:
        pieces.append(f"{accepted} accepted")
    return ", ".join(pieces)


def flag_lines(flag: Flag) -> list[str]:
    """One flag: where and what, what it says, by how much, what settles it and what to do."""
    rule = flag.rule
    close = flag.verdict.answer == "too close to call"
    mark = f"{rule.severity.upper()}?" if close else rule.severity.upper()
    head = f"{flag.where}: {rule.notices}" if flag.where else rule.notices
    lines = paragraph(head, 0, f"{mark:<9}")
    lines[0] = ink(f"{mark:<9}", rule.severity) + lines[0][9:]
    lines += paragraph(f"{flag.says}." if not flag.says.endswith(".") else flag.says, 9)
    if flag.by:
        lines += paragraph(("too close to call: " if close else "") + flag.by, 9)
    if flag.settles:
        lines += paragraph("to settle it, measure " + "; ".join(flag.settles), 9)
    if flag.acceptance is not None and flag.lapsed:
        lines += paragraph(f"it was accepted, but that has lapsed: {flag.lapsed}", 9)
    elif flag.acceptance is not None:
        lines += paragraph(f"accepted {flag.acceptance.on or ''}: {clean(flag.acceptance.because or '')}", 9)
    lines += paragraph(flag.cure, 9, "do: ")
    lines += [ink(line, "faint") for line in paragraph(f"{rule.name}; ground: {rule.ground}", 9)]
    return lines


def _not_known(opened: OpenProject, found: list[Flag], waiting: bool) -> list[str]:
    """What is missing, by the file's tables; with `waiting`, each entry with the rules that wait for it."""
    lines: list[str] = []
    needed = missing(found)
    if needed and waiting:
        rows = [(clean(need), "for " + ", ".join(rules)) for need, rules in needed.items()]
        lines += [ink("Not known: enter", "strong"), *columns(rows), ""]
    elif needed:
        entries = {need: rules for need, rules in needed.items() if not need.startswith("obstacles[")}
        lines += [ink("Not known yet", "strong"), *columns(by_table(entries)), ""]
        lines += _to_measure(opened, needed)
        lines += [*paragraph("--waiting shows what waits for each. Measure what decides first."), ""]
    troubled = {(flag.rule.name, flag.verdict.trouble): None for flag in found if flag.verdict.trouble}
    if troubled:
        lines += [ink("Cannot be worked out", "strong"), *columns([(name, clean(why)) for name, why in troubled]), ""]
    return lines


def _to_measure(opened: OpenProject, needed: dict[str, list[str]]) -> list[str]:
    """Obstacles that nobody measured, with how to measure each."""
    rows = [
        (clean(label), clean(one.measured.measure or f"enter {need.rpartition('.')[2]}"))
        for label, one in opened.obstacles.items()
        for need in needed
        if need.startswith(f"{one.key}.")
    ]
    return [ink("Obstacles to measure", "strong"), *columns(rows, most=26), ""] if rows else []


def missing(found: list[Flag]) -> dict[str, list[str]]:
    """Every missing entry by its key, with the rules that wait for it."""
    waiting: dict[str, list[str]] = {}
    for flag in found:
        for need in flag.needs if flag.verdict.answer == "not known" else ():
            waiting.setdefault(need, []).append(flag.rule.name)
    return {need: list(dict.fromkeys(rules)) for need, rules in sorted(waiting.items())}


def by_table(needed: dict[str, list[str]]) -> list[tuple[str, str]]:
    """The missing entries as rows: tables that miss the same stand together."""
    tables: dict[str, list[str]] = {}
    for need in needed:
        table, _, key = need.rpartition(".")
        tables.setdefault(table, []).append(key)
    alike: dict[tuple[str, ...], list[str]] = {}
    for table, keys in tables.items():
        alike.setdefault((table.split(".")[-1], *keys), []).append(table)
    rows = []
    for (_, *keys), same in alike.items():
        heads = [f"[{clean(table)}]" for table in same]
        rows += [(head, "" if at + 1 < len(heads) else ", ".join(map(clean, keys))) for at, head in enumerate(heads)]
    return rows


def _clear(found: list[Flag]) -> list[str]:
    rows = [(f"{f.rule.name} {f.where}", f.by or f.says) for f in found if f.verdict.answer == "clear"]
    return [ink("Clear", "strong"), *columns(rows), ""] if rows else []


def as_data(opened: OpenProject, found: list[Flag]) -> dict[str, Any]:
    """The report as one object of plain data; values in SI."""
    return {
        "project": opened.project.vehicle.name,
        "planned": list(opened.planned),
        "summary": summary(found),
        "flags": [flag_data(flag) for flag in found],
        "look_again": [again_data(one) for one in look_again(opened)],
        "figures": {heading: dict(rows) for heading, rows in figure_rows(opened)},
        "notices": [as_line(opened.opened.source.path, notice) for notice in opened.opened.notices],
    }


def again_data(one: Again) -> dict[str, Any]:
    """A record to look at again as plain data."""
    return {"record": one.record, "key": one.key, "name": one.name, "moved": [each._asdict() for each in one.moved]}


def flag_data(flag: Flag) -> dict[str, Any]:
    """One flag as plain data."""
    rule, verdict = flag.rule, flag.verdict
    data: dict[str, Any] = {
        "rule": rule.name,
        "severity": rule.severity,
        "answer": verdict.answer,
        "where": flag.where,
        "notices": rule.notices,
        "says": flag.says,
        "do": flag.cure,
        "ground": str(rule.ground),
    }
    if verdict.margin is not None and rule.kind is not None:
        worst = (finite(verdict.margin.low), finite(verdict.margin.high))
        value = getattr(verdict.margin.value, "margin", verdict.margin.value)
        data["margin"] = {"value": value, "low": worst[0], "high": worst[1], "unit": rule.kind.si, "shown": flag.by}
    data.update({"settles": list(flag.settles), "needs": list(flag.needs)} if flag.settles or flag.needs else {})
    if verdict.trouble:
        data["trouble"] = verdict.trouble
    if flag.acceptance is not None:
        data["accepted"] = {"because": flag.acceptance.because, "lapsed": flag.lapsed or None}
    return data


def finite(value: float) -> float | None:
    """JSON knows no infinity: a bound that is not known is null."""
    return value if abs(value) != float("inf") else None
