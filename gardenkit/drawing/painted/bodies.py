"""The bodies of the sun map as flat planes and round crowns, sorted so that a ray meets only those near it.

Importing this file imports Numba.
"""

import math
from collections.abc import Sequence
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid
from gardenkit.site.sun_kernel import compiled

CELL = 0.5  # m across the rays: bodies are sorted into squares of this size
MOST_SQUARES = 250_000  # of a garden with one body far off they are larger. House value.
SHEET = 0.01  # m: half the thickness given to a fence panel
ROUND = 12  # sides of a trunk
Ints = NDArray[np.int64]


@attrs.frozen(kw_only=True, eq=False)
class Bodies:
    """Bodies for rays towards ``sun``: planes (n, 4) of each flat one; of round ones their middle, 1 / radius, 1 / half
    height, and the ray in their own measure (x, y, z, its square).

    ``light`` is the share each lets through; ``squares`` of the plane across the rays list the bodies they hold.
    """

    sun: FloatArray
    frame: FloatArray  # (2, 3): the two directions across the rays, in squares a metre
    corner: FloatArray  # in squares
    shape: tuple[int, int]
    starts: Ints
    listed: Ints
    planes: FloatArray
    first: Ints
    rounds: FloatArray
    light: FloatArray

    @property
    def held(self) -> tuple[Any, ...]:
        """Everything in the order that ``share_of_sun`` takes it after a place."""
        return (
            self.sun,
            self.frame,
            self.corner,
            *self.shape,
            self.starts,
            self.listed,
            self.planes,
            self.first,
            self.rounds,
            self.light,
        )


def bodies_for(solids: Sequence[Solid], sun: tuple[float, float, float], month: int) -> Bodies:
    """Return the bodies that take light from the sun in a month, ready for rays towards it."""
    taken = sorted((b for b in solids if b.light[month - 1] < 0.95), key=lambda b: b.light[month - 1])  # walls first
    way = np.asarray(sun, dtype=float)
    side = np.array([way[1], -way[0], 0.0]) / max(math.hypot(way[0], way[1]), 1e-9)
    frame = np.array([side, np.cross(side, way)])
    hulls, rounds, spans = [], [], []
    for body in taken:
        points, planes, round_one = _shape(body)
        hulls.append(planes)
        rounds.append(round_one)
        flat = points @ frame.T
        spans.append((*flat.min(axis=0), *flat.max(axis=0)))
    box = np.asarray(spans, dtype=float).reshape(-1, 4)
    corner = box[:, :2].min(axis=0) if len(box) else np.zeros(2)
    far = box[:, 2:].max(axis=0) if len(box) else np.ones(2)
    cell = max(CELL, math.sqrt(float(np.prod(far - corner)) / MOST_SQUARES))
    frame, corner, box, far = frame / cell, corner / cell, box / cell, far / cell
    columns, rows = (int(v) for v in np.ceil(far - corner).astype(int) + 1)
    held: list[list[int]] = [[] for _ in range(columns * rows)]
    for number, (u0, v0, u1, v1) in enumerate(box):
        for v in range(int(v0 - corner[1]), int(v1 - corner[1]) + 1):
            for u in range(int(u0 - corner[0]), int(u1 - corner[0]) + 1):
                held[v * columns + u].append(number)
    return Bodies(
        sun=way,
        frame=frame,
        corner=corner,
        shape=(columns, rows),
        starts=np.concatenate(([0], np.cumsum([len(h) for h in held]))).astype(np.int64),
        listed=np.array([n for h in held for n in h], dtype=np.int64),
        planes=np.vstack([*hulls, np.zeros((1, 4))]),
        first=np.concatenate(([0], np.cumsum([len(h) for h in hulls]))).astype(np.int64),
        rounds=np.array([_in_own_measure(one, way) for one in rounds], dtype=float).reshape(-1, 9),
        light=np.array([body.light[month - 1] for body in taken], dtype=float),
    )


def _in_own_measure(one: Sequence[float], way: FloatArray) -> tuple[float, ...]:
    x, y, z, radius, half = one
    if radius <= 0:
        return (0.0,) * 9
    p, q, r = float(way[0]) / radius, float(way[1]) / radius, float(way[2]) / half
    return x, y, z, 1 / radius, 1 / half, p, q, r, p * p + q * q + r * r


def _shape(body: Solid) -> tuple[FloatArray, FloatArray, tuple[float, ...]]:
    """Return points that span a body, its planes (n, 4), and its round form (all zero for a flat one)."""
    if isinstance(body, Ellipsoid):
        x, y, z = body.centre
        r, h = body.radius, body.half_height
        corners = [(x + a * r, y + b * r, z + c * h) for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)]
        return np.array(corners), np.zeros((0, 4)), (x, y, z, r, h)
    points = body.vertices if isinstance(body, Hull) else _turned(body)
    return points, _planes(points), (0.0,) * 5


def _turned(body: Column | Cone) -> FloatArray:
    turn = np.linspace(0, 2 * math.pi, ROUND, endpoint=False)
    ring = np.column_stack((np.cos(turn), np.sin(turn))) * body.radius + np.asarray(body.at)
    low = np.column_stack((ring, np.full(ROUND, body.base)))
    if isinstance(body, Cone):
        return np.vstack((low, [(*body.at, body.top)]))
    return np.vstack((low, np.column_stack((ring, np.full(ROUND, body.top)))))


def _planes(points: FloatArray) -> FloatArray:
    """Return the planes of a convex body; a flat sheet, or a bare line, is given a little thickness."""
    from scipy.spatial import ConvexHull

    off = points - points.mean(axis=0)
    _, sizes, ways = np.linalg.svd(off, full_matrices=False)
    for thin in ways[sizes < 1e-6]:
        points = np.vstack((points + SHEET * thin, points - SHEET * thin))
    return np.unique(np.round(np.asarray(ConvexHull(points).equations), 6), axis=0)


@compiled
def share_of_sun(
    x: float,
    y: float,
    z: float,
    sun: FloatArray,
    frame: FloatArray,
    corner: FloatArray,
    columns: int,
    rows: int,
    starts: Ints,
    listed: Ints,
    planes: FloatArray,
    first: Ints,
    rounds: FloatArray,
    light: FloatArray,
) -> float:
    """Return the share of the sun's light that reaches a place past all bodies it does not itself lie in."""
    u = frame[0, 0] * x + frame[0, 1] * y + frame[0, 2] * z - corner[0]
    v = frame[1, 0] * x + frame[1, 1] * y + frame[1, 2] * z - corner[1]
    column, row = math.floor(u), math.floor(v)
    share = 1.0
    if column < 0 or row < 0 or column >= columns or row >= rows:
        return share
    square = row * columns + column
    for k in range(starts[square], starts[square + 1]):
        body = listed[k]
        if first[body + 1] > first[body]:
            hit = _meets_flat(x, y, z, sun, planes, first[body], first[body + 1])
        else:
            hit = _meets_round(x, y, z, rounds, body)
        if hit:
            share *= light[body]
            if share < 0.01:
                return 0.0
    return share


@compiled
def _meets_flat(x: float, y: float, z: float, sun: FloatArray, planes: FloatArray, start: int, stop: int) -> bool:
    """Return whether a ray meets the body of planes ``start`` to ``stop``; a trunk does not take its own light."""
    enter, leave, inside = 0.02, 1e9, stop - start > ROUND
    for k in range(start, stop):
        slope = planes[k, 0] * sun[0] + planes[k, 1] * sun[1] + planes[k, 2] * sun[2]
        off = planes[k, 0] * x + planes[k, 1] * y + planes[k, 2] * z + planes[k, 3]
        inside = inside and off <= 0
        if abs(slope) < 1e-9:
            if off > 0:
                return False
        elif slope < 0:
            enter = max(enter, -off / slope)
        else:
            leave = min(leave, -off / slope)
    return enter < leave and not inside


@compiled
def _meets_round(x: float, y: float, z: float, rounds: FloatArray, body: int) -> bool:
    """Return whether a ray meets a crown; leaves of the crown itself (and of what grows into it) are lit by their own
    depth in it.
    """
    a, b, c = (
        (x - rounds[body, 0]) * rounds[body, 3],
        (y - rounds[body, 1]) * rounds[body, 3],
        (z - rounds[body, 2]) * rounds[body, 4],
    )
    ahead = a * rounds[body, 5] + b * rounds[body, 6] + c * rounds[body, 7]
    square = a * a + b * b + c * c
    if square < 1.25:
        return bool(square < 0.2 and rounds[body, 4] < 1.0)
    return bool(ahead < 0 and ahead * ahead > rounds[body, 8] * (square - 1.0))
