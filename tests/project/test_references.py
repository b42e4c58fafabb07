"""What a garden may not be as a whole: two of one name, frost dates of the other hemisphere; lists are taken."""

import json
import pathlib

import attrs
import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.notebook import gardens
from gardenkit.planting.planting import Planting
from gardenkit.project import Alternative, Project, check
from gardenkit.project.edits import site as edits
from gardenkit.project.edits import structure
from gardenkit.site.climate import Climate
from gardenkit.site.openings import Opening
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
        paths=[Path(name="walk", start="bench", end="table", held=[HeldPoint(at=[1, 2])])],  # type: ignore[arg-type, list-item]
        seats=[Seat(name="bench", at=[3, 4]), Seat(name="table", at=[3, 8])],  # type: ignore[arg-type]
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


# ---- what paths begin and end at


@pytest.mark.parametrize(("start", "end", "does"), [("gaet", "bench", "starts at"), ("gate", "benc", "ends at")])
def test_a_path_that_begins_or_ends_at_nothing_is_refused(start: str, end: str, does: str) -> None:
    wrong, right = (start, "gate") if does == "starts at" else (end, "bench")
    bones = Structure(paths=(Path(name="walk", start=start, end=end),), seats=(Seat(name="bench", at=(3, 4)),))
    gate = Opening(name="gate", kind="gate", start=(1, 0), end=(2, 0), sill=0, head=1.2)
    said = f'path "walk" {does} "{wrong}", which is no door, .* the nearest known is "{right}"; let it go elsewhere'
    with pytest.raises(GardenError, match=said):
        check(Project(name="x", site=Site(openings=(gate,)), structure=bones))


def test_a_window_or_the_path_itself_is_no_place_for_a_path_to_end_at() -> None:
    window = Opening(name="pane", kind="window", start=(1, 0), end=(2, 0), sill=1, head=2)
    for end in ("pane", "walk"):
        bones = Structure(paths=(Path(name="walk", start="bench", end=end),), seats=(Seat(name="bench", at=(3, 4)),))
        with pytest.raises(GardenError, match=f'path "walk" ends at "{end}"'):
            check(Project(name="x", site=Site(openings=(window,)), structure=bones))


def test_an_alternatives_paths_are_asked_too_and_hold_on_to_their_gate() -> None:
    project = storage.load(gardens.example("fennel_street_corner")).project
    kept = Alternative(name="as it was", structure=project.structure)
    gate = next(p.start for p in project.structure.paths)
    bare = attrs.evolve(project, alternatives=(kept,), structure=Structure(), planting=Planting())
    check(bare)
    with pytest.raises(GardenError, match=f'"{gate}" cannot go yet: path .* of the alternative "as it was" goes to it'):
        edits.remove_thing(bare, gate)
    renamed = edits.rename_thing(bare, gate, to="street gate")
    check(renamed)
    assert "street gate" in {p.start for p in renamed.alternatives[0].structure.paths}
    lost = attrs.evolve(kept, structure=attrs.evolve(kept.structure, seats=()))
    with pytest.raises(GardenError, match=r'of "as it was" (starts|ends) at'):
        check(attrs.evolve(bare, alternatives=(lost,)))


def test_a_saved_garden_whose_path_leads_nowhere_opens_and_the_next_change_must_mend_it(tmp_path: pathlib.Path) -> None:
    garden = tmp_path / "garden"
    gardens.copy_garden(gardens.example("fennel_street_corner"), garden)
    file = garden / storage.PROJECT_FILE
    data = json.loads(file.read_text(encoding="utf-8"))
    name, end = data["structure"]["paths"][0]["name"], data["structure"]["paths"][0]["end"]
    data["structure"]["paths"][0]["end"] = "a door that was renamed"
    file.write_text(json.dumps(data), encoding="utf-8")
    opened = Garden.open(garden)
    assert any("a door that was renamed" in line.what for line in opened.advice)
    with pytest.raises(GardenError, match="let it go elsewhere"):
        storage.edit(garden, "name", lambda p: attrs.evolve(p, client="somebody"))
    mended = storage.edit(garden, "end", lambda p: structure.change_path(p, name, end=end))
    assert mended.project.structure.paths[0].end == end


def test_a_rule_for_posts_that_is_in_no_table_is_named() -> None:
    odd = attrs.evolve(Project(name="odd"), structure=Structure(post_rule="one half of totals"))
    with pytest.raises(GardenError, match='no post rule "one half of totals"'):
        check(odd)
