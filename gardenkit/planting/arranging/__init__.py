"""An arrangement proposed for the beds: which plant stands where, tall behind low, in groups, apart, in fitting sun."""

from collections.abc import Iterable, Mapping, Sequence

import attrs
import numpy as np

from gardenkit.findings import Finding
from gardenkit.geometry import plane
from gardenkit.planting.arranging import start as start
from gardenkit.planting.arranging import steps as steps
from gardenkit.planting.arranging.energy import Setup, State, parts, too_near
from gardenkit.planting.arranging.kinds import Aims, Settings, clashes, usual_counts
from gardenkit.planting.arranging.search import MOVES, Engine, Progress, Searched, Stop, search
from gardenkit.planting.arranging.steps import Work
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing.given import BedGround, SunLookup, Surroundings
from gardenkit.planting.planting import Plant
from gardenkit.planting.setbacks import DIG_SAFE
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, MEMORY, PLAIN

__all__ = [
    "Aims",
    "Arrangement",
    "BedGround",
    "Settings",
    "SunLookup",
    "Surroundings",
    "Unplaced",
    "arrange",
    "usual_counts",
]


@attrs.frozen(kw_only=True)
class Unplaced:
    """Plants of one kind that found no place, and why."""

    species: str
    count: int
    why: str


@attrs.frozen(kw_only=True)
class Arrangement:
    """A proposal: ``plants`` are the kept ones exactly as they were, then the new ones in order of their numbers.

    ``parts`` are the sides of the objective, weights applied (lower is better); ``engine`` says which search ran and
    ``is_complete`` whether it ran to its end.
    """

    plants: tuple[Plant, ...]
    kept: int
    parts: tuple[tuple[str, float], ...]
    unplaced: tuple[Unplaced, ...]
    findings: tuple[Finding, ...]
    engine: str
    is_complete: bool

    @property
    def new(self) -> tuple[Plant, ...]:
        """The plants that are proposed."""
        return self.plants[self.kept :]

    @property
    def objective(self) -> float:
        """The sum of all parts; lower is better."""
        return sum(value for _, value in self.parts)


def arrange(
    palette: Iterable[Species],
    beds: Sequence[BedGround],
    surroundings: Surroundings | None = None,
    *,
    keep: Sequence[Plant] = (),
    catalogue: Catalogue | None = None,
    counts: Mapping[str, int] | None = None,
    settings: Settings | None = None,
    aims: Aims | None = None,
    seed: int = 1,
    moves: int = MOVES,
    engine: Engine = "auto",
    shift_days: float = 0.0,
    year: int = 0,
    first_number: int | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> Arrangement:
    """Return a proposal for planting a palette in beds; the same seed and engine give the same plan.

    ``keep`` holds plants that stay exactly where they are (locked, accepted or moved by hand); their kinds are looked
    up in the palette, then in ``catalogue``, and they count towards ``counts`` (botanical name to number; missing ones
    as in ``usual_counts``). New plants are numbered from ``first_number`` (default: above every kept number), planted
    in ``year``. Every new plant stands in a bed and apart from all others as asked; the rest is in ``unplaced``.
    ``progress(share, objective)`` is told how far it is, ``stop()`` ends the search early. Raises GardenError for beds
    without ground and for unknown kept plants.
    """
    work, wanted = steps.prepared(
        list(palette),
        beds,
        surroundings or Surroundings(),
        keep=keep,
        catalogue=catalogue,
        counts=counts,
        settings=settings or Settings(),
        aims=aims or Aims(),
    )
    steps.trees(work, wanted)
    steps.climbers(work, wanted)
    work.cells = start.shaded(
        work.cells,
        [(work.cells.points[c], work.kinds[k]) for k, _, c, _ in work.placed if work.kinds[k].role == "tree"],
    )
    cost = start.costs(work.kinds, work.room, work.cells, beds, sun=work.aims.sun, place=work.aims.place)
    standing = len(work.placed)
    steps.groups(work, wanted, cost, ("bush", "herb"), crowded=True)
    ill = clashes(work.kinds, shift_days=shift_days)
    setup, state = steps.board(work, cost, ill, standing)
    ran = search(setup, state, seed=seed, moves=moves, engine=engine, progress=progress, stop=stop)
    work.placed[standing:] = steps.settled(work, state, cost, standing)
    steps.groups(work, wanted, cost, ("carpet", "bulb"))
    setup, state = steps.board(work, cost, ill, standing)
    return _arrangement(work, setup, state, keep, ran, year=year, first_number=first_number)


def _arrangement(
    work: Work,
    setup: Setup,
    state: State,
    keep: Sequence[Plant],
    ran: Searched,
    *,
    year: int,
    first_number: int | None,
) -> Arrangement:
    above = max((plant.number for plant in keep), default=0) + 1
    number = above if first_number is None else max(first_number, above)
    new = []
    for k, _, square, support in work.placed:
        x, y = work.cells.points[square]
        name = work.kinds[k].name
        new.append(Plant(number=number, species=name, at=(float(x), float(y)), year=year, support=support))
        number += 1
    unplaced = tuple(Unplaced(species=name, count=n, why=why) for (name, why), n in work.missing.items())
    return Arrangement(
        plants=(*keep, *new),
        kept=len(keep),
        parts=tuple(parts(setup, state).items()),
        unplaced=unplaced,
        findings=(*_kept_findings(work, setup, state, keep), *_findings(work, unplaced, ran)),
        engine=ran.engine,
        is_complete=ran.is_complete,
    )


# ---- helpers


def _kept_findings(work: Work, setup: Setup, state: State, keep: Sequence[Plant]) -> list[Finding]:
    """Return what is wrong with plants that stay as they are: too near each other, or in no bed."""
    found = []
    short = too_near(setup, state)[: len(keep), : len(work.fixed)]
    for i, j in np.argwhere(np.triu(short, k=1) > 0):
        name = work.kinds[work.fixed[j][0]].name
        other = f"plant {keep[j].number}, {name}" if j < len(keep) else f'tree "{name}"'
        asked = setup.need[setup.kind[i], setup.kind[j]]
        found.append(
            Finding(
                where=f"plant {keep[i].number}, {keep[i].species}",
                what=f"stands {asked - short[i, j]:.2f} m from {other}, where {asked:.2f} m is asked for; "
                "it is kept as it is, move one by hand",
                source=HOUSE,
                seriousness="caution",
                at=keep[i].at,
                topic="spacing",
            )
        )
    for plant in keep:
        if not any(plane.contains(bed.region, plant.at) for bed in work.beds):
            found.append(
                Finding(
                    where=f"plant {plant.number}, {plant.species}",
                    what="stands in no bed; it is kept as it is",
                    source=PLAIN,
                    seriousness="caution",
                    at=plant.at,
                    topic="arranging",
                )
            )
    return found


def _findings(work: Work, unplaced: Sequence[Unplaced], ran: Searched) -> list[Finding]:
    found = [
        Finding(
            where=u.species,
            what=f"{u.count} found no place: {u.why}",
            source=HOUSE,
            seriousness="caution",
            topic="arranging",
        )
        for u in unplaced
    ]
    if any(work.kinds[k].role == "tree" for k, _, _, _ in work.placed):
        found.append(
            Finding(
                where="new trees",
                what=f"before a hole is dug: {DIG_SAFE}; local rules on trees near boundaries differ",
                source=MEMORY,
                seriousness="caution",
                topic="arranging",
            )
        )
    if not ran.is_complete:
        found.append(
            Finding(
                where="arrangement",
                what="the search was stopped early; a better arrangement may exist",
                source=PLAIN,
                topic="arranging",
            )
        )
    return found
