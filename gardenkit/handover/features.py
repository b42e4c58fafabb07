"""Everything a plan holds as plain shapes with a layer and a name, for whoever takes the plan into another program."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Literal

import attrs

from gardenkit.drawing.plan_levels import INTERVALS, new_contours, signed
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.site.notes import ENCLOSES
from gardenkit.site.standing import standing_fences
from gardenkit.site.tree_protection import root_protection_radius
from gardenkit.structure.flights import riser_ends
from gardenkit.structure.kinds import standing_supports
from gardenkit.structure.things import outline_of

Shape = Literal["area", "line", "point"]
Fact = str | int | float
HALF = 0.5  # of what reaches over the limit of an area
SLACK = 0.002  # m by which an outline may be straightened, so that none has a spike. House value.
THINNEST = 0.001  # m: thinner ground is a spike that crosses itself when it is rounded. House value.


@attrs.frozen(kw_only=True)
class Feature:
    """One thing of the plan in plan metres.

    An area has its parts, each an outer ring and its holes, not closed; a line one ring of its points; a point one of
    one, and a ``radius`` where it is a circle. Of a plan of one area of the property ``rest`` is what lies outside.
    """

    layer: str
    name: str
    shape: Shape
    parts: tuple[tuple[tuple[Point, ...], ...], ...]
    radius: float = 0.0
    rest: bool = False
    facts: Mapping[str, Fact] = attrs.field(factory=dict)

    @property
    def at(self) -> Point:
        """Where a point lies, and where a name is written."""
        if self.shape == "area":
            return plane.centre(plane.region(self.parts[0][0], self.parts[0][1:]))
        line = self.parts[0][0]
        return line[len(line) // 2]


def features(garden: Garden) -> tuple[Feature, ...]:
    """Return everything that the plan of a garden holds. Raises GardenError without a boundary."""
    if not garden.project.site.boundary:
        raise GardenError("the plan for other programs needs the boundary; draw or measure it first")
    made = (*_site(garden), *_structure(garden), *_levels(garden), *_written(garden), *_plants(garden))
    if not garden.area:
        return (*made, *_measured_from(garden))
    told = (attrs.evolve(one, rest=not _lies_in(garden, one)) for one in made)
    limit = _area("AREA-LIMIT", garden.area, garden.area_ground)
    return (*told, *_measured_from(garden), *limit)


def _lies_in(garden: Garden, feature: Feature) -> bool:
    """Return whether more than half of a feature lies in the area that is counted; the boundary always does."""
    if feature.layer == "BOUNDARY":
        return True
    if feature.shape == "point":
        return garden.in_area(feature.at)
    if feature.shape == "line":
        line = feature.parts[0][0]
        held = plane.lines_within(plane.line(line), garden.area_ground)
        return sum(_long(one) for one in held) > HALF * _long(line)
    regions = [plane.region(part[0], part[1:]) for part in feature.parts]
    inside = sum(plane.area(plane.intersection(one, garden.area_ground)) for one in regions)
    return inside > HALF * sum(plane.area(one) for one in regions)


def _long(line: Sequence[Point]) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(line))


def _site(garden: Garden) -> Iterator[Feature]:
    site = garden.project.site
    yield _ring("BOUNDARY", "boundary", site.boundary)
    for building in site.buildings:
        yield _ring("BUILDING", building.name, building.outline, eaves_m=building.eaves)
    for opening in site.openings:
        yield _line("OPENING", opening.name, (opening.start, opening.end), kind=opening.kind)
    for fence in standing_fences(site):
        yield _line("FENCE", fence.name, fence.line, height_m=fence.height)
    for thing in site.obstacles:
        yield _ring("OBSTACLE", thing.name, thing.outline, keep_clear_m=thing.clearance)
    for tree in site.trees:
        layer = "TREE-EXISTING" if tree.keep else "TREE-REMOVE"
        yield _point(
            layer,
            tree.name,
            tree.at,
            radius=tree.spread / 2,
            species=tree.species,
            stem_diameter_m=tree.trunk_diameter,
            height_m=tree.height,
        )
        if tree.keep:
            far = root_protection_radius(tree.trunk_diameter, site.root_rule)
            yield _point("ROOT-PROTECTION", tree.name, tree.at, radius=far, radius_m=round(far, 3))


def _structure(garden: Garden) -> Iterator[Feature]:
    structure, worked = garden.project.structure, garden.layout
    for path in structure.paths:
        if path.name in worked.routes:
            yield from _area("PATH", path.name, worked.surfaces[path.name], surface=path.surface, width_m=path.width)
            yield from _flights(garden, path.name)
            for stone in worked.layings[path.name].stones:
                yield _ring("STONE", f"{path.name}, stone {stone.number + 1}", stone.outline)
    for ground_area in structure.ground_areas:
        yield from _area("AREA", ground_area.name, worked.ground_areas[ground_area.name], kind=ground_area.kind)
    for bed in worked.beds:
        yield from _area("BED", bed.name, bed.region)
    for support in standing_supports(structure.supports, garden.project.site.openings):
        yield _line("SUPPORT", support.name, support.line, kind=support.kind, height_m=support.height)
    for seat in structure.seats:
        yield _point("SEAT", seat.name, seat.at, width_m=seat.width, facing_degrees_from_plan_y=seat.facing)
    for thing in structure.things:
        facts = {"width_m": thing.width, "depth_m": thing.depth, "height_m": thing.height}
        yield _ring("THING", thing.name, outline_of(thing), kind=thing.kind, **facts)


def _levels(garden: Garden) -> Iterator[Feature]:
    """Yield spot levels and level areas, retaining walls, and contours of the ground as it will be."""
    areas = {ground_area.name: ground_area.outline for ground_area in garden.project.structure.ground_areas}
    for cable in garden.project.structure.cables:
        yield _line("CABLE", cable.name, cable.line)
    for level in garden.project.structure.levels:
        facts = {"height_m": level.height, "fall_percent": level.fall, "falls_to_degrees_from_plan_y": level.falls_to}
        outline = areas.get(level.of, level.outline)
        yield (
            _ring("LEVEL", level.name, outline, **facts) if outline else _point("LEVEL", level.name, level.at, **facts)
        )
    for wall in garden.earth.walls if garden.earth is not None else ():
        yield _line("RETAINING-WALL", f"wall of {wall.name}", wall.line, highest_m=round(wall.highest, 3))
    for height, line in new_contours(garden.layout, INTERVALS[garden.units]):
        yield _line("CONTOUR", signed(height, garden.units), line, height_m=round(height, 3))


def _written(garden: Garden) -> Iterator[Feature]:
    """Yield what is written on the plan, each sort on its own layer."""
    for note in garden.project.site.notes:
        words, layer = note.text or note.name, note.kind.upper()
        if note.kind in ENCLOSES:
            yield _ring(layer, words, note.line)
        elif len(note.line) > 1:
            yield _line(layer, words, note.line)
        else:
            yield _point(layer, words, note.line[0])


def _flights(garden: Garden, name: str) -> Iterator[Feature]:
    route = garden.layout.routes[name]
    for flight in garden.layout.flights.get(name, ()):
        for number, ends in enumerate(riser_ends(flight, route), 1):
            yield _line("STEP", f"{name}, flight {flight.number} riser {number}", ends)


def _plants(garden: Garden) -> Iterator[Feature]:
    for plant in garden.project.planting.plants:
        species = garden.catalogue[plant.species]
        layer = f"PLANT-{species.layer.upper().replace(' ', '-')}"
        yield _point(
            layer,
            species.botanical,
            plant.at,
            radius=species.spacing_m / 2,
            number=plant.number,
            key=garden.keys[species.botanical],
            common=species.common,
        )


def _measured_from(garden: Garden) -> Iterator[Feature]:
    found = garden.setting_out
    yield _line("SETTING-OUT", "baseline", (found.start, found.end))
    for fixed in found.fixed:
        yield _point("SETTING-OUT", fixed.letter, fixed.at, words=fixed.words)
    for mark in found.marks:
        yield _point("SETTING-OUT", str(mark.number), mark.at, kind=mark.kind, words=mark.what)


def _area(layer: str, name: str, region: Region, **facts: Fact) -> Iterator[Feature]:
    clean = plane.simplified(plane.without_slivers(region, THINNEST), SLACK)
    parts = tuple(tuple(tuple(ring) for ring in plane.rings(part)) for part in plane.pieces(clean))
    if parts:
        yield Feature(layer=layer, name=name, shape="area", parts=parts, facts=facts)


def _ring(layer: str, name: str, outline: Sequence[Point], **facts: Fact) -> Feature:
    return Feature(layer=layer, name=name, shape="area", parts=((tuple(outline),),), facts=facts)


def _line(layer: str, name: str, points: Sequence[Point], **facts: Fact) -> Feature:
    return Feature(layer=layer, name=name, shape="line", parts=((tuple(points),),), facts=facts)


def _point(layer: str, name: str, at: Point, *, radius: float = 0.0, **facts: Fact) -> Feature:
    return Feature(layer=layer, name=name, shape="point", parts=(((at,),),), radius=radius, facts=facts)
