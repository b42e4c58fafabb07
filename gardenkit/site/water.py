"""How much water a bed needs each month, what rain brings, and how long the drip must run."""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Literal

import attrs

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.site import evapotranspiration as fao
from gardenkit.site.climate import Climate, Months
from gardenkit.sources import HOUSE, MEMORY, Figure
from gardenkit.units import US_GALLON

DAYS = (31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0)  # February over the leap years
EFFICIENCY = Figure(
    0.85, "share of the water that reaches roots", "irrigation dealer's lesson: drip, 15 ft tree example"
)
USUAL_WIND = Figure(2.0, "m/s at 2 m", f"{fao.FAO56}: world mean, for use where wind is not known; {MEMORY}")

# Peak ETo by climate where no weather is to be had, in a day. Source: Washington State Univ., irrigation.wsu.edu
WASHINGTON = "Washington State Univ., irrigation.wsu.edu"


# ---- reference evapotranspiration


@attrs.frozen(kw_only=True)
class ReferenceWater:
    """Reference evapotranspiration by month, mm a day, and how it was found."""

    mm_a_day: Months
    method: Literal["FAO-56 Penman-Monteith", "Hargreaves"]
    why: str
    findings: tuple[Finding, ...] = ()

    @property
    def mm_a_month(self) -> Months:
        """The same as monthly totals, mm."""
        return tuple(mm * days for mm, days in zip(self.mm_a_day, DAYS, strict=True))


def reference_water(climate: Climate, *, latitude: float, elevation: float = 0.0) -> ReferenceWater:
    """Return monthly ETo by Penman-Monteith when humidity and sunshine are known, otherwise by Hargreaves.

    Latitude in degrees (south negative), elevation in metres. Wind, if not known, is taken as USUAL_WIND.
    Raises GardenError without monthly tmin and tmax.
    """
    tmin, tmax = climate.tmin, climate.tmax
    if tmin is None or tmax is None:
        raise GardenError(
            "the climate has no monthly tmin and tmax; type twelve of each or read a table of daily weather"
        )
    notes = _latitude_note(latitude)
    if climate.humidity is None or climate.sunshine is None:
        missing = [n for n, known in (("humidity", climate.humidity), ("sunshine", climate.sunshine)) if known is None]
        ra = [fao.extraterrestrial(latitude, day) for day in fao.MID_MONTH]
        monthly = tuple(fao.hargreaves(*month) for month in zip(tmin, tmax, ra, strict=True))
        why = f"temperatures only: no {' or '.join(missing)}"
        return ReferenceWater(mm_a_day=monthly, method="Hargreaves", why=why, findings=notes)
    wind = climate.wind or (float(USUAL_WIND),) * 12
    mean = [(low + high) / 2.0 for low, high in zip(tmin, tmax, strict=True)]
    monthly = tuple(
        fao.penman_monteith(
            latitude=latitude,
            elevation=elevation,
            day=fao.MID_MONTH[m],
            tmin=tmin[m],
            tmax=tmax[m],
            vapour=fao.vapour_of_mean_humidity(tmin[m], tmax[m], mean=climate.humidity[m]),
            wind=wind[m],
            sunshine=climate.sunshine[m],
            g=fao.soil_heat_of_month(mean[m], mean[m - 1], mean[(m + 1) % 12]),
        )
        for m in range(12)
    )
    why = "temperatures, humidity, sunshine" + (" and wind" if climate.wind else f"; wind taken as {USUAL_WIND:g} m/s")
    return ReferenceWater(mm_a_day=monthly, method="FAO-56 Penman-Monteith", why=why, findings=notes)


# ---- rain


def _scs(mm: float) -> float:
    return mm * (125.0 - 0.2 * mm) / 125.0 if mm <= 250.0 else 125.0 + 0.1 * mm


RAIN_METHODS: dict[str, tuple[Callable[[float], float], str]] = {
    "USDA SCS": (_scs, "USDA SCS monthly form as used in FAO CROPWAT, second-hand: P (125 - 0.2 P) / 125, to 250 mm"),
    "half": (lambda mm: 0.5 * mm, f"half the rain; {HOUSE}: cautious, for light showers and dense planting"),
    "none": (lambda _mm: 0.0, f"no rain counted; {HOUSE}: for beds under eaves or a dry-year plan"),
}


def effective_rain(rain_mm: float, *, method: str = "USDA SCS") -> float:
    """Return the part of a month's rain that plants can use, mm, by a named simple method of RAIN_METHODS.

    >>> effective_rain(100.0), effective_rain(100.0, method="half")
    (84.0, 50.0)
    """
    if method not in RAIN_METHODS:
        known = ", ".join(RAIN_METHODS)
        raise GardenError(f'no rain method "{method}"{nearest(method, RAIN_METHODS)}; use one of {known}')
    if not 0.0 <= rain_mm < math.inf:
        raise GardenError(f"a month's rain of {rain_mm:g} mm is not 0 or more; check the rain column")
    return min(RAIN_METHODS[method][0](rain_mm), rain_mm)  # rounding never makes more of it than fell


# ---- landscape factors

_WUCOLS = "WUCOLS bands as in the WateReuse salinity management guide; middle of the band"
_S623 = f"ANSI/ASABE S623.1, 2017; {MEMORY}"
_MANUAL = "irrigation manufacturer's design manual, Table 4-2"
_MANUAL_WORDS = {
    "tree": (0.2, 0.5, 0.9),
    "shrub": (0.2, 0.5, 0.7),
    "ground cover": (0.2, 0.5, 0.7),
    "mixed": (0.2, 0.5, 0.9),
}

FACTORS: dict[str, dict[str, Figure]] = {  # family: what is planted: share of ETo
    "WUCOLS": {
        "very low": Figure(0.1, "", "WUCOLS very low: below 0.1; upper end of the band"),
        "low": Figure(0.2, "", _WUCOLS),
        "moderate": Figure(0.5, "", _WUCOLS),
        "high": Figure(0.8, "", _WUCOLS),
    },
    "ASABE S623.1": {
        "cool turf": Figure(0.8, "", _S623),
        "warm turf": Figure(0.6, "", _S623),
        "annual flowers": Figure(0.8, "", _S623),
        "woody, dry summer": Figure(0.5, "", _S623),
        "woody, wet summer": Figure(0.7, "", _S623),
        "ground cover, dry summer": Figure(0.5, "", _S623),
        "ground cover, wet summer": Figure(0.7, "", _S623),
        "desert": Figure(0.3, "", _S623),
    },
    "design manual": {
        f"{kind}, {need}": Figure(value, "", _MANUAL)
        for kind, row in _MANUAL_WORDS.items()
        for need, value in zip(("low", "average", "high"), row, strict=True)
    },
    "Washington State drip": {
        "tree": Figure(1.1, "", WASHINGTON),
        "shrub": Figure(0.9, "", WASHINGTON),
        "ground cover": Figure(1.0, "", WASHINGTON),
        "mixed": Figure(1.1, "", WASHINGTON),
        "turf": Figure(0.8, "", WASHINGTON),
    },
}


def plant_factor(word: str, *, family: str) -> Figure:
    """Return the share of ETo for a kind of planting from one named family of FACTORS; families are never mixed."""
    if family not in FACTORS:
        raise GardenError(f'no factor family "{family}"{nearest(family, FACTORS)}; use one of {", ".join(FACTORS)}')
    if word not in FACTORS[family]:
        known = ", ".join(FACTORS[family])
        raise GardenError(f'{family} has no factor for "{word}"{nearest(word, FACTORS[family])}; use one of {known}')
    return FACTORS[family][word]


def hydrozone_factor(words: Iterable[str], *, family: str) -> Figure:
    """Return the factor of plants watered together: the thirstiest one's. Source: Utah State Univ., psc_facpub 771."""
    factors = [plant_factor(word, family=family) for word in words]
    if not factors:
        raise GardenError("the hydrozone has no plants; name at least one kind of planting in it")
    return max(factors)


# ---- need and run times


def water_need(
    eto_mm_a_day: Sequence[float],
    *,
    area: float,
    factor: float,
    rain_mm: Sequence[float] | None = None,
    rain_method: str = "USDA SCS",
    efficiency: float = float(EFFICIENCY),
) -> Months:
    """Return litres of supplementary watering by month: (factor x ETo - effective rain) x area / efficiency.

    ``area`` m2; twelve ETo in mm a day; twelve rain totals in mm, None for no rain. Never below 0: rain is not carried
    over, and mean rain hides dry spells (size pipes with ``rain_method="none"``).
    Raises GardenError for an area, factor or efficiency that cannot be.
    """
    if area < 0 or factor < 0 or not 0.0 < efficiency <= 1.0:
        raise GardenError(
            f"area {area:g} m2, factor {factor:g}, efficiency {efficiency:g}: give 0 or more, and over 0 to 1"
        )
    rain = (0.0,) * 12 if rain_mm is None else rain_mm
    if len(eto_mm_a_day) != 12 or len(rain) != 12:
        raise GardenError(f"{len(eto_mm_a_day)} months of ETo and {len(rain)} of rain were given; give twelve of each")
    litres = []
    for eto, days, fallen in zip(eto_mm_a_day, DAYS, rain, strict=True):
        short = max(0.0, factor * eto * days - effective_rain(fallen, method=rain_method))
        litres.append(short * area / efficiency)  # 1 mm over 1 m2 is 1 litre
    return tuple(litres)


def mean_year(beds: Iterable[Sequence[float]]) -> float:
    """Return the litres of a year of all beds' months."""
    return math.fsum(math.fsum(months) for months in beds)


def gallons(litres: float) -> float:
    """Return US gallons."""
    return litres / US_GALLON


def dripline_mm_an_hour(litres_an_hour: float, *, row_spacing: float, emitter_spacing: float) -> float:
    """Return the rate at which a grid of dripline wets its bed, mm an hour; spacings in metres, above 0.

    The trade's in/h = 231.1 x gph / (row in x emitter in) is the same in other units.
    """
    if row_spacing <= 0 or emitter_spacing <= 0 or litres_an_hour <= 0:
        raise GardenError("dripline needs a flow, a row spacing and an emitter spacing above 0; check all three")
    return litres_an_hour / (row_spacing * emitter_spacing)


def run_minutes(depth_mm: float, *, rate_mm_an_hour: float) -> float:
    """Return minutes to put down ``depth_mm`` of water at a rate in mm an hour, above 0."""
    if rate_mm_an_hour <= 0:
        raise GardenError(f"a rate of {rate_mm_an_hour:g} mm an hour waters nothing; give a rate above 0")
    return depth_mm / rate_mm_an_hour * 60.0


# ---- water budget by ordinance


# ---- helpers


def _latitude_note(latitude: float) -> tuple[Finding, ...]:
    if abs(latitude) <= fao.FARTHEST:
        return ()
    what = "water needs this far from the equator are rough; check them against a local weather station"
    return (
        Finding(where="climate", what=what, why=f"latitude {latitude:g}", source=fao.FARTHEST.source, topic="water"),
    )
