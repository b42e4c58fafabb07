"""Doors, windows and gates put where they belong: onto the nearest wall, fence or boundary, and taken along with it."""

import math
from collections.abc import Iterable
from itertools import pairwise
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import ON_EDGE, Building, Site

REACH = 1.0  # m a door or gate may be typed off its wall and still be put onto it. House value.


def opening_at(
    values: dict[str, Any],
    kind: Any,
    site: Site,
    old: Any,
    *,
    fences: Iterable[tuple[str, Line]] = (),
    reach: float = REACH,
) -> Opening:
    """Put an opening onto the nearest wall, or for a gate the nearest boundary or fence line, keeping its width.

    ``fences`` are the names and lines of fences that are designed and not yet found on the site.
    """
    name, at, width = values["name"], values["at"], values["width"]
    if values["head"] <= values["sill"]:
        raise GardenError(f'{kind} "{name}" has its top at or below its sill; give a top above the sill')
    if isinstance(old, Opening) and at == old.middle and width == old.width:
        return attrs.evolve(old, name=name, sill=values["sill"], head=values["head"])
    held = _lines_for(kind, site) + (list(fences) if kind == "gate" else [])
    if not held:
        need = "draw the boundary or a fence first"
        if kind != "gate":
            need = "add the house first; what opens a garden wall or fence is a gate"
        raise GardenError(f'there is nothing to put {kind} "{name}" in; {need}')
    on, line = min(held, key=lambda pair: plane.distance(plane.line(pair[1]), plane.point(at)))
    off = plane.distance(plane.line(line), plane.point(at))
    if off > reach:
        raise GardenError(
            f'the middle of {kind} "{name}" lies {off:.2f} m from the nearest '
            f"{'boundary or fence' if kind == 'gate' else 'wall'}; "
            "give a place on it"
        )
    if kind == "gate" and on and site.boundary:
        edge = plane.line([*site.boundary, site.boundary[0]])
        on = "" if plane.distance(edge, plane.point(at)) <= off + ON_EDGE else on
    ends = on_line(line, at, width, name)
    return Opening(name=name, kind=kind, on=on, sill=values["sill"], head=values["head"], **ends)


def _lines_for(kind: str, site: Site) -> list[tuple[str, Line]]:
    if kind != "gate":
        return [(b.name, (*b.outline, b.outline[0])) for b in site.buildings]
    edge: list[tuple[str, Line]] = [("", (*site.boundary, site.boundary[0]))] if site.boundary else []
    return edge + [(f.name, f.line) for f in site.fences]


def on_line(line: Line, at: Point, width: float, name: str) -> dict[str, Any]:
    """Return the two ends of an opening on the stretch of ``line`` nearest to ``at``, kept within the stretch."""
    a, b = min(pairwise(line), key=lambda ends: plane.distance(plane.line(ends), plane.point(at)))
    whole = math.dist(a, b)
    if width > whole + 1e-6:
        raise GardenError(
            f'"{name}" is {width:.2f} m wide, wider than the {whole:.2f} m of wall it stands in; make it narrower'
        )
    along = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / whole
    first = min(max(along - width / 2, 0.0), whole - width)
    ends = [(a[0] + (b[0] - a[0]) * s / whole, a[1] + (b[1] - a[1]) * s / whole) for s in (first, first + width)]
    return {"start": ends[0], "end": ends[1]}


def follow(opening: Opening, was: str, new: Any) -> Opening:
    """Return an opening whose building or fence, found or designed, was changed, put back onto it."""
    if opening.on != was:
        return opening
    line = (*new.outline, new.outline[0]) if isinstance(new, Building) else new.line
    lies_on = plane.distance(plane.line(line), plane.point(opening.middle)) < ON_EDGE
    ends: dict[str, Any] = {} if lies_on else on_line(line, opening.middle, opening.width, opening.name)
    return attrs.evolve(opening, on=new.name, **ends)
