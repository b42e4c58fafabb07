"""The plant schedule: what to buy, how many, at what spacing, where it goes and what it costs."""

import csv
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib.resources import files

import attrs

from gardenkit.findings import Finding
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.divisions import placed_in
from gardenkit.planting.planting import Plant, Price
from gardenkit.planting.species import Species, caution_text
from gardenkit.sources import HOUSE
from gardenkit.units import System

LAYER_ORDER = (
    "tree",
    "conifer",
    "wall fruit",
    "climber",
    "shrub",
    "perennial",
    "grass",
    "fern",
    "ground cover",
    "bulb",
    "tender bulb",
    "annual",
)  # from the frame of the garden down to its carpet, the order a schedule is read in


@attrs.frozen(kw_only=True)
class PlantLine:
    """One line of the plant schedule. ``price`` is for one plant; ``priced`` says who set it. Of the ``count`` on the
    plan ``divided`` are parts of plants of the garden, set in later years: they are not bought, unless the plants that
    they were to come from are gone.
    """

    key: str
    species: Species
    count: int
    beds: tuple[str, ...]
    size: str
    price: float
    priced: str
    divided: int = 0

    @property
    def bought(self) -> int:
        """How many of them are bought."""
        return self.count - self.divided

    @property
    def cost(self) -> float:
        """Cost of the line."""
        return self.bought * self.price


def plant_schedule(
    plants: Iterable[Plant],
    catalogue: Catalogue,
    keys: Mapping[str, str],
    *,
    beds: Mapping[int, str] | None = None,
    prices: Sequence[Price] = (),
    system: System = "imperial",
) -> tuple[PlantLine, ...]:
    """Return the schedule in layer order.

    ``keys`` gives the plan's key of each botanical name, ``beds`` the bed of each plant number.
    """
    placed: dict[str, list[Plant]] = {}
    for plant in plants:
        placed.setdefault(catalogue[plant.species].botanical, []).append(plant)
    known = {price.species: price.each for price in prices}
    lines = []
    for name, group in placed.items():
        species = catalogue[name]
        where = sorted({beds[p.number] for p in group if beds and p.number in beds})
        each, size = usual_price(species, system)
        lines.append(
            PlantLine(
                key=keys.get(name, ""),
                species=species,
                count=len(group),
                beds=tuple(where),
                size=size,
                price=known.get(name, each),
                priced="designer" if name in known else HOUSE,
                divided=sum(given.for_nothing for _, given in placed_in(species, group)),
            )
        )
    return tuple(sorted(lines, key=lambda line: (LAYER_ORDER.index(line.species.layer), line.species.botanical)))


def usual_price(species: Species, system: System = "imperial") -> tuple[float, str]:
    """Return a usual price for one plant and the size it is bought at: house values by layer and price class.

    Pots go by gallons or by litres, whichever the ``system`` measures in.
    """
    row = _prices()[species.layer]
    return float(row[f"class_{species.price}"]), row["size" if system == "imperial" else "metric_size"]


def total_cost(lines: Iterable[PlantLine]) -> float:
    """Return the cost of all lines."""
    return sum(line.cost for line in lines)


def plant_cautions(lines: Iterable[PlantLine]) -> tuple[Finding, ...]:
    """Return a caution for every plant listed as toxic or invasive; silence about a plant never means it is safe."""
    found = []
    for line in lines:
        species = line.species
        if species.toxic_to or species.invasive:
            found.append(
                Finding(
                    where=species.botanical,
                    what=caution_text(species),
                    source=species.caution_source,
                    seriousness="warning" if species.toxicity == "severe" or species.invasive else "caution",
                    topic="plant cautions",
                )
            )
    return tuple(found)


@cache
def _prices() -> dict[str, dict[str, str]]:
    text = files("gardenkit").joinpath("data/prices.csv").read_text(encoding="utf-8")
    return {row["layer"]: row for row in csv.DictReader(text.splitlines())}
