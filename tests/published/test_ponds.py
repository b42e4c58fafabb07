"""Published pond liners, volumes, pumps and heads."""

import pytest

from gardenkit.geometry import plane
from gardenkit.structure.pond import SHELVES, liner_side, pond, pump_head
from gardenkit.units import FOOT

GALLON = 3.785411784  # litres, US


@pytest.mark.parametrize(
    ("sides", "depth", "overlap", "printed"),
    [
        ((15, 12), 3, 1.5, (24, 21)),  # proecoproducts.com
        ((10, 8), 6, 0.5, (23, 21)),  # koimag.co.uk
        ((12, 17), 3, 1, (20, 25)),  # ponds2go.com
        ((6, 4), 1.5, 1, (11, 9)),  # esbenshades.com
        ((5, 8), 3, 2, (15, 18)),  # easycalculation.com, bare numbers
    ],
)
def test_liner(sides: tuple[int, int], depth: float, overlap: float, printed: tuple[int, int]) -> None:
    assert tuple(liner_side(side, depth, overlap) for side in sides) == printed


def test_a_pond_of_10_by_20_by_1_and_a_half_feet() -> None:
    """waterpumpsupply.com: 10 x 20 x 1.5 ft x 7.5 = 2,250 gal for straight sides; ours lets shelves take a quarter."""
    made = pond(plane.region([(0, 0), (20 * FOOT, 0), (20 * FOOT, 10 * FOOT), (0, 10 * FOOT)]), depth=1.5 * FOOT)
    assert made.litres / SHELVES / GALLON == pytest.approx(2250, rel=0.005)
    assert made.liner == (pytest.approx(25 * FOOT), pytest.approx(15 * FOOT))
    assert made.flow * 2 == pytest.approx(made.litres)  # once in 2 h: 1,000 gal -> 500 gph, thepondboss.net


def test_a_turned_pond_needs_no_more_liner() -> None:
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)]
    turned = plane.region(plane.turned(square, 30.0))
    assert pond(turned, depth=0.5).liner == (pytest.approx(5.6096), pytest.approx(3.6096))


def test_head_is_rise_and_hose_and_elbows() -> None:
    """pondpumpcalculator.com: 1 ft for each 10 ft of hose and 6 in for each elbow: 3 ft up, 20 ft, 2 elbows -> 6 ft."""
    assert pump_head(3 * FOOT, hose=20 * FOOT, elbows=2) == pytest.approx(6 * FOOT)
