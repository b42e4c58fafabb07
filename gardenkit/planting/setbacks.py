"""How far plants keep from walls, windows, paths, pipes, wires and each other, and which stand too near."""

from collections.abc import Iterable, Mapping, Sequence

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError, Seriousness, nearest
from gardenkit.geometry import nearby, plane
from gardenkit.geometry.plane import FloatArray, Line, Region
from gardenkit.planting.soil_volume import MEDIUM_TREE, SMALL_TREE
from gardenkit.planting.spacing import between
from gardenkit.planting.species import Species
from gardenkit.planting.standing import Planted, Standing, by_pair, mature, positions
from gardenkit.sources import COMMON, HOUSE, MEMORY, Figure
from gardenkit.units import FOOT, INCH

DIG_SAFE = "have buried services marked before digging"
PATH_EDGE = Figure(6 * INCH, "m", f"half the mature spread and about 6 in; {MEMORY}")
DRY_STRIP = Figure(2 * FOOT, "m", f"dry strip at the foundation; {COMMON}")
BEFORE_WINDOW = Figure(0.6, "m", HOUSE)  # a crown reaching this near the glass stands before it
TREE_SERVICE = Figure(5 * FOOT, "m", "Vermont Urban & Community Forestry, vtcommunityforestry.org/node/685")
TREE_PAVING = Figure(5 * FOOT, "m", "walk, drive, patio, pool, fence: 5 ft or more; a regional tree guide")
WIRES_ANY, WIRES_SOME = (
    40 * FOOT,
    20 * FOOT,
)  # m away: any height / up to 45 ft; nearer: up to 25 ft. Same Vermont page.
UNDER_WIRES, BESIDE_WIRES = 25 * FOOT, 45 * FOOT  # m of mature height
SERVICE_DISTANCES: Mapping[str, float] = {  # m, Vermont as above; buried service 5 ft, a regional tree guide
    "water main": 5 * FOOT,
    "gas box": 5 * FOOT,
    "inlet": 5 * FOOT,
    "manhole": 5 * FOOT,
    "buried service": 5 * FOOT,
    "hydrant": 10 * FOOT,
    "street light": 15 * FOOT,
}
SAME_KIND = Figure(0.75, "of the usual spacing", f"on-centre 0.75 to 1.0 of mature spread for one kind; {MEMORY}")
SAME_HERB = Figure(
    0.64, "of the usual spacing", f"{HOUSE}: published mixed plantings hold more a m2 than their kinds' distances give"
)
TWO_KINDS = Figure(
    0.75, "of the mean of both spreads", f"two kinds stand (A + B) / 2 apart ({MEMORY}); {HOUSE} for 0.75"
)

# Shrub from a wall, metres beyond half the mature spread; the sources differ, so the rule is a named setting.
WALL_RULES: Mapping[str, Figure] = {
    "half spread": Figure(0.0, "m", f"at least half the mature spread; {COMMON}"),
    "half spread and 1 ft": Figure(1 * FOOT, "m", f"better half the spread and 1 to 2 ft; {COMMON}"),
    "half spread and 2 ft": Figure(2 * FOOT, "m", f"better half the spread and 1 to 2 ft; {COMMON}"),
    "half spread and 3 ft": Figure(3 * FOOT, "m", f"radius and 3 ft; {COMMON}"),
}


@attrs.frozen(kw_only=True)
class TreeRule:
    """Least distance from a tree to a building: (mature height up to, distance) in metres, ending with the tallest."""

    steps: tuple[tuple[float, float], ...]
    source: str


TREE_RULES: Mapping[str, TreeRule] = {
    "guide 1": TreeRule(
        steps=((float(MEDIUM_TREE), 10 * FOOT), (float("inf"), 15 * FOOT)),
        source="a regional tree guide: 10 ft for small and medium trees, 15 ft for large ones",
    ),
    "guide 2": TreeRule(
        steps=((30 * FOOT, 10 * FOOT), (50 * FOOT, 15 * FOOT), (float("inf"), 20 * FOOT)),
        source="a second tree guide: 10, 15, 20 ft for heights to 30, to 50, over 50 ft",
    ),
    "conservative": TreeRule(
        steps=((float(SMALL_TREE), 10 * FOOT), (float(MEDIUM_TREE), 20 * FOOT), (float("inf"), 50 * FOOT)),
        source=COMMON,
    ),
}


@attrs.frozen(kw_only=True)
class Glass:
    """A window: its name, the two ends of its width on the plan and its sill, metres above the ground outside."""

    name: str
    line: Line
    sill: float
    head: float = 2.0


@attrs.frozen(kw_only=True)
class Service:
    """A pipe, cable or fitting on the plan: a word of SERVICE_DISTANCES or ``overhead line``; one point or a line."""

    name: str
    kind: str
    line: Line


@attrs.frozen(kw_only=True)
class Around:
    """What plants keep their distance from, each by name; regions and lines on the plan in metres.

    ``keep_clear`` holds regions with the metres to stay away (a condenser's sides, a utility cover).
    """

    walls: tuple[tuple[str, Region], ...] = ()
    windows: tuple[Glass, ...] = ()
    paths: tuple[tuple[str, Region], ...] = ()
    services: tuple[Service, ...] = ()
    keep_clear: tuple[tuple[str, Region, float], ...] = ()


@attrs.frozen(kw_only=True)
class Asked:
    """What a setback asks for: the rule, what the plant is too near to, the metres wanted, the words for several."""

    rule: str
    beside: str
    wanted: float | None
    alike: str


def wall_distance(species: Species, *, rule: str = "half spread and 1 ft") -> float:
    """Return how far a plant that is not trained on the wall stands from it, metres; never inside the dry strip."""
    if rule not in WALL_RULES:
        raise GardenError(f'there is no wall rule "{rule}"{nearest(rule, WALL_RULES)}; use {", ".join(WALL_RULES)}')
    return max(species.spread / 2 + WALL_RULES[rule], float(DRY_STRIP))


def tree_distance(height: float, spread: float = 0.0, *, rule: str = "guide 1") -> float:
    """Return the least distance of a tree to a building in metres, by a named rule."""
    if rule not in TREE_RULES:
        raise GardenError(f'there is no tree rule "{rule}"{nearest(rule, TREE_RULES)}; use {", ".join(TREE_RULES)}')
    least = next(distance for upto, distance in TREE_RULES[rule].steps if height <= upto + 1e-9)
    return max(least, spread / 2) if rule == "conservative" else least


def path_distance(species: Species) -> float:
    """Return how far from a path's edge a plant is set so that it never reaches over: half its spread and 6 in."""
    return species.spread / 2 + PATH_EDGE


def tallest_by_wires(away: float) -> float:
    """Return the greatest mature height in metres for a tree ``away`` metres from an overhead line (inf: any)."""
    return float("inf") if away > WIRES_ANY else BESIDE_WIRES if away >= WIRES_SOME else UNDER_WIRES


def setback_findings(
    plants: Iterable[Planted], around: Around, *, wall_rule: str = "half spread and 1 ft", tree_rule: str = "guide 1"
) -> tuple[Finding, ...]:
    """Return every plant that stands too near a wall, window, path, service or clear space, or too near another."""
    grown = mature(plants)
    if not grown:
        return ()
    at = positions(grown)
    found: list[Finding] = []
    for name, wall in around.walls:
        found += _wall(grown, plane.point_distances(at, wall), name, wall_rule, tree_rule)
    beside_paths = max(float(TREE_PAVING), *(path_distance(species) for species in {one.species for one in grown}))
    for name, path in around.paths:
        found += _path(grown, nearby.near_distances(at, path, beside_paths), name)
    for glass in around.windows:
        found += _window(grown, plane.point_distances(at, plane.line(glass.line)), glass)
    for service in around.services:
        found += _service(grown, plane.point_distances(at, _shape(service.line)), service)
    for name, region, clear in around.keep_clear:
        near = nearby.near_distances(at, region, clear)
        found += [
            _near(
                grown[k],
                f"stands {near[k]:.2f} m from {name}, which wants {clear:.2f} m clear",
                COMMON,
                seriousness="warning",
                asks=Asked(rule="keep clear", beside=name, wanted=clear, alike=f"stand too near to {name}"),
            )
            for k in np.flatnonzero(near < clear).tolist()
        ]
    return (*found, *neighbour_findings(grown))


def neighbour_findings(grown: Sequence[Standing]) -> tuple[Finding, ...]:
    """Return pairs of one tier that will stand too near when grown; carpets and climbers may run together."""
    return tuple(_too_near(*pair) for pair in close_pairs(grown))


def nearest_usual(a: Standing, b: Standing) -> float:
    """Return the metres below which two plants stand nearer than is usual; 0 where they do not want the same room."""
    if a.tier != b.tier or a.tier == "wall" or a.is_carpet or b.is_carpet:
        return 0.0
    if a.tier == "herb" and a.species.botanical != b.species.botanical:
        return 0.0  # they are set out to knit; what is too much of it is crowding
    wanted, share = _usual(a, b)
    return share * wanted


def close_pairs(grown: Sequence[Standing]) -> tuple[tuple[Standing, Standing, float], ...]:
    """Return each pair of one tier nearer than its rule allows, with its distance in metres; a filler that is taken out
    again never comes so far.
    """
    rooted = [one for one in grown if one.plant.stays and not one.is_carpet and one.tier != "wall"]
    found = []
    for tier in ("tree", "shrub", "herb"):
        group = [one for one in rooted if one.tier == tier]
        if len(group) < 2:
            continue
        at = positions(group)
        i, j = nearby.near_pairs(at, max(one.species.spread for one in group)).T
        apart = np.hypot(*(at[i] - at[j]).T)
        close = apart < by_pair(group, i, j, nearest_usual) - 1e-6
        rows = zip(*(x[close].tolist() for x in (i, j, apart)), strict=True)
        found += [(group[a], group[b], far) for a, b, far in rows]
    return tuple(found)


# ---- helpers


def _usual(a: Standing, b: Standing) -> tuple[float, Figure]:
    """Return the usual distance of two plants in metres, and the share of it that is still near enough."""
    if a.species.botanical == b.species.botanical:
        return min(a.species.spacing_m, a.species.spread), SAME_HERB if a.tier == "herb" else SAME_KIND
    return between(a.species, b.species), TWO_KINDS


def _too_near(a: Standing, b: Standing, apart: float) -> Finding:
    wanted, share = _usual(a, b)
    what = f"stands {apart:.2f} m from {b.name}, where about {wanted:.2f} m is usual"
    asks = Asked(rule="neighbours", beside=b.name, wanted=wanted, alike="stand nearer to a neighbour than is usual")
    return _near(a, what, share.source, asks=asks)


def _wall(grown: Sequence[Standing], near: FloatArray, name: str, wall_rule: str, tree_rule: str) -> list[Finding]:
    found = []
    for one, d in zip(grown, near, strict=True):
        if d <= 0:
            asks = Asked(rule="wall", beside=name, wanted=DRY_STRIP, alike=f"stand inside {name}")
            found.append(_near(one, f"stands inside {name}", COMMON, seriousness="stop", asks=asks))
            continue
        if one.tier == "wall" or one.plant.support:
            continue
        if one.tier == "tree":
            least = tree_distance(one.species.height, one.species.spread, rule=tree_rule)
            source = TREE_RULES[tree_rule].source
        elif one.tier == "shrub":
            least, source = wall_distance(one.species, rule=wall_rule), WALL_RULES[wall_rule].source
        else:
            least, source = one.species.spread / 2, WALL_RULES["half spread"].source
        if d < least - 1e-6:
            serious: Seriousness = "warning" if one.tier == "tree" else "caution"
            what = f"stands {d:.2f} m from {name}; {least:.2f} m is asked for"
            words = "half their spread" if one.tier != "tree" else "the tree rule asks for"
            asks = Asked(rule="wall", beside=name, wanted=least, alike=f"stand nearer to {name} than {words}")
            found.append(_near(one, what, source, seriousness=serious, asks=asks))
    return found


def _path(grown: Sequence[Standing], near: FloatArray, name: str) -> list[Finding]:
    found = []
    close = np.flatnonzero(np.isfinite(near)).tolist()
    for one, d in zip((grown[k] for k in close), near[close], strict=True):
        if d <= 0:
            asks = Asked(rule="path", beside=name, wanted=path_distance(one.species), alike=f"stand in {name}")
            found.append(_near(one, f"stands in {name}", COMMON, seriousness="warning", asks=asks))
        elif one.tier == "tree" and d < TREE_PAVING:
            what = f"stands {d:.2f} m from the edge of {name}; roots want {float(TREE_PAVING):.2f} m"
            asks = Asked(
                rule="path", beside=name, wanted=float(TREE_PAVING), alike=f"have roots too near to the edge of {name}"
            )
            found.append(_near(one, what, TREE_PAVING.source, asks=asks))
        elif one.tier == "shrub" and d < path_distance(one.species) - 1e-6:
            what = (
                f"will reach over the edge of {name}: {d:.2f} m away, {path_distance(one.species):.2f} m is asked for"
            )
            asks = Asked(
                rule="path",
                beside=name,
                wanted=path_distance(one.species),
                alike=f"will reach over the edge of {name}",
            )
            found.append(_near(one, what, PATH_EDGE.source, asks=asks))
    return found


def _window(grown: Sequence[Standing], near: FloatArray, glass: Glass) -> list[Finding]:
    return [
        _near(
            one,
            f"will grow {one.species.height:.1f} m tall before {glass.name}, whose sill is at {glass.sill:.1f} m",
            f"mature height at or below the sill; {MEMORY}",
            asks=Asked(
                rule="window",
                beside=glass.name,
                wanted=one.radius + BEFORE_WINDOW,
                alike=f"will grow taller than the sill of {glass.name}",
            ),
        )
        for one, d in zip(grown, near, strict=True)
        if d < one.radius + BEFORE_WINDOW and one.species.height > glass.sill and not _above(one, glass)
    ]


def _above(one: Standing, glass: Glass) -> bool:
    return one.size.crown_base >= glass.head


def _service(grown: Sequence[Standing], near: FloatArray, service: Service) -> list[Finding]:
    trees = [(one, float(d)) for one, d in zip(grown, near, strict=True) if one.tier == "tree"]
    if service.kind == "overhead line":
        return [
            _near(
                one,
                f"will grow {one.species.height:.1f} m tall {d:.1f} m from {service.name}; "
                f"{tallest_by_wires(d):.1f} m is the most there. Keep ladders and tools away "
                "from the wires and ask the line's owner",
                TREE_SERVICE.source,
                seriousness="warning",
            )
            for one, d in trees
            if one.species.height > tallest_by_wires(d)
        ]
    if service.kind not in SERVICE_DISTANCES:
        known = (*SERVICE_DISTANCES, "overhead line")
        raise GardenError(f'{service.name} is a "{service.kind}", which has no distance{nearest(service.kind, known)}')
    least = SERVICE_DISTANCES[service.kind]
    return [
        _near(
            one,
            f"stands {d:.2f} m from {service.name}; {least:.2f} m is asked for; {DIG_SAFE}",
            TREE_SERVICE.source,
            seriousness="warning",
        )
        for one, d in trees
        if d < least
    ]


def _near(
    one: Standing, what: str, source: str, *, seriousness: Seriousness = "caution", asks: Asked | None = None
) -> Finding:
    asked = asks or Asked(rule="service", beside="", wanted=None, alike="")
    return Finding(
        where=one.name,
        what=what,
        source=source,
        seriousness=seriousness,
        at=one.at,
        topic="setback",
        subject=("plant", str(one.plant.number)),
        rule=f"setback {asked.rule}",
        beside=asked.beside,
        wanted=asked.wanted,
        alike=asked.alike,
    )


def _shape(line: Line) -> plane.Shape:
    return plane.line(line) if len(line) > 1 else plane.point(line[0])
