"""Hours of direct sun checked against ray tests written apart from the package, closed forms and the almanac."""

import datetime as dt
import math
import subprocess
import sys

import numpy as np
import pandas as pd
import pvlib
import pytest
import shapely
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from gardenkit.findings import GardenError
from gardenkit.geometry.grid import Grid, grid_over
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid, block, panel, shadow
from gardenkit.site import sky, sun, sun_classes, sun_diary
from gardenkit.site.place import Place

Array = NDArray[np.float64]
HOME = Place(latitude=40.0, longitude=-75.0, elevation=50.0, timezone="America/New_York")
GRID = Grid(left=-2.0, bottom=-1.0, columns=60, rows=50, cell=0.25)
MONTHLY = tuple(0.65 if m < 3 or m > 9 else 0.2 for m in range(12))


def scene() -> list[Solid]:
    """A house, a leaning sheet, a half-open fence and crowns of every form, some cutting the ground."""
    gable = np.array(
        [(x, y, z) for z in (0, 2.7) for x, y in ((2, 3), (6, 3), (6, 8), (2, 8))] + [(4, 3, 4.4), (4, 8, 4.4)]
    )
    return [
        Hull(name="house", vertices=gable),
        panel("fence", (0.03, 0.04), (11.9, 0.31), 0.0, 1.8, light=(0.4,) * 12),
        block("half buried", ((8.1, 1.2), (9.3, 1.1), (9.0, 2.4)), -0.5, 0.9),
        Ellipsoid(name="maple", centre=(9.2, 6.1, 4.3), radius=2.2, half_height=2.4, light=MONTHLY),
        Column(name="maple trunk", at=(9.2, 6.1), radius=0.21, base=0.0, top=1.9),
        Cone(name="fir", at=(0.4, 9.6), radius=1.6, base=0.5, top=7.7, light=(0.1,) * 12),
        Column(name="poplar", at=(11.2, 10.4), radius=0.7, base=0.3, top=6.0, light=(0.3,) * 12),
        Ellipsoid(name="mound", centre=(7.0, 9.7, 0.2), radius=0.9, half_height=0.8, light=(0.05,) * 12),
    ]


def brute_hours(points: Array, solids: list[Solid], table: sky.SunTable, y_bearing: float = 0.0) -> Array:
    """Return (12, n) by asking for every point, step and body whether the ray meets the body."""
    found = np.zeros((12, len(points)))
    for month, hours, azimuth, height in zip(table.month, table.hours, table.azimuth, table.elevation, strict=True):
        a, e = math.radians(azimuth - y_bearing), math.radians(height)
        way = np.array([math.sin(a) * math.cos(e), math.cos(a) * math.cos(e), math.sin(e)])
        light = np.ones(len(points))
        for solid in solids:
            light[brute_hit(points, solid, way)] *= solid.light[month - 1]
        found[month - 1] += hours * light
    return found


def brute_hit(p: Array, solid: Solid, way: Array) -> NDArray[np.bool_]:
    if isinstance(solid, Hull):
        return brute_hull(p, solid, way)
    if isinstance(solid, Ellipsoid):
        size = np.array([solid.radius, solid.radius, solid.half_height])
        q, d = (p - np.array(solid.centre)) / size, way / size
        nearest = np.maximum(-(q @ d) / (d @ d), 0.0)
        return ((q + nearest[:, None] * d) ** 2).sum(axis=1) <= 1.0
    shrink = solid.radius / (solid.top - solid.base) if isinstance(solid, Cone) else 0.0
    begin, end = np.maximum((solid.base - p[:, 2]) / way[2], 0.0), (solid.top - p[:, 2]) / way[2]

    def outside(t: Array) -> Array:  # squared distance from the axis less the squared radius there: a quadratic in t
        q = p + t[:, None] * way
        return ((q[:, :2] - np.array(solid.at)) ** 2).sum(axis=1) - (
            solid.radius - shrink * (q[:, 2] - solid.base)
        ) ** 2

    zero, one, two = (outside(np.full(len(p), float(t))) for t in (0, 1, 2))
    a = (two - 2 * one + zero) / 2
    least = outside(np.clip(-(one - zero - a) / (2 * np.where(a > 1e-12, a, 1.0)), begin, end))
    least = np.where(a > 1e-12, least, np.inf)
    return (begin <= end) & (np.minimum(least, np.minimum(outside(begin), outside(end))) <= 0)


def brute_hull(p: Array, solid: Hull, way: Array) -> NDArray[np.bool_]:
    v = solid.vertices
    if len(v) == 4 and abs(np.linalg.det(v[1:] - v[0])) < 1e-9:  # a sheet: where the ray meets its plane, by triangles
        return triangle_hit(p, v[[0, 1, 2]], way) | triangle_hit(p, v[[0, 2, 3]], way)
    near, far = np.zeros(len(p)), np.full(len(p), np.inf)
    for *normal, offset in ConvexHull(v).equations:
        speed, gap = float(np.dot(normal, way)), -(p @ np.array(normal) + offset)
        if speed > 0:
            far = np.minimum(far, gap / speed)
        elif speed < 0:
            near = np.maximum(near, gap / speed)
    return near <= far


def triangle_hit(p: Array, corners: Array, way: Array) -> NDArray[np.bool_]:
    matrix = np.column_stack((-way, corners[1] - corners[0], corners[2] - corners[0]))
    if abs(np.linalg.det(matrix)) < 1e-14:
        return np.zeros(len(p), dtype=bool)
    t, u, v = np.linalg.solve(matrix, (p - corners[0]).T)
    return (t >= 0) & (u >= 0) & (v >= 0) & (u + v <= 1)


@pytest.fixture(scope="module")
def table() -> sky.SunTable:
    return sky.sun_table(HOME, days=(15,))


def sloping(x: Array, y: Array, height: float, slope: tuple[float, float]) -> Array:
    return height + slope[0] * x + slope[1] * y


@pytest.mark.parametrize(
    ("height", "slope", "y_bearing"), [(0.0, (0.0, 0.0), 0.0), (0.6, (0.0, 0.0), 37.0), (0.1, (0.08, -0.12), -110.0)]
)
def test_ground_map_equals_brute_ray_tests(
    table: sky.SunTable, height: float, slope: tuple[float, float], y_bearing: float
) -> None:
    found = sun.sun_hours(GRID, scene(), table, y_bearing=y_bearing, height=height, slope=slope, engine="compiled")
    points = GRID.points
    points = np.column_stack((points, sloping(points[:, 0], points[:, 1], height, slope)))
    chosen = np.random.default_rng(3).choice(len(points), 900, replace=False)
    expected = brute_hours(points[chosen], scene(), table, y_bearing)
    behind = table.towards_sun(y_bearing) @ np.array([-slope[0], -slope[1], 1.0]) <= 0
    if behind.any():  # light that falls on the back of the slope is not sun on it
        back = sky.SunTable(
            **{f: getattr(table, f)[behind] for f in ("month", "hours", "azimuth", "elevation", "afternoon")}
        )
        expected = expected - brute_hours(points[chosen], scene(), back, y_bearing)
    assert np.abs(found.reshape(12, -1)[:, chosen] - expected).max() < 0.01


@pytest.mark.parametrize("height", [0.0, 0.6])
def test_plain_numpy_gives_the_same_within_a_thousandth_of_an_hour(table: sky.SunTable, height: float) -> None:
    compiled = sun.sun_halves(GRID, scene(), table, height=height, y_bearing=20.0, engine="compiled")
    plain = sun.sun_halves(GRID, scene(), table, height=height, y_bearing=20.0, engine="plain")
    assert np.abs(compiled - plain).max() < 0.001


def wall_points(wall: sun.Wall) -> Array:
    along = np.subtract(wall.end, wall.start) / math.dist(wall.start, wall.end)
    grid = wall.grid
    spots = [
        (*(np.array(wall.start) + u * along + 1e-7 * np.array([along[1], -along[0]])), v)
        for v in grid.y
        for u in grid.x
    ]
    return np.array(spots)


@pytest.mark.parametrize("engine", ["compiled", "plain"])
@pytest.mark.parametrize(
    ("start", "end"),
    [((2.0, 3.0), (6.0, 3.0)), ((6.0, 3.0), (6.0, 8.0)), ((6.0, 8.0), (2.0, 8.0)), ((9.9, 2.0), (8.3, 11.5))],
)
def test_wall_points_equal_brute_ray_tests(
    table: sky.SunTable, start: tuple[float, float], end: tuple[float, float], engine: sun.Engine
) -> None:
    """The first three are the house's own walls; the last face cuts through two crowns and a trunk."""
    wall = sun.Wall(name="wall", start=start, end=end, top=2.7, cell=0.27)
    (found,) = sun.wall_sun_hours([wall], scene(), table, engine=engine)
    along = np.subtract(end, start) / math.dist(start, end)
    front = table.towards_sun()[:, :2] @ np.array([along[1], -along[0]]) > 0
    facing = sky.SunTable(
        **{f: getattr(table, f)[front] for f in ("month", "hours", "azimuth", "elevation", "afternoon")}
    )
    assert np.abs(found.reshape(12, -1) - brute_hours(wall_points(wall), scene(), facing)).max() < 0.01


def test_spots_agree_with_the_map(table: sky.SunTable) -> None:
    found = sun.sun_hours(GRID.points[::37], scene(), table)
    assert np.abs(found - sun.sun_hours(GRID, scene(), table).reshape(12, -1)[:, ::37]).max() < 0.001


def test_uneven_ground_on_one_level_is_the_level_map(table: sky.SunTable) -> None:
    level = sun.sun_hours(GRID, scene(), table, height=0.45)
    uneven = sun.sun_hours(GRID, scene(), table, height=np.full((GRID.rows, GRID.columns), 0.45))
    assert np.abs(level - uneven).max() < 1e-6


def test_uneven_ground_is_near_the_true_slope(table: sky.SunTable) -> None:
    heights = np.tile(0.05 * GRID.x, (GRID.rows, 1))
    points = np.column_stack((GRID.points, heights.ravel()))[::23]
    stepped = sun.sun_hours(GRID, scene(), table, height=heights).reshape(12, -1)[:, ::23]
    assert np.abs(stepped - brute_hours(points, scene(), table)).mean() < 0.05


def test_thin_east_west_wall_shades_the_closed_form_band(table: sky.SunTable) -> None:
    wall = panel("wall", (-5e4, 0.013), (5e4, 0.013), 0.0, 2.0)
    found = sun.sun_hours(GRID, [wall], table, engine="compiled")
    towards = table.towards_sun()
    reach = (
        2.0 * towards[:, 1] / towards[:, 2]
    )  # the shadow's edge lies this far south of the wall (north when negative)
    expected = np.zeros((12, GRID.rows))
    for row, y in enumerate(GRID.y - 0.013):
        lit = ~((y <= np.maximum(-reach, 0)) & (y >= np.minimum(-reach, 0)))
        expected[:, row] = np.bincount(table.month - 1, weights=table.hours * lit, minlength=12)
    assert np.abs(found - expected[:, :, None]).max() < 1e-5


def test_behind_an_endless_tall_wall_there_is_sun_while_it_is_on_that_side(table: sky.SunTable) -> None:
    wall = panel("wall", (-1e7, 0.0), (1e7, 0.0), 0.0, 1e6)
    found = sun.sun_hours(np.array([[0.0, 0.3048]]), [wall], table)[:, 0]
    north = np.cos(np.radians(table.azimuth)) > 0
    assert found == pytest.approx(np.bincount(table.month - 1, weights=table.hours * north, minlength=12), abs=1e-9)


def hours_above_horizon(latitude: float, date: dt.date) -> float:
    """Hours with the sun's centre above -50/60 deg from midnight to midnight UTC at longitude 0, by the minute
    with pvlib.
    """
    times = pd.date_range(dt.datetime.combine(date, dt.time()), periods=1441, freq="min", tz="UTC")
    true = pvlib.solarposition.get_solarposition(times, latitude, 0.0, 0.0)["elevation"].to_numpy() + 50 / 60
    low, high = np.minimum(true[1:], true[:-1]), np.maximum(true[1:], true[:-1])
    return float(np.clip(high / (high - low), 0.0, 1.0).sum()) / 60


@pytest.mark.parametrize("latitude", [-55.0, -20.0, 0.0, 40.0, 60.0, 66.0, 70.0, 78.0])
def test_open_field_gets_the_almanac_day_length_within_a_minute(latitude: float) -> None:
    place = Place(latitude=latitude, timezone="UTC")
    field = Grid(left=0, bottom=0, columns=2, rows=3)
    found = sun.sun_hours(field, [], sky.sun_table(place, days=(15,)), engine="plain")
    assert found.shape == (12, 3, 2)
    for month in range(12):
        expected = hours_above_horizon(latitude, dt.date(sky.YEAR, month + 1, 15))
        assert found[month] == pytest.approx(np.full((3, 2), expected), abs=1 / 60)


@pytest.mark.parametrize("latitude", [-50.0, 0.0, 40.0, 58.0])
def test_thirty_six_days_give_the_mean_day_length_of_pvlib(latitude: float) -> None:
    days = pd.DatetimeIndex([dt.datetime(sky.YEAR, m, d, tzinfo=dt.UTC) for m in range(1, 13) for d in sky.DAYS])
    times = pvlib.solarposition.sun_rise_set_transit_spa(days, latitude, 0.0)
    expected = ((times["sunset"] - times["sunrise"]).dt.total_seconds() / 3600).to_numpy().reshape(12, 3).mean(axis=1)
    found = sky.sun_table(Place(latitude=latitude, timezone="UTC")).day_length
    assert found == pytest.approx(expected, abs=1 / 60)


def test_polar_summer_has_24_hours_and_polar_winter_none() -> None:
    place = Place(latitude=70.0, longitude=20.0, timezone="Europe/Oslo")
    lengths = sky.sun_table(place).day_length
    assert lengths[5] == pytest.approx(24.0)
    assert lengths[11] == 0.0
    assert sky.sun_day(place, dt.date(2025, 12, 15)).rise is None
    assert sky.sun_day(place, dt.date(2025, 6, 15)).hours == 24.0


@pytest.mark.parametrize("longitude", [-179.9, -120.0, 0.0, 95.0, 179.9])
def test_day_length_does_not_depend_on_the_side_of_the_date_line(longitude: float) -> None:
    found = sky.sun_table(Place(latitude=40.0, longitude=longitude, timezone="UTC")).day_length
    assert found == pytest.approx(sky.sun_table(Place(latitude=40.0, timezone="UTC")).day_length, abs=1.5 / 60)


def test_each_step_lies_in_its_own_half_day_above_the_horizon(table: sky.SunTable) -> None:
    """North of the tropics the sun is east of south before solar noon and west of it after; 0.1 is the least it is
    given, which no middle of a step comes down to.
    """
    assert np.array_equal(table.afternoon, table.azimuth > 180)
    assert table.elevation.min() > 0.1


def test_morning_and_afternoon_add_up_and_an_east_fence_takes_the_morning(table: sky.SunTable) -> None:
    fence = panel("east fence", (0.0, -40.0), (0.0, 40.0), 0.0, 3.0)
    spot = np.array([[-0.5, 0.0]])
    halves = sun.sun_halves(spot, [fence], table)
    open_halves = sun.sun_halves(spot, [], table)
    assert halves[1] == pytest.approx(open_halves[1])
    assert (halves[0] < open_halves[0] - 2).all()
    assert open_halves[0] == pytest.approx(open_halves[1], abs=0.03)  # noon halves the day but for the sun's own motion


def test_light_through_two_bodies_multiplies(table: sky.SunTable) -> None:
    one = panel("net", (-500.0, 0.0), (500.0, 0.0), 0.0, 900.0, light=(0.5,) * 12)
    two = panel("net", (-500.0, -0.1), (500.0, -0.1), 0.0, 900.0, light=(0.5,) * 12)
    spot = Grid(left=0.0, bottom=0.5, columns=1, rows=1)
    clear, single, double = (sun.sun_hours(spot, s, table, engine="plain")[0, 0, 0] for s in ([], [one], [one, two]))
    assert single == pytest.approx(clear / 2, abs=1e-4)
    assert double == pytest.approx(clear / 4, abs=1e-4)


def test_progress_runs_up_to_one(table: sky.SunTable) -> None:
    told: list[float] = []
    sun.sun_hours(GRID, scene(), table, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_wall_faces_the_right_hand_and_a_north_wall_gets_no_winter_sun(table: sky.SunTable) -> None:
    south = sun.Wall(name="south", start=(0.0, 0.0), end=(4.0, 0.0))
    north = sun.Wall(name="north", start=(4.0, 0.0), end=(0.0, 0.0))
    on_south, on_north = (w[:, 0, 0] for w in sun.wall_sun_hours([south, north], [], table))
    assert on_north[0] == 0.0
    assert on_south[0] == pytest.approx(table.day_length[0])
    assert on_south + on_north == pytest.approx(table.day_length)


def test_shadow_outline_holds_exactly_the_points_that_rays_find_dark() -> None:
    way = np.array([0.5, -0.4, 0.45]) / np.linalg.norm([0.5, -0.4, 0.45])
    for solid in scene():
        for height in (0.0, 0.4):
            cast = shadow(solid, (way[0] / way[2], way[1] / way[2]), height=height, sides=720)
            points = np.random.default_rng(5).uniform(-12, 14, (4000, 2))
            hit = brute_hit(np.column_stack((points, np.full(4000, height))), solid, way)
            if not cast:
                assert not hit.any()
                continue
            assert (shapely.contains_xy(shapely.Polygon(cast), points) == hit).mean() > 0.999


def test_a_grid_covers_its_outline_and_refuses_a_cell_of_nothing() -> None:
    grid = grid_over(((0.0, 0.0), (18.288, 0.0), (18.288, 36.576), (0.0, 36.576)))
    assert (grid.columns, grid.rows) == (120, 240)
    with pytest.raises(GardenError, match="cell size is 0 m"):
        grid_over(((0.0, 0.0), (1.0, 1.0)), cell=0.0)
    with pytest.raises(GardenError, match="give at least"):
        grid_over(((0.0, 0.0), (1000.0, 1000.0)), cell=0.01)


def test_a_place_off_the_earth_and_a_bad_zone_are_refused() -> None:
    with pytest.raises(GardenError, match="no place on earth"):
        sky.sun_table(Place(latitude=139.0))
    with pytest.raises(GardenError, match="not a known time zone"):
        sky.sun_day(Place(timezone="Mars/Base"), dt.date(2025, 1, 1))
    with pytest.raises(GardenError, match="step is 0 minutes"):
        sky.sun_table(HOME, step_minutes=0)


@pytest.mark.parametrize("setting", list(sun_classes.SUN_CLASSES))
def test_every_hour_has_one_class_and_more_sun_is_never_shadier(setting: str) -> None:
    hours = np.linspace(0, 24, 2401)
    numbers = sun_classes.class_map(hours, setting=setting)
    assert (np.diff(numbers) >= 0).all()
    assert set(numbers) == set(range(len(sun_classes.sun_classes(setting).classes)))
    assert [sun_classes.sun_class(h, setting=setting).name for h in (0.0, 24.0)] == ["full shade", "full sun"]


@pytest.mark.parametrize(
    ("setting", "hours", "name"),
    [
        ("Nebraska Extension", 6.0, "full sun"),
        ("Nebraska Extension", 3.0, "light shade"),
        ("Nebraska Extension", 5.0, "light shade"),
        ("Nebraska Extension", 0.0, "full shade"),
        ("newspaper column", 4.0, "part sun"),
        ("newspaper column", 2.0, "part shade"),
        ("newspaper column", 1.99, "full shade"),
        ("Central Michigan University", 6.0, "full sun"),
        ("Central Michigan University", 2.99, "full shade"),
        ("full sun 6 h and more", 6.0, "full sun"),
        ("full sun 6 h and more", 2.99, "full shade"),
        ("full sun over 6 h", 6.0, "part sun or part shade"),
        ("full sun over 6 h", 6.01, "full sun"),
        ("full sun over 6 h", 3.99, "full shade"),
        ("LSU AgCenter", 8.0, "full sun"),
        ("LSU AgCenter", 6.0, "part sun"),
        ("LSU AgCenter", 4.0, "part shade"),
        ("LSU AgCenter", 2.0, "full shade"),
        ("Missouri Botanical Garden", 6.0, "full sun"),
        ("Missouri Botanical Garden", 1.99, "full shade"),
    ],
)
def test_sun_classes_follow_their_publishers(setting: str, hours: float, name: str) -> None:
    assert sun_classes.sun_class(hours, setting=setting).name == name


def test_sun_classes_refuse_a_wrong_name_and_impossible_hours() -> None:
    with pytest.raises(GardenError, match='nearest known is "Nebraska Extension"'):
        sun_classes.class_map(np.zeros(1), setting="Nebraska Extention")
    with pytest.raises(GardenError, match="25 hours of sun"):
        sun_classes.sun_class(25)


def entry(sunny: bool, start: int, end: int) -> sun_diary.Observation:
    return sun_diary.Observation(
        at=(0.0, 0.5), date=dt.date(2025, 10, 17), start=dt.time(start), end=dt.time(end), sunny=sunny
    )


def test_diary_agrees_with_a_wall_to_the_south_and_doubts_what_cannot_be() -> None:
    wall = panel("garden wall", (-50.0, 0.0), (50.0, 0.0), 0.0, 3.0)
    report = sun_diary.compare([entry(False, 11, 13), entry(True, 12, 14), entry(False, 2, 3)], [wall], HOME)
    assert [line.agrees for line in report.lines] == [True, False, True]
    assert report.agreement == pytest.approx(2 / 3)
    assert "garden wall" in report.findings[0].what
    assert report.findings[-1].seriousness == "warning"


def test_diary_with_nothing_in_the_way_expects_sun() -> None:
    report = sun_diary.compare([entry(True, 9, 11), entry(False, 12, 13)], [], HOME)
    assert [line.light for line in report.lines] == [1.0, 1.0]
    assert "not on the record" in report.findings[0].what
    with pytest.raises(GardenError, match="before its start"):
        sun_diary.compare([entry(True, 13, 11)], [], HOME)


def test_the_kernel_compiles_without_a_cache_folder_it_may_write() -> None:
    """Where neither the package's folder nor the user's can be written, Numba finds no place and says so; no cache
    then.
    """
    script = (
        "from numba.core import caching\n"
        "caching.CacheImpl._locator_classes = []\n"
        "from gardenkit.site import sun_kernel\n"
        "import numpy as np\n"
        "row = np.full(3, 1e30), np.full(3, -1e30)\n"
        "sun_kernel._line(row[0], row[1], 3, 0.0, 0.0, 4.0, 2.0)\n"
        "assert row[0].tolist() == [0.0, 2.0, 4.0]\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_importing_sun_does_not_load_numba_or_pvlib() -> None:
    script = "import sys, gardenkit.site.sun\nassert not {'numba', 'pvlib', 'scipy', 'pandas'} & set(sys.modules)\n"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_the_first_picture_and_the_compiled_one_agree(table: sky.SunTable) -> None:
    first = sun.sun_hours(GRID, scene(), table)
    assert np.abs(first - sun.sun_hours(GRID, scene(), table, engine="compiled")).max() < 0.001
    assert sun.compiled_ready()


def test_the_sun_stands_where_the_whole_of_pvlib_has_it_though_one_file_of_it_is_loaded() -> None:
    moments = np.array([1.7e9, 1.71e9, 1.72e9])
    pressure = pvlib.atmosphere.alt2pres(120.0)
    assert sky.pressure_at(120.0) == pytest.approx(pressure, rel=1e-12)
    expected = pvlib.spa.solar_position_numpy(
        moments, 51.0, -1.0, 120.0, pressure / 100, 12.0, sky.DELTA_T, 0.5667, None
    )
    azimuth, seen, true, _ = sky.positions(moments, 51.0, -1.0, 120.0)
    assert [azimuth.tolist(), seen.tolist(), true.tolist()] == [expected[k].tolist() for k in (4, 2, 3)]
    script = (
        "import sys\nfrom gardenkit.site import sky\nsky.positions([0.0], 51.0, 0.0)\nassert 'pvlib' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", script], check=True, timeout=60)
