"""What took long is worked out once while nothing it depends on changes, and the oldest is let go first."""

import attrs

from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.remembered import Remembered
from gardenkit.project.sunlight import sun_map
from gardenkit.site.place import Place
from gardenkit.site.site import Site


def test_a_result_is_made_once_and_the_one_kept_longest_goes_first() -> None:
    made: list[str] = []
    kept: Remembered[str] = Remembered(2)
    for key in ("a", "b", "a", "c", "b", "a"):
        assert kept.get(key, lambda key=key: made.append(key) or key.upper()) == key.upper()
    assert made == ["a", "b", "c", "a"]


def test_a_garden_renamed_keeps_its_map_of_the_sun_and_one_of_another_shape_has_its_own() -> None:
    place = Place(name="plot", latitude=42.0, longitude=-72.0, timezone="America/New_York")
    plot = Project(name="plot", site=Site(place=place, boundary=((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0))))
    first = sun_map(plot, load_catalogue())
    assert sun_map(attrs.evolve(plot, name="another"), load_catalogue()) is first
    wider = attrs.evolve(plot.site, boundary=((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)))
    assert sun_map(attrs.evolve(plot, site=wider), load_catalogue()) is not first
