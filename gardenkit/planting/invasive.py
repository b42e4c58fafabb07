"""Where a plant is listed or reported as invasive, asked for the place of one garden."""

from functools import cache
from importlib.resources import files

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue_columns import REGION
from gardenkit.planting.species import Species

UNION = "EU"  # a listing of the European Union holds in every member
MEMBERS: tuple[str, ...] = (
    *("AT", "BE", "BG", "HR", "CY", "CZ", "DK", "EE", "FI", "FR", "DE", "GR", "HU", "IE"),
    *("IT", "LV", "LT", "LU", "MT", "NL", "PL", "PT", "RO", "SK", "SI", "ES", "SE"),
)


def listed_in(species: Species, region: str) -> tuple[str, ...]:
    """Return the regions of a plant's ``invasive_in`` that hold for ``region``, an ISO 3166 code such as ``US-MA``.

    A listing of a country holds in all its states; a listing of one state holds there only, and is told, too, when only
    the country is given. Listings elsewhere never count, so a native is not refused for what it does overseas. An empty
    answer means not listed in what was looked at, never harmless. Raises GardenError for a code of another form.
    """
    asked = region.strip().upper()
    if not REGION.fullmatch(asked):
        raise GardenError(f'the region is "{region}"; give a country or state by its ISO code, as US, US-MA or NZ')
    country = asked.partition("-")[0]
    wide = (asked, country, *((UNION,) if country in MEMBERS else ()))
    return tuple(r for r in species.invasive_in if r in wide or (asked == country == r.partition("-")[0]))


def listed_near(species: Species, timezone: str) -> tuple[str, ...]:
    """Return the regions where a plant is listed in the country of a time zone (``America/New_York``: the US).

    A garden knows its time zone, not its state, so every state of the country counts; a time zone of no country
    (``UTC``, a garden without a place) counts every listing there is.
    """
    country = country_of(timezone)
    return listed_in(species, country) if country else species.invasive_in


def country_of(timezone: str) -> str:
    """Return the ISO code of the country a time zone lies in, by the time zone database; empty for none.

    >>> country_of("Pacific/Auckland"), country_of("UTC")
    ('NZ', '')
    """
    return _countries().get(timezone, "")


@cache
def _countries() -> dict[str, str]:
    lines = files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8").splitlines()
    rows = [line.split("\t") for line in lines if line and not line.startswith("#")]
    return {row[2]: row[0] for row in rows}
