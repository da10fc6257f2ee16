"""The figures that the sweep gives a project: what each is, and where its results are filed in the worksheet."""

from dataclasses import replace
from typing import Any, NamedTuple

from planner.quantities.kinds import ANGLE, DISTANCE, LENGTH, POSITION, TEXT, Kind
from planner.quantities.quantity import Band
from planner.worksheet.catalog import Fact
from planner.worksheet.outcome import Spot

LOCK = replace(ANGLE, beside="lock")  # shown to a hundredth of a degree, never more than it is
BY_THE_SWEEP = "the sweep"


class SweptFigure(NamedTuple):
    """One result of the sweep: the node that rules read, its name for people, and the axes that it varies over."""

    node: str
    name: str
    kind: Kind
    axes: tuple[str, ...]
    means: str


_END = ("fitment", "axle")
FIGURES = (
    SweptFigure(
        "least_clearance", "fit.clearance", POSITION, ("fitment", "obstacle"), "least clearance over the sweep"
    ),
    SweptFigure("clearance_place", "", TEXT, ("fitment", "obstacle"), "where in the sweep that is"),
    SweptFigure("required_clearance", "", DISTANCE, ("obstacle",), "clearance that the obstacle must keep"),
    SweptFigure("inner_steer_limit", "fit.steer_limit", LOCK, _END, "most steer of the inner wheel, front outboard"),
    SweptFigure(
        "outer_steer_limit", "fit.outer_steer_limit", LOCK, _END, "most steer of the outer wheel, front inboard"
    ),
    SweptFigure("inner_steer_binds", "", TEXT, _END, "what stops the inner wheel"),
    SweptFigure("outer_steer_binds", "", TEXT, _END, "what stops the outer wheel"),
    SweptFigure("window_width", "fit.backspace_window", POSITION, _END, "how much room the backspaces that fit leave"),
    SweptFigure("window_low", "fit.backspace_window_low", POSITION, _END, "least backspace that keeps every limit"),
    SweptFigure(
        "window_high", "fit.backspace_window_high", POSITION, _END, "greatest backspace that keeps every limit"
    ),
    SweptFigure("window_choice", "", POSITION, _END, "the wheel maker's step that leaves most to the nearer end"),
    SweptFigure("window_words", "", TEXT, _END, "what binds the backspace"),
    SweptFigure("largest_tire", "fit.largest_tire", LENGTH, _END, "largest diameter that keeps every limit"),
    SweptFigure("largest_tire_binds", "", TEXT, _END, "what binds the diameter"),
)
NODES = frozenset(figure.node for figure in FIGURES)


class Swept(NamedTuple):
    """What the sweep of a project gave: results by spot, and for what it could not give, why.

    `needs` are keys of missing entries, `troubles` plain words, `doubts` the entries that bring most of the spread.
    """

    results: dict[Spot, Any]
    needs: dict[Spot, tuple[str, ...]]
    troubles: dict[Spot, str]
    doubts: dict[Spot, tuple[tuple[str, float], ...]]


def facts() -> list[Fact]:
    """The results as entries that the program makes, so that rules read them like any other."""
    return [
        Fact(figure.node, figure.kind, figure.means, "", "", (frozenset(figure.axes),), (BY_THE_SWEEP,))
        for figure in FIGURES
    ]


def names() -> dict[str, str]:
    """The names for people, each with its node."""
    return {figure.name: figure.node for figure in FIGURES if figure.name}


def band(value: float, low: float, high: float) -> Band:
    return Band(value, min(low, value), max(high, value))
