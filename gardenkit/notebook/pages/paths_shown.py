"""What the page of paths shows: route options on the plan and what each costs, materials and cut list of one path."""

from collections.abc import Sequence

from gardenkit.drawing.bends_chart import bends_chart
from gardenkit.drawing.scene import Disc, Label, Mark, Stroke
from gardenkit.drawing.svg import svg
from gardenkit.findings import Finding
from gardenkit.garden import Garden
from gardenkit.notebook import controls
from gardenkit.notebook.pages import forms
from gardenkit.saying import in_system
from gardenkit.structure.build_up import cut_list, layers_for
from gardenkit.structure.flights import Built, fine
from gardenkit.structure.kinds import bond_kind, bond_words, surface_kind
from gardenkit.structure.laying import Laying
from gardenkit.structure.meander import Meander, look_alike
from gardenkit.structure.path_rules import passes
from gardenkit.structure.route import Route
from gardenkit.structure.safety import stone_weight
from gardenkit.structure.structure import Path
from gardenkit.units import System, counted, show_area, show_length, show_volume, show_weight

WAYS = ("#7a3b12", "#20639b", "#6a3d7c", "#2f6b3a")  # colour and number of each option; told apart by the number
# The share of advice that belongs to a path.
TOPICS = ("width", "bend", "surface", "access", "slope", "steps", "clearance", "gap", "pace", "stone", "safety")
MOST_CUTS = 40
NEXT_TO = 0.35  # share along an option where the first number stands; the next ones a tenth further on. House value.


def is_about(line: Finding, name: str) -> bool:
    """Return whether a line of advice is about a path, or about something on it or beside it."""
    place = f'path "{name}"'
    return any(one.where.startswith(place) or one.beside == name for one in (line, *line.members))


def flight_table(flights: Sequence[Built], units: System) -> str:
    """Return the steps of a path in figures; empty without any."""

    def small(metres: float) -> str:
        return show_length(metres, units, small=True)

    rows = [
        (
            one.number,
            f"{show_length(one.start, units)} to {show_length(one.end, units)}",
            f"{'up' if one.climbs_along else 'down'} {small(made.rise)}",
            in_system(f"{made.risers} x {fine(made.riser)}", units),
            in_system(f"{made.treads} x {fine(made.tread)}", units),
            show_length(made.run, units),
            show_length(made.overall, units),
            show_length(one.left_over, units) if one.fits else f"lacks {show_length(-one.left_over, units)}",
            f"{small(one.cut)} dug, {small(one.fill)} raised",
        )
        for one in flights
        if (made := one.steps) is not None
    ]
    heads = ("", "along the path", "ground", "risers", "treads", "run", "with landings", "left over", "ground, at most")
    return controls.table_html(heads, rows, caption="Flights of steps, from the start of the path") if rows else ""


def way_names(ways: Sequence[Meander]) -> list[tuple[str, int | None]]:
    """Return the route options for a list to choose from, which says so while there are none."""
    return [(f"{i + 1}: {m.goal}", i) for i, m in enumerate(ways)] or [("none looked for yet", None)]


def alike_words(ways: Sequence[Meander], units: System) -> str:
    """Return which route options are one line to the eye and why they are no further apart; empty where none are."""
    pairs = [(i, j) for j in range(len(ways)) for i in range(j) if look_alike(ways[i], ways[j])]
    if not pairs:
        return ""
    which = "; ".join(f"{i + 1} ({ways[i].goal}) and {j + 1} ({ways[j].goal})" for i, j in pairs)
    far, wide = (show_length(each, units, small=True) for each in (ways[0].swing, ways[0].route.width))
    return (
        f"One line to the eye: {which}. Beside a path {wide} wide, clear of walls and things, no line tried runs more "
        f"than {far} off the direct way; a narrower path swings further."
    )


def trade_table(ways: Sequence[Meander], units: System) -> str:
    """Return the route options and what each costs; empty without one."""
    rows = [
        (
            i + 1,
            m.goal,
            show_length(m.length, units),
            f"{m.longer:.0%} longer than direct",
            f"a crown {show_length(m.crown, units)} across",
            show_length(m.straight_view, units),
            "not known" if m.steepest is None else f"{m.steepest:.1f} %",
        )
        for i, m in enumerate(ways)
    ]
    heads = ("", "best for", "length", "against direct", "room beside it for", "longest straight look", "steepest")
    return controls.table_html(heads, rows, caption="Route options, and what each costs") if rows else ""


def ways_drawn(ways: Sequence[Meander], chosen: int | None) -> tuple[Mark, ...]:
    """Return the route options as lines with their numbers, the chosen one full."""
    marks: list[Mark] = []
    for i, m in enumerate(ways):
        colour, tip = WAYS[i % len(WAYS)], f"{i + 1}: {m.goal}"
        line = tuple((float(x), float(y)) for x, y in m.route.curve.points[::4])
        wide, dash = (0.7, ()) if chosen == i else (0.35, (2.0, 1.2))
        marks.append(Stroke(points=line, colour=colour, width_mm=wide, dash=dash, layer="overlay", tip=tip))
        x, y = m.route.curve.at((NEXT_TO + 0.1 * i) * m.length)[0]
        at = (float(x), float(y))
        marks.append(Disc(at=at, radius=0.24, fill="#fdfcf8", stroke=colour, width_mm=0.3, layer="overlay", tip=tip))
        marks.append(Label(at=at, text=str(i + 1), size_mm=2.6, colour=colour, bold=True, layer="overlay"))
    return tuple(marks)


def bends(route: Route, units: System) -> str:
    """Return the chart of how a path turns along its way."""
    return forms.picture(svg(bends_chart(route, units)), width_px=forms.CHART_PX)


def tables(garden: Garden, path: Path) -> str:
    """Return the materials of a path that runs, and its cut list."""
    worked = garden.layout
    made = controls.table_html(("materials", "", ""), _materials(garden, path))
    cut = _cuts(worked.layings[path.name], path, garden.units)
    scroll = f'<div tabindex="0" style="max-height:300px;overflow:auto">{cut}</div>'
    return f'<div style="display:flex;gap:36px;flex-wrap:wrap;align-items:flex-start">{made}{scroll}</div>'


def _materials(garden: Garden, path: Path) -> list[tuple[str, str, str]]:
    units, worked = garden.units, garden.layout
    laid, layers = worked.layings[path.name], layers_for(path.surface, units=units)
    off = garden.take_off(path)

    def deep(depth: float) -> str:
        return f"{show_length(depth, units, small=True)} deep"

    solid = surface_kind(path.surface).stone == "slabs"
    units_laid, laid_how = bond_words(worked.surfaces[path.name], path.bond) if path.bond and solid else (0, "")
    stones = laid_how or counted(len(laid.stones), "stone")
    rows = [
        ("surface", path.surface, show_area(off.area, units), True),
        (
            "suitable for",
            ", ".join(passes(path.width, surface=path.surface, steps=bool(path.flights)))
            or "nobody by the named figures",
            "",
            True,
        ),
        ("dig out", "", show_volume(off.dug, units), off.dug > 0),
        ("base", deep(layers.base), show_volume(off.base, units), off.base > 0),
        ("bedding", deep(layers.bedding), show_volume(off.bedding, units), off.bedding > 0),
        ("loose", deep(layers.surface), show_volume(off.surface, units), off.surface > 0),
        ("to order", counted(units_laid, bond_kind(path.bond).unit) if units_laid else "", "", units_laid > 0),
        ("stone", stones, show_weight(off.stone_weight, units), off.stone_weight > 0),
        (
            "between the stones",
            "for creeping plants or joint filling",
            show_area(off.joint_area, units),
            bool(laid.stones),
        ),
        ("joint filling", "", show_volume(off.joint, units), off.joint > 0),
        ("edging, both sides", "", show_length(off.edging, units), surface_kind(path.surface).edged),
    ]
    return [(what, how, much) for what, how, much, kept in rows if kept]


def _cuts(laid: Laying, path: Path, units: System) -> str:
    cuts = [
        (
            c.number + 1,
            f"{show_length(c.across, units, small=True)} x {show_length(c.along, units, small=True)}",
            show_weight(c.weight, units),
            show_weight(stone_weight(c.across, c.along, c.thickness), units),
        )
        for c in cut_list(laid, path.stones)[:MOST_CUTS]
    ]
    heads = ("stone", "cut from, over x along", "weighs", "before cutting")
    return controls.table_html(heads, cuts, caption="Cut list, largest first") if cuts else ""
