"""What a thing that is dragged about the plan is measured to, and where it cannot stand."""

from collections.abc import Sequence
from typing import Literal

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout

Refuses = Literal["", "inside", "outside"]
MOST_STONES = 400  # of all paths, that have a line each; more are taken by the whole path. House value.


@attrs.frozen(kw_only=True)
class Bound:
    """A line to be measured to: ``what`` it is in words, its points in metres, closed ones back to their start.

    ``refuses`` says on which side of it nothing can be put; ``plants`` that this is so for plants alone.
    """

    what: str
    line: Line
    refuses: Refuses = ""
    plants: bool = False


@attrs.frozen(kw_only=True)
class Neighbour:
    """A spot to be measured to: its name in words and its middle in metres. ``on_support``: a plant that climbs, which
    may stand where feet go; ``group``: that of a plant, which is dragged together.
    """

    name: str
    at: Point
    on_support: bool = False
    group: str = ""


def bounds_about(project: Project) -> tuple[Bound, ...]:
    """Return the edge of the plot, the walls of buildings, fences, paths and beds, in this order."""
    site, worked = project.site, layout(project)
    found = [Bound(what="edge of the plot", line=_ring(site.boundary), refuses="outside")] if site.boundary else []
    found += [Bound(what=one.name, line=_ring(one.outline), refuses="inside") for one in site.buildings]
    found += [Bound(what=one.name, line=one.line) for one in site.fences]
    found += _paths(worked) if site.boundary else []
    found += [Bound(what=f"edge of {bed.name}", line=ring) for bed in worked.beds for ring in _rings(bed.region)]
    return tuple(found)


def neighbours(project: Project) -> tuple[Neighbour, ...]:
    """Return every plant, tree, seat and placed thing."""
    bones = project.structure
    found = [
        Neighbour(name=f"{p.number} {p.species}", at=p.at, on_support=bool(p.support), group=p.group)
        for p in project.planting.plants
    ]
    named = [(tree.name, tree.at) for tree in project.site.trees] + [(seat.name, seat.at) for seat in bones.seats]
    named += [(thing.name, thing.at) for thing in bones.things]
    return (*found, *(Neighbour(name=name, at=at) for name, at in named))


# ---- helpers


def _paths(worked: Layout) -> list[Bound]:
    """Return the ground that feet need: the stones of a path that has some, else all of it."""
    few = len(worked.underfoot) <= MOST_STONES
    ground = worked.underfoot if few else tuple(worked.surfaces.items())
    return [
        Bound(what=name, line=line, refuses="inside", plants=True) for name, region in ground for line in _rings(region)
    ]


def _rings(region: Region) -> list[Line]:
    return [_ring(ring) for ring in plane.rings(region)]


def _ring(outline: Sequence[Point]) -> Line:
    line = tuple((float(x), float(y)) for x, y in outline)
    return line if line[:1] == line[-1:] else (*line, *line[:1])
