"""Stones set in rows: how their outlines are drawn, and how a finished row is checked and cut to the path."""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding
from gardenkit.geometry import outlines
from gardenkit.geometry.outlines import Pairs, Shapes
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.sources import HOUSE
from gardenkit.structure.flights import on_a_flight
from gardenkit.structure.laying import (
    HAIR,
    PACE_SLACK,
    SMALLEST,
    Laying,
    Stone,
    gap_findings,
    lifting_findings,
    middle_steps,
    named_gaps,
    weight_of,
)
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Flight, StoneChoice

CORNERS = 16  # corners of a stone's outline; house value, enough to look cut by hand
SQUARENESS = 3.2  # 2 is an oval, large a rectangle; house value: a split flag with its corners knocked off
WOBBLE = 0.045  # unevenness of the outline, share of its radius; house value


@attrs.define(eq=False, kw_only=True)
class Row:
    """Stones while they are being fitted: places (n, 2), forward unit vectors (n, 2), unit outlines (n, m, 2), half
    sizes (n, 4). ``place`` is the same for two that lie side by side in place of one.
    """

    number: np.ndarray
    place: np.ndarray
    row: np.ndarray
    at: FloatArray
    forward: FloatArray
    turn: FloatArray
    unit: FloatArray
    half: FloatArray  # front, back, left, right in metres
    held: np.ndarray

    def corners(self) -> FloatArray:
        """Return the outlines (n, m, 2) as they lie now."""
        u, v = self.unit[..., 0], self.unit[..., 1]
        h = self.half[:, :, None]
        along = np.where(u > 0, u * h[:, 0], u * h[:, 1])
        aside = np.where(v > 0, v * h[:, 2], v * h[:, 3])
        f = self.forward[:, None, :]
        left = np.stack((-f[..., 1], f[..., 0]), axis=-1)
        return np.asarray(self.at[:, None, :] + along[..., None] * f + aside[..., None] * left)


def unit_outlines(dice: FloatArray) -> FloatArray:
    """Return outlines (n, CORNERS, 2) that just touch -1 and 1 both ways, uneven by random numbers (n, 8)."""
    angle = (np.arange(CORNERS) + 0.5) * 2 * math.pi / CORNERS
    c, s = np.cos(angle), np.sin(angle)
    radius = (np.abs(c) ** SQUARENESS + np.abs(s) ** SQUARENESS) ** (-1 / SQUARENESS)
    waves = np.stack([np.cos(k * angle[None] + 2 * math.pi * dice[:, k - 2, None]) for k in (2, 3, 4, 5)], axis=0)
    size = 2 * dice[:, 4:8].T[..., None] - 1
    radius = radius[None] * (1 + WOBBLE * (size * waves).sum(axis=0))
    flat = np.stack((radius * c, radius * s), axis=-1)
    low, high = flat.min(axis=1, keepdims=True), flat.max(axis=1, keepdims=True)
    return np.asarray(np.where(flat > 0, flat / high, -flat / low))


def finished(
    stones: Row, shapes: Shapes, pairs: Pairs, choice: StoneChoice, route: Route, flights: Sequence[Flight] = ()
) -> Laying:
    """Return the laying: stones still off the path are cut to it, a stone that would overlap another is left out, and
    so is every stone that would lie in one of the ``flights`` of steps.
    """
    where = f'path "{route.name}"'
    stepped = set(np.flatnonzero(on_a_flight(flights, route, stones.at, stones.half[:, :2].max(axis=1))).tolist())
    notes = [_under_steps(where, stones, k) for k in sorted(stepped) if stones.held[k]]
    for k in set(np.flatnonzero(~outlines.inside(shapes, route.region)).tolist()) - stepped:
        at = (float(stones.at[k, 0]), float(stones.at[k, 1]))
        if stones.held[k]:
            what = "is pinned and lies partly off the path"
            notes.append(
                Finding(where=f"{where}, stone {k + 1}", what=what, seriousness="caution", at=at, topic="stone")
            )
        else:
            shapes[k] = outlines.cut_to(shapes[k], route.region)
    left_out = _left_out(stones, shapes) - stepped
    for k in left_out:
        at = (float(stones.at[k, 0]), float(stones.at[k, 1]))
        what = "has no room and is left out; move the pinned stone, or widen the bend"
        notes.append(Finding(where=f"{where}, stone {k + 1}", what=what, seriousness="warning", at=at, topic="stone"))
    kept = [k for k in range(len(shapes)) if k not in left_out | stepped]
    made = _stones(stones, shapes, kept, choice)
    place = {k: position for position, k in enumerate(kept)}
    both = [
        (place[a], place[b]) for a, b in _bridged(pairs, left_out, stones.place).tolist() if a in place and b in place
    ]
    index = np.asarray(both, dtype=np.intp).reshape(-1, 2)
    final = np.asarray([shapes[k] for k in kept], dtype=object)
    found = named_gaps(made, both, outlines.gaps(final[index[:, 0]], final[index[:, 1]]))
    notes += gap_findings(where, made, found, choice.gap_low, choice.gap_high)
    in_row = [(a, b) for a, b in both if stones.row[kept[a]] == stones.row[kept[b]]]
    steps = middle_steps(_spots(made, stones.place[kept]), in_row)
    notes += _pace_findings(where, made, in_row, steps, choice)
    notes += lifting_findings(where, made)
    return Laying(stones=made, gaps=found, pace=float(steps.mean()) if len(steps) else 0.0, findings=tuple(notes))


def _under_steps(where: str, stones: Row, number: int) -> Finding:
    at = (float(stones.at[number, 0]), float(stones.at[number, 1]))
    what = "is pinned where steps are now, and is left out; unpin it, or move the steps"
    return Finding(where=f"{where}, stone {number + 1}", what=what, seriousness="caution", at=at, topic="stone")


def _left_out(stones: Row, shapes: Shapes) -> set[int]:
    """Return the stones to leave out: vanished ones, and of two that overlap the one not held (else the later)."""
    gone = set(np.flatnonzero(outlines.areas(shapes) < 1e-3).tolist())
    pairs, _ = outlines.close_pairs(shapes, 0.0)
    for a, b in pairs.tolist():
        if a in gone or b in gone:
            continue
        gone.add(a if stones.held[b] and not stones.held[a] else b)
    return gone


def _spots(made: Sequence[Stone], place: NDArray[np.intp]) -> list[Point]:
    """Return where one steps for each stone: on its middle, for two side by side in one place between their middles."""
    together: dict[int, list[Point]] = {}
    for stone, k in zip(made, place.tolist(), strict=True):
        together.setdefault(k, []).append(stone.at)
    middles = {k: (sum(x for x, _ in at) / len(at), sum(y for _, y in at) / len(at)) for k, at in together.items()}
    return [middles[k] for k in place.tolist()]


def _bridged(pairs: Pairs, gone: set[int], place: NDArray[np.intp]) -> Pairs:
    """Return the pairs with a left-out stone replaced by the one after it, so that the gap it leaves is judged; where
    the other of two side by side still lies, there is none.
    """
    if not gone:
        return pairs
    stand = {int(place[k]) for k in range(len(place)) if k not in gone}
    pairs = np.asarray([p for p in pairs if not any(int(k) in gone and int(place[k]) in stand for k in p)]).reshape(
        -1, 2
    )
    after = {int(a): int(b) for a, b in pairs[::-1]}
    result = []
    for a, b in pairs.tolist():
        onward = b
        while onward in gone and onward in after:
            onward = after[onward]
        result.append((a, onward))
    return np.asarray(result, dtype=np.intp)


def _stones(stones: Row, shapes: Shapes, kept: Sequence[int], choice: StoneChoice) -> tuple[Stone, ...]:
    surface = outlines.areas(shapes)
    lines = outlines.to_outlines(shapes[list(kept)])
    f = stones.forward
    left = np.column_stack((-f[:, 1], f[:, 0]))
    front, back, one, other = stones.half.T
    middle = stones.at + ((front - back) / 2)[:, None] * f + ((one - other) / 2)[:, None] * left
    middle = np.where(stones.held[:, None], stones.at, middle)
    return tuple(
        Stone(
            number=int(stones.number[k]),
            outline=line,
            at=(float(middle[k, 0]), float(middle[k, 1])),
            turn=float(stones.turn[k]),
            across=float(one[k] + other[k]),
            along=float(front[k] + back[k]),
            area=float(surface[k]),
            weight=float(weight_of(surface[k], choice)),
            held=bool(stones.held[k]),
        )
        for k, line in zip(kept, lines, strict=True)
    )


def _pace_findings(
    where: str, made: Sequence[Stone], pairs: Sequence[tuple[int, int]], steps: FloatArray, choice: StoneChoice
) -> list[Finding]:
    result = []
    for (a, b), step in zip(pairs, steps, strict=True):
        if abs(step - choice.pace) > PACE_SLACK * choice.pace + HAIR:
            what = f"the step is {step:.2f} m middle to middle, the pace you set is {choice.pace:.2f} m"
            spot = f"{where}, stones {made[a].number + 1} and {made[b].number + 1}"
            result.append(Finding(where=spot, what=what, source=HOUSE, at=made[b].at, topic="pace"))
    small = [s.number + 1 for s in made if min(s.along, s.across) < SMALLEST]
    if small:
        what = f"stones {', '.join(map(str, small))} are under {SMALLEST:.2f} m, too small to step on safely"
        result.append(Finding(where=where, what=what, source=HOUSE, seriousness="caution", topic="stone"))
    return result
