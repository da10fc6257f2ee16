"""What a formula that turns back is written with: the least or greatest of several, a size, one or the other.

Where both ends of a tolerance are worked out, a formula that turns between them hides its least or greatest. So a
number that is one of several keeps all of them: each runs straight through the turn, and their bounds make its own.
"""

from collections.abc import Callable
from operator import itemgetter
from typing import Any, Literal

from planner.worksheet.declare import Finding

Way = Literal["least", "greatest", "where", "along", "either"]
Span = tuple[float, float]
Over = Callable[[float, float], Span]
MIRRORED: dict[Way, Way] = {"least": "greatest", "greatest": "least"}
STAYING = {"least": 0, "greatest": 0, "where": 1, "along": 1, "either": 0}  # pieces that say where, and are no part


class Turned(float):
    """A number with the `pieces` that it is one of, and which: by `where` the second or the third, by the first's sign.

    Where it goes `along` another, that is the first piece, `over` gives its least and greatest between two of it, and
    the second piece is what was added since.
    """

    __slots__ = ("over", "pieces", "way")
    pieces: tuple[float, ...]
    way: Way
    over: Over | None

    def __neg__(self) -> "Turned":
        return self._mirrored_in(0.0)

    def __add__(self, other: Any) -> Any:
        kept = STAYING[self.way]
        pieces = (*self.pieces[:kept], *[one + other for one in self.pieces[kept:]])
        return _made(float(self) + other, self.way, pieces, self.over)

    __radd__ = __add__

    def __sub__(self, other: Any) -> Any:
        return self + -other

    def __rsub__(self, other: Any) -> Any:
        return self._mirrored_in(other)

    def __mul__(self, other: Any) -> Any:
        return self._scaled_by(other, lambda one: one * other)

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> Any:
        return self._scaled_by(other, lambda one: one / other)

    def _scaled_by(self, other: Any, call: Callable[[float], Any]) -> Any:
        value = call(float(self))
        if isinstance(other, Turned) or not isinstance(other, (float, int)):
            return value
        kept = STAYING[self.way]
        pieces = (*self.pieces[:kept], *map(call, self.pieces[kept:]))
        way = MIRRORED.get(self.way, self.way) if other < 0 else self.way
        return _made(value, way, pieces, _over_by(self.over, call))

    def _mirrored_in(self, other: Any) -> "Turned":
        kept = STAYING[self.way]
        pieces = (*self.pieces[:kept], *[other - one for one in self.pieces[kept:]])
        way = MIRRORED.get(self.way, self.way)
        return _made(other - float(self), way, pieces, _over_by(self.over, lambda one: -one))

    def each(self, value: float, call: Callable[[float], Any]) -> "Turned | None":
        """What becomes of it by a call that rises or falls all along; None where that cannot be told."""
        if self.over is not None:
            return None
        kept = STAYING[self.way]
        pieces = [call(one) for one in self.pieces[kept:]]
        if not all(isinstance(one, float) for one in pieces):
            return None
        way = self.way
        if way in MIRRORED:
            above, below = any(one > value for one in pieces), any(one < value for one in pieces)
            way = "either" if above == below else "least" if above else "greatest"
        return _made(value, way, (*self.pieces[:kept], *pieces))


def _made(value: float, way: Way, pieces: tuple[float, ...], over: Over | None = None) -> Turned:
    made = Turned(value)
    made.way, made.pieces, made.over = way, pieces, over
    return made


def _over_by(over: Over | None, call: Callable[[float], float]) -> Over | None:
    """What goes along another number, once it was multiplied; the ends change sides where by less than nothing."""
    if over is None:
        return None

    def scaled(low: float, high: float) -> Span:
        ends = sorted(map(call, over(low, high)))
        return ends[0], ends[1]

    return scaled


def least(*of: float) -> float:
    """The least of several, as `min`.

    >>> least(3.0, 2.0)
    2.0
    """
    return _turned(min(of), "least", of)


def greatest(*of: float) -> float:
    """The greatest of several, as `max`.

    >>> greatest(3.0, 2.0)
    3.0
    """
    return _turned(max(of), "greatest", of)


def magnitude(of: float) -> float:
    """How far a number is from nothing, as `abs`.

    >>> magnitude(-2.0)
    2.0
    """
    return _made(abs(of), "greatest", (of, -of, 0.0)) if isinstance(of, (float, int)) else abs(of)


def where(nothing_or_more: float, then: float, otherwise: float) -> float:
    """One or the other, by the sign of a number; between the two the result may jump.

    >>> where(0.0, 1.0, 2.0), where(-1.0, 1.0, 2.0)
    (1.0, 2.0)
    """
    return _turned(then if nothing_or_more >= 0 else otherwise, "where", (nothing_or_more, then, otherwise))


def along(of: float, value: float, over: Over) -> float:
    """A number worked out from one other: `over` gives its least and greatest while that one goes from low to high.

    >>> along(2.4, round(2.4), lambda low, high: (round(low), round(high)))
    2.0
    """
    return _made(value, "along", (of, 0.0), over) if isinstance(of, (float, int)) else value


def _turned(value: float, way: Way, of: tuple[float, ...]) -> float:
    if all(isinstance(one, (float, int)) for one in of):
        return _made(value, way, of)
    return value  # with units, where a test runs the formula so


def carried(call: Callable[..., Any]) -> Callable[..., Any]:
    """A formula that reads what turned: its result turns where that does, with a piece for each of its pieces."""

    def carried_call(*given: Any) -> Any:
        here = call(*given)
        at = next((place for place, one in enumerate(given) if isinstance(one, Turned)), None)
        if at is None:
            return here

        def through(part: Callable[[Any], Any]) -> Any:
            """One number of the result with a piece for each of the argument's, or as it is."""
            value = part(here)
            if not isinstance(value, float):
                return value
            try:
                found = given[at].each(value, lambda one: part(carried_call(*given[:at], one, *given[at + 1 :])))
            except (ArithmeticError, ValueError):
                return value  # it stands only where the turned number does
            return value if found is None else found

        if isinstance(here, Finding):
            return here._replace(margin=through(number_in))
        if hasattr(here, "_fields"):  # of several parts
            return type(here)(*(through(itemgetter(place)) for place in range(len(here))))
        return through(number_in)

    return carried_call


def moved(one: Any, other: Any) -> bool:
    """Whether two results differ, or a piece of them does that is not the least or greatest now, however deep."""
    if one != other:
        return True
    if isinstance(one, tuple) and isinstance(other, tuple):  # of several parts, or a rule's finding
        return any(moved(mine, its) for mine, its in zip(one, other, strict=True))
    before, after = (each.pieces if isinstance(each, Turned) else () for each in (one, other))
    return len(before) != len(after) or any(map(moved, before, after))


def number_in(value: Any) -> Any:
    """A value, or the margin of a rule's finding."""
    return value.margin if isinstance(value, Finding) else value
