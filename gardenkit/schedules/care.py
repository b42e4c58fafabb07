"""The care calendar: what to do in which month, for the plants that are really there."""

import calendar
from collections.abc import Iterable, Mapping

import attrs

from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.schedules import care_when
from gardenkit.site.hardiness import zone_limits_c
from gardenkit.site.site import ExistingTree
from gardenkit.sources import COMMON, HOUSE
from gardenkit.structure.kinds.rows import Care

MONTHS = tuple(calendar.month_name[1:])
NURSERY = "nursery's clematis groups"
_CUTTING = ("prune", "shear", "cut back", "deadhead", "divide", "lift")
GLOVES = "wear gloves and long sleeves, wash after"
HIGH = "work above your head is for a certified arborist; keep 10 ft from power lines"


NEW = (
    3  # seasons in which a plant counts as new and is watered each week. House value; a nursery (glasshousenursery.ca,
)
# digging the hole) counts 1.5 years an inch of a tree's stem until it has settled
# How tasks begin that are done from the first season on
AT_ONCE = (
    *("water", "plant out", "stake", "tie in", "mow", "weed", "protect", "lift", "net", "sow", "harvest", "empty"),
    *("look", "cover", "scrub and refill", "top up the pond", "rake the leaves"),
)
FROST_FREE_C = 1.6  # mean yearly lowest, degrees C: zone 10b begins at 35 F (1.67 C). USDA Plant Hardiness Zone Map


@attrs.frozen(kw_only=True)
class Task:
    """One task of the year: in which months (1 to 12), on which plant, how often, and what to beware of.

    ``first`` and ``last`` count seasons from the first planting one: the first and the last season in which what it is
    for stands; None: for good. ``weekly``: every week of its months. What is done ``soon`` is not put off to the second
    season: all that a kind asks for that is grown anew each year, and winter cover. In the season in which it would be
    done at once, it is not done before the month in which planting ``opens``.
    """

    months: tuple[int, ...]
    task: str
    botanical: str
    how: str = ""
    every_years: int = 1
    caution: str = ""
    first: int = 0
    last: int | None = None
    weekly: bool = False
    soon: bool = False
    opens: int = 1

    @property
    def words(self) -> str:
        """The task as a line of a calendar."""
        tail = f", {self.how}" if self.how else ""
        often = "" if self.every_years == 1 else f" (every {self.every_years} years)"
        on = " on" if self.task.startswith("look for") else ""
        return f"{self.task}{on} {self.botanical}{tail}{often}".strip()

    @property
    def names(self) -> tuple[str, ...]:
        """What it is for: a kind, or what is built one by one (their names stand in brackets)."""
        built = self.botanical.startswith("(") and self.botanical.endswith(")")
        return tuple(self.botanical[1:-1].split(", ")) if built else (self.botanical,)

    @property
    def begins(self) -> int:
        """The season in which it is done first: at once for what new plants need, else when they have grown so long.

        Watering in drought begins when new plants are no longer watered each week.
        """
        if self.task == "water" and not self.weekly:
            return self.first + NEW
        at_once = self.task.startswith(AT_ONCE) or (self.soon and self.every_years == 1)
        return self.first + (0 if at_once else self.every_years)

    def begins_in(self, month: int) -> int:
        """Return the season in which it is first done in a month: never before the planting itself."""
        return self.begins + (self.begins == self.first and month < self.opens)

    def within(self, season: int) -> "Task":
        """Return the task with the months alone in which it is done in a season."""
        return attrs.evolve(self, months=tuple(month for month in self.months if season >= self.begins_in(month)))

    def is_due(self, season: int) -> bool:
        """Return whether it has begun so many seasons after the first one, and what it is for still stands."""
        return season >= self.begins and (self.last is None or season <= self.last)


# What every garden needs, zone 6 months. COMMON practice; the months are house values.
EMPTIED = Task(months=(11,), task="empty", botanical="hoses and driplines", how="before hard frost")
WHOLE_GARDEN = (
    Task(months=(4,), task="renew the mulch", botanical="on all beds", how="keep it off stems"),
    Task(months=(4, 5, 6), task="weed", botanical="all beds", how="little and often while plants are small"),
    Task(
        months=(5, 6, 7, 8, 9),
        task="water",
        botanical=f"plants of the last {NEW} years",
        how="once a week, through to the roots, unless it rained as much",
        weekly=True,
    ),
    EMPTIED,
)
ANEW = ("annual", "tender bulb")  # layers that are planted anew each year, or lifted and planted out
GROWN_IN = 10  # the season by which a garden counts as grown in. House value.
# What a tree to keep asks for. COMMON practice; the months are house values.
LOOKED_OVER = Care(
    months=(9,), task="look over the trees to keep", how="dead limbs, fungi, heaving roots; an arborist where in doubt"
)
ROOTS_KEPT = Care(months=(4,), task="mulch the roots of trees to keep", how="no digging, no soil against the trunk")
WHOLE_GARDEN_SOURCE = f"{COMMON}; months {HOUSE}"


def care_calendar(
    kinds: Iterable[Species],
    *,
    shift_days: float = 0.0,
    south: bool = False,
    frost: bool = True,
    whole_garden: bool = False,
    built: Iterable[tuple[Care, tuple[str, ...]]] = (),
    seasons: Mapping[str, tuple[int, int | None]] | None = None,
    opens: int = 1,
    dry: Iterable[int] = (),
    mulched: bool = False,
) -> tuple[Task, ...]:
    """Return the tasks of the year for the kinds of plants in a garden, in the order of their first month.

    ``shift_days`` is how much later spring comes than in the reference zone 6: spring tasks move later and autumn tasks
    earlier by that much, as bloom does. ``south`` turns the year by six months; without ``frost`` nothing is done
    against it. ``whole_garden`` adds what every garden needs, ``built`` what the things built in it ask for.
    ``seasons`` says in which seasons each kind stands, first and last (None: for good), by its botanical name;
    ``opens`` is the first month of a year in which planting is done; in ``dry`` months of the place new plants are
    watered too. Where all beds are ``mulched`` in spring, no kind is mulched then by itself.
    """
    stand = seasons or {}
    tasks = []
    for species in dict.fromkeys(kinds):
        first, last = stand.get(species.botanical, (0, None))
        found = (
            *_of_kind(species, shift_days, frost=frost, mulched=mulched),
            *_looked_for(species, shift_days, south=south),
        )
        tasks += [attrs.evolve(task, first=first, last=last) for task in found]
    general = [
        Task(
            months=c.months,
            task=c.task,
            botanical=f"({', '.join(names)})",
            how=care_when.how_built(c, frost=frost),
            last=c.years - 1 if c.years else None,
        )
        for c, names in built
        if frost or not c.frost
    ]
    general += _whole(stand, frost=frost) if whole_garden else []
    tasks += [attrs.evolve(t, months=care_when.shifted(t.months, shift_days)) for t in general]
    lasting = [t for t in tasks if t.last is None or t.begins <= t.last]
    turned = [attrs.evolve(task, months=_turned(task.months, south), opens=opens) for task in lasting]
    thirsty = tuple(dry)
    turned = [attrs.evolve(t, months=_joined(t.months, thirsty)) if t.weekly else t for t in turned]
    return tuple(sorted(turned, key=lambda t: (t.months[0], t.task, t.botanical)))


def freezes(zone: str | None) -> bool:
    """Return whether a mean winter of a USDA zone has frost; a zone that is not known is taken to have it.

    >>> freezes("10a"), freezes("10b"), freezes(None)
    (True, False, True)
    """
    return zone is None or zone_limits_c(zone)[0] < FROST_FREE_C


def seasons_of(planted: Iterable[tuple[Plant, Species]]) -> dict[str, tuple[int, int | None]]:
    """Return in which seasons each kind stands, by its botanical name: from its first plant to its last one's end."""
    found: dict[str, tuple[int, int | None]] = {}
    for plant, species in planted:
        first, last = found.get(species.botanical, (plant.year, plant.until))
        ends = None if last is None or plant.until is None else max(last, plant.until)
        found[species.botanical] = (min(first, plant.year), ends)
    return found


def of_trees(trees: Iterable[ExistingTree]) -> tuple[tuple[Care, tuple[str, ...]], ...]:
    """Return what the trees that are kept ask for, with their names."""
    names = tuple(tree.name for tree in trees if tree.keep)
    return ((LOOKED_OVER, names), (ROOTS_KEPT, names)) if names else ()


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


def _of_kind(species: Species, shift_days: float, *, frost: bool, mulched: bool) -> list[Task]:
    """Return what a kind asks for in the northern year; two rows of one task that meet in a month are one task."""
    found: list[Task] = []
    for care in species.care:
        months = care_when.months_here(species, care, shift_days)
        cold = care_when.against_frost(care, months)
        if (cold and not frost) or (mulched and care_when.mulch_of_spring(care)):
            continue
        had = {month for task in found if task.task == care.task for month in task.months}
        left = tuple(month for month in months if month not in had)
        if left:
            how = care_when.how_here(species, care, left, shift_days)
            found.append(
                Task(
                    months=left,
                    task=care.task,
                    botanical=species.botanical,
                    how=how,
                    every_years=care.every_years,
                    caution=_caution(species, care.task),
                    soon=cold or species.layer in ANEW,
                )
            )
    return found


def _looked_for(species: Species, shift_days: float, *, south: bool) -> list[Task]:
    return [
        Task(
            months=care_when.shifted(months, shift_days),
            task=f"look for {what}",
            botanical=species.botanical,
        )
        for what, months in care_when.watched(species, south=south)
    ]


def _whole(stand: Mapping[str, tuple[int, int | None]], *, frost: bool) -> list[Task]:
    """Return what every garden needs: new plants are watered until the last of them has had its seasons."""
    newest = max((first for first, _ in stand.values()), default=0)
    return [
        attrs.evolve(task, last=newest + NEW - 1) if task.weekly else task
        for task in WHOLE_GARDEN
        if frost or task is not EMPTIED
    ]


def _turned(months: tuple[int, ...], south: bool) -> tuple[int, ...]:
    return tuple((month + 5) % 12 + 1 for month in months) if south else months


def _joined(months: tuple[int, ...], more: tuple[int, ...]) -> tuple[int, ...]:
    """Return months with some more, in the order of the season: the first one is that after a month without."""
    found = {*months, *more}
    first = next((month for month in sorted(found) if (month - 2) % 12 + 1 not in found), 1)
    return tuple(sorted(found, key=lambda month: (month - first) % 12))


def _caution(species: Species, task: str) -> str:
    if task not in _CUTTING:
        return ""
    said = []
    if {"people", "skin"} & set(species.toxic_to):
        said.append(GLOVES)
    if species.is_tree and task == "prune":
        said.append(HIGH)
    return "; ".join(said)
