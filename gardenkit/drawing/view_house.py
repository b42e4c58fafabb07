"""The house as it stands in the picture: walls with their windows and doors, and the roof above them."""

import math
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander, Upright
from gardenkit.drawing.view_roof import is_outer, roof_hull, roof_parts, side_of, sunward
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.geometry.solid import Hull
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building

ON_WALL = 0.2  # m an opening's ends may lie off the wall it is drawn in. House value.
WALL_COLOUR, ROOM = "#ece3d2", "#57534b"
GLASS, FRAME, DOOR = "#a9bcc4", "#f7f4ec", "#6f8478"
COURSE = 0.2  # m between the lines of the wall's boards. House value.


@attrs.frozen(kw_only=True, eq=False)
class _Wall:
    building: Building
    a: Point
    b: Point
    apex: tuple[float, float] | None  # share along the wall, height: the point of a gable
    openings: tuple[Opening, ...]
    inside: bool  # seen from the room


def house_parts(
    scene: Stage, buildings: Sequence[Building], openings: Sequence[Opening]
) -> tuple[list[Upright], list[Stander]]:
    """Return the walls that face the eye as uprights, and the roofs as things that stand behind them."""
    walls: list[Upright] = []
    roofs: list[Stander] = []
    for building in buildings:
        outline = plane.outline(building.outline, where=f'building "{building.name}"')
        indoors = plane.contains(plane.region(outline), scene.camera.at)
        parts = plane.convex_parts(outline)
        hulls = [roof_hull(building, part) for part in parts]
        for part, hull in zip(parts, hulls, strict=True):
            here = indoors and plane.contains(plane.region(part), scene.camera.at)
            if hull is not None and not here:
                others = [one for one in hulls if one is not None and one is not hull]
                roofs += roof_parts(scene, building, part, outline, hull, indoors=indoors, others=others)
            for a, b in zip(part, (*part[1:], part[0]), strict=True):
                if not is_outer(outline, a, b):
                    continue
                faces = side_of(scene.camera.at, a, b) < 0
                if not faces and not indoors:
                    continue
                own = tuple(o for o in openings if o.kind != "gate" and _in_wall(o, a, b))
                wall = _Wall(
                    building=building, a=a, b=b, apex=_apex(building, hull, a, b), openings=own, inside=not faces
                )
                walls.append(_upright(scene, wall))
    return walls, roofs


def _in_wall(opening: Opening, a: Point, b: Point) -> bool:
    wall = plane.line((a, b))
    return all(plane.distance(wall, plane.point(p)) < ON_WALL for p in (opening.start, opening.end))


def _apex(building: Building, hull: Hull | None, a: Point, b: Point) -> tuple[float, float] | None:
    """Return where a gable's point stands over this wall: share along it and height; None under an eave."""
    if hull is None or building.roof != "gable" or building.ridge_height <= building.eaves:
        return None
    ends = hull.vertices[-2:]
    long = math.dist(a, b)
    for end, other in ((ends[0], ends[1]), (ends[1], ends[0])):
        run = math.dist(end[:2], other[:2])
        square = abs(side_of((float(end[0]), float(end[1])), a, b) - side_of((float(other[0]), float(other[1])), a, b))
        off = abs(side_of((float(end[0]), float(end[1])), a, b))
        if run > 1e-6 and square > 0.9 * run and off < building.overhang + 0.05:
            share = ((end[0] - a[0]) * (b[0] - a[0]) + (end[1] - a[1]) * (b[1] - a[1])) / long**2
            if 0 < share < 1:
                return float(share), building.ridge_height
    return None


def _upright(scene: Stage, wall: _Wall) -> Upright:
    return Upright(a=wall.a, b=wall.b, make=lambda start, end: _wall(scene, wall, start, end))


def _wall(scene: Stage, wall: _Wall, start: float, end: float) -> list[Piece]:
    low = min(0.0, wall.building.floor) - 0.3
    face = _ring(scene, wall, _profile(wall, start, end, low))
    if not face:
        return []
    middle = _spot(wall, (start + end) / 2)
    away = scene.away(middle)
    if wall.inside:
        return [_room(scene, wall, start, end, middle)]
    colour = scene.faded(style.mixed(WALL_COLOUR, style.INK, _shade(scene, wall)), away)
    marks: list[Plain] = [
        Area(rings=(face,), fill=colour, stroke=style.mixed(colour, style.INK, 0.45), width_mm=0.2, layer="planting")
    ]
    top = wall.building.eaves
    rows = np.arange(max(0.0, wall.building.floor) + COURSE, top, COURSE)
    boards = tuple(line for z in rows for line in scene.camera.lines(_line(wall, start, end, float(z))))
    marks.append(Hatch(lines=boards, colour=style.mixed(colour, style.INK, 0.16), width_mm=0.1, layer="planting"))
    for opening in wall.openings:
        marks += _opening(scene, wall, opening, start, end, away)
    return [
        Piece(
            marks=tuple(marks),
            cover=(face,),
            name=wall.building.name,
            kind="building",
            away=away,
            solid=True,
            tip=wall.building.name,
        )
    ]


def _room(scene: Stage, wall: _Wall, start: float, end: float, middle: Point) -> Piece:
    """Return a wall from inside the room: dark, with its openings left clear."""
    box = [(start, -30.0), (end, -30.0), (end, 30.0), (start, 30.0)]
    rings = [_ring(scene, wall, box)]
    frames: list[Plain] = []
    for opening in wall.openings:
        hole = _ring(scene, wall, _gap(wall, opening, start, end))
        if hole:
            rings.append(hole)
            ink = "#e9e4d8"
            frames.append(Area(rings=(hole,), stroke=ink, width_mm=1.4, layer="planting"))
            if opening.kind == "window":
                u = sum(_shares(wall, opening)) / 2
                bar = scene.camera.lines(np.vstack((_at(wall, u, opening.sill), _at(wall, u, opening.head))))
                frames.append(Hatch(lines=bar, colour=ink, width_mm=1.0, layer="planting"))
    kept = tuple(ring for ring in rings if ring)
    area = Area(rings=kept, fill=ROOM, layer="planting")
    return Piece(marks=(area, *frames), away=scene.away(middle), tip=f"{wall.building.name}, inside")


def _opening(scene: Stage, wall: _Wall, opening: Opening, start: float, end: float, away: float) -> list[Plain]:
    gap = _gap(wall, opening, start, end)
    ring = _ring(scene, wall, gap) if gap else ()
    if not ring:
        return []
    fill = scene.faded(GLASS if opening.kind == "window" else DOOR, away)
    ink = scene.faded(style.mixed(style.INK, "#ffffff", 0.2), away)
    pen = min(0.9, 0.07 * scene.camera.focal / max(away, 1.0))
    marks: list[Plain] = [
        Area(rings=(ring,), fill=fill, stroke=scene.faded(FRAME, away), width_mm=pen * 1.6, layer="planting"),
        Area(rings=(ring,), stroke=ink, width_mm=0.1, layer="planting"),
    ]
    (u0, low), (u1, _), (_, high), _ = gap
    middle, rail = (u0 + u1) / 2, low + 0.62 * (high - low)
    if opening.kind == "window":
        bars = [((middle, low), (middle, high)), ((u0, rail), (u1, rail))]
        shine = _ring(scene, wall, [(u0, rail), (middle, rail), (u0 + 0.7 * (middle - u0), high), (u0, high)])
        marks.insert(1, Area(rings=(shine,), fill="#e6eef0", alpha=0.5, layer="planting")) if shine else None
        colour, width = scene.faded(FRAME, away), pen
    else:
        inner = [
            (u0 + s * (u1 - u0), z)
            for s, z in ((0.18, low + 0.15), (0.82, low + 0.15), (0.82, high - 0.15), (0.18, high - 0.15))
        ]
        bars = list(zip(inner, [*inner[1:], inner[0]], strict=True))
        colour, width = ink, 0.12
    lines = tuple(piece for p, q in bars for piece in scene.camera.lines(np.vstack((_at(wall, *p), _at(wall, *q)))))
    marks.append(Hatch(lines=lines, colour=colour, width_mm=width, layer="planting"))
    return marks


def _profile(wall: _Wall, start: float, end: float, low: float) -> list[tuple[float, float]]:
    top = [(end, _top(wall, end))]
    if wall.apex and start < wall.apex[0] < end:
        top.append(wall.apex)
    return [(start, low), (end, low), *top, (start, _top(wall, start))]


def _top(wall: _Wall, share: float) -> float:
    if not wall.apex:
        return wall.building.eaves
    return float(np.interp(share, (0.0, wall.apex[0], 1.0), (wall.building.eaves, wall.apex[1], wall.building.eaves)))


def _shares(wall: _Wall, opening: Opening) -> tuple[float, float]:
    long = math.dist(wall.a, wall.b)
    way = ((wall.b[0] - wall.a[0]) / long, (wall.b[1] - wall.a[1]) / long)
    ends = sorted(
        ((p[0] - wall.a[0]) * way[0] + (p[1] - wall.a[1]) * way[1]) / long for p in (opening.start, opening.end)
    )
    return ends[0], ends[1]


def _gap(wall: _Wall, opening: Opening, start: float, end: float) -> list[tuple[float, float]]:
    u0, u1 = (min(max(u, start), end) for u in _shares(wall, opening))
    return [(u0, opening.sill), (u1, opening.sill), (u1, opening.head), (u0, opening.head)] if u1 > u0 else []


def _spot(wall: _Wall, share: float) -> Point:
    return wall.a[0] + share * (wall.b[0] - wall.a[0]), wall.a[1] + share * (wall.b[1] - wall.a[1])


def _at(wall: _Wall, share: float, z: float) -> FloatArray:
    return np.array([[*_spot(wall, share), z]])


def _line(wall: _Wall, start: float, end: float, z: float) -> FloatArray:
    return np.vstack((_at(wall, start, z), _at(wall, end, z)))


def _ring(scene: Stage, wall: _Wall, corners: Sequence[tuple[float, float]]) -> Ring:
    return scene.camera.ring(np.vstack([_at(wall, u, z) for u, z in corners])) if corners else ()


def _shade(scene: Stage, wall: _Wall) -> float:
    """Return how much darker a wall is for facing away from the light, 0 to 0.24."""
    way = np.subtract(wall.b, wall.a) / math.dist(wall.a, wall.b)
    lit = float(np.array([way[1], -way[0]]) @ sunward(scene)[:2]) / 0.6
    return 0.12 - 0.12 * lit
