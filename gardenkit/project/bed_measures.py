"""What is known of each bed: its size, how far one reaches, how it slopes, how much sun it gets, what soil it has."""

import math

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.project import Project
from gardenkit.project.advice import GROWING
from gardenkit.project.layout import Layout
from gardenkit.project.rules import ground_of
from gardenkit.project.sunlight import SunMap
from gardenkit.site import levels
from gardenkit.site.levels import Slope
from gardenkit.site.soil import soil_texture
from gardenkit.structure.beds import BedShape

SPOTS = 150  # points looked at over a bed for its sun. House value.


@attrs.frozen(eq=False, kw_only=True)
class BedMeasures:
    """One bed with its ``slope`` (None without spot heights), ``sun`` the least and greatest mean hours of direct sun a
    day in the growing season (None without a sun map), and its soil in words.
    """

    bed: BedShape
    slope: Slope | None
    sun: tuple[float, float] | None
    soil: str


def bed_measures(project: Project, worked: Layout, *, sun: SunMap | None = None) -> tuple[BedMeasures, ...]:
    """Return every bed with what is known of it, in the layout's order."""
    ground = ground_of(project.site)
    rows = []
    for bed in worked.beds:
        rows.append(
            BedMeasures(
                bed=bed,
                slope=levels.slope_of(ground, bed.region) if ground is not None and bed.area > 0 else None,
                sun=_sun(project, bed.region, sun) if sun is not None and bed.area > 0 else None,
                soil=bed.soil or _soil(project),
            )
        )
    return tuple(rows)


def _sun(project: Project, region: Region, sun: SunMap) -> tuple[float, float]:
    hours = sun.over(_spots(region))
    north = project.site.place.latitude >= 0
    season = hours[GROWING] if north else np.delete(hours, np.arange(12)[GROWING], axis=0)
    mean = season.mean(axis=0)
    return float(mean.min()), float(mean.max())


def _spots(region: Region) -> FloatArray:
    left, bottom, right, top = plane.bounds(region)
    step = max(0.05, math.sqrt(plane.area(region) / SPOTS))
    x, y = np.meshgrid(np.arange(left + step / 2, right, step), np.arange(bottom + step / 2, top, step))
    points = np.column_stack((x.ravel(), y.ravel()))
    kept = points[plane.inside(region, points)]
    return kept if len(kept) else np.array([plane.centre(region)])


def _soil(project: Project) -> str:
    soil = project.site.soil
    try:
        texture = soil_texture(soil) or ""
    except GardenError:  # said on the site page
        texture = ""
    return ", ".join(part for part in (texture, f"pH {soil.ph:g}" if soil.ph is not None else "") if part)
