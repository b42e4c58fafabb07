"""A field of irregular flagstones with even joints, fitted to the bends of the path."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import outlines
from gardenkit.geometry.outlines import Pairs, Shapes
from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.flights import on_a_flight
from gardenkit.structure.laying import HAIR, Gap, Laying, Stone, lifting_findings, named_gaps, weight_of
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Flight, StoneChoice

SCATTER = 0.27  # how far a stone's middle is moved at random, share of its size; house value
WIDEST_JOINT = Figure(2.0, "times the set joint", HOUSE)  # a joint wider than this needs a packing piece
LEAST = Figure(0.01, "m2", HOUSE)  # smaller flags rock and work loose; they are left as joint


def flagstones(route: Route, choice: StoneChoice, flights: Sequence[Flight] = ()) -> Laying:
    """Return a field of flagstones over the path: cells about ``choice.across`` in size, ``choice.joint`` apart,
    corners eased.

    The cells are those nearest to scattered middles (Voronoi) in length along and distance beside the middle line, then
    laid onto the curve and shrunk by half the joint, so that no joint is narrower than set; none lie in ``flights`` of
    steps. Same seed, same stones. Raises GardenError when the joint leaves no stone.
    """
    if not 0 <= choice.joint < 0.5 * choice.across:
        raise GardenError(
            f'the joint of path "{route.name}" is {choice.joint:.3f} m between stones '
            f"of {choice.across:.2f} m; give a joint of 0 to half the stone"
        )
    flat = _cells(route, choice)
    flat = flat[~_on_steps(flat, route, flights)]
    if not len(flat):  # all of the path is steps
        return Laying()
    laid = outlines.shrunk(outlines.along_curve(flat, route.curve), choice.joint / 2)
    shapes = outlines.rounded(laid)
    out = np.flatnonzero(~outlines.inside(shapes, route.region))
    for k in out:
        shapes[k] = outlines.cut_to(shapes[k], route.region)
    shapes, flat, pairs, clear, lost = _kept(shapes, flat, WIDEST_JOINT * choice.joint)
    stones = _stones(shapes, outlines.sizes(flat) - choice.joint, choice)
    found = named_gaps(stones, pairs.tolist(), clear)
    return Laying(stones=stones, gaps=found, findings=tuple(_notes(route, stones, found, lost, choice)))


def _kept(shapes: Shapes, flat: Shapes, within: float) -> tuple[Shapes, Shapes, Pairs, FloatArray, int]:
    """Return the stones worth laying, their cells, the pairs within reach with their distances, and how many were lost.

    Stones too small are left out, and those that overlap another: in a bend too tight for the path's width some fold.
    """
    kept = outlines.areas(shapes) >= LEAST
    pairs, clear = outlines.close_pairs(shapes, within)
    for a, b in pairs[clear <= 0].tolist():
        if kept[a] and kept[b] and outlines.overlap(shapes[a], shapes[b]) > 1e-9:
            kept[b] = False
    both = kept[pairs].all(axis=1)
    renumbered = np.cumsum(kept) - 1
    return shapes[kept], flat[kept], renumbered[pairs[both]].astype(np.intp), clear[both], int((~kept).sum())


def _cells(route: Route, choice: StoneChoice) -> Shapes:
    rows = max(1, round(route.width / choice.across))
    columns = max(1, round(route.length / choice.across))
    deep, long = route.width / rows, route.length / columns
    number, side = np.divmod(np.arange(rows * columns), rows)
    dice = np.random.default_rng(choice.seed).random((len(number), 2)) - 0.5
    s = (number + 0.5 + np.where(side % 2 == 1, 0.25, -0.25) * (rows > 1) + 2 * SCATTER * dice[:, 0]) * long
    offset = (side + 0.5 + 2 * SCATTER * dice[:, 1]) * deep - route.width / 2
    seeds: FloatArray = np.column_stack((np.clip(s, 0.05 * long, route.length - 0.05 * long), offset))
    return outlines.cells(seeds, (0.0, -route.width / 2), (route.length, route.width / 2))


def _on_steps(flat: Shapes, route: Route, flights: Sequence[Flight]) -> NDArray[np.bool_]:
    along = outlines.centroids(flat)[:, 0]
    return on_a_flight(flights, route, route.curve.at(along), outlines.sizes(flat)[:, 0] / 2)


def _stones(shapes: Shapes, sizes: FloatArray, choice: StoneChoice) -> tuple[Stone, ...]:
    surface, middles = outlines.areas(shapes), outlines.centroids(shapes)
    rows = zip(outlines.to_outlines(shapes), middles.tolist(), sizes.tolist(), surface.tolist(), strict=True)
    return tuple(
        Stone(
            number=k,
            outline=line,
            at=(x, y),
            turn=0.0,
            across=across,
            along=along,
            area=area,
            weight=weight_of(area, choice),
        )
        for k, (line, (x, y), (along, across), area) in enumerate(rows)
    )


def _notes(
    route: Route, stones: Sequence[Stone], found: Sequence[Gap], lost: int, choice: StoneChoice
) -> Iterator[Finding]:
    where = f'path "{route.name}"'
    for g in found:
        if g.clear < choice.joint - HAIR:
            what = f"the joint is {g.clear * 1000:.0f} mm, {choice.joint * 1000:.0f} mm was set"
            spot, at = f"{where}, stones {g.first + 1} and {g.second + 1}", stones[g.first].at
            yield Finding(where=spot, what=what, source=HOUSE, seriousness="warning", at=at, topic="gap")
    if lost:
        small = f"{lost} flags under {LEAST:.2f} m² or folded in a tight bend are left as joint"
        what = f"{small}; shuffle the stones, or change their size"
        yield Finding(where=where, what=what, source=HOUSE, topic="stone")
    yield from lifting_findings(where, stones)
