"""Colours can be read, and by those who do not see red from green."""

from itertools import pairwise

import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.drawing import style

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")
TEXT_INKS = (style.INK, style.SOFT_INK)


def test_contrast_runs_from_1_to_21() -> None:
    """WCAG 2.2, contrast ratio: "Contrast ratios can range from 1 to 21"."""
    assert style.contrast("#000000", "#ffffff") == pytest.approx(21)
    assert style.contrast("#345678", "#345678") == 1


def test_luminance_is_the_weighted_sum_of_wcag() -> None:
    """WCAG 2.2, relative luminance: L = 0.2126 R + 0.7152 G + 0.0722 B."""
    assert style.luminance("#ff0000") == pytest.approx(0.2126)
    assert style.luminance("#00ff00") == pytest.approx(0.7152)
    assert style.luminance("#0000ff") == pytest.approx(0.0722)


@pytest.mark.parametrize("ink", TEXT_INKS)
@pytest.mark.parametrize("ground", [*style.GROUND.values(), style.PAPER, style.HOUSE, *style.STONES])
def test_lettering_reads_on_every_ground(ink: str, ground: str) -> None:
    """WCAG 2.2, success criterion 1.4.3: at least 4.5 : 1."""
    assert style.contrast(ink, ground) >= 4.5


@pytest.mark.parametrize("ink", [style.EYE, style.FOUND, style.ALERT, style.PLANT_INK, style.BARE_INK])
def test_coloured_inks_read_on_paper_and_open_ground(ink: str) -> None:
    assert style.contrast(ink, style.PAPER) >= 4.5
    assert style.contrast(ink, style.GROUND["open ground"]) >= 4.5


@given(COLOURS)
def test_every_leaf_and_flower_colour_gets_an_outline_that_shows_on_a_bed(colour: str) -> None:
    """WCAG 2.2, success criterion 1.4.11, graphical objects: at least 3 : 1."""
    assert style.contrast(style.outline_of(colour), style.GROUND["bed"]) >= 3


def test_sun_steps_grow_lighter_so_the_map_survives_grey_printing() -> None:
    light = [style.luminance(colour) for colour in style.SUN_COLOURS]
    assert len(light) == len(style.SUN_STEPS) + 1
    assert all(b - a > 0.02 for a, b in pairwise(light))


@pytest.mark.parametrize("sight", ["protan", "deutan", "tritan"])
def test_neighbouring_sun_steps_stay_apart_for_colour_blind_readers(sight: str) -> None:
    seen = [Color(colour).filter(sight) for colour in style.SUN_COLOURS]
    assert min(a.delta_e(b, method="2000") for a, b in pairwise(seen)) > 6


@settings(max_examples=50)
@given(COLOURS, COLOURS)
def test_mixing_starts_at_one_colour_and_ends_at_the_other(a: str, b: str) -> None:
    assert style.mixed(a, b, 0) == a
    assert style.mixed(a, b, 1) == b


def test_structure_is_drawn_heavier_than_planting() -> None:
    assert min(style.WALL, style.BOUNDARY, style.BUILT, style.EDGE) > max(style.CANOPY, style.PLANT)
    assert style.PLANT > style.RIB > style.FLECK


def test_lettering_is_never_under_two_millimetres() -> None:
    assert min(style.BED_LETTERS, style.KEY_LETTERS, style.NOTE_LETTERS, style.SMALL_LETTERS) >= 2.0
