"""Doors, windows and gates: openings in a building, a fence or the boundary."""

from typing import Literal

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.tuples import lists_as_tuples

OpeningKind = Literal["door", "window", "gate"]


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Opening:
    """A door, window or gate: the two ends of its width on the plan, heights above the plan's zero in metres."""

    name: str
    kind: OpeningKind
    start: Point
    end: Point
    sill: float = 0.0
    head: float = 2.0
    on: str = ""  # name of the building or fence, empty for the boundary

    @property
    def middle(self) -> Point:
        """Middle of the opening on the plan."""
        return ((self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2)

    @property
    def width(self) -> float:
        """Width in metres."""
        return float(((self.end[0] - self.start[0]) ** 2 + (self.end[1] - self.start[1]) ** 2) ** 0.5)
