"""What is seen from a spot: random plots against sight-line tests, leaves by month, paths, screens and high eyes."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.isovist import edges_of, sweep
from gardenkit.geometry.isovist_measures import measures
from gardenkit.geometry.sight import hits, section
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, block, panel
from gardenkit.structure.enclosure import around
from gardenkit.structure.perspective import path_look
from gardenkit.structure.sightlines import (
    eye_at,
    into_the_open,
    level_points,
    path_finding,
    screening,
    screening_finding,
    seen,
    view,
)

PLOT = ((0.0, 0.0), (12.0, 0.0), (12.0, 20.0), (0.0, 20.0))
BARE_IN_WINTER = tuple(0.1 if month in range(5, 11) else 0.7 for month in range(1, 13))
SAMPLES = 3000


def blocks(seed: int, count: int) -> list[tuple[tuple[float, float], ...]]:
    """Turned squares anywhere in the plot but on the eye at (6, 1); they may overlap one another."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        x, y, size = rng.uniform(1, 11), rng.uniform(4, 19), rng.uniform(0.2, 1.2)
        made.append(
            plane.turned(((x, y), (x + size, y), (x + size, y + size), (x, y + size)), rng.uniform(0, 90), (x, y))
        )
    return made


def upright_points(a, b, low: float, high: float, columns: int = 5, rows: int = 4) -> np.ndarray:
    """Points evenly over an upright opening from a to b."""
    across = np.tile((np.arange(columns) + 0.5) / columns, rows)
    up = low + (high - low) * np.repeat((np.arange(rows) + 0.5) / rows, columns)
    return np.column_stack((a[0] + across * (b[0] - a[0]), a[1] + across * (b[1] - a[1]), up))


def by_sight_tests(eye, outlines, circles, points) -> np.ndarray:
    """Which points have a sight line that enters no block and no trunk, by cutting shapes with lines."""
    walls = plane.union(
        [*(plane.region(o) for o in outlines), *(plane.circle(c[:2], c[2], sides=720) for c in circles)]
    )
    return np.array([not walls.intersects(LineString([eye, p])) for p in points])


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10_000), st.integers(1, 9), st.integers(0, 3))
def test_seen_ground_agrees_with_sight_line_tests(seed: int, count: int, trunks: int) -> None:
    """Within four standard errors of a sample of random ground points, and point by point but for those at an edge."""
    rng = np.random.default_rng(seed + 1)
    outlines, eye = blocks(seed, count), (6.0, 1.0)
    circles = np.column_stack((rng.uniform(1, 11, trunks), rng.uniform(4, 19, trunks), rng.uniform(0.1, 0.6, trunks)))
    found = sweep(eye, np.vstack([edges_of(PLOT), *(edges_of(o) for o in outlines)]), circles=circles)
    points = rng.uniform((0, 0), (12, 20), (SAMPLES // 10, 2))
    free = by_sight_tests(eye, outlines, circles, points)
    degrees = np.degrees(np.arctan2(points[:, 0] - 6, points[:, 1] - 1))
    far = np.hypot(points[:, 0] - 6, points[:, 1] - 1)
    swept = far < found.views(degrees)
    near_an_edge = np.abs(far - found.views(degrees)) < 0.02
    shifted = [np.abs(found.views(degrees + d) - found.views(degrees)) > 0.02 + 0.05 * far for d in (-0.1, 0.1)]
    sure = ~(near_an_edge | shifted[0] | shifted[1])
    assert (free[sure] == swept[sure]).all()
    share = measures(found).area / 240.0
    error = 4 * math.sqrt(max(share * (1 - share), 0.01) / len(points))
    assert free.mean() == pytest.approx(share, abs=error)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 8))
def test_an_added_obstacle_never_adds_seen_ground(seed: int, count: int) -> None:
    outlines = blocks(seed, count + 1)
    edges = [edges_of(PLOT), *(edges_of(o) for o in outlines)]
    before, after = sweep((6, 1), np.vstack(edges[:-1])), sweep((6, 1), np.vstack(edges))
    assert measures(after).area <= measures(before).area + 1e-9
    degrees = np.linspace(0, 360, 700, endpoint=False)
    assert (after.views(degrees) <= before.views(degrees) + 1e-9).all()
    with_trunk = sweep((6, 1), np.vstack(edges), circles=np.array([[6.3, 9.0, 0.4]]))
    assert measures(with_trunk).area <= measures(after).area + 1e-9


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 8))
def test_outline_and_measures_tell_the_same(seed: int, count: int) -> None:
    found = sweep((6, 1), np.vstack([edges_of(PLOT), *(edges_of(o) for o in blocks(seed, count))]))
    told = measures(found)
    ground = plane.region(found.outline())
    assert told.area == pytest.approx(plane.area(ground), rel=1e-9)
    assert told.perimeter == pytest.approx(plane.perimeter(ground), rel=1e-9)
    assert told.mean_square * math.pi == pytest.approx(told.area, rel=1e-9)
    assert told.variance >= 0
    assert 0 < told.compactness() <= 1
    assert told.longest_view <= math.hypot(12, 20)
    assert told.closed_perimeter + told.occlusivity == pytest.approx(told.perimeter)


def test_crossing_walls_hide_as_if_cut_where_they_cross() -> None:
    cross = np.array([[4.0, 5.0, 8.0, 9.0], [4.0, 9.0, 8.0, 5.0]])
    cut = np.array([[4.0, 5.0, 6.0, 7.0], [6.0, 7.0, 8.0, 9.0], [4.0, 9.0, 6.0, 7.0], [6.0, 7.0, 8.0, 5.0]])
    areas = [measures(sweep((6, 1), np.vstack((edges_of(PLOT), walls)))).area for walls in (cross, cut)]
    assert areas[0] == pytest.approx(areas[1], abs=1e-9)


def test_sight_without_end_asks_for_the_boundary() -> None:
    with pytest.raises(GardenError, match="give the boundary"):
        sweep((0, 0), np.array([[1.0, -1.0, 1.0, 1.0]]))


# ---- the level view


def test_a_low_hedge_is_looked_over_and_a_tall_one_not() -> None:
    low, tall = (block("hedge", ((4, 8), (8, 8), (8, 9), (4, 9)), 0, top) for top in (1.2, 1.8))
    standing, seated = eye_at((6, 1)), eye_at((6, 1), height=1.2)
    whole = 12 * 20
    assert view(standing, PLOT, solids=[low]).measures.area == pytest.approx(whole)
    assert view(standing, PLOT, solids=[tall]).measures.area < whole - 20
    seated_view = view(seated, PLOT, solids=[attrs_evolved(low, top=1.25)])
    assert ahead(seated_view) == "hedge"


def ahead(found) -> str:
    """Return what ends the view straight up the plan."""
    return found.names[int(found.isovist.stops(np.array([0.0]))[0])]


def attrs_evolved(hull: Hull, *, top: float) -> Hull:
    vertices = hull.vertices.copy()
    vertices[vertices[:, 2] > 0, 2] = top
    return Hull(name=hull.name, vertices=vertices, edges=hull.edges)


def test_one_looks_under_a_high_crown_but_not_through_its_trunk() -> None:
    crown = Ellipsoid(name="maple", centre=(6, 8, 5), radius=3, half_height=2)
    trunk = Column(name="maple", at=(6, 8), radius=0.2, base=0, top=4)
    found = view(eye_at((6, 1)), PLOT, solids=[crown, trunk])
    assert ahead(found) == "maple"
    assert [s.name for s in found.stops] == ["boundary", "maple"]
    assert found.stops[1].share == pytest.approx(math.asin(0.2 / 7) / math.pi, rel=1e-9)
    assert sum(s.share for s in found.stops) == pytest.approx(1.0)


def test_a_bare_shrub_is_seen_through_in_winter() -> None:
    shrub = Ellipsoid(name="shrub", centre=(6, 8, 1), radius=2, half_height=1.5, light=BARE_IN_WINTER)
    winter, summer = (view(eye_at((6, 1)), PLOT, solids=[shrub], month=m) for m in (1, 7))
    assert winter.measures.area == pytest.approx(240)
    assert summer.measures.area < 230


def test_an_eye_inside_a_crown_is_told_so() -> None:
    crown = Ellipsoid(name="willow", centre=(6, 1, 2), radius=2, half_height=2)
    found = view(
        eye_at((6, 1)), PLOT, solids=[crown, block("shed", ((5.5, 0.5), (6.5, 0.5), (6.5, 1.5), (5.5, 1.5)), 0, 2)]
    )
    assert found.looked_through == ("willow", "shed")
    assert found.measures.area == pytest.approx(240)


def test_a_screen_fence_between_two_posts_hides_as_a_wall_does() -> None:
    fence = panel("fence", (4, 8), (8, 8), 0, 1.8)
    edges = np.vstack((edges_of(PLOT), [[4, 8, 8, 8]]))
    assert view(eye_at((6, 1)), PLOT, solids=[fence]).measures.area == pytest.approx(
        measures(sweep((6, 1), edges)).area
    )


def test_an_eye_at_the_gate_steps_into_the_plot() -> None:
    ground = plane.region(PLOT)
    x, y = into_the_open((6, 0), ground)
    assert (x, y) == pytest.approx((6, 0.05))
    assert into_the_open((6, 3), ground) == (6, 3)
    with pytest.raises(GardenError, match="move it out of the house"):
        into_the_open((6, -2), ground)


def test_enclosure_all_round_a_seat() -> None:
    """In the middle of a 4 m square of 2 m walls: 1:1 straight ahead to 1.41:1 in the corners."""
    walls = ((4.0, 4.0), (8.0, 4.0), (8.0, 8.0), (4.0, 8.0))
    found = around(view(eye_at((6, 6), height=1.2), walls), {"boundary": 2.0}, directions=360)
    shares = dict(found.shares)
    assert shares["full enclosure"] + shares["just enclosing"] == 1.0
    assert found.open_share == 0
    assert 1.0 < found.median_ratio < math.sqrt(2)


# ---- paths and screens


def test_share_of_a_path_seen_past_a_fence() -> None:
    """Eye 1.6, fence 1.2 high at 4 m: ground hidden from 4 to 16 m, 12 of the path's 20 m."""
    fence = panel("low fence", (0, 4), (12, 4), 0, 1.2)
    path = np.column_stack((np.full(2001, 6.0), np.linspace(0.0, 20.0, 2001)))
    part = seen((6.0, 0.0, 1.6), path, [fence])
    assert part.share == pytest.approx(8 / 20, abs=0.002)
    assert part.hidden_by[0] == ("low fence", pytest.approx(12 / 20, abs=0.002))
    assert "40 % of the path" in path_finding("main path", "the gate", part).what
    look = path_look(path, (6.0, 0.0, 1.6), shown=part.shown)
    assert look.seen_length == pytest.approx(8.0, abs=0.03)


def test_nothing_in_the_way_shows_everything() -> None:
    assert seen((0, 0, 1.6), np.array([[3.0, 4.0]]), []).share == 1.0


def test_light_of_bodies_behind_one_another_multiplies() -> None:
    leaves = tuple([0.5] * 12)
    two = [panel(n, (0, y), (12, y), 0, 4, light=leaves) for n, y in (("a", 4), ("b", 6))]
    found = screening(np.array([[6.0, 1.0, 1.6]]), np.array([[6.0, 10.0, 1.2]]), two)
    assert found.share == pytest.approx([0.75] * 12)
    assert [name for name, _ in found.by] == ["a", "b"]
    assert found.by[0][1] == pytest.approx([0.5] * 12)


def test_screening_by_month_of_a_deciduous_hedge() -> None:
    hedge = panel("hornbeam", (0, 5), (12, 5), 0, 3, light=BARE_IN_WINTER)
    window = upright_points((5, 0), (7, 0), 0.9, 2.1)
    patio = level_points(((5, 9), (8, 9), (8, 12), (5, 12)), 1.2)
    found = screening(window, patio, [hedge])
    assert found.share[6] == pytest.approx(0.9)
    assert found.share[0] == pytest.approx(0.3)
    assert found.weakest_month == 1
    told = screening_finding("patio", "the neighbour's window", found)
    assert (told.seriousness, "30 %" in told.what) == ("caution", True)


def test_half_of_a_window_behind_a_half_wide_screen() -> None:
    screen = panel("screen", (5, 0.001), (6, 0.001), 0, 3)
    window = upright_points((5, 0), (7, 0), 1, 2, columns=10)
    assert screening(window, np.array([[6.0, 30.0, 1.5]]), [screen]).share[0] == pytest.approx(0.5)


def test_a_named_body_can_be_left_out() -> None:
    house = block("house", ((0, 0), (12, 0), (12, 1), (0, 1)), 0, 3)
    assert screening(np.array([[6, 0.5, 1.6]]), np.array([[6, 9, 1]]), [house], without=("house",)).share == (0.0,) * 12


# ---- lines of sight through bodies


def test_lines_through_every_kind_of_body_agree_with_walking_along_them() -> None:
    """1,500 random lines, each walked in 2,000 steps."""
    rng = np.random.default_rng(5)
    roof = np.array([(0, 8, 2), (2, 8, 2), (2, 10, 2), (0, 10, 2), (1, 8, 4), (1, 10, 4)], dtype=float)
    solids = [
        block("block", ((2, 2), (5, 2), (5, 4), (2, 4)), 0, 3),
        Ellipsoid(name="crown", centre=(3, 7, 3), radius=2, half_height=1),
        Column(name="trunk", at=(8, 8), radius=0.7, base=0.5, top=3),
        Cone(name="cone", at=(8, 3), radius=1.2, base=0.5, top=4),
        Hull(name="roof", vertices=roof),
    ]
    start, end = (rng.uniform((0, 0, 0), (10, 10, 5), (1500, 3)) for _ in range(2))
    end[:150, :2] = start[:150, :2]
    end[150:300, 2] = start[150:300, 2]
    found = hits(start, end, solids)
    share = np.linspace(1e-6, 1 - 1e-6, 2000)[:, None]
    for k, (a, b) in enumerate(zip(start, end, strict=True)):
        x, y, z = (a + share * (b - a)).T
        walked = [
            (x >= 2) & (x <= 5) & (y >= 2) & (y <= 4) & (z >= 0) & (z <= 3),
            ((x - 3) ** 2 + (y - 7) ** 2) / 4 + (z - 3) ** 2 <= 1,
            ((x - 8) ** 2 + (y - 8) ** 2 <= 0.49) & (z >= 0.5) & (z <= 3),
            ((x - 8) ** 2 + (y - 3) ** 2 <= (1.2 * (4 - z) / 3.5) ** 2) & (z >= 0.5) & (z <= 4),
            (y >= 8) & (y <= 10) & (z >= 2) & (z - 2 <= 2 * x) & (z - 2 <= 2 * (2 - x)),
        ]
        touched = np.array([bool(w.any()) for w in walked])
        assert (found[k] >= touched).all()  # walking may step over a corner, never the other way
        assert (found[k] & ~touched).sum() <= 1
    assert found.sum(axis=0).min() > 20


def test_level_cuts() -> None:
    assert section(Ellipsoid(name="crown", centre=(3, 7, 3), radius=2, half_height=1), 2.5)[1][0][2] == pytest.approx(
        math.sqrt(3)
    )
    assert section(Cone(name="cone", at=(8, 3), radius=1.2, base=0.5, top=4), 2.25)[1] == ((8, 3, pytest.approx(0.6)),)
    assert section(panel("fence", (6, 0), (7, 5), 0, 2), 1.6)[0] == ((6, 0), (7, 5))
    assert section(panel("fence", (6, 0), (7, 5), 0, 1.5), 1.6) == ((), ())


def test_an_eye_no_person_has_is_refused() -> None:
    with pytest.raises(GardenError, match="not a person's"):
        eye_at((0, 0), height=5)
    with pytest.raises(GardenError, match="no month 13"):
        view(eye_at((6, 1)), PLOT, month=13)
