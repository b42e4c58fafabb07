"""What hides what: puts everything upright in order from far to near, and finds how much of each thing shows.

Walls and fences are lines on the plan. Each line in turn splits the rest into what lies beyond it and what lies on the
eye's side, long ones being cut where they cross; plants keep whole and count by their stem. That gives a true order
however things stand (the binary space partition of Fuchs, Kedem and Naylor, 1980).
"""

import math
from collections.abc import Callable, Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.scene import Bounds, Plain, Ring
from gardenkit.geometry.plane import Point
from gardenkit.sources import HOUSE, Figure

ON_LINE = 0.02  # m: nearer to a wall's line than this counts as on it. House value.
FINE = Figure(1.5, "dots a mm", HOUSE)  # of the coarse picture in which hidden things are counted


@attrs.frozen(kw_only=True)
class Piece:
    """One thing as it lands in the picture: its marks, its outline ``cover`` (mm), how far off its middle is (m).

    ``solid`` things hide what is behind them. ``name`` is in the designer's words, empty for what need not be told.
    What takes long to draw is given by ``draw`` in place of marks, and drawn only if any of its outline shows.
    """

    marks: tuple[Plain, ...] = ()
    draw: Callable[[], Sequence[Plain]] | None = None
    cover: tuple[Ring, ...] = ()
    name: str = ""
    kind: str = ""
    away: float = 0.0
    solid: bool = False
    tip: str = ""
    share: float = 1.0  # of the outline within the frame that shows


Made = Sequence[Piece]


@attrs.frozen(kw_only=True)
class Upright:
    """A wall, fence or screen from a to b; ``make`` draws the part between two shares 0 to 1 of its length."""

    a: Point
    b: Point
    make: Callable[[float, float], Made]
    start: float = 0.0
    end: float = 1.0

    def cut(self, share: float) -> tuple["Upright", "Upright"]:
        """Return the two parts on either side of a share of this part."""
        middle = (self.a[0] + share * (self.b[0] - self.a[0]), self.a[1] + share * (self.b[1] - self.a[1]))
        at = self.start + share * (self.end - self.start)
        return attrs.evolve(self, b=middle, end=at), attrs.evolve(self, a=middle, start=at)


@attrs.frozen(kw_only=True)
class Stander:
    """A thing that stands at one place and is drawn whole: a plant, a seat, a person."""

    at: Point
    make: Callable[[], Made]


def far_to_near(uprights: Sequence[Upright], standers: Sequence[Stander], eye: Point) -> list[Piece]:
    """Return everything drawn, in the order it is painted: nothing is hidden by what was painted before it."""
    if not uprights:
        ordered = sorted(standers, key=lambda s: -math.dist(s.at, eye))
        return [piece for stander in ordered for piece in stander.make()]
    line = _longest(uprights)
    on: list[Upright] = []
    sides: tuple[list[Upright], list[Upright]] = ([], [])
    for wall in uprights:
        _sort(wall, line, on, sides)
    points: tuple[list[Stander], list[Stander]] = ([], [])
    near = 0 if _off(eye, line) >= 0 else 1
    for stander, off in zip(standers, _offs([stander.at for stander in standers], line), strict=True):
        points[near if abs(off) < ON_LINE else 0 if off > 0 else 1].append(stander)
    flush = sorted(on, key=lambda w: -math.dist(_middle(w), eye))
    return [
        *far_to_near(sides[1 - near], points[1 - near], eye),
        *(piece for wall in flush for piece in wall.make(wall.start, wall.end)),
        *far_to_near(sides[near], points[near], eye),
    ]


def what_shows(pieces: Sequence[Piece], frame: Bounds) -> list[Piece]:
    """Return the pieces drawn, in the same order, with the share of each that shows; hidden ones are left out."""
    shown = shares(pieces, frame)
    return [attrs.evolve(p, marks=tuple(p.draw()), draw=None) if p.draw is not None else p for p in shown]


def shares(pieces: Sequence[Piece], frame: Bounds) -> list[Piece]:
    """Return the pieces that show, not yet drawn, in the same order, with the share of each that does."""
    left, low, right, top = frame
    wide, high = math.ceil((right - left) * FINE), math.ceil((top - low) * FINE)
    taken = np.zeros((high, wide), dtype=bool)
    kept: list[Piece] = []
    for piece in reversed(pieces):
        if not piece.cover:
            kept.append(piece)
            continue
        (x0, y0), mask = _painted(piece.cover, frame, wide, high)
        part = taken[y0 : y0 + mask.shape[0], x0 : x0 + mask.shape[1]]
        all_of_it = int(mask.sum())
        seen = int((mask & ~part).sum())
        if piece.solid:
            part |= mask
        if seen:
            kept.append(attrs.evolve(piece, share=seen / all_of_it))
    return kept[::-1]


def _painted(rings: Sequence[Ring], frame: Bounds, wide: int, high: int) -> tuple[tuple[int, int], NDArray[np.bool_]]:
    """Return the coarse picture of outlines: its lower left dot, and which dots are covered."""
    from PIL import Image, ImageDraw

    left, low = frame[0], frame[1]  # plain numbers: a ring has a few dozen corners, and there are thousands of rings
    spots = [[((x - left) * FINE, (y - low) * FINE) for x, y in ring] for ring in rings]
    xs, ys = [x for ring in spots for x, _ in ring], [y for ring in spots for _, y in ring]
    x0, y0 = min(max(math.floor(min(xs)), 0), wide - 1), min(max(math.floor(min(ys)), 0), high - 1)
    x1, y1 = min(max(math.ceil(max(xs)) + 1, x0 + 1), wide), min(max(math.ceil(max(ys)) + 1, y0 + 1), high)
    image = Image.new("1", (x1 - x0, y1 - y0))
    pen = ImageDraw.Draw(image)
    for ring in spots:
        pen.polygon([(x - x0, y - y0) for x, y in ring], fill=1)
    return (x0, y0), np.asarray(image, dtype=bool)


def _sort(wall: Upright, line: Upright, on: list[Upright], sides: tuple[list[Upright], list[Upright]]) -> None:
    a, b = _off(wall.a, line), _off(wall.b, line)
    if abs(a) < ON_LINE and abs(b) < ON_LINE:
        on.append(wall)
    elif min(a, b) > -ON_LINE:
        sides[0].append(wall)
    elif max(a, b) < ON_LINE:
        sides[1].append(wall)
    else:
        first, second = wall.cut(a / (a - b))
        sides[0 if a > 0 else 1].append(first)
        sides[0 if b > 0 else 1].append(second)


def _longest(uprights: Sequence[Upright]) -> Upright:
    return max(uprights, key=lambda w: math.dist(w.a, w.b))


def _off(at: Point, line: Upright) -> float:
    """Return metres to the left of a line (right of it is negative)."""
    return _offs([at], line)[0]


def _offs(places: Sequence[Point], line: Upright) -> list[float]:
    (ax, ay), (bx, by) = line.a, line.b
    long = max(math.dist(line.a, line.b), 1e-9)
    wide, high = (bx - ax) / long, (by - ay) / long
    return [wide * (y - ay) - high * (x - ax) for x, y in places]


def _middle(wall: Upright) -> Point:
    return (wall.a[0] + wall.b[0]) / 2, (wall.a[1] + wall.b[1]) / 2
