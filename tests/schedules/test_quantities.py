"""The take-off agrees with the plan: volumes from areas and depths, rounding up, nothing counted twice."""

import math

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.geometry import plane
from gardenkit.schedules import orders as o
from gardenkit.schedules import quantities as q
from gardenkit.schedules.lines import Line
from gardenkit.structure.kinds.surfaces import COMPACTING, GRAVEL_DEPTH
from gardenkit.structure.structure import GroundArea
from gardenkit.units import CUBIC_YARD, FOOT, INCH


def lines_of(lines, item):
    return [line for line in lines if line.item == item]


def test_compost_is_the_bed_area_times_its_depth(small_garden, worked, catalogue):
    lines = lines_of(q.quantities(small_garden, worked, catalogue), "compost")
    areas = {bed.name: bed.area for bed in worked.beds}
    assert {line.where for line in lines} == set(areas)
    for line in lines:
        assert line.amount == pytest.approx(areas[line.where] * 3 * INCH, rel=1e-9)


def test_mulch_leaves_out_exactly_the_gap_at_each_stem(small_garden, worked, catalogue):
    lines = {line.where: line for line in lines_of(q.quantities(small_garden, worked, catalogue), "mulch")}
    west = next(bed for bed in worked.beds if bed.name == "West")
    left_out = sum(plane.area(plane.circle((0, 0), gap, sides=16)) for gap in (q.STEM_GAP, q.STEM_GAP, q.TRUNK_GAP))
    assert west.area - lines["West"].area == pytest.approx(left_out, rel=1e-6)
    assert "2.5 in of stems" in lines["West"].rule


def test_gravel_is_the_path_surface_times_three_inches(small_garden, worked, catalogue):
    (line,) = lines_of(q.quantities(small_garden, worked, catalogue), "gravel")
    assert line.amount == pytest.approx(plane.area(worked.surfaces["walk"]) * GRAVEL_DEPTH, rel=1e-9)


def test_edging_is_both_sides_of_the_path_and_the_bed_that_asked_for_it(small_garden, worked, catalogue):
    lines = {line.where: line for line in lines_of(q.quantities(small_garden, worked, catalogue), "edging")}
    assert set(lines) == {"walk", "West"}
    ends = 4 * q.AT_EDGE  # both sides stop that far from the boundary and from the house
    assert lines["walk"].amount == pytest.approx(2 * worked.routes["walk"].length - ends, rel=1e-9)


def test_lawn_is_its_ground_and_is_ordered_by_the_whole_square_foot(small_garden, worked, catalogue):
    lines = lines_of(q.quantities(small_garden, worked, catalogue), "lawn")
    assert [line.amount for line in lines] == pytest.approx([4.0])
    (order,) = o.orders(lines)
    assert (order.imperial, order.metric) == ("44 sq ft", "4 m²")


def test_an_arch_orders_whole_bags_of_concrete(small_garden, worked, catalogue):
    (line,) = lines_of(q.quantities(small_garden, worked, catalogue), "concrete")
    assert (line.where, line.unit) == ("arch", "each")
    assert line.amount == int(line.amount) > 0


def test_patio_base_goes_past_the_edge_and_has_a_tenth_more_for_compacting(small_garden):
    ground_area = GroundArea(name="terrace", kind="patio", outline=((0, 0), (3.048, 0), (3.048, 3.048), (0, 3.048)))
    lines = {line.item: line for line in q.ground_area_lines(ground_area, plane.region(ground_area.outline))}
    square_corners = (11 * FOOT) ** 2 * 4 * INCH * (1 + COMPACTING)
    rounded_off = (4 - math.pi) * (6 * INCH) ** 2 * 4 * INCH * (1 + COMPACTING)
    assert lines["crushed stone"].amount == pytest.approx(square_corners - rounded_off, rel=1e-3)
    assert lines["bedding"].amount == pytest.approx(100 * FOOT**2 * INCH, rel=1e-9)


def test_areas_of_beds_paths_and_ground_areas_fill_the_open_ground(worked):
    rows = q.areas(worked)
    assert sum(area for _, _, area, _ in rows) + plane.area(worked.scraps) == pytest.approx(
        plane.area(worked.ground), abs=1e-6
    )


def test_an_empty_garden_needs_nothing(bare_garden):
    from gardenkit.project import Project
    from gardenkit.project.layout import layout

    empty = Project(name="empty")
    assert q.quantities(empty, layout(empty)) == ()
    assert o.orders(()) == ()


def test_every_line_has_a_rule_and_a_source(small_garden, worked, catalogue):
    for line in q.quantities(small_garden, worked, catalogue):
        assert line.rule, line
        assert line.source, line


def test_thin_mulch_and_unknown_frost_are_said(small_garden):
    found = q.quantity_findings(small_garden, depths=q.Depths(mulch=1 * INCH))
    assert [f.what for f in found if f.topic == "mulch" and f.seriousness == "caution"] == ['1" is outside 2 to 4 in']
    assert any("frost" in f.what for f in found)
    known = q.quantity_findings(frozen_to(small_garden, 1.0))
    assert not any("frost" in f.what for f in known)


def test_frost_deepens_the_posts(small_garden, worked, catalogue):
    shallow = lines_of(q.quantities(small_garden, worked, catalogue), "concrete")[0].amount
    deep = lines_of(q.quantities(frozen_to(small_garden, 1.5), worked, catalogue), "concrete")[0].amount
    assert deep > shallow


def test_bought_posts_end_below_the_recorded_frost_depth(small_garden):
    """The parts bought, the structure page and the client copy all set posts below the frost the designer recorded."""
    frost = 42 * INCH  # Minnesota Rules 1303.1600, south; from memory
    posts = [(n, p) for n, p in q.support_parts(frozen_to(small_garden, frost)) if p.name == "post"]
    heights = {s.name: s.height for s in small_garden.structure.supports}
    assert posts
    assert all(part.length - heights[name] >= frost for name, part in posts)


def frozen_to(garden, depth):
    return attrs.evolve(garden, structure=attrs.evolve(garden.structure, frost_depth=depth))


@given(st.floats(0.001, 500))
def test_bulk_never_falls_short_and_never_over_by_half_a_yard(volume):
    ordered = o.bulk(volume)
    assert ordered >= volume - 1e-6
    assert ordered - volume < CUBIC_YARD / 2 + 1e-6
    assert round(ordered / (CUBIC_YARD / 2), 6) == round(ordered / (CUBIC_YARD / 2))


@given(st.floats(0.001, 50), st.floats(0.01, 0.2))
def test_bags_always_hold_enough_and_one_fewer_does_not(volume, bag):
    count = o.whole_bags(volume, bag)
    assert count * bag >= volume - 1e-6
    assert (count - 1) * bag < volume


def test_amounts_show_in_both_systems():
    line = Line(item="mulch", where="bed", amount=2.0, unit="m3")
    assert (line.shown("imperial"), line.shown("metric")) == ("2.62 cu yd", "2.00 m³")
    assert attrs.evolve(line, amount=1000.0, unit="kg").shown("imperial") == "2,205 lb"
    assert attrs.evolve(line, amount=4.0, unit="each").shown("metric") == "4"
    assert (o.whole_length(1.0, "imperial"), o.whole_length(1.2, "metric")) == ("4 ft", "2 m")


def test_a_gravel_place_is_edged_along_open_ground_only():
    """3 by 2 m of gravel in the corner of house and boundary: a long and a short side lie free (plain geometry)."""
    from gardenkit.project import Project
    from gardenkit.project.layout import layout
    from gardenkit.site.site import Building, Site
    from gardenkit.structure.structure import GroundArea, Structure

    house = Building(name="house", outline=((0, 2), (12, 2), (12, 8), (0, 8)))
    site = Site(boundary=((0, 0), (12, 0), (12, 8), (0, 8)), buildings=(house,))
    court = GroundArea(name="court", kind="gravel", outline=((0, 0.5), (3, 0.5), (3, 2), (0, 2)))
    project = Project(name="corner", site=site, structure=Structure(ground_areas=(court,)))
    (line,) = [one for one in q.quantities(project, layout(project)) if one.item == "edging"]
    assert line.amount == pytest.approx(3 + 1.5, abs=2 * q.AT_EDGE + 1e-6)


@pytest.mark.parametrize("name", ["fennel_street_corner", "lantern_lane_strip", "quarry_brow_hillside"])
def test_every_piece_of_every_support_is_ordered(name):
    """Recomputed from the parts lists: metres of posts, pieces of hardware, bags, by the words of each part."""
    from pathlib import Path

    from gardenkit.garden import Garden

    garden = Garden.open(Path(__file__).resolve().parents[2] / "examples" / name)
    parts = [part for _, part in q.support_parts(garden.project)]
    orders = {order.item: order.amount for order in garden.orders}
    posts = sum(part.count * part.length for part in parts if part.name == "post")
    assert orders.get("post", 0.0) == pytest.approx(posts)
    small = sum(p.count for p in parts if p.name in ("eye bolt", "turnbuckle", "finial"))
    assert orders.get("fixing", 0.0) == pytest.approx(small)
    counted = sum(
        order.item in ("post", "timber", "lattice", "fence boards", "wire", "fixing", "concrete")
        for order in garden.orders
    )
    assert counted >= 3
    assert not [order for order in garden.orders if order.item == "joint filling" and order.amount < 0.005]


def test_timber_is_ordered_by_the_piece_where_it_must_not_be_cut_anywhere():
    posts = [Line(item="post", where=place, amount=n * 3.75, unit="m", count=n) for place, n in (("a", 4), ("b", 2))]
    rails = Line(item="post", where="c", amount=2.5, unit="m", count=1)
    (order,) = o.orders([*posts, rails])
    assert order.metric == "25 m: 6 of 3.75 m, 1 of 2.50 m"
    assert order.imperial == "83 ft: 6 of 12' 3½\", 1 of 8' 2½\""
    (liner,) = o.orders([Line(item="pond", where="pond", amount=3.2 * 2.9, unit="m2", sheet=(3.2, 2.9))])
    assert liner.metric == "10 m²: 3.20 m by 2.90 m"  # one piece: ten metres of another are no use
    (hose,) = o.orders([Line(item="dripline", where="bed", amount=130.7, unit="m")])
    assert hose.metric == "131 m"


def test_a_potful_is_ordered_in_bags_not_by_the_half_yard():
    """80 L of mix are two bags of 50 L or of 2 cu ft (56.6 L); nine litres of joints one bag of either."""
    mix = Line(item="potting mix", where="pot", amount=0.08, unit="m3")
    joints = Line(item="joint filling", where="walk", amount=0.009, unit="m3")
    filled, swept = (o.orders([line])[0] for line in (mix, joints))
    assert (filled.metric, filled.imperial) == ("2 bags of 50 L", "2 bags of 2 cu ft")
    assert (swept.metric, swept.imperial) == ("1 bag of 20 kg", "1 bag of 50 lb")
    assert [order.priced(system) for order in (filled, swept) for system in ("imperial", "metric")] == [2, 2, 1, 1]
