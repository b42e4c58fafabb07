"""Shadows on the plan at an hour of a day: those of the same bodies that the sun map and the view reckon with."""

from collections.abc import Sequence

import numpy as np

from gardenkit.drawing.scene import Area, Layer, Mark
from gardenkit.drawing.view_ground import SHADOW
from gardenkit.drawing.view_shadows import CLASSES, DEEP_SHADE, SIDES, foot_of
from gardenkit.drawing.view_sun import DAY, sunlight
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.geometry.solid import Solid, shadow
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.solids import ground_height, solids


def plan_shadows(
    project: Project, catalogue: Catalogue, *, year: int, month: int, hour: float | None = None, day: int = DAY
) -> tuple[Mark, ...]:
    """Return the shadows within the plot, deepest where no light passes; none while the place is not known.

    Those of plants lie on the ground, those of what is built and of kept trees on the plants too.

    ``year`` counts from the first planting season; without an ``hour`` it is the afternoon, as in the view.
    """
    light = sunlight(project.site, month, hour, day=day)
    if light is None or not project.site.boundary:
        return ()
    roofed = plane.union(plane.region(building.outline) for building in project.site.buildings)
    plot = plane.difference(plane.region(project.site.boundary), roofed)
    built = solids(project)
    planted = solids(project, catalogue, year=year)[len(built) :]  # those of the design's plants come last
    on_ground = _marks(_fallen(project, planted, light.run, month), plot, "sun")
    return (*on_ground, *_marks(_fallen(project, built, light.run, month), plot, "canopy"))


def _fallen(project: Project, bodies: Sequence[Solid], run: Point, month: int) -> list[tuple[Region, float]]:
    """Return each body's shadow on the ground with the share of light that passes it."""
    ground = ground_height(project.site)
    fallen: list[tuple[Region, float]] = []
    for body in bodies:
        through = body.light[month - 1]
        outline = shadow(body, run, height=ground(foot_of(body)), sides=SIDES) if through < CLASSES[-1][1] else ()
        if len(outline) > 2:
            fallen.append((plane.region(outline), through))
    return fallen


def _marks(fallen: list[tuple[Region, float]], plot: Region, layer: Layer) -> tuple[Mark, ...]:
    deeper: Region = plane.NOWHERE
    marks: list[Mark] = []
    for low, high in CLASSES:
        parts = [(region, through) for region, through in fallen if low <= through < high]
        if not parts:
            continue
        region = plane.intersection(plane.difference(plane.union(r for r, _ in parts), deeper), plot)
        deeper = plane.union([deeper, region])
        alpha = DEEP_SHADE * (1.0 - float(np.mean([through for _, through in parts])))
        rings = tuple(tuple(ring) for ring in plane.rings(region))
        if rings:
            marks.append(Area(rings=rings, fill=SHADOW, alpha=alpha, layer=layer))
    return tuple(marks)
