"""Published earthwork examples: what our grid and prismoidal sums give beside what was printed."""

import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.structure.earthwork import by_grid, prismoidal
from gardenkit.units import CUBIC_FOOT, CUBIC_YARD, FOOT, SQUARE_FOOT


def yards_of_fill(corners: tuple[float, float, float, float], target: float, square_feet: float) -> float:
    heights = np.array(corners).reshape(2, 2)
    cut, fill = by_grid((target - heights) * FOOT, square_feet * SQUARE_FOOT)
    assert cut == 0
    return fill / CUBIC_YARD


def test_grid_cell_of_50_ft_is_filled_by_199_cu_yd() -> None:
    """expertsmind.com question 30170481: corners 87.6, 87.6, 87.6, 88.6 to 90.0, mean fill 2.15 ft, printed 199."""
    assert round(yards_of_fill((87.6, 87.6, 87.6, 88.6), 90.0, 2500)) == 199


def test_grid_cell_of_a_calculator_manual() -> None:
    """heavycalc 4320 manual p. 36: corners 75.4, 77.5, 74.6, 80.5, mean 77, to 83 over 2,000 sq ft: 444.4 cu yd."""
    assert yards_of_fill((75.4, 77.5, 74.6, 80.5), 83.0, 2000) == pytest.approx(444.4, abs=0.05)


def test_four_cells_of_mean_cut_1_ft_are_370_cu_yd() -> None:
    """engineersuniverse.com, cut and fill by grid: 4 cells of 2,500 sq ft, mean cut 1 ft -> 370.4 cu yd; the nodes were
    not shown, so any of that mean do: here some that weigh as 1, 2 and 4 cells."""
    change = -np.array([[0.5, 1.0, 1.5], [0.5, 1.0, 1.5], [0.5, 1.0, 1.5]]) * FOOT
    cut, fill = by_grid(change, 2500 * SQUARE_FOOT)
    assert fill == 0
    assert cut / CUBIC_YARD == pytest.approx(370.4, abs=0.05)


def test_grid_weighs_corners_by_the_cells_they_belong_to() -> None:
    """V = A/4 (S1 + 2 S2 + 3 S3 + 4 S4), expertsmind.com question 91967: an L of three squares."""
    change = np.array([[1.0, 2.0, 3.0], [4.0, 5.0, 6.0], [7.0, 8.0, 9.0]])
    counted = np.array([[True, True], [True, False]])
    single, double, triple = 1 + 3 + 7 + 6 + 8, 2 + 4, 5
    assert by_grid(change, 1.0, counted)[1] == pytest.approx((single + 2 * double + 3 * triple) / 4)


def test_embankment_by_the_prismoidal_formula() -> None:
    """justaaa.com 1080072: width 10 m, sides 1.5:1, seven heights 20 m apart -> 2,647.7 m3 (worked from its inputs)."""
    heights = np.array([0.8, 1.2, 2.25, 2.6, 1.9, 1.4, 0.9])
    assert prismoidal(heights * (10 + 1.5 * heights), 20.0) == pytest.approx(2647.7, abs=0.05)


def test_vose_cutting_by_the_prismoidal_formula() -> None:
    """Vose's handbook of 1857, p. 83: base 20 ft, 1.5:1, cuts 0, 5, 10, 15, 0 at 50 ft: 52,500 cu ft prismoidal (the
    average end area prints 56,200)."""
    cuts = np.array([0.0, 2.5, 5.0, 7.5, 10.0, 12.5, 15.0, 7.5, 0.0])  # the middle area is that of the mean cut
    areas = cuts * (20 + 1.5 * cuts)
    assert areas[:8:2].tolist() == [0, 137.5, 350, 637.5]  # printed 137, 350, 637
    assert prismoidal(areas, 25.0) == pytest.approx(52_500, rel=1e-9)


def test_reservoir_by_contours() -> None:
    """askfilo.com 3336313635383430: nine contour areas 2 m apart -> 5,395,760 m3 by Simpson (from its inputs)."""
    areas = [400, 31_680, 50_010, 98_480, 241_500, 506_880, 693_900, 708_870, 738_780]
    assert prismoidal(areas, 2.0) == pytest.approx(5_395_760, rel=1e-6)


def test_prismoidal_wants_an_odd_number_of_sections() -> None:
    with pytest.raises(GardenError, match="odd number"):
        prismoidal([1.0, 2.0], 5.0)


def test_a_wedge_is_exact_by_both() -> None:
    """A wedge 10 m by 4 m that rises from 0 to 2 m holds 40 m3 (plain geometry)."""
    x = np.linspace(0, 2, 11)
    change = np.tile(x, (5, 1))
    assert by_grid(change, 1.0)[1] == pytest.approx(40.0)
    assert prismoidal(x * 4.0, 1.0) == pytest.approx(40.0)
    assert pytest.approx(CUBIC_YARD) == CUBIC_FOOT * 27
