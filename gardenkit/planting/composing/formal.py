"""What makes a planting formal: one half the mirror of the other, one clipped kind along the walk, a hedge behind."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.geometry.rows import walked
from gardenkit.planting.composing.apart import by_kind, uncrowded
from gardenkit.planting.composing.drifts import Division, Drift, neighbours
from gardenkit.planting.composing.given import Surroundings
from gardenkit.planting.composing.ground import Ground, Mask, Whole
from gardenkit.planting.composing.kinds import FENCE, Kind, sun_misfit
from gardenkit.planting.composing.woody import SHRUB_SHARE, Placed, Room
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

STRAIGHT = Figure(0.3, "m", f"{HOUSE}: a way that strays no further from its straight line is an axis")
ALIKE = Figure(0.5, "of the beds", f"{HOUSE}: from this much ground with its like across the axis it is mirrored")
LOW_LINE = Figure(0.55, "m", f"{HOUSE}: the highest clipped edge along a walk")
HEDGE_ROOM = Figure(0.6, "m", f"{HOUSE}: what is left to plant before a hedge")
LOW_HEDGE = (0.85, 2.6)  # m: least and greatest height of its kinds, grown; none is wider. House values.
HEDGED = 0.6  # of its spread: what is set nearer than this is meant to grow together into a hedge. House value.
SAME_SPOT = 1.2  # steps of the ground within which a mirrored place counts as there. Numerical choice.


@attrs.frozen(eq=False, kw_only=True)
class Mirror:
    """The axis through ``a`` along the unit vector ``way``, the square across the axis from each one (-1: none), and
    the ``half`` that is composed: one side, and all that has nothing across.
    """

    a: Point
    way: Point
    partner: Whole
    half: Mask

    def across(self, at: Point) -> Point:
        """Return the place that mirrors another."""
        off = (at[0] - self.a[0], at[1] - self.a[1])
        along = off[0] * self.way[0] + off[1] * self.way[1]
        return 2 * (self.a[0] + along * self.way[0]) - at[0], 2 * (self.a[1] + along * self.way[1]) - at[1]


def mirror_of(ground: Ground, ways: Iterable[Line]) -> Mirror | None:
    """Return the axis of the beds: the longest straight way with enough of them alike on both sides, or none."""
    for way in sorted((w for w in ways if _is_straight(w)), key=lambda w: -math.dist(w[0], w[-1])):
        found = _about(ground, way)
        if (found.partner >= 0).mean() >= float(ALIKE):
            return found
    return None


def paired(room: Mask, mirror: Mirror) -> Mask:
    """Return where a kind may stand in the half that is composed so that its like has room across the axis."""
    return np.asarray(room & mirror.half & ((mirror.partner < 0) | room[mirror.partner]))


def one_side(room: Room, mirror: Mirror | None) -> Room:
    """Return where kinds may stand in the half that is composed, whether or not their like has room across."""
    if mirror is None:
        return room
    half = mirror.half
    return lambda kind: np.asarray(room(kind) & half)


def mirrored(
    new: Iterable[Placed], mirror: Mirror, ground: Ground, room: Room, there: Sequence[Placed]
) -> list[Placed]:
    """Return the like of new plants across the axis, where it has room; what stands on the axis stays single."""
    found, standing = list[Placed](), by_kind(there)
    for one in new:
        at = mirror.across(one.at)
        away, square = ground.index.query(at)
        if away > SAME_SPOT * ground.step or math.dist(at, one.at) < one.kind.species.spacing_m:
            continue
        if one.support or not room(one.kind)[square]:
            continue
        if uncrowded(one.kind, np.array([at]), standing)[0]:
            found.append(attrs.evolve(one, at=(round(at[0], 3), round(at[1], 3))))
    return found


def doubled(division: Division, mirror: Mirror, ground: Ground) -> tuple[Division, tuple[int, ...]]:
    """Return a division of one half with its like across the axis, and for each drift the one it is the like of."""
    owner, drifts, of = division.owner.copy(), list(division.drifts), list(range(len(division.drifts)))
    for d, drift in enumerate(division.drifts):
        squares = mirror.partner[drift.squares]
        squares = squares[(squares >= 0) & (owner[squares] < 0)]
        if len(squares):
            owner[squares] = len(drifts)
            drifts.append(_across(drift, squares, mirror, ground))
            of.append(d)
    return Division(drifts=tuple(drifts), owner=owner, beside=neighbours(ground, owner)), tuple(of)


def can_be_clipped(species: Species) -> bool:
    """Whether a kind makes a clipped line: an evergreen shrub that is sheared, or is set close for a hedge."""
    close = species.spacing_m <= HEDGED * species.spread
    return (
        species.layer in ("shrub", "conifer")
        and species.is_evergreen
        and (close or any(task.task == "shear" for task in species.care))
    )


def edges_a_walk(species: Species) -> bool:
    """Whether a kind makes the clipped edge along a walk."""
    return can_be_clipped(species) and species.height <= float(LOW_LINE)


def makes_a_hedge(species: Species) -> bool:
    """Whether a kind makes the hedge behind."""
    low, high = LOW_HEDGE
    return can_be_clipped(species) and low <= species.height <= high and species.spread <= high


def edge_line(
    kinds: Sequence[Kind], ground: Ground, surroundings: Surroundings, room: Room, there: Sequence[Placed]
) -> list[Placed]:
    """Return one kind in a line along all that is walked on, so near the edge as it may stand."""
    seats = plane.union(region for _, region, _ in surroundings.around.keep_clear)
    walk = plane.difference(surroundings.walked, seats)
    for kind in _fittest([k for k in kinds if edges_a_walk(k.species)], ground):
        off = kind.species.spread / 2 + 0.5 * ground.step
        found = _line(kind, walk, off, ground, room(kind), there, stage="line")
        if len(found) > 2:
            return found
    return []


def hedge(
    kinds: Sequence[Kind], ground: Ground, surroundings: Surroundings, room: Room, there: Sequence[Placed]
) -> list[Placed]:
    """Return a hedge along the fences, or the line of the property, where the bed is deep enough to plant before it;
    no more of it than shrubs take of the ground.
    """
    lines = surroundings.backs or tuple(pairwise(surroundings.boundary))
    behind = plane.union(plane.grown(plane.line(one), 0.01) for one in lines if len(one) > 1)
    for kind in _fittest([k for k in kinds if makes_a_hedge(k.species)], ground):
        half = kind.species.spread / 2
        ok = room(kind) & (ground.front >= half + float(HEDGE_ROOM))
        found = _line(kind, behind, float(FENCE) * half + 1.5 * ground.step, ground, ok, there, stage="hedge")
        most = float(SHRUB_SHARE) * len(ground) * ground.square / (kind.species.spread * _hedge_step(kind))
        if len(found) > 2:
            return found[: max(3, int(most))]
    return []


# ---- helpers


def _is_straight(way: Line) -> bool:
    if len(way) < 2 or math.dist(way[0], way[-1]) < 1.0:
        return False
    return bool(plane.point_distances(np.asarray(way), plane.line((way[0], way[-1]))).max() <= float(STRAIGHT))


def _about(ground: Ground, way: Line) -> Mirror:
    long = math.dist(way[0], way[-1])
    run = ((way[-1][0] - way[0][0]) / long, (way[-1][1] - way[0][1]) / long)
    off = ground.points - np.asarray(way[0])
    side = run[0] * off[:, 1] - run[1] * off[:, 0]
    image = ground.points - 2 * side[:, None] * np.array([-run[1], run[0]])
    away, near = ground.index.query(image)
    partner = np.where(away <= SAME_SPOT * ground.step, near, -1)
    return Mirror(a=way[0], way=run, partner=partner, half=(side > 0) | (partner < 0))


def _across(drift: Drift, squares: Whole, mirror: Mirror, ground: Ground) -> Drift:
    end = mirror.across((mirror.a[0] + drift.along[0], mirror.a[1] + drift.along[1]))
    return attrs.evolve(
        drift,
        squares=squares,
        bed=int(ground.bed[squares[0]]),
        area=len(squares) * ground.square,
        at=mirror.across(drift.at),
        along=(end[0] - mirror.a[0], end[1] - mirror.a[1]),
        hours=None if ground.hours is None else float(ground.hours[squares].mean()),
    )


def _fittest(kinds: Sequence[Kind], ground: Ground) -> list[Kind]:
    """Return kinds for one line, those first that like the sun of the whole ground, then the lower ones."""

    def misfit(kind: Kind) -> float:
        return 0.0 if ground.hours is None else float(sun_misfit(kind.species, ground.hours).mean())

    return sorted(kinds, key=lambda k: (round(misfit(k), 1), k.species.height, k.species.botanical))


def _hedge_step(kind: Kind) -> float:
    return min(kind.species.spacing_m, kind.species.spread)


def _line(
    kind: Kind, along: Region, off: float, ground: Ground, ok: Mask, there: Sequence[Placed], *, stage: str
) -> list[Placed]:
    """Return plants at even distances on the line ``off`` metres from some ground, where the squares are ``ok``."""
    step = _hedge_step(kind) * 0.97
    places = [at for ring in plane.rings(plane.grown(along, off)) for at in walked(_shut(ring), step)]
    if not places:
        return []
    away, squares = ground.index.query(np.array(places))
    free = uncrowded(kind, np.array(places), by_kind(there))
    found = list[Placed]()
    for at, d, square, open_ in zip(places, away, squares, free, strict=True):
        if d > ground.step or not ok[square] or not open_:
            continue
        if all(math.dist(at, p.at) >= 0.9 * step for p in found):
            found.append(Placed(kind=kind, at=(round(at[0], 3), round(at[1], 3)), stage=stage))
    return found


def _shut(ring: Sequence[Point]) -> Line:
    return tuple(ring) if ring[0] == ring[-1] else (*ring, ring[0])
