"""The shadows on the ground in the picture: those of the same bodies that the sun map reckons with.

Each body's shadow on the level of the ground below it is laid on the ground as it falls, so picture and map never
disagree. Bodies that let light through throw a lighter shadow, broken by flecks of sun.
"""

import math
from collections.abc import Sequence

import numpy as np

from gardenkit.drawing.scene import Area, Dots, Mark
from gardenkit.drawing.view_ground import SHADOW, Stage, ground_rings, scattered
from gardenkit.drawing.view_sun import Sunlight
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.geometry.solid import Ellipsoid, Hull, Solid, shadow, top_of
from gardenkit.project.season import Standing
from gardenkit.project.solids import LOWEST
from gardenkit.site.site import Site
from gardenkit.sources import HOUSE, Figure

DEEP_SHADE = Figure(0.40, "of the ground's brightness taken by an opaque body", HOUSE)
LOW_PLANT = Figure(0.12, "m", f"lower plants throw no shadow that shows; {HOUSE}")
FLECKS = Figure(6.0, "flecks of sun a m2 under a light crown", HOUSE)
FLECK_RADIUS = Figure(0.022, "m", HOUSE)
MOST_FLECKS = 260
SIDES = 28  # corners of a round body's shadow. House value.
SUN_FLECK = "#fff2c8"
CLASSES = ((0.0, 0.25), (0.25, 0.55), (0.55, 0.9))  # shares of light let through that are drawn as one depth each


def shadow_marks(
    scene: Stage, site: Site, bodies: Sequence[Solid], plants: Sequence[Standing], light: Sunlight
) -> list[Mark]:
    """Return the shadows on the open ground of a garden, the deepest where bodies let no light through.

    ``bodies`` are those of the sun map (house, fences, trees, tall plants); low plants among ``plants`` are added here.
    """
    if not site.boundary:
        return []
    ground = plane.grown(plane.region(site.boundary), 2.0)
    deeper: Region = plane.NOWHERE
    marks: list[Mark] = []
    shadows = fallen(scene, [*bodies, *low_bodies(scene, plants)], light)
    for low, high in CLASSES:
        parts = [(region, through) for region, through in shadows if low <= through < high]
        if not parts:
            continue
        region = plane.intersection(plane.difference(plane.union(r for r, _ in parts), deeper), ground)
        deeper = plane.union([deeper, region])
        through = float(np.mean([t for _, t in parts]))
        rings = ground_rings(scene, region)
        if rings:
            marks.append(Area(rings=rings, fill=SHADOW, alpha=DEEP_SHADE * (1.0 - through), layer="ground"))
        if low > 0:
            marks += _flecks(scene, region, through)
    return marks


def fallen(scene: Stage, bodies: Sequence[Solid], light: Sunlight) -> list[tuple[Region, float]]:
    """Return each body's shadow as a region on the plan with the share of light that passes it this month.

    Bodies whose shadow cannot fall into the picture are passed over.
    """
    dense = [body for body in bodies if body.light[scene.month - 1] < CLASSES[-1][1]]
    if not dense:
        return []
    feet = scene.laid([foot_of(body) for body in dense])
    seen = scene.camera.before(feet)
    found: list[tuple[Region, float]] = []
    for body, level, spot in zip(dense, feet[:, 2].tolist(), seen, strict=True):
        reach = _radius(body) + max(top_of(body) - level, 0.0) * math.hypot(*light.run)
        outline = shadow(body, light.run, height=level, sides=SIDES) if _in_sight(scene, spot, reach) else ()
        if len(outline) > 2:
            found.append((plane.region(outline), body.light[scene.month - 1]))
    return found


def low_bodies(scene: Stage, plants: Sequence[Standing]) -> list[Solid]:
    """Return cushions in the place of the plants too low for the sun map, as high and wide as they stand this month."""
    found: list[Solid] = []
    low = [item for item in plants if _is_low(item)]
    levels = scene.laid([item.plant.at for item in low])[:, 2].tolist() if low else []
    for item, level in zip(low, levels, strict=True):
        half = item.height / 2
        radius = 0.46 * item.size.spread
        centre = (*item.plant.at, level + half)
        found.append(Ellipsoid(name=item.species.botanical, centre=centre, radius=radius, half_height=half))
    return found


# ---- helpers


def _is_low(item: Standing) -> bool:
    return item.height >= LOW_PLANT and item.size.height < LOWEST and item.is_seen and not item.plant.support


def _in_sight(scene: Stage, spot: FloatArray, reach: float) -> bool:
    """Return whether anything within ``reach`` m of a place may be seen; ``spot`` is metres right, up, ahead."""
    half = math.radians(scene.camera.angle / 2)
    aside = abs(float(spot[0])) * math.cos(half) - float(spot[2]) * math.sin(half)
    return float(spot[2]) > -reach and aside < reach


def _radius(body: Solid) -> float:
    """Return how far a body reaches round its foot on the plan, m."""
    if isinstance(body, Hull):
        return float(np.linalg.norm(body.vertices[:, :2] - foot_of(body), axis=1).max())
    return body.radius


def foot_of(body: Solid) -> Point:
    """Return where a body stands on the plan."""
    if isinstance(body, Ellipsoid):
        return body.centre[0], body.centre[1]
    at = getattr(body, "at", None)
    if at is not None:
        return float(at[0]), float(at[1])
    x, y = body.vertices[:, :2].mean(axis=0)  # type: ignore[union-attr]  # only a hull has no place of its own
    return float(x), float(y)


def _flecks(scene: Stage, region: Region, through: float) -> list[Mark]:
    """Return flecks of sun in a light shadow: clearer where more light passes."""
    spots = scattered(region, float(FLECKS), seed=11)
    if not len(spots):
        return []
    seen = scene.camera.before(scene.laid(spots))
    marks: list[Mark] = []
    for near, far in ((2.0, 4.0), (4.0, 8.0), (8.0, 16.0)):
        part = seen[(seen[:, 2] >= near) & (seen[:, 2] < far)][:MOST_FLECKS]
        radius = FLECK_RADIUS * scene.camera.focal / math.sqrt(near * far)
        points = scene.camera.shown(scene.camera.flat(part), margin=radius) if len(part) else ()
        if points:
            alpha = 0.10 + 0.22 * through
            marks.append(Dots(points=points, radius=radius, fill=SUN_FLECK, alpha=alpha, layer="ground"))
    return marks
