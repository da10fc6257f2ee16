"""The stages of the build in words: what is on when, what stands against driving it like that, and what to mind."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType

from planner.plan.answers.flagging import Flag
from planner.plan.answers.stages import JudgedStage, is_finished
from planner.plan.truck.project import OpenProject
from planner.project.change_checks import change_title
from planner.project.faults import as_key
from planner.project.staged_truck import StagedTruck, stage_fault, stages
from planner.quantities.text import clean, name_among

MOST_TOLD = 6
OF_STAGES = ("stage_not_to_be_driven", "stage_unlike_finished")  # the rules that speak of a stage


def what_is_on(opened: OpenProject, stage: StagedTruck) -> str:
    """`front found, rear tall, spare found, with longer stop screws`; what is decided and not yet done is named too."""
    changes = opened.project.changes
    on = {*stage.changes, *stage.undecided}
    not_on = [at for at, one in enumerate(changes) if one.state == "decided" and at not in on]
    told = [f"front {stage.front}, rear {stage.rear}, spare {stage.spare}"]
    for word, numbers in (("with", sorted(on)), ("without", not_on)):
        told += [f"{word} {', '.join(change_title(at, changes[at]) for at in numbers)}"] if numbers else []
    return clean(", ".join(told))


def how_it_stands(opened: OpenProject, one: JudgedStage) -> str:
    """Whether a stage is judged, and why not."""
    if one.fault:
        return f"not judged without {one.fault}"
    if one.over:
        return "over: new wheels are on where it has the old ones"
    if not one.stage.driven:
        return "not driven, so not judged for the road"
    return "driven: the finished truck" if is_finished(opened, one.stage) else "driven, judged as a truck of its own"


def stage_lines(opened: OpenProject, judged: Iterable[JudgedStage]) -> Iterator[str]:
    """A line for each stage."""
    for one in judged:
        entry = opened.project.plan.stages[one.stage.number]
        on = f" from {entry.on}" if entry.on is not None else ""
        note = f"; {clean(entry.note)}" if entry.note else ""
        name = clean(one.stage.name)
        called = name if name.lower().startswith("stage") else f"stage {name}"
        told = (
            how_it_stands(opened, one)
            if one.fault
            else f"{what_is_on(opened, one.stage)}; {how_it_stands(opened, one)}"
        )
        yield f"{called}{on}: {told}{note}"  # with a fault nobody knows what is on


def against_driving(one: JudgedStage) -> str:
    """What nobody may drive it with: changes that it counts on and nobody decided, and its stops; empty for nothing."""
    return "; ".join(_against(one, MOST_TOLD))


def _against(one: JudgedStage, most: int | None = None) -> list[str]:
    own = [flag for flag in one.own if flag.rule.severity == "stop"]
    others = [flag for flag in one.flags if flag.rule.severity == "stop" and flag.stands and flag not in own]
    also = ["the finished truck's stops that count here too"] if others else []
    return [*one.counts_on, *_each(own, most), *also]


def to_mind(opened: OpenProject, one: JudgedStage, late: Mapping[str, str] = MappingProxyType({})) -> str:
    """What stands there and not on the finished truck, but the stops; wheels that are neither found nor chosen too.

    `late` says, by its name, of a stage that cannot be ready by its day.
    """
    return "; ".join(_minded(opened, one, late, MOST_TOLD))


def all_to_mind(opened: OpenProject, one: JudgedStage) -> list[str]:
    """All that stands there and not on the finished truck, the worst first."""
    return [*_against(one), *_minded(opened, one, {})]


def _minded(opened: OpenProject, one: JudgedStage, late: Mapping[str, str], most: int | None = None) -> list[str]:
    chosen = opened.project.plan.chosen
    stage = one.stage
    strange = [on for on in dict.fromkeys((stage.front, stage.rear)) if chosen and on not in ("found", chosen)]
    told = [f"it has the wheels of '{clean(on)}', and '{clean(chosen or '')}' is chosen" for on in strange]
    told += [late[stage.name]] if stage.name in late else []
    return [*told, *_each([flag for flag in one.own if flag.rule.severity != "stop"], most)]


def _each(several: Sequence[Flag], most: int | None) -> list[str]:
    """Each flag by its place and what it notices, the worst first; as many as one can read."""
    told = dict.fromkeys(flag.told() for flag in several)
    more = 0 if most is None else len(told) - most
    return [*list(told)[:most], *([f"{more} more"] if more > 0 else [])]


def stage_named(opened: OpenProject, name: str) -> StagedTruck | str:
    """The stage that a person names; in words why there is none."""
    there = {one.name: one for one in stages(opened.project)}
    found = name_among(there, name)
    if found is None:
        named = ", ".join(map(clean, there)) or "none; the file has no [[plan.stages]] yet"
        return f"--stage: read '{clean(name)}'; accepted: {named}"
    lost = stage_fault(there[found], opened.opened.not_known)
    return there[found] if lost is None else f"--stage: first enter what's wrong with it again, {as_key(lost)}"


def wanted_for(one: JudgedStage) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The entries without which a stop cannot be judged at a stage: their keys, and as people read them."""
    lost = [flag for flag in one.flags if flag.rule.severity == "stop" and flag.verdict.answer == "not known"]
    needs = dict.fromkeys(need for flag in lost for need in flag.needs)
    wants = dict.fromkeys(want for flag in lost for want in flag.wants)
    troubles = dict.fromkeys(flag.verdict.trouble for flag in lost if flag.verdict.trouble)
    return tuple(needs), (*troubles, *wants)
