"""What the rules say about paved or lawn areas and what stands near lines, drains and power."""

from collections.abc import Iterable, Mapping

import attrs
import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.standing import Planted
from gardenkit.project.permits import permit_findings
from gardenkit.site.grading import ground_findings
from gardenkit.site.levels import Surface
from gardenkit.site.site import Obstacle, Site
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.clearances import line_findings, septic_findings
from gardenkit.structure.kinds import cautions_of_what_is_built, ground_kind, under_frame
from gardenkit.structure.patio import patio_findings
from gardenkit.structure.pond import FISH_DEPTH, pond, pond_findings
from gardenkit.structure.safety import power_line_findings
from gardenkit.structure.structure import Structure, Support
from gardenkit.units import System

DRAIN = ("septic", "drain field", "leach field")
LINE = ("power line", "overhead line")
LOOSE = 0.6  # m a drawn bed may reach past the boundary unsaid, as it does into the path beside it. House value.
OVER = Figure(0.02, "m", f"a frame overhead that reaches less past a line only touches it; {HOUSE}")
MOVE_IN = "move it that far in, or make it smaller"
PEOPLE = 2  # a place to sit is judged for at least: the records do not say for how many it is meant. House value.


def area_findings(
    site: Site, structure: Structure, areas: Mapping[str, Region], ground: Surface | None, *, units: System
) -> tuple[Finding, ...]:
    """Return what is to be said about areas: too small to sit on, and how each falls where heights were taken."""
    found: list[Finding] = []
    for ground_area in structure.ground_areas:
        region, kind = areas[ground_area.name], ground_kind(ground_area.kind)
        if plane.area(region) < plane.SLIVER:
            continue
        where, at = f'{kind.name} "{ground_area.name}"', plane.centre(region)
        if kind.sat_on:
            across = 2 * plane.inscribed_circle(region)[1]
            said = patio_findings(where, area=plane.area(region), width=across, people=PEOPLE)
            found += [attrs.evolve(f, at=at) for f in said]
        if kind.water:
            deep = float(kind.deep or 0.0)
            made = pond(region, depth=ground_area.depth or deep, lift=ground_area.lift, units=units)
            found += pond_findings(where, made, at, fish=deep >= FISH_DEPTH)
        if ground is not None and kind.falls:
            found += ground_findings(ground, region, name=where, use=kind.falls, house=_nearest_house(site, at))
    return tuple(found)


def standing_findings(site: Site, structure: Structure, units: System) -> tuple[Finding, ...]:
    """Return what is to be said about edges, about all that is built, permits, and power lines."""
    found = [*edge_findings(site, structure), *frame_findings(site, structure.supports, units)]
    found += [*built_cautions(structure), *permit_findings(site, structure)]
    return (*found, *power_findings(site, structure.supports))


def built_cautions(structure: Structure) -> tuple[Finding, ...]:
    """Return the cautions that come with the kinds of what is built, each once, naming all it is about."""
    return tuple(
        Finding(where=", ".join(names), what=said.what, source=said.source, seriousness="caution", topic="building")
        for said, names in cautions_of_what_is_built(structure)
    )


def edge_findings(site: Site, structure: Structure) -> tuple[Finding, ...]:
    """Return which drawn beds and areas reach past the boundary: they are drawn, counted and planted only up to it."""
    if not site.boundary:
        return ()
    plot, found = plane.region(site.boundary), []
    drawn = [*((f'bed "{b.name}"', b.outline) for b in structure.beds if b.outline)]
    drawn += [(f'{p.kind} "{p.name}"', p.outline) for p in structure.ground_areas]
    for where, outline in drawn:
        far, at = max(zip(plane.point_distances(np.asarray(outline, dtype=float), plot).tolist(), outline, strict=True))
        if far > LOOSE:
            what = f"reaches {far:.2f} m past the boundary; it is drawn, counted and planted only up to it"
            found.append(Finding(where=where, what=what, source=PLAIN, seriousness="warning", at=at, topic="bed"))
    return tuple(found)


def frame_findings(site: Site, supports: Iterable[Support], units: System) -> tuple[Finding, ...]:
    """Return which frames overhead have beams and rafters that end past the boundary or inside a building's walls."""
    found: list[Finding] = []
    for support in supports:
        try:
            under = under_frame(support, units)
        except GardenError:  # a line without length is said where its parts are counted
            continue
        if under.is_empty:
            continue
        if site.boundary:
            ends = np.asarray(plane.corners(under), dtype=float)
            far = float(plane.point_distances(ends, plane.region(site.boundary)).max())
            found += _reaching(support, far, f"past the boundary; {MOVE_IN}; {LOCAL_CODE}", "warning")
        for one in site.buildings:
            inside = plane.intersection(under, plane.region(one.outline))
            if support.height < one.eaves and plane.area(inside) > plane.SLIVER:
                deep = 2 * plane.inscribed_circle(inside)[1]
                found += _reaching(support, deep, f"into {one.name}; move it out, or ask a builder", "caution")
    return tuple(found)


def power_findings(site: Site, supports: Iterable[Support]) -> tuple[Finding, ...]:
    """Return a stop for every support that would be built nearer to a power line than people may work."""
    lines = _named(site.obstacles, LINE)
    return tuple(
        attrs.evolve(f, at=support.line[0])
        for support in supports
        for line in lines
        for f in power_line_findings(support.name, _far(line, plane.line(support.line)))
    )


def tree_findings(site: Site, planted: Iterable[Planted]) -> tuple[Finding, ...]:
    """Return which planted trees will stand too near to overhead lines or a septic drain field when grown."""
    lines, drains = _named(site.obstacles, LINE), _named(site.obstacles, DRAIN)
    found: list[Finding] = []
    for plant, species in planted:
        if not species.is_tree:
            continue
        where, spot = f"{species.botanical}, plant {plant.number}", plane.point(plant.at)
        said = [f for o in lines for f in line_findings(where, height=species.height, distance=_far(o, spot))]
        for drain in drains:
            said += septic_findings(where, mature_height=species.height, distance=_far(drain, spot))
        found += [attrs.evolve(f, at=plant.at) for f in said]
    return tuple(found)


# ---- helpers


def _reaching(support: Support, far: float, where: str, serious: Seriousness) -> Iterable[Finding]:
    if far > OVER:
        what = f"the ends of its beams and rafters reach {far:.2f} m {where}"
        at = plane.centre(plane.line(support.line))
        yield Finding(where=support.name, what=what, source=OVER.source, seriousness=serious, at=at, topic="supports")


def _named(obstacles: Iterable[Obstacle], words: tuple[str, ...]) -> tuple[Obstacle, ...]:
    return tuple(o for o in obstacles if any(word in o.name.casefold() for word in words))


def _far(obstacle: Obstacle, shape: plane.Shape) -> float:
    return plane.distance(plane.region(obstacle.outline), shape)


def _nearest_house(site: Site, at: Point) -> Point | None:
    """Return the point of a building nearest to a place; None without buildings."""
    spots = [plane.nearest_on(plane.region(b.outline), at) for b in site.buildings]
    return min(spots, key=lambda p: (p[0] - at[0]) ** 2 + (p[1] - at[1]) ** 2, default=None)
