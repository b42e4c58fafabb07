"""Drifts as shapes: long pieces of ground that lie across the view, each to be filled with one kind."""

import math

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.composing.given import Taste
from gardenkit.planting.composing.ground import Ground, Mask, Whole
from gardenkit.sources import HOUSE, Figure

SQUEEZE = Figure(2.2, "times longer than wide", HOUSE)
AREA = Figure(3.2, "m2 a drift", f"{HOUSE}; bolder tastes have larger ones, deep beds too")
EDGE_DEEP = Figure(0.4, "m", f"{HOUSE}: the strip of low plants along the walk")
EDGE_SHARE = Figure(0.4, "of the bed's width", f"{HOUSE}: in a narrow bed, so that something stands behind")
EDGE_LEAST = Figure(0.35, "m", f"{HOUSE}: the narrowest edging")
EDGE_AREA = Figure(1.6, "m2 a stretch of edging", HOUSE)
LEAST = 0.5  # m2: smaller pieces are joined to a neighbour. House value.


@attrs.frozen(eq=False, kw_only=True)
class Drift:
    """One piece of ground: its ``squares`` (indices), the bed, ``is_edge`` along the walk, and its means;
    ``dry`` the share of it that is.
    """

    squares: Whole
    bed: int
    is_edge: bool
    area: float
    depth: float
    front: float
    seen: float
    hours: float | None
    at: tuple[float, float]
    along: tuple[float, float]
    dry: float = 0.0


@attrs.frozen(eq=False, kw_only=True)
class Division:
    """All drifts, which one each square belongs to (-1: none), and the neighbours with the metres they share."""

    drifts: tuple[Drift, ...]
    owner: Whole
    beside: tuple[tuple[tuple[int, float], ...], ...]


def divided(ground: Ground, free: Mask, taste: Taste, rng: np.random.Generator) -> Division:
    """Return the free squares of all beds divided into drifts and stretches of edging."""
    owner = np.full(len(ground), -1, dtype=np.int64)
    edging = _edging(ground, taste)
    deepest = {int(b): float(ground.front[ground.bed == b].max()) for b in np.unique(ground.bed)}
    count = 0
    for bed in np.unique(ground.bed):
        here = free & (ground.bed == bed)
        size = float(AREA) * taste.boldness * min(1.3, 0.6 + 0.25 * deepest[int(bed)])
        side = 1 if rng.random() < 0.5 else -1
        for part, area, slant in (
            (np.flatnonzero(here & ~edging), size, side * taste.slant),
            (np.flatnonzero(here & edging), float(EDGE_AREA) * taste.boldness, 0.0),
        ):
            if len(part):
                pieces = _cells(ground, part, area, slant, rng)
                owner[part] = pieces + count
                count += int(pieces.max()) + 1
    owner = _joined(ground, owner)
    beside = neighbours(ground, owner)
    return Division(drifts=_drifts(ground, owner, edging), owner=owner, beside=beside)


def neighbours(ground: Ground, owner: Whole) -> tuple[tuple[tuple[int, float], ...], ...]:
    """Return for each drift its neighbours (number, metres shared), from squares that touch."""
    count = int(owner.max()) + 1
    shared: list[dict[int, float]] = [{} for _ in range(count)]
    places = np.floor(ground.points / ground.step).astype(np.int64)
    low = places.min(axis=0)
    sheet = np.full(tuple(places.max(axis=0) - low + 2), -1, dtype=np.int64)
    sheet[tuple((places - low).T)] = owner
    for one, two in ((sheet[:-1], sheet[1:]), (sheet[:, :-1], sheet[:, 1:])):
        differ = (one >= 0) & (two >= 0) & (one != two)
        for a, b in zip(one[differ].tolist(), two[differ].tolist(), strict=True):
            shared[a][b] = shared[a].get(b, 0.0) + ground.step
            shared[b][a] = shared[b].get(a, 0.0) + ground.step
    return tuple(tuple(sorted(s.items())) for s in shared)


# ---- helpers


def _edging(ground: Ground, taste: Taste) -> Mask:
    """Return the strip along the walk, narrower in narrow beds; what is hardly deeper than it is edging all through."""
    deep = np.minimum(float(EDGE_DEEP), np.maximum(float(EDGE_SHARE) * ground.local_width, float(EDGE_LEAST)))
    return np.asarray((ground.front <= deep * taste.edging) & (ground.depth < 0.62))


def _cells(ground: Ground, part: Whole, area: float, slant: float, rng: np.random.Generator) -> Whole:
    """Return for each square which of the cells round blue-noise seeds it falls in, each long along the front."""
    along = _turned(ground.along[part], slant)
    points = ground.points[part]
    least = 0.86 * math.sqrt(area)
    seeds, open_ = list[int](), np.ones(len(part), dtype=bool)
    for i in rng.permutation(len(part)):
        if open_[i]:
            seeds.append(int(i))
            open_ &= _reach(points - points[i], along[i]) >= least
    table = np.stack([_reach(points - points[s], along[s]) for s in seeds])
    wobble = (
        0.12
        * least
        * np.sin(points[:, 0] * 5.1 + points[:, 1] * 3.7)[None, :]
        * np.linspace(-1, 1, len(seeds))[:, None]
    )
    return np.asarray((table + wobble).argmin(axis=0))


def _turned(along: FloatArray, degrees: float) -> FloatArray:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.column_stack((c * along[:, 0] - s * along[:, 1], s * along[:, 0] + c * along[:, 1]))


def _reach(off: FloatArray, along: FloatArray) -> FloatArray:
    """Return distances in which a step along the drift counts less than one across it, areas kept."""
    root = math.sqrt(float(SQUEEZE))
    return np.asarray(np.hypot((off @ along) / root, (off[:, 0] * -along[1] + off[:, 1] * along[0]) * root))


def _joined(ground: Ground, owner: Whole) -> Whole:
    """Return the drifts with pieces under the least size given to the neighbour they touch most."""
    owner = owner.copy()
    for _ in range(3):
        beside = neighbours(ground, owner)
        areas = np.bincount(owner[owner >= 0], minlength=len(beside)) * ground.square
        beds = {int(d): int(ground.bed[owner == d][0]) for d in np.unique(owner[owner >= 0])}
        changed = False
        for d in np.argsort(areas):
            near = [(m, n) for n, m in beside[int(d)] if beds.get(n) == beds.get(int(d)) and areas[n] >= LEAST]
            if 0 < areas[d] < LEAST and near:
                owner[owner == d] = max(near)[1]
                changed = True
        if not changed:
            break
    used = np.unique(owner[owner >= 0])
    again = np.full(int(owner.max()) + 2, -1, dtype=np.int64)
    again[used] = np.arange(len(used))
    return again[owner]


def _drifts(ground: Ground, owner: Whole, edging: Mask) -> tuple[Drift, ...]:
    found = []
    for d in range(int(owner.max()) + 1):
        here = np.flatnonzero(owner == d)
        middle = here[int(((ground.points[here] - ground.points[here].mean(axis=0)) ** 2).sum(axis=1).argmin())]
        found.append(
            Drift(
                squares=here,
                bed=int(ground.bed[middle]),
                is_edge=bool(edging[here].mean() > 0.5),
                area=len(here) * ground.square,
                depth=float(ground.depth[here].mean()),
                front=float(ground.front[here].mean()),
                seen=float(ground.seen[here].mean()),
                hours=None if ground.hours is None else float(ground.hours[here].mean()),
                at=(float(ground.points[middle, 0]), float(ground.points[middle, 1])),
                along=(float(ground.along[middle, 0]), float(ground.along[middle, 1])),
                dry=float(ground.dry[here].mean()),
            )
        )
    return tuple(found)
