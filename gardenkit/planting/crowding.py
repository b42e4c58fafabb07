"""What happens as plants grow: crowns that meet, branches over the path, windows covered, plants left in the shade."""

import math
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.findings import Finding, Seriousness
from gardenkit.geometry import nearby, plane
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.planting.planting import HOURS
from gardenkit.planting.setbacks import Glass
from gardenkit.planting.standing import Planted, Standing, by_pair, near_line, positions, standing, stands
from gardenkit.planting.sun_need import least_hours, light_amount, light_words
from gardenkit.site.sun_classes import DEFAULT
from gardenkit.sources import HOUSE, MEMORY, Figure

YEARS = (1, 5, 10, 15)
SUN_YEARS = (0, 5, 10)  # in which the sun beside a plant is looked at; each costs a sun map. House value.
BESIDE = 0.3  # m outside a crown where its sun is read. House value.
HEADROOM = Figure(2.1, "m", f"{HOUSE}: branches lower than this over a path are in the way; about 7 ft, {MEMORY}")
OVERLAP = Figure(0.25, "of the smaller crown", f"{HOUSE}: knit closer than this, one of the two suffers")
HARD_OVERLAP = Figure(0.5, "of the smaller crown", HOUSE)
KNIT = Figure(0.9, "of the on-centre distance", f"{HOUSE}: plants meant to knit are set out about this true")
RUNS_UNDER = Figure(0.45, "m", f"{HOUSE}: what bears shade and stays this low runs in under a shrub")
NARROWED = Figure(0.15, "of the path's width", f"{HOUSE}: leaning over by less is softening the edge")
SunHours = Callable[
    [float, Sequence[Point] | FloatArray], FloatArray
]  # (year, places): mean hours a day, growing season

LEAST_OVER = 0.15  # m2 of path under a crown worth a word. House value.


@attrs.frozen(kw_only=True)
class Overlap:
    """Two plants whose crowns meet: the share of the smaller crown's ground that both cover, 0 to 1."""

    first: Standing
    second: Standing
    share: float


@attrs.frozen(kw_only=True)
class OverPath:
    """A plant over a path: square metres covered, and the height of its lowest leaves."""

    one: Standing
    path: str
    area: float
    clear: float


@attrs.frozen(kw_only=True)
class LostSun:
    """A plant in the shade from a year on: its hours of sun ``before`` and ``after`` all growth, and what it needs."""

    one: Standing
    year: float
    before: float
    after: float
    need: float


def overlaps(plants: Sequence[Standing], *, least: float = float(OVERLAP)) -> tuple[Overlap, ...]:
    """Return the pairs whose crowns overlap by at least ``least`` of the smaller one's ground, worst first.

    Only what competes for the same air counts: carpets, climbers, and plants that stand under a crown do not; nor do
    plants at their on-centre distance, which are meant to knit (see ``competes_within``).
    """
    free = [one for one in plants if not one.is_carpet and one.tier != "wall"]
    if len(free) < 2:
        return ()
    at, r = positions(free), np.array([one.radius for one in free])
    i, j = nearby.near_pairs(at, 2 * float(r.max())).T
    apart = np.hypot(*(at[i] - at[j]).T)
    share = shared(apart, r[i], r[j])
    enough = share >= least
    i, j, share, apart = i[enough], j[enough], share[enough], apart[enough]
    told = np.flatnonzero(apart < by_pair(free, i, j, competes_within))
    worst = told[np.argsort(-share[told], kind="stable")]
    rows = zip(i[worst].tolist(), j[worst].tolist(), share[worst].tolist(), strict=True)
    return tuple(Overlap(first=free[a], second=free[b], share=part) for a, b, part in rows)


@lru_cache(maxsize=16)
def meeting(plants: tuple[Planted, ...], year: float) -> tuple[Overlap, ...]:
    """Return the pairs that crowd each other in a year: asked by the findings and by what is to be thinned."""
    return overlaps(standing(plants, year))


def shared(apart: FloatArray, r: FloatArray, s: FloatArray) -> FloatArray:
    """Return the share of the smaller crown's ground, 0 to 1, that crowns of radius r and s ``apart`` metres share."""
    return np.asarray(_lens(apart, r, s) / (np.pi * np.minimum(r, s) ** 2))


def competes_within(a: Standing, b: Standing) -> float:
    """Return below which distance of their stems two plants want the same air, metres: 0 never, inf at any; findings
    and the composer both ask this.

    Not so: herbs of one kind; plants of one kind, or herbs of two, at their on-centre distance (of two kinds the mean
    of both); what stands below a tree's branches; and a low plant that bears shade under a shrub.
    """
    tiers = a.tier, b.tier
    one_kind, herbs = a.species.botanical == b.species.botanical, tiers == ("herb", "herb")
    if one_kind and herbs:
        return 0.0
    low, high = (a, b) if a.size.height <= b.size.height else (b, a)
    if "tree" in tiers and high.tier == "tree" and low.tier != "tree":
        return 0.0
    if low.size.height <= high.size.crown_base or _runs_under(low, high):
        return 0.0
    knit = one_kind or herbs
    return KNIT * (a.species.spacing_m + b.species.spacing_m) / 2 if knit else math.inf


def over_paths(plants: Sequence[Standing], paths: Sequence[tuple[str, Region]]) -> tuple[OverPath, ...]:
    """Return the crowns that hang over a path lower than headroom; ``paths`` are names with regions."""
    found = []
    at, widest = positions(plants), max((one.radius for one in plants), default=0.0)
    for name, region in paths:
        if plane.area(region) <= 0:
            continue
        left, low, right, high = plane.bounds(region)
        close = [plants[k] for k in near_line(at, ((left, low), (right, high)), widest)]
        if not close:
            continue
        near = plane.point_distances(positions(close), region)
        for one, away in zip(close, near, strict=True):
            if one.is_carpet:  # meant to soften the edge
                continue
            if away < one.radius and one.size.crown_base < HEADROOM and one.tier != "wall":
                area = plane.area(plane.intersection(plane.circle(one.at, one.radius), region))
                found.append(OverPath(one=one, path=name, area=area, clear=one.size.crown_base))
    return tuple(found)


def covered_windows(plants: Sequence[Standing], windows: Sequence[Glass]) -> tuple[tuple[Standing, Glass], ...]:
    """Return each plant whose crown stands against a window between sill and head; climbers beside it do not count."""
    found = []
    for glass in windows:
        if plants:
            away = plane.point_distances(positions(plants), plane.line(glass.line))
            found += [
                (one, glass)
                for one, d in zip(plants, away, strict=True)
                if d < one.radius and one.size.height > glass.sill and one.size.crown_base < glass.head
            ]
    return tuple(found)


def losing_sun(
    plants: Iterable[Planted], hours: SunHours, *, years: Sequence[float] = SUN_YEARS, setting: str = DEFAULT
) -> tuple[LostSun, ...]:
    """Return each plant that has the sun it needs in the first of some years and not in the last.

    ``hours(year, places)`` gives mean hours of direct sun a day at each place. The sunniest place just outside its own
    crown counts, so that no plant shades itself. One that lacks sun from the start is the business of suitability. The
    years between are asked, the latest first, only while one of those plants still lacks sun: maps are dear.
    """
    start, *between, end = sorted(years)
    now = standing(plants, end)
    if not now:
        return ()
    places = _beside(now).reshape(len(now), -1, 2)
    before, after = (_sunniest(places, hours, year) for year in (start, end))
    need = [least_hours(one.species, setting=setting) for one in now]
    lost = [i for i in range(len(now)) if after[i] < need[i] <= before[i]]
    first = dict.fromkeys(lost, end)
    short = lost
    for year in reversed(between):
        there = [i for i in short if stands(now[i].plant, now[i].species, year)]
        if not there:
            break
        then = _sunniest(places[there], hours, year)
        short = [i for i, sun in zip(there, then, strict=True) if sun < need[i]]
        first |= dict.fromkeys(short, year)
    return tuple(
        LostSun(one=now[i], year=first[i], before=float(before[i]), after=float(after[i]), need=need[i]) for i in lost
    )


def crowding_findings(
    plants: Sequence[Planted],
    *,
    years: Iterable[float] = YEARS,
    paths: Sequence[tuple[str, Region]] = (),
    windows: Sequence[Glass] = (),
    hours: SunHours | None = None,
    light_by: str = HOURS,
) -> tuple[Finding, ...]:
    """Return each trouble once, in the first of the ``years`` in which it shows."""
    seen: dict[tuple[object, ...], Finding] = {}
    for year in sorted(years):
        _in_year(seen, tuple(plants), year, paths, windows)
    if hours is not None:
        seen |= {("sun", lost.one.plant.number): _in_shade(lost, light_by) for lost in losing_sun(plants, hours)}
    return tuple(seen.values())


# ---- helpers


def _in_year(
    seen: dict[tuple[object, ...], Finding],
    plants: tuple[Planted, ...],
    year: float,
    paths: Sequence[tuple[str, Region]],
    windows: Sequence[Glass],
) -> None:
    """Add to what was ``seen`` in earlier years what shows in this one."""
    now = standing(plants, year)
    for meet in meeting(plants, year):
        key: tuple[object, ...] = ("crowd", meet.first.plant.number, meet.second.plant.number)
        if key in seen:
            continue
        serious: Seriousness = "warning" if meet.share >= HARD_OVERLAP else "caution"
        what = f"and {meet.second.name} crowd each other from year {year:g}: {meet.share:.0%} of the smaller is shared"
        alike = f"crowd a neighbour by year {max(YEARS):g}"
        rule, beside = "crowding", meet.second.name
        seen[key] = _finding(
            meet.first, what, OVERLAP.source, rule=rule, alike=alike, beside=beside, seriousness=serious
        )
    for over in over_paths(now, paths):
        key = ("path", over.one.plant.number, over.path)
        if key not in seen and over.area > max(NARROWED * np.pi * over.one.radius**2, LEAST_OVER):
            what = f"hangs over {over.path} from year {year:g}: {over.area:.1f} m2, lowest leaves at {over.clear:.1f} m"
            alike = f"hang low over {over.path}"
            rule, wanted = "over path", over.one.species.spread / 2
            seen[key] = _finding(
                over.one, what, HEADROOM.source, alike=alike, rule=rule, beside=over.path, wanted=wanted
            )
    for one, glass in covered_windows(now, windows):
        key = ("window", one.plant.number, glass.name)
        if key in seen:
            continue
        what = (
            f"covers part of {glass.name} from year {year:g}: {one.size.height:.1f} m tall, sill at {glass.sill:.1f} m"
        )
        alike = f"cover part of {glass.name}"
        rule, wanted = "over window", one.species.spread / 2
        seen[key] = _finding(one, what, f"window; {HOUSE}", alike=alike, rule=rule, beside=glass.name, wanted=wanted)


def _in_shade(lost: LostSun, light_by: str) -> Finding:
    """Say from about which year on a plant lacks the sun it has now."""
    end = max(SUN_YEARS)
    at_end = f" in year {end:g}" if lost.year < end else ""
    what = (
        f"has {light_words(lost.before, light_by)} now and too little from about year {lost.year:g}: "
        f"{light_amount(lost.after, light_by)}{at_end}; it needs {light_amount(lost.need, light_by)}"
    )
    alike = f"have the sun they need now, and too little from about year {lost.year:g}"
    source = f"{light_by} in the growing season"
    return _finding(lost.one, what, source, rule="loses sun", wanted=lost.after, alike=alike)


def _sunniest(places: FloatArray, hours: SunHours, year: float) -> FloatArray:
    """Return the hours of sun a day in a year at the sunniest of each plant's places (n, k, 2)."""
    found: FloatArray = np.reshape(hours(year, places.reshape(-1, 2)), places.shape[:2]).max(axis=1)
    return found


def _beside(plants: Sequence[Standing]) -> FloatArray:
    """Return each one's stem and eight places just outside the crown it will have, (9 n, 2): alike for every plant."""
    far = np.array([one.radius for one in plants]) + BESIDE
    turn = np.linspace(0.0, 2 * np.pi, 8, endpoint=False)
    round_it = np.vstack([np.zeros(2), np.column_stack([np.cos(turn), np.sin(turn)])])
    places: FloatArray = positions(plants)[:, None, :] + far[:, None, None] * round_it
    return places.reshape(-1, 2)


def _lens(apart: FloatArray, r: FloatArray, s: FloatArray) -> FloatArray:
    """Return the ground common to circles of radius r and s whose middles are ``apart`` metres from each other."""
    d = np.maximum(apart, 1e-9)
    one = r**2 * np.arccos(np.clip((d**2 + r**2 - s**2) / (2 * d * r), -1, 1))
    two = s**2 * np.arccos(np.clip((d**2 + s**2 - r**2) / (2 * d * s), -1, 1))
    kite = 0.5 * np.sqrt(np.maximum((-d + r + s) * (d + r - s) * (d - r + s) * (d + r + s), 0.0))
    return np.asarray(one + two - kite)


def _runs_under(low: Standing, high: Standing) -> bool:
    bears_shade = "shade" in low.species.sun_range and low.species.height <= RUNS_UNDER
    return high.tier == "shrub" and low.tier == "herb" and bears_shade


def _finding(
    one: Standing,
    what: str,
    source: str,
    *,
    rule: str,
    wanted: float | None = None,
    alike: str = "",
    beside: str = "",
    seriousness: Seriousness = "caution",
) -> Finding:
    return Finding(
        where=one.name,
        what=what,
        source=source,
        seriousness=seriousness,
        at=one.at,
        topic="crowding",
        subject=("plant", str(one.plant.number)),
        rule=rule,
        wanted=wanted,
        alike=alike,
        beside=beside,
    )
