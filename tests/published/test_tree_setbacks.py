"""Trees and buildings, wires and pipes: Vermont Urban & Community Forestry and two regional tree guides."""

import pytest

from gardenkit.planting.setbacks import SERVICE_DISTANCES, tallest_by_wires, tree_distance
from gardenkit.units import FOOT


@pytest.mark.parametrize(
    ("rule", "height", "feet"),
    [
        ("guide 1", 25, 10),
        ("guide 1", 40, 10),
        ("guide 1", 41, 15),
        ("guide 2", 30, 10),
        ("guide 2", 50, 15),
        ("guide 2", 51, 20),
    ],
)
def test_tree_to_building(rule: str, height: float, feet: float) -> None:
    assert tree_distance(height * FOOT, rule=rule) / FOOT == pytest.approx(feet)


def test_the_conservative_rule_keeps_at_least_half_the_crown() -> None:
    assert tree_distance(24 * FOOT, 30 * FOOT, rule="conservative") / FOOT == pytest.approx(15)


@pytest.mark.parametrize(("away", "most"), [(0, 25), (19, 25), (20, 45), (40, 45), (41, float("inf"))])
def test_height_by_overhead_lines(away: float, most: float) -> None:
    """vtcommunityforestry.org/node/685: under it 25 ft, 20-40 ft away 45 ft, further any."""
    assert tallest_by_wires(away * FOOT) / FOOT == pytest.approx(most)


@pytest.mark.parametrize(
    ("kind", "feet"),
    [
        ("water main", 5),
        ("gas box", 5),
        ("inlet", 5),
        ("manhole", 5),
        ("hydrant", 10),
        ("street light", 15),
        ("buried service", 5),
    ],
)
def test_tree_to_services(kind: str, feet: float) -> None:
    assert SERVICE_DISTANCES[kind] / FOOT == pytest.approx(feet)
