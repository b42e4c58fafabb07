"""Houses, fences and trees become bodies of the right size, and their shadows fall where the clock says."""

import datetime as dt
import math

import numpy as np
import pytest
import shapely

from gardenkit.findings import GardenError
from gardenkit.geometry.grid import Grid
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, block, panel, top_of
from gardenkit.site import shade, sky, sun
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Site

PLACE = Place(latitude=40.0, longitude=-75.0, elevation=50.0, timezone="America/New_York")
RECTANGLE = ((0.0, 0.0), (10.0, 0.0), (10.0, 6.0), (0.0, 6.0))
ELL = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 9.0), (0.0, 9.0))


def roof_of(building: Building) -> Hull:
    return next(s for s in shade.building_solids(building) if s.name.endswith("roof"))


def test_gable_ridge_runs_along_the_longer_side_over_both_eaves() -> None:
    roof = roof_of(Building(name="House", outline=RECTANGLE, eaves=2.7, ridge_height=4.5, overhang=0.4))
    peak = roof.vertices[np.isclose(roof.vertices[:, 2], 4.5)]
    assert sorted(map(tuple, np.round(peak, 9))) == [(-0.4, 3.0, 4.5), (10.4, 3.0, 4.5)]
    edge = roof.vertices[np.isclose(roof.vertices[:, 2], 2.7)]
    assert sorted(map(tuple, np.round(edge[:, :2], 9))) == [(-0.4, -0.4), (-0.4, 6.4), (10.4, -0.4), (10.4, 6.4)]


def test_gable_follows_the_recorded_ridge() -> None:
    roof = roof_of(Building(name="House", outline=RECTANGLE, ridge=((5.0, -0.4), (5.0, 6.4))))
    peak = roof.vertices[np.isclose(roof.vertices[:, 2], 4.5)]
    assert peak[:, 0] == pytest.approx([5.0, 5.0])


def test_hip_ridge_is_drawn_in_by_half_the_width() -> None:
    roof = roof_of(Building(name="House", outline=RECTANGLE, roof="hip", overhang=0.0))
    peak = roof.vertices[np.isclose(roof.vertices[:, 2], 4.5)]
    assert sorted(peak[:, 0]) == pytest.approx([3.0, 7.0])


def test_hip_over_a_square_is_a_pyramid() -> None:
    square = ((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0))
    roof = roof_of(Building(name="House", outline=square, roof="hip", overhang=0.0))
    peak = roof.vertices[np.isclose(roof.vertices[:, 2], 4.5)]
    assert peak[:, :2] == pytest.approx(np.array([[3.0, 3.0], [3.0, 3.0]]))


def test_shed_roof_rises_to_the_side_of_its_ridge() -> None:
    roof = roof_of(Building(name="Shed", outline=RECTANGLE, roof="shed", overhang=0.0, ridge=((0.0, 6.0), (10.0, 6.0))))
    top = {(x, y): z for x, y, z in np.round(roof.vertices, 9)[4:]}
    assert top[(0.0, 6.0)] == top[(10.0, 6.0)] == 4.5
    assert top[(0.0, 0.0)] == top[(10.0, 0.0)] == 2.7


def test_flat_roof_ends_at_the_eaves() -> None:
    assert top_of(roof_of(Building(name="Hut", outline=RECTANGLE, roof="flat", eaves=2.4))) == 2.4


def test_house_with_an_inner_corner_is_covered_part_by_part_and_no_more() -> None:
    solids = shade.building_solids(Building(name="House", outline=ELL, roof="flat", overhang=0.0))
    walls = [shapely.MultiPoint(s.vertices[:, :2]).convex_hull for s in solids if s.name.endswith("walls")]
    assert shapely.union_all(walls).symmetric_difference(shapely.Polygon(ELL)).area == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("roof", ["flat", "gable", "hip", "shed"])
@pytest.mark.parametrize("outline", [RECTANGLE, ELL, ((0.0, 0.0), (8.0, 1.0), (3.0, 6.0))])
def test_named_edges_of_a_roof_cast_the_same_as_its_whole_hull(
    roof: str, outline: tuple[tuple[float, float], ...]
) -> None:
    """Naming too few edges would leave light inside a shadow."""
    table = sky.sun_table(PLACE, days=(15,), step_minutes=60)
    named = shade.building_solids(Building(name="House", outline=outline, roof=roof))  # type: ignore[arg-type]
    every = [Hull(name=s.name, vertices=s.vertices) for s in named]
    grid = Grid(left=-6.0, bottom=-6.0, columns=44, rows=44, cell=0.5)
    assert np.array_equal(*(sun.sun_hours(grid, s, table, engine="compiled") for s in (named, every)))


def test_walls_of_a_house_face_outwards() -> None:
    house = Building(name="House", outline=tuple(reversed(RECTANGLE)), eaves=2.7)
    for wall in shade.building_walls(house):
        along = np.subtract(wall.end, wall.start)
        outward = np.array([along[1], -along[0]])
        assert outward @ (np.add(wall.start, wall.end) / 2 - (5.0, 3.0)) > 0


def test_eaves_shade_the_top_of_a_south_wall_at_midsummer() -> None:
    table = sky.sun_table(PLACE, days=(15,))
    house = Building(name="House", outline=RECTANGLE, overhang=0.6, eaves=2.7)
    south = shade.building_walls(house)[0]
    (hours,) = sun.wall_sun_hours([south], shade.building_solids(house), table)
    middle = hours.shape[2] // 2
    assert hours[5, -1, middle] < 1.0
    assert hours[5, 0, middle] > 4.0
    assert hours[11, 0, middle] == pytest.approx(table.day_length[11], abs=0.01)


def test_fence_follows_its_corners_and_the_ground() -> None:
    fence = Fence(name="Hedge", line=((0.0, 0.0), (5.0, 0.0), (5.0, 4.0)), height=1.5, openness=0.3)
    low, high = shade.fence_solids(fence, ground=lambda at: 0.1 * at[0])
    assert low.vertices[:, 2] == pytest.approx([0.0, 0.5, 2.0, 1.5])
    assert high.vertices[:, 2] == pytest.approx([0.5, 0.5, 2.0, 2.0])
    assert low.light == (0.3,) * 12


@pytest.mark.parametrize("form", shade.FORMS)
def test_crowns_reach_the_given_height_and_spread_and_no_further(form: str) -> None:
    *_, crown = shade.tree_solids("Tree", (3.0, 4.0), 9.0, 6.0, form, 2.0, 0.3, (0.2,) * 12, 0.5)
    assert top_of(crown) == pytest.approx(9.5)
    assert not isinstance(crown, Hull)
    assert crown.radius == 3.0
    bottom = crown.centre[2] - crown.half_height if isinstance(crown, Ellipsoid) else crown.base
    assert 0.5 <= bottom < 9.5
    assert bottom >= 2.5 or form == "weeping"


def test_crown_forms_are_the_bodies_they_are_called() -> None:
    kinds = {form: type(shade.tree_solids("T", (0, 0), 8.0, 4.0, form)[-1]) for form in ("conical", "columnar", "oval")}
    assert kinds == {"conical": Cone, "columnar": Column, "oval": Ellipsoid}


def test_trunk_stands_from_the_ground_to_the_lowest_leaves() -> None:
    trunk, _ = shade.existing_tree_solids(
        ExistingTree(name="Oak", at=(1.0, 2.0), height=10.0, spread=8.0, crown_base=3.0, trunk_diameter=0.5),
        ground=-0.2,
    )
    assert isinstance(trunk, Column)
    assert (trunk.base, trunk.top, trunk.radius) == (-0.2, pytest.approx(2.8), 0.25)
    assert trunk.light == (0.0,) * 12


def test_leaves_come_through_april_and_fall_through_october() -> None:
    light = shade.light_by_month(0.2, 0.6, 4, 10)
    assert light[:3] == pytest.approx((0.6, 0.6, 0.6))
    assert light[3] == pytest.approx(0.4, abs=0.001)
    assert light[4:9] == pytest.approx((0.2,) * 5)
    assert light[9] == pytest.approx(0.4, abs=0.001)
    assert light[10:] == pytest.approx((0.6, 0.6))


def test_parts_of_a_month_are_interpolated() -> None:
    light = shade.light_by_month(0.0, 1.0, 4.5, 10)  # from mid April to mid May: an eighth of the leaves in April
    assert light[3] == pytest.approx(1 - 1 / 8, abs=0.002)
    assert light[4] == pytest.approx(1 / 8, abs=0.002)


def test_a_southern_year_is_the_northern_one_six_months_on() -> None:
    north, south = shade.light_by_month(0.2, 0.6, 4, 10), shade.light_by_month(0.2, 0.6, 10, 4)
    assert south == pytest.approx(north[6:] + north[:6])


def test_evergreens_are_the_same_all_year() -> None:
    assert shade.light_by_month(0.1, 0.6, None, None) == (0.1,) * 12


def test_site_solids_leave_out_trees_that_will_go() -> None:
    trees = tuple(
        ExistingTree(name=n, at=(0.0, 0.0), height=5.0, spread=3.0, keep=n == "stays") for n in ("stays", "goes")
    )
    site = Site(
        trees=trees,
        fences=(Fence(name="F", line=((0.0, 0.0), (1.0, 0.0))),),
        buildings=(Building(name="H", outline=ELL),),
    )
    names = [s.name for s in shade.site_solids(site)]
    assert not any("goes" in name for name in names)
    assert {"stays", "stays trunk", "F", "H walls", "H roof"} == set(names)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: shade.tree_solids("Elm", (0, 0), 0.0, 3.0), "above 0 m"),
        (lambda: shade.tree_solids("Elm", (0, 0), 5.0, 3.0, "collumnar"), 'nearest known is "columnar"'),
        (lambda: shade.tree_solids("Elm", (0, 0), 5.0, 3.0, light_months=(0.2,) * 11), "twelve shares"),
        (lambda: shade.light_by_month(1.2, 0.5, 4, 10, where='tree "Elm"'), 'tree "Elm" lets 1.2'),
        (lambda: shade.light_by_month(0.2, 0.5, 4, 4), "two different months"),
        (lambda: shade.fence_solids(Fence(name="F", line=((0, 0), (1, 0)), height=0.0)), 'fence "F" is 0 m high'),
        (lambda: shade.fence_solids(Fence(name="F", line=((0, 0), (1, 0)), openness=40.0)), "share from 0 to 1"),
    ],
)
def test_impossible_records_are_refused_in_one_sentence(make: object, message: str) -> None:
    assert callable(make)
    with pytest.raises(GardenError, match=message):
        make()


def test_shadow_points_away_from_the_sun_at_daylight_saving_noon() -> None:
    """13:00 daylight time at the zone's meridian is solar noon but for the equation of time; the shadow falls
    north.
    """
    post = block("post", ((-0.05, -0.05), (0.05, -0.05), (0.05, 0.05), (-0.05, 0.05)), 0.0, 2.0)
    (summer,) = shade.shadows_at((post,), PLACE, dt.datetime.fromisoformat("2025-06-14T13:00"))
    x, y = np.array(summer.outline)[np.argmax(np.array(summer.outline)[:, 1])]
    altitude = sky.sun_position(PLACE, dt.datetime.fromisoformat("2025-06-14T13:00")).elevation
    assert y == pytest.approx(2.0 / math.tan(math.radians(altitude)) + 0.05, abs=0.01)
    assert abs(x) < 0.07
    (early,) = shade.shadows_at((post,), PLACE, dt.datetime.fromisoformat("2025-06-14T12:00"))
    assert np.array(early.outline)[:, 0].min() < -0.3  # an hour before, the shadow leans west


def test_shadows_turn_with_the_plan() -> None:
    fence = panel("fence", (0.0, 0.0), (4.0, 0.0), 0.0, 2.0)
    when = dt.datetime.fromisoformat("2025-03-20T15:30")
    (upright,) = shade.shadows_at((fence,), PLACE, when)
    turned_fence = panel("fence", (0.0, 0.0), (0.0, -4.0), 0.0, 2.0)  # the plan turned 90 degrees clockwise
    (turned,) = shade.shadows_at((turned_fence,), PLACE, when, y_bearing=-90.0)
    expected = shapely.Polygon([(y, -x) for x, y in upright.outline])
    assert shapely.Polygon(turned.outline).symmetric_difference(expected).area == pytest.approx(0.0, abs=1e-9)


def test_no_shadows_at_night_and_opacity_follows_the_month() -> None:
    crown = Ellipsoid(name="crown", centre=(0.0, 0.0, 3.0), radius=1.0, half_height=1.0, light=(0.7,) * 6 + (0.2,) * 6)
    assert shade.shadows_at((crown,), PLACE, dt.datetime.fromisoformat("2025-06-14T23:00")) == ()
    winter, summer = (
        shade.shadows_at((crown,), PLACE, dt.datetime.fromisoformat(f"2025-{m:02}-14T12:00"))[0] for m in (1, 8)
    )
    assert (winter.opacity, summer.opacity) == (pytest.approx(0.3), pytest.approx(0.8))


def test_a_body_below_the_level_casts_nothing_on_it() -> None:
    low = block("step", RECTANGLE, 0.0, 0.3)
    assert shade.shadows_at((low,), PLACE, dt.datetime.fromisoformat("2025-06-14T12:00"), height=0.5) == ()
