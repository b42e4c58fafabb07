"""The structure worked out on the ground: where each path runs, how its stones lie, which beds are left, what that
finds.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cached_property, lru_cache
from itertools import pairwise

import attrs

from gardenkit.findings import Finding, GardenError, nearest
from gardenkit.geometry import nearby, plane
from gardenkit.geometry.plane import Outline, Point, Region
from gardenkit.planting.planting import Plant
from gardenkit.project import Project, area_rules, rules, thing_rules
from gardenkit.project.near_route import Ends, routed
from gardenkit.project.turn_places import swung, trunk_ground
from gardenkit.project.water_rules import water_findings
from gardenkit.site import site as sites
from gardenkit.site.levels import Surface
from gardenkit.site.site import Building, ExistingTree, Obstacle, Site
from gardenkit.site.standing import standing_fences
from gardenkit.structure import beds as bed_work
from gardenkit.structure import route as routes
from gardenkit.structure import stones as stone_work
from gardenkit.structure.beds import BedShape
from gardenkit.structure.flights import Built, built, flight_findings
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.fences import ground_of_fence
from gardenkit.structure.meander import GOALS, LONGEST, Goal, Meander, propose_meanders
from gardenkit.structure.mouths import Met, met, near_edge
from gardenkit.structure.new_ground import ground_to_be
from gardenkit.structure.ramp_runs import RampRun, rail_findings, ramp_runs
from gardenkit.structure.route import Route
from gardenkit.structure.stones import Laying
from gardenkit.structure.structure import Path, StoneChoice, Structure
from gardenkit.structure.things import beds_inside, outline_of, taken_by
from gardenkit.units import System

FENCE_HALF = 0.05  # m, half the thickness of a fence. House value.
GATE_POST = 0.1  # m beside a gate's opening that its post takes. House value.
ALONG_EDGE = 0.4  # m: a fence nearer the boundary than this runs along it. House value.


@attrs.frozen(eq=False, kw_only=True, slots=False)
class Layout:
    """The worked-out structure. A path that does not fit has no route; ``problems`` says why, one sentence each.

    ``surfaces`` is the ground of each path less the paths before it, so that no ground is counted twice; ``flights``
    are the steps in each, ``ramps`` the runs of each that is built as one, ``things`` the ground that each placed thing
    takes from the beds, ``walls`` what walls and hedges take of them; ``lie`` the ground as it will be, None where no
    heights were taken.
    """

    ground: Region
    routes: Mapping[str, Route]
    layings: Mapping[str, Laying]
    surfaces: Mapping[str, Region]
    beds: tuple[BedShape, ...]
    ground_areas: Mapping[str, Region]
    scraps: Region
    findings: tuple[Finding, ...]
    problems: tuple[str, ...] = ()
    flights: Mapping[str, tuple[Built, ...]] = attrs.field(factory=dict)
    ramps: Mapping[str, tuple[RampRun, ...]] = attrs.field(factory=dict)
    things: Mapping[str, Region] = attrs.field(factory=dict)
    walls: Region = plane.NOWHERE
    lie: Surface | None = None

    def bed_at(self, at: Point) -> BedShape | None:
        """Return the bed that holds a point, None when it lies in no bed."""
        return self.beds_at([at])[0]

    def beds_at(self, places: Sequence[Point]) -> list[BedShape | None]:
        """Return the same of many points."""
        return [None if k is None else self.beds[k] for k in self._bed_holding(places)]

    def plants_by_bed(self, plants: Iterable[Plant]) -> Mapping[str, tuple[Plant, ...]]:
        """Return the plants that stand in each bed, by its name, in their order."""
        found: dict[str, list[Plant]] = {bed.name: [] for bed in self.beds}
        several = tuple(plants)
        for plant, bed in zip(several, self.beds_at([plant.at for plant in several]), strict=True):
            if bed is not None:
                found[bed.name].append(plant)
        return {name: tuple(here) for name, here in found.items()}

    @cached_property
    def _bed_holding(self) -> Callable[[Sequence[Point]], list[int | None]]:
        return nearby.finder([bed.region for bed in self.beds])

    def trodden_at(self, at: Point) -> str | None:
        """Return the path that feet need a place of, None for none."""
        held = self._foot_holding([at])[0]
        return None if held is None else self.underfoot[held][0]

    @cached_property
    def underfoot(self) -> tuple[tuple[str, Region], ...]:
        """The ground that feet need, with the path's name: each stone of a path of stones, else all of the path."""
        found: list[tuple[str, Region]] = []
        for name, region in self.surfaces.items():
            stones = self.layings[name].stones
            found += [(name, plane.region(stone.outline)) for stone in stones] or [(name, region)]
        return tuple(found)

    @cached_property
    def _foot_holding(self) -> Callable[[Sequence[Point]], list[int | None]]:
        return nearby.finder([region for _, region in self.underfoot])

    @property
    def hardscape(self) -> Region:
        """Everything that is neither bed nor building: paths and areas."""
        return plane.union([*self.surfaces.values(), *self.ground_areas.values()])


def layout(project: Project) -> Layout:
    """Return the worked-out structure of a garden; the last few are remembered, so asking again costs nothing."""
    return _layout(project.site, project.structure, project.units)


@lru_cache(maxsize=32)
def _layout(site: Site, structure: Structure, units: System) -> Layout:
    open_ground, blocks = _ready(site.boundary, site.buildings, site.trees, site.obstacles)
    found: dict[str, Route] = {}
    problems: list[str] = []
    findings: list[Finding] = []
    for path in structure.paths:
        try:
            found[path.name] = _route(path, site, structure, open_ground, blocks, found)
        except GardenError as error:
            problems.append(str(error))
    lie = ground_to_be(rules.ground_of(site), structure, found)
    flights = {path.name: built(path, found[path.name], lie) for path in structure.paths if path.name in found}
    ramps = {path.name: ramp_runs(path, found[path.name], lie) for path in structure.paths if path.name in found}
    joined = {name: tuple(at for _, at in _joining(name, route, structure)) for name, route in found.items()}
    own = {p.name: _own(p, structure, found, open_ground) for p in structure.paths if p.name in found}
    layings = {p.name: _laid(own[p.name], p, joined[p.name]) for p in structure.paths if p.name in found}
    surfaces = _surfaces({name: part.route for name, part in own.items()})
    walked = plane.union(surfaces.values())
    ground_areas = _ground_areas(structure, plane.difference(open_ground, walked))
    standing = plane.union([walked, *ground_areas.values()])
    things = _walls_and_feet(structure, plane.difference(open_ground, standing))
    taken = [standing, *(plane.region(o.outline) for o in site.obstacles), *things.values()]
    walls = _walls(site, open_ground, taken)
    inside = attrs.evolve(structure, beds=(*beds_inside(structure.things), *structure.beds))
    division = bed_work.divided(open_ground, [*taken, walls], inside, standing=_walkable(standing, structure, things))
    for path in structure.paths:
        if path.name in found:
            made = found[path.name], layings[path.name], flights[path.name], ramps[path.name]
            findings += _said_of(path, made, site, structure, lie)
    ends = [(path.name, end) for path in structure.paths for end in (path.start, path.end)]
    findings += rules.crossing_findings(found.values(), ends)
    findings += [*division.findings, *rules.support_findings(site, structure, units)]
    findings += area_rules.area_findings(site, structure, ground_areas, lie, units=units)
    findings += [*area_rules.standing_findings(site, structure, units), *water_findings(site, structure, ground_areas)]
    findings += thing_rules.thing_findings(site, structure, surfaces, open_ground, lie)
    return Layout(
        ground=open_ground,
        routes=found,
        layings=layings,
        surfaces=surfaces,
        beds=division.beds,
        ground_areas=ground_areas,
        scraps=division.scraps,
        findings=tuple(findings),
        problems=tuple(problems),
        flights=flights,
        ramps=ramps,
        things=things,
        walls=walls,
        lie=lie,
    )


def _said_of(
    path: Path,
    made: tuple[Route, Laying, tuple[Built, ...], tuple[RampRun, ...]],
    site: Site,
    structure: Structure,
    lie: Surface | None,
) -> tuple[Finding, ...]:
    """Return what is to be said about a path as it runs, about its stones, its steps and its ramps."""
    route, laying, flights, ramps = made
    return (
        *route.findings,
        *laying.findings,
        *rules.path_findings(path, route, site, lie, structure.supports),
        *flight_findings(path, flights, _joining(path.name, route, structure)),
        *rail_findings(path, ramps),
    )


def _surfaces(routes: Mapping[str, Route]) -> dict[str, Region]:
    """Return the ground of each path less that of the paths before it, of which only those that meet it are asked."""
    found: dict[str, Region] = {}
    before: list[Region] = []
    for name, route in routes.items():
        met = [region for region in before if plane.meet(region, route.region)]
        found[name] = plane.difference(route.region, plane.union(met)) if met else route.region
        before.append(route.region)
    return found


def _own(path: Path, structure: Structure, found: Mapping[str, Route], ground: Region) -> Met:
    """Return a path less the paths that it joins and the areas and placed things it ends at."""
    ends = (path.start, path.end)
    edges = (_edge_of(name, structure) for name in ends if name not in found)
    joined = tuple(found[name] for name in ends if name in found)
    return met(found[path.name], joined, tuple(edge for edge in edges if edge is not None), ground)


@lru_cache(maxsize=64)
def _laid(own: Met, path: Path, joined: tuple[float, ...]) -> Laying:
    """Return a path's stones; remembered, as other paths keep theirs while one is changed."""
    part = path if own.route.length == own.length else attrs.evolve(path, flights=own.flights(path.flights))
    return stone_work.lay(own.route, part, tuple(at - own.start for at in joined))


@lru_cache(maxsize=8)
def _ready(
    boundary: Outline, buildings: tuple[Building, ...], trees: tuple[ExistingTree, ...], things: tuple[Obstacle, ...]
) -> tuple[Region, Region]:
    """Return the open ground and what no path may cross; remembered, as no slider changes them."""
    site = Site(boundary=boundary, buildings=buildings, trees=trees, obstacles=things)
    return sites.ground(site), obstacles(site)


def propose(
    project: Project, name: str, *, goals: Sequence[Goal] = GOALS, length_factor: float = LONGEST
) -> tuple[Meander, ...]:
    """Return the best ways a path might wander, one for each goal, with what each costs. Raises GardenError.

    Trees are looked for a place for in what lawn, patio, other paths and obstacles leave.
    """
    site, structure, worked = project.site, project.structure, layout(project)
    path = next((p for p in structure.paths if p.name == name), None)
    if path is None:
        raise GardenError(f'there is no path "{name}"{nearest(name, [p.name for p in structure.paths])}')
    ground, blocks = _ready(site.boundary, site.buildings, site.trees, site.obstacles)
    lie = worked.lie
    others = {n: r for n, r in worked.routes.items() if n != name}
    (start, _), (end, _) = _ends(path, site, structure, others)
    taken = plane.union([blocks, *worked.ground_areas.values(), *(r.region for r in others.values())])
    return propose_meanders(
        start,
        end,
        ground,
        blocks,
        path,
        goals=goals,
        length_factor=length_factor,
        taken=taken,
        heights=lie.at if lie is not None else None,
    )


def obstacles(site: Site) -> Region:
    """Return the ground no path may cross: obstacles, the feet of the trees that stay, and fences across the garden.

    A fence along the boundary is the ground's own edge already; gates in a fence leave it open.
    """
    trunks = [trunk_ground(tree) for tree in site.trees if tree.keep]
    return plane.union([*trunks, *(plane.region(o.outline) for o in site.obstacles), *_inner_fences(site)])


def _inner_fences(site: Site) -> list[Region]:
    edge = plane.line([*site.boundary, site.boundary[0]]) if site.boundary else plane.NOWHERE
    ways = plane.union(plane.circle(o.middle, o.width / 2 + GATE_POST) for o in site.doors_and_gates())
    found = []
    for fence in standing_fences(site):
        for a, b in pairwise(fence.line):
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            if plane.distance(edge, plane.point(middle)) > ALONG_EDGE:
                found.append(plane.difference(plane.grown(plane.line((a, b)), FENCE_HALF, round_ends=False), ways))
    return found


def place(name: str, site: Site, structure: Structure) -> Point:
    """Return the plan point of a gate, door, seat or area by name; raises GardenError naming the nearest known one."""
    places = {p.name: plane.centre(plane.region(p.outline)) for p in structure.ground_areas if name == p.name}
    places |= {thing.name: thing.at for thing in structure.things}
    places |= {**{o.name: o.middle for o in site.doors_and_gates()}, **{s.name: s.at for s in structure.seats}}
    if name in places:
        return places[name]
    known = [*places, *(path.name for path in structure.paths)]
    if not known:
        raise GardenError(
            f'there is no gate, door or seat yet, so no path can go to "{name}"; add one in 03_site_measurement'
        )
    raise GardenError(
        f'there is no gate, door or seat called "{name}"{nearest(name, known)}; known: {", ".join(known)}'
    )


def _route(
    path: Path, site: Site, structure: Structure, ground: Region, blocks: Region, found: Mapping[str, Route]
) -> Route:
    ends = _ends(path, site, structure, found)
    lie = attrs.evolve(
        path,
        surface="gravel",
        stones=StoneChoice(),
        held_stones=(),
        use="garden path",
        slope_rule="trail",
        flights=(),
        cut_stones=(),
        heights=(),
        round=(),
    )
    return routed(lie, ends, ground, blocks, swung(path, site, structure))


def _ends(path: Path, site: Site, structure: Structure, found: Mapping[str, Route]) -> Ends:
    """Return where a path starts and ends, and which way it leaves a path it joins; an area is met at the edge that is
    nearest to the path's last point by hand, or to its other end.
    """
    ends: list[tuple[Point, float | None]] = []
    for name, other, last in ((path.start, path.end, path.held[:1]), (path.end, path.start, path.held[-1:])):
        if name not in found:
            here = place(name, site, structure)
            edge = _edge_of(name, structure) if name not in _openings(site) else None
            if edge is not None:
                seen_from = last[0].at if last else _towards(other, site, structure, found)
                here = near_edge(edge, seen_from, path.width)
            ends.append((here, None))
            continue
        joined = found[name]
        at = joined.curve.at(path.joins_at * joined.length)[0]
        ahead = joined.curve.direction(path.joins_at * joined.length)[0]
        away = place(other, site, structure) if other not in found else (float(at[0]), float(at[1]))
        left = ahead[0] * (away[1] - at[1]) - ahead[1] * (away[0] - at[0]) > 0
        ends.append(routes.fork(joined, path.joins_at, side="left" if left else "right"))
    return ends[0], ends[1]


def _edge_of(name: str, structure: Structure) -> Outline | None:
    """Return the outline of an area or a placed thing: a path ends at its near edge."""
    ground_area = next((p.outline for p in structure.ground_areas if p.name == name), None)
    return ground_area or next((outline_of(one) for one in structure.things if one.name == name), None)


def _walkable(standing: Region, structure: Structure, things: Mapping[str, Region]) -> Region:
    """Return paths and areas with the ground of the placed things that people stand on."""
    feet = (things[one.name] for one in structure.things if thing_kind(one.kind).stood_on)
    return plane.union([standing, *feet])


def _walls(site: Site, open_ground: Region, taken: Sequence[Region]) -> Region:
    """Return the ground that walls and hedges take of what nothing else has taken."""
    thick = plane.union(map(ground_of_fence, site.fences))
    return plane.difference(plane.intersection(thick, open_ground), plane.union(taken))


def _walls_and_feet(structure: Structure, beds: Region) -> dict[str, Region]:
    """Return the ground that each placed thing takes from ``beds``, less the bed within its walls and what the things
    before it take.
    """
    within = {bed.name: plane.region(bed.outline) for bed in beds_inside(structure.things)}
    found: dict[str, Region] = {}
    for one in structure.things:
        own = plane.difference(taken_by(one), within.get(one.name, plane.NOWHERE))
        found[one.name] = plane.difference(plane.intersection(own, beds), plane.union(found.values()))
    return found


def _joining(name: str, route: Route, structure: Structure) -> list[tuple[str, float]]:
    """Return the paths that join a path, and where, in metres along it."""
    return [(p.name, p.joins_at * route.length) for p in structure.paths if p.name != name and name in (p.start, p.end)]


def _towards(name: str, site: Site, structure: Structure, found: Mapping[str, Route]) -> Point:
    if name not in found:
        return place(name, site, structure)
    x, y = found[name].curve.at(found[name].length / 2)[0]
    return float(x), float(y)


def _openings(site: Site) -> set[str]:
    return {o.name for o in site.doors_and_gates()}


def _ground_areas(structure: Structure, open_ground: Region) -> dict[str, Region]:
    """Return the ground of each patch: inside the open ground, less the areas named before it."""
    found: dict[str, Region] = {}
    left = open_ground
    for ground_area in structure.ground_areas:
        outline = plane.outline(ground_area.outline, where=f'{ground_area.kind} "{ground_area.name}"')
        found[ground_area.name] = plane.intersection(plane.region(outline), left)
        left = plane.difference(left, found[ground_area.name])
    return found
