"""Everything the client copy says about a garden, worked out once: drawings, schedules, findings and their sources."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import attrs
import numpy as np

from gardenkit.brief import wants
from gardenkit.brief.pictures import thumbnail_url
from gardenkit.brief.wants import Judged
from gardenkit.drawing import charts
from gardenkit.findings import Finding, GardenError, worst_first
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.planting.bloom import BloomRow, bloom_findings, site_shift, winter_findings
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.keys import plant_keys
from gardenkit.planting.species import NO_INVASIVE_LISTING, NOT_LISTED, Species
from gardenkit.project import Project, advice
from gardenkit.project.layout import Layout, layout
from gardenkit.project.season import catalogue_of, local_months, spring_shift
from gardenkit.project.sunlight import SunMap, sun_map
from gardenkit.schedules import care, cost, irrigation, orders, phases, plants, quantities
from gardenkit.schedules.cost import Costs
from gardenkit.schedules.irrigation import BedWater
from gardenkit.schedules.orders import Order
from gardenkit.schedules.plants import PlantLine
from gardenkit.schedules.quantities import Line
from gardenkit.site.climate import climate_findings
from gardenkit.site.soil import soil_findings
from gardenkit.sources import MEMORY

PICTURE_SIDE = 520  # px: the longer side of a picture in the copy. House value.
PICTURES_FOLDER = "pictures"
CONFIRM = (
    "Plant figures marked \u201cfrom memory\u201d are ours and unchecked: confirm hardiness, size, toxicity and local "
    "listing with a local nursery or extension office before buying."
)
SAFETY = (
    "Nothing here is engineering, medical or legal advice. Where a figure touches safety (posts, steps, walls, water, "
    "electricity, toxic plants), local codes and licensed practice come first."
)


@attrs.frozen(kw_only=True)
class Pinned:
    """A picture from the wall as a data address that needs no network, with its words."""

    address: str
    words: str
    liked: str


@attrs.frozen(eq=False, kw_only=True)
class Contents:
    """One garden as its client copy tells it."""

    project: Project
    worked: Layout
    catalogue: Catalogue
    sun: SunMap | None
    pictures: tuple[Pinned, ...]
    wants: tuple[Judged, ...]
    plants: tuple[PlantLine, ...]
    bloom: tuple[BloomRow, ...]
    lines: tuple[Line, ...]
    orders: tuple[Order, ...]
    costs: Costs
    water: tuple[BedWater, ...]
    care: tuple[care.Task, ...]
    phases: tuple[phases.Phase, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Finding, ...]
    sun_by_bed: Mapping[str, tuple[float, ...]]
    sources: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def kinds(self) -> tuple[Species, ...]:
        """The kinds of plants in the garden, in schedule order."""
        return tuple(line.species for line in self.plants)

    @property
    def from_memory(self) -> bool:
        """Whether any plant figure comes from memory."""
        return any("memory" in source for kind in self.kinds for source in _kind_sources(kind))


def contents(project: Project, folder: Path, *, sun: SunMap | None = None, with_sun: bool = True) -> Contents:
    """Work out everything the client copy holds. ``sun`` saves working the sun map out again; False leaves it out."""
    worked, catalogue = layout(project), catalogue_of(folder)
    hours = (sun or _sun(project)) if with_sun else None
    shift = spring_shift(project.site)
    schedule = _schedule(project, worked, catalogue)
    counted = {line.species: line.count for line in schedule}
    bloom = advice.bloom_rows(project, catalogue)
    lines = quantities.quantities(project, worked, catalogue)
    ordered = orders.orders(lines)
    prices = cost.material_prices(folder / cost.OWN_FILE)
    summary = cost.costs(schedule, ordered, prices=prices, currency=project.brief.currency)
    water = irrigation.bed_water(project, worked, catalogue)
    tasks = care.care_calendar(
        counted, shift_days=shift, south=project.site.place.latitude < 0, whole_garden=bool(schedule)
    )
    judged = Garden(project, folder).wants
    cautions = plants.plant_cautions(schedule)
    steps = phases.garden_phases(project, worked, catalogue)
    found = _findings(project, worked, judged=judged, bloom=bloom, kinds=counted, summary=summary, water=water)
    named = _sources(
        project, (*found, *cautions), lines=lines, schedule=schedule, summary=summary, water=water, steps=steps
    )
    return Contents(
        project=project,
        worked=worked,
        catalogue=catalogue,
        sun=hours,
        pictures=_pictures(project, folder),
        wants=judged,
        plants=schedule,
        bloom=bloom,
        lines=lines,
        orders=ordered,
        costs=summary,
        water=water,
        care=tasks,
        phases=steps,
        findings=found,
        cautions=cautions,
        sun_by_bed=_sun_by_bed(worked, hours),
        sources=named,
    )


def bloom_rows(rows: Iterable[BloomRow], keys: Mapping[str, str]) -> list[charts.BloomRow]:
    """Return the bloom calendar as its chart takes it."""
    return [
        charts.BloomRow(name=row.botanical, months=row.months, colours=row.colours, key=keys.get(row.botanical, ""))
        for row in rows
    ]


def keys_of(project: Project, catalogue: Catalogue) -> dict[str, str]:
    """Return the plan key of every kind in the garden by its botanical name: the same as on the plan."""
    return plant_keys(catalogue[p.species].botanical for p in project.planting.plants)


# ---- helpers


def _sun(project: Project) -> SunMap | None:
    try:
        return sun_map(project)
    except GardenError:
        return None


def _schedule(project: Project, worked: Layout, catalogue: Catalogue) -> tuple[PlantLine, ...]:
    beds = {p.number: bed.name for p in project.planting.plants if (bed := worked.bed_at(p.at)) is not None}
    return plants.plant_schedule(
        project.planting.plants, catalogue, keys_of(project, catalogue), beds=beds, prices=project.planting.prices
    )


def _pictures(project: Project, folder: Path) -> tuple[Pinned, ...]:
    """Return the pictures that can be read; a name that leaves the pictures folder is passed over."""
    found = []
    for picture in project.brief.pictures:
        path = folder / PICTURES_FOLDER / Path(picture.file).name
        try:
            address = thumbnail_url(path, side=PICTURE_SIDE)
        except (GardenError, OSError):
            continue
        words = picture.caption or picture.file
        found.append(Pinned(address=address, words=words, liked=picture.liked))
    return tuple(found)


def _findings(
    project: Project,
    worked: Layout,
    *,
    judged: Sequence[Judged],
    bloom: Sequence[BloomRow],
    kinds: Mapping[Species, int],
    summary: Costs,
    water: Sequence[BedWater],
) -> tuple[Finding, ...]:
    site = project.site
    found = [
        Finding(where="structure", what=problem, seriousness="stop", topic="structure") for problem in worked.problems
    ]
    found += [*worked.findings, *soil_findings(site.soil), *climate_findings(site.climate), *wants.findings(judged)]
    if kinds:
        shift = site_shift(
            site.climate, latitude=site.place.latitude, longitude=site.place.longitude, elevation=site.place.elevation
        )
        found += [*bloom_findings(bloom, wanted=local_months(site, range(3, 11)), shift=shift), *winter_findings(kinds)]
        eto = irrigation.reference(site.climate, latitude=site.place.latitude, elevation=site.place.elevation)
        found += irrigation.water_findings(water, eto)
    found += quantities.quantity_findings(project)
    found += cost.cost_findings(summary, project.brief.budget)
    return worst_first(dict.fromkeys(found))


def _sun_by_bed(worked: Layout, sun: SunMap | None) -> dict[str, tuple[float, ...]]:
    """Return the mean hours of direct sun of every bed by month."""
    if sun is None:
        return {}
    found = {}
    for bed in worked.beds:
        inside = plane.inside(bed.region, sun.grid.points)
        if inside.any():
            hours = np.asarray(sun.hours).reshape(12, -1)[:, inside].mean(axis=1)
            found[bed.name] = tuple(float(h) for h in hours)
    return found


def _kind_sources(kind: Species) -> tuple[str, ...]:
    return kind.size_source, kind.growing_source, kind.season_source, kind.caution_source


def _sources(
    project: Project,
    found: Iterable[Finding],
    *,
    lines: Iterable[Line],
    schedule: Sequence[PlantLine],
    summary: Costs,
    water: Sequence[BedWater],
    steps: Iterable[phases.Phase],
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return every source named in the copy, grouped by what it stands behind."""
    climate = project.site.climate
    groups: dict[str, list[str]] = {
        "The place": [climate.zone_source, climate.frost_source, climate.weather_source, project.site.soil.source],
        "Plants": [source for line in schedule for source in _kind_sources(line.species)],
        "Materials": [line.source for line in lines],
        "Prices": [line.source for line in summary.lines],
        "Water": [irrigation.KOURIK, irrigation.FLOWS, irrigation.ROWS, irrigation.COOPERATIVE] if water else [],
        "Care and order of work": [*(step.source for step in steps), care.WHOLE_GARDEN_SOURCE, care.NURSERY]
        if schedule
        else [],
        "Advice": [finding.source for finding in found],
    }
    return tuple((name, kept) for name, named in groups.items() if (kept := _distinct(named)))


def _distinct(named: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted({source.strip() for source in named if source.strip()}, key=str.casefold))


NOTICES = (NOT_LISTED, NO_INVASIVE_LISTING, MEMORY)
