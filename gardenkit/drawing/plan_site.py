"""The place as found, drawn by trade convention: boundary, house walls with doors and windows, fences, gates, trees."""

import math
from collections.abc import Callable, Iterable
from itertools import pairwise

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.plan_ground import ground_marks, region_rings
from gardenkit.drawing.scene import Area, Hatch, Mark, Ring, Stroke, on_ground
from gardenkit.drawing.symbols import tree_symbol
from gardenkit.drawing.textures import hatch_lines
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.geometry.rows import walked
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site, ground
from gardenkit.site.standing import standing_fences
from gardenkit.structure.kinds import fence_kind
from gardenkit.structure.kinds.fences import ground_of_fence

WALL_THICK = 0.20  # m drawn thickness of a house wall. House value: the drawing does not claim to know it
HATCH_MM = 2.2
HELD_EVERY = 0.35  # m between the strokes of a retaining wall. House value.
POST_EVERY = 2.4  # m between drawn fence posts: the usual 8 ft panel


def site_marks(site: Site, *, scale: float, month: int | None = None) -> tuple[Mark, ...]:
    """Return everything found on the ground for a sheet at 1 : scale; trees bare in ``month`` are drawn with twigs."""
    marks: list[Mark] = [*ground_marks(ground(site))]
    marks += obstacle_marks(site.obstacles, scale=scale)
    marks += boundary_marks(site)
    for fence in standing_fences(site):
        marks += fence_marks(fence)
    for building in site.buildings:
        marks += building_marks(building, scale=scale)
    inside = [plane.region(b.outline) for b in site.buildings]
    plot = plane.region(site.boundary) if site.boundary else plane.NOWHERE
    for opening in site.openings:
        marks += opening_marks(opening, indoors=inside, plot=plot)
    marks += tree_marks(site.trees, month=month)
    return tuple(marks)


def site_names(site: Site) -> tuple[Wish, ...]:
    """Return the names of house, openings and trees as labels that want a place."""
    wishes = [
        Wish(
            text=building.name.upper(),
            at=plane.centre(plane.region(building.outline)),
            size_mm=style.BED_LETTERS,
            rank=1,
            leader=False,
            halo=style.HOUSE,
            colour=style.SOFT_INK,
        )
        for building in site.buildings
    ]
    wishes += [
        Wish(text=o.name, at=o.middle, clear=o.width / 2, size_mm=style.SMALL_LETTERS, rank=6, inside=False)
        for o in site.openings
    ]
    for tree in site.trees:
        text = tree.name if tree.keep else f"{tree.name} (remove)"
        wishes.append(
            Wish(
                text=text,
                at=tree.at,
                clear=max(0.3, tree.trunk_diameter),
                size_mm=style.NOTE_LETTERS,
                rank=4,
                inside=False,
                italic=True,
            )
        )
    wishes += [
        Wish(text=o.name, at=plane.centre(plane.region(o.outline)), size_mm=style.SMALL_LETTERS, rank=6)
        for o in site.obstacles
    ]
    return tuple(wishes)


def boundary_marks(site: Site) -> tuple[Mark, ...]:
    """Return the property line: one long and two short dashes, as on a survey plat."""
    if not site.boundary:
        return ()
    closed = (*site.boundary, site.boundary[0])
    return (
        Stroke(
            points=closed,
            colour=style.INK,
            width_mm=style.BOUNDARY,
            dash=style.BOUNDARY_DASH,
            layer="structure",
            tip="boundary",
        ),
    )


def building_marks(building: Building, *, scale: float) -> tuple[Mark, ...]:
    """Return a building cut through its walls: solid walls, hatched inside, the eaves overhead as a broken line."""
    rings = (_square(building.outline, -WALL_THICK),)
    tip = f"{building.name}: eaves {building.eaves:.2f} m, ridge {building.ridge_height:.2f} m"
    marks: list[Mark] = [
        Area(rings=(building.outline,), fill=style.HOUSE, layer="structure", tip=tip),
        Hatch(
            lines=hatch_lines(rings, degrees=45, pitch=on_ground(HATCH_MM, scale)),
            colour=style.HOUSE_HATCH,
            width_mm=style.RIB,
            layer="structure",
        ),
        Area(
            rings=(building.outline, *rings), fill=style.WALLS, stroke=style.INK, width_mm=style.EDGE, layer="structure"
        ),
    ]
    if building.overhang > 0:
        eaves = _square(building.outline, building.overhang)
        marks.append(
            Stroke(
                points=(*eaves, eaves[0]),
                colour=style.SOFT_INK,
                width_mm=style.PLANT,
                dash=style.HIDDEN_DASH,
                layer="structure",
            )
        )
    return tuple(marks)


def opening_marks(opening: Opening, *, indoors: Iterable[plane.Region], plot: plane.Region) -> tuple[Mark, ...]:
    """Return a door with its leaf and swing, a window with its glass line, or a gate swinging into the plot."""
    (ax, ay), (bx, by) = opening.start, opening.end
    wide = math.dist(opening.start, opening.end)
    if wide < 1e-6:
        return ()
    ux, uy = (bx - ax) / wide, (by - ay) / wide
    inward = _inward(opening, list(indoors), plot)
    if opening.kind == "gate":
        posts = [_square_at(p, 0.07) for p in (opening.start, opening.end)]
        gap = _band(opening.start, opening.end, (-uy * 0.06, ux * 0.06), both=True)
        cut: list[Mark] = [Area(rings=(gap,), fill=style.GROUND["open ground"], layer="structure")]
        cut += [Area(rings=(p,), fill=style.INK, layer="structure") for p in posts]
        return (*cut, *_swing(opening.start, opening.end, inward, f"gate {opening.name}, {wide:.2f} m wide"))
    depth = (inward[0] * WALL_THICK, inward[1] * WALL_THICK)
    gap = _band(opening.start, opening.end, depth, both=False)
    clear: Mark = Area(
        rings=(gap,), fill=style.PAPER, stroke=style.INK, width_mm=style.PLANT, layer="structure", tip=opening.name
    )
    if opening.kind == "door":
        return (clear, *_swing(opening.start, opening.end, inward, f"door {opening.name}, {wide:.2f} m wide"))
    panes = tuple(((ax + depth[0] * s, ay + depth[1] * s), (bx + depth[0] * s, by + depth[1] * s)) for s in (0.4, 0.6))
    sill = _band(opening.start, opening.end, (-inward[0] * 0.06, -inward[1] * 0.06), both=False)
    return (
        clear,
        Hatch(lines=panes, colour=style.INK, width_mm=style.PLANT, layer="structure"),
        Area(rings=(sill,), fill=style.PAPER, stroke=style.INK, width_mm=style.RIB, layer="structure"),
    )


def fence_marks(fence: Fence) -> tuple[Mark, ...]:
    """Return a fence, wall or hedge by the symbol of its kind."""
    return FENCE[fence_kind(fence).plan](fence, f"{fence.name}: {fence.height:.2f} m high")


def _posts(fence: Fence, tip: str) -> tuple[Mark, ...]:
    """Return a line with posts, an open fence broken between them."""
    dash = () if fence.openness < 0.3 else (1.6, 0.6)
    run = Stroke(points=fence.line, colour=style.INK, width_mm=style.BUILT, dash=dash, layer="structure", tip=tip)
    posts = tuple(_square_at(p, 0.06) for p in _every(fence.line, POST_EVERY))
    return (run, Area(rings=posts, fill=style.INK, layer="structure"))


def _masonry(fence: Fence, tip: str) -> tuple[Mark, ...]:
    """Return a solid grey band as thick as the wall."""
    return _thick(fence, tip, "#8b867a")


def _retaining(fence: Fence, tip: str) -> tuple[Mark, ...]:
    """Return the band of a wall with short strokes across it, as earth that is held is drawn."""
    half, strokes = fence_kind(fence).half, []
    for (ax, ay), (bx, by) in pairwise(walked(fence.line, HELD_EVERY)):
        far = math.dist((ax, ay), (bx, by)) or 1.0
        u, v = (bx - ax) / far * half, (by - ay) / far * half
        x, y = (ax + bx) / 2, (ay + by) / 2
        strokes.append(((x - u / 2 + v, y - v / 2 - u), (x + u / 2 - v, y + v / 2 + u)))
    return (
        *_masonry(fence, tip),
        Hatch(lines=tuple(strokes), colour=style.INK, width_mm=style.PLANT, layer="structure"),
    )


def _leafy(fence: Fence, tip: str) -> tuple[Mark, ...]:
    """Return a green band as thick as the hedge."""
    return _thick(fence, tip, style.HEDGE)


def _thick(fence: Fence, tip: str, fill: str) -> tuple[Mark, ...]:
    rings = region_rings(ground_of_fence(fence))
    return (Area(rings=rings, fill=fill, stroke=style.INK, width_mm=style.EDGE, layer="structure", tip=tip),)


FENCE: dict[str, Callable[[Fence, str], tuple[Mark, ...]]] = {
    "posts": _posts,
    "solid band": _masonry,
    "held band": _retaining,
    "leafy band": _leafy,
}


def obstacle_marks(obstacles: Iterable[Obstacle], *, scale: float) -> tuple[Mark, ...]:
    """Return ground nothing may stand on: outlined and cross-hatched, with its clearance as a broken line."""
    marks: list[Mark] = []
    for obstacle in obstacles:
        tip = f"{obstacle.name}: keep clear {obstacle.clearance:.2f} m"
        marks.append(
            Area(
                rings=(obstacle.outline,),
                fill="#d6d2c8",
                stroke=style.INK,
                width_mm=style.EDGE,
                layer="structure",
                tip=tip,
            )
        )
        lines = hatch_lines((obstacle.outline,), degrees=-45, pitch=on_ground(1.2, scale))
        marks.append(Hatch(lines=lines, colour=style.SOFT_INK, width_mm=style.RIB, layer="structure"))
        if obstacle.clearance > 0:
            room = plane.grown(plane.region(obstacle.outline), obstacle.clearance)
            marks.append(
                Area(
                    rings=region_rings(room),
                    stroke=style.SOFT_INK,
                    width_mm=style.RIB,
                    dash=style.FINE_DASH,
                    layer="ground",
                )
            )
    return tuple(marks)


def tree_marks(trees: Iterable[ExistingTree], *, month: int | None = None) -> tuple[Mark, ...]:
    """Return the trees that stand there: crown to its spread, trunk to its diameter; those to go crossed out."""
    return tuple(
        tree_symbol(
            tree.at,
            tree.spread,
            form=tree.form,
            trunk=tree.trunk_diameter,
            keep=tree.keep,
            bare=_bare(tree, month),
            tip=_tree_tip(tree),
        )
        for tree in trees
    )


def _tree_tip(tree: ExistingTree) -> str:
    fate = "kept" if tree.keep else "to be removed"
    return f"{tree.name}: about {tree.height:.2f} m high, about {tree.spread:.2f} m wide, {fate}"


def _bare(tree: ExistingTree, month: int | None) -> bool:
    if month is None or tree.leaf_on is None or tree.leaf_off is None:
        return False
    in_leaf = (month - tree.leaf_on) % 12 <= (tree.leaf_off - tree.leaf_on) % 12
    return not in_leaf


def _inward(opening: Opening, indoors: list[plane.Region], plot: plane.Region) -> Point:
    """Return the unit vector across an opening that points indoors; for a gate, into the plot."""
    wide = opening.width
    across = (-(opening.end[1] - opening.start[1]) / wide, (opening.end[0] - opening.start[0]) / wide)
    rooms = [plot] if opening.kind == "gate" else indoors
    middle = opening.middle
    for sign in (1.0, -1.0):
        probe = (middle[0] + sign * 0.3 * across[0], middle[1] + sign * 0.3 * across[1])
        if any(plane.contains(room, probe) for room in rooms if not room.is_empty):
            return (sign * across[0], sign * across[1])
    return across


def _swing(hinge: Point, strike: Point, inward: Point, tip: str) -> tuple[Mark, ...]:
    """Return the open leaf and the quarter circle it sweeps."""
    wide = math.dist(hinge, strike)
    along = ((strike[0] - hinge[0]) / wide, (strike[1] - hinge[1]) / wide)
    sweep = []
    for k in range(10):
        a = math.pi / 2 * k / 9
        sweep.append(
            (
                hinge[0] + wide * (math.cos(a) * along[0] + math.sin(a) * inward[0]),
                hinge[1] + wide * (math.cos(a) * along[1] + math.sin(a) * inward[1]),
            )
        )
    return (
        Stroke(points=tuple(sweep), colour=style.SOFT_INK, width_mm=style.RIB, layer="structure"),
        Stroke(points=(hinge, sweep[-1]), colour=style.INK, width_mm=style.EDGE, layer="structure", tip=tip),
    )


def _band(a: Point, b: Point, depth: Point, *, both: bool) -> Ring:
    dx, dy = depth
    if both:
        return ((a[0] - dx, a[1] - dy), (b[0] - dx, b[1] - dy), (b[0] + dx, b[1] + dy), (a[0] + dx, a[1] + dy))
    return (a, b, (b[0] + dx, b[1] + dy), (a[0] + dx, a[1] + dy))


def _square_at(at: Point, half: float) -> Ring:
    x, y = at
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def _every(line: Ring, step: float) -> list[Point]:
    """Return posts along a line: at every corner and evenly between, no further apart than ``step``."""
    posts = [line[0]]
    for a, b in pairwise(line):
        parts = max(1, math.ceil(math.dist(a, b) / step))
        posts += [(a[0] + (b[0] - a[0]) * k / parts, a[1] + (b[1] - a[1]) * k / parts) for k in range(1, parts + 1)]
    return posts


def _square(outline: Ring, by: float) -> Ring:
    """Return an outline moved outward by ``by`` (negative: inward) with its corners kept sharp."""
    ring = plane.corners(plane.region(outline))
    moved = []
    for i, (x1, y1) in enumerate(ring):
        (x0, y0), (x2, y2) = ring[i - 1], ring[(i + 1) % len(ring)]
        a, b = math.atan2(y1 - y0, x1 - x0), math.atan2(y2 - y1, x2 - x1)
        half = ((b - a + math.pi) % (2 * math.pi) - math.pi) / 2
        grow = by / max(math.cos(half), 0.3)
        moved.append((x1 + grow * math.sin(a + half), y1 - grow * math.cos(a + half)))
    return tuple(moved)
