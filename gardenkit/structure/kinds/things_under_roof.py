"""What stands on a base under a roof of its own: sheds and greenhouses, one row a kind."""

import attrs

from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.placed import (
    ANCHOR,
    BOUNDARY,
    DIG_FIRST,
    GLASS,
    SHED_SIZE,
    TREATED,
    Size,
    ThingKind,
    by_area,
    by_ground,
)
from gardenkit.structure.kinds.rows import Care, Warned
from gardenkit.structure.kinds.surfaces import WALK_BASE
from gardenkit.structure.kinds.thing_forms import LAP, LINING, Form, box, walls
from gardenkit.structure.structure import Thing

PANE, PANE_BAR = 0.61, 0.04  # m: panes of a glass house two feet wide, its bars. House values.
EAVES, OVER = 0.78, 0.08  # of a shed's height that its walls are; m its roof stands out. House values.
DWARF, DWARF_THICK = 0.25, 0.11  # m: the low wall of a glass house. House values.
UNDER = 0.06  # m that a gable begins within the wall, so that the roof lies over it. House value.


def shed(thing: Thing) -> tuple[Form, ...]:
    """Return a boarded shed: its walls, gables at both sides, a roof of two slopes, a door in front."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    eaves = EAVES * h
    wall = walls(attrs.evolve(thing, height=eaves), LINING, "timber", low=0.05, course=LAP)
    under = y - UNDER
    foot = ((-x, -under), (x, -under), (x, under), (-x, under))
    ridge = ((-x, -0.01), (x, -0.01), (x, 0.01), (-x, 0.01))
    return (
        box((-x, x), (-y, y), (0.0, 0.05), "pale stone"),
        *wall,
        Form(foot=foot, head=ridge, low=eaves, high=h - 0.03, material="timber"),
        *(_slope(x + OVER, side * (y + OVER), eaves - 0.05, h) for side in (-1, 1)),
        box((-0.4, 0.4), (y - 0.01, y + 0.02), (0.05, min(1.9, eaves - 0.05)), "dark timber"),
    )


def _slope(x: float, y: float, low: float, high: float) -> Form:
    """Return one slope of a roof, from the eaves at ``y`` up to the ridge."""
    near = 0.88 * y
    foot, head = ((-x, y), (x, y), (x, near), (-x, near)), ((-x, 0.1 * y), (x, 0.1 * y), (x, 0.0), (-x, 0.0))
    return Form(foot=foot, head=head, low=low, high=high, material="felt")


def greenhouse(thing: Thing) -> tuple[Form, ...]:
    """Return a glass house: a low wall, glass to the eaves, a ridge roof with its ridge from front to back."""
    x, y, h = thing.width / 2, thing.depth / 2, thing.height
    eaves = 0.72 * h
    foot = ((-x, -y), (x, -y), (x, y), (-x, y))
    ridge = ((-0.01, -y), (0.01, -y), (0.01, y), (-0.01, y))
    return (
        *walls(attrs.evolve(thing, height=DWARF), DWARF_THICK, "brick"),
        box((-x, x), (-y, y), (DWARF, eaves), "glass"),
        Form(foot=foot, head=ridge, low=eaves, high=h, material="glass"),
        box((-0.38, 0.38), (y, y + 0.02), (0.02, min(1.9, eaves)), "door"),
        *_bars(x, y, eaves, h),
    )


def _bars(x: float, y: float, eaves: float, h: float) -> tuple[Form, ...]:
    """Return the bars of a glass house: upright ones round it, rafters over its sides, its eaves and its ridge."""
    half, panes = PANE_BAR / 2, max(1, round(2 * y / PANE))
    along = [-y + half + k * (2 * y - PANE_BAR) / panes for k in range(panes + 1)]
    sides = [
        box((u * x - half, u * x + half), (v - half, v + half), (DWARF, eaves), "bar") for u in (-1, 1) for v in along
    ]
    gables = [
        box((u - half, u + half), (v * y - half, v * y + half), (DWARF, eaves + (h - eaves) * (1 - abs(u) / x)), "bar")
        for u in (-x / 2, 0.0, x / 2)
        for v in (-1, 1)
        if v < 0 or u
    ]
    rafters = [
        Form(
            foot=(
                (u * x - half, v - half),
                (u * x + half, v - half),
                (u * x + half, v + half),
                (u * x - half, v + half),
            ),
            head=((-half, v - half), (half, v - half), (half, v + half), (-half, v + half)),
            low=eaves,
            high=h,
            material="bar",
        )
        for u in (-1, 1)
        for v in along
    ]
    rails = [box((u * x - half, u * x + half), (-y, y), (eaves - half, eaves + half), "bar") for u in (-1, 1)]
    ends = [box((-x, x), (v * y - half, v * y + half), (eaves - half, eaves + half), "bar") for v in (-1, 1)]
    ridge = box((-half, half), (-y, y), (h - PANE_BAR, h), "bar")
    return (*sides, *gables, *rafters, *rails, *ends, ridge)


ROWS = (
    ThingKind(
        name="shed",
        words="a boarded shed under a roof of two slopes",
        usual=Size(width=2.4, depth=1.8, height=2.2),
        forms=shed,
        counts=by_ground("shed", "walls, floor and roof by the ground it covers"),
        weight=by_area(60.0, heaviest=30.0),
        work="built",
        footed=True,
        base=WALK_BASE,
        room=Figure(0.6, "m", f"to paint and mend its walls; {HOUSE}"),
        permits=(SHED_SIZE, BOUNDARY),
        cautions=(
            TREATED,
            ANCHOR,
            DIG_FIRST,
            Warned(what="keep tools, fuel and what is poisonous locked away from children", source=COMMON),
        ),
        care=(
            Care(months=(9,), task="oil or paint the shed where it wants it", how="dry weather, every few years"),
            Care(months=(4, 11), task="look for leaks in the shed's roof and clear its gutter"),
        ),
    ),
    ThingKind(
        name="greenhouse",
        words="a glass house on a low wall",
        usual=Size(width=1.95, depth=2.55, height=2.3),
        forms=greenhouse,
        counts=by_ground("greenhouse", "frame and glass by the ground it covers"),
        weight=by_area(25.0, heaviest=12.0),
        work="built",
        footed=True,
        base=WALK_BASE,
        room=Figure(0.6, "m", f"to clean and mend the glass; {HOUSE}"),
        permits=(SHED_SIZE, BOUNDARY),
        cautions=(GLASS, ANCHOR, DIG_FIRST),
        care=(
            Care(months=(3,), task="wash the glass inside and out"),
            Care(months=(5, 6, 7, 8), task="shade and air the greenhouse", how="hot days"),
        ),
    ),
)
