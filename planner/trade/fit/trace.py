"""The region that an obstacle sweeps in the wheel's own half-plane, covered by proven cells that any tire can question.

How an obstacle moves as seen from the wheel does not depend on the tire, so the cover is worked out once and kept. It
is a tree: each cell is a box of steer × share × roll × along (see swing.py: the share of this wheel's rise that the
roll leaves), and covers where the obstacle can be during that box; its two halves cover the same with less to spare,
and are worked out when a question first needs them. How a cell is halved does not depend on the tire either, so an
answer is the same whatever was asked before.

What a cell covers. Let r(s, t, p, e) be the obstacle's point in the wheel's frame, c the middle of the box, and hs, ht,
hp, he its half-extents. Taylor's theorem along the straight line from c to any point of the box gives

    r = r(c) + first-order moves + r_ss ds²/2 + r_pp dp²/2 + r_st ds dt + r_sp ds dp + r_se ds de + r_tp dt dp
        + r_pe dp de + v,        |v| ≤ rest

with every derivative taken at c, and rest a sixth of the largest third derivative along such a line. The others of the
second order are nothing: at one roll the point moves straight with the share, and the edge is straight.

A turn about the kingpin axis keeps every length: by steer once more no derivative is longer than it was, and |r_s| is
the distance to that axis, in the box at most |r_s(c)| + T ht + P hp + E he. By the roll, the sine p of the angle phi,
the point in the axle's frame is a roll of w = (across, above the middle), D long, and in a leg

    phi' = 1 / cos phi,   phi'' = p / cos³ phi,   phi''' = (1 + 2 p²) / cos⁵ phi
    a roll's own rates are at most   R1 = phi',   R2 = hypot(phi'', phi'²),   R3 = phi''' + 3 phi' phi'' + phi'³
    w changes by at most   T = the room to rise by share,   K by roll,   G by both, and by nothing past that, so
    |r_p| ≤ P = R1 D + K        |r_tp| ≤ R1 T + G          |r_pe| ≤ R1 E⊥
    |r_pp| ≤ R2 D + 2 R1 K      |r_tpp| ≤ R2 T + 2 R1 G    |r_ppe| ≤ R2 E⊥
    |r_ppp| ≤ R3 D + 3 R2 K

with E the edge's length and E⊥ what of it lies across the roll axis. Hence

    6 rest = |r_s| hs³ + 3 hs² (T ht + P hp + E he) + 3 hs hp (|r_pp| hp + 2 |r_tp| ht + 2 |r_pe| he)
             + hp² (|r_ppp| hp + 3 |r_tpp| ht + 3 |r_ppe| he)

All but |r_s| are taken once for each leg, at its worst roll and end of the edge.

In the half-plane the axial coordinate is y itself. The radial one, hypot(x, z), is convex: it is never less than its
tangent at c says, and more by at most w²/(2 × least radius in the box), w being the move across the radius (`bulge`).

Where the motion is in doubt (see motion.doubt), the point may be elsewhere by as much: `doubt` is that much at the
middle, `most_doubt` anywhere in the box.
"""

from functools import lru_cache
from math import hypot, sqrt
from typing import NamedTuple

from planner.trade.fit.motion import Motion, SweepPlace, SweptObstacle, doubt
from planner.trade.fit.swing import Leg, Swing, legs, swing

ROUNDING = 1e-12  # m; more than the sums' own rounding at the size of a truck
STEER, SHARE, ROLL, ALONG = range(4)

Four = tuple[float, float, float, float]


class Cell(NamedTuple):
    """A box of the sweep and what the obstacle covers in it, in the half-plane; `parts` are filled in when asked for.

    `moves` holds, for steer, share, roll and along, what half the extent moves the point by: axial, then radial.
    `curves` holds the same of the second order: steer twice, roll twice, steer and share, steer and roll, steer and
    along, share and roll, roll and along.
    """

    leg: int
    middle: Four
    extent: Four  # half-extents
    axial: float
    radial: float
    moves: tuple[float, ...]
    curves: tuple[float, ...]
    rest: float
    loose: float
    bulge: float
    doubt: float
    most_doubt: float
    split: int
    parts: "list[Cell]"

    @property
    def spread(self) -> float:
        """No point that the cell covers is farther than this from its middle, in the half-plane."""
        a, b, c, d, e, f, g, h = self.moves
        return hypot(a, b) + hypot(c, d) + hypot(e, f) + hypot(g, h) + self.loose + self.bulge


class Worst(NamedTuple):
    """The bounds on a leg's rates that its cells share, by the letters of the module's derivation."""

    t: float
    p: float
    pp: float
    ppp: float
    tp: float
    tpp: float
    pe: float
    ppe: float
    e: float


def _worst(motion: Motion, obstacle: SweptObstacle, leg: Leg) -> Worst:
    half = motion.face_to_face / 2.0
    sine = max(abs(leg.low), abs(leg.high))
    cosine = sqrt(1.0 - sine * sine)
    once, twice, thrice = 1.0 / cosine, sine / cosine**3, (1.0 + 2.0 * sine * sine) / cosine**5
    bend = hypot(twice, once * once)
    turn = thrice + 3.0 * once * twice + once**3
    corners = [(roll, rise) for roll in (leg.low, leg.high) for rise in (leg.span(roll)[0], sum(leg.span(roll)))]
    # The distance to an axis is convex along the edge, the rise and the roll, so it is largest at their ends.
    arm = max(
        hypot(end[1] + half, end[2] - rise + half * roll)
        for end in (obstacle.start, obstacle.end or obstacle.start)
        for roll, rise in corners
    )
    room = max(leg.span(roll)[1] for roll in (leg.low, leg.high))
    grows = abs(leg.most[1] - leg.least[1])
    sinks = max(abs(half - leg.least[1]), abs(half - leg.most[1]))
    _, ey, ez = obstacle.edge
    across = hypot(ey, ez)
    return Worst(
        room,
        once * arm + sinks,
        bend * arm + 2.0 * once * sinks,
        turn * arm + 3.0 * bend * sinks,
        once * room + grows,
        bend * room + 2.0 * once * grows,
        once * across,
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
    """An obstacle and its swept region under a motion, to be questioned by any number of tires.

    What a search leaves undecided counts against the tire, as it must where somebody is to rely on it. Of a `kind`
    trace it counts for the tire: such a one says what can surely not be.
    """

    motion: Motion
    obstacle: SweptObstacle
    region: Region
    kind: bool = False

    def seen(self, leg: int, at: Four) -> tuple[float, float, float]:
        """The obstacle's point in the half-plane at a place of a leg, axial and radial, and the doubt of it there."""
        x, y, z, *_ = self.region.swings[leg](*at)
        return y, sqrt(x * x + z * z), doubt_of(self.motion, self.obstacle, at, (x, y, z))


def doubt_of(motion: Motion, obstacle: SweptObstacle, at: Four, point: tuple[float, float, float]) -> float:
    """How far the obstacle's point may be from where it is seen, as the motion is in doubt."""
    if not motion.doubtful or obstacle.rides == "knuckle":
        return 0.0
    x, y, z = point
    return doubt(motion, at[STEER], at[ROLL], hypot(x, y + motion.kingpin_inset, z))


def most_doubt(path: Trace) -> float:
    """The most that the obstacle's point may be elsewhere at any place of the sweep, as the motion is in doubt."""
    return max(cell.most_doubt for cell in path.region.roots)


def trace(motion: Motion, obstacle: SweptObstacle, kind: bool = False) -> Trace:
    """The obstacle's swept region, kept for the next that asks, whatever clearance it wants of the same place."""
    bare = SweptObstacle("", obstacle.start, obstacle.end, obstacle.rides)
    return Trace(motion, obstacle, swept_region(motion, bare), kind)


@lru_cache(maxsize=512)
def swept_region(motion: Motion, obstacle: SweptObstacle) -> Region:
    strips = legs(motion, obstacle.rides)
    swings = tuple(swing(motion, obstacle, leg) for leg in strips)
    worsts = tuple(_worst(motion, obstacle, leg) for leg in strips)
    steers = [(-motion.steer_out, 0.0), (0.0, motion.steer_in)]
    if obstacle.rides == "knuckle":
        steers = []
    # In and out are kept apart so that each way's steer limit can be asked of its own cells.
    steers = [pair for pair in steers if pair[0] < pair[1]] or [(0.0, 0.0)]
    along = 0.5 if any(obstacle.edge) else 0.0
    roots = []
    for index, leg in enumerate(strips):
        share = 0.5 if worsts[index].t > 0.0 else 0.0
        for low, high in steers:
            middle = ((low + high) / 2.0, share, (leg.low + leg.high) / 2.0, along)
            extent = ((high - low) / 2.0, share, (leg.high - leg.low) / 2.0, along)
            roots.append(_cell(motion, obstacle, swings[index], worsts[index], index, middle, extent))
    return Region(strips, swings, worsts, tuple(roots))


def _cell(
    motion: Motion, obstacle: SweptObstacle, see: Swing, worst: Worst, leg: int, middle: Four, extent: Four
) -> Cell:
    hs, ht, hp, he = extent
    (
        x, y, z, sx, sy, sz, tx, ty, tz, px, py, pz, ex, ey, ez,
        ssx, ssy, ssz, ppx, ppy, ppz, stx, sty, stz, spx, spy, spz, sex, sey, sez, tpx, tpy, tpz, pex, pey, pez,
    ) = see(*middle)  # fmt: skip
    t, p, pp, ppp, tp, tpp, pe, ppe, e = worst
    by_share, by_roll, by_along = t * ht, p * hp, e * he
    arm = sqrt(sx * sx + sy * sy + sz * sz)
    moved = by_share + by_roll + by_along
    farthest = arm + moved
    half_ss, half_pp, st, sp, se, tp_, pe_ = 0.5 * hs * hs, 0.5 * hp * hp, hs * ht, hs * hp, hs * he, ht * hp, hp * he
    steer_twice, roll_twice = farthest * half_ss, pp * half_pp
    steer_share, steer_roll, steer_along = hs * by_share, hs * by_roll, hs * by_along
    share_roll, roll_along = tp * tp_, pe * pe_
    loose = steer_twice + roll_twice + steer_share + steer_roll + steer_along + share_roll + roll_along + ROUNDING
    rest = ROUNDING + (1.0 / 6.0) * (
        hs * hs * (farthest * hs + 3.0 * moved)
        + 3.0 * sp * (pp * hp + 2.0 * tp * ht + 2.0 * pe * he)
        + hp * hp * (ppp * hp + 3.0 * tpp * ht + 3.0 * ppe * he)
    )
    # Halve what moves the point most, second-order moves included.
    sizes = (
        arm * hs + steer_twice + steer_share + steer_roll + steer_along,
        sqrt(tx * tx + ty * ty + tz * tz) * ht + steer_share + share_roll,
        sqrt(px * px + py * py + pz * pz) * hp + roll_twice + steer_roll + share_roll + roll_along,
        by_along + steer_along + roll_along,
    )
    split = sizes.index(max(sizes))
    radial = sqrt(x * x + z * z)
    if radial < ROUNDING:
        ux = uz = rs = rt = rp = re = 0.0
        bulge = sum(sizes) + loose
    else:
        ux, uz = x / radial, z / radial
        rs, rt = (ux * sx + uz * sz) * hs, (ux * tx + uz * tz) * ht
        rp, re = (ux * px + uz * pz) * hp, (ux * ex + uz * ez) * he
        across = (
            abs(ux * sz - uz * sx) * hs + abs(ux * tz - uz * tx) * ht + abs(ux * pz - uz * px) * hp
            + abs(ux * ez - uz * ex) * he + loose
        )  # fmt: skip
        inward = abs(rs) + abs(rt) + abs(rp) + abs(re) + loose
        bulge = 2.0 * (across + inward)
        if inward < radial:
            bulge = min(bulge, 0.5 * across * across / (radial - inward))
    curves = (
        ssy * half_ss, (ux * ssx + uz * ssz) * half_ss,
        ppy * half_pp, (ux * ppx + uz * ppz) * half_pp,
        sty * st, (ux * stx + uz * stz) * st,
        spy * sp, (ux * spx + uz * spz) * sp,
        sey * se, (ux * sex + uz * sez) * se,
        tpy * tp_, (ux * tpx + uz * tpz) * tp_,
        pey * pe_, (ux * pex + uz * pez) * pe_,
    )  # fmt: skip
    moves = (sy * hs, rs, ty * ht, rt, py * hp, rp, ey * he, re)
    least_doubt = most_doubt = 0.0
    if motion.doubtful:  # what rides with the knuckle neither steers nor rolls: no doubt of either moves it
        reach = hypot(x, y + motion.kingpin_inset, z)
        least_doubt = doubt(motion, middle[STEER], middle[ROLL], reach)
        most_doubt = doubt(motion, abs(middle[STEER]) + hs, abs(middle[ROLL]) + hp, reach + moved)
    return Cell(
        leg, middle, extent, y, radial, moves, curves, rest, loose, bulge, least_doubt, most_doubt, split, []
    )  # fmt: skip


def halves(path: Trace, cell: Cell) -> list[Cell]:
    """The cell's two halves, worked out at the first question and kept."""
    parts = cell.parts
    if not parts:
        axis, leg = cell.split, cell.leg
        extent, low, high = list(cell.extent), list(cell.middle), list(cell.middle)
        extent[axis] *= 0.5
        low[axis] -= extent[axis]
        high[axis] += extent[axis]
        see, worst, (hs, ht, hp, he) = path.region.swings[leg], path.region.worsts[leg], extent
        for s, t, p, e in (low, high):
            parts.append(_cell(path.motion, path.obstacle, see, worst, leg, (s, t, p, e), (hs, ht, hp, he)))
    return parts


def place(path: Trace, leg: int, at: Four) -> SweepPlace:
    """Steer, share, roll and along as a place of the sweep, without the hair past its ends that halving adds up to."""
    motion, strip = path.motion, path.region.legs[leg]
    steer, share, roll, along = at
    roll = max(strip.low, min(strip.high, roll))
    least, room = strip.span(roll)
    rise = least + room * max(0.0, min(1.0, share))
    return SweepPlace(
        max(-motion.steer_out, min(motion.steer_in, steer)),
        rise,
        rise - motion.face_to_face * roll,
        max(0.0, min(1.0, along)),
    )
