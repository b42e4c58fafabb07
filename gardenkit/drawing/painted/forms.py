"""Where the leaves of each habit are: clouds of leaves on crowns, mounds, blades, fronds, swords and bare twigs.

Every cloud is for a plant of half spread 1 and a height of ``tall``; a plant is the cloud turned and sized. All are our
own; the same cloud every time (fixed seeds).
"""

import itertools
import math
from functools import lru_cache

import attrs
import numpy as np
from numpy.typing import ArrayLike

from gardenkit.drawing.silhouettes import PROFILES
from gardenkit.geometry.plane import FloatArray

FULL = 0.985  # share of the leaves within a plant's size as given: single ones do not make its outline. House value.
UP = np.array([0.0, 0.0, 1.0])
LIMBS = 11  # on a trunk. House value.
FORKS = np.array([0.3, 0.55, 0.8, 1.0])  # where along a branch others leave it. House values.
LEAST_TWIG = 0.06  # half spreads long. House value.
FANNED = 0.75  # how far these turn from its way. House value.
SLENDER = 3.0  # half spreads tall: from here on a crown is one column, its clumps run into each other. House value.
RISES = {"columnar": 2.6, "upright": 1.5, "vase": 1.3, "conical": 0.15, "spreading": 0.35, "weeping": 0.8}  # of limbs


@attrs.frozen(kw_only=True, eq=False)
class Cloud:
    """Leaves (n): ``at`` (n, 3), unit vectors ``along`` and ``facing``, their ``size`` against the usual, ``depth`` 0
    in the dark inside to 1 outside, ``shade`` a random share 0 to 1 for small differences of colour.
    """

    at: FloatArray
    along: FloatArray
    facing: FloatArray
    size: FloatArray
    depth: FloatArray
    shade: FloatArray


def unit(vectors: FloatArray) -> FloatArray:
    """Return vectors (n, 3) made one long."""
    return np.asarray(vectors / np.maximum(np.linalg.norm(vectors, axis=1, keepdims=True), 1e-9))


def cross(one: ArrayLike, other: ArrayLike) -> FloatArray:
    """Return the cross products of vectors (n, 3), row by row, or with one vector: NumPy's own takes a tenth of a
    millisecond to find out which axis is meant, a thousand times a picture.
    """
    (a, b, c), (d, e, f) = np.asarray(one).T, np.asarray(other).T
    return np.stack((b * f - c * e, c * d - a * f, a * e - b * d), axis=-1)


@lru_cache(maxsize=160)
def crown(form: str, tall: float, count: int, clumps: int, *, base: float = 0.0, droop: float = 0.3) -> Cloud:
    """Return leaves on clumps that fill a form between ``base`` and ``tall``; ``droop`` 0 stiff to 1 hanging."""
    rng = np.random.default_rng(len(form) * 31 + count)
    profile = np.array(PROFILES.get(form, PROFILES["round"]))
    levels = np.linspace(0.04, 0.97, 60)
    wide = np.interp(levels, profile[:, 0], profile[:, 1])
    column = tall - base > SLENDER
    if column:
        level = np.interp((np.arange(clumps) + rng.uniform(0, 1, clumps)) / clumps, wide.cumsum() / wide.sum(), levels)
    else:
        level = rng.choice(levels, clumps, p=wide / wide.sum()) + rng.uniform(-0.01, 0.01, clumps)
    reach = np.interp(level, profile[:, 0], profile[:, 1])
    turn = np.arange(clumps) * 2.399963 + rng.uniform(0, 0.5, clumps)
    size = float(np.clip(1.35 / math.sqrt(clumps) * math.sqrt(max(tall - base, 0.3)), 0.1, 0.55)) * rng.uniform(
        0.75, 1.25, clumps
    )
    far = np.maximum(reach - 0.75 * size, 0.0) * np.sqrt(rng.uniform(0.0, 1.0, clumps))
    middle = np.column_stack((far * np.cos(turn), far * np.sin(turn), base + level * (tall - base)))
    middle[:, 2] = np.clip(middle[:, 2], base + 0.5 * size, np.maximum(tall - 0.7 * size, base + 0.3 * size))
    owner = rng.integers(0, clumps, count)
    way = unit(rng.normal(size=(count, 3)) + 0.35 * UP)
    shell = rng.uniform(0.7, 1.0, count) ** 0.5
    at = middle[owner] + way * (size[owner] * shell)[:, None] * (1.0, 1.0, 1.6 if column else 0.8)
    at[:, 2] = np.clip(at[:, 2], 0.0, tall)
    out = at - (0.0, 0.0, base + 0.4 * (tall - base))
    limit = np.interp(np.clip((at[:, 2] - base) / (tall - base), 0, 1), profile[:, 0], profile[:, 1]) + 0.1
    off = np.hypot(at[:, 0], at[:, 1])
    at[:, :2] *= np.minimum(1.0, limit / np.maximum(off, 1e-6))[:, None]
    at[:, 2] = np.minimum(at[:, 2] * tall / np.quantile(at[:, 2], FULL), tall)
    at[:, :2] /= max(1.0, np.quantile(np.hypot(at[:, 0], at[:, 1]), FULL))
    facing = unit(0.75 * way + 0.35 * unit(out) + 0.25 * UP + rng.normal(scale=0.3, size=(count, 3)))
    inside = np.clip(np.hypot(at[:, 0], at[:, 1]) / np.maximum(limit, 0.1), 0, 1)
    high = np.clip((at[:, 2] - base) / (tall - base), 0, 1)
    depth = np.clip(0.5 + 0.5 * way[:, 2], 0, 1) * 0.62 + 0.38 * np.maximum(inside**2, high**3)
    along = unit(cross(facing, rng.normal(size=(count, 3))) - droop * UP)
    return Cloud(
        at=at,
        along=along,
        facing=facing,
        size=rng.uniform(0.75, 1.2, count),
        depth=depth,
        shade=rng.uniform(0, 1, count),
    )


@lru_cache(maxsize=60)
def weeping(tall: float, count: int, *, base: float = 0.0) -> Cloud:
    """Return leaves on strands that arch from the top and hang to near the ground."""
    rng = np.random.default_rng(7)
    strands = max(30, count // 40)
    turn, reach = rng.uniform(0, 2 * math.pi, strands), np.sqrt(rng.uniform(0.1, 1.0, strands))
    low = rng.uniform(0.12, 0.5, strands) * tall
    owner, t = rng.integers(0, strands, count), rng.uniform(0, 1, count) ** 0.8
    top = tall * (1 - 0.18 * reach[owner] ** 2)
    rise = np.minimum(t / 0.3, 1.0)
    z = np.where(
        t < 0.3,
        tall * 0.7 + (top - tall * 0.7) * rise,
        top - (top - low[owner]) * (np.maximum(t - 0.3, 0.0) / 0.7) ** 1.5,
    )
    r = reach[owner] * np.where(t < 0.3, 0.85 * rise, 0.85 + 0.15 * (t - 0.3) / 0.7)
    at = np.column_stack((r * np.cos(turn[owner]), r * np.sin(turn[owner]), np.maximum(z, base * 0.3)))
    at += rng.normal(scale=0.03, size=at.shape)
    out = np.column_stack((np.cos(turn[owner]), np.sin(turn[owner]), np.full(count, 0.35)))
    return Cloud(
        at=at,
        along=unit(rng.normal(scale=0.25, size=at.shape) - UP),
        facing=unit(out + rng.normal(scale=0.35, size=at.shape)),
        size=rng.uniform(0.8, 1.2, count),
        depth=np.clip(0.25 + 0.75 * r, 0, 1),
        shade=rng.uniform(0, 1, count),
    )


@lru_cache(maxsize=120)
def blades(tall: float, count: int, *, arch: float, pieces: int = 6, stiff: bool = False) -> Cloud:
    """Return ``count`` blades from one foot, each in pieces; ``arch`` 0 upright to 1 bending over to the ground."""
    rng = np.random.default_rng(count)
    turn, lean = rng.uniform(0, 2 * math.pi, count), np.sqrt(rng.uniform(0.0, 1.0, count))
    long = tall * rng.uniform(0.72, 1.0, count)
    t = (np.arange(pieces + 1) / pieces)[None, :]
    reach = lean[:, None] * (0.1 + 0.9 * t ** (1.0 if stiff else 1.6))
    fall = arch * (lean**1.5)[:, None] * t**2.2
    z = long[:, None] * (t ** (1.0 if stiff else 0.8)) * (1 - 0.75 * fall)
    path = np.stack((reach * np.cos(turn)[:, None], reach * np.sin(turn)[:, None], z), axis=2)
    a, b = path[:, :-1].reshape(-1, 3), path[:, 1:].reshape(-1, 3)
    out = np.column_stack((np.cos(turn), np.sin(turn), np.full(count, 0.9))).repeat(pieces, axis=0)
    along = b - a
    shade = rng.uniform(0, 1, count).repeat(pieces)
    order = rng.permutation(count)[:, None] * pieces + np.arange(pieces)
    order = order.ravel()
    thin = np.tile(np.linspace(1.0, 0.3, pieces), count)
    return Cloud(
        at=((a + b) / 2)[order],
        along=(along * 0.56)[order],
        facing=unit(out + 0.3 * rng.normal(size=out.shape))[order],
        size=thin[order],
        depth=np.clip(0.3 + 0.8 * np.tile(np.linspace(0, 1, pieces), count), 0, 1)[order],
        shade=shade[order],
    )


@lru_cache(maxsize=60)
def rosette(tall: float, count: int, *, lift: float) -> Cloud:
    """Return large leaves on stalks from one foot, arching out in rings: hostas, heucheras, bergenias."""
    rng = np.random.default_rng(count + 5)
    share = (np.arange(count) + 0.5) / count
    turn = np.arange(count) * 2.399963
    reach = 0.15 + 0.75 * np.sqrt(share)
    z = tall * (lift + (0.92 - lift) * (1 - share**1.4)) * rng.uniform(0.85, 1.0, count)
    at = np.column_stack((reach * np.cos(turn), reach * np.sin(turn), z))
    out = np.column_stack((np.cos(turn), np.sin(turn), np.zeros(count)))
    facing = unit(0.5 * out * reach[:, None] + UP + 0.22 * rng.normal(size=at.shape))
    along = unit(out - (0.25 + 0.5 * share)[:, None] * UP)
    return Cloud(
        at=at,
        along=along,
        facing=facing,
        size=rng.uniform(0.8, 1.15, count),
        depth=np.clip(0.45 + 0.55 * z / tall, 0, 1),
        shade=rng.uniform(0, 1, count),
    )


@attrs.frozen(kw_only=True, eq=False)
class Wood:
    """Sticks from a to b (n, 3) of a thickness (n) against the trunk's, thick first; ``tips`` (m, 3) of the twigs."""

    a: FloatArray
    b: FloatArray
    thick: FloatArray
    tips: FloatArray


@lru_cache(maxsize=120)
def wood(form: str, tall: float, base: float, stems: int, orders: int) -> Wood:
    """Return trunk and branches within a form: ``stems`` from the foot, limbs on them, forking on ``orders`` times."""
    rng = np.random.default_rng(stems * 17 + orders)
    profile = np.array(PROFILES.get(form, PROFILES["round"]))
    starts, ends, width = _stems(tall, base, stems, rng)
    held = _tapered(starts, ends, width, bare=max(base, 0.15 * tall) / float(ends[0, 2]))
    count = LIMBS if stems == 1 else 3
    owner = np.repeat(np.arange(stems), count)
    share = np.tile(np.linspace(0.02, 0.97, count), stems) if stems == 1 else np.tile((0.5, 0.75, 1.0), stems)
    if stems == 1:
        foot = np.array([[0.0, 0.0, max(base, 0.1 * tall)]])
        start = foot + share[:, None] * (ends[:1] - foot)
        turn = np.arange(count) * 2.399963
        outward = np.column_stack((np.cos(turn), np.sin(turn), np.zeros(count)))
    else:
        start = starts[owner] + share[:, None] * (ends - starts)[owner]
        outward = unit(ends[owner] * (1.0, 1.0, 0.0) + 0.5 * rng.normal(size=(len(owner), 3)) * (1.0, 1.0, 0.0))
    rise = RISES.get(form, 0.75) + 0.5 * share
    way = unit(outward + rise[:, None] * UP)
    width = width[owner] * (0.62 - 0.3 * share)
    long = _room(start, way, profile, tall, base) * rng.uniform(0.75, 0.95, len(start))
    for order in range(orders):
        if order:  # what would grow out of the form stays short
            long = np.minimum(long, 0.9 * _room(start, way, profile, tall, base))
        pieces, ends, ways = _bent(start, way, long, hang=form == "weeping" and order > 0)
        for k, (a, b) in enumerate(pieces):
            held.append((a, b, width * (1.0, 0.75)[k]))
        if order == orders - 1:
            break
        where = np.tile(FORKS, len(start))
        owner = np.repeat(np.arange(len(start)), len(FORKS))
        first, second = pieces
        on_first = (where < 0.5)[:, None]
        start = np.where(
            on_first,
            first[0][owner] + 2 * where[:, None] * (first[1] - first[0])[owner],
            second[0][owner] + (2 * where[:, None] - 1) * (second[1] - second[0])[owner],
        )
        way = unit(ways[owner] + FANNED * unit(rng.normal(size=(len(owner), 3))) + 0.25 * UP)
        long = long[owner] * rng.uniform(0.42, 0.66, len(owner)) * (1.15 - 0.4 * where)
        width = width[owner] * 0.6 * (1.1 - 0.4 * where)
    a, b, thick = (np.concatenate([part[k] for part in held]) for k in range(3))
    grown = (tall - base) / max(float(max(a[:, 2].max(), b[:, 2].max())) - base, 1e-6)
    for spots in (a, b, ends):  # bare or in leaf, a plant is as tall
        spots[:, 2] = np.clip(base + (spots[:, 2] - base) * np.where(spots[:, 2] > base, grown, 1.0), 0.0, tall)
    return Wood(a=a, b=b, thick=thick, tips=ends)


def _stems(tall: float, base: float, stems: int, rng: np.random.Generator) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return where stems start, where they end, and how thick they are: one up the middle, or several leaning out."""
    if stems == 1:
        return np.zeros((1, 3)), np.array([[0.03, -0.02, base + 0.8 * (tall - base)]]), np.ones(1)
    turn = np.arange(stems) * 2.399963
    feet = np.column_stack((0.05 * np.cos(turn), 0.05 * np.sin(turn), np.zeros(stems)))
    out = rng.uniform(0.18, 0.42, stems)
    tops = np.column_stack((out * np.cos(turn), out * np.sin(turn), tall * rng.uniform(0.4, 0.62, stems)))
    return feet, tops, np.full(stems, 1.0 / math.sqrt(stems))


def _tapered(
    starts: FloatArray, ends: FloatArray, width: FloatArray, *, bare: float
) -> list[tuple[FloatArray, FloatArray, FloatArray]]:
    """Return stems in pieces that grow thinner from a share of their length on."""
    cuts = np.concatenate(([0.0], np.linspace(min(bare, 0.9), 1.0, 7)))
    way = ends - starts
    return [
        (starts + a * way, starts + b * way, width * (1.0 - 0.62 * max(0.0, a - cuts[1]) / (1.0 - cuts[1])))
        for a, b in itertools.pairwise(cuts.tolist())
    ]


def _room(start: FloatArray, way: FloatArray, profile: FloatArray, tall: float, base: float) -> FloatArray:
    """Return how far one can go from places (n, 3) in directions (n, 3) before the edge of a form."""
    steps = np.linspace(0.05, 1.6, 32)
    spots = start[:, None] + steps[None, :, None] * way[:, None] * max(1.0, 0.5 * tall)
    level = (spots[..., 2] - base) / max(tall - base, 1e-6)
    wide = np.interp(level, profile[:, 0], profile[:, 1], right=0.0)
    inside = np.hypot(spots[..., 0], spots[..., 1]) < np.maximum(wide, 0.12)
    last = np.where(inside.all(axis=1), len(steps) - 1, np.argmin(inside, axis=1))
    return np.asarray(np.maximum(steps[last] * max(1.0, 0.5 * tall), LEAST_TWIG))


def _bent(
    start: FloatArray, way: FloatArray, long: FloatArray, *, hang: bool
) -> tuple[list[tuple[FloatArray, FloatArray]], FloatArray, FloatArray]:
    """Return branches as two pieces each, the outer turned up to the light (down where they hang), with their ends."""
    middle = start + 0.5 * long[:, None] * way
    turned = unit(way + (-1.2 if hang else 0.35) * UP)
    end = middle + 0.5 * long[:, None] * turned
    return [(start, middle), (middle, end)], end, turned
