"""The least clearance between a tire and an obstacle over all steer, all that the axle can do and the edge, proven.

The bound. A cell (see trace.py) covers the obstacle's points c + m + q + v in the half-plane, where c is its middle, m
the sum of its moves, each a share from −1 to 1 times over, q its curves by the products of the same shares, and
|v| ≤ rest and what is in doubt; along the radius there may be `bulge` more. The solid is convex there: with any point o
of the half-plane and n the outward normal at the spot of the solid that is nearest to it,

    distance(p) ≥ distance(o) + n · (p − o)
                ≥ distance(o) + n · (c − o) + n · (m + q) − rest − (bulge × how far n points inward along the radius)

for every p in the cell: a tangent. With one at the middle, one where that says the least is, and one where the other
two turn from falling to rising, the distance along the moves is met almost exactly; of the curves only what lies along
n counts (`falls`). So the gap closes fast: a cell a hand across is often enough for a tenth of a millimeter.

The search takes the cell with the lowest bound, tries the place at which that would be met, and halves the cell, until
the lowest bound left is within the wanted bound of the least distance found. No cell is dropped before that, so grid
spacing decides nothing.
"""

from collections.abc import Callable, Sequence
from heapq import heapify, heappop, heappush
from math import inf, sqrt
from typing import NamedTuple

from planner.trade.fit.motion import Motion, Point, SweepPlace, SweptObstacle, refuse
from planner.trade.fit.section import Nearest, PartName, Probe, Side, TireSection, nearest, probe
from planner.trade.fit.swing import measured_direction
from planner.trade.fit.trace import Cell, Four, Trace, halves, place, trace

BOUND = 1e-4  # m; 0.1 mm
BUDGET = 20_000  # distance evaluations for one obstacle
YES_OR_NO = 3_000  # for a question that is one of many: what is not settled by then is close enough to call it so
SURE = 1e-6  # m; a clearance that is less than this above what is wanted counts as short of it

Look = Callable[[Cell, float], tuple[float, float, Four]]


class Clearance(NamedTuple):
    """The least clearance found, and what is proven of it.

    `distance` happens at `place`; `proven` is what nothing in the sweep comes under, and `gap` is between the two.
    What rides with the axle is where it is at any travel, what rides with the knuckle at any steer: those stay nothing.
    `point` is the obstacle's point there, and `normal` the tire's outward normal, both in the frame of the measurement.
    `taken` is what the measuring tolerance takes off at that place, as much as the normal lets through.
    `sure` stays proven wherever in its tolerance the obstacle is: the other places of the sweep have other normals, so
    the whole length of the tolerance is taken off there. Not `finished`: the budget ran out, and `gap` is as far as it
    came. Of a pair of tires `tire` is the one that was swept, `inner` or `outer`.
    """

    obstacle: SweptObstacle
    distance: float
    proven: float
    place: SweepPlace
    point: Point
    part: PartName
    side: Side
    normal: Point
    taken: float
    evaluations: int
    finished: bool
    tire: str = ""

    @property
    def gap(self) -> float:
        return self.distance - self.proven

    @property
    def sure(self) -> float:
        return self.proven - self.obstacle.reach


def looker(section: TireSection) -> Look:
    """A cell to: the distance at its middle, what nothing in it comes under, and the shares of its moves to try.

    A bound that comes to `enough` is not made better.
    """
    floor = -section.deepest
    feel = probe(section)

    def look(cell: Cell, enough: float) -> tuple[float, float, Four]:
        distance, low, shares = _lowest(cell, feel, enough)
        return distance, (low if low > floor else floor), shares

    return look


def _lowest(cell: Cell, feel: Probe, enough: float) -> tuple[float, float, Four]:
    """The distance at the cell's middle, the highest that the tangents prove, and about where it is least.

    Each tangent is put where the ones before it say the least is: at the corner toward which the first falls, and
    where a later one rises along a move again, in between.
    """
    axial, radial, moves = cell.axial, cell.radial, cell.moves
    distance, na, nr = feel(axial, radial)
    fall, steer, share, roll, along = falls(cell, na, nr)
    best = distance - fall
    s, t = (-1.0 if steer > 0.0 else 1.0), (-1.0 if share > 0.0 else 1.0)
    p, u = (-1.0 if roll > 0.0 else 1.0), (-1.0 if along > 0.0 else 1.0)
    if best >= enough:
        return distance - cell.doubt, best, (s, t, p, u)
    a, b, c, d, e, f, g, h = moves
    for _ in range(2):
        x, y = s * a + t * c + p * e + u * g, s * b + t * d + p * f + u * h
        there, na, nr = feel(axial + x, radial + y)
        fall, steer_there, share_there, roll_there, along_there = falls(cell, na, nr)
        low = there - na * x - nr * y - fall
        if low > best:
            best = low
        settled = True
        if steer * steer_there < 0.0:
            s, settled = s * steer / (steer - steer_there), False
        if share * share_there < 0.0:
            t, settled = t * share / (share - share_there), False
        if roll * roll_there < 0.0:
            p, settled = p * roll / (roll - roll_there), False
        if along * along_there < 0.0:
            u, settled = u * along / (along - along_there), False
        if settled:
            break
    return distance - cell.doubt, best, (s, t, p, u)


def falls(cell: Cell, na: float, nr: float) -> tuple[float, float, float, float, float]:
    """How far inward along a normal anything in the cell can be from its middle, and what each move brings outward.

    With shares s, t, p, u of steer, share, roll and along, what lies outward along the normal comes to
    S s + T t + P p + U u + SS s² + PP p² + ST st + SP sp + SU su + TP tp + PU pu. By t that is at least
    −|T| − |ST| − |TP|, by p at least PP p² − (|P| + |SP| + |PU|) |p|; S s + U u + SU su is least at a corner.
    """
    a, b, c, d, e, f, g, h = cell.moves
    steer, share, roll, along = na * a + nr * b, na * c + nr * d, na * e + nr * f, na * g + nr * h
    a, b, c, d, e, f, g, h, i, j, k, m, n, o = cell.curves
    steer_twice, roll_twice, both = na * a + nr * b, na * c + nr * d, na * i + nr * j
    by_share = abs(share) + abs(na * e + nr * f) + abs(na * k + nr * m)
    by_roll = abs(roll) + abs(na * g + nr * h) + abs(na * n + nr * o)
    if 2.0 * roll_twice <= by_roll:
        by_roll -= roll_twice
    else:
        by_roll *= by_roll / (4.0 * roll_twice)
    same, other = abs(steer + along) - both, abs(steer - along) + both
    fall = cell.rest + cell.most_doubt + by_share + by_roll + (same if same > other else other)
    if steer_twice < 0.0:
        fall -= steer_twice
    if nr < 0.0:
        fall -= nr * cell.bulge
    return fall, steer, share, roll, along


def within(cell: Cell, shares: Four) -> Four:
    """Where in steer, share, roll and along those shares of the cell's moves are."""
    (s, t, p, e), (hs, ht, hp, he), (u, v, w, x) = cell.middle, cell.extent, shares
    return s + u * hs, t + v * ht, p + w * hp, e + x * he


def least_clearance(
    path: Trace,
    section: TireSection,
    bound: float = BOUND,
    budget: int = BUDGET,
    wanted: float = 0.0,
    close: float = 0.0,
) -> Clearance:
    """The least clearance of one obstacle to one tire over the whole sweep, to within `bound`.

    Or to within `close` of what lies between it and what is `wanted`, whichever is more: what is far from a limit need
    not be known as well as what is near it.

    A stone 30 mm above the tread of a tire 800 mm tall, with an axle that comes up 20 mm:

    >>> stone = SweptObstacle("stone", (0.0, 0.0, 0.430))
    >>> found = least_clearance(
    ...     trace(Motion(face_to_face=1.5, bump=0.02), stone), TireSection(0.25, 0.2, 0.8, 0.0, 0.19)
    ... )
    >>> round(found.distance, 4), found.part, found.place.rise, found.finished
    (0.01, 'tread', 0.02, True)
    """
    best, proven, at, count = _searched(path, section, bound, budget, wanted, close)
    obstacle, where = path.obstacle, place(path, *at)
    x, y, z, *_ = path.region.swings[at[0]](*at[1])
    radial = sqrt(x * x + z * z)
    spot: Nearest = nearest(section, y, radial)
    na, nr = spot.normal
    outward = (nr * x / radial, na, nr * z / radial) if radial else (0.0, na, nr)
    normal = measured_direction(path.motion, obstacle, where, outward)
    (ax, ay, az), (ex, ey, ez) = obstacle.start, obstacle.edge
    point = (ax + where.along * ex, ay + where.along * ey, az + where.along * ez)
    taken = sum(abs(n) * tolerance for n, tolerance in zip(normal, obstacle.tolerance, strict=True))
    finished = best - proven <= max(bound, close * abs(best - wanted))
    return Clearance(obstacle, best, proven, where, point, spot.part, spot.side, normal, taken, count, finished)


def proven_clearance(
    path: Trace,
    section: TireSection,
    bound: float = BOUND,
    budget: int = BUDGET,
    wanted: float = 0.0,
    close: float = 0.0,
) -> float:
    """What nothing in the sweep comes under, as near to the least clearance as there, if the budget lasts."""
    return _searched(path, section, bound, budget, wanted, close)[1]


def _searched(
    path: Trace, section: TireSection, bound: float, budget: int, wanted: float, close: float
) -> tuple[float, float, tuple[int, Four], int]:
    """The least distance found, what is proven, the leg and the place of the former, and how many distances it took."""
    if not bound > 0.0:
        raise refuse("bound", bound, "more than nothing, in m")
    look, whole = looker(section), probe(section)
    count, best = 0, inf
    best_leg, best_at = 0, (0.0, 0.0, 0.0, 0.0)
    heap: list[tuple[float, int, Cell, Four]] = []
    for cell in path.region.roots:
        distance, low, shares = look(cell, best)
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, cell.middle
        heap.append((low, count, cell, shares))
    heapify(heap)
    while heap and best - heap[0][0] > max(bound, close * abs(best - wanted)) and count < budget:
        under, _, cell, shares = heappop(heap)
        at = within(cell, shares)
        axial, radial, doubt = path.seen(cell.leg, at)
        distance = whole(axial, radial)[0] - doubt
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, at
            if best - under <= max(bound, close * abs(best - wanted)):
                heappush(heap, (under, count, cell, shares))
                break
        for half in halves(path, cell):
            distance, low, shares = look(half, best)
            count += 1
            if distance < best:
                best, best_leg, best_at = distance, half.leg, half.middle
            # A half is part of the whole, so what held there holds here.
            heappush(heap, (low if low > under else under, count, half, shares))
    # Proven near enough; what is told as found is looked for where the tangents say it is least, too.
    if heap and count < budget:
        _, _, cell, shares = heap[0]
        at = within(cell, shares)
        axial, radial, doubt = path.seen(cell.leg, at)
        distance = whole(axial, radial)[0] - doubt
        count += 1
        if distance < best:
            best, best_leg, best_at = distance, cell.leg, at
    proven = min(best, heap[0][0]) if heap else best
    return best, proven, (best_leg, best_at), count


def keeps(path: Trace, section: TireSection, clearance: float, budget: int = BUDGET) -> bool:
    """Whether the obstacle keeps `clearance` through the whole sweep: True only where that is proven."""
    return not near_cells(path, section, clearance, path.region.roots, budget)


def near_cells(
    path: Trace, section: TireSection, clearance: float, cells: Sequence[Cell], budget: int = BUDGET
) -> Sequence[Cell]:
    """Those of the cells that may come nearer than `clearance`; none where all are proven to keep it.

    Cheaper than the least clearance: a cell that is clear enough is done with, and the first place that is not ends it,
    its cell last. What is cleared of one tire is clear of any that lies within it, so a search that goes on to smaller
    ones need only ask about what is given back. Within a thousandth of a millimeter of what is wanted, or past the
    budget, is too near: an edge that keeps exactly that all along would else have to be looked at all along. Of a kind
    trace it is not.
    """
    look, whole = looker(section), probe(section)
    short = clearance - SURE if path.kind else clearance + SURE
    stack = list(cells)
    count = 0
    while stack:
        cell = stack.pop()
        distance, low, shares = look(cell, clearance)
        count += 1
        if low >= clearance:
            continue
        if distance < short:
            return [*stack, cell]
        if count > budget:
            return [] if path.kind else [*stack, cell]
        # A new cell costs more than a look at its lowest place, which often settles it.
        axial, radial, doubt = path.seen(cell.leg, within(cell, shares))
        if whole(axial, radial)[0] - doubt < short:
            return [*stack, cell]
        stack += halves(path, cell)
    return []


def inside_at_rest(motion: Motion, obstacle: SweptObstacle, section: TireSection) -> bool:
    """Whether the tire, straight ahead at ride height, is already where the obstacle was measured.

    Said of the tire that was on the truck when it was measured, it means that one of the two was measured wrong. What
    only touches is not inside.
    """
    still = Motion(motion.face_to_face)
    return not keeps(trace(still, obstacle), section, -SURE)
