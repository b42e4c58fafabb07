"""What is to be said about levels: walls that hold ground, banks, soil against the house, neighbours, roots, water."""

from collections.abc import Iterable

import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding, Seriousness
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.project import Project
from gardenkit.project.earthworks import Earthworks, earthworks
from gardenkit.project.layout import Layout
from gardenkit.project.permits import wall_permits
from gardenkit.site.site import Site, root_circles
from gardenkit.site.tree_protection import root_rule
from gardenkit.sources import COMMON, HOUSE, MEMORY, PLAIN, Figure
from gardenkit.structure.new_ground import Flat, NewGround, edges_of
from gardenkit.structure.structure import Level
from gardenkit.units import INCH, show_length

TOPIC = "levels"
CHANGED = Figure(0.05, "m", f"less than this is raked in; {HOUSE}")
BELOW_FLOOR = Figure(6 * INCH, "m", f"IRC R404.1.6, foundations stand 6 in out of the ground; {MEMORY}")
BANK_MOWN = Figure(3.0, "run for 1", f"a bank of 1:3 is the steepest that is mown with ease; {COMMON}")
BANK_HOLDS = Figure(2.0, "run for 1", f"steeper than 1:2 loose soil slips unless it is held; {COMMON}")
DRAIN_WITHIN = 1.5  # m from a low edge to what takes its water. House value.
TAKES_WATER = ("rain garden", "gully", "channel drain", "soakaway")
WALL_DRAIN = "12 in of gravel behind a retaining wall and a perforated pipe; vitolilandscapedesign.com, second-hand"
AT_EDGE = 0.1  # m outside a building's wall or inside the boundary where the ground is looked at. House value.


def level_findings(project: Project, worked: Layout) -> tuple[Finding, ...]:
    """Return what is to be said about the levels and graded paths of a garden; nothing where none are to be made."""
    structure, site = project.structure, project.site
    graded = [path.name for path in structure.paths if len(path.heights) > 1]
    if not structure.levels and not graded:
        return ()
    earth, ground = earthworks(project, worked), worked.lie
    if earth is None or not isinstance(ground, NewGround):
        what = "the ground has no measured heights, so cut, fill and walls are not known; measure heights first"
        name = structure.levels[0].name if structure.levels else graded[0]
        return (_finding(f'level "{name}"', what, "caution"),)
    found = [*_walls(earth), *_banks(structure.levels), *_boundary(site, ground), *_houses(site, ground)]
    found += [*_roots(site, ground), *_water(project, ground)]
    return tuple(found)


# ---- each by itself


def _walls(earth: Earthworks) -> Iterable[Finding]:
    """Say what the walls at the edges of levels ask for: permit, engineer, drain."""
    for name in dict.fromkeys(wall.name for wall in earth.walls):
        mine = [wall for wall in earth.walls if wall.name == name]
        highest = max(mine, key=lambda wall: wall.highest)
        where, at = f'level "{name}"', highest.line[int(np.argmax(highest.heights))]
        yield from wall_permits(where, highest.highest, at)
        what = "water behind a wall pushes it over: gravel and a pipe behind it, led out where the ground is lower"
        yield _finding(where, what, "note", source=WALL_DRAIN, at=at)


def _banks(levels: Iterable[Level]) -> Iterable[Finding]:
    for level in levels:
        where = f'level "{level.name}"'
        if level.edge == "wall" and (level.outline or level.of):
            continue
        if level.bank < BANK_HOLDS:
            what = f"its bank of 1:{level.bank:g} is too steep for loose soil; 1:2, or a wall"
            yield _finding(where, what, "warning", source=BANK_HOLDS.source, at=level.at)
        elif level.bank < BANK_MOWN:
            what = f"its bank of 1:{level.bank:g} is for ground cover, not for mowing; 1:3 for grass"
            yield _finding(where, what, "note", source=BANK_MOWN.source, at=level.at)


def _boundary(site: Site, ground: NewGround) -> Iterable[Finding]:
    """Say where the ground is changed at the boundary itself: a neighbour's soil or water hangs on it."""
    if not site.boundary:
        return
    for ring in plane.rings(plane.grown(plane.region(site.boundary), -AT_EDGE)):
        spots = _stepped(ring)
        change = ground.at(spots) - ground.found(spots)
        worst = int(np.argmax(np.abs(change)))
        if abs(change[worst]) > CHANGED:
            how = "raised" if change[worst] > 0 else "lowered"
            what = (
                f"the ground is {how} by {show_length(abs(float(change[worst])), small=True)} at the boundary: end the "
                f"bank or put a wall inside it, and ask the neighbour and {LOCAL_CODE}"
            )
            yield _finding("boundary", what, "warning", source=PLAIN, at=_spot(spots[worst]), rule="level at boundary")


def _houses(site: Site, ground: NewGround) -> Iterable[Finding]:
    """Say where new ground would lie against a wall higher than its foundation should stand out."""
    for house in site.buildings:
        for ring in plane.rings(plane.grown(plane.region(house.outline), AT_EDGE)):
            spots = _stepped(ring)
            made, found = ground.at(spots), ground.found(spots)
            over = np.where(made - found > 0.01, made - (house.floor - BELOW_FLOOR), -np.inf)
            worst = int(np.argmax(over))
            if over[worst] > 0.005:
                high = show_length(abs(float(house.floor - made[worst])), small=True)
                side = "below" if made[worst] <= house.floor else "above"
                what = (
                    f"new ground would lie {high} {side} the floor: keep it {show_length(BELOW_FLOOR, small=True)} "
                    f"below, or let a builder make the wall fit for it; {LOCAL_CODE}"
                )
                yield _finding(house.name, what, "warning", source=BELOW_FLOOR.source, at=_spot(spots[worst]))


def _roots(site: Site, ground: NewGround) -> Iterable[Finding]:
    """Say whose root protection circle is dug into or covered."""
    for tree, far in root_circles(site):
        if far <= 0:
            continue
        turns, rays = np.linspace(0, 2 * np.pi, 24, endpoint=False), np.linspace(0.1, 1.0, 10) * far
        spots = (np.array(tree.at) + rays[:, None, None] * np.column_stack((np.cos(turns), np.sin(turns)))).reshape(
            -1, 2
        )
        change = ground.at(spots) - ground.found(spots)
        worst = int(np.argmax(np.abs(change)))
        if abs(change[worst]) > CHANGED:
            how = "raised over its roots" if change[worst] > 0 else "dug away among its roots"
            deep = show_length(abs(float(change[worst])), small=True)
            what = (
                f"within {show_length(far)} of the stem the ground is {how}, by {deep}; keep the levels there as found"
            )
            yield _finding(
                tree.name,
                what,
                "warning",
                source=root_rule(site.root_rule).source,
                at=_spot(spots[worst]),
                topic="clearance",
            )


def _water(project: Project, ground: NewGround) -> Iterable[Finding]:
    """Say where the low edge of a level runs against higher ground, and nothing there takes the water."""
    takers = [t.at for t in project.structure.things if t.kind in TAKES_WATER]
    takers += [plane.centre(plane.region(o.outline)) for o in project.site.obstacles if "drain" in o.name.casefold()]
    takers += [level.at for level in project.structure.levels if not (level.outline or level.of)]
    for one in ground.shapes:
        if not isinstance(one, Flat) or not one.corners:
            continue
        (edge,), (past,) = edges_of(one), edges_of(one, (0.6,))
        own = one.level(edge)
        low = edge[own <= own.min() + 0.01]
        beyond = np.array([past[np.argmin(((past - spot) ** 2).sum(axis=1))] for spot in low])
        if not (ground.at(beyond) > own.min() + 0.02).all():
            continue  # somewhere along its low edge it drains out
        middle = low[len(low) // 2]
        if any(min(np.hypot(*(low - np.array(at)).T)) <= DRAIN_WITHIN for at in takers):
            continue
        what = (
            "its low edge lies against higher ground, so water stays there: turn its fall, or put a channel, a gully "
            "or a rain garden at that edge"
        )
        yield _finding(f'level "{one.name}"', what, "warning", source=PLAIN, at=_spot(middle), rule="water stays")


# ---- helpers


def _stepped(ring: Iterable[Point], step: float = 0.5) -> FloatArray:
    """Return points along a closed ring, half a metre apart."""
    line = [*ring]
    curve = np.array([*line, line[0]], dtype=float)
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(curve, axis=0), axis=1))))
    s = np.arange(0.0, along[-1], step)
    return np.column_stack([np.interp(s, along, curve[:, axis]) for axis in (0, 1)])


def _spot(at: FloatArray) -> Point:
    return (round(float(at[0]), 3), round(float(at[1]), 3))


def _finding(
    where: str,
    what: str,
    seriousness: Seriousness,
    *,
    why: str = "",
    source: str = PLAIN,
    at: Point | None = None,
    topic: str = TOPIC,
    rule: str = "",
) -> Finding:
    return Finding(
        where=where, what=what, why=why, source=source, seriousness=seriousness, at=at, topic=topic, rule=rule
    )
