"""The steps of the work, one table: what each is called, what it waits for and which season it asks for."""

from collections.abc import Collection, Mapping
from typing import Literal

import attrs

from gardenkit.site.climate import Climate
from gardenkit.sources import COMMON, HOUSE, Figure

FROZEN = Figure(0.0, "degrees C", f"of a month's mean: below it the ground is frozen and is not dug; {HOUSE}")
HOTTEST = Figure(2, "months", f"the warmest of the year are no time to plant; {COMMON}")
HOT = Figure(16.0, "degrees C", f"of a month's mean: no cooler month is high summer; {HOUSE}")

BEFORE, CLEARING, LEVELS = "Before anything is dug", "Clearing", "Levels"
GROUND, PATHS, SUPPORTS = "Ground and paving", "Paths", "Supports"
BUILT, SERVED, HEDGES = "Built things", "Water and light", "Hedges"
PLANTING, SET_DOWN = "Planting", "Set down last"

Asks = Literal["any season", "open ground", "planting weather"]


@attrs.frozen(kw_only=True)
class WorkStep:
    """One step: the names of those it waits for, and the season it asks for."""

    after: tuple[str, ...] = ()
    asks: Asks = "any season"


# In the order of the work. Common practice, no source.
STEPS: Mapping[str, WorkStep] = {
    BEFORE: WorkStep(),
    CLEARING: WorkStep(after=(BEFORE,)),
    LEVELS: WorkStep(after=(CLEARING,), asks="open ground"),
    GROUND: WorkStep(after=(LEVELS,), asks="open ground"),
    PATHS: WorkStep(after=(LEVELS,), asks="open ground"),
    SUPPORTS: WorkStep(after=(LEVELS,), asks="open ground"),
    BUILT: WorkStep(after=(LEVELS,), asks="open ground"),
    SERVED: WorkStep(after=(GROUND, PATHS, SUPPORTS, BUILT), asks="open ground"),
    HEDGES: WorkStep(after=(SERVED,), asks="planting weather"),
    PLANTING: WorkStep(after=(SERVED,), asks="planting weather"),
    SET_DOWN: WorkStep(after=(PLANTING, HEDGES)),
}


def closed_months(step: str, climate: Climate) -> Mapping[int, str]:
    """Return the months, 1 to 12, in which a step is not done, each with why; none while temperatures are not known."""
    asks = STEPS[step].asks
    if asks == "any season" or climate.tmin is None or climate.tmax is None:
        return {}
    means = [(low + high) / 2 for low, high in zip(climate.tmin, climate.tmax, strict=True)]
    found = {month: "the ground is frozen" for month, mean in enumerate(means, 1) if mean < FROZEN}
    if asks == "planting weather":
        warmest = sorted(range(1, 13), key=lambda month: -means[month - 1])[: int(HOTTEST)]
        found |= {month: "high summer dries new plants" for month in warmest if means[month - 1] >= HOT}
    return found if len(found) < 12 else {}


def planting_opens(climate: Climate) -> int:
    """Return the first month of a year, 1 to 12, in which planting is done."""
    closed = closed_months(PLANTING, climate)
    return next(month for month in range(1, 13) if month not in closed)


def first_open(at: int, days: int, closed: Collection[int], *, year: int) -> int:
    """Return the first working day from ``at`` on which ``days`` of work meet no closed month; for work longer than
    any open stretch, the first open day. ``year``: working days of a year, day 0 the first of January.
    """
    if not closed:
        return at
    open_days = [month_of(day, year) not in closed for day in range(at, at + 2 * year)]
    for first in range(year):
        if all(open_days[first : first + min(days, year)]):
            return at + first
    return at + open_days.index(True)


def month_of(day: int, year: int) -> int:
    """Return the month, 1 to 12, of a working day counted from the first of January of the first year."""
    return day % year * 12 // year + 1
