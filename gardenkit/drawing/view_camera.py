"""Where one looks from and how places land in the picture: true central perspective on an upright picture plane.

The picture plane stands upright and square to the looking direction, ``focal`` millimetres from the eye, so posts and
walls stay upright and the horizon lies at the height of the eye. Picture points are millimetres from the point straight
ahead at eye height: x to the right, y up.
"""

import itertools
import math
from functools import cached_property

import attrs
import numpy as np

from gardenkit.drawing.scene import Bounds, Ring
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.sources import HOUSE, Figure

NEAR = Figure(0.25, "m", HOUSE)  # what is nearer before the eye than this is not drawn
HIGH_SHARE = Figure(0.66, "of the picture's width", HOUSE)
BELOW_SHARE = Figure(0.56, "of the picture's height lies below the horizon", HOUSE)  # a garden is mostly below the eye
ANGLE = 65.0  # degrees one looks over. House value.
ANGLES = (20.0, 100.0)  # degrees; wider pictures are stretched at their edges. House values.
Eye = tuple[float, float, float]


class Spatial(tuple[tuple[float, float], ...]):
    """A picture outline that remembers where it lies: ``seen`` (n, 3) metres right, above and ahead of the eye."""

    seen: FloatArray

    @classmethod
    def of(cls, ring: Ring, seen: FloatArray) -> "Spatial":
        """Return an outline with its corners in the garden."""
        made = cls(ring)
        made.seen = seen
        return made


@attrs.frozen(kw_only=True, slots=False)
class Camera:
    """An eye (x, y, z) in metres looking level ``towards`` degrees clockwise from plan y, ``angle`` degrees wide.

    ``width`` is the picture's width in millimetres. Raises GardenError for an angle outside 20 to 100 degrees.
    """

    eye: Eye
    towards: float
    angle: float
    width: float

    def __attrs_post_init__(self) -> None:
        if not ANGLES[0] <= self.angle <= ANGLES[1]:
            raise GardenError(f"the angle of view is {self.angle:g} degrees; give one from 20 to 100")
        if not self.width > 0:
            raise GardenError(f"the picture is {self.width:g} mm wide; give a width above 0")

    @cached_property
    def focal(self) -> float:
        """Distance from the eye to the picture plane in millimetres: half the width over tan(half the angle)."""
        return self.width / 2 / math.tan(math.radians(self.angle / 2))

    @property
    def at(self) -> Point:
        """The eye's place on the plan."""
        return self.eye[0], self.eye[1]

    @cached_property
    def frame(self) -> Bounds:
        """The picture's edges in millimetres; the horizon is y = 0."""
        high = HIGH_SHARE * self.width
        return -self.width / 2, -BELOW_SHARE * high, self.width / 2, (1 - BELOW_SHARE) * high

    @cached_property
    def turn(self) -> FloatArray:
        """The directions right, up and ahead, one a row (3, 3)."""
        s, c = math.sin(math.radians(self.towards)), math.cos(math.radians(self.towards))
        return np.array([[c, -s, 0.0], [0.0, 0.0, 1.0], [s, c, 0.0]])

    def before(self, spots: FloatArray) -> FloatArray:
        """Return places (n, 3) as metres to the right of the line of sight, above the eye, and ahead of it, (n, 3)."""
        return np.asarray((np.asarray(spots, dtype=float) - self.eye) @ self.turn.T)

    def picture(self, spots: FloatArray) -> FloatArray:
        """Return picture points (n, 2) of places (n, 3) that lie ahead of the eye: focal x (right, up) / ahead."""
        return self.flat(self.before(spots))

    def flat(self, seen: FloatArray) -> FloatArray:
        """Return picture points (n, 2) of (right, up, ahead) triples."""
        return np.asarray(self.focal * seen[:, :2] / seen[:, 2:])

    def ring(self, spots: FloatArray) -> Ring:
        """Return the picture outline of a polygon in the garden (n, 3), cut to what is ahead and inside the frame."""
        return self.ring_of(self.before(spots))

    def ring_of(self, seen: FloatArray) -> Ring:
        """Return the picture outline of (right, up, ahead) corners, cut to what is ahead and inside the frame."""
        if not len(seen) or seen[:, 2].max() < NEAR:
            return ()
        if seen[:, 2].min() < NEAR:
            seen = np.asarray(_cut([tuple(p) for p in seen], 2, float(NEAR), 1.0))
        return self.framed(self.flat(seen)) if len(seen) > 2 else ()

    def framed(self, points: FloatArray) -> Ring:
        """Return a closed picture outline (n, 2) cut to the frame; empty when nothing of it is inside."""
        left, low, right, top = self.frame
        (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        if x1 <= left or x0 >= right or y1 <= low or y0 >= top:
            return ()
        ring = [tuple(p) for p in points.tolist()]
        for axis, edge, way, over in (
            (0, left, 1.0, x0 < left),
            (0, right, -1.0, x1 > right),
            (1, low, 1.0, y0 < low),
            (1, top, -1.0, y1 > top),
        ):
            if over and ring:
                ring = _cut(ring, axis, edge, way)
        return tuple((p[0], p[1]) for p in ring) if len(ring) > 2 else ()

    def lines(self, spots: FloatArray) -> tuple[Ring, ...]:
        """Return the straight pieces of an open line in the garden (n, 3) that show in the picture."""
        seen = self.before(spots)
        ahead = [(a, b) for a, b in itertools.pairwise(seen) if max(a[2], b[2]) > NEAR]
        found: list[Ring] = []
        for a, b in ahead:
            ends = [a, b]
            if min(a[2], b[2]) < NEAR:
                cut = a + (NEAR - a[2]) / (b[2] - a[2]) * (b - a)
                ends = [cut, b] if a[2] < NEAR else [a, cut]
            found += self.within(self.flat(np.array(ends)))
        return tuple(found)

    def within(self, line: FloatArray) -> list[Ring]:
        """Return an open picture line (n, 2) cut to the frame, whole where it stays inside."""
        left, low, right, top = self.frame
        points = line.tolist()
        if all(left <= x <= right and low <= y <= top for x, y in points):
            return [tuple((x, y) for x, y in points)]
        pieces = (_inside_box(a, b, self.frame) for a, b in itertools.pairwise(points))
        return [piece for piece in pieces if piece]

    def shown(self, points: FloatArray, *, margin: float = 0.0) -> tuple[Point, ...]:
        """Return the picture points (n, 2) that lie inside the frame, ``margin`` millimetres from its edge."""
        left, low, right, top = self.frame
        x, y = points[:, 0], points[:, 1]
        ok = (x > left + margin) & (x < right - margin) & (y > low + margin) & (y < top - margin)
        return tuple((float(x), float(y)) for x, y in points[ok])


def _cut(ring: list[tuple[float, ...]], axis: int, edge: float, way: float) -> list[tuple[float, ...]]:
    """Return a closed ring cut to one side of an edge (Sutherland and Hodgman); ``way`` 1 keeps what is above."""
    found: list[tuple[float, ...]] = []
    for i, b in enumerate(ring):
        a = ring[i - 1]
        inside_a, inside_b = way * (a[axis] - edge) >= 0, way * (b[axis] - edge) >= 0
        if inside_a != inside_b:
            share = (edge - a[axis]) / (b[axis] - a[axis])
            found.append(tuple(p + share * (q - p) for p, q in zip(a, b, strict=True)))
        if inside_b:
            found.append(b)
    return found


def _inside_box(a: list[float], b: list[float], box: Bounds) -> Ring:
    """Return the part of a straight line that lies in a box (Liang and Barsky's rule), empty when none does."""
    first, last = 0.0, 1.0
    for axis in (0, 1):
        step = b[axis] - a[axis]
        for off, sign in ((box[axis] - a[axis], 1.0), (box[axis + 2] - a[axis], -1.0)):
            if abs(step) < 1e-12:
                if sign * off > 0:
                    return ()
                continue
            if sign * step > 0:
                first = max(first, off / step)
            else:
                last = min(last, off / step)
    if first >= last:
        return ()
    ends = [tuple(p + t * (q - p) for p, q in zip(a, b, strict=True)) for t in (first, last)]
    return (ends[0][0], ends[0][1]), (ends[1][0], ends[1][1])
