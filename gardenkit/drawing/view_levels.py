"""The walls of levels in a view: each stretch stands on the lower ground beside it and reaches up to the higher."""

import itertools
import math

from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.project.earthworks import earthworks
from gardenkit.project.layout import Layout
from gardenkit.site.site import Fence
from gardenkit.structure.held_ground import HeldWall

STRETCH = 6  # pieces of a quarter of a metre that are drawn as one, at their mean height. House value.
OFF = 0.05  # m to the lower side of its edge that a wall is drawn. House value.
KIND = "retaining wall"


def wall_fences(project: Project, worked: Layout) -> tuple[Fence, ...]:
    """Return the retaining walls of the levels as fences that a view can stand up."""
    earth = earthworks(project, worked)
    found: list[Fence] = []
    for wall in earth.walls if earth is not None else ():
        line = _to_the_low_side(wall)
        cuts = _cuts(wall.line)
        for a, b in itertools.pairwise(cuts):
            high = sum(wall.heights[a : b + 1]) / (b + 1 - a)
            found.append(Fence(name=f"wall of {wall.name}", line=(line[a], line[b]), height=high, kind=KIND))
    return tuple(found)


def _cuts(line: Line) -> list[int]:
    """Return the numbers of the points at which a wall is cut into stretches: its ends, its corners, every so often."""
    cuts = [0]
    for k in range(1, len(line) - 1):
        (ax, ay), (bx, by), (cx, cy) = line[k - 1 : k + 2]
        turns = abs((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) > 1e-6
        if turns or k - cuts[-1] >= STRETCH:
            cuts.append(k)
    return [*cuts, len(line) - 1]


def _to_the_low_side(wall: HeldWall) -> Line:
    """Return the line of a wall moved off its edge: outwards where its area is the higher ground, else inwards. Edges
    run anticlockwise, so outwards is to the right.
    """
    side = OFF if wall.fills else -OFF
    return tuple(_beside(wall.line, number, side) for number in range(len(wall.line)))


def _beside(line: Line, number: int, side: float) -> Point:
    (ax, ay), (bx, by) = line[max(0, number - 1)], line[min(len(line) - 1, number + 1)]
    far = math.hypot(bx - ax, by - ay) or 1.0
    x, y = line[number]
    return (x + side * (by - ay) / far, y - side * (bx - ax) / far)
