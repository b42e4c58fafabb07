"""Levels on the plan: new heights with those found in brackets, falls as arrows, banks as ticks, walls as heavy lines.

A finished level with the one found in brackets, ticks from the top of a bank (a long and a short one in turn) and an
arrow down a fall with its percent are how the trade draws them: common practice, no source.
"""

import math
from collections.abc import Iterable

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.legend import FOUND
from gardenkit.drawing.overlays import contour_marks
from gardenkit.drawing.scene import Area, Disc, Hatch, Label, Mark, Stroke, Symbol, on_ground
from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.project import Project
from gardenkit.project.earthworks import Earthworks, earthworks
from gardenkit.project.layout import Layout
from gardenkit.site.levels import Contour, contours
from gardenkit.structure.held_ground import walls
from gardenkit.structure.new_ground import Flat, NewGround, Strip, net
from gardenkit.units import System, show_length

FINISHED, AS_FOUND, FOUND_INK = "#7a3b12", "#b59a7b", "#7d6548"
WALL_MM, TICK_MM, CONTOUR_MM = 0.8, 0.16, 0.28
ARROW_MM = 9.0  # length of a fall's arrow on paper
NET = 1600  # squares of the net that new contours are drawn from, over the plot. House value.
INTERVALS = {"imperial": 0.1524, "metric": 0.1}  # m between contours: 6 in or 10 cm. House values.
BESIDE_WALL = 0.06  # m to either side of a retaining wall that contours stop at. House value.
NAMED_MM = 25.0  # a contour shorter than this on paper goes without its height. House value.
PLACES, NAMED_AT = 16, (8, 6, 10, 4, 12, 7, 9, 5, 11, 3, 13)  # parts of a contour, and where its height is tried
ALONG_PATH = 5.0  # m between the finished heights written along a graded path. House value.


def level_marks(project: Project, worked: Layout, *, scale: float) -> tuple[Mark, ...]:
    """Return walls, banks, falls and edges of the levels for a plan; nothing where none are to be made."""
    earth, ground = earthworks(project, worked), worked.lie
    marks: list[Mark] = []
    if earth is not None:
        marks += [*_banks(earth, worked.ground), *_walls(earth, project.units)]
    if isinstance(ground, NewGround):
        for one in ground.shapes:
            if isinstance(one, Flat):
                marks += [*_edge(one), *_fall(one, scale), _cross(one.at, scale, f"level {one.name}")]
    return tuple(marks)


def level_names(project: Project, worked: Layout) -> tuple[Wish, ...]:
    """Return each finished height, with the one found in brackets, as a label that wants a place."""
    wishes = [_said(level.at, level.height, worked, project.units) for level in project.structure.levels]
    ground = worked.lie
    for one in ground.shapes if isinstance(ground, NewGround) else ():
        if isinstance(one, Strip):
            count = max(1, round(len(one.line) * 0.25 / ALONG_PATH))
            for k in range(count + 1):
                number = round(k * (len(one.line) - 1) / count)
                x, y = one.line[number]
                wishes.append(_said((float(x), float(y)), float(one.heights[number]), worked, project.units))
    return tuple(wishes)


def both_contours(worked: Layout, *, scale: float, units: System) -> tuple[Mark, ...]:
    """Return contours of the ground as found (light, broken) and, where levels are made, as it will be."""
    every = INTERVALS[units]
    light: list[Mark] = [
        Stroke(
            points=line,
            colour=AS_FOUND,
            width_mm=CONTOUR_MM,
            dash=style.HIDDEN_DASH,
            layer="overlay",
            tip=f"{height:+.2f} m, {FOUND}",
        )
        for height, line in _found(worked, every)
    ]
    made = new_contours(worked, every)
    heights = dict.fromkeys(height for height, _ in made)
    drawn = [(height, [line for level, line in made if level == height]) for height in heights]
    return (*light, *contour_marks(drawn, scale=scale, units=units))


def found_names(worked: Layout, *, scale: float, units: System) -> tuple[Wish, ...]:
    """Return the height of every contour of the ground as found, once on each of its lines that is long enough."""
    least = on_ground(NAMED_MM, scale)
    lines = [(height, line) for height, line in _found(worked, INTERVALS[units]) if plane.line(line).length >= least]
    found = list[Wish]()
    for height, line in lines:
        (x, y), *others = ways.even(np.asarray(line), plane.line(line).length / PLACES)[list(NAMED_AT)].tolist()
        found.append(
            Wish(
                text=f"({signed(height, units)})",
                at=(x, y),
                path=tuple((x, y) for x, y in others),
                stay=True,
                leader=False,
                rank=6,
                rings=1,
                colour=FOUND_INK,
            )
        )
    return tuple(found)


def new_contours(worked: Layout, every: float) -> list[tuple[float, tuple[Point, ...]]]:
    """Return the contours (height, line) of the ground as it will be, up to its retaining walls; none where no levels
    are made.
    """
    ground = worked.lie
    if not isinstance(ground, NewGround) or worked.ground.is_empty:
        return []
    cell = math.sqrt(plane.area(worked.ground) / NET)
    held = plane.union(plane.grown(plane.line(w.line), BESIDE_WALL) for w in walls(ground))
    open_ground = plane.difference(worked.ground, held)
    return _within(contours(net(ground, worked.ground, cell=cell), every), open_ground)


# ---- helpers


def _found(worked: Layout, every: float) -> list[tuple[float, tuple[Point, ...]]]:
    ground = worked.lie
    return [] if ground is None or worked.ground.is_empty else _within(contours(ground, every), worked.ground)


def _within(lines: Iterable[Contour], ground: Region) -> list[tuple[float, tuple[Point, ...]]]:
    return [
        (one.height, piece)
        for one in lines
        for piece in plane.lines_within(plane.line(one.line), ground)
        if len(piece) > 1
    ]


def _said(at: Point, height: float, worked: Layout, units: System) -> Wish:
    """Return a finished height with the one found in brackets."""
    ground = worked.lie
    text = signed(height, units)
    if ground is not None:
        found = ground.found if isinstance(ground, NewGround) else ground.at
        text += f" ({signed(float(found(np.array([at]))[0]), units)})"
    return Wish(text=text, at=at, clear=0.12, rank=2, inside=False, bold=True, colour=FINISHED)


def signed(height: float, units: System) -> str:
    """Return a height over the plan's zero as it is written on a plan: always with its sign.

    >>> signed(0.3, "metric"), signed(0.0, "metric"), signed(-0.003, "imperial")
    ('+0.30', '±0.00', '±0"')
    """
    shown = show_length(abs(height), units)
    sign = "±" if shown == show_length(0.0, units) else "-" if height < 0 else "+"
    return f"{sign}{shown.removesuffix(' m')}"


def _edge(one: Flat) -> list[Mark]:
    if not one.corners:
        return []
    ring = (*one.corners, one.corners[0])
    return [Stroke(points=ring, colour=FINISHED, width_mm=style.PLANT, dash=style.FINE_DASH, layer="overlay")]


def _cross(at: Point, scale: float, tip: str) -> Mark:
    size = on_ground(1.2, scale)
    x, y = at
    lines = (((x - size, y), (x + size, y)), ((x, y - size), (x, y + size)))
    return Symbol(
        marks=(
            Disc(at=at, radius=0.9 * size, fill=style.PAPER, alpha=0.6, layer="overlay", tip=tip),
            Hatch(lines=lines, colour=FINISHED, width_mm=style.EDGE, layer="overlay"),
        ),
        tip=tip,
        layer="overlay",
    )


def _fall(one: Flat, scale: float) -> list[Mark]:
    gx, gy = one.gradient
    steep = math.hypot(gx, gy)
    if not one.corners or steep < 1e-6:
        return []
    long, head = on_ground(ARROW_MM, scale), on_ground(1.6, scale)
    ux, uy = -gx / steep, -gy / steep
    x, y = plane.kept_to(one.region, (one.at[0] + 0.2 * long * ux, one.at[1] + 0.2 * long * uy))
    tail, tip = (x, y), (x + long * ux, y + long * uy)
    ends = [(tip[0] - head * (ux + s * 0.45 * uy), tip[1] - head * (uy - s * 0.45 * ux)) for s in (1, -1)]
    turn = math.degrees(math.atan2(ux, uy)) - 90
    turn = turn - 180 if 90 < turn % 360 < 270 else turn
    middle = ((tail[0] + tip[0]) / 2, (tail[1] + tip[1]) / 2)
    aside = on_ground(1.9, scale)
    at = (middle[0] - aside * uy, middle[1] + aside * ux)
    return [
        Stroke(points=(tail, tip), colour=FINISHED, width_mm=style.STONE, layer="overlay"),
        Area(rings=((tip, ends[0], ends[1]),), fill=FINISHED, layer="overlay"),
        Label(
            at=at,
            text=f"{100 * steep:.2g} %",
            size_mm=style.SMALL_LETTERS,
            colour=FINISHED,
            halo=style.PAPER,
            turn=turn,
            layer="overlay",
        ),
    ]


def _banks(earth: Earthworks, ground: Region) -> list[Mark]:
    """Return the ticks of the banks: from the top, the whole way and half of it in turn."""
    lines: list[Line] = []
    for number, bank in enumerate(earth.banks):
        (ax, ay), (bx, by) = bank.top, bank.foot
        share = 1.0 if number % 2 == 0 else 0.45
        tick = plane.line((bank.top, (ax + share * (bx - ax), ay + share * (by - ay))))
        lines += plane.lines_within(tick, ground)
    return [Hatch(lines=tuple(lines), colour=FINISHED, width_mm=TICK_MM, layer="overlay")] if lines else []


def _walls(earth: Earthworks, units: System) -> list[Mark]:
    return [
        Stroke(
            points=wall.line,
            colour=style.INK,
            width_mm=WALL_MM,
            layer="overlay",
            tip=f"retaining wall of {wall.name}, up to {show_length(wall.highest, units)} high",
        )
        for wall in earth.walls
    ]
