"""What a bed is for, one row a purpose: whether ornamental planting is arranged in it, what it grows, how drawn."""

import attrs

from gardenkit.structure.kinds.rows import look_up


@attrs.frozen(kw_only=True)
class Purpose:
    """One purpose of a bed. Ornamental plants are ``arranged`` only where they belong; ``crops`` go in rows and change
    their bed each year; bark ``mulch`` is spread unless the soil is worked every spring. ``texture`` is drawn on the
    plan.
    """

    name: str
    words: str
    arranged: bool = False
    crops: bool = False
    mulch: bool = False
    texture: str = "mulch"


_ROWS = (
    Purpose(name="ornamental", words="to look at", arranged=True, mulch=True),
    Purpose(name="vegetables", words="vegetables in rows, another family each year", crops=True, texture="furrows"),
    Purpose(name="fruit", words="fruit trees, bushes and strawberries", mulch=True),
    Purpose(name="herbs", words="herbs for the kitchen", mulch=True),
    Purpose(name="cut flowers", words="flowers in rows, to be cut", crops=True, texture="furrows"),
    Purpose(name="left open", words="kept free, nothing planted for now", texture=""),
)
PURPOSES: dict[str, Purpose] = {row.name: row for row in _ROWS}
USUAL = "ornamental"


def purpose_of(name: str) -> Purpose:
    """Return a purpose by name, "" the usual one; raises GardenError naming the nearest known one."""
    return look_up(PURPOSES, name or USUAL, "purpose of a bed")
