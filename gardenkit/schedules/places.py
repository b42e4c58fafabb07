"""The places of a garden to be found on the ground: path edges, stones, corners, curves, posts, seats, trees."""

import math
from collections.abc import Iterator, Sequence
from typing import Literal

import attrs
import numpy as np

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, heading, towards
from gardenkit.planting.catalogue import Catalogue
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.flights import Built, riser_ends
from gardenkit.structure.kinds import parts_list, standing_supports, support_kind, thing_kind
from gardenkit.structure.kinds.support_parts import PostChoice, posts_of
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Support, Thing
from gardenkit.structure.things import outline_of
from gardenkit.units import FOOT, System, show_length

Kind = Literal["path", "stone", "corner", "post", "seat", "thing", "tree", "curve"]
STATION = {"imperial": Figure(3 * FOOT, "m", HOUSE), "metric": Figure(1.0, "m", HOUSE)}  # along path and curved edges
SMOOTH_TURN = 35.0  # degrees: an outline that turns less at every corner is a curve, given by stations. House value.
ROUND = 0.01  # share by which the radii of a circle may differ. House value.
AT_EDGE = 0.03  # m: nearer than this an edge of the route is an edge of the ground it leaves. House value.


@attrs.frozen(kw_only=True)
class Place:
    """One place to find on the ground: its kind, what it is in words, and where on the plan."""

    kind: Kind
    what: str
    at: Point


def places(project: Project, worked: Layout, catalogue: Catalogue) -> Iterator[Place]:
    """Yield every place of a garden's structure and its trees, in the order they are built."""
    yield from _of_paths(project, worked)
    yield from _of_outlines(project, worked)
    posts = posts_of(project.structure, project.units)
    for support in project.structure.supports:
        yield from _of_support(support, standing_supports((support,), project.site.openings), posts)
    for seat in project.structure.seats:
        for word, way in (("left", -90.0), ("right", 90.0)):  # two, so that it looks the way it was drawn
            at = towards(seat.at, seat.facing + way, seat.width / 2)
            yield Place(kind="seat", what=f"{seat.name}, {word} end as one sits", at=at)
    for thing in project.structure.things:
        yield from _of_thing(thing)
    for plant in project.planting.plants:
        if catalogue[plant.species].is_tree:
            words = f"{catalogue[plant.species].botanical} (plant {plant.number})"
            yield Place(kind="tree", what=words, at=plant.at)


def _of_paths(project: Project, worked: Layout) -> Iterator[Place]:
    for name, route in worked.routes.items():
        yield from _edges(name, route, worked, project.units)
        for flight in worked.flights.get(name, ()):
            yield from _ends_of_steps(name, flight, route)
        for stone in worked.layings[name].stones:
            yield Place(kind="stone", what=f"{name}, stone {stone.number + 1}", at=stone.at)


def _edges(name: str, route: Route, worked: Layout, units: System) -> Iterator[Place]:
    """Yield both edges at every station of a path; where it lies in another path or is cut off it has no edge."""
    step, surface = float(STATION[units]), worked.surfaces[name]
    rim = [plane.line([*ring, ring[0]]) for ring in plane.rings(surface)]
    along = np.array([*np.arange(0.0, route.length, step).tolist(), route.length])
    sides = [
        (word, route.curve.beside(along, np.full(len(along), way * route.width / 2)))
        for word, way in (("left", 1.0), ("right", -1.0))
    ]
    for number, s in enumerate(along.tolist()):
        for word, line in sides:
            at = (float(line[number, 0]), float(line[number, 1]))
            if any(plane.distance(plane.point(at), ring) <= AT_EDGE for ring in rim):
                yield Place(kind="path", what=f"{name}, {word} edge at {_station(s, units)}", at=at)


def _ends_of_steps(name: str, flight: Built, route: Route) -> Iterator[Place]:
    """Yield both ends of the lowest and the highest riser of a flight: the others lie a tread apart between them."""
    if flight.steps is None:
        return
    ends = riser_ends(flight, route)
    low, high = (ends[0], ends[-1]) if flight.climbs_along else (ends[-1], ends[0])
    for which, riser in {"lowest": low, "highest": high}.items():
        for word, at in zip(("left", "right"), riser, strict=True):
            yield Place(kind="path", what=f"{name}, flight {flight.number}, {which} riser, {word} end", at=at)


def _of_support(support: Support, pieces: Sequence[Support], choice: PostChoice) -> Iterator[Place]:
    """Yield the posts of a support in its pieces between gates, as many as their parts lists have; on a wall, and for
    one without posts, its ends.
    """
    posts = [at for piece in pieces for at in _posts(piece, _count_of_posts(piece, choice))]
    if support_kind(support.kind).stands == "round":
        yield Place(kind="post", what=f"{support.name}, middle", at=_evenly(support.line, 3)[1])
        return
    if not posts:
        for number, at in enumerate(support.line, 1):
            yield Place(kind="post", what=f"{support.name}, end {number}", at=at)
        return
    for number, at in enumerate(posts, 1):
        yield Place(kind="post", what=f"{support.name}, post {number}", at=at)


def _of_thing(thing: Thing) -> Iterator[Place]:
    """Yield the middle of a thing that is set down, and the corners of a square one that is built."""
    kind = thing_kind(thing.kind)
    if kind.rounded or kind.work == "set down":
        yield Place(kind="thing", what=f"{thing.name}, middle", at=thing.at)
        return
    for number, at in enumerate(outline_of(thing), 1):
        yield Place(kind="corner", what=f"{thing.name}, corner {number}", at=at)


def _count_of_posts(support: Support, choice: PostChoice) -> int:
    return int(sum(part.count for part in parts_list(support, posts=choice) if part.name == "post"))


def _posts(support: Support, count: int) -> list[Point]:
    if not count:
        return []
    if support_kind(support.kind).stands != "overhead":
        return _evenly(support.line, count)
    a, b = support.line[0], support.line[-1]
    across = heading(a, b) + 90
    sides = [[towards(p, across, way * support.depth / 2) for p in (a, b)] for way in (-1, 1)]
    return [at for side in sides for at in _evenly(side, count // 2)]


def _evenly(line: Sequence[Point], count: int) -> list[Point]:
    whole = plane.line(line)
    spots = [whole.interpolate(k / max(1, count - 1), normalized=True) for k in range(count)]
    return [(float(spot.x), float(spot.y)) for spot in spots]


def _of_outlines(project: Project, worked: Layout) -> Iterator[Place]:
    """Yield what is built of outlines on the plot: corners, also in a path, where their sides are stretched to; of
    curves what is an edge of its own.
    """
    houses = plane.union(plane.region(b.outline) for b in project.site.buildings)
    plot = plane.grown(plane.region(project.site.boundary), AT_EDGE)
    ground = plane.difference(plot, plane.grown(houses, -AT_EDGE))
    ways = plane.grown(plane.union(worked.surfaces.values()), -AT_EDGE)
    places = {"corner": ground, "curve": plane.difference(ground, ways)}
    step = float(STATION[project.units])
    named = [(one.name, one.outline) for one in project.structure.ground_areas]
    named += [(f"bed {bed.name}", bed.outline) for bed in project.structure.beds]
    for name, outline in named:
        kind, spots = _outline(outline, step)
        kept = [at for at in spots if plane.contains(places[kind], at)]
        word = "corner" if kind == "corner" else "edge"
        for number, at in enumerate(kept, 1):
            yield Place(kind=kind, what=f"{name}, {word} {number}", at=at)
        if kind == "curve" and (radius := _radius(outline)):
            words = f"{name}, middle of a circle R {show_length(radius, project.units)}"
            yield Place(kind=kind, what=words, at=plane.centre(plane.region(outline)))


def _outline(outline: Sequence[Point], step: float) -> tuple[Literal["corner", "curve"], list[Point]]:
    """Return the corners of an outline, or stations along it where it is a curve."""
    if not outline:
        return "corner", []
    turns = [_turn(outline[i - 1], at, outline[(i + 1) % len(outline)]) for i, at in enumerate(outline)]
    sharp = [at for at, turn in zip(outline, turns, strict=True) if turn >= SMOOTH_TURN]
    if len(outline) <= 12 or len(sharp) >= len(outline) / 2:
        return "corner", list(outline)
    ring = plane.line([*outline, outline[0]])
    count = max(8, round(ring.length / step))
    spots = (ring.interpolate(number / count, normalized=True) for number in range(count))
    return "curve", [(float(spot.x), float(spot.y)) for spot in spots]


def _radius(outline: Sequence[Point]) -> float:
    """Return the radius of an outline that is a circle, 0 of any other."""
    middle = plane.centre(plane.region(outline))
    far = [math.dist(middle, at) for at in outline]
    return max(far) if max(far) - min(far) <= ROUND * max(far) else 0.0


def _station(s: float, units: System) -> str:
    return f"{s / FOOT:.0f} ft" if units == "imperial" else f"{s:.1f} m"


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return how far a line a, b, c turns at b, degrees."""
    first, second = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(c[1] - b[1], c[0] - b[0])
    return abs(math.degrees((second - first + math.pi) % (2 * math.pi) - math.pi))
