"""Sun that a must of the client's keeps on a place at given hours: where each kind, when grown, would take it."""

import datetime as dt
from collections.abc import Iterable, Sequence

import numpy as np

from gardenkit.brief.asking import Asked
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.composing.given import KeptOut
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.layout import place
from gardenkit.project.season import local_months
from gardenkit.project.solids import height_to_be
from gardenkit.project.wanted import musts_asking
from gardenkit.site.place import Place
from gardenkit.site.sun_diary import Observation, ways_to_the_sun

SUMMER = (6, 7, 8)  # of the northern year: when a seat is judged where no months are asked for. House value.
LAP = 0.45  # m above the ground: the height of a seat, where one sits in sun or shade. Common practice, no source.
DAY, YEAR = 21, 2025  # the day of a month that stands for it; the year moves the sun by minutes only. House value.


def watched(project: Project, asked: Asked) -> tuple[Observation, ...]:
    """Return when and where a place is looked at for sun or shade: the hours asked for, on a day of each month."""
    at = place(asked.thing, project.site, project.structure)
    height = height_to_be(project)(at) + LAP
    start, end = clock(asked.since), clock(asked.until)
    months = asked.months or tuple(sorted(local_months(project.site, SUMMER)))
    days = (dt.date(YEAR, month, DAY) for month in months)
    return tuple(Observation(at=at, date=day, start=start, end=end, sunny=True, height=height) for day in days)


def clock(hour: float) -> dt.time:
    """Return the time of an hour of the day, 13.5 as 13:30."""
    minutes = min(round(hour * 60), 24 * 60 - 1)
    return dt.time(minutes // 60, minutes % 60)


def kept_sunny(project: Project, kinds: Sequence[Species]) -> Iterable[KeptOut]:
    """Yield for every kind the ground on which it would stand, when grown, between the sun and a place that a must
    wants in the sun. The ground is taken as level there, and every crown as shutting out all light.
    """
    if project.site.place == Place():
        return
    for one in musts_asking(project, "in_sun"):
        for seen in watched(project, one):
            ways = _highest(ways_to_the_sun(seen, project.site.place, y_bearing=project.site.y_bearing), one.amount)
            for kind in kinds:
                if kind.layer != "climber" and kind.height > LAP and len(ways):
                    yield KeptOut(ground=_before_the_sun(seen, ways, kind), kinds=frozenset((kind.botanical,)))


# ---- helpers


def _highest(ways: FloatArray, percent: float) -> FloatArray:
    """Return so many percent of the unit vectors (n, 3), the steepest: the rest of the time may be in shade."""
    many = int(np.ceil(len(ways) * min(percent, 100.0) / 100.0))
    return ways[np.argsort(-ways[:, 2], kind="stable")[:many]]


def _before_the_sun(seen: Observation, ways: FloatArray, kind: Species) -> plane.Region:
    """Return the ground that the sun passes over lower than a kind grows, wider on every side by half a plant."""
    far = (kind.height - LAP) / np.maximum(ways[:, 2], 1e-6)
    ends = np.asarray(seen.at) + ways[:, :2] * far[:, None]
    spots = np.vstack([[seen.at], ends])
    corners = plane.hull_outline(spots) if len(spots) > 2 else ()
    fan = plane.region(corners) if corners else plane.line([tuple(spot) for spot in spots.tolist()])
    return plane.grown(fan, kind.spread / 2)
