"""Crops, and what creeps between stones, as they stand in one month of one year, for views."""

import datetime as dt

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.crops import put_in
from gardenkit.planting.growth import size
from gardenkit.planting.planting import Plant
from gardenkit.planting.season import appearance
from gardenkit.project import Project
from gardenkit.project.crops import CropRows, crop_rows
from gardenkit.project.joints import joint_plants, joint_rooms
from gardenkit.project.layout import layout
from gardenkit.project.season import Standing, northern_month, spring_shift, standing

SEEN_APART = 0.18  # m: what stands closer in its row is seen as one green. House value.
GROWN_UP = 1  # years after which a crop has its size


def standing_with_crops(project: Project, catalogue: Catalogue, *, year: int, month: int) -> tuple[Standing, ...]:
    """Return every plant as it stands in ``month`` of ``year``, what creeps between stones and every crop plant too;
    those have no number of their own.

    Raises GardenError for a plant the catalogue does not know.
    """
    plants = (*standing(project, catalogue, year=year, month=month), *_creeping(project, catalogue, year, month))
    if not project.planting.crops:
        return plants
    rows = crop_rows(project, layout(project), year)
    return (*plants, *(one for row in rows for one in _of_a_crop(project, catalogue, row, month)))


def _creeping(project: Project, catalogue: Catalogue, year: int, month: int) -> tuple[Standing, ...]:
    """Return what creeps between the stones of paths, as large as it is that year and kept off the stones."""
    if not any(path.creeping for path in project.structure.paths):
        return ()
    shift, looked = spring_shift(project.site), northern_month(project.site, month)
    worked, found = layout(project), list[Standing]()
    for one, room in zip(plants := joint_plants(project, worked, catalogue), joint_rooms(worked, plants), strict=True):
        species = catalogue[one.species]
        grown = size(species, year)
        trimmed = attrs.evolve(grown, spread=min(grown.spread, 2 * room))
        found.append(Standing(plant=one, species=species, size=trimmed, look=appearance(species, looked, shift)))
    return tuple(found)


def _of_a_crop(project: Project, catalogue: Catalogue, row: CropRows, month: int) -> tuple[Standing, ...]:
    if month not in months_standing(project, row):
        return ()
    species, site = catalogue[row.crop.species], project.site
    look = appearance(species, northern_month(site, month), spring_shift(site))
    every = max(1, round(SEEN_APART / row.apart))
    return tuple(
        Standing(
            plant=Plant(number=0, species=species.botanical, at=at),
            species=species,
            size=size(species, GROWN_UP),
            look=look,
        )
        for at in row.plants[::every]
    )


def months_standing(project: Project, row: CropRows) -> tuple[int, ...]:
    """Return the months of this garden's year in which a crop is to be seen."""
    climate, kind = project.site.climate, row.kind
    if kind.stays:
        return tuple(range(1, 13))
    first, _ = put_in(
        kind,
        last=climate.last_frost or "",
        first=climate.first_frost or "",
        year=project.planting.first_year,
        shift=spring_shift(project.site),
        south=project.site.place.latitude < 0,
    )
    last = first + dt.timedelta(weeks=kind.last - kind.first, days=kind.days[1])
    span = (last.year - first.year) * 12 + last.month - first.month
    return tuple((first.month - 1 + k) % 12 + 1 for k in range(min(span, 11) + 1))
