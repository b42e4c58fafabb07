"""Which country a garden lies in, as far as its time zone tells: what is law or trade there is said only there."""

from functools import lru_cache
from importlib.resources import files

from gardenkit.site.site import Site

USA = "US"


def country_of(timezone: str) -> str | None:
    """Return the two-letter ISO 3166 country of an IANA time zone, None for one that belongs to none.

    Source: the zone.tab of the IANA time zone database, as shipped by tzdata.

    >>> country_of("America/New_York"), country_of("America/Toronto"), country_of("UTC")
    ('US', 'CA', None)
    """
    return _countries().get(timezone)


def in_usa(site: Site) -> bool | None:
    """Return whether a site lies in the USA, None while its place is not known."""
    country = country_of(site.place.timezone)
    return None if country is None else country == USA


def usa_only(site: Site, there: str, *, general: str = "") -> str:
    """Return the words that hold in the USA alone: plain there, with "in the USA" before them while the place is not
    known, and only the ``general`` words elsewhere.

    >>> usa_only(Site(), "call 811", general="ask the utilities")
    'ask the utilities; in the USA: call 811'
    """
    said = {None: f"in the USA: {there}", True: there, False: ""}[in_usa(site)]
    return "; ".join(part for part in (general, said) if part)


@lru_cache(maxsize=1)
def _countries() -> dict[str, str]:
    table = files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    rows = (line.split("\t") for line in table.splitlines() if line and not line.startswith("#"))
    return {row[2]: row[0] for row in rows}
