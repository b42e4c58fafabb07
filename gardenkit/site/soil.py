"""What the soil is like to grow in: how sour or limy it is, how it drains, how much water it holds."""

import math
from collections.abc import Sequence
from typing import Literal

import attrs

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.site.texture import JarReading, jar_shares, known_texture, normalised, soil_group, texture
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.units import INCH

PH_SOURCE = "NRCS Soil Quality Indicators: pH, 1998"
PH_CLASSES: tuple[tuple[float, str, str], ...] = (  # highest pH of the class to 0.1, its name, source
    (3.4, "ultra acid", f"USDA Soil Survey Manual, 2017; {MEMORY}"),
    (4.4, "extremely acid", PH_SOURCE),
    (5.0, "very strongly acid", PH_SOURCE),
    (5.5, "strongly acid", PH_SOURCE),
    (6.0, "moderately acid", PH_SOURCE),
    (6.5, "slightly acid", PH_SOURCE),
    (7.3, "neutral", PH_SOURCE),
    (7.8, "slightly alkaline", PH_SOURCE),
    (8.4, "moderately alkaline", PH_SOURCE),
    (9.0, "strongly alkaline", PH_SOURCE),
    (14.0, "very strongly alkaline", f"USDA Soil Survey Manual, 2017; {MEMORY}"),
)

INCH_MM = INCH * 1000.0
INCH_PER_FOOT = 1000.0 / 12.0  # mm of water per metre of soil for 1 in per ft, exact

DRAINAGE: dict[str, tuple[tuple[float, str], ...]] = {  # scheme: (from this rate up, in per hour; name)
    "Cornell": ((0.0, "poor"), (1.0, "well drained"), (6.0, "excessive")),
    "common": ((0.0, "poor"), (1.0, "good"), (3.0, "fast"), (4.0, "too fast")),
    "infiltration": ((0.0, "slow"), (0.2, "moderate"), (3.0, "rapid")),
}
DRAINAGE_SOURCES = {
    "Cornell": "Cornell extension, second-hand: under 1 in (25 mm) an hour poor, to 6 in (152 mm) well drained, then "
    "excessive",
    "common": f"{COMMON}: under 1 in (25 mm) an hour poor, to 3 in (76 mm) good, over 4 in (102 mm) too fast; what "
    "lies between is unnamed there and called fast here",
    "infiltration": f"{COMMON}: rapid over 3 in (76 mm) an hour, moderate from 0.2 in (5 mm), slow below",
}
TOO_FAST = ("excessive", "too fast", "rapid")  # what each scheme calls soil that holds too little water
UPPER_INCLUDED = {"well drained", "moderate", "good", "fast"}  # "over 6", "over 3", "over 4": the end itself is below

UC = "UC ANR, class.ucanr.edu/node/112737"
WYOMING = "NRCS Wyoming"
_UC_KIN = f"{UC}, its nearest printed class; {HOUSE}"
AVAILABLE_WATER: dict[str, tuple[float, float, str]] = {  # texture: in per ft, low and high, source
    "sand": (0.5, 1.0, UC),
    "loamy sand": (0.5, 1.5, f"{UC}, sand to sandy loam; {HOUSE}"),
    "sandy loam": (1.0, 1.5, UC),
    "loam": (1.5, 2.1, WYOMING),
    "silt loam": (1.5, 2.1, WYOMING),
    "silt": (1.5, 2.0, _UC_KIN),
    "sandy clay loam": (1.5, 2.1, WYOMING),
    "clay loam": (1.5, 2.0, UC),
    "silty clay loam": (1.5, 2.0, _UC_KIN),
    "sandy clay": (2.0, 2.5, _UC_KIN),
    "silty clay": (2.0, 2.5, _UC_KIN),
    "clay": (2.0, 2.5, UC),
}
# "1 % organic matter adds about 1.5 % available water": read here as percent of the soil's volume, so 15 mm per metre.
ORGANIC_WATER_MM_PER_M = Figure(
    15.0, "mm per m of soil per percent", "NRCS, Soil Quality Indicators, 1998 (about 1.5 %)"
)


# ---- reaction


def ph_class(ph: float) -> str:
    """Return the NRCS reaction class; classes are stated to 0.1 pH, so the reading is rounded to that first.

    >>> ph_class(6.54), ph_class(6.56)
    ('slightly acid', 'neutral')
    """
    if not 0.0 <= ph <= 14.0:
        raise GardenError(f"a pH of {ph:g} is outside 0 to 14; check the reading")
    rounded = math.floor(ph * 10.0 + 0.5 + 1e-9) / 10.0
    return next(name for top, name, _source in PH_CLASSES if rounded <= top + 1e-9)


# ---- drainage


def drains_too_fast(soil: "Soil") -> bool:
    """Return whether a test says that the soil holds too little water."""
    rate = soil.drainage_mm_per_hour
    return rate is not None and drainage_class(rate) in TOO_FAST


def hole_test_mm_per_hour(drops_mm: Sequence[float], *, minutes_each: float = 15.0) -> float:
    """Return the rate of fall of water in a test hole, mm per hour, from the drop in each interval.

    The Cornell way: a hole 0.30 m (1 ft) deep, filled, drained, filled again, and read after 15 minutes, four times.
    """
    if not drops_mm or minutes_each <= 0 or not all(math.isfinite(drop) and drop >= 0 for drop in drops_mm):
        raise GardenError(
            f"the drops {_list(drops_mm)} mm are not readings of 0 or more over a time above 0; read again"
        )
    return math.fsum(drops_mm) / (len(drops_mm) * minutes_each) * 60.0


def drainage_class(mm_per_hour: float, *, scheme: str = "Cornell") -> str:
    """Return what a named scheme calls a rate of fall in mm per hour; schemes are the keys of DRAINAGE.

    >>> drainage_class(25.4), drainage_class(25.4 * 5, scheme="common")
    ('well drained', 'too fast')
    """
    if scheme not in DRAINAGE:
        raise GardenError(f'no drainage scheme "{scheme}"{nearest(scheme, DRAINAGE)}; use one of {", ".join(DRAINAGE)}')
    rate = round(mm_per_hour / INCH_MM, 9)
    if not 0.0 <= rate < math.inf:
        raise GardenError(f"a drainage rate of {mm_per_hour:g} mm/h is not 0 or more; measure the fall of water again")
    name = DRAINAGE[scheme][0][1]
    for start, next_name in DRAINAGE[scheme][1:]:
        if rate > start or (rate == start and name not in UPPER_INCLUDED):
            name = next_name
    return name


# ---- water held


def available_water_mm(texture_class: str, *, root_depth: float, organic_percent: float = 0.0) -> tuple[float, float]:
    """Return the low and high water a plant can draw from ``root_depth`` metres of soil, mm.

    Sources stand beside each texture in AVAILABLE_WATER; organic matter above the soil's own, in percent, adds
    ORGANIC_WATER_MM_PER_M each.
    """
    known_texture(texture_class)
    low, high, _source = AVAILABLE_WATER[texture_class]
    more = organic_percent * ORGANIC_WATER_MM_PER_M
    return (low * INCH_PER_FOOT + more) * root_depth, (high * INCH_PER_FOOT + more) * root_depth


# ---- the record


def _percent(_owner: object, attribute: "attrs.Attribute[float | None]", value: float | None) -> None:
    if value is not None and not 0.0 <= value <= 100.0:
        name = attribute.name.removesuffix("_percent").replace("_", " ")
        raise GardenError(f"{name} {value:g} % in the soil record is outside 0 to 100; correct it or leave it empty")


def _ph(_owner: object, _attribute: "attrs.Attribute[float | None]", value: float | None) -> None:
    if value is not None:
        ph_class(value)


@attrs.frozen(kw_only=True)
class Soil:
    """The soil of a garden or a bed as tested; None means not known.

    Give percentages, or a jar reading, which is used when there are none. ``free_lime`` is True when crumbs fizz in
    vinegar. ``drainage_mm_per_hour`` is from the hole test.
    """

    sand_percent: float | None = attrs.field(default=None, validator=_percent)
    silt_percent: float | None = attrs.field(default=None, validator=_percent)
    clay_percent: float | None = attrs.field(default=None, validator=_percent)
    jar: JarReading | None = None
    ph: float | None = attrs.field(default=None, validator=_ph)
    free_lime: bool | None = None
    drainage_mm_per_hour: float | None = None
    organic_matter_percent: float | None = attrs.field(default=None, validator=_percent)
    source: str = ""


def soil_texture(soil: Soil) -> str | None:
    """Return the texture class of the record, from its percentages or else its jar; None when it has neither."""
    given = (soil.sand_percent, soil.silt_percent, soil.clay_percent)
    known = [share for share in given if share is not None]
    if len(known) == 3:
        return texture(*known)
    if known:
        raise GardenError(
            "the soil record has only some of sand, silt and clay; give all three, or none and a jar reading"
        )
    return texture(*jar_shares(soil.jar)) if soil.jar else None


def shares_of(soil: Soil) -> tuple[float, float, float] | None:
    """Return sand, silt and clay in percent, from the record's percentages or its jar; None when it has neither."""
    if soil.sand_percent is not None and soil.silt_percent is not None and soil.clay_percent is not None:
        return normalised(soil.sand_percent, soil.silt_percent, soil.clay_percent)
    return jar_shares(soil.jar) if soil.jar else None


def soil_findings(soil: Soil, *, where: str = "soil", scheme: str = "Cornell") -> tuple[Finding, ...]:
    """Return advice on the soil: what is not known, what drains badly, what is far from neutral."""
    found = []
    kind = soil_texture(soil)
    if kind is None:
        found.append(
            _finding(where, "the texture is not known; shake a jar of soil and water, or send a sample", "caution")
        )
    elif soil_group(kind) == "clay":
        found.append(_finding(where, f"{kind}: do not dig or walk on it when wet; it packs", source=COMMON))
    elif kind in ("sand", "loamy sand"):
        found.append(
            _finding(where, f"{kind}: dries out fast; water little and often, mulch, add compost", source=COMMON)
        )
    if soil.ph is None:
        found.append(
            _finding(where, "the pH is not known; test it before choosing plants or spreading lime", "caution")
        )
    else:
        found.extend(_ph_findings(soil, soil.ph, where))
    if soil.drainage_mm_per_hour is not None:
        found.extend(_drainage_findings(soil.drainage_mm_per_hour, where, scheme))
    return tuple(found)


# ---- helpers


def _list(values: Sequence[float]) -> str:
    return ", ".join(f"{value:g}" for value in values)


def _finding(
    where: str,
    what: str,
    seriousness: Literal["stop", "warning", "caution", "note"] = "note",
    *,
    why: str = "",
    source: str = "",
) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness=seriousness, topic="soil")


def _ph_findings(soil: Soil, ph: float, where: str) -> list[Finding]:
    name = ph_class(ph)
    if name in ("slightly acid", "neutral"):
        return []
    found = [_finding(where, f"{name}: choose plants that like it", "caution", why=f"pH {ph:.1f}", source=PH_SOURCE)]
    if soil.free_lime:
        what = "the soil holds free lime, so sulphur will not turn it acid; grow lime-haters in containers"
        found.append(_finding(where, what, "warning", why="crumbs fizz in vinegar", source=COMMON))
    return found


def _drainage_findings(rate: float, where: str, scheme: str) -> list[Finding]:
    name = drainage_class(rate, scheme=scheme)
    why, source = f"{rate / INCH_MM:.1f} in ({rate:.0f} mm) an hour", DRAINAGE_SOURCES[scheme]
    if name in ("poor", "slow"):
        what = f"drainage is {name}: raise the bed, drain it, or choose plants for wet ground"
        return [_finding(where, what, "warning", why=why, source=source)]
    if name in TOO_FAST:
        return [
            _finding(where, f"drainage is {name}: plan for drought or more watering", "caution", why=why, source=source)
        ]
    return []
