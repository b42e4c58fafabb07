"""How long it takes to work out a whole path again after a slider moves: route, stones, gaps, beds and round places."""

import math
import statistics
import time

import numpy as np
import pytest

from gardenkit.geometry import plane
from gardenkit.structure.beds import divided
from gardenkit.structure.route import route
from gardenkit.structure.stones import lay
from gardenkit.structure.structure import Path, Structure

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


def recompute(surface, bend):
    """Work a path out from its sliders; return the seconds of CPU time each stage took."""
    path = Path(name="Front", start="gate", end="door", bend=bend, surface=surface)
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


def figures(surface):
    """Return milliseconds by stage (route, stones with gap check, beds with circles) and in all, medians over bends."""
    recompute(surface, 0.4), reference()
    rows, beside = [], []
    for i in range(REPEATS):
        rows.append(recompute(surface, 0.2 + 0.05 * i))
        beside.append(reference())
    stages = [1000 * statistics.median(column) for column in zip(*rows, strict=True)]
    total = 1000 * statistics.median(float(row.sum()) for row in rows)
    least = 1000 * min(float(row.sum()) for row in rows)
    return {"stages": stages, "total": total, "least": least, "reference": 1000 * min(beside)}


@pytest.mark.benchmark
@pytest.mark.parametrize(("surface", "target", "times"), [("stepping stones", 20.0, 2.5), ("flagstones", 50.0, 3.5)])
def test_a_moved_slider_is_worked_out_in_time(surface, target, times, record_property):
    found = figures(surface)
    route_ms, stones_ms, beds_ms = found["stages"]
    print(
        f"\n{surface}: route {route_ms:.1f}, stones {stones_ms:.1f}, beds {beds_ms:.1f}, total {found['total']:.1f} ms "
        f"(least {found['least']:.1f}, target {target:.0f}); reference {found['reference']:.1f} ms"
    )
    record_property("milliseconds", found["total"])
    assert found["least"] < times * found["reference"]


@pytest.mark.benchmark
def test_a_path_twice_as_long_takes_at_most_two_and_a_half_times_as_long():
    def least(deep):
        plot = plane.region([(0, 0), (12, 0), (12, deep), (0, deep)])
        path = Path(name="Front", start="gate", end="door", bend=0.5)
        times = []
        for _ in range(9):
            begin = time.process_time()
            lay(route((6, 0), (6, deep), plot, [], path), path)
            times.append(time.process_time() - begin)
        return min(times)

    assert least(40.0) < 2.5 * least(20.0)
