"""What the page of the bones shows beside its plan: the figures of a path and of the beds, and handles to drag."""

from typing import Any

from gardenkit.drawing.columns import Handle
from gardenkit.garden import Garden
from gardenkit.garden.path_figures import path_figures
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.notebook.grips import grips
from gardenkit.project.edits.moved import Sort
from gardenkit.project.edits.records import by_name
from gardenkit.units import counted, show_area, show_length, show_weight

DRAGS = ("path points", "stones", "seats and things", "gates")
FREE_HANDLES = (0.25, 0.5, 0.75)  # shares along a path where it can be taken hold of


def handles(garden: Garden, name: str, dragging: str, *, placed: tuple[Sort, str] | None = None) -> tuple[Handle, ...]:
    """Return what can be taken hold of: gates, seats and things with what turns and sizes the one ``placed``, stones,
    or a path's pinned points and places to bend it.
    """
    worked, structure = garden.layout, garden.project.structure
    if dragging == DRAGS[2]:
        seats = tuple(Handle(id=f"seat:{s.name}", kind="seat", at=s.at, tip=s.name) for s in structure.seats)
        things = [Handle(id=f"thing:{t.name}", kind="seat", at=t.at, tip=t.name) for t in structure.things]
        return (*seats, *things, *(grips(garden.project, *placed) if placed else ()))
    if dragging == DRAGS[3]:
        gates = [o for o in garden.project.site.doors_and_gates() if o.kind == "gate"]
        tip = "slides along its fence or the boundary; paths follow"
        return tuple(Handle(id=f"gate:{o.name}", kind="seat", at=o.middle, tip=f"{o.name}: {tip}") for o in gates)
    if name not in worked.routes:
        return ()
    path, route = by_name(structure.paths, name, "path"), worked.routes[name]
    if dragging == DRAGS[1]:
        return tuple(
            Handle(id=f"stone:{s.number}", kind="stone", at=s.at, tip=f"stone {s.number + 1}")
            for s in worked.layings[name].stones
        )
    held = [Handle(id=f"held:{i}", kind="path", at=p.at, tip="pinned") for i, p in enumerate(path.held)]
    free = [
        Handle(
            id=f"free:{share:.2f}",
            kind="stone" if held else "path",
            at=_point(route.curve.at(share * route.length)[0]),
            tip="drag to bend the path here",
        )
        for share in FREE_HANDLES
    ]
    return (*held, *free)


def curves(sway: float) -> str:
    """Return how many curves a path swings through that changes its side so often."""
    return f"{sway + 1:.0f}"


def figures(garden: Garden, name: str, stone: int = -1) -> str:
    """Return the figures of a path that runs, of a stone of it (0 first) when one is chosen, and every bed's area."""
    units = garden.units
    rows: list[tuple[str, str]] = []
    if name and (path := path_figures(garden, name)) is not None:
        rows = [
            ("length", show_length(path.length, units)),
            ("tightest bend, radius", show_length(path.turn, units) if path.turn is not None else "straight"),
            ("clear of walls", show_length(path.clearance, units)),
        ]
        if path.turn is not None:
            rows.insert(2, ("turns to the other side", counted(path.changes, "time")))
        if path.stones:
            rows.append(("stones", f"{path.stones}, {show_weight(path.weight, units)}"))
        if path.gaps is not None:
            rows.append(("gaps", " to ".join(show_length(gap, units, small=True) for gap in path.gaps)))
        if path.shown is not None:
            rows.append((f"shows from {path.start}, nothing planted", f"{path.shown:.0%}"))
    rows += _of_stone(garden, name, stone)
    beds = [(bed.name, show_area(bed.area, units)) for bed in garden.layout.beds]
    return (controls.table_html(("path", ""), rows) if rows else "") + controls.table_html(("bed", "area"), beds)


def _of_stone(garden: Garden, name: str, number: int) -> list[tuple[str, str]]:
    laid, units = garden.layout.layings.get(name), garden.units
    stone = next((s for s in laid.stones if s.number == number), None) if laid is not None else None
    if stone is None:
        return []
    size = " × ".join(show_length(far, units, small=True) for far in (stone.across, stone.along))
    held = ", pinned" if stone.held else ""
    return [(f"chosen: stone {number + 1}", f"{size}, {show_weight(stone.weight, units)}{held}")]


def _point(row: Any) -> Point:
    return (float(row[0]), float(row[1]))
