"""How fast the sun map is, as ratios to other ways of asking the same question, taken in turns in one run.

The standard lot: 60 x 120 ft, 6 in grid (28,800 cells), a gabled house, two fences, thirty trees with monthly light,
twelve days at ten minutes. Every time is the least of several; slow ways are timed on evenly spaced steps and
scaled to all of them.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise

import attrs
import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from turns import least, told

from gardenkit.geometry.grid import Grid
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid, panel, prism_edges
from gardenkit.site import sky, sun
from gardenkit.site.place import Place
from gardenkit.units import FOOT

pytestmark = pytest.mark.benchmark
Array = NDArray[np.float64]
ROUNDS = 4
PLACE = Place(latitude=40.0, longitude=-75.0, elevation=50.0, timezone="America/New_York")
LOT = Grid(left=0.0, bottom=0.0, columns=120, rows=240, cell=FOOT / 2)
HOUSE = [(14 * FOOT, 60 * FOOT), (46 * FOOT, 60 * FOOT), (46 * FOOT, 108 * FOOT), (14 * FOOT, 108 * FOOT)]
EAVES = 13.5 * FOOT  # four walls, 160 ft round: 8,640 points at 6 in
WALLS = [sun.Wall(name=f"wall {i}", start=HOUSE[i], end=HOUSE[(i + 1) % 4], top=EAVES, cell=FOOT / 2) for i in range(4)]
TABLE = sky.sun_table(PLACE, days=(15,))


def lot(trees: int = 30, *, times: int = 1) -> list[Solid]:
    """House, fences and trees; 2 ``times`` has every tree again, turned half round the middle of the lot, 4 times each
    of these over on the other side, too.
    """
    rng = np.random.default_rng(7)
    ridge = [(30 * FOOT, 60 * FOOT, 22 * FOOT), (30 * FOOT, 108 * FOOT, 22 * FOOT)]
    house = np.array([*((*p, 0.0) for p in HOUSE), *((*p, EAVES) for p in HOUSE), *ridge])
    rafters = ((4, 8), (5, 8), (6, 9), (7, 9), (8, 9))
    found: list[Solid] = [
        Hull(name="house", vertices=house, edges=(*prism_edges(4), *rafters)),
        panel("fence", (0.0, 0.0), (0.0, 120 * FOOT), 0.0, 6 * FOOT),
        panel("trellis", (60 * FOOT, 0.0), (60 * FOOT, 120 * FOOT), 0.0, 6 * FOOT, light=(0.4,) * 12),
    ]
    for i in range(trees):
        at = (rng.uniform(2, 58) * FOOT, rng.uniform(2, 118) * FOOT)
        height, radius, clear = rng.uniform(10, 40) * FOOT, rng.uniform(3, 12) * FOOT, rng.uniform(0.2, 0.4)
        light = (0.15,) * 12 if i % 3 == 0 else (0.65,) * 4 + (0.2,) * 6 + (0.65,) * 2
        base = clear * height
        found.append(Column(name=f"trunk {i}", at=at, radius=rng.uniform(0.2, 0.6) * FOOT, base=0.0, top=base))
        if i % 5 == 0:
            found.append(Cone(name=f"fir {i}", at=at, radius=radius, base=base, top=height, light=light))
        else:
            half = (height - base) / 2
            found.append(
                Ellipsoid(name=f"tree {i}", centre=(*at, base + half), radius=radius, half_height=half, light=light)
            )
    if times >= 2:
        found += [turned_over(body, lambda x, y: (60 * FOOT - x, 120 * FOOT - y)) for body in found[3:]]
    if times >= 4:
        found += [turned_over(body, lambda x, y: (60 * FOOT - x, y)) for body in found[3:]]
    return found


def turned_over(body: Solid, place: Callable[[float, float], tuple[float, float]]) -> Solid:
    if isinstance(body, Ellipsoid):
        x, y, z = body.centre
        return attrs.evolve(body, centre=(*place(x, y), z))
    assert not isinstance(body, Hull)
    return attrs.evolve(body, at=place(*body.at))


def ground_map(
    solids: list[Solid], table: sky.SunTable = TABLE, grid: Grid = LOT, engine: sun.Engine = "compiled"
) -> Array:
    return sun.sun_hours(grid, solids, table, engine=engine)


def some_steps(every: int) -> tuple[NDArray[np.int64], float]:
    steps = np.arange(every // 2, len(TABLE), every)
    return steps, len(TABLE) / len(steps)


def embree_occlusion(solids: list[Solid], steps: NDArray[np.int64]) -> Callable[[], object]:
    """One call of embree's occlusion test for the rays of all chosen steps: any-hit, nothing let through, rays
    made beforehand.
    """
    from embreex import mesh_construction, rtcore_scene

    triangles = np.concatenate([mesh_of(solid).triangles for solid in solids]).astype(np.float32)
    scene = rtcore_scene.EmbreeScene()
    mesh = mesh_construction.TriangleMesh(scene, triangles)
    points = np.column_stack((LOT.points, np.full(len(LOT.points), 1e-4))).astype(np.float32)
    towards = TABLE.towards_sun()[steps].astype(np.float32)
    origins, ways = np.tile(points, (len(steps), 1)), np.repeat(towards, len(points), axis=0)

    def run(keep: object = mesh) -> object:
        return scene.run(origins, ways, query="OCCLUDED")

    return run


def mesh_of(solid: Solid) -> object:
    import trimesh as tm

    if isinstance(solid, Hull):
        flat = tm.Trimesh(solid.vertices, [[0, 1, 2], [0, 2, 3]], process=False) if len(solid.vertices) == 4 else None
        return flat or tm.convex.convex_hull(solid.vertices)
    if isinstance(solid, Ellipsoid):
        ball = tm.creation.icosphere(subdivisions=2)
        ball.apply_scale([solid.radius, solid.radius, solid.half_height])
        ball.apply_translation(solid.centre)
        return ball
    if isinstance(solid, Column):
        post = tm.creation.cylinder(radius=solid.radius, height=solid.top - solid.base, sections=16)
        post.apply_translation([*solid.at, (solid.top + solid.base) / 2])
        return post
    cone = tm.creation.cone(radius=solid.radius, height=solid.top - solid.base, sections=32)
    cone.apply_translation([*solid.at, solid.base])
    return cone


def shapely_unions(solids: list[Solid], steps: NDArray[np.int64]) -> Callable[[], object]:
    """Union of all shadow outlines of a step (64 corners a circle), then which points it holds: nothing let
    through.
    """
    angle = np.linspace(0, 2 * np.pi, 64, endpoint=False)
    ring = np.column_stack((np.cos(angle), np.sin(angle), np.zeros(64)))
    runs = TABLE.towards_sun()[steps]
    runs = runs[:, :2] / runs[:, 2:]
    points = LOT.points
    bodies = []
    for solid in solids:
        if isinstance(solid, Hull):
            bodies.append(solid.vertices)
        elif not isinstance(solid, Ellipsoid):
            top = 0.0 if isinstance(solid, Cone) else solid.radius
            low, high = np.array([*solid.at, solid.base]), np.array([*solid.at, solid.top])
            bodies.append(np.vstack((ring * solid.radius + low, ring * top + high)))

    def ellipse(solid: Ellipsoid, run: Array) -> Array:
        far = np.hypot(*run)
        along = run / far
        long = np.hypot(solid.radius, solid.half_height * far)
        flat = ring[:, :1] * long * along + ring[:, 1:2] * solid.radius * np.array([-along[1], along[0]])
        return np.asarray(flat + solid.centre[:2] - solid.centre[2] * run)

    def job() -> None:
        for run in runs:
            shapes = [shapely.MultiPoint(b[:, :2] - b[:, 2:] * run).convex_hull for b in bodies]
            shapes += [shapely.Polygon(ellipse(s, run)) for s in solids if isinstance(s, Ellipsoid)]
            union = shapely.union_all(shapes)
            shapely.prepare(union)
            shapely.contains_xy(union, points)

    return job


def numpy_rays(solids: list[Solid], steps: NDArray[np.int64]) -> Callable[[], Array]:
    """Ray tests in NumPy for the cells in the bounding box of each body's shadow, light let through multiplied."""
    towards = TABLE.towards_sun()[steps]
    x, y = LOT.x, LOT.y

    def job() -> Array:
        lost = np.zeros((12, LOT.rows, LOT.columns))
        for way, month, hours in zip(towards, TABLE.month[steps], TABLE.hours[steps], strict=True):
            light = np.ones((LOT.rows, LOT.columns))
            run = way[:2] / way[2]
            for solid in solids:
                low, high = box_of(solid)
                starts = np.minimum(low[:2] - low[2] * run, low[:2] - high[2] * run)
                ends = np.maximum(high[:2] - low[2] * run, high[:2] - high[2] * run)
                i0, i1 = np.searchsorted(x, (starts[0], ends[0]))
                j0, j1 = np.searchsorted(y, (starts[1], ends[1]))
                if i0 < i1 and j0 < j1:
                    hit = ray_hits(x[None, i0:i1], y[j0:j1, None], solid, way)
                    light[j0:j1, i0:i1][hit] *= solid.light[month - 1]
            lost[month - 1] += hours * (1 - light)
        return lost

    return job


def box_of(solid: Solid) -> tuple[Array, Array]:
    if isinstance(solid, Hull):
        return solid.vertices.min(axis=0), solid.vertices.max(axis=0)
    if isinstance(solid, Ellipsoid):
        size = np.array([solid.radius, solid.radius, solid.half_height])
        return np.array(solid.centre) - size, np.array(solid.centre) + size
    low = np.array([solid.at[0] - solid.radius, solid.at[1] - solid.radius, solid.base])
    return low, np.array([solid.at[0] + solid.radius, solid.at[1] + solid.radius, solid.top])


def ray_hits(x: Array, y: Array, solid: Solid, way: Array) -> NDArray[np.bool_]:
    """Whether rays from level ground at columns x (1, m) and rows y (n, 1) meet a body that stands on or above it,
    (n, m).
    """
    if isinstance(solid, Hull):
        fallen = solid.vertices[:, :2] - solid.vertices[:, 2:] * (way[:2] / way[2])
        ring = shapely.get_coordinates(shapely.MultiPoint(fallen).convex_hull)[::-1]
        inside = np.ones((y.size, x.size), dtype=bool)
        for a, b in pairwise(ring):
            inside &= (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) >= 0
        return inside
    if isinstance(solid, Ellipsoid):
        r, h, (cx, cy, cz) = solid.radius, solid.half_height, solid.centre
        a = (way[0] ** 2 + way[1] ** 2) / r**2 + way[2] ** 2 / h**2
        half_b = (x - cx) * (way[0] / r**2) + ((y - cy) * (way[1] / r**2) - cz * way[2] / h**2)
        return np.asarray(half_b**2 >= a * (((x - cx) / r) ** 2 + (((y - cy) / r) ** 2 + (cz / h) ** 2 - 1.0)))
    shrink = solid.radius / (solid.top - solid.base) if isinstance(solid, Cone) else 0.0
    wide = solid.radius + shrink * solid.base
    a = way[0] ** 2 + way[1] ** 2 - (shrink * way[2]) ** 2
    half_b = (x - solid.at[0]) * way[0] + ((y - solid.at[1]) * way[1] + wide * shrink * way[2])
    c = (x - solid.at[0]) ** 2 + ((y - solid.at[1]) ** 2 - wide**2)
    ends = np.array([solid.base, solid.top]) / way[2]
    if a <= 0:  # steeper than the cone's side: least at an end
        return np.asarray(np.minimum(*((a * t + 2 * half_b) * t + c for t in ends)) <= 0)
    t = np.clip(half_b * (-1 / a), *ends)
    return np.asarray((a * t + 2 * half_b) * t + c <= 0)


def test_numpy_rays_ask_the_same_question_as_the_map() -> None:
    every, scale = some_steps(1)
    assert scale == 1.0
    lost = numpy_rays(lot(4), every)()
    assert np.abs(TABLE.day_length[:, None, None] - lost - ground_map(lot(4))).max() < 0.01


def test_standard_lot_is_the_size_it_is_said_to_be() -> None:
    assert LOT.rows * LOT.columns == 28_800
    assert len(lot()) == 63
    assert len(TABLE) >= 863
    assert sum(w.grid.rows * w.grid.columns for w in WALLS) == 8_640


def test_sun_map_beats_embree_unions_and_numpy_rays(capsys: pytest.CaptureFixture[str]) -> None:
    solids = lot()
    ground_map(solids)
    few, times_few = some_steps(60)
    many, times_many = some_steps(12)
    numpy_job = numpy_rays(solids, few)
    embree = embree_occlusion(solids, many)

    def mapped() -> object:
        return ground_map(solids)

    # Ours takes 60 ms on both cores, so that a moment's other work shows most in it: it has a turn before each other.
    one, rays, two, unions, three, boxes, plain = least(
        mapped,
        embree,
        mapped,
        shapely_unions(solids, few),
        mapped,
        numpy_job,
        lambda: ground_map(solids, engine="plain"),
        rounds=ROUNDS,
        kept=lambda found: found[1] * times_many >= 60 * min(found[0], found[2], found[4]),
    )
    ours = min(one, two, three)
    rays, unions, boxes = rays * times_many, unions * times_few, boxes * times_few
    with capsys.disabled():
        told(
            f"embree occlusion, of our sun map of the standard lot ({1000 * ours:.0f} ms)",
            f"{rays / ours:.0f} x",
            ">= 60",
        )
        told("unions of shadows by shapely, of the same", f"{unions / ours:.0f} x", ">= 200")
        told("NumPy rays in bounding boxes, of the same", f"{boxes / ours:.0f} x", ">= 50")
        told("NumPy rays, of our map without compiling", f"{boxes / plain:.1f} x", ">= 3")
    assert rays / ours >= 60
    assert unions / ours >= 200
    assert boxes / ours >= 50
    assert boxes / plain >= 3


def test_wall_points_cost_at_most_three_ground_maps(capsys: pytest.CaptureFixture[str]) -> None:
    solids = lot()
    sun.wall_sun_hours(WALLS, solids, TABLE, engine="compiled")
    ground, walls = least(
        lambda: ground_map(solids),
        lambda: sun.wall_sun_hours(WALLS, solids, TABLE, engine="compiled"),
        rounds=5,
        kept=lambda found: found[1] <= 3 * found[0],
    )
    with capsys.disabled():
        told("8,640 wall points, of the ground map", f"{walls / ground:.2f} x", "3")
    assert walls / ground <= 3


def test_cost_grows_with_steps_trees_and_cells_no_faster_than_linear(capsys: pytest.CaptureFixture[str]) -> None:
    """Steps, trees and cells are doubled twice, each alone."""
    solids, most = lot(), 2.2
    tables = [sky.sun_table(PLACE, days=days, step_minutes=5) for days in ((15,), (7, 23))]
    half = FOOT / 2
    grids = [
        Grid(left=0.0, bottom=0.0, columns=round(120 * n), rows=round(240 * n), cell=half / n) for n in (2**0.5, 2)
    ]
    works = [lambda: ground_map(solids)]
    works += [lambda table=table: ground_map(solids, table) for table in tables]
    works += [lambda many=many: ground_map(many) for many in (lot(times=2), lot(times=4))]
    works += [lambda grid=grid: ground_map(solids, grid=grid) for grid in grids]

    def growths(found: Sequence[float]) -> list[float]:
        return [more / less for first in (1, 3, 5) for less, more in pairwise((found[0], *found[first : first + 2]))]

    grown = growths(least(*works, rounds=9, kept=lambda found: max(growths(found)) <= most))
    with capsys.disabled():
        for what, once, again in zip(("steps", "trees", "cells"), grown[::2], grown[1::2], strict=True):
            told(
                f"sun map of twice the {what}, of the lot, and twice again", f"{once:.2f} and {again:.2f} x", f"{most}"
            )
    assert max(grown) <= most


def test_an_acre_with_two_hundred_trees_costs_at_most_twelve_lots(
    capsys: pytest.CaptureFixture[str],
) -> None:
    acre = Grid(left=0.0, bottom=0.0, columns=418, rows=418, cell=FOOT / 2)
    rng = np.random.default_rng(11)
    trees: list[Solid] = []
    for i in range(200):
        x, y = rng.uniform(0, 63.6, 2)
        trees.append(Column(name=f"trunk {i}", at=(x, y), radius=0.15, base=0.0, top=2.0))
        trees.append(Ellipsoid(name=f"tree {i}", centre=(x, y, 5.0), radius=2.5, half_height=3.0, light=(0.3,) * 12))
    lot_time, acre_time = least(
        lambda: ground_map(lot(), sky.sun_table(PLACE)),
        lambda: ground_map(trees, sky.sun_table(PLACE), acre),
        rounds=3,
        kept=lambda found: found[1] <= 12 * found[0],
    )
    with capsys.disabled():
        told(
            f"sun map of an acre with 200 trees ({acre_time:.2f} s), of the lot", f"{acre_time / lot_time:.1f} x", "12"
        )
    assert acre_time <= 12 * lot_time  # six times the cells, six times the bodies
