"""The ground as it will be: level areas, graded paths and spots cut into or heaped onto the ground as found.

Beside each a bank of 1 in n runs from its edge up or down to the ground as found, or a wall stands at the edge and the
ground beyond it stays.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Protocol

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Outline, Point, Region
from gardenkit.site import levels
from gardenkit.site.levels import IntArray, Surface
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Level, Path, Structure

PATH_BANK = 3.0  # 1 in n beside a path that is built to heights of its own. Common practice, no source.
STATION = 0.25  # m between the places where a path's finished height is kept. House value.
AT_ONCE = 4096  # places looked up in one go, which bounds the memory
EDGE_STEP = 0.25  # m between points of an edge in the net that contours are drawn from. House value.
OFF = 0.02  # m to either side of an edge where that net takes the height inside and outside it. House value.


class Shaped(Protocol):
    """Ground made by hand: what it is called, how steep its bank is (None: a wall), and how places lie to it."""

    @property
    def name(self) -> str:
        """What it is called."""
        ...

    @property
    def bank(self) -> float | None:
        """The n of its bank of 1 in n; None where walls hold it."""
        ...

    def reading(self, places: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return for places (k, 2) how far outside they lie (0: on it), and its height there or at its nearest edge."""
        ...


@attrs.frozen(kw_only=True, eq=False, slots=False)
class Flat:
    """An area on one plane, or a spot: its ``corners``, its ``height`` in metres where ``at``, its slopes."""

    name: str
    corners: Outline
    at: Point
    height: float
    gradient: tuple[float, float]
    bank: float | None

    @cached_property
    def region(self) -> Region:
        """The ground it covers; nowhere for a spot."""
        return plane.region(self.corners) if self.corners else plane.NOWHERE

    def level(self, places: FloatArray) -> FloatArray:
        """Return the heights (k,) of its plane at places (k, 2)."""
        return np.asarray(self.height + (places - np.array(self.at)) @ np.array(self.gradient))

    def reading(self, places: FloatArray) -> tuple[FloatArray, FloatArray]:
        """See ``Shaped``."""
        if not self.corners:
            return np.linalg.norm(places - np.array(self.at), axis=1), np.full(len(places), self.height)
        far, near = _nearest(np.array([*self.corners, self.corners[0]], dtype=float), places)[:2]
        within = plane.inside(self.region, places)
        return np.where(within, 0.0, far), self.level(np.where(within[:, None], places, near))


@attrs.frozen(kw_only=True, eq=False, slots=False)
class Strip:
    """A path built to heights of its own: its middle line (n, 2) with a height (n,) each, level across its width."""

    name: str
    line: FloatArray
    heights: FloatArray
    width: float
    bank: float | None = PATH_BANK

    def reading(self, places: FloatArray) -> tuple[FloatArray, FloatArray]:
        """See ``Shaped``."""
        far, _, piece, share = _nearest(self.line, places)
        low, high = self.heights[piece], self.heights[piece + 1]
        return np.maximum(far - self.width / 2, 0.0), low + share * (high - low)


@attrs.frozen(kw_only=True, eq=False)
class NewGround(Surface):
    """The ground as found with ``shapes`` made in it; where two reach a place the nearer one is made last."""

    shapes: tuple[Shaped, ...]

    def found(self, places: FloatArray) -> FloatArray:
        """Return the heights (k,) of the ground as found at places (k, 2)."""
        return Surface._at(self, places)[0]

    def _at(self, places: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
        heights, guessed = Surface._at(self, places)
        for first in range(0, len(places), AT_ONCE):
            part = slice(first, first + AT_ONCE)
            heights[part], on = shaped(self.shapes, places[part], heights[part])
            guessed[part] &= ~on
        return heights, guessed


def shaped(shapes: Sequence[Shaped], places: FloatArray, heights: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Return the heights (k,) at places (k, 2) after the shapes are made, and which places lie on one of them."""
    read = [one.reading(places) for one in shapes]
    far, level = np.array([r[0] for r in read]), np.array([r[1] for r in read])
    bank = np.array([math.inf if one.bank is None else one.bank for one in shapes])
    walled = np.array([one.bank is None for one in shapes])
    made, every = heights.copy(), np.arange(len(places))
    for pick in np.argsort(-far, axis=0, kind="stable"):
        away, own = far[pick, every], level[pick, every]
        on = away <= 0
        rise = np.where(walled[pick], math.inf, away / bank[pick])
        made = np.where(on, own, np.clip(made, own - rise, own + rise))
    return made, np.asarray((far <= 0).any(axis=0))


def level_shape(level: Level, structure: Structure) -> Flat:
    """Return the shape of a level: of its own outline, of the area it names, or a spot."""
    corners = next((p.outline for p in structure.ground_areas if p.name == level.of), level.outline)
    way, steep = math.radians(level.falls_to), level.fall / 100
    return Flat(
        name=level.name,
        corners=corners,
        at=level.at,
        height=level.height,
        gradient=(-steep * math.sin(way), -steep * math.cos(way)),
        bank=None if corners and level.edge == "wall" else level.bank,
    )


def graded_path(path: Path, route: Route) -> Strip:
    """Return the shape of a path with finished heights on its route."""
    s = np.linspace(0.0, route.length, max(2, math.ceil(route.length / STATION) + 1))
    shares, heights = [h.share for h in path.heights], [h.height for h in path.heights]
    z = np.interp(s / route.length, shares, heights)
    return Strip(name=path.name, line=route.curve.at(s), heights=z, width=path.width)


def ground_to_be(found: Surface | None, structure: Structure, routes: Mapping[str, Route]) -> Surface | None:
    """Return the ground as found with the levels and graded paths of a structure made in it; None without heights."""
    strips = [graded_path(p, routes[p.name]) for p in structure.paths if len(p.heights) > 1 and p.name in routes]
    shapes: tuple[Shaped, ...] = (*strips, *(level_shape(level, structure) for level in structure.levels))
    if found is None or not shapes:
        return found
    fields = {a.name: getattr(found, a.name) for a in attrs.fields(Surface)}
    return NewGround(**fields, shapes=shapes)


def net(ground: NewGround, within: Region, *, cell: float) -> Surface:
    """Return the new ground as a net of triangles to draw contours from: a grid of ``cell`` metres, finer at edges."""
    low_x, low_y, high_x, high_y = plane.bounds(within)
    xs, ys = (np.arange(a, b + cell, cell) for a, b in ((low_x, high_x), (low_y, high_y)))
    grid = np.array(np.meshgrid(xs, ys)).reshape(2, -1).T
    edges = [line for one in ground.shapes for line in _both_sides(one)]
    if edges:  # a point of the grid beside an edge would break the net elsewhere
        lines = plane.union(plane.grown(plane.line(line), 0.01) for line in edges if len(line) > 1)
        grid = grid[plane.point_distances(grid, lines) > EDGE_STEP / 2] if not lines.is_empty else grid
    corners = np.array(plane.corners(within), dtype=float)
    places = np.unique(np.round(np.concatenate([grid, corners, *edges]), 3), axis=0)
    places = places[plane.inside(plane.grown(within, OFF), places)]
    return levels.through(places, ground.at(places))


def edges_of(one: Shaped, off: Sequence[float] = (0.0,)) -> list[FloatArray]:
    """Return points (n, 2) about 0.25 m apart along the edge of a shape, each ``off`` metres outside it; a spot's is
    itself.
    """
    if isinstance(one, Strip):
        ground = plane.grown(plane.line(one.line.tolist()), one.width / 2, round_ends=False)
    elif isinstance(one, Flat) and one.corners:
        ground = one.region
    else:
        return [np.array([one.at], dtype=float)] if isinstance(one, Flat) else []
    return [_along(ring) for by in off for ring in plane.rings(plane.grown(ground, by))]


# ---- helpers


def _both_sides(one: Shaped) -> list[FloatArray]:
    """Return points along the edge of a shape, in pairs a little inside and a little outside it: the net then breaks
    there and nowhere else.
    """
    if isinstance(one, Strip):
        ahead = np.gradient(one.line, axis=0)
        side = np.column_stack((-ahead[:, 1], ahead[:, 0])) / np.linalg.norm(ahead, axis=1)[:, None]
        return [one.line + by * side for w in (one.width / 2, -one.width / 2) for by in (w - OFF, w + OFF)]
    if not (isinstance(one, Flat) and one.corners):
        return edges_of(one)
    found = []
    for a, b in zip(one.corners, (*one.corners[1:], one.corners[0]), strict=True):
        start, step = np.array(a), np.array(b) - np.array(a)
        long = float(np.linalg.norm(step))
        share = np.linspace(OFF / long, 1 - OFF / long, max(2, math.ceil(long / EDGE_STEP) + 1))
        side = np.array((-step[1], step[0])) / long * OFF
        found += [start + share[:, None] * step + by * side for by in (1, -1)]
    return found


def _along(ring: Sequence[Point]) -> FloatArray:
    """Return points along a closed ring, anticlockwise, at its corners and at least every 0.25 m between them."""
    a = np.array(ring, dtype=float)
    b = np.roll(a, -1, axis=0)
    a = a if (a[:, 0] * b[:, 1] - b[:, 0] * a[:, 1]).sum() > 0 else a[::-1]
    found = []
    for start, end in zip(a, np.roll(a, -1, axis=0), strict=True):
        count = max(1, math.ceil(float(np.linalg.norm(end - start)) / EDGE_STEP))
        found.append(start + np.arange(count)[:, None] / count * (end - start))
    return np.concatenate(found)


def _nearest(line: FloatArray, places: FloatArray) -> tuple[FloatArray, FloatArray, IntArray, FloatArray]:
    """Return for each place how far the line (n, 2) is, the nearest point on it, on which piece, and where along it."""
    a, step = line[:-1], np.diff(line, axis=0)
    long = np.maximum((step**2).sum(axis=1), 1e-18)
    share = np.clip(((places[:, None, :] - a) * step).sum(axis=2) / long, 0.0, 1.0)
    gap = a + share[:, :, None] * step - places[:, None, :]
    away = (gap**2).sum(axis=2)
    piece, rows = away.argmin(axis=1), np.arange(len(places))
    return np.sqrt(away[rows, piece]), places + gap[rows, piece], piece, share[rows, piece]
