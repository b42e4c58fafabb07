"""The order of work: what comes before what, which cautions go with it, words that count rightly."""

from gardenkit.schedules import phases as order
from gardenkit.schedules.phases import garden_phases, phases

NOTHING = {"paths": 0, "stones": 0, "supports": 0, "ground_areas": 0, "trees": 0, "plants": 0, "first_year": 2027}


def steps(**counts):
    return phases(**(NOTHING | counts))


def test_utilities_are_marked_before_anything_is_dug():
    first = steps()[0]
    assert first.name == "Before anything is dug"
    assert "have buried utilities marked" in first.work
    assert any("site safety" in caution for caution in first.cautions)
    assert len(steps()) == 1


def test_heavy_work_comes_before_tender_work():
    names = [step.name for step in steps(paths=1, supports=1, ground_areas=1, plants=5)]
    assert names == [
        "Before anything is dug",
        "Ground and paving",
        "Paths",
        "Supports",
        "Planting, spring or early autumn 2027",
        "First three years",
    ]


def test_stones_warn_of_their_weight_and_cutting_of_dust():
    (laying,) = [s for s in steps(paths=1, stones=12, heavy_stones=1) if s.name == "Paths"]
    assert order.LIFTING in laying.cautions
    assert order.DUST in laying.cautions
    assert "plan help for the 1 stone over 51 lb (23 kg)" in laying.work
    assert "set out 1 path on the ground with a hose or cord" in laying.work


def test_a_tree_to_fell_is_for_an_arborist_and_one_that_stays_is_fenced():
    clearing = steps(removed_trees=1, kept_trees=2)
    assert clearing[1].name == "Clearing"
    assert "arborist" in clearing[1].cautions[0]
    assert any("fence off 2 trees that stay" in work for work in clearing[0].work)


def test_open_water_is_cautioned():
    (ground,) = [s for s in steps(ground_areas=1, ponds=1) if s.name == "Ground and paving"]
    assert order.WATER in ground.cautions


def test_ladders_are_cautioned_with_supports():
    (supports,) = [s for s in steps(supports=2) if s.name == "Supports"]
    assert order.LADDERS in supports.cautions
    assert "2 supports" in supports.work[0]


def test_a_garden_counts_its_own_steps(small_garden, worked, catalogue):
    made = {step.name: step for step in garden_phases(small_garden, worked, catalogue)}
    planting = made[f"Planting, spring or early autumn {small_garden.planting.first_year}"]
    assert "plant 1 tree or shrub first, root flare at the surface" in planting.work


def test_fillers_are_taken_out_in_their_year_and_counted_by_kind():
    last = steps(plants=9, leaving={4: {"Salvia nemorosa": 5, "Geum rivale": 2}, 2: {"Nigella damascena": 2}})[-1]
    assert last.name == "Fillers taken out as the rest closes"
    assert last.work[:2] == ("autumn 2029: 2 Nigella damascena", "autumn 2031: 5 Salvia nemorosa and 2 Geum rivale")
    assert steps(plants=9)[-1].name == "First three years"
