"""The crops of a garden on its beds: where their rows run, how many plants they take, what the rules say of them."""

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

import attrs
import numpy as np

from gardenkit.findings import Finding, Remedy, Step
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point, Region
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.crops import (
    LEAST_BREAK,
    NO_WALKING,
    CropKind,
    crop_kind,
    cycle,
    in_a_row,
    sown_in,
    too_soon,
)
from gardenkit.planting.planting import Crop
from gardenkit.planting.standing import Planted
from gardenkit.planting.suitability import suits
from gardenkit.project.advice import spot_at
from gardenkit.project.sunlight import SunMap
from gardenkit.site.frost import growing_season_days
from gardenkit.sources import HOUSE
from gardenkit.structure.beds import BedShape
from gardenkit.structure.kinds import purpose_of
from gardenkit.units import counted

if TYPE_CHECKING:
    from gardenkit.project import Project
    from gardenkit.project.layout import Layout

TOPIC = "crops"


@attrs.frozen(kw_only=True)
class CropRows:
    """One crop on its bed: the ``lines`` of its rows and a place for every plant; ``apart`` in the row and ``between``
    rows as they came out, metres.
    """

    crop: Crop
    kind: CropKind
    lines: tuple[Line, ...]
    plants: tuple[Point, ...]
    apart: float
    between: float

    @property
    def length(self) -> float:
        """All rows together, metres."""
        return math.fsum(math.dist(a, b) for line in self.lines for a, b in pairwise(line))


def crop_rows(project: "Project", worked: "Layout", year: int) -> tuple[CropRows, ...]:
    """Return the crops that stand ``year`` years after the first season, each in rows along its bed's longer way.

    The crops of a bed share its width by their shares, in their order; one whose bed is gone is left out.
    """
    beds = {bed.name: bed for bed in worked.beds}
    found: list[CropRows] = []
    of_bed: dict[str, list[Crop]] = {}
    for crop in sown_in(project.planting.crops, year):
        of_bed.setdefault(crop.bed, []).append(crop)
    for name, crops in of_bed.items():
        if name in beds and beds[name].area > 0:
            found += _rows(beds[name].region, tuple(crops), beds[name].depth <= NO_WALKING)
    return tuple(found)


@lru_cache(maxsize=256)
def _rows(region: Region, crops: tuple[Crop, ...], close: bool) -> tuple[CropRows, ...]:
    """Return the rows of the crops of one bed; remembered, as most beds stay the same between edits."""
    heading = math.radians(plane.long_way(region))
    along, across = np.array([math.sin(heading), math.cos(heading)]), np.array([math.cos(heading), -math.sin(heading)])
    corners = np.array([p for ring in plane.rings(region) for p in ring])
    low, high = (corners @ across).min(), (corners @ across).max()
    ends = (corners @ along).min() - 1.0, (corners @ along).max() + 1.0
    whole, at, found = max(1.0, math.fsum(crop.share for crop in crops)), low, list[CropRows]()
    for crop in crops:
        kind, wide = crop_kind(crop.species), (high - low) * crop.share / whole
        between = kind.close if close else kind.rows
        count = max(1, math.floor(wide / between + 1e-6))
        middles = [at + wide * (k + 0.5) / count for k in range(count)]
        lines = tuple(line for v in middles for line in _within(region, v * across, along, ends))
        apart = kind.close if close else kind.in_row
        plants = tuple(spot for line in lines for spot in _spots(line, apart))
        found.append(CropRows(crop=crop, kind=kind, lines=lines, plants=plants, apart=apart, between=wide / count))
        at += wide
    return tuple(found)


def crop_findings(project: "Project", worked: "Layout", catalogue: Catalogue) -> tuple[Finding, ...]:
    """Return what to mind about the crops: beds gone or meant for something else, too full, families back too soon,
    seasons too short.
    """
    crops, beds = project.planting.crops, {bed.name: bed for bed in worked.beds}
    return (
        *_places(crops, beds.values()),
        *_fullness(crops),
        *_rotation(project, catalogue),
        *_season(project, catalogue),
    )


def purpose_findings(worked: "Layout", planted: Sequence[Planted]) -> tuple[Finding, ...]:
    """Return a caution for every bed that is for something else and holds plants to look at."""
    here = worked.plants_by_bed([plant for plant, _ in planted])
    kinds = {plant.number: species for plant, species in planted}
    found = []
    for bed in worked.beds:
        if purpose_of(bed.purpose).arranged:
            continue
        odd = [kinds[p.number] for p in here[bed.name] if not _belongs(kinds[p.number].role, kinds[p.number].layer)]
        if odd and bed.purpose != "cut flowers":
            names = ", ".join(dict.fromkeys(species.common for species in odd))
            what = (
                f"is for {bed.purpose}, and {counted(len(odd), 'plant')} in it to look at: {names}; move them, or say "
                "that the bed is to look at"
            )
            found.append(_said(f'bed "{bed.name}"', what, HOUSE, at=bed.at))
    return tuple(found)


def sun_findings(project: "Project", worked: "Layout", catalogue: Catalogue, sun: SunMap | None) -> tuple[Finding, ...]:
    """Return a caution for every bed that is shadier than a crop of it takes; nothing where the sun is not known."""
    beds, found = {bed.name: bed for bed in worked.beds}, list[Finding]()
    for crop in dict.fromkeys(attrs.evolve(c, year=0, share=1.0) for c in project.planting.crops):
        if sun is None or crop.bed not in beds:
            continue
        species, at = catalogue[crop.species], beds[crop.bed].at
        judged = [one for one in suits(species, spot_at(project, at, now=sun)).against if one.topic == "sun"]
        found += [_said(f'bed "{crop.bed}"', f"{species.common}: {one.text}", HOUSE, at=at) for one in judged]
    return tuple(found)


# ---- helpers


def _within(region: Region, off: np.ndarray, along: np.ndarray, ends: tuple[float, float]) -> tuple[Line, ...]:
    a, b = (off + end * along for end in ends)
    way = plane.line(((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))))
    return plane.lines_within(way, region)


def _spots(line: Line, apart: float) -> tuple[Point, ...]:
    (ax, ay), (bx, by) = line[0], line[-1]
    count = in_a_row(math.dist(line[0], line[-1]), apart)
    shares = [(k + 0.5) / count for k in range(count)]
    return tuple((ax + s * (bx - ax), ay + s * (by - ay)) for s in shares)


def _belongs(role: str, layer: str) -> bool:
    return role == "kitchen" or layer in ("wall fruit", "annual")


def _said(where: str, what: str, source: str, *, why: str = "", at: Point | None = None) -> Finding:
    return Finding(where=where, what=what, why=why, source=source, seriousness="caution", at=at, topic=TOPIC)


def _places(crops: Iterable[Crop], beds: Iterable[BedShape]) -> list[Finding]:
    known, found = {bed.name: bed for bed in beds}, list[Finding]()
    for name in dict.fromkeys(crop.bed for crop in crops):
        bed = known.get(name)
        if bed is None:
            what = f'crops are planned for "{name}", which is no bed any more; choose another bed for them'
            found.append(_said("crops", what, HOUSE))
        elif not purpose_of(bed.purpose).crops:
            what = (
                f"crops are planned in it, and it is for {bed.purpose or 'looking at'}; say that it is for vegetables"
            )
            found.append(_said(f'bed "{name}"', what, HOUSE, at=bed.at))
    return found


def _fullness(crops: Sequence[Crop]) -> list[Finding]:
    full: dict[tuple[str, int], float] = {}
    for crop in crops:
        full[crop.bed, crop.year] = full.get((crop.bed, crop.year), 0.0) + crop.share
    return [
        _said(f'bed "{bed}"', f"its crops of year {year + 1} take {share:.0%} of it; they are drawn closer", HOUSE)
        for (bed, year), share in full.items()
        if share > 1.0 + 1e-6
    ]


def _rotation(project: "Project", catalogue: Catalogue) -> list[Finding]:
    crops = project.planting.crops
    beds = {crop.bed for crop in crops if crop.year == 0}
    turn = Remedy(
        words="move the families on to the next bed each year",
        steps=(Step(edit="planting.rotate_crops", arguments=()),),
    )
    found = []
    for soon in too_soon(crops, catalogue):
        names = dict.fromkeys(catalogue[name].common for name in (soon.before, soon.after))
        after = "every year" if soon.years == 1 else f"after {soon.years} years"
        what = (
            f"the {soon.family} ({', '.join(names)}) come back to it {after}; give them another bed for "
            f"{LEAST_BREAK:.0f} years"
        )
        one = _said(
            f'bed "{soon.bed}"', what, LEAST_BREAK.source, why="pests and diseases of a family live on in the soil"
        )
        can = cycle(crops) == 1 and len(beds) >= LEAST_BREAK
        found.append(attrs.evolve(one, remedy=turn if can else None))
    return found


def _season(project: "Project", catalogue: Catalogue) -> list[Finding]:
    climate = project.site.climate
    if climate.last_frost is None or climate.first_frost is None:
        return []
    days, found = growing_season_days(climate.last_frost, climate.first_frost), list[Finding]()
    for name in dict.fromkeys(crop.species for crop in project.planting.crops):
        kind = crop_kind(name)
        if kind.stays or kind.frost != "last" or kind.first < 0:
            continue
        left = days - round(7 * kind.first)
        if kind.days[0] > left:
            what = (
                f"{catalogue[name].common} takes {kind.days[0]} days or more, and {left} are left before frost; choose "
                "an early sort, or cover it"
            )
            found.append(_said("crops", what, kind.source))
    return found
