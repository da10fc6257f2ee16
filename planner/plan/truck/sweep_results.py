"""The figures that the sweep gives a project: what each is, and where its results are filed in the worksheet."""

from typing import NamedTuple

from planner.quantities.kinds import ANGLE, DISTANCE, LENGTH, POSITION, TEXT, Kind
from planner.quantities.quantity import Band, Quantity
from planner.trade.fit.sweep import Clearance
from planner.worksheet.catalog import Fact
from planner.worksheet.outcome import Spot

BY_THE_SWEEP = "the sweep"


class SweptFigure(NamedTuple):
    """One result of the sweep: the node that rules read, its name for people, and the axes that it varies over.

    `beside` is the node that says in words where in the sweep it happens, or what binds it.
    """

    node: str
    name: str
    kind: Kind
    axes: tuple[str, ...]
    means: str
    beside: str = ""


_AT, _END = ("fitment", "obstacle"), ("fitment", "axle")

_LESS, _MORE, _LOCK = POSITION.greatest(), POSITION.smallest(), ANGLE.greatest()

_INNER = "most steer of the inner wheel, front outboard"

_OUTER = "most steer of the outer wheel, front inboard"

_HARD = "how much room they leave if you give up wishes and rules of practice"

_ROOM = "how much room the backspaces that fit leave"

_LEAST, _GREATEST = "least backspace that keeps every limit", "most backspace that keeps every limit"

FIGURES = (
    SweptFigure("least_clearance", "fit.clearance", _LESS, _AT, "least clearance over the sweep", "clearance_place"),
    SweptFigure("clearance_place", "", TEXT, _AT, "where in the sweep that is"),
    SweptFigure(
        "guarded_clearance", "", _LESS, _AT, "least clearance to what steers, brakes, carries fuel or has no kind"
    ),
    SweptFigure("contact_clearance", "", _LESS, _AT, "least clearance to what must not be touched"),
    SweptFigure("contact_place", "", TEXT, _AT, "where in the sweep that is"),
    SweptFigure("wished_clearance", "", _LESS, _AT, "least clearance to what should have the room you want"),
    SweptFigure("off_road_clearance", "", _LESS, _AT, "least clearance to sheet metal, off the road too"),
    SweptFigure("onset_words", "", TEXT, _AT, "from where on it's too close"),
    SweptFigure("contact_onset_words", "", TEXT, _AT, "from where on it touches"),
    SweptFigure("kind_words", "", TEXT, _AT, "what it counts as if nobody said"),
    SweptFigure("mock_up_margin", "", POSITION, _AT, "how far a mock-up reading is inside what is possible"),
    SweptFigure("mock_up_words", "", TEXT, _AT, "what was measured, and what the sweep says"),
    SweptFigure("mock_up_doubts", "", TEXT, _AT, "what the sweep's value rests on most"),
    SweptFigure("mock_up_gap", "", _LESS, _END, "least gap to the brake, read at the mock-up on both sides"),
    SweptFigure("mock_up_gap_least", "", POSITION, _END, "least gap to the brake that was read"),
    SweptFigure("mock_up_gap_margin", "", POSITION, _END, "how far a reading of it lies within what can be"),
    SweptFigure("mock_up_gap_words", "", TEXT, _END, "what was measured, and what is predicted"),
    SweptFigure("mock_up_gap_doubts", "", TEXT, _END, "what the prediction rests on most"),
    SweptFigure("spacing_margin", "", _LESS, _END, "what's left where only unmeasured spacings keep a stop open"),
    SweptFigure("spacing_words", "", TEXT, _END, "to what"),
    SweptFigure("spacing_wish_margin", "", _LESS, _END, "what's left where they keep a caution open"),
    SweptFigure("spacing_wish_words", "", TEXT, _END, "to what"),
    SweptFigure("required_clearance", "", DISTANCE, ("obstacle",), "clearance that the obstacle must keep"),
    SweptFigure("inner_steer_limit", "fit.steer_limit", _LOCK, _END, _INNER, "inner_steer_binds"),
    SweptFigure("outer_steer_limit", "fit.outer_steer_limit", _LOCK, _END, _OUTER, "outer_steer_binds"),
    SweptFigure("inner_steer_binds", "", TEXT, _END, "what stops the inner wheel"),
    SweptFigure("outer_steer_binds", "", TEXT, _END, "what stops the outer wheel"),
    SweptFigure("window_width", "fit.backspace_window", _LESS, _END, _ROOM, "window_words"),
    SweptFigure("window_low", "fit.backspace_window_low", _MORE, _END, _LEAST, "window_low_binds"),
    SweptFigure("window_high", "fit.backspace_window_high", _LESS, _END, _GREATEST, "window_high_binds"),
    SweptFigure("window_low_binds", "", TEXT, _END, "what sets the least backspace"),
    SweptFigure("window_high_binds", "", TEXT, _END, "what sets the most backspace"),
    SweptFigure("hard_window_width", "", _LESS, _END, _HARD, "hard_window_words"),
    SweptFigure("hard_window_words", "", TEXT, _END, "what sets it then"),
    SweptFigure("hard_window_low", "", _MORE, _END, "least backspace then"),
    SweptFigure("hard_window_high", "", _LESS, _END, "most backspace then"),
    SweptFigure(
        "window_choice", "", POSITION, _END, "the wheel maker's step closest to where the tire's center plane was"
    ),
    SweptFigure("window_ends", "", TEXT, _END, "what limits the backspace on the sides that are known"),
    SweptFigure("window_words", "", TEXT, _END, "what limits the backspace"),
    SweptFigure(
        "largest_tire",
        "fit.largest_tire",
        LENGTH.greatest(),
        _END,
        "largest diameter that keeps every limit",
        "largest_tire_binds",
    ),
    SweptFigure("largest_tire_binds", "", TEXT, _END, "what limits the diameter"),
)

BESIDE = {figure.node: figure.beside for figure in FIGURES if figure.beside}

STEERED = frozenset({"inner_steer_limit", "outer_steer_limit"})  # only of an axle that steers

LIMITS = frozenset(figure.node for figure in FIGURES if figure.axes == _END and figure.kind.safe)

NODES = frozenset(figure.node for figure in FIGURES)

AT_END = tuple(figure.node for figure in FIGURES if figure.axes == _END and not figure.node.startswith("mock_up_"))

AT_OBSTACLE = tuple(
    figure.node for figure in FIGURES if "obstacle" in figure.axes and not figure.node.startswith("mock_up_")
)  # what was measured at a mock-up stands whatever of the obstacle is not known

Result = Quantity | Band | float | str  # what was wanted, a distance with its ends, a choice, or words


class SweepResults(NamedTuple):
    """What the sweep of a project gave: results by spot, and for what it could not give, why.

    `needs` are keys of missing entries, `troubles` plain words, `tolerance_sources` the entries that bring most of the
    spread, `found` the least clearances themselves, with place and proven bound; `barred` is what rests on an entry
    that was made and is not known, `not_asked` what does not apply to an obstacle of its kind, `gathered` what is told
    under another name.
    """

    results: dict[Spot, Result]
    needs: dict[Spot, tuple[str, ...]]
    troubles: dict[Spot, str]
    tolerance_sources: dict[Spot, tuple[tuple[str, float], ...]]
    found: "dict[Spot, Clearance]"
    barred: set[Spot]
    not_asked: set[Spot]
    gathered: set[Spot]

    def words(self, spot: Spot) -> str:
        """Where in the sweep a least clearance happens, or what binds a limit; empty where nothing says."""
        node = BESIDE.get(spot.node)
        return str(self.results.get(Spot(node, spot.place), "")) if node else ""


def swept_facts() -> list[Fact]:
    """The results as entries that the program makes, so that rules read them like any other."""
    return [
        Fact(figure.node, figure.kind, figure.means, "", "", (frozenset(figure.axes),), (BY_THE_SWEEP,))
        for figure in FIGURES
    ]


def swept_names() -> dict[str, str]:
    """The names for people, each with its node."""
    return {figure.name: figure.node for figure in FIGURES if figure.name}


def band(value: float, low: float, high: float) -> Band:
    return Band(value, min(low, value), max(high, value))
