"""A composition in figures: how much ground it closes and when, layering, repetition, bare circles, dots and rings."""

import math
from collections import Counter
from collections.abc import Iterable, Sequence

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.composing.ground import Ground, Mask, tree_of
from gardenkit.planting.composing.kinds import Kind
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.growth import size
from gardenkit.planting.merits import merits
from gardenkit.planting.winter import framed, stands, up_early

YEARS = (1, 3, 5, 10)
WINTER_OF = 5  # year whose January is looked at: shrubs have grown by then. House value.
ABOVE = 0.25  # m by which a plant in front must overtop the one behind it. House value.
AT_THE_BACK = 0.75  # of the depth: what is tall from here on is where it belongs, whatever is behind. House value.
NO_FRAME = "no shrub seen over the ground"
LOOK = 1.2  # m: plants this near each other are seen one before the other. House value.
ONE_DEPTH = 0.3 * LOOK  # m by which they may differ in depth and still stand beside each other. House value.
ONE_GROUP = 1.6  # times the on-centre distance that two of a kind may be apart in one group. House value.
SQUARE_ANGLE = 8.0  # degrees: neighbours turned this near to a right angle look set by line. House value.
EVEN = 0.06  # of the mean: neighbours whose distances differ less look measured out. House value.
RING_OF, RING_GAP = 6, 80.0  # plants that make a ring, degrees between two of them at most. House values.
RING_NEAR, RING_DEEP = 0.7, 1.35  # m beyond the crown; times the nearest one's distance. House values.


@attrs.frozen(kw_only=True)
class CompositionFigures:
    """What an eye would count.

    ``coverage`` year -> share of the beds under leaves (trees, bulbs and climbers not counted); ``tall_in_front`` share
    of pairs, one before the other, in which the front one overtops (no carpets under and between higher plants);
    ``repeats`` mean groups of a drifted kind;
    ``bare_circle`` m across the largest bare circle in year 5; ``dots`` share of drifted plants that stand alone
    though they like company (a carpet in a gap is part of the floor);
    ``lattice`` share of plants whose nearest neighbours stand as in a grid; ``rings`` share of shrubs and trees with a
    ring of one kind round them; ``a_square_metre`` plants without bulbs;
    ``frame`` share of the shrubs' ground that is green in winter (None: no shrub is seen over the ground), ``winter``
    share of the beds under something that
    stands in January of year 5 (leaves, twigs, dry stems), ``spring`` under what is up in March, bulbs too; ``roles``
    role -> share of all plants but bulbs, likewise
    ``evergreen`` and ``brings`` (see ``merits``); ``shrubs`` share of the beds under grown shrubs; ``drifts`` how many
    and ``drift_area`` m2 of one; ``harmony`` of neighbouring drifts (Ou and Luo, larger is better).
    """

    coverage: dict[int, float]
    tall_in_front: float
    repeats: float
    bare_circle: float
    dots: float
    lattice: float
    rings: float
    plants: int
    kinds: int
    a_square_metre: float
    roles: dict[str, float]
    evergreen: float
    brings: dict[str, float]
    shrubs: float
    frame: float | None
    winter: float
    spring: float
    drifts: int
    drift_area: float
    harmony: float

    def rows(self) -> tuple[tuple[str, str], ...]:
        """Return the figures in words, for a page; those of drifts only where drifts are known."""
        return (
            *((f"ground closed in year {y}", f"{share:.0%}") for y, share in self.coverage.items()),
            *((("drifts", f"{self.drifts} of about {self.drift_area:.1f} m\u00b2"),) if self.drifts else ()),
            ("tall in front", f"{self.tall_in_front:.0%}"),
            ("groups of a kind", f"{self.repeats:.1f}"),
            ("largest bare circle, year 5", f"{self.bare_circle:.1f} m across"),
            ("single dots", f"{self.dots:.0%}"),
            ("as in a grid", f"{self.lattice:.0%}"),
            ("shrubs and trees in a ring of one kind", f"{self.rings:.0%}"),
            ("plants, kinds", f"{self.plants}, {self.kinds}"),
            ("room of one plant, without bulbs", f"{1 / max(self.a_square_metre, 1e-9):.2f} m\u00b2"),
            *((f"role: {role}", f"{share:.0%} of the plants") for role, share in self.roles.items()),
            ("under grown shrubs", f"{self.shrubs:.0%} of the ground"),
            ("evergreen", f"{self.evergreen:.0%} of the plants"),
            ("shrubs green in winter", NO_FRAME if self.frame is None else f"{self.frame:.0%} of their ground"),
            ("stands in January, year 5", f"{self.winter:.0%} of the ground"),
            ("leaves or flowers in March, year 5", f"{self.spring:.0%} of the ground"),
            *((("harmony of neighbours (-1.2 to 1.4)", f"{self.harmony:.2f}"),) if self.drifts else ()),
            *((f"{word}, full marks 100%", f"{share:.0%}") for word, share in self.brings.items()),
        )


def figures_of(
    ground: Ground, everything: Sequence[Placed], *, drifts: Sequence[float] = (), harmony: float = 0.0
) -> CompositionFigures:
    """Return the figures of a planting on its ground; what stands elsewhere counts only by the ground it covers.

    ``drifts`` the area of each drift, m2.
    """
    placed = _on(ground, everything)
    drifted = [p for p in placed if p.kind.part in ("drift", "carpet")]
    groups = groups_of(drifted)
    sizes = Counter(g[0].kind.species.botanical for g in groups)
    solid = [p for p in placed if p.kind.part != "bulb"]
    species = [p.kind.species for p in solid]
    brought = [merits(s) for s in species]
    return CompositionFigures(
        coverage={year: float(covered(ground, everything, year).mean()) for year in YEARS},
        tall_in_front=_tall_in_front(ground, placed),
        repeats=float(np.mean(list(sizes.values()))) if sizes else 0.0,
        bare_circle=_bare_circle(ground, covered(ground, everything, 5)),
        dots=len(alone_among(groups)) / len(drifted) if drifted else 0.0,
        lattice=lattice_share(np.array([p.at for p in drifted]).reshape(-1, 2)),
        rings=ring_share(placed),
        plants=len(placed),
        kinds=len({p.kind.species for p in placed}),
        a_square_metre=len(solid) / (len(ground) * ground.square),
        roles={role: count / len(solid) for role, count in Counter(s.role for s in species).most_common() if role},
        evergreen=float(np.mean([s.is_evergreen for s in species])) if species else 0.0,
        brings={word: float(np.mean([one[word] for one in brought])) for word in (brought[0] if brought else ())},
        shrubs=float(covered(ground, [p for p in placed if p.kind.part == "shrub"], YEARS[-1]).mean()),
        frame=framed((p.kind.species, p.kind.species.spread**2) for p in placed),
        winter=float(covered(ground, [p for p in everything if stands(p.kind.species)], WINTER_OF).mean()),
        spring=float(_up_early(ground, everything).mean()),
        drifts=len(drifts),
        drift_area=float(np.mean(drifts)) if len(drifts) else 0.0,
        harmony=harmony,
    )


def covered(ground: Ground, placed: Sequence[Placed], year: float) -> Mask:
    """Return which squares lie under leaves in a year: under any plant that is no tree, bulb or climber."""
    found, wide = np.zeros(len(ground), dtype=bool), dict[tuple[Kind, int], float]()
    for one in placed:
        there = one.year <= year and (one.until is None or one.until >= year)
        if one.kind.part in ("tree", "bulb", "climber") or not there:
            continue
        key = (one.kind, one.year)
        if key not in wide:
            wide[key] = size(one.kind.species, year - one.year).spread
        found[ground.near_to(one.at, wide[key] / 2)] = True
    return found


def lattice_share(at: FloatArray) -> float:
    """Return the share of places whose four nearest are equally far and at right angles: set out as in a square grid.

    A hexagonal grid counts as well: its six nearest are equally far.
    """
    if len(at) < 8:
        return 0.0
    away, near = tree_of(at).query(at, k=7)
    found = 0
    for i in range(len(at)):
        six, four = away[i, 1:], away[i, 1:5]
        if six.std() <= EVEN * six.mean():
            found += 1
            continue
        if four.std() > EVEN * four.mean():
            continue
        turn = np.sort([math.degrees(math.atan2(*(at[j] - at[i])[::-1])) for j in near[i, 1:5]])
        steps = np.diff(np.append(turn, turn[0] + 360))
        found += bool(np.abs(steps - 90).max() <= SQUARE_ANGLE)
    return found / len(at)


def ring_share(placed: Sequence[Placed]) -> float:
    """Return the share of shrubs and trees round which one kind stands in a ring one plant deep, all the way round."""
    low = [p for p in placed if p.kind.part in ("drift", "carpet")]
    woody = [p for p in placed if p.kind.part in ("shrub", "tree")]
    if not woody or len(low) < RING_OF:
        return 0.0
    tree = tree_of(np.array([p.at for p in low]))
    reach = [p.kind.species.spread / 2 + RING_NEAR for p in woody]
    near = [[low[i] for i in tree.query_ball_point(p.at, far)] for p, far in zip(woody, reach, strict=True)]
    return sum(_is_ring(p.at, each) for p, each in zip(woody, near, strict=True)) / len(woody)


def groups_of(placed: Sequence[Placed]) -> list[list[Placed]]:
    """Return the plants in groups of one kind, near enough each other to be seen as one."""
    groups: list[list[Placed]] = []
    for name in dict.fromkeys(p.kind.species.botanical for p in placed):
        alike = [p for p in placed if p.kind.species.botanical == name]
        near = tree_of(np.array([p.at for p in alike])).query_pairs(ONE_GROUP * alike[0].kind.species.spacing_m)
        mine = list(range(len(alike)))
        for a, b in sorted(near):
            low, high = sorted((mine[a], mine[b]))
            mine = [low if m == high else m for m in mine]
        groups += [[p for p, m in zip(alike, mine, strict=True) if m == g] for g in dict.fromkeys(mine)]
    return groups


def alone_among(groups: Iterable[Sequence[Placed]]) -> list[Placed]:
    """Return the plants that stand alone and like company: the single dots of a planting."""
    return [g[0] for g in groups if len(g) == 1 and g[0].kind.together[0] > 1 and g[0].kind.part == "drift"]


# ---- helpers


def _is_ring(middle: Point, near: Sequence[Placed]) -> bool:
    if len(near) < RING_OF:
        return False
    off = np.array([p.at for p in near]) - np.asarray(middle)
    away = np.hypot(*off.T)
    first = away <= RING_DEEP * away.min()
    inner = [p for p, is_in in zip(near, first, strict=True) if is_in]
    if len(inner) < RING_OF or len({p.kind.species for p in inner}) > 1:
        return False
    turns = np.sort(np.degrees(np.arctan2(*off[first].T)))
    gap = float(np.diff(np.append(turns, turns[0] + 360)).max())
    deeper = sum(p.kind.species == inner[0].kind.species for p in near) - len(inner)
    return gap <= RING_GAP and deeper < len(inner) / 3


def _on(ground: Ground, placed: Sequence[Placed]) -> list[Placed]:
    """Return the plants that stand in these beds."""
    if not placed:
        return []
    away = ground.index.query(np.array([p.at for p in placed]))[0]
    return [p for p, d in zip(placed, away, strict=True) if d <= ground.step]


def _up_early(ground: Ground, placed: Sequence[Placed]) -> Mask:
    """Return which squares something is to be seen on in March, a clump of bulbs as one patch."""
    early = [p for p in placed if up_early(p.kind.species)]
    found = covered(ground, early, WINTER_OF)
    for one in early:
        if one.kind.part == "bulb" and (one.until is None or one.until >= WINTER_OF):
            found[ground.near_to(one.at, max(one.kind.species.spread, one.kind.species.spacing_m) / 2)] = True
    return found


def _tall_in_front(ground: Ground, placed: Sequence[Placed]) -> float:
    low = [p for p in placed if p.kind.part in ("drift", "carpet", "shrub")]
    if len(low) < 2:
        return 0.0
    at = np.array([p.at for p in low])
    square = ground.index.query(at)[1]
    front, depth = ground.front[square], ground.depth[square]
    near, pairs, wrong = sorted(tree_of(at).query_pairs(LOOK)), 0, 0
    under = _floor(low, front, near)
    for a, b in near:
        if abs(front[a] - front[b]) < ONE_DEPTH:
            continue
        first, second = (a, b) if front[a] < front[b] else (b, a)
        if second in under:
            continue
        pairs += 1
        if depth[first] < AT_THE_BACK:
            wrong += low[first].kind.species.height > low[second].kind.species.height + ABOVE
    return wrong / pairs if pairs else 0.0


def _floor(low: Sequence[Placed], front: FloatArray, near: Sequence[tuple[int, int]]) -> set[int]:
    """Return the carpets that run under or between higher plants: with one that is no carpet beside or behind them."""
    found = set[int]()
    for a, b in near:
        for one, other in ((a, b), (b, a)):
            is_floor = low[one].kind.part == "carpet" and low[other].kind.part != "carpet"
            if is_floor and front[other] >= front[one] - ONE_DEPTH:
                found.add(one)
    return found


def _bare_circle(ground: Ground, leaves: Mask) -> float:
    """Return metres across the largest circle of bare ground inside the beds."""
    from scipy.ndimage import distance_transform_edt

    places = np.floor(ground.points / ground.step).astype(np.int64)
    places -= places.min(axis=0) - 1
    sheet = np.zeros(tuple(places.max(axis=0) + 2), dtype=bool)
    sheet[tuple(places.T)] = ~leaves
    return float(2 * ground.step * distance_transform_edt(sheet).max()) if sheet.any() else 0.0
