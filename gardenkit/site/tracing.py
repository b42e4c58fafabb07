"""Drawing over a picture: a scan laid under the plan by two known points, and a photo of a wall made square by four."""

import math
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.site.openings import Opening, OpeningKind
from gardenkit.tuples import lists_as_tuples

if TYPE_CHECKING:
    from PIL.Image import Image


NEAR_PIXELS = 3.0  # two clicks nearer than this cannot scale a picture. House value.
NEAR_METRES = 0.05  # m: nor can two plan points nearer than this. House value.
IN_LINE = (
    1e-3  # a corner this near (share of the figure's size) to the line of two others counts as in line. House value.
)
SCAN_WIDTH = 20.0  # m a new scan is first laid out across where there is no boundary. House value.
MOST_PIXELS = 40_000_000  # largest straightened picture. House value.

Matrix = NDArray[np.float64]


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Underlay:
    """A picture under the plan: two places on it (pixels right and down) and the plan points they show, in metres."""

    picture: str = ""
    pixel_a: Point
    pixel_b: Point
    plan_a: Point
    plan_b: Point

    @property
    def scale(self) -> float:
        """Metres on the ground for one pixel."""
        return math.dist(self.plan_a, self.plan_b) / math.dist(self.pixel_a, self.pixel_b)

    @property
    def turned(self) -> float:
        """Degrees clockwise by which the picture is turned on the plan, 0 to 360."""
        factor = self._factor()
        return math.degrees(-math.atan2(factor.imag, factor.real)) % 360

    def to_plan(self, pixel: Point) -> Point:
        """Return the plan point in metres that a pixel shows."""
        spot = complex(*self.plan_a) + self._factor() * (_upright(pixel) - _upright(self.pixel_a))
        return (spot.real, spot.imag)

    def to_pixel(self, at: Point) -> Point:
        """Return the pixel that shows a plan point."""
        spot = _upright(self.pixel_a) + (complex(*at) - complex(*self.plan_a)) / self._factor()
        return (spot.real, -spot.imag)

    def corners(self, width: float, height: float) -> tuple[Point, Point, Point, Point]:
        """Return the plan points of the picture's corners: top left, top right, bottom right, bottom left."""
        a, b, c, d = (self.to_plan(p) for p in ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))
        return a, b, c, d

    def bounds(self, width: float, height: float) -> tuple[float, float, float, float]:
        """Return the ground that the picture covers, turned as it lies: least x and y, greatest x and y."""
        xs, ys = zip(*self.corners(width, height), strict=True)
        return (min(xs), min(ys), max(xs), max(ys))

    def size(self, width: float, height: float) -> Point:
        """Return how many metres across and up the picture measures."""
        return (width * self.scale, height * self.scale)

    def _factor(self) -> complex:
        return (complex(*self.plan_b) - complex(*self.plan_a)) / (_upright(self.pixel_b) - _upright(self.pixel_a))


def underlay(pixel_a: Point, pixel_b: Point, plan_a: Point, plan_b: Point, *, picture: str = "") -> Underlay:
    """Return a picture placed by two known points: moved, turned and scaled, never stretched.

    Raises GardenError when either pair lies too close together.

    >>> placed = underlay((0, 100), (200, 100), (0, 0), (10, 0))
    >>> placed.scale, placed.to_plan((100, 0))
    (0.05, (5.0, 5.0))
    """
    _finite([*pixel_a, *pixel_b, *plan_a, *plan_b])
    if math.dist(pixel_a, pixel_b) < NEAR_PIXELS:
        raise GardenError("the two places clicked on the picture are the same; click two that lie far apart")
    if math.dist(plan_a, plan_b) < NEAR_METRES:
        raise GardenError("the two plan points are the same; give two that lie far apart")
    return Underlay(picture=picture, pixel_a=pixel_a, pixel_b=pixel_b, plan_a=plan_a, plan_b=plan_b)


def underlay_by_length(pixel_a: Point, pixel_b: Point, metres: float, *, picture: str = "") -> Underlay:
    """Return a picture placed upright with its first point at (0, 0), scaled by one measured length in metres."""
    if not (math.isfinite(metres) and metres >= NEAR_METRES):
        raise GardenError(f"the length between the two places is {metres:g} m; give one of {NEAR_METRES:g} m or more")
    across = _upright(pixel_b) - _upright(pixel_a)
    if abs(across) < NEAR_PIXELS:
        raise GardenError("the two places clicked on the picture are the same; click two that lie far apart")
    end = across / abs(across) * metres
    return underlay(pixel_a, pixel_b, (0.0, 0.0), (end.real, end.imag), picture=picture)


def laid_out(picture: str, size: tuple[int, int], *, over: tuple[float, float, float, float] | None = None) -> Underlay:
    """Return a picture of ``size`` pixels laid upright over some ground at a guess, to be placed by two known points.

    ``over``: the bounds of the plot, None for as wide as a usual plot.
    """
    wide, high = size
    low_x, low_y, high_x, _ = over or (0.0, 0.0, SCAN_WIDTH, 0.0)
    per_pixel = (high_x - low_x) / wide
    a, b = (0.25 * wide, 0.5 * high), (0.75 * wide, 0.5 * high)
    plan_a, plan_b = ((low_x + x * per_pixel, low_y + (high - y) * per_pixel) for x, y in (a, b))
    return underlay(a, b, plan_a, plan_b, picture=picture)


@attrs.frozen(kw_only=True, eq=False)
class Rectifier:
    """A photo of a flat wall made square: pixels (right, down) to wall metres (along the wall, up) and back."""

    matrix: Matrix  # (3, 3), pixel to wall
    inverse: Matrix

    def to_wall(self, pixel: Point) -> Point:
        """Return (metres along, metres up) of a pixel; raises GardenError beyond the wall's vanishing line."""
        return _through(self.matrix, pixel)

    def to_pixel(self, on_wall: Point) -> Point:
        """Return the pixel that shows a place on the wall."""
        return _through(self.inverse, on_wall)


def rectifier(pixels: Sequence[Point], wall: Sequence[Point]) -> Rectifier:
    """Return the map from a photo to its wall from four corners: pixels, and (along, up) in metres, in the same order.

    The plane projective map (homography) through four points. Raises GardenError for other than four points, three in
    a line, or corners in a different order.

    >>> square = rectifier([(0, 100), (100, 100), (100, 0), (0, 0)], [(0, 0), (2, 0), (2, 2), (0, 2)])
    >>> [round(v, 9) for v in square.to_wall((50, 50))]
    [1.0, 1.0]
    """
    if len(pixels) != 4 or len(wall) != 4:
        raise GardenError(
            f"a wall photo needs four points and their places; given are {len(pixels)} and {len(wall)}: click the four "
            "corners of something measured, such as a garage door"
        )
    _finite([v for p in (*pixels, *wall) for v in p])
    if _turns(pixels, "on the photo") == _turns(wall, "on the wall"):  # pixels run down, the wall up
        raise GardenError("the four corners go round the other way on the wall than on the photo; give the same order")
    rows = []
    for (x, y), (u, v) in zip(pixels, wall, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y])
    answer = np.linalg.solve(np.array(rows, dtype=float), np.array([c for p in wall for c in p], dtype=float))
    matrix = np.append(answer, 1.0).reshape(3, 3)
    middle = np.mean(np.array(pixels, dtype=float), axis=0)
    if matrix[2] @ np.append(middle, 1.0) < 0:  # points on the wall have a depth above 0
        matrix = -matrix
    return Rectifier(matrix=matrix, inverse=np.linalg.inv(matrix))


def opening_from_photo(
    photo: Rectifier,
    corner: Point,
    opposite: Point,
    *,
    name: str,
    kind: "OpeningKind" = "window",
    wall: tuple[Point, Point],
    base: float = 0.0,
    on: str = "",
) -> Opening:
    """Return a window, door or gate marked by two opposite corners (pixels) on a wall photo.

    ``wall`` gives the plan point where the photo's wall metres begin and one further along; ``base`` is the height of
    their zero above the plan's zero. Raises GardenError for a mark without size.
    """
    (x1, y1), (x2, y2) = photo.to_wall(corner), photo.to_wall(opposite)
    if abs(x2 - x1) < 0.01 or abs(y2 - y1) < 0.01:
        raise GardenError(f'the mark for {kind} "{name}" has no size; click two opposite corners')
    length = math.dist(*wall)
    if length < NEAR_METRES:
        raise GardenError(f'the wall of {kind} "{name}" has no length; give two different plan points')
    ux, uy = (wall[1][0] - wall[0][0]) / length, (wall[1][1] - wall[0][1]) / length
    start, end = ((wall[0][0] + x * ux, wall[0][1] + x * uy) for x in sorted((x1, x2)))
    low, high = sorted((y1, y2))
    return Opening(name=name, kind=kind, start=start, end=end, sill=base + low, head=base + high, on=on)


def picture_size(picture: Path | bytes, *, name: str = "") -> tuple[int, int]:
    """Return (width, height) in pixels of a picture file; raises GardenError for what is no sound picture."""
    from gardenkit.brief.photo import photo as read

    return read(picture, name).size


def straightened(
    picture: Path | bytes,
    photo: Rectifier,
    *,
    along: tuple[float, float],
    up: tuple[float, float],
    per_metre: float = 100,
) -> "Image":
    """Return part of a wall, ``along`` and ``up`` (from, to) in metres, seen square on, ``per_metre`` pixels to 1 m."""
    from PIL import Image

    from gardenkit.brief.photo import photo as read

    width, height = round((along[1] - along[0]) * per_metre), round((up[1] - up[0]) * per_metre)
    if width < 1 or height < 1 or width * height > MOST_PIXELS:
        raise GardenError(
            f"the straightened picture would be {width} by {height} pixels; give another part of the wall"
        )
    to_wall = np.array([[1 / per_metre, 0, along[0]], [0, -1 / per_metre, up[1]], [0, 0, 1]])
    back = photo.inverse @ to_wall
    back = back / back[2, 2]
    source = read(picture)
    return source.transform(
        (width, height), Image.Transform.PERSPECTIVE, tuple(back.ravel()[:8]), Image.Resampling.BILINEAR
    )


def _upright(pixel: Point) -> complex:
    return complex(pixel[0], -pixel[1])


def _through(matrix: Matrix, at: Point) -> Point:
    x, y, depth = matrix @ np.array([at[0], at[1], 1.0])
    if depth <= 1e-12:
        raise GardenError("this place lies beyond the wall's horizon on the photo; click on the wall itself")
    return float(x / depth), float(y / depth)


def _turns(corners: Sequence[Point], where: str) -> bool:
    """Return whether four corners go round anticlockwise; raises GardenError when three are in line or they cross."""
    size = max(math.dist(a, b) for a in corners for b in corners)
    turns = []
    for i in range(4):
        (ax, ay), (bx, by), (cx, cy) = corners[i], corners[(i + 1) % 4], corners[(i + 2) % 4]
        turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        if abs(turn) <= IN_LINE * size**2:
            raise GardenError(f"three of the four points {where} lie in a line; click the corners of a rectangle")
        turns.append(turn > 0)
    if len(set(turns)) > 1:
        raise GardenError(f"the four corners {where} are not in order round the figure; click them one after another")
    return turns[0]


def _finite(values: Sequence[float]) -> None:
    if not all(math.isfinite(v) for v in values):
        raise GardenError("a point holds a value that is not a number; click it again")
