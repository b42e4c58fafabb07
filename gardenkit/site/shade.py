"""What casts shade: turns the house, fences and trees on record into simple bodies, and draws their shadows for any
hour.

Shapes are simplified the way a designer draws them: walls as upright blocks, a roof as planes from the eaves to the
ridge, a crown as one round, conical or upright body over a bare trunk.
"""

import datetime as dt
import math
from collections.abc import Callable, Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.grid import CELL
from gardenkit.geometry.plane import FloatArray, Outline, Point
from gardenkit.geometry.solid import OPAQUE, Column, Cone, Ellipsoid, Hull, Months, Solid, block, prism_edges, shadow
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.site.sky import LOWEST, sun_position, towards_sun
from gardenkit.site.standing import standing_fences
from gardenkit.site.sun import Wall

Ground = Callable[[Point], float]
SLAB = 0.15  # m: thickness of a flat roof or of the boards at the eaves. House value.
SPREADING_DEPTH = (
    0.6  # greatest depth of a spreading crown as a share of its spread: the rest is clear stem. House value.
)
VASE_CLEAR = 0.25  # share of a vase-shaped crown's depth, at its foot, that is bare rising limbs. House value.
WEEPING_CLEAR = 0.3  # share of the clear stem that hanging shoots leave open. House value.
UPRIGHT = ("columnar", "upright")
CONICAL = ("conical",)
ROUNDED = ("round", "oval", "irregular", "spreading", "vase", "weeping", "mounding", "arching", "prostrate")
FORMS = (*ROUNDED, *UPRIGHT, *CONICAL)


@attrs.frozen(kw_only=True)
class Shadow:
    """One body's shadow on the plan: its outline, the body's name, and ``opacity``, the share of direct light it takes,
    0 to 1.
    """

    name: str
    outline: Outline
    opacity: float


def site_solids(site: "Site", *, ground: Ground | None = None) -> tuple[Solid, ...]:
    """Return everything on the site record that casts shade: buildings, fences, kept trees. ``ground`` gives heights,
    level 0 without.
    """
    found: list[Solid] = []
    for building in site.buildings:
        found.extend(building_solids(building))
    for fence in standing_fences(site):
        found.extend(fence_solids(fence, ground=ground))
    for tree in site.trees:
        if tree.keep:
            found.extend(existing_tree_solids(tree, ground=ground(tree.at) if ground else 0.0))
    return tuple(found)


def building_solids(building: "Building") -> tuple[Hull, ...]:
    """Return a building's walls and roof as convex bodies, all opaque.

    Walls stand from the floor or the plan's zero, whichever is lower, to the eaves. The roof's edge lies ``overhang``
    outside the walls at the height of the eaves. Gables follow ``ridge`` (or the longer side); a hip's ridge is drawn
    in by half the width; a shed roof rises to ``ridge``, or to the longest side. Outlines with inner corners are roofed
    part by part.
    """
    if building.eaves <= building.floor and building.eaves <= 0:
        raise GardenError(
            f'building "{building.name}" has its eaves at {building.eaves:g} m, below its floor; raise the eaves'
        )
    outline = plane.outline(building.outline, where=f'building "{building.name}"')
    found: list[Hull] = []
    for part in plane.convex_parts(outline):
        found.append(block(f"{building.name} walls", part, min(0.0, building.floor), building.eaves))
        found.append(_roof(building, _widened(part, building.overhang)))
    return tuple(found)


def building_walls(building: "Building", *, cell: float = CELL) -> tuple[Wall, ...]:
    """Return the outer faces of a building's walls, in the order of its outline drawn anticlockwise, for
    ``sun.wall_sun_hours``.
    """
    outline = plane.outline(building.outline, where=f'building "{building.name}"')
    base = max(0.0, building.floor) if building.floor < building.eaves else 0.0
    return tuple(
        Wall(name=f"{building.name} wall {i + 1}", start=a, end=b, base=base, top=building.eaves, cell=cell)
        for i, (a, b) in enumerate(zip(outline, outline[1:] + outline[:1], strict=True))
    )


def fence_solids(fence: "Fence", *, ground: Ground | None = None) -> tuple[Hull, ...]:
    """Return one upright sheet for each straight stretch of a fence, following the ground at its ends."""
    if fence.height <= 0:
        raise GardenError(f'fence "{fence.name}" is {fence.height:g} m high; give a height above 0 m')
    if not 0 <= fence.openness <= 1:
        raise GardenError(
            f'fence "{fence.name}" lets {fence.openness:g} of the light through; give a share from 0 to 1'
        )
    found = []
    for a, b in zip(fence.line, fence.line[1:], strict=False):
        if math.dist(a, b) < 1e-9:
            continue
        low, high = (ground(a), ground(b)) if ground else (0.0, 0.0)
        corners = [(*a, low), (*b, high), (*b, high + fence.height), (*a, low + fence.height)]
        ring = ((0, 1), (1, 2), (2, 3), (3, 0))
        found.append(Hull(name=fence.name, vertices=np.array(corners), light=(fence.openness,) * 12, edges=ring))
    return tuple(found)


def existing_tree_solids(tree: "ExistingTree", *, ground: float = 0.0) -> tuple[Solid, ...]:
    """Return a recorded tree's trunk and crown, the crown's light following its leaves through the year."""
    return tree_solids(
        tree.name,
        tree.at,
        tree.height,
        tree.spread,
        tree.form,
        tree.crown_base,
        tree.trunk_diameter,
        light_by_month(tree.light_in_leaf, tree.light_bare, tree.leaf_on, tree.leaf_off, where=f'tree "{tree.name}"'),
        ground,
    )


def tree_solids(
    name: str,
    at: Point,
    height: float,
    spread: float,
    form: str = "round",
    crown_base: float = 0.0,
    trunk_diameter: float = 0.0,
    light_months: Months = OPAQUE,
    ground: float = 0.0,
) -> tuple[Solid, ...]:
    """Return the trunk (opaque, up to the lowest leaves) and the crown of any plant, all sizes in metres.

    ``form`` is one of ``FORMS``; ``crown_base`` is kept below nine tenths of the height. ``light_months`` is the share
    of direct light the crown lets through, January first. Raises GardenError for sizes, shares or forms that cannot be.
    """
    if not (height > 0 and spread > 0):
        raise GardenError(f'"{name}" is {height:g} m high and {spread:g} m across; give both above 0 m')
    if form not in FORMS:
        raise GardenError(f'"{form}" is no crown form known for "{name}"{nearest(form, FORMS)}')
    if len(light_months) != 12 or not all(0 <= share <= 1 for share in light_months):
        raise GardenError(f'the light through "{name}" must be twelve shares from 0 to 1, January first')
    base = min(max(crown_base, 0.0), 0.9 * height)
    crown = _crown(name, at, height, spread, form, base, tuple(light_months), ground)
    if trunk_diameter <= 0 or base <= 0:
        return (crown,)
    trunk = Column(name=f"{name} trunk", at=at, radius=trunk_diameter / 2, base=ground, top=ground + base)
    return (trunk, crown)


def light_by_month(
    in_leaf: float, bare: float, leaf_on: float | None, leaf_off: float | None, *, where: str = "the plant"
) -> Months:
    """Return the share of light let through in each month, January first, for a crown in leaf and bare.

    Leaves come evenly through the month ``leaf_on`` and fall through ``leaf_off`` (1 to 12; parts of a month shift the
    start, so 4.5 is from mid April to mid May); without either the crown is in leaf all year. ``leaf_on`` after
    ``leaf_off`` is a southern year.
    """
    if not (0 <= in_leaf <= 1 and 0 <= bare <= 1):
        raise GardenError(
            f"{where} lets {in_leaf:g} of the light through in leaf, {bare:g} bare; give shares from 0 to 1"
        )
    if leaf_on is None or leaf_off is None:
        return (float(in_leaf),) * 12
    if not (1 <= leaf_on < 13 and 1 <= leaf_off < 13) or leaf_on == leaf_off:
        raise GardenError(
            f"{where} has leaves from month {leaf_on:g} to {leaf_off:g}; give two different months, 1 to 12"
        )
    return tuple(share * in_leaf + (1.0 - share) * bare for share in _in_leaf(leaf_on, leaf_off))


@lru_cache(maxsize=256)
def _in_leaf(leaf_on: float, leaf_off: float) -> Months:
    """Return the share of its leaves that a crown has in each month, January first: of kinds there are few."""
    days = (np.arange(360) + 0.5) / 30.0  # the year in months, 30 moments each
    season = (leaf_off - leaf_on) % 12.0
    since = (days - (leaf_on - 1.0)) % 12.0
    leaves = np.clip(since, 0.0, 1.0) - np.clip(since - season, 0.0, 1.0)
    return tuple(float(share) for share in leaves.reshape(12, 30).mean(axis=1))


def shadows_at(
    solids: Sequence[Solid], place: "Place", when: dt.datetime, *, y_bearing: float = 0.0, height: float = 0.0
) -> tuple[Shadow, ...]:
    """Return every body's shadow on level ground at ``height`` metres, for a date and hour of the place's clock.

    ``when`` without a zone is local clock time, daylight saving included. Nothing is returned while the sun is down or
    its centre is below the horizon as seen.
    """
    sun = sun_position(place, when)
    if sun.elevation < LOWEST:
        return ()
    towards = towards_sun(np.array([sun.azimuth]), np.array([sun.elevation]), y_bearing=y_bearing)[0]
    run = (float(towards[0] / towards[2]), float(towards[1] / towards[2]))
    found = []
    for solid in solids:
        outline = shadow(solid, run, height=height)
        opacity = 1.0 - solid.light[when.month - 1]
        if outline and opacity > 0:
            found.append(Shadow(name=solid.name, outline=outline, opacity=opacity))
    return tuple(found)


def _crown(
    name: str, at: Point, height: float, spread: float, form: str, base: float, light: Months, ground: float
) -> Solid:
    radius = spread / 2
    if form in CONICAL:
        return Cone(name=name, at=at, radius=radius, base=ground + base, top=ground + height, light=light)
    if form in UPRIGHT:
        return Column(name=name, at=at, radius=radius, base=ground + base, top=ground + height, light=light)
    if form == "spreading":
        base = max(base, height - SPREADING_DEPTH * spread)
    elif form == "vase":
        base = base + VASE_CLEAR * (height - base)
    elif form == "weeping":
        base = WEEPING_CLEAR * base
    half = (height - base) / 2
    return Ellipsoid(name=name, centre=(*at, ground + base + half), radius=radius, half_height=half, light=light)


def _widened(part: Outline, by: float) -> Outline:
    """Return a convex anticlockwise outline with every side moved out by ``by`` metres, corners mitred."""
    if by <= 0:
        return part
    corners = np.asarray(part, dtype=float)
    along = np.roll(corners, -1, axis=0) - corners
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    out = np.column_stack((along[:, 1], -along[:, 0]))
    found = []
    for i in range(len(corners)):
        before, after = out[i - 1], out[i]
        both = before + after
        moved = corners[i] + both * (
            by / max(0.25, 1.0 + float(before @ after))
        )  # sharp corners are not drawn out for ever
        found.append((float(moved[0]), float(moved[1])))
    return tuple(found)


def _roof(building: "Building", edge: Outline) -> Hull:
    eaves, top, name = building.eaves, building.ridge_height, f"{building.name} roof"
    if building.roof == "flat" or top <= eaves:
        return block(name, edge, eaves - SLAB, eaves)
    if building.roof == "shed":
        return _shed_roof(name, building, edge)
    ridge = _ridge(building, edge)
    if building.roof == "hip":
        ridge = _drawn_in(ridge, _width_across(edge, ridge) / 2)
    corners = [(*p, eaves) for p in edge]
    peak = [(*p, top) for p in ridge]
    count = len(corners)
    ring = [(i, (i + 1) % count) for i in range(count)]
    rafters = [(i, count + j) for i in range(count) for j in range(2)]
    vertices = np.array([*corners, *peak])
    return Hull(name=name, vertices=vertices, edges=(*ring, *rafters, (count, count + 1)))


def _shed_roof(name: str, building: "Building", edge: Outline) -> Hull:
    """Return the wedge from the eaves up to the high side: the side nearest ``ridge``, or the longest."""
    points = np.asarray(edge)
    middles = (points + np.roll(points, -1, axis=0)) / 2
    sides = np.roll(points, -1, axis=0) - points
    if len(building.ridge) >= 2:
        high = int(np.argmin(np.linalg.norm(middles - np.mean(building.ridge, axis=0), axis=1)))
    else:
        high = int(np.argmax(np.linalg.norm(sides, axis=1)))
    inward = np.array([-sides[high, 1], sides[high, 0]]) / np.linalg.norm(sides[high])
    down = (points - points[high]) @ inward
    rise = (building.ridge_height - building.eaves) * (1.0 - down / down.max())
    low = np.column_stack((points, np.full(len(points), building.eaves - SLAB)))
    raised = np.column_stack((points, building.eaves + rise))
    return Hull(name=name, vertices=np.vstack((low, raised)), edges=prism_edges(len(points)))


def _ridge(building: "Building", edge: Outline) -> tuple[Point, Point]:
    """Return the ridge over one roof part: the recorded one where it passes over it, else along the longer way of the
    part.
    """
    part = plane.region(edge)
    if len(building.ridge) >= 2:
        kept = plane.corners_of_line(plane.line((building.ridge[0], building.ridge[-1])).intersection(part))
        if len(kept) == 2 and math.dist(*kept) > SLAB:
            return kept[0], kept[1]
    points = np.asarray(edge)
    sides = np.roll(points, -1, axis=0) - points
    middle = points.mean(axis=0) if len(points) == 4 else np.asarray(plane.centre(part))
    way = _longer_way(points, sides)
    off = (points - middle) @ way
    far = plane.line((tuple(middle + way * (off.min() - 1)), tuple(middle + way * (off.max() + 1))))
    ends = plane.corners_of_line(far.intersection(part))
    return ends[0], ends[-1]


def _longer_way(points: FloatArray, sides: FloatArray) -> FloatArray:
    """Return the unit direction of the side along which the outline is least wide across."""
    ways = sides / np.linalg.norm(sides, axis=1, keepdims=True)
    across = [float(np.ptp(points @ np.array([-way[1], way[0]]))) for way in ways]
    return np.asarray(ways[int(np.argmin(np.round(across, 6)))])


def _width_across(edge: Outline, ridge: tuple[Point, Point]) -> float:
    way = np.subtract(ridge[1], ridge[0]) / max(math.dist(*ridge), 1e-9)
    return float(np.ptp(np.asarray(edge) @ np.array([-way[1], way[0]])))


def _drawn_in(ridge: tuple[Point, Point], by: float) -> tuple[Point, Point]:
    """Return the ridge shortened at both ends, to its middle point when it is too short (a pyramid)."""
    a, b = np.asarray(ridge[0]), np.asarray(ridge[1])
    share = min(0.5, by / max(float(np.linalg.norm(b - a)), 1e-9))
    first, last = a + share * (b - a), b - share * (b - a)
    return (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))
