"""A drawing before it is put on paper or screen: lines, areas, dots and words in metres, line weights in millimetres.

Whatever draws (SVG, Bokeh) only reads what is here, so every picture of the garden looks the same everywhere.
Coordinates are plan metres, x right and y up. Line weights and letters are millimetres on a sheet at 1 : ``scale``.
"""

from collections.abc import Callable, Iterable, Iterator
from functools import cached_property, lru_cache
from typing import Literal, get_args

import attrs

from gardenkit.geometry.plane import Point
from gardenkit.saying import in_system
from gardenkit.units import System

Layer = Literal["ground", "sun", "paths", "planting", "structure", "canopy", "overlay", "labels", "furniture"]
LAYERS: tuple[Layer, ...] = get_args(Layer)  # in the order they are painted
Anchor = Literal["start", "middle", "end"]
Ring = tuple[Point, ...]
Bounds = tuple[float, float, float, float]
KEPT = 12_000  # marks that are remembered: those of an acre with 2,000 plants. House value.
CHART_SCALE = 1000.0  # a scene at this scale has one millimetre of paper per unit: used by charts


@attrs.frozen(kw_only=True, cache_hash=True)
class Area:
    """Ground inside ``rings`` (outer rings and holes, in any order, even-odd), filled and outlined."""

    rings: tuple[Ring, ...]
    fill: str | None = None
    stroke: str | None = None
    width_mm: float = 0.18
    dash: tuple[float, ...] = ()  # mm on, mm off
    alpha: float = 1.0
    layer: Layer = "ground"
    tip: str = ""


@attrs.frozen(kw_only=True, cache_hash=True)
class Stroke:
    """One open line."""

    points: Ring
    colour: str
    width_mm: float = 0.18
    dash: tuple[float, ...] = ()
    alpha: float = 1.0
    layer: Layer = "ground"
    tip: str = ""


@attrs.frozen(kw_only=True, cache_hash=True)
class Hatch:
    """Many short open lines drawn alike: a texture, a hatch, the ribs of a symbol."""

    lines: tuple[Ring, ...]
    colour: str
    width_mm: float = 0.1
    alpha: float = 1.0
    layer: Layer = "ground"


@attrs.frozen(kw_only=True, cache_hash=True)
class Disc:
    """A true circle: a post, a trunk, a survey station."""

    at: Point
    radius: float
    fill: str | None = None
    stroke: str | None = None
    width_mm: float = 0.18
    alpha: float = 1.0
    layer: Layer = "ground"
    tip: str = ""


@attrs.frozen(kw_only=True, cache_hash=True)
class Dots:
    """Many small circles drawn alike: gravel, flowers, stipple."""

    points: tuple[Point, ...]
    radius: float
    fill: str
    stroke: str | None = None
    width_mm: float = 0.08
    alpha: float = 1.0
    layer: Layer = "ground"


@attrs.frozen(kw_only=True, cache_hash=True)
class Label:
    """Words with their middle height at ``at``; ``turn`` degrees clockwise; ``halo`` a colour kept behind them."""

    at: Point
    text: str
    size_mm: float = 2.5
    colour: str = "#20261f"
    anchor: Anchor = "middle"
    halo: str | None = None
    turn: float = 0.0
    bold: bool = False
    italic: bool = False
    layer: Layer = "labels"


@attrs.frozen(kw_only=True)
class Picture:
    """A painted picture: ``data`` are the bytes of a WebP file, its lower left corner at ``at``."""

    at: Point
    wide: float
    high: float
    data: bytes
    layer: Layer = "ground"


Plain = Area | Stroke | Hatch | Disc | Dots | Label | Picture


@attrs.frozen(kw_only=True, cache_hash=True)
class Symbol:
    """Several marks that belong together, such as one plant; ``tip`` names it for a reader who points at it."""

    marks: tuple[Plain, ...]
    tip: str = ""
    layer: Layer = "planting"


Mark = Plain | Symbol


@attrs.frozen(kw_only=True)
class Scene:
    """A whole drawing. ``description`` is the text for a reader who cannot see it; ``scale`` the n of 1 : n.

    ``marks`` is all that is drawn, its words placed for the scale; they are placed when they are first asked for.
    ``words`` gives the marks of the words for any scale of a drawing whose other marks are ``unnamed``, without those
    of groups that are hidden: a plan on the screen is as large as its window.
    """

    unnamed: tuple[Mark, ...] = attrs.field(alias="marks")
    bounds: Bounds
    title: str
    description: str
    scale: float = 48.0
    paper: str | None = "#fdfcf8"
    words: Callable[[float, frozenset[str]], tuple[Mark, ...]] | None = attrs.field(default=None, eq=False, repr=False)

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """All that is drawn."""
        return self.unnamed if self.words is None else (*self.unnamed, *self.words(self.scale, frozenset()))

    def with_marks(self, marks: Iterable[Mark], *, description: str | None = None) -> "Scene":
        """Return the drawing with these marks, and no words beside them."""
        told = self.description if description is None else description
        return attrs.evolve(self, marks=tuple(marks), words=None, description=told)


def in_units(scene: Scene, system: System) -> Scene:
    """Return a drawing whose description and tips, written in metres, are said in the garden's own units."""
    told = in_system(scene.description, system)
    return attrs.evolve(scene, marks=tips_in_units(scene.unnamed, system), description=told)


def tips_in_units(marks: Iterable[Mark], system: System) -> tuple[Mark, ...]:
    """Return marks whose tips are said in the garden's own units."""
    return tuple(_told(mark, system) for mark in marks)


@lru_cache(maxsize=KEPT)
def _told(mark: Mark, system: System) -> Mark:
    if isinstance(mark, Symbol):
        parts = tuple(part if _silent(part) else _told_plain(part, system) for part in mark.marks)
        return attrs.evolve(mark, tip=in_system(mark.tip, system), marks=parts)
    return mark if _silent(mark) else _told_plain(mark, system)


def _told_plain(mark: Plain, system: System) -> Plain:
    return (
        mark
        if isinstance(mark, Hatch | Dots | Label | Picture)
        else attrs.evolve(mark, tip=in_system(mark.tip, system))
    )


def _silent(mark: Plain) -> bool:
    return not getattr(mark, "tip", "")


def layered(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Return marks in the order they are painted: by layer, and as given within a layer."""
    return tuple(sorted(marks, key=lambda mark: LAYERS.index(mark.layer)))


def plain(marks: Iterable[Mark]) -> Iterator[Plain]:
    """Return every mark in painting order with symbols taken apart; a symbol's first area carries its tip."""
    for mark in layered(marks):
        if not isinstance(mark, Symbol):
            yield mark
            continue
        tip = mark.tip
        for part in mark.marks:
            if tip and isinstance(part, Area):
                yield part if part.tip else attrs.evolve(part, tip=tip)
                tip = ""
            else:
                yield part


def on_paper(metres: float, scale: float) -> float:
    """Return millimetres on a sheet at 1 : scale.

    >>> on_paper(1.2, 48)
    25.0
    """
    return metres * 1000.0 / scale


def on_ground(millimetres: float, scale: float) -> float:
    """Return metres on the ground for millimetres on a sheet at 1 : scale."""
    return millimetres * scale / 1000.0


def grown_bounds(bounds: Bounds, by: float) -> Bounds:
    """Return bounds ``by`` metres larger on every side."""
    return bounds[0] - by, bounds[1] - by, bounds[2] + by, bounds[3] + by


def around(*bounds: Bounds) -> Bounds:
    """Return the bounds that hold all the given ones."""
    return (
        min(b[0] for b in bounds),
        min(b[1] for b in bounds),
        max(b[2] for b in bounds),
        max(b[3] for b in bounds),
    )


def shifted(marks: Iterable[Mark], by: Point) -> tuple[Mark, ...]:
    """Return marks moved by (dx, dy): to set a legend or a second drawing beside the first."""
    return tuple(_moved(mark, lambda p: (p[0] + by[0], p[1] + by[1])) for mark in marks)


def in_metres(marks: Iterable[Plain], scale: float, foot: Point) -> tuple[Plain, ...]:
    """Return marks that are millimetres of a sheet from ``foot`` at 1 : ``scale`` as metres."""
    by = on_ground(1.0, scale)
    moved = (_moved(mark, lambda p: (foot[0] + by * p[0], foot[1] + by * p[1])) for mark in marks)
    return tuple(mark for mark in moved if not isinstance(mark, Symbol))


def _moved(mark: Mark, to: Callable[[Point], Point]) -> Mark:
    match mark:
        case Symbol():
            parts = tuple(_moved(part, to) for part in mark.marks)
            return attrs.evolve(mark, marks=tuple(p for p in parts if not isinstance(p, Symbol)))
        case Area():
            return attrs.evolve(mark, rings=tuple(tuple(to(p) for p in ring) for ring in mark.rings))
        case Hatch():
            return attrs.evolve(mark, lines=tuple(tuple(to(p) for p in line) for line in mark.lines))
        case Stroke() | Dots():
            return attrs.evolve(mark, points=tuple(to(p) for p in mark.points))
        case _:
            return attrs.evolve(mark, at=to(mark.at))
