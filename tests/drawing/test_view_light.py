"""Light in the picture: the sun stands where the almanac has it, and its shadows are the sun map's own."""

import math
from pathlib import Path

import numpy as np
import pytest

from gardenkit import storage
from gardenkit.drawing.plan_shadows import plan_shadows
from gardenkit.drawing.scene import Area
from gardenkit.drawing.view_camera import Camera
from gardenkit.drawing.view_ground import stage
from gardenkit.drawing.view_shadows import fallen
from gardenkit.drawing.view_sun import sunlight
from gardenkit.geometry import plane
from gardenkit.geometry.solid import Column, Ellipsoid, block
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.solids import solids
from gardenkit.site.place import Place
from gardenkit.site.site import Building, Site
from gardenkit.site.sun_rays import light_at

EXAMPLES = Path(__file__).parents[2] / "examples"
GREENWICH = Place(name="Greenwich", latitude=51.4769, longitude=0.0, timezone="Europe/London")
PLOT = ((-30.0, -30.0), (30.0, -30.0), (30.0, 30.0), (-30.0, 30.0))


def camera() -> Camera:
    return Camera(eye=(0.0, -20.0, 1.6), towards=0.0, angle=65.0, width=240.0)


def test_a_post_throws_the_shadow_that_its_height_over_the_tangent_of_the_sun_gives() -> None:
    site = Site(place=GREENWICH, boundary=PLOT)
    sun = sunlight(site, 6, 13.0)
    assert sun is not None
    # 21 June at Greenwich: declination 23.44 degrees, so at noon the sun stands 90 - 51.48 + 23.44 = 61.96 degrees high
    # (Nautical Almanac relation h = 90 - latitude + declination); 13:00 summer time is two minutes before solar noon.
    assert sun.elevation == pytest.approx(61.96, abs=0.1)
    post = Column(name="post", at=(0.0, 0.0), radius=0.05, base=0.0, top=2.0)
    ((region, through),) = fallen(stage(site, camera(), 6, hour=13.0), [post], sun)
    assert through == 0.0
    assert max(y for _, y in plane.corners(region)) == pytest.approx(
        2.0 / math.tan(math.radians(61.96)) + 0.05, abs=0.02
    )


def test_shadows_are_those_that_rays_to_the_sun_find() -> None:
    site = Site(place=GREENWICH, boundary=PLOT, y_bearing=25.0)
    bodies = [
        block("house", ((-4.0, -3.0), (4.0, -3.0), (4.0, 3.0), (-4.0, 3.0)), 0.0, 5.0),
        Ellipsoid(name="tree", centre=(8.0, 2.0, 4.0), radius=2.5, half_height=2.5),
    ]
    sun = sunlight(site, 4, 10.0)
    assert sun is not None
    scene = stage(site, camera(), 4, hour=10.0)
    shade = plane.union(region for region, _ in fallen(scene, bodies, sun))
    x, y = np.meshgrid(np.arange(-15, 20, 0.5) + 0.11, np.arange(-12, 16, 0.5) + 0.07)
    spots = np.column_stack((x.ravel(), y.ravel(), np.full(x.size, 0.001)))
    lit = light_at(spots, bodies, np.array([sun.towards]), month=4)[:, 0] > 0.5
    near_edge = (
        plane.point_distances(spots[:, :2], plane.line([*plane.rings(shade)[0], plane.rings(shade)[0][0]])) < 0.05
    )
    dark = plane.inside(shade, spots[:, :2])
    assert dark.sum() > 50
    assert not np.any((dark == lit) & ~near_edge)


def test_the_sun_of_the_south_comes_from_the_north() -> None:
    site = Site(place=Place(latitude=-37.8, longitude=145.0, timezone="Australia/Melbourne"), boundary=PLOT)
    sun = sunlight(site, 12, 13.0)
    assert sun is not None
    assert min(sun.bearing, 360 - sun.bearing) < 40


def test_a_low_winter_sun_is_not_asked_for_at_night() -> None:
    site = Site(place=GREENWICH, boundary=PLOT)
    assert sunlight(site, 12, 22.0) is None
    early, late = (sunlight(site, 9, 13.0, day=day) for day in (1, 31))  # September has no 31st: its last day
    assert early is not None and late is not None
    assert late == sunlight(site, 9, 13.0, day=30)
    assert early.elevation - late.elevation == pytest.approx(11.1, abs=0.3)  # the sun sinks 11 degrees in September
    afternoon = sunlight(site, 12)
    assert afternoon is not None
    assert afternoon.hour < 16.0  # by four the sun is down at Greenwich in December; the picture takes an earlier hour
    assert sunlight(Site(boundary=PLOT), 6) is None


def test_the_shadows_of_a_view_turn_with_the_hour() -> None:
    from gardenkit.drawing.svg import svg
    from gardenkit.drawing.view import places_to_look_from, view_scene
    from gardenkit.project.layout import layout
    from gardenkit.project.season import catalogue_of

    folder = EXAMPLES / "fennel_street_corner"
    project = storage.load(folder).project
    worked, catalogue = layout(project), catalogue_of(folder)
    gate = places_to_look_from(project, worked)[0]
    pictures = {
        hour: svg(
            view_scene(
                project, worked, catalogue, eye=gate.eye, towards=gate.towards, year=5, month=6, hour=hour, width=120.0
            )
        )
        for hour in (9.0, 16.0)
    }
    assert pictures[9.0] != pictures[16.0]


def test_shadows_on_the_plan_lie_where_rays_to_the_sun_find_them() -> None:
    house = Building(name="house", outline=((-4.0, -3.0), (4.0, -3.0), (4.0, 3.0), (-4.0, 3.0)), eaves=5.0, roof="flat")
    site = Site(place=GREENWICH, boundary=PLOT, y_bearing=25.0, buildings=(house,))
    project = Project(name="Invented plot", site=site)
    sun = sunlight(site, 4, 10.0)
    assert sun is not None
    (mark,) = plan_shadows(project, load_catalogue(), year=0, month=4, hour=10.0)
    assert isinstance(mark, Area)
    shade = plane.union(plane.region(ring) for ring in mark.rings)
    x, y = np.meshgrid(np.arange(-15, 20, 0.5) + 0.11, np.arange(-12, 16, 0.5) + 0.07)
    spots = np.column_stack((x.ravel(), y.ravel(), np.full(x.size, 0.001)))
    lit = light_at(spots, solids(project), np.array([sun.towards]), month=4)[:, 0] > 0.5
    edge = plane.line([*plane.rings(shade)[0], plane.rings(shade)[0][0]])
    dark = plane.inside(shade, spots[:, :2])
    indoors = plane.inside(plane.region(house.outline), spots[:, :2])
    assert dark.sum() > 50
    assert not np.any((dark == lit) & ~indoors & ~(plane.point_distances(spots[:, :2], edge) < 0.05))
    assert plan_shadows(project, load_catalogue(), year=0, month=12, hour=22.0) == ()
