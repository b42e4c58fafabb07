"""Stones of an outline of their own in a path: laid in place of what they would touch, the gap kept round them."""

import attrs

from gardenkit.geometry import plane
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.laying import HAIR, Gap, Laying, Stone, weight_of
from gardenkit.structure.structure import CutStone, Path


def with_cut_stones(laid: Laying, path: Path) -> Laying:
    """Return a laying with the stones of their own outline in it, numbered after the others.

    Whatever lies nearer to one than the least gap (the joint in a field of flagstones) is left out.
    """
    if not path.cut_stones:
        return laid
    field = surface_kind(path.surface).stone == "field"
    least, most = (path.stones.joint,) * 2 if field else (path.stones.gap_low, path.stones.gap_high)
    first = max((stone.number for stone in laid.stones), default=-1) + 1
    cut = tuple(_stone(one, first + k, path) for k, one in enumerate(path.cut_stones))
    shapes = [plane.region(stone.outline) for stone in cut]
    kept = tuple(
        stone
        for stone in laid.stones
        if all(plane.distance(plane.region(stone.outline), shape) >= least - HAIR for shape in shapes)
    )
    numbers = {stone.number for stone in kept}
    found = [gap for gap in laid.gaps if {gap.first, gap.second} <= numbers]
    for stone, shape in zip(cut, shapes, strict=True):
        clear = [(other.number, plane.distance(plane.region(other.outline), shape)) for other in kept]
        found += [Gap(first=number, second=stone.number, clear=far) for number, far in clear if far <= most + HAIR]
    gone = {f"stone {stone.number + 1}" for stone in laid.stones if stone.number not in numbers}
    said = tuple(f for f in laid.findings if not any(f.where.endswith(words) for words in gone))
    return attrs.evolve(laid, stones=(*kept, *cut), gaps=tuple(found), findings=said)


def cut_index(laid: Laying, path: Path, number: int) -> int | None:
    """Return which of a path's stones of their own outline has a number in its laying; None for any other stone."""
    numbers = [stone.number for stone in laid.stones][len(laid.stones) - len(path.cut_stones) :]
    return numbers.index(number) if number in numbers else None


def _stone(one: CutStone, number: int, path: Path) -> Stone:
    region = plane.region(one.outline)
    low_x, low_y, high_x, high_y = plane.bounds(region)
    area = plane.area(region)
    return Stone(
        number=number,
        outline=one.outline,
        at=plane.centre(region),
        turn=0.0,
        across=high_x - low_x,
        along=high_y - low_y,
        area=area,
        weight=weight_of(area, path.stones),
        held=True,
    )
