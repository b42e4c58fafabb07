"""One garden worked out: its layout tiles the ground, its bodies cast shade, its facts are measured."""

from pathlib import Path

import attrs
import numpy as np
import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.notebook import gardens
from gardenkit.planting.catalogue import Catalogue, load_catalogue
from gardenkit.planting.places import place_findings
from gardenkit.planting.planting import DAILY_LIGHT, LIGHT_BY, Plant
from gardenkit.project import Project, check
from gardenkit.project.advice import bloom_rows, plant_spots, planting_findings
from gardenkit.project.edits import site, structure
from gardenkit.project.edits.planting import judge_light_by
from gardenkit.project.layout import layout
from gardenkit.project.season import standing
from gardenkit.project.solids import solids
from gardenkit.project.sunlight import judged_map, light_map, sun_map
from gardenkit.site.climate import Climate
from gardenkit.site.place import Place
from gardenkit.site.site import Site

CATALOGUE = load_catalogue()


@pytest.fixture(scope="module")
def garden() -> Project:
    return storage.load(gardens.example("fennel_street_corner")).project


def in_the_south(project: Project) -> Project:
    place = attrs.evolve(project.site.place, latitude=-project.site.place.latitude)
    zone = Climate(zone=project.site.climate.zone)  # its frost dates would be those of another half of the year
    return attrs.evolve(project, site=attrs.evolve(project.site, place=place, climate=zone))


def test_beds_paths_ground_areas_things_obstacles_and_scraps_tile_the_open_ground_exactly(garden: Project) -> None:
    worked = layout(garden)
    parts = [bed.region for bed in worked.beds] + [worked.hardscape, worked.scraps]
    taken = plane.difference(plane.union(plane.region(o.outline) for o in garden.site.obstacles), worked.hardscape)
    parts += [plane.intersection(taken, worked.ground), *worked.things.values(), worked.walls]
    assert sum(plane.area(p) for p in parts) == pytest.approx(plane.area(worked.ground), abs=1e-6)
    assert plane.area(plane.union(parts)) == pytest.approx(plane.area(worked.ground), abs=1e-6)


def test_no_path_crosses_a_trunk_or_an_obstacle(garden: Project) -> None:
    worked = layout(garden)
    blocks = plane.union(plane.region(o.outline) for o in garden.site.obstacles)
    for route in worked.routes.values():
        assert plane.area(plane.intersection(route.region, blocks)) == pytest.approx(0, abs=1e-9)
        for tree in garden.site.trees:
            assert plane.distance(route.region, plane.point(tree.at)) > tree.trunk_diameter / 2


def test_the_walk_starts_at_the_gate_and_ends_at_the_door(garden: Project) -> None:
    curve = layout(garden).routes["garden walk"].curve
    assert tuple(curve.points[0]) == pytest.approx(garden.site.opening("gate").middle, abs=1e-6)
    assert tuple(curve.points[-1]) == pytest.approx(garden.site.opening("side door").middle, abs=1e-6)


def test_the_same_seed_lays_the_same_stones_and_another_seed_others(garden: Project) -> None:
    def stones(seed: int):
        walk = garden.structure.paths[0]
        walk = attrs.evolve(walk, stones=attrs.evolve(walk.stones, seed=seed))
        structure = attrs.evolve(garden.structure, paths=(walk, *garden.structure.paths[1:]))
        return [s.outline for s in layout(attrs.evolve(garden, structure=structure)).layings[walk.name].stones]

    assert stones(4) == stones(4)
    assert stones(4) != stones(5)


def test_a_path_that_cannot_fit_is_said_in_one_sentence_and_the_rest_still_stands(garden: Project) -> None:
    wide = attrs.evolve(garden.structure.paths[0], width=9.0)
    changed = attrs.evolve(garden, structure=attrs.evolve(garden.structure, paths=(wide,)))
    worked = layout(changed)
    assert len(worked.problems) == 1
    assert "garden walk" in worked.problems[0]
    assert worked.beds


def test_a_path_to_nowhere_names_the_nearest_place(garden: Project) -> None:
    lost = attrs.evolve(garden.structure.paths[0], end="syde door")
    (problem,) = layout(attrs.evolve(garden, structure=attrs.evolve(garden.structure, paths=(lost,)))).problems
    assert 'the nearest known is "side door"' in problem


def test_plants_cast_shade_only_once_they_have_grown(garden: Project) -> None:
    without, young, old = (sun_map(garden, CATALOGUE, year=year).hours[5].mean() for year in (None, 0, 15))
    assert old < young <= without
    assert len(solids(garden, CATALOGUE, year=15)) > len(solids(garden))


def test_the_bare_stems_of_scattered_bulbs_cast_no_shade_and_lilies_only_in_leaf(garden: Project) -> None:
    def light_of(species: str) -> list[tuple[float, ...]]:
        alone = attrs.evolve(garden.planting, plants=(Plant(number=1, species=species, at=(5.0, 5.0)),))
        found = solids(attrs.evolve(garden, planting=alone), CATALOGUE, year=5)
        return [body.light for body in found if body.name.startswith(species)]

    assert light_of("Allium giganteum") == []  # 1.2 m, of which most is a stem
    months = light_of("Lilium regale")[0]
    assert months[6] < 0.1 and months[0] == 1.0  # nothing of it stands in January


def test_a_plant_whose_height_is_corrected_casts_another_shade(garden: Project) -> None:
    kinds = {plant.species for plant in garden.planting.plants}
    low = {"height_min_m": 0.4, "height_max_m": 0.5, "height_10_min_m": 0.4, "height_10_max_m": 0.5}
    lower = Catalogue(tuple(attrs.evolve(k, **low) if k.botanical in kinds else k for k in CATALOGUE))
    as_printed = sun_map(garden, CATALOGUE, year=15).hours[5].mean()
    assert sun_map(garden, lower, year=15).hours[5].mean() > as_printed


def test_the_sun_is_worked_out_again_only_when_what_shades_has_changed(garden: Project) -> None:
    once = sun_map(garden, CATALOGUE, rough=True)
    turned = structure.turn_seat(garden, garden.structure.seats[0].name, facing=12.0)
    assert sun_map(turned, CATALOGUE, rough=True) is once
    grown = site.alter(garden, garden.site.trees[0].name, height=garden.site.trees[0].height + 1.0)
    assert sun_map(grown, CATALOGUE, rough=True) is not once


def test_a_map_of_june_alone_has_the_june_of_the_year(garden: Project) -> None:
    """Before and after the map of the year is there: a seat's sun is the same number on every page."""
    alone = sun_map(garden, CATALOGUE, year=7, months=(6,), engine="compiled")
    whole = sun_map(garden, CATALOGUE, year=7, engine="compiled")
    assert alone is not whole
    assert np.array_equal(alone.hours[5], whole.hours[5])
    assert sun_map(garden, CATALOGUE, year=7, months=(6,)) is whole


def test_the_sun_map_needs_a_boundary_and_a_place(garden: Project) -> None:
    with pytest.raises(GardenError, match="needs the boundary"):
        sun_map(Project(name="empty"), CATALOGUE)
    nowhere = attrs.evolve(garden, site=attrs.evolve(garden.site, place=Place()))
    with pytest.raises(GardenError, match="needs the place"):
        sun_map(nowhere, CATALOGUE)


def test_daily_light_is_the_open_field_s_or_less_and_places_are_judged_by_it_when_asked(garden: Project) -> None:
    light = light_map(garden, CATALOGUE, rough=True)
    assert (light.monthly <= np.array(light.known.light)[:, None, None] + 1e-6).all()
    assert light.monthly[5].max() == pytest.approx(light.known.light[5], rel=0.1)
    assert judged_map(garden, CATALOGUE, rough=True) is sun_map(garden, CATALOGUE, rough=True)
    by_light = judge_light_by(garden, DAILY_LIGHT)
    assert judged_map(by_light, CATALOGUE, rough=True).monthly == pytest.approx(0.3 * light.monthly)  # 20 mol as 6 h
    assert light_map(by_light, CATALOGUE, rough=True) is light
    with pytest.raises(GardenError, match="hours of sun or daily light"):
        check(judge_light_by(garden, "moonlight"))


def test_the_plants_are_told_of_daily_light_once_it_counts(garden: Project) -> None:
    dark = next(kind.botanical for kind in CATALOGUE if "full" not in kind.sun_range)
    for by, words in zip(LIGHT_BY, ("h of sun a day", "mol of light a day"), strict=True):
        sunny = attrs.evolve(garden.planting, plants=(Plant(number=1, species=dark, at=(9.5, 5.0)),))
        spots = plant_spots(judge_light_by(attrs.evolve(garden, planting=sunny), by), CATALOGUE)
        (found,) = [finding.what for finding in place_findings(spots) if finding.rule == "suits sun"]
        assert f"{words} is full sun; it wants" in found


def test_june_is_the_sunniest_month_in_the_north_and_december_in_the_south(garden: Project) -> None:
    assert int(np.argmax(sun_map(garden, CATALOGUE).hours.mean(axis=(1, 2)))) == 5
    assert int(np.argmax(sun_map(in_the_south(garden), CATALOGUE).hours.mean(axis=(1, 2)))) == 11


def test_the_south_flowers_half_a_year_later(garden: Project) -> None:
    garden = attrs.evolve(garden, site=attrs.evolve(garden.site, climate=Climate(zone=garden.site.climate.zone)))
    north = {row.botanical: set(row.months) for row in bloom_rows(garden, CATALOGUE)}
    south = {row.botanical: set(row.months) for row in bloom_rows(in_the_south(garden), CATALOGUE)}
    assert north.keys() == south.keys()
    assert any(north.values())
    for name, months in north.items():
        assert south[name] == {(month + 5) % 12 + 1 for month in months}, name
    here, there = (
        standing(garden, CATALOGUE, year=5, month=6),
        standing(in_the_south(garden), CATALOGUE, year=5, month=12),
    )
    assert [s.look for s in here] == [s.look for s in there]


def test_plants_grow_and_are_not_there_before_they_are_planted(garden: Project) -> None:
    late = attrs.evolve(garden.planting.plants[0], year=3)
    changed = attrs.evolve(garden, planting=attrs.evolve(garden.planting, plants=(late, *garden.planting.plants[1:])))
    assert len(standing(changed, CATALOGUE, year=2, month=6)) == len(garden.planting.plants) - 1
    first, later = (
        [one for one in standing(garden, CATALOGUE, year=year, month=6) if one.plant.stays] for year in (1, 12)
    )
    assert all(a.size.spread <= b.size.spread for a, b in zip(first, later, strict=True))
    assert sum(a.size.spread < b.size.spread for a, b in zip(first, later, strict=True)) > 20


def test_facts_are_counted_from_the_garden_itself(garden: Project) -> None:
    found = Garden(garden, Path()).facts
    assert found["plants"] == len(garden.planting.plants)
    assert found["species"] == len({p.species for p in garden.planting.plants})
    assert found["seats"] == 1
    assert found["path_width"] == min(path.width for path in garden.structure.paths)
    assert found["bed_area"] == pytest.approx(sum(bed.area for bed in layout(garden).beds))
    assert 0 < found["seat_sun_june"] < 15.5


def test_facts_of_an_empty_garden_are_simply_not_there() -> None:
    assert Garden(Project(name="empty"), Path()).facts == {}


def test_an_unknown_plant_is_named_with_the_nearest(garden: Project) -> None:
    odd = Plant(number=999, species="Salvia nemorossa", at=(3.0, 3.0))
    changed = attrs.evolve(garden, planting=attrs.evolve(garden.planting, plants=(odd,)))
    with pytest.raises(GardenError, match='the nearest known is "Salvia nemorosa"'):
        planting_findings(changed, CATALOGUE)


@pytest.mark.parametrize(
    "change", [{"boundary": ()}, {"buildings": ()}, {"openings": ()}, {"trees": (), "fences": (), "heights": ()}]
)
def test_a_garden_with_a_part_missing_still_works_out(garden: Project, change: dict) -> None:
    worked = layout(attrs.evolve(garden, site=attrs.evolve(garden.site, **change)))
    assert worked.problems or worked.routes


def test_a_hundred_beds_and_one_bed_work_out() -> None:
    site = Site(boundary=((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)))
    bare = Project(name="plain", site=site)
    assert [round(bed.area, 6) for bed in layout(bare).beds] == [400.0]
    cuts = tuple(((-1.0, y), (21.0, y)) for y in np.arange(2.0, 20.0, 2.0)) + tuple(
        ((x, -1.0), (x, 21.0)) for x in np.arange(2.0, 20.0, 2.0)
    )
    many = attrs.evolve(bare, structure=attrs.evolve(bare.structure, cuts=cuts))
    assert len(layout(many).beds) == 100
    assert sum(bed.area for bed in layout(many).beds) == pytest.approx(400)


def test_the_example_is_marked_invented_and_carries_no_history() -> None:
    for folder in gardens.examples():
        assert storage.load(folder).project.invented
        assert sorted(p.name for p in Path(folder).iterdir() if p.name.startswith((".", "history"))) == []
