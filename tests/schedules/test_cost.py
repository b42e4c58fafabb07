"""The cost summary: sums that agree, prices that can be overridden, a budget that is checked."""

import pytest

from gardenkit.findings import GardenError
from gardenkit.schedules import cost
from gardenkit.schedules.orders import ITEMS, orders
from gardenkit.schedules.plants import plant_schedule, total_cost
from gardenkit.schedules.quantities import quantities


@pytest.fixture
def summary(small_garden, worked, catalogue):
    schedule = plant_schedule(small_garden.planting.plants, catalogue, {})
    return cost.costs(schedule, orders(quantities(small_garden, worked, catalogue)))


def test_every_material_has_a_house_price_with_its_source():
    prices = cost.material_prices()
    assert set(prices) == set(ITEMS)
    assert all(price.source.startswith("house value") and price.price > 0 for price in prices.values())


def test_the_whole_is_plants_and_materials_and_a_tenth(summary):
    assert summary.total == pytest.approx(1.1 * (summary.plants + summary.materials))
    assert summary.plants == pytest.approx(sum(c.cost for c in summary.lines if c.group == "plants"))


def test_plants_cost_what_the_schedule_says(summary, small_garden, catalogue):
    schedule = plant_schedule(small_garden.planting.plants, catalogue, {})
    assert summary.plants == pytest.approx(total_cost(schedule))


def test_a_gardens_own_price_takes_the_house_values_place(tmp_path):
    own = tmp_path / cost.OWN_FILE
    own.write_text("item,unit,price,source\ngravel,cu yd,99.5,yard in town\n", encoding="utf-8")
    prices = cost.material_prices(own)
    assert (prices["gravel"].price, prices["gravel"].source) == (99.5, "yard in town")
    assert prices["mulch"] == cost.material_prices()["mulch"]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("gravle,cu yd,1,x", 'line 2: there is no material "gravle"; the nearest known is "gravel"'),
        ("gravel,cu yd,cheap,x", 'line 2: the price of gravel is "cheap"; give 0 or more'),
        ("gravel,cu yd,-1,x", "give 0 or more"),
        ("gravel,truck,1,x", 'gravel is priced by the cu yd or m³, not by the "truck"'),
    ],
)
def test_a_price_that_cannot_be_read_names_its_line(tmp_path, row, said):
    own = tmp_path / cost.OWN_FILE
    own.write_text(f"item,unit,price,source\n{row}\n", encoding="utf-8")
    with pytest.raises(GardenError) as caught:
        cost.material_prices(own)
    assert said in str(caught.value)


def test_over_budget_is_a_warning_that_names_the_dearest_line(summary):
    (over,) = [f for f in cost.cost_findings(summary, 10.0) if "budget" in f.what]
    dearest = max(summary.lines, key=lambda line: line.cost)
    assert over.seriousness == "warning"
    assert dearest.name in over.why
    (within,) = [f for f in cost.cost_findings(summary, 1e6) if "budget" in f.what]
    assert within.seriousness == "note"


def test_what_is_left_out_is_always_said(summary):
    assert any("labour" in f.what for f in cost.cost_findings(summary, None))
