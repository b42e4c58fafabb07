"""What runs through the ground: dripline in the beds with its pipes, and the cable from lamp to lamp."""

from collections.abc import Sequence

from gardenkit.drawing import style
from gardenkit.drawing.garden import structure_scene
from gardenkit.drawing.labels import Wish
from gardenkit.drawing.legend import Sign
from gardenkit.drawing.scene import Area, Disc, Hatch, Mark, Scene, Stroke, on_ground
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.units import counted

SUPPLY = "tap"
PIPE, DRIP, CABLE = "#20639b", "#4a86b8", "#9a2f14"
LIT = "#f4ecd9"  # as the light of a lamp lies on the ground of a plan. House value.
LINES = (
    Sign(words="row of dripline", stroke=DRIP),
    Sign(words="tap and valve box", fill=style.PAPER, stroke=PIPE),
    Sign(words="pipe; a dot where it meets the first row", stroke=PIPE),
)
OF_LIGHT = (
    Sign(words="cable, 12 V; a ring: transformer, dots: lamps", stroke=CABLE, dash=style.HIDDEN_DASH),
    Sign(words="ground that a lamp lights", fill=LIT),
)


def irrigation_scene(
    project: Project,
    worked: Layout,
    *,
    rows: Sequence[Line],
    pipes: Sequence[Line],
    names: Sequence[tuple[str, Point]],
    tap: Point | None,
    scale: float,
    title: str,
) -> Scene:
    """Return the plan with every row of dripline, the pipe from the tap to each bed, and what beds are called on it."""
    marks: list[Mark] = [Hatch(lines=tuple(rows), colour=DRIP, width_mm=0.18, layer="overlay")]
    marks += [Stroke(points=pipe, colour=PIPE, width_mm=0.5, layer="overlay", tip="pipe") for pipe in pipes]
    marks += [Disc(at=pipe[-1], radius=on_ground(0.9, scale), fill=PIPE, layer="overlay") for pipe in pipes]
    wishes = [Wish(text=text, at=at, bold=True, colour=PIPE, rank=1) for text, at in names]
    if tap:
        half = on_ground(1.3, scale)
        box = plane.moved(((-half, -half), (half, -half), (half, half), (-half, half)), tap)
        marks.append(Area(rings=(box,), fill=style.PAPER, stroke=PIPE, width_mm=0.5, layer="overlay", tip=SUPPLY))
        wishes.append(Wish(text=SUPPLY, at=tap, clear=1.3 * half, inside=False, rank=0))
    return structure_scene(
        project,
        worked,
        lit=False,
        title=title,
        extra=marks,
        wishes=wishes,
        scale=scale,
        textures=False,
        description=f"Irrigation of {project.name}: rows of dripline in {len(names)} beds and the pipe to each.",
    )


def lighting_scene(
    project: Project,
    worked: Layout,
    *,
    cables: Sequence[Line],
    lamps: Sequence[tuple[str, Point]],
    scale: float,
    title: str,
) -> Scene:
    """Return the plan with each cable from its transformer past its lamps, and each lamp's number."""
    marks: list[Mark] = []
    for cable in cables:
        far = on_ground(1.4, scale)
        marks += [
            Stroke(points=cable, colour=CABLE, width_mm=0.5, dash=style.HIDDEN_DASH, layer="overlay", tip="cable"),
            Disc(at=cable[0], radius=far, fill=style.PAPER, stroke=CABLE, width_mm=0.5, layer="overlay"),
        ]
    marks += [Disc(at=at, radius=on_ground(1.1, scale), fill=CABLE, layer="overlay") for _, at in lamps]
    wishes = [
        Wish(text="transformer", at=cable[0], clear=on_ground(1.6, scale), inside=False, rank=1) for cable in cables
    ]
    wishes += [
        Wish(text=text, at=at, clear=on_ground(1.2, scale), inside=False, bold=True, colour=CABLE, rank=1)
        for text, at in lamps
    ]
    return structure_scene(
        project,
        worked,
        title=title,
        extra=marks,
        wishes=wishes,
        scale=scale,
        textures=False,
        description=f"Lighting of {project.name}: {counted(len(lamps), 'lamp')} on {counted(len(cables), 'cable')}.",
    )
