"""How long it takes to build and plant the garden: hours of one person by task, low, likely and high.

Hours for each cubic metre, square metre, metre or piece stand in ``data/labour.csv``, each with its source.
"""

import csv
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from itertools import groupby

import attrs

from gardenkit.schedules import earth
from gardenkit.schedules.lines import Line, Unit, shown
from gardenkit.schedules.orders import ITEMS
from gardenkit.schedules.plants import PlantLine
from gardenkit.schedules.span import Span, together
from gardenkit.schedules.work_steps import GROUND, LEVELS, PATHS
from gardenkit.sources import HOUSE, Figure
from gardenkit.units import System, counted

PLANNING_RATE = Figure(65.0, "US$ an hour", f"{HOUSE}, 2026: one person with tools, as a contractor bills it")
SURFACES = "surfaces"  # in the table: done with the paths where it is a path, with the levels, else with the paving


@attrs.frozen(kw_only=True)
class Task:
    """One row of the table: hours for each unit of what it is ``of``; ``paid`` apart, or in the price of the goods."""

    of: str
    words: str
    by_area: bool
    hours: Span
    step: str
    paid: bool
    source: str


@attrs.frozen(kw_only=True)
class Work:
    """One line of labour: what is done, in which step of the work, and its hours for one person."""

    item: str
    name: str
    step: str
    how: str
    hours: Span
    paid: bool
    source: str


def labour(
    lines: Iterable[Line], plants: Sequence[PlantLine], *, paths: Iterable[str], system: System = "imperial"
) -> tuple[Work, ...]:
    """Return the hours for every kind of thing in every step of the work, from the take-off and the plant schedule;
    ``paths`` are the names of what is laid with the paths.
    """
    known, routes, places = tasks(), frozenset(paths), list(ITEMS)
    stepped = [(step_of(line, routes), line) for line in lines if line.item in known]
    stepped.sort(key=lambda pair: (places.index(pair[1].item), pair[0]))
    made = [
        _work(known[item], [line for _, line in group], step, system)
        for (step, item), group in groupby(stepped, key=lambda pair: (pair[0], pair[1].item))
    ]
    layers: dict[str, int] = {}
    for row in plants:
        layers[row.species.layer] = layers.get(row.species.layer, 0) + row.bought
    return (*made, *(_planted(known[layer], count) for layer, count in layers.items()))


def step_of(line: Line, paths: frozenset[str]) -> str:
    """Return the step of the work that a line of the take-off belongs to; its item must be in the table."""
    step = tasks()[line.item].step
    if step == SURFACES:
        if line.where in paths:
            return PATHS
        return LEVELS if line.where == earth.WHERE else GROUND
    return step


def hours(work: Iterable[Work]) -> Span:
    """Return the hours that are paid apart."""
    return together(one.hours for one in work if one.paid)


@cache
def tasks() -> Mapping[str, Task]:
    """Return the table of tasks by what they are of: an item of the orders, or a layer of plants."""
    text = files("gardenkit").joinpath("data/labour.csv").read_text(encoding="utf-8")
    return {
        row["of"]: Task(
            of=row["of"],
            words=row["task"],
            by_area=row["by"] == "area",
            hours=Span(float(row["low"]), float(row["hours"]), float(row["high"])),
            step=row["step"],
            paid=row["paid"] == "yes",
            source=row["source"],
        )
        for row in csv.DictReader(text.splitlines())
    }


# ---- helpers


def _work(task: Task, lines: Sequence[Line], step: str, system: System) -> Work:
    unit: Unit = "m2" if task.by_area else lines[0].unit
    amount = sum(line.area if task.by_area else line.amount for line in lines)
    name = f"{ITEMS[task.of].partition(',')[0]}: {task.words}"
    return _timed(task, amount, name, step, shown(amount, unit, system))


def _planted(task: Task, count: int) -> Work:
    return _timed(task, count, f"{task.of}: {task.words}", task.step, counted(count, "plant"))


def _timed(task: Task, amount: float, name: str, step: str, how: str) -> Work:
    paid, source = task.paid, task.source
    return Work(item=task.of, name=name, step=step, how=how, hours=task.hours * amount, paid=paid, source=source)
