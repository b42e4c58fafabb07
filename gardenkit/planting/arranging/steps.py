"""The steps of arranging: trees, climbers, groups, the search's table, and setting right what still stands too near."""

from collections import Counter
from collections.abc import Mapping, Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.arranging import start
from gardenkit.planting.arranging.energy import Setup, State, state_of
from gardenkit.planting.arranging.ground import Cells, cells_of
from gardenkit.planting.arranging.kinds import (
    Aims,
    Kind,
    Settings,
    echo_distance,
    group_size,
    group_span,
    groups_of,
    kind_of,
    kind_of_tree,
    usual_counts,
)
from gardenkit.planting.arranging.start import Room
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.catalogue_columns import name_key
from gardenkit.planting.composing.given import BedGround, Surroundings
from gardenkit.planting.layering import ONE_GROUP
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure

BARE = Figure(1.0, "m", f"{HOUSE}: ground this far from any leaves is as bare as can be; carpets go there first")


@attrs.define(eq=False, kw_only=True)
class Work:
    """What is filled in while arranging: each new plant's kind, group and square, in the order it was set."""

    kinds: list[Kind]
    beds: Sequence[BedGround]
    surroundings: Surroundings
    settings: Settings
    aims: Aims
    cells: Cells
    room: Room
    fixed: list[tuple[int, FloatArray]]
    placed: list[tuple[int, int, int, str]] = attrs.field(factory=list)  # kind, group, square, support
    missing: Counter[tuple[str, str]] = attrs.field(factory=Counter)
    groups: int = 0

    @property
    def area(self) -> float:
        """Square metres of all beds."""
        return sum(plane.area(bed.region) for bed in self.beds)

    def put(self, kind: int, squares: Sequence[int], *, support: str = "") -> None:
        """Note plants of one group."""
        self.placed += [(kind, self.groups, square, support) for square in squares]
        self.groups += 1

    def lack(self, kind: int, count: int, why: str) -> None:
        """Note plants that found no place."""
        if count > 0:
            self.missing[self.kinds[kind].name, why] += count


def prepared(
    palette: Sequence[Species],
    beds: Sequence[BedGround],
    surroundings: Surroundings,
    *,
    keep: Sequence[Plant],
    catalogue: Catalogue | None,
    counts: Mapping[str, int] | None,
    settings: Settings,
    aims: Aims,
) -> tuple[Work, dict[int, int]]:
    """Return the empty room with what stands already taken out of it, and how many of each kind are still to be set."""
    by_key = {species.key: species for species in palette}
    kept = [_kept_kind(plant, by_key, catalogue) for plant in keep]
    every = {species.key: species for species in (*by_key.values(), *kept)}
    kinds = [kind_of(species) for species in every.values()]
    at = {key: i for i, key in enumerate(every)}
    fixed = [(at[species.key], np.asarray(plant.at, dtype=float)) for plant, species in zip(keep, kept, strict=True)]
    for tree in surroundings.trees:
        if tree.keep:
            fixed.append((len(kinds), np.asarray(tree.at, dtype=float)))
            kinds.append(kind_of_tree(tree))
    cells = cells_of(beds, surroundings)
    room = start.room_for(kinds, cells, surroundings, settings)
    for kind, place in fixed:
        room.take(kind, place)
    area = sum(plane.area(bed.region) for bed in beds)
    known = {name_key(name): n for name, n in (counts or {}).items()}
    unknown = [name for name in counts or {} if name_key(name) not in by_key]
    if unknown:
        raise GardenError(f"{unknown[0]} is counted but not in the palette; add it there, or take its count away")
    named = {s.botanical: known[s.key] for s in by_key.values() if s.key in known}
    numbers = usual_counts(by_key.values(), area, fullness=settings.fullness, counts=named)
    there = Counter(kind for kind, _ in fixed)
    wanted = {at[s.key]: max(0, numbers[s.botanical] - there[at[s.key]]) for s in by_key.values()}
    work = Work(
        kinds=kinds,
        beds=beds,
        surroundings=surroundings,
        settings=settings,
        aims=aims,
        cells=cells,
        room=room,
        fixed=fixed,
    )
    return work, wanted


def _kept_kind(plant: Plant, palette: Mapping[str, Species], catalogue: Catalogue | None) -> Species:
    found = palette.get(name_key(plant.species))
    if found is None and catalogue is not None:
        found = catalogue[plant.species]
    if found is None:
        raise GardenError(
            f'plant {plant.number} is a "{plant.species}", which is not in the palette; add it, or give the catalogue'
        )
    return found


def trees(work: Work, wanted: Mapping[int, int]) -> None:
    """Set trees one by one, widest first, where their crowns have most room."""
    for k in _by_width(work, wanted, ("tree",)):
        for n in range(wanted[k]):
            square = start.tree_place(k, work.kinds[k], work.room, work.cells, sun=work.aims.sun)
            if square is None:
                work.lack(k, wanted[k] - n, _why_not(work, k))
                break
            work.room.take(k, work.cells.points[square])
            work.put(k, [square])


def climbers(work: Work, wanted: Mapping[int, int]) -> None:
    """Set climbers and trained fruit at the supports that hold them, those with the fewest supports first."""
    supports = work.surroundings.supports
    load: dict[str, int] = {}

    def choice(k: int) -> tuple[int, str]:
        kind = work.kinds[k]
        return sum(start.holds(s, kind.species) for s in supports if kind.species), kind.name

    for k in sorted(_by_width(work, wanted, ("wall",)), key=choice):
        for n in range(wanted[k]):
            found = start.support_place(k, work.kinds[k], work.room, supports, load, sun=work.aims.sun)
            if found is None:
                work.lack(k, wanted[k] - n, _why_no_support(work, k))
                break
            square, support = found
            load[support.name] = load.get(support.name, 0) + 1
            work.room.take(k, work.cells.points[square])
            work.put(k, [square], support=support.name)


def groups(
    work: Work, wanted: Mapping[int, int], cost: NDArray[np.float32], roles: Sequence[str], *, crowded: bool = False
) -> None:
    """Set kinds in odd groups, widest first, each next group of a kind away from the ones before it."""
    for k in _by_width(work, wanted, roles):
        kind = work.kinds[k]
        if kind.species is None:
            continue
        value = cost[k].astype(float)
        if kind.role == "carpet":
            value -= work.aims.place * _open_ground(work)
        sizes = groups_of(wanted[k], group_size(kind.species))
        echo_from = echo_distance(kind, len(sizes), work.area, work.settings)
        for size in sizes:
            span = group_span(kind.spacing, size)
            squares = start.group_places(k, size, work.room, value, span, crowded=crowded)
            if not crowded:
                squares = _odd(squares)
            work.lack(k, size - len(squares), _why_not(work, k))
            if squares:
                work.put(k, squares)
            if squares and echo_from:
                off = work.cells.points - work.cells.points[squares].mean(axis=0)
                value += work.aims.repetition * np.maximum(1.0 - np.hypot(off[:, 0], off[:, 1]) / echo_from, 0.0)


def board(work: Work, cost: NDArray[np.float32], ill: FloatArray, standing: int) -> tuple[Setup, State]:
    """Return all plants as the search sees them: fixed ones first, then placed ones, of which the first few stay."""
    cells, kinds, fixed = work.cells, work.kinds, len(work.fixed)
    kind = np.array([k for k, _ in work.fixed] + [k for k, _, _, _ in work.placed], dtype=np.int64)
    ids = list(range(-fixed, 0)) + [g for _, g, _, _ in work.placed]
    group = np.unique(np.array(ids, dtype=np.int64), return_inverse=True)[1].astype(np.int64)
    square = [cells.nearest(at) for _, at in work.fixed] + [c for _, _, c, _ in work.placed]
    members = np.argsort(group, kind="stable").astype(np.int64)
    count = np.bincount(group).astype(float) if len(group) else np.zeros(0)
    first = np.concatenate(([0], np.cumsum(count))).astype(np.int64)
    span = np.array([group_span(kinds[kind[members[first[g]]]].spacing, int(n)) for g, n in enumerate(count)])
    groups = [len(np.unique(group[kind == k])) for k in range(len(kinds))]
    aims, mass = work.aims, np.array([k.mass if k.role != "wall" else 0.0 for k in kinds])
    together = float(mass[kind].sum()) if len(kind) else 0.0
    movable = np.arange(len(kind)) >= fixed + standing
    setup = Setup(
        kind=kind,
        group=group,
        movable=movable,
        first=first,
        members=members,
        span=span,
        sizes=count,
        need=work.room.need,
        clash=ill,
        repeat=np.array([echo_distance(k, n, work.area, work.settings) for k, n in zip(kinds, groups, strict=True)]),
        height=np.array([k.height for k in kinds]),
        low=np.array([float(k.role in ("bush", "herb")) for k in kinds]),
        mass=mass,
        unary=cost.astype(np.float32),
        points=cells.points,
        cell_bed=cells.bed,
        cell_depth=cells.depth,
        cell_axis=cells.axis,
        cell_way=cells.way,
        cell_side=cells.side,
        sheet=cells.index,
        left=cells.left,
        bottom=cells.bottom,
        size=cells.size,
        weights=np.array(
            [
                aims.spacing,
                aims.grouping,
                aims.repetition,
                aims.colour,
                aims.height,
                aims.balance * len(kind) / 2 / max(together, 1e-9),
            ]
        ),
        reach=work.settings.reach,
    )
    spots = np.array(square, dtype=np.int64)
    at = cells.points[spots] if len(spots) else np.zeros((0, 2))
    at = np.vstack(([place for _, place in work.fixed], at[fixed:])) if fixed else at
    return setup, state_of(setup, at, spots, len(work.surroundings.ways))


def settled(work: Work, state: State, cost: NDArray[np.float32], standing: int) -> list[tuple[int, int, int, str]]:
    """Return the searched plants, each apart as asked and in odd groups, widest first.

    What stands too near others, or has strayed from its group, is set again beside its group, or left out.
    """
    room = work.room = _room_of_standing(work, standing)
    groups: dict[int, tuple[int, list[int]]] = {}
    for i, (k, g, _, _) in enumerate(work.placed[standing:], start=len(work.fixed) + standing):
        groups.setdefault(g, (k, []))[1].append(int(state.cell[i]))
    kept: dict[int, list[int]] = {g: [] for g in groups}
    late: list[tuple[int, int, int]] = []
    for g in sorted(groups, key=lambda g: (-work.kinds[groups[g][0]].spread, g)):
        k, squares = groups[g]
        close = _closest(work.cells.points[squares], float(ONE_GROUP) * work.kinds[k].spacing)
        for square, is_close in zip(squares, close, strict=True):
            if is_close and room.free(k)[square]:
                kept[g].append(square)
                room.take(k, work.cells.points[square])
            else:
                late.append((k, g, square))
    for k, g, square in late:
        beside = work.cells.points[kept[g]].mean(axis=0) if kept[g] else work.cells.points[square]
        span = group_span(work.kinds[k].spacing, len(groups[g][1]))
        kept[g] += start.group_places(k, 1, room, cost[k].astype(float), span, start=beside)
    for g, (k, squares) in groups.items():
        kept[g] = _odd(kept[g])
        work.lack(k, len(squares) - len(kept[g]), _why_not(work, k))
    return [(groups[g][0], g, square, "") for g in groups for square in kept[g]]


# ---- helpers


def _room_of_standing(work: Work, standing: int) -> Room:
    """Return the room with only what stays: what stands already, new trees and climbers."""
    room = work.room.emptied()
    for k, at in work.fixed:
        room.take(k, at)
    for k, _, square, _ in work.placed[:standing]:
        room.take(k, work.cells.points[square])
    return room


def _closest(points: FloatArray, step: float) -> NDArray[np.bool_]:
    """Return which points belong to the largest set joined by steps of at most ``step`` metres."""
    off = points[:, None, :] - points[None, :, :]
    near = np.hypot(off[..., 0], off[..., 1]) <= step
    for _ in range(max(1, len(points).bit_length())):  # each squaring doubles the steps that are joined
        near = (near.astype(int) @ near.astype(int)) > 0
    return np.asarray(near[near.sum(axis=1).argmax()])


def _by_width(work: Work, wanted: Mapping[int, int], roles: Sequence[str]) -> list[int]:
    """Return the kinds of some roles that are still to be set, widest first."""
    found = [k for k, n in wanted.items() if n and work.kinds[k].role in roles]
    return sorted(found, key=lambda k: (roles.index(work.kinds[k].role), -work.kinds[k].spread, work.kinds[k].name))


def _odd(squares: list[int]) -> list[int]:
    return squares if len(squares) % 2 or not squares else squares[:-1]


def _open_ground(work: Work) -> FloatArray:
    """Return (c,) how bare each square is: 0 under leaves to 1 at ``BARE`` metres from the nearest."""
    points = work.cells.points
    bare = np.full(len(points), float(BARE))
    spots = [(k, at) for k, at in work.fixed] + [(k, points[c]) for k, _, c, _ in work.placed]
    for k, at in spots:
        if work.kinds[k].role not in ("tree", "bulb"):
            near = work.cells.near(at, work.kinds[k].spread / 2 + float(BARE))
            gap = np.hypot(*(points[near] - at).T) - work.kinds[k].spread / 2
            bare[near] = np.minimum(bare[near], np.maximum(gap, 0.0))
    return bare / float(BARE)


def _why_not(work: Work, k: int) -> str:
    """Return why a kind finds no place, by what is in the way."""
    kind, cells = work.kinds[k], work.cells
    need = kind.edge_need(work.settings)
    widest = float(cells.edge.max())
    if need > widest:
        return f"its stem needs {need:.2f} m to the bed's edge; the widest bed has {widest:.2f} m"
    if not work.room.legal[k].any():
        return "walls, windows, paths or services leave no place far enough away in any bed"
    return "no room is left beside the other plants"


def _why_no_support(work: Work, k: int) -> str:
    kind = work.kinds[k]
    supports = work.surroundings.supports
    if not supports:
        return "there is no support for it to grow on"
    if kind.species is not None and not any(start.holds(s, kind.species) for s in supports):
        heavy = ", and it is heavy" if kind.species.weight == "heavy" else ""
        ways = " or ".join(kind.species.climbs_by) or "training"
        return f"no support suits its way of growing ({ways}{heavy})"
    return f"no free bed ground lies within {float(start.FOOT_REACH):.2f} m of a support that suits it"
