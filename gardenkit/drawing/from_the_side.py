"""The garden looked at square to a line that the designer draws across it: plants and trees before the house."""

import math

import attrs

from gardenkit.drawing.elevation import PERSON, elevation_scene, stands_behind, wall_behind
from gardenkit.drawing.garden import MONTHS, drawn
from gardenkit.drawing.painted_side import highest, side_picture
from gardenkit.drawing.painted_view import Moment, Prospect
from gardenkit.drawing.scene import Bounds, Picture, Scene
from gardenkit.drawing.side_built import built_seen, ground_seen, tallest
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view_ground import SEASONS as SKY_SEASONS
from gardenkit.drawing.view_ground import heights_of
from gardenkit.drawing.view_plants import grown_trees
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.crops_seen import standing_with_crops
from gardenkit.project.season import northern_month, standing
from gardenkit.site.site import Site
from gardenkit.structure.things import things_in
from gardenkit.units import System, show_length

Line = tuple[Point, Point]
LEAST_LINE = 0.5  # m: a line to look at the garden from the side is at least this long. House value.
BEYOND = 0.8  # m the line runs past the boundary, so that plants at the edge are seen whole. House value.
WIDE_MM = 240.0  # mm on paper that the picture may take
LARGEST = 24.0  # 1 : n, no larger than this
NOWHERE: Line = ((0.0, 0.0), (5.0, 0.0))  # before there is a boundary


def first_line(site: Site) -> Line:
    """Return a line across the ground in front of its middle, from left to right."""
    if not site.boundary:
        return NOWHERE
    left, low, right, high = plane.bounds(plane.region(site.boundary))
    y = low + (high - low) / 3
    return (left - BEYOND, y), (right + BEYOND, y)


def with_end(line: Line, end: str, at: Point, *, units: System) -> Line:
    """Return a line with its end ``A`` (left) or ``B`` put elsewhere. Raises GardenError for one that is too short."""
    new = (at, line[1]) if end == "A" else (line[0], at)
    if math.dist(*new) < LEAST_LINE:
        raise GardenError(
            f"the line to look at would be {show_length(math.dist(*new), units)} long; "
            f"drag its ends at least {show_length(LEAST_LINE, units)} apart"
        )
    return new


def side_scene(
    of: Prospect,
    when: Moment,
    *,
    line: Line,
    depth: float,
    title: str = "",
    scale: float | None = None,
    person: bool = True,
    with_pen: bool = False,
) -> Scene:
    """Return what one sees looking square at a line, its first end on the left, ``depth`` metres deep: painted, or
    drawn with the pen.

    Without a ``scale`` it is as large as a page shows.
    """
    project, worked, catalogue = of.garden
    site, year, month = project.site, when.year, when.month
    grown = standing(project, catalogue, year=year, month=month)
    drawn_at = scale or max(LARGEST, 1000 * (math.dist(*line) + 2.0) / WIDE_MM)
    behind = [house for house in site.buildings if stands_behind(house, line)]
    walls = [wall_behind(house, [o for o in site.openings if o.on == house.name], line) for house in behind]

    def paint(bounds: Bounds) -> Picture:
        return side_picture(of, when, line=line, depth=depth, bounds=bounds, scale=drawn_at)

    built = built_seen(project, worked, line, depth=depth, scale=drawn_at) if with_pen else []
    crossed = ground_seen(project, worked, line) if with_pen else []
    return elevation_scene(
        [
            *_trees(site, catalogue, month),
            *drawn([plant for plant in grown if plant.height > 0]),
            *_crops(project, catalogue, year, month),
        ],
        line=line,
        depth=depth,
        walls=walls,
        things=things_in(project.structure.things, year),
        built=[*built, *crossed],
        ground=heights_of(worked.lie),
        paint=None if with_pen else paint,
        least_top=max(PERSON, tallest(built) if with_pen else highest(project, worked, line)),
        units=project.units,
        person=person,
        scale=drawn_at,
        title=title or f"From the side: {MONTHS[month - 1]}, year {year}",
    )


def _crops(project: Project, catalogue: Catalogue, year: int, month: int) -> list[PlantDrawn]:
    """Return crops, and what creeps between stones, named in words: the keys are the plant schedule's."""
    found = [one for one in standing_with_crops(project, catalogue, year=year, month=month) if one.plant.number == 0]
    return [
        attrs.evolve(plant, key=one.species.common)
        for one, plant in zip(found, drawn(found), strict=True)
        if one.height > 0
    ]


def _trees(site: Site, catalogue: Catalogue, month: int) -> list[PlantDrawn]:
    """Return the trees that are there and stay, as they look from the side in a month."""
    season = SKY_SEASONS[northern_month(site, month) % 12 // 3]
    return [attrs.evolve(tree.drawn, key=tree.drawn.name) for tree in grown_trees(site, catalogue, season, month)]
