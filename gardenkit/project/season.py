"""The plants as they stand in one month of one year: how big, what colour, in flower or bare."""

import re
from calendar import month_abbr, month_name, monthrange
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

import attrs

from gardenkit.planting import standing as standing_in_year
from gardenkit.planting.bloom import Shift, site_shift
from gardenkit.planting.catalogue import Catalogue, load_catalogue
from gardenkit.planting.growth import Size, size
from gardenkit.planting.season import Appearance, appearance
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.site.climate import Climate
from gardenkit.site.place import Place
from gardenkit.site.site import Site

_MONTH_WORD = re.compile(r"\b(" + "|".join([*month_name[1:], *month_abbr[1:]]) + r")\b")
EARLY_SUMMER = 6  # June of the northern year: most is in leaf and much in flower. House value.


@attrs.frozen(kw_only=True)
class Standing(standing_in_year.Standing):
    """One plant as it stands in one month: as big as it is in that year, with the look of that month."""

    look: Appearance

    @property
    def height(self) -> float:
        """Height in metres in that month; herbs that die back have 0 in winter."""
        return self.size.height * self.look.height_factor

    @property
    def is_seen(self) -> bool:
        """Whether anything of it is above ground."""
        return self.height > 0 and (
            self.look.foliage is not None or self.species.layer in ("tree", "conifer", "shrub", "climber", "wall fruit")
        )


def catalogue_of(folder: Path) -> Catalogue:
    """Return the plant catalogue with the garden's own plants laid over it when its folder has any."""
    own = folder / "plants.csv"
    return load_catalogue(own=own if own.exists() else None)


def standing(project: Project, catalogue: Catalogue, *, year: int, month: int) -> tuple[Standing, ...]:
    """Return every plant that is planted by ``year`` (0 is the first planting season) as it stands in ``month``.

    Raises GardenError for a plant the catalogue does not know.
    """
    shift, month = spring_shift(project.site), northern_month(project.site, month)
    called = {name: catalogue[name] for name in dict.fromkeys(plant.species for plant in project.planting.plants)}
    return tuple(
        Standing(
            plant=plant, species=species, size=_size(species, year - plant.year), look=appearance(species, month, shift)
        )
        for plant in project.planting.plants
        if standing_in_year.stands(plant, species := called[plant.species], year)
    )


def northern_month(site: Site, month: int) -> int:
    """Return the month of the catalogue's year that looks like ``month`` here: the same one, or half a year on in the
    south.
    """
    return month if site.place.latitude >= 0 else (month + 5) % 12 + 1


def early_summer(site: Site) -> int:
    """Return the month a garden is first shown in: its own early summer, June in the north and December in the south.

    >>> from gardenkit.site.place import Place
    >>> early_summer(Site(place=Place(latitude=-41.2)))
    12
    """
    return northern_month(site, EARLY_SUMMER)


def local_months(site: Site, months: Iterable[int]) -> tuple[int, ...]:
    """Return months of the catalogue's (northern) year as months of this garden's year."""
    return tuple(northern_month(site, month) for month in months)  # six months either way is the same turn


def local_halves(site: Site, halves: Iterable[int]) -> tuple[int, ...]:
    """Return half months (1 to 24) of the catalogue's (northern) year as those of this garden's year."""
    return tuple(2 * northern_month(site, (half + 1) // 2) - half % 2 for half in halves)


def local_month_words(site: Site, text: str) -> str:
    """Return a text about the catalogue's (northern) year with its month names turned to this garden's year."""
    if site.place.latitude >= 0:
        return text
    return _MONTH_WORD.sub(lambda found: _turned_month(found[0]), text)


def _turned_month(word: str) -> str:
    names = month_name if word in month_name[1:] else month_abbr
    return names[(list(names).index(word) + 5) % 12 + 1]


def spring_shift(site: Site) -> float:
    """Return how many days later spring comes here than in reference zone 6."""
    return shift_of(site).days


def shift_of(site: Site) -> Shift:
    """Return how much later spring comes here than in reference zone 6, by last frost, zone or Hopkins, and why.

    In the south the garden's own spring is meant: its frost dates are turned by half a year first.
    """
    known = site.place != Place()
    return site_shift(
        _northern(site),
        latitude=site.place.latitude if known else None,
        longitude=site.place.longitude,
        elevation=site.place.elevation,
    )


def _northern(site: Site) -> Climate:
    """Return the climate with its last frost in the catalogue's northern year: a southern September is a March."""
    frost = site.climate.last_frost
    if frost is None or site.place.latitude >= 0:
        return site.climate
    month, day = (int(part) for part in frost.split("-"))
    turned = northern_month(site, month)
    return attrs.evolve(site.climate, last_frost=f"{turned:02d}-{min(day, monthrange(2001, turned)[1]):02d}")


@lru_cache(maxsize=20_000)
def _size(species: Species, years: int) -> Size:
    return size(species, years)
