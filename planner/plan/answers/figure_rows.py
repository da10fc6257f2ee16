"""The figures of a project as rows for people: by subject, the places that show the same drawn together."""

from collections.abc import Collection, Iterator
from typing import NamedTuple

from planner.plan.truck.pairs import asked_there
from planner.plan.truck.project import OpenProject
from planner.plan.truck.sweep_results import STEERED, swept_names
from planner.plan.truck.wording import in_columns, margin_text, place_name, shown, shown_value
from planner.project.facts import AXES
from planner.quantities.text import clean, in_words
from planner.worksheet.declare import Figure
from planner.worksheet.outcome import Known, Spot
from planner.worksheet.verdict import judge


class FigureLine(NamedTuple):
    """One figure with its value as shown, and the places at which it shows the same.

    `value` and `beside` are the same in two columns, one for each system of units, where it has no more than a value.
    """

    subject: str
    name: str
    text: str
    spots: tuple[Spot, ...]
    value: str
    beside: str = ""


def figure_rows(opened: OpenProject) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """For each subject its rows: the figure's name with its place, and its value as shown."""
    by_subject: dict[str, list[tuple[str, str]]] = {}
    for line in figure_lines(opened):
        by_subject.setdefault(line.subject, []).append((line.name, line.text))
    yield from by_subject.items()


def figure_lines(opened: OpenProject, subjects: Collection[str] = ()) -> Iterator[FigureLine]:
    """The figures of these subjects, or of all, the sweep's among them: one line for all places that show the same.

    The fitment that is not planned is left out.
    """
    for full, spots_of in figure_spots(opened, subjects):
        subject, _, name = full.partition(".")
        told: dict[str, list[Spot]] = {}
        for spot in spots_of:
            words = opened.swept.words(spot)
            text = f"{value_text(opened, spot)}: {clean(words)}" if words else value_text(opened, spot)
            told.setdefault(text, []).append(spot)
        for text, spots in told.items():
            places = [place_name(spot.place, alone=len(opened.planned) == 1) for spot in spots]
            own = in_words(name)
            called = f"{own} ({'; '.join(places)})" if len(told) > 1 and any(places) else own
            value, beside = _columns(opened, spots[0], text)
            yield FigureLine(subject, called, text, tuple(spots), value, beside)


def figure_spots(opened: OpenProject, subjects: Collection[str] = ()) -> Iterator[tuple[str, list[Spot]]]:
    """The name of each figure of these subjects, or of all, the sweep's among them, and where it is asked."""
    named = [(declared.name, node) for node, declared in opened.sheet.catalog.figures.items()]
    for full, node in (*named, *swept_names().items()):
        if not subjects or full.partition(".")[0] in subjects:
            yield full, [spot for spot in opened.sheet.spots(node) if _is_asked(opened, spot)]


def _is_asked(opened: OpenProject, spot: Spot) -> bool:
    """Whether a figure is told there: of what is planned, of a pair where there is one, of steer where it steers."""
    fitment, axle = spot.place[0], spot.place[AXES.index("axle")]
    planned = not fitment or fitment in opened.planned
    return planned and asked_there(opened, spot) and (spot.node not in STEERED or opened.steers(axle, fitment))


def _columns(opened: OpenProject, spot: Spot, text: str) -> tuple[str, str]:
    """A value in two columns; one with a range, with several parts or with words stays whole."""
    if text != shown(opened, spot):
        return text, ""
    return in_columns(opened, spot) or (text, "")


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
    rule, opened = opened.sheet.catalog.rules[spot.node], opened.seen_from(spot.node)
    if not asked_there(opened, spot):
        return "does not apply here"
    verdict = judge(rule, spot.place, opened.sheet.outcome(spot))
    by = margin_text(opened, rule, verdict.margin)
    return f"{verdict.answer}: {by}" if by else verdict.answer


def part_texts(opened: OpenProject, outcome: Known, declared: Figure) -> Iterator[str]:
    """Each part of a result, named, that has a value."""
    for name, kind in declared.parts.items():
        part = outcome.part(name)
        if part is not None:
            yield f"{name.replace('_', ' ')} {shown_value(opened, part, kind)}"
