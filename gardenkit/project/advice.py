"""What the planting is told by the rules: crowding, setbacks, layers, balance, bloom, diversity, all findings in one
place.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.findings import Finding, worst_first
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.balance import REACH, balance_findings, whole_findings
from gardenkit.planting.bloom import BloomRow, bloom_calendar, bloom_findings, winter_findings
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.colour import harmony_findings
from gardenkit.planting.crowding import SUN_YEARS, SunHours, crowding_findings
from gardenkit.planting.diversity import diversity_findings
from gardenkit.planting.layering import group_findings, layering_findings
from gardenkit.planting.setbacks import Around, Glass, setback_findings
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Planted, near_line, positions, standing
from gardenkit.planting.suitability import Spot
from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout
from gardenkit.project.season import local_halves, local_months, spring_shift
from gardenkit.project.sunlight import GroundMap, Rough, judged_map, sun_map
from gardenkit.project.within import refusing
from gardenkit.site.place import Place
from gardenkit.site.site import Site
from gardenkit.structure.supports import match

GROWING = slice(3, 9)  # April to September: the months whose sun a plant lives on. House value; turned in the south.
JUDGED_YEAR = 10  # year of growth at which layers and balance are judged. House value.


def planted(project: Project, catalogue: Catalogue) -> tuple[Planted, ...]:
    """Return every plant with its kind. Raises GardenError for a plant the catalogue does not know."""
    called = {name: catalogue[name] for name in dict.fromkeys(plant.species for plant in project.planting.plants)}
    return tuple((plant, called[plant.species]) for plant in project.planting.plants)


def planting_findings(project: Project, catalogue: Catalogue) -> tuple[Finding, ...]:
    """Return everything the rules say about the planting, the most serious first; remembered while nothing changes."""
    return _findings(project, catalogue)


@lru_cache(maxsize=8)
def _findings(project: Project, catalogue: Catalogue) -> tuple[Finding, ...]:
    plants = planted(project, catalogue)
    if not plants:
        return ()
    worked = layout(project)
    paths = tuple((name, route.region) for name, route in worked.routes.items())
    windows = glass(project.site)
    free = [pair for pair in plants if not pair[0].support]
    found = [
        *setback_findings(free, around(project, worked)),
        *crowding_findings(
            plants,
            paths=paths,
            windows=windows,
            hours=judged_hours(project, catalogue),
            light_by=project.planting.light_by,
        ),
    ]
    grown = standing(plants, JUDGED_YEAR)
    at = positions(grown)
    for name, route in worked.routes.items():
        way = tuple((float(x), float(y)) for x, y in route.curve.points[::10])
        near = [grown[k] for k in near_line(at, way, float(REACH))]
        found += layering_findings(near, way, path=name)
        found += balance_findings(near, way, path=name)
    found += [*group_findings(grown), *whole_findings(grown)]
    rows = bloom_rows(project, catalogue)
    found += [
        *bloom_findings(rows, wanted=local_months(project.site, range(3, 11))),
        *harmony_findings(rows),
        *winter_findings(kinds(plants)),
    ]
    found += diversity_findings([species for _, species in plants])
    return worst_first(dict.fromkeys(found))


def climber_findings(project: Project, plants: Iterable[Planted]) -> tuple[Finding, ...]:
    """Return how each climber suits the support it grows on, once for a kind and a support."""
    supports = {support.name: support for support in project.structure.supports}
    masonry = {building.name for building in project.site.buildings}
    found: list[Finding] = []
    for plant, species in plants:
        support = supports.get(plant.support)
        if support is not None and species.climbs_by:
            surface = "masonry" if support.against in masonry else ""
            said = match(species.climbs_by, species.weight, support, surface=surface)
            found += [attrs.evolve(one, where=f"{support.name}, {species.botanical}") for one in said]
    return tuple(dict.fromkeys(found))


def plant_spots(project: Project, catalogue: Catalogue) -> tuple[tuple[Planted, Spot], ...]:
    """Return every plant with what decides about its place: sun as the garden stands, winter, what is refused."""
    plants = planted(project, catalogue)
    hours = judged_hours(project, catalogue)
    found = (
        hours(0, [plant.at for plant, _ in plants]).tolist() if hours is not None and plants else [None] * len(plants)
    )
    zone, refused = project.site.climate.zone, refusing(project, layout(project))
    return tuple(
        (one, Spot(sun_hours_now=sun, zone=zone, refuses=refused(one[0].at), light_by=project.planting.light_by))
        for one, sun in zip(plants, found, strict=True)
    )


def sun_hours(project: Project, catalogue: Catalogue) -> SunHours | None:
    """Return the hours of direct sun of the growing season at places in a year; None without a boundary or a place.

    Year 0 is the garden as it stands: what is planted then throws next to no shade yet.
    """
    return _hours_by(sun_map, project, catalogue)


def judged_hours(project: Project, catalogue: Catalogue) -> SunHours | None:
    """Return the same by what places are judged by for plants: hours of sun, or what their daily light is worth; years
    that only say about when a plant loses its sun are read more roughly.
    """
    return _hours_by(judged_map, project, catalogue, between="very")


def _hours_by(
    mapped: Callable[..., GroundMap], project: Project, catalogue: Catalogue, *, between: Rough = True
) -> SunHours | None:
    if not project.site.boundary or project.site.place == Place():
        return None

    months = growing_months(project.site)

    def hours(year: float, places: Sequence[Point] | FloatArray) -> FloatArray:
        rough = between if year in SUN_YEARS[1:-1] else True
        found = mapped(project, catalogue, year=int(year) or None, rough=rough, months=months)
        return np.asarray(found.over(np.asarray(places, dtype=float))[[month - 1 for month in months]].mean(axis=0))

    return hours


def kinds(plants: Iterable[Planted]) -> dict[Species, int]:
    """Return how many plants there are of each kind, in the order they were planted."""
    counted: dict[Species, int] = {}
    for _, species in plants:
        counted[species] = counted.get(species, 0) + 1
    return counted


def bloom_rows(project: Project, catalogue: Catalogue) -> tuple[BloomRow, ...]:
    """Return the bloom calendar's rows, shifted from the reference zone to this garden's spring."""
    rows = bloom_calendar(kinds(planted(project, catalogue)), shift_days=spring_shift(project.site))
    return tuple(attrs.evolve(row, halves=local_halves(project.site, row.halves)) for row in rows)


def glass(site: Site) -> tuple[Glass, ...]:
    """Return the windows as the planting rules take them."""
    return tuple(
        Glass(name=o.name, line=(o.start, o.end), sill=o.sill, head=o.head) for o in site.openings if o.kind == "window"
    )


def around(project: Project, worked: Layout) -> Around:
    """Return what plants keep their distance from."""
    return Around(
        walls=tuple((b.name, plane.region(b.outline)) for b in project.site.buildings),
        windows=glass(project.site),
        paths=tuple((name, route.region) for name, route in worked.routes.items()),
        keep_clear=tuple((o.name, plane.region(o.outline), o.clearance) for o in project.site.obstacles if o.clearance),
    )


def spot_at(project: Project, at: Point, *, now: GroundMap | None = None, later: GroundMap | None = None) -> Spot:
    """Return what is known of a place to plant: sun now and in year ten (maps by which places are judged,
    ``sunlight.judged_map``), winter, soil, the bed's depth, what is refused.
    """
    soil, worked = project.site.soil, layout(project)
    bed = worked.bed_at(at)
    return Spot(
        sun_hours_now=growing_sun(now.at(at), project.site) if now else None,
        sun_hours_year10=growing_sun(later.at(at), project.site) if later else None,
        zone=project.site.climate.zone,
        moisture=None,
        ph=soil.ph,
        bed_depth=bed.depth if bed else None,
        refuses=refusing(project, worked)(at),
        colours=project.brief.style.colours,
        light_by=project.planting.light_by,
    )


def growing_sun(hours: FloatArray, site: Site) -> float:
    """Return the mean hours of direct sun of the growing season from twelve monthly ones."""
    return float(hours[[month - 1 for month in growing_months(site)]].mean())


def growing_months(site: Site) -> tuple[int, ...]:
    """Return the months (1 to 12) whose sun a plant lives on: the northern ones, or in the south the other six."""
    north = tuple(range(1, 13)[GROWING])
    return north if site.place.latitude >= 0 else tuple(month for month in range(1, 13) if month not in north)
