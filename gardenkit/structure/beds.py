"""Beds: what paths, paving, lawn and walls leave, with names that stay, and where in each a small tree or only a narrow
plant fits.
"""

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.findings import Finding
from gardenkit.geometry import medial, plane
from gardenkit.geometry.medial import Circle
from gardenkit.geometry.plane import Line, Point, Region, Shape
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.structure import Bed, Structure

REACH = Figure(0.75, "m", HOUSE)  # as far as most people can weed from where they stand (0.6 m kneeling comfortably)
STRAY = Figure(
    1.5, "m", HOUSE
)  # a bed keeps its name when its marked point is this near to it (a path moved over the point)
LOOKED = (4.0, 12.0, math.inf)  # m round a bed in which a place to stand is looked for, in turn. House values.
NEXT = 0.1  # m round a bed: what borders on it. House value.
SEAM = 2e-6  # m: a gap between two paths or a path and paving that is rounding, no bed; numerical choice
POCKETS = 3  # spaces for tree crowns looked for in each bed; house value
LEAST_POCKET = Figure(0.45, "m", HOUSE)  # radius of the smallest space for a tree crown worth showing: a shrub of 0.9 m


@attrs.frozen(eq=False, kw_only=True)
class BedShape:
    """One bed as it is left: its ground and its measures.

    ``area`` m2; ``perimeter`` and ``edging`` (the part along paths and areas) m; ``depth`` m across at its widest;
    ``reach`` m from the nearest path, paving or lawn to the deepest point ``deepest`` (infinite with nowhere to stand);
    ``pockets`` the largest circles, largest first.
    """

    name: str
    region: Region
    area: float
    perimeter: float
    edging: float
    depth: float
    reach: float
    deepest: Point
    pockets: tuple[Circle, ...]
    named: bool = True
    soil: str = ""
    edging_kind: str = ""
    purpose: str = ""

    @property
    def at(self) -> Point:
        """A point inside, for a label."""
        return self.pockets[0].at if self.pockets else plane.centre(self.region)


@attrs.frozen(eq=False, kw_only=True)
class Division:
    """The whole ground shared out: beds, hardscape, and ``scraps`` too small to be beds. Together they are the ground
    exactly.
    """

    beds: tuple[BedShape, ...]
    hardscape: Region
    scraps: Region
    findings: tuple[Finding, ...] = ()

    def bed(self, name: str) -> BedShape | None:
        """Return the bed of that name, or None."""
        return next((b for b in self.beds if b.name == name), None)


@attrs.frozen(eq=False, kw_only=True)
class _Piece:
    bed: Bed | None
    region: Region


def beds(
    ground: Region, taken: Iterable[Region], structure: Structure, *, standing: Region | None = None
) -> tuple[BedShape, ...]:
    """Return the beds that ``taken`` ground (paths, areas, obstacles) leaves of ``ground``; see ``divided``."""
    return divided(ground, taken, structure, standing=standing).beds


def divided(
    ground: Region, taken: Iterable[Region], structure: Structure, *, standing: Region | None = None
) -> Division:
    """Return ``ground`` shared out into beds, hardscape and scraps.

    A bed with an outline is that outline less what is taken. The rest is split along ``structure.cuts``; each piece has
    the name of the bed whose point lies in it, or a number. Pieces under ``structure.least_bed`` m2 are scraps unless
    named. ``standing`` is where one can stand to work, if not everything taken.
    """
    hard = plane.intersection(plane.union(taken), ground)
    left = plane.difference(ground, hard)
    drawn, free = _drawn(left, structure.beds)
    loose = [piece for part in _apart(free) for piece in _cut(part, structure.cuts)]
    pieces, notes = _named(loose, [b for b in structure.beds if not b.outline])
    kept = [p for p in (*drawn, *pieces) if p.bed is not None or plane.area(p.region) >= structure.least_bed]
    scraps = plane.union(
        p.region for p in (*drawn, *pieces) if p.bed is None and plane.area(p.region) < structure.least_bed
    )
    rim, place = medial.rim(hard), hard if standing is None else standing
    shapes = tuple(_measured(piece, name, rim, place) for piece, name in _numbered(kept))
    return Division(beds=shapes, hardscape=hard, scraps=scraps, findings=(*notes, *_reach_findings(shapes)))


def spine_of(bed: BedShape, *, step: float = 0.1) -> medial.Spine:
    """Return the middle line of a bed's largest piece with its widths, to see wide places for trees and narrow ones for
    upright plants.
    """
    return medial.spine(plane.pieces(bed.region)[0], step=step)


def _drawn(left: Region, wanted: Sequence[Bed]) -> tuple[list[_Piece], Region]:
    """Return the beds that the designer drew, each less those before it, and the ground they leave."""
    found: list[_Piece] = []
    shapes: list[Region] = []
    boxes = np.empty((0, 4))
    for bed in (one for one in wanted if one.outline):
        shape = _shape(bed)
        region = plane.intersection(_near(left, shape, NEXT), shape)
        left_x, low, right_x, high = box = np.array(plane.bounds(shape))
        beside = (boxes[:, 0] <= right_x) & (boxes[:, 2] >= left_x) & (boxes[:, 1] <= high) & (boxes[:, 3] >= low)
        for k in np.flatnonzero(beside).tolist():
            if plane.meet(region, shapes[k]):
                region = plane.difference(region, shapes[k])
        found.append(_Piece(bed=bed, region=region))
        shapes.append(shape)
        boxes = np.vstack((boxes, box))
    return found, plane.difference(left, plane.union(shapes)) if shapes else left


@lru_cache(maxsize=512)
def _shape(bed: Bed) -> Region:
    return plane.region(plane.outline(bed.outline, where=f'bed "{bed.name}"'))


def _apart(free: Region) -> list[Region]:
    """Return the pieces of leftover ground, largest first; what hangs together by a seam alone is apart."""
    found = list[Region]()
    for piece in plane.pieces(free, least=0.0):
        parts = plane.pieces(plane.without_slivers(piece, SEAM), least=0.0)
        found += parts if len(parts) > 1 else [piece]
    return sorted(found, key=lambda piece: -plane.area(piece))


def _cut(part: Region, cuts: Sequence[Line]) -> list[Region]:
    pieces: list[Region] = [part]
    for cut in cuts:
        pieces = [p for piece in pieces for p in medial.cut_along(piece, cut)]
    return pieces


def _named(loose: Sequence[Region], wanted: Sequence[Bed]) -> tuple[list[_Piece], list[Finding]]:
    """Give each bed the piece that holds its point, else the nearest one still free; say which beds found none."""
    owner: dict[int, Bed] = {}
    notes, waiting = list[Finding](), list[Bed]()
    for bed in wanted:
        here = next((i for i, piece in enumerate(loose) if plane.contains(piece, bed.at)), None)
        if here is None:
            waiting.append(bed)
        elif here in owner:
            what = f'is now one piece with bed "{owner[here].name}"; draw a cut between them or remove one name'
            notes.append(Finding(where=f'bed "{bed.name}"', what=what, seriousness="caution", at=bed.at, topic="bed"))
        else:
            owner[here] = bed
    for bed in waiting:
        spot = plane.point(bed.at)
        free = [(plane.distance(p, spot), -plane.area(p), i) for i, p in enumerate(loose) if i not in owner]
        best = min((f for f in free if f[0] <= STRAY), default=None)
        if best is None:
            what = "has no ground left: paths, paving or other beds cover it; move its point or what covers it"
            notes.append(Finding(where=f'bed "{bed.name}"', what=what, seriousness="warning", at=bed.at, topic="bed"))
        else:
            owner[best[2]] = bed
    return [_Piece(bed=owner.get(i), region=piece) for i, piece in enumerate(loose)], notes


def _numbered(pieces: Sequence[_Piece]) -> list[tuple[_Piece, str]]:
    """Return pieces with names; unnamed ones are numbered from the top left, skipping numbers already used as names."""
    used = {p.bed.name for p in pieces if p.bed is not None}
    order = sorted((p for p in pieces if p.bed is None), key=lambda p: _place_order(p.region))
    numbers = (f"Bed {n}" for n in range(1, len(pieces) + len(used) + 2) if f"Bed {n}" not in used)
    named = [(p, p.bed.name) for p in pieces if p.bed is not None]
    return named + [(p, name) for p, name in zip(order, numbers, strict=False)]


def _place_order(region: Region) -> tuple[float, float]:
    x, y = plane.centre(region)
    return (-round(y, 1), round(x, 1))


def _measured(piece: _Piece, name: str, rim: plane.Shape, standing: Region) -> BedShape:
    region, bed = piece.region, piece.bed
    pockets: tuple[Circle, ...] = ()
    deepest, reach = plane.centre(region), 0.0
    if plane.area(region) >= plane.SLIVER:
        pockets = _pockets(region)
        for far in LOOKED:
            deepest, reach = _depth(region, _near(standing, region, far) if far < math.inf else standing)
            if reach <= far:
                break
    return BedShape(
        name=name,
        region=region,
        area=plane.area(region),
        perimeter=plane.perimeter(region),
        edging=_edging(region, _near(rim, region, NEXT)),
        depth=2 * pockets[0].radius if pockets else 0.0,
        reach=reach,
        deepest=deepest,
        pockets=pockets,
        named=bed is not None,
        soil=bed.soil if bed else "",
        edging_kind=bed.edging if bed else "",
        purpose=bed.purpose if bed else "",
    )


def _near(shape: Shape, region: Region, far: float) -> Shape:
    """Return the part of a shape in the box ``far`` metres round a region; nothing is near a bed that has no ground."""
    if region.is_empty:
        return region
    left, low, right, high = plane.bounds(region)
    return plane.part_in_box(shape, (left - far, low - far), (right + far, high + far))


@lru_cache(maxsize=512)
def _depth(region: Region, standing: Shape) -> tuple[Point, float]:
    """Return where a bed is furthest from where one can stand, and how far; remembered as its crowns are."""
    return medial.depth_from(region, standing, np.asarray([c.at for c in _pockets(region)]).reshape(-1, 2))


@lru_cache(maxsize=512)
def _edging(region: Region, rim: Shape) -> float:
    return medial.shared_edge(region, rim)


@lru_cache(maxsize=512)
def _pockets(region: Region) -> tuple[Circle, ...]:
    """Return the spaces for tree crowns of a bed; remembered, as most beds stay the same while one path moves."""
    return medial.circles(region, most=POCKETS, least=LEAST_POCKET)


def _reach_findings(shapes: Sequence[BedShape]) -> list[Finding]:
    """Return one finding for all beds too deep to reach across, deepest first: eight alike sentences would hide the
    rest.
    """
    far = sorted((bed for bed in shapes if bed.reach > REACH), key=lambda bed: -bed.reach)
    if not far:
        return []
    depths = ", ".join(
        f"{bed.name} (nowhere to stand)" if math.isinf(bed.reach) else f"{bed.name} {bed.reach:.2f} m" for bed in far
    )
    one = f'bed "{far[0].name}"' if len(far) == 1 else f"{len(far)} beds"
    what = f"the far side is too far from a path to reach over: {depths}; lay a few stones in to weed and prune from"
    return [Finding(where=one, what=what, why=REACH.cited(), source=HOUSE, at=far[0].deepest, topic="reach")]
