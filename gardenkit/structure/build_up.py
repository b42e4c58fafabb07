"""What goes under and between the stones of a path: how deep to dig, how much base, bedding, joint filling and stone to
order.
"""

import math

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.sources import Figure
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.kinds.placed import GRAVEL
from gardenkit.structure.kinds.surfaces import DRIVE_BASE, Layers, overdig
from gardenkit.structure.laying import Laying
from gardenkit.structure.structure import StoneChoice
from gardenkit.units import INCH, POUND, System, as_built

TON = 2000 * POUND  # kg, US short ton, exact
WASTE = Figure(0.10, "share", "Guide to Estimating Stone: 10-25 % waste on natural stone; 10 % for irregular flags")


@attrs.frozen(kw_only=True)
class TakeOff:
    """Quantities of one path: areas m2, volumes m3 as built (compacted material: order 10 % more), ``edging`` m, stone
    kg.

    ``joint_area`` is the ground between stones, where creeping plants can grow or joint filling goes.
    """

    area: float
    edging: float
    base_area: float
    base: float
    bedding: float
    surface: float
    stone_area: float
    stone_weight: float
    joint_area: float
    joint: float
    dug: float


@attrs.frozen(kw_only=True)
class Cut:
    """One stone of the cut list: the least rectangle it is cut from, in metres, and its weight in kg when cut."""

    number: int
    across: float
    along: float
    thickness: float
    weight: float


def layers_for(surface: str, *, drive: bool = False, units: System = "imperial") -> Layers:
    """Return the usual layers under a path surface, in round millimetres for a metric garden; ``drive`` for paving that
    carries a car.
    """
    usual = surface_kind(surface).layers
    if drive and usual.base:
        usual = attrs.evolve(usual, base=DRIVE_BASE, overdig=overdig(DRIVE_BASE))
    if units == "imperial":
        return usual
    return Layers(
        base=as_built(usual.base, units),
        bedding=as_built(usual.bedding, units),
        surface=as_built(usual.surface, units),
        overdig=as_built(usual.overdig, units),
    )


def take_off(
    region: Region,
    surface: str,
    laying: Laying,
    choice: StoneChoice,
    *,
    layers: Layers | None = None,
    sides: float | None = None,
) -> TakeOff:
    """Return the quantities of a path whose surface is ``region`` (m2) with its stones as laid.

    ``sides`` is the length to be edged in metres, the whole perimeter without it. Stepping stones are bedded stone by
    stone; every other surface over its whole region.
    """
    depth, stones = layers or layers_for(surface), surface_kind(surface).stone
    area, stone = plane.area(region), laying.area
    base_area = plane.area(plane.grown(region, depth.overdig)) if depth.overdig else area
    solid = stones == "slabs"
    bedded = stone if stones == "single" else area
    between = 0.0 if solid or not laying.stones else max(0.0, area - stone)
    thickness = choice.thickness if laying.stones or solid else 0.0
    base, bedding, loose = base_area * depth.base, bedded * depth.bedding, area * depth.surface
    filled = between * thickness if stones == "field" else 0.0
    top = (area if solid else stone + (between if stones == "field" else 0.0)) * thickness
    return TakeOff(
        area=area,
        edging=plane.perimeter(region) if sides is None else sides,
        base_area=base_area if depth.base else 0.0,
        base=base,
        bedding=bedding,
        surface=loose,
        stone_area=area if solid else stone,
        stone_weight=area * thickness * choice.density if solid else laying.weight,
        joint_area=between,
        joint=filled,
        dug=base + bedding + loose + top,
    )


def cut_list(laying: Laying, choice: StoneChoice, *, to: float = 1 * INCH) -> tuple[Cut, ...]:
    """Return the stones with the rectangle each is cut from, its sides rounded up to ``to`` metres, largest first."""
    thick = choice.thickness
    cuts = [
        Cut(number=s.number, across=_up(s.across, to), along=_up(s.along, to), thickness=thick, weight=s.weight)
        for s in laying.stones
    ]
    return tuple(sorted(cuts, key=lambda c: (-c.across * c.along, c.number)))


def gravel_tons(area: float, depth: float) -> float:
    """Return US tons of gravel for ``area`` m2 at ``depth`` m (1 ton = 20 cu ft), before compaction."""
    return area * depth * float(GRAVEL) / TON


def _up(value: float, to: float) -> float:
    return math.ceil(round(value / to, 6)) * to
