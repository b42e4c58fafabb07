"""Everything the client copy says about a garden, worked out once: drawings, schedules, findings and their sources."""

from collections.abc import Iterable, Mapping
from pathlib import Path

import attrs
import numpy as np

from gardenkit.brief.pictures import thumbnail_url
from gardenkit.brief.wants import Judged
from gardenkit.drawing import charts
from gardenkit.findings import GardenError
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.planting.bloom import BloomRow
from gardenkit.planting.crops import LEAST_BREAK
from gardenkit.planting.species import NO_INVASIVE_LISTING, NOT_LISTED, Species
from gardenkit.progress import Tell, quiet
from gardenkit.project import Project
from gardenkit.project.sunlight import SunMap
from gardenkit.schedules import care, irrigation
from gardenkit.sources import MEMORY

PICTURE_SIDE = 520  # px: the longer side of a picture in the copy. House value.
PICTURES_FOLDER = "pictures"
CONFIRM = (
    "Plant figures marked \u201cfrom memory\u201d are ours and unchecked: confirm hardiness, size, toxicity and local "
    "listing with a local nursery or extension office before buying."
)
SAFETY = (
    "Nothing here is engineering, medical or legal advice. Where a figure touches safety (posts, steps, walls, water, "
    "electricity, toxic plants), local codes and licensed practice come first."
)


@attrs.frozen(kw_only=True)
class Pinned:
    """A picture from the wall as a data address that needs no network, with its words."""

    address: str
    words: str
    liked: str


@attrs.frozen(eq=False, kw_only=True)
class Contents:
    """One garden as its client copy tells it: its figures are the Garden's own; here they only get their words.

    ``sun`` is the sun map that is shown, None when it is left out or cannot be worked out yet.
    """

    garden: Garden
    sun: SunMap | None
    pictures: tuple[Pinned, ...]
    sun_by_bed: Mapping[str, tuple[float, ...]]
    sources: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def title(self) -> str:
        """What the copy is called: the garden, or the one area of its property that is told of."""
        return f"{self.project.name}: {self.garden.area}" if self.garden.area else self.project.name

    @property
    def wants(self) -> tuple[Judged, ...]:
        """Every want with its verdict; in the copy of one area those for it, then those for the whole property."""
        if not self.garden.area:
            return self.garden.wants
        own = tuple(one for one in self.garden.wants if one.want.area == self.garden.area)
        return (*own, *(one for one in self.garden.whole.wants if not one.want.area))

    @property
    def project(self) -> Project:
        """What the designer said."""
        return self.garden.project

    @property
    def kinds(self) -> tuple[Species, ...]:
        """The kinds of plants in the garden, in schedule order."""
        return tuple(line.species for line in self.garden.schedule)


def contents(garden: Garden, *, with_sun: bool = True, tell: Tell = quiet) -> Contents:
    """Return what the client copy holds; ``with_sun=False`` leaves the sun maps out."""
    tell(0.0, "working out the ground ...")
    sun = (
        garden.sun_if_known(progress=lambda share: tell(0.05 + 0.45 * share, "working out the sun ..."))
        if with_sun
        else None
    )
    tell(0.5, "going through the rules ...")
    return Contents(
        garden=garden,
        sun=sun,
        pictures=_pictures(garden),
        sun_by_bed=_sun_by_bed(garden, sun),
        sources=_sources(garden),
    )


def bloom_rows(rows: Iterable[BloomRow], keys: Mapping[str, str]) -> list[charts.BloomRow]:
    """Return the bloom calendar as its chart takes it."""
    return [
        charts.BloomRow(name=row.botanical, halves=row.halves, colours=row.colours, key=keys.get(row.botanical, ""))
        for row in rows
    ]


# ---- helpers


def _pictures(garden: Garden) -> tuple[Pinned, ...]:
    """Return the pictures that can be read; a name that leaves the pictures folder is passed over."""
    found = []
    for picture in garden.project.brief.pictures:
        path = garden.folder / PICTURES_FOLDER / Path(picture.file).name
        try:
            address = thumbnail_url(path, side=PICTURE_SIDE)
        except (GardenError, OSError):
            continue
        words = picture.caption or picture.file
        found.append(Pinned(address=address, words=words, liked=picture.liked))
    return tuple(found)


def _sun_by_bed(garden: Garden, sun: SunMap | None) -> dict[str, tuple[float, ...]]:
    """Return the mean hours of direct sun of every bed by month."""
    if sun is None:
        return {}
    found = {}
    points, hours = sun.grid.points, np.asarray(sun.hours).reshape(12, -1)
    for bed in garden.beds:
        (left, low, right, high), (x, y) = plane.bounds(bed.region), points.T
        near = np.flatnonzero((x >= left) & (x <= right) & (y >= low) & (y <= high))
        inside = near[plane.inside(bed.region, points[near])]
        if len(inside):
            found[bed.name] = tuple(float(h) for h in hours[:, inside].mean(axis=1))
    return found


def _kind_sources(kind: Species) -> tuple[str, ...]:
    return kind.size_source, kind.growing_source, kind.season_source, kind.caution_source


def _sources(garden: Garden) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return every source named in the copy, grouped by what it stands behind."""
    project, schedule = garden.project, garden.schedule
    climate = project.site.climate
    groups: dict[str, list[str]] = {
        "The place": [climate.zone_source, climate.frost_source, climate.weather_source, project.site.soil.source],
        "Plants": [source for line in schedule for source in _kind_sources(line.species)],
        "Materials": [line.source for line in garden.quantities],
        "Crops": [*(line.source for line in garden.crops), LEAST_BREAK.source] if garden.crops else [],
        "Prices": [line.source for line in garden.costs.lines],
        "Water": [irrigation.KOURIK, irrigation.FLOWS, irrigation.ROWS, irrigation.COOPERATIVE] if garden.water else [],
        "Care and order of work": [*(step.source for step in garden.phases), care.WHOLE_GARDEN_SOURCE, care.NURSERY]
        if schedule
        else [],
        "Advice": [finding.source for finding in garden.said],
    }
    return tuple((name, kept) for name, named in groups.items() if (kept := _distinct(named)))


def _distinct(named: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted({source.strip() for source in named if source.strip()}, key=str.casefold))


NOTICES = (NOT_LISTED, NO_INVASIVE_LISTING, MEMORY)
