"""The figures of a project as rows for people: by subject, the places that show the same drawn together."""

from collections.abc import Iterator

from planner.plan.opening import OpenProject
from planner.plan.placing import where
from planner.plan.swept import STEERED
from planner.plan.swept import names as swept_names
from planner.plan.wording import margin_text, shown, shown_value
from planner.project.facts import AXES
from planner.quantities.text import clean
from planner.worksheet.declare import Figure
from planner.worksheet.outcome import Known, Spot
from planner.worksheet.verdict import judge


def figure_rows(opened: OpenProject) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """For each subject its rows: the figure's name with its place, and its value as shown."""
    by_subject: dict[str, list[tuple[str, str]]] = {}
    for node, declared in opened.sheet.catalog.figures.items():
        subject = declared.name.split(".")[0]
        by_subject.setdefault(subject, []).extend(_rows(opened, node, declared.name))
    for name, node in swept_names().items():
        by_subject.setdefault(name.split(".")[0], []).extend(_rows(opened, node, name))
    yield from by_subject.items()


def _rows(opened: OpenProject, node: str, name: str) -> Iterator[tuple[str, str]]:
    """One row where all places show the same, else one a place; the fitment that is not planned is left out."""
    told: dict[str, list[str]] = {}
    for spot in opened.sheet.spots(node):
        if spot.place[0] and spot.place[0] not in opened.planned:
            continue
        if node in STEERED and not opened.steers(spot.place[AXES.index("axle")]):
            continue
        words = opened.swept.words(spot)
        text = f"{value_text(opened, spot)}{f': {clean(words)}' if words else ''}"
        told.setdefault(text, []).append(where(spot.place, alone=len(opened.planned) == 1))
    name = name.split(".")[1].replace("_", " ")
    for text, places in told.items():
        yield (f"{name} ({'; '.join(places)})" if len(told) > 1 and any(places) else name), text


def value_text(opened: OpenProject, spot: Spot) -> str:
    """The value at a spot in words: each part of a result that has several."""
    outcome = opened.sheet.outcome(spot)
    if spot.node in opened.sheet.catalog.rules:
        return answer_text(opened, spot)
    declared = opened.sheet.catalog.figures.get(spot.node)
    if isinstance(outcome, Known) and declared is not None and declared.parts and opened.sheet.entered(spot) is None:
        return ", ".join(part_texts(opened, outcome, declared))
    return shown(opened, spot)


def answer_text(opened: OpenProject, spot: Spot) -> str:
    """A rule's answer at a spot, with its margin."""
    rule = opened.sheet.catalog.rules[spot.node]
    verdict = judge(rule, spot.place, opened.sheet.outcome(spot))
    by = margin_text(opened, rule, verdict.margin) if verdict.margin and rule.kind else ""
    return f"{verdict.answer}: {by}" if by else verdict.answer


def part_texts(opened: OpenProject, outcome: Known, declared: Figure) -> Iterator[str]:
    """Each part of a result, named, that has a value."""
    for name, kind in declared.parts.items():
        value = getattr(outcome.value, name, None)
        if value is not None:
            yield f"{name.replace('_', ' ')} {shown_value(opened, outcome.parts.get(name, Known(value)), kind)}"
