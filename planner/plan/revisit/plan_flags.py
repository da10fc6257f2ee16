"""The flags of the plan itself: decisions, ticks, orders, sheets, dates and money, each record judged by its rule."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.plan.answers.basis_words import LOOK_ONCE, UNKNOWN_BASIS, changes_in_words
from planner.plan.answers.flagging import Flag, worst_first
from planner.plan.truck.change_words import planned_changes, title_of
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import apart_text, read_entries, taken_text
from planner.plan.work.change_tasks import measured_apart, unmeasured
from planner.plan.work.dependencies import standing_task_of
from planner.plan.work.hold_points import guarding_task, stops_against, stops_in_words
from planner.plan.work.inspections import on_the_road, together
from planner.plan.work.parts import BOUGHT, THERE, NeededPart, matching_parts, part_name, planned_parts, set_days
from planner.plan.work.record_changes import record_changes
from planner.plan.work.record_flags import RECORD_RULES, received_flags, record_flag, unknown_record
from planner.plan.work.slips import late_words
from planner.project.faults import as_key
from planner.project.models.work import Part, RestedOn, Task
from planner.quantities.text import clean


def all_flags(opened: OpenProject, found: Sequence[Flag]) -> list[Flag]:
    """The flags that were found on the worksheet and those of the plan, the worst first."""
    return sorted([*found, *plan_flags(opened, found)], key=worst_first)


def plan_flags(opened: OpenProject, found: Sequence[Flag]) -> list[Flag]:
    """The answer of each of the plan's rules for every record that it speaks of; `found` are the other flags.

    A list of tasks that cannot be put in order has no dates to be late by: the task command says what is wrong with it.
    """
    received = received_flags(opened, found)
    return [
        *_lapsed(opened, [*found, *received]),
        *_changed(opened),
        *_worked(opened, found),
        *received,
        *_over_budget(opened),
        *_made_changes(opened),
        *_apart(opened),
        *_staged(opened, found),
        *_inspected(opened, found),
        *_faulty(opened),
    ]


RULES_OF = {  # the rule that cannot speak of a record of which something is not known, by the file's list
    "decisions": "decision_rests_on_changed",
    "tasks": "finished_task_rests_on_changed",
    "sheets": "printed_sheet_out_of_date",
    "parts": "order_by_date_passed",
    "wheels": "received_wheel_will_not_do",
}


def _faulty(opened: OpenProject) -> Iterator[Flag]:
    """What cannot be judged of records with a fault, and of the lists that hold them."""
    told: dict[tuple[str, str], str] = {}
    for key in sorted(opened.opened.not_known, key=str):
        if key[0] in RULES_OF:
            told.setdefault((RULES_OF[str(key[0])], as_key(key[:2])), as_key(key))
    cost = _cost_fault(opened)
    told |= {("cost_past_budget", ""): cost} if cost else {}
    for (node, where), lost in told.items():
        yield unknown_record(opened, node, clean(where), (lost,), (opened.asked_for(lost),))


def _cost_fault(opened: OpenProject) -> str | None:
    """The key of what is not known without which the sum may be too small, where there is a budget."""
    prices = [(("fitments", name, "price")) for name in opened.project.fitments]
    lost = next((one for key in (("parts",), *prices, ("plan", "chosen")) if (one := opened.fault_at(*key))), None)
    return opened.fault_at("plan", "budget") or (lost if opened.project.plan.budget is not None else None)


class RecordWithBasis(NamedTuple):
    """One record that remembers what it rested on: the rule that judges it, its name, and the part of an order."""

    rule: str
    name: str
    record: RestedOn
    part: NeededPart | None = None


def records_with_basis(opened: OpenProject) -> list[RecordWithBasis]:
    """Every decision, finished task, ordered part and printed sheet that a rule of the plan judges."""
    project = opened.project
    found: list[RecordWithBasis] = []
    for at, decision in enumerate(project.decisions):
        if not opened.fault_at("decisions", at):
            name = clean(decision.question or f"decisions[{at}]")
            found.append(RecordWithBasis("decision_rests_on_changed", name, decision))
    for at, task in enumerate(project.tasks):
        if task.state in ("done", "look again") and not opened.fault_at("tasks", at):
            name = clean(task.id or task.title or f"tasks[{at}]")
            found.append(RecordWithBasis("finished_task_rests_on_changed", name, task))
            parts = _ordered(opened, name)
            found += [RecordWithBasis("ordered_part_rests_on_changed", one.called, task, one) for one in parts]
    for at, bought in enumerate(project.parts):
        if bought.state in BOUGHT and _knows(bought) and not opened.fault_at("parts", at):
            called = NeededPart(part_name(bought, at), bought).called
            found.append(RecordWithBasis("ordered_part_rests_on_changed", called, bought))
    for at, sheet in enumerate(project.sheets):
        if not opened.fault_at("sheets", at):
            name = f"sheet {sheet.number}" + (f" ({sheet.kind})" if sheet.kind else "")
            found.append(RecordWithBasis("printed_sheet_out_of_date", name, sheet))
    return found


def _changed(opened: OpenProject) -> Iterator[Flag]:
    for rule, name, record, part in records_with_basis(opened):
        marked = isinstance(record, Task) and record.state == "look again"
        gone = record_changes(opened, record, part)
        if gone or marked or opened.rested_on(record):
            said = changes_in_words(gone) or (clean(getattr(record, "because", "") or "marked so") if marked else "")
            flag = record_flag(opened, rule, name, {RECORD_RULES[rule]: name, "moved_since": said})
            yield flag._replace(says=f"'{name}': {LOOK_ONCE}.") if gone == (UNKNOWN_BASIS,) else flag


def _lapsed(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """Every signed hold point: whether one of the stops that it guards stands since."""
    for at, record in enumerate(opened.project.tasks):
        task = guarding_task(record)
        if task is not None and not opened.fault_at("tasks", at):
            seen = {"signed_task": task.id, "standing_stops": stops_in_words(stops_against(found, task))}
            yield record_flag(opened, "signature_lapsed", task.id, seen)


def _ordered(opened: OpenProject, id_: str) -> Iterator[NeededPart]:
    """The parts that a ticked task of the standing list has ordered."""
    if not id_.startswith("order."):
        return
    task = standing_task_of(id_)
    for need in matching_parts(planned_parts(opened), task[0].orders) if task else ():
        if need.part.state in BOUGHT and not _knows(need.part):
            yield need


def _knows(part: Part) -> bool:
    """Whether a part says itself what it was ordered by."""
    return bool(part.rests or part.rested_on)


def _worked(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """What the list says of the parts that are not here; it is only made where there can be such a part."""
    sets = any(set_days(opened, name) is not None for name in opened.planned)
    if not sets and all(part.state in THERE for part in opened.project.parts):
        return
    from planner.plan.work.task_list import work_or_why

    listed, _ = work_or_why(opened, found)
    if listed is None:
        return
    today = listed.today.isoformat()
    for part, day in listed.dates.order_by.items():
        seen = {"wanted_part": clean(part), "order_by": day.isoformat(), "today": today}
        yield record_flag(opened, "order_by_date_passed", clean(part), seen)
    for part, coming in listed.dates.coming.items():
        if part not in listed.dates.order_by:
            days = {"agreed_day": coming.agreed.isoformat(), "expected_day": coming.expected.isoformat()}
            seen = {"ordered_part": clean(part), **days, "what_slips": late_words(coming)}
            yield record_flag(opened, "part_comes_late", clean(part), seen)
    for one in listed.items.values():
        lacks = [need.called for need in one.lacks if not need.ordered]
        if one.state == "waiting" and lacks and not one.waits and not one.holds:
            seen = {"waiting_task": clean(one.id), "wanted_part": ", ".join(lacks)}
            yield record_flag(opened, "work_waits_for_part_not_ordered", clean(one.id), seen)


def _over_budget(opened: OpenProject) -> Iterator[Flag]:
    if opened.project.plan.budget is None or not (opened.project.parts or opened.project.plan.chosen):
        return
    from planner.plan.work.money import amount, money

    if _cost_fault(opened):
        return
    told = money(opened)
    budget = told.budget
    sums = [one for _, one in told.each] or [told]
    if budget is None or not any(one.rows for one in sums):
        return
    least, most = min(one.total for one in sums), max(one.total for one in sums)
    # Within it for sure only with every price, whichever candidate is chosen; over it is over whatever is missing.
    unpriced = dict.fromkeys(clean(id_) for one in sums for id_ in one.unpriced)
    missing = [f"the price of {id_}" for id_ in unpriced] if most <= budget else ["plan.chosen"]
    if least <= budget and (most > budget or unpriced):
        yield unknown_record(opened, "cost_past_budget", "", missing)
        return
    cost = least if least > budget else most
    words = {"plan_cost": amount(cost, told.currency), "plan_budget": amount(budget, told.currency)}
    yield record_flag(opened, "cost_past_budget", "", {"plan_cost": float(cost), "plan_budget": float(budget)}, words)


def _made_changes(opened: OpenProject) -> Iterator[Flag]:
    """Every change that is done: whether what it set was measured, and is as planned."""
    for at in planned_changes(opened):
        if opened.project.changes[at].state != "done" or opened.fault_at("changes", at):
            continue
        name, left = title_of(opened, at), unmeasured(opened, at)
        apart = "; ".join(measured_apart(opened, at))
        if left and not apart:
            wants = [opened.asked_for(key) for key in left.values()]
            yield unknown_record(opened, "change_came_out_otherwise", name, list(left.values()), wants)
        else:
            seen = {"made_change": name, "measured_apart": apart}
            yield record_flag(opened, "change_came_out_otherwise", name, seen)


def _apart(opened: OpenProject) -> Iterator[Flag]:
    """Every entry that was read more than once: whether its readings agree, or a person chose one of them."""
    for key, one in read_entries(opened):
        if len(one.readings) > 1:
            name = clean(opened.spoken(key))
            seen = {
                "read_entry": name,
                "readings_apart": "" if isinstance(one.which, int) else apart_text(one),
                "taken_reading": taken_text(one),
            }
            yield record_flag(opened, "readings_apart_by_more_than_stated", name, seen)


def _staged(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """Every stage that is driven: what stands against driving it, and what to mind that the finished truck has not."""
    if not opened.project.plan.stages:
        return
    from planner.plan.answers.stage_words import against_driving, to_mind, wanted_for, what_is_on
    from planner.plan.answers.stages import is_finished, judged_stages

    late = _late_stages(opened, found)
    for one in judged_stages(opened, found):
        name = clean(one.stage.name)
        if one.fault:
            yield unknown_record(opened, "stage_not_to_be_driven", name, (one.fault,))
        if not one.judged or is_finished(opened, one.stage):
            continue  # the finished truck has its own flags
        seen = {"driven_stage": name, "stage_is": what_is_on(opened, one.stage)}
        stops, (needs, wants) = against_driving(one), wanted_for(one)
        if wants and not stops:
            yield unknown_record(opened, "stage_not_to_be_driven", name, needs, wants)
        else:
            stops += f"; not known without {', '.join(map(clean, wants))}: whether there are more" if wants else ""
            yield record_flag(opened, "stage_not_to_be_driven", name, {**seen, "stage_stops": stops})
        yield record_flag(opened, "stage_unlike_finished", name, {**seen, "stage_cautions": to_mind(opened, one, late)})


def _late_stages(opened: OpenProject, found: Sequence[Flag]) -> dict[str, str]:
    """By its name, each stage whose work, and the parts that this waits for, cannot be done by its day."""
    from planner.plan.work.task_list import work_or_why

    days = [stage.on for stage in opened.project.plan.stages]
    listed = work_or_why(opened, found)[0] if any(days) else None
    if listed is None:
        return {}
    told: dict[str, str] = {}
    for id_, one in listed.items.items():
        stage, times = one.stage, listed.dates.ahead.times.get(id_)
        if stage is None or one.closed:
            continue
        day, starts = days[stage.stage.number], times.starts if times is not None else None
        if day is not None and starts is not None and starts > day:
            told[stage.stage.name] = f"it is to begin {day}, and its work ends {starts} at the earliest"
    return told


def _inspected(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """Everything that comes again, or is done once after the first miles: what of it is overdue, or may be."""
    own = any(task.every_distance is not None or task.every_months is not None for task in opened.project.tasks)
    if on_the_road(opened) is None and not own:
        return
    from planner.plan.work.task_list import work_or_why

    listed, _ = work_or_why(opened, found)
    if listed is None:
        return
    dated = [(id_, one.due) for id_, one in listed.items.items() if one.due is not None and one.state != "dropped"]
    late = together((clean(id_), due.says) for id_, due in dated if due.answer == "overdue")
    needs = tuple(dict.fromkeys(need for _, due in dated if due.answer == "not known" for need in due.needs))
    if needs and not late:
        yield unknown_record(opened, "inspection_overdue", "", needs)
    elif dated:
        late += f"; not known without {', '.join(map(clean, needs))}: whether others are" if needs else ""
        yield record_flag(opened, "inspection_overdue", "", {"inspections": str(len(dated)), "overdue_since": late})
