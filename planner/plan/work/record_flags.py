"""Flags of records: each judged by its rule of the plan on what was seen of it; what is said of wheels that came."""

from collections.abc import Iterator, Mapping, Sequence

from planner.plan.answers.basis_words import changes_in_words
from planner.plan.answers.flagging import Flag
from planner.plan.truck.project import EVERYWHERE, OpenProject
from planner.plan.truck.wording import margin_text
from planner.plan.work.record_changes import record_changes
from planner.quantities.text import same_name
from planner.worksheet.outcome import Known, number
from planner.worksheet.verdict import Verdict, judge

RECORD_RULES = {  # the rules that judge records which remember what they rested on, each with what it calls the record
    "decision_rests_on_changed": "decision",
    "finished_task_rests_on_changed": "finished_task",
    "ordered_part_rests_on_changed": "ordered_part",
    "printed_sheet_out_of_date": "printed_sheet",
}


def received_flags(opened: OpenProject, found: Sequence[Flag]) -> list[Flag]:
    """What is said of every wheel that came and was measured, unless it went back."""
    return list(_received(opened, found)) if opened.project.wheels else []


def _received(opened: OpenProject, found: Sequence[Flag]) -> Iterator[Flag]:
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
            yield unknown_record(opened, "received_wheel_will_not_do", piece.name, wants)
        else:
            seen = {"came_wheel": piece.name, "stands_against": against, "would_do_at": would_do(piece)}
            yield record_flag(opened, "received_wheel_will_not_do", piece.name, seen, close=piece.close)
        if piece.as_ordered != "not known":
            seen = {"came_wheel": piece.name, "outside_order": outside_words(piece)}
            close = piece.as_ordered == "too close to call"
            yield record_flag(opened, "received_wheel_outside_order", piece.name, seen, close=close)


def unknown_record(
    opened: OpenProject, node: str, where: str, needs: Sequence[str], wants: Sequence[str] | None = None
) -> Flag:
    """One record of which a rule cannot say anything, with what it waits for."""
    verdict = Verdict(opened.sheet.catalog.rules[node], EVERYWHERE, "not known")
    asked = tuple(needs if wants is None else wants)
    return Flag(verdict, (EVERYWHERE,), where, "", "", "", (), tuple(needs), wants=asked)


def record_flag(
    opened: OpenProject,
    node: str,
    where: str,
    seen: Mapping[str, object],
    words: Mapping[str, str] | None = None,
    *,
    close: bool = False,
) -> Flag:
    """One record's flag, its rule called on what was seen of the record; `close` where that is too close to call."""
    rule = opened.sheet.catalog.rules[node]
    value = rule.call(*(seen.get(taken.name, taken.default) for taken in rule.inputs))
    margin = number(value) or 0.0
    verdict = judge(rule, EVERYWHERE, Known(value, margin, margin + close))
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
        by=margin_text(opened, rule, verdict.margin),
        settles=(),
        needs=(),
        acceptance=accepted[-1] if accepted else None,
        lapsed=lapsed,
    )
