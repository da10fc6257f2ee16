"""The flags of the plan itself: decisions, ticks, orders, sheets, dates and money, each record judged by its rule."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from planner.plan.answers.basis import LOOK_ONCE, UNKNOWN_BASIS, BasisChange, changes_in_words
from planner.plan.answers.flagging import Flag, worst_first
from planner.plan.truck.project import EVERYWHERE, OpenProject
from planner.plan.truck.reading_words import apart_text, read_entries, taken_text
from planner.plan.truck.wording import margin_text
from planner.plan.work.hold_points import guarding_task, stops_against, stops_in_words
from planner.plan.work.inspections import on_the_road, together
from planner.plan.work.parts import BOUGHT, THERE, set_days
from planner.plan.work.record_changes import record_changes
from planner.plan.work.slips import late_words
from planner.project.faults import as_key
from planner.project.models.work import RestedOn, Task
from planner.quantities.text import clean, same_name
from planner.worksheet.outcome import Known, number
from planner.worksheet.verdict import Verdict, judge

RECORD_RULES = {  # the rules that judge records which remember what they rested on, each with what it calls the record
    "decision_rests_on_changed": "decision",
    "finished_task_rests_on_changed": "finished_task",
    "ordered_part_rests_on_changed": "ordered_part",
    "printed_sheet_out_of_date": "printed_sheet",
}


def all_flags(opened: OpenProject, found: Sequence[Flag]) -> list[Flag]:
    """The flags that were found on the worksheet and those of the plan, the worst first."""
    return sorted([*found, *plan_flags(opened, found)], key=worst_first)


def plan_flags(opened: OpenProject, found: Sequence[Flag]) -> list[Flag]:
    """The answer of each of the plan's rules for every record that it speaks of; `found` are the other flags.

    A list of tasks that cannot be put in order has no dates to be late by: the task command says what is wrong with it.
    """
    return [
        *_lapsed(opened, found),
        *_changed(opened),
        *_worked(opened, found),
        *_received(opened, found),
        *_over_budget(opened),
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
        yield _unknown(opened, node, clean(where), (lost,), (opened.asked_for(lost),))


def _cost_fault(opened: OpenProject) -> str | None:
    """The key of what is not known without which the sum may be too small, where there is a budget."""
    prices = [(("fitments", name, "price")) for name in opened.project.fitments]
    lost = next((one for key in (("parts",), *prices, ("plan", "chosen")) if (one := opened.fault_at(*key))), None)
    return opened.fault_at("plan", "budget") or (lost if opened.project.plan.budget is not None else None)


class RecordWithBasis(NamedTuple):
    """One record that remembers what it rested on: the rule that judges it, and its name."""

    rule: str
    name: str
    record: RestedOn


def records_with_basis(opened: OpenProject) -> list[RecordWithBasis]:
    """Every decision, finished task, ordered part and printed sheet that a rule of the plan judges."""
    project = opened.project
    found: list[RecordWithBasis] = []
    for at, decision in enumerate(project.decisions):
        if opened.fault_at("decisions", at):
            continue
        name = clean(decision.question or f"decisions[{at}]")
        found.append(RecordWithBasis("decision_rests_on_changed", name, decision))
    for at, task in enumerate(project.tasks):
        if task.state in ("done", "look again") and not opened.fault_at("tasks", at):
            name = clean(task.id or task.title or f"tasks[{at}]")
            found.append(RecordWithBasis("finished_task_rests_on_changed", name, task))
            found += [RecordWithBasis("ordered_part_rests_on_changed", part, task) for part in _ordered(opened, name)]
    for at, sheet in enumerate(project.sheets):
        if opened.fault_at("sheets", at):
            continue
        name = f"sheet {sheet.number}" + (f" ({sheet.kind})" if sheet.kind else "")
        found.append(RecordWithBasis("printed_sheet_out_of_date", name, sheet))
    return found


def _changed(opened: OpenProject) -> Iterator[Flag]:
    moved: dict[int, tuple[BasisChange, ...]] = {}  # by record, since one may speak for several parts
    for rule, name, record in records_with_basis(opened):
        marked = isinstance(record, Task) and record.state == "look again"
        if id(record) not in moved:
            moved[id(record)] = record_changes(opened, record)
        gone = moved[id(record)]
        if gone or marked or opened.rested_on(record):
            said = changes_in_words(gone) or (clean(getattr(record, "because", "") or "marked so") if marked else "")
            flag = _flag(opened, rule, name, {RECORD_RULES[rule]: name, "moved_since": said})
            yield flag._replace(says=f"'{name}': {LOOK_ONCE}.") if gone == (UNKNOWN_BASIS,) else flag


def _lapsed(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """Every signed hold point: whether one of the stops that it guards stands since."""
    for at, record in enumerate(opened.project.tasks):
        task = guarding_task(record)
        if task is not None and not opened.fault_at("tasks", at):
            seen = {"signed_task": task.id, "standing_stops": stops_in_words(stops_against(found, task))}
            yield _flag(opened, "signature_lapsed", task.id, seen)


def _ordered(opened: OpenProject, id_: str) -> Iterator[str]:
    """The parts that a ticked task of the standing list has ordered."""
    if not id_.startswith("order."):
        return
    from planner.plan.work.dependencies import standing_task_of
    from planner.plan.work.parts import matching_parts, planned_parts

    task = standing_task_of(id_)
    for need in matching_parts(planned_parts(opened), task[0].orders) if task else ():
        if need.part.state in BOUGHT:
            yield clean(need.id)


def _worked(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """What the list says of the parts that are not here; it is only made where there can be such a part."""
    sets = any(set_days(opened, name) is not None for name in opened.planned)
    if not sets and all(part.state in THERE for part in opened.project.parts):
        return
    from planner.plan.work.schedule_error import ScheduleError
    from planner.plan.work.task_list import work

    try:
        listed = work(opened, found)
    except ScheduleError:
        return
    today = listed.today.isoformat()
    for part, day in listed.dates.order_by.items():
        seen = {"wanted_part": clean(part), "order_by": day.isoformat(), "today": today}
        yield _flag(opened, "order_by_date_passed", clean(part), seen)
    for part, coming in listed.dates.coming.items():
        if part not in listed.dates.order_by:
            days = {"agreed_day": coming.agreed.isoformat(), "expected_day": coming.expected.isoformat()}
            seen = {"ordered_part": clean(part), **days, "what_slips": late_words(coming)}
            yield _flag(opened, "part_comes_late", clean(part), seen)
    for one in listed.items.values():
        lacks = [clean(need.id) for need in one.lacks if not need.ordered]
        if one.state == "waiting" and lacks and not one.waits and not one.holds:
            seen = {"waiting_task": clean(one.id), "wanted_part": ", ".join(lacks)}
            yield _flag(opened, "work_waits_for_part_not_ordered", clean(one.id), seen)


def _received(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """What is said of every wheel that came and was measured, unless it went back."""
    if not opened.project.wheels:
        return
    from planner.plan.work.held_readings import planned_candidate
    from planner.plan.work.received_wheels import received_wheels
    from planner.plan.work.received_words import against_words, outside_words, would_do

    for piece in received_wheels(opened, found):
        if piece.wheel.state == "sent back" or not piece.measured or opened.fault_at("wheels", piece.at):
            continue
        against = against_words(piece)
        wants = [f"wheels[{piece.at}].{name}" for name in piece.not_measured]
        wants += [] if planned_candidate(opened) else ["plan.chosen"]
        if wants and not against:
            yield _unknown(opened, "received_wheel_will_not_do", piece.name, wants)
        else:
            seen = {"came_wheel": piece.name, "stands_against": against, "would_do_at": would_do(piece)}
            yield _flag(opened, "received_wheel_will_not_do", piece.name, seen)
        if piece.as_ordered != "not known":
            seen = {"came_wheel": piece.name, "outside_order": outside_words(piece)}
            yield _flag(opened, "received_wheel_outside_order", piece.name, seen)


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
        yield _unknown(opened, "cost_past_budget", "", missing)
        return
    cost = least if least > budget else most
    words = {"plan_cost": amount(cost, told.currency), "plan_budget": amount(budget, told.currency)}
    yield _flag(opened, "cost_past_budget", "", {"plan_cost": float(cost), "plan_budget": float(budget)}, words)


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
            yield _flag(opened, "readings_apart_by_more_than_stated", name, seen)


def _staged(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """Every stage that is driven: what stands against driving it, and what to mind that the finished truck has not."""
    if not opened.project.plan.stages:
        return
    from planner.plan.answers.stage_words import against_driving, to_mind, wanted_for, what_is_on
    from planner.plan.answers.stages import judged_stages

    for one in judged_stages(opened, found):
        name = clean(one.stage.name)
        if one.fault:
            yield _unknown(opened, "stage_not_to_be_driven", name, (one.fault,))
        if not one.judged:
            continue
        seen = {"driven_stage": name, "stage_is": what_is_on(opened, one.stage)}
        stops, (needs, wants) = against_driving(one), wanted_for(one)
        if stops or not wants:
            yield _flag(opened, "stage_not_to_be_driven", name, {**seen, "stage_stops": stops})
        if wants:
            yield _unknown(opened, "stage_not_to_be_driven", name, needs, wants)
        yield _flag(opened, "stage_unlike_finished", name, {**seen, "stage_cautions": to_mind(opened, one)})


def _inspected(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
    """Everything that comes again, or is done once after the first miles: what of it is overdue, or may be."""
    own = any(task.every_distance is not None or task.every_months is not None for task in opened.project.tasks)
    if on_the_road(opened) is None and not own:
        return
    from planner.plan.work.schedule_error import ScheduleError
    from planner.plan.work.task_list import work

    try:
        items = work(opened, found).items
    except ScheduleError:
        return
    dated = [(id_, one.due) for id_, one in items.items() if one.due is not None and one.state != "dropped"]
    late = together((clean(id_), due.says) for id_, due in dated if due.answer == "overdue")
    needs = tuple(dict.fromkeys(need for _, due in dated if due.answer == "not known" for need in due.needs))
    if late or (dated and not needs):
        seen = {"inspections": str(len(dated)), "overdue_since": late}
        yield _flag(opened, "inspection_overdue", "", seen)
    if needs:
        yield _unknown(opened, "inspection_overdue", "", needs)


def _unknown(
    opened: OpenProject, node: str, where: str, needs: Sequence[str], wants: Sequence[str] | None = None
) -> Flag:
    """One record of which a rule cannot say anything, with what it waits for."""
    verdict = Verdict(opened.sheet.catalog.rules[node], EVERYWHERE, "not known")
    asked = tuple(needs if wants is None else wants)
    return Flag(verdict, (EVERYWHERE,), where, "", "", "", (), tuple(needs), wants=asked)


def _flag(
    opened: OpenProject, node: str, where: str, seen: Mapping[str, object], words: Mapping[str, str] | None = None
) -> Flag:
    """One record's flag, its rule called on what was seen of the record."""
    rule = opened.sheet.catalog.rules[node]
    value = rule.call(*(seen.get(taken.name, taken.default) for taken in rule.inputs))
    margin = number(value) or 0.0
    verdict = judge(rule, EVERYWHERE, Known(value, margin, margin))
    told = {name: str(one) for name, one in seen.items()} | dict(words or {})
    clear = verdict.answer == "clear"
    accepted = [one for one in opened.project.acceptances if one.flag == rule.name and same_name(one.at or "", where)]
    lapsed = ""
    if accepted:
        moved = record_changes(opened, accepted[-1]) if node in RECORD_RULES else ()
        lapsed = changes_in_words(moved) or ("" if accepted[-1].because else "it gives no reason")
    return Flag(
        verdict=verdict,
        places=(EVERYWHERE,),
        where=where,
        says=(rule.clear_says if clear else rule.says).format_map(told),
        cure=rule.cure.format_map(told),
        by=margin_text(opened, rule, verdict.margin) if verdict.margin and rule.kind else "",
        settles=(),
        needs=(),
        acceptance=accepted[-1] if accepted else None,
        lapsed=lapsed,
    )
