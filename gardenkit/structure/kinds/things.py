"""Placed things, one row a kind: what each is, how it stands, what it takes, weighs, asks for and needs.

A new kind is one row in a ``things_...`` module with bodies made by ``thing_forms``, and a price of
each item it takes; ``tests/structure/test_things.py`` asks every row for everything.
"""

from gardenkit.structure.kinds import (
    things_drains,
    things_hedges,
    things_lights,
    things_of_use,
    things_ramps,
    things_set_down,
    things_steps,
    things_under_roof,
    things_water,
)
from gardenkit.structure.kinds.placed import ThingKind
from gardenkit.structure.kinds.rows import look_up

ROWS = (
    *things_of_use.ROWS,
    *things_under_roof.ROWS,
    *things_hedges.ROWS,
    *things_set_down.ROWS,
    *things_water.ROWS,
    *things_lights.ROWS,
    *things_drains.ROWS,
    *things_steps.ROWS,
    *things_ramps.ROWS,
)
THINGS: dict[str, ThingKind] = {row.name: row for row in ROWS}


def thing_kind(name: str) -> ThingKind:
    """Return a kind of placed thing; raises GardenError naming the nearest known one."""
    return look_up(THINGS, name, "kind of thing")
