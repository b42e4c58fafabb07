"""A plan on which one area of the property is shown and the rest fades: a veil of paper over all that lies outside."""

import attrs

from gardenkit.drawing import style
from gardenkit.drawing.plan_ground import region_rings
from gardenkit.drawing.scene import Area, Bounds, Hatch, Label, Mark, Scene, Stroke, grown_bounds, on_ground
from gardenkit.garden import Garden
from gardenkit.garden.of_area import GardenOfArea
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region

VEIL = 0.72  # how much of what lies outside is covered. House value.
EDGE_MM, EDGE_DASH = 0.5, (4.0, 1.0, 0.8, 1.0)  # long and short dashes: a limit of work, as drawings usually show it
AROUND_MM = 8.0  # of paper round the drawing that the veil covers too: the margin of a plan


def faded(scene: Scene, ground: Region, *, name: str) -> Scene:
    """Return a plan with all but some ground faded, and a dashed line round that ground; names outside it turn pale."""
    if ground.is_empty:
        return scene
    frame = drawn_ground(scene)
    outer = region_rings(plane.difference(frame, ground))
    veil = Area(rings=outer, fill=scene.paper or style.PAPER, alpha=VEIL, layer="overlay")
    edge = Area(
        rings=region_rings(ground),
        stroke=style.EYE,
        width_mm=EDGE_MM,
        dash=EDGE_DASH,
        layer="overlay",
        tip=f"area {name}",
    )
    marks = (*(_paled(mark, ground, frame) for mark in scene.marks), veil, edge)
    return scene.with_marks(marks, description=f"Area {name} of the property, the rest faded. {scene.description}")


def shown_area(garden: Garden, scene: Scene) -> Scene:
    """Return a plan as a garden counts it: all of it, or with all but its one area faded."""
    return faded(scene, garden.area_ground, name=garden.area) if isinstance(garden, GardenOfArea) else scene


def of_its_area(garden: Garden, title: str) -> str:
    """Return the title of a sheet with the area of the property that it is drawn for, as it is without one."""
    return f"{title} of {garden.area}" if garden.area else title


def drawn_ground(scene: Scene) -> Region:
    """Return the ground that a veil covers: where the garden is drawn, not the strip of scale and key below."""
    points = [at for mark in scene.marks if mark.layer == "ground" and isinstance(mark, Area) for at in _corners(mark)]
    bounds: Bounds = scene.bounds
    if points:
        xs, ys = [x for x, _ in points], [y for _, y in points]
        bounds = grown_bounds((min(xs), min(ys), max(xs), max(ys)), on_ground(AROUND_MM, scene.scale))
    left, low, right, high = bounds
    return plane.region(((left, low), (right, low), (right, high), (left, high)))


# ---- helpers


def _corners(mark: Area) -> list[Point]:
    return [at for ring in mark.rings for at in ring]


def _paled(mark: Mark, ground: Region, frame: Region) -> Mark:
    """Return what is painted over the veil, names and the fine lines to them, pale where it lies outside."""
    if mark.layer != "labels":
        return mark
    match mark:
        case Label() if _is_out(mark.at, ground) and plane.contains(frame, mark.at):
            return attrs.evolve(mark, colour=style.FADED_INK, bold=False)
        case Stroke() if _is_out(mark.points[0], ground):
            return attrs.evolve(mark, alpha=1 - VEIL)
        case Hatch() if mark.lines and _is_out(mark.lines[0][0], ground):
            return attrs.evolve(mark, alpha=1 - VEIL)
    return mark


def _is_out(at: Point, ground: Region) -> bool:
    return not plane.contains(ground, at)
