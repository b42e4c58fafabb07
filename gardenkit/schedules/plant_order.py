"""What a nursery asks of an order: the code a plant is named by, root form, spares, planting season, what else."""

import math
from collections.abc import Iterable
from typing import Literal

import attrs

from gardenkit.planting.species import Species
from gardenkit.planting.substitutes import substitutes
from gardenkit.schedules.plants import PlantLine
from gardenkit.sources import HOUSE, Figure

SPARE = Figure(0.05, "share", f"plants ordered beside those drawn, of kinds of ten and more; {HOUSE}")
SPARE_FROM = 10  # plants of a kind: fewer are ordered as drawn. House value.
LATE = 7  # month north of the equator from which a bulb flowers late and is planted before autumn. House value.
WOODY = ("tree", "conifer", "wall fruit", "shrub", "climber")
ICN, ICNCP = "ICN", "ICN and ICNCP"  # wild and hybrid names; names of cultivars, after 'their' epithet
RootForm = Literal["bulb", "bare root", "root ball", "pot", "plug or pot"]


@attrs.frozen(kw_only=True)
class OrderColumns:
    """What stands beside a line of the plant schedule for the nursery; ``instead`` are botanical names."""

    code: str
    roots: str
    spares: int
    season: str
    instead: tuple[str, ...]


def order_columns(line: PlantLine, among: Iterable[Species]) -> OrderColumns:
    """Return what a nursery asks about one line; ``among`` are the kinds that may be taken instead."""
    species = line.species
    return OrderColumns(
        code=ICNCP if "'" in species.botanical or "‘" in species.botanical else ICN,
        roots=root_form(species, line.size),
        spares=math.ceil(line.bought * SPARE) if line.bought >= SPARE_FROM and species.layer not in WOODY else 0,
        season=planting_season(species),
        instead=tuple(kind.botanical for kind in substitutes(species, among)),
    )


def root_form(species: Species, size: str) -> RootForm:
    """Return how the roots come, for the size that is bought: a pot where the words of the size leave a choice."""
    if species.layer in ("bulb", "tender bulb"):
        return "bulb"
    if "plug" in size or "cell" in size:
        return "plug or pot"
    if "container" in size or "pot" in size:
        return "pot"
    return "bare root" if "bare root" in size else "root ball"


def planting_season(species: Species) -> str:
    """Return when a kind is usually planted, by the seasons of either hemisphere. Common practice, no source."""
    match species.layer:
        case "bulb":
            if species.bloom_start is not None and species.bloom_start >= LATE:
                return "late summer or spring"
            return "autumn"
        case "tender bulb" | "annual":
            return "spring, after the last frost"
        case "grass" | "fern" | "conifer":
            return "spring or early autumn"
    return "autumn or spring; not in frost or high summer"
