"""The care calendar: months that follow the place, cautions on the tasks that need them, nothing twice."""

import attrs
from hypothesis import given
from hypothesis import strategies as st

from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.species import CareTask
from gardenkit.schedules.care import GLOVES, HIGH, Task, by_month, care_calendar, grouped

CATALOGUE = load_catalogue()
SALVIA = CATALOGUE["Salvia nemorosa"]


def test_each_task_of_each_kind_is_there_once():
    kinds = [SALVIA, CATALOGUE["Cercis canadensis"], SALVIA]
    tasks = [task for task in care_calendar(kinds) if not task.task.startswith("look for")]
    assert len(tasks) == sum(len(kind.care) for kind in {SALVIA, CATALOGUE["Cercis canadensis"]})


def test_spring_tasks_come_a_month_later_where_spring_does_and_autumn_ones_earlier():
    kind = attrs.evolve(
        SALVIA,
        care=(
            CareTask(task="cut back", first_month=3, last_month=3),
            CareTask(task="divide", first_month=10, last_month=10),
        ),
    )
    months = {task.task: task.months for task in care_calendar([kind], shift_days=30.4)}
    assert months == {"cut back": (4,), "divide": (9,)}


def test_the_southern_year_is_turned_by_six_months():
    here = {(t.task, t.months) for t in care_calendar([SALVIA])}
    there = {(t.task, t.months) for t in care_calendar([SALVIA], south=True)}
    assert there == {(task, tuple((m + 5) % 12 + 1 for m in months)) for task, months in here}


@given(st.floats(-60, 60), st.sampled_from(CATALOGUE.plants))
def test_months_are_real_and_never_twice(shift, kind):
    for task in care_calendar([kind], shift_days=shift):
        assert task.months
        assert len(set(task.months)) == len(task.months)
        assert set(task.months) <= set(range(1, 13))


def test_cutting_a_toxic_plant_asks_for_gloves_and_watering_it_does_not():
    tasks = (CareTask(task="prune", first_month=3, last_month=3), CareTask(task="water", first_month=7, last_month=7))
    kind = attrs.evolve(SALVIA, toxic_to=("skin",), care=tasks)
    cautions = {task.task: task.caution for task in care_calendar([kind])}
    assert cautions == {"prune": GLOVES, "water": ""}


def test_pruning_a_tree_warns_of_height_and_power_lines():
    tree = CATALOGUE["Cercis canadensis"]
    (prune,) = [t for t in care_calendar([tree]) if t.task == "prune"]
    assert HIGH in prune.caution


def test_by_month_lists_a_task_in_each_of_its_months():
    tasks = care_calendar([SALVIA])
    listed = by_month(tasks)
    assert len(listed) == 12
    assert sum(len(month) for month in listed) == sum(len(task.months) for task in tasks)


def test_like_tasks_are_grouped_in_the_order_they_come():
    tasks = care_calendar([SALVIA, CATALOGUE["Nepeta × faassenii"]])
    (march,) = [grouped(by_month(tasks)[2])]
    assert [(what, [t.botanical for t in group]) for what, group in march] == [
        ("cut back", ["Nepeta × faassenii", "Salvia nemorosa"])
    ]


def test_the_whole_gardens_tasks_are_added_on_request():
    assert {t.task for t in care_calendar([], whole_garden=True)} >= {"weed", "renew the mulch"}
    assert care_calendar([]) == ()


def test_words_say_how_and_how_often():
    (divide,) = [t for t in care_calendar([SALVIA]) if t.task == "divide"]
    assert divide.words == "divide Salvia nemorosa (every 4 years)"


def test_nothing_is_done_before_planting_and_no_plant_is_watered_twice():
    """Planting opens in March: what is due at once in January waits a year; drought's watering is next."""
    summers = (12, 1, 2, 3)
    weekly = Task(months=summers, task="water", botanical="plants of the last 3 years", weekly=True, last=2, opens=3)
    assert [weekly.begins_in(month) for month in summers] == [0, 1, 1, 0]
    assert [weekly.within(season).months for season in (0, 1)] == [(12, 3), summers]
    late = attrs.evolve(weekly, first=2, last=4)
    assert [late.begins_in(month) for month in summers] == [2, 3, 3, 2]
    drought = attrs.evolve(weekly, botanical="Kalmia latifolia", weekly=False, last=None)
    assert {drought.begins_in(month) for month in summers} == {3}
    assert not any(drought.is_due(season) for season in range(3))
