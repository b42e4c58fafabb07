"""What is drawn on the plan by clicking: each thing with the edit that makes a record of the clicked points.

Sizes that a click does not say are the usual ones, to be changed in the thing's form.
"""

from collections.abc import Callable, Sequence
from typing import Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.geometry.snapping import Targets, targets_of
from gardenkit.project import Project
from gardenkit.project.edits import brief, site, structure
from gardenkit.project.edits.records import free_name
from gardenkit.project.edits.structure.shared import spot
from gardenkit.project.layout import layout
from gardenkit.site.notes import NoteKind
from gardenkit.site.usual_sizes import usual_sizes
from gardenkit.structure.kinds import FENCES, GROUND_AREAS, SUPPORTS, THINGS
from gardenkit.structure.structure import HeldPoint
from gardenkit.structure.things import ground_of_thing

Form = Literal["outline", "line", "spot", "tape"]
Draw = Callable[[Project, Line], Project]
OPENINGS = ("door", "window", "gate")
ENDS_WITHIN = 1.5  # m from the first or last click of a path to the place or path it goes to. House value.
WRITTEN: tuple[tuple[NoteKind, Form], ...] = (
    ("note", "line"),
    ("dimension", "line"),
    ("service", "line"),
    ("tap", "spot"),
    ("transformer", "spot"),
    ("setback", "outline"),
    ("easement", "outline"),
)
LEVELS: tuple[tuple[str, Form], ...] = (("level area", "outline"), ("spot level", "spot"))
HEIGHT = "ground height"
BUILDINGS = ("house", "shed")  # as found; what is put up of that name is a new one
CABLE = "low-voltage cable"
CUT = "stone of its own outline"
PROPERTY_AREA = "area of the property"
TAPE = "a length, from click to click"


@attrs.frozen(kw_only=True)
class Drawable:
    """Something that can be drawn: its ``word``, whether clicks make an outline, a line or are one spot, and its edit;
    ``names`` lists what of its sort a project has. A tape only measures.
    """

    word: str
    form: Form
    draw: Draw
    names: Callable[[Project], Sequence[str]]


def draw(project: Project, what: str, points: Line) -> Project:
    """Return the project with a thing of ``DRAWABLES`` drawn through plan points (metres), under a free name.

    Raises GardenError for too few points, and for what the thing's own edit refuses.
    """
    return draw_thing(project, drawable(what), points)


def draw_thing(project: Project, thing: Drawable, points: Line) -> Project:
    """Return the project with a thing drawn, whether it is of ``DRAWABLES`` or a page's own; raises as ``draw``."""
    least = {"outline": 3, "line": 2, "spot": 1, "tape": 2}[thing.form]
    if len(points) < least:
        raise GardenError(f"a {thing.word} needs {least} points on the plan, and {len(points)} is clicked; click on")
    return thing.draw(project, tuple(spot(p) for p in points))


def drawable(what: str) -> Drawable:
    """Return what can be drawn by its word; raises GardenError naming the nearest known one."""
    if what not in DRAWABLES:
        raise GardenError(f'"{what}" cannot be drawn on the plan{nearest(what, DRAWABLES)}')
    return DRAWABLES[what]


def drawn_name(before: Project, after: Project, thing: Drawable) -> str:
    """Return the name of what was drawn between two states of a project; empty for a boundary."""
    was = set(thing.names(before))
    return next((name for name in thing.names(after) if name not in was), "")


def snap_targets(project: Project) -> Targets:
    """Return everything on the plan that a click can be put onto: corners, edges, the middles of doors and gates."""
    ground, bones = project.site, project.structure
    outlines = [ground.boundary, *(b.outline for b in ground.buildings), *(o.outline for o in ground.obstacles)]
    outlines += [
        *(p.outline for p in bones.ground_areas),
        *(b.outline for b in bones.beds),
        *(a.outline for a in project.areas),
    ]
    lines = [*(f.line for f in ground.fences), *(s.line for s in bones.supports), *bones.cuts]
    lines += [(o.start, o.end) for o in ground.openings]
    middles = [o.middle for o in ground.doors_and_gates()]
    middles += [*(s.at for s in bones.seats), *(t.at for t in bones.things)]
    return targets_of(outlines, lines, middles)


# ---- helpers


def _thing(kind: str, form: Form, word: str = "") -> Drawable:
    """Return a building, fence or obstacle as found."""

    def draw_it(project: Project, points: Line) -> Project:
        name = site.free_thing_name(project, word or kind)
        where = {"line": points} if form == "line" else {"outline": points}
        if kind != "fence":
            return site.put_up(project, kind, name=name, **where)
        row = FENCES[word]
        return site.put_up(project, kind, name=name, kind=word, height=row.usual, openness=row.openness, **where)

    return Drawable(word=word or kind, form=form, draw=draw_it, names=_ground_names)


def _opening(kind: str) -> Drawable:
    def draw_it(project: Project, points: Line) -> Project:
        return site.put_up(project, kind, at=points[0], **usual_sizes(kind, project.units))

    return Drawable(word=kind, form="spot", draw=draw_it, names=_ground_names)


def _tree(project: Project, points: Line) -> Project:
    return site.put_up(project, "tree", at=points[0], **usual_sizes("tree", project.units))


def _ground_height(project: Project, points: Line) -> Project:
    return site.add_height(project, at=points[0])


def _area(kind: str) -> Drawable:
    return Drawable(
        word=kind,
        form="outline",
        draw=lambda project, points: structure.add_area(project, kind, outline=points),
        names=lambda project: [p.name for p in project.structure.ground_areas],
    )


def _support(kind: str) -> Drawable:
    def draw_it(project: Project, points: Line) -> Project:
        name = free_name(kind, [s.name for s in project.structure.supports])
        return structure.add_support(project, name, kind, line=points)

    word = f"new {kind}" if kind in FENCES else kind
    return Drawable(
        word=word, form="line", draw=draw_it, names=lambda project: [s.name for s in project.structure.supports]
    )


def _placed(kind: str) -> Drawable:
    word = f"new {kind}" if kind in BUILDINGS else kind
    if THINGS[kind].lined:
        return Drawable(
            word=word,
            form="line",
            draw=lambda project, points: structure.add_along(project, kind, points),
            names=lambda project: [t.name for t in project.structure.things],
        )
    return Drawable(
        word=word,
        form="spot",
        draw=lambda project, points: structure.add_thing(project, kind, at=points[0]),
        names=lambda project: [t.name for t in project.structure.things],
    )


def _level(word: str, form: Form) -> Drawable:
    def draw_it(project: Project, points: Line) -> Project:
        outline = points if form == "outline" else ()
        return structure.add_level(project, at=None if outline else points[0], outline=outline)

    return Drawable(
        word=word, form=form, draw=draw_it, names=lambda project: [one.name for one in project.structure.levels]
    )


def _written(kind: NoteKind, form: Form) -> Drawable:
    return Drawable(
        word=kind,
        form=form,
        draw=lambda project, points: structure.add_note(project, kind, line=points),
        names=lambda project: [note.name for note in project.site.notes],
    )


def _seat(project: Project, points: Line) -> Project:
    name = free_name("seat", structure.shared.path_ends(project))
    return structure.add_seat(project, name, at=points[0])


def _path(project: Project, points: Line) -> Project:
    """Draw a path from the place at its first point to that at its last, pinned at the points between."""
    start, end = _end(project, points[0], "starts"), _end(project, points[-1], "ends")
    if start == end:
        raise GardenError(f'the path would start and end at "{start}"; click its last point at another place')
    held = tuple(HeldPoint(at=at) for at in points[1:-1])
    name = free_name("path", structure.shared.path_ends(project))
    joined = {end: points[-1], start: points[0]}
    routes = layout(project).routes
    more = {}
    for other, at in joined.items():
        if other in routes:
            curve = routes[other].curve
            share = float(curve.along[int(((curve.points - at) ** 2).sum(axis=1).argmin())]) / routes[other].length
            more["joins_at"] = round(min(max(share, 0.05), 0.95), 3)
    return structure.add_path(project, name, start=start, end=end, held=held, **more)


def _end(project: Project, at: Point, does: str) -> str:
    """Return the name of the place, or else the path, that an end of a drawn path is at."""
    bones, spot_there = project.structure, plane.point(at)
    shapes: list[tuple[str, plane.Shape]] = [
        (o.name, plane.line((o.start, o.end))) for o in project.site.doors_and_gates()
    ]
    shapes += [(s.name, plane.point(s.at)) for s in bones.seats]
    shapes += [(p.name, plane.region(p.outline)) for p in bones.ground_areas]
    shapes += [(t.name, ground_of_thing(t)) for t in bones.things]
    near = [(plane.distance(shape, spot_there), order, name) for order, (name, shape) in enumerate(shapes)]
    routes = layout(project).routes
    near += [(plane.distance(r.region, spot_there), len(near) + k, name) for k, (name, r) in enumerate(routes.items())]
    reached = [each for each in near if each[0] <= ENDS_WITHIN]
    if not reached:
        raise GardenError(
            f"the path {does} at no door, gate, seat, area or path; click that end at one of them, "
            "or draw the door, gate or seat first"
        )
    return min(reached)[2]


def _ground_names(project: Project) -> list[str]:
    return [one.name for one in site.things(project.site)]


_ROWS = (
    Drawable(word="boundary", form="outline", draw=site.set_boundary, names=lambda _: []),
    *(_thing("building", "outline", word) for word in BUILDINGS),
    *(_opening(kind) for kind in OPENINGS),
    *(_thing("fence", "line", kind) for kind in FENCES),
    Drawable(word="tree", form="spot", draw=_tree, names=_ground_names),
    _thing("obstacle", "outline"),
    Drawable(
        word=HEIGHT,
        form="spot",
        draw=_ground_height,
        names=lambda project: [one.name for one in project.site.heights],
    ),
    *(_area(kind) for kind in GROUND_AREAS),
    Drawable(
        word="bed",
        form="outline",
        draw=structure.draw_bed,
        names=lambda project: [b.name for b in layout(project).beds],
    ),
    Drawable(word="path", form="line", draw=_path, names=lambda project: [p.name for p in project.structure.paths]),
    Drawable(
        word=CUT,
        form="outline",
        draw=structure.add_cut_stone,
        names=lambda project: [stone.name for path in project.structure.paths for stone in path.cut_stones],
    ),
    Drawable(word="seat", form="spot", draw=_seat, names=lambda project: [s.name for s in project.structure.seats]),
    *(_placed(kind) for kind in sorted(THINGS)),
    Drawable(
        word=CABLE,
        form="line",
        draw=structure.lay_cable,
        names=lambda project: [cable.name for cable in project.structure.cables],
    ),
    *(_level(word, form) for word, form in LEVELS),
    *(_written(kind, form) for kind, form in WRITTEN),
    *(_support(kind) for kind in SUPPORTS),
    Drawable(
        word=PROPERTY_AREA,
        form="outline",
        draw=lambda project, points: brief.add_property_area(
            project, free_name("Area", [one.name for one in project.areas]), outline=points
        ),
        names=lambda project: [one.name for one in project.areas],
    ),
    Drawable(word=TAPE, form="tape", draw=lambda project, _: project, names=lambda _: []),
)
DRAWABLES = {row.word: row for row in _ROWS}
AREAS, PLACED = tuple(GROUND_AREAS), tuple(_placed(kind).word for kind in sorted(THINGS))
HELD_UP = tuple(_support(kind).word for kind in SUPPORTS)
GROUND = ("boundary", *BUILDINGS, *OPENINGS, *FENCES, "tree", "obstacle", HEIGHT)  # as found
