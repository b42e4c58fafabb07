"""The ground layer and the scatter: low plants until the ground is closed, and bulbs in clumps between them."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from gardenkit.planting.composing.apart import by_kind, least_apart, own_apart, uncrowded
from gardenkit.planting.composing.figures import WINTER_OF, covered
from gardenkit.planting.composing.given import Aims
from gardenkit.planting.composing.ground import Ground, Mask, blue_noise, tree_of
from gardenkit.planting.composing.kinds import Kind, sun_misfit
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.woody import Placed, Room
from gardenkit.planting.winter import flowers_early, stands, up_early
from gardenkit.sources import HOUSE, Figure

CLOSED_BY = 3  # years: when the ground is to be closed; common practice in mixed plantings
STEM = 0.12  # m that bulbs and the ground layer keep from each other's stems. House value.
FEW = 3  # carpets from which no other kind is asked to close the ground. House value.
OWN_UPTO = 0.7  # m: a drift of higher plants is closed with ground covers. House value.
# Of the circle a carpet plant will fill, the share that must be bare for it to be set: wide gaps first, then what
# thinning left open. House values.
BARE_SHARES = (0.55, 0.35)
GAP_EDGE = 0.2  # m by which a gap at the edge of a bed counts as wider than it is. House value.
KEPT = 0.6  # what a ground cover is worth that is there in winter, against its turn. House value.
THIRSTY = 1.5  # what a ground cover loses that does not bear ground as dry as it is there. House value.
COLONY = Figure(3.0, "m", f"{HOUSE}: one kind of ground cover runs about this far before another takes over")
CLUMP_EVERY = Figure(2.6, "m", f"{HOUSE}: from one clump of bulbs to the next")
LATE_EVERY = Figure(3.9, "m", f"{HOUSE}: the same for bulbs of early summer, which flower among leaves")
SPRING_EVERY = Figure(2.0, "m", f"{HOUSE}: the same for early bulbs where the bed is bare in March")
CLUMP, SMALL_CLUMP = (5, 9), (7, 13)  # bulbs in a clump, of small ones; odd numbers are common practice
SMALL_BULB = 0.1  # m from one to the next, up to which a bulb is small. House value.
BULB_STEP = 1.3  # times the on-centre distance inside a clump. House value.


def closers(kinds: Sequence[Kind]) -> list[Kind]:
    """Return the kinds of the ground layer: carpets, and low ground covers where carpets are too few to differ, or
    none of them takes shade.
    """
    carpets = [k for k in kinds if k.part == "carpet"]
    low = [k for k in kinds if k.part != "carpet" and k.is_edge and k.species.role == "ground cover"]
    if len(carpets) >= FEW:
        dark = any("shade" in k.species.sun_range for k in carpets)
        low = [] if dark else [k for k in low if "shade" in k.species.sun_range]
    return [*carpets, *low]


def ground_layer(
    kinds: Sequence[Kind],
    high: Sequence[Kind],
    ground: Ground,
    rooms: Mapping[Kind, Mask],
    there: Sequence[Placed],
    drifted: Sequence[Kind | None],
    aims: Aims,
    rng: np.random.Generator,
    *,
    least: float,
) -> list[Placed]:
    """Return plants on what is still bare in the third year: the drift's own kind where it is low enough to close its
    gaps, else ground covers, one kind to a colony, by the light there, each where it crowds nothing and nothing high
    stands right before it; there one of the ``high`` kinds that stand singly.

    ``drifted`` the kind of the drift each square lies in, None outside drifts; ``least`` the share (0 to 1) of the
    circle a plant will fill that must be bare.
    """
    bare = ~covered(ground, there, CLOSED_BY)
    for placed in there:
        if placed.kind.part in ("shrub", "tree"):
            core = 0.3 if placed.kind.part == "tree" else placed.kind.species.spread / 4
            bare[ground.near_to(placed.at, core)] = False
        elif placed.kind.part == "bulb":  # a bulb covers nothing, yet nothing is planted on top of it
            bare[ground.near_to(placed.at, STEM)] = False
    colony = colonies(kinds, ground, aims, rng) if kinds else None
    order = Order(ground, there)
    own = _own_gaps(ground, rooms, there, (*drifted, *kinds), high)
    found: list[Placed] = []
    for i in widest_first(ground, bare, rng):
        if not bare[i]:
            continue
        if 1 - bare.mean() >= aims.closed:
            break
        chosen = () if colony is None else (kinds[int(colony[i])], *kinds)
        if order.before[i] > OWN_UPTO:
            chosen = (*chosen, *high)
        kind = next((k for k in (drifted[i], *chosen) if k is not None and own[k][i] and order.fits_at(k, i)), None)
        if kind is None:
            continue
        at = ground.points[i]
        if bare[ground.near_to(at, kind.species.spread / 2)].mean() < least:
            continue
        found.append(Placed(kind=kind, at=(float(at[0]), float(at[1])), stage="ground"))
        order.add(found[-1])
        bare[ground.near_to(at, max(kind.apart, kind.species.spread) / 2)] = False
        for other, open_ in own.items():
            open_[ground.near_to(at, own_apart(kind) if other is kind else least_apart(other, kind))] = False
    return found


def bulbs(
    kinds: Sequence[Kind], ground: Ground, there: Sequence[Placed], rng: np.random.Generator, *, room: Room
) -> list[Placed]:
    """Return bulbs in clumps between what stands already, nearer the walk than the back, the kinds in turn, each where
    it has the sun it takes, now and under what will have grown. Kinds that flower early stand in more clumps where
    perennials that are not up yet leave the bed bare in March.
    """
    if not kinds:
        return []
    early = [k for k in kinds if flowers_early(k.species)]
    bare = ~covered(ground, [p for p in there if up_early(p.kind.species)], WINTER_OF)
    wide, near, found = float(CLUMP_EVERY), float(SPRING_EVERY), list[Placed]()
    for some, where, every, clear in (
        ([k for k in kinds if k not in early], np.ones_like(bare), float(LATE_EVERY), wide),
        (early, bare, near, near / 2),
        (early, ~bare, wide, wide),
    ):
        found += _clumps(some, ground, where, [*there, *found], rng, room=room, every=every, clear=clear)
    return found


def widest_first(ground: Ground, bare: Mask, rng: np.random.Generator) -> list[int]:
    """Return the bare squares, those in the middle of the widest gaps first: few plants close them, and no seam of
    single ones runs round a drift.
    """
    squares = rng.permutation(np.flatnonzero(bare))
    leaves = np.flatnonzero(~bare)
    if not len(squares) or not len(leaves):
        return [int(i) for i in squares]
    away = tree_of(ground.points[leaves]).query(ground.points[squares])[0]
    order = np.argsort(-np.minimum(away, ground.edge[squares] + GAP_EDGE), kind="stable")
    return [int(i) for i in squares[order]]


def colonies(kinds: Sequence[Kind], ground: Ground, aims: Aims, rng: np.random.Generator) -> np.ndarray:
    """Return the ground cover of every square: in patches, each of a kind that likes the light there."""
    of_bed = [np.flatnonzero(ground.bed == bed) for bed in np.unique(ground.bed)]
    seeds = [int(here[i]) for here in of_bed for i in blue_noise(ground.points[here], float(COLONY), rng)]
    used = np.zeros(len(kinds))
    chosen = []
    for s in seeds:
        cost = 0.25 * used / max(1.0, len(seeds) / len(kinds)) + 0.3 * rng.random(len(kinds))
        cost -= [KEPT * stands(k.species) + 0.3 * (aims.natives > 0) * k.species.native_na for k in kinds]
        cost += [THIRSTY * bool(ground.dry[s]) * (not k.bears_dry) for k in kinds]
        if ground.hours is not None:
            cost += [1.5 * min(float(sun_misfit(k.species, ground.hours[[s]])[0]), 3.0) for k in kinds]
        chosen.append(int(np.argmin(cost)))
        used[chosen[-1]] += 1
    label, rows = np.zeros(len(ground), dtype=np.int64), np.array(seeds)
    for here in of_bed:
        mine = np.flatnonzero(ground.bed[rows] == ground.bed[here[0]])
        label[here] = np.array(chosen)[mine[tree_of(ground.points[rows[mine]]).query(ground.points[here])[1]]]
    return label


# ---- helpers


def _clumps(
    kinds: Sequence[Kind],
    ground: Ground,
    where: Mask,
    there: Sequence[Placed],
    rng: np.random.Generator,
    *,
    room: Room,
    every: float,
    clear: float,
) -> list[Placed]:
    """Return clumps of the kinds in turn on some squares, ``every`` so many metres, ``clear`` of bulbs there are."""
    if not kinds:
        return []
    free = where & (ground.depth < 0.75) & ~ground.within(np.array([p.at for p in there]).reshape(-1, 2), STEM)
    rooms = {kind: free & room(kind) for kind in kinds}
    found: list[Placed] = []
    standing = [p.at for p in there if p.kind.part == "bulb"]
    some = np.logical_or.reduce(list(rooms.values()))
    places = np.flatnonzero(some & ~ground.within(np.array(standing), clear))
    starts = [int(places[i]) for i in blue_noise(ground.points[places], every, rng)]
    for n, start in enumerate(starts):
        kind = next(k for k in (*kinds[n % len(kinds) :], *kinds) if rooms[k][start])
        found += _clump(kind, ground, rooms[kind], start, rng)
    return found


def _own_gaps(
    ground: Ground,
    rooms: Mapping[Kind, Mask],
    there: Sequence[Placed],
    drifted: Sequence[Kind | None],
    high: Sequence[Kind],
) -> dict[Kind, Mask]:
    """Return for each kind of a drift where one more of it closes a gap without crowding what stands beside it."""
    found, standing = dict[Kind, Mask](), by_kind(there)
    for kind in dict.fromkeys([*(k for k in drifted if k is not None), *high]):
        if kind.species.height > OWN_UPTO and kind not in high:  # a gap between tall plants is closed by low ones
            found[kind] = np.zeros(len(ground), dtype=bool)
            continue
        others = {other: at for other, at in standing.items() if other is not kind}
        found[kind] = rooms[kind] & uncrowded(kind, ground.points, others)
        if kind in standing:
            found[kind] &= ~ground.within(standing[kind], own_apart(kind))
    return found


def _clump(kind: Kind, ground: Ground, ok: Mask, start: int, rng: np.random.Generator) -> list[Placed]:
    apart = max(BULB_STEP * kind.species.spacing_m, ground.step)
    near = np.array(sorted(ground.near_to(ground.points[start], 3.0 * apart + 0.15)), dtype=np.int64)
    near = near[ok[near]]
    few, many = SMALL_CLUMP if kind.species.spacing_m <= SMALL_BULB else CLUMP
    number = int(rng.integers(few // 2, many // 2 + 1)) * 2 + 1
    chosen: list[int] = []
    off = np.hypot(*(ground.points[near] - ground.points[start]).T) + 0.5 * apart * rng.random(len(near))
    for i in near[np.argsort(off)]:
        if len(chosen) == number:
            break
        if all(math.dist(ground.points[i], ground.points[c]) >= apart - 1e-9 for c in chosen):
            chosen.append(int(i))
    return [Placed(kind=kind, at=(float(x), float(y)), stage="bulbs") for x, y in ground.points[chosen]]
