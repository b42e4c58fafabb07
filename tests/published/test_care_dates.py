"""When to divide and prune, as the catalogue has it, against Extension pages and nurseries."""

import pytest

from gardenkit.planting.catalogue import Catalogue, load_catalogue
from gardenkit.schedules.care import care_calendar


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def tasks(catalogue: Catalogue, genus: str, task: str) -> list[tuple[str, tuple[int, ...], int]]:
    kinds = [kind for kind in catalogue if kind.genus == genus]
    return [(t.botanical, t.months, t.every_years) for t in care_calendar(kinds) if t.task == task]


@pytest.mark.parametrize(("genus", "least", "most"), [("Hosta", 2, 4), ("Phlox", 2, 4), ("Coreopsis", 2, 4)])
def test_division_intervals(catalogue: Catalogue, genus: str, least: int, most: int) -> None:
    """Iowa State Univ. Extension: aster, coreopsis, hosta, phlox every 2-4 years."""
    found = tasks(catalogue, genus, "divide")
    assert found
    assert all(least <= every <= most for _, _, every in found), found


def test_peonies_are_divided_every_4_to_6_years(catalogue: Catalogue) -> None:
    """Iowa State Univ. Extension: 4-6 years; may stay 50 years or more (Iowa State, 2020, second-hand)."""
    found = [row for row in tasks(catalogue, "Paeonia", "divide") if "lactiflora" in row[0]]
    assert found
    assert all(4 <= every <= 6 for _, _, every in found), found


def test_snowdrops_are_divided_every_3_to_4_years_during_or_after_bloom(catalogue: Catalogue) -> None:
    """Cornell Univ., gardening.cornell.edu."""
    found = tasks(catalogue, "Galanthus", "divide")
    assert found
    assert all(3 <= every <= 4 and set(months) <= {2, 3, 4, 5} for _, months, every in found), found


def test_clematis_group_three_is_cut_in_february_or_march_to_a_foot(catalogue: Catalogue) -> None:
    """Nursery: February to March, to about 12 in (30 cm)."""
    kinds = [kind for kind in catalogue if kind.prune_group == "clematis 3"]
    assert kinds
    for task in care_calendar(kinds):
        if task.task == "prune":
            assert set(task.months) <= {2, 3}, task
            assert task.how == "all shoots to about 12 in (30 cm)"


def test_clematis_group_one_is_pruned_lightly_after_bloom(catalogue: Catalogue) -> None:
    """Nursery: light prune right after bloom; alpina, macropetala, armandii, cirrhosa."""
    kinds = [kind for kind in catalogue if kind.prune_group == "clematis 1"]
    pruned = [task for task in care_calendar(kinds) if task.task == "prune"]
    assert pruned
    for task in pruned:
        kind = catalogue[task.botanical]
        assert kind.bloom_end is not None
        assert (task.months[0] - kind.bloom_end) % 12 in (0, 1), (task, kind.bloom_end)


def test_panicle_hydrangea_is_pruned_in_late_winter_and_mophead_after_bloom(catalogue: Catalogue) -> None:
    """Nursery: paniculata flowers on new wood, macrophylla and serrata on old."""
    groups = {kind.binomial: kind.prune_group for kind in catalogue if kind.genus == "Hydrangea"}
    assert groups["Hydrangea paniculata"] == "late winter"
    assert groups["Hydrangea macrophylla"] == "after flowering"
