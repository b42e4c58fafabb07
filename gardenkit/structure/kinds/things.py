"""Placed things, one row a kind: what each is, how it stands, what it takes, weighs, asks for and needs.

A new kind is one row in ``things_set_down`` or ``things_of_use`` with bodies made by ``thing_forms``, and a price of
each item it takes; ``tests/structure/test_things.py`` asks every row for everything.
"""

from gardenkit.structure.kinds import things_of_use, things_set_down
from gardenkit.structure.kinds.placed import ThingKind
from gardenkit.structure.kinds.rows import look_up

THINGS: dict[str, ThingKind] = {row.name: row for row in (*things_of_use.ROWS, *things_set_down.ROWS)}


def thing_kind(name: str) -> ThingKind:
    """Return a kind of placed thing; raises GardenError naming the nearest known one."""
    return look_up(THINGS, name, "kind of thing")
