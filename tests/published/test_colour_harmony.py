"""Harmony of two colours by Ou and Luo (2006), against the properties their paper prints."""

import math

import pytest

from gardenkit.planting.colour import lab
from gardenkit.planting.harmony import hue_liking, lab_harmony, pair_harmony

STEPS = ("00", "55", "aa", "ff")
LEAST, MOST = -1.24, 1.39  # printed range of the model
GRID = [f"#{r}{g}{b}" for r in STEPS for g in STEPS for b in STEPS]


def test_identical_greys_have_the_hue_part_of_no_difference() -> None:
    grey = lab("#808080")
    # all that depends on hue all but vanishes at no chroma: HSY's chroma factor is 0.5 + 0.5 tanh(-2) = 0.018
    lightness = 0.28 + 0.54 * math.tanh(-3.88 + 0.029 * 2 * grey[0]) + 0.14 + 0.15 * math.tanh(-2)
    assert lab_harmony(grey, grey) - lightness == pytest.approx(0.04 + 0.53 * math.tanh(0.8), abs=0.02)


def test_all_pairs_stay_within_the_published_range() -> None:
    values = [pair_harmony(a, b) for a in GRID for b in GRID]
    assert min(values) >= LEAST - 0.12
    assert max(values) <= MOST + 0.12
    assert max(values) - min(values) > 1.5  # it tells pairs apart


def test_blue_is_liked_most_and_red_least_of_six_hues() -> None:
    hues = {"red": 30, "orange": 60, "yellow": 90, "green": 160, "blue": 280, "purple": 320}
    liked = {name: hue_liking(h) for name, h in hues.items()}
    assert max(liked, key=lambda name: liked[name]) == "blue"
    assert min(liked, key=lambda name: liked[name]) == "red"


def test_the_order_of_two_colours_does_not_matter() -> None:
    assert pair_harmony("#755f98", "#e2b04a") == pytest.approx(pair_harmony("#e2b04a", "#755f98"))
