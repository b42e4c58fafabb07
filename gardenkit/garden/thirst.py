"""How thirsty plants may be so that the beds keep to so many litres in a year without rain."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from gardenkit.schedules.irrigation import FAMILY, thirst
from gardenkit.site.water import hydrozone_factor, water_need
from gardenkit.structure.kinds import purpose_of

if TYPE_CHECKING:
    from gardenkit.garden import Garden

LEVELS = ("low", "moderate", "high")  # what kinds ask for, as the watering of the beds reads it


def litres_by_thirst(garden: "Garden") -> Mapping[str, float]:
    """Return for each level what a year without rain takes where no plant that is arranged in the beds asks for more.

    What is locked or was put by hand stays, and so does what grows in beds that are not to look at. Empty while the
    climate has no monthly temperatures or there is no bed.
    """
    eto, beds = garden.reference_water, [bed for bed in garden.counted_layout.beds if bed.area > 0]
    if eto is None or not beds:
        return {}
    there = garden.counted_layout.plants_by_bed(garden.counted.planting.plants)
    found = dict.fromkeys(LEVELS, 0.0)
    for bed in beds:
        arranged = purpose_of(bed.purpose).arranged
        staying = [p for p in there[bed.name] if not arranged or p.locked or p.by_hand]
        levels = [thirst(garden.catalogue[plant.species]) for plant in staying]
        for level in LEVELS:
            asked = [*levels, level] if arranged else levels
            if asked:
                factor = hydrozone_factor(asked, family=FAMILY)
                found[level] += sum(water_need(eto.mm_a_day, area=bed.area, factor=factor, rain_method="none"))
    return found


def too_thirsty(garden: "Garden", litres: float) -> tuple[str, ...]:
    """Return the levels of thirst that the beds cannot take within so many litres a year; the lowest is never one."""
    return tuple(level for level, taken in litres_by_thirst(garden).items() if taken > litres and level != LEVELS[0])
