"""The shapes that placed things are drawn, shaded and seen by: a few plain bodies each, in the thing's own metres.

A thing's own x runs to its right and y ahead, the way it faces, from its middle; heights are above the ground it stands
on. Plan, elevation, view and shade all read these bodies, so that no two drawings of a thing can disagree.
"""

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

import attrs

from gardenkit.geometry.plane import Outline
from gardenkit.structure.structure import Thing

LAP, LINING = 0.16, 0.03  # m: boards of a shed's walls, how thick its walls are. House values.
JOINT = 0.012  # m that shows between two boards of a wall. House value.
FACE = 0.008  # m that boards stand before the dark of their joints: no thicker, or their upper edges catch light
ROUND = 18  # corners that a round body is drawn with. House value.


@attrs.frozen(kw_only=True, cache_hash=True)
class Form:
    """One convex body: from the outline ``foot`` at height ``low`` to ``head`` (as many corners) at ``high``.

    ``material`` is a name that ``drawing`` has colours for; ``boards`` is of how many boards its top is made;
    ``buried`` is the face that lies in the ground, by the number of its first corner.
    """

    foot: Outline
    head: Outline
    low: float
    high: float
    material: str
    boards: int = 0
    buried: int | None = None


Forms = Callable[[Thing], tuple[Form, ...]]


def box(
    x: tuple[float, float],
    y: tuple[float, float],
    z: tuple[float, float],
    material: str,
    *,
    boards: int = 0,
    taper: float = 1.0,
) -> Form:
    """Return a block between two values of x, y and z; ``taper`` is the share of its foot that its head has."""
    foot = ((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]))
    head = _shrunk(foot, taper)
    return Form(foot=foot, head=head, low=z[0], high=z[1], material=material, boards=boards)


def drum(
    at: tuple[float, float],
    radius: float,
    z: tuple[float, float],
    material: str,
    *,
    head: float | None = None,
    across: float | None = None,
    sides: int = ROUND,
) -> Form:
    """Return a round body: ``radius`` at its foot along x (``across`` along y), ``head`` at its top along x."""
    ratio = 1.0 if across is None else across / radius
    turns = [2 * math.pi * k / sides for k in range(sides)]
    foot = tuple((at[0] + radius * math.cos(t), at[1] + ratio * radius * math.sin(t)) for t in turns)
    top = radius if head is None else head
    upper = tuple((at[0] + top * math.cos(t), at[1] + ratio * top * math.sin(t)) for t in turns)
    return Form(foot=foot, head=upper, low=z[0], high=z[1], material=material)


def legs(x: float, y: float, high: float, material: str, *, thick: float = 0.06) -> tuple[Form, ...]:
    """Return four legs with their outer faces at x and y from the middle."""
    return tuple(
        box(_span(u * (x - thick / 2), thick), _span(v * (y - thick / 2), thick), (0.0, high), material)
        for u in (-1, 1)
        for v in (-1, 1)
    )


def walls(thing: Thing, thick: float, material: str, *, low: float = 0.0, course: float = math.inf) -> tuple[Form, ...]:
    """Return four walls round the outline of a thing, from ``low`` to its height; with a ``course`` they are of boards
    about so high, with a dark joint between.
    """
    high = thing.height - low
    count = max(1, round(high / course)) if high > course else 1
    edges = [low + high * k / count for k in range(count + 1)]
    if count == 1:
        return _walls(thing, 0.0, thick, (low, thing.height), material)
    found = [*_walls(thing, FACE, thick - FACE, (low, edges[-2] + JOINT), f"dark {material}")]
    for foot, head in pairwise(edges[:-1]):
        found += _walls(thing, 0.0, FACE, (foot, head - JOINT), material)
    return (*found, *_walls(thing, 0.0, thick, (edges[-2], thing.height), material))


def slats(
    x: tuple[float, float], y: tuple[float, float], high: float, wide: float, *, gap: float, material: str = "timber"
) -> tuple[Form, ...]:
    """Return a wall of level boards about so ``wide``, from the ground to ``high``, with a ``gap`` between two."""
    count = max(1, round((high + gap) / (wide + gap)))
    each = (high + gap) / count
    return tuple(box(x, y, (k * each, (k + 1) * each - gap), material) for k in range(count))


def moved(forms: Sequence[Form], by: tuple[float, float], *, turn: float = 0.0) -> tuple[Form, ...]:
    """Return bodies turned clockwise by degrees about the middle and then moved."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def put(outline: Outline) -> Outline:
        return tuple((by[0] + x * c + y * s, by[1] - x * s + y * c) for x, y in outline)

    return tuple(attrs.evolve(f, foot=put(f.foot), head=put(f.head)) for f in forms)


def placed(forms: Sequence[Form], thing: Thing) -> tuple[Form, ...]:
    """Return bodies where their thing stands on the plan, turned the way it faces."""
    return moved(forms, thing.at, turn=thing.facing)


# ---- helpers


def _walls(thing: Thing, off: float, thick: float, z: tuple[float, float], material: str) -> tuple[Form, ...]:
    """Return four walls whose outer faces lie ``off`` metres within the outline of a thing."""
    x, y = thing.width / 2 - off, thing.depth / 2 - off
    return (
        box((-x, x), (-y, -y + thick), z, material),
        box((-x, x), (y - thick, y), z, material),
        box((-x, -x + thick), (-y + thick, y - thick), z, material),
        box((x - thick, x), (-y + thick, y - thick), z, material),
    )


def _span(middle: float, wide: float) -> tuple[float, float]:
    return (middle - wide / 2, middle + wide / 2)


def _shrunk(outline: Outline, share: float) -> Outline:
    x, y = (sum(p[i] for p in outline) / len(outline) for i in (0, 1))
    return tuple((x + share * (a - x), y + share * (b - y)) for a, b in outline)
