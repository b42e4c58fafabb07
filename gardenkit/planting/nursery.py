"""The sizes plants are sold in: container classes with their litres, calliper of trees with the height they come in."""

from collections.abc import Mapping

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue_columns import NURSERY_SIZES
from gardenkit.sources import MEMORY, Figure
from gardenkit.units import FOOT, System

GROWER = "a Colorado grower's list of trade pots, bookcliffgardens.com"
MAKER = "a pot maker's list, second-hand, davesgarden.com/community/forums/t/1290516"
FIELD = "growers' heights by calliper, second-hand, promisekit.org"

# Litres a pot of each class holds: less than its number of gallons. Other makers differ by a tenth and more.
LITRES: Mapping[str, Figure] = {
    "plug": Figure(0.05, "l", MEMORY),
    "#SP4": Figure(0.93, "l", MEMORY),
    "#1": Figure(2.8, "l", GROWER),
    "#2": Figure(6.0, "l", GROWER),
    "#3": Figure(9.0, "l", GROWER),
    "#5": Figure(14.9, "l", GROWER),
    "#7": Figure(23.5, "l", MAKER),
    "#10": Figure(38.0, "l", MEMORY),
    "#15": Figure(54.3, "l", MAKER),
    "#25": Figure(97.3, "l", MAKER),
}
# Metres tall a shade tree of each calliper comes, the middle of the range
HEIGHTS: Mapping[str, Figure] = {
    "1 in cal.": Figure(9 * FOOT, "m", MEMORY),
    "1.5 in cal.": Figure(11 * FOOT, "m", MEMORY),
    "2 in cal.": Figure(13 * FOOT, "m", FIELD),
    "2.5 in cal.": Figure(15 * FOOT, "m", FIELD),
    "3 in cal.": Figure(17 * FOOT, "m", MEMORY),
    "4 ft B&B": Figure(4 * FOOT, "m", "its name"),
    "6 ft B&B": Figure(6 * FOOT, "m", "its name"),
    "8 ft B&B": Figure(8 * FOOT, "m", "its name"),
}
METRIC_POTS = (0.5, 1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 25.0, 50.0, 90.0)  # litres usual where pots go by litres


@attrs.frozen(kw_only=True)
class NurserySize:
    """One size as sold: what its pot holds in litres, or how tall it comes in metres; None where neither is said."""

    name: str
    litres: float | None
    height: float | None

    def words(self, system: System) -> str:
        """Return the size as it is asked for: ``#1`` in gardens of feet, else ``3 L pot``; a tree by its height."""
        if system == "imperial":
            return f"{self.name} (about {self.height:.1f} m)" if self.height is not None else self.name
        if self.height is not None:
            return f"about {self.height:.1f} m tall"
        if self.litres is None or self.litres < METRIC_POTS[0]:
            return self.name
        pot = min(METRIC_POTS, key=lambda one: abs(one - (self.litres or 0.0)))
        return f"{pot:g} L pot"


def nursery_size_named(name: str) -> NurserySize:
    """Return a size by its trade term; GardenError names the nearest known one."""
    if name not in NURSERY_SIZES:
        raise GardenError(f'there is no nursery size "{name}"{nearest(name, NURSERY_SIZES)}')
    litres, height = LITRES.get(name), HEIGHTS.get(name)
    return NurserySize(
        name=name,
        litres=None if litres is None else float(litres),
        height=None if height is None else float(height),
    )
