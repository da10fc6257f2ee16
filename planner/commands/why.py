"""`planner why FILE FIGURE`: what a figure rests on, down to the entries, and what reads it."""

from argparse import Namespace
from collections.abc import Sequence
from difflib import get_close_matches
from functools import partial
from typing import Any

from planner.commands import faults_first
from planner.commands.check import finite
from planner.commands.flag_page import whole
from planner.commands.page import as_json, ink, paragraph
from planner.commands.table import FINE, WRONG, faults_told, project_parser, wrong
from planner.plan.answers.figure_numbers import numbers_at
from planner.plan.answers.figure_rows import value_text
from planner.plan.answers.open_project import open_project
from planner.plan.answers.uncertainty_sources import likely_text, spread_text, uncertainty_sources
from planner.plan.truck.catalog import entry_key
from planner.plan.truck.change_words import found_beside, origin
from planner.plan.truck.keys import UnknownKey, find_key
from planner.plan.truck.pairs import passed_on, readers
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import entry_data, provenance, reading_lines
from planner.plan.truck.sweep_results import NODES, swept_names
from planner.plan.truck.wording import place_name
from planner.project.facts import AXES
from planner.project.faults import Faulty, as_key
from planner.quantities.text import clean, in_words, name_among, normal_name
from planner.worksheet.catalog import Catalog
from planner.worksheet.declare import Assumed, Figure, Rule
from planner.worksheet.explain import Reason, explain, formula
from planner.worksheet.outcome import Failed, Known, Spot, Waiting, number

EXAMPLE = """example:
  planner why projects/county-road-4x4.toml wheel.poke --axle front
  planner why projects/county-road-4x4.toml scrub_radius --fitment tall --json"""


def run(arguments: list[str]) -> int:
    parser = project_parser("planner why", __doc__, EXAMPLE)
    parser.add_argument(
        "figure", metavar="FIGURE", help="a figure, an entry, or a rule by its name or what it warns of"
    )
    for axis in AXES:
        parser.add_argument(f"--{axis}", help=f"only at this {axis}")
    parser.add_argument("--json", action="store_true", help="print a JSON list, one tree per place")
    asked = parser.parse_args(arguments)
    try:
        opened = open_project(asked.file)
        faults_first.tell_faults(opened)
        spots = _spots(opened, asked)
    except Faulty as faulty:
        return faults_told(faulty)
    except LookupError as lost:
        wrong(f"planner why: {lost.args[0]}")
        return WRONG
    opened = opened.seen_from(spots[0].node) if spots else opened
    reasons = [explain(opened.sheet, spot, partial(passed_on, opened)) for spot in spots]
    if asked.json:
        print(as_json(faults_first.with_faults(opened, [_data(opened, reason) for reason in reasons])))
        return faults_first.exit_code(opened, FINE)
    lines = faults_first.head(opened)
    told = _flags(opened, spots)
    lines += told
    for reason in reasons if not told or any(spots[0].place) else ():  # a record has no sum behind it
        lines += [*_page(opened, reason), ""]
    print("\n".join(lines))
    return faults_first.exit_code(opened, FINE)


def _spots(opened: OpenProject, asked: Namespace) -> list[Spot]:
    """The places that are asked for; raises LookupError, with a line that says what there is."""
    catalog = opened.sheet.catalog
    entry = _entry_of(opened, asked.figure) if catalog.named(asked.figure) is None else None
    if entry is not None:
        return [entry]
    node = catalog.named(asked.figure) or _rule_of(catalog, asked.figure)
    if node is None:
        names = [one.name for group in (catalog.figures, catalog.rules, catalog.assumed) for one in group.values()]
        near = get_close_matches(asked.figure, [*names, *catalog.facts], n=3, cutoff=0.5)
        hint = f"; near it: {', '.join(near)}" if near else "; planner figure lists the figures"
        raise LookupError(f"nothing is called '{asked.figure[:60]}'{hint}")
    spots = opened.sheet.spots(node)
    for at, axis in enumerate(AXES):
        member = getattr(asked, axis)
        there = sorted({spot.place[at] for spot in spots if spot.place[at]})
        member = member if member is None else name_among(there, member) or member
        if member is not None and member not in there:
            raise LookupError(
                f"--{axis} {member[:40]}: accepted: {', '.join(there) or f'nothing, {node} does not vary over it'}"
            )
        if member is not None:
            spots = [spot for spot in spots if spot.place[at] == member]
        elif axis == "fitment" and there:
            spots = [spot for spot in spots if spot.place[at] in opened.planned]
    return spots


def _entry_of(opened: OpenProject, written: str) -> Spot | None:
    """Where the entry of this key or name is filed; None where there is no such entry."""
    try:
        return opened.spot_at(as_key(find_key(opened.opened, written).key))
    except UnknownKey:
        return None


def _rule_of(catalog: Catalog, words: str) -> str | None:
    """The one rule that notices what the words say, as a line of `check` has them."""
    said = normal_name(words)
    among = [node for node, rule in catalog.rules.items() if said in normal_name(rule.notices)]
    among = among or [node for node, rule in catalog.rules.items() if normal_name(rule.notices) in said]
    return among[0] if len(among) == 1 else None


def _flags(opened: OpenProject, spots: Sequence[Spot]) -> list[str]:
    """What a rule raises at these places, whole, before what it rests on."""
    rule = opened.sheet.catalog.rules.get(spots[0].node) if spots else None
    if rule is None:
        return []
    from planner.plan.answers.flagging import STANDING, flags
    from planner.plan.revisit.plan_flags import all_flags

    found = all_flags(opened, flags(opened))
    places = {spot.place for spot in spots}
    raised = [one for one in found if one.rule is rule and one.verdict.answer in STANDING and places & {*one.places}]
    return [line for flag in raised for line in (*whole(flag, found), "")]


def _page(opened: OpenProject, reason: Reason) -> list[str]:
    spot, catalog = reason.spot, opened.sheet.catalog
    at = place_name(spot.place)
    lines = paragraph(f"{_name(reason)}{f' ({at})' if at else ''}: {catalog.means(spot.node)}")
    lines[0] = ink(lines[0], "strong")
    lines += ["", *_tree(opened, reason, 0), ""]
    lines += _shares(opened, reason)
    read_by = [_reader(opened, one) for one in readers(opened, spot)]
    if read_by:
        lines += paragraph("read by " + ", ".join(dict.fromkeys(read_by)))
    return lines


def _name(reason: Reason) -> str:
    if reason.spot.node in NODES:
        return next((name for name, node in swept_names().items() if node == reason.spot.node), reason.spot.node)
    return reason.declared.name if reason.declared is not None and reason.how != "entered" else reason.spot.node


def _reader(opened: OpenProject, spot: Spot) -> str:
    catalog = opened.sheet.catalog
    return f"{'rule ' if spot.node in catalog.rules else ''}{catalog.called(spot.node)}"


def _tree(opened: OpenProject, reason: Reason, depth: int) -> list[str]:
    """The tree, a line a value, each level two columns in; formulas and grounds stand under what they gave."""
    lines = paragraph(_value_line(opened, reason), 2 * depth)
    declared = reason.declared
    if reason.again:
        return [*lines, *paragraph("(worked out above)", 2 * depth + 4)]
    if isinstance(declared, Figure) and reason.rests_on:
        lines += [ink(line, "faint") for line in paragraph(f"{formula(declared)}   [{declared.ground}]", 2 * depth + 4)]
    if reason.entered_at is not None and reason.spot.node not in NODES:
        several = reading_lines(opened, opened.key_of(reason.entered_at))
        for line in several if len(several) > 1 else ():
            lines += paragraph(line, 2 * depth + 4)
    for below in reason.rests_on:
        lines += _tree(opened, below, depth + 1)
    return lines


def _value_line(opened: OpenProject, reason: Reason) -> str:
    spot, how = reason.spot, reason.how
    name, at = in_words(spot.node), place_name(spot.place)
    text = f"{name}{f' ({at})' if at else ''} = {value_text(opened, spot)}"
    if spot.node in NODES and isinstance(reason.outcome, Known):
        return f"{text}   swept{_place_words(opened, spot)}"
    if isinstance(reason.outcome, Waiting) and reason.how == "entered":
        return f"{text}   {clean(opened.asked_for(opened.key_of(reason.entered_at or spot)))}"
    if reason.entered_at is not None:
        given = opened.given(reason.entered_at)
        written = getattr(given, "text", "")
        key = opened.key_of(reason.entered_at)
        said = f' = "{clean(written)}"' if written else ""
        read = provenance(opened, key)
        return f"{text}   {origin(opened, key)}{said}{f'; {read}' if read else ''}{found_beside(opened, key)}"
    if how == "assumed" and isinstance(reason.declared, Assumed):
        table = "limits" if reason.declared.limit else "assumptions"
        return f"{text}   assumed: {reason.declared.ground}; set it under [{table}.{spot.node}]"
    outcome = reason.outcome
    if spot.node in NODES:
        axle = spot.place[AXES.index("axle")]
        if axle and "steer" in spot.node and not opened.steers(axle, spot.place[0]):
            return f"{name}{f' ({at})' if at else ''}: this axle doesn't steer"
        trouble = opened.trouble(spot)
        if trouble:
            return f"{text}   {clean(trouble)}"
        needs = opened.swept.needs.get(spot) or opened.keys_needed(spot)
        return f"{text}   the sweep waits for {', '.join(clean(opened.asked_for(one)) for one in needs)}"
    if isinstance(outcome, Waiting) and how == "missing":
        return f"{text}   enter {opened.spoken(entry_key(spot))}"
    if isinstance(outcome, Waiting) and outcome.either:
        return f"{text}   enter one of {', '.join(entry_key(one) for one in outcome.either)}"
    return f"{text}   {outcome.why}" if isinstance(outcome, Failed) else text


def _place_words(opened: OpenProject, spot: Spot) -> str:
    """Where in the sweep a least clearance happens, or what binds a limit; and what a mock-up says of it."""
    words, by = opened.swept.words(spot), ""
    if opened.mock_ups:
        from planner.plan.answers.mock_up_words import by_mock_up

        by = by_mock_up(opened, spot)
    return (f": {clean(words)}" if words else "") + (f"; {by}" if by else "")


def _shares(opened: OpenProject, reason: Reason) -> list[str]:
    """Who brings the spread: each entry's part of it, the largest first."""
    shares = uncertainty_sources(opened, reason.spot)
    if not shares:
        return []
    spread = spread_text(opened, reason.spot, shares)
    lines = paragraph(f"What the spread comes from{f', {spread}' if spread else ''}:")
    for one in shares:
        lines += paragraph(
            f"{one.part:4.0%}  {clean(opened.spoken(one.key))}{f' = {one.written}' if one.written else ''}", 2
        )
    return [*lines, ""]


def _data(opened: OpenProject, reason: Reason) -> dict[str, Any]:
    """A tree as plain data; values in SI."""
    outcome, declared = reason.outcome, reason.declared
    data: dict[str, Any] = {
        "name": _name(reason),
        "place": {axis: member for axis, member in zip(AXES, reason.spot.place, strict=True) if member},
        "how": reason.how,
        "shown": value_text(opened, reason.spot),
    }
    if isinstance(outcome, Known):
        shares = uncertainty_sources(opened, reason.spot)
        data |= _value(opened, reason)
        data |= (
            {"low": finite(outcome.low), "high": finite(outcome.high), "likely": finite(likely_text(shares))}
            if shares
            else {}
        )
        listed = [{"entry": one.key, "half": finite(one.half), "part": one.part} for one in shares]
        data |= {"shares": listed} if shares else {}
    elif isinstance(outcome, Waiting):
        needs = (*outcome.needs, *outcome.either)
        data["needs"] = [opened.key_of(need) if need in opened.keys else entry_key(need) for need in needs]
    else:
        data["why"] = outcome.why
    if isinstance(declared, Figure) and reason.how != "entered":
        data["formula"] = formula(declared)
    if isinstance(declared, (Figure, Rule, Assumed)) and reason.how != "entered":
        data["ground"] = str(declared.ground)
    if reason.spot.node in NODES:
        data |= {"how": "swept" if isinstance(outcome, Known) else reason.how} | _in_the_sweep(opened, reason.spot)
    elif reason.entered_at is not None:
        data["entry"] = opened.key_of(reason.entered_at)
        data["written"] = getattr(opened.given(reason.entered_at), "text", None)
        data["provenance"] = provenance(opened, opened.key_of(reason.entered_at)) or None
        counted = opened.opened.counted.get(opened.keys.get(reason.entered_at, ()))
        data |= {"readings": entry_data(data["entry"], counted)["readings"]} if counted else {}
    if reason.again:
        data["again"] = True
    if reason.rests_on:
        data["rests_on"] = [_data(opened, below) for below in reason.rests_on]
    data["read_by"] = [_reader(opened, one) for one in readers(opened, reason.spot)]
    return data


def _value(opened: OpenProject, reason: Reason) -> dict[str, Any]:
    """A known value as plain data with its unit: of a result of several parts, each by its name."""
    assert isinstance(reason.outcome, Known)
    value, kind = number(reason.outcome.value), opened.sheet.catalog.kind(reason.spot.node)
    if value is not None:
        return {"value": value, "unit": kind.si if kind is not None else ""}
    parts = list(numbers_at(opened, "", reason.spot))
    if len(parts) == 1 and not parts[0].part:
        return {"value": parts[0].value, "unit": parts[0].unit}
    return {"value": {one.part: one.value for one in parts}, "unit": {one.part: one.unit for one in parts}}


def _in_the_sweep(opened: OpenProject, spot: Spot) -> dict[str, Any]:
    """Where in the sweep a least clearance happens and how surely it is the least, or what binds a limit."""
    data: dict[str, Any] = {}
    found, words = opened.swept.found.get(spot), opened.swept.words(spot)
    if found is not None:
        place = found.place
        data["happens"] = {
            "words": words,
            "steer": place.steer,
            "rise": place.rise,
            "far_rise": place.far_rise,
            "part": found.part,
            "side": found.side,
        }
        data |= {"proven": found.proven, "bound": finite(found.gap), "finished": found.finished}
    elif words:
        data["binds"] = words
    return data
