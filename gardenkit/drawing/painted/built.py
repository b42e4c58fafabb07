"""What is built, as flat faces at their true places: walls, roofs, fences, steps, things, as the drawing has them.

The drawing's own parts are made once more with a camera that remembers where each outline lies in the garden.
"""

import itertools
import math
from collections.abc import Sequence
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted.splats import rgb
from gardenkit.drawing.scene import Area, Dots, Hatch, Plain, Ring, Stroke
from gardenkit.drawing.view_camera import NEAR, Camera, Spatial
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_house import GLASS, ROOM
from gardenkit.drawing.view_order import Piece
from gardenkit.geometry.plane import FloatArray

PLAIN, GROUND, WINDOW, UNLIT, MASONRY, ROCK = 1, 2, 3, 4, 6, 7  # dots: lit, ground, glass, as painted, stone, rock
FAINT = 0.75  # of cover: fainter marks are the drawing's own shine and shade, which the painter works out. House value.
UNCOLOURED = "#808080"
FRAME_MM = 0.3  # wider pens are frames and posts, narrower ones only outlines. House value.


@attrs.frozen(kw_only=True, slots=False)
class Surveyor(Camera):
    """A camera whose outlines remember where they lie: metres right, up and ahead of the eye."""

    def ring_of(self, seen: FloatArray) -> Ring:
        """Return the picture outline with its corners in the garden."""
        return Spatial.of(super().ring_of(seen), np.asarray(seen, dtype=float))

    def lines(self, spots: FloatArray) -> tuple[Ring, ...]:
        """Return the straight pieces of a line with their ends in the garden."""
        found: list[Ring] = []
        for a, b in itertools.pairwise(self.before(spots)):
            if min(a[2], b[2]) > NEAR:
                ends = np.array([a, b])
                found.append(Spatial.of(tuple((float(x), float(y)) for x, y in self.flat(ends)), ends))
        return tuple(found)


@attrs.frozen(kw_only=True, slots=False, eq=False)
class PlainStage(Stage):
    """A stage whose colours stay as they are: the painter puts the air between."""

    def faded(self, colour: str, away: float) -> str:
        """Return the colour itself."""
        del away
        return colour


class Faces:
    """Faces in the order they are drawn, as the canvas takes them."""

    def __init__(self, camera: Camera, dots_a_mm: float, *, slack: float) -> None:
        self.camera, self.fine, self.slack = camera, dots_a_mm, slack
        self.left, _, _, self.top = camera.frame
        self.turn = camera.turn
        self.plain = PLAIN
        self.corners: list[FloatArray] = []
        self.rings, self.owners = [0], [0]
        self.planes: list[FloatArray] = []
        self.normals: list[FloatArray] = []
        self.paint: list[tuple[int, int, int, int]] = []

    def pixels(self, ring: Sequence[tuple[float, float]] | FloatArray) -> FloatArray:
        """Return picture points as pixels from the upper left corner."""
        flat = np.asarray(ring, dtype=float)
        return np.column_stack(((flat[:, 0] - self.left) * self.fine, (self.top - flat[:, 1]) * self.fine))

    def add(self, rings: Sequence[Ring], seen: FloatArray, colour: str, kind: int) -> None:
        """Add a flat face: its outlines in the picture, and corners of it (right, up, ahead)."""
        normal = _normal(seen)
        if normal is None:
            return
        away = float(normal @ seen.mean(axis=0))
        if abs(away) < 1e-4:
            return
        focal = self.camera.focal
        a, b, c = normal[0] / (focal * away), normal[1] / (focal * away), normal[2] / away
        plane_of = np.array([a / self.fine, -b / self.fine, c + a * self.left + b * self.top])
        facing = (normal if away < 0 else -normal) @ self.turn
        self._put([self.pixels(r) for r in rings if len(r) > 2], plane_of, facing, colour, kind)

    def line(self, ends: FloatArray, width_mm: float, facing: FloatArray | None, colour: str, kind: int) -> None:
        """Add a bar between two places (2, 3), ``width_mm`` wide in the picture."""
        spots = self.pixels(self.camera.flat(ends))
        way = spots[1] - spots[0]
        long = math.hypot(way[0], way[1])
        if long < 0.3:
            return
        way = way / long
        aside = np.array([-way[1], way[0]]) * max(width_mm * self.fine, 0.8) / 2
        near = 1.0 / ends[:, 2] * (1.0 + self.slack)
        step = (near[1] - near[0]) / long
        plane_of = np.array([step * way[0], step * way[1], near[0] - step * float(way @ spots[0])])
        ring = np.array([spots[0] + aside, spots[1] + aside, spots[1] - aside, spots[0] - aside])
        towards = np.array([0.0, 0.1, -1.0]) @ self.turn if facing is None else facing
        self._put([ring], plane_of, towards, colour, kind)

    def _put(self, rings: Sequence[FloatArray], flat: FloatArray, facing: FloatArray, colour: str, kind: int) -> None:
        if not rings:
            return
        for ring in rings:
            self.corners.append(ring)
            self.rings.append(self.rings[-1] + len(ring))
        self.owners.append(len(self.rings) - 1)
        self.planes.append(flat)
        self.normals.append(facing)
        self.paint.append((*rgb(colour), kind))

    def ground(self, pieces: FloatArray) -> None:
        """Add pieces of ground (n, corners, 3), which face up; their colour is put on later."""
        seen = self.camera.before(pieces.reshape(-1, 3)).reshape(pieces.shape)
        ahead = seen[:, :, 2].min(axis=1) >= NEAR
        crossing = ~ahead & (seen[:, :, 2].max(axis=1) > NEAR)
        for one in seen[crossing]:
            self._mark_ground(self.camera.ring_of(one), one)
        if pieces.shape[1] == 3:
            self._triangles(seen[ahead])
        else:
            for one in seen[ahead]:
                self._mark_ground(self.camera.ring_of(one), one)

    def _mark_ground(self, ring: Ring, seen: FloatArray) -> None:
        before = len(self.normals)
        if ring:
            self.add([ring], seen, UNCOLOURED, GROUND)
        if len(self.normals) > before and self.normals[-1][2] < 0:
            self.normals[-1] = -self.normals[-1]

    def _triangles(self, seen: FloatArray) -> None:
        """Add triangles of ground (n, 3, 3: right, up, ahead) before the eye, all at once."""
        flat = self.camera.focal * seen[:, :, :2] / seen[:, :, 2:]
        left, low, right, top = self.camera.frame
        least, most = flat.min(axis=1), flat.max(axis=1)
        normal = np.cross(seen[:, 1] - seen[:, 0], seen[:, 2] - seen[:, 0])
        long = np.linalg.norm(normal, axis=1)
        away = np.einsum("ij,ij->i", normal, seen[:, 0])
        shown = (most[:, 0] > left) & (least[:, 0] < right) & (most[:, 1] > low) & (least[:, 1] < top)
        shown &= (long > 1e-9) & (np.abs(away) > 1e-4 * long)
        if not shown.any():
            return
        flat, normal, away, count = flat[shown], normal[shown], away[shown, None], int(shown.sum())
        a, b = (normal[:, :2] / (self.camera.focal * away)).T
        c = normal[:, 2] / away[:, 0] + a * self.left + b * self.top
        up = normal @ self.turn
        up *= np.sign(up[:, 2:]) / long[shown, None]
        self.corners.append(self.pixels(flat.reshape(-1, 2)))
        self.rings += (self.rings[-1] + 3 * np.arange(1, count + 1)).tolist()
        self.owners += (self.owners[-1] + np.arange(1, count + 1)).tolist()
        self.planes += list(np.column_stack((a / self.fine, -b / self.fine, c)))
        self.normals += list(up)
        self.paint += [(*rgb(UNCOLOURED), GROUND)] * count

    def arrays(self) -> tuple[NDArray[Any], ...]:
        """Return corners, rings, owners, planes, facings and paint as the canvas takes them."""
        return (
            np.vstack([np.empty((0, 2)), *self.corners]).astype(np.float32),
            np.asarray(self.rings, dtype=np.int64),
            np.asarray(self.owners, dtype=np.int64),
            np.asarray(self.planes, dtype=np.float32).reshape(-1, 3),
            np.asarray(self.normals, dtype=np.float32).reshape(-1, 3),
            np.asarray(self.paint, dtype=np.uint8).reshape(-1, 4),
        )

    def piece(self, piece: Piece, made_of: int = PLAIN) -> None:
        """Add everything a piece of the drawing is made of; masonry has courses, rock is rough."""
        self.plain = made_of
        facing: FloatArray | None = None
        for mark in piece.marks:
            facing = self.mark(mark, facing)

    def mark(self, mark: Plain, facing: FloatArray | None = None) -> FloatArray | None:
        """Add one mark and return which way it faces, for the lines drawn on it."""
        if isinstance(mark, Area):
            return self._area(mark, facing)
        if isinstance(mark, Hatch):
            for line in mark.lines if self.plain == PLAIN else ():
                if isinstance(line, Spatial):
                    self.line(line.seen, mark.width_mm, facing, mark.colour, PLAIN)
        elif not isinstance(mark, Dots | Stroke):
            return facing
        return facing

    def _area(self, mark: Area, facing: FloatArray | None) -> FloatArray | None:
        rings = [ring for ring in mark.rings if isinstance(ring, Spatial) and len(ring) > 2]
        if not rings:
            return facing
        if mark.fill is not None and mark.alpha > FAINT:
            kind = WINDOW if mark.fill == GLASS else UNLIT if mark.fill == ROOM else self.plain
            if len({ring.seen.tobytes() for ring in rings}) > 1 and mark.fill != ROOM:
                for ring in rings:  # pickets and the like: each in its own place
                    self.add([ring], ring.seen, mark.fill, kind)
            else:
                self.add(rings, rings[0].seen, mark.fill, kind)
            facing = self.normals[-1] if self.normals else None
        if mark.stroke is not None and mark.width_mm >= FRAME_MM:
            for ring in rings:
                ends = ring.seen
                for a, b in zip(ends, np.roll(ends, -1, axis=0), strict=True):
                    if min(a[2], b[2]) > NEAR:
                        self.line(np.array([a, b]), mark.width_mm, facing, mark.stroke, PLAIN)
        return facing


def _normal(corners: FloatArray) -> FloatArray | None:
    """Return the way a flat outline faces, None for one without area."""
    x, y, z = (corners - corners[0]).T
    normal = np.array(
        [y[:-1] @ z[1:] - z[:-1] @ y[1:], z[:-1] @ x[1:] - x[:-1] @ z[1:], x[:-1] @ y[1:] - y[:-1] @ x[1:]]
    )
    long = float(np.linalg.norm(normal))
    return normal / long if long > 1e-9 else None
