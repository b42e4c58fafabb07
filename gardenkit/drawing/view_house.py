"""The house as it stands in the picture: walls with their windows and doors, and the roof above them."""

import math
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander, Upright
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Outline, Point
from gardenkit.geometry.solid import Hull
from gardenkit.site import shade
from gardenkit.site.site import Building, Opening

ON_WALL = 0.2  # m an opening's ends may lie off the wall it is drawn in. House value.
WALL_COLOUR, ROOF_COLOUR, SOFFIT, ROOM = "#ece3d2", "#8c837c", "#a39b8d", "#57534b"
GLASS, FRAME, DOOR = "#a9bcc4", "#f7f4ec", "#6f8478"
SAME_CORNER = 1e-3  # m; corners of a cut nearer than this are one
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
        for part in convex_parts(outline):
            hull = _roof_hull(building, part)
            here = indoors and plane.contains(plane.region(part), scene.camera.at)
            if hull is not None and not here:
                roofs += _roof(scene, building, part, outline, hull, indoors=indoors)
            for a, b in zip(part, (*part[1:], part[0]), strict=True):
                if not _is_outer(outline, a, b):
                    continue
                faces = _side(scene.camera.at, a, b) < 0
                if not faces and not indoors:
                    continue
                own = tuple(o for o in openings if o.kind != "gate" and _in_wall(o, a, b))
                wall = _Wall(
                    building=building, a=a, b=b, apex=_apex(building, hull, a, b), openings=own, inside=not faces
                )
                walls.append(_upright(scene, wall))
    return walls, roofs


def convex_parts(outline: Outline) -> tuple[Outline, ...]:
    """Return an outline cut along its walls into convex parts, as broad as can be: one roof goes over each."""
    corners = list(outline)
    whole = plane.region(corners)
    best: tuple[float, tuple[Outline, ...]] | None = None
    for i, corner in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % len(corners)]
        if _side(after, before, corner) >= -1e-9:
            continue
        for other in (before, after):
            way = np.subtract(corner, other) / math.dist(corner, other)
            end = (corner[0] + 1e3 * way[0], corner[1] + 1e3 * way[1])
            start = (corner[0] - 1e-6 * way[0], corner[1] - 1e-6 * way[1])
            found = plane.divided(whole, (start, end))
            if len(found) < 2:
                continue
            parts = tuple(plane.outline(_tidy(plane.corners(p)), where="a part of the house") for p in found)
            width = min(plane.inscribed_circle(p)[1] for p in found)
            if best is None or width > best[0]:
                best = width, parts
    if best is None:
        return (outline,)
    return tuple(piece for part in best[1] for piece in convex_parts(part))


def _tidy(corners: Outline) -> Outline:
    return tuple(p for i, p in enumerate(corners) if math.dist(p, corners[i - 1]) > SAME_CORNER)


def _roof_hull(building: Building, part: Outline) -> Hull | None:
    found = shade.building_solids(attrs.evolve(building, outline=part))
    return found[1] if len(found) == 2 else None


def _is_outer(outline: Outline, a: Point, b: Point) -> bool:
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    edge = plane.line((*outline, outline[0]))
    return plane.distance(edge, plane.point(middle)) < 1e-3


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
        square = abs(_side((float(end[0]), float(end[1])), a, b) - _side((float(other[0]), float(other[1])), a, b))
        off = abs(_side((float(end[0]), float(end[1])), a, b))
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
            marks=tuple(marks), cover=(face,), name=wall.building.name, kind="building", away=away, solid=True,
            tip=wall.building.name,
        )
    ]  # fmt: skip


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


def _roof(
    scene: Stage, building: Building, part: Outline, outline: Outline, hull: Hull, *, indoors: bool
) -> list[Stander]:
    """Return the roof over one part, sorted where it belongs: behind the walls below it, before them seen from above."""
    middle = plane.centre(plane.region(part))
    if scene.camera.eye[2] > building.eaves:
        edge = plane.region(plane.hull_outline(hull.vertices[:, :2]))
        middle = plane.nearest_on(edge, scene.camera.at)
    elif indoors:  # seen out of a window of the same house: above its own wall
        sides = [(a, b) for a, b in zip(part, (*part[1:], part[0]), strict=True) if _is_outer(outline, a, b)]
        facing = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in sides if _side(scene.camera.at, a, b) < 0]
        if not facing:
            return []
        middle = min(facing, key=scene.away)
    return [Stander(at=middle, make=lambda: _roof_piece(scene, building, part, outline, hull))]


def _roof_piece(scene: Stage, building: Building, part: Outline, outline: Outline, hull: Hull) -> list[Piece]:
    eye = np.asarray(scene.camera.eye)
    faces = []
    for face, normal in _hull_faces(hull):
        corners = face
        if float(normal @ (eye - corners[0])) <= 1e-9:
            continue
        for a, b in zip(part, (*part[1:], part[0]), strict=True):
            if not _is_outer(outline, a, b):  # no eaves where one roof meets the next
                corners = _kept_left(corners, a, b)
        ring = scene.camera.ring(np.asarray(corners)) if len(corners) > 2 else ()
        if ring:
            faces.append((float(np.linalg.norm(np.mean(corners, axis=0) - eye)), normal, corners, ring))
    marks: list[Plain] = []
    for away, normal, corners, ring in sorted(faces, key=lambda f: -f[0]):
        slope = normal[2] > 0.05
        lit = max(0.0, float(normal @ _sun(scene)))
        base = style.mixed(ROOF_COLOUR, "#ffffff", 0.18 * lit) if slope else SOFFIT
        colour = scene.faded(base, away)
        marks.append(
            Area(
                rings=(ring,), fill=colour, stroke=style.mixed(colour, style.INK, 0.5), width_mm=0.18, layer="planting"
            )
        )
        if slope:
            marks.append(_tiles(scene, np.asarray(corners), colour))
    cover = tuple(face[3] for face in faces)
    return (
        [Piece(marks=tuple(marks), cover=cover, away=scene.away(part[0]), solid=True, tip=f"{building.name} roof")]
        if marks
        else []
    )


def _tiles(scene: Stage, corners: FloatArray, colour: str) -> Hatch:
    lines: list[Ring] = []
    low, high = corners[:, 2].min(), corners[:, 2].max()
    for z in np.arange(low + 0.22, high, 0.22):
        cut = []
        for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            if (a[2] < z) != (b[2] < z):
                cut.append(a + (z - a[2]) / (b[2] - a[2]) * (b - a))
        if len(cut) == 2:
            lines += scene.camera.lines(np.array(cut))
    return Hatch(lines=tuple(lines), colour=style.mixed(colour, style.INK, 0.2), width_mm=0.1, layer="planting")


def _hull_faces(hull: Hull) -> list[tuple[FloatArray, FloatArray]]:
    """Return the flat faces of a convex body, each its corners in order (n, 3) and its outward normal."""
    from scipy.spatial import ConvexHull

    made = ConvexHull(hull.vertices)
    planes: dict[tuple[float, ...], set[int]] = {}
    for corners, equation in zip(made.simplices, made.equations, strict=True):
        planes.setdefault(tuple(np.round(equation, 5)), set()).update(int(i) for i in corners)
    found = []
    for key, numbers in planes.items():
        normal = np.asarray(key[:3])
        spots = hull.vertices[sorted(numbers)]
        across = np.cross(normal, [0.0, 0.0, 1.0] if abs(normal[2]) < 0.9 else [1.0, 0.0, 0.0])
        off = spots - spots.mean(axis=0)
        turn = np.arctan2(off @ np.cross(normal, across), off @ across)
        found.append((spots[np.argsort(turn)], normal))
    return found


def _kept_left(corners: FloatArray, a: Point, b: Point) -> FloatArray:
    """Return the part of a face on the left of the upright plane through a and b."""
    kept: list[FloatArray] = []
    for p, q in zip(np.roll(corners, 1, axis=0), corners, strict=True):
        sp, sq = _side((p[0], p[1]), a, b), _side((q[0], q[1]), a, b)
        if (sp >= 0) != (sq >= 0):
            kept.append(p + sp / (sp - sq) * (q - p))
        if sq >= 0:
            kept.append(q)
    return np.asarray(kept)


def _side(at: Point, a: Point, b: Point) -> float:
    """Return metres to the left of the line from a to b."""
    return ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / math.dist(a, b)


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


def _sun(scene: Stage) -> FloatArray:
    angle = math.radians(scene.light)
    return np.array([0.6 * math.sin(angle), 0.6 * math.cos(angle), 0.8])


def _shade(scene: Stage, wall: _Wall) -> float:
    """Return how much darker a wall is for facing away from the light, 0 to 0.24."""
    way = np.subtract(wall.b, wall.a) / math.dist(wall.a, wall.b)
    lit = float(np.array([way[1], -way[0]]) @ _sun(scene)[:2]) / 0.6
    return 0.12 - 0.12 * lit
