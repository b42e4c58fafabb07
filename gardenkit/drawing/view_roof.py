"""Roofs as they stand in the picture: one over each convex part of a house, cut where two meet."""

import math

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Hatch, Plain, Ring
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Outline, Point
from gardenkit.geometry.solid import Hull
from gardenkit.site import shade
from gardenkit.site.site import Building

ROOF_COLOUR, SOFFIT = "#8c837c", "#a39b8d"


def roof_hull(building: Building, part: Outline) -> Hull | None:
    """Return the body of the roof over one convex part, None when it has none."""
    found = shade.building_solids(attrs.evolve(building, outline=part))
    return found[1] if len(found) == 2 else None


def roof_parts(
    scene: Stage, building: Building, part: Outline, outline: Outline, hull: Hull, *, indoors: bool
) -> list[Stander]:
    """Return the roof over one part where it belongs: behind the walls below it, before them seen from above."""
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
    return [Stander(at=middle, make=lambda: _roof_piece(scene, building, part, outline, hull))]


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


def _roof_piece(scene: Stage, building: Building, part: Outline, outline: Outline, hull: Hull) -> list[Piece]:
    eye = np.asarray(scene.camera.eye)
    faces = []
    for face, normal in _hull_faces(hull):
        corners = face
        if float(normal @ (eye - corners[0])) <= 1e-9:
            continue
        for a, b in zip(part, (*part[1:], part[0]), strict=True):
            if not is_outer(outline, a, b):  # no eaves where one roof meets the next
                corners = _kept_left(corners, a, b)
        ring = scene.camera.ring(np.asarray(corners)) if len(corners) > 2 else ()
        if ring:
            faces.append((float(np.linalg.norm(np.mean(corners, axis=0) - eye)), normal, corners, ring))
    marks: list[Plain] = []
    for away, normal, corners, ring in sorted(faces, key=lambda f: -f[0]):
        slope = normal[2] > 0.05
        lit = max(0.0, float(normal @ sunward(scene)))
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
        sp, sq = side_of((p[0], p[1]), a, b), side_of((q[0], q[1]), a, b)
        if (sp >= 0) != (sq >= 0):
            kept.append(p + sp / (sp - sq) * (q - p))
        if sq >= 0:
            kept.append(q)
    return np.asarray(kept)
