"""Creeping plants between the stones of a path: a place for each, as far apart as their kind closes."""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from gardenkit.geometry import outlines, plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

if TYPE_CHECKING:
    from gardenkit.project import Project
    from gardenkit.project.layout import Layout

LOW = Figure(0.15, "m", f"what creeps between stones stays below a hand's length, so that one walks over it; {HOUSE}")

OVER_EDGE = 0.04  # m that it grows over the edge of a stone before it is cut back. House value.


def creeps(species: Species) -> bool:
    """Return whether a kind can be planted between stones: a ground cover that stays low."""
    return species.layer == "ground cover" and species.height_max_m <= LOW


def joint_plants(project: "Project", worked: "Layout", catalogue: Catalogue) -> tuple[Plant, ...]:
    """Return the creeping plants between the stones of every path that has some, without numbers of their own."""
    found: list[Plant] = []
    for path in project.structure.paths:
        if path.creeping and path.name in worked.layings and path.creeping in catalogue:
            bare = between_stones(worked, path.name)
            spots = _spots(bare, catalogue[path.creeping].spacing_m)
            found += [Plant(number=0, species=catalogue[path.creeping].botanical, at=at) for at in spots]
    return tuple(found)


def joint_rooms(worked: "Layout", plants: Sequence[Plant]) -> list[float]:
    """Return how far (m) each creeping plant may spread: a little over the edge of the nearest stone, as it is kept."""
    stones = [stone.outline for laying in worked.layings.values() for stone in laying.stones]
    if not plants or not stones:
        return [math.inf] * len(plants)
    off = plane.point_distances(
        np.array([plant.at for plant in plants]), outlines.together(outlines.from_outlines(stones))
    )
    return [float(far) for far in off + OVER_EDGE]


def between_stones(worked: "Layout", path: str) -> Region:
    """Return the ground of a path between its stones; nothing of a path without stones."""
    stones = worked.layings[path].stones
    if not stones:
        return plane.NOWHERE
    laid = outlines.together(outlines.from_outlines([stone.outline for stone in stones]))
    return plane.difference(worked.surfaces[path], laid)


@lru_cache(maxsize=64)
def _spots(bare: Region, spacing: float) -> tuple[Point, ...]:
    """Return places on a square grid fixed to the ground that lie between the stones."""
    if bare.is_empty:
        return ()
    left, low, right, high = plane.bounds(bare)
    xs, ys = (
        np.arange(np.floor(a / spacing), np.ceil(b / spacing) + 1) * spacing for a, b in ((left, right), (low, high))
    )
    points = np.stack(np.meshgrid(xs, ys), axis=2).reshape(-1, 2)
    return tuple((float(x), float(y)) for x, y in points[plane.inside(bare, points)])
