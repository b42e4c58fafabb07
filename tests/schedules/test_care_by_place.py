"""Care row by row over the whole catalogue, in cold, usual and mild places, north and south."""

from collections.abc import Iterator

import pytest

from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.light import leaf_months
from gardenkit.planting.planting import Plant
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species
from gardenkit.schedules.care import NEW, Task, care_calendar, freezes, seasons_of
from gardenkit.schedules.care_hours import Tended, care_hours
from gardenkit.schedules.care_when import COLD
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.kinds.rows import Care

CATALOGUE = load_catalogue()
SHIFTS = (-45.0, -21.0, 0.0, 14.0, 30.0)  # days that spring comes later than in zone 6
WINTER = {12, 1, 2}


def rows(shift: float) -> Iterator[tuple[Species, Task]]:
    kinds = {kind.botanical: kind for kind in CATALOGUE}
    for task in care_calendar(CATALOGUE, shift_days=shift):
        yield kinds[task.botanical], task


@pytest.mark.parametrize("shift", SHIFTS)
def test_the_way_of_pruning_fits_leaf_and_flower_of_its_month(shift: float) -> None:
    wrong = []
    for kind, task in rows(shift):
        leaf = [leaf_months(kind, shift)[month - 1] for month in task.months]
        if "full leaf" in task.how and (WINTER & set(task.months) or min(leaf) < 0.9):
            wrong.append((task.words, task.months, leaf))
        if "before growth" in task.how and kind.leaf == "deciduous" and max(leaf) == 1.0:
            wrong.append((task.words, task.months, leaf))
        if "after flowering" in task.how:
            ended = flower_months(kind, shift)[-1]
            wrong += [(task.words, task.months, ended)] if (task.months[0] - ended) % 12 > 2 else []
    assert not wrong


@pytest.mark.parametrize("shift", SHIFTS)
def test_no_task_stands_twice_and_none_is_smeared_over_more_months(shift: float) -> None:
    months: dict[tuple[str, str], list[int]] = {}
    for _, task in rows(shift):
        months.setdefault((task.botanical, task.task), []).extend(task.months)
    assert not [row for row, found in months.items() if len(found) != len(set(found))]
    for kind in CATALOGUE:
        for care in {care.task for care in kind.care}:
            asked = sum(len(row.months) for row in kind.care if row.task == care)
            assert len(months[kind.botanical, care]) <= asked


def test_spring_flowering_shrubs_are_not_cut_between_autumn_and_their_flowers() -> None:
    """Prune within 4 to 6 weeks after bloom: list of Purdue Univ. as printed at hoosiergardener.com (p=1301); of its
    genera those that other lists of the same rule do not contradict.
    """
    genera = ("Chionanthus", "Deutzia", "Forsythia", "Lindera", "Philadelphus", "Syringa", "Weigela", "Kolkwitzia")
    for kind, task in rows(0.0):
        if kind.genus in genera and task.task == "prune" and task.how != "only dead or crossing wood":
            assert kind.bloom_end is not None
            assert 0 <= (task.months[0] - kind.bloom_end) % 12 <= 2, task
            assert task.how == "right after flowering", task


@pytest.mark.parametrize("genus", ["Callicarpa", "Caryopteris", "Buddleja"])
def test_shrubs_that_flower_on_new_wood_are_cut_before_growth(genus: str) -> None:
    """Prune before spring growth: the same Purdue list, and shonnards.com (pruning for shrubs)."""
    cuts = [task for kind, task in rows(0.0) if kind.genus == genus and task.task in ("prune", "cut back")]
    assert cuts
    assert all(set(task.months) <= {2, 3, 4} for task in cuts), cuts


def test_the_south_prunes_half_a_year_on_in_the_same_way() -> None:
    north = {(t.task, t.botanical, t.how, t.months) for t in care_calendar(CATALOGUE)}
    south = {(t.task, t.botanical, t.how, t.months) for t in care_calendar(CATALOGUE, south=True)}
    only_north = ("deer", "voles", "viburnum leaf", "lily leaf", "Japanese beetles", "adelgids", "bagworms", "box tree")
    met = {task for task in north if any(pest in task[0] for pest in only_north)}
    assert len(met) > 20
    north -= met  # what lives in the north alone is looked for nowhere else
    assert south == {(a, b, how, tuple((m + 5) % 12 + 1 for m in months)) for a, b, how, months in north}


def spring(task: Task) -> bool:
    """Return whether a task is the mulch of spring, which the cold has no part in: its row begins in March or April."""
    own = {care.first_month for care in CATALOGUE[task.botanical].care if care.task == task.task}
    return task.task == "mulch" and own <= {3, 4}


@pytest.mark.parametrize(("south", "frost"), [(False, True), (True, False)])  # the south is the north turned, see above
@pytest.mark.parametrize("shift", SHIFTS)
def test_every_kind_in_every_place_has_a_year_that_can_be_done(shift: float, frost: bool, south: bool) -> None:
    """Months are the place's own: each task of a kind once in a month, no green cut in its winter, nothing against
    frost where it never freezes, nothing in a season in which the kind is not there.
    """
    winter = {6, 7, 8} if south else WINTER
    cold = {(month + 5) % 12 + 1 for month in COLD} if south else set(COLD)
    seasons = {kind.botanical: (k % 4, None if k % 3 else k % 4 + 2) for k, kind in enumerate(CATALOGUE)}
    tasks = care_calendar(CATALOGUE, shift_days=shift, south=south, frost=frost, whole_garden=True, seasons=seasons)
    done: set[tuple[str, str, int]] = set()
    for task in tasks:
        assert set(task.months) <= set(range(1, 13))
        for month in task.months:
            assert (task.botanical, task.task, month) not in done, task
            done.add((task.botanical, task.task, month))
        assert not ("full leaf" in task.how and winter & set(task.months)), task
        in_cold = task.botanical in seasons and set(task.months) <= cold
        if not frost and task.task in ("protect", "lift", "mulch", "empty"):
            assert not in_cold or spring(task), task
        first, last = seasons.get(task.botanical, (0, None))
        assert not any(task.is_due(year) for year in range(first)), task
        assert last is None or not any(task.is_due(year) for year in range(last + 1, last + 12)), task
    assert len(done) > len(CATALOGUE)


def test_frost_tasks_stand_only_where_a_mean_winter_freezes() -> None:
    """Zone 10b begins at a mean yearly lowest of 35 F: USDA Plant Hardiness Zone Map."""
    assert [freezes(zone) for zone in ("6b", "9a", "10a", "10b", "12a", None)] == [True, True, True, False, False, True]
    with_frost = care_calendar(CATALOGUE, whole_garden=True)
    without = care_calendar(CATALOGUE, whole_garden=True, frost=False)
    gone = {task.task for task in set(with_frost) - set(without)}
    assert gone == {"empty", "protect", "lift", "mulch"}
    assert not [task for task in without if task.task == "protect" and set(task.months) & {11, 12, 1, 2}]
    mild = care_calendar(CATALOGUE, whole_garden=True, frost=False, shift_days=-45.0)
    for year in (without, mild):  # the mulch of spring is there in any climate, and where spring comes in March
        mulched = {task.botanical for task in year if task.task == "mulch"}
        assert {"Camellia sasanqua", "Hydrangea macrophylla"} <= mulched


def test_beds_that_are_mulched_in_spring_are_mulched_once() -> None:
    spring = {task.botanical for task in care_calendar(CATALOGUE) if task.task == "mulch" and task.months == (4,)}
    once = care_calendar(CATALOGUE, whole_garden=True, mulched=True)
    assert len(spring) > 250 and [task.botanical for task in once if "renew the mulch" in task.task] == ["on all beds"]
    assert not [task for task in once if task.task == "mulch" and set(task.months) & {3, 4, 5}]
    assert [task for task in once if task.task == "mulch"]  # against frost, in autumn


def test_what_is_built_is_not_put_away_for_a_frost_that_never_comes() -> None:
    built = [
        (Care(months=(11,), task="empty the butt", how="before hard frost", frost=True), ("butt",)),
        (Care(months=(4,), task="level stones", how="after frost"), ("walk",)),
    ]
    said = {frost: [t.words for t in care_calendar([], built=built, frost=frost)] for frost in (True, False)}
    assert said[True] == ["level stones (walk), after frost", "empty the butt (butt), before hard frost"]
    assert said[False] == ["level stones (walk)"]


def test_a_new_hedge_is_watered_in_its_first_two_summers_alone() -> None:
    (water,) = care_calendar([], built=[(thing_kind("beech hedge").care[1], ("hedge",))])
    assert [water.is_due(season) for season in range(4)] == [True, True, False, False]


def test_what_is_grown_anew_each_year_and_winter_cover_are_looked_after_from_the_first_season() -> None:
    """Dahlias planted in spring are lifted that autumn, annuals dead-headed in the only summer they have, climbers tied
    in as they grow; what is cut each year waits for the second.
    """
    zinnia, dahlia = CATALOGUE["Zinnia elegans"], CATALOGUE["Dahlia 'Bishop of Llandaff'"]
    clematis, salvia = CATALOGUE["Clematis 'Henryi'"], CATALOGUE["Salvia nemorosa"]
    tasks = care_calendar([zinnia, dahlia, clematis, salvia, CATALOGUE["Mitchella repens"]], opens=3)
    first = {(task.task, task.botanical): task.begins for task in tasks}
    assert first["deadhead", zinnia.botanical] == first["plant out", zinnia.botanical] == 0
    assert first["lift", dahlia.botanical] == first["deadhead", dahlia.botanical] == 0
    assert first["tie in", clematis.botanical] == 0
    assert first["mulch", "Mitchella repens"] == 0  # in November, against frost
    assert first["prune", clematis.botanical] == first["cut back", salvia.botanical] == 1


def test_nothing_is_sheared_and_dead_headed_in_one_month() -> None:
    def months(kind: Species, task: str) -> set[int]:
        return {month for care in kind.care if care.task == task for month in care.months}

    assert not [kind.botanical for kind in CATALOGUE if months(kind, "shear") & months(kind, "deadhead")]


def test_new_plants_are_watered_each_week_for_three_seasons_from_their_own_planting() -> None:
    """Weekly until established: arboretum.avonwoods.com, when to water a tree; three seasons are a house value."""
    salvia = CATALOGUE["Salvia nemorosa"]
    for year in (0, 2):
        seasons = seasons_of([(Plant(number=1, species=salvia.botanical, at=(0, 0), year=year), salvia)])
        (water,) = [t for t in care_calendar([salvia], whole_garden=True, seasons=seasons) if t.weekly]
        assert water.is_due(year) and water.is_due(year + NEW - 1) and not water.is_due(year + NEW)
        assert water.months == (5, 6, 7, 8, 9)


def test_new_plants_are_watered_in_the_dry_months_of_the_place_too() -> None:
    """Winter rain south of the equator: dry from October to April, months told in the order of the season."""
    salvia = [CATALOGUE["Salvia nemorosa"]]
    (usual,) = [t for t in care_calendar(salvia, whole_garden=True, south=True) if t.weekly]
    (dry,) = [t for t in care_calendar(salvia, whole_garden=True, south=True, dry=(10, 11, 12, 1, 4)) if t.weekly]
    assert usual.months == (11, 12, 1, 2, 3)
    assert dry.months == (10, 11, 12, 1, 2, 3, 4)
    (all_year,) = [t for t in care_calendar(salvia, whole_garden=True, dry=range(1, 13)) if t.weekly]
    assert all_year.months == tuple(range(1, 13))


def test_nothing_is_done_before_a_kind_is_planted_or_after_it_has_gone() -> None:
    salvia = CATALOGUE["Salvia nemorosa"]
    plants = [(Plant(number=1, species=salvia.botanical, at=(0, 0), year=3, until=5), salvia)]
    tasks = care_calendar([salvia], seasons=seasons_of(plants))
    assert {(task.first, task.last) for task in tasks} == {(3, 5)}
    assert all(task.begins >= 3 for task in tasks)
    assert not [task for task in tasks if task.task == "divide"]  # every four years: it is gone before


def test_pests_are_looked_for_where_the_plants_own_row_names_them() -> None:
    found = {(t.task, t.botanical) for t in care_calendar(CATALOGUE) if t.task.startswith("look for")}
    for kind in CATALOGUE:
        named = any(said in ("slugs", "black spot", "mildew", "fireblight") for said in kind.cautions)
        assert not named or any(kind.botanical == botanical for _, botanical in found), kind.botanical
    assert not [kind for kind in CATALOGUE if not kind.cautions and kind.botanical in {b for _, b in found}]


def test_single_months_of_what_is_built_stay_single_where_spring_is_late() -> None:
    turned = ((Care(months=(4, 7, 10), task="turn the compost"), ("heap",)),)
    (task,) = care_calendar([], built=turned, shift_days=30.0)
    assert task.months == (5, 7, 9)


def test_the_first_summers_take_more_hours_than_the_grown_garden() -> None:
    tasks = [t for t in care_calendar([CATALOGUE["Salvia nemorosa"]], whole_garden=True) if t.every_years == 1]
    young, grown = (
        sum(care_hours([t for t in tasks if t.is_due(season)], {}, Tended(beds=20.0, lawn=0.0))) for season in (1, 10)
    )
    assert young - grown == pytest.approx(5 * (52 / 12) * 0.5 * 20 / 60)  # five months, each week, 0.5 min a m2
