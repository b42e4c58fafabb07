"""Shannon, Simpson, Pielou: worked counts (plain arithmetic), and Santamour's 1990 shares."""

import pytest

from gardenkit.planting.diversity import SHARE_RULES, diversity

COUNTS = (  # counts; N, S, H', H2, exp H', sum p2, 1 - sum p2, 1/sum p2, unbiased, J
    ([10] * 10, 100, 10, 2.3026, 3.3219, 10, 0.1000, 0.9000, 10, 0.9091, 1),
    ([20, 10, 5, 5], 40, 4, 1.2130, 1.7500, 3.3636, 0.34375, 0.65625, 2.9091, 0.6731, 0.8750),
    ([12, 9, 7, 5, 3, 2, 1, 1], 40, 8, 1.7903, 2.5828, 5.9910, 0.1963, 0.8038, 5.0955, 0.8244, 0.8609),
    ([8, 7, 6, 5, 4], 30, 5, 1.5812, 2.2812, 4.8608, 0.2111, 0.7889, 4.7368, 0.8161, 0.9825),
)


@pytest.mark.parametrize("row", COUNTS, ids=lambda row: str(row[0]))
def test_measures_of_worked_counts(row: tuple[list[int], *tuple[float, ...]]) -> None:
    counts, plants, kinds, nats, _, effective, squares, simpson, _, unbiased, evenness = row
    found = diversity(counts)
    assert (found.plants, found.kinds) == (plants, kinds)
    assert found.shannon == pytest.approx(nats, abs=5.1e-5)
    assert found.effective_kinds == pytest.approx(effective, abs=5.1e-5)
    assert 1 - found.simpson == pytest.approx(squares, abs=5.1e-5)
    assert found.simpson == pytest.approx(simpson, abs=5.1e-5)
    assert found.simpson_unbiased == pytest.approx(unbiased, abs=5.1e-5)
    assert found.pielou == pytest.approx(evenness, abs=5.1e-5)


def test_unbiased_simpson_of_47_plants_with_520_pairs() -> None:
    """1 - 520 / (47 x 46) = 0.759; counts chosen so that N is 47 and sum n(n-1) is 520."""
    counts = [18, 15, 2, 2] + [1] * 10
    assert (sum(counts), sum(n * (n - 1) for n in counts)) == (47, 520)
    assert diversity(counts).simpson_unbiased == pytest.approx(0.759, abs=5.1e-4)


def test_santamour_allows_10_20_30_percent() -> None:
    """Santamour 1990, as quoted by Kendal, Dobbs & Lohr 2014; variants Portland and Ball, second-hand."""
    assert SHARE_RULES["10-20-30"] == (0.10, 0.20, 0.30)
    assert SHARE_RULES["5-10-20"] == (0.05, 0.10, 0.20)
    assert SHARE_RULES["5 % a genus"][1] == 0.05
