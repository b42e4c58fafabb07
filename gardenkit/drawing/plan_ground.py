"""What lies on the ground: open ground, beds, paths with their stones, lawns, patios and ponds."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish, text_width
from gardenkit.drawing.plan_ramps import RampDrawn, ramp_marks
from gardenkit.drawing.plan_steps import FlightDrawn, flight_marks
from gardenkit.drawing.scene import Area, Hatch, Layer, Mark, Ring, on_ground
from gardenkit.drawing.textures import bond_marks, texture
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point, Region
from gardenkit.structure.kinds import bond_kind, ground_kind, purpose_of, surface_kind
from gardenkit.structure.kinds.rows import Ground
from gardenkit.structure.structure import GroundArea

PATH_EDGE = "#6f6a58"
SPOTS = 9  # places tried across and up for a name. House value.


@attrs.frozen(kw_only=True)
class PathDrawn:
    """A path worked out: its ground, its surface, the stones (number, outline) that lie in it, its steps and ramps."""

    name: str
    region: Region
    surface: str = "stepping stones"
    stones: tuple[tuple[str, Outline], ...] = ()
    flights: tuple[FlightDrawn, ...] = ()
    ramps: tuple[RampDrawn, ...] = ()
    bond: str = ""
    edges: tuple[Line, ...] | None = None  # None: all round; else less where it opens into another path


def region_rings(region: Region) -> tuple[Ring, ...]:
    """Return the rings of a region as a drawing holds them."""
    return tuple(tuple(ring) for ring in plane.rings(region))


def ground_marks(region: Region) -> tuple[Mark, ...]:
    """Return the open ground of the plot, under everything else."""
    if region.is_empty:
        return ()
    return (Area(rings=region_rings(region), fill=style.GROUND["open ground"], layer="ground"),)


def bed_marks(
    beds: Iterable[tuple[str, Region]],
    *,
    scale: float,
    textures: bool = True,
    purposes: Mapping[str, str] | None = None,
) -> tuple[Mark, ...]:
    """Return beds (name, region) as worked ground with a light edge, drawn by what each is for (its ``purposes`` by
    name).
    """
    known = purposes or {}
    return tuple(
        mark
        for number, (name, region) in enumerate(beds)
        if not region.is_empty
        for mark in _bed_marks(name, region, number, scale, textures, known.get(name, ""))
    )


@lru_cache(maxsize=1024)
def _bed_marks(name: str, region: Region, number: int, scale: float, textures: bool, purpose: str) -> tuple[Mark, ...]:
    """Return the marks of one bed; remembered, as most beds stay the same while one path moves."""
    tip = f"{name}: {plane.area(region):.1f} m²" + (f", for {purpose}" if purpose else "")
    kind = purpose_of(purpose).texture
    worked = texture(region, kind, scale=scale, seed=number + 3) if textures and kind else ()
    return (_ground(region, style.GROUND["bed"], style.EDGE * 0.8, tip, stroke="#8d7658"), *worked)


def ground_area_marks(
    ground_areas: Iterable[GroundArea], *, scale: float, textures: bool = True, within: Region | None = None
) -> tuple[Mark, ...]:
    """Return lawns, patios, gravel and ponds, cut to ``within`` when given (what the path leaves of them)."""
    marks: list[Mark] = []
    for number, ground_area in enumerate(ground_areas):
        region: Region = plane.region(ground_area.outline)
        if within is not None:
            region = plane.intersection(region, within)
        if region.is_empty:
            continue
        tip = f"{ground_area.name}: {ground_area.kind}, {plane.area(region):.1f} m²"
        look = ground_kind(ground_area.kind).ground
        weight = style.BUILT if look.heavy or ground_area.edging else style.EDGE
        marks.append(_ground(region, _paved(look, ground_area.bond), weight, tip))
        if textures:
            bonded = bond_marks(region, ground_area.bond, scale=scale) if look.texture == "paving" else ()
            marks += bonded or texture(region, look.texture, scale=scale, seed=number + 41)
        if look.inner_line:
            inner = plane.grown(region, -on_ground(1.2, scale))
            if not inner.is_empty:
                marks.append(Area(rings=region_rings(inner), stroke="#5b8796", width_mm=style.RIB))
    return tuple(marks)


def _paved(look: Ground, bond: str) -> str:
    """Return the colour of a kind of ground, where it is paved that of what its bond is laid of."""
    return style.LAID[bond_kind(bond).unit] if bond and look.texture == "paving" else style.GROUND[look.plan]


@lru_cache(maxsize=256)
def path_marks(path: PathDrawn, *, scale: float, textures: bool = True) -> tuple[Mark, ...]:
    """Return a path: its bed by surface, its edges, every stone as it lies, its steps."""
    if path.region.is_empty:
        return ()
    tip = f"{path.name}: {path.surface}, {plane.area(path.region):.1f} m²"
    look = surface_kind(path.surface).ground
    edge, fill = style.PLANT if look.fine else style.EDGE, _paved(look, path.bond)
    closed = path.edges is None
    marks: list[Mark] = [_ground(path.region, fill, edge, tip, layer="paths", stroke=PATH_EDGE if closed else None)]
    if path.edges:
        marks.append(Hatch(lines=path.edges, colour=PATH_EDGE, width_mm=edge, layer="paths"))
    if textures and look.texture:
        bare = (
            plane.difference(path.region, plane.union(plane.region(o) for _, o in path.stones))
            if path.stones
            else path.region
        )
        bonded = bond_marks(bare, path.bond, scale=scale, layer="paths") if look.texture == "paving" else ()
        marks += bonded or texture(bare, look.texture, scale=scale, seed=7, layer="paths")
    marks += stone_marks(path.stones, textures=textures)
    marks += [*flight_marks(path.flights, scale=scale), *ramp_marks(path.ramps)]
    return tuple(marks)


def stone_marks(stones: Sequence[tuple[str, Outline]], *, textures: bool = True) -> tuple[Mark, ...]:
    """Return stones (name, outline) in four close greys, each with a fine crack."""
    marks: list[Mark] = []
    for number, (name, outline) in enumerate(stones):
        grey = style.STONES[(number * 7 + number // 3) % len(style.STONES)]
        marks.append(
            Area(rings=(outline,), fill=grey, stroke=style.STONE_EDGE, width_mm=style.STONE, layer="paths", tip=name)
        )
    if textures and stones:
        cracks = tuple(_crack(outline, number) for number, (_, outline) in enumerate(stones))
        marks.append(Hatch(lines=cracks, colour=style.STONE_CRACK, width_mm=style.FLECK, layer="paths"))
    return tuple(marks)


def _crack(outline: Outline, number: int) -> Ring:
    """Return a short broken line on a stone, between its middle and two of its corners."""
    x = sum(p[0] for p in outline) / len(outline)
    y = sum(p[1] for p in outline) / len(outline)
    a, b = outline[number % len(outline)], outline[(number + 2) % len(outline)]
    return tuple((x + s * (p[0] - x), y + s * (p[1] - y)) for p, s in ((a, 0.62), (a, 0.3), (b, 0.34)))


def bed_names(beds: Iterable[tuple[str, Region]], *, scale: float) -> tuple[Wish, ...]:
    """Return the bed names as labels that want a place, in the largest letters on the plan."""
    wishes = []
    for name, region in beds:
        if region.is_empty:
            continue
        wishes.append(_name(name.upper(), region, scale, style.BED_LETTERS, rank=2))
    return tuple(wishes)


def ground_area_names(ground_areas: Iterable[GroundArea], *, scale: float) -> tuple[Wish, ...]:
    """Return the names of lawns, patios and ponds as labels that want a place."""
    return tuple(
        _name(ground_area.name, plane.region(ground_area.outline), scale, style.NOTE_LETTERS, rank=3, italic=True)
        for ground_area in ground_areas
    )


@lru_cache(maxsize=1024)
def _name(text: str, region: Region, scale: float, size_mm: float, *, rank: int, italic: bool = False) -> Wish:
    middle, room = plane.inscribed_circle(region, tolerance=0.05)
    tight = on_ground(text_width(text, size_mm, bold=not italic), scale) > 2.2 * room
    size_mm *= 0.85 if tight else 1.0
    wide, high = on_ground(text_width(text, size_mm, bold=not italic), scale), on_ground(size_mm, scale)
    return Wish(
        text=text,
        at=middle,
        clear=room * 0.6,
        size_mm=size_mm,
        rank=rank,
        bold=not italic,
        italic=italic,
        path=_roomy_spots(region, middle, wide, high),
        stay=True,
    )


def _roomy_spots(region: Region, middle: Point, wide: float, high: float) -> tuple[Point, ...]:
    """Return further points of a region where a name of that size fits inside it, those near the middle first."""
    low_x, low_y, high_x, high_y = plane.bounds(region)
    xs, ys = np.linspace(low_x, high_x, SPOTS + 2)[1:-1], np.linspace(low_y, high_y, SPOTS + 2)[1:-1]
    spots = np.stack(np.meshgrid(xs, ys), axis=2).reshape(-1, 2)
    reach = np.array([(0, 0), (-1, -1), (1, -1), (1, 1), (-1, 1)]) * (wide / 2, high / 2)
    held = plane.inside(region, (spots[:, None, :] + reach).reshape(-1, 2)).reshape(len(spots), len(reach))
    fits = spots[held.all(axis=1)] if held.all(axis=1).any() else spots[held[:, 0]]
    near = np.hypot(fits[:, 0] - middle[0], fits[:, 1] - middle[1]).argsort()
    return tuple((float(x), float(y)) for x, y in fits[near])


def _ground(
    region: Region,
    fill: str,
    width_mm: float,
    tip: str,
    *,
    layer: Layer = "ground",
    stroke: str | None = style.SOFT_INK,
) -> Area:
    return Area(rings=region_rings(region), fill=fill, stroke=stroke, width_mm=width_mm, layer=layer, tip=tip)
