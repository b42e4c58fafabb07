"""When each step of the work is done: how long the crew takes, what it waits for, what it costs, in which year."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs

from gardenkit.brief.pricing import Pricing
from gardenkit.schedules.cost import Costs
from gardenkit.schedules.labour import step_of
from gardenkit.schedules.lines import Line
from gardenkit.schedules.phases import Phase
from gardenkit.schedules.work_steps import LEVELS, PLANTING, STEPS, closed_months, first_open, month_of
from gardenkit.site.climate import Climate

WEEK = 5  # working days
YEAR = 52 * WEEK  # working days of a year
MOST_PARTS = 10  # a step is not spread over more years, whatever a year may cost. House value.
PREPARING = 1  # days for a step that the table of labour has no hours for. House value.


@attrs.frozen(kw_only=True)
class Stretch:
    """One step in time, or one of the ``parts`` of a step that costs more than a year may: it begins ``starts`` working
    days after the first of January of its ``year``, in ``month``, and takes ``days``; ``after``: what it waits for,
    ``season``: why it waits for that month, "" when it does not. ``hours`` of one person, likely; ``cost`` with its
    share of reserve, delivery and tax.
    """

    step: str
    after: tuple[str, ...]
    hours: float
    starts: int
    days: int
    cost: float
    year: int
    month: int
    season: str = ""
    beyond: bool = False  # dearer alone than a year may cost, in as many parts as there may be
    part: int = 1
    parts: int = 1

    @property
    def called(self) -> str:
        """The step with which part of it this is."""
        return self.step if self.parts == 1 else f"{self.step}, part {self.part} of {self.parts}"


def programme(
    phases: Iterable[Phase],
    costs: Costs,
    lines: Sequence[Line],
    *,
    paths: Iterable[str],
    first_year: int,
    climate: Climate | None = None,
) -> tuple[Stretch, ...]:
    """Return the steps of a garden one after the other, as one crew does them, as early as each one's season allows,
    in as many years as the budget of a year asks for: a step that would pass it begins the next year, and one that is
    dearer alone is done in equal parts, bed by bed, a part a year.
    """
    named = {phase.step for phase in phases}
    steps = [step for step in STEPS if step in named]
    pricing, hours, weather = costs.pricing, _hours(costs, steps), climate or Climate()
    money = _money(costs, lines, frozenset(paths), steps)
    found: list[Stretch] = []
    at, spent = first_open(0, 1, closed_months(LEVELS, weather), year=YEAR), 0.0
    most = pricing.year_budget
    for step, part, parts in _parts(steps, money, most):
        cost, taken = money[step] / parts, hours[step] / parts
        ready, days = at, _days(taken, pricing)
        if most is not None and spent and spent + cost > most:
            ready, spent = (at // YEAR + 1) * YEAR, 0.0
        closed = closed_months(step, weather)
        starts = first_open(ready, days, closed, year=YEAR)
        if starts // YEAR > at // YEAR:
            spent = 0.0
        found.append(
            Stretch(
                step=step,
                after=waited_for(step, steps),
                hours=taken,
                starts=starts % YEAR,
                days=days,
                cost=cost,
                year=first_year + starts // YEAR,
                month=month_of(starts, YEAR),
                season=_why(ready, starts, days, closed),
                beyond=most is not None and cost > most,
                part=part,
                parts=parts,
            )
        )
        at, spent = starts + days, spent + cost
    return tuple(found)


def waited_for(step: str, steps: Sequence[str]) -> tuple[str, ...]:
    """Return the steps of this garden that one waits for; for a step it has not, what that one would wait for."""
    found: dict[str, None] = {}
    for before in STEPS[step].after:
        found |= dict.fromkeys((before,) if before in steps else waited_for(before, steps))
    return tuple(found)


# ---- helpers


def _parts(steps: Sequence[str], money: Mapping[str, float], most: float | None) -> Iterator[tuple[str, int, int]]:
    """Yield every step with each of its parts, as few as cost no more than a year may."""
    for step in steps:
        parts = min(MOST_PARTS, max(1, math.ceil(round(money[step] / most, 6)))) if most else 1
        yield from ((step, part, parts) for part in range(1, parts + 1))


def _why(ready: int, starts: int, days: int, closed: Mapping[int, str]) -> str:
    """Return why a step that could begin at ``ready`` begins at ``starts``: the first closed month it would meet."""
    if starts == ready:
        return ""
    met = (month_of(day, YEAR) for day in range(ready, ready + days))
    return next((closed[month] for month in met if month in closed), "")


def _days(hours: float, pricing: Pricing) -> int:
    return max(PREPARING, math.ceil(round(hours / (pricing.crew * pricing.day), 6)))


def _nearest(step: str, steps: Sequence[str]) -> str:
    """Return a step of this garden: the step itself, else the next one there is, else the last."""
    order = list(STEPS)
    return next((one for one in steps if order.index(one) >= order.index(step)), steps[-1])


def _hours(costs: Costs, steps: Sequence[str]) -> dict[str, float]:
    found: dict[str, float] = defaultdict(float)
    for one in costs.work:
        found[_nearest(one.step, steps)] += one.hours.likely
    return found


def _money(costs: Costs, lines: Sequence[Line], paths: frozenset[str], steps: Sequence[str]) -> dict[str, float]:
    """Return what each step costs: goods where they are built in, plants when they are planted, labour by its step."""
    found = defaultdict[str, float](float)
    for priced in costs.lines:
        parts = [line for line in lines if line.item == priced.item] if priced.group == "materials" else []
        whole = sum(line.amount for line in parts)
        for line in parts:
            found[_nearest(step_of(line, paths), steps)] += priced.cost * costs.on_goods * line.amount / whole
        if not parts:
            found[_nearest(PLANTING, steps)] += priced.cost * costs.on_goods
    for one in costs.work:
        if one.paid:
            found[_nearest(one.step, steps)] += one.hours.likely * (costs.rate or 0.0) * costs.on_work
    return found
