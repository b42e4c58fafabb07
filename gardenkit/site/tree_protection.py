"""How far from a tree's stem the ground is left alone while a garden is built, by named rules."""

import math

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.units import FOOT, INCH


@attrs.frozen(kw_only=True)
class RootRule:
    """A named rule: the radius as so many stem diameters, at ``least`` and at ``most`` so many metres."""

    name: str
    times: float
    source: str
    least: float = 0.0
    most: float = math.inf


_ROWS = (
    RootRule(
        name="BS 5837:2012",
        times=12.0,
        most=15.0,
        source="BS 5837:2012, 12 x stem diameter, an area of at most 707 m2, a radius of 15 m; second-hand",
    ),
    RootRule(
        name="18 x stem diameter",
        times=1.5 * FOOT / INCH,
        least=6 * FOOT,
        source="1.5 ft for each inch of stem, 6 ft at least: City of Edina MN, tree protection",
    ),
    RootRule(
        name="15 x stem diameter",
        times=1.25 * FOOT / INCH,
        source="1.25 ft for each inch of stem: NC State Extension, content.ces.ncsu.edu",
    ),
    RootRule(
        name="12 x stem diameter", times=FOOT / INCH, source="1 ft for each inch of stem: Vancouver WA, 20.170.100"
    ),
    RootRule(
        name="AS 4970",
        times=12.0,
        least=2.0,
        most=15.0,
        source="AS 4970, 12 x stem diameter (arborlogix.com.au); 2 m at least and 15 m at most from memory",
    ),
)
ROOT_RULES = {row.name: row for row in _ROWS}
USUAL_RULE = "BS 5837:2012"


def root_rule(name: str) -> RootRule:
    """Return a rule by its name; raises GardenError naming the nearest known one."""
    if name not in ROOT_RULES:
        raise GardenError(f'there is no root protection rule "{name}"{nearest(name, ROOT_RULES)}')
    return ROOT_RULES[name]


def root_protection_radius(stem_diameter: float, rule: str = USUAL_RULE) -> float:
    """Return the radius in metres of the circle round a stem, ``stem_diameter`` metres thick, that is kept clear.

    >>> round(root_protection_radius(0.3), 2)
    3.6
    """
    by = root_rule(rule)
    return min(by.most, max(by.least, by.times * stem_diameter))


def root_protection_area(stem_diameter: float, rule: str = USUAL_RULE) -> float:
    """Return the ground in square metres that the circle holds."""
    return math.pi * root_protection_radius(stem_diameter, rule) ** 2
