"""A drawing as tables of numbers, one table a kind of mark: what the screen redraws from.

Layers that are drawn together share a band; within a band areas lie under lines, lines under dots. Bands that did not
change need not be sent again.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import KEPT, Area, Disc, Dots, Hatch, Label, Layer, Mark, Plain, Ring, Stroke, plain
from gardenkit.geometry.plane import FloatArray, Point

PX = 96 / 25.4  # CSS pixels in a millimetre
BANDS: dict[Layer, str] = {
    "ground": "ground",
    "sun": "ground",
    "paths": "ground",
    "planting": "planting",
    "structure": "structure",
    "furniture": "structure",
    "canopy": "above",
    "overlay": "above",
    "labels": "above",
}
BAND_ORDER = ("ground", "planting", "structure", "above")
TEXTS = "texts"
COLUMNS: dict[str, tuple[str, ...]] = {
    "areas": ("xs", "ys", "fill_color", "fill_alpha", "line_color", "line_alpha", "line_width"),
    "lines": ("xs", "ys", "line_color", "line_alpha", "line_width", "line_dash"),
    "dots": ("x", "y", "radius", "fill_color", "fill_alpha", "line_color", "line_alpha", "line_width"),
    "tips": ("xs", "ys", "tip"),
    TEXTS: (
        *("x", "y", "text", "text_font_size", "text_color", "text_align", "text_font_style", "angle"),
        *("background_fill_color", "background_fill_alpha"),
    ),
    "handles": ("x", "y", "id", "kind", "tip", "fill_color", "size", "marker", "about_x", "about_y", "turn"),
}
KINDS = ("areas", "lines", "dots", "tips")
HALO_ALPHA = 0.62
MOST_TIPPED = 24  # a longer line has no tip of its own
TIP_REACH = 0.08  # m to either side of a line where its tip shows. House value.
HANDLE_COLOURS = {
    "path": "#b5521b",
    "stone": "#5b5b52",
    "plant": "#2f6b3a",
    "seat": "#7a3b12",
    "turn": "#2c4f6b",
    "size": "#7a3b12",
}
HANDLE_SIZES = {"path": 14, "plant": 9, "turn": 15}  # screen pixels
HANDLE_MARKERS = {"turn": "diamond", "size": "square"}
Data = dict[str, list[Any]]
Row = tuple[Any, ...]  # the values of one row, in the order of the columns
Polygons = list[list[list[float]]]  # polygons, their rings, one coordinate of each corner


@attrs.frozen(kw_only=True)
class Handle:
    """A point that may be dragged: ``id`` names what it moves, ``kind`` says path, stone, plant, seat, turn or size.

    What turns does so ``about`` a point, what sizes leaves that one where it is; ``turn`` is how its thing is turned.
    """

    id: str
    kind: str
    at: Point
    tip: str = ""
    about: Point | None = None
    turn: float = 0.0


def banded(marks: Iterable[Mark]) -> dict[str, tuple[Plain, ...]]:
    """Return the marks of every band in painting order, and all words under "texts"."""
    found: dict[str, list[Plain]] = {name: [] for name in (*BAND_ORDER, TEXTS)}
    for mark in plain(marks):
        found[TEXTS if isinstance(mark, Label) else BANDS[mark.layer]].append(mark)
    return {name: tuple(band) for name, band in found.items()}


def band_data(name: str, marks: Sequence[Plain]) -> dict[str, Data]:
    """Return one band as columns: a table for its areas, lines, dots and tips, or the one table of words."""
    if name == TEXTS:
        return {TEXTS: table(TEXTS, [_text(mark) for mark in marks if isinstance(mark, Label)])}
    rows: dict[str, list[Row]] = {kind: [] for kind in KINDS}
    for mark in marks:
        for kind, row in _rows(mark):
            rows[kind].append(row)
    found = {kind: table(kind, some) for kind, some in rows.items()}
    return {f"{name}_{kind}": data for kind, data in found.items()}


def scene_data(marks: Iterable[Mark]) -> dict[str, Data]:
    """Return a whole drawing as columns: what a client copy keeps for each month and year."""
    return {key: data for name, band in banded(marks).items() for key, data in band_data(name, band).items()}


def handle_data(handles: Iterable[Handle]) -> Data:
    """Return draggable points as columns."""
    return table(
        "handles",
        [
            (
                *_xy(h.at),
                h.id,
                h.kind,
                h.tip or h.id,
                HANDLE_COLOURS.get(h.kind, style.INK),
                HANDLE_SIZES.get(h.kind, 11),
                HANDLE_MARKERS.get(h.kind, "circle"),
                *_xy(h.about or h.at),
                h.turn,
            )
            for h in handles
        ],
    )


def moved_handles(
    data: Mapping[str, Any], known: Sequence[Handle], *, least: float = 0.005
) -> tuple[tuple[str, Point], ...]:
    """Return (id, new place) of every known handle that ``data`` puts more than ``least`` metres from where it was.

    Points without a known id are passed over, and a point missing from the data has not moved.
    """
    there = {h.id: h.at for h in known}
    moved = []
    for name, x, y in zip(data["id"], data["x"], data["y"], strict=False):
        if name in there and math.isfinite(x) and math.isfinite(y) and math.dist(there[name], (x, y)) > least:
            moved.append((str(name), (float(x), float(y))))
    return tuple(moved)


def table(kind: str, rows: Sequence[Sequence[Any]]) -> Data:
    """Return rows as the columns of a kind of table."""
    names = COLUMNS[kind]
    columns = zip(*rows, strict=True) if rows else ((),) * len(names)
    return {name: list(column) for name, column in zip(names, columns, strict=True)}


@lru_cache(maxsize=KEPT)
def _rows(mark: Plain) -> tuple[tuple[str, Row], ...]:
    """Return the rows of one mark, each with the kind of its table; remembered, as most marks stay as they were."""
    match mark:
        case Area():
            return tuple(_area_rows(mark))
        case Stroke():
            return tuple(_stroke_rows(mark))
        case Hatch() if mark.lines:
            joined = _with_gaps(mark.lines)
            return (("lines", (joined[:, 0], joined[:, 1], mark.colour, mark.alpha, _px(mark.width_mm), [])),)
        case Disc():
            return (("dots", (*_xy(mark.at), *_round(mark))),)
        case Dots():
            look = _round(mark)
            return tuple(("dots", (*_xy(at), *look)) for at in mark.points)
    return ()


def _stroke_rows(mark: Stroke) -> Iterator[tuple[str, Row]]:
    xs, ys = _line(mark.points)
    yield "lines", (xs, ys, mark.colour, mark.alpha, _px(mark.width_mm), _dash(mark.dash))
    if mark.tip and len(mark.points) <= MOST_TIPPED:
        strips = [_line(_strip(a, b)) for a, b in pairwise(mark.points)]
        yield "tips", ([[xs] for xs, _ in strips], [[ys] for _, ys in strips], mark.tip)


def _strip(a: Point, b: Point) -> Ring:
    """Return a narrow strip along a piece of line, for the pointer to find."""
    long = math.dist(a, b) or 1.0
    dx, dy = TIP_REACH * (a[1] - b[1]) / long, TIP_REACH * (b[0] - a[0]) / long
    return (a[0] - dx, a[1] - dy), (b[0] - dx, b[1] - dy), (b[0] + dx, b[1] + dy), (a[0] + dx, a[1] + dy)


def _area_rows(mark: Area) -> Iterator[tuple[str, Row]]:
    rings = tuple(ring for ring in mark.rings if len(ring) > 2)
    if not rings:
        return
    solid_line = mark.stroke is not None and not mark.dash
    if mark.fill or solid_line:
        xs, ys = _polygons(rings)
        fill = (mark.fill or style.PAPER, mark.alpha if mark.fill else 0.0)
        yield "areas", (xs, ys, *fill, mark.stroke or style.PAPER, float(solid_line), _px(mark.width_mm))
        if mark.tip:
            yield "tips", (xs, ys, mark.tip)
    if mark.stroke and mark.dash:
        joined = _with_gaps([(*ring, ring[0]) for ring in rings])
        yield "lines", (joined[:, 0], joined[:, 1], mark.stroke, 1.0, _px(mark.width_mm), _dash(mark.dash))


def _text(mark: Label) -> tuple[Any, ...]:
    face = f"{'bold' if mark.bold else ''} {'italic' if mark.italic else ''}".strip() or "normal"
    align = {"start": "left", "middle": "center", "end": "right"}[mark.anchor]
    behind = (mark.halo or style.PAPER, HALO_ALPHA if mark.halo else 0.0)
    size = f"{mark.size_mm * PX:.1f}px"
    return (*_xy(mark.at), mark.text, size, mark.colour, align, face, round(-math.radians(mark.turn), 4), *behind)


def _polygons(rings: Sequence[Ring]) -> tuple[Polygons, Polygons]:
    """Return rings as polygons, each an outer ring followed by its holes."""
    if len(rings) == 1:
        xs, ys = _line(rings[0])
        return [[xs]], [[ys]]
    depth = _depths(rings)
    groups: list[list[Ring]] = [[ring] for ring, d in zip(rings, depth, strict=True) if d % 2 == 0]
    for ring, d in zip(rings, depth, strict=True):
        if d % 2:
            holders = [group for group in groups if _holds(group[0], ring[0])]
            (holders[-1] if holders else groups[0]).append(ring)
    lines = [[_line(ring) for ring in group] for group in groups]
    return [[x for x, _ in group] for group in lines], [[y for _, y in group] for group in lines]


def _depths(rings: Sequence[Ring]) -> list[int]:
    """Return in how many of the others each ring lies; only those whose box holds its first corner are looked at."""
    low = np.array([np.min(ring, axis=0) for ring in rings])
    high = np.array([np.max(ring, axis=0) for ring in rings])
    found = []
    for k, ring in enumerate(rings):
        near = np.flatnonzero(((low <= ring[0]) & (high >= ring[0])).all(axis=1)).tolist()
        found.append(sum(_holds(rings[other], ring[0]) for other in near if other != k))
    return found


def _holds(ring: Ring, at: Point) -> bool:
    x, y = at
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside


def _with_gaps(lines: Iterable[Ring]) -> FloatArray:
    """Return lines one after another, (n, 2), a row of NaN between them; single precision is true to 0.01 mm here."""
    rows: list[Point] = []
    for line in lines:
        rows += line
        rows.append((math.nan, math.nan))
    return np.asarray(rows[:-1], dtype=np.float32)


def _line(points: Ring) -> tuple[list[float], list[float]]:
    return [round(p[0], 3) for p in points], [round(p[1], 3) for p in points]


def _xy(at: Point) -> tuple[float, float]:
    return round(at[0], 3), round(at[1], 3)


def _round(mark: Disc | Dots) -> tuple[Any, ...]:
    fill = (mark.fill or style.PAPER, mark.alpha if mark.fill else 0.0)
    return round(mark.radius, 4), *fill, mark.stroke or style.PAPER, float(mark.stroke is not None), _px(mark.width_mm)


def _dash(dash: Sequence[float]) -> list[int]:
    return [max(1, round(d * PX)) for d in dash]


def _px(width_mm: float) -> float:
    return round(max(0.5, width_mm * PX * 0.9), 2)
