"""What the page of the bones shows beside its plan: the figures of a path and of the beds, and handles to drag."""

from typing import Any

from gardenkit.drawing.columns import Handle
from gardenkit.garden import Garden
from gardenkit.geometry.plane import Point
from gardenkit.notebook import controls
from gardenkit.project import views
from gardenkit.project.edits.records import by_name
from gardenkit.units import show_area, show_length, show_weight

DRAGS = ("path points", "stones", "seats")
FREE_HANDLES = (0.25, 0.5, 0.75)  # shares along a path where it can be taken hold of
STRAIGHT = 1e3  # m: a path that turns on more than this is straight


def handles(garden: Garden, name: str, dragging: str) -> tuple[Handle, ...]:
    """Return what can be taken hold of: seats, the stones of a path, or its pinned points and places to bend it."""
    worked, structure = garden.layout, garden.project.structure
    if dragging == DRAGS[2]:
        return tuple(Handle(id=f"seat:{s.name}", kind="seat", at=s.at, tip=s.name) for s in structure.seats)
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


def figures(garden: Garden, name: str) -> str:
    """Return the figures of a path that runs, and the area of every bed."""
    units, worked = garden.units, garden.layout
    rows: list[tuple[str, str]] = []
    if name in worked.routes:
        route, laying = worked.routes[name], worked.layings[name]
        turn = show_length(route.tightest_radius, units) if route.tightest_radius < STRAIGHT else "straight"
        rows = [
            ("length", show_length(route.length, units)),
            ("tightest bend, radius", turn),
            ("clear of walls", show_length(route.clearance, units)),
        ]
        if laying.stones:
            rows.append(("stones", f"{len(laying.stones)}, {show_weight(laying.weight, units)}"))
        if clear := [gap.clear for gap in laying.gaps]:
            low, high = (show_length(gap, units, small=True) for gap in (min(clear), max(clear)))
            rows.append(("gaps", f"{low} to {high}"))
        share = shown_from_start(garden, name)
        if share is not None:
            rows.append((f"shows from {by_name(garden.project.structure.paths, name, 'path').start}", f"{share:.0%}"))
    beds = [(bed.name, show_area(bed.area, units)) for bed in worked.beds]
    return (controls.table_html(("path", ""), rows) if rows else "") + controls.table_html(("bed", "area"), beds)


def shown_from_start(garden: Garden, name: str) -> float | None:
    """Return the share of a path that shows from its start; None when that is no place to look from."""
    start = by_name(garden.project.structure.paths, name, "path").start
    if start not in views.places_to_look_from(garden.project):
        return None
    return views.path_seen(garden.project, garden.layout, name, views.eye_at(garden.project, start)).share


def _point(row: Any) -> Point:
    return (float(row[0]), float(row[1]))
