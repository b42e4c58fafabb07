"""Sections of beams and rafters against printed span tables, and goods that metric gardens buy in metric sizes."""

from pathlib import Path

import attrs
import pytest

from gardenkit.garden import Garden
from gardenkit.project import Project
from gardenkit.schedules.irrigation import dripline
from gardenkit.site.site import Site
from gardenkit.structure.kinds import parts_list
from gardenkit.structure.kinds.support_parts import posts_of
from gardenkit.structure.kinds.timber_sizes import EIGHT, SIX, TEN, beam_size, rafter_size
from gardenkit.structure.posts import bag_of
from gardenkit.structure.structure import Structure, Support

FOOT = 0.3048
PERGOLA = Support(name="p", kind="pergola", line=((1.0, 1.0), (1.0 + 8 * FOOT, 1.0)), height=2.4, depth=6 * FOOT)


@pytest.mark.parametrize(("span", "size"), [(8.0, SIX), (8.1, EIGHT), (10.5, EIGHT), (13.0, TEN), (13.1, None)])
def test_rafters_go_as_far_as_dca_6_lets_joists_of_the_weakest_woods(span, size):
    """DCA 6, table 2, redwood, cedar, ponderosa pine at 16 in: 2 x 6 8 ft 0 in, 2 x 8 10 ft 7 in, 2 x 10 13 ft."""
    assert rafter_size(span * FOOT) is size


@pytest.mark.parametrize(
    ("apart", "joists", "size"),
    [(5.0, 6.0, SIX), (8.0, 6.0, EIGHT), (8.0, 8.0, EIGHT), (8.0, 9.0, TEN), (8.0, 12.0, None)],
)
def test_beams_are_those_of_the_printed_table(apart, joists, size):
    """decks.com, ponderosa pine, two boards: posts 8 ft apart want 2 x 8 under joists of 6 and 8 ft, 2 x 10 of 9 ft."""
    assert beam_size(apart * FOOT, joists * FOOT) is size


def garden(units) -> Garden:
    site = Site(boundary=((0, 0), (10, 0), (10, 10), (0, 10)))
    return Garden(Project(name="plot", units=units, site=site, structure=Structure(supports=(PERGOLA,))), Path())


def test_a_pergola_is_ordered_and_priced_by_the_sections_that_its_parts_have():
    """8 ft long and 6 ft deep: four posts, 4 boards of 2 x 8 in of 10 ft, 9 rafters of 2 x 6 in of 8 ft."""
    work = garden("imperial")
    orders = {order.item: order for order in work.orders}
    assert (orders["timber 2 x 8"].imperial, orders["timber"].imperial) == (
        "40 ft: 4 of 10' 0\"",
        "72 ft: 9 of 8' 0\"",
    )
    prices = {line.item: line.cost for line in work.costs.lines}
    assert prices["timber 2 x 8"] == pytest.approx(40 * 3.0)
    assert orders["timber 2 x 8"].name == "sawn timber, 2 x 8 in (45 x 190 mm)"


def test_a_metric_garden_orders_metric_goods():
    """Six posts, 2.4 m apart at most, of 90 mm in holes of 270 mm; bags of 20 kg make as much by the kilogram as the
    maker's, 0.15 cu ft for 20 lb; rafters every 400 mm over 2.438 m and 300 mm past either end; rows of drip 300 mm
    apart give 33.3 m in 10 m2.
    """
    work = garden("metric")
    posts = posts_of(work.project.structure, "metric")
    bag = bag_of("metric")
    assert (posts.across, bag.weight) == (pytest.approx(0.09), 20.0)
    assert bag.makes == pytest.approx(0.15 * 0.0283168466 * 20 / (20 * 0.45359237), rel=1e-6)
    parts = {part.name: part for part in parts_list(PERGOLA, posts=posts)}
    hole = (3.141592653589793 * 0.27**2 / 4 - 0.09**2) * 1.2
    assert parts["concrete"].count == -(-6 * hole // bag.makes)
    assert (parts["rafter"].count, round(parts["rafter"].length, 4)) == (9, round(6 * FOOT + 0.6, 4))
    (concrete,) = [order for order in work.orders if order.item == "concrete"]
    assert concrete.metric == f"{parts['concrete'].count} bags of 20 kg"
    assert dripline(10.0, "sandy", units="metric").length == pytest.approx(10 / 0.3)
    assert attrs.evolve(posts, units="imperial").built(12 * 0.0254) == pytest.approx(0.3048)
