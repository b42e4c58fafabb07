"""What is known of each bed: its size, how far one reaches, how it slopes, how much sun it gets, what soil it has; and
of each paved or lawn area: its size, and how many people and what table find room on it.
"""

import math

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.medial import Circle
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.project import Project
from gardenkit.project.advice import GROWING
from gardenkit.project.layout import Layout
from gardenkit.project.sunlight import SunMap
from gardenkit.site import levels
from gardenkit.site.levels import Slope
from gardenkit.site.soil import soil_texture
from gardenkit.structure.beds import BedShape, spine_of
from gardenkit.structure.kinds import ground_kind
from gardenkit.structure.patio import area_for_people, table_for

SPOTS = 150  # points looked at over a bed for its sun. House value.
NARROW = 0.9  # m: a place narrower than this suits upright growers only. House value.
SMALL_TREE = 2.4  # m: a crown this wide is a small tree's. House value.
NO_PLACE = 1e6  # m: a reach as far as this is none: there is nowhere to stand


@attrs.frozen(eq=False, kw_only=True)
class BedMeasures:
    """One bed with its ``slope`` (None without spot heights), ``sun`` the least and greatest mean hours of direct sun a
    day in the growing season (None without a sun map), and its soil in words.
    """

    bed: BedShape
    slope: Slope | None
    sun: tuple[float, float] | None
    soil: str

    @property
    def reach(self) -> float | None:
        """How far one reaches in from where one stands, in metres; None with nowhere to stand."""
        return self.bed.reach if self.bed.reach < NO_PLACE else None

    @property
    def crown(self) -> float | None:
        """How wide a tree's crown finds room, in metres; None when not even a small tree's does."""
        return next((2 * circle.radius for circle in tree_rooms(self.bed)), None)


@attrs.frozen(kw_only=True)
class AreaMeasures:
    """A paved or lawn area in square metres and metres; for one that is sat on how many ``people`` find room, and the
    round ``table``: how wide and for how many, None with no room to walk round one.
    """

    name: str
    kind: str
    area: float
    perimeter: float
    people: int | None = None
    table: tuple[float, int] | None = None


def bed_measures(project: Project, worked: Layout, *, sun: SunMap | None = None) -> tuple[BedMeasures, ...]:
    """Return every bed with what is known of it, in the layout's order."""
    ground = worked.lie
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


def area_measures(project: Project, worked: Layout) -> tuple[AreaMeasures, ...]:
    """Return every paved or lawn area that has ground, with what finds room on it."""
    found = []
    for ground_area in project.structure.ground_areas:
        floor = worked.ground_areas[ground_area.name]
        if floor.is_empty:
            continue
        area = plane.area(floor)
        measured = AreaMeasures(
            name=ground_area.name, kind=ground_area.kind, area=area, perimeter=plane.perimeter(floor)
        )
        if ground_kind(ground_area.kind).sat_on:
            across, seats = table_for(2 * plane.inscribed_circle(floor)[1])
            table = (across, seats) if seats else None
            measured = attrs.evolve(measured, people=int(area / area_for_people(1)), table=table)
        found.append(measured)
    return tuple(found)


def tree_rooms(bed: BedShape) -> tuple[Circle, ...]:
    """Return every space for a tree crown of a bed in which a small tree's crown finds room, the largest first."""
    return tuple(circle for circle in bed.pockets if 2 * circle.radius >= SMALL_TREE)


def narrow_places(bed: BedShape) -> tuple[Point, ...]:
    """Return where a bed is so narrow that only upright growers suit it."""
    return spine_of(bed).narrower_than(NARROW) if plane.area(bed.region) > 0 else ()


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
    except GardenError:  # said in 03_site_measurement
        texture = ""
    return ", ".join(part for part in (texture, f"pH {soil.ph:g}" if soil.ph is not None else "") if part)
