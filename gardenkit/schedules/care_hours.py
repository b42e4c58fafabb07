"""About how many hours a year a garden asks for: every task of its calendar by the plants it is for. House values."""

from collections.abc import Iterable, Mapping

import attrs

from gardenkit.schedules.care import Task

HOUR = 60.0  # minutes
# Minutes for one plant, each time. House values: a gardener at home who knows the plants.
EACH: Mapping[str, float] = {
    "prune": 12.0,
    "shear": 5.0,
    "cut back": 1.5,
    "divide": 8.0,
    "deadhead": 1.0,
    "tie in": 5.0,
    "stake": 2.0,
    "lift": 2.0,
    "plant out": 2.0,
    "feed": 0.5,
    "mulch": 1.0,
    "water": 0.5,
    "net": 10.0,
    "thin fruit": 15.0,
    "protect": 3.0,
}
OTHER = 2.0  # minutes for a task that is not in the table. House value.
GRASS_PATH = "mow and edge the grass path"  # mown by its own ground
LOOK = 0.2  # minutes to look one plant over for what may trouble it, each month. House value.
AGAIN = ("deadhead", "tie in", "water")  # done once in each of their months, the others once a year. House value.
# Minutes for each square metre of bed, each time. House values.
BEDS: Mapping[str, float] = {"renew the mulch": 1.5, "weed": 1.0, "water": 0.5}
# Minutes for each square metre of lawn, in each month. House values.
LAWNS: Mapping[str, float] = {"rake, aerate and overseed the lawn": 0.6, "rake the leaves off the lawn": 0.25}
TIMES = 2.0  # a month that beds are weeded and watered. House value.
MOWING = 0.15  # minutes for a square metre of lawn, each time: edges and clippings too. House value.
MOWN = 3.5  # times a month. House value.
WEEKS = 52.0 / 12.0  # in a month
CLIPPED = 3.0  # minutes for a metre of hedge, both sides and top, clippings too. House value.
BUILT = 30.0  # minutes for a task on something built, each month that is named. House value.


@attrs.frozen(kw_only=True)
class Tended:
    """The ground that is looked after: ``beds``, ``lawn`` and ``grass_paths`` in square metres, ``hedges`` in metres by
    their names.
    """

    beds: float = 0.0
    lawn: float = 0.0
    grass_paths: float = 0.0
    hedges: Mapping[str, float] = attrs.field(factory=dict)

    def clipped(self, task: Task) -> float:
        """Return the metres of hedge that a task is for."""
        return sum(self.hedges.get(name, 0.0) for name in task.names)


def care_hours(tasks: Iterable[Task], counts: Mapping[str, int], ground: Tended) -> tuple[float, ...]:
    """Return about how many hours the tasks take in each month, January first, with so many plants of each kind (by
    botanical name) on so much ground; a task done once a year is spread over its months.
    """
    minutes = [0.0] * 12
    for task in tasks:
        share = _minutes(task, counts, ground) / max(1, len(task.months))
        for month in task.months:
            minutes[month - 1] += share
    return tuple(one / HOUR for one in minutes)


def _minutes(task: Task, counts: Mapping[str, int], ground: Tended) -> float:
    months = len(task.months)
    if task.botanical in counts:
        if task.task.startswith("look "):
            return LOOK * counts[task.botanical] * months
        times = months if task.task in AGAIN else 1
        return EACH.get(task.task, OTHER) * counts[task.botanical] * times / task.every_years
    if task.task.startswith("mow"):
        return MOWING * (ground.grass_paths if task.task == GRASS_PATH else ground.lawn) * MOWN * months
    if task.task in LAWNS:
        return LAWNS[task.task] * ground.lawn * months / task.every_years
    if task.task in BEDS:
        times_a_month = WEEKS if task.weekly else TIMES
        return BEDS[task.task] * ground.beds * (months * times_a_month if months > 1 else 1)
    if task.task.startswith("clip ") and (metres := ground.clipped(task)):
        return CLIPPED * metres * _spells(task.months)
    return BUILT * months / task.every_years


def _spells(months: tuple[int, ...]) -> int:
    """Return how often something is done whose months are told: once where they follow on each other."""
    return max(1, sum((month - 2) % 12 + 1 not in months for month in months))
