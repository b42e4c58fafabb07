"""What a garden may not be as a whole: two of one name, frost dates of the other hemisphere; lists are taken."""

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.project import Alternative, Project, check
from gardenkit.project.edits import site as edits
from gardenkit.site.climate import Climate
from gardenkit.site.place import Place
from gardenkit.site.site import Building, Fence, Site
from gardenkit.structure.structure import HeldPoint, Path, Seat, Structure

# Mean last and first frost, from memory and rounded: the test asks only which half of the year they lie in.
PLACES = (
    ("Minneapolis", 44.9, "04-28", "10-08"),
    ("Leadville, high in the Rockies", 39.2, "06-24", "08-26"),
    ("Christchurch", -43.5, "10-10", "05-05"),
    ("Tallahassee", 30.4, "03-14", "11-14"),
)


def climate_of(latitude: float, last: str | None, first: str | None) -> Project:
    dates = Climate(last_frost=last, first_frost=first)
    return Project(name="x", site=Site(place=Place(latitude=latitude), climate=dates))


@pytest.mark.parametrize(("name", "latitude", "last", "first"), PLACES)
def test_frost_dates_of_real_places_are_taken_and_the_same_the_wrong_way_round_are_not(
    name: str, latitude: float, last: str, first: str
) -> None:
    check(climate_of(latitude, last, first))
    for wrong in (climate_of(latitude, first, last), climate_of(-latitude, last, first)):
        with pytest.raises(GardenError, match="change the two dates over, or correct the latitude"):
            check(wrong)


def test_one_frost_date_or_a_place_in_the_tropics_is_not_judged() -> None:
    check(climate_of(44.9, None, "04-28"))
    check(climate_of(0.0, "10-08", "04-28"))


def test_two_paths_of_one_name_are_refused_in_an_alternative_too() -> None:
    walk = Path(name="walk", start="gate", end="seat")
    kept = Alternative(name="the loop", structure=Structure(paths=(walk, walk)))
    with pytest.raises(GardenError, match='two paths of "the loop" are called "walk"'):
        check(Project(name="x", alternatives=(kept,)))


def test_lists_are_taken_where_a_record_wants_tuples() -> None:
    corners = [[0, 0], [9, 0], [9, 9], [0, 9]]
    listed = Structure(
        paths=[Path(name="walk", start="a", end="b", held=[HeldPoint(at=[1, 2])])],  # type: ignore[arg-type, list-item]
        seats=[Seat(name="bench", at=[3, 4])],  # type: ignore[arg-type]
    )
    house = Building(name="house", outline=corners)  # type: ignore[arg-type]
    site = Site(boundary=corners, buildings=[house], fences=[Fence(name="f", line=corners[:2])])  # type: ignore[arg-type]
    made = Project(name="x", site=site, structure=listed)
    assert hash(made) == hash(attrs.evolve(made))
    assert made.site.boundary == house.outline == ((0, 0), (9, 0), (9, 9), (0, 9))
    assert made.structure.seats[0].at == (3, 4)
    check(made)


@pytest.mark.parametrize("source", gardens.examples(), ids=lambda p: p.name)
def test_an_example_with_its_latitude_turned_over_is_refused_in_one_sentence(source: object) -> None:
    project = storage.load(source).project  # type: ignore[arg-type]
    with pytest.raises(GardenError, match="outside the season between them"):
        check(edits.set_place(project, latitude=-project.site.place.latitude))
