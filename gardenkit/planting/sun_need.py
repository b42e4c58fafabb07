"""How many hours of sun a plant needs: the catalogue's full, part and shade, as hours of a named set of sun classes."""

from functools import lru_cache

from gardenkit.planting.species import Species
from gardenkit.site.sun_classes import DEFAULT, sun_class, sun_classes

WORDS = ("shade", "part", "full")  # from the shadiest up
MOST_HOURS = 24.0


def sun_word(hours: float, *, setting: str = DEFAULT) -> str:
    """Return ``full``, ``part`` or ``shade`` for hours of direct sun a day (0 to 24); GardenError for an unknown set.

    >>> sun_word(6), sun_word(5.9), sun_word(2)
    ('full', 'part', 'shade')
    """
    return sun_class(hours, setting=setting).plants


@lru_cache(maxsize=64)
def hours_of(word: str, *, setting: str = DEFAULT) -> tuple[float, float]:
    """Return the least hours of a word and the least of the next sunnier one (24 for full sun)."""
    starts = [min(c.from_hours for c in sun_classes(setting).classes if c.plants == w) for w in WORDS]
    at = WORDS.index(word)
    return starts[at], (*starts, MOST_HOURS)[at + 1]


def least_hours(species: Species, *, setting: str = DEFAULT) -> float:
    """Return the fewest hours of sun a day a plant does acceptably with: those of the darkest word of its range."""
    darkest = next(word for word in WORDS if word in species.sun_range)
    return hours_of(darkest, setting=setting)[0]
