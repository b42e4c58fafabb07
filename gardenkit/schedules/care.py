"""The care calendar: what to do in which month, for the plants that are really there."""

import calendar
from collections.abc import Iterable

import attrs

from gardenkit.planting.season import shifted_months
from gardenkit.planting.species import Species
from gardenkit.sources import COMMON, HOUSE
from gardenkit.structure.kinds.rows import Care

MONTHS = tuple(calendar.month_name[1:])
NURSERY = "nursery's clematis groups"
_HOW = {
    "clematis 1": "lightly, right after flowering",
    "clematis 2": "dead and weak shoots only, back to strong buds",
    "clematis 3": "all shoots to about 12 in (30 cm)",
    "after flowering": "right after flowering",
    "late winter": "before growth starts",
    "midsummer": "in full leaf",
    "hardly": "only dead or crossing wood",
}
_CUTTING = ("prune", "shear", "cut back", "deadhead", "divide", "lift")
GLOVES = "wear gloves and long sleeves, wash after"
HIGH = "work above your head is for a certified arborist; keep 10 ft from power lines"


@attrs.frozen(kw_only=True)
class Task:
    """One task of the year: in which months (1 to 12), on which plant, how often, and what to beware of."""

    months: tuple[int, ...]
    task: str
    botanical: str
    how: str = ""
    every_years: int = 1
    caution: str = ""

    @property
    def words(self) -> str:
        """The task as a line of a calendar."""
        tail = f", {self.how}" if self.how else ""
        often = "" if self.every_years == 1 else f" (every {self.every_years} years)"
        return f"{self.task} {self.botanical}{tail}{often}".strip()


# What every garden needs, zone 6 months. COMMON practice; the months are house values.
WHOLE_GARDEN = (
    Task(months=(4,), task="renew the mulch", botanical="on all beds", how="keep it off stems"),
    Task(months=(4, 5, 6), task="weed", botanical="all beds", how="little and often while plants are small"),
    Task(months=(6, 7, 8), task="water", botanical="plants of the last three years", how="after a week without rain"),
    Task(months=(11,), task="empty", botanical="hoses and driplines", how="before hard frost"),
)
WHOLE_GARDEN_SOURCE = f"{COMMON}; months {HOUSE}"


def care_calendar(
    kinds: Iterable[Species],
    *,
    shift_days: float = 0.0,
    south: bool = False,
    whole_garden: bool = False,
    built: Iterable[tuple[Care, tuple[str, ...]]] = (),
) -> tuple[Task, ...]:
    """Return the tasks of the year for the kinds of plants in a garden, in the order of their first month.

    ``shift_days`` is how much later spring comes than in the reference zone 6: spring tasks move later and autumn tasks
    earlier by that much, as bloom does. ``south`` turns the year by six months. ``whole_garden`` adds what every garden
    needs, ``built`` what the things built in it ask for.
    """
    tasks = [
        Task(
            months=_turned(shifted_months(care.first_month, care.last_month, shift_days), south),
            task=care.task,
            botanical=species.botanical,
            how=_HOW.get(species.prune_group, "") if care.task == "prune" else "",
            every_years=care.every_years,
            caution=_caution(species, care.task),
        )
        for species in dict.fromkeys(kinds)
        for care in species.care
    ]
    general = [
        Task(months=care.months, task=care.task, botanical=f"({', '.join(names)})", how=care.how)
        for care, names in built
    ]
    general += WHOLE_GARDEN if whole_garden else ()
    if general:
        tasks += [
            attrs.evolve(t, months=_turned(shifted_months(t.months[0], t.months[-1], shift_days), south))
            for t in general
        ]
    return tuple(sorted(tasks, key=lambda t: (t.months[0], t.task, t.botanical)))


def by_month(tasks: Iterable[Task]) -> tuple[tuple[Task, ...], ...]:
    """Return twelve tuples, January first, of the tasks that begin or go on in each month."""
    listed: list[list[Task]] = [[] for _ in range(12)]
    for task in tasks:
        for month in task.months:
            listed[month - 1].append(task)
    return tuple(tuple(month) for month in listed)


def grouped(tasks: Iterable[Task]) -> tuple[tuple[str, tuple[Task, ...]], ...]:
    """Return tasks that are alike together: (what to do, the tasks), in the order they first come."""
    groups: dict[str, list[Task]] = {}
    for task in tasks:
        groups.setdefault(task.task, []).append(task)
    return tuple((name, tuple(group)) for name, group in groups.items())


def _turned(months: tuple[int, ...], south: bool) -> tuple[int, ...]:
    return tuple((month + 5) % 12 + 1 for month in months) if south else months


def _caution(species: Species, task: str) -> str:
    if task not in _CUTTING:
        return ""
    said = []
    if {"people", "skin"} & set(species.toxic_to):
        said.append(GLOVES)
    if species.layer in ("tree", "conifer") and task == "prune":
        said.append(HIGH)
    return "; ".join(said)
