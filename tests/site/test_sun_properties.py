"""What must hold of sun and shade for any garden: turning the plan, adding bodies, other hemispheres."""

import datetime as dt

import attrs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.geometry import plane
from gardenkit.geometry.grid import Grid
from gardenkit.geometry.solid import Column, Cone, Ellipsoid, Hull, Solid, block, panel
from gardenkit.site import sky, sun
from gardenkit.site.place import Place

HOME = Place(latitude=42.0, longitude=-88.0, timezone="America/Chicago")
GRID = Grid(left=0.0, bottom=0.0, columns=12, rows=9, cell=1.0)
COARSE = sky.sun_table(HOME, days=(15,), step_minutes=60)
inside = st.tuples(st.floats(-3, 15), st.floats(-3, 12))
share = st.sampled_from([0.0, 0.15, 0.4, 0.9])
size = st.floats(0.3, 4)
EXAMPLES = settings(max_examples=25, deadline=None)


@st.composite
def bodies(draw: st.DrawFn) -> Solid:
    at, light = draw(inside), (draw(share),) * 12
    wide, low, tall = draw(size), draw(st.floats(-0.5, 2)), draw(size)
    kind = draw(st.sampled_from(["round", "column", "cone", "block", "panel"]))
    if kind == "round":
        return Ellipsoid(name=kind, centre=(*at, low + tall), radius=wide, half_height=tall, light=light)
    if kind == "column":
        return Column(name=kind, at=at, radius=wide, base=low, top=low + tall, light=light)
    if kind == "cone":
        return Cone(name=kind, at=at, radius=wide, base=low, top=low + tall, light=light)
    if kind == "panel":
        return panel(kind, at, (at[0] + wide, at[1] + 0.77), low, low + tall, light=light)
    return block(kind, plane.moved(((0, 0), (wide, 0.13), (wide, 1), (0.2, 1.4)), at), low, low + tall, light=light)


def turned(solid: Solid, degrees: float) -> Solid:
    if isinstance(solid, Hull):
        flat = np.array(plane.turned(solid.vertices, degrees))
        return attrs.evolve(solid, vertices=np.column_stack((flat, solid.vertices[:, 2])))
    if isinstance(solid, Ellipsoid):
        (at,) = plane.turned([solid.centre], degrees)
        return attrs.evolve(solid, centre=(*at, solid.centre[2]))
    return attrs.evolve(solid, at=plane.turned([solid.at], degrees)[0])


def off_edges(a: np.ndarray, b: np.ndarray) -> float:
    """Share of the months' spots whose hours differ: a spot exactly on a shadow's edge may fall either way by
    rounding.
    """
    return float((np.abs(a - b) > 1e-6).mean())


@EXAMPLES
@given(st.lists(bodies(), min_size=1, max_size=4), st.floats(-360, 360), st.floats(-180, 180))
def test_turning_the_plan_by_any_angle_changes_nothing(solids: list[Solid], degrees: float, north: float) -> None:
    before = sun.sun_hours(GRID.points, solids, COARSE, y_bearing=north)
    points = np.array(plane.turned(GRID.points, degrees))
    after = sun.sun_hours(points, [turned(s, degrees) for s in solids], COARSE, y_bearing=north - degrees)
    assert off_edges(before, after) < 0.002


@EXAMPLES
@given(st.lists(bodies(), min_size=1, max_size=4), st.floats(-180, 180))
def test_a_quarter_turn_turns_the_map(solids: list[Solid], north: float) -> None:
    before = sun.sun_hours(GRID, solids, COARSE, y_bearing=north, engine="compiled")
    quarter = Grid(left=0.0, bottom=-12.0, columns=9, rows=12, cell=1.0)  # the same ground, turned clockwise
    after = sun.sun_hours(quarter, [turned(s, 90) for s in solids], COARSE, y_bearing=north - 90, engine="compiled")
    assert off_edges(before, np.flip(after, axis=1).transpose(0, 2, 1)) < 0.002


@EXAMPLES
@given(st.lists(bodies(), min_size=0, max_size=3), bodies(), st.floats(-180, 180))
def test_more_bodies_never_add_sun(solids: list[Solid], extra: Solid, north: float) -> None:
    fewer = sun.sun_hours(GRID, solids, COARSE, y_bearing=north, engine="compiled")
    more = sun.sun_hours(GRID, [*solids, extra], COARSE, y_bearing=north, engine="compiled")
    assert (more <= fewer + 1e-5).all()
    assert (more >= 0).all()
    assert (fewer <= COARSE.day_length[:, None, None] + 1e-9).all()


@EXAMPLES
@given(st.lists(bodies(), min_size=1, max_size=4), st.floats(-180, 180), st.floats(-0.3, 1.5))
def test_map_rays_and_plain_numpy_agree(solids: list[Solid], north: float, height: float) -> None:
    compiled = sun.sun_hours(GRID, solids, COARSE, y_bearing=north, height=height, engine="compiled")
    plain = sun.sun_hours(GRID, solids, COARSE, y_bearing=north, height=height, engine="plain")
    rays = sun.sun_hours(GRID.points, solids, COARSE, y_bearing=north, height=height).reshape(compiled.shape)
    assert np.abs(compiled - plain).max() < 0.001
    assert float((np.abs(compiled - rays) > 0.001).mean()) < 0.002


def declinations(dates: tuple[dt.date, ...]) -> np.ndarray:
    """The sun's declination in degrees at noon on each date, from its height over the equator."""
    noon, _, _ = sky.day_events(0.0, 0.0, 0.0, dates)
    azimuth, _, true, _ = sky.positions(noon, 0.0, 0.0)
    return np.where(np.cos(np.radians(azimuth)) > 0, 90 - true, true - 90)


YEAR = tuple(dt.date(2025, 1, 1) + dt.timedelta(days=d) for d in range(365))
DECLINATION = declinations(YEAR)
MIDDLES = declinations(tuple(dt.date(sky.YEAR, m, 15) for m in range(1, 13)))


@settings(max_examples=10, deadline=None)
@given(st.floats(-62, 62))
def test_day_length_follows_the_hour_angle_of_the_almanac_horizon(latitude: float) -> None:
    """cos H = (sin(-50') - sin phi sin delta) / (cos phi cos delta); 0.02 h is the sun's drift within the day."""
    found = sky.sun_table(Place(latitude=latitude), days=(15,), step_minutes=60).day_length
    phi, delta = np.radians(latitude), np.radians(MIDDLES)
    cosine = (np.sin(np.radians(-50 / 60)) - np.sin(phi) * np.sin(delta)) / (np.cos(phi) * np.cos(delta))
    assert found == pytest.approx(24 / np.pi * np.arccos(cosine), abs=0.02)


@EXAMPLES
@given(st.lists(bodies(), min_size=1, max_size=4), st.floats(-180, 180))
def test_a_mirrored_garden_under_a_mirrored_sun_gets_the_mirrored_map(solids: list[Solid], north: float) -> None:
    """The southern hemisphere: everything reflected in the east-west line, the sun's azimuth a as 180 - a."""
    before = sun.sun_hours(GRID, solids, COARSE, y_bearing=north, engine="compiled")
    southern = attrs.evolve(COARSE, azimuth=180.0 - COARSE.azimuth)
    grid = Grid(left=0.0, bottom=-9.0, columns=12, rows=9, cell=1.0)
    after = sun.sun_hours(grid, [mirrored(s) for s in solids], southern, y_bearing=-north, engine="compiled")
    assert off_edges(before, after[:, ::-1]) < 0.002


def mirrored(solid: Solid) -> Solid:
    if isinstance(solid, Hull):
        return attrs.evolve(solid, vertices=solid.vertices * (1, -1, 1))
    if isinstance(solid, Ellipsoid):
        return attrs.evolve(solid, centre=(solid.centre[0], -solid.centre[1], solid.centre[2]))
    return attrs.evolve(solid, at=(solid.at[0], -solid.at[1]))


@settings(max_examples=10, deadline=None)
@given(st.floats(0, 60), st.sampled_from(range(1, 180, 7)))
def test_the_south_has_the_day_the_north_has_when_the_sun_stands_as_far_the_other_side(
    latitude: float, day: int
) -> None:
    dates, declination = YEAR, DECLINATION
    opposite = int(np.abs(declination[180:] + declination[day]).argmin()) + 180
    mismatch = abs(declination[opposite] + declination[day])  # whole days: up to 0.2 degrees near the equinox
    north = sky.sun_day(Place(latitude=latitude), dates[day])
    south = sky.sun_day(Place(latitude=-latitude), dates[opposite])
    assert north.hours == pytest.approx(south.hours, abs=0.02 + 0.3 * mismatch)
    high = [
        sky.sun_position(Place(latitude=p), d.noon).true_elevation for p, d in ((latitude, north), (-latitude, south))
    ]
    assert high[0] == pytest.approx(high[1], abs=0.01 + mismatch)
