"""What stands of a fence, wall or hedge: gates, doors and windows in it leave it open.

Everything that draws, counts or is shaded by a fence reads its standing pieces here, so that a fence typed as one line
has its gate open on plan, in views, in sight lines, in the sun map and in quantities alike.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import attrs

from gardenkit.geometry.plane import Line, Point
from gardenkit.site.openings import Opening
from gardenkit.site.site import Fence, Site

BESIDE = (
    0.3  # m an opening's ends may lie off a fence's line and still be in it (thickness, a tape reading). House value.
)
LEAST = 0.02  # m: a shorter piece between gate and corner is not drawn. House value.


def standing_fences(site: Site) -> tuple[Fence, ...]:
    """Return the site's fences, walls and hedges as they stand: each cut at the openings in it, under its own name."""
    found: list[Fence] = []
    for fence in site.fences:
        within = openings_in(fence.name, site.openings, elsewhere=_others(site, fence))
        found += [attrs.evolve(fence, line=piece) for piece in standing_pieces(fence.line, within)]
        found += [
            attrs.evolve(fence, line=(o.start, o.end), height=min(o.sill, fence.height))
            for o in within
            if o.kind == "window" and o.sill > LEAST and _cut(fence.line, o) is not None
        ]
    return tuple(found)


def openings_in(name: str, openings: Iterable[Opening], *, elsewhere: Iterable[str] = ()) -> tuple[Opening, ...]:
    """Return the openings that may be in a fence: those said to be in it, and gates not said to be ``elsewhere``."""
    others = set(elsewhere)
    return tuple(o for o in openings if o.on == name or (o.kind == "gate" and o.on not in others))


def standing_pieces(line: Line, openings: Iterable[Opening]) -> tuple[Line, ...]:
    """Return the pieces of a line that stand, in its order: the line less every opening that lies along it."""
    gaps = sorted(gap for o in openings if (gap := _cut(line, o)) is not None)
    if not gaps:
        return (line,)
    whole = math.fsum(math.dist(a, b) for a, b in pairwise(line))
    pieces, start = list[Line](), 0.0
    for low, high in [*gaps, (whole, whole)]:
        if low - start > LEAST:
            pieces.append(_stretch(line, start, low))
        start = max(start, high)
    return tuple(pieces)


def _others(site: Site, fence: Fence) -> set[str]:
    """Return the names of everything else that an opening can be in."""
    return {b.name for b in site.buildings} | {f.name for f in site.fences if f.name != fence.name}


def _cut(line: Sequence[Point], opening: Opening) -> tuple[float, float] | None:
    """Return from where to where an opening lies along a line, metres from its start; None when it lies beside it."""
    (first, off), (last, far) = _station(line, opening.start), _station(line, opening.end)
    low, high = sorted((first, last))
    along = high - low > 0.7 * opening.width  # an opening across the line is not in it
    return (low, high) if max(off, far) <= BESIDE and along and opening.width > 0 else None


def _station(line: Sequence[Point], at: Point) -> tuple[float, float]:
    """Return how far along a line its nearest place to a point is, and how far off the point lies."""
    best, before = (0.0, math.inf), 0.0
    for a, b in pairwise(line):
        long = math.dist(a, b)
        if long < 1e-9:
            continue
        share = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / long**2
        share = min(1.0, max(0.0, share))
        off = math.dist(at, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        if off < best[1] - 1e-9:
            best = (before + share * long, off)
        before += long
    return best


def _stretch(line: Sequence[Point], start: float, end: float) -> Line:
    """Return the part of a line between two distances from its start, with the corners between them."""
    points, before = list[Point](), 0.0
    for a, b in pairwise(line):
        long = math.dist(a, b)
        for s in (max(start, before), min(end, before + long)):
            if before - 1e-9 <= s <= before + long + 1e-9 and long > 1e-9 and start <= before + long and end >= before:
                share = (s - before) / long
                points.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        before += long
    return tuple(p for k, p in enumerate(points) if k == 0 or math.dist(p, points[k - 1]) > 1e-6)
