"""The plan: everything the garden holds, put together as one drawing from above."""

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.furniture import FOOT, STRIP_MM, Units, furniture, legend
from gardenkit.drawing.labels import RINGS_MM, Placed, Wish, drifts, label_box, place, text_width
from gardenkit.drawing.legend import KEYS, NAMES
from gardenkit.drawing.masses import mass_marks
from gardenkit.drawing.overlays import (
    contour_marks,
    finding_marks,
    isovist_marks,
    shadow_marks,
    sun_legend,
    sun_marks,
    survey_marks,
    survey_names,
)
from gardenkit.drawing.plan_ground import (
    PathDrawn,
    bed_marks,
    bed_names,
    ground_area_marks,
    ground_area_names,
    path_marks,
    stone_marks,
)
from gardenkit.drawing.plan_site import site_marks, site_names
from gardenkit.drawing.plan_structure import seat_marks, structure_names, support_marks
from gardenkit.drawing.plan_things import thing_marks, thing_names
from gardenkit.drawing.scene import (
    Area,
    Bounds,
    Hatch,
    Label,
    Mark,
    Scene,
    Stroke,
    grown_bounds,
    in_units,
    on_ground,
    plain,
)
from gardenkit.drawing.symbols import PlantDrawn, plant_symbol
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.site.site import Site
from gardenkit.structure.kinds import standing_supports
from gardenkit.structure.structure import GroundArea, Seat, Support, Thing
from gardenkit.units import counted

__all__ = [
    "PathDrawn",
    "PlantDrawn",
    "bed_marks",
    "bed_names",
    "contour_marks",
    "finding_marks",
    "furniture",
    "ground_area_marks",
    "isovist_marks",
    "path_marks",
    "plan_bounds",
    "plan_scene",
    "plant_labels",
    "plant_marks",
    "screen_scale",
    "seat_marks",
    "shadow_marks",
    "site_marks",
    "stone_marks",
    "sun_legend",
    "sun_marks",
    "support_marks",
    "survey_marks",
    "survey_names",
]

EMPTY_GROUND = 40.0  # m either way that the plan of a garden without a boundary shows. House value.
MARGIN_MM = 8.0  # paper round the boundary
LEGEND_MM = 6.5  # one line of legend
# How far a name on a screen is led aside, in rings of ``labels``; further it is left out. House value.
SCREEN_RINGS = 4
LEAST_SHARE, LEAST_OF_KIND = 1.5, 0.7  # of a key's own size, that a drift covers to have one on a screen. House values.
MANY_DRIFTS = 45  # drifts on one plan from which a screen leaves out the smallest labels. House value.
GROUND_LAYER = ("ground cover", "bulb", "tender bulb", "annual", "perennial", "fern", "grass")
PIXEL_MM = 25.4 / 96  # a CSS pixel


def plan_scene(
    *,
    site: Site,
    title: str,
    paths: Sequence[PathDrawn] = (),
    around: Sequence[Point] = (),
    beds: Sequence[tuple[str, Region]] = (),
    purposes: Mapping[str, str] | None = None,
    ground_areas: Sequence[GroundArea] = (),
    seats: Sequence[Seat] = (),
    supports: Sequence[Support] = (),
    things: Sequence[Thing] = (),
    plants: Sequence[PlantDrawn] = (),
    extra: Sequence[Mark] = (),
    wishes: Sequence[Wish] = (),
    legend_rows: Sequence[tuple[str, str]] = (),
    legend_title: str = "",
    scale: float = 48.0,
    units: Units = "imperial",
    month: int | None = None,
    textures: bool = True,
    names: bool = True,
    to_scale: bool = True,
    massed: bool = False,
    description: str = "",
    lit: bool = True,
) -> Scene:
    """Return the whole plan as a scene for a sheet at 1 : scale.

    ``extra`` marks (sun, contours, shadows, sightlines) go to the layer they name, ``wishes`` are further labels,
    ``legend_rows`` (colour, words) stand below, e.g. ``sun_legend()``. For a screen pass ``scale=screen_scale(...)``
    and ``to_scale=False``; ``around``: further places it has to show; ``massed`` is for small pictures: what touches of
    one kind is one shape, and nothing stands below; ``lit``: with the ground that lamps light.
    """
    bounds = plan_bounds(site, beds=beds, around=around, scale=scale)
    taken = plane.union([p.region for p in paths]) if paths else None
    open_ground = plane.difference(plane.region(site.boundary), taken) if taken is not None and site.boundary else None
    marks: list[Mark] = [*site_marks(site, scale=scale, month=month)]
    marks += bed_marks(beds, scale=scale, textures=textures, purposes=purposes)
    marks += ground_area_marks(ground_areas, scale=scale, textures=textures, within=open_ground)
    for path in paths:
        marks += path_marks(path, scale=scale, textures=textures)
    marks += [
        *seat_marks(seats),
        *thing_marks(things, lit=lit),
        *support_marks(standing_supports(supports, site.openings), units),
        *(mass_marks(plants) if massed else plant_marks(plants, scale=scale)),
        *extra,
    ]
    below, whole = furniture(bounds, y_bearing=site.y_bearing, units=units, scale=scale, title=title, to_scale=to_scale)
    if massed:
        below, whole = (), bounds
    asked = (*site_names(site), *structure_names(seats, supports), *thing_names(things), *wishes)
    named = _Named(
        asked=asked,
        beds=tuple(beds),
        ground_areas=tuple(ground_areas),
        plants=tuple(plants),
        marks=tuple(marks),
        bounds=bounds,
        every=to_scale,
        scale=scale,
    )
    if legend_rows:
        key, whole = legend(legend_rows, whole, scale=scale, title=legend_title)
        below = (*below, *key)
    words = description or describe(
        site=site, paths=paths, beds=beds, seats=seats, supports=supports, things=things, plants=plants, units=units
    )
    scene = Scene(
        marks=(*marks, *below),
        bounds=whole,
        title=title,
        description=words,
        scale=scale,
        paper=style.PAPER,
        words=named.at if names else None,
    )
    return in_units(scene, units)


@attrs.frozen(kw_only=True, eq=False)
class _Named:
    """What on a plan has a name or a key, and what its words have to keep off."""

    asked: tuple[Wish, ...]
    beds: tuple[tuple[str, Region], ...]
    ground_areas: tuple[GroundArea, ...]
    plants: tuple[PlantDrawn, ...]
    marks: tuple[Mark, ...]
    bounds: Bounds
    every: bool
    scale: float

    def at(self, scale: float, hidden: frozenset[str]) -> tuple[Mark, ...]:
        """Return the words with their leaders on a sheet or screen at 1 : scale; what finds no room is left out, and so
        are names or keys where they are hidden.
        """
        asked = [*self.asked, *bed_names(self.beds, scale=scale), *ground_area_names(self.ground_areas, scale=scale)]
        asked = [] if NAMES in hidden else asked
        plants = () if hidden & {KEYS, "plants and trees"} else self.plants
        links, keys = plant_labels(plants, scale=scale, every=self.every, each_kind=scale == self.scale)
        if not self.every:
            asked = [attrs.evolve(one, rings=0 if one.stay else SCREEN_RINGS) for one in asked]
        return (*links, *_placed([*asked, *keys], self.bounds, scale, self.plants, self.marks).marks)


def plant_marks(plants: Iterable[PlantDrawn], *, scale: float) -> tuple[Mark, ...]:
    """Return every plant's symbol, low plants first so that taller ones lie over them."""
    return tuple(plant_symbol(p, scale=scale) for p in sorted(plants, key=lambda p: p.height) if p.spread > 0)


def plant_labels(
    plants: Sequence[PlantDrawn], *, scale: float, every: bool = True, each_kind: bool = True
) -> tuple[tuple[Mark, ...], tuple[Wish, ...]]:
    """Return for each drift of one kind the fine line that joins its plants, and one label: key and how many.

    Without ``every`` the ground layer's ones and twos go without a label where many drifts are to be read: on a screen
    each plant tells its name when it is pointed at. Every kind has its key once, at its largest drift: with
    ``each_kind``, as on paper, led to from aside where its plants are too small to carry it.
    """
    links: list[Mark] = []
    wishes: list[Wish] = []
    groups = drifts([(p.key, p.at, p.spread) for p in plants])
    crowded = not every and len(groups) > MANY_DRIFTS
    largest = {plants[group[0]].key: group for group in sorted(groups, key=len)}
    for group in groups:
        members = [plants[i] for i in group]
        small = crowded and len(members) < 3 and members[0].layer in GROUND_LAYER
        of_kind = largest[members[0].key] is group
        if small and not of_kind:
            continue
        key = _key(members, scale, beside=not every)
        if of_kind and each_kind:
            wishes.append(key if every else attrs.evolve(key, rank=4, rings=len(RINGS_MM)))
        elif every or _covers(members, key, scale) >= (LEAST_OF_KIND if of_kind else LEAST_SHARE):
            wishes.append(key)
        if len(members) > 1:
            links.append(
                Hatch(lines=joined([p.at for p in members]), colour=style.INK, width_mm=style.LEADER, layer="labels")
            )
    return tuple(links), tuple(wishes)


def _key(members: Sequence[PlantDrawn], scale: float, *, beside: bool) -> Wish:
    """Return the label of a drift: its key and how many; ``beside`` one or two plants that it would cover whole."""
    middle = _most_central(members)
    count = f" {len(members)}" if len(members) > 1 else ""
    text = f"{middle.key}{count}"
    hides = len(members) < 3 and middle.spread < on_ground(text_width(text, style.KEY_LETTERS, bold=True), scale)
    return Wish(
        text=text,
        at=middle.at,
        clear=middle.spread / 2,
        rank=5,
        bold=True,
        inside=not (beside and hides),
        path=tuple(p.at for p in members if p is not middle),
        rings=SCREEN_RINGS if beside else len(RINGS_MM),
    )


def _covers(members: Sequence[PlantDrawn], key: Wish, scale: float) -> float:
    """Return how much ground a drift covers, as a share of what its label covers at 1 : scale."""
    wide = on_ground(text_width(key.text, key.size_mm, bold=True), scale)
    return sum(math.pi * p.spread**2 / 4 for p in members) / (wide * on_ground(key.size_mm, scale))


def plan_bounds(
    site: Site, *, beds: Sequence[tuple[str, Region]] = (), around: Sequence[Point] = (), scale: float
) -> Bounds:
    """Return the ground a plan shows: the boundary, the buildings, the places ``around`` and a margin of paper."""
    points = [*around, *site.boundary, *(p for fence in site.fences for p in fence.line)]
    for building in site.buildings:
        low_x, low_y, high_x, high_y = grown_bounds(plane.bounds(plane.region(building.outline)), building.overhang)
        points += [(low_x, low_y), (high_x, high_y)]
    for _, region in beds:
        if not region.is_empty:
            low_x, low_y, high_x, high_y = plane.bounds(region)
            points += [(low_x, low_y), (high_x, high_y)]
    if not points:
        points = [(0.0, 0.0), (EMPTY_GROUND, EMPTY_GROUND)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return grown_bounds((min(xs), min(ys), max(xs), max(ys)), on_ground(MARGIN_MM, scale))


def screen_scale(
    site: Site,
    *,
    width_px: float,
    beds: Sequence[tuple[str, Region]] = (),
    around: Sequence[Point] = (),
    most_height_px: float | None = None,
) -> float:
    """Return the n of 1 : n at which a plan of this site is ``width_px`` CSS pixels wide: letters keep their size.

    A deep plot is held to ``most_height_px`` instead, with its strip of furniture and a line of legend.
    """
    low_x, low_y, high_x, high_y = plan_bounds(site, beds=beds, around=around, scale=1e-9)
    across = (high_x - low_x) * 1000.0 / max(width_px * PIXEL_MM - 2 * MARGIN_MM, 1.0)
    if most_height_px is None:
        return across
    rest = most_height_px * PIXEL_MM - 2 * MARGIN_MM - STRIP_MM - LEGEND_MM
    return max(across, (high_y - low_y) * 1000.0 / max(rest, 1.0))


def describe(
    *,
    site: Site,
    paths: Sequence[PathDrawn] = (),
    beds: Sequence[tuple[str, Region]] = (),
    seats: Sequence[Seat] = (),
    supports: Sequence[Support] = (),
    things: Sequence[Thing] = (),
    plants: Sequence[PlantDrawn] = (),
    units: Units = "imperial",
) -> str:
    """Return the plan in sentences, for a reader who cannot see it."""
    said = []
    if site.boundary:
        low_x, low_y, high_x, high_y = plane.bounds(plane.region(site.boundary))
        said.append(f"Plan of a plot about {_length(high_x - low_x, units)} by {_length(high_y - low_y, units)}.")
    said += _listed("House and buildings", [b.name for b in site.buildings])
    said += _listed("Doors, windows and gates", [f"{o.name} ({o.kind})" for o in site.openings])
    said += _listed("Trees standing", [t.name if t.keep else f"{t.name} (to be removed)" for t in site.trees])
    said += _listed(
        "Paths",
        [_path_said(p) for p in paths],
    )
    said += _listed("Beds", [f"{name}, {_area(plane.area(region), units)}" for name, region in beds])
    said += _listed("Seats", [s.name for s in seats])
    said += _listed("Supports", [f"{s.name} ({s.kind})" for s in supports])
    said += _listed("Placed", [t.name if t.kind in t.name else f"{t.name} ({t.kind})" for t in things])
    if plants:
        flowering = sorted({p.name or p.key for p in plants if p.flower})
        said.append(f"{counted(len(plants), 'plant')} of {counted(len({p.key for p in plants}), 'kind')}.")
        said += _listed("In flower", flowering)
    said.append(f"The top of the plan points {site.y_bearing % 360:.0f} degrees from north.")
    return " ".join(said)


def _path_said(path: PathDrawn) -> str:
    stones = [counted(len(path.stones), "stone")] if path.stones else []
    steps = [f"steps {' and '.join(one.words for one in path.flights)}"] if path.flights else []
    return ", ".join((path.name, path.surface, *stones, *steps))


def _placed(
    wishes: Sequence[Wish], bounds: Bounds, scale: float, plants: Sequence[PlantDrawn], marks: Sequence[Mark]
) -> Placed:
    avoid = [(p.at, min(0.4 * p.spread, on_ground(9.0, scale))) for p in plants]
    avoid += [(at, on_ground(0.6, scale)) for at in _built_points(marks, on_ground(4.0, scale))]
    taken = [label_box(mark, scale) for mark in plain(marks) if isinstance(mark, Label)]
    return place(wishes, scale=scale, bounds=bounds, avoid=avoid, taken=taken)


def _built_points(marks: Iterable[Mark], every: float) -> list[Point]:
    """Return points along the outlines of what is built and of stones, for labels to keep off."""
    found: list[Point] = []
    for mark in plain(m for m in marks if m.layer in ("structure", "paths")):
        if isinstance(mark, Stroke | Area):
            found += _points_of(mark, every)
        elif isinstance(mark, Hatch) and mark.layer == "structure":  # rafters, laths and legs, which words would hide
            found += _points_across(mark, every)
    cells = {(round(x / every), round(y / every)): (x, y) for x, y in found}
    return list(cells.values())


@lru_cache(maxsize=2048)
def _points_of(mark: Stroke | Area, every: float) -> tuple[Point, ...]:
    if isinstance(mark, Stroke):
        return tuple(_stepped(mark.points, every)) if mark.dash != style.HIDDEN_DASH else ()
    if mark.fill == style.HEDGE:  # all of it: between the two edges of a hedge there would be room for a name
        return tuple(_spread(mark, every))
    return tuple(at for ring in mark.rings if mark.stroke for at in _stepped((*ring, ring[0]), every))


@lru_cache(maxsize=2048)
def _points_across(mark: Hatch, every: float) -> tuple[Point, ...]:
    return tuple(at for line in mark.lines if len(line) > 1 for at in _stepped(line, every))


def _spread(mark: Area, every: float) -> list[Point]:
    ground = plane.region(mark.rings[0], mark.rings[1:])
    left, low, right, high = plane.bounds(ground)
    grid = np.stack(np.meshgrid(np.arange(left, right, every / 2), np.arange(low, high, every / 2)), axis=2)
    spots = grid.reshape(-1, 2)
    return [(float(x), float(y)) for x, y in spots[plane.inside(ground, spots)]]


def _stepped(line: Sequence[Point], every: float) -> list[Point]:
    found = [line[0]]
    for (ax, ay), (bx, by) in pairwise(line):
        parts = max(1, math.ceil(math.hypot(bx - ax, by - ay) / every))
        found += [(ax + (bx - ax) * k / parts, ay + (by - ay) * k / parts) for k in range(1, parts + 1)]
    return found


def _most_central(plants: Sequence[PlantDrawn]) -> PlantDrawn:
    x = sum(p.at[0] for p in plants) / len(plants)
    y = sum(p.at[1] for p in plants) / len(plants)
    return min(plants, key=lambda p: math.dist(p.at, (x, y)))


def joined(points: Sequence[Point]) -> tuple[tuple[Point, Point], ...]:
    """Return the shortest set of lines that joins points (a spanning tree)."""
    joined, rest, lines = [points[0]], list(points[1:]), []
    while rest:
        a, b = min(((a, b) for a in joined for b in rest), key=lambda pair: math.dist(*pair))
        lines.append((a, b))
        joined.append(b)
        rest.remove(b)
    return tuple(lines)


def _listed(what: str, names: Sequence[str]) -> list[str]:
    return [f"{what}: {'; '.join(names)}."] if names else []


def _length(metres: float, units: Units) -> str:
    return f"{metres / FOOT:.0f} ft" if units == "imperial" else f"{metres:.1f} m"


def _area(square_metres: float, units: Units) -> str:
    return f"{square_metres / FOOT**2:.0f} sq ft" if units == "imperial" else f"{square_metres:.1f} m²"
