"""Emitter spacings and flows by soil, wetted depths, new trees: as the irrigation trade and Extension print them."""

import pytest

from gardenkit.schedules.irrigation import (
    EMITTER_FLOW,
    EMITTER_SPACING,
    dripline,
    emitter_spacing,
    first_weeks_litres,
    tree_litres,
)
from gardenkit.schedules.quantities import MULCH_DEPTH, STEM_GAP, TRUNK_GAP
from gardenkit.site.amendments import COMPOST_NEW_BED, MULCH, MULCH_AT_STEM, layer_volume
from gardenkit.site.water import gallons
from gardenkit.units import CUBIC_YARD, INCH, SQUARE_FOOT, US_GALLON


def test_emitters_12_inches_apart_in_sand_and_up_to_24_in_clay() -> None:
    """R. Kourik."""
    assert EMITTER_SPACING["sandy"] / INCH == pytest.approx(12)
    assert EMITTER_SPACING["clay"] / INCH == pytest.approx(24)
    assert EMITTER_SPACING["sandy"] < EMITTER_SPACING["loam"] < EMITTER_SPACING["clay"]


def test_emitter_spacing_stays_within_what_one_emitter_wets() -> None:
    """Irrigation supplier: one emitter wets about 16 in across in sand, 24 in or more in clay."""
    assert EMITTER_SPACING["sandy"] <= 16 * INCH
    assert EMITTER_SPACING["clay"] <= 24 * INCH + 1e-12


@pytest.mark.parametrize(("depth", "spacings"), [(6, (6, 12, 24)), (9, (9, 18, 36))])
def test_spacing_to_wetted_depth(depth: float, spacings: tuple[float, float, float]) -> None:
    """Manufacturer's design manual, figure 5-4: 1:1 coarse, 2:1 medium, 4:1 fine."""
    found = [emitter_spacing(depth * INCH, soil) / INCH for soil in ("sandy", "loam", "clay")]
    assert found == pytest.approx(spacings)


def test_emitter_flow_by_soil() -> None:
    """Irrigation supplier: clay 0.5-1 gph, sand 2-4 gph."""
    assert 0.5 <= EMITTER_FLOW["clay"] / US_GALLON <= 1.0
    assert 2.0 <= EMITTER_FLOW["sandy"] / US_GALLON <= 4.0


def test_loam_dripline_wets_0_428_inches_an_hour() -> None:
    """231 x 0.6 gph / (18 x 18 in)."""
    assert round(dripline(10.0, "loam").rate / 25.4, 3) == 0.428


def test_new_tree_takes_a_gallon_and_a_half_an_inch_of_caliper() -> None:
    """Cooperative Extension, trees-energy-conservation.extension.org; or 1 in of rain a week."""
    assert gallons(tree_litres(1 * INCH)) == pytest.approx(1.5)
    assert gallons(tree_litres(2 * INCH)) == pytest.approx(3.0)


def test_first_ten_weeks_of_a_two_inch_tree() -> None:
    """3 gal x 14 days + 3 gal x 28 alternate days = 42 + 84 = 126 gal."""
    assert gallons(first_weeks_litres(2 * INCH)) == pytest.approx(126)


def test_mulch_depth_lies_in_every_published_range() -> None:
    """Iowa State: 3-4 in, 2-3 in on heavy soil, 6 in off trunks; US Forest Service: 2-4 in, 0 in against the stem."""
    assert pytest.approx(3) == MULCH_DEPTH / INCH
    assert MULCH[0] <= MULCH_DEPTH <= MULCH[1]
    assert MULCH_AT_STEM == 0
    assert 2 <= STEM_GAP / INCH <= 3
    assert pytest.approx(6) == TRUNK_GAP / INCH


def test_compost_of_a_new_bed_is_three_inches() -> None:
    """Three inches worked in; 100 sq ft at 3 in is 0.926 cu yd."""
    assert COMPOST_NEW_BED[0] / INCH == pytest.approx(3)
    assert round(layer_volume(100 * SQUARE_FOOT, COMPOST_NEW_BED[0]) / CUBIC_YARD, 3) == 0.926
