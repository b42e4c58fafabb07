"""Growth curves: worked values, a class model, and growth-rate classes."""

import pytest

from gardenkit.planting.growth import chapman_richards, growth_class, linear, logistic
from gardenkit.units import FOOT, INCH

YEARS = (1, 5, 10, 15, 30)


@pytest.mark.parametrize(
    ("full", "rate", "shape", "expected"),
    [
        (30, 0.08, 1, (2.307, 9.890, 16.520, 20.964, 27.278)),
        (30, 0.08, 1.5, (0.640, 5.679, 12.259, 17.525, 26.012)),
        (20, 0.15, 1.2, (1.878, 9.286, 14.772, 17.498, 19.734)),
    ],
)
def test_chapman_richards_values(full: float, rate: float, shape: float, expected: tuple[float, ...]) -> None:
    """Plain arithmetic of H = A (1 - e^(-kt))^p."""
    found = [chapman_richards(t, full=full, rate=rate, shape=shape) for t in YEARS]
    assert found == pytest.approx(expected, abs=5.1e-4)
    assert chapman_richards(0, full=full, rate=rate, shape=shape) == 0


def test_logistic_values_and_half_size_in_the_middle() -> None:
    """Plain arithmetic of H = A / (1 + e^(-r (t - t0)))."""
    found = [logistic(t, full=30, rate=0.3, middle=8) for t in YEARS]
    assert found == pytest.approx((3.273, 8.672, 19.370, 26.727, 29.959), abs=5.1e-4)
    assert logistic(8, full=30, rate=0.3, middle=8) == 15


@pytest.mark.parametrize(
    ("inches", "feet"),
    [
        (9, (4.75, 7.75, 11.5, 15.25)),
        (18, (5.5, 11.5, 19.0, 25)),
        (30, (6.5, 16.5, 25, 25)),
    ],
)
def test_class_model_planted_at_4_ft_mature_at_25_ft(inches: float, feet: tuple[float, ...]) -> None:
    """Plain arithmetic; years 1, 5, 10, 15."""
    found = [linear(t, full=25 * FOOT, start=4 * FOOT, rate=inches * INCH) / FOOT for t in (1, 5, 10, 15)]
    assert found == pytest.approx(feet)


@pytest.mark.parametrize(
    ("scheme", "inches", "name"),
    [
        ("missouri", 12, "slow"),
        ("missouri", 13, "medium"),
        ("missouri", 23, "medium"),
        ("missouri", 25, "fast"),
        ("garden author", 12, "slow"),
        ("garden author", 13, "medium"),
        ("garden author", 24, "medium"),
        ("garden author", 26, "fast"),
        ("five steps", 6, "slow"),
        ("five steps", 18, "slow to moderate"),
        ("five steps", 30, "moderate to fast"),
        ("five steps", 40, "very fast"),
        ("shrubs", 6, "slow"),
        ("shrubs", 12, "medium"),
        ("shrubs", 25, "fast"),
    ],
)
def test_growth_rate_classes(scheme: str, inches: float, name: str) -> None:
    """Missouri Dept. of Conservation; a garden author; two common scales without a source."""
    assert growth_class(inches * INCH, scheme=scheme) == name
