"""A support as its builder sees it: square on, to scale, with its length and its height written beside it."""

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import Label, Mark, Scene, on_ground
from gardenkit.drawing.section_cut import LETTERS, level, measure
from gardenkit.drawing.wall_view import square_on
from gardenkit.geometry import plane
from gardenkit.structure.kinds import frame_of, support_kind, wires_of
from gardenkit.structure.structure import Support
from gardenkit.units import System, show_length

LEFT_MM, RIGHT_MM, OVER_MM, UNDER_MM = 9.0, 6.0, 6.0, 11.0  # round what is drawn. House values.
LEAST_WIDE_MM = 46.0  # so that the name has room. House value.


def support_scene(support: Support, *, units: System, scale: float) -> Scene:
    """Return one support seen square on, drawn as straight where its line turns."""
    long, tall = plane.line(support.line).length, support.height
    kind = support_kind(support.kind)
    deep = f", {show_length(support.depth, units)} deep" if kind.stands == "overhead" else ""
    wires = ", ".join(show_length(high, units) for high in wires_of(support, units))
    title = f"{support.name}: {support.kind}{deep}{f', at {wires}' if wires else ''}"
    over, under, before, after = (on_ground(mm, scale) for mm in (OVER_MM, UNDER_MM, LEFT_MM, RIGHT_MM))
    top = tall
    if kind.stands == "overhead" and long > 0:
        timbers = frame_of(support, units)
        before, after = before + timbers.over, after + timbers.over
        top += timbers.rafter_drawn().deep(units)
        clear = show_length(tall - timbers.beam_drawn().deep(units), units)
        title += f", {clear} clear below, {show_length(top, units)} to the top"
    figures = [
        (((0.0, top + over / 2), (long, top + over / 2)), long),
        (
            ((-before + on_ground(LEFT_MM * 2 / 3, scale), 0.0), (-before + on_ground(LEFT_MM * 2 / 3, scale), tall)),
            tall,
        ),
    ]
    marks: list[Mark] = square_on(support, (0.0, 0.0), (long, tall), title, units)
    for (a, b), far in figures:
        marks += measure(a, b, units, scale, words=show_length(far, units))
    marks += [
        level(-before / 2, long + before / 2),
        Label(at=(-before, -under * 0.6), text=title, size_mm=LETTERS, anchor="start", bold=True, colour=style.INK),
    ]
    wide = max(
        long + before + after,
        on_ground(max(LEAST_WIDE_MM, 1.1 * text_width(title, LETTERS)), scale),
    )
    return Scene(
        marks=tuple(marks),
        bounds=(-before, -under, wide - before, top + over * 1.5),
        title=title,
        description=f"{title}, from the side: {show_length(long, units)} long, {show_length(tall, units)} high.",
        scale=scale,
        paper=None,
    )
