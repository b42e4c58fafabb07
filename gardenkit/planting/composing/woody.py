"""Anchors and masses: trees where they have room and end a view, shrubs in groups of three along the back."""

import math
from collections.abc import Callable, Iterable, Sequence

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing.given import Surroundings, Taste
from gardenkit.planting.composing.ground import Ground, Mask, to_the_eye
from gardenkit.planting.composing.kinds import Kind, kind_of, sun_misfit
from gardenkit.planting.planting import Plant
from gardenkit.planting.winter import framed, is_frame
from gardenkit.sources import COMMON, HOUSE, Figure

SHRUB_SHARE = Figure(0.30, "of the beds", f"{HOUSE}: ground under the grown crowns of shrubs")
ANCHORS_APART = Figure(4.0, "m", HOUSE)
ENDS_VIEW = 0.5  # what a place at the end of a view is worth. House value.
FLANKS = 0.9  # what a place beside an end of the walk is worth to one of a slender pair. House value.
BEFORE_END, FLANK_DEEP = 1.5, 1.2  # m: where such a pair stands before the end, and how near is as good. House values.
IN_THE_EYE = 1.2  # what a single tree loses right before gate, seat, window. House value.
EYE_FREE = 2.5  # m over which that fades. House value.
AT_THE_START = 0.8  # of the worth of the far end, which the walk looks at. House value.
MASS_OF = 3  # shrubs in a mass of small ones; groups of three are common practice
SMALL_SHRUB = Figure(1.5, "m across", f"{HOUSE}: smaller ones stand in threes, larger ones only where it is wide")
LARGE_SHRUB, WIDE = 2.2, 2.0  # m across: what stands alone anywhere; a bed this many crowns deep is wide. House values.
OVERLAP = Figure(0.8, "of half both spreads", f"shrubs knit into one mass; {COMMON}")
STANDS_BACK = Figure(
    0.6, "of its height", f"{HOUSE}: a tall shrub keeps this far from the walk, for it hides what lies behind"
)
TALL = Figure(1.2, "m", f"{HOUSE}: a shrub one does not look over from a seat, and hardly when walking")
AGAINST = 0.5  # m beyond half its spread: a shrub this near a wall or fence stands against it. House value.
Room = Callable[[Kind], Mask]  # the squares on which a kind may stand
AGAIN = 0.7  # times that, once, where the shrubs have not come to their share. House value.
AWAY = 4.5  # m: the same shrub comes back no nearer than this; nearer where more shrubs are asked for. House value.


@attrs.frozen(eq=False, kw_only=True)
class Placed:
    """One plant set so far; ``year`` it comes in, 0 the first season, ``until`` the last in which it stands (None: it
    stays).
    """

    kind: Kind
    at: Point
    support: str = ""
    stage: str = "drift"
    until: int | None = None
    year: int = 0


def as_placed(plant: Plant, catalogue: Catalogue) -> Placed:
    """Return a plant that is there already as one that is composed round."""
    kind = kind_of(catalogue[plant.species])
    return Placed(kind=kind, at=plant.at, support=plant.support, stage="kept", until=plant.until, year=plant.year)


def anchors(
    kinds: Sequence[Kind],
    ground: Ground,
    surroundings: Surroundings,
    rng: np.random.Generator,
    there: Sequence[Placed],
    *,
    room: Room,
    paired: bool = False,
) -> list[Placed]:
    """Return one tree of each kind, in the order given, where it has ``room``, has sun, stands back from the walk and
    ends a view; ``paired`` where it flanks an end of the walk, as its like does across it.
    """
    found: list[Placed] = []
    ends = _ends_of_views(ground, surroundings)
    flank = _flanks(ground, surroundings) if paired else np.zeros(len(ground))
    for kind in kinds:
        ok = room(kind).copy()
        for other in [*there, *found]:
            if other.kind.part in ("tree", "shrub"):
                apart = 0.4 * (kind.species.spread + other.kind.species.spread)
                ok &= ~ground.within(other.at, max(apart, float(ANCHORS_APART) * (other.kind.part == "tree")))
        places = np.flatnonzero(ok)
        if not len(places):
            continue
        worth = ENDS_VIEW * ends[places] + 0.8 * np.minimum(ground.edge[places] / (kind.species.spread / 2), 1.0)
        if not paired:
            worth = worth - IN_THE_EYE * _before_the_eye(ground.points[places], surroundings.viewpoints)
        worth = worth + FLANKS * (kind.species.form == "columnar") * flank[places]
        worth = worth - _sun(kind, ground, places) + 0.25 * _noise(ground.points[places], rng)
        at = ground.points[places[int(worth.argmax())]]
        found.append(Placed(kind=kind, at=(float(at[0]), float(at[1])), stage="anchor"))
    return found


def in_order(trees: Iterable[Kind], *, paired: bool) -> list[Kind]:
    """Return the largest tree first; where they stand in pairs the slender ones before."""
    return sorted(trees, key=lambda k: (paired and k.species.form != "columnar", -k.species.spread))


def masses(
    kinds: Sequence[Kind],
    ground: Ground,
    taste: Taste,
    rng: np.random.Generator,
    there: Sequence[Placed],
    *,
    room: Room,
    share: float = 1.0,
    frame: float = 0.0,
) -> list[Placed]:
    """Return the shrubs: masses along the back of every bed where they have ``room``, until they take their share of
    the ground; ``share`` of the ground that is planted here, ``frame`` of their ground that is to be green in winter.
    """
    found: list[Placed] = []
    rooms = {id(kind): room(kind) & _stands_back(kind, ground) for kind in kinds}
    wanted = float(SHRUB_SHARE) * taste.shrubs * share * len(ground) * ground.square
    used: dict[int, int] = {id(kind): 0 for kind in kinds}
    taken = sum(_crown(p) for p in there if p.kind.part == "shrub")
    for away in (AWAY / taste.shrubs, AGAIN * AWAY / taste.shrubs):
        stuck = set[int]()
        while taken < wanted and len(stuck) < len(kinds):
            open_kinds = _next([k for k in kinds if id(k) not in stuck], [*there, *found], frame)
            kind = min(open_kinds, key=lambda k: (used[id(k)], float(rng.random())))
            mass = _mass(kind, rooms[id(kind)], ground, rng, [*there, *found], away=away)
            if not mass:
                stuck.add(id(kind))
                continue
            used[id(kind)] += len(mass)
            taken += sum(_crown(p) for p in mass)
            found += mass
    return found


# ---- helpers


def _next(kinds: Sequence[Kind], there: Sequence[Placed], frame: float) -> list[Kind]:
    """Return the kinds the next mass is of: evergreens as long as the shrubs that stand have less than their share."""
    green = [kind for kind in kinds if is_frame(kind.species)]
    short = (framed((one.kind.species, _crown(one)) for one in there if one.kind.part == "shrub") or 0.0) < frame
    return green if green and short else list(kinds)


def _in_threes(kind: Kind, width: float) -> bool:
    """Whether a shrub stands in a mass of three: a small one anywhere, a larger one where the bed is wide."""
    spread = kind.species.spread
    return spread <= SMALL_SHRUB or (spread <= LARGE_SHRUB and width >= WIDE * spread)


def _mass(
    kind: Kind, room: Mask, ground: Ground, rng: np.random.Generator, there: Sequence[Placed], *, away: float
) -> list[Placed]:
    """Return one mass of a kind, as a row along the back that steps in and out, or nothing where no place is left.

    The same kind comes back no nearer than ``away`` metres.
    """
    open_ = room.copy()
    for other in there:
        alike = other.kind.species == kind.species
        if other.kind.part == "shrub":
            apart = float(OVERLAP) * (other.kind.species.spread + kind.species.spread) / 2
            open_ &= ~ground.within(other.at, away if alike else apart)
        elif other.kind.part == "tree":
            open_ &= ~ground.within(other.at, 0.5 + kind.species.spread / 4)
    places = np.flatnonzero(open_)
    if not len(places):
        return []
    worth = _back_worth(kind, ground, places) + 0.5 * _noise(ground.points[places], rng)
    first = ground.points[places[int(worth.argmax())]]
    number = MASS_OF if _in_threes(kind, float(ground.local_width[places[int(worth.argmax())]])) else 1
    mass = [first]
    apart = min(kind.species.spacing_m, kind.species.spread) * 0.95
    for _ in range(number - 1):
        off = np.stack([np.hypot(*(ground.points[places] - at).T) for at in mass])
        near = off.min(axis=0)
        fits = (near >= apart) & (near <= apart * 1.35)
        if not fits.any():
            break
        worth = _back_worth(kind, ground, places[fits]) + 0.15 * rng.random(int(fits.sum()))
        mass.append(ground.points[places[fits][int(worth.argmax())]])
    return [Placed(kind=kind, at=(float(x), float(y)), stage="mass") for x, y in mass]


def _stands_back(kind: Kind, ground: Ground) -> Mask:
    """Return where a shrub hides nothing from the walk that it should not: anywhere when low, else further back the
    taller it is, or against a wall or fence.
    """
    s = kind.species
    if s.height <= TALL:
        return np.ones(len(ground), dtype=bool)
    against = ground.back <= s.spread / 2 + AGAINST
    return np.asarray((ground.front >= float(STANDS_BACK) * s.height) | against)


def _back_worth(kind: Kind, ground: Ground, places: np.ndarray) -> FloatArray:
    """Return how well places serve as the back for a kind: the taller the further back, in the sun it needs."""
    aim = min(0.95, 0.55 + 0.2 * kind.species.height)
    return np.asarray(-1.6 * np.abs(ground.depth[places] - aim) - _sun(kind, ground, places))


def _sun(kind: Kind, ground: Ground, places: np.ndarray) -> FloatArray:
    if ground.hours is None:
        return np.zeros(len(places))
    return np.minimum(sun_misfit(kind.species, ground.hours[places]), 3.0)


def _crown(placed: Placed) -> float:
    return math.pi * (placed.kind.species.spread / 2) ** 2


def _ends_of_views(ground: Ground, surroundings: Surroundings) -> FloatArray:
    """Return (n,) 0 to 1: how near each square is to where the line of a path, drawn on at either end, meets a bed."""
    found = np.zeros(len(ground))
    for way in surroundings.ways:
        if len(way) < 3:
            continue
        for a, b in ((way[-3], way[-1]), (way[2], way[0]), (way[0], way[len(way) // 2])):
            run = np.subtract(b, a)
            long = math.hypot(*run)
            if long < 1e-6:
                continue
            off = ground.points - np.asarray(b)
            ahead = off @ (run / long)
            aside = np.abs(off @ np.array([-run[1], run[0]]) / long)
            found = np.maximum(found, np.where((ahead > 0.8) & (ahead < 9), np.exp(-((aside / 0.9) ** 2)), 0.0))
    return found


def _before_the_eye(points: FloatArray, viewpoints: Sequence[Point]) -> FloatArray:
    """Return (n,) 1 at a place one looks from to 0 well away from all of them."""
    return np.asarray(np.exp(-((to_the_eye(points, viewpoints) / EYE_FREE) ** 2)))


def _flanks(ground: Ground, surroundings: Surroundings) -> FloatArray:
    """Return (n,) 0 to 1: how near each square is to a place beside the end of a walk, a step before it."""
    found = np.zeros(len(ground))
    for way in (w for w in surroundings.ways if len(w) > 1):
        long = math.dist(way[0], way[-1])
        run = np.subtract(way[-1], way[0]) / max(long, 1e-6)
        along = (ground.points - np.asarray(way[0])) @ run
        for from_end, worth in ((long - along, 1.0), (along, AT_THE_START)):
            found = np.maximum(found, worth * np.exp(-(((from_end - BEFORE_END) / FLANK_DEEP) ** 2)))
    return np.asarray(found * np.exp(-((ground.front / FLANK_DEEP) ** 2)))


def _noise(points: FloatArray, rng: np.random.Generator) -> FloatArray:
    """Return a smooth chance between 0 and 1 at each place, so that neighbours fare alike."""
    waves = rng.normal(size=(4, 2)) * 0.9
    turn = rng.uniform(0, 2 * math.pi, 4)
    return np.asarray(0.5 + 0.125 * np.sin(points @ waves.T + turn).sum(axis=1))
