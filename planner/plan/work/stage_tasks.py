"""The hold point before each stage that is driven: what it waits on, what guards it, what to mind on the road."""

from collections.abc import Iterator, Mapping, Sequence

from planner.plan.answers.flagging import Flag
from planner.plan.answers.stage_words import against_driving, to_mind, what_is_on
from planner.plan.answers.stages import ENDS, is_finished, judged_stages
from planner.plan.truck.project import OpenProject
from planner.plan.work.dependencies import READY_TO_ROLL, all_before, stage_ids
from planner.plan.work.item import Item
from planner.project.staged_truck import StagedTruck
from planner.quantities.text import clean
from planner.tasks.kind import PHASES

BEFORE_THE_ROAD = ("fit", "adjust", "check")
CHECK = PHASES.index("check")  # what a change asks for after that is done on the road
HOW = (
    "On the truck then: {on}. Walk around it as before the first drive: every nut at its torque and marked, brakes "
    "bled and adjusted, pedal high and hard, lock to lock, hoses, headlights, the pressure of each tire for what it "
    "carries, and what the speedometer shows now. The first miles at a walk, in a yard."
)
CAUTION = "This is neither the old truck nor the finished one, and nobody has driven it yet: tell whoever drives. "


def stage_items(opened: OpenProject, items: Mapping[str, Item], found: Sequence[Flag]) -> Iterator[Item]:
    """A hold point for each stage that is driven and is not the finished truck, which has its own."""
    if not opened.project.plan.stages:
        return
    for id_, one in zip(stage_ids(opened), judged_stages(opened, found), strict=True):
        if not one.judged or is_finished(opened, one.stage):
            continue
        minded = "; ".join(told for told in (against_driving(one), to_mind(opened, one)) if told)
        yield Item(
            id_,
            f"Before you drive stage '{clean(one.stage.name)}': look it over, then sign",
            "check",
            "stage",
            HOW.format(on=what_is_on(opened, one.stage)),
            CAUTION + (f"Watch out for this, now and not on the finished truck: {minded}." if minded else ""),
            1.0,
            tuple(_after(one.stage, items)),
            hold=True,
            stage=one,
            short=f"Look it over, sign stage '{clean(one.stage.name)}'",
        )


def _after(stage: StagedTruck, items: Mapping[str, Item]) -> Iterator[str]:
    """What belongs to the wheels that are on then, and to no others, and the changes that it has."""
    on = {"front": stage.front, "rear": stage.rear}
    new = {f"fit.wheels.{end}" for end in ENDS if on[end] != "found"}
    yet = {f"fit.wheels.{end}" for end in ENDS if on[end] == "found"}
    for id_, one in items.items():
        if one.change is not None and one.change in stage.changes and PHASES.index(one.phase) <= CHECK:
            yield id_
        if one.origin != "standing" or one.phase not in BEFORE_THE_ROAD or one.hold or id_ == READY_TO_ROLL:
            continue
        behind = {id_, *all_before(id_, items)}
        if not behind & yet and (behind & new or f"fit.wheels.{one.axle}" in new):
            yield id_
