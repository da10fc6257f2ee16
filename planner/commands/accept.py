"""`planner accept FILE`: what's raised that you can accept; accepts it with your reason, or takes that back."""

from argparse import Namespace
from collections.abc import Sequence

from planner.commands import faults_first
from planner.commands.page import as_json, ink, paragraph
from planner.commands.recorded import carried_out, written_down
from planner.commands.table import FINE, project_parser
from planner.plan.answers.flagging import Flag, flags
from planner.plan.answers.open_project import open_project
from planner.plan.revisit.acceptances import accept, take_back, why_not
from planner.plan.revisit.plan_flags import all_flags
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.project.faults import plain
from planner.project.models.work import Acceptance
from planner.quantities.text import clean, name_among

EXAMPLE = """example:
  planner accept truck.toml               what you can accept, and what is
  planner accept truck.toml speedometer.reads_low --because "a sticker says so"
  planner accept truck.toml gearing.shaft_torque_grown rear --because "new shafts"
  planner accept truck.toml speedometer.reads_low --take-back --because "geared"

A stop has to be fixed: you can't accept one. What you accept no longer counts as
raised. When what it rests on changes it lapses: accept it again, or don't.
exit code: 0 done, or listed; 2 the file or the command is wrong, and nothing is
written"""


def run(arguments: list[str]) -> int:
    parser = project_parser("planner accept", __doc__, EXAMPLE)
    parser.add_argument("flag", nargs="?", metavar="FLAG", help="the flag, by the name check gives it")
    parser.add_argument("at", nargs="?", default="", metavar="AT", help="where, if it's raised in several places")
    parser.add_argument("--because", default="", metavar="WHY", help="the reason")
    parser.add_argument("--by", default="", metavar="NAME", help="who accepts it")
    parser.add_argument("--take-back", action="store_true", help="take the acceptance back")
    parser.add_argument("--json", action="store_true", help="print JSON")
    asked = parser.parse_intermixed_args(arguments)
    return carried_out("planner accept", lambda: _answer(asked))


def _answer(asked: Namespace) -> int:
    opened = open_project(asked.file)
    found = all_flags(opened, flags(opened))
    if asked.flag is None:
        faults_first.tell_faults(opened)
        return faults_first.exit_code(opened, _listed(opened, found, asked.json))

    def record(now: OpenProject) -> Recording:
        return _recording(now, found if now is opened else all_flags(now, flags(now)), asked)

    return written_down(opened, record, asked.json)


def _recording(opened: OpenProject, found: Sequence[Flag], asked: Namespace) -> Recording:
    flag = _flag(opened, found, asked.flag, asked.at, asked.take_back)
    if not asked.take_back:
        return accept(opened, flag, asked.because, asked.by)
    if not asked.because:
        raise RefusedChange("give a reason to take an acceptance back", "reason")
    at = next(at for at, one in enumerate(opened.project.acceptances) if one is flag.acceptance)
    return take_back(opened, at, asked.because)


def _flag(opened: OpenProject, found: Sequence[Flag], name: str, at: str, accepted: bool) -> Flag:
    """The one flag that is meant; of several of one name those come first that the question is about."""
    named = [one for one in found if one.rule.name == name]
    if not named:
        there = ", ".join(dict.fromkeys(one.rule.name for one in found if not why_not(opened, one)))
        raise RefusedChange(f"nothing is called '{plain(name)}'; you can accept: {there or 'none'}")
    here = [one for one in named if not at or name_among((one.where, *one.where.split(" and ")), at)]
    if not here:
        raise RefusedChange(f"{plain(name)} isn't raised at '{plain(at)}'; it's raised at: {_places(named)}")
    meant = [one for one in here if (one.acceptance is not None if accepted else not why_not(opened, one))]
    if len(meant) == 1:
        return meant[0]
    if meant:
        raise RefusedChange(f"{plain(name)} is raised at {_places(meant)}: say which")
    raise RefusedChange(f"{plain(name)} is not accepted" if accepted else why_not(opened, here[0]))


def _places(found: Sequence[Flag]) -> str:
    return "; ".join(clean(one.where) or "the truck" for one in found)


def _listed(opened: OpenProject, found: Sequence[Flag], json: bool) -> int:
    open_ = [one for one in found if not why_not(opened, one)]
    taken = [one for one in found if one.acceptance is not None]
    names = {rule.name for rule in opened.sheet.catalog.rules.values()}
    gone = [one for one in opened.project.acceptances if one.flag not in names]
    if json:
        data = {"can be": list(map(_data, open_)), "is": list(map(_data, taken))}
        data |= {"of no flag": [{"flag": one.flag, "where": one.at, "because": one.because} for one in gone]}
        print(as_json(faults_first.with_faults(opened, data)))
        return FINE
    lines = faults_first.head(opened)
    for title, those in (("You can accept these, with a reason", open_), ("Accepted", taken)):
        if those:
            lines += [ink(title, "strong"), *(line for one in those for line in _row(one)), ""]
    if gone:
        lines += [ink("Accepted, but there's no flag of that name (anymore): see if one like it is raised", "strong")]
        lines += [line for one in gone for line in _gone(one)]
        lines.append("")
    print("\n".join(lines[:-1]) if lines else "Nothing raised can be accepted, and nothing is.")
    return FINE


def _gone(one: Acceptance) -> list[str]:
    where = f" ({clean(one.at)})" if one.at else ""
    return [
        *paragraph(f"{clean(one.flag or '')}{where}", 2),
        *paragraph(clean(f"{one.on or ''}: {one.because or ''}"), 6),
    ]


def _row(one: Flag) -> list[str]:
    where = f" ({clean(one.where)})" if one.where else ""
    lines = paragraph(f"{one.rule.name}{where}: {one.rule.notices}", 2)
    if one.acceptance is not None:
        because = f"{one.acceptance.on or ''}: {one.acceptance.because or ''}"
        lines += paragraph(clean(because) + (f"; lapsed: {clean(one.lapsed)}" if one.lapsed else ""), 6)
    return lines


def _data(one: Flag) -> dict[str, object]:
    taken = one.acceptance
    data: dict[str, object] = {"flag": one.rule.name, "where": one.where, "notices": one.rule.notices}
    return data if taken is None else {**data, "because": taken.because, "lapsed": one.lapsed or None}
