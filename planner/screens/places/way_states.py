"""How every place on the way through the build stands: read off the state, with nothing worked out for it."""

from collections import Counter
from collections.abc import Iterable, Sequence

from planner.plan.answers.flagging import FOUND, Flag
from planner.plan.state import State
from planner.plan.work.parts import THERE
from planner.plan.work.task_values import is_outside
from planner.project.written_keys import split_key
from planner.screens.places.table import MEASURED, PLACES
from planner.screens.widgets.way import OPEN, RAISED, SETTLED, UNTOUCHED, PlaceState

ENTERED_AT = {
    "vehicle": "vehicle", "use": "vehicle", "legal": "vehicle", "drivetrain": "axles", "obstacles": "measurements",
    "readings": "measurements", "limits": "limits", "assumptions": "limits", "changes": "changes",
    "tire": "tires", "wheel": "wheel", "pair": "wheel", "axle_ratio": "gearing", "wishes": "look", "outline": "look",
    "offered": "wishes", "buyer": "others", "which_counts": "others", "tasks": "others",
}  # fmt: skip
TABLES = {"limits": ("limits", "assumptions"), "wishes": ("wishes", "offered"), "others": ("buyer", "which_counts")}
WIDEST_APART = 99  # a longer count has no room for a gap behind it
OF_TASKS = ("plan.signature_lapsed", "plan.finished_task_rests_on_changed", "plan.inspection_overdue")
OF_SHEETS = ("plan.printed_sheet_out_of_date",)
OF_CHANGES = ("plan.change_came_out_otherwise",)


def place_states(state: State) -> dict[str, PlaceState]:
    """The state of each place by its name; one that has none has no sign."""
    missing = Counter(entered_at(one.key) for one in state.wanted)
    missing["measurements"] = sum(one.is_measured for one in state.wanted)  # as many as it lists
    made = {
        one.name: stands(_about(state.flags, one.subjects), missing[one.name]) for one in PLACES if one.subjects
    } | {"ask": PlaceState(OPEN) if state.wanted else SETTLED, "overview": stands(state.flags, 0)}
    project = state.opened.project
    for name, tables in TABLES.items():
        begun = any(state.opened.opened.data.get(table) for table in tables)
        made[name] = stands((), missing[name], begun)
    made["changes"] = stands(_named(state.flags, OF_CHANGES), missing["changes"], begun=bool(project.changes))
    made["proposals"] = UNTOUCHED  # what was tried is kept nowhere
    candidates = len([name for name in project.fitments if name != FOUND])
    made["candidates"] = PlaceState(str(candidates)) if candidates else UNTOUCHED
    made["tasks"] = PlaceState(OPEN)  # where they cannot be put in order
    if state.work is not None:
        counted = [one for one in state.work.items.values() if one.state != "dropped"]
        done = sum(one.state == "done" for one in counted)
        outside = any(is_outside(state.opened, one) for one in counted)
        made["tasks"] = _counted(f"{done}/{len(counted)}", _named(state.flags, OF_TASKS), outside)
    parts = [one for one in project.parts if one.state != "returned"]
    if parts:
        there = sum(one.state in THERE for one in parts)
        made["parts"] = _counted(f"{there}/{len(parts)}", _about(state.flags, ("plan",)))
    elif not project.decisions:
        made["parts"] = UNTOUCHED
    old = [flag for flag in _named(state.flags, OF_SHEETS) if flag.counts]
    made["sheets"] = PlaceState(f"{len(old)}{RAISED}", "warning") if old else stands((), 0, begun=bool(project.sheets))
    made["diary"] = PlaceState(str(state.kept)) if state.kept else UNTOUCHED
    return made


def entered_at(key: str) -> str:
    """The place at which an entry is made; empty for one that stands in no form."""
    names = split_key(key) or ()
    if names[:1] == ("axles",):
        return "measurements" if names[2:3] and names[2] in MEASURED else "axles"
    if names[:1] == ("fitments",):
        names = names[3:] if names[2:3] and names[2] in ("front", "rear") else names[2:]
    return ENTERED_AT.get(str(names[0]), "") if names else ""


def stands(flags: Iterable[Flag], missing: int, begun: bool = True) -> PlaceState:
    """What is missing and whether anything is raised, else whether anything is open; notes leave nothing to be done."""
    heads = [flag for flag in flags if flag.under is None and flag.rule.severity != "note"]
    grave = [flag for flag in heads if _is_grave(flag)]
    tone = "error" if any(flag.rule.severity == "stop" for flag in grave) else "warning" if grave else ""
    signs = [f"{missing}{OPEN}"] * bool(missing) + [RAISED] * bool(grave)
    if signs:
        return PlaceState(("" if missing > WIDEST_APART else " ").join(signs), tone)
    answers = {flag.verdict.answer for flag in heads}
    if not begun or answers == {"not known"}:
        return UNTOUCHED
    return PlaceState(OPEN) if answers & {"not known", "too close to call"} else SETTLED


def _is_grave(flag: Flag) -> bool:
    """Whether it stands against the plan, or may be a stop."""
    return flag.counts or (flag.verdict.answer == "too close to call" and flag.rule.severity == "stop")


def _counted(count: str, flags: Iterable[Flag], other: bool = False) -> PlaceState:
    """A count, and a sign behind it where anything is raised, or something `other` is."""
    raised = stands(flags, 0)
    if raised.text != RAISED and not other:
        return PlaceState(count)
    return PlaceState(f"{count} {RAISED}", raised.tone if raised.text == RAISED else "warning")


def _about(flags: Iterable[Flag], subjects: Sequence[str]) -> list[Flag]:
    return [flag for flag in flags if flag.rule.name.partition(".")[0] in subjects]


def _named(flags: Iterable[Flag], rules: Sequence[str]) -> list[Flag]:
    return [flag for flag in flags if flag.rule.name in rules]
