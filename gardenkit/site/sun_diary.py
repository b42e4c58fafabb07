"""The sun diary: what the designer saw at a spot (sun or shade, from when to when) set beside what is worked out for
it.
"""

import datetime as dt
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.geometry.solid import Solid
from gardenkit.site import sun_rays
from gardenkit.site.place import Place
from gardenkit.site.sky import LOWEST, local_time, positions, towards_sun
from gardenkit.sources import HOUSE
from gardenkit.tuples import lists_as_tuples

EVERY = 2.0  # minutes between the moments looked at within an observation. House value.
SUNNY = 0.5  # share of direct light, over the time watched, from which a spot counts as sunny. House value.
NEAR_EDGE = (
    0.15  # light this close to the limit is a shadow's edge passing: no reason to doubt the record. House value.
)
TRUSTED = 0.8  # share of agreeing entries below which the record is worth checking. House value.


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Observation:
    """One entry: the spot on the plan, the date, clock times ``start`` and ``end``, and whether it lay mostly in
    sun.
    """

    at: Point
    date: dt.date
    start: dt.time
    end: dt.time
    sunny: bool
    height: float = 0.0
    note: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class DiaryLine:
    """An entry with what is worked out: mean share of direct ``light`` 0 to 1, whether both agree, and what stands in
    the way most.
    """

    observation: Observation
    light: float
    agrees: bool
    shaded_by: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class DiaryReport:
    """All entries in order, the ``agreement`` share 0 to 1 (1 for an empty diary) and advice on where to look
    again.
    """

    lines: tuple[DiaryLine, ...]
    agreement: float
    findings: tuple[Finding, ...]


def compare(
    diary: Sequence[Observation], solids: Sequence[Solid], place: "Place", *, y_bearing: float = 0.0
) -> DiaryReport:
    """Return the diary set beside the computation; times are the place's clock, daylight saving included.

    Cloud is not known here: enter only what was seen under a clear sky.
    """
    lines = tuple(_line(entry, solids, place, y_bearing) for entry in diary)
    agreement = float(np.mean([line.agrees for line in lines])) if lines else 1.0
    return DiaryReport(lines=lines, agreement=agreement, findings=tuple(_findings(lines, agreement)))


def ways_to_the_sun(entry: Observation, place: "Place", *, y_bearing: float = 0.0) -> FloatArray:
    """Return unit vectors (n, 3) on the plan towards the sun while a spot is watched; none while it is down."""
    return _towards(*_sun_through(entry, place), y_bearing)


def _towards(azimuth: FloatArray, seen: FloatArray, y_bearing: float) -> FloatArray:
    up = seen >= LOWEST
    return towards_sun(azimuth[up], seen[up], y_bearing=y_bearing)


def _line(entry: Observation, solids: Sequence[Solid], place: "Place", y_bearing: float) -> DiaryLine:
    azimuth, seen = _sun_through(entry, place)
    towards = _towards(azimuth, seen, y_bearing)
    if not len(towards):
        return DiaryLine(
            observation=entry, light=0.0, agrees=not entry.sunny, shaded_by="the horizon (the sun is down)"
        )
    spot = np.array([[*entry.at, entry.height]])
    light = np.ones(len(towards))
    taken: dict[str, float] = {}
    for solid in solids:
        through = solid.light[entry.date.month - 1]
        behind = sun_rays.hidden(spot, solid, towards)[0]
        light[behind] *= through
        taken[solid.name] = taken.get(solid.name, 0.0) + float(behind.sum()) * (1.0 - through)
    most = max(taken, key=lambda name: taken[name], default="")
    mean = float(light.sum() / len(seen))
    shaded_by = most if most and taken[most] > 0 else ""
    return DiaryLine(observation=entry, light=mean, agrees=(mean >= SUNNY) == entry.sunny, shaded_by=shaded_by)


def _sun_through(entry: Observation, place: "Place") -> tuple[FloatArray, FloatArray]:
    begin, end = (local_time(place, dt.datetime.combine(entry.date, t)).timestamp() for t in (entry.start, entry.end))
    if end < begin:
        raise GardenError(
            f"the diary of {entry.date:%d %B %Y} ends at {entry.end:%H:%M} before its start at {entry.start:%H:%M}; "
            "swap the times, or make two entries for two days"
        )
    count = max(1, round((end - begin) / (60.0 * EVERY)))
    moments = begin + (np.arange(count) + 0.5) * (end - begin) / count
    azimuth, seen, _, _ = positions(moments, place.latitude, place.longitude, place.elevation)
    return azimuth, seen


def _findings(lines: Sequence[DiaryLine], agreement: float) -> list[Finding]:
    found = []
    for line in lines:
        entry = line.observation
        if line.agrees or abs(line.light - SUNNY) <= NEAR_EDGE:
            continue
        when = f"{entry.date:%d %B} {entry.start:%H:%M}-{entry.end:%H:%M}"
        if entry.sunny:
            what = f"sun was seen, but shade is worked out, mostly from {line.shaded_by}; check its place and height"
        else:
            what = "shade was seen, but sun is worked out; look for something in the way that is not on the record"
        found.append(
            Finding(
                where=f"sun diary, {when}",
                what=what,
                why=f"{line.light:.0%} of direct light worked out",
                source=HOUSE,
                seriousness="caution",
                at=entry.at,
                topic="sun",
            )
        )
    if lines and agreement < TRUSTED:
        found.append(
            Finding(
                where="sun diary",
                what="the sun map disagrees with the diary too often; check north and heights",
                why=f"{agreement:.0%} of {len(lines)} entries agree, {TRUSTED:.0%} hoped for",
                source=HOUSE,
                seriousness="warning",
                topic="sun",
            )
        )
    return found
