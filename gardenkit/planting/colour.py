"""Colours beside each other: how different two are to the eye, and whether what flowers together sits well together."""

import math
from collections.abc import Iterable, Mapping
from functools import lru_cache
from itertools import pairwise

import attrs
import numpy as np
from coloraide import Color

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.planting.bloom import BloomRow, colours_by_month
from gardenkit.planting.season import MONTHS
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, MEMORY, Figure

Lab = tuple[float, float, float]
WHEELS: dict[str, str] = {
    "CIELAB hue": "hue angle of CIELAB, D65: red lies opposite a blue-green",
    "painters": "red, yellow, blue evenly spaced: opposite are red and green, yellow and purple, blue and orange",
}
# Painters' wheel: where the hue angle of a screen colour (hue, saturation, value) falls on it, straight lines between.
# House value: the six screen hues that painters' tables call red, orange, yellow, green, blue, purple.
PAINTERS = ((0.0, 0.0), (30.0, 60.0), (60.0, 120.0), (120.0, 180.0), (240.0, 240.0), (300.0, 300.0), (360.0, 360.0))

# Spokes in degrees from the first hue, simplest first; wheel geometry, from memory, to be confirmed.
HARMONIES: Mapping[str, tuple[float, ...]] = {
    "monochromatic": (0.0,),
    "analogous": (-15.0, 0.0, 15.0),  # with 15 either side: all within 30 of one hue
    "complementary": (0.0, 180.0),
    "split-complementary": (0.0, 150.0, 210.0),
    "triadic": (0.0, 120.0, 240.0),
    "square": (0.0, 90.0, 180.0, 270.0),
    "rectangle": (0.0, 60.0, 180.0, 240.0),
}
HARMONY_SOURCE = f"wheel geometry; {MEMORY}"
NEAR_SPOKE = Figure(15.0, "degrees", HOUSE)  # a hue this near a spoke counts as on it
OFF_SPOKE = Figure(45.0, "degrees", HOUSE)  # a mean miss of this much is no harmony at all
NEUTRAL = Figure(15.0, "CIELAB chroma", HOUSE)  # below it white, cream, grey: goes with everything
ALIKE = Figure(11.0, "CIEDE2000", HOUSE)  # two colours nearer than this are taken for one
UNLIKE = Figure(45.0, "CIEDE2000", HOUSE)  # at this distance a colour has nothing of the palette


@attrs.frozen(kw_only=True)
class Harmony:
    """How some hues sit on a wheel: the scheme nearest to them, and ``fit`` from 1 (on its spokes) to 0."""

    scheme: str
    fit: float
    wheel: str
    hues: tuple[float, ...] = ()


@lru_cache(maxsize=4096)
def lab(colour: str) -> Lab:
    """Return CIELAB (D65, 2 degrees) lightness, a and b of a colour ``#rrggbb``; GardenError for anything else."""
    try:
        light, a, b = Color(colour).convert("lab-d65").coords()
    except ValueError as fault:
        raise GardenError(f'"{colour}" is not a colour; write it as #rrggbb, for example #c03a5b') from fault
    return float(light), float(a), float(b)


def lab_difference(first: Lab, second: Lab) -> float:
    """Return CIEDE2000 of two CIELAB colours (Sharma, Wu, Dalal 2005); 1 is just noticeable."""
    return float(Color("lab-d65", first).delta_e(Color("lab-d65", second), method="2000"))


@lru_cache(maxsize=65536)
def difference(first: str, second: str) -> float:
    """Return CIEDE2000 of two colours ``#rrggbb``.

    >>> round(difference("#ff0000", "#ffa500"), 1)
    33.8
    """
    return lab_difference(lab(first), lab(second))


def chroma(colour: str) -> float:
    """Return how strong a colour is: 0 grey, above 60 vivid."""
    _, a, b = lab(colour)
    return math.hypot(a, b)


def is_neutral(colour: str) -> bool:
    """Return whether a colour is white, cream or grey and goes with everything."""
    return chroma(colour) < NEUTRAL


def hue(colour: str, *, wheel: str = "CIELAB hue") -> float:
    """Return the colour's place on a named wheel in degrees, 0 to 360; GardenError for an unknown wheel."""
    if wheel not in WHEELS:
        raise GardenError(f'there is no colour wheel "{wheel}"{nearest(wheel, WHEELS)}; use {" or ".join(WHEELS)}')
    _, a, b = lab(colour)
    if wheel == "CIELAB hue":
        return math.degrees(math.atan2(b, a)) % 360
    angle = float(Color(colour).convert("hsv").coords()[0])
    return 0.0 if math.isnan(angle) else _on_painters(angle % 360)


def harmony(colours: Iterable[str], *, wheel: str = "CIELAB hue") -> Harmony:
    """Return the simplest scheme whose spokes hold every hue within 15 degrees, or the nearest one with its fit.

    Neutrals are left out; one hue or none is monochromatic with fit 1.
    """
    hues = tuple(dict.fromkeys(round(hue(c, wheel=wheel), 1) for c in colours if not is_neutral(c)))
    tried = [(scheme, *_miss(hues, spokes)) for scheme, spokes in HARMONIES.items()]
    on = next((t for t in tried if t[2] <= NEAR_SPOKE), None)
    scheme, mean, _ = on or min(tried, key=lambda t: t[1])
    fit = 1.0 if on else max(0.0, 1.0 - mean / float(OFF_SPOKE))
    return Harmony(scheme=scheme, fit=fit, wheel=wheel, hues=hues)


def harmony_by_month(rows: Iterable[BloomRow], *, wheel: str = "CIELAB hue") -> dict[int, Harmony]:
    """Return the harmony of what flowers together in each month that has flowers."""
    return {m: harmony(colours, wheel=wheel) for m, colours in colours_by_month(rows).items() if colours}


def harmony_findings(rows: Iterable[BloomRow], *, wheel: str = "CIELAB hue", least: float = 0.5) -> tuple[Finding, ...]:
    """Return a note for each month whose flowers follow no scheme; taste decides, so never more than a note."""
    return tuple(
        Finding(
            where=f"flowers in {MONTHS[month - 1]}",
            what=f"{len(found.hues)} hues flower together and follow no simple scheme; nearest is {found.scheme}",
            why=f"fit {found.fit:.2f} of 1 on the {wheel} wheel",
            source=HARMONY_SOURCE,
            topic="colour",
        )
        for month, found in harmony_by_month(rows, wheel=wheel).items()
        if found.fit < least
    )


def plant_colours(species: Species) -> tuple[str, ...]:
    """Return what one sees of a plant: its flower colours, or its summer leaves when the flower does not matter."""
    return species.flower_colours or tuple(c for c in (species.foliage_summer or species.foliage_spring,) if c)


def palette_distance(species: Species, palette: Iterable[str]) -> float:
    """Return how far a plant's colours are from a palette: the mean of their least CIEDE2000; 0 with no palette."""
    wanted, seen = tuple(palette), plant_colours(species)
    if not wanted or not seen:
        return 0.0
    return sum(min(difference(c, w) for w in wanted) for c in seen) / len(seen)


def palette_fit(species: Species, palette: Iterable[str]) -> float:
    """Return 1 when a plant's colours are the palette's to the eye, falling to 0 at CIEDE2000 45. House values."""
    run = (palette_distance(species, palette) - ALIKE) / (UNLIKE - ALIKE)
    return min(1.0, max(0.0, 1.0 - run))


# ---- helpers


def _on_painters(angle: float) -> float:
    for (h0, p0), (h1, p1) in pairwise(PAINTERS):
        if angle <= h1:
            return (p0 + (angle - h0) * (p1 - p0) / (h1 - h0)) % 360
    return 0.0


def _miss(hues: tuple[float, ...], spokes: tuple[float, ...]) -> tuple[float, float]:
    """Return the mean and the greatest angle from each hue to its nearest spoke, the wheel turned to suit them best."""
    if len(hues) < 2:
        return 0.0, 0.0
    found, arms = np.asarray(hues), np.asarray(spokes)
    bases = (found[:, None] - arms).reshape(-1, 1) + np.arange(-15, 16, 5)
    turned = bases.reshape(-1, 1, 1) + arms  # (ways to turn the wheel, 1, spokes)
    off = np.abs((found[:, None] - turned + 180) % 360 - 180).min(axis=2)  # (ways, hues)
    worst, mean = off.max(axis=1), off.mean(axis=1)
    best = np.lexsort((mean, worst))[0]
    return float(mean[best]), float(worst[best])
