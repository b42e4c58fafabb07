"""Views: from which places one may look, what hides what in a month of a year, how much of the path shows."""

from functools import lru_cache

import attrs
import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.geometry.solid import Solid, top_of
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.solids import height_to_be, is_of, solids
from gardenkit.site import site as sites
from gardenkit.site.openings import Opening
from gardenkit.structure import sightlines
from gardenkit.structure.enclosure import Around, around
from gardenkit.structure.kinds import is_overhead
from gardenkit.structure.perspective import PathLook, path_look
from gardenkit.structure.sightlines import SEATED_EYE, STANDING_EYE, Screening, Seen, View
from gardenkit.structure.structure import Structure
from gardenkit.structure.things import outline_of

POSTURES = {"standing": STANDING_EYE, "seated": SEATED_EYE}
APART = 0.25  # m between the points of a path that are looked at. House value.
HEAD = 1.2  # m: what one wants hidden of a person, a bin or a table at a place; looked at up to this. House value.
ROUND = 0.5  # m round a place that counts as the place. House value.
BOARD = 0.9  # m from the floor of a room to its window board: an upper window tells its floor by it. House value.
JUDGED_YEAR = 5  # year at which the wants list asks how much of the path shows. House value.
SEASONS = (1, 7)  # January and July: bare and in full leaf. House value.


@attrs.frozen(kw_only=True)
class Eye:
    """Somebody looking: from which place, at a plan point, with the eye ``height`` metres above the ground or floor."""

    place: str
    at: Point
    height: float = STANDING_EYE
    floor: float | None = None  # m above the plan's zero; None: the ground there


def places_to_look_from(project: Project) -> dict[str, Eye]:
    """Return every gate, door, window and seat as an eye: standing, at a window on its floor, on a seat seated."""
    floors = {b.name: b.floor for b in project.site.buildings}
    found = {}
    for opening in project.site.openings:
        floor = floors.get(opening.on, next(iter(floors.values()), None)) if opening.kind == "window" else None
        if floor is not None:
            floor = floor_inside(opening, floor)
        found[opening.name] = Eye(place=opening.name, at=opening.middle, floor=floor)
    for seat in project.structure.seats:
        found[seat.name] = Eye(place=seat.name, at=seat.at, height=seat.eye)
    return found


def floor_inside(opening: Opening, ground_floor: float) -> float:
    """Return the floor one stands on at a window, metres above the plan's zero, in a house of that ``ground_floor``.

    A window that begins above a standing eye is one of an upper floor, whose room lies ``BOARD`` below it.
    """
    return opening.sill - BOARD if opening.sill > ground_floor + STANDING_EYE else ground_floor


def eye_at(project: Project, place: str, *, posture: str = "") -> Eye:
    """Return the eye at a place; ``posture`` "standing" or "seated" overrules the usual one. Raises GardenError."""
    known = places_to_look_from(project)
    if place not in known:
        raise GardenError(f'there is no place called "{place}" to look from{nearest(place, known)}')
    if posture and posture not in POSTURES:
        raise GardenError(f'one cannot look "{posture}"{nearest(posture, POSTURES)}; choose standing or seated')
    return attrs.evolve(known[place], height=POSTURES[posture]) if posture else known[place]


def eye_point(project: Project, eye: Eye) -> sightlines.Eye:
    """Return the eye in space: a little into the open where it stands in a wall, on the ground or floor there.

    A neighbour's window looks from outside the plot; there the open is what is not a building.
    """
    at = sightlines.into_the_open(eye.at, _open_round(project, eye.at))
    level = eye.floor if eye.floor is not None else height_to_be(project)(at)
    return sightlines.eye_at(at, ground=level, height=eye.height)


def _open_round(project: Project, at: Point) -> Region:
    """Return the open ground of the plot, or round a spot outside of it what is not a building."""
    plot = sites.ground(project.site)
    if plot.is_empty or plane.distance(plot, plane.point(at)) <= sightlines.OFF_WALL:
        return plot
    built = plane.union(plane.region(b.outline) for b in project.site.buildings)
    return plane.difference(plane.circle(at, ROUND), built)


def bodies(project: Project, catalogue: Catalogue | None = None, *, year: int | None = None) -> tuple[Solid, ...]:
    """Return everything that may hide a view in a year; remembered while nothing that stands changes.

    A climber on an arch, arbour or pergola is tied up and over it: one walks and looks through below.
    """
    over = {s.name for s in project.structure.supports if is_overhead(s)}
    grown = project.planting.plants if year is not None and catalogue is not None else ()
    plants = type(project.planting)(plants=tuple(p for p in grown if p.support not in over))
    standing = attrs.evolve(
        project,
        brief=type(project.brief)(),
        planting=plants,
        alternatives=(),
        structure=Structure(supports=project.structure.supports, things=project.structure.things),
    )
    return _bodies(standing, catalogue if year is not None else None, year)


@lru_cache(maxsize=16)
def _bodies(project: Project, catalogue: Catalogue | None, year: int | None) -> tuple[Solid, ...]:
    return solids(project, catalogue, year=year)


def look(
    project: Project, eye: Eye, *, month: int = 6, year: int | None = None, catalogue: Catalogue | None = None
) -> View:
    """Return the ground in view from an eye inside the boundary. Raises GardenError without a boundary."""
    if not project.site.boundary:
        raise GardenError(
            "there is no boundary yet, so nothing ends the view; draw or measure it in 03_site_measurement"
        )
    hiding = bodies(project, catalogue, year=year)
    return sightlines.view(eye_point(project, eye), project.site.boundary, solids=hiding, month=month)


def path_points(project: Project, worked: Layout, name: str) -> FloatArray:
    """Return evenly spaced points of a path's middle line on the ground, (n, 3). Raises GardenError for a lost path."""
    if name not in worked.routes:
        raise GardenError(f'path "{name}" does not run anywhere yet{nearest(name, worked.routes)}')
    route = worked.routes[name]
    s = np.linspace(0.0, route.length, max(2, round(route.length / APART) + 1))
    at, ground = route.curve.at(s), worked.lie
    return np.column_stack((at, ground.at(at) if ground is not None else np.zeros(len(at))))


def path_seen(
    project: Project,
    worked: Layout,
    name: str,
    eye: Eye,
    *,
    month: int = 6,
    year: int | None = None,
    catalogue: Catalogue | None = None,
) -> Seen:
    """Return how much of a path's middle line shows from an eye."""
    points = path_points(project, worked, name)
    return sightlines.seen(eye_point(project, eye), points, bodies(project, catalogue, year=year), month=month)


def path_looks(project: Project, worked: Layout, name: str, eye: Eye, part: Seen) -> PathLook:
    """Return how long a path looks from an eye against how long it is; the foot of the eye itself is left out."""
    points, spot = path_points(project, worked, name), eye_point(project, eye)
    shown = part.shown.astype(float)
    far = np.hypot(points[:, 0] - spot[0], points[:, 1] - spot[1]) > 2 * APART
    if far.sum() < 2:
        raise GardenError(f'path "{name}" is too short to be looked at from {eye.place}; choose another place')
    if np.hypot(*(points[far][0, :2] - spot[:2])) > np.hypot(*(points[far][-1, :2] - spot[:2])):
        return path_look(points[far][::-1], spot, shown=shown[far][::-1])
    return path_look(points[far], spot, shown=shown[far])


def enclosed(project: Project, seen: View, *, year: int | None = None, catalogue: Catalogue | None = None) -> Around:
    """Return how enclosed the place of a view is; what is lower than the eye is looked over and does not enclose."""
    level = height_to_be(project)(seen.eye[:2])
    heights: dict[str, float] = {}
    for solid in bodies(project, catalogue, year=year):
        heights[solid.name] = max(heights.get(solid.name, 0.0), top_of(solid) - level)
    return around(seen, heights)


def screened(
    project: Project, looked_at: str, eye: Eye, *, year: int | None = None, catalogue: Catalogue | None = None
) -> Screening:
    """Return how much of a place, up to a seated person's height, is hidden from an eye, month by month.

    The place is a gate, door, window or seat, a paved or lawn area, an obstacle, a building or a tree: what is itself
    looked at does not hide itself. Raises GardenError for one that is not there.
    """
    hiding = bodies(project, catalogue, year=year)
    spots = np.array([eye_point(project, eye)])
    own = {body.name for body in hiding if is_of(body, looked_at)}
    return sightlines.screening(spots, targets(project, looked_at), hiding, without=own)


def targets(project: Project, looked_at: str) -> FloatArray:
    """Return the points (n, 3) of a place that are looked at, from near the ground up to a seated person's height."""
    site, known = project.site, places_to_look_from(project)
    outlines = {one.name: one.outline for one in project.structure.ground_areas}
    outlines |= {one.name: outline_of(one) for one in project.structure.things}
    outlines |= {one.name: one.outline for one in site.obstacles} | {one.name: one.outline for one in site.buildings}
    if looked_at in known:
        there = eye_point(project, known[looked_at])
        level = there[2] - known[looked_at].height
        ring = plane.intersection(plane.circle(there[:2], ROUND, sides=12), _open_round(project, there[:2]))
        outline, spacing = plane.corners(plane.pieces(ring)[0]), ROUND / 2
    elif looked_at in outlines:
        outline, spacing = outlines[looked_at], 2 * ROUND
        level = height_to_be(project)(plane.centre(plane.region(outline)))
    elif tree := next((tree for tree in site.trees if tree.name == looked_at), None):
        low, high = max(tree.crown_base, HEAD), tree.height
        heights = height_to_be(project)(tree.at) + np.linspace(low, high, 4)
        return np.column_stack((np.tile(tree.at, (len(heights), 1)), heights))
    else:
        known_names = [*known, *outlines, *(tree.name for tree in site.trees)]
        raise GardenError(f'there is no place called "{looked_at}" to be seen{nearest(looked_at, known_names)}')
    spots = sightlines.level_points(outline, level, spacing=spacing)
    heights = level + np.array([0.3, 0.75, HEAD])
    return np.column_stack((np.repeat(spots[:, :2], len(heights), axis=0), np.tile(heights, len(spots))))


def path_shown_at_most(project: Project, worked: Layout, catalogue: Catalogue | None = None) -> float | None:
    """Return the greatest share of a path that shows from its own start, bare or in leaf, in the fifth year.

    Paths that begin at a gate or door count; where none does, all whose start is a place one can look from.
    """
    openings = {o.name for o in project.site.doors_and_gates()}
    known = places_to_look_from(project)
    begun = [p for p in project.structure.paths if p.name in worked.routes and p.start in known]
    chosen = [p for p in begun if p.start in openings] or begun
    hiding = bodies(project, catalogue, year=JUDGED_YEAR) if chosen else ()
    shares = [
        part.share
        for path in chosen
        for part in sightlines.seen_in(
            eye_point(project, known[path.start]), path_points(project, worked, path.name), hiding, SEASONS
        )
    ]
    return max(shares, default=None)
