"""The plan of levels as a drawing by itself: contours before and after, heights, walls and banks."""

from collections.abc import Sequence

from gardenkit.drawing import style
from gardenkit.drawing.garden import structure_scene
from gardenkit.drawing.plan_levels import AS_FOUND, both_contours, found_names
from gardenkit.drawing.scene import Label, Mark, Scene, Stroke, on_ground
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.units import show_length


def levels_scene(
    project: Project, worked: Layout, *, scale: float, title: str, extra: Sequence[Mark] = (), to_scale: bool = True
) -> Scene:
    """Return the plan of levels: contours as found, broken and light, and as they will be, walls, banks and heights."""
    return structure_scene(
        project,
        worked,
        lit=False,
        title=title,
        extra=[*both_contours(worked, scale=scale, units=project.units), *extra],
        wishes=found_names(worked, scale=scale, units=project.units),
        scale=scale,
        textures=False,
        to_scale=to_scale,
        description=f"Levels of {project.name}: new heights, with those found in brackets.",
    )


def found_heights(project: Project, *, scale: float) -> tuple[Mark, ...]:
    """Return a cross at every measured height, with the height as found beside it in brackets."""
    arm, marks = on_ground(1.0, scale), list[Mark]()
    for spot in project.site.heights:
        x, y = spot.at
        for line in (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))):
            marks.append(Stroke(points=line, colour=AS_FOUND, width_mm=0.2, layer="overlay"))
        words = f"({show_length(spot.height, project.units)})"
        at = (x + 1.6 * arm, y + 1.2 * arm)
        marks.append(Label(at=at, text=words, size_mm=2.5, anchor="start", colour=style.FOUND, halo=style.PAPER))
    return tuple(marks)
