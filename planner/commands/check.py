"""`planner check FILE`: one line per flag, worst first, and what to do next; `--full` shows each in full."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from planner.commands import faults_first
from planner.commands.flag_page import flag_rows, next_lines, whole
from planner.commands.page import as_json, columns, ink, paragraph
from planner.commands.table import FINE, RAISED, WRONG, faults_told, project_parser, wrong
from planner.plan.answers.figure_numbers import figure_numbers
from planner.plan.answers.figure_rows import figure_rows
from planner.plan.answers.flagging import STANDING, Flag, flags, tally, tally_words
from planner.plan.answers.open_project import open_project
from planner.plan.answers.stage_words import stage_lines, stage_named
from planner.plan.answers.stages import judged_stages, stage_truck
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.revisit.stale_records import StaleRecord, stale_records
from planner.plan.truck.change_words import changed_entries, more_of_changes, open_changes
from planner.plan.truck.project import UNMEASURED, OpenProject
from planner.plan.truck.reading_words import (
    entry_data,
    provenance,
    read_entries,
    reading_lines,
    taken_text,
    without_reading,
)
from planner.plan.truck.wording import following_words
from planner.project.faults import Faulty, as_line
from planner.quantities.text import clean, grouped

if TYPE_CHECKING:
    from planner.plan.answers.measure_next import WantedEntry

LINES = 40  # of the short page
MANY = 6  # rows that stand at the head of what is not known
EXAMPLE = """example:
  planner check projects/county-road-4x4.toml
  planner check projects/county-road-4x4.toml --full
  planner check projects/county-road-4x4.toml --figures
  planner check projects/county-road-4x4.toml --json | less

exit code: 0 nothing is raised, 1 something is, 2 the file or the command is wrong;
a file with faults is read as far as they let it, and they come first"""


def run(arguments: list[str]) -> int:
    parser = project_parser("planner check", __doc__, EXAMPLE)
    parser.add_argument(
        "--full", action="store_true", help="all about each flag: what it says, what to do, where it comes from"
    )
    parser.add_argument("--figures", action="store_true", help="also list every figure")
    parser.add_argument("--waiting", action="store_true", help="list what each missing entry is needed for")
    parser.add_argument("--clear", action="store_true", help="list the rules that are clear, each with its margin")
    parser.add_argument("--readings", action="store_true", help="list every reading, and the entries without one")
    parser.add_argument("--stage", metavar="NAME", help="check only the truck at one stage of the build")
    parser.add_argument("--json", action="store_true", help="print one JSON object, every figure in SI")
    asked = parser.parse_args(arguments)
    try:
        opened = open_project(asked.file)
    except Faulty as faulty:
        return faults_told(faulty)
    faults_first.tell_faults(opened)
    worded = asked.json or asked.clear
    if asked.stage is not None:
        stage = stage_named(opened, asked.stage)
        if isinstance(stage, str):
            wrong(stage)
            return WRONG
        opened = stage_truck(opened, stage)[0]
        found = flags(opened, worded=worded)
    else:
        found = all_flags(opened, flags(opened, worded=worded))
    if asked.json:
        print(as_json(as_data(opened, found)))
    else:
        for notice in opened.opened.notices:
            wrong(as_line(opened.opened.source.path, notice))
        wanted = {name: getattr(asked, name) for name in ("full", "figures", "clear", "waiting", "readings")}
        print("\n".join(page(opened, found, **wanted)))
    return faults_first.exit_code(opened, RAISED if any(flag.stands for flag in found) else FINE)


def page(
    opened: OpenProject,
    found: list[Flag],
    *,
    full: bool = True,
    figures: bool = False,
    clear: bool = False,
    waiting: bool = False,
    readings: bool = False,
) -> list[str]:
    """The report, line by line; with a line a flag, or each whole."""
    lines = [
        *faults_first.head(opened),
        *_head(opened, full),
        *(ink(line, "strong") for line in paragraph(summary(found))),
        "",
        *_not_worked_out(found),
    ]
    for flag in found if full else ():
        if flag.verdict.answer in STANDING and flag.under is None:
            lines += [*whole(flag, found), ""]
    if not full:
        below = [*next_lines(opened, found), *_more(opened, found)]
        raised = flag_rows(opened, found, LINES - len(lines) - len(below) - 2)
        lines += [*raised, *([""] if raised else []), *below]
    lines += _not_known(opened, found, waiting) if full or waiting else []
    if clear:
        lines += _clear(found)
    if figures:
        for heading, rows in figure_rows(opened):
            lines += [ink(heading, "strong"), *columns(rows), ""]
    lines += _mock_ups(opened) if full or readings else []
    lines += _readings(opened, readings) if full or readings else []
    lines.append("Local codes and licensed practice come first.")
    return lines


def _more(opened: OpenProject, found: list[Flag]) -> list[str]:
    """Where the rest is told."""
    rule = next((flag.rule.name for flag in found if flag.verdict.answer in STANDING), "")
    told = ["--full shows all of it"]
    told += ["--waiting what waits for what"] if any(flag.needs for flag in found) else []
    told += [f"planner why FILE {rule} one flag"] if rule else []
    return [ink(line, "faint") for line in paragraph(f"{', '.join(told)}; planner task FILE lists the work.")]


def _head(opened: OpenProject, full: bool) -> list[str]:
    project = opened.project
    name = clean(project.vehicle.name or "A truck without a name")
    lines = [ink(name, "strong")]
    for planned in opened.planned:
        fitment = project.fitments.get(planned)
        words = f": {clean(fitment.description)}" if fitment and fitment.description else ""
        kind = "planned" if project.plan.chosen else "as found" if planned == "found" else "candidate"
        name_of = "" if planned == "found" else f" {clean(planned)}"
        lines += paragraph(f"{kind}{name_of}{words}", 2)
        changed = changed_entries(opened, planned)
        for one in changed if full else ():
            lines += paragraph(f"{one.key}: {one.planned} by {one.by}; found: {one.found}", 4)
        for said in more_of_changes(opened, planned) if full else ():
            lines += paragraph(said, 4)
        by = dict.fromkeys(one.by for one in changed)
        lines += paragraph(f"with {', '.join(by)}", 4) if by and not full else []
        for said in [] if full else open_changes(opened, planned):
            lines += paragraph(said, 4)
    if opened.fault_at("plan", "chosen"):
        lines += paragraph("It isn't known which one is chosen, so each candidate is judged.", 2)
    elif not project.plan.chosen and len(opened.candidates) > 1:
        lines += paragraph("None is chosen yet, so each candidate is judged.", 2)
    for told in stage_lines(opened, judged_stages(opened, ())):
        lines += paragraph(told, 2)
    return [*lines, ""]


def summary(found: list[Flag]) -> str:
    """How many of each answer there are, in one line."""
    told = tally(found)
    pieces = [*tally_words(told), f"{told.clear} clear", *([f"{told.accepted} accepted"] if told.accepted else [])]
    return ", ".join(pieces) + following_words(told.following)


def _not_known(opened: OpenProject, found: list[Flag], waiting: bool) -> list[str]:
    """What is missing: what decides most, then all by the file's tables, or with `waiting` with the rules that wait."""
    from planner.plan.answers.measure_next import measure_next, waiting_at_odds  # reads the tasks, needed only here

    needed = measure_next(opened, found) if any(flag.needs for flag in found) else []
    lines = _at_odds(opened, waiting_at_odds(opened, found)) + _measure_next(opened, needed)
    if needed and waiting:
        rows = [(clean(opened.asked_for(one.key)), "for " + ", ".join(one.rules)) for one in needed]
        lines += [ink("Not known: enter", "strong"), *columns(rows), ""]
    elif needed:
        keys = sorted(one.key for one in needed if opened.truck_key_of(one.key) is None)  # a change's stand at the head
        lines += [ink("Not known yet", "strong"), *columns(by_table(keys), most=26), ""] if keys else []
        lines += _to_measure(opened, keys)
        lines += [*paragraph("--waiting shows what waits for each."), ""]
    return lines


def _not_worked_out(found: list[Flag]) -> list[str]:
    """Each reason for which rules cannot be judged, once, with the rules: told before all flags."""
    troubled: dict[str, dict[str, None]] = {}
    for flag in found:
        if flag.verdict.trouble:
            troubled.setdefault(flag.verdict.trouble, {})[flag.rule.name] = None
    lines: list[str] = []
    for why, rules in troubled.items():
        lines += [*paragraph(f"{clean(why)}.", 2), *paragraph(f"not judged: {', '.join(rules)}", 6)]
    return [ink("Can't be worked out", "strong"), *lines, ""] if lines else []


def _at_odds(opened: OpenProject, waiting: dict[tuple[str, ...], tuple[str, ...]]) -> list[str]:
    """What waits for entries that contradict each other: they were made, and one of them is wrong."""
    lines: list[str] = []
    for keys, rules in waiting.items():
        lines += paragraph(f"{', '.join(clean(opened.spoken(key)) for key in keys)}: for {', '.join(rules)}", 2)
    return [ink("Not known, because entries contradict each other", "strong"), *lines, ""] if lines else []


def _measure_next(opened: OpenProject, needed: "list[WantedEntry]") -> list[str]:
    """The entries that decide most, each with what it is, what waits for it, and the task that settles it."""
    alike = grouped(((one.means, one.waiting, one.title), one) for one in needed)  # front and rear, most often
    lines: list[str] = []
    for (means, waits, title), same in list(alike.items())[:MANY]:
        named = ", ".join(clean(opened.asked_for(one.key)) for one in same)
        lines += paragraph(f"{named}: {means or 'see below'}; {waits}", 2)
        lines += paragraph(f"{', '.join(dict.fromkeys(one.task for one in same))}: {title}", 6) if title else []
    return [ink("Measure or settle next, what decides most first", "strong"), *lines, ""] if lines else []


def _to_measure(opened: OpenProject, needed: list[str]) -> list[str]:
    """Obstacles that nobody measured, with how to measure each."""
    rows = [
        (clean(label), clean(one.measured.measure or f"enter {need.rpartition('.')[2]}"))
        for label, one in opened.obstacles.items()
        for need in needed
        if need.startswith(f"{one.key}.")
    ]
    return [ink("Obstacles to measure", "strong"), *columns(rows, most=26), ""] if rows else []


def by_table(needed: Iterable[str]) -> list[tuple[str, str]]:
    """The missing entries as rows: tables that miss the same stand together. Obstacles have a list of their own."""
    tables: dict[str, list[str]] = {}
    for need in needed:
        table, _, key = need.rpartition(".") if need not in UNMEASURED else ("", "", need)
        if not table.startswith("obstacles["):
            tables.setdefault(table or "[obstacles]", []).append(key)
    alike = grouped(((table.split(".")[-1], *keys), f"[{clean(table)}]") for table, keys in tables.items())
    return [(" and ".join(same), ", ".join(map(_entry, keys))) for (_, *keys), same in alike.items()]


def _entry(key: str) -> str:
    if key == "obstacles":
        return "what the tire could touch"
    if key in UNMEASURED:
        return UNMEASURED[key]
    return f"a ratio for each {key[1:-1]}" if key.startswith("<") else clean(key)


def _clear(found: list[Flag]) -> list[str]:
    rows = [(f"{f.rule.name} {f.where}", f.by or f.says) for f in found if f.verdict.answer == "clear"]
    return [ink("Clear", "strong"), *columns(rows), ""] if rows else []


def _mock_ups(opened: OpenProject) -> list[str]:
    """What was measured at the mock-up, beside what is predicted there."""
    if not opened.mock_ups:
        return []
    from planner.plan.answers.mock_up_words import mock_up_lines

    lines = [line for what, says in mock_up_lines(opened) for line in (*paragraph(what, 2), *paragraph(says, 6))]
    return [ink("Measured at the mock-up", "strong"), *lines, ""]


def _readings(opened: OpenProject, every: bool) -> list[str]:
    """What was read more than once, or on each side, and which counts; with `every`, all readings and what has none."""
    shown = [(key, one) for key, one in read_entries(opened) if every or len(one.readings) > 1 or one.sides]
    lines: list[str] = []
    for key, one in shown:
        lines += paragraph(f"{clean(opened.spoken(key))}: {provenance(opened, key)}: {taken_text(one)}", 2)
        if every:
            lines += [line for told in reading_lines(opened, key)[: len(one.readings)] for line in paragraph(told, 6)]
    if lines:
        lines = [ink("Readings" if every else "Read more than once, or on one side", "strong"), *lines, ""]
    bare = without_reading(opened) if every else []
    if bare:
        rows = columns(by_table(bare), most=26)
        lines += [ink(f"Entered without a reading: {len(bare)}", "strong"), *rows, ""]
    return lines


def as_data(opened: OpenProject, found: list[Flag]) -> dict[str, Any]:
    """The report as one object of plain data; values in SI."""
    from planner.plan.answers.measure_next import measure_next  # the page has these only where they are needed
    from planner.plan.answers.mock_up_words import mock_up_data

    return {
        "faults": faults_first.faults_data(opened.opened.faults),
        "project": opened.project.vehicle.name,
        "planned": list(opened.planned),
        "changed": {name: [one._asdict() for one in changed_entries(opened, name)] for name in opened.planned},
        "summary": summary(found),
        "flags": [flag_data(flag) for flag in found],
        "measure_next": [one._asdict() for one in measure_next(opened, found)],
        "stages": _stages_data(opened, found),
        "look_again": [again_data(one) for one in stale_records(opened)],
        "figures": [one.plain for one in figure_numbers(opened)],
        "readings": [entry_data(key, one) for key, one in read_entries(opened)],
        "mock_ups": mock_up_data(opened),
        "no_reading": without_reading(opened),
        "contradictions": {key: list(others) for key, others in opened.at_odds.items()},
        "notices": [as_line(opened.opened.source.path, notice) for notice in opened.opened.notices],
    }


def _stages_data(opened: OpenProject, found: list[Flag]) -> list[dict[str, Any]]:
    """The stages, each with the flags that the finished truck has not, as plain data."""
    return [
        {
            "name": one.stage.name,
            "front": one.stage.front,
            "rear": one.stage.rear,
            "spare": one.stage.spare,
            "driven": one.stage.driven,
            "judged": one.judged,
            "over": one.over,
            "fault": one.fault or None,
            "flags": [flag_data(flag) for flag in (*one.own, *one.not_known)],
        }
        for one in judged_stages(opened, found)
    ]


def again_data(one: StaleRecord) -> dict[str, Any]:
    """A record to look at again as plain data."""
    return {
        "record": one.record,
        "key": one.key,
        "name": one.name,
        "moved": [{"name": each.key or each.name, "then": each.then, "now": each.now} for each in one.moved],
    }


def flag_data(flag: Flag) -> dict[str, Any]:
    """One flag as plain data."""
    rule, verdict = flag.rule, flag.verdict
    data: dict[str, Any] = {
        "rule": rule.name,
        "severity": rule.severity,
        "danger": rule.danger or None,
        "as_found": flag.as_found or None,
        "follows_from": None if flag.under is None else {"rule": flag.under.rule.name, "where": flag.under.where},
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
    data.update({"better": [{"key": key, "within": to or None} for key, to in flag.better]} if flag.better else {})
    data.update({"between": list(flag.between)} if flag.between else {})
    if verdict.trouble:
        data["trouble"] = verdict.trouble
    if flag.acceptance is not None:
        data["accepted"] = {"because": flag.acceptance.because, "lapsed": flag.lapsed or None}
    return data


def finite(value: float) -> float | None:
    """JSON knows no infinity: a bound that is not known is null."""
    return value if abs(value) != float("inf") else None
