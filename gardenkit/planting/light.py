"""How much direct sun a plant's crown lets through in each month, in leaf and bare."""

from functools import lru_cache

from gardenkit.planting.species import Species
from gardenkit.site.shade import light_by_month

Months = tuple[float, ...]  # twelve shares, January first: 0 opaque, 1 clear
MONTH_DAYS = 365.25 / 12
KEPT_IN_WINTER = 0.5  # share of leaves a semi-evergreen plant keeps. House value.


@lru_cache(maxsize=5_000)
def light_months(species: Species, zone_shift_days: float = 0.0) -> Months:
    """Return twelve shares of direct sun let through, January first, as ``site.shade`` counts them for trees on record.

    Leaves come evenly through the month ``leaf_on`` and fall through ``leaf_off``; where spring comes later than in
    zone 6 by ``zone_shift_days``, leaves come later and fall earlier. Evergreens let the same through all year.
    """
    on, off = leaf_season(species, zone_shift_days)
    return light_by_month(species.light_in_leaf, species.light_bare, on, off, where=species.botanical)


@lru_cache(maxsize=5_000)
def leaf_months(species: Species, zone_shift_days: float = 0.0) -> Months:
    """Return the share of full leaf in each month, January first: 1 in full leaf, 0 bare or below ground."""
    kept = KEPT_IN_WINTER if species.leaf == "semi-evergreen" else 0.0
    on, off = leaf_season(species, zone_shift_days)
    if on is None and kept:  # the tables leave out the months: thin from December to March
        return tuple(kept if month in (12, 1, 2, 3) else 1.0 for month in range(1, 13))
    return light_by_month(1.0, kept, on, off, where=species.botanical)


def leaf_season(species: Species, zone_shift_days: float = 0.0) -> tuple[float | None, float | None]:
    """Return when leaves come and fall as months with parts (4.5: from mid April to mid May), None for evergreens.

    A shift never leaves less than a month in leaf.
    """
    if species.leaf_on is None or species.leaf_off is None:
        return None, None
    season = (species.leaf_off - species.leaf_on) % 12
    late = min(zone_shift_days / MONTH_DAYS, (season - 1) / 2)
    late = max(late, -(11 - season) / 2)
    return _month(species.leaf_on + late), _month(species.leaf_off - late)


def _month(at: float) -> float:
    return (at - 1) % 12 + 1
