"""Ways without steps proposed between two named places: on the ground as it lies, graded, as a ramp, or why none."""

import math
from collections.abc import Iterator

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Line, Region
from gardenkit.project import Project
from gardenkit.project.earthworks import earthworks
from gardenkit.project.edits.records import by_name, free_name
from gardenkit.project.edits.structure.levels import grade_path
from gardenkit.project.edits.structure.paths import add_path
from gardenkit.project.edits.structure.shared import path_ends, with_bones
from gardenkit.project.layout import Layout, layout, obstacles
from gardenkit.project.rules import path_findings, path_slopes
from gardenkit.site.levels import Surface
from gardenkit.structure.kinds.ground_areas import ground_kind
from gardenkit.structure.path_rules import CROSS_SLOPE, SlopeRule
from gardenkit.structure.route import Route
from gardenkit.structure.step_free import (
    APART,
    CROSS,
    LANDING,
    RAMP,
    RUN_RISE,
    SPARE,
    TURN,
    WALK,
    Profile,
    alignment,
    bows,
    length_needed,
    platforms,
    profile,
)
from gardenkit.structure.structure import HeldPoint, Path
from gardenkit.structure.things import beds_inside, ground_of_thing
from gardenkit.units import FOOT

WIDTH = 48 * FOOT / 12  # m: wide enough that a wheelchair and someone beside it have room. House value.
CLEAR = 0.15  # m from walls. House value.
# Shares of the limit at which the ground is followed: gentler leaves room for platforms, steeper is graded
FOLLOWED = (0.7, 0.85, 1.0, 1.4, 2.0, math.inf)  # House values
APRON = 2.5  # clear widths round an end within which a way may come near the place it ends at. House value.
INTO = 0.1  # m that the middle line may run into the place it ends at, or over paving. House value.
LONGER = (1.03, 1.12, 1.25)  # than the least length for a rise: what is swung for room to turn. House value.
SIDES = 4  # of an area, the longest, that a way is tried from. House value.
SOIL = 4.0  # m of way that a cubic metre moved counts for. House value.
WITH_LANDINGS = float(RUN_RISE / RAMP / (RUN_RISE / RAMP + LANDING))  # a ramp's mean slope by that of its runs


@attrs.frozen(kw_only=True)
class StepFree:
    """A way without steps that is proposed: ``how`` it is made, the project with it, its ``length`` and ``rise`` in
    metres, its ``steepest`` rise over run, the most that is dug and filled at its middle line, the soil moved in m3,
    its landings; ``said`` is what the rules find against it all the same.
    """

    how: str
    name: str
    project: Project
    length: float
    rise: float
    steepest: float
    deepest: float = 0.0
    highest: float = 0.0
    cut: float = 0.0
    fill: float = 0.0
    landings: int = 0
    said: tuple[Finding, ...] = ()


@attrs.frozen(kw_only=True)
class Asked:
    """Between which two places a way is looked for, how wide, under which name, where its middle line may run, and
    what is ``shut``: the places it ends at, paving and water.
    """

    start: str
    end: str
    name: str
    width: float
    ends: tuple[FloatArray, FloatArray]
    free: Region
    shut: Region
    ground: Surface


@attrs.frozen(kw_only=True)
class Tried:
    """A way that can be built: its path, how that runs, and its finished heights."""

    path: Path
    route: Route
    built: Profile

    @property
    def cost(self) -> float:
        """Its length in metres, with what its turns and the soil moved for it count for."""
        turned = float(np.degrees(np.abs(np.diff(np.unwrap(np.arctan2(*self.route.curve.tangents.T)))).sum()))
        moved = float(np.abs(self.built.z - self.built.found).mean()) * self.route.length * self.path.width
        return self.route.length + TURN * turned / 90 + SOIL * moved


def step_free_ways(project: Project, start: str, end: str, *, width: float = WIDTH) -> tuple[StepFree, ...]:
    """Return the ways without steps from one named place to another, the least digging first.

    On the ground as it lies where that keeps the slopes, else a walk of 1:20 and a ramp of 1:12 with landings, graded
    to heights of their own. Raises GardenError that says why there is none, or what is missing.
    """
    asked = _asked(project, start, end, width)
    for one in (asked, *_from_other_sides(project, asked)):
        found = _as_it_lies(project, one)
        if found is not None:
            return (found,)
        walk, ramp = (_graded(project, one, ramp=ramp) for ramp in (False, True))
        ways = [way for way in (walk, ramp) if way is not None]
        if walk is not None and ramp is not None and walk.length == ramp.length:
            ways = [walk]  # along the same line a ramp is only steeper
        if ways:
            return tuple(sorted(ways, key=lambda way: (len(way.said), way.cut + way.fill)))
    raise GardenError(_why_none(asked))


# ---- looking


def _asked(project: Project, start: str, end: str, width: float) -> Asked:
    worked = layout(project)
    if worked.lie is None:
        raise GardenError(
            "a way without steps needs the heights of the ground; measure at least three, then look again"
        )
    name = free_name("step-free way", path_ends(project))
    try:
        probe = add_path(project, name, start=start, end=end, width=width, curvature=0.0, clear_of_walls=CLEAR)
    except GardenError as error:
        raise GardenError(_no_room(str(error), name, start, end)) from None
    line = layout(probe).routes[name].curve.points
    shut = _shut(project, start, end)
    ends = (np.array(line[0]), np.array(line[-1]))
    found = Asked(
        start=start, end=end, name=name, width=width, ends=ends, free=plane.NOWHERE, shut=shut, ground=worked.lie
    )
    return _with_ends(project, found, *ends)


def _no_room(why: str, name: str, start: str, end: str) -> str:
    """Return why no way fits between two places, of the places rather than of the path that was tried."""
    way = f"a way without steps from {start} to {end}"
    return why.replace(f'the path "{name}"', way).replace(f'path "{name}"', way)


def _with_ends(project: Project, asked: Asked, start: FloatArray, end: FloatArray) -> Asked:
    """Return what is asked between two places on the plan, with the free ground between them."""
    worked, need = layout(project), asked.width / 2 + CLEAR
    standing = _standing(project, worked, asked.start, asked.end)
    clear = plane.difference(plane.grown(worked.ground, -need), plane.grown(standing, need))
    near = plane.union(plane.circle((float(x), float(y)), APRON * need) for x, y in (start, end))
    aprons = plane.difference(plane.intersection(clear, near), asked.shut)
    free = plane.union([plane.difference(clear, plane.grown(asked.shut, need)), aprons])
    if free.is_empty:
        raise GardenError(f"a way {asked.width:.2f} m wide fits nowhere on this ground; make it narrower")
    first, last = (np.array(plane.nearest_on(free, (float(x), float(y)))) for x, y in (start, end))
    return attrs.evolve(asked, ends=(first, last), free=free)


def _from_other_sides(project: Project, asked: Asked) -> Iterator[Asked]:
    """Return what is asked from the middles of the other sides of an area that a way starts or ends at."""
    outlines = {ground_area.name: ground_area.outline for ground_area in project.structure.ground_areas}
    for end, name in enumerate((asked.start, asked.end)):
        corners = outlines.get(name, ())
        sides = sorted(zip(corners, (*corners[1:], *corners[:1]), strict=True), key=lambda side: -math.dist(*side))
        for a, b in sides[:SIDES]:
            ends = list(asked.ends)
            ends[end] = np.array(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
            if math.dist(ends[end], asked.ends[end]) > asked.width:
                yield _with_ends(project, asked, *ends)


def _shut(project: Project, start: str, end: str) -> Region:
    """Return the ground of the areas and things that a way ends at, and of paving and water that it may not cross."""
    found = [
        plane.region(ground_area.outline)
        for ground_area in project.structure.ground_areas
        if ground_area.name in (start, end) or ground_kind(ground_area.kind).ground.heavy
    ]
    return plane.union([*found, *(ground_of_thing(t) for t in project.structure.things if t.name in (start, end))])


def _standing(project: Project, worked: Layout, start: str, end: str) -> Region:
    """Return the ground of all that stands, but for the things a way ends at."""
    things = [region for name, region in worked.things.items() if name not in (start, end)]
    return plane.union(
        [obstacles(project.site), *things, *(plane.region(b.outline) for b in beds_inside(project.structure.things))]
    )


def _as_it_lies(project: Project, asked: Asked) -> StepFree | None:
    line = _aligned(asked, WALK * SPARE, cross=CROSS)
    made = _laid(project, asked, line, "accessible route") if line else None
    if made is None:
        return None
    path, route = made
    for piece in path_slopes(path, route, asked.ground):
        if abs(piece.steepest) > 100 * WALK or (piece.cross or 0.0) > CROSS_SLOPE:
            return None
    z = asked.ground.at(route.curve.at(np.linspace(0, route.length, 50)))
    steep = max((abs(p.steepest) for p in path_slopes(path, route, asked.ground)), default=0.0) / 100
    after = with_bones(project, paths=(*project.structure.paths, path))
    return StepFree(
        how="on the ground as it lies",
        name=asked.name,
        project=after,
        length=route.length,
        rise=float(abs(z[-1] - z[0])),
        steepest=steep,
        said=_said(after, path, route),
    )


def _graded(project: Project, asked: Asked, *, ramp: bool) -> StepFree | None:
    """Return the way of least cost of those along which a finished slope can be kept."""
    limit = float(RAMP if ramp else WALK) * SPARE
    lines = (_aligned(asked, limit * share * (WITH_LANDINGS if ramp else 1.0)) for share in FOLLOWED)
    every = dict.fromkeys((*_swung(asked, limit, ramp), *lines))
    tried = [_tried(project, asked, line, limit, ramp) for line in every if line]
    best = min((one for one in tried if one is not None), key=lambda one: one.cost, default=None)
    return None if best is None else _proposed(project, asked, best, ramp)


def _swung(asked: Asked, limit: float, ramp: bool) -> list[Line]:
    """Return the plain swings on free ground that are just long enough for the rise between the ends."""
    (ax, ay), (bx, by) = ((float(x), float(y)) for x, y in asked.ends)
    low, high = (float(z) for z in asked.ground.at(np.array(asked.ends)))
    needed = length_needed(abs(high - low), slope=limit, ramp=ramp)
    near = plane.grown(asked.free, INTO)
    lines = [line for longer in LONGER for line in bows((ax, ay), (bx, by), longer * needed)]
    return [line for line in lines if plane.inside(near, np.array(line)).all()]


def _tried(project: Project, asked: Asked, line: Line, limit: float, ramp: bool) -> Tried | None:
    """Return a way along a line; None where no path keeps to it, or its rise is too much for its length."""
    made = _laid(project, asked, line, "ramp" if ramp else "accessible route")
    if made is None:
        return None
    path, route = made
    inner = plane.grown(asked.shut, -INTO)
    if not inner.is_empty and plane.inside(inner, route.curve.points).any():
        return None
    turns = _turns(line, route, asked.width)
    built = profile(asked.ground, route.curve.points, slope=limit, ramp=ramp, turns=turns)
    return None if built is None else Tried(path=path, route=route, built=built)


def _aligned(asked: Asked, slope: float, *, cross: float = math.inf) -> Line:
    start, end = ((float(x), float(y)) for x, y in asked.ends)
    return alignment(asked.ground, asked.free, start, end, width=asked.width, slope=slope, cross=cross)


def _laid(project: Project, asked: Asked, line: Line, rule: SlopeRule) -> tuple[Path, Route] | None:
    """Return a path held to a line, and its route; None where it does not run so."""
    held = tuple(HeldPoint(at=(round(x, 3), round(y, 3))) for x, y in line[1:-1])
    path = Path(
        name=asked.name,
        start=asked.start,
        end=asked.end,
        width=asked.width,
        curvature=0.0,
        surface="paving",
        held=held,
        clear_of_walls=CLEAR,
        use="wheelchair",
        slope_rule=rule,
    )
    try:
        after = with_bones(project, paths=(*project.structure.paths, path))
    except GardenError:
        return None
    return path, layout(after).routes[asked.name]


def _turns(line: Line, route: Route, width: float) -> tuple[tuple[float, float], ...]:
    """Return where the platforms of a line's sharp turns lie along its route."""
    corners, points = np.array(line), route.curve.points
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(corners, axis=0), axis=1))))
    found = []
    for at, far in platforms(corners, APART * width):
        corner = corners[int(np.argmin(np.abs(along - at)))]
        s = float(route.curve.along[int(((points - corner) ** 2).sum(axis=1).argmin())])
        found.append((s, far))
    return tuple(found)


def _proposed(project: Project, asked: Asked, best: Tried, ramp: bool) -> StepFree:
    path, route, built = attrs.evolve(best.path, handrails=ramp), best.route, best.built
    after = with_bones(project, paths=(*project.structure.paths, path))
    after = grade_path(after, path.name, heights=_heights(built))
    was, will = earthworks(project), earthworks(after)
    cut, fill = (
        (getattr(will.soil, what) if will else 0.0) - (getattr(was.soil, what) if was else 0.0)
        for what in ("cut", "fill")
    )
    return StepFree(
        how="a ramp of 1:12 with landings" if ramp else "a walk of 1:20",
        name=path.name,
        project=after,
        length=route.length,
        rise=float(abs(built.z[-1] - built.z[0])),
        steepest=built.steepest,
        deepest=built.deepest,
        highest=built.highest,
        cut=max(cut, 0.0),
        fill=max(fill, 0.0),
        landings=len(built.landings),
        said=_said(after, path, route),
    )


def _heights(built: Profile) -> list[tuple[float, float]]:
    """Return the heights of a profile at the places where its slope changes, as shares of its length."""
    slope = np.diff(built.z) / np.diff(built.s)
    change = np.flatnonzero(np.abs(np.diff(slope)) > 1e-4) + 1
    keep = [0, *change.tolist(), len(built.s) - 1]
    return [(round(float(built.s[k] / built.s[-1]), 5), round(float(built.z[k]), 4)) for k in dict.fromkeys(keep)]


def _said(after: Project, path: Path, route: Route) -> tuple[Finding, ...]:
    """Return what the rules of a path find against a way all the same."""
    made = by_name(after.structure.paths, path.name, "path")
    found = path_findings(made, route, after.site, layout(after).lie)
    return tuple(f for f in found if f.seriousness in ("warning", "stop"))


def _why_none(asked: Asked) -> str:
    (ax, ay), (bx, by) = asked.ends
    low, high = (float(z) for z in asked.ground.at(np.array(asked.ends)))
    rise, direct = abs(high - low), math.hypot(bx - ax, by - ay)
    needed = length_needed(rise, slope=float(RAMP), ramp=True)
    runs = max(1, math.ceil(direct / (RUN_RISE / RAMP + LANDING)))
    could = max(direct - (runs + 1) * LANDING, 0.0) * float(RAMP)
    words = (
        f'no way without steps was found from "{asked.start}" to "{asked.end}": it climbs {rise:.2f} m, a ramp of 1:12 '
        f"with its landings is {needed:.1f} m long, and no way over this ground keeps that slope with its legs apart"
    )
    if rise - could > 0.02:
        words += f"; a straight ramp would do if the two places were {rise - could:.2f} m nearer in height"
    return f"{words}; change a level, put an end elsewhere, or make the way narrower"
