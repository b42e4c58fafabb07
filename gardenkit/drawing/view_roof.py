"""Roofs as they stand in the picture: one over each convex part of a house, cut where two meet."""

import math
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Outline, Point, Region
from gardenkit.geometry.solid import Hull
from gardenkit.site import shade
from gardenkit.site.site import Building

ROOF_COLOUR, SOFFIT, GABLE, EDGE, GUTTER = "#77706d", "#a39b8d", "#e2d8c5", "#f1ece0", "#5f6163"
COURSE = 0.22  # m between courses of tiles, and the boards of a gable. House value.
EDGE_WIDE, GUTTER_WIDE = 0.16, 0.1  # m: boards along a gable's slopes, gutters. House values.
MOST_MM = 2.5  # the widest pen, however near
SLOPING, FACING = 0.05, 0.2  # a face's normal upwards from which it slopes; along a line, from which it faces it
ON_LINE, ACROSS = 0.02, 0.6  # m: on a line of parts; past it and the eaves. House values.


def roof_hull(building: Building, part: Outline) -> Hull | None:
    """Return the body of the roof over one convex part, None when it has none."""
    found = shade.building_solids(attrs.evolve(building, outline=part))
    return found[1] if len(found) == 2 else None


def roof_parts(
    scene: Stage,
    building: Building,
    part: Outline,
    outline: Outline,
    hull: Hull,
    *,
    indoors: bool,
    others: Sequence[Hull] = (),
) -> list[Stander]:
    """Return the roof over one part where it belongs: behind the walls below it, before them seen from above.

    A gable that ends at another part of the house, whose roof is one of ``others``, runs on to that roof's slope.
    """
    middle = plane.centre(plane.region(part))
    if scene.camera.eye[2] > building.eaves:
        edge = plane.region(plane.hull_outline(hull.vertices[:, :2]))
        middle = plane.nearest_on(edge, scene.camera.at)
    elif indoors:  # seen out of a window of the same house: above its own wall
        sides = [(a, b) for a, b in zip(part, (*part[1:], part[0]), strict=True) if is_outer(outline, a, b)]
        facing = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in sides if side_of(scene.camera.at, a, b) < 0]
        if not facing:
            return []
        middle = min(facing, key=scene.away)
    return [Stander(at=middle, make=lambda: _roof_piece(scene, building, part, outline, hull, others))]


def is_outer(outline: Outline, a: Point, b: Point) -> bool:
    """Return whether a part's side is an outer wall, not a line where two parts meet."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    edge = plane.line((*outline, outline[0]))
    return plane.distance(edge, plane.point(middle)) < 1e-3


def side_of(at: Point, a: Point, b: Point) -> float:
    """Return metres to the left of the line from a to b."""
    return ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / math.dist(a, b)


def sunward(scene: Stage) -> FloatArray:
    """Return the direction towards the light, (x, y, z)."""
    angle = math.radians(scene.light)
    return np.array([0.6 * math.sin(angle), 0.6 * math.cos(angle), 0.8])


def _roof_piece(
    scene: Stage, building: Building, part: Outline, outline: Outline, hull: Hull, others: Sequence[Hull]
) -> list[Piece]:
    eye = np.asarray(scene.camera.eye)
    sides = [(a, b) for a, b in zip(part, (*part[1:], part[0]), strict=True) if not is_outer(outline, a, b)]
    faces = []
    for face, normal in _hull_faces(hull):
        if float(normal @ (eye - face[0])) <= 1e-9:
            continue
        pieces = [face]
        for a, b in sides:
            pieces = [piece for whole in pieces for piece in _met(whole, normal, a, b, hull, others)]
        for corners in pieces:
            ring = scene.camera.ring(corners) if len(corners) > 2 else ()
            if ring:
                away = float(np.linalg.norm(np.mean(corners, axis=0) - eye))
                faces.append((away, normal, corners, ring, float(face[:, 2].min())))
    marks: list[Plain] = []
    for away, normal, corners, ring, low in sorted(faces, key=lambda f: -f[0]):
        marks += _face(scene, away, normal, corners, ring, low)
    cover = tuple(face[3] for face in faces)
    return (
        [Piece(marks=tuple(marks), cover=cover, away=scene.away(part[0]), solid=True, tip=f"{building.name} roof")]
        if marks
        else []
    )


def _face(scene: Stage, away: float, normal: FloatArray, corners: FloatArray, ring: Ring, low: float) -> list[Plain]:
    """Return a face of a roof: slopes in courses with a gutter at ``low``, gables boarded, soffits plain."""
    slope, gable = normal[2] > SLOPING, abs(normal[2]) <= SLOPING
    lit = max(0.0, float(normal @ sunward(scene)))
    base = style.mixed(ROOF_COLOUR, "#ffffff", 0.18 * lit) if slope else GABLE if gable else SOFFIT
    colour = scene.faded(base, away)
    ink = style.mixed(colour, style.INK, 0.5)
    marks: list[Plain] = [Area(rings=(ring,), fill=colour, stroke=ink, width_mm=0.18, layer="planting")]
    if slope or gable:
        marks.append(_courses(scene, corners, style.mixed(colour, style.INK, 0.3 if slope else 0.16)))
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        at_eaves, upright = max(a[2], b[2]) <= low + 0.01, math.dist(a[:2], b[:2]) < 0.01
        if upright or (gable and at_eaves) or (slope and not at_eaves) or not (slope or gable):
            continue
        wide = (EDGE_WIDE if gable else GUTTER_WIDE) * scene.camera.focal / max(away, 1.0)
        tint = scene.faded(EDGE if gable else GUTTER, away)
        lines = scene.camera.lines(np.array([a, b]))
        marks.append(Hatch(lines=lines, colour=tint, width_mm=min(wide, MOST_MM), layer="planting"))
    return marks


def _courses(scene: Stage, corners: FloatArray, colour: str) -> Hatch:
    lines: list[Ring] = []
    low, high = corners[:, 2].min(), corners[:, 2].max()
    for z in np.arange(low + COURSE, high, COURSE):
        cut = []
        for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            if (a[2] < z) != (b[2] < z):
                cut.append(a + (z - a[2]) / (b[2] - a[2]) * (b - a))
        if len(cut) == 2:
            lines += scene.camera.lines(np.array(cut))
    return Hatch(lines=tuple(lines), colour=colour, width_mm=0.1, layer="planting")


def _met(
    corners: FloatArray, normal: FloatArray, a: Point, b: Point, hull: Hull, others: Sequence[Hull]
) -> list[FloatArray]:
    """Return what is left of a face where its part meets the next along a to b.

    A slope of a gable that points at the next roof runs on to the slope it meets there; all else ends at the line, but
    for eaves that stand out beside the next roof.
    """
    if len(corners) < 3:
        return []
    off = np.array([side_of((float(x), float(y)), a, b) for x, y, _ in hull.vertices])
    way = np.array([a[1] - b[1], b[0] - a[0], 0.0]) / math.dist(a, b)  # towards this part
    across = ((a[0] + b[0]) / 2 - ACROSS * way[0], (a[1] + b[1]) / 2 - ACROSS * way[1])
    next_to = [one for one in others if plane.contains(_region(one), across)]
    met = _slope_facing(next_to, way)
    pointing = (off[-2:] < ON_LINE).any() and not (off[-2:] < ON_LINE).all()
    if met is None or not pointing or normal[2] <= SLOPING:
        return [_kept_left(corners, a, b), *_beside(_kept_left(corners, b, a), others)]
    edge, distance = met
    far = max(float(np.ptp(one.vertices @ way)) for one in next_to)
    beyond = np.array([side_of((float(x), float(y)), a, b) < ON_LINE for x, y, _ in corners])
    longer = corners - np.where(beyond, far, 0.0)[:, None] * way
    return [_clipped(longer, longer @ edge - distance)]


def _beside(corners: FloatArray, others: Sequence[Hull]) -> list[FloatArray]:
    """Return the parts of a face that lie over none of the other roofs."""
    pieces = [corners]
    for hull in others:
        ring = plane.corners(_region(hull))
        outside: list[FloatArray] = []
        for whole in pieces:
            rest = whole
            for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
                if len(rest) > 2:
                    outside.append(_kept_left(rest, b, a))
                    rest = _kept_left(rest, a, b)
        pieces = [one for one in outside if len(one) > 2]
    return [one for one in pieces if len(one) > 2]


def _region(hull: Hull) -> Region:
    """Return the ground below a roof."""
    return plane.region(plane.hull_outline(hull.vertices[:, :2]))


def _slope_facing(others: Sequence[Hull], way: FloatArray) -> tuple[FloatArray, float] | None:
    """Return the slope that looks most nearly along ``way``: its normal, and how far off it lies along that."""
    found = [
        (float(normal @ way), normal, float(normal @ face[0]))
        for hull in others
        for face, normal in _hull_faces(hull)
        if normal[2] > SLOPING
    ]
    best = max(found, key=lambda one: one[0], default=None)
    return (best[1], best[2]) if best is not None and best[0] > FACING else None


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
    return _clipped(corners, np.array([side_of((float(p[0]), float(p[1])), a, b) for p in corners]))


def _clipped(corners: FloatArray, off: FloatArray) -> FloatArray:
    """Return the part of a face where ``off`` (one for each corner) is not negative."""
    kept: list[FloatArray] = []
    for p, q, sp, sq in zip(np.roll(corners, 1, axis=0), corners, np.roll(off, 1), off, strict=True):
        if (sp >= 0) != (sq >= 0):
            kept.append(p + sp / (sp - sq) * (q - p))
        if sq >= 0:
            kept.append(q)
    return np.asarray(kept)
