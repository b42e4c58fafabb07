"""A wall of the house to scale, seen from outside: windows and doors, the supports before it, plants as grown."""

from collections.abc import Callable, Sequence

from gardenkit.drawing import style
from gardenkit.drawing.elevation import WallBehind, elevation_scene
from gardenkit.drawing.furniture import Units
from gardenkit.drawing.scene import Area, Hatch, Label, Mark, Ring, Scene
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.structure.kinds import frame_of, is_overhead, support_kind, wires_of
from gardenkit.structure.kinds.frames import Frame
from gardenkit.structure.kinds.support_parts import wires_at
from gardenkit.structure.structure import Support
from gardenkit.structure.wall_elevation import NEAR, WallElevation

BAR_APART = 0.3  # m between the drawn bars of a lattice, or wires
FOOT_GAP = 0.3  # m: laths and wires begin this far above the ground. House value.
POST, BEAM = 0.09, 0.14  # m: a post and a beam where no support is given. House values.
TALLEST = 3.2  # m: a support's name stands over it, no higher than this


def wall_scene(
    wall: WallElevation,
    ends: tuple[Point, Point],
    plants: Sequence[PlantDrawn],
    *,
    supports: Sequence[Support] = (),
    title: str,
    scale: float = 48.0,
    units: Units = "imperial",
) -> Scene:
    """Return a wall seen square on: ``ends`` its left and right end on the plan as seen from outside.

    Plants within 1.5 m before the wall are drawn at their size; climbers and trained plants as they were measured.
    """
    (ax, ay), (bx, by) = ends
    ux, uy = (bx - ax) / wall.length, (by - ay) / wall.length
    out = (NEAR * uy, -NEAR * ux)
    before = ((ax + out[0], ay + out[1]), (bx + out[0], by + out[1]))
    openings = tuple((m.left, m.right, m.bottom, m.top, m.kind) for m in wall.marks if m.kind in ("door", "window"))
    behind = WallBehind(left=0.0, right=wall.length, height=wall.eaves, name=wall.building, openings=openings)
    drawn = elevation_scene(
        plants, line=before, title=title, depth=NEAR + 0.3, walls=[behind], scale=scale, units=units
    )
    kinds = {s.name: s for s in supports}
    extra: list[Mark] = []
    for mark in wall.marks:
        if mark.kind == "support" and mark.name in kinds:
            extra += _support(kinds[mark.name], (mark.left, mark.bottom), (mark.right, mark.top), units)
    said = "; ".join(f"{m.kind} {m.name}" for m in wall.marks if m.kind != "plant")
    words = f"{title}. On the wall: {said or 'nothing'}. {drawn.description}"
    return drawn.with_marks((*drawn.marks, *extra), description=words)


def _support(support: Support, foot: Point, head: Point, units: Units) -> list[Mark]:
    """Return a support seen square on by the symbol of its kind, its name over it."""
    name = Label(
        at=((foot[0] + head[0]) / 2, min(head[1], TALLEST) + 0.14), text=support.name, size_mm=2.0, layer="furniture"
    )
    tip = f"{support.name}: {support.kind}"
    return [*square_on(support, foot, head, tip, units), name]


def square_on(support: Support, foot: Point, head: Point, tip: str, units: Units) -> list[Mark]:
    """Return a support seen square on by the symbol of its kind, its wires and timbers those that are bought."""
    (left, low), (right, high) = foot, head
    if heights := wires_of(support, units):
        return _wires(left, right, low, high, tip, heights)
    if is_overhead(support) and plane.line(support.line).length > 0:
        return _frame(left, right, low, high, tip, frame_of(support, units), units)
    return ELEVATION[support_kind(support.kind).drawn.elevation](left, right, low, high, tip)


def _frame(
    left: float, right: float, low: float, high: float, tip: str, timbers: Frame | None = None, units: Units = "metric"
) -> list[Mark]:
    """Return two posts and a beam; with its ``timbers`` every post, the beam and the ends of the rafters."""
    if timbers is None:
        bars = [(left, low, left + POST, high), (right - POST, low, right, high), (left, high - BEAM, right, high)]
        return [_wood(_box(*bar), tip) for bar in bars]
    stretched = (right - left) / timbers.long
    beam, rafter = timbers.beam_drawn(), timbers.rafter_drawn()
    posts = [left + u * stretched for u in timbers.posts_at()]
    bars = [(x - POST / 2, low, x + POST / 2, high) for x in posts]
    bars.append((left - timbers.over, high - beam.deep(units), right + timbers.over, high))
    half, top = rafter.thick(units) / 2, high + rafter.deep(units)
    bars += [(x - half, high, x + half, top) for x in (left + u * stretched for u in timbers.rafters_at())]
    return [_wood(_box(*bar), tip) for bar in bars]


def _lattice(left: float, right: float, low: float, high: float, tip: str) -> list[Mark]:
    """Return laths both ways in a frame."""
    columns = max(1, round((right - left) / BAR_APART))
    upright = tuple(((u, low), (u, high)) for u in (left + k * (right - left) / columns for k in range(columns + 1)))
    frame = Area(rings=(_box(left, low, right, high),), fill=style.TIMBER, alpha=0.25, layer="ground", tip=tip)
    lines = (*_rows(left, right, low, high), *upright)
    return [frame, Hatch(lines=lines, colour=style.INK, width_mm=style.EDGE, layer="ground")]


def _raised(left: float, right: float, low: float, high: float, tip: str) -> list[Mark]:
    """Return laths that begin off the ground."""
    return _lattice(left, right, min(low + FOOT_GAP, high), high, tip)


def _wires(left: float, right: float, low: float, high: float, tip: str, heights: Sequence[float] = ()) -> list[Mark]:
    """Return level wires at their heights."""
    rows = tuple(((left, low + z), (right, low + z)) for z in heights or wires_at(high - low) if low + z <= high + 0.01)
    return [Hatch(lines=rows, colour=style.SOFT_INK, width_mm=style.EDGE, layer="ground")]


def _tapered(left: float, right: float, low: float, high: float, tip: str) -> list[Mark]:
    """Return legs that meet in a point, with rungs between them."""
    middle, tall = (left + right) / 2, high - low
    legs = (((left, low), (middle, high)), ((right, low), (middle, high)))
    shares = [k * BAR_APART / tall for k in range(1, int(tall / BAR_APART))] if tall > 0 else []
    rungs = tuple(
        ((left + s * (middle - left), low + s * tall), (right + s * (middle - right), low + s * tall)) for s in shares
    )
    face = Area(
        rings=((((left, low)), (right, low), (middle, high)),), fill=style.TIMBER, alpha=0.25, layer="ground", tip=tip
    )
    return [face, Hatch(lines=(*legs, *rungs), colour=style.INK, width_mm=style.EDGE, layer="ground")]


ELEVATION: dict[str, Callable[[float, float, float, float, str], list[Mark]]] = {
    "frame": _frame,
    "lattice": _lattice,
    "raised lattice": _raised,
    "wires": _wires,
    "tapered": _tapered,
}


def _rows(left: float, right: float, low: float, high: float) -> tuple[tuple[Point, Point], ...]:
    rows = max(1, round((high - low) / BAR_APART))
    return tuple(((left, z), (right, z)) for z in (low + k * (high - low) / rows for k in range(rows + 1)))


def _wood(ring: Ring, tip: str) -> Area:
    return Area(rings=(ring,), fill=style.TIMBER, stroke=style.INK, width_mm=style.EDGE, layer="ground", tip=tip)


def _box(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))
