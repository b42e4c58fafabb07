"""The crops of a garden in figures: seed and plants to order, what is done when, and who stands where each year."""

import datetime as dt

import attrs

from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.crops import PACKET, crop_kind, cycle, put_in
from gardenkit.project import Project
from gardenkit.project.crops import CropRows, crop_rows
from gardenkit.project.layout import Layout
from gardenkit.project.season import spring_shift
from gardenkit.schedules.care import Task
from gardenkit.schedules.lines import Line
from gardenkit.units import counted, show_length

ITEM = {"seed": "vegetable seed", "young plants": "vegetable plant", "sets": "sets", "crowns": "crowns"}


@attrs.frozen(kw_only=True)
class CropLine:
    """One crop of one year as a document tells it: its ``words`` are the crop's common name, ``plants`` how many."""

    year: int
    bed: str
    botanical: str
    words: str
    family: str
    plants: int
    rows: int
    apart: float
    between: float
    begins: dt.date
    ends: dt.date
    ready: tuple[dt.date, dt.date] | None
    does: str
    source: str


def crop_table(
    project: Project, worked: Layout, catalogue: Catalogue, *, years: int | None = None
) -> tuple[CropLine, ...]:
    """Return every crop of every planned year of the rotation, or of the first ``years``."""
    span = range(cycle(project.planting.crops) if years is None else years) if project.planting.crops else range(0)
    return tuple(_line(project, one, catalogue, year) for year in span for one in crop_rows(project, worked, year))


def crop_lines(project: Project, worked: Layout) -> tuple[Line, ...]:
    """Return what is bought for the first year: seed by the packet, plants, sets and crowns by the piece."""
    found = []
    for one in crop_rows(project, worked, 0) if project.planting.crops else ():
        name, each = one.crop.species, len(one.plants)
        rule = f"{name}: {counted(len(one.lines), 'row')}, {show_length(one.apart, small=True)} apart in the row"
        amount = float(each)
        if one.kind.bought == "seed":
            amount, rule = float(max(1, -(-one.length // float(PACKET)))), f"{rule}; {PACKET.source}"
        found.append(
            Line(
                item=ITEM[one.kind.bought],
                where=one.crop.bed,
                amount=amount,
                unit="each",
                rule=rule,
                source=one.kind.source,
            )
        )
    return tuple(found)


def crop_tasks(project: Project, worked: Layout, catalogue: Catalogue) -> tuple[Task, ...]:
    """Return what is done in the first year, by the frost of the place: raised indoors, put in, harvested."""
    found: list[Task] = []
    for line in crop_table(project, worked, catalogue, years=1):
        where, kind = f"{line.words} in {line.bed}", crop_kind(line.botanical)
        how = f"{_day(line.begins)} to {_day(line.ends)}"
        if kind.indoors:
            early = line.begins - dt.timedelta(weeks=kind.indoors)
            found.append(Task(months=(early.month,), task="sow indoors", botanical=where, how=f"about {_day(early)}"))
        found.append(Task(months=_months(line.begins, line.ends), task=line.does, botanical=where, how=how))
        if line.ready is not None:
            found.append(
                Task(months=_months(*line.ready), task="harvest", botanical=where, how=f"from {_day(line.ready[0])}")
            )
    return tuple(found)


# ---- helpers


def _line(project: Project, one: CropRows, catalogue: Catalogue, year: int) -> CropLine:
    climate, species = project.site.climate, catalogue[one.crop.species]
    begins, ends = put_in(
        one.kind,
        last=climate.last_frost or "",
        first=climate.first_frost or "",
        year=project.planting.first_year + year,
        shift=spring_shift(project.site),
        south=project.site.place.latitude < 0,
    )
    low, high = (dt.timedelta(days=days) for days in one.kind.days)
    return CropLine(
        year=year,
        bed=one.crop.bed,
        botanical=species.botanical,
        words=species.common.split(",")[0],
        family=species.family,
        plants=len(one.plants),
        rows=len(one.lines),
        apart=one.apart,
        between=one.between,
        begins=begins,
        ends=ends,
        ready=None if one.kind.stays else (begins + low, ends + high),
        does=one.kind.does,
        source=one.kind.source,
    )


def _months(first: dt.date, last: dt.date) -> tuple[int, ...]:
    span = (last.year - first.year) * 12 + last.month - first.month
    return tuple((first.month - 1 + k) % 12 + 1 for k in range(min(span, 11) + 1))


def _day(day: dt.date) -> str:
    return f"{day.day} {day:%B}"
