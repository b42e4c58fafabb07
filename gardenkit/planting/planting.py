"""The planting as decided: which plant stands where, when it is planted, and what the designer locked."""

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.tuples import lists_as_tuples


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Plant:
    """One plant on the plan. ``number`` never changes and is never used again; ``year`` counts from the first
    planting season.
    """

    number: int
    species: str  # botanical name in the catalogue
    at: Point
    year: int = 0
    locked: bool = False
    support: str = ""  # name of the support a climber or trained tree grows on
    note: str = ""
    by_hand: bool = False  # put there by the designer's own hand: no proposal moves it


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Price:
    """What the designer's nursery asks for one plant of a kind; takes the place of the house value."""

    species: str
    each: float


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Planting:
    """All plants, and the palette: kinds accepted for the garden whether placed yet or not; ``favourites`` are kinds of
    it that every new palette keeps.

    ``last_number`` is the highest plant number ever given, so that no number is used again after a plant is removed.
    """

    plants: tuple[Plant, ...] = ()
    palette: tuple[str, ...] = ()
    favourites: tuple[str, ...] = ()
    prices: tuple[Price, ...] = ()
    first_year: int = 2026
    last_number: int = 0
