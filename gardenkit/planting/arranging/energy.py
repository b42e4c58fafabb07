"""How good an arrangement is, counted up: each side of it as a sum over plants and pairs, the lower the better."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray

Whole = NDArray[np.int64]
ILLEGAL = 1e6  # unary cost of a square where the kind may not stand
IN_FRONT = 0.08  # of a bed's depth: nearer to the viewer by more than this is in front. House value.
LEVEL = 1.10  # a plant in front up to this much taller still counts as level, as in ``layering``. House value.
LONG, WIDE = 0.8, 1.25  # a drift is about half as long again as wide. House values.
TOUCHING = 0.1  # least cost of standing too near, so that the last centimetre is worth moving for. House value.
HAIR = 1e-9  # m: rounding, not nearness
PAIRS = ("spacing", "grouping", "repetition", "colour", "height order")  # in the order of Setup.weights


class Setup(NamedTuple):
    """What stays while plants move: n plants of k kinds in g groups on c squares.

    ``kind, group, movable`` (n,); ``members`` of each group from ``first[g]`` to ``first[g + 1]``; ``span`` (g,) metres
    a close group is across, ``sizes`` (g,); ``need``, ``clash`` (k, k); ``repeat, height, low`` (k,), ``low`` 1 for
    what counts in layers; ``mass`` (k,); ``unary`` (k, c) cost of a kind on a square, ILLEGAL where it may not stand;
    the squares (``sheet`` their numbers) as in ``Cells``; ``weights`` (6,) as PAIRS, then balance; ``reach`` metres.
    """

    kind: Whole
    group: Whole
    movable: NDArray[np.bool_]
    first: Whole
    members: Whole
    span: FloatArray
    sizes: FloatArray
    need: FloatArray
    clash: FloatArray
    repeat: FloatArray
    height: FloatArray
    low: FloatArray
    mass: FloatArray
    unary: NDArray[np.float32]
    points: FloatArray
    cell_bed: Whole
    cell_depth: FloatArray
    cell_axis: FloatArray
    cell_way: Whole
    cell_side: FloatArray
    sheet: Whole
    left: float
    bottom: float
    size: float
    weights: FloatArray
    reach: float
    hair: float = HAIR  # the figures above, here so that a compiled search kept on disk never holds old ones
    touching: float = TOUCHING
    in_front: float = IN_FRONT
    level: float = LEVEL
    long: float = LONG
    wide: float = WIDE
    illegal: float = ILLEGAL


class State(NamedTuple):
    """Where the n plants stand now, the fields of their squares, and the lean of each way (left mass less right)."""

    at: FloatArray
    cell: Whole
    bed: Whole
    depth: FloatArray
    axis: FloatArray
    way: Whole
    side: FloatArray
    lean: FloatArray


def state_of(setup: Setup, at: FloatArray, cell: Whole, ways: int) -> State:
    """Return the state for plants (n, 2) on their squares (n,)."""
    way, side = setup.cell_way[cell].copy(), setup.cell_side[cell].copy()
    lean = np.zeros(max(1, ways))
    beside = way >= 0
    np.add.at(lean, way[beside], (side * setup.mass[setup.kind])[beside])
    return State(
        at=at.astype(float).copy(),
        cell=cell.astype(np.int64).copy(),
        bed=setup.cell_bed[cell].copy(),
        depth=setup.cell_depth[cell].copy(),
        axis=setup.cell_axis[cell].copy(),
        way=way,
        side=side,
        lean=lean,
    )


def parts(setup: Setup, state: State) -> dict[str, float]:
    """Return each side of the objective with its weight applied; their sum is what the search lowers."""
    everyone = np.arange(len(state.at))
    pairs = np.zeros(len(PAIRS))
    for i in everyone:
        one = _pairs(setup, state, int(i), None)
        pairs += one[:, 0, :].sum(axis=1) / 2
    moving = np.flatnonzero(setup.movable)
    place = float(setup.unary[setup.kind[moving], state.cell[moving]].astype(float).sum())
    found = dict(zip(PAIRS, (float(p) for p in pairs), strict=True))
    return {"sun and place": place, **found, "balance": balance(setup, state.lean)}


def energy(setup: Setup, state: State) -> float:
    """Return the whole objective."""
    return sum(parts(setup, state).values())


def balance(setup: Setup, lean: FloatArray) -> float:
    """Return the cost of heavier sides."""
    return float(setup.weights[5] * np.abs(lean).sum())


def moved_energy(setup: Setup, state: State, i: int, cells: Whole, *, outside_group: bool = False) -> FloatArray:
    """Return (m,) the cost that plant i adds on each of m squares, the others staying; ``outside_group`` leaves out its
    own group. Balance is counted too.
    """
    near = _pairs(setup, state, i, cells)
    if outside_group:
        near[:, :, setup.group == setup.group[i]] = 0.0
    cost = near.sum(axis=(0, 2)) + setup.unary[setup.kind[i], cells]
    lean = state.lean.copy()
    mass = setup.mass[setup.kind[i]]
    if state.way[i] >= 0:
        lean[state.way[i]] -= state.side[i] * mass
    way = setup.cell_way[cells]
    change = np.abs(lean[way] + setup.cell_side[cells] * mass) - np.abs(lean[way])
    return np.asarray(cost + setup.weights[5] * np.where(way >= 0, change, 0.0))


def move(setup: Setup, state: State, i: int, cell: int) -> None:
    """Put plant i on a square, in place."""
    mass = setup.mass[setup.kind[i]]
    if state.way[i] >= 0:
        state.lean[state.way[i]] -= state.side[i] * mass
    state.at[i], state.cell[i], state.bed[i] = setup.points[cell], cell, setup.cell_bed[cell]
    state.depth[i], state.axis[i] = setup.cell_depth[cell], setup.cell_axis[cell]
    state.way[i], state.side[i] = setup.cell_way[cell], setup.cell_side[cell]
    if state.way[i] >= 0:
        state.lean[state.way[i]] += state.side[i] * mass


def too_near(setup: Setup, state: State) -> FloatArray:
    """Return (n, n) by how many metres each pair stands too near; 0 where apart as asked."""
    off = state.at[:, None, :] - state.at[None, :, :]
    short = setup.need[setup.kind[:, None], setup.kind[None, :]] - np.hypot(off[..., 0], off[..., 1])
    np.fill_diagonal(short, 0.0)
    return np.asarray(np.where(short > HAIR, short, 0.0))


def _pairs(s: Setup, t: State, i: int, cells: Whole | None) -> FloatArray:
    """Return (5, m, n): the weighted cost of plant i on m squares (None: where it stands) with each other plant."""
    if cells is None:
        at, depth, axis, bed = t.at[i : i + 1], t.depth[i : i + 1], t.axis[i : i + 1], t.bed[i : i + 1]
    else:
        at, depth, axis, bed = s.points[cells], s.cell_depth[cells], s.cell_axis[cells], s.cell_bed[cells]
    k, others = s.kind[i], s.kind
    off = at[:, None, :] - t.at[None, :, :]
    d = np.hypot(off[..., 0], off[..., 1])
    mates = (s.group == s.group[i])[None, :]
    out = np.zeros((len(PAIRS), *d.shape))
    need = s.need[k, others][None, :] - HAIR
    out[0] = np.where(d < need, s.weights[0] * (TOUCHING + (need - d) / np.maximum(need, HAIR)), 0.0)
    long = axis[:, None, :] + t.axis[None, :, :]
    size = np.maximum(np.hypot(long[..., 0], long[..., 1]), 1e-9)
    u = (off[..., 0] * long[..., 0] + off[..., 1] * long[..., 1]) / size
    v = (off[..., 1] * long[..., 0] - off[..., 0] * long[..., 1]) / size
    far = (np.square(LONG * u) + np.square(WIDE * v)) / s.span[s.group[i]] ** 2
    out[1] = np.where(mates, s.weights[1] * far / s.sizes[s.group[i]], 0.0)
    again = ~mates & (others == k)[None, :]
    share = np.sqrt(s.sizes[s.group[i]] * s.sizes[s.group])[None, :]
    out[2] = np.where(again, s.weights[2] * np.maximum(1.0 - d / max(s.repeat[k], HAIR), 0.0) / share, 0.0)
    near = np.where(mates, 0.0, np.maximum(1.0 - d / s.reach, 0.0)) * s.low[k] * s.low[others][None, :]
    out[3] = s.weights[3] * s.clash[k, others][None, :] * near
    gap = t.depth[None, :] - depth[:, None]
    ours, theirs = s.height[k], s.height[others][None, :]
    front = np.where((gap > IN_FRONT) & (ours > LEVEL * theirs), ours / theirs - 1.0, 0.0)
    front += np.where((gap < -IN_FRONT) & (theirs > LEVEL * ours), theirs / ours - 1.0, 0.0)
    same = bed[:, None] == t.bed[None, :]
    out[4] = np.where(same, s.weights[4] * near * np.minimum(front, 1.0), 0.0)
    out[:, :, i] = 0.0
    return out
