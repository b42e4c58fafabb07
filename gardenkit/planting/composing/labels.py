"""Which kind fills which drift: a search over the labels of some hundred drifts, every term with a plain name."""

import math
from collections.abc import Mapping, Sequence

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.colour import is_neutral, palette_fit
from gardenkit.planting.composing.drifts import Division
from gardenkit.planting.composing.given import Aims, Taste
from gardenkit.planting.composing.ground import Mask, Whole
from gardenkit.planting.composing.kinds import LOW_EDGE, Kind, sun_misfit
from gardenkit.planting.composing.register import OF_DRIFTS, weight
from gardenkit.planting.harmony import pair_harmony
from gardenkit.planting.season import flower_months
from gardenkit.planting.species import Species
from gardenkit.planting.winter import stands

NEVER = 50.0  # what may not be: high plants along the walk; counts in every term alike
# Labels tried for each drift. House value. Measured on the three examples, means of eight runs: of what forty times as
# many gain over one try a drift, 97.8, 98.2 and 97.1 % (96, 47 and 238 drifts).
MOVES_A_DRIFT = 600
HOT, COLD = 1.5, 0.01  # first and last temperature; numerical choice
# Shares by number that drifts aim at; edging and ground layer add ground covers afterwards. Set so that a mixed bed of
# perennials comes out as published: framework about 10 % and accompanying 30 to 35 % (Silbersommer leaflet, Bund
# deutscher Staudengärtner), ground covers about 50 %, fillers 5 to 10 % (Rainer and West, from memory).
ROLE_SHARE = {"framework": 0.09, "accompanying": 0.335, "ground cover": 0.39, "filler": 0.06, "scatter": 0.05}
OTHER_SHARE = 0.05  # of a role that has no published share. House value.
DILUTED = 1.1  # times the share asked for: bulbs, set beside the drifts, are neither. House value.
SIGNATURE = 1.8  # times the plants of any other kind of its role. House value.
STANDING = 1.6  # times the plants of a kind of its role of which nothing is seen in winter. House value.
LONGEST = 1.5  # m of common border that count; a longer one is seen no more. House value.
LOOSE = 0.02  # of the ground: a share small in any case may be missed by about this. House value.
ENOUGH = 0.04  # of the ground in flower counts as something in flower. House value.
MOST_HARMONY = 1.39  # the highest harmony published (Ou and Luo 2006)
TALLEST = 1.3  # m: from here up a kind belongs at the very back. House value.


@attrs.frozen(eq=False, kw_only=True)
class Labelled:
    """The kind of every drift (index into the kinds given) and what the search came to, term by term."""

    label: Whole
    terms: Mapping[str, float]


@attrs.frozen(eq=False, kw_only=True)
class Board:
    """Tables the search reads: ``own`` term -> (drifts, kinds); ``pair`` term -> (kinds, kinds), all weighted."""

    own: Mapping[str, FloatArray]
    pair: Mapping[str, FloatArray]
    steps: FloatArray  # (kinds, kinds): the first before the second
    area: FloatArray
    seen: FloatArray
    aim: FloatArray  # (kinds,) share of the ground
    number: FloatArray  # (kinds,) plants a square metre
    evergreen: FloatArray
    natives: FloatArray
    flowers: FloatArray  # (kinds, months asked for)
    aims: Aims
    best: Mapping[str, float]  # the least that terms which reward can come to: what they cost is counted from there
    whole: Mapping[str, float]  # weights of the terms of the whole


def labelled(
    division: Division,
    kinds: Sequence[Kind],
    signature: Sequence[Species],
    beats: Sequence[int],
    aims: Aims,
    taste: Taste,
    rng: np.random.Generator,
    *,
    rooms: Sequence[Mask] = (),
) -> Labelled:
    """Return the best labels found. ``signature`` kinds are wished for in the drifts ``beats``; ``rooms`` the squares
    on which each kind may stand (without any: all).
    """
    board = board_of(division, kinds, signature, beats, aims, taste, rooms)
    own = sum(board.own.values(), np.zeros((len(division.drifts), len(kinds))))
    label = np.asarray(own.argmin(axis=1), dtype=np.int64)
    if len(kinds) > 1 and len(label):
        label = _annealed(board, own, division, label, rng)
    return Labelled(label=label, terms=_terms(board, division, label))


def board_of(
    division: Division,
    kinds: Sequence[Kind],
    signature: Sequence[Species],
    beats: Sequence[int],
    aims: Aims,
    taste: Taste,
    rooms: Sequence[Mask] = (),
) -> Board:
    """Return the tables of all terms."""
    weighs = {name: weight(taste, name) for name in OF_DRIFTS}
    height = np.array([k.species.height for k in kinds])
    own = {
        name: np.zeros((len(division.drifts), len(kinds)))
        for name in ("sun", "dry", "room", "depth", "size", "style", "rhythm")
    }
    is_signature = np.array([k.species in signature for k in kinds])
    hours = np.array([0.0 if drift.hours is None else drift.hours for drift in division.drifts])
    if all(drift.hours is not None for drift in division.drifts):
        for k, kind in enumerate(kinds):
            own["sun"][:, k] = weighs["sun"] * np.minimum(sun_misfit(kind.species, hours), 3.0)
    dry = np.array([drift.dry for drift in division.drifts])
    thirsty = np.array([float(not kind.bears_dry) for kind in kinds])
    own["dry"] = weighs["dry"] * dry[:, None] * thirsty[None, :]
    for k, room in enumerate(rooms):
        lacking = [1 - float(room[drift.squares].mean()) for drift in division.drifts]
        own["room"][:, k] = weighs["room"] * np.array(lacking)
    style = [-weighs["style"] * 2 * aims.strict * palette_fit(k.species, aims.colours) for k in kinds]
    for d, drift in enumerate(division.drifts):
        high = np.abs(np.clip((height - 0.15) / (TALLEST - 0.15), 0, 1) - np.clip(drift.depth * 1.1 - 0.1, 0, 1))
        own["depth"][d] = weighs["depth"] * high
        if drift.is_edge:
            own["depth"][d] = np.where(height <= LOW_EDGE, 0.0, NEVER * (height / LOW_EDGE - 0.9))
        size = [abs(math.log(drift.area / max(k.drift_area, 0.05))) for k in kinds]
        own["size"][d] = weighs["size"] * np.minimum(size, 2.0)
        own["style"][d] = style
        own["rhythm"][d] = np.where(is_signature, -weighs["rhythm"] if d in set(beats) else 0.3, 0.0)
    count = np.array([1 / k.room_each for k in kinds])
    flowering = [set(flower_months(k.species, aims.shift_days)) for k in kinds]
    months = [[float(m in flowers) for m in aims.months] for flowers in flowering]
    return Board(
        own=own,
        pair=_pairs(kinds, weighs),
        steps=weighs["steps"] * np.maximum(height[:, None] - height[None, :] - 0.12, 0.0),
        area=np.array([drift.area for drift in division.drifts]),
        seen=np.array([drift.seen for drift in division.drifts]),
        aim=_aims_of(kinds, is_signature),
        number=count,
        evergreen=np.array([float(k.species.is_evergreen) for k in kinds]),
        natives=np.array([float(k.species.native_na) for k in kinds]),
        flowers=np.array(months).reshape(len(kinds), len(aims.months)),
        aims=aims,
        best=_best(division, style, len(set(beats)), weighs),
        whole={name: weighs[name] for name in ("shares", "months", "wants")},
    )


def harmony_of(division: Division, kinds: Sequence[Kind]) -> float:
    """Return the mean harmony of drifts side by side, by the metres they share; ``kinds`` one a drift."""
    known: dict[tuple[Kind, Kind], float] = {}
    total = metres = 0.0
    for kind, near in zip(kinds, division.beside, strict=False):
        for other, shared in near:
            pair = (kind, kinds[other])
            if pair not in known:
                known[pair] = _together(kind.species, kinds[other].species)
            total, metres = total + shared * known[pair], metres + shared
    return total / metres if metres else 0.0


# ---- helpers


def _best(division: Division, style: Sequence[float], beats: int, weighs: Mapping[str, float]) -> dict[str, float]:
    """Return what the rewarding terms come to where all is as it should be."""
    borders = sum(min(shared, LONGEST) for near in division.beside for _, shared in near) / 2
    return {
        "style": len(division.drifts) * min(style, default=0.0),
        "rhythm": -weighs["rhythm"] * beats,
        "harmony": -weighs["harmony"] * MOST_HARMONY * borders,
    }


def _pairs(kinds: Sequence[Kind], weighs: Mapping[str, float]) -> dict[str, FloatArray]:
    n = len(kinds)
    tables = {name: np.zeros((n, n)) for name in ("apart", "contrast", "harmony")}
    for i, a in enumerate(kinds):
        for j, b in enumerate(kinds):
            if i == j:
                tables["apart"][i, j] = weighs["apart"]
                continue
            alike = (a.species.texture == b.species.texture) + (a.species.form == b.species.form)
            genus = a.species.genus == b.species.genus
            tables["contrast"][i, j] = weighs["contrast"] * (0.5 * alike + genus)
            tables["harmony"][i, j] = -weighs["harmony"] * _together(a.species, b.species)
    return tables


def _together(a: Species, b: Species) -> float:
    """Return the harmony of two kinds side by side: flower with flower where they open together, else with leaf."""
    if _meet(a, b):
        pairs = [(x, y) for x in a.flower_colours for y in b.flower_colours if not (is_neutral(x) and is_neutral(y))]
        return float(np.mean([pair_harmony(x, y) for x, y in pairs])) if pairs else 0.3
    leaves = [(x, s.foliage_summer) for x, s in [(c, b) for c in a.flower_colours] + [(c, a) for c in b.flower_colours]]
    seen = [pair_harmony(x, y) for x, y in leaves if y]
    return 0.5 * float(np.mean(seen)) if seen else 0.0


def _meet(a: Species, b: Species) -> bool:
    """Return whether two kinds are in flower together, or within the half month by which years differ."""
    near = {(half + off - 1) % 24 + 1 for half in a.bloom_halves for off in (-1, 0, 1)}
    return bool(near & set(b.bloom_halves))


def _aims_of(kinds: Sequence[Kind], is_signature: np.ndarray) -> FloatArray:
    """Return the share of the ground each kind is to have, so that roles come out by number as ``ROLE_SHARE`` says."""
    roles, weight = [k.species.role for k in kinds], np.where(is_signature, SIGNATURE, 1.0)
    weight = weight * np.where([stands(k.species) for k in kinds], STANDING, 1.0)
    every = {role: sum(w for r, w in zip(roles, weight, strict=True) if r == role) for role in roles}
    number = np.array([ROLE_SHARE.get(r, OTHER_SHARE) * w / every[r] for r, w in zip(roles, weight, strict=True)])
    share = number * np.array([k.room_each for k in kinds])
    return np.asarray(share / share.sum()) if len(share) else share


def _whole(board: Board, areas: FloatArray) -> dict[str, float]:
    """Return the terms of the whole for the area of each kind (m2)."""
    every = max(float(areas.sum()), 1e-9)
    share = areas / every
    gaps = np.maximum(1 - (share @ board.flowers) / ENOUGH, 0.0)
    count = areas * board.number
    plants = max(float(count.sum()), 1e-9)
    short = [
        max(DILUTED * board.aims.evergreen - float(count @ board.evergreen) / plants, 0.0),
        max(DILUTED * board.aims.natives - float(count @ board.natives) / plants, 0.0),
    ]
    return {
        "shares": board.whole["shares"] * float(((share - board.aim) ** 2 / (board.aim + LOOSE)).sum()) / 4,
        "months": board.whole["months"] * float(gaps.sum()),
        "wants": board.whole["wants"] * sum(short),
    }


def _annealed(board: Board, own: FloatArray, division: Division, start: Whole, rng: np.random.Generator) -> Whole:
    """Return labels after trying another kind in one drift, and two drifts' kinds exchanged, in turn."""
    tally, near = _Tally(board, start), _Near(board, division)
    label, each, area = start.tolist(), own.tolist(), board.area.tolist()
    moves = max(int(MOVES_A_DRIFT * len(label)), 1)
    drifts, others = rng.integers(len(label), size=(2, moves)).tolist()
    chosen, chances = rng.integers(own.shape[1], size=moves).tolist(), np.log(rng.random(moves)).tolist()
    heat, cooling = HOT, (COLD / HOT) ** (1 / moves)
    for step in range(moves):
        heat *= cooling
        d, e = drifts[step], others[step]
        old, new = label[d], label[e] if step % 2 else chosen[step]
        change, moved = each[d][new] - each[d][old], area[d]
        if step % 2:
            change, moved = change + each[e][old] - each[e][new], area[d] - area[e]
        if new == old or change > NEVER / 2:
            continue
        change += near.change(label, d, new)
        label[d] = new
        if step % 2:
            change += near.change(label, e, old)
            label[e] = old
        if -(change + tally.tried(old, new, moved)) > heat * chances[step]:
            tally.take()
            continue
        label[d] = old
        if step % 2:
            label[e] = new
    return np.array(label, dtype=np.int64)


class _Near:
    """The terms of neighbours, in plain lists: some 50,000 labels are tried one by one."""

    def __init__(self, board: Board, division: Division) -> None:
        pair = sum(board.pair.values(), np.zeros_like(board.steps))
        before, behind = (pair + board.steps).tolist(), (pair + board.steps.T).tolist()
        self.sides = [
            [
                (other, min(shared, LONGEST), before if board.seen[d] < board.seen[other] else behind)
                for other, shared in near
            ]
            for d, near in enumerate(division.beside)
        ]

    def change(self, label: Sequence[int], d: int, new: int) -> float:
        """Return by how much the terms change when drift ``d`` takes another label."""
        old, total = label[d], 0.0
        for other, long, table in self.sides[d]:
            k = label[other]
            total += long * (table[new][k] - table[old][k])
        return total


class _Tally:
    """The terms of the whole, kept up to date as one drift after another takes another label."""

    def __init__(self, board: Board, label: Whole) -> None:
        areas = np.bincount(label, weights=board.area, minlength=len(board.aim)).astype(np.float64)
        self.every, self.weighs = max(float(areas.sum()), 1e-9), dict(board.whole)
        self.share, self.aim = (areas / self.every).tolist(), board.aim.tolist()
        self.strict = (1 / (board.aim + LOOSE)).tolist()
        self.flowers, self.number = board.flowers.tolist(), board.number.tolist()
        self.months = (areas / self.every @ board.flowers).tolist()
        self.kept = [  # for each want: what a kind counts, the share asked for
            (board.evergreen.tolist(), DILUTED * board.aims.evergreen),
            (board.natives.tolist(), DILUTED * board.aims.natives),
        ]
        count = areas * board.number
        self.plants = max(float(count.sum()), 1e-9)
        self.counts = [float(count @ board.evergreen), float(count @ board.natives)]
        self.rest = self._rest(self.months, self.counts, self.plants)
        self.next = (0, 0, 0.0, self.months, self.counts, self.plants, self.rest)

    def tried(self, old: int, new: int, area: float) -> float:
        """Return by how much the terms change when ``area`` goes from one kind to another; ``take`` keeps it."""
        part, was = area / self.every, self.number
        change = 0.0
        for kind, step in ((old, -part), (new, part)):
            off = self.share[kind] - self.aim[kind]
            change += self.strict[kind] * ((off + step) ** 2 - off * off)
        pairs = zip(self.months, self.flowers[new], self.flowers[old], strict=True)
        months = [m + part * (a - b) for m, a, b in pairs]
        more, less = area * was[new], area * was[old]
        counts = [c + more * has[new] - less * has[old] for c, (has, _) in zip(self.counts, self.kept, strict=True)]
        plants = max(self.plants + more - less, 1e-9)
        rest = self._rest(months, counts, plants)
        self.next = (old, new, part, months, counts, plants, rest)
        return self.weighs["shares"] / 4 * change + rest - self.rest

    def take(self) -> None:
        """Keep what was tried last."""
        old, new, part, self.months, self.counts, self.plants, self.rest = self.next
        self.share[old] -= part
        self.share[new] += part

    def _rest(self, months: Sequence[float], counts: Sequence[float], plants: float) -> float:
        gaps = sum([1 - m / ENOUGH for m in months if m < ENOUGH])
        short = sum([max(asked - c / plants, 0.0) for c, (_, asked) in zip(counts, self.kept, strict=True)])
        return self.weighs["months"] * gaps + self.weighs["wants"] * short


def _terms(board: Board, division: Division, label: Whole) -> dict[str, float]:
    """Return what every term costs, in the order of the register."""
    every = np.arange(len(label))
    terms = {name: float(table[every, label].sum()) for name, table in board.own.items()}
    terms |= dict.fromkeys((*board.pair, "steps"), 0.0)
    for d, near in enumerate(division.beside):
        for other, shared in near:
            long = min(shared, LONGEST)
            for name, table in board.pair.items():
                terms[name] += table[label[d], label[other]] * long / 2
            if board.seen[d] < board.seen[other]:
                terms["steps"] += long * board.steps[label[d], label[other]]
    areas = np.bincount(label, weights=board.area, minlength=len(board.aim)).astype(np.float64)
    terms |= _whole(board, areas)
    return {name: float(terms[name]) - board.best.get(name, 0.0) for name in OF_DRIFTS}
