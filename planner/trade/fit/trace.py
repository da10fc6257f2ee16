"""The region that an obstacle sweeps in the wheel's own half-plane, covered by proven cells that any tire can question.

How an obstacle moves as seen from the wheel does not depend on the tire, so the cover is worked out once and kept. It
is a tree: each cell is a box of steer × travel × along, and covers where the obstacle can be during that box; its two
halves cover the same with less to spare, and are worked out when a question first needs them. How a cell is halved does
not depend on the tire either, so an answer is the same whatever was asked before.

What a cell covers. Let r(s, t, e) be the obstacle's point in the wheel's frame, c the middle of the box, and hs, ht, he
its half-extents. Taylor's theorem along the straight line from c to any point of the box gives

    r = r(c) + r_s ds + r_t dt + r_e de + v,   |v| ≤ rest,

with rest half of the largest second derivative along such a line. Its parts are arcs and rolls:

- steer twice: a turn about the kingpin axis, so |r_ss| is the distance to that axis. In the box it is at most the
  distance at its middle (which is |r_s|) plus what the point moves by travel and along: T ht + E he.
- steer with travel, steer with along: turning a rate keeps its length: |r_st| ≤ T, |r_se| ≤ E (the edge's length).
- travel twice, with roll angle phi, sin phi = a + b t, rise per metre m, and D the distance to the roll axis:
  phi' = b / cos phi, phi'' = b² sin phi / cos³ phi;   T = |phi'| D + |m|;
  |r_tt| ≤ D hypot(phi'', phi'²) + 2 |m phi'|.
- travel with along: the edge turns as it rolls: |r_te| ≤ |phi'| × the edge's length across the roll axis.
- along twice: nothing, an edge is straight.

    rest = (|r_ss| hs² + |r_tt| ht²)/2 + T hs ht + E hs he + |r_te| ht he

T, |r_tt| and |r_te| are taken once for each leg at its worst travel and end of the edge.

In the half-plane the axial coordinate is y itself. The radial one, hypot(x, z), is convex: it is never less than its
tangent at c says, and more by at most w²/(2 × least radius in the box), w being the move across the radius (`bulge`).
"""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot, sqrt

from planner.trade.fit.motion import Leg, Motion, Obstacle, Place, Swing, legs, swing

ROUNDING = 1e-12  # m; more than the sums' own rounding at the size of a truck


@dataclass(slots=True)
class Cell:
    """A box of the sweep and what the obstacle covers in it, in the half-plane; `halves` are filled in when asked for.

    `moves` holds, for steer, travel and along, what half the extent moves the point by: axial, then radial.
    """

    leg: int
    middle: tuple[float, float, float]
    extent: tuple[float, float, float]  # half-extents
    axial: float
    radial: float
    moves: tuple[float, float, float, float, float, float]
    rest: float
    bulge: float
    split: int
    halves: "tuple[Cell, Cell] | None" = None

    @property
    def spread(self) -> float:
        """No point that the cell covers is farther than this from its middle, in the half-plane."""
        a, b, c, d, e, f = self.moves
        return hypot(a, b) + hypot(c, d) + hypot(e, f) + self.rest + self.bulge


@dataclass(frozen=True, slots=True)
class Worst:
    """The bounds on a leg's rates that its cells share: T, |r_tt| and |r_te| of the module's derivation, and E."""

    travel: float
    travel_twice: float
    travel_along: float
    along: float


def _worst(motion: Motion, obstacle: Obstacle, leg: Leg) -> Worst:
    sines = [abs(leg.roll[0] + leg.roll[1] * travel) for travel in (leg.low, leg.high)]
    sine, b, m = max(sines), leg.roll[1], abs(leg.rise[1])
    cosine = sqrt(1.0 - sine * sine)
    turn, turn_twice = abs(b) / cosine, b * b * sine / cosine**3
    # The distance to an axis is convex along the edge and along the rise, so it is largest at their ends.
    arm = max(
        hypot(end[1] + motion.face_to_face / 2.0, end[2] - leg.rise[0] - leg.rise[1] * travel)
        for end in (obstacle.start, obstacle.end or obstacle.start)
        for travel in (leg.low, leg.high)
    )
    _, ey, ez = obstacle.edge
    return Worst(
        turn * arm + m if leg.high > leg.low else 0.0,
        arm * hypot(turn_twice, turn * turn) + 2.0 * m * turn,
        turn * hypot(ey, ez),
        hypot(*obstacle.edge),
    )


@dataclass(frozen=True, slots=True)
class Trace:
    """An obstacle's swept region: its motion, its legs, and the cells that the cover starts from."""

    motion: Motion
    obstacle: Obstacle
    legs: tuple[Leg, ...]
    swings: tuple[Swing, ...]
    worsts: tuple[Worst, ...]
    roots: tuple[Cell, ...]


@lru_cache(maxsize=256)
def trace(motion: Motion, obstacle: Obstacle) -> Trace:
    """The obstacle's region under that motion, to be questioned by any number of tires; kept for the next that asks."""
    stretches = legs(motion, obstacle.rides)
    swings = tuple(swing(motion, obstacle, leg) for leg in stretches)
    worsts = tuple(_worst(motion, obstacle, leg) for leg in stretches)
    steers = [(-motion.steer_out, 0.0), (0.0, motion.steer_in)]
    if obstacle.rides == "knuckle":
        steers = []
    # In and out are kept apart so that each way's steer limit can be asked of its own cells.
    steers = [pair for pair in steers if pair[0] < pair[1]] or [(0.0, 0.0)]
    along = 0.5 if any(obstacle.edge) else 0.0
    roots = tuple(
        _cell(swings[index], worsts[index], index, middle, extent)
        for index, leg in enumerate(stretches)
        for low, high in steers
        for middle, extent in [
            (
                ((low + high) / 2.0, (leg.low + leg.high) / 2.0, along),
                ((high - low) / 2.0, (leg.high - leg.low) / 2.0, along),
            )
        ]
    )
    return Trace(motion, obstacle, stretches, swings, worsts, roots)


def _cell(
    see: Swing, worst: Worst, leg: int, middle: tuple[float, float, float], extent: tuple[float, float, float]
) -> Cell:
    hs, ht, he = extent
    x, y, z, sx, sy, sz, tx, ty, tz, ex, ey, ez = see(*middle)
    by_travel, by_along = worst.travel * ht, worst.along * he
    arm = sqrt(sx * sx + sy * sy + sz * sz)
    twice_steer = 0.5 * (arm + by_travel + by_along) * hs * hs
    twice_travel = 0.5 * worst.travel_twice * ht * ht
    steer_travel, steer_along, travel_along = hs * by_travel, hs * by_along, worst.travel_along * ht * he
    rest = twice_steer + twice_travel + steer_travel + steer_along + travel_along + ROUNDING
    # Halve what moves the point most, second-order moves included.
    sizes = (
        arm * hs + twice_steer + steer_travel + steer_along,
        by_travel + twice_travel + steer_travel + travel_along,
        by_along + steer_along + travel_along,
    )
    split = 0 if sizes[0] >= sizes[1] and sizes[0] >= sizes[2] else (1 if sizes[1] >= sizes[2] else 2)
    radial = sqrt(x * x + z * z)
    if radial < ROUNDING:
        moves = (sy * hs, 0.0, ty * ht, 0.0, ey * he, 0.0)
        bulge = sizes[0] + sizes[1] + sizes[2] + rest
        return Cell(leg, middle, extent, y, radial, moves, rest, bulge, split)
    ux, uz = x / radial, z / radial
    rs, rt, re = (ux * sx + uz * sz) * hs, (ux * tx + uz * tz) * ht, (ux * ex + uz * ez) * he
    across = abs(ux * sz - uz * sx) * hs + abs(ux * tz - uz * tx) * ht + abs(ux * ez - uz * ex) * he + rest
    inward = abs(rs) + abs(rt) + abs(re) + rest
    bulge = 2.0 * (across + inward)
    if inward < radial:
        bulge = min(bulge, 0.5 * across * across / (radial - inward))
    return Cell(leg, middle, extent, y, radial, (sy * hs, rs, ty * ht, rt, ey * he, re), rest, bulge, split)


def halves(path: Trace, cell: Cell) -> tuple[Cell, Cell]:
    """The cell's two halves, worked out at the first question and kept."""
    if cell.halves is None:
        axis = cell.split
        extent = list(cell.extent)
        extent[axis] *= 0.5
        low, high = list(cell.middle), list(cell.middle)
        low[axis] -= extent[axis]
        high[axis] += extent[axis]
        see, worst, half = path.swings[cell.leg], path.worsts[cell.leg], (extent[0], extent[1], extent[2])
        cell.halves = (
            _cell(see, worst, cell.leg, (low[0], low[1], low[2]), half),
            _cell(see, worst, cell.leg, (high[0], high[1], high[2]), half),
        )
    return cell.halves


def place(path: Trace, leg: int, at: tuple[float, float, float]) -> Place:
    """Steer, travel and along as a place of the sweep, without the hair past its ends that halving can add up to."""
    motion, stretch = path.motion, path.legs[leg]
    return Place(
        max(-motion.steer_out, min(motion.steer_in, at[0])),
        max(stretch.low, min(stretch.high, at[1])),
        stretch.case,
        max(0.0, min(1.0, at[2])),
    )
