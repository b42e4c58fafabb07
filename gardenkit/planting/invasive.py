"""Where a plant is listed or reported as invasive, asked for the place of one garden."""

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue_columns import REGION
from gardenkit.planting.species import Species


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
    return tuple(r for r in species.invasive_in if r in (asked, country) or (asked == country == r.partition("-")[0]))
