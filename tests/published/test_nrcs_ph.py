"""NRCS Soil Quality Indicators: pH, 1998: the classes of soil reaction."""

import pytest

from gardenkit.site.soil import ph_class

CLASSES = [  # lowest and highest pH printed
    (3.5, 4.4, "extremely acid"),
    (4.5, 5.0, "very strongly acid"),
    (5.1, 5.5, "strongly acid"),
    (5.6, 6.0, "moderately acid"),
    (6.1, 6.5, "slightly acid"),
    (6.6, 7.3, "neutral"),
    (7.4, 7.8, "slightly alkaline"),
    (7.9, 8.4, "moderately alkaline"),
    (8.5, 9.0, "strongly alkaline"),
]


@pytest.mark.parametrize(("low", "high", "name"), CLASSES)
def test_both_ends_of_each_class(low: float, high: float, name: str) -> None:
    assert (ph_class(low), ph_class(high)) == (name, name)


def test_beyond_the_printed_classes() -> None:
    """Soil Survey Manual, 2017, from memory: below 3.5 and above 9.0."""
    assert (ph_class(3.4), ph_class(9.1)) == ("ultra acid", "very strongly alkaline")


def test_readings_are_rounded_to_a_tenth_first() -> None:
    assert (ph_class(6.54), ph_class(6.56)) == ("slightly acid", "neutral")
