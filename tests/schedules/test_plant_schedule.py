"""The plant schedule: every plant once, keys as on the plan, the designer's price before the house value."""

from gardenkit.planting.keys import plant_keys
from gardenkit.planting.planting import Plant, Price
from gardenkit.schedules.plant_order import order_columns
from gardenkit.schedules.plants import (
    LAYER_ORDER,
    plant_cautions,
    plant_schedule,
    usual_price,
)
from gardenkit.sources import HOUSE


def schedule(garden, catalogue, **options):
    names = [catalogue[p.species].botanical for p in garden.planting.plants]
    return plant_schedule(garden.planting.plants, catalogue, plant_keys(names), **options)


def test_every_plant_is_in_the_schedule_once(small_garden, catalogue):
    lines = schedule(small_garden, catalogue)
    assert sum(line.count for line in lines) == len(small_garden.planting.plants)
    assert {line.species.botanical: line.count for line in lines}["Salvia nemorosa"] == 2


def test_lines_run_from_trees_to_the_ground(small_garden, catalogue):
    layers = [LAYER_ORDER.index(line.species.layer) for line in schedule(small_garden, catalogue)]
    assert layers == sorted(layers)


def test_beds_are_named_where_the_plants_stand(small_garden, worked, catalogue):
    beds = {p.number: worked.bed_at(p.at).name for p in small_garden.planting.plants}
    where = {line.species.botanical: line.beds for line in schedule(small_garden, catalogue, beds=beds)}
    assert where["Nepeta × faassenii"] == ("East",)
    assert where["Salvia nemorosa"] == ("West",)


def test_the_designers_price_takes_the_house_values_place(small_garden, catalogue):
    prices = (Price(species="Salvia nemorosa", each=5.5),)
    line = next(x for x in schedule(small_garden, catalogue, prices=prices) if x.species.botanical == "Salvia nemorosa")
    assert (line.price, line.cost, line.priced) == (5.5, 11.0, "designer")
    other = next(x for x in schedule(small_garden, catalogue, prices=prices) if x.species.layer == "tree")
    assert other.priced == HOUSE


def test_every_layer_has_a_price_for_every_class(catalogue):
    for kind in catalogue:
        each, size = usual_price(kind)
        assert each > 0
        assert size


def test_listed_plants_are_cautioned_and_silence_is_not_safety(small_garden, catalogue):
    cautioned = {finding.where: finding for finding in plant_cautions(schedule(small_garden, catalogue))}
    assert "Salvia nemorosa" in cautioned
    assert "does not mean safe" in cautioned["Salvia nemorosa"].what


def test_a_nursery_finds_code_roots_spares_season_and_substitutes(small_garden, catalogue):
    """A cultivar's epithet stands in single quotation marks (ICNCP, from memory); spring bulbs go in in autumn."""
    plants = tuple(
        Plant(number=number, species=name, at=(1.0, 1.0))
        for number, name in enumerate(["Salvia nemorosa"] * 21 + ["Cercis canadensis"], 1)
    )
    asked = {line.species.botanical: order_columns(line, catalogue) for line in plant_schedule(plants, catalogue, {})}
    sage, tree = asked["Salvia nemorosa"], asked["Cercis canadensis"]
    assert (sage.code, sage.roots, sage.spares) == ("ICN", "pot", 2)  # 5 % of 21 is 1.05
    assert tree.spares == 0
    assert "frost" in tree.season
    assert "Salvia nemorosa" not in sage.instead and all(name in catalogue for name in sage.instead)
    cultivar = next(kind for kind in catalogue if "'" in kind.botanical)
    spring = next(kind for kind in catalogue if kind.layer == "bulb" and kind.bloom_start == 3)
    for kind, code, season in ((cultivar, "ICN and ICNCP", ""), (spring, "", "autumn")):
        (line,) = plant_schedule((Plant(number=1, species=kind.botanical, at=(1, 1)),), catalogue, {})
        found = order_columns(line, catalogue)
        assert not code or found.code == code
        assert not season or (found.season, found.roots) == (season, "bulb")
