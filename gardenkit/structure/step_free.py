"""A way without steps over sloping ground: the shortest that keeps accessible slopes, and the least grading for one.

The search steps from node to node of a lattice on the surface; each step keeps the running slope, and on ground left as
it lies the cross slope too. Turning costs length, so that the way has few turns. A finished profile then keeps the
slope along the whole way with the least soil moved (a linear program).
"""

import itertools
import math

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Line, Point, Region
from gardenkit.site.levels import Surface
from gardenkit.sources import HOUSE, MEMORY, Figure
from gardenkit.structure.path_rules import CROSS_SLOPE
from gardenkit.units import INCH

WALK = Figure(1 / 20, "rise over run", f"2010 ADA Standards 403.3: steeper is a ramp; {MEMORY}")
RAMP = Figure(1 / 12, "rise over run", "2010 ADA Standards 405.2, Table 405.2")
RUN_RISE = Figure(30 * INCH, "m", "2010 ADA Standards 405.6, most rise of one run")
LANDING = Figure(60 * INCH, "m", "2010 ADA Standards 405.7, at each end of a run")
SPARE = Figure(
    0.97, "share of the limit", f"a way is proposed a little gentler, as no one builds to the last inch; {HOUSE}"
)
STEPS = (0.5, 1.5)  # shares of the path's width between nodes: fine first, then so far apart that legs stay apart
NODES = 4000  # of the lattice at most. House value.
TURN = 2.0  # m that a right angle's turn counts for. House value.
MOST_TURN = 150.0  # degrees at one node: a sharper one wants a platform too large for a garden. House value.
SHARP = 45.0  # degrees: a sharper turn has a level platform. House value.
APART = 1.25  # path widths between the middle lines of two legs, so that a bank or wall fits between. House value.
MOST_BOW = 1.5  # times the straight length: about half a circle. House value.
BOW_POINTS = 4  # pieces that a swing is held in. House value.
STATION = 0.25  # m between the places of a profile. House value.
AHEAD = tuple(
    (i, j) for i in range(-3, 4) for j in range(-3, 4) if math.gcd(i, j) == 1 and abs(i) + abs(j) <= 4
)  # steps of the lattice: 24 directions
MOST_AHEAD = 3  # places of the lattice that one step goes at most
Bools = NDArray[np.bool_]


@attrs.frozen(kw_only=True, eq=False)
class Profile:
    """Finished heights ``z`` (n,) at lengths ``s`` (n,) along a way on ground of heights ``found`` (n,); ``landings``
    level stretches (from, to) in metres.
    """

    s: FloatArray
    z: FloatArray
    found: FloatArray
    landings: tuple[tuple[float, float], ...]

    @property
    def deepest(self) -> float:
        """The most that is dug at its middle line, in metres."""
        return float(max((self.found - self.z).max(), 0.0))

    @property
    def highest(self) -> float:
        """The most that is filled at its middle line, in metres."""
        return float(max((self.z - self.found).max(), 0.0))

    @property
    def steepest(self) -> float:
        """The steepest rise over run."""
        return float(np.abs(np.diff(self.z) / np.diff(self.s)).max())


def alignment(
    ground: Surface, free: Region, start: Point, end: Point, *, width: float, slope: float, cross: float = math.inf
) -> Line:
    """Return the turning points of the shortest way from ``start`` to ``end`` over ``free`` ground (where its middle
    line may run) on which no step is steeper than ``slope`` nor lies over more than ``cross`` (rise over run) across
    its ``width``; empty where there is none.
    """
    for share in STEPS:
        low_x, low_y, high_x, high_y = plane.bounds(free)
        step = max(share * width, math.sqrt((high_x - low_x) * (high_y - low_y) / NODES))
        nodes = _nodes(free, start, end, step)
        way = _shortest(ground, free, nodes, step, width=width, slope=slope, cross=cross)
        if way and legs_apart(np.array(way), APART * width):
            return way
    return ()


def bows(start: Point, end: Point, length: float) -> list[Line]:
    """Return lines of about a ``length`` between two places that swing once, or twice, to either side in circles; none
    where they would swing further than ``MOST_BOW`` allows, or need no swing.
    """
    straight = math.dist(start, end)
    if not 1.0 < length / straight <= MOST_BOW:
        return []
    low, high = 0.0, math.pi  # half the angle of the circle: its arc is half / sin(half) times as long as its chord
    for _ in range(40):
        half = (low + high) / 2
        low, high = (half, high) if half / math.sin(half) < length / straight else (low, half)
    (ax, ay), (bx, by) = start, end
    found = []
    for side, swings in itertools.product((1.0, -1.0), (1, 2)):
        s = np.linspace(0.0, swings, swings * BOW_POINTS + 1)
        turned = half * (2 * (s % 1.0) - 1)
        turned[-1] = half
        radius = straight / swings / (2 * math.sin(half))
        along = (np.floor(s - 1e-9).clip(0) + 0.5) * straight / swings + radius * np.sin(turned)
        off = side * np.where(s <= 1, 1, -1) * radius * (np.cos(turned) - math.cos(half))
        along[s % 1.0 == 0] = s[s % 1.0 == 0] * straight / swings
        x, y = (bx - ax) / straight, (by - ay) / straight
        found.append(
            tuple((float(ax + a * x - o * y), float(ay + a * y + o * x)) for a, o in zip(along, off, strict=True))
        )
    return found


def profile(
    ground: Surface, line: FloatArray, *, slope: float, ramp: bool, turns: tuple[tuple[float, float], ...] = ()
) -> Profile | None:
    """Return the finished heights along a dense line (n, 2) that keep a ``slope`` and move the least soil, from the
    ground's height at its start to that at its end; None where it is too short for its rise.

    A ``ramp`` has landings at both ends and after each 30 in of rise; at ``turns`` (where along it, how far to either
    side) either is level.
    """
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))))
    s = np.linspace(0.0, along[-1], max(3, math.ceil(along[-1] / STATION) + 1))
    places = np.column_stack([np.interp(s, along, line[:, axis]) for axis in (0, 1)])
    found = ground.at(places)
    first = max(1, math.ceil(abs(found[-1] - found[0]) / (RUN_RISE * SPARE) - 1e-9)) if ramp else 0
    for runs in range(first, first + 4) if ramp else (0,):
        landings = _landings(float(s[-1]), runs, turns) if ramp else tuple((at - far, at + far) for at, far in turns)
        if landings is None:
            return None
        z = _least_moved(s, found, slope, landings)
        if z is not None and (not ramp or _runs_low(s, z, landings)):
            return Profile(s=s, z=z, found=found, landings=landings)
    return None


def length_needed(rise: float, *, slope: float, ramp: bool) -> float:
    """Return how long a way must be for a rise in metres, with the landings of a ramp.

    >>> round(length_needed(1.2192, slope=1 / 12, ramp=True) / 0.3048, 6)
    63.0
    """
    runs = math.ceil(rise / RUN_RISE - 1e-9)
    return rise / slope + ((runs + 1) * LANDING if ramp else 0.0)


def legs_apart(line: FloatArray, least: float) -> bool:
    """Return whether two legs of a way that turns back keep ``least`` metres apart, but for the platforms they turn
    on.
    """
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))))
    s = np.arange(0.0, along[-1], least / 3)
    places = np.column_stack([np.interp(s, along, line[:, axis]) for axis in (0, 1)])
    gap = np.linalg.norm(places[:, None] - places[None], axis=2)
    far = np.abs(s[:, None] - s[None]) > math.pi / 2 * least
    for at, reach in platforms(line, least):
        on = np.abs(s - at) <= reach * 1.1
        far &= ~(on[:, None] & on[None])
    return not bool((far & (gap < 0.95 * least)).any())


def platforms(line: FloatArray, width: float) -> list[tuple[float, float]]:
    """Return for each sharp turn of a way (n, 2) where along it the turn is, and how far to either side its legs are
    nearer to each other than ``width``: the ground that is level there. Half a landing at least.
    """
    steps = np.diff(line, axis=0)
    along = np.cumsum(np.linalg.norm(steps, axis=1))
    bearing = np.degrees(np.arctan2(steps[:, 0], steps[:, 1]))
    turn = np.abs((np.diff(bearing) + 180) % 360 - 180)
    between = np.radians(180 - np.minimum(turn, 175.0))
    reach = np.maximum(LANDING / 2, width / 2 / np.sin(between / 2))
    return [(float(at), float(far)) for at, far, sharp in zip(along, reach, turn > SHARP, strict=False) if sharp]


# ---- helpers


def _nodes(free: Region, start: Point, end: Point, step: float) -> FloatArray:
    """Return the lattice (n, 2) through ``start`` on the free ground; the first is the start, the second the end."""
    low_x, low_y, high_x, high_y = plane.bounds(free)
    across = np.arange(math.ceil((low_x - start[0]) / step), (high_x - start[0]) / step)
    up = np.arange(math.ceil((low_y - start[1]) / step), (high_y - start[1]) / step)
    grid = np.array(np.meshgrid(across, up)).reshape(2, -1).T * step + np.array(start)
    grid = grid[plane.inside(free, grid)]
    grid = grid[(np.linalg.norm(grid - start, axis=1) > 1e-6) & (np.linalg.norm(grid - end, axis=1) > 0.3 * step)]
    return np.vstack((start, end, grid))


def _shortest(
    ground: Surface, free: Region, nodes: FloatArray, step: float, *, width: float, slope: float, cross: float
) -> Line:
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import dijkstra

    a, b = _pairs(nodes, step)
    ahead = nodes[b] - nodes[a]
    long = np.linalg.norm(ahead, axis=1)
    keeps = _keeps(ground, nodes[a], ahead, long, width=width, slope=slope, cross=cross)
    keeps[keeps] = _on_free(free, nodes[a][keeps], ahead[keeps])
    a, b, ahead, long = a[keeps], b[keeps], ahead[keeps], long[keeps]
    if not len(a):
        return ()
    count = len(a)  # a state is a step just taken; from it one goes on with a step that begins where it ends
    order = np.argsort(a, kind="stable")
    first = np.searchsorted(a[order], np.arange(len(nodes) + 1))
    many = first[b + 1] - first[b]
    origin = np.repeat(np.arange(count), many)
    offset = np.arange(len(origin)) - np.repeat(np.cumsum(many) - many, many)
    onward = order[np.repeat(first[b], many) + offset]
    turn = np.degrees(np.arccos(np.clip((ahead[origin] * ahead[onward]).sum(1) / long[origin] / long[onward], -1, 1)))
    fine = turn <= MOST_TURN
    weight = long[onward] + TURN * turn / 90
    begin = np.flatnonzero(a == 0)
    rows = np.concatenate((origin[fine], np.full(len(begin), count)))
    columns = np.concatenate((onward[fine], begin))
    data = np.concatenate((weight[fine], long[begin]))
    far, before = dijkstra(
        coo_matrix((data, (rows, columns)), shape=(count + 1, count + 1)).tocsr(),
        indices=count,
        return_predecessors=True,
    )
    ends = np.flatnonzero(b == 1)
    if not len(ends) or not np.isfinite(far[ends]).any():
        return ()
    state, way = int(ends[np.argmin(far[ends])]), []
    while state != count:
        way.append(int(b[state]))
        state = int(before[state])
    return _straight([(float(x), float(y)) for x, y in nodes[[0, *reversed(way)]]])


def _pairs(nodes: FloatArray, step: float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the steps of the lattice as pairs of nodes; the end is reached from all that is near."""
    cells = np.rint((nodes - nodes[0]) / step).astype(np.int64)
    cells -= cells.min(axis=0) - MOST_AHEAD
    table = np.full(tuple(cells.max(axis=0) + MOST_AHEAD + 1), -1, dtype=np.int64)
    on_it = np.flatnonzero(np.arange(len(nodes)) != 1)  # the end lies on no place of the lattice
    table[tuple(cells[on_it].T)] = on_it
    to = table[tuple((cells[on_it][:, None] + np.array(AHEAD)[None]).T)].T
    near = np.flatnonzero(np.linalg.norm(nodes - nodes[1], axis=1) < 3.2 * step)
    near = near[near != 1]
    origin = np.concatenate((np.repeat(on_it, len(AHEAD))[to.ravel() >= 0], near))
    return origin, np.concatenate((to[to >= 0], np.ones(len(near), dtype=np.int64)))


def _keeps(
    ground: Surface, at: FloatArray, ahead: FloatArray, long: FloatArray, *, width: float, slope: float, cross: float
) -> Bools:
    """Return which steps keep the slopes at each third of their length."""
    shares = (0.0, 1 / 3, 2 / 3, 1.0)
    z = np.array([ground.at(at + share * ahead) for share in shares])
    keeps = np.asarray((np.abs(np.diff(z, axis=0)) <= slope * long / 3 + 1e-6).all(axis=0))
    if math.isfinite(cross):
        side = np.column_stack((-ahead[:, 1], ahead[:, 0])) / long[:, None] * width / 2
        for share in shares:
            middle = at + share * ahead
            keeps &= np.abs(ground.at(middle + side) - ground.at(middle - side)) <= cross * width + 1e-6
    return keeps


def _on_free(free: Region, at: FloatArray, ahead: FloatArray) -> Bools:
    """Return which steps stay on free ground; looked at five places, as nothing that stands is thinner than a step."""
    inside = [plane.inside(free, at + share * ahead) for share in (0.2, 0.4, 0.5, 0.6, 0.8)]
    return np.asarray(np.all(inside, axis=0))


def _straight(way: list[Point]) -> Line:
    """Return a way with only the points at which it turns."""
    kept = [way[0]]
    for a, b, c in zip(way, way[1:], way[2:], strict=False):
        if abs((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) > 1e-6:
            kept.append(b)
    return (*kept, way[-1])


def _landings(
    length: float, runs: int, turns: tuple[tuple[float, float], ...]
) -> tuple[tuple[float, float], ...] | None:
    """Return the landings of a ramp: at its ends, at its turns, and for so many ``runs`` evenly between where none of
    these is near; None where no run is left between them.
    """
    fixed = [(0.0, float(LANDING)), *((at - far, at + far) for at, far in turns), (length - LANDING, length)]
    every = length / runs
    even = [(k * every - LANDING / 2, k * every + LANDING / 2) for k in range(1, runs)]
    more = [one for one in even if all(one[0] > b + LANDING or one[1] < a - LANDING for a, b in fixed)]
    found = sorted((*fixed, *more))
    if any(b[0] <= a[1] for a, b in itertools.pairwise(found)):
        return None
    return tuple(found)


def _least_moved(
    s: FloatArray, found: FloatArray, slope: float, landings: tuple[tuple[float, float], ...]
) -> FloatArray | None:
    """Return heights (n,) nearest to those found, in the sum of differences, that keep slope and landings."""
    from scipy.optimize import linprog
    from scipy.sparse import coo_matrix, eye, hstack, vstack

    n, apart = len(s), float(s[1] - s[0])
    level = np.zeros(n - 1, dtype=bool)
    for start, end in landings:
        level |= (s[1:] > start + 1e-9) & (s[:-1] < end - 1e-9)
    limit = np.where(level, 0.0, slope * apart)
    rows = np.arange(n - 1)
    steps = coo_matrix(
        (np.tile((-1.0, 1.0), n - 1), (np.repeat(rows, 2), np.column_stack((rows, rows + 1)).ravel())), shape=(n - 1, n)
    )
    none, one = coo_matrix((n - 1, n)), eye(n)
    bounds = vstack((hstack((steps, none)), hstack((-steps, none)), hstack((one, -one)), hstack((-one, -one))))
    most = np.concatenate((limit, limit, found, -found))
    ends = coo_matrix((np.ones(2), ((0, 1), (0, n - 1))), shape=(2, 2 * n))
    solved = linprog(
        np.concatenate((np.zeros(n), np.ones(n))),
        A_ub=bounds.tocsr(),
        b_ub=most,
        A_eq=ends.tocsr(),
        b_eq=found[[0, -1]],
        bounds=[(None, None)] * n + [(0, None)] * n,
        method="highs",
    )
    return np.asarray(solved.x[:n]) if solved.status == 0 else None


def _runs_low(s: FloatArray, z: FloatArray, landings: tuple[tuple[float, float], ...]) -> bool:
    """Return whether no run between two landings rises more than one may."""
    ends = [np.interp((a[1], b[0]), s, z) for a, b in itertools.pairwise(landings)]
    return all(abs(high - low) <= RUN_RISE + 1e-6 for low, high in ends)


CROSS = float(CROSS_SLOPE) / 100
