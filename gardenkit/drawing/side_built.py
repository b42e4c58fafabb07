"""Fences, walls, gates and supports seen square on: the view's own parts, looked at from so far off that they come out
to scale.
"""

import math

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.elevation import along_and_beyond
from gardenkit.drawing.painted.picture import plain_stage
from gardenkit.drawing.painted_side import side_camera
from gardenkit.drawing.scene import Area, Hatch, Plain, Stroke, Symbol, in_metres
from gardenkit.drawing.side_things import BEFORE, PALER
from gardenkit.drawing.view_built import fence_parts, gate_parts
from gardenkit.drawing.view_ground import heights_of, stage
from gardenkit.drawing.view_levels import wall_fences
from gardenkit.drawing.view_order import Piece, Upright
from gardenkit.drawing.view_supports import support_parts
from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.site.standing import standing_fences
from gardenkit.structure.kinds import standing_supports

HIGHEST = 20.0  # m over and under the middle of the line that is looked at. House value.
GROUND_STEP, GROUND_MM = 0.25, 0.7  # m between heights of the ground, mm of the stroke. House values.
LEAST = 0.02  # m: what comes out smaller is seen end on, as a line. House value.
Line = tuple[Point, Point]


def built_seen(
    project: Project, worked: Layout, line: Line, *, depth: float, scale: float
) -> list[tuple[float, Symbol]]:
    """Return (metres beyond the line, symbol) of each fence, wall, gate and support that stands before or up to
    ``depth`` beyond a line.

    The scene's x runs along the line from its first end, y is height over the plan's zero.
    """
    long, site = math.dist(*line), project.site
    camera = side_camera(worked, line, (0.0, -HIGHEST, long, HIGHEST), scale)
    scene = plain_stage(stage(site, camera, 6, lie=worked.lie))
    supports = standing_supports(project.structure.supports, site.openings)
    flat, standing = support_parts(scene, supports, project.units)
    fences = (*standing_fences(site), *wall_fences(project, worked))
    made = list[tuple[float, Piece]]()
    for upright in (*fence_parts(scene, fences), *gate_parts(scene, site.openings), *flat):
        for part in _within(upright, line, depth):
            middle = ((part.a[0] + part.b[0]) / 2, (part.a[1] + part.b[1]) / 2)
            made += [(along_and_beyond(middle, line)[1], piece) for piece in part.make(part.start, part.end)]
    for stander in standing:
        away = along_and_beyond(stander.at, line)[1]
        if -BEFORE <= away <= depth:
            made += [(away, piece) for piece in stander.make()]
    foot = (long / 2, camera.eye[2])
    return [(away, _symbol(piece, away / max(depth, 1e-6), scale, foot)) for away, piece in made if piece.marks]


def ground_seen(project: Project, worked: Layout, line: Line) -> list[tuple[float, Symbol]]:
    """Return (0, symbol) of each path and paved or planted area where the line crosses it: a stroke on the ground."""
    level, kinds = heights_of(worked.lie), {one.name: one.kind for one in project.structure.ground_areas}
    kinds |= {path.name: path.surface for path in project.structure.paths}
    found = list[tuple[float, Symbol]]()
    for name, region in (*worked.ground_areas.items(), *worked.surfaces.items()):
        for piece in plane.lines_within(plane.line(line), region):
            spots = ways.even(np.asarray(piece), GROUND_STEP)
            run = [along_and_beyond((x, y), line)[0] for x, y in spots.tolist()]
            points = tuple(zip(run, level(spots).tolist(), strict=True))
            mark = Stroke(points=points, colour=style.INK, width_mm=GROUND_MM, layer="planting")
            found.append((0.0, Symbol(marks=(mark,), tip=f"{name}: {kinds[name]}", layer="planting")))
    return found


def tallest(seen: list[tuple[float, Symbol]]) -> float:
    """Return how high what is built reaches, in metres over the plan's zero."""
    tops = [
        y for _, one in seen for mark in one.marks if isinstance(mark, Area) for ring in mark.rings for _, y in ring
    ]
    tops += [
        y for _, one in seen for mark in one.marks if isinstance(mark, Hatch) for run in mark.lines for _, y in run
    ]
    return max(tops, default=0.0)


def _within(upright: Upright, line: Line, depth: float) -> list[Upright]:
    """Return the part of a stretch that lies before or up to ``depth`` beyond a line."""
    a, b = (along_and_beyond(end, line)[1] for end in (upright.a, upright.b))
    if abs(b - a) < LEAST:
        return [upright] if -BEFORE <= a <= depth else []
    first, last = sorted(min(1.0, max(0.0, (edge - a) / (b - a))) for edge in (-BEFORE, depth))
    if last - first < 1e-6:
        return []
    rest = upright.cut(first)[1] if first > 0 else upright
    return [rest.cut((last - first) / (1 - first))[0] if last < 1 else rest]


def _symbol(piece: Piece, share: float, scale: float, foot: Point) -> Symbol:
    fade = PALER * min(1.0, max(0.0, share))
    marks = in_metres([_paler(mark, fade) for mark in piece.marks], scale, foot)
    return Symbol(marks=marks, tip=piece.tip or piece.name, layer="planting")


def _paler(mark: Plain, fade: float) -> Plain:
    if isinstance(mark, Area):
        fill = style.mixed(mark.fill, style.PAPER, fade) if mark.fill else mark.fill
        return attrs.evolve(mark, fill=fill, stroke=mark.stroke and style.mixed(mark.stroke, style.PAPER, fade))
    if isinstance(mark, Hatch | Stroke):
        return attrs.evolve(mark, colour=style.mixed(mark.colour, style.PAPER, fade))
    return mark
