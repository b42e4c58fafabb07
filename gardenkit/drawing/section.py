"""Steps or a ramp in section, to scale: the ground as it lies, the treads or runs over it, and a person beside them."""

from collections.abc import Sequence

from gardenkit.drawing import style
from gardenkit.drawing.furniture import FOOT, Units
from gardenkit.drawing.scene import Area, Disc, Label, Mark, Scene, Stroke, on_ground
from gardenkit.geometry.plane import Line, Point
from gardenkit.structure.ramps import Ramp
from gardenkit.structure.steps import Steps
from gardenkit.units import counted, show_length

PERSON = 1.7  # m, for scale. House value.
MARGIN_MM = 12.0
WIDE_MM, LARGEST = 80.0, 48.0  # mm on paper for the longer of the two, beside a plan; 1 : n, no larger than this
LETTERS = 2.6


def step_profile(flight: Steps) -> Line:
    """Return the outline of a flight from the lower landing's start to the upper one's end: level metres, height."""
    x, z = flight.landing, 0.0
    points: list[Point] = [(0.0, 0.0), (x, 0.0)]
    breaks = {round(flight.risers * (k + 1) / (flight.middle_landings + 1)) for k in range(flight.middle_landings)}
    for number in range(1, flight.risers + 1):
        z += flight.riser
        points.append((x, z))
        x += flight.landing if number == flight.risers or number in breaks else flight.tread
        points.append((x, z))
    return tuple(points)


def ramp_profile(made: Ramp) -> Line:
    """Return the outline of a ramp with its landings: level metres, height."""
    points: list[Point] = [(0.0, 0.0), (made.landing, 0.0)]
    x, z = made.landing, 0.0
    for _ in range(made.runs):
        x, z = x + made.length / made.runs, z + made.rise / made.runs
        points.append((x, z))
        x += made.landing
        points.append((x, z))
    return tuple(points)


def climb_sections(flight: Steps, made: Ramp, *, ground: tuple[Line, Line], units: Units) -> tuple[Scene, Scene]:
    """Return steps and a ramp for one rise in section, at one scale, each over the ground as it lies (empty: unknown).

    The titles say how many risers, treads and runs there are and how long it all is.
    """
    scale = max(LARGEST, 1000 * max(flight.overall, made.overall) / WIDE_MM)
    built = f"{counted(flight.risers, 'riser')}, {counted(flight.treads, 'tread')}"
    words = f"Steps: {built}, {show_length(flight.overall, units)} with landings"
    runs = f"{counted(made.runs, 'run')} at 1 in {made.one_in:.1f}"
    ramp_words = f"Ramp: {runs}, {show_length(made.overall, units)} with landings"
    return (
        section_scene(step_profile(flight), title=words, ground=ground[0], scale=scale, units=units),
        section_scene(ramp_profile(made), title=ramp_words, ground=ground[1], scale=scale, units=units),
    )


def section_scene(
    profile: Line,
    *,
    title: str,
    ground: Sequence[Point] = (),
    notes: str = "",
    scale: float = 48.0,
    units: Units = "imperial",
) -> Scene:
    """Return a built profile in section over the ``ground`` line as it lies (both: level metres, height)."""
    every = [*profile, *ground]
    low = min(z for _, z in every)
    right = max(x for x, _ in every)
    deep = on_ground(5.0, scale)
    body = (*profile, (profile[-1][0], low - deep), (profile[0][0], low - deep))
    marks: list[Mark] = [Area(rings=(body,), fill="#dcd7c9", stroke=None, layer="ground")]
    marks.append(Stroke(points=profile, colour=style.INK, width_mm=0.45, layer="structure", tip=title))
    if len(ground) > 1:
        marks.append(
            Stroke(
                points=tuple(ground),
                colour="#8a5a2b",
                width_mm=0.35,
                dash=(2.0, 1.2),
                layer="structure",
                tip="ground as it lies",
            )
        )
    x, z = profile[-1][0] - 0.35, profile[-1][1]
    marks += [
        Stroke(points=((x, z), (x, z + PERSON - 0.24)), colour="#7d8078", width_mm=1.6, alpha=0.7, layer="overlay"),
        Disc(at=(x, z + PERSON - 0.12), radius=0.12, fill="#7d8078", alpha=0.7, layer="overlay"),
    ]
    margin = on_ground(MARGIN_MM, scale)
    bounds = (-margin, low - deep - on_ground(11.0, scale), right + margin, z + PERSON + on_ground(8.0, scale))
    marks += _scale_bar(low - deep - on_ground(4.0, scale), scale, units)
    top = bounds[3] - on_ground(3.0, scale)
    marks.append(
        Label(
            at=(bounds[0] + on_ground(2.0, scale), top),
            text=title,
            size_mm=3.2,
            anchor="start",
            bold=True,
            layer="furniture",
        )
    )
    return Scene(
        marks=tuple(marks),
        bounds=bounds,
        title=title,
        description=f"{title}. {notes}".strip(),
        scale=scale,
        paper=style.PAPER,
    )


def _scale_bar(y: float, scale: float, units: Units) -> list[Mark]:
    unit, name = (FOOT, "ft") if units == "imperial" else (1.0, "m")
    long = (5 if units == "imperial" else 2) * unit
    bar = Stroke(points=((0.0, y), (long, y)), colour=style.INK, width_mm=0.5, layer="furniture")
    at = (long + on_ground(2.0, scale), y)
    return [bar, Label(at=at, text=f"{long / unit:.0f} {name}", size_mm=LETTERS, anchor="start", layer="furniture")]
