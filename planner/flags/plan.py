"""What is wrong with the plan itself: records that rest on something since changed, parts not ordered, money gone.

Their inputs are made by the program from the records in the project file, one set for each record.
"""

from datetime import date
from typing import Annotated

from planner.quantities.kinds import CHANGE, DURATION, Multiple, Text
from planner.sources.citing import practice
from planner.sources.reasoning import ENTERED
from planner.worksheet.declare import Finding, rule

_DIARY = practice("a record holds as long as what it rested on; the diary says what changed, and why")
_DAY = 86400.0


@rule(
    severity="stop",
    notices="a signature no longer counts: there's a stop",
    says="The signature on '{signed_task}' no longer counts, because of: {standing_stops}.",
    clear_says="The signature on '{signed_task}' counts: none of the stops it guards against is raised.",
    cure="Don't go on: don't order anything that the stop would make wrong, don't mount anything, don't drive. Fix "
    "the stop, or correct the measurement behind it, then look again and sign again.",
    ground=_DIARY,
    holds={"signed_task": "decide.sign", "standing_stops": ""},
    fails={"signed_task": "decide.sign", "standing_stops": "rear: wheel and hub have different bolt circles"},
    only_with=("signed_task",),
)
def signature_lapsed(signed_task: Text, standing_stops: Text = "") -> bool:
    """Whether nothing stands against what was signed."""
    return bool(signed_task) and not standing_stops


@rule(
    severity="caution",
    notices="a change to the truck didn't come out as planned",
    says="The change '{made_change}' was measured after it was done: {measured_apart}.",
    clear_says="The change '{made_change}' was measured after it was done, and came out as planned.",
    cure="Every figure uses what you measured. Do it over if it has to be as planned, or see what's raised now and "
    "plan with it as it is.",
    ground=ENTERED,
    holds={"made_change": "longer stop screws", "measured_apart": ""},
    fails={"made_change": "longer stop screws", "measured_apart": "the front stop angle is 29 deg, planned 26 deg"},
    only_with=("made_change",),
)
def change_came_out_otherwise(made_change: Text, measured_apart: Text = "") -> bool:
    """Whether all that it set was measured as planned, within the wider tolerance of the two."""
    return bool(made_change) and not measured_apart


@rule(
    severity="caution",
    notices="a decision rests on something that has changed since",
    says="When you decided '{decision}' the values were different: {moved_since}.",
    clear_says="The values behind your decision on '{decision}' haven't changed.",
    cure="Decide again with the values as they are now: keep your choice and say why it still holds, or choose "
    "something else. Then enter the decision with what it rests on now.",
    ground=_DIARY,
    holds={"decision": "which backspace?", "moved_since": ""},
    fails={"decision": "which backspace?", "moved_since": "tall set's wheel backspace was 5 in, now 4 3/4 in"},
    only_with=("decision",),
)
def decision_rests_on_changed(decision: Text, moved_since: Text = "") -> bool:
    """Whether nothing moved that the decision rested on."""
    return bool(decision) and not moved_since


@rule(
    severity="caution",
    notices="a finished task rests on something that has changed since",
    says="When '{finished_task}' was ticked the values were different: {moved_since}.",
    clear_says="The values behind '{finished_task}' haven't changed since it was ticked.",
    cure="Look at the work again. If it still holds, tick it again; if it doesn't, reopen it and do it over. Until "
    "then don't start what comes after it.",
    ground=_DIARY,
    holds={"finished_task": "decide.wheel", "moved_since": ""},
    fails={"finished_task": "decide.wheel", "moved_since": "tall set's wheel backspace was 5 in, now 4 3/4 in"},
    only_with=("finished_task",),
)
def finished_task_rests_on_changed(finished_task: Text, moved_since: Text = "") -> bool:
    """Whether nothing moved that the tick rested on."""
    return bool(finished_task) and not moved_since


@rule(
    severity="caution",
    notices="a part was ordered by values that have changed since",
    says="When '{ordered_part}' was ordered the values were different: {moved_since}.",
    clear_says="The values '{ordered_part}' was ordered by haven't changed.",
    cure="Don't mount, drill or paint anything yet. Check the order, or what came, against the plan as it is now: you "
    "may have to change it before the maker starts, or send it back while you still can.",
    ground=_DIARY,
    holds={"ordered_part": "wheels", "moved_since": ""},
    fails={"ordered_part": "wheels", "moved_since": "tall set's wheel backspace was 5 in, now 4 3/4 in"},
    only_with=("ordered_part",),
)
def ordered_part_rests_on_changed(ordered_part: Text, moved_since: Text = "") -> bool:
    """Whether nothing moved that the order rested on."""
    return bool(ordered_part) and not moved_since


@rule(
    severity="caution",
    notices="a printed sheet is out of date",
    says="Since '{printed_sheet}' was printed something on it has changed: {moved_since}.",
    clear_says="Nothing on '{printed_sheet}' has changed.",
    cure="Take it off the wall, or pin a change slip over it. If it's a wheel order, call the maker and stop it.",
    ground=_DIARY,
    holds={"printed_sheet": "sheet 3 (order)", "moved_since": ""},
    fails={"printed_sheet": "sheet 3 (order)", "moved_since": "tall set's wheel backspace was 5 in, now 4 3/4 in"},
    only_with=("printed_sheet",),
)
def printed_sheet_out_of_date(printed_sheet: Text, moved_since: Text = "") -> bool:
    """Whether nothing moved that the sheet shows."""
    return bool(printed_sheet) and not moved_since


@rule(
    severity="stop",
    danger="steering or brakes",
    notices="a wheel that came won't do where it's supposed to go",
    says="Wheel '{came_wheel}' isn't as planned, and where it's supposed to go it raises: {stands_against}.",
    clear_says="As measured, wheel '{came_wheel}' raises no stop where it's supposed to go that the plan doesn't "
    "raise too.",
    cure="Don't mount it there. {would_do_at}. Measure it again, at the wheel and not at the tire, before you send it "
    "back; a maker takes back what was never mounted.",
    ground=practice("go by what the wheel measures, not by what was ordered"),
    holds={"came_wheel": "W3", "stands_against": "", "would_do_at": ""},
    fails={
        "came_wheel": "W3",
        "stands_against": "rear: the tire comes too close to the spring",
        "would_do_at": "It would fit the front",
    },
    only_with=("came_wheel",),
)
def received_wheel_will_not_do(came_wheel: Text, stands_against: Text = "", would_do_at: Text = "") -> Finding:
    """Whether nothing stands against it by its own readings that does not stand against the plan."""
    return Finding(bool(came_wheel) and not stands_against, {"would_do_at": would_do_at})


@rule(
    severity="caution",
    notices="a wheel that came isn't what you ordered",
    says="Wheel '{came_wheel}' is outside the order's tolerance, or too close to call: {outside_order}.",
    clear_says="What you measured on wheel '{came_wheel}' is within the order's tolerance.",
    cure="Measure it again, another way or by somebody else. Tell its maker before you paint or mount it: shops "
    "rarely take mounted wheels back. The parts page says which axle it would still fit.",
    ground=practice("a wheel outside the order's tolerance goes back, or you write down why you keep it"),
    holds={"came_wheel": "W3", "outside_order": ""},
    fails={"came_wheel": "W3", "outside_order": "backspace read 4 11/16 in, ordered 4 3/4 in ± 1/32 in"},
    only_with=("came_wheel",),
)
def received_wheel_outside_order(came_wheel: Text, outside_order: Text = "") -> bool:
    """Whether everything that was measured of it lies within what was ordered."""
    return bool(came_wheel) and not outside_order


@rule(
    severity="caution",
    notices="a part should have been ordered by now",
    says="By the schedule you had to order '{wanted_part}' by {order_by}; it isn't ordered.",
    clear_says="By the schedule you have until {order_by} to order '{wanted_part}'.",
    cure="Order it once its task is open: don't skip a hold point to make a date. Or move the start, or your hours a "
    "week: the schedule shows what that does to the end.",
    ground=ENTERED,
    holds={"wanted_part": "wheels", "order_by": "2026-08-14", "today": "2026-08-14"},
    fails={"wanted_part": "wheels", "order_by": "2026-08-14", "today": "2026-08-15"},
    only_with=("wanted_part", "order_by"),
    beyond="late by",
)
def order_by_date_passed(wanted_part: Text, order_by: Text, today: Text) -> Annotated[Finding, DURATION]:
    """Margin in s, whole days; the dates as 2026-08-14."""
    days = (date.fromisoformat(order_by) - date.fromisoformat(today)).days
    return Finding(days * _DAY, {"wanted_part": wanted_part})


@rule(
    severity="note",
    notices="a part is late",
    says="Part '{ordered_part}' was due {agreed_day}; it's expected {expected_day} at the earliest. So {what_slips}.",
    clear_says="Part '{ordered_part}' is expected {expected_day}, no later than it was due.",
    cure="Call the seller and enter the new date: the dates of everything that waits for it follow. Do what you can "
    "meanwhile. Don't drive on anything half finished to make a date.",
    ground=ENTERED,
    holds={"ordered_part": "bearings", "agreed_day": "2026-12-14", "expected_day": "2026-12-14"},
    fails={
        "ordered_part": "bearings",
        "agreed_day": "2026-12-14",
        "expected_day": "2026-12-15",
        "what_slips": "fit.bearings.front starts 2026-12-15, not 2026-12-14",
    },
    only_with=("ordered_part", "agreed_day"),
    beyond="late by",
)
def part_comes_late(
    ordered_part: Text, agreed_day: Text, expected_day: Text, what_slips: Text = ""
) -> Annotated[Finding, DURATION]:
    """Margin in s, whole days; the days as 2026-08-14."""
    days = (date.fromisoformat(agreed_day) - date.fromisoformat(expected_day)).days
    return Finding(days * _DAY, {"ordered_part": ordered_part, "what_slips": what_slips})


@rule(
    severity="note",
    notices="work is waiting for a part that isn't ordered",
    says="Task '{waiting_task}' waits only for '{wanted_part}', and it isn't ordered.",
    clear_says="Task '{waiting_task}' isn't waiting for any part that still has to be ordered.",
    cure="Order it, or do something else meanwhile: the task list says what you can do.",
    ground=ENTERED,
    holds={"waiting_task": "fit.bearings.front"},
    fails={"waiting_task": "fit.bearings.front", "wanted_part": "bearings"},
    only_with=("waiting_task",),
)
def work_waits_for_part_not_ordered(waiting_task: Text, wanted_part: Text = "") -> bool:
    """Whether no part that is still to be ordered holds the task."""
    return bool(waiting_task) and not wanted_part


@rule(
    severity="caution",
    notices="the parts cost more than the budget",
    says="What you've bought and still need comes to {plan_cost}; the budget is {plan_budget}.",
    clear_says="What you've bought and still need comes to {plan_cost}, within the budget of {plan_budget}.",
    cure="Leave something out, find it cheaper, or raise the budget. Don't save on brakes, steering, studs and nuts.",
    ground=ENTERED,
    holds={"plan_cost": "6499", "plan_budget": "6500"},
    fails={"plan_cost": "6501", "plan_budget": "6500"},
    only_with=("plan_cost", "plan_budget"),
    beyond="over by",
)
def cost_past_budget(plan_cost: Multiple, plan_budget: Multiple) -> Annotated[Finding, CHANGE]:
    """Margin as a share of the budget; both in the project's own currency."""
    if plan_budget == 0:
        return Finding(0.0 if plan_cost == 0 else -1.0)
    return Finding((plan_budget - plan_cost) / plan_budget)


@rule(
    severity="stop",
    danger="control",
    notices="a stage of the build isn't fit to drive",
    says="Stage '{driven_stage}' ({stage_is}), judged as a truck of its own: {stage_stops}.",
    clear_says="Stage '{driven_stage}' ({stage_is}), judged as a truck of its own, has no stop.",
    cure="Don't drive it like this. Put the rest on first, or leave it on stands or move it on a trailer, and say "
    "that you don't drive this stage. Or fix each of them: checked alone, the stage says how.",
    ground=practice("half old and half new is its own truck, and nobody has driven it before"),
    holds={"driven_stage": "rear first", "stage_is": "front found, rear tall", "stage_stops": ""},
    fails={
        "driven_stage": "rear first",
        "stage_is": "front found, rear tall",
        "stage_stops": "rear: the spare would put radial and bias tires on one axle",
    },
    only_with=("driven_stage",),
)
def stage_not_to_be_driven(driven_stage: Text, stage_is: Text, stage_stops: Text = "") -> bool:
    """Whether nothing stands against driving the truck as it is at a stage."""
    return bool(driven_stage) and not stage_stops


@rule(
    severity="caution",
    danger="control",
    notices="a stage of the build drives differently from the finished truck",
    says="Stage '{driven_stage}' ({stage_is}), and not the finished truck: {stage_cautions}.",
    clear_says="Stage '{driven_stage}' ({stage_is}) has no caution that the finished truck doesn't have.",
    cure="Tell whoever drives it about each of these first. Keep the stage short, slow and close to home, or put both "
    "axles' wheels on at once. Checked alone, the stage says each in full, with its cure.",
    ground=practice("nobody looks for what the finished truck doesn't have"),
    holds={"driven_stage": "rear first", "stage_is": "front found, rear tall", "stage_cautions": ""},
    fails={
        "driven_stage": "rear first",
        "stage_is": "front found, rear tall",
        "stage_cautions": "the axles travel different ways for one turn of the driveline",
    },
    only_with=("driven_stage",),
)
def stage_unlike_finished(driven_stage: Text, stage_is: Text, stage_cautions: Text = "") -> bool:
    """Whether the finished truck has every caution that a stage has."""
    return bool(driven_stage) and not stage_cautions


@rule(
    severity="caution",
    danger="wheel off",
    notices="an inspection is overdue",
    says="{overdue_since}.",
    clear_says="None of the {inspections} inspections is past its day, or past its distance.",
    cure="Check the lug nuts before you drive at all, and the rest before the next long drive: nuts back off, "
    "bearings wear and tires crack whether anybody looks or not. Then tick it, with what the odometer shows.",
    ground=practice("check what holds a wheel by distance and by date, whichever comes first"),
    holds={"inspections": "12", "overdue_since": ""},
    fails={"inspections": "12", "overdue_since": "use.nuts.front is OVERDUE since 2027-05-01"},
    only_with=("inspections",),
)
def inspection_overdue(inspections: Text, overdue_since: Text = "") -> bool:
    """Whether none is past its day, nor past its distance."""
    return bool(inspections) and not overdue_since
