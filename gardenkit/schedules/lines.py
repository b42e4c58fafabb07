"""One line of the take-off: what, where, how much, and the rule that it was worked out by."""

from typing import Literal

import attrs

from gardenkit.sources import PLAIN
from gardenkit.units import System, show_area, show_length, show_volume, show_weight

Unit = Literal["m3", "m2", "m", "kg", "each"]


@attrs.frozen(kw_only=True)
class Line:
    """One line of the take-off. ``amount`` is in ``unit`` as built or spread; ``area`` m2 it covers, 0 when none;
    ``sheet`` the two sides, m, of what is bought in one piece.
    """

    item: str
    where: str
    amount: float
    unit: Unit
    area: float = 0.0
    count: int = 0
    rule: str = ""
    source: str = PLAIN
    sheet: tuple[float, ...] = ()

    def shown(self, system: System) -> str:
        """Return the amount in the garden's own units."""
        return shown(self.amount, self.unit, system)


def shown(amount: float, unit: Unit, system: System) -> str:
    """Return an amount in people's own units."""
    match unit:
        case "m3":
            return show_volume(amount, system)
        case "m2":
            return show_area(amount, system)
        case "m":
            return show_length(amount, system)
        case "kg":
            return show_weight(amount, system)
    return f"{amount:,.0f}"
