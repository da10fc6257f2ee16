"""Each stage of the build that is driven, judged as a truck of its own, and what of that the finished truck has not."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple
from weakref import WeakKeyDictionary

from planner.plan.answers.flagging import STANDING, Flag, flags
from planner.plan.answers.open_project import work_out
from planner.plan.truck.project import OpenProject
from planner.project.change_checks import change_title
from planner.project.faults import as_key
from planner.project.staged_truck import StagedTruck, as_one_fitment, stage_fault, stages
from planner.quantities.text import clean, normal_name
from planner.worksheet.outcome import Place
from planner.worksheet.sheet import Worksheet

OF_AN_ORDER = ("no_backspace_clears", "no_backspace_fits", "backspace_outside_window")  # of wheels to come, not on yet
ENDS = ("front", "rear")


class JudgedStage(NamedTuple):
    """One stage: `flags` are all of its truck, `own` those that stand there and not so on the finished truck.

    `counts_on` are changes that it has and nobody decided, in words.
    `not_known` are stops and dangers that the finished truck's entries settle, and the stage's do not. `fault` is the
    key of what was entered of the stage and is not known. With a fault, while it is not driven, and once it is `over`,
    it is not judged: there are no flags, and nothing is clear.
    """

    stage: StagedTruck
    flags: tuple[Flag, ...] = ()
    own: tuple[Flag, ...] = ()
    not_known: tuple[Flag, ...] = ()
    counts_on: tuple[str, ...] = ()
    fault: str = ""
    over: bool = False
    truck: OpenProject | None = None

    @property
    def judged(self) -> bool:
        return self.truck is not None


_KEPT: WeakKeyDictionary[Worksheet, dict[StagedTruck, tuple[OpenProject, list[Flag]]]] = WeakKeyDictionary()


def judged_stages(opened: OpenProject, found: Sequence[Flag]) -> list[JudgedStage]:
    """Every stage in order; `found` are the flags of the finished truck."""
    finished = {(flag.rule.name, ("", *place[1:])): flag for flag in found for place in flag.places}
    return [_judged(opened, stage, finished) for stage in stages(opened.project)]


def _judged(opened: OpenProject, stage: StagedTruck, finished: Mapping[tuple[str, Place], Flag]) -> JudgedStage:
    """A stage; `finished` are the finished truck's flags by rule and place but for the fitment."""
    lost = stage_fault(stage, opened.opened.not_known)
    over = is_over(opened, stage)
    if lost is not None or over or not stage.driven:
        return JudgedStage(stage, fault="" if lost is None else opened.asked_for(as_key(lost)), over=over)
    truck, told = stage_truck(opened, stage)
    own = [flag for flag in told if _counts(flag) and not _as_well(flag, finished)]
    return JudgedStage(
        stage,
        tuple(told),
        tuple(flag for flag in own if flag.verdict.answer in STANDING),
        tuple(flag for flag in own if flag.verdict.answer == "not known"),
        tuple(_counts_on(opened, at) for at in stage.undecided),
        truck=truck,
    )


def _counts_on(opened: OpenProject, at: int) -> str:
    change = opened.project.changes[at]
    return f"it counts on '{clean(change_title(at, change))}', which is {change.state}"


def stage_truck(opened: OpenProject, stage: StagedTruck) -> tuple[OpenProject, list[Flag]]:
    """The project with its truck as it stands at a stage, as if that were all that is planned; made once, and kept."""
    kept = _KEPT.setdefault(opened.sheet, {})
    if stage not in kept:
        project = as_one_fitment(opened.project, stage)
        truck = work_out(opened.opened._replace(project=project), opened.today, stage=stage)
        kept[stage] = truck, [flag for flag in flags(truck) if flag.rule.node not in OF_AN_ORDER]
    return kept[stage]


def is_over(opened: OpenProject, stage: StagedTruck) -> bool:
    """Whether the truck has gone past a stage: where that has the wheels as found, new ones are fitted."""
    done = {normal_name(task.id or "") for task in opened.project.tasks if task.state == "done"}
    on = {"front": stage.front, "rear": stage.rear}
    return any(on[end] == "found" and f"fit.wheels.{end}" in done for end in ENDS)


def is_finished(opened: OpenProject, stage: StagedTruck) -> bool:
    """Whether a stage is the finished truck itself, or one of those that it may become while none is chosen."""
    whole = stage.front == stage.rear == stage.spare and stage.front in opened.planned
    return whole and set(stage.changes) == {*opened.changes_of(stage.front)} and not stage.undecided


def _counts(flag: Flag) -> bool:
    """Whether it is of how the truck drives: not of a wish."""
    return flag.rule.severity == "stop" or bool(flag.rule.danger)


def _as_well(flag: Flag, finished: Mapping[tuple[str, Place], Flag]) -> bool:
    """Whether the finished truck answers the same, everywhere that the flag speaks of."""
    others = [finished.get((flag.rule.name, ("", *place[1:]))) for place in flag.places]
    return all(
        other is not None
        and other.verdict.answer == flag.verdict.answer
        and (not other.accepted or flag.accepted or other.says == flag.says)
        for other in others
    )
