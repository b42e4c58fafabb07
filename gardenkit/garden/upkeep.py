"""The year's work of a garden: what its plants, what is built and the trees that are kept ask for, and the hours."""

import math
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from gardenkit.planting.species import Species
from gardenkit.schedules import care, crops
from gardenkit.schedules.care_hours import Tended, care_hours
from gardenkit.schedules.work_steps import planting_opens
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import care_of_what_is_built
from gardenkit.structure.kinds.rows import Care

if TYPE_CHECKING:
    from gardenkit.garden import Garden

DRY = Figure(10.0, "mm", f"of watering that a month of mean rain leaves to be done, from which it is dry; {HOUSE}")


def tasks(garden: "Garden") -> tuple[care.Task, ...]:
    """Return the year's work in the garden's months, in the order of its first month."""
    kinds = dict.fromkeys((*garden.kinds, *(garden.catalogue[plant.species] for plant in garden.creeping)))
    return _year(garden, kinds, whole=bool(kinds))


def hours_each(garden: "Garden", kinds: Iterable[Species]) -> dict[str, tuple[float, ...]]:
    """Return about how many hours one grown plant of each kind asks for in each month, by its botanical name."""
    of_kind: dict[str, list[care.Task]] = {}
    for task in _of_plants(garden, kinds):
        if task.is_due(care.GROWN_IN):
            of_kind.setdefault(task.botanical, []).append(task)
    return {name: care_hours(due, {name: 1}, Tended()) for name, due in of_kind.items()}


def hours_besides(garden: "Garden") -> tuple[float, ...]:
    """Return about how many hours each month asks for once the garden has grown in, whatever is planted in its beds."""
    creeping = dict.fromkeys(garden.catalogue[plant.species] for plant in garden.creeping)
    due = [task for task in _year(garden, creeping, whole=True) if task.is_due(care.GROWN_IN)]
    return hours_of(garden, due, {})


def hours(garden: "Garden", season: int) -> tuple[float, ...]:
    """Return about how many hours each month of a season asks for, January first; 0 is the first season."""
    due = [task.within(season) for task in garden.care if task.is_due(season)]
    counts = {species.botanical: n for species, n in garden.kinds.items()}
    return hours_of(garden, due, counts)


def hours_of(garden: "Garden", due: Iterable[care.Task], counts: Mapping[str, int]) -> tuple[float, ...]:
    """Return about how many hours some tasks take in each month, with so many plants of each kind, on its ground."""
    ground = Tended(
        beds=garden.bed_area,
        lawn=garden.lawn_area,
        grass_paths=garden.grass_path_area,
        hedges=garden.hedge_lengths,
    )
    return care_hours(due, counts, ground)


# ---- helpers


def _year(garden: "Garden", kinds: Iterable[Species], *, whole: bool) -> tuple[care.Task, ...]:
    built = care_of_what_is_built(garden.counted.structure, garden.counted.site.fences)
    year = _of_plants(garden, kinds, whole=whole, built=(*built, *care.of_trees(garden.counted.site.trees)))
    sown = crops.crop_tasks(garden.counted, garden.counted_layout, garden.catalogue)
    return tuple(sorted((*year, *sown), key=lambda t: (t.months[0], t.task, t.botanical))) if sown else year


def _dry_months(garden: "Garden") -> list[int]:
    """Return the months, 1 to 12, in which the rain of a mean year leaves the beds thirsty; none while unknown."""
    ground = math.fsum(bed.area for bed in garden.water)
    lacks = [math.fsum(bed.litres[month] for bed in garden.water) for month in range(12)]
    return [month for month, litres in enumerate(lacks, start=1) if litres > DRY * ground]


def _of_plants(
    garden: "Garden",
    kinds: Iterable[Species],
    *,
    whole: bool = False,
    built: Iterable[tuple[Care, tuple[str, ...]]] = (),
) -> tuple[care.Task, ...]:
    return care.care_calendar(
        kinds,
        shift_days=garden.spring_shift,
        south=garden.project.site.place.latitude < 0,
        frost=care.freezes(garden.project.site.climate.zone),
        whole_garden=whole,
        built=built,
        seasons=care.seasons_of(garden.planted),
        opens=planting_opens(garden.project.site.climate),
        dry=_dry_months(garden) if whole else (),
        mulched=True,
    )
