"""How many hours of sun a plant needs: the catalogue's full, part and shade, as hours of a named set of sun classes."""

from functools import lru_cache

from gardenkit.planting.planting import HOURS
from gardenkit.planting.species import Species
from gardenkit.site.daily_light import FULL_SUN
from gardenkit.site.sun_classes import DEFAULT, sun_class, sun_classes

WORDS = ("shade", "part", "full")  # from the shadiest up
MOST_HOURS = 24.0
HOURS_A_MOL = 6.0 / FULL_SUN  # h of sun that a mol/m2 is worth: full sun, and shade, begin at the same hours by both


def sun_word(hours: float, *, setting: str = DEFAULT) -> str:
    """Return ``full``, ``part`` or ``shade`` for hours of direct sun a day (0 to 24); GardenError for an unknown set.

    >>> sun_word(6), sun_word(5.9), sun_word(2)
    ('full', 'part', 'shade')
    """
    return sun_class(hours, setting=setting).plants


def light_words(hours: float, by: str = HOURS) -> str:
    """Return hours of sun in words, or the daily light that is worth as much where ``by`` says that this counts.

    >>> light_words(3), light_words(3, "daily light")
    ('3.0 h of sun a day', '10.0 mol of light a day')
    """
    return f"{light_amount(hours, by)} of {'sun' if by == HOURS else 'light'} a day"


def light_amount(hours: float, by: str = HOURS) -> str:
    """Return the same without what it is of."""
    return f"{hours:.1f} h" if by == HOURS else f"{hours / HOURS_A_MOL:.1f} mol"


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
