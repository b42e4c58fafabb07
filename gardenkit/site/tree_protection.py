"""How far from a tree's stem the ground is left alone while a garden is built."""

import math

from gardenkit.sources import Figure

RULE = "BS 5837:2012, 12 x stem diameter"
STEM_DIAMETERS = Figure(12.0, "stem diameters", f"{RULE}; second-hand")
MOST = Figure(15.0, "m", "BS 5837:2012: an area of at most 707 m2, a radius of 15 m; second-hand")


def root_protection_radius(stem_diameter: float) -> float:
    """Return the radius in metres of the circle round a stem, ``stem_diameter`` metres thick, that is kept clear.

    >>> round(root_protection_radius(0.3), 2)
    3.6
    """
    return min(float(MOST), STEM_DIAMETERS * stem_diameter)


def root_protection_area(stem_diameter: float) -> float:
    """Return the ground in square metres that the circle holds."""
    return math.pi * root_protection_radius(stem_diameter) ** 2
