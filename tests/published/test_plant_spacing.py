"""Plants by the square foot, counts with the edge kept free, flats: trade tables and plain arithmetic."""

import math

import pytest

from gardenkit.geometry import plane
from gardenkit.planting.spacing import place_in, row_pitch
from gardenkit.planting.spacing import plants_a_square_metre as density
from gardenkit.units import FOOT, INCH, SQUARE_FOOT

# plain arithmetic, 144/s2 and 144/(0.866025 s2): spacing in; per sq ft square, staggered; row pitch in;
# whole plants in 100 sq ft square, staggered; sq ft a flat of 50 square, staggered
TABLE = (
    (4, 9.0000, 10.3923, 3.46, 900, 1040, 5.6, 4.8),
    (6, 4.0000, 4.6188, 5.20, 400, 462, 12.5, 10.8),
    (8, 2.2500, 2.5981, 6.93, 225, 260, 22.2, 19.2),
    (9, 1.7778, 2.0528, 7.79, 178, 206, 28.1, 24.4),
    (10, 1.4400, 1.6628, 8.66, 144, 167, 34.7, 30.1),
    (12, 1.0000, 1.1547, 10.39, 100, 116, 50.0, 43.3),
    (15, 0.6400, 0.7390, 12.99, 64, 74, 78.1, 67.7),
    (18, 0.4444, 0.5132, 15.59, 45, 52, 112.5, 97.4),
    (24, 0.2500, 0.2887, 20.78, 25, 29, 200.0, 173.2),
    (30, 0.1600, 0.1848, 25.98, 16, 19, 312.5, 270.6),
    (36, 0.1111, 0.1283, 31.18, 12, 13, 450.0, 389.7),
    (48, 0.0625, 0.0722, 41.57, 7, 8, 800.0, 692.8),
    (60, 0.0400, 0.0462, 51.96, 4, 5, 1250.0, 1082.5),
)
METRIC = (  # m: plants per m2 square, staggered
    (0.10, 100, 115.47),
    (0.15, 44.44, 51.32),
    (0.20, 25, 28.87),
    (0.25, 16, 18.48),
    (0.30, 11.11, 12.83),
    (0.45, 4.938, 5.702),
    (0.60, 2.778, 3.208),
    (1.00, 1, 1.1547),
)
INCHES_PER_M2 = (  # in: plants per m2 square, staggered
    (4, 96.875, 111.862),
    (6, 43.056, 49.716),
    (8, 24.219, 27.965),
    (9, 19.136, 22.096),
    (10, 15.500, 17.898),
    (15, 6.889, 7.955),
    (18, 4.784, 5.524),
    (24, 2.691, 3.107),
    (30, 1.722, 1.989),
    (36, 1.196, 1.381),
    (48, 0.673, 0.777),
    (60, 0.431, 0.497),
)
INCHES = (4, 6, 8, 10, 12, 15, 18, 24, 36)
NURSERY_PRINTS = {  # square feet and nursery: plants printed for the spacings of INCHES, None where it prints none
    (100, 1): (900, 400, 225, 144, 100, 64, 44, 25, 11),
    (50, 1): (450, 200, 113, 72, 50, 32, 22, 13, 5),
    (1000, 1): (9000, 4000, 2250, 1440, 1000, 640, 440, 250, 111),
    (100, 3): (None, None, 228, 144, 100, 64, 44, 24, None),
    (1000, 4): (9000, 4000, 2250, None, 1000, None, 444, None, None),
    (300, 5): (None, None, None, None, None, None, 133, None, None),
    (120, 5): (None, None, None, 174, None, None, None, None, None),
}
NURSERY_TABLES = tuple(
    (square_feet, inches, printed)
    for (square_feet, _), row in NURSERY_PRINTS.items()
    for inches, printed in zip(INCHES, row, strict=True)
    if printed is not None
)
FLATS = (  # plants a flat, spacing in, sq ft printed by a nursery (staggered, rounded down a little), by the formula
    (48, 4, 4.5, 4.6),
    (48, 6, 10, 10.4),
    (48, 8, 18, 18.5),
    (48, 10, 28.5, 28.9),
    (48, 12, 41.5, 41.6),
    (48, 15, 64.5, 65.0),
    (48, 18, 92, 93.5),
    (48, 24, 165.5, 166.3),
    (36, 4, 3.4, 3.5),
    (36, 6, 7.5, 7.8),
    (36, 10, 21.4, 21.7),
    (36, 12, 31, 31.2),
    (36, 15, 48.4, 48.7),
    (36, 18, 69, 70.1),
    (36, 24, 124, 124.7),
)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0]} in")
def test_plants_a_square_foot_rows_and_whole_plants_in_100(row: tuple[float, ...]) -> None:
    inches, square, staggered, pitch, *_ = row
    s = inches * INCH
    assert density(s, "square") * SQUARE_FOOT == pytest.approx(square, abs=5e-5)
    assert density(s, "staggered") * SQUARE_FOOT == pytest.approx(staggered, abs=5.1e-5)
    assert row_pitch(s, "staggered") / INCH == pytest.approx(pitch, abs=0.0051)


@pytest.mark.parametrize(("metres", "square", "staggered"), METRIC)
def test_metric_spacings(metres: float, square: float, staggered: float) -> None:
    assert density(metres, "square") == pytest.approx(square, rel=1e-3)
    assert density(metres, "staggered") == pytest.approx(staggered, rel=1e-3)


@pytest.mark.parametrize(("inches", "square", "staggered"), INCHES_PER_M2)
def test_inch_spacings_a_square_metre(inches: float, square: float, staggered: float) -> None:
    assert density(inches * INCH, "square") == pytest.approx(square, abs=5.1e-4)
    assert density(inches * INCH, "staggered") == pytest.approx(staggered, abs=5.1e-4)


def test_staggered_rows_take_2_over_root_3_as_many() -> None:
    assert density(0.3, "staggered") / density(0.3, "square") == pytest.approx(1.154701, abs=5e-7)


def test_a_nurserys_example_at_12_in() -> None:
    """100 sq ft at 12 in: 100 square, 115 triangular (exact 115.47), rows 10.392 in apart."""
    assert density(12 * INCH, "square") * 100 * SQUARE_FOOT == pytest.approx(100)
    assert density(12 * INCH, "staggered") * 100 * SQUARE_FOOT == pytest.approx(115.47, abs=0.005)
    assert row_pitch(12 * INCH, "staggered") / INCH == pytest.approx(10.392, abs=5e-4)


@pytest.mark.parametrize(
    ("wide", "deep", "inches", "by_area", "square", "staggered_by_area", "rows", "staggered"),
    [
        (20, 6, 18, 53.33, 52, 61.58, 4, 50),
        (25, 8, 24, 50.00, 48, 57.74, 4, 48),
        (8, 8, 15, 40.96, 36, 47.30, 7, 39),
    ],
)
def test_real_counts_with_half_a_spacing_kept_to_the_edge(
    wide: float,
    deep: float,
    inches: float,
    by_area: float,
    square: int,
    staggered_by_area: float,
    rows: int,
    staggered: int,
) -> None:
    """Counts by plain geometry; the half-spacing edge is widely taught, from memory."""
    bed = plane.region([(0, 0), (wide * FOOT, 0), (wide * FOOT, deep * FOOT), (0, deep * FOOT)])
    s = inches * INCH
    assert density(s, "square") * plane.area(bed) == pytest.approx(by_area, abs=0.005)
    assert density(s, "staggered") * plane.area(bed) == pytest.approx(staggered_by_area, abs=0.005)
    assert len(place_in(bed, s, "square")) == square
    placed = place_in(bed, s, "staggered")
    assert len(placed) == staggered
    assert len({round(y, 4) for _, y in placed}) == rows


def test_area_formula_for_a_six_foot_circle_at_12_in() -> None:
    circle = math.pi * 9 * SQUARE_FOOT
    assert density(FOOT, "square") * circle == pytest.approx(28.27, abs=0.005)
    assert density(FOOT, "staggered") * circle == pytest.approx(32.65, abs=0.005)
