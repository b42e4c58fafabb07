"""Crops given to beds, changed, taken off, and moved on from bed to bed over the years."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.planting.crops import crop_kind, rotated
from gardenkit.planting.planting import Crop
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name
from gardenkit.project.layout import layout
from gardenkit.structure.kinds import purpose_of


def add_crop(project: Project, species: str, bed: str, *, year: int = 0, share: float | None = None) -> Project:
    """Return the project with a crop (botanical name) on a bed in a year of the rotation, on what its other crops of
    that year leave of it, or a ``share`` of its own. The last crop is the new one. Raises GardenError.
    """
    _place(project, bed)
    crop_kind(species)
    taken = sum(crop.share for crop in project.planting.crops if (crop.bed, crop.year) == (bed, year))
    if share is None and taken >= 0.99:
        raise GardenError(
            f'bed "{bed}" is full in year {year + 1}; give its crops smaller shares first, or choose another'
        )
    one = Crop(species=species, bed=bed, year=year, share=round(1 - taken, 4) if share is None else share)
    return _with(project, (*project.planting.crops, one))


def change_crop(project: Project, number: int, **changes: Any) -> Project:
    """Return the project with fields of a crop changed; ``number`` counts from 0. Raises GardenError."""
    new = attrs.evolve(_crop(project, number), **changes)
    crop_kind(new.species)
    _place(project, new.bed)
    return _with(project, tuple(new if n == number else one for n, one in enumerate(project.planting.crops)))


def remove_crop(project: Project, number: int) -> Project:
    """Return the project without a crop."""
    _crop(project, number)
    return _with(project, tuple(one for n, one in enumerate(project.planting.crops) if n != number))


def rotate_crops(project: Project) -> Project:
    """Return the project with the crops of the first year moved on to the next bed of their set every year after it,
    until they are back; later years that were planned give way. Raises GardenError for fewer than two beds.
    """
    return _with(project, rotated(project.planting.crops))


# ---- helpers


def _with(project: Project, crops: tuple[Crop, ...]) -> Project:
    return attrs.evolve(project, planting=attrs.evolve(project.planting, crops=crops))


def _crop(project: Project, number: int) -> Crop:
    crops = project.planting.crops
    if not 0 <= number < len(crops):
        raise GardenError(f"there is no crop number {number + 1}; there are {len(crops)}")
    return crops[number]


def _place(project: Project, name: str) -> None:
    """Raise GardenError for a bed that is not there, or not for crops."""
    bed = by_name(layout(project).beds, name, "bed")
    if not purpose_of(bed.purpose).crops:
        raise GardenError(
            f'bed "{name}" is for {bed.purpose or "looking at"}; say in the step of the beds that it is for '
            "vegetables, then plan its crops"
        )
