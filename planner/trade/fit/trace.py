"""The region that an obstacle sweeps in the wheel's own half-plane, covered by proven cells that any tire can question.

How an obstacle moves as seen from the wheel does not depend on the tire, so the cover is worked out once and kept. It
is a tree: each cell is a box of steer × travel × along, and covers where the obstacle can be during that box; its two
halves cover the same with less to spare, and are worked out when a question first needs them. How a cell is halved does
not depend on the tire either, so an answer is the same whatever was asked before.

What a cell covers. Let r(s, t, e) be the obstacle's point in the wheel's frame, c the middle of the box, and hs, ht, he
its half-extents. Taylor's theorem along the straight line from c to any point of the box gives

    r = r(c) + r_s ds + r_t dt + r_e de + (r_ss ds² + r_tt dt²)/2 + r_st ds dt + r_se ds de + r_te dt de + v,
    |v| ≤ rest,

with every derivative taken at c, and rest a sixth of the largest third derivative along such a line. Its parts are arcs
and rolls. A turn about the kingpin axis keeps every length: by steer once more no derivative is longer than it was, and
|r_s| is the distance to that axis, in the box at most |r_s(c)| + T ht + E he. By travel, with roll angle phi,
sin phi = a + b t, rise per meter m, and D the distance to the roll axis:

    phi' = b / cos phi,   phi'' = b² sin phi / cos³ phi,   phi''' = b³ (1 + 2 sin² phi) / cos⁵ phi
    |r_t| ≤ T = |phi'| D + |m|
    |r_tt| ≤ D hypot(phi'', phi'²) + 2 |m phi'|
    |r_ttt| ≤ D (|phi'''| + 3 |phi' phi''| + |phi'|³) + 3 |m| hypot(phi'', phi'²)

The edge, of length E, and E⊥ across the roll axis, turns as it rolls: |r_te| ≤ |phi'| E⊥ and
|r_tte| ≤ hypot(phi'', phi'²) E⊥. It is straight, so along twice is nothing. Hence

    6 rest = |r_s| hs³ + 3 hs² (T ht + E he) + 3 hs ht (|r_tt| ht + 2 |r_te| he) + ht² (|r_ttt| ht + 3 |r_tte| he)

and all that is past the first order comes to at most

    loose = (|r_s| hs² + |r_tt| ht²)/2 + T hs ht + E hs he + |r_te| ht he

All but |r_s| are taken once for each leg, at its worst travel and end of the edge.

In the half-plane the axial coordinate is y itself. The radial one, hypot(x, z), is convex: it is never less than its
tangent at c says, and more by at most w²/(2 × least radius in the box), w being the move across the radius (`bulge`).
"""

from functools import lru_cache
from math import hypot, sqrt
from typing import NamedTuple

from planner.trade.fit.motion import Leg, Motion, SweepPlace, SweptObstacle, Swing, legs, swing

ROUNDING = 1e-12  # m; more than the sums' own rounding at the size of a truck


Three = tuple[float, float, float]


class Cell(NamedTuple):
    """A box of the sweep and what the obstacle covers in it, in the half-plane; `parts` are filled in when asked for.

    `moves` holds, for steer, travel and along, what half the extent moves the point by: axial, then radial. `curves`
    holds the same of the second order: steer twice, travel twice, steer and travel, steer and along, travel and along.
    """

    leg: int
    middle: Three
    extent: Three  # half-extents
    axial: float
    radial: float
    moves: tuple[float, ...]
    curves: tuple[float, ...]
    rest: float
    loose: float
    bulge: float
    split: int
    parts: "list[Cell]"

    @property
    def spread(self) -> float:
        """No point that the cell covers is farther than this from its middle, in the half-plane."""
        a, b, c, d, e, f = self.moves
        return hypot(a, b) + hypot(c, d) + hypot(e, f) + self.loose + self.bulge


class Worst(NamedTuple):
    """The bounds on a leg's rates that its cells share, by the letters of the module's derivation."""

    t: float
    tt: float
    ttt: float
    te: float
    tte: float
    e: float


def _worst(motion: Motion, obstacle: SweptObstacle, leg: Leg) -> Worst:
    sines = [abs(leg.roll[0] + leg.roll[1] * travel) for travel in (leg.low, leg.high)]
    sine, b, m = max(sines), abs(leg.roll[1]), abs(leg.rise[1])
    cosine = sqrt(1.0 - sine * sine)
    turn, turn_twice = b / cosine, b * b * sine / cosine**3
    turn_thrice = b**3 * (1.0 + 2.0 * sine * sine) / cosine**5
    # The distance to an axis is convex along the edge and along the rise, so it is largest at their ends.
    arm = max(
        hypot(end[1] + motion.face_to_face / 2.0, end[2] - leg.rise[0] - leg.rise[1] * travel)
        for end in (obstacle.start, obstacle.end or obstacle.start)
        for travel in (leg.low, leg.high)
    )
    _, ey, ez = obstacle.edge
    bend, across = hypot(turn_twice, turn * turn), hypot(ey, ez)
    return Worst(
        turn * arm + m if leg.high > leg.low else 0.0,
        arm * bend + 2.0 * m * turn,
        arm * (turn_thrice + 3.0 * turn * turn_twice + turn**3) + 3.0 * m * bend,
        turn * across,
        bend * across,
        hypot(*obstacle.edge),
    )


class Region(NamedTuple):
    """What an obstacle sweeps under a motion, leg by leg, and the cells that its cover starts from."""

    legs: tuple[Leg, ...]
    swings: tuple[Swing, ...]
    worsts: tuple[Worst, ...]
    roots: tuple[Cell, ...]


class Trace(NamedTuple):
    """An obstacle and its swept region under a motion, to be questioned by any number of tires."""

    motion: Motion
    obstacle: SweptObstacle
    region: Region


def trace(motion: Motion, obstacle: SweptObstacle) -> Trace:
    """The obstacle's swept region, kept for the next that asks, whatever clearance it wants of the same place."""
    return Trace(
        motion, obstacle, swept_region(motion, SweptObstacle("", obstacle.start, obstacle.end, obstacle.rides))
    )


@lru_cache(maxsize=256)
def swept_region(motion: Motion, obstacle: SweptObstacle) -> Region:
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
    return Region(stretches, swings, worsts, roots)


def _cell(see: Swing, worst: Worst, leg: int, middle: Three, extent: Three) -> Cell:
    hs, ht, he = extent
    (
        x, y, z, sx, sy, sz, tx, ty, tz, ex, ey, ez,
        ssx, ssy, ssz, ttx, tty, ttz, stx, sty, stz, sex, sey, sez, tex, tey, tez,
    ) = see(*middle)  # fmt: skip
    t, tt, ttt, te, tte, e = worst
    by_travel, by_along = t * ht, e * he
    arm = sqrt(sx * sx + sy * sy + sz * sz)
    farthest = arm + by_travel + by_along
    half_ss, half_tt, st, se = 0.5 * hs * hs, 0.5 * ht * ht, hs * ht, hs * he
    steer_twice, travel_twice = farthest * half_ss, tt * half_tt
    steer_travel, steer_along, travel_along = hs * by_travel, hs * by_along, te * ht * he
    loose = steer_twice + travel_twice + steer_travel + steer_along + travel_along + ROUNDING
    rest = ROUNDING + (1.0 / 6.0) * (
        hs * hs * (farthest * hs + 3.0 * (by_travel + by_along))
        + 3.0 * st * (tt * ht + 2.0 * te * he)
        + ht * ht * (ttt * ht + 3.0 * tte * he)
    )
    # Halve what moves the point most, second-order moves included.
    sizes = (
        arm * hs + steer_twice + steer_travel + steer_along,
        by_travel + travel_twice + steer_travel + travel_along,
        by_along + steer_along + travel_along,
    )
    split = 0 if sizes[0] >= sizes[1] and sizes[0] >= sizes[2] else (1 if sizes[1] >= sizes[2] else 2)
    radial = sqrt(x * x + z * z)
    if radial < ROUNDING:
        ux = uz = rs = rt = re = 0.0
        bulge = sizes[0] + sizes[1] + sizes[2] + loose
    else:
        ux, uz = x / radial, z / radial
        rs, rt, re = (ux * sx + uz * sz) * hs, (ux * tx + uz * tz) * ht, (ux * ex + uz * ez) * he
        across = abs(ux * sz - uz * sx) * hs + abs(ux * tz - uz * tx) * ht + abs(ux * ez - uz * ex) * he + loose
        inward = abs(rs) + abs(rt) + abs(re) + loose
        bulge = 2.0 * (across + inward)
        if inward < radial:
            bulge = min(bulge, 0.5 * across * across / (radial - inward))
    curves = (
        ssy * half_ss, (ux * ssx + uz * ssz) * half_ss,
        tty * half_tt, (ux * ttx + uz * ttz) * half_tt,
        sty * st, (ux * stx + uz * stz) * st,
        sey * se, (ux * sex + uz * sez) * se,
        tey * ht * he, (ux * tex + uz * tez) * ht * he,
    )  # fmt: skip
    moves = (sy * hs, rs, ty * ht, rt, ey * he, re)
    return Cell(leg, middle, extent, y, radial, moves, curves, rest, loose, bulge, split, [])


def halves(path: Trace, cell: Cell) -> list[Cell]:
    """The cell's two halves, worked out at the first question and kept."""
    parts = cell.parts
    if not parts:
        leg, axis, (hs, ht, he), (s, t, e) = cell.leg, cell.split, cell.extent, cell.middle
        low: Three
        high: Three
        if axis == 0:
            hs *= 0.5
            low, high = (s - hs, t, e), (s + hs, t, e)
        elif axis == 1:
            ht *= 0.5
            low, high = (s, t - ht, e), (s, t + ht, e)
        else:
            he *= 0.5
            low, high = (s, t, e - he), (s, t, e + he)
        see, worst = path.region.swings[leg], path.region.worsts[leg]
        parts.append(_cell(see, worst, leg, low, (hs, ht, he)))
        parts.append(_cell(see, worst, leg, high, (hs, ht, he)))
    return parts


def place(path: Trace, leg: int, at: tuple[float, float, float]) -> SweepPlace:
    """Steer, travel and along as a place of the sweep, without the hair past its ends that halving can add up to."""
    motion, stretch = path.motion, path.region.legs[leg]
    return SweepPlace(
        max(-motion.steer_out, min(motion.steer_in, at[0])),
        max(stretch.low, min(stretch.high, at[1])),
        stretch.case,
        max(0.0, min(1.0, at[2])),
    )
