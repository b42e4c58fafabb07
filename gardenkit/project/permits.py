"""Which permits a garden asks about, all in one place: by the kinds of what is built, by fences, by walls that hold
ground. Local codes and a licensed person decide.
"""

from collections.abc import Iterable

import attrs

from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point
from gardenkit.site.site import Site
from gardenkit.structure.kinds import fence_kind, ground_kind, support_kind, thing_kind
from gardenkit.structure.kinds.placed import Asked
from gardenkit.structure.structure import Structure
from gardenkit.structure.walls import fence_findings, retaining_findings


def permit_findings(site: Site, structure: Structure) -> tuple[Finding, ...]:
    """Return every permit that a garden asks about: those of kinds once each, naming all they are about."""
    asked: dict[Asked, list[tuple[str, Point]]] = {}
    for name, at, permits, high, ground in _built(structure):
        for permit in permits:
            if permit.asks(high, ground):
                asked.setdefault(permit, []).append((name, at))
    found = [_gathered(permit, about) for permit, about in asked.items()]
    for support in structure.supports:
        if support_kind(support.kind).barrier and not support.against:
            found += fence_findings(support.name, support.height)
    for fence in site.fences:
        if fence_kind(fence).retains:
            found += wall_permits(fence.name, fence.height, fence.line[0])
    return tuple(found)


def wall_permits(where: str, shown: float, at: Point) -> tuple[Finding, ...]:
    """Return what a wall that holds so many metres of ground asks for, at a place on the plan."""
    return tuple(attrs.evolve(found, at=at) for found in retaining_findings(where, shown))


def _gathered(permit: Asked, about: list[tuple[str, Point]]) -> Finding:
    names, at = ", ".join(name for name, _ in about), about[0][1] if len(about) == 1 else None
    return Finding(where=names, what=permit.said, source=permit.source, seriousness="note", at=at, topic="permit")


def _built(structure: Structure) -> Iterable[tuple[str, Point, tuple[Asked, ...], float, float]]:
    """Return what is built with its place, the permits of its kind, how deep or high it is (m) and its ground (m2)."""
    for area in structure.ground_areas:
        kind, region = ground_kind(area.kind), plane.region(area.outline)
        yield area.name, plane.centre(region), kind.permits, area.depth or float(kind.deep or 0.0), plane.area(region)
    for support in structure.supports:
        line = plane.line(support.line)
        permits = support_kind(support.kind).permits
        yield support.name, support.line[0], permits, support.height, line.length * support.depth
    for thing in structure.things:
        yield thing.name, thing.at, thing_kind(thing.kind).permits, thing.height, thing.width * thing.depth
