"""Simple bodies that cast shade or hide a view: blocks, round crowns, trunks and cones.

Each says how much direct sun it lets through in each month (``light``: twelve shares, 0 opaque to 1 clear). What the
body is, a house or a tree, is not known here. Heights are metres above the plan's zero level.
"""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray, Outline, Point, hull_outline

Months = tuple[float, ...]  # twelve shares, January first
OPAQUE: Months = (0.0,) * 12


def _bytes(vertices: FloatArray) -> bytes:
    return vertices.tobytes()


@attrs.frozen(kw_only=True, cache_hash=True)
class Hull:
    """The convex body around ``vertices`` (n, 3): a house block, a roof, a fence panel, a wall.

    ``edges`` names its edges as pairs of vertex numbers; left empty, any two vertices may be an edge, which is slower,
    never wrong.
    """

    name: str
    vertices: FloatArray = attrs.field(eq=_bytes)  # so that bodies worked out twice are the same bodies
    light: Months = OPAQUE
    edges: tuple[tuple[int, int], ...] = ()

    @property
    def edge_pairs(self) -> NDArray[np.int64]:
        """Pairs of vertex numbers that hold every edge, (m, 2)."""
        if self.edges:
            return np.asarray(self.edges, dtype=np.int64)
        return np.column_stack(np.triu_indices(len(self.vertices), k=1)).astype(np.int64)


@attrs.frozen(kw_only=True, cache_hash=True)
class Ellipsoid:
    """A round or oval crown: centre (x, y, z), ``radius`` across, ``half_height`` up and down."""

    name: str
    centre: tuple[float, float, float]
    radius: float
    half_height: float
    light: Months = OPAQUE


@attrs.frozen(kw_only=True, cache_hash=True)
class Column:
    """An upright cylinder: a trunk, a post, a columnar crown."""

    name: str
    at: Point
    radius: float
    base: float
    top: float
    light: Months = OPAQUE


@attrs.frozen(kw_only=True, cache_hash=True)
class Cone:
    """A cone standing on its base: a conical crown."""

    name: str
    at: Point
    radius: float
    base: float
    top: float
    light: Months = OPAQUE


Solid = Hull | Ellipsoid | Column | Cone


def block(name: str, outline: Outline, base: float, top: float, *, light: Months = OPAQUE) -> Hull:
    """Return an upright prism over a CONVEX outline; cut an outline with inner corners into convex parts first."""
    ground = np.asarray(outline, dtype=float)
    low = np.column_stack((ground, np.full(len(ground), base)))
    high = np.column_stack((ground, np.full(len(ground), top)))
    return Hull(name=name, vertices=np.vstack((low, high)), light=light, edges=prism_edges(len(ground)))


def prism_edges(sides: int) -> tuple[tuple[int, int], ...]:
    """Return the edges of a prism whose base corners come first, then the corners above them in the same order."""
    ring = [(i, (i + 1) % sides) for i in range(sides)]
    return (*ring, *((i + sides, j + sides) for i, j in ring), *((i, i + sides) for i in range(sides)))


def panel(
    name: str, a: Sequence[float], b: Sequence[float], base: float, top: float, *, light: Months = OPAQUE
) -> Hull:
    """Return an upright sheet from a to b: a fence panel or a thin wall."""
    corners = [(a[0], a[1], base), (b[0], b[1], base), (b[0], b[1], top), (a[0], a[1], top)]
    ring = ((0, 1), (1, 2), (2, 3), (3, 0))
    return Hull(name=name, vertices=np.asarray(corners, dtype=float), light=light, edges=ring)


def top_of(solid: Solid) -> float:
    """Return the height of the highest point in metres."""
    if isinstance(solid, Hull):
        return float(solid.vertices[:, 2].max())
    if isinstance(solid, Ellipsoid):
        return solid.centre[2] + solid.half_height
    return solid.top


def shadow(solid: Solid, run: Point, *, height: float = 0.0, sides: int = 64) -> Outline:
    """Return the outline of a body's shadow on the level plane at ``height``; empty when no part of the body stands
    above it.

    ``run`` is the way to the sun on the plan for each metre of height: a point z above the plane falls at (x, y) - z
    run. Round bodies are drawn with ``sides`` corners on their true edge.
    """
    spots = _above(solid, run, height, sides)
    if len(spots) == 0:
        return ()
    fallen = spots[:, :2] - (spots[:, 2:] - height) * np.asarray(run)
    if isinstance(solid, Ellipsoid) and len(spots) == sides and spots[:, 2].min() > height:
        return tuple(map(tuple, fallen.tolist()))  # the whole rim falls: an ellipse, in its order already
    return hull_outline(fallen)


def _above(solid: Solid, run: Point, height: float, sides: int) -> FloatArray:
    """Return points of the body at or above a height whose fallen hull is its shadow, (n, 3)."""
    if isinstance(solid, Hull):
        spots = solid.vertices
        a, b = (spots[solid.edge_pairs[:, i]] for i in (0, 1))
        through = (a[:, 2] < height) != (b[:, 2] < height)
        a, b = a[through], b[through]
        cut = a + ((height - a[:, 2]) / (b[:, 2] - a[:, 2]))[:, None] * (b - a)
        return np.vstack((spots[spots[:, 2] >= height], cut))
    angle = np.linspace(0.0, 2 * np.pi, sides, endpoint=False)
    ring = np.column_stack((np.cos(angle), np.sin(angle), np.zeros(sides)))
    if isinstance(solid, Ellipsoid):
        return _round_above(solid, run, height, ring)
    if solid.top <= height:
        return np.zeros((0, 3))
    base, narrow = max(solid.base, height), 0.0 if isinstance(solid, Cone) else 1.0
    wide = 1.0 - (1.0 - narrow) * (base - solid.base) / (solid.top - solid.base)
    low = ring * solid.radius * wide + np.array([*solid.at, base])
    high = ring * solid.radius * narrow + np.array([*solid.at, solid.top])
    return np.vstack((low, high))


def _round_above(solid: Ellipsoid, run: Point, height: float, ring: FloatArray) -> FloatArray:
    """Return the rim between the lit and dark halves of an ellipsoid where it is above a height, and its cut at that
    height.
    """
    size = np.array([solid.radius, solid.radius, solid.half_height])
    centre = np.asarray(solid.centre)
    x, y, z = run[0] / solid.radius, run[1] / solid.radius, 1.0 / solid.half_height
    slant, long = math.hypot(x, y), math.hypot(x, y, z)
    side = np.array([y / slant, -x / slant, 0.0]) if slant else np.array([1.0, 0.0, 0.0])  # level, across the ray
    up = np.array([-z * side[1], z * side[0], x * side[1] - y * side[0]]) / long  # across both: ray x side
    rim = centre + size * (ring[:, :1] * side + ring[:, 1:2] * up)
    low = (height - centre[2]) / solid.half_height
    rim = rim[rim[:, 2] >= height]
    if abs(low) >= 1:
        return rim if low < 0 else np.zeros((0, 3))
    cut = ring * solid.radius * np.sqrt(1 - low**2) + np.array([centre[0], centre[1], height])
    return np.vstack((rim, cut))
