"""How far what is chosen on the plan is from the nearest wall, the boundary and its nearest neighbour."""

from collections.abc import Iterable, Iterator

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Shape
from gardenkit.planting import hand
from gardenkit.project import Project
from gardenkit.project.edits.moved import Sort, stone_named, stone_of
from gardenkit.project.edits.records import by_name
from gardenkit.project.layout import layout
from gardenkit.structure.things import ground_of_thing

Named = tuple[str, Shape]


@attrs.frozen(kw_only=True)
class Near:
    """What is near, in words, and the clear distance to it in metres on the plan; 0 where they touch."""

    what: str
    metres: float


def near(project: Project, sort: Sort, name: str) -> tuple[Near, ...]:
    """Return the nearest wall or fence, the boundary and the nearest neighbour of a thing, those that there are.

    A plant is measured from its stem to other stems, as spacings are on centre; all else from edge to edge.
    """
    own, site = shape(project, sort, name), project.site
    walls: list[Named] = [(b.name, plane.region(b.outline)) for b in site.buildings]
    walls += [(f.name, plane.line(f.line)) for f in site.fences]
    edge = [("the boundary", plane.line((*site.boundary, site.boundary[0])))] if site.boundary else []
    found = (_nearest(own, group) for group in (walls, edge, _neighbours(project, sort, name)))
    return tuple(one for one in found if one is not None)


def shape(project: Project, sort: Sort, name: str) -> Shape:
    """Return what a thing takes of the plan. Raises GardenError for one that is not there."""
    bones = project.structure
    match sort:
        case "plant":
            return plane.point(hand.plant_of(project.planting, int(name)).at)
        case "seat":
            return plane.point(by_name(bones.seats, name, "seat").at)
        case "thing":
            return ground_of_thing(by_name(bones.things, name, "placed thing"))
        case "note":
            line = by_name(project.site.notes, name, "note on the plan").line
            return plane.line(line) if len(line) > 1 else plane.point(line[0])
        case "support":
            return plane.line(by_name(bones.supports, name, "support").line)
        case "level":
            level = by_name(bones.levels, name, "level")
            return plane.region(level.outline) if level.outline else plane.point(level.at)
        case "stone":
            return plane.region(stone_of(project, *stone_named(name)).outline)
        case "area":
            return plane.region(by_name(bones.ground_areas, name, "paved or lawn area").outline)
    return by_name(layout(project).beds, name, "bed").region


# ---- helpers


def _neighbours(project: Project, sort: Sort, name: str) -> Iterator[Named]:
    """Yield what a thing has for neighbours: other plants for a plant, for all else what is built or stands there."""
    if sort == "plant":
        yield from (
            (f"plant {p.number} ({p.species})", plane.point(p.at))
            for p in project.planting.plants
            if str(p.number) != name
        )
        return
    bones = project.structure
    groups: tuple[tuple[Sort, Iterable[Named]], ...] = (
        ("seat", ((s.name, plane.point(s.at)) for s in bones.seats)),
        ("thing", ((t.name, ground_of_thing(t)) for t in bones.things)),
        ("support", ((s.name, plane.line(s.line)) for s in bones.supports)),
        ("area", ((p.name, plane.region(p.outline)) for p in bones.ground_areas)),
        ("bed", ((f"bed {b.name}", b.region) for b in layout(project).beds)),
    )
    for kind, items in groups:
        if kind != "bed" or sort == "bed":
            yield from (one for one in items if kind != sort or one[0] not in (name, f"bed {name}"))
    yield from ((t.name, plane.point(t.at)) for t in project.site.trees)


def _nearest(own: Shape, others: Iterable[Named]) -> Near | None:
    found = [(plane.distance(own, other), what) for what, other in others]
    if not found:
        return None
    far, what = min(found)
    return Near(what=what, metres=far)
