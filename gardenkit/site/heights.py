"""Ground heights as they were measured, one spot at a time."""

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.tuples import lists_as_tuples


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class SpotHeight:
    """One measured ground height: metres above the plan's zero, below is negative."""

    at: Point
    height: float
    name: str = ""
