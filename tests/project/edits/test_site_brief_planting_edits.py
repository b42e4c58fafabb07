"""Changes of site, brief and planting: names stay in step, what something stands on stays, bad places are refused."""

from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.brief.wants import Check, Want
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting import hand
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project, check
from gardenkit.project.advice import planting_findings
from gardenkit.project.edits import brief, planting, site
from gardenkit.project.layout import layout
from gardenkit.site.site import Building, ExistingTree, Fence

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = ("lantern_lane_strip", "fennel_street_corner", "quarry_brow_hillside")
CATALOGUE = load_catalogue()


@pytest.fixture(scope="module", params=NAMES)
def project(request: pytest.FixtureRequest) -> Project:
    return storage.load(EXAMPLES / request.param).project


# ---- site


def test_renaming_every_thing_on_the_ground_leaves_a_garden_that_checks(project: Project) -> None:
    for thing in site.things(project.site):
        after = site.rename_thing(project, thing.name, to=f"the new {thing.name}")
        check(after)
        assert f'"{thing.name}"' not in str([o.on for o in after.site.openings])
        assert thing.name not in [s.against for s in after.structure.supports]
        assert thing.name not in [end for p in after.structure.paths for end in (p.start, p.end)]


def test_a_gate_may_not_be_called_as_a_place_that_paths_go_to(project: Project) -> None:
    """Their paths go by name: called alike, a path to the one would go to the other."""
    gate = project.site.doors_and_gates()[0].name
    for place in (*project.structure.seats, *project.structure.ground_areas, *project.structure.paths):
        with pytest.raises(GardenError, match=f'are both called "{place.name}"'):
            check(site.rename_thing(project, gate, to=place.name))


def test_a_tree_stands_in_no_building_and_no_building_over_a_tree(project: Project) -> None:
    house = project.site.buildings[0]
    inside = plane.inscribed_circle(plane.region(house.outline))[0]
    tree = ExistingTree(name="plum", at=inside, height=5.0, spread=3.0)
    with pytest.raises(GardenError, match="would stand inside"):
        site.add_thing(project, tree)
    free = site.add_thing(project, attrs.evolve(tree, at=(-3.0, -3.0)))
    for put in (site.alter, lambda p, name, at: site.move_thing(p, name, to=at)):
        with pytest.raises(GardenError, match="would stand inside"):
            put(free, "plum", at=inside)
    shed = ((-4.0, -4.0), (-2.0, -4.0), (-2.0, -2.0), (-4.0, -2.0))
    with pytest.raises(GardenError, match='would stand over tree "plum"'):
        site.put_up(free, "building", name="shed", outline=shed)


def test_what_lies_far_from_the_plot_is_asked_about(project: Project) -> None:
    with pytest.raises(GardenError, match="outside the boundary; check its place and the unit"):
        site.put_up(project, "tree", name="far pine", at=(900.0, 0.0), height=5.0, spread=3.0)
    near = site.put_up(project, "tree", name="next door's pine", at=(-9.0, 0.0), height=5.0, spread=3.0)
    assert near.site.trees[-1].at == (-9.0, 0.0)


def test_plants_under_a_new_building_are_said_first_of_all(project: Project) -> None:
    x, y = next(p.at for p in project.planting.plants if not p.support)
    shed = ((x - 0.5, y - 0.5), (x + 0.5, y - 0.5), (x + 0.5, y + 0.5), (x - 0.5, y + 0.5))
    after = site.put_up(project, "building", name="tool shed", outline=shed)
    rooted = [p for p in after.planting.plants if not p.support]
    under = sum(plane.contains(plane.region(shed), p.at) for p in rooted)
    said = [f for f in planting_findings(after, CATALOGUE) if f.what == "stands inside tool shed"]
    assert len(said) == under >= 1
    assert {f.seriousness for f in said} == {"stop"}


def test_a_house_that_holds_doors_or_supports_is_not_removed(project: Project) -> None:
    house = project.site.buildings[0].name
    with pytest.raises(GardenError, match="cannot go yet"):
        site.remove_thing(project, house)


def test_a_tree_is_added_moved_and_removed(project: Project) -> None:
    open_ground, elsewhere = (bed.at for bed in layout(project).beds[:2])
    tree = ExistingTree(name="quince", at=elsewhere, height=3.0, spread=2.0)
    added = site.add_thing(project, tree)
    with pytest.raises(GardenError, match="already"):
        site.add_thing(added, tree)
    moved = site.move_thing(added, "quince", to=open_ground)
    assert moved.site.trees[-1].at == open_ground
    house = plane.inscribed_circle(plane.region(project.site.buildings[0].outline))[0]
    with pytest.raises(GardenError, match="would stand inside"):
        site.move_thing(added, "quince", to=house)
    assert site.remove_thing(moved, "quince").site.trees == project.site.trees


def test_a_moved_wall_takes_its_doors_along() -> None:
    house = Building(name="house", outline=((0, 0), (8, 0), (8, 6), (0, 6)))
    made = site.set_boundary(Project(name="new"), ((-5, -5), (20, -5), (20, 20), (-5, 20)))
    made = site.add_thing(made, house)
    made = site.add_opening(made, "door", "front door", at=(4.0, 0.0), width=1.0, sill=0.0, head=2.1)
    deeper = attrs.evolve(house, outline=((0, -1), (8, -1), (8, 6), (0, 6)))
    made = site.change_thing(made, "house", deeper)
    assert made.site.opening("front door").middle == pytest.approx((4.0, -1.0))
    check(made)


def test_a_fence_is_no_building_and_a_corner_that_is_not_there_is_named(project: Project) -> None:
    name = project.site.buildings[0].name
    with pytest.raises(GardenError, match="is a building, not a fence"):
        site.change_thing(project, name, Fence(name=name, line=((0, 0), (1, 0))))
    with pytest.raises(GardenError, match="has no corner 100"):
        site.move_boundary_corner(project, 99, to=(0.0, 0.0))


def test_names_that_nothing_bears_and_names_that_two_bear_are_refused(project: Project) -> None:
    first = project.site.buildings[0]
    twice = attrs.evolve(project, site=attrs.evolve(project.site, buildings=(first, first)))
    with pytest.raises(GardenError, match="give one of them another name"):
        check(twice)
    support = attrs.evolve(project.structure.supports[0], against="nowhere")
    lost = attrs.evolve(project, structure=attrs.evolve(project.structure, supports=(support,)))
    with pytest.raises(GardenError, match="not on record"):
        check(attrs.evolve(lost, planting=type(lost.planting)()))


# ---- brief


def test_wants_are_added_changed_reordered_and_removed(project: Project) -> None:
    first = brief.add_want(project, Want(text=" a pond "))
    last = len(first.brief.wants) - 1
    assert first.brief.wants[-1].text == "a pond"
    moved = brief.move_want(first, last, to=0)
    assert [w.text for w in moved.brief.wants] == ["a pond", *(w.text for w in project.brief.wants)]
    changed = brief.change_want(moved, 0, Want(text="no pond", weight="must"))
    assert changed.brief.wants[0].weight == "must"
    assert brief.remove_want(changed, 0).brief.wants == project.brief.wants
    with pytest.raises(GardenError, match="there is no want number 100"):
        brief.remove_want(project, 99)


def test_a_must_of_no_dog_toxins_is_refused_to_every_plant(project: Project) -> None:
    must = Want(text="safe for the dog", weight="must", check=Check(fact="toxic_to_dogs", compare="at most", amount=0))
    asked = brief.set_refusals(brief.add_want(project, must), ["thorns", " thorns ", ""])
    assert asked.brief.refuses == ("thorns",)
    assert asked.brief.refused == ("thorns", "toxic to dogs")
    wish = attrs.evolve(must, weight="should")
    assert "toxic to dogs" not in brief.add_want(project, wish).brief.refused


# ---- planting


def test_a_plant_is_not_moved_into_the_house_or_off_the_plot(project: Project) -> None:
    number = next(p.number for p in project.planting.plants if not p.locked and not p.support)
    house = project.site.buildings[0].outline
    middle = (sum(x for x, _ in house) / len(house), sum(y for _, y in house) / len(house))
    with pytest.raises(GardenError, match="would"):
        planting.move_plant(project, number, to=(999.0, 999.0))
    if project.site.buildings[0].name == "house" and len(house) == 4:
        with pytest.raises(GardenError, match="inside"):
            planting.move_plant(project, number, to=middle)


def test_a_plant_is_not_put_on_a_stepping_stone() -> None:
    project = storage.load(EXAMPLES / "fennel_street_corner").project
    stone = next(iter(layout(project).layings.values())).stones[5]
    with pytest.raises(GardenError, match="would stand on path"):
        planting.add_plants(project, CATALOGUE["Geum rivale"], [stone.at])


def test_more_of_a_plant_never_stand_in_the_house_off_the_plot_or_on_a_path(project: Project) -> None:
    ways = plane.union(layout(project).surfaces.values())  # beside a path the plain lattice would run onto it
    plant = min((p for p in project.planting.plants if not p.support), key=lambda p: plane.point(p.at).distance(ways))
    more = planting.multiply_plant(project, plant.number, 40, spacing=0.6)
    new = more.planting.plants[len(project.planting.plants) :]
    free = plane.region(project.site.boundary)
    for building in project.site.buildings:
        free = plane.difference(free, plane.region(building.outline))
    worked = layout(project)
    assert len(new) == 40
    for one in new:
        assert plane.distance(free, plane.point(one.at)) < 0.021  # the boundary's own rounding
        for name, region in worked.surfaces.items():
            stones = [plane.region(s.outline) for s in worked.layings[name].stones] or [region]
            assert not any(plane.contains(stone, one.at) for stone in stones), (one.number, name)
    without = hand.multiply(project.planting, plant.number, 40, spacing=0.6).plants[-40:]
    assert {p.at for p in without} != {p.at for p in new}  # the plain lattice runs into what is not to be planted


def test_swapping_a_locked_kind_says_why_nothing_happens(project: Project) -> None:
    kind = project.planting.plants[0].species
    numbers = [p.number for p in project.planting.plants if p.species == kind]
    locked = planting.lock_plants(project, numbers)
    with pytest.raises(GardenError, match=r"is locked \(plants .*unlock them first"):
        planting.swap_kind(locked, kind, CATALOGUE["Geum rivale"])
    swapped = planting.swap_kind(
        planting.lock_plants(locked, numbers[:1], locked=False), kind, CATALOGUE["Geum rivale"]
    )
    assert [p.species for p in swapped.planting.plants if p.number in numbers].count("Geum rivale") == 1


def test_palette_favourites_and_prices_stay_in_step(project: Project) -> None:
    made = planting.set_palette(project, ["Geum rivale", "Salvia nemorosa", "Geum rivale"])
    assert made.planting.palette == ("Geum rivale", "Salvia nemorosa")
    kept = planting.keep_kind(made, "Geum rivale")
    assert planting.remove_from_palette(kept, "Geum rivale").planting.favourites == ()
    assert planting.set_price(planting.set_price(kept, "Geum rivale", 7.5), "Geum rivale", None).planting.prices == (
        project.planting.prices
    )
    with pytest.raises(GardenError, match="give an amount of 0 or more"):
        planting.set_price(kept, "Geum rivale", -1.0)
