"""The setting-out drawn on the plan: the baseline with its running dimensions, fixed points, numbered places, radii."""

import math
from collections.abc import Sequence

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.garden import structure_scene
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.scene import CHART_SCALE, Area, Disc, Label, Mark, Scene, Stroke, on_ground
from gardenkit.geometry.plane import Point
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.schedules.places import STATION
from gardenkit.schedules.setting_out import Bend, SettingOut, from_baseline
from gardenkit.units import FOOT, System, show_length

LINE = "#8a1f11"  # the baseline and what is measured from it
FIXED_MM, NUMBER_MM, TICK_MM = 2.1, 2.5, 1.2  # mm on paper
SYMBOLS = {"tree": 1.1, "post": 0.75, "seat": 0.75, "thing": 0.75}  # mm: radius of a place; others 0.5


def setting_out_scene(project: Project, worked: Layout, found: SettingOut, *, scale: float, title: str = "") -> Scene:
    """Return the plan without plants, with every place to set out, for a sheet at 1 : ``scale``."""
    marks = [*baseline_marks(found, units=project.units, scale=scale), *_places(found, scale)]
    return structure_scene(
        project,
        worked,
        lit=False,
        title=title,
        extra=marks,
        wishes=[*_numbers(found, scale), *_radii(found.bends, worked, project.units)],
        scale=scale,
        textures=False,
        names=True,
        to_scale=True,
        description=f"Setting-out plan of {project.name}: {len(found.marks)} places measured from {found.baseline} "
        f"and {len(found.fixed)} fixed points.",
    )


def baseline_marks(found: SettingOut, *, units: System, scale: float) -> list[Mark]:
    """Return the baseline, drawn past both ends as far as places lie, with a tick and a figure at every station."""
    mm, step = on_ground(1.0, scale), float(STATION[units])
    reach = [m.running for m in found.marks] or [0.0]
    low = step * math.floor(min(0.0, *reach) / step)
    long = math.dist(found.start, found.end)
    high = step * math.ceil(max(long, *reach) / step)
    ends = [_at(found, s, 0.0) for s in (low, high)]
    marks: list[Mark] = [
        Stroke(points=(ends[0], ends[1]), colour=LINE, width_mm=0.3, dash=(6.0, 1.2, 1.0, 1.2), layer="overlay")
    ]
    turn = math.degrees(math.atan2(found.end[0] - found.start[0], found.end[1] - found.start[1])) % 180
    for s in np.arange(low, high + step / 2, step).tolist():
        tick = (_at(found, s, -TICK_MM * mm), _at(found, s, TICK_MM * mm))
        marks.append(Stroke(points=tick, colour=LINE, width_mm=0.25, layer="overlay"))
        text = f"{s / FOOT:.0f}'" if units == "imperial" else f"{s:.0f}"
        at = _at(found, s, 2.6 * mm)
        marks.append(
            Label(at=at, text=text, size_mm=NUMBER_MM, colour=LINE, turn=turn - 90, halo=style.PAPER, layer="labels")
        )
    return marks


def key_scene() -> Scene:
    """Return what the signs mean, a line each, at one mm of paper for each unit of the scene."""
    rows = [
        ("stone", "stone, path edge, riser, corner, curve"),
        ("post", "post, end of a support, seat, thing"),
        ("tree", "tree"),
    ]
    marks: list[Mark] = []
    for number, (kind, words) in enumerate(rows):
        y = -4.0 * number - 2.5
        marks.append(_spot((2.0, y), kind, 1.0))
        marks.append(Label(at=(7.0, y), text=words, size_mm=NUMBER_MM, anchor="start", layer="furniture"))
    low = -4.0 * len(rows) - 1.0
    return Scene(marks=tuple(marks), bounds=(0.0, low, 80.0, 0.0), title="", description="", scale=CHART_SCALE)


# ---- helpers


def _spot(at: Point, kind: str, mm: float, tip: str = "") -> Disc:
    filled = style.PAPER if kind in SYMBOLS else LINE
    radius = SYMBOLS.get(kind, 0.4) * mm
    return Disc(at=at, radius=radius, fill=filled, stroke=LINE, width_mm=0.2, layer="overlay", tip=tip)


def _places(found: SettingOut, scale: float) -> list[Mark]:
    mm = on_ground(1.0, scale)
    marks: list[Mark] = []
    marks += [_spot(mark.at, mark.kind, mm, f"{mark.number}: {mark.what}") for mark in found.marks]
    for fixed in found.fixed:
        x, y = fixed.at
        half = FIXED_MM * mm
        ring = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
        marks.append(Area(rings=(ring,), fill=style.PAPER, stroke=LINE, width_mm=0.3, layer="overlay", tip=fixed.words))
        marks.append(Label(at=fixed.at, text=fixed.letter, size_mm=2.8, colour=LINE, bold=True, layer="labels"))
    return marks


def _numbers(found: SettingOut, scale: float) -> list[Wish]:
    mm = on_ground(1.0, scale)
    return [
        Wish(text=str(m.number), at=m.at, clear=0.7 * mm, size_mm=NUMBER_MM, colour=LINE, inside=False, rank=2)
        for m in found.marks
    ]


def _radii(bends: Sequence[Bend], worked: Layout, units: System) -> list[Wish]:
    wishes = []
    for bend in bends:
        route = worked.routes[bend.path]
        middle = (bend.start + bend.end) / 2
        (x, y), (dx, dy) = route.curve.at(middle)[0], route.curve.direction(middle)[0]
        outer = (1.0 if bend.way == "left" else -1.0) * (route.width / 2 + 0.3)  # written outside the bend
        at = (float(x + outer * dy), float(y - outer * dx))
        wishes.append(Wish(text=f"R {show_length(bend.radius, units)}", at=at, size_mm=2.5, italic=True, rank=3))
    return wishes


def _at(found: SettingOut, running: float, offset: float) -> Point:
    return from_baseline(running, offset, start=found.start, end=found.end)
