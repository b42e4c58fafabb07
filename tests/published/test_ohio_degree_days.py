"""Ohio State Univ. (Herms) degree-day calendar: base 50 F from 1 January."""

import numpy as np
import pytest

from gardenkit.site.phenology import MILESTONES, degree_days


def one_day(tmax: float, tmin: float, method: str) -> float:
    return float(degree_days(np.array([tmin]), np.array([tmax]), base=50, method=method)[0])


def test_64_and_62_f_give_13_degree_days() -> None:
    assert one_day(64, 62, "simple average") == 13


@pytest.mark.parametrize(("tmax", "tmin", "simple", "cutoff"), [(70, 40, 5, 10), (56, 38, 0, 3), (45, 30, 0, 0)])
def test_the_two_methods_differ_when_nights_are_cold(tmax: float, tmin: float, simple: float, cutoff: float) -> None:
    assert one_day(tmax, tmin, "simple average") == simple
    assert one_day(tmax, tmin, "lower cutoff") == cutoff


def test_celsius_degree_days_are_fahrenheit_ones_over_1_8() -> None:
    low_f, high_f = np.array([40.0, 55.0, 20.0]), np.array([70.0, 80.0, 45.0])
    for method in ("simple average", "lower cutoff"):
        in_f = degree_days(low_f, high_f, base=50, method=method)
        in_c = degree_days((low_f - 32) / 1.8, (high_f - 32) / 1.8, method=method)
        assert in_c * 1.8 == pytest.approx(in_f, abs=1e-9)


@pytest.mark.parametrize(
    ("plant", "event", "total"),
    [
        ("speckled alder", "first bloom", 52),
        ("Forsythia 'Northern Lights'", "first bloom", 58),
        ("border forsythia", "first bloom", 86),
        ("Spiraea x arguta (compact)", "full bloom", 205),
        ("Spring Snow crabapple", "full bloom", 209),
        ("Halesia tetraptera", "first bloom", 213),
        ("Chaenomeles speciosa", "full bloom", 214),
        ("Coralburst crabapple", "first bloom", 217),
    ],
)
def test_calendar_rows_as_printed(plant: str, event: str, total: float) -> None:
    assert [m.degree_days_f for m in MILESTONES if (m.plant, m.event) == (plant, event)] == [total]


def test_the_conflict_over_border_forsythia_is_told() -> None:
    sources = [m.source for m in MILESTONES if m.plant == "border forsythia" and m.event == "first bloom"]
    assert "81" in sources[0]


def test_rows_from_memory_say_so() -> None:
    said = {m.plant for m in MILESTONES if "from memory" in m.source}
    assert {"silver maple", "redbud", "black locust", "common lilac"} <= said
    assert "speckled alder" not in said
