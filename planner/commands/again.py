"""`planner again FILE`: what to look at again since something changed; decides again, accepts a caution again."""

from argparse import Namespace

from planner.commands import faults_first
from planner.commands.page import as_json, ink, paragraph
from planner.commands.recorded import carried_out, refuse_moved, written_down
from planner.commands.table import FINE, RAISED, project_parser
from planner.plan.answers.open_project import open_project
from planner.plan.revisit.stale_records import StaleRecord, stale_records, told_together
from planner.plan.truck.project import OpenProject
from planner.plan.truck.recording import Recording, RefusedChange
from planner.project.faults import plain
from planner.quantities.text import clean, name_among

EXAMPLE = """example:
  planner again truck.toml                what to look at again, and what changed
  planner again truck.toml "which rim?" --because "9 in still, measured twice"
  planner again truck.toml "decisions[0]" "regear to 5.86" --because "it is slow"
  planner again truck.toml "acceptances[1]" --because "play checked, it holds"
  planner again truck.toml "readings[7]" --because "same wheel, tape was off"

A decision and an acceptance go by their key or their own name, a mock-up reading by
its key. Each stays in its place, and rests on things as they are now. A ticked task is
looked at again with planner task; a sheet is printed again with planner print.
exit code: 0 done, or nothing to look at again; 1 something is; 2 the file or
the command is wrong, and nothing is written"""
HOW = {
    "decision": 'planner again FILE "{key}" --because "why"',
    "acceptance": 'planner again FILE "{key}" --because "why"',
    "task": "planner task FILE tick {id}",
    "reading": 'planner again FILE "{key}" --because "why it stands", or measure it again',
    "sheet": "planner print FILE: print it again, or a slip",
}

_ONLY = {"acceptance": "a caution is accepted", "reading": "a mock-up reading stands"}


def run(arguments: list[str]) -> int:
    parser = project_parser("planner again", __doc__, EXAMPLE)
    parser.add_argument("record", nargs="?", metavar="RECORD", help="a decision, acceptance or mock-up reading")
    parser.add_argument("chosen", nargs="?", metavar="CHOSEN", help="what you choose now; left out, the same as before")
    parser.add_argument("--because", default="", metavar="WHY", help="the reason, as things are now")
    parser.add_argument("--json", action="store_true", help="print JSON")
    asked = parser.parse_intermixed_args(arguments)
    return carried_out("planner again", lambda: _answer(asked))


def _answer(asked: Namespace) -> int:
    opened = open_project(asked.file)
    if asked.record is None:
        faults_first.tell_faults(opened)
        return faults_first.exit_code(opened, _listed(opened, stale_records(opened), asked.json))
    seen: list[object] = []
    return written_down(opened, lambda now: _recording(now, asked, seen), asked.json)


def _recording(opened: OpenProject, asked: Namespace, seen: list[object]) -> Recording:
    what, at = _found(opened, asked.record)
    refuse_moved(seen, opened.opened.data[f"{what}s"][at], plain(asked.record))
    if what == "decision":
        from planner.plan.work.decisions import decide_again

        return decide_again(opened, at, asked.chosen or "", asked.because)
    if asked.chosen is not None:
        raise RefusedChange(f"{_ONLY[what]} with a reason and nothing else", "reason")
    if what == "reading":
        from planner.plan.change.mock_up_recordings import reading_stands

        return reading_stands(opened, at, asked.because)
    from planner.plan.answers.flagging import flags
    from planner.plan.revisit.acceptances import accept_again
    from planner.plan.revisit.plan_flags import all_flags

    return accept_again(opened, all_flags(opened, flags(opened)), at, asked.because)


def _found(opened: OpenProject, written: str) -> tuple[str, int]:
    """The decision, acceptance or mock-up reading that a key or a name stands for, and its place in the file's list."""
    project, wanted = opened.project, clean(written)
    there = [("decision", at, f"decisions[{at}]", one.question or "") for at, one in enumerate(project.decisions)]
    there += [("reading", at, f"readings[{at}]", "") for at, one in enumerate(project.readings) if one.fitment]
    there += [("acceptance", at, f"acceptances[{at}]", one.flag or "") for at, one in enumerate(project.acceptances)]
    named = [one for one in there if name_among((one[2], clean(one[3])), wanted)]
    if len(named) == 1:
        return named[0][:2]
    if named:
        raise RefusedChange(f"'{plain(written)}' is {' and '.join(key for _, _, key, _ in named)}: say which")
    known = ", ".join(f"{key} ({plain(name)})" if name else key for _, _, key, name in there)
    raise RefusedChange(
        f"there's no decision, acceptance or reading '{plain(written)}'; there are: {known or 'none yet'}"
    )


def _listed(opened: OpenProject, found: list[StaleRecord], json: bool) -> int:
    if json:
        from planner.commands.check import again_data

        print(as_json(faults_first.with_faults(opened, [again_data(one) for one in found])))
        return RAISED if found else FINE
    if not found and not opened.opened.faults:
        print("Nothing you decided, accepted, ticked, printed or mocked up needs another look.")
        return FINE
    lines = faults_first.head(opened)
    for news in told_together(found):
        lines += [ink(line, "strong") for line in paragraph(news.title, 0)]
        hows = dict.fromkeys(HOW[one.record].format(key=one.key, id=_task_id(opened, one)) for one in news.records)
        if len(hows) > 1 and news.records[0].record == "task":
            hows = {HOW["task"].format(id="ID"): None}
        for said in (*news.told, *hows):
            lines += paragraph(said, 2)
        lines.append("")
    print("\n".join(lines[:-1]))
    return RAISED if found else FINE


def _task_id(opened: OpenProject, one: StaleRecord) -> str:
    """What a ticked task goes by; of its own where it has an id."""
    return clean(opened.project.tasks[one.at].id or one.name) if one.record == "task" else ""
