"""Simple bodies that cast shade or hide a view: blocks, round crowns, trunks and cones.

Each says how much direct sun it lets through in each month (``light``: twelve shares, 0 opaque to 1 clear). What the body
is, a house or a tree, is not known here. Heights are metres above the plan's zero level.
"""

from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry.plane import FloatArray, Outline, Point

Months = tuple[float, ...]  # twelve shares, January first
OPAQUE: Months = (0.0,) * 12


@attrs.frozen(eq=False, kw_only=True)
class Hull:
    """The convex body around ``vertices`` (n, 3): a house block, a roof, a fence panel, a wall.

    ``edges`` names its edges as pairs of vertex numbers; left empty, any two vertices may be an edge, which is slower, never wrong.
    """

    name: str
    vertices: FloatArray
    light: Months = OPAQUE
    edges: tuple[tuple[int, int], ...] = ()

    @property
    def edge_pairs(self) -> NDArray[np.int64]:
        """Pairs of vertex numbers that hold every edge, (m, 2)."""
        if self.edges:
            return np.asarray(self.edges, dtype=np.int64)
        return np.column_stack(np.triu_indices(len(self.vertices), k=1)).astype(np.int64)


@attrs.frozen(kw_only=True)
class Ellipsoid:
    """A round or oval crown: centre (x, y, z), ``radius`` across, ``half_height`` up and down."""

    name: str
    centre: tuple[float, float, float]
    radius: float
    half_height: float
    light: Months = OPAQUE


@attrs.frozen(kw_only=True)
class Column:
    """An upright cylinder: a trunk, a post, a columnar crown."""

    name: str
    at: Point
    radius: float
    base: float
    top: float
    light: Months = OPAQUE


@attrs.frozen(kw_only=True)
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
