"""How big a plant is so many years after planting: from the size it leaves the nursery to its full size."""

import math
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue_columns import HERBS
from gardenkit.planting.season import Appearance, appearance
from gardenkit.planting.species import Species
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.units import FOOT, INCH

__all__ = [
    "CURVES",
    "GROWTH_SCHEMES",
    "Appearance",
    "Curve",
    "GrowthScheme",
    "Size",
    "appearance",
    "chapman_richards",
    "crown_base",
    "growth_class",
    "is_herb",
    "linear",
    "logistic",
    "nursery_size",
    "size",
    "sizes",
    "yearly_growth",
]
Curve = Literal["chapman-richards", "logistic", "linear"]
CURVES: dict[str, str] = {
    "chapman-richards": "A (1 - e^(-k (t + t0)))^p: slow, then fast, then nearing full size A (forestry's usual curve)",
    "logistic": "A / (1 + e^(-r (t - t0))): fastest at half size",
    "linear": "nursery size plus the plant's own mean growth of its first ten years, up to full size",
}
MATURE_SHARE = Figure(0.9, "", "the catalogue's years_to_mature: nine tenths of mature size")
NEAREST_FULL = Figure(0.98, "", HOUSE)  # a curve only nears full size: a ten-year size above this share is met at it
SHAPES = tuple(0.5 + 0.1 * step for step in range(36))  # p of Chapman-Richards that are tried, 0.5 to 4
USUAL_SHAPE = 1.3  # p, taken when several meet the years to maturity alike. House value.
YEARS = 10.0  # the age of the catalogue's ten-year sizes

# Height and width in metres as usually bought; never more than half the ten-year size. House values, after the trade's
# 8 ft for a 1 in trunk (tree) and 15 to 24 in for a 3-gallon class container (shrub).
NURSERY: Mapping[str, tuple[float, float]] = {
    "tree": (8 * FOOT, 0.9),
    "conifer": (0.9, 0.5),
    "shrub": (0.45, 0.4),
    "climber": (0.6, 0.3),
    "wall fruit": (1.2, 0.8),
    "ground cover": (0.1, 0.15),
}
NURSERY_SHARE = Figure(0.5, "", HOUSE)  # of the ten-year size, the most a plant measures when planted

# "Sleep, creep, leap": shares of full size at 0, 1, 2 and 3 years. Nobody publishes percentages: 30-40 / 60-70 / 100
# are house values from memory; the middles are used, stretched to the plant's own years to maturity.
SLEEP_CREEP_LEAP = (0.2, 0.35, 0.65, 1.0)
LEAP_YEARS = 3.0
FULL_EACH_YEAR = ("annual", "tender bulb")  # planted out every year

CLEAR_TRUNK_SHARE = Figure(0.3, "", HOUSE)  # lowest leaves of a tree, of its height
CLEAR_TRUNK_MOST = Figure(2.2, "m", HOUSE)  # pruned up no further than one walks under
LOW_BRANCHED = {"weeping": 0.1, "columnar": 0.1, "conical": 0.1, "prostrate": 0.0}  # share of height. House values.
FIRST_TIER = 0.45  # m: lowest tier of trained fruit; 15 to 18 in, from memory, to be confirmed


@attrs.frozen(kw_only=True)
class Size:
    """Metres: total height, width of the crown, and how high above ground its lowest leaves are."""

    height: float
    spread: float
    crown_base: float = 0.0


@attrs.frozen(kw_only=True)
class GrowthScheme:
    """Names for growth rates: each class with the most metres a year it reaches; the last has no upper limit."""

    classes: tuple[tuple[str, float], ...]
    source: str
    for_what: str = "trees and shrubs"


# The schemes disagree about 12 and 24 inches, so each is a named setting.
GROWTH_SCHEMES: Mapping[str, GrowthScheme] = {
    "missouri": GrowthScheme(  # slow <= 12, medium 12-24, fast >= 24
        classes=(("slow", 12 * INCH), ("medium", 24 * INCH), ("fast", math.inf)),
        source="Missouri Dept. of Conservation, mdc.mo.gov/trees-plants/tree-seedlings/tree-growth-information",
    ),
    "garden author": GrowthScheme(  # slow <= 12, medium 13-24, fast >= 25
        classes=(("slow", 12 * INCH), ("medium", 25 * INCH), ("fast", math.inf)),
        source="a garden author's scale, whole inches: slow to 12, medium 13 to 24, fast from 25",
    ),
    "five steps": GrowthScheme(
        classes=(
            ("slow", 12 * INCH),
            ("slow to moderate", 24 * INCH),
            ("moderate to fast", 36 * INCH),
            ("very fast", math.inf),
        ),
        source=COMMON,
    ),
    "shrubs": GrowthScheme(  # slow < 6-8, medium 9-18, fast > 18-24
        classes=(("slow", 9 * INCH), ("medium", 18 * INCH), ("fast", math.inf)), source=COMMON, for_what="shrubs only"
    ),
}


def size(species: Species, years: float, *, curve: str = "chapman-richards") -> Size:
    """Return how big one plant is ``years`` after planting at nursery size (years 0 or more); see CURVES.

    Sizes never shrink and never pass maturity. Herbs follow "sleep, creep, leap" whatever the curve; annuals and tender
    bulbs are full size every summer; bulbs full height. Raises GardenError for an unknown curve or years below 0.
    """
    if curve not in CURVES:
        raise GardenError(f'there is no growth curve "{curve}"{nearest(curve, CURVES)}; use {", ".join(CURVES)}')
    if not years >= 0:
        raise GardenError(f"years since planting is {years:g} for {species.botanical}; give 0 or more")
    if is_herb(species):
        grown = (
            1.0
            if species.layer in FULL_EACH_YEAR or species.leaf == "annual"
            else _leap(years, species.years_to_mature)
        )
        up = 1.0 if species.layer == "bulb" else grown
        return Size(height=species.height * up, spread=species.spread * grown)
    high, wide = nursery_size(species)
    height = _grown(species, years, curve, full=species.height, start=high, at_ten=species.height_10)
    spread = _grown(species, years, curve, full=species.spread, start=wide, at_ten=species.spread_10)
    return Size(height=height, spread=spread, crown_base=crown_base(species, height))


def sizes(plants: Iterable[tuple[Species, float]], *, curve: str = "chapman-richards") -> tuple[Size, ...]:
    """Return the size of each (species, years since planting)."""
    return tuple(size(species, years, curve=curve) for species, years in plants)


def nursery_size(species: Species) -> tuple[float, float]:
    """Return the usual height and width in metres when bought; never over half the ten-year size."""
    high, wide = NURSERY.get(species.layer, NURSERY["ground cover"])
    return min(high, NURSERY_SHARE * species.height_10), min(wide, NURSERY_SHARE * species.spread_10)


def crown_base(species: Species, height: float) -> float:
    """Return how high the lowest leaves of a plant ``height`` metres tall are, in metres. House values."""
    if species.layer == "wall fruit":
        return min(FIRST_TIER, height / 3)
    if not species.is_tree:
        return 0.0
    usual = 0.05 if species.layer == "conifer" else float(CLEAR_TRUNK_SHARE)
    return min(LOW_BRANCHED.get(species.form, usual) * height, float(CLEAR_TRUNK_MOST))


def is_herb(species: Species) -> bool:
    """Return whether a plant grows as herbs do: full size in a few years, no wood to build; annual climbers too."""
    return (
        species.layer in HERBS
        or species.leaf == "annual"
        or (species.layer == "ground cover" and species.years_to_mature <= 4)
    )


def yearly_growth(species: Species) -> float:
    """Return the mean metres a year a woody plant grows while it is young: ten years, or to maturity where sooner.

    Upright by its height, flat and wide plants by how far their shoots go to one side, whichever is more.
    """
    years = min(YEARS, species.years_to_mature)
    first, then = size(species, 0), size(species, years)
    return max(then.height - first.height, (then.spread - first.spread) / 2) / years


def growth_class(metres_a_year: float, *, scheme: str = "missouri") -> str:
    """Return the name of a growth rate in a named scheme; a rate on a border counts in the slower class.

    >>> growth_class(0.5)
    'medium'
    """
    if scheme not in GROWTH_SCHEMES:
        raise GardenError(f'there is no growth scheme "{scheme}"{nearest(scheme, GROWTH_SCHEMES)}')
    return next(name for name, most in GROWTH_SCHEMES[scheme].classes if metres_a_year <= most + 1e-9)


# ---- the curves


def chapman_richards(t: float, *, full: float, rate: float, shape: float) -> float:
    """Return full (1 - e^(-rate t))^shape, t in years from when the curve starts at 0."""
    return full * _share(rate * t, shape)


def logistic(t: float, *, full: float, rate: float, middle: float) -> float:
    """Return full / (1 + e^(-rate (t - middle))); half of full at ``middle``."""
    return full / (1.0 + math.exp(-rate * (t - middle)))


def linear(t: float, *, full: float, start: float, rate: float) -> float:
    """Return the start size plus ``rate`` a year, up to ``full``."""
    return min(start + rate * t, full)


# ---- helpers


def _grown(species: Species, years: float, curve: str, *, full: float, start: float, at_ten: float) -> float:
    if curve == "linear":
        return linear(years, full=full, start=start, rate=(at_ten - start) / YEARS)
    if curve == "logistic":
        return _logistic_fit(full, start, at_ten)(years)
    return _richards_fit(full, start, at_ten, species.years_to_mature)(years)


@lru_cache(maxsize=4096)
def _richards_fit(full: float, start: float, at_ten: float, mature_years: float) -> Callable[[float], float]:
    """Return the curve through ``start`` at 0 and ``at_ten`` at ten years, its shape set by the years to maturity.

    For a given shape p, -ln(1 - (size / full)^(1/p)) runs straight in time, so both points fix rate and offset.
    """
    ten = min(at_ten / full, float(NEAREST_FULL))
    tried = [(p, _line(start / full, ten, p)) for p in SHAPES]

    def miss(fit: tuple[float, tuple[float, float]]) -> tuple[float, float]:
        p, (rate, head) = fit
        return abs(_share(rate * mature_years + head, p) - MATURE_SHARE), abs(p - USUAL_SHAPE)

    p, (rate, head) = min(tried, key=lambda fit: (round(miss(fit)[0], 3), miss(fit)[1]))
    return lambda t: full * _share(rate * t + head, p)


def _line(start: float, ten: float, p: float) -> tuple[float, float]:
    head = -math.log1p(-(start ** (1 / p)))
    return (-math.log1p(-(ten ** (1 / p))) - head) / YEARS, head


def _share(run: float, p: float) -> float:
    return math.pow(-math.expm1(-run), p)


@lru_cache(maxsize=4096)
def _logistic_fit(full: float, start: float, at_ten: float) -> Callable[[float], float]:
    low, high = (math.log(share / (1 - share)) for share in (start / full, min(at_ten / full, float(NEAREST_FULL))))
    rate = (high - low) / YEARS
    return lambda t: logistic(t, full=full, rate=rate, middle=-low / rate)


def _leap(years: float, mature_years: float) -> float:
    at = min(years * LEAP_YEARS / max(mature_years, 1.0), LEAP_YEARS)
    step = min(int(at), len(SLEEP_CREEP_LEAP) - 2)
    low, high = SLEEP_CREEP_LEAP[step], SLEEP_CREEP_LEAP[step + 1]
    return low + (high - low) * (at - step)
