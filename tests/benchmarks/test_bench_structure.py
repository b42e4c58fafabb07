"""How long a whole path takes after a slider moves: route, stones, gaps, beds and spaces for tree crowns."""

import math
import statistics
import time

import attrs
import numpy as np
import pytest
from turns import PATIENCE, least, told

from gardenkit.geometry import plane
from gardenkit.project import Project, views
from gardenkit.project.layout import layout
from gardenkit.project.layout import obstacles as obstacles_of
from gardenkit.site import site as sites
from gardenkit.site.heights import SpotHeight
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.beds import divided
from gardenkit.structure.route import route
from gardenkit.structure.stones import lay
from gardenkit.structure.structure import GroundArea, Path, Seat, StoneChoice, Structure, Support

REPEATS = 15
PLOT = plane.region([(0, 0), (12, 0), (12.2, 20), (0, 20)])
GATE, DOOR = (6.0, 0.0), (4.0, 20.0)


def obstacles(count=14):
    """Trees and rocks about the plot, none in the gate or the door; the same every time."""
    rng, found = np.random.default_rng(3), []
    while len(found) < count:
        at, radius = rng.uniform((1, 1.5), (11, 18.5)), rng.uniform(0.15, 0.3)
        if all(math.dist(at, other) > 2.3 for other, _ in found) and min(math.dist(at, p) for p in (GATE, DOOR)) > 1.6:
            found.append((at, radius))
    return [plane.circle(at, radius, sides=16) for at, radius in found]


BLOCKS = obstacles()


def recompute(surface, curvature):
    """Work a path out from its sliders; return the seconds of CPU time each stage took."""
    path = Path(name="Front", start="gate", end="door", curvature=curvature, surface=surface)
    marks = [time.process_time()]
    made = route(GATE, DOOR, PLOT, BLOCKS, path)
    marks.append(time.process_time())
    stones = lay(made, path)
    marks.append(time.process_time())
    shared = divided(PLOT, [made.region, *BLOCKS], Structure(cuts=(((-1, 10), (13, 10)),)))
    marks.append(time.process_time())
    assert stones.gaps and shared.beds and all(bed.pockets for bed in shared.beds)
    return np.diff(marks)


def reference():
    """Something of known weight: the ground within 1 m of each of the obstacles' corners, joined (shapely alone)."""
    begin = time.process_time()
    corners = [plane.point(at) for block in BLOCKS for at in plane.corners(block)]
    plane.union(plane.grown(corner, 1.0) for corner in corners)
    return time.process_time() - begin


def figures(surface, times):
    """Return milliseconds by stage (route, stones with gap check, beds with circles) and in all, medians over bends;
    of more bends while the least of all is not below so many ``times`` the reference.
    """
    recompute(surface, 0.4), reference()
    rows, beside = [], []
    for i in range(PATIENCE * REPEATS):
        if i >= REPEATS and min(float(row.sum()) for row in rows) < times * min(beside):
            break
        rows.append(recompute(surface, 0.2 + 0.05 * (i % REPEATS) + 0.001 * (i // REPEATS)))
        beside.append(reference())
    stages = [1000 * statistics.median(column) for column in zip(*rows, strict=True)]
    total = 1000 * statistics.median(float(row.sum()) for row in rows)
    least = 1000 * min(float(row.sum()) for row in rows)
    return {"stages": stages, "total": total, "least": least, "reference": 1000 * min(beside)}


@pytest.mark.benchmark
@pytest.mark.parametrize(("surface", "target", "times"), [("stepping stones", 20.0, 2.5), ("flagstones", 50.0, 3.5)])
def test_a_moved_slider_is_worked_out_in_time(surface, target, times, record_property):
    found = figures(surface, times)
    route_ms, stones_ms, beds_ms = found["stages"]
    print(
        f"\n{surface}: route {route_ms:.1f}, stones {stones_ms:.1f}, beds {beds_ms:.1f}, total {found['total']:.1f} ms "
        f"(least {found['least']:.1f}, target {target:.0f}); reference {found['reference']:.1f} ms"
    )
    matter = f"a path of {surface} worked out again ({found['least']:.0f} ms), of a join of its corners by shapely"
    told(matter, f"{found['least'] / found['reference']:.2f} x", f"{times}")
    record_property("milliseconds", found["total"])
    assert found["least"] < times * found["reference"]


@pytest.mark.benchmark
def test_a_path_twice_as_long_takes_at_most_two_and_a_half_times_as_long():
    path = Path(name="Front", start="gate", end="door", curvature=0.5)

    def laid(deep):
        plot = plane.region([(0, 0), (12, 0), (12, deep), (0, deep)])
        return lambda: lay(route((6, 0), (6, deep), plot, [], path), path)

    once, twice = least(laid(20.0), laid(40.0), rounds=9, kept=lambda found: found[1] < 2.5 * found[0])
    told("a path twice as long, of the shorter", f"{twice / once:.2f} x", "2.5")
    assert twice < 2.5 * once


# ---- the whole structure, as one move of a slider works it out


def whole_garden(surface="stepping stones"):
    """A plot of 12 by 20 m with a house, spot heights, trees, a lawn, an arch, a seat and one path of about 20 m."""
    house = Building(name="house", outline=((1, 17), (8, 17), (8, 20), (1, 20)))
    site = Site(
        boundary=((0, 0), (12, 0), (12.2, 20), (0, 20)),
        buildings=(house,),
        openings=(
            Opening(name="gate", kind="gate", start=(8.5, 0), end=(9.7, 0)),
            Opening(name="door", kind="door", start=(2, 17), end=(3, 17), on="house"),
        ),
        fences=(Fence(name="fence", line=((0, 0), (0, 20))),),
        trees=tuple(
            ExistingTree(name=f"tree {x}", at=(x, y), height=6, spread=4) for x, y in ((2, 3), (9.5, 8), (10, 14))
        ),
        heights=tuple(
            SpotHeight(at=(x, y), height=0.02 * x + 0.01 * y) for x in (0.5, 6, 11.5) for y in (0.5, 6, 12, 16.5)
        ),
    )
    path = Path(name="walk", start="gate", end="door", curvature=0.5, surface=surface)
    lawn = GroundArea(name="lawn", kind="lawn", outline=((3, 8), (6, 8), (6, 12), (3, 12)))
    arch = Support(name="arch", kind="arch", line=((8.4, 0.5), (9.9, 0.5)), height=2.4, depth=0.6)
    bones = Structure(
        paths=(path,),
        ground_areas=(lawn,),
        supports=(arch,),
        seats=(Seat(name="bench", at=(1, 15)),),
        cuts=(((-1, 10), (13, 10)),),
    )
    return Project(name="bench", site=site, structure=bones)


def at_curvature(project, curvature):
    path = attrs.evolve(project.structure.paths[0], curvature=curvature)
    return attrs.evolve(project, structure=attrs.evolve(project.structure, paths=(path,)))


def whole(project, curvature):
    """Route, stones, gaps, beds, areas, findings, isovist and the share of the path seen; return seconds and layout."""
    moved = at_curvature(project, curvature)
    begin = time.process_time()
    worked = layout(moved)
    eye = views.eye_at(moved, "gate")
    seen, part = views.look(moved, eye), views.path_seen(moved, worked, "walk", eye)
    took = time.process_time() - begin
    assert worked.findings and worked.beds and seen.measures.area > 0 and 0 < part.share <= 1
    return took, worked


def stages_alone(project, curvature):
    """The same path by the domain functions alone: route, stones with gap check, beds with spaces for tree crowns."""
    moved, site = at_curvature(project, curvature), project.site
    path, ground, blocks = moved.structure.paths[0], sites.ground(site), obstacles_of(site)
    begin = time.process_time()
    made = route((9.1, 0), (2.5, 17), ground, blocks, path)
    laid = lay(made, path)
    shared = divided(
        ground, [made.region, plane.region(project.structure.ground_areas[0].outline), blocks], project.structure
    )
    took = time.process_time() - begin
    assert made.length and shared.beds and (laid.gaps or path.surface == "gravel")
    return took


@pytest.mark.benchmark
@pytest.mark.parametrize(("surface", "target"), [("stepping stones", 20.0), ("flagstones", 50.0)])
def test_findings_and_views_cost_less_than_two_thirds_of_route_stones_and_beds(surface, target, record_property):
    project = whole_garden(surface)
    whole(project, 0.111), stages_alone(project, 0.111)
    full, alone, length = [], [], 0.0
    for i in range(PATIENCE * REPEATS):
        if i >= REPEATS and min(full) < 1.67 * min(alone):
            break
        took, worked = whole(project, 0.2 + 0.031 * i)
        full.append(1000 * took)
        alone.append(1000 * stages_alone(project, 0.2013 + 0.031 * i))
        length = worked.routes["walk"].length
    print(
        f"\n{surface}, path {length:.1f} m: whole recompute median {statistics.median(full):.1f} ms "
        f"(least {min(full):.1f}, target {target:.0f}), route + stones + beds alone "
        f"{statistics.median(alone):.1f} ms (least {min(alone):.1f})"
    )
    matter = f"the whole structure with {surface} ({min(full):.0f} ms), of route, stones and beds"
    told(matter, f"{min(full) / min(alone):.2f} x", "1.67")
    record_property("milliseconds", statistics.median(full))
    assert min(full) < 1.67 * min(alone)


@pytest.mark.benchmark
def test_moving_a_stone_slider_does_not_route_the_path_again(record_property):
    project = whole_garden()
    worked = layout(project)
    narrow = attrs.evolve(project.structure.paths[0], stones=StoneChoice(gap_high=0.25))
    again = layout(attrs.evolve(project, structure=attrs.evolve(project.structure, paths=(narrow,))))
    assert again.routes["walk"] is worked.routes["walk"]
    assert again.layings["walk"].stones != worked.layings["walk"].stones
