"""What of a garden is meant by a point on its plan: where a designer clicks."""

import math
from collections.abc import Iterable, Sequence

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.planting.planting import Planting
from gardenkit.project import Project
from gardenkit.project.edits.site import Thing as OnSite
from gardenkit.project.edits.site import shape_of, things
from gardenkit.project.layout import layout
from gardenkit.project.plant_choice import bed_called
from gardenkit.site.notes import Note
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Obstacle, Site
from gardenkit.structure.structure import GroundArea, Level, Seat, Structure, Support, Thing
from gardenkit.structure.things import ground_of_thing

SEAT_HALF = 0.4  # m from the middle of a seat to its edge, about. House value.
REACH = 0.4  # m a click may lie off a line, a door or a stem. House value.
# What is small and lies on what is large is meant first: a door in a fence, a tree before the shed under it.
ORDER = (Opening, ExistingTree, Fence, Obstacle, Building)


def thing_at(site: Site, at: Point, *, reach: float = REACH) -> OnSite | None:
    """Return what stands at a plan point (metres), or within ``reach`` of it; None where there is nothing."""
    point = plane.point(at)
    near = [(ORDER.index(type(one)), plane.distance(shape_of(one), point), one) for one in things(site)]
    found = [each for each in near if each[1] <= (0.0 if each[0] >= ORDER.index(Obstacle) else reach)]
    return min(found, key=lambda each: each[:2], default=(0, 0.0, None))[2]


def area_at(structure: Structure, at: Point) -> GroundArea | None:
    """Return the paved or lawn area at a plan point (metres), the one laid last where two overlap; None beside all."""
    return next(
        (one for one in reversed(structure.ground_areas) if plane.contains(plane.region(one.outline), at)), None
    )


def note_at(notes: Iterable[Note], at: Point, *, reach: float = REACH) -> Note | None:
    """Return what is written nearest to a plan point (metres), within ``reach`` of one of its points or lines."""
    spot = plane.point(at)
    near = [
        (plane.distance(plane.line(note.line) if len(note.line) > 1 else plane.point(note.line[0]), spot), note)
        for note in notes
    ]
    return min((each for each in near if each[0] <= reach), key=lambda each: each[0], default=(0.0, None))[1]


def level_at(structure: Structure, at: Point, *, reach: float = REACH) -> Level | None:
    """Return the spot level nearest to a plan point (metres), within ``reach``, else the level area that holds it."""
    areas = {ground_area.name: ground_area.outline for ground_area in structure.ground_areas}
    spots = [(math.dist(one.at, at), one) for one in structure.levels if not (one.outline or one.of)]
    near = min((each for each in spots if each[0] <= reach), key=lambda each: each[0], default=(0.0, None))[1]
    outlines = [(one, areas.get(one.of, one.outline)) for one in reversed(structure.levels)]
    inside = (one for one, outline in outlines if outline and plane.contains(plane.region(outline), at))
    return near or next(inside, None)


def support_at(structure: Structure, at: Point, *, reach: float = REACH) -> Support | None:
    """Return the support whose line is nearest to a plan point (metres), within ``reach`` of what it takes across."""
    point = plane.point(at)
    near = [(plane.distance(plane.line(one.line), point), one) for one in structure.supports]
    return min(
        (each for each in near if each[0] <= reach + each[1].depth), key=lambda each: each[0], default=(0, None)
    )[1]


def placed_at(structure: Structure, at: Point, *, reach: float = REACH) -> Seat | Thing | None:
    """Return the seat or placed thing nearest to a plan point (metres), within ``reach`` of it: the smallest there."""
    point = plane.point(at)
    near: list[tuple[float, Seat | Thing]] = [(plane.distance(ground_of_thing(t), point), t) for t in structure.things]
    near += [(max(0.0, math.dist(s.at, at) - s.width / 2), s) for s in structure.seats]
    found = [each for each in near if each[0] <= reach]
    return min(found, key=lambda each: (each[0], each[1].width * each[1].depth), default=(0.0, None))[1]


@attrs.frozen(kw_only=True)
class Pointed:
    """One thing of a plan: the word of its kind, as the pages have it, and its name."""

    word: str
    name: str


def pointed_at(project: Project, at: Point, *, reach: float, own: Sequence[str] = ()) -> Pointed | None:
    """Return what is meant at a plan point (metres): a line, spot or body within ``reach`` before the ground it stands
    on; of two alike one of the ``own`` words first, then the nearest. None where nothing is.
    """
    spot, found = plane.point(at), []
    for number, (word, name, shape) in enumerate(_everything(project)):
        ground = word in GROUND
        far = max(0.0, plane.distance(shape, spot) - (SEAT_HALF if word == "seat" else 0.0))
        if far <= (0.0 if ground else reach):
            found.append(((ground, word not in own, far, number), Pointed(word=word, name=name)))
    return min(found, key=lambda each: each[0], default=(None, None))[1]


def pointed_shape(project: Project, pointed: Pointed) -> plane.Shape | None:
    """Return where a thing of the plan lies; None where it is gone."""
    every = _everything(project)
    return next((shape for word, name, shape in every if (word, name) == (pointed.word, pointed.name)), None)


def named_at(project: Project, at: Point, kinds: Sequence[str]) -> str:
    """Return the name of the thing of some kinds (as wants name them) at a plan point or within reach of it, what is
    small before what it lies on; empty where there is none.
    """
    spot = plane.point(at)
    reach = {"path": 0.0, "area": 0.0, "bed": 0.0, "building": 0.0, "seat": REACH + SEAT_HALF}
    return next(
        (
            name
            for kind, name, shape in _shapes(project)
            if kind in kinds and plane.distance(shape, spot) <= reach.get(kind, REACH)
        ),
        "",
    )


def shape_named(project: Project, name: str, kinds: Sequence[str]) -> plane.Shape | None:
    """Return where the thing of some kinds (as wants name them) with a name lies on the plan; None where none does."""
    return next((shape for kind, one, shape in _shapes(project) if one == name and kind in kinds), None)


def plants_in_box(planting: Planting, one: Point, other: Point, *, year: int) -> frozenset[int]:
    """Return the numbers of the plants whose stems are in the upright box between two corners, that stand in a year."""
    low_x, high_x = sorted((one[0], other[0]))
    low_y, high_y = sorted((one[1], other[1]))
    there = (p for p in planting.plants if p.is_there(year))
    return frozenset(p.number for p in there if low_x <= p.at[0] <= high_x and low_y <= p.at[1] <= high_y)


def plants_in_lasso(planting: Planting, line: Line, *, year: int) -> frozenset[int]:
    """Return the numbers of the plants whose stems a line (metres) is drawn round, that stand in a year; where it
    crosses itself its parts count together. Raises GardenError for one that goes round nothing.
    """
    ring = plane.ringed(line)
    if ring.is_empty:
        raise GardenError("the line goes round no ground; draw it round the plants")
    return frozenset(p.number for p in planting.plants if p.is_there(year) and plane.contains(ring, p.at))


def plants_in_bed(project: Project, name: str) -> frozenset[int]:
    """Return the numbers of the plants whose stems are in a bed. Raises GardenError for one that is not there."""
    ground = bed_called(layout(project), name).region
    return frozenset(p.number for p in project.planting.plants if plane.contains(ground, p.at))


# ---- helpers

# What covers ground, so that other things are clicked on it.
GROUND = ("level", "path", "paved or lawn area", "bed", "building")


def _everything(project: Project) -> list[tuple[str, str, plane.Shape]]:
    """Return all that is on the plan but plants: the word of its kind, its name and where it lies."""
    bones, site, worked = project.structure, project.site, layout(project)
    found: list[tuple[str, str, plane.Shape]] = [
        ("note on the plan", n.name, plane.line(n.line) if len(n.line) > 1 else plane.point(n.line[0]))
        for n in site.notes
    ]
    found += [("seat", s.name, plane.point(s.at)) for s in bones.seats]
    found += [("placed thing", t.name, ground_of_thing(t)) for t in bones.things]
    found += [(o.kind, o.name, shape_of(o)) for o in site.openings]
    found += [("tree", t.name, shape_of(t)) for t in site.trees]
    found += [("support", s.name, plane.line(s.line)) for s in bones.supports]
    found += [("fence", f.name, shape_of(f)) for f in site.fences]
    found += [("obstacle", o.name, shape_of(o)) for o in site.obstacles]
    found += [("level", one.name, plane.region(one.outline)) for one in bones.levels if one.outline]
    found += [("paved or lawn area", name, region) for name, region in worked.ground_areas.items()]
    found += [("path", name, region) for name, region in worked.surfaces.items()]
    found += [("bed", bed.name, bed.region) for bed in worked.beds]
    return [*found, *(("building", b.name, shape_of(b)) for b in site.buildings)]


def _shapes(project: Project) -> list[tuple[str, str, plane.Shape]]:
    """Return all that a want can be about: its kind, its name and where it lies, what is small first."""
    bones, site, worked = project.structure, project.site, layout(project)
    found: list[tuple[str, str, plane.Shape]] = [("seat", s.name, plane.point(s.at)) for s in bones.seats]
    found += [("thing", t.name, ground_of_thing(t)) for t in bones.things]
    found += [(o.kind, o.name, shape_of(o)) for o in site.openings]
    found += [("tree", t.name, shape_of(t)) for t in site.trees]
    found += [("support", s.name, plane.line(s.line)) for s in bones.supports]
    found += [("fence", f.name, shape_of(f)) for f in site.fences]
    found += [("obstacle", o.name, shape_of(o)) for o in site.obstacles]
    found += [("path", name, region) for name, region in worked.surfaces.items()]
    found += [("area", name, region) for name, region in worked.ground_areas.items()]
    found += [("bed", bed.name, bed.region) for bed in worked.beds if any(b.name == bed.name for b in bones.beds)]
    return [*found, *(("building", b.name, shape_of(b)) for b in site.buildings)]
