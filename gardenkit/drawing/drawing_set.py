"""The plan as a contractor needs it, one drawing for each trade: what is there, what is built, what is planted."""

import math
from collections.abc import Sequence
from typing import Literal

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.garden import structure_scene
from gardenkit.drawing.labels import Wish, drifts
from gardenkit.drawing.legend import ROOTS, Sign
from gardenkit.drawing.plan import joined, plan_scene
from gardenkit.drawing.plan_ground import region_rings
from gardenkit.drawing.plan_notes import note_marks
from gardenkit.drawing.scene import Area, Dots, Label, Mark, Scene, Stroke, on_ground
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.site.tree_protection import root_protection_radius
from gardenkit.units import counted, show_length

SHORTEST_SIDE, SIDE_CLEAR = 0.5, 0.1  # m: sides shorter than this are read off the coordinates. House values.
NAMED_AT = (0.3, 0.7, 0.2, 0.8, 0.4, 0.6)  # of its length, where a fence may have its name. House values.
LOOKED = "S"  # both ends of the line that the garden is looked at from the side
FROM_THE_SIDE = Sign(words=f"{LOOKED} to {LOOKED}: the line of the elevations", dash=style.BOUNDARY_DASH)
PROTECT = "#9a2f14"  # the line round a tree's roots
SIDE = 0.12  # m: an outline round one plant has sides no longer than this. House value.
KNIT = 0.3  # of its spacing: half the width by which the plants of one drift are joined. House value.
Height = Literal["low", "middle", "tall", "over", "hidden"]
TINTS: dict[Height, str | None] = {
    "low": "#e3ecd2",
    "middle": "#d2e2c0",
    "tall": "#b9d0aa",
    "over": None,
    "hidden": None,
}
HEIGHTS: dict[str, Height] = {
    "ground cover": "low",
    "bulb": "hidden",
    "tender bulb": "hidden",
    "annual": "low",
    "tree": "over",
    "conifer": "over",
    "wall fruit": "over",
    "climber": "over",
    "shrub": "tall",
}
ORDER: tuple[Height, ...] = ("low", "middle", "tall", "over", "hidden")  # as painted


def existing_scene(project: Project, *, scale: float, title: str) -> Scene:
    """Return the place as found: what stays, what goes, and the circle round every kept tree that is left alone."""
    marks: list[Mark] = []
    wishes = []
    for tree in project.site.trees:
        if tree.keep:
            far = root_protection_radius(tree.trunk_diameter, project.site.root_rule)
            ring = tuple(plane.corners(plane.circle(tree.at, far, sides=180)))
            marks.append(
                Area(rings=(ring,), stroke=PROTECT, width_mm=0.4, dash=style.BOUNDARY_DASH, layer="overlay", tip=ROOTS)
            )
            text = f"root protection R {show_length(far, project.units)}"
            wishes.append(Wish(text=text, at=tree.at, clear=0.5, inside=False, colour=PROTECT, rank=2))
    wishes += [*_sides(project), *_fences(project)]
    built = project.structure
    new = {*(area.name for area in built.ground_areas), *(support.name for support in built.supports)}
    found = tuple(one for one in project.site.openings if one.on not in new)
    return plan_scene(
        site=attrs.evolve(project.site, openings=found),
        title=title,
        extra=[*marks, *note_marks(project.site.notes, scale=scale, units=project.units)],
        wishes=wishes,
        scale=scale,
        units=project.units,
        textures=False,
        description=f"Existing and removals: {project.name}.",
    )


def hardscape_scene(project: Project, worked: Layout, *, scale: float, title: str, looked: Line = ()) -> Scene:
    """Return what is built, with the surface and width of every path, and the line ``looked`` at from the side."""
    wishes = []
    for path in project.structure.paths:
        if path.name in worked.routes:
            route = worked.routes[path.name]
            x, y = route.curve.at(0.45 * route.length)[0]
            wide = show_length(path.width, project.units)
            text = f"{path.name}: {path.surface}, {wide} wide"
            wishes.append(
                Wish(text=text, at=(float(x), float(y)), clear=path.width / 2, size_mm=2.8, inside=False, rank=2)
            )
    return structure_scene(
        project,
        worked,
        beds=False,
        lit=False,
        title=title,
        extra=_line_looked_at(looked, scale),
        wishes=wishes,
        scale=scale,
        description=f"Hardscape of {project.name}.",
    )


def planting_scene(
    project: Project,
    worked: Layout,
    plants: Sequence[tuple[Species, str, Point]],
    *,
    scale: float,
    title: str,
    between: tuple[Sequence[Mark], Sequence[Wish]] = ((), ()),
) -> Scene:
    """Return the planting plan as planted: (species, key, place) each, a drift as one mass with one key and count;
    ``between`` are the marks and keys of what creeps between stones.
    """
    marks: list[tuple[int, list[Mark]]] = []
    wishes = list(between[1])
    for group in drifts([(key, at, species.spacing_m) for species, key, at in plants]):
        members = [plants[i] for i in group]
        species, key, _ = members[0]
        at = _central([place for *_, place in members])
        height = HEIGHTS.get(species.layer, "middle")
        marks.append((ORDER.index(height), _mass(species, [place for *_, place in members], height, scale)))
        wishes.append(
            Wish(
                text=f"{key} {len(members)}",
                at=at,
                bold=True,
                path=tuple(place for *_, place in members if place != at),
            )
        )
    return structure_scene(
        project,
        worked,
        lit=False,
        title=title,
        extra=[*between[0], *(mark for _, drawn in sorted(marks, key=lambda pair: pair[0]) for mark in drawn)],
        wishes=wishes,
        scale=scale,
        textures=False,
        description=f"Planting plan of {project.name} as planted: {counted(len(plants), 'plant')} in "
        f"{counted(len(wishes), 'drift')}.",
    )


# ---- helpers


def _sides(project: Project) -> list[Wish]:
    """Return the length of every side of the boundary, beside its middle."""
    corners = project.site.boundary
    sides = zip(corners, (*corners[1:], corners[0]), strict=True)
    return [
        Wish(
            text=show_length(math.dist(a, b), project.units),
            at=((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
            clear=SIDE_CLEAR,
            inside=False,
            leader=False,
            rank=3,
        )
        for a, b in sides
        if math.dist(a, b) >= SHORTEST_SIDE
    ]


def _fences(project: Project) -> list[Wish]:
    """Return the name of every wall, fence and hedge, at one of the places along it, clear of the lengths of sides."""
    found = []
    for fence in project.site.fences:
        line = plane.line(fence.line)
        spots = plane.along(line, [share * line.length for share in NAMED_AT])
        wish = Wish(text=fence.name, at=spots[0], path=spots[1:], clear=SIDE_CLEAR, inside=False, rank=2, italic=True)
        found.append(wish)
    return found


def _line_looked_at(looked: Line, scale: float) -> list[Mark]:
    """Return a line with an arrow at each end that points the way one looks: to its left."""
    if not looked:
        return []
    (ax, ay), (bx, by) = looked[0], looked[-1]
    long = math.dist(looked[0], looked[-1])
    ux, uy = (bx - ax) / long, (by - ay) / long
    far, half = on_ground(4.0, scale), on_ground(1.1, scale)
    line = Stroke(points=tuple(looked), colour=style.INK, width_mm=0.35, dash=style.BOUNDARY_DASH, layer="overlay")
    heads = [
        Area(
            rings=(((x - half * ux, y - half * uy), (x + half * ux, y + half * uy), (x - far * uy, y + far * ux)),),
            fill=style.INK,
            layer="overlay",
        )
        for x, y in (looked[0], looked[-1])
    ]
    below = on_ground(3.2, scale)
    names = [
        Label(at=(x + below * uy, y - below * ux), text=LOOKED, size_mm=3.4, bold=True, halo=style.PAPER)
        for x, y in (looked[0], looked[-1])
    ]
    return [line, *heads, *names]


def _mass(species: Species, places: Sequence[Point], height: Height, scale: float) -> list[Mark]:
    """Return a drift as one outline round all its plants, and a dot where each is planted."""
    shape = drift_outline(places, species.spacing_m)
    area = Area(
        rings=region_rings(shape),
        fill=TINTS[height],
        stroke=style.PLANT_INK,
        width_mm=style.CANOPY,
        dash=style.FINE_DASH if height == "hidden" else (),
        alpha=0.9,
        layer="planting",
        tip=f"{species.botanical}: {len(places)}",
    )
    return [area, Dots(points=tuple(places), radius=on_ground(0.3, scale), fill=style.PLANT_INK, layer="planting")]


def drift_outline(places: Sequence[Point], spacing: float) -> Region:
    """Return one region round plants that stand ``spacing`` metres apart, in one piece."""
    sides = max(20, round(math.pi * spacing / SIDE))
    crowns = [plane.circle(at, spacing / 2, sides=sides) for at in places]
    links = [plane.grown(plane.line(link), KNIT * spacing) for link in joined(places) if math.dist(*link) > 0]
    return plane.simplified(plane.union([*crowns, *links]), 0.01 if spacing < 1 else 0.004)


def _central(places: Sequence[Point]) -> Point:
    x, y = (sum(at[k] for at in places) / len(places) for k in (0, 1))
    return min(places, key=lambda at: math.dist(at, (x, y)))
