"""Enclosure by distance to height, street rules, and the share of sky left."""

import pytest

from gardenkit.structure.enclosure import (
    reading,
)

TABLE = [  # Robinette, quoted in Booth, p. 137: distance from the viewer over height, angle, reading
    (1, 45.000, "full enclosure"),
    (2, 26.565, "just enclosing"),
    (3, 18.435, "minimum enclosure"),
    (4, 14.036, "loss of enclosure"),
]


@pytest.mark.parametrize(("ratio", "angle", "words"), TABLE)
def test_distance_to_height(ratio: float, angle: float, words: str) -> None:
    assert reading(ratio * 1.8, 1.8) == words


def test_between_printed_ratios_the_looser_reading() -> None:
    assert [reading(r, 1.0) for r in (0.5, 1.1, 2.1, 3.1, 9)] == [
        "full enclosure",
        "just enclosing",
        "minimum enclosure",
        "loss of enclosure",
        "loss of enclosure",
    ]
