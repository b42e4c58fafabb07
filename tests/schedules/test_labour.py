"""Hours of work: the published figures as printed, each task once, and hours that follow from the take-off."""

import pytest

from gardenkit.schedules.labour import labour, tasks
from gardenkit.schedules.orders import ITEMS
from gardenkit.schedules.plants import LAYER_ORDER, plant_schedule
from gardenkit.schedules.quantities import quantities
from gardenkit.units import CUBIC_YARD, SQUARE_FOOT


def test_everything_that_is_ordered_or_planted_takes_time():
    assert set(tasks()) == {*ITEMS, *LAYER_ORDER}
    for task in tasks().values():
        assert 0 < task.hours.low <= task.hours.likely <= task.hours.high, task.of
        assert task.source


# Contractors on lawnsite.com: mulch 1 to 1.5 cu yd an hour by barrow in planted beds; a 5 gal plant 15 min, pots 3 to
# 8 min; 1000 plugs by three in 4 to 5 h and 0.5 to 0.75 h to clean up; a flat of 36 in 10 min; a 6 to 8 ft evergreen in
# clay 1 to 1.5 h. UK price book (10.1201/9780203157091-110): paving 0.5, 1.2 and 1.5 h/m2. Park ratios of 1986, from
# memory: 1000 sq ft of sod in an hour.
@pytest.mark.parametrize(
    ("of", "end", "hours"),
    [
        ("mulch", "low", 1 / 1.5 / CUBIC_YARD),
        ("mulch", "high", 1 / 1.0 / CUBIC_YARD),
        ("paving", "low", 0.5),
        ("paving", "likely", 1.2),
        ("paving", "high", 1.5),
        ("perennial", "low", 30 / 3600),
        ("perennial", "likely", 3 / 60),
        ("perennial", "high", 8 / 60),
        ("shrub", "high", 15 / 60),
        ("ground cover", "low", 12 / 1000),
        ("ground cover", "high", (15 + 0.75) / 1000),
        ("annual", "likely", 10 / 60 / 36),
        ("tree", "likely", (1 + 1.5) / 2),
        ("lawn", "low", 1 / (1000 * SQUARE_FOOT)),
    ],
)
def test_published_hours(of: str, end: str, hours: float):
    assert getattr(tasks()[of].hours, end) == pytest.approx(hours, rel=0.03)


def test_hours_follow_from_the_take_off(small_garden, worked, catalogue):
    lines = quantities(small_garden, worked, catalogue)
    schedule = plant_schedule(small_garden.planting.plants, catalogue, {})
    made = labour(lines, schedule, paths=worked.surfaces)
    total = sum(one.hours.likely for one in made)
    table = tasks()
    by_hand = sum(
        (line.area if table[line.item].by_area else line.amount) * table[line.item].hours.likely for line in lines
    )
    by_hand += sum(row.count * table[row.species.layer].hours.likely for row in schedule)
    assert total == pytest.approx(by_hand)
    assert {one.step for one in made if one.item == "mulch"} == {"Planting"}
    assert len({(one.step, one.item) for one in made}) == len(made)
