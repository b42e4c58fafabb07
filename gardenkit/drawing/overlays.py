"""What is laid over the plan to be studied: sun hours, shadows, what one sees, contours, tapes, findings."""

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.plan_ground import region_rings
from gardenkit.drawing.scene import Area, Disc, Label, Mark, Plain, Ring, Stroke, Symbol, on_ground
from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point, Region, Shape
from gardenkit.units import System, show_length

STATION_MM, FINDING_MM = 1.1, 2.1
CHOSEN_INK, CHOSEN_MM = "#b5231b", 0.7  # ring round a chosen plant
CHOSEN_SHARE, CHOSEN_LEAST_MM = 0.3, 3.0  # of the plant's width, and mm on paper at least. House value.
SIGN = {"stop": "!", "warning": "!", "caution": "?", "note": "i"}


@attrs.frozen(kw_only=True)
class Ellipse:
    """How sure a surveyed point is: half axes in metres, ``turn`` of the long one in degrees clockwise from y."""

    at: Point
    major: float
    minor: float
    turn: float = 0.0


def sun_marks(
    hours: FloatArray,
    *,
    x0: float,
    y0: float,
    cell: float,
    steps: Sequence[float] = style.SUN_STEPS,
    colours: Sequence[str] = style.SUN_COLOURS,
    alpha: float = 0.85,
    unit: str = "h",
    of: str = "of direct sun",
) -> tuple[Mark, ...]:
    """Return a grid of sun hours, or of light by another ``unit``, as one area a class, each lighter than the last.

    ``hours[row, column]`` is the cell whose lower left corner is (x0 + column cell, y0 + row cell); NaN is left blank.
    """
    classes = np.digitize(hours, steps)
    marks = []
    for number, colour in enumerate(colours[: len(steps) + 1]):
        rings = cell_rings((classes == number) & np.isfinite(hours), x0=x0, y0=y0, cell=cell)
        if rings:
            tip = f"{_class_name(number, steps, unit)} {of}"
            marks.append(Area(rings=rings, fill=colour, alpha=alpha, layer="sun", tip=tip))
    return tuple(marks)


def sun_legend(steps: Sequence[float] = style.SUN_STEPS, *, unit: str = "h") -> tuple[tuple[str, str], ...]:
    """Return the key to a sun map, darkest first: (colour, words) for the legend of a plan."""
    return tuple((style.SUN_COLOURS[k], _class_name(k, steps, unit)) for k in range(len(steps) + 1))


def cell_rings(mask: NDArray[np.bool_], *, x0: float, y0: float, cell: float) -> tuple[Ring, ...]:
    """Return the outlines of the true cells of a grid, holes included, with straight runs as one side."""
    padded = np.pad(mask, 1)
    follow: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for drow, dcol, a, b in (
        (-1, 0, (0, 0), (1, 0)),
        (0, 1, (1, 0), (1, 1)),
        (1, 0, (1, 1), (0, 1)),
        (0, -1, (0, 1), (0, 0)),
    ):
        edge = padded & ~np.roll(padded, (-drow, -dcol), axis=(0, 1))
        for row, column in np.argwhere(edge) - 1:
            follow.setdefault((int(column) + a[0], int(row) + a[1]), []).append((int(column) + b[0], int(row) + b[1]))
    rings = []
    while follow:
        start = next(iter(follow))
        ring, spot, came = [start], start, (0, 0)
        while True:
            spot, came = _next_corner(follow, spot, came)
            if spot == start:
                break
            ring.append(spot)
        rings.append(tuple((x0 + c * cell, y0 + r * cell) for c, r in _straightened(ring)))
    return tuple(rings)


def shadow_marks(regions: Iterable[Region], *, alpha: float = 0.28) -> tuple[Mark, ...]:
    """Return shadows as cool translucent ground."""
    return tuple(
        Area(rings=region_rings(r), fill="#33405c", alpha=alpha, layer="sun", tip="shadow")
        for r in regions
        if not r.is_empty
    )


def isovist_marks(region: Region, eye: Point, *, scale: float, name: str = "") -> tuple[Mark, ...]:
    """Return what can be seen from an eye point: a warm wash with a broken edge, and the eye."""
    tip = f"seen from {name}" if name else "seen from here"
    seen: list[Mark] = []
    if not region.is_empty:
        seen.append(
            Area(
                rings=region_rings(region),
                fill="#e8a13a",
                stroke=style.EYE,
                width_mm=style.PLANT,
                dash=style.HIDDEN_DASH,
                alpha=0.20,
                layer="sun",
                tip=tip,
            )
        )
    size = on_ground(1.3, scale)
    seen.append(
        Disc(at=eye, radius=size, fill=style.PAPER, stroke=style.EYE, width_mm=style.EDGE, layer="overlay", tip=tip)
    )
    seen.append(Disc(at=eye, radius=size * 0.45, fill=style.EYE, layer="overlay"))
    return tuple(seen)


def contour_marks(
    contours: Iterable[tuple[float, Sequence[Ring]]], *, scale: float, units: System, every: int = 5
) -> tuple[Mark, ...]:
    """Return contour lines (height in metres, lines); every fifth heavier; each line carries its height once."""
    marks: list[Mark] = []
    for number, (height, lines) in enumerate(contours):
        weight = style.EDGE if number % every == 0 else style.PLANT
        for line in lines:
            if len(line) < 2:
                continue
            marks.append(
                Stroke(
                    points=tuple(line),
                    colour="#8a5a2b",
                    width_mm=weight,
                    alpha=0.85,
                    layer="overlay",
                    tip=f"{height:+.2f} m",
                )
            )
            middle = line[len(line) // 2]
            long = sum(math.dist(a, b) for a, b in pairwise(line))
            if long > on_ground(18.0, scale):
                marks.append(
                    Label(
                        at=middle,
                        text=f"{'+' if height > 0 else ''}{show_length(height, units).removesuffix(' m')}",
                        size_mm=style.SMALL_LETTERS,
                        colour="#6a421b",
                        halo=style.PAPER,
                        layer="overlay",
                    )
                )
    return tuple(marks)


def survey_marks(
    stations: Mapping[str, Point],
    *,
    ellipses: Sequence[Ellipse] = (),
    ties: Sequence[tuple[Point, Point, str]] = (),
    scale: float,
    exaggerate: float = 1.0,
) -> tuple[Mark, ...]:
    """Return measured points as triangles, tapes as fine lines (a, b, note), and how sure each point is as an ellipse.

    ``exaggerate`` draws the ellipses larger than true; say so in the legend.
    """
    tapes = [
        Stroke(
            points=(a, b), colour=style.FOUND, width_mm=style.LEADER, dash=style.FINE_DASH, layer="overlay", tip=note
        )
        for a, b, note in ties
    ]
    sure = [_ellipse(e, exaggerate) for e in ellipses]
    size = on_ground(STATION_MM, scale)
    return (*tapes, *sure, *(_station(name, at, size) for name, at in stations.items()))


def survey_names(stations: Mapping[str, Point], *, scale: float) -> tuple[Wish, ...]:
    """Return the names of measured points as labels that want a place."""
    clear = on_ground(STATION_MM, scale)
    return tuple(
        Wish(text=name, at=at, clear=clear, rank=1, inside=False, bold=True, colour=style.FOUND)
        for name, at in stations.items()
    )


def finding_marks(findings: Iterable[Finding], *, scale: float) -> tuple[Mark, ...]:
    """Return a numbered flag for every finding that has a place; its sentence is the tip."""
    size = on_ground(FINDING_MM, scale)
    return tuple(
        Symbol(
            marks=(
                Disc(
                    at=f.at,
                    radius=size,
                    fill=style.PAPER,
                    stroke=style.ALERT,
                    width_mm=style.EDGE,
                    layer="overlay",
                    tip=f.sentence(),
                ),
                Label(at=f.at, text=SIGN[f.seriousness], size_mm=3.0, colour=style.ALERT, bold=True, layer="overlay"),
            ),
            tip=f.sentence(),
            layer="overlay",
        )
        for f in findings
        if f.at is not None
    )


def lit_marks(finding: Finding, spots: Iterable[Point], *, scale: float) -> tuple[Mark, ...]:
    """Return a ring round every place that a finding is about, so that it is found on the plan."""
    size, words = on_ground(2 * FINDING_MM, scale), finding.sentence()
    return tuple(
        Disc(at=at, radius=size, stroke=style.ALERT, width_mm=3 * style.EDGE, layer="overlay", tip=words)
        for at in spots
    )


def chosen_mark(at: Point, spread: float, *, scale: float) -> Disc:
    """Return a ring round a chosen plant of a full width in metres, wide enough to be seen at 1 : ``scale``."""
    radius = max(CHOSEN_SHARE * spread, on_ground(CHOSEN_LEAST_MM, scale))
    return Disc(at=at, radius=radius, stroke=CHOSEN_INK, width_mm=CHOSEN_MM, layer="overlay")


def chosen_shape_mark(shape: Shape, *, scale: float) -> Area:
    """Return the outline round a chosen area, line or spot, a little off it at 1 : ``scale``."""
    around = plane.grown(shape, on_ground(CHOSEN_LEAST_MM / 2, scale))
    return Area(rings=region_rings(around), stroke=CHOSEN_INK, width_mm=CHOSEN_MM, layer="overlay")


def _station(name: str, at: Point, size: float) -> Symbol:
    ring = tuple(
        (at[0] + size * math.sin(math.radians(a)), at[1] + size * math.cos(math.radians(a))) for a in (0, 120, 240)
    )
    parts: tuple[Plain, ...] = (
        Area(rings=(ring,), fill=style.PAPER, stroke=style.FOUND, width_mm=style.EDGE, layer="overlay"),
        Disc(at=at, radius=size * 0.18, fill=style.FOUND, layer="overlay"),
    )
    return Symbol(marks=parts, tip=f"station {name}", layer="overlay")


def _ellipse(e: Ellipse, exaggerate: float) -> Area:
    a = math.radians(e.turn)
    ring = []
    for k in range(36):
        t = math.radians(10 * k)
        along, across = e.major * exaggerate * math.cos(t), e.minor * exaggerate * math.sin(t)
        ring.append(
            (e.at[0] + along * math.sin(a) + across * math.cos(a), e.at[1] + along * math.cos(a) - across * math.sin(a))
        )
    tip = f"sure to {e.major * 1000:.0f} by {e.minor * 1000:.0f} mm"
    return Area(
        rings=(tuple(ring),),
        fill=style.FOUND,
        stroke=style.FOUND,
        width_mm=style.PLANT,
        alpha=0.18,
        layer="overlay",
        tip=tip,
    )


def _class_name(number: int, steps: Sequence[float], unit: str) -> str:
    if number == 0:
        return f"under {steps[0]:g} {unit}"
    if number == len(steps):
        return f"{steps[-1]:g} {unit} and more"
    return f"{steps[number - 1]:g} to {steps[number]:g} {unit}"


def _next_corner(
    follow: dict[tuple[int, int], list[tuple[int, int]]], spot: tuple[int, int], came: tuple[int, int]
) -> tuple[tuple[int, int], tuple[int, int]]:
    """Take the next side from a corner, turning left where two cells touch only there."""
    ways = follow[spot]
    pick = 0
    if len(ways) > 1:
        left = (-came[1], came[0])
        pick = next((i for i, way in enumerate(ways) if (way[0] - spot[0], way[1] - spot[1]) == left), 0)
    ahead = ways.pop(pick)
    if not ways:
        del follow[spot]
    return ahead, (ahead[0] - spot[0], ahead[1] - spot[1])


def _straightened(ring: list[tuple[int, int]]) -> list[tuple[int, int]]:
    n = len(ring)
    return [
        ring[i]
        for i in range(n)
        if (ring[i][0] - ring[i - 1][0], ring[i][1] - ring[i - 1][1])
        != (ring[(i + 1) % n][0] - ring[i][0], ring[(i + 1) % n][1] - ring[i][1])
    ]
