"""Vegetables as crops: how close they stand, when the place's frost lets them out, which families follow which."""

import csv
import datetime as dt
import math
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.planting import Crop
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.units import FOOT

LEAST_BREAK = Figure(
    3, "years", "NC State Extension, Surry County, 2021: four best, shorter still helps; least 3: naturework.com"
)
NO_WALKING = Figure(
    4 * FOOT, "m", f"a bed reached from both sides is no wider, so nobody walks between its rows; {COMMON}"
)
PACKET = Figure(7.5, "m of row", f"a packet of seed sows about 25 ft; {HOUSE}")
REFERENCE_FROST = {"last": "05-01", "first": "10-10"}  # of zone 6, where the place's own is not known. House values.
SOWN = {"seed": "sow", "young plants": "plant out", "sets": "plant", "crowns": "plant"}


@attrs.frozen(kw_only=True)
class CropKind:
    """One vegetable as a crop. Metres: ``in_row`` from plant to plant, ``rows`` between rows one walks between,
    ``close`` each way in a bed that nobody steps in. It is put in from ``first`` to ``last`` weeks after the mean
    ``frost`` named (before: below 0), from ``bought``; raised ``indoors`` so many weeks earlier, ready after ``days``.
    """

    botanical: str
    in_row: float
    rows: float
    close: float
    bought: str
    first: float
    last: float
    frost: str
    indoors: float
    days: tuple[int, int]
    stays: bool
    source: str

    @property
    def does(self) -> str:
        """The word for putting it in."""
        return SOWN[self.bought]


@attrs.frozen(kw_only=True)
class TooSoon:
    """A family that comes back to a bed after ``years``, before the break is over; crops by botanical name."""

    bed: str
    family: str
    before: str
    after: str
    years: int


@cache
def crop_kinds() -> Mapping[str, CropKind]:
    """Return every crop by its botanical name."""
    text = files("gardenkit").joinpath("data/crops.csv").read_text(encoding="utf-8")
    return {row["botanical"]: _kind(row) for row in csv.DictReader(text.splitlines())}


def crop_kind(name: str) -> CropKind:
    """Return one crop; raises GardenError naming the nearest known one."""
    known = crop_kinds()
    if name not in known:
        raise GardenError(f'"{name}" is no crop that the tables know{nearest(name, known)}; choose one of the list')
    return known[name]


def cycle(crops: Iterable[Crop]) -> int:
    """Return after how many years the crops begin anew: the years that are planned, 1 where only one is."""
    return 1 + max((crop.year for crop in crops), default=0)


def sown_in(crops: Iterable[Crop], year: int) -> tuple[Crop, ...]:
    """Return the crops that stand ``year`` years after the first season: the planned years come round again, and what
    stays (asparagus) is there from its own year on.
    """
    listed = tuple(crops)
    turn = year % cycle(listed)
    return tuple(crop for crop in listed if (crop.year <= year if crop_kind(crop.species).stays else crop.year == turn))


def too_soon(crops: Iterable[Crop], catalogue: Catalogue) -> tuple[TooSoon, ...]:
    """Return every family that comes back to a bed before ``LEAST_BREAK`` years are over, the turn of the cycle too."""
    listed = [crop for crop in crops if not crop_kind(crop.species).stays]
    years, found = cycle(listed), dict[tuple[str, str], TooSoon]()
    for one in listed:
        for other in listed:
            family = catalogue[one.species].family
            if one.bed != other.bed or catalogue[other.species].family != family:
                continue
            gap = (other.year - one.year) % years or (years if one == other else 0)
            worse = found.get((one.bed, family))
            if 0 < gap < LEAST_BREAK and (worse is None or gap < worse.years):
                found[one.bed, family] = TooSoon(
                    bed=one.bed, family=family, before=one.species, after=other.species, years=gap
                )
    return tuple(found.values())


def rotated(crops: Iterable[Crop]) -> tuple[Crop, ...]:
    """Return the first year's crops with the years after it: each bed's crops move on to the next bed every year, until
    they are back. What stays, and what else was planned, stays in its bed or gives way.
    """
    listed = tuple(crops)
    first = [crop for crop in listed if crop.year == 0 and not crop_kind(crop.species).stays]
    beds = list(dict.fromkeys(crop.bed for crop in first))
    if len(beds) < 2:
        raise GardenError("crops move over the beds of a set; give two or more beds a crop in the first year")
    moved = [
        attrs.evolve(crop, bed=beds[(beds.index(crop.bed) + year) % len(beds)], year=year)
        for year in range(len(beds))
        for crop in first
    ]
    return (*moved, *(crop for crop in listed if crop_kind(crop.species).stays))


def put_in(
    kind: CropKind, *, last: str, first: str, year: int, shift: float = 0.0, south: bool = False
) -> tuple[dt.date, dt.date]:
    """Return the days from and to which a crop is put in, by the mean ``last`` frost of spring or ``first`` of autumn
    (``MM-DD``, empty: the reference's, moved by ``shift`` days of a later spring and in the ``south`` by half a year).
    """
    given = last if kind.frost == "last" else first
    late = shift if kind.frost == "last" else -shift
    month, date = (given or REFERENCE_FROST[kind.frost]).split("-")
    turned = int(month) if given or not south else (int(month) + 5) % 12 + 1
    day = dt.date(year, turned, min(int(date), 28))
    day = day if given else day + dt.timedelta(days=round(late))
    return day + dt.timedelta(weeks=kind.first), day + dt.timedelta(weeks=kind.last)


def in_a_row(length: float, apart: float) -> int:
    """Return how many plants stand in a row, the first and last half a spacing from its ends; one in any row.

    >>> in_a_row(2.4, 0.3), in_a_row(0.2, 0.6)
    (8, 1)
    """
    return max(1, math.floor(length / apart + 1e-6))


# ---- helpers


def _kind(row: Mapping[str, str]) -> CropKind:
    return CropKind(
        botanical=row["botanical"],
        in_row=float(row["in_row_m"]),
        rows=float(row["rows_m"]),
        close=float(row["close_m"]),
        bought=row["bought"],
        first=float(row["first_weeks"]),
        last=float(row["last_weeks"]),
        frost=row["frost"],
        indoors=float(row["indoors_weeks"]),
        days=(int(row["days_low"]), int(row["days_high"])),
        stays=row["stays"] == "yes",
        source=row["source"] or MEMORY,
    )
