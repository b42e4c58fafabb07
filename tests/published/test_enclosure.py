"""Enclosure by distance to height, street rules, and the share of sky left."""

import pytest

from gardenkit.structure.enclosure import (
    enclosure_angle,
    reading,
    sky_between_walls,
    sky_in_clearing,
    street_reading,
)

TABLE = [  # Robinette, quoted in Booth, p. 137: distance from the viewer over height, angle, reading
    (1, 45.000, "full enclosure"),
    (2, 26.565, "just enclosing"),
    (3, 18.435, "minimum enclosure"),
    (4, 14.036, "loss of enclosure"),
]


@pytest.mark.parametrize(("ratio", "angle", "words"), TABLE)
def test_distance_to_height(ratio: float, angle: float, words: str) -> None:
    assert round(enclosure_angle(ratio * 1.8, 1.8), 3) == angle
    assert reading(ratio * 1.8, 1.8) == words


def test_between_printed_ratios_the_looser_reading() -> None:
    assert [reading(r, 1.0) for r in (0.5, 1.1, 2.1, 3.1, 9)] == [
        "full enclosure",
        "just enclosing",
        "minimum enclosure",
        "loss of enclosure",
        "loss of enclosure",
    ]


def test_street_rules_use_the_full_width() -> None:
    """Street design guide: height to width not below 1:6, which is 9.462 degrees."""
    assert round(enclosure_angle(6, 1), 3) == 9.462
    assert [street_reading(w, 2.0) for w in (12, 12.1)] == ["enclosed", "too open"]
    assert street_reading(9, 2.0, rule="1:2 to 1:4") == "too open"
    assert street_reading(2, 3.1, rule="3:2 to 1:6") == "too tight"


@pytest.mark.parametrize(("widths", "share"), [(1, 0.447214), (2, 0.707107), (3, 0.832050), (4, 0.894427)])
def test_sky_between_long_walls(widths: float, share: float) -> None:
    assert round(sky_between_walls(widths * 2.5, 2.5), 6) == share


@pytest.mark.parametrize(("heights", "share"), [(1, 0.5), (2, 0.8), (3, 0.9), (4, 0.941176)])
def test_sky_in_a_round_clearing(heights: float, share: float) -> None:
    assert round(sky_in_clearing(heights * 2.5, 2.5), 6) == share
