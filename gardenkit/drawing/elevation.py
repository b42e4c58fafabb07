"""The garden from the side: plants at their height along a line, the house wall behind, a height scale beside."""

import math
from collections.abc import Callable, Sequence

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.furniture import FOOT, Units
from gardenkit.drawing.labels import Wish, place
from gardenkit.drawing.scene import (
    Area,
    Bounds,
    Disc,
    Hatch,
    Label,
    Mark,
    Picture,
    Plain,
    Ring,
    Scene,
    Stroke,
    Symbol,
    in_units,
    on_ground,
    shifted,
)
from gardenkit.drawing.side_things import BEFORE
from gardenkit.drawing.side_things import seen as things_seen
from gardenkit.drawing.silhouettes import side_symbol
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import raised_over
from gardenkit.units import counted

PERSON = 1.7  # m, drawn beside the planting for scale. House value.
MARGIN_MM = 14.0
PICTURE_EDGE = 1.8  # mm that ground and picture go on past the ends of the line
PROFILE_STEP = 0.25  # m between the heights of the ground along a line. House value.
NO_PERSON_MM = 3.0  # right of the line where nobody stands there
STEPS: dict[Units, float] = {"imperial": 2 * FOOT, "metric": 0.5}


@attrs.frozen(kw_only=True)
class WallBehind:
    """A wall seen square on: from ``left`` to ``right`` along the drawing; openings (left, right, sill, head, kind)."""

    left: float
    right: float
    height: float
    name: str = ""
    openings: tuple[tuple[float, float, float, float, str], ...] = ()


def elevation_scene(
    plants: Sequence[PlantDrawn],
    *,
    line: tuple[Point, Point],
    title: str,
    depth: float = 3.0,
    walls: Sequence[WallBehind] = (),
    things: Sequence[Thing] = (),
    built: Sequence[tuple[float, Symbol]] = (),
    ground: Callable[[FloatArray], FloatArray] | None = None,
    paint: Callable[[Bounds], Picture] | None = None,
    least_top: float = PERSON,
    scale: float = 48.0,
    units: Units = "imperial",
    names: bool = True,
    person: bool = True,
) -> Scene:
    """Return what one sees looking square at a line from a to b, a on the left: plants to ``depth`` metres beyond it.

    Plants before the line (a little) and beyond it stand on the ground at their foot (level 0 without ``ground``);
    those further off are drawn first and paler. ``built`` is what else is there, with how far it is beyond the line, at
    its own height. Heights are to scale. With ``paint`` what stands there is painted, in the bounds that it is asked
    for, and only named here.
    """
    long = math.dist(*line)
    level = ground or _level
    seen = [(p, *along_and_beyond(p.at, line)) for p in plants]
    seen = [one for one in seen if stands_in(one[0].spread, one[1], one[2], long=long, depth=depth)]
    profile = _profile(line, level)
    low = min(0.0, *(y for _, y in profile))
    standing, tallest = _standing(seen, things, built, line, depth=depth, level=level, scale=scale)
    top = max([tallest, least_top, *(w.height for w in walls)]) + on_ground(6.0, scale)
    edge = on_ground(PICTURE_EDGE, scale)
    marks: list[Mark] = []
    if paint is not None:
        marks = [paint((-edge, low, long + edge, top)), *(_unseen(symbol) for symbol in standing)]
    else:
        marks = [*(mark for wall in walls for mark in _wall(wall, low, scale)), *standing]
    end = long + on_ground(9.0 if person else 0.0, scale)
    marks += _ground([(-edge, profile[0][1]), *profile, (end, profile[-1][1])], low, scale)
    marks += _heights(long, (low, top), scale, units)
    if person:
        marks += shifted((_person(long + on_ground(7.0, scale)),), (0.0, profile[-1][1]))
    right = long + on_ground(MARGIN_MM if person else NO_PERSON_MM, scale)
    bounds = (-on_ground(MARGIN_MM, scale), low - on_ground(18.0, scale), right, top)
    if names:
        marks += _keys(seen, bounds, low, scale)
    at = (bounds[0] + on_ground(2.0, scale), bounds[1] + on_ground(3.5, scale))
    marks.append(Label(at=at, text=title, size_mm=3.6, anchor="start", bold=True, layer="furniture"))
    scene = Scene(
        marks=tuple(marks),
        bounds=bounds,
        title=title,
        description=_words(seen, walls, units),
        scale=scale,
        paper=style.PAPER,
    )
    return in_units(scene, units)


def stands_in(spread: float, along: float, away: float, *, long: float, depth: float) -> bool:
    """Return whether what stands ``along`` a line and ``away`` beyond it is seen from the side."""
    return -0.3 * spread <= along <= long + 0.3 * spread and -BEFORE <= away <= depth


def _standing(
    seen: Sequence[tuple[PlantDrawn, float, float]],
    things: Sequence[Thing],
    built: Sequence[tuple[float, Symbol]],
    line: tuple[Point, Point],
    *,
    depth: float,
    level: Callable[[FloatArray], FloatArray],
    scale: float,
) -> tuple[list[Symbol], float]:
    """Return plants and things as they stand on the ground, far ones first, and how high the highest reaches."""
    feet = _feet([p.at for p, _, _ in seen], raised_over(level, things))
    found = [
        (away, foot, plant.height, side_symbol(plant, at=x, scale=scale, fade=min(1.0, max(0.0, away / depth))))
        for (plant, x, away), foot in zip(seen, feet, strict=True)
    ]
    placed = things_seen(things, line, depth=depth)
    under = _feet([thing.at for *_, thing in placed], level)
    found += [(away, foot, t.height, symbol) for (away, symbol, t), foot in zip(placed, under, strict=True)]
    found += [(away, 0.0, 0.0, symbol) for away, symbol in built]
    found.sort(key=lambda item: -item[0])
    return [_on(foot, symbol) for _, foot, _, symbol in found], max(
        (foot + tall for _, foot, tall, _ in found), default=0
    )


def _feet(places: Sequence[Point], level: Callable[[FloatArray], FloatArray]) -> list[float]:
    return [float(z) for z in level(np.array(places, dtype=float).reshape(-1, 2))] if places else []


def _profile(line: tuple[Point, Point], level: Callable[[FloatArray], FloatArray]) -> list[Point]:
    """Return the ground along a line: metres from its first end, height."""
    long = math.dist(*line)
    shares = np.linspace(0.0, 1.0, max(2, math.ceil(long / PROFILE_STEP) + 1))
    a, b = np.asarray(line, dtype=float)
    heights = level(a + shares[:, None] * (b - a))
    return [(float(share * long), float(z)) for share, z in zip(shares, heights, strict=True)]


def _unseen(symbol: Symbol) -> Symbol:
    """Return a symbol that only names what is painted under it."""
    areas = [mark for mark in symbol.marks if isinstance(mark, Area)]
    parts: tuple[Plain, ...] = tuple(Area(rings=a.rings, fill="#ffffff", alpha=0.0, layer=a.layer) for a in areas)
    return attrs.evolve(symbol, marks=parts)


def _level(places: FloatArray) -> FloatArray:
    return np.zeros(len(places))


def _on(foot: float, symbol: Symbol) -> Symbol:
    """Return a plant seen from the side, lifted to the soil that it stands in."""
    (lifted,) = shifted((symbol,), (0.0, foot)) if foot else (symbol,)
    return lifted if isinstance(lifted, Symbol) else symbol


def along_and_beyond(at: Point, line: tuple[Point, Point]) -> tuple[float, float]:
    """Return metres along a line from its first end, and metres beyond it (to its left; before it is negative)."""
    (ax, ay), (bx, by) = line
    long = math.dist(*line)
    ux, uy = (bx - ax) / long, (by - ay) / long
    dx, dy = at[0] - ax, at[1] - ay
    return dx * ux + dy * uy, dy * ux - dx * uy


def stands_behind(building: Building, line: tuple[Point, Point]) -> bool:
    """Return whether more of a building stands beyond a line than before it."""
    return sum(along_and_beyond(corner, line)[1] for corner in building.outline) > 0


def wall_behind(building: Building, openings: Sequence[Opening], line: tuple[Point, Point]) -> WallBehind:
    """Return a building as the wall seen behind a line, with the openings that face it."""
    spots = [along_and_beyond(p, line)[0] for p in building.outline]
    long = math.dist(*line)
    left, right = max(min(spots), 0.0), min(max(spots), long)
    cut = []
    for o in openings:
        a, b = sorted(along_and_beyond(p, line)[0] for p in (o.start, o.end))
        if o.kind != "gate" and b - a > 0.7 * o.width and b > left and a < right:
            cut.append((max(a, left), min(b, right), o.sill, o.head, o.kind))
    return WallBehind(left=left, right=right, height=building.eaves, name=building.name, openings=tuple(cut))


def _wall(wall: WallBehind, low: float, scale: float) -> list[Mark]:
    if wall.right <= wall.left:
        return []
    marks: list[Mark] = [
        Area(
            rings=(_box(wall.left, low, wall.right, wall.height),),
            fill=style.HOUSE,
            stroke=style.SOFT_INK,
            width_mm=style.EDGE,
            layer="ground",
            tip=wall.name,
        )
    ]
    course = max(on_ground(2.4, scale), 0.15)
    rows = range(1, int(wall.height / course) + 1)
    boards = tuple(((wall.left, k * course), (wall.right, k * course)) for k in rows if k * course < wall.height)
    marks.append(Hatch(lines=boards, colour="#d8d2c4", width_mm=style.RIB, layer="ground"))
    for left, right, sill, head, kind in wall.openings:
        fill = "#cfd9dc" if kind == "window" else "#b59f7f"
        ring = _box(left, sill, right, head)
        marks.append(Area(rings=(ring,), fill=fill, stroke=style.INK, width_mm=style.EDGE, layer="ground", tip=kind))
        if kind == "window":
            middle = (left + right) / 2
            bars = (((middle, sill), (middle, head)), ((left, (sill + head) / 2), (right, (sill + head) / 2)))
            marks.append(Hatch(lines=bars, colour=style.INK, width_mm=style.PLANT, layer="ground"))
    return marks


def _ground(profile: Sequence[Point], low: float, scale: float) -> list[Mark]:
    """Return the ground cut along the line, earth below it."""
    deep = low - on_ground(2.0, scale)
    soil: Ring = (*profile, (profile[-1][0], deep), (profile[0][0], deep))
    return [
        Area(rings=(soil,), fill=style.GROUND["bed"], layer="structure"),
        Stroke(points=tuple(profile), colour=style.INK, width_mm=style.WALL, layer="structure"),
    ]


def _heights(long: float, span: tuple[float, float], scale: float, units: Units) -> list[Mark]:
    """Return level lines over the drawing with their heights beside it, from the lowest ground to the top."""
    step = STEPS[units]
    while on_ground(6.0, scale) > step:
        step *= 2
    marks: list[Mark] = []
    low, top = span
    levels = [k * step for k in range(math.ceil(low / step - 1e-9), int(top / step) + 1)]
    levels = [y for y in levels if y < top - on_ground(2.0, scale)]
    rules = tuple(((-on_ground(1.5, scale), y), (long, y)) for y in levels if y != 0)
    marks.append(Hatch(lines=rules, colour="#b9b3a2", width_mm=style.FLECK, alpha=0.7, layer="ground"))
    for number, y in enumerate(levels):
        figure = f"{y / FOOT:.0f}" if units == "imperial" else f"{y:.1f}"
        unit = {"imperial": " ft", "metric": " m"}[units] if number == len(levels) - 1 else ""
        at = (-on_ground(2.5, scale), y)
        marks.append(
            Label(
                at=at,
                text=figure + unit,
                size_mm=style.SMALL_LETTERS,
                anchor="end",
                colour=style.SOFT_INK,
                layer="furniture",
            )
        )
    return marks


def _person(x: float) -> Symbol:
    ink = "#7d8078"
    body: Ring = (
        (-0.20, 0.78),
        (-0.16, 1.42),
        (0.16, 1.42),
        (0.20, 0.78),
        (0.11, 0.78),
        (0.10, 0.0),
        (-0.10, 0.0),
        (-0.11, 0.78),
    )
    figure = tuple((x + dx, dy) for dx, dy in body)
    return Symbol(
        marks=(
            Area(rings=(figure,), fill=ink, alpha=0.65, layer="overlay"),
            Disc(at=(x, PERSON - 0.11), radius=0.11, fill=ink, alpha=0.65, layer="overlay"),
        ),
        tip=f"a person {PERSON:.1f} m tall, for scale",
        layer="overlay",
    )


def _keys(
    seen: Sequence[tuple[PlantDrawn, float, float]], bounds: Bounds, low: float, scale: float
) -> tuple[Mark, ...]:
    """Return the plant keys in a strip under the ground line, below the plants they name; one a kind nearby."""
    below = low - on_ground(6.0, scale)
    wishes, last = [], dict[str, float]()
    for plant, x, _ in sorted(seen, key=lambda item: item[1]):
        if plant.key in last and x - last[plant.key] < on_ground(14.0, scale):
            continue
        last[plant.key] = x
        spots = tuple(
            (x + on_ground(dx, scale), below + on_ground(dy, scale))
            for dy in (0.0, -4.0)
            for dx in (3, -3, 6, -6, 9, -9)
        )
        wishes.append(
            Wish(text=plant.key, at=(x, below), size_mm=style.KEY_LETTERS, bold=True, leader=False, path=spots)
        )
    strip = (bounds[0], bounds[1] + on_ground(6.0, scale), bounds[2], low - on_ground(3.5, scale))
    return place(wishes, scale=scale, bounds=strip).marks


def _words(seen: Sequence[tuple[PlantDrawn, float, float]], walls: Sequence[WallBehind], units: Units) -> str:
    def high(metres: float) -> str:
        return f"{metres / FOOT:.1f} ft" if units == "imperial" else f"{metres:.1f} m"

    tallest = {p.name or p.key: p.height for p, _, _ in sorted(seen, key=lambda item: item[0].height)}
    said = [f"{name} {high(height)}" for name, height in sorted(tallest.items(), key=lambda item: -item[1])]
    behind = f" Behind them: {', '.join(w.name or 'a wall' for w in walls)}." if walls else ""
    return f"Side view of {counted(len(seen), 'plant')}. Heights: {'; '.join(said)}.{behind}"


def _box(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))
