"""How steep is too steep or too flat: falls away from the house, over patios and lawns, on paths and ramps."""

import math
from collections.abc import Iterable
from typing import Literal

import attrs
import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding, GardenError, Seriousness, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Outline, Point, Region
from gardenkit.site.levels import Slope, Surface, slope_of
from gardenkit.site.site import Building
from gardenkit.sources import COMMON, MEMORY, Figure
from gardenkit.units import FOOT, INCH, System, show_length

ADA = "2010 ADA Standards"  # private gardens are not generally bound by them: shown as advice
FALL_HEIGHT = Figure(6 * INCH, "m", "IRC R401.3 (2006)")  # 152 mm
FALL_WITHIN = Figure(10 * FOOT, "m", "IRC R401.3 (2006)")  # 3048 mm
HARD_FALL = Figure(2.0, "%", "IRC R401.3 (2006)")  # hard surfaces within 10 ft of the building
SHORT_FALL = Figure(5.0, "%", "IRC R401.3 (2006)")  # where lot lines or walls leave less than 10 ft
SWALE_FALL = Figure(2.0, "%", "IRC R401.3 (2006)")  # swales within 10 ft of the building
LAWN_GOOD = Figure(25.0, "%", "lawn-care bulletin no. 118, Michigan State Univ. turf archive")
LAWN_LIMIT = Figure(50.0, "%", "lawn-care bulletin no. 118, Michigan State Univ. turf archive")
PAVING_LEAST = Figure(1.0, "%", COMMON)  # needs a very even finish
PAVING_BEST = Figure(2.0, "%", COMMON)  # about 1/4 in per ft
PAVING_MOST = Figure(2.5, "%", "house value")  # above this chairs and tables stand askew
LAWN_LEAST = Figure(1.0, "%", MEMORY)
EVEN = 1e-3  # share by which a slope may pass a printed ratio: 1/4 in per ft passes 1:48, 2.1 % does not. House value.
SIDE_STEP = 1.0  # m between the places along a wall where the fall is looked at. House value.
OUT_STEP = 0.1  # m between the places going out from a wall. House value.
ON_LINE = 0.005  # m: ground this near the boundary or a wall still counts as open. House value.
BUMP = 0.02  # m the ground may rise before it counts as falling towards the house. House value.

Edition = Literal["2006", "later"]
Use = Literal["patio", "lawn"]


def fall_away(
    ground: Surface,
    buildings: Iterable[Building],
    *,
    boundary: Outline = (),
    hard: Iterable[Region] = (),
    edition: Edition = "2006",
    system: System = "imperial",
) -> tuple[Finding, ...]:
    """Return a finding for each wall that water may run towards, or where the ground falls too little away from it.

    IRC R401.3 (2006): 6 in within the first 10 ft; where the boundary or another building leaves less, 5 % on what
    there is, to a drain or swale; ``hard`` surfaces 2 %. ``edition`` "later" drops the 5 % wording (from memory).
    Every finding defers to the local building office.
    """
    if edition not in ("2006", "later"):
        raise GardenError(
            f'the edition "{edition}" is not known{nearest(edition, ("2006", "later"))}; use 2006 or later'
        )
    houses = tuple(buildings)
    open_ground = _open_ground(houses, boundary)
    paved = tuple(hard)
    found = []
    for house in houses:
        corners = plane.outline(house.outline, where=f'building "{house.name}"')
        for number, (a, b) in enumerate(zip(corners, (*corners[1:], corners[0]), strict=True), 1):
            worst = _worst_run(ground, a, b, open_ground, paved)
            if worst is not None:
                found += _wall_findings(worst, f"{house.name}, wall {number}", edition, system)
    return tuple(found)


def ground_findings(
    ground: Surface, area: Region, *, name: str, use: Use, house: Point | None = None, system: System = "imperial"
) -> tuple[Finding, ...]:
    """Return findings about the fall of a patio or lawn; ``house`` is a point of the house it should fall away from."""
    if use not in ("patio", "lawn"):
        raise GardenError(f'the use "{use}" is not known{nearest(use, ("patio", "lawn"))}; use patio or lawn')
    slope = slope_of(ground, area)
    at = plane.centre(area)
    found = list(_patio(slope, name, at) if use == "patio" else _lawn(slope, name, at))
    if house is not None and slope.percent > 0.5:
        towards = abs((plane.heading(at, house) - slope.downhill + 180) % 360 - 180)
        if towards < 60:
            found.append(
                _finding(
                    name,
                    f"it falls {slope.percent:.1f} % towards the house; turn the fall away",
                    FALL_HEIGHT,
                    "warning",
                    at,
                )
            )
    if slope.guessed > 0.25:
        found.append(
            Finding(
                where=name,
                what="measure more heights here: its slope is partly carried on from outside",
                why=f"{slope.guessed:.0%} of it lies beyond the measured points; heights range over "
                f"{show_length(slope.high - slope.low, system, small=True)}",
                source="house value",
                at=at,
                topic="levels",
            )
        )
    return tuple(found)


@attrs.frozen(kw_only=True)
class _Run:
    """The ground going out from one place on a wall: how far it is open, its drop, and what is met."""

    at: Point
    length: float
    drop: float
    rises: float
    hard: bool
    guessed: bool

    @property
    def percent(self) -> float:
        return 100 * self.drop / self.length

    @property
    def short(self) -> bool:
        return self.length < FALL_WITHIN * (1 - 1e-6)

    @property
    def lacking(self) -> float:
        """Return by how many percent it falls short of what is asked; 0 or less is enough."""
        asked = HARD_FALL if self.hard else SHORT_FALL
        return asked * (1 - EVEN) - self.percent


def _open_ground(houses: tuple[Building, ...], boundary: Outline) -> Region:
    walls = plane.union(plane.region(h.outline) for h in houses) if houses else plane.NOWHERE
    if boundary:
        plot: Region = plane.region(boundary)
    elif houses:
        low_x, low_y, high_x, high_y = plane.bounds(walls)
        far = 2 * FALL_WITHIN
        plot = plane.region(
            [
                (low_x - far, low_y - far),
                (high_x + far, low_y - far),
                (high_x + far, high_y + far),
                (low_x - far, high_y + far),
            ]
        )
    else:
        return plane.NOWHERE
    return plane.grown(plane.difference(plot, walls), ON_LINE)


def _worst_run(ground: Surface, a: Point, b: Point, free: Region, hard: tuple[Region, ...]) -> _Run | None:
    """Return the place along a wall a to b (house on its left) where the ground falls away least, None without room."""
    length = math.dist(a, b)
    out = ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)
    count = max(1, round(length / SIDE_STEP))
    runs = []
    for i in range(count):
        share = (i + 0.5) / count
        start = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        run = _run_out(ground, start, out, free, hard)
        if run is not None:
            runs.append(run)
    return max(runs, key=lambda r: (r.rises > BUMP, r.lacking)) if runs else None


def _run_out(ground: Surface, start: Point, out: Point, free: Region, hard: tuple[Region, ...]) -> _Run | None:
    steps = np.linspace(0.0, float(FALL_WITHIN), round(FALL_WITHIN / OUT_STEP) + 1)
    places: FloatArray = np.array(start) + steps[:, None] * np.array(out)
    open_here = plane.inside(free, places)
    blocked = np.flatnonzero(~open_here[1:])
    last = int(blocked[0]) if len(blocked) else len(steps) - 1
    if last < 3:  # less than a foot: no ground to speak of
        return None
    way = places[: last + 1]
    heights = ground.at(way)
    middle = way[len(way) // 2]
    return _Run(
        at=start,
        length=float(steps[last]),
        drop=float(heights[0] - heights[-1]),
        rises=float((heights - heights[0]).max()),
        hard=any(plane.contains(region, middle) for region in hard),
        guessed=bool(ground.guessed(way).any()),
    )


def _lies(run: _Run, system: System) -> str:
    """Return how the ground lies along a run in words: what rises is never a fall below nothing."""
    away, steep = show_length(run.length, system), f"{abs(run.percent):.1f}"
    if float(steep) == 0:
        return f"is level for {away}"
    drop = show_length(abs(run.drop), system, small=True)
    return f"{'falls' if run.drop > 0 else 'rises'} {drop} in {away} ({steep} %)"


def _wall_findings(run: _Run, where: str, edition: Edition, system: System) -> list[Finding]:
    away = show_length(run.length, system)
    rule = "IRC R401.3 (2006)" if edition == "2006" else "IRC R401.3, editions after 2006 (wording from memory)"
    doubt = "; part of it lies beyond the measured points: measure heights there" if run.guessed else ""
    seriousness: Seriousness = "caution"
    if run.rises > BUMP:
        seriousness = "warning"
        rise = show_length(run.rises, system, small=True)
        what = f"the ground stands {rise} higher within {away} of the wall, so water runs towards the house; lower it"
        why = f"the fall should be {_asked(run, edition)}"
    elif run.lacking > 0 and not (run.short and edition == "later" and not run.hard):
        seriousness = "warning" if run.percent <= 0 else "caution"
        what = f"the ground {_lies(run, system)} away from the wall; make it fall more steeply"
        why = f"it should be {_asked(run, edition)}"
    elif run.short and not run.hard:
        seriousness = "note"
        what = f"only {away} of ground lies before the boundary or the next wall; lead its water to a drain or swale"
        why = f"a swale there should fall {SWALE_FALL:.0f} % or more"
    else:
        return []
    return [
        Finding(
            where=where,
            what=what + doubt,
            why=f"{why}; {LOCAL_CODE}",
            source=rule,
            seriousness=seriousness,
            at=run.at,
            topic="levels",
        )
    ]


def _asked(run: _Run, edition: Edition) -> str:
    if run.hard:
        return f"{HARD_FALL:.0f} % or more over hard surfaces"
    if run.short:
        if edition == "2006":
            return f"{SHORT_FALL:.0f} % or more where there is less than 10 ft, to a drain or swale"
        return "led to a drain or swale where there is less than 10 ft"
    return "at least 6 in within the first 10 ft, 5.0 %"


def _patio(slope: Slope, name: str, at: Point) -> list[Finding]:
    if slope.percent < PAVING_LEAST * (1 - EVEN):
        return [
            _finding(name, f"it falls {slope.percent:.1f} %, so puddles stay; give it 2 %", PAVING_LEAST, "warning", at)
        ]
    if slope.percent < PAVING_BEST * (1 - EVEN):
        what = f"it falls {slope.percent:.1f} %, which needs a very even finish; 2 % is better"
        return [_finding(name, what, PAVING_BEST, "note", at)]
    if slope.percent > PAVING_MOST * (1 + EVEN):
        what = f"it falls {slope.percent:.1f} %, steep for tables and chairs; 2 % (about 1/4 in per ft) is enough"
        return [_finding(name, what, PAVING_MOST, "caution", at)]
    return []


def _lawn(slope: Slope, name: str, at: Point) -> list[Finding]:
    if slope.percent > LAWN_LIMIT * (1 + EVEN):
        what = f"it slopes {slope.percent:.0f} %, too steep for grass; use a wall or ground cover"
        return [_finding(name, what, LAWN_LIMIT, "warning", at)]
    if slope.percent > LAWN_GOOD * (1 + EVEN):
        what = f"it slopes {slope.percent:.0f} %; good turf is kept up to 25 % (1 in 4), and mowing across is unsafe"
        return [_finding(name, what, LAWN_GOOD, "caution", at)]
    if slope.percent < LAWN_LEAST * (1 - EVEN):
        what = f"it falls only {slope.percent:.1f} %, so it may stay wet; 1 to 2 % drains"
        return [_finding(name, what, LAWN_LEAST, "note", at)]
    return []


def _finding(where: str, what: str, figure: Figure, seriousness: Seriousness, at: Point | None = None) -> Finding:
    private = "; private gardens are not generally bound by it" if "ADA" in figure.source else ""
    unit = f"1:{figure:g}" if figure.unit.startswith("run") else f"{figure:g} {figure.unit}"
    return Finding(
        where=where,
        what=what,
        why=f"figure {unit}{private}; {LOCAL_CODE}",
        source=figure.source,
        seriousness=seriousness,
        at=at,
        topic="levels",
    )
