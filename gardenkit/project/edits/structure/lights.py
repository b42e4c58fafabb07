"""Lights set along a path, so far apart as they are usually set, beside its edge."""

import math
from typing import Literal

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name
from gardenkit.project.edits.structure.things import add_thing
from gardenkit.project.layout import layout
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.things_lights import EVERY
from gardenkit.units import show_length

Sides = Literal["left", "right", "both in turn"]
BESIDE = 0.15  # m from a path's edge to its lamps. House value.
LEAST, MOST = 0.5, 30.0  # m from lamp to lamp. House values.


def light_path(
    project: Project, path: str, *, kind: str = "path light", every: float = EVERY, side: Sides = "left"
) -> Project:
    """Return the project with lamps of a kind along a path, about ``every`` metres, half as far from its ends, that
    look at it. Raises GardenError for a kind that is no lamp, a path that does not run, and where no lamp may stand.
    """
    by_name(project.structure.paths, path, "path")
    if thing_kind(kind).lamp is None:
        raise GardenError(f"a {kind} gives no light; choose a lamp, such as a path light")
    if not LEAST <= every <= MOST:
        span = f"{show_length(LEAST, project.units)} to {show_length(MOST, project.units)}"
        raise GardenError(f"lamps stand {span} apart; {show_length(every, project.units)} is not")
    route = layout(project).routes.get(path)
    if route is None:
        raise GardenError(f'path "{path}" does not run yet; give it a way first')
    count = max(1, round(route.length / every))
    first = len(project.structure.things)
    for k in range(count):
        hand = {"left": -1, "right": 1}.get(side, 1 if k % 2 else -1)
        along = (k + 0.5) * route.length / count
        at, ahead = route.curve.at(along)[0], route.curve.direction(along)[0]
        project = _lamp(
            project, kind, (float(at[0]), float(at[1])), (float(ahead[0]), float(ahead[1])), hand, route.width
        )
    if len(project.structure.things) == first:
        raise GardenError(f'no lamp may stand beside path "{path}": both its edges lie at a wall or the boundary')
    return project


def _lamp(project: Project, kind: str, at: Point, ahead: Point, hand: int, width: float) -> Project:
    """Return the project with one lamp beside a path, on the other hand where this one is shut, else without it."""
    far = width / 2 + BESIDE
    for side in (hand, -hand):
        off = (side * ahead[1] * far, -side * ahead[0] * far)
        looks = math.degrees(math.atan2(-off[0], -off[1])) % 360
        try:
            return add_thing(project, kind, at=(at[0] + off[0], at[1] + off[1]), facing=looks)
        except GardenError:
            continue
    return project
