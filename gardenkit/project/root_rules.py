"""What is dug, laid or planted within the root protection circle of a tree that stays, and is better kept out of it."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from gardenkit.findings import Finding, Seriousness
from gardenkit.geometry import nearby, plane
from gardenkit.geometry.plane import Region
from gardenkit.project.layout import Layout
from gardenkit.site.site import Site, root_circles
from gardenkit.site.tree_protection import root_rule
from gardenkit.structure.kinds import ground_kind, surface_kind
from gardenkit.structure.structure import Structure
from gardenkit.units import listed, show_area, show_length

TOPIC = "clearance"
LEAST = 0.05  # m2: less of a circle is touched, not dug. House value.


def roots_kept(site: Site) -> Region:
    """Return the ground within all root protection circles: nothing is dug, spread or footed there."""
    return plane.union(_circle(tree.at, far) for tree, far in root_circles(site) if far > 0)


def root_findings(site: Site, structure: Structure, worked: Layout) -> tuple[Finding, ...]:
    """Return for each kept tree what has a base or footing in its circle, which beds may not be dug there, and which
    cables would be laid through it.
    """
    found: list[Finding] = []
    kept = tuple(root_circles(site))
    circles = [_circle(tree.at, far) for tree, far in kept]
    dug, footed = _touched(circles, tuple(_dug(structure, worked))), tuple(_footed(structure))
    held = nearby.which_meet(circles, [shape for _, shape in footed])
    bedded = _touched(circles, [(bed.name, bed.region) for bed in worked.beds])
    laid = nearby.which_meet(circles, [plane.line(cable.line) for cable in structure.cables])
    source = root_rule(site.root_rule).source
    for k, (tree, far) in enumerate(kept):
        within = f"within {show_length(far)} of the stem"
        built = [f"{name} ({show_area(area)})" for name, area in dug[k]] + [footed[post][0] for post in held[k]]
        if built:
            what = f"{listed(built)} would be dug or footed {within}: move it, or lay it without digging by an arborist"
            found.append(_finding(tree.name, what, "warning", source, tree.at))
        beds = [name for name, _ in bedded[k]]
        if beds:
            what = (
                f"{within} nothing of {listed(beds)} is dug over and no compost is dug in; it is left out of the "
                "quantities. Plant small plants by hand between the roots, and mulch thinly"
            )
            found.append(_finding(tree.name, what, "caution", source, tree.at))
        if laid[k]:
            cables = listed([structure.cables[cable].name for cable in laid[k]])
            what = f"{cables} would be laid {within}: lead it round, or dig by hand between the roots and cut none"
            found.append(_finding(tree.name, what, "caution", source, tree.at))
    return tuple(found)


# ---- helpers


@lru_cache(maxsize=1024)
def _circle(at: plane.Point, far: float) -> Region:
    return plane.circle(at, far, sides=96)


@lru_cache(maxsize=4096)
def _shared(circle: Region, ground: Region) -> float:
    """Return how many square metres of a ground lie in a circle: only what is near is cut."""
    left, low, right, high = plane.bounds(circle)
    near = plane.part_in_box(ground, (left, low), (right, high))
    return plane.area(plane.intersection(circle, near))


def _touched(circles: Sequence[Region], grounds: Sequence[tuple[str, Region]]) -> list[list[tuple[str, float]]]:
    """Return for each circle which grounds lie in it, with how much of each (m2)."""
    met = nearby.which_meet(circles, [region for _, region in grounds])
    shared = [
        [(grounds[k][0], _shared(circle, grounds[k][1])) for k in several]
        for circle, several in zip(circles, met, strict=True)
    ]
    return [[(name, area) for name, area in several if area > LEAST] for several in shared]


def _dug(structure: Structure, worked: Layout) -> Iterator[tuple[str, Region]]:
    """Yield paths and areas that lie on a base that is dug out."""
    for path in structure.paths:
        if path.name in worked.surfaces and surface_kind(path.surface).layers.base > 0:
            yield path.name, worked.surfaces[path.name]
    for ground_area in structure.ground_areas:
        kind = ground_kind(ground_area.kind)
        built_up = bool(kind.built_as) and surface_kind(kind.built_as).layers.base > 0
        if kind.base is not None or kind.water or built_up:
            yield ground_area.name, worked.ground_areas[ground_area.name]


def _footed(structure: Structure) -> Iterator[tuple[str, plane.Shape]]:
    """Yield supports whose posts go into the ground."""
    for support in structure.supports:
        if not support.against:
            yield support.name, plane.line(support.line)


def _finding(name: str, what: str, seriousness: Seriousness, source: str, at: plane.Point) -> Finding:
    return Finding(
        where=name,
        what=what,
        source=source,
        seriousness=seriousness,
        at=at,
        topic=TOPIC,
        rule="roots",
    )
