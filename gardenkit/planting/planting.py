"""The planting as decided: which plant stands where, when it is planted, and what the designer locked."""

import datetime as dt

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.tuples import lists_as_tuples

HOURS, DAILY_LIGHT = LIGHT_BY = "hours of sun", "daily light"  # what places are judged by for plants
THIS_YEAR = 6  # month: a garden begun until then can be planted in the same year. House value.


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Plant:
    """One plant on the plan. ``number`` never changes and is never used again; ``year`` counts from the first
    planting season, and so does ``until``, the last year in which it stands (None: it stays).
    """

    number: int
    species: str  # botanical name in the catalogue
    at: Point
    year: int = 0
    locked: bool = False
    support: str = ""  # name of the support a climber or trained tree grows on
    note: str = ""
    by_hand: bool = False  # put there by the designer's own hand: no proposal moves it
    until: int | None = None
    group: str = ""  # plants of one group are chosen and moved together
    divided: bool = False  # a part of a plant of the garden, set in its year: it is not bought

    @property
    def stays(self) -> bool:
        """Whether it is to stand for good, and not only until its neighbours have filled their room."""
        return self.until is None

    def is_there(self, year: float) -> bool:
        """Return whether it is in the ground so many years after the first season, from its first to its last one."""
        return year >= self.year and (self.until is None or year < self.until + 1)


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Crop:
    """A vegetable (botanical name) grown in rows on a bed in one ``year`` of the rotation, 0 the first season, on a
    ``share`` of the bed. When the planned years are over they begin anew.
    """

    species: str
    bed: str
    year: int = 0
    share: float = 1.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Price:
    """What the designer's nursery asks for one plant of a kind; takes the place of the house value."""

    species: str
    each: float


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Planting:
    """All plants, and the palette: kinds accepted for the garden whether placed yet or not; ``favourites`` are kinds of
    it that every new palette keeps; ``light_by`` what places are judged by, one of LIGHT_BY.

    ``last_number`` is the highest plant number ever given, so that no number is used again after a plant is removed.
    """

    plants: tuple[Plant, ...] = ()
    palette: tuple[str, ...] = ()
    favourites: tuple[str, ...] = ()
    prices: tuple[Price, ...] = ()
    crops: tuple[Crop, ...] = ()
    first_year: int = 2026
    last_number: int = 0
    light_by: str = HOURS


def first_season(today: dt.date) -> int:
    """Return the year in which a garden that is begun today is planted first.

    >>> first_season(dt.date(2026, 3, 1)), first_season(dt.date(2026, 11, 30))
    (2026, 2027)
    """
    return today.year if today.month <= THIS_YEAR else today.year + 1
