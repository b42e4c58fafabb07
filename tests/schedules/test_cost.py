"""The cost summary: sums that agree, prices that can be overridden, a budget that is checked."""

import attrs
import pytest

from gardenkit.brief.pricing import Pricing
from gardenkit.findings import GardenError
from gardenkit.schedules import cost
from gardenkit.schedules.labour import Work
from gardenkit.schedules.orders import ITEMS, orders
from gardenkit.schedules.plants import plant_schedule, total_cost
from gardenkit.schedules.quantities import quantities
from gardenkit.schedules.span import Span


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
        (
            "gravel,cu yd,cheap,x",
            'cannot read "cheap" as an amount for the price of gravel in material_prices.csv line 2',
        ),
        ("gravel,cu yd,-1,x", '"-1" for the price of gravel in material_prices.csv line 2 is out of range; give 0'),
        ("gravel,cu yd,1e308,x", 'cannot read "1e308"'),
        ("gravel,cu yd,1_000,x", 'cannot read "1_000"'),
        ("gravel,cu yd,٣,x", 'cannot read "٣"'),
        ("gravel,cu yd,999999999999,x", "give 0 to less than 1,000,000,000"),
        ('gravel,cu yd,"12,500",x', "could mean 12500 or 12.5"),
        ("gravel,cu yd,3,25,x", "line 2: more cells are filled than there are columns"),
        ("gravel,cu yd,3,x\ngravel,m³,4,x", "line 3: gravel is there twice"),
        ("gravel,cu yd,3,a\x00b", "line 2: the source holds a sign that cannot be shown (U+0000"),
        ("gravel,truck,1,x", 'gravel is priced by the cu yd or m³, not by the "truck"'),
    ],
)
def test_a_price_that_cannot_be_read_names_its_line(tmp_path, row, said):
    own = tmp_path / cost.OWN_FILE
    own.write_text(f"item,unit,price,source\n{row}\n", encoding="utf-8")
    with pytest.raises(GardenError) as caught:
        cost.material_prices(own)
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("item,unit,price,prise_low\n", 'no column "prise_low"; the nearest known is "price"'),
        ("item,price,price\n", 'the column "price" is there twice'),
        ("\x00" * 40, 'there is no column ""'),
        ("", "its first line names no columns"),
        ("mulch,cu yd,3\n", 'there is no column "mulch"'),
        ("item,low,price,high\nmulch,3,,4\n", "line 2: mulch has a low or a high price and no likely one"),
        ('item,price\nmulch,"' + "x" * 200_000, "is no table that can be read"),
    ],
)
def test_a_price_table_with_cells_that_would_be_lost_is_named(tmp_path, text, said):
    own = tmp_path / cost.OWN_FILE
    own.write_text(text, encoding="utf-8")
    with pytest.raises(GardenError) as caught:
        cost.material_prices(own)
    assert said in str(caught.value)


def test_prices_are_read_as_people_write_them(tmp_path):
    own = tmp_path / cost.OWN_FILE
    own.write_text(
        'item,unit,price\nmulch,cu yd,"3,25"\ngravel,cu yd,"$3,200"\n,,\nlawn,,"1.250,5"\n', encoding="utf-8"
    )
    prices = cost.material_prices(own)
    assert [prices[item].price for item in ("mulch", "gravel", "lawn")] == [3.25, 3200, 1250.5]
    with pytest.raises(GardenError, match=r"the price of gravel in material_prices.csv line 3 is in \$"):
        cost.material_prices(own, currency="€")
    own.write_text(
        "item;unit;price\nmulch;cu yd;3,25\n", encoding="utf-8"
    )  # as a spreadsheet saves it where people write commas
    assert cost.material_prices(own)["mulch"].price == 3.25


def test_over_budget_is_a_warning_that_names_the_dearest_line(summary):
    (over,) = [f for f in cost.cost_findings(summary, 10.0) if "budget" in f.what]
    dearest = max(summary.lines, key=lambda line: line.cost)
    assert over.seriousness == "warning"
    assert dearest.name in over.why
    (within,) = [f for f in cost.cost_findings(summary, 1e6) if "budget" in f.what]
    assert within.seriousness == "note"


def test_what_is_left_out_is_always_said(summary):
    assert any("labour is a sum of its own" in f.what for f in cost.cost_findings(summary, None))
    assert "taxes" in summary.left_out
    assert "tax" not in attrs.evolve(summary, pricing=Pricing(tax=8.0)).left_out


def test_our_own_prices_never_stand_for_another_money(small_garden, worked, catalogue, tmp_path):
    schedule = plant_schedule(small_garden.planting.plants, catalogue, {})
    ordered = orders(quantities(small_garden, worked, catalogue))
    planned = cost.costs(schedule, ordered, currency="NZ$ ")
    assert (planned.currency, planned.planning) == ("US$ ", True)
    said = [f.what for f in cost.cost_findings(planned, 10.0, currency="NZ$ ")]
    assert any("planning figures in US dollars, not in NZ$" in what for what in said)
    assert any("not comparable yet with the budget of NZ$ 10" in what for what in said)
    (tmp_path / cost.OWN_FILE).write_text("item,low,price,high\nmulch,70,80,95\ngravel,,,\n", encoding="utf-8")
    own = cost.costs(schedule, ordered, currency="NZ$ ", prices=cost.material_prices(tmp_path / cost.OWN_FILE))
    mulch = next(order.feet for order in ordered if order.item == "mulch")
    assert own.currency == "NZ$ "
    assert (own.plants, own.materials) == (0, pytest.approx(80 * mulch))
    assert own.bought == Span(*(pytest.approx(1.1 * price * mulch) for price in (70, 80, 95)))
    assert "without a price in NZ$" in own.left_out


def test_everything_is_the_sum_of_its_parts_with_percentages(summary):
    work = (Work(item="mulch", name="x", step="Planting", how="", hours=Span(8, 10, 15), paid=True, source=""),)
    terms = Pricing(labour_rate=50.0, delivery=5.0, tax=20.0, contingency=10.0)
    all_of_it = attrs.evolve(summary, work=work, rate=50.0, pricing=terms)
    bare = summary.plants + summary.materials
    assert all_of_it.everything.likely == pytest.approx((1.1 * bare + 0.05 * bare + 1.1 * 500) * 1.2)
    assert all_of_it.total == pytest.approx(summary.total)
    assert all_of_it.everything.low < all_of_it.everything.likely < all_of_it.everything.high


def test_a_price_table_to_fill_in_changes_nothing_until_it_is_filled_in(small_garden, worked, catalogue, tmp_path):
    ordered = orders(quantities(small_garden, worked, catalogue))
    (tmp_path / cost.OWN_FILE).write_text(cost.price_table(ordered), encoding="utf-8")
    assert cost.material_prices(tmp_path / cost.OWN_FILE) == cost.material_prices()
