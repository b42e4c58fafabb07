"""Stepping stones chosen from a pallet you have measured: which stone goes where, and where the pallet runs out."""

from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import outlines
from gardenkit.geometry.outlines import Shapes
from gardenkit.geometry.plane import FloatArray
from gardenkit.structure.laying import Laying
from gardenkit.structure.route import Route
from gardenkit.structure.stepping import EDGE
from gardenkit.structure.stone_rows import Row, finished, unit_outlines
from gardenkit.structure.structure import Flight, StoneChoice

ROUNDS = 16  # most times the gaps are measured and the stones moved; numerical choice
REACHED = 1e-3  # m: a gap this near its aim is left alone; numerical choice


def from_pallet(route: Route, choice: StoneChoice, flights: Sequence[Flight] = ()) -> Laying:
    """Return stepping stones of the pallet's own sizes, in an order drawn by the seed, the gaps measured and evened
    out.

    The gaps start in the middle of the range and share what is left over at the end, inside the range. A stone wider
    than the path is turned the other way, and left out if that does not help; none lie in ``flights`` of
    steps. Raises GardenError for a pallet without a stone that fits.
    """
    sizes, left_out = _sizes(route, choice)
    middle = (choice.gap_low + choice.gap_high) / 2
    reach = np.cumsum(sizes[:, 1] + middle) - middle
    fits = max(1, int((reach <= route.length - 0.5 * middle).sum()))
    used = sizes[:fits]
    spare = route.length - float(used[:, 1].sum())
    gap = float(
        np.clip(spare / fits, choice.gap_low + REACHED, max(choice.gap_high, choice.gap_low + REACHED) - REACHED)
    )
    short = spare - fits * gap
    rows, shapes = _placed(route, choice, used, gap)
    pairs = np.column_stack((np.arange(fits - 1), np.arange(1, fits))).astype(np.intp)
    laid = finished(rows, shapes, pairs, choice, route, flights)
    notes = list(laid.findings)
    where = f'path "{route.name}"'
    if fits == len(sizes) and short > choice.gap_high:
        what = f"the pallet runs out after {fits} stones, {short:.2f} m before the end; measure more stones"
        notes.append(Finding(where=where, what=what, seriousness="warning", topic="stone"))
    if left_out:
        what = f"{left_out} stones of the pallet are wider than the path both ways and are left out"
        notes.append(Finding(where=where, what=what, topic="stone"))
    return attrs.evolve(laid, findings=tuple(notes))


def _sizes(route: Route, choice: StoneChoice) -> tuple[FloatArray, int]:
    """Return sizes (n, 2) over and along the path in the order they are laid, and how many stones cannot be used."""
    usable = route.width - 2 * EDGE
    every = [(stone.across, stone.along) for stone in choice.pallet for _ in range(stone.count)]
    if any(min(pair) <= 0 for pair in every):
        raise GardenError(f'the pallet for path "{route.name}" holds a stone without a size; give both sides above 0')
    turned = [(a, b) if a <= usable else (b, a) for a, b in every]
    good = [pair for pair in turned if pair[0] <= usable]
    if not good:
        raise GardenError(
            f'the pallet for path "{route.name}" has no stone that fits a path {route.width:.2f} m wide; '
            f"measure others or widen it"
        )
    order = np.random.default_rng(choice.seed).permutation(len(good))
    return np.asarray(good, dtype=float)[order], len(every) - len(good)


def _placed(route: Route, choice: StoneChoice, sizes: FloatArray, gap: float) -> tuple[Row, Shapes]:
    """Return the stones moved along the path until every measured gap is ``gap``."""
    count = len(sizes)
    dice = np.random.default_rng(choice.seed).random((count, 8))
    s = gap / 2 + np.cumsum(sizes[:, 1] + gap) - gap - sizes[:, 1] / 2
    half = np.column_stack((sizes[:, 1] / 2, sizes[:, 1] / 2, sizes[:, 0] / 2, sizes[:, 0] / 2))
    zero = np.zeros(count)
    rows = Row(
        number=np.arange(count),
        place=np.arange(count),
        row=np.zeros(count, dtype=int),
        at=route.curve.beside(s, zero),
        forward=route.curve.direction(s),
        turn=zero,
        unit=unit_outlines(dice),
        half=half,
        held=np.zeros(count, dtype=bool),
    )
    shapes = outlines.from_corners(rows.corners())
    for _ in range(ROUNDS):
        short = gap - outlines.gaps(shapes[:-1], shapes[1:])
        if float(np.abs(short).max(initial=0.0)) < REACHED:
            break
        s = s + np.concatenate(([0.0], np.cumsum(short)))
        rows.at, rows.forward = route.curve.beside(s, zero), route.curve.direction(s)
        shapes = outlines.from_corners(rows.corners())
    return rows, shapes
