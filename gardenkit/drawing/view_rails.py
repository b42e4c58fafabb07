"""The handrails of ramps as they stand in the picture: a rail on both edges of each run, with its posts."""

from functools import partial
from typing import Any

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Hatch, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.drawing.view_placed import NEAREST
from gardenkit.drawing.view_steps import RAIL_COLOUR
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.structure.ramp_runs import RampRun, rail_lines
from gardenkit.structure.ramps import RAIL_HIGH
from gardenkit.structure.route import Route

POSTS = 6  # stations from post to post: about 5 ft. House value.


def rail_parts(scene: Stage, project: Project, worked: Layout) -> list[Stander]:
    """Return the handrails of every ramp that has them, one side of a run at a time."""
    found = []
    for path in project.structure.paths:
        for run in worked.ramps.get(path.name, ()) if path.handrails else ():
            route = worked.routes[path.name]
            for side in (0, 1):
                s, places = rail_lines(run, route)
                x, y = places[side][len(s) // 2]
                make = partial(_rail, scene, f"{path.name}, ramp {run.number}", run, route, side)
                found.append(Stander(at=(float(x), float(y)), make=make))
    return found


def _rail(scene: Stage, name: str, run: RampRun, route: Route, side: int) -> list[Piece]:
    _, places = rail_lines(run, route)
    at = [(float(x), float(y)) for x, y in places[side]]
    away = scene.away(at[len(at) // 2])
    if away < NEAREST:
        return []
    foot = np.array([(*spot, scene.level(spot)) for spot in at])
    top = foot + np.array([0.0, 0.0, float(RAIL_HIGH)])
    posts = sorted({*range(0, len(at), POSTS), len(at) - 1})
    paths: list[Any] = [top, *(np.array([foot[k], top[k]]) for k in posts)]
    lines = tuple(piece for path in paths for piece in scene.camera.lines(path))
    cover: Ring = scene.camera.ring(np.vstack((foot, top[::-1])))
    if not lines or not cover:
        return []
    pen = max(0.15, min(1.0, 0.04 * scene.camera.focal / max(away, 0.8)))
    colour = style.mixed(scene.faded(RAIL_COLOUR, away), style.INK, 0.1)
    mark = Hatch(lines=lines, colour=colour, width_mm=pen, layer="planting")
    return [Piece(marks=(mark,), cover=(cover,), name=name, kind="steps", away=away, tip=f"{name}: handrail")]
