"""Ways without steps proposed between two named places: on the ground as it lies, graded, as a ramp, or why none."""

import math

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
from gardenkit.project.layout import layout, obstacles
from gardenkit.project.rules import path_findings, path_slopes
from gardenkit.site.levels import Surface
from gardenkit.structure.path_rules import CROSS_SLOPE, SlopeRule
from gardenkit.structure.route import Route
from gardenkit.structure.step_free import (
    APART,
    CROSS,
    LANDING,
    RAMP,
    RUN_RISE,
    SPARE,
    WALK,
    Profile,
    alignment,
    length_needed,
    platforms,
    profile,
)
from gardenkit.structure.structure import HeldPoint, Path
from gardenkit.units import FOOT

WIDTH = 48 * FOOT / 12  # m: wide enough that a wheelchair and someone beside it have room. House value.
CLEAR = 0.15  # m from walls. House value.
GENTLER = (1.0, 0.85, 0.7)  # shares of the limit that the ground is followed at: gentler leaves length for platforms
STEEPER = (1.4, 2.0, math.inf)  # and steeper, where grading takes off the bumps. House values.
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
    """Between which two places a way is looked for, how wide, under which name, and where its middle line may run."""

    start: str
    end: str
    name: str
    width: float
    ends: tuple[FloatArray, FloatArray]
    free: Region
    ground: Surface


def step_free_ways(project: Project, start: str, end: str, *, width: float = WIDTH) -> tuple[StepFree, ...]:
    """Return the ways without steps from one named place to another, the least digging first.

    On the ground as it lies where that keeps the slopes, else a walk of 1:20 and a ramp of 1:12 with landings, graded
    to heights of their own. Raises GardenError that says why there is none, or what is missing.
    """
    asked = _asked(project, start, end, width)
    found = _as_it_lies(project, asked)
    if found is not None:
        return (found,)
    tried = [_graded(project, asked, ramp=False, factors=GENTLER), _graded(project, asked, ramp=True, factors=GENTLER)]
    if not any(tried):
        tried = [_graded(project, asked, ramp=True, factors=STEEPER)]
    ways = sorted((one for one in tried if one is not None), key=lambda one: (len(one.said), one.cut + one.fill))
    if not ways:
        raise GardenError(_why_none(asked))
    return tuple(ways)


# ---- looking


def _asked(project: Project, start: str, end: str, width: float) -> Asked:
    worked = layout(project)
    if worked.lie is None:
        raise GardenError(
            "a way without steps needs the heights of the ground; measure at least three, then look again"
        )
    name = free_name("step-free way", path_ends(project))
    probe = add_path(project, name, start=start, end=end, width=width, bend=0.0, clear_of_walls=CLEAR)
    line = layout(probe).routes[name].curve.points
    need = width / 2 + CLEAR
    taken = [
        plane.grown(region, need)
        for region in (obstacles(project.site), *worked.things.values())
        if not region.is_empty
    ]
    free = plane.difference(plane.grown(worked.ground, -need), plane.union(taken))
    pieces = plane.pieces(free)
    if not pieces:
        raise GardenError(f"a way {width:.2f} m wide fits nowhere on this ground; make it narrower")
    ends = [np.array(plane.nearest_on(free, tuple(p))) for p in (line[0], line[-1])]
    return Asked(start=start, end=end, name=name, width=width, ends=(ends[0], ends[1]), free=free, ground=worked.lie)


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


def _graded(project: Project, asked: Asked, *, ramp: bool, factors: tuple[float, ...]) -> StepFree | None:
    """Return the way that needs the least digging of those along which a finished slope can be kept."""
    limit = float(RAMP if ramp else WALK) * SPARE
    for factor in factors:
        line = _aligned(asked, limit * factor * (WITH_LANDINGS if ramp else 1.0))
        made = _laid(project, asked, line, "ramp" if ramp else "accessible route") if line else None
        if made is None:
            continue
        path, route = made
        turns = _turns(line, route, asked.width)
        built = profile(asked.ground, route.curve.points, slope=limit, ramp=ramp, turns=turns)
        if built is not None:
            return _proposed(project, asked, path, route, built, ramp)
    return None


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
        bend=0.0,
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


def _proposed(project: Project, asked: Asked, path: Path, route: Route, built: Profile, ramp: bool) -> StepFree:
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
