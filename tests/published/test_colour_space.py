"""Screen colours in CIELAB (D65, 2 degrees), their differences, and opposites on two wheels; plain computation."""

import math

import pytest

from gardenkit.planting.colour import chroma, difference, hue, lab

LABS = (
    ("#ff0000", (53.24, 80.09, 67.20)),
    ("#ffa500", (74.94, 23.93, 78.95)),
    ("#ffff00", (97.14, -21.55, 94.48)),
    ("#008000", (46.23, -51.70, 49.90)),
    ("#0000ff", (32.30, 79.19, -107.86)),
    ("#800080", (29.78, 58.93, -36.49)),
    ("#808080", (53.59, 0, 0)),
)
DIFFERENCES = (
    ("#ff0000", "#ffa500", 33.75),  # red, orange
    ("#ffff00", "#800080", 96.71),  # yellow, purple
    ("#0000ff", "#ffa500", 78.08),  # blue, orange
    ("#ff0000", "#008000", 72.18),  # red, green
    ("#ffc0cb", "#e6e6fa", 19.31),  # pink, lavender
    ("#ffffff", "#808080", 33.24),  # white, mid-grey
)


@pytest.mark.parametrize(("colour", "expected"), LABS)
def test_screen_colour_to_cielab(colour: str, expected: tuple[float, float, float]) -> None:
    assert lab(colour) == pytest.approx(expected, abs=0.02)


@pytest.mark.parametrize(
    ("colour", "degrees"), [("#ff0000", 40.0), ("#ffa500", 73.1), ("#008000", 136.0), ("#0000ff", 306.3)]
)
def test_hue_angle(colour: str, degrees: float) -> None:
    assert hue(colour, wheel="CIELAB hue") == pytest.approx(degrees, abs=0.05)


def test_chroma_of_red() -> None:
    assert chroma("#ff0000") == pytest.approx(104.55, abs=0.02)


@pytest.mark.parametrize(("first", "second", "expected"), DIFFERENCES)
def test_difference_of_named_pairs(first: str, second: str, expected: float) -> None:
    assert difference(first, second) == pytest.approx(expected, abs=0.02)


@pytest.mark.parametrize(("first", "second"), [("#ff0000", "#00ff00"), ("#ffff00", "#ff00ff"), ("#0000ff", "#ff8000")])
def test_painters_opposites_are_red_green_yellow_purple_blue_orange(first: str, second: str) -> None:
    apart = abs(hue(first, wheel="painters") - hue(second, wheel="painters"))
    assert min(apart, 360 - apart) == pytest.approx(180, abs=0.5)


def test_red_and_green_are_not_opposite_in_cielab() -> None:
    apart = abs(hue("#ff0000") - hue("#00ff00"))
    assert not math.isclose(apart, 180, abs_tol=60)
