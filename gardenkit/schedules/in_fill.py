"""What is built on a level that is filled: its layers take the place of soil, which is neither placed nor dug."""

import math
from collections.abc import Mapping, Sequence

import attrs
import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.grid import grid_over
from gardenkit.project.layout import Layout
from gardenkit.schedules.dug_out import DIGGING
from gardenkit.schedules.lines import Line
from gardenkit.structure.earthwork import BULKING
from gardenkit.structure.new_ground import NewGround

CELLS = 4_000  # squares over the ground of one path or area. House value.
FINEST = 0.05  # m: side of a square. House value.
LEAST = 0.02  # m3: less is within how true the ground was measured. House value.
LESS = "less what of it lies in soil placed for the level"


def held_in_fill(lines: Sequence[Line], worked: Layout) -> Mapping[str, float]:
    """Return how much of what the lines dig for each path and paved area lies in soil placed for a level, m3."""
    if not isinstance(worked.lie, NewGround):
        return {}
    grounds = {**worked.surfaces, **worked.ground_areas}
    dug = {line.where: line.amount for line in lines if line.item == DIGGING[0] and line.where in grounds}
    held = {name: _held(worked.lie, grounds[name], amount) for name, amount in dug.items()}
    return {name: volume for name, volume in held.items() if volume > LEAST}


def less_fill(line: Line, held: Mapping[str, float]) -> Line:
    """Return a line of digging, or of carting what is dug, without what lies in soil placed for a level."""
    if line.item not in DIGGING or line.where not in held:
        return line
    volume = held[line.where] * (BULKING if line.item == DIGGING[1] else 1.0)
    return attrs.evolve(line, amount=max(0.0, line.amount - volume), rule=f"{line.rule}, {LESS}")


def _held(ground: NewGround, region: plane.Region, dug: float) -> float:
    left, low, right, high = plane.bounds(region)
    cell = max(FINEST, math.sqrt((right - left) * (high - low) / CELLS))
    points = grid_over(((left, low), (right, high)), cell=cell).points
    points = points[plane.inside(region, points)]
    if not len(points):
        return 0.0
    area = plane.area(region)
    raised = ground.at(points) - ground.found(points)
    return float(np.clip(raised, 0.0, dug / area).mean()) * area
