"""Mock-up readings in words: what was measured, what is predicted there, and what the reading says of it."""

from collections.abc import Iterator
from typing import Any

from planner.plan.fit.mock_ups import band_words, mock_up_words
from planner.plan.truck.held_mock_up import HeldMockUp
from planner.plan.truck.project import OpenProject
from planner.plan.truck.reading_words import taken_by
from planner.project.facts import AXES
from planner.quantities.kinds import POSITION
from planner.quantities.quantity import Band
from planner.quantities.show import show_plain
from planner.quantities.text import clean
from planner.worksheet.outcome import Known, Spot

_NOT_REACHED = {
    "bump": "it was not on its bump stop",
    "droop": "it was not in full droop",
    "crossed": "the axle was not crossed both ways",
    "lock": "it was not steered lock to lock",
    "turned": "how far it was turned isn't given, or was short of the stop (turned)",
    "came_up": "how far it came up isn't given, or was short of the stop (came_up)",
    "side": "its side isn't given",
}


def mock_up_lines(opened: OpenProject) -> Iterator[tuple[str, str]]:
    """Every mock-up reading: what was measured and predicted, and what it says."""
    for one in opened.mock_ups:
        by = taken_by(one.taken.reading)
        what = f"{one.fitment}: {one.called}: {mock_up_words(opened, one)}" + (f"; by {by}" if by else "")
        yield clean(what), clean(stands_words(opened, one))


def by_mock_up(opened: OpenProject, spot: Spot) -> str:
    """What was measured at the mock-up of a clearance, for the candidate whose it is; empty where nothing was."""
    fitment, label = spot.place[AXES.index("fitment")], spot.place[AXES.index("obstacle")]
    own = [one for one in opened.mock_ups if (one.fitment, one.label) == (fitment, label)]
    return "; ".join(clean(f"mock-up, {mock_up_words(opened, one)}: {stands_words(opened, one)}") for one in own)


def predicted_words(opened: OpenProject, fitment: str, label: str) -> str:
    """What the sweep alone says of a least clearance: `1.92 in (0.833 in to 3.41 in)`; `not known` where nothing."""
    held = (one.predicted for one in opened.mock_ups if (one.fitment, one.label) == (fitment, label))
    predicted = next((one for one in held if one is not None), None)
    if predicted is None:
        outcome = opened.sheet.outcome(opened.spot("least_clearance", fitment=fitment, obstacle=label))
        if not isinstance(outcome, Known):
            return "not known"
        predicted = Band(outcome.value, outcome.low, outcome.high)
    return band_words(opened.style, predicted)


def stands_words(opened: OpenProject, one: HeldMockUp) -> str:
    """What a reading says: `they agree, and it is settled: at least 1 in, at most 1 1/16 in`."""
    if one.answer == "not known":
        return f"not checked against the sweep: {one.why}"
    if one.answer == "differs":
        return "they differ: nothing there is known until you find out which is wrong"
    if one.why:
        return f"they agree, but it proves nothing until you look at it: {one.why}"
    most = "" if one.most is None else f"at most {show_plain(one.most, POSITION.smallest(), opened.style)}"
    off = " and ".join(f"{show_plain(by, POSITION.smallest(), opened.style)} as {what}" for what, by in one.off)
    if one.least is not None:
        least = f"at least {show_plain(one.least, POSITION.greatest(), opened.style)}"
        taken_off = f", with {off} taken off" if off else ""
        return f"they agree, and it counts: {least}{taken_off}{', ' if most else ''}{most}"
    missing = "; ".join(_NOT_REACHED[name] for name in one.missing)
    return f"{f'they agree ({most})' if most else 'it says nothing yet'}, and it clears nothing: {missing}"


def mock_up_data(opened: OpenProject) -> list[dict[str, Any]]:
    """The mock-up readings as plain data; values in SI."""
    return [
        {
            "key": f"readings[{one.taken.at}]",
            "fitment": one.fitment,
            "obstacle": one.label,
            "side": one.side or None,
            "measured": [one.taken.room.low, one.taken.room.high],
            "predicted": None if one.predicted is None else one.predicted._asdict(),
            "answer": one.answer,
            "least": one.least,
            "most": one.most,
            "not_reached": list(one.missing),
            "why": one.why or None,
        }
        for one in opened.mock_ups
    ]
