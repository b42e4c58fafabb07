"""Divisions stand on the plan from the year in which their kind is divided, where the ground is bare, for nothing."""

import math

import attrs
import pytest

from gardenkit.findings import GardenError
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.divisions import divided_every
from gardenkit.project import Project
from gardenkit.project.divisions import bare_places, motherless, offers
from gardenkit.project.edits import planting, site, structure
from gardenkit.project.layout import layout
from gardenkit.schedules.plants import plant_schedule

CATALOGUE = load_catalogue()
SAGE = CATALOGUE["Salvia nemorosa"]
EVERY = int(divided_every(SAGE) or 0)
BED = ((2.0, 2.0), (8.0, 2.0), (8.0, 5.0), (2.0, 5.0))


@pytest.fixture(scope="module")
def sages() -> Project:
    bare = site.set_boundary(Project(name="sages"), ((0.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0)))
    bed = structure.draw_bed(bare, BED, name="bed")
    return planting.add_plants(bed, SAGE, [(3.0, 3.0), (3.6, 3.0), (3.3, 3.5)])


def test_parts_go_where_nothing_else_stands_from_the_year_of_dividing_on(sages: Project) -> None:
    first = offers(sages, CATALOGUE)[0]
    assert (first.year, first.given.botanical, first.given.free) == (EVERY, SAGE.botanical, 6)
    at = bare_places(sages, CATALOGUE, SAGE, year=EVERY, most=4)
    grown = planting.plant_divisions(sages, SAGE, at, year=EVERY)
    parts = [p for p in grown.planting.plants if p.divided]
    assert [p.year for p in parts] == [EVERY] * 4
    assert all(layout(grown).bed_at(p.at) for p in parts)
    away = [math.dist(p.at, q.at) for p in parts for q in grown.planting.plants if p.number < q.number or not q.divided]
    assert min(away) >= SAGE.spread / 2
    assert offers(grown, CATALOGUE)[0].given.free == 2


def test_nothing_is_set_on_ground_that_is_closed_or_kept_for_what_comes_later(sages: Project) -> None:
    at = bare_places(sages, CATALOGUE, SAGE, year=EVERY, most=500)
    later = planting.add_plants(sages, SAGE, at, year=EVERY + 1)
    assert 0 < len(at) < 500
    assert bare_places(later, CATALOGUE, SAGE, year=EVERY, most=500) == []


def test_more_parts_than_dividing_gives_and_another_year_are_refused(sages: Project) -> None:
    places = [(4.0 + 0.5 * n, 4.5) for n in range(7)]
    with pytest.raises(GardenError, match="leaves 6 free then"):
        planting.plant_divisions(sages, SAGE, places, year=EVERY)
    with pytest.raises(GardenError, match="leaves 0 free"):
        planting.plant_divisions(sages, SAGE, places[:1], year=EVERY + 1)
    gone = attrs.evolve(sages, planting=attrs.evolve(sages.planting, plants=()))
    assert offers(gone, CATALOGUE) == ()


def test_a_division_that_becomes_another_kind_or_comes_in_another_year_is_bought_like_any_plant(sages: Project) -> None:
    at = bare_places(sages, CATALOGUE, SAGE, year=EVERY, most=3)
    grown = planting.plant_divisions(sages, SAGE, at, year=EVERY)
    first, second, third = (p.number for p in grown.planting.plants if p.divided)
    grown = planting.swap_plants(grown, first, CATALOGUE["Geum rivale"])
    grown = planting.set_plant_years(grown, second, year=0, until=None)
    grown = planting.set_plant_years(grown, third, year=EVERY, until=EVERY + 2)
    assert [p.number for p in grown.planting.plants if p.divided] == [third]


def test_divisions_whose_mothers_were_taken_out_are_bought(sages: Project) -> None:
    at = bare_places(sages, CATALOGUE, SAGE, year=EVERY, most=4)
    grown = planting.plant_divisions(sages, SAGE, at, year=EVERY)
    mothers = [p.number for p in grown.planting.plants if not p.divided]
    assert motherless(grown, CATALOGUE) == ()
    for left, bought in ((2, 2), (1, 1 + 2), (0, 4)):  # of three mothers; each gives two parts besides itself
        some = planting.remove_plants(grown, mothers[left:])
        (line,) = plant_schedule(some.planting.plants, CATALOGUE, {})
        assert (line.count, line.bought) == (left + 4, bought)
        assert sum(one.given.motherless for one in motherless(some, CATALOGUE)) == max(4 - 2 * left, 0)
