"""What a plant looks like in a month: its leaves, flowers and fruit, whether it stands or has died back."""

import calendar
from collections.abc import Sequence
from functools import lru_cache

import attrs

from gardenkit.findings import GardenError
from gardenkit.planting.light import MONTH_DAYS, leaf_months, light_months
from gardenkit.planting.species import Species, months_from_to

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
LEAST_DAYS = 10.0  # a month counts as in flower when the bloom covers this many of its days. House value.

# How much of a place's spring shift an event of each month takes, January first: later springs mean earlier autumns
# (Hopkins 1918); how it turns round over summer is a house value.
SHIFT_OF_MONTH = (1.0, 1.0, 1.0, 1.0, 1.0, 0.5, 0.0, -0.5, -1.0, -1.0, -1.0, 1.0)

BEFORE_ITS_END = {"early": 0.75, "late": 0.25, "": 0.5}  # months from the middle of a half, or of a month, to its end

LEAST_SEEN = 0.25  # share of full leaf below which a plant counts as bare or gone for the month. House value.
LEAVES_NEW = 1  # months in which leaves have their spring colour: three to four weeks after they open. House value.
SPRING, SUMMER, AUTUMN = (3, 4, 5), (6, 7, 8), (9, 10, 11)
DRY_STEMS = "#b39a6b"  # what is left standing of a herb with seed heads. House value.
STANDING = 0.85  # height of dry stems against the height in flower. House value.
LAST_STANDING = 2  # month after which dry stems are cut, zone 6. House value.
WAITS = 2  # months from that of the catalogue within which a herb without leaves has them still to come. House value.
# Height of the leaves alone against the height in flower, by form. House values.
LEAFY_HEIGHT = {
    "spire": 0.5,
    "rosette": 0.4,
    "clump": 0.75,
    "mound": 0.85,
    "mat": 0.8,
    "fountain": 0.85,
    "spreading": 0.8,
}


@attrs.frozen(kw_only=True)
class Appearance:
    """One plant in one month.

    ``foliage`` #rrggbb, None when there is nothing to see of leaves or dry stems; ``in_leaf`` and ``light`` (direct sun
    let through) are shares 0 to 1; ``height_factor`` multiplies the plant's height of that year (0: below ground);
    ``budding`` says that its leaves come within the month.
    """

    foliage: str | None
    in_leaf: float
    in_flower: bool
    flowers: tuple[str, ...]
    fruit: str | None
    light: float
    height_factor: float
    budding: bool = False


@lru_cache(maxsize=50_000)
def appearance(species: Species, month: int, zone_shift_days: float = 0.0) -> Appearance:
    """Return how a plant looks in ``month`` (1 to 12) where spring comes ``zone_shift_days`` later than in zone 6.

    Raises GardenError for a month outside 1 to 12.
    """
    _checked(month)
    leaf = leaf_share(species, month, zone_shift_days)
    flower = month in flower_months(species, zone_shift_days)
    fruiting = month in fruit_months(species, zone_shift_days)
    return Appearance(
        foliage=foliage_colour(species, month, zone_shift_days),
        in_leaf=leaf,
        in_flower=flower,
        flowers=species.flower_colours if flower else (),
        fruit=(species.fruit_colour or None) if fruiting else None,
        light=light_months(species, zone_shift_days)[month - 1],
        height_factor=_height_factor(species, month, leaf=leaf, flower=flower),
        budding=leaf < LEAST_SEEN <= leaf_share(species, month % 12 + 1, zone_shift_days),
    )


def flower_months(species: Species, zone_shift_days: float = 0.0) -> tuple[int, ...]:
    """Return the months in flower where spring comes ``zone_shift_days`` later than in the reference zone, moved by
    what the journal of this garden has shown of the kind.
    """
    return months_touched(flower_halves(species, zone_shift_days))


def flower_halves(species: Species, zone_shift_days: float = 0.0) -> tuple[int, ...]:
    """Return the half months in flower, 1 (early January) to 24, moved as the months are: to the nearest half month
    where the catalogue knows halves, else to the nearest month, both halves of each.
    """
    halves = species.bloom_halves
    if not species.bloom_by_halves:
        months = shifted_months(species.bloom_start, species.bloom_end, zone_shift_days, own=species.bloom_later)
        return tuple(half for month in months for half in (2 * month - 1, 2 * month))
    moved = moved_days(species.bloom_months, zone_shift_days) + species.bloom_later
    return tuple((half - 1 + round(moved / MONTH_DAYS * 2)) % 24 + 1 for half in halves)


def months_touched(halves: tuple[int, ...]) -> tuple[int, ...]:
    """Return the months that half months lie in, each once, in order.

    >>> months_touched((10, 11, 12, 13))
    (5, 6, 7)
    """
    return tuple(dict.fromkeys((half + 1) // 2 for half in halves))


def halves_words(halves: Sequence[int], names: Sequence[str] = MONTHS) -> str:
    """Return half months (1 early January to 24) in words.

    >>> halves_words((10, 11, 12, 13)), halves_words((23, 24, 1, 2)), halves_words((9, 10))
    ('late May to early Jul', 'Dec to Jan', 'May')
    """
    runs = runs_of(halves)
    if len(runs) > 1 and runs[0][0] == 1 and runs[-1][1] == 24:  # winter bloom passes the year end
        runs = [(runs[-1][0], runs[0][1]), *runs[1:-1]]
    return ", ".join(span_words(first, last, names) for first, last in runs)


def span_words(first: int, last: int, names: Sequence[str] = MONTHS) -> str:
    """Return the spell from one half month to another in words."""
    months = names[(first - 1) // 2], names[(last - 1) // 2]
    start = months[0] if first % 2 else f"late {months[0]}"
    end = f"early {months[1]}" if last % 2 else months[1]
    if months[0] == months[1] and abs(last - first) < 2:
        return end if first == last and last % 2 else start
    return f"{start} to {end}"


def runs_of(months: Sequence[int]) -> list[tuple[int, int]]:
    """Return months, or halves of them, as unbroken runs within the year: (12, 1, 2) gives (1, 2), (12, 12)."""
    runs: list[tuple[int, int]] = []
    for month in sorted(set(months)):
        if runs and runs[-1][1] == month - 1:
            runs[-1] = (runs[-1][0], month)
        else:
            runs.append((month, month))
    return runs


def bloom_days(species: Species, zone_shift_days: float = 0.0) -> tuple[float, float] | None:
    """Return the days of the northern year (0 is the 1st of January) on which the first and the last flower are to be
    expected: the middle of the catalogue's first and last month, or of the half of it that is known, moved as the
    months are; None for a kind without.

    So either may be half as long off as what it is the middle of.
    """
    months = species.bloom_months
    if not months:
        return None
    moved = moved_days(months, zone_shift_days) + species.bloom_later
    first = months[0] - BEFORE_ITS_END[species.bloom_start_half]
    last = months[-1] - BEFORE_ITS_END[species.bloom_end_half]
    return (first * MONTH_DAYS + moved) % 365.0, (last * MONTH_DAYS + moved) % 365.0


def fruit_months(species: Species, zone_shift_days: float = 0.0) -> tuple[int, ...]:
    """Return the months of showy fruit, shifted in the same way."""
    return shifted_months(species.fruit_start, species.fruit_end, zone_shift_days)


def shifted_months(first: int | None, last: int | None, days: float, *, own: float = 0.0) -> tuple[int, ...]:
    """Return the months of a spell from ``first`` to ``last`` where spring events come ``days`` later.

    The whole spell moves, by the share of SHIFT_OF_MONTH of its middle and by ``own`` days besides, to the nearest
    month: it keeps its duration.

    >>> shifted_months(4, 5, 14), shifted_months(4, 5, 21), shifted_months(9, 10, 21)
    ((4, 5), (5, 6), (8, 9))
    """
    months = months_from_to(first, last)
    if not months or len(months) == 12:
        return months
    moved = round((moved_days(months, days) + own) / MONTH_DAYS)
    return tuple((month - 1 + moved) % 12 + 1 for month in months)


def moved_days(months: tuple[int, ...], days: float) -> float:
    """Return how many days later a spell of months comes where spring events come ``days`` later: by its middle."""
    middle = SHIFT_OF_MONTH[months[(len(months) - 1) // 2] - 1] + SHIFT_OF_MONTH[months[len(months) // 2] - 1]
    return middle / 2 * days


def leaf_share(species: Species, month: int, zone_shift_days: float = 0.0) -> float:
    """Return the share of full leaf, 0 to 1: half in the months of leafing out and of leaf fall."""
    _checked(month)
    return leaf_months(species, zone_shift_days)[month - 1]


def foliage_colour(species: Species, month: int, zone_shift_days: float = 0.0) -> str | None:
    """Return the colour of leaves (or of dry stems left standing) in a month, None when there is nothing to see."""
    season = season_of(species, month, zone_shift_days)
    if leaf_share(species, month, zone_shift_days) < LEAST_SEEN:
        return (species.foliage_winter or DRY_STEMS) if _stands_dry(species, month) else None
    wanted = {
        "spring": (species.foliage_spring, species.foliage_summer),
        "summer": (species.foliage_summer, species.foliage_spring, species.foliage_autumn),
        "autumn": (species.foliage_autumn, species.foliage_summer, species.foliage_spring),
        "winter": (species.foliage_winter, species.foliage_autumn, species.foliage_summer, species.foliage_spring),
    }[season]
    return next((colour for colour in wanted if colour), None)


def season_of(species: Species, month: int, zone_shift_days: float = 0.0) -> str:
    """Return the plant's own season in a month: leaves new in the month they come, colouring in the last two."""
    at = _reference_month(month, zone_shift_days)
    months = months_from_to(species.leaf_on, species.leaf_off)
    if species.leaf in ("deciduous", "herbaceous", "annual") and at in months and len(months) > 4:
        place = months.index(at)
        return "spring" if place < LEAVES_NEW else "autumn" if place >= len(months) - 2 else "summer"
    return "spring" if at in SPRING else "summer" if at in SUMMER else "autumn" if at in AUTUMN else "winter"


# ---- helpers


def _checked(month: int) -> None:
    if month not in range(1, 13):
        names = ", ".join(f"{i} {calendar.month_abbr[i]}" for i in (1, 12))
        raise GardenError(f"the month is {month}; give a whole number from 1 to 12 ({names})")


def _reference_month(month: int, days: float) -> int:
    """Return the month of the reference zone whose look this month has here."""
    back = SHIFT_OF_MONTH[month - 1] * days
    return int(((month - 0.5) * MONTH_DAYS - back) // MONTH_DAYS) % 12 + 1


def _stands_dry(species: Species, month: int) -> bool:
    dies_back = species.leaf in ("herbaceous", "annual")
    waits = (
        species.leaf_on is not None and (month - species.leaf_on) % 12 < WAITS
    )  # for its leaves, where spring is late
    if species.standing_months:
        return dies_back and not waits and month in species.standing_months
    lasting = "seed heads" in species.winter_interest or bool(species.foliage_winter)
    off = species.leaf_off or 11
    return dies_back and lasting and month in months_from_to(off, LAST_STANDING)


def _height_factor(species: Species, month: int, *, leaf: float, flower: bool) -> float:
    if species.leaf not in ("herbaceous", "winter-green", "annual") and species.layer not in (
        "perennial",
        "grass",
        "fern",
    ):
        return 1.0
    if leaf < LEAST_SEEN:
        return STANDING if _stands_dry(species, month) else 1.0 if flower else 0.0
    leafy = LEAFY_HEIGHT.get(species.form, 0.8) if species.bloom_start else 1.0
    if species.layer == "grass" and not flower and species.bloom_end and month > species.bloom_end:
        return 1.0  # the heads stay
    return 1.0 if flower else leafy * (0.5 if leaf < 1 and month < 8 else 1.0)
