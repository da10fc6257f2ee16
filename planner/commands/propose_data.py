"""What `planner propose --json` prints: the answer, and the space that is searched, as plain data in SI."""

from collections.abc import Mapping
from typing import Any

from planner.commands.check import finite
from planner.plan.proposing.proposal_words import out_words
from planner.plan.proposing.quick_look import RuledOut
from planner.plan.proposing.rows import ProposalRow, rows
from planner.plan.proposing.search import FitSearch, Proposals, sizes_of
from planner.plan.proposing.size_map import size_points
from planner.plan.proposing.space import SearchSpace
from planner.plan.truck.project import OpenProject


def answer_data(opened: OpenProject, found: Proposals, search: FitSearch) -> dict[str, Any]:
    """The whole answer as one object."""
    return {
        "tried": found.tried,
        "of": found.of,
        "whole": found.whole,
        "ruled_out": [_out_data(opened, one, number) for one, number in found.ruled_out],
        "beaten": found.beaten,
        "more_unbeaten": found.more,
        "proposals": [
            _row_data(at, row) for at, row in enumerate(rows(opened, found, search.wished), 1)
        ],
        "standing_stops": [
            {"flag": flag.rule.name, "where": flag.where, "answer": flag.verdict.answer} for flag in found.standing
        ],
        "wheel_taken_from": search.space.template or None,
        "left_out": list(search.space.left_out),
        "sizes": [
            {
                "tire": one.tire.size,
                "diameter": one.diameter,
                "section_width": one.section,
                "fits": one.fits,
                "proposal": one.proposal,
                "ruled_out_by": None if one.out is None else _name(one.out),
            }
            for one in size_points(found)
        ],
    }  # fmt: skip


def _out_data(opened: OpenProject, one: RuledOut, number: int) -> dict[str, Any]:
    return {
        "by": _name(one),
        "says": out_words(opened, one),
        "too_close_to_call": one.close,
        "better": one.better or None,
        "count": number,
    }


def _name(one: RuledOut) -> Mapping[str, str]:
    return {"flag": one.rule} | ({"at": one.about} if one.about else {})


def _row_data(at: int, row: ProposalRow) -> dict[str, Any]:
    fitting, room = row.proposal.fitting, row.room
    tire, rim, gears, driven = fitting.combination
    return {
        "number": at,
        "tire": {"designation": tire.size, "known_from": tire.known_from},
        "rim": {"diameter": rim.code, "width": rim.meters, "written": rim.width, "known_from": rim.known_from},
        "backspace": fitting.look.backspace,
        "backspace_written": row.backspace,
        "window": None if room is None else room._asdict(),
        "gear_set": gears.ratio or None,
        "speedometer_gear": driven.teeth,
        "speedometer_gear_that_reads_closest": row.driven_teeth,
        "wishes": {
            one.wish.name: {
                "value": None if one.value is None else finite(one.value),
                "shown": one.shown,
                "met": one.met,
            }
            for one in row.wishes
        },
        "flags": row.tally._asdict(),
        "worst_stop_margin": {"room": fitting.look.room, "to": fitting.look.tightest},
        "worst_flag": None
        if row.worst is None
        else {"flag": row.worst.rule.name, "where": row.worst.where, "answer": row.worst.verdict.answer},
        "price": None if fitting.price is None else str(fitting.price),
        "lead_time_days": fitting.days,
        "why": list(row.why),
    }


def space_data(space: SearchSpace) -> dict[str, Any]:
    """All that would be tried."""
    pairs = list(space.pairs())
    return {
        "combinations": len(pairs) * space.geared,
        "wheel_taken_from": space.template or None,
        "tires": [
            {
                "designation": one.size,
                "diameter": sizes_of(one)[0],
                "section_width": sizes_of(one)[1],
                "known_from": one.known_from,
                "price": None if one.price is None else str(one.price),
            }
            for one in space.tires
        ],
        "rims": [
            {"diameter": rim.code, "width": rim.meters, "known_from": rim.known_from}
            for rim in dict.fromkeys(rim for _, rim in pairs)
        ],
        "gear_sets": [{"ratio": one.ratio or None, "known_from": one.known_from} for one in space.gears],
        "speedometer_gears": [{"teeth": one.teeth, "known_from": one.known_from} for one in space.driven],
        "left_out": list(space.left_out),
    }
