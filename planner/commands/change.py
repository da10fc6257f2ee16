"""`planner change FILE KEY=VALUE ...`: what a change touches, before you make it; `--apply` makes it."""

from argparse import Namespace
from collections.abc import Iterable, Sequence

from planner.commands.change_lines import ending, setting_lines
from planner.commands.flag_page import flag_lines
from planner.commands.page import as_json, columns, ink, paragraph
from planner.commands.recorded import on_newest, refuse_moved
from planner.commands.table import FINE, RAISED, WRONG, faults_told, project_parser, wrong
from planner.plan.answers.open_project import open_project
from planner.plan.change.changing import (
    Effects,
    Setting,
    TriedChange,
    make,
    try_settings,
    what_stands,
)
from planner.plan.change.effect_words import (
    answer,
    besides_records,
    money_and_time,
    move,
    name,
    summary,
    tolerance_lines,
)
from planner.plan.change.figure_changes import FigureChange
from planner.plan.change.flag_changes import FlagChange
from planner.plan.change.refused_over_stops import refuse_over_stops
from planner.plan.revisit.stale_records import StaleRecord, told_together
from planner.plan.truck.change_words import read_otherwise
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import RefusedChange
from planner.plan.truck.wording import count
from planner.project.diary import Committed
from planner.project.diary_words import kept_words
from planner.project.faults import Faulty, plain
from planner.project.models.project import FORMAT
from planner.project.saving import NotSaved
from planner.quantities.text import clean

EXAMPLE = """examples:
  planner change truck.toml "rear brake radius=7 1/8 in ± 1/16 in"
  planner change truck.toml "obstacle: rear spring pack=2 in, -7 in, 6 in"
  planner change truck.toml fitments.tall.wheel.backspace="4 1/2 in ± 1/16 in"
  planner change truck.toml parts.wheels.state=ordered parts.wheels.ordered=2026-12-01
  planner change truck.toml plan.chosen=modest --because "the 37s rub" --apply
  planner change truck.toml limits.poke_allowance=    takes an entry or a table away

An entry in a list goes by its number or its own name: parts[0].price, parts.wheels.price.
An entry that has readings keeps them: yours is one more, and counts if it agrees. If it
doesn't, all count; make the change again to say that yours is right.
planner keys FILE lists every key. A faulty file can be fixed this way too,
if the change clears all of its faults.

exit code: 0 no flag comes up, 1 one does, 2 the file or the command is wrong"""

WIDE = 38
MOST = 24  # figures listed without --all


def run(arguments: list[str]) -> int:
    parser = project_parser("planner change", __doc__, EXAMPLE)
    parser.add_argument("settings", nargs="+", metavar="KEY=VALUE", help="what to set; without a value, what to remove")
    parser.add_argument("--because", default="", metavar="WHY", help="the reason, kept in the diary")
    parser.add_argument("--apply", action="store_true", help="make the change, in the file and in its diary")
    parser.add_argument("--all", action="store_true", help="also list what changes within its tolerance")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_intermixed_args(arguments)
    try:
        settings = [_setting(one) for one in asked.settings]
        opened = open_project(asked.file)
        if opened.opened.faults:
            return _mend(asked, settings, opened)
        trial, done = _changed(opened, settings, asked)
        number = made_number(done, trial.comments_lost) if done else None
    except RefusedChange as refused:
        wrong(f"planner change: {refused}")
        return WRONG
    except Faulty as faulty:
        return faults_told(faulty)
    except NotSaved as trouble:
        wrong(f"planner change: {trouble}")
        return WRONG
    if asked.json:
        from planner.commands.change_data import as_data

        print(as_json(as_data(trial, number)))
    else:
        print("\n".join(page(trial, number, everything=asked.all)))
    return RAISED if trial.effects.up else FINE


def _changed(
    opened: OpenProject, settings: Sequence[Setting], asked: Namespace
) -> tuple[TriedChange, Committed | None]:
    """The change tried, and made where that is asked for, on the newest state of the file."""
    if not asked.apply:
        trial = try_settings(opened, settings, asked.because)
        refuse_over_stops(trial.before, trial.after)
        return trial, None
    seen: list[object] = []

    def made(now: OpenProject) -> tuple[TriedChange, Committed | None]:
        trial = try_settings(now, settings, asked.because)
        refuse_moved(seen, what_stands(now.opened, settings), " and ".join(plain(one.key) for one in settings))
        return trial, make(trial, asked.because) if trial.moved or trial.only_format else None

    return on_newest(opened, made)


def made_number(done: Committed, comments_lost: bool, command: str = "planner change") -> int:
    """The number of the change in the diary, once what there is to say of its writing is said."""
    for notice in _notices(done, comments_lost):
        wrong(f"{command}: {notice}")
    return done.entries[-1].number


def _mend(asked: Namespace, settings: Sequence[Setting], opened: OpenProject) -> int:
    """A faulty file, whose faults the settings may take away."""
    from planner.commands.mending_page import as_data, page
    from planner.plan.change.changing import mend, try_mending

    trial = try_mending(opened, settings, asked.because)
    refuse_over_stops(trial.before, trial.after)
    number = made_number(mend(trial, asked.because), trial.comments_lost) if asked.apply else None
    if asked.json:
        print(as_json(as_data(trial, number)))
    else:
        print("\n".join(page(trial, number)))
    return FINE


def _setting(written: str) -> Setting:
    """A key and its value; a sign of equality in quotes is part of the key."""
    quoted = False
    for at, mark in enumerate(written):
        quoted ^= mark == '"'
        if mark == "=" and not quoted:
            return Setting(written[:at].strip(), written[at + 1 :])
    raise RefusedChange(f"{plain(written)}: read no '='; accepted: KEY=VALUE, such as plan.chosen=tall")


def _notices(done: Committed, comments_lost: bool) -> Iterable[str]:
    if not done.written.durable:
        yield "written, but the system didn't confirm that the folder is on the disk"
    if done.written.kept is not None:
        yield kept_words(done.written.kept, done.format_moved, comments_lost)
    if done.set_aside is not None:
        yield f"the diary ended in half a line after a power cut; it was moved to {done.set_aside}"


def page(trial: TriedChange, number: int | None, *, everything: bool = False) -> list[str]:
    """What the change touches, line by line; `number` is its entry in the diary once it is made."""
    truck = clean(trial.after.project.vehicle.name or "A truck without a name")
    if trial.only_format:
        told = f"format {FORMAT}" if number is None else f"format {FORMAT}, and that is number {number} in the diary"
        lines = [ink(truck, "strong"), "", f"The file {'would be' if number is None else 'is'} brought to {told}."]
        return lines + [row for line in tolerance_lines(trial) for row in paragraph(line)]
    if not trial.moved:
        return [ink(truck, "strong"), "", "Nothing would change: the file already says that."]
    stands = "made" if number is not None else "tried, not made"
    lines = [ink(f"{truck}: {stands}", "strong"), ""]
    lines += setting_lines(trial.after, trial.moved, trial.begun)
    return lines + touched(trial, number, everything=everything)


def touched(trial: TriedChange, number: int | None, *, everything: bool = False) -> list[str]:
    """What a change brings with it, below what it sets."""
    found = trial.effects
    lines = [""] if trial.typed or trial.narrowed or trial.widening else []
    for line in tolerance_lines(trial):
        lines += paragraph(line)
    for said in read_otherwise(trial.after, (key for key, *_ in trial.moved)):
        lines += paragraph(said, 2)
    lines += ["", *paragraph(summary(found)), ""]
    lines += _flags(found, everything)
    lines += _figures(found.figures, everything)
    lines += _again("Look again", found.again)
    lines += _again("Sheets out of date", found.sheets)
    called = {part: part.title if part.id.startswith("parts[") else part.id for part in found.parts}
    rows = [(f"{called[part]} ({part.state})", "; ".join(part.why)) for part in found.parts]
    lines += [ink("Parts in question", "strong"), *columns(rows, most=30), ""] if rows else []
    rows = money_and_time(found)
    lines += [ink("Cost and time", "strong"), *columns(rows), ""] if rows else []
    lines += paragraph(ending(number))
    return [*lines, "Local codes and licensed practice come first."]


def _flags(found: Effects, everything: bool) -> list[str]:
    lines: list[str] = []
    up = besides_records(found.up)
    if up:
        lines += [ink("Comes up", "strong"), ""]
        for one in up:
            assert one.now is not None
            lines += [*flag_lines(one.now._replace(where=one.where)), ""]
    changed = [one for one in besides_records(found.changed) if one.beyond or everything]
    lines += _listed("Changes", changed)
    lines += _listed("Cleared", besides_records(found.cleared))
    return lines


def _listed(heading: str, moved: Sequence[FlagChange]) -> list[str]:
    lines: list[str] = []
    for one in moved:
        mark = f"{one.rule.severity.upper():<9}"
        lines += paragraph(one.notice, 0, mark)
        lines += paragraph(f"was {answer(one, now=False)}", 9)
        lines += paragraph(f"now {answer(one, now=True)}", 9)
        lines += [ink(line, "faint") for line in paragraph(one.rule.name, 9)]
    return [ink(heading, "strong"), *lines, ""] if lines else []


def _figures(figures: Sequence[FigureChange], everything: bool) -> list[str]:
    shown = [row for row in figures if row.beyond or everything]
    left = 0 if everything else max(0, len(shown) - MOST)
    lines: list[str] = []
    for row in shown[: len(shown) - left]:
        told = name(row)
        lines += columns([(f"{told:<{WIDE}}", move(row))]) if len(told) <= WIDE else paragraph(told, 2)
        lines += paragraph(move(row), WIDE + 4) if len(told) > WIDE else []
    lines = [ink("Figures, the biggest changes first", "strong"), *lines] if lines else []
    within = sum(1 + row.more for row in figures if not row.beyond)
    rest = [f"{count(left, 'more row', 'more rows')} like these"] if left else []
    rest += (
        [f"{count(within, 'figure changes', 'figures change')} within tolerance"] if within and not everything else []
    )
    lines += paragraph(f"({', and '.join(rest)}; --all lists everything)", 2) if rest else []
    return [*lines, ""] if lines else []


def _again(heading: str, records: Iterable[StaleRecord]) -> list[str]:
    """Records whose grounds moved, each with what moved."""
    lines: list[str] = []
    for news in told_together(records):
        lines += paragraph(news.title, 2)
        for said in news.told:
            lines += paragraph(said, 6)
    return [ink(heading, "strong"), *lines, ""] if lines else []
