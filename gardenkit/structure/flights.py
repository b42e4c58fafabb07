"""Flights of steps as they stand in a path: the stretch each takes, its risers on the ground, and what it is told."""

from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import LOCAL_CODE, Finding, Seriousness
from gardenkit.geometry import plane, ways
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.site.levels import Surface
from gardenkit.sources import HOUSE, PLAIN, Figure
from gardenkit.structure.route import Route
from gardenkit.structure.steps import BANDS, CODES, Steps, step_findings, steps
from gardenkit.structure.structure import Flight, Path
from gardenkit.units import INCH, feet_inches

TOO_SHORT = "flight length"  # the name of the rule
BAND = "26-27"  # of ``steps.BANDS``: twice the riser and the tread
LANDING = Figure(CODES["IRC 2021"].least_landing, "m", CODES["IRC 2021"].source)
WITHIN = Figure(36 * INCH, "m", "IRC 2021: a drop within 36 in of the edge; from memory")
LEVEL = Figure(0.02, "m", f"less is no step; {HOUSE}")
DUG = Figure(0.30, "m", f"deeper, the sides want a wall or a bank of their own; {HOUSE}")
STATION = 0.1  # m between the places where the ground is read below a flight. House value.
LANDING_LONG = 60 * INCH - 0.01  # m: 2010 ADA Standards 405.7, less what rounding takes
ROUNDING = 1e-6


@attrs.frozen(kw_only=True)
class Built:
    """A flight worked out: its ``number`` on the path (1 first), the stretch it takes in metres along the path with its
    landings, the ``rise`` in metres in the path's direction (None without ground heights), its ``steps`` (None where
    there is nothing to climb) and where each riser stands, metres along the path.

    ``cut`` and ``fill`` are how deep the ground is dug and raised at most, ``drop`` the greatest fall beside the steps.
    """

    number: int
    flight: Flight
    start: float
    end: float
    rise: float | None = None
    steps: Steps | None = None
    risers: tuple[float, ...] = ()
    cut: float = 0.0
    fill: float = 0.0
    drop: float = 0.0

    @property
    def length(self) -> float:
        """Metres of path that it takes."""
        return self.end - self.start

    @property
    def left_over(self) -> float:
        """Metres of its stretch that steps and landings leave; below 0 they lack so much."""
        return self.length - (self.steps.overall if self.steps else 0.0)

    @property
    def fits(self) -> bool:
        """Whether its steps and both landings find room."""
        return self.left_over >= -ROUNDING

    @property
    def climbs_along(self) -> bool:
        """Whether it goes up in the path's direction."""
        return self.rise is not None and self.rise > 0


def built(path: Path, route: Route, ground: Surface | None) -> tuple[Built, ...]:
    """Return the flights of a path on its route, worked out on the ground as measured."""
    return tuple(_built(number, flight, path, route, ground) for number, flight in enumerate(path.flights, 1))


def left_by_flights(path: Path, length: float) -> tuple[tuple[float, float], ...]:
    """Return the stretches (from, to) that a path's flights leave of it, in metres along it."""
    taken = sorted((flight.start * length, flight.end * length) for flight in path.flights)
    free, at = [], 0.0
    for start, end in taken:
        if start - at > ROUNDING:
            free.append((at, start))
        at = max(at, end)
    return (*free, (at, length)) if length - at > ROUNDING else tuple(free)


def left_by_landings(path: Path, length: float) -> tuple[tuple[float, float], ...]:
    """Return the stretches (from, to) in metres along a path that its flights and its level landings leave."""
    level = [
        (a.share, b.share)
        for a, b in pairwise(path.heights)
        if abs(a.height - b.height) < ROUNDING and (b.share - a.share) * length > LANDING_LONG
    ]
    cuts = tuple(Flight(start=a, end=b) for a, b in level)
    return left_by_flights(attrs.evolve(path, flights=(*path.flights, *cuts)), length)


def on_a_flight(flights: Sequence[Flight], route: Route, at: FloatArray, reach: FloatArray) -> NDArray[np.bool_]:
    """Return for each of the points (n, 2) on a path whether it, or ``reach`` (n,) metres along to either side of it,
    lies in one of its flights, (n,).
    """
    if not flights or not len(at):
        return np.zeros(len(at), dtype=bool)
    off = ((route.curve.points[None] - np.asarray(at)[:, None]) ** 2).sum(axis=2)
    s = route.curve.along[off.argmin(axis=1)]
    within = [(s + reach > f.start * route.length) & (s - reach < f.end * route.length) for f in flights]
    return np.asarray(np.any(within, axis=0))


def flight_findings(path: Path, made: Sequence[Built], joins: Sequence[tuple[str, float]] = ()) -> tuple[Finding, ...]:
    """Return what is to be said about a path's flights; ``joins`` names the paths that join it and where, metres."""
    found: list[Finding] = []
    for one in made:
        where = f'path "{path.name}", flight {one.number}'
        found += _ground_said(where, one)
        if one.steps is not None:
            found += step_findings(where, one.steps, drop=one.drop, handrail=one.flight.handrail)
            found += [
                _said(where, f'path "{name}" joins it between its steps; let it join on a landing', HOUSE, "caution")
                for name, at in joins
                if one.risers[0] < at < one.risers[-1]
            ]
    return tuple(found)


def riser_ends(one: Built, route: Route) -> tuple[tuple[Point, Point], ...]:
    """Return where every riser of a flight meets the left and the right edge of its path, plan metres."""
    s = np.asarray(one.risers, dtype=float)
    left, right = (route.curve.beside(s, np.full(len(s), way * route.width / 2)).tolist() for way in (1, -1))
    return tuple(((a[0], a[1]), (b[0], b[1])) for a, b in zip(left, right, strict=True))


def under_steps(made: Sequence[Built], route: Route) -> Region:
    """Return the ground of a path that its steps lie on, from the first riser of each flight to its last."""
    runs = [np.arange(one.risers[0], one.risers[-1], STATION) for one in made if len(one.risers) > 1]
    ends = [one.risers[-1] for one in made if len(one.risers) > 1]
    lines = [route.curve.at(np.append(run, end)) for run, end in zip(runs, ends, strict=True)]
    return plane.union(ways.strip(line, route.width) for line in lines)


def flight_words(one: Built) -> str:
    """Return a flight in words: "up 5" as it is drawn on the plan; empty where nothing is climbed."""
    return one.steps.up if one.steps is not None else ""


def fine(metres: float) -> str:
    """Return a height or depth of a step as finely as one is built, in both systems.

    >>> fine(0.1434)
    '5⅝" (143 mm)'
    """
    return f"{feet_inches(metres, to=8)} ({metres * 1000:.0f} mm)"


# ---- helpers


def _built(number: int, flight: Flight, path: Path, route: Route, ground: Surface | None) -> Built:
    start, end = flight.start * route.length, flight.end * route.length
    bare = Built(number=number, flight=flight, start=start, end=end)
    if ground is None:
        return bare
    s = np.linspace(start, end, max(3, round((end - start) / STATION) + 1))
    z = ground.at(route.curve.at(s))
    rise = float(z[-1] - z[0])
    if abs(rise) < LEVEL:
        return attrs.evolve(bare, rise=rise)
    made = _steps(abs(rise), flight, path.width)
    risers = _places(made, start, end)
    height = z[0] + np.sign(rise) * made.riser * np.searchsorted(np.asarray(risers), s, side="right")
    cut, fill = max(0.0, float((z - height).max())), max(0.0, float((height - z).max()))
    side = np.full(len(s), route.width / 2 + WITHIN)
    edges = np.stack([ground.at(route.curve.beside(s, way * side)) for way in (1, -1)])
    climbing = (s >= risers[0] - STATION) & (s <= risers[-1] + STATION)
    drop = max(0.0, float((height - edges)[:, climbing].max(initial=0.0)))
    return attrs.evolve(bare, rise=rise, steps=made, risers=risers, cut=cut, fill=fill, drop=drop)


def _steps(rise: float, flight: Flight, width: float) -> Steps:
    """Return the steps of a flight: the fewest risers that leave treads as deep as it asks for, by ``steps.steps``."""
    low, high = BANDS[BAND][0] * INCH, BANDS[BAND][1] * INCH
    most = min(flight.most_riser, (high - flight.least_tread) / 2)
    made = steps(rise, most_riser=most, band=BAND, width=width, landing=LANDING)
    if made.tread >= flight.least_tread:
        return made
    total = max(low, 2 * made.riser + flight.least_tread)
    return steps(rise, most_riser=most, band=BAND, two_risers_and_tread=total, width=width, landing=LANDING)


def _places(made: Steps, start: float, end: float) -> tuple[float, ...]:
    """Return where the risers stand, metres along the path: in the middle of the stretch, closer where it is short."""
    parts = np.array_split(np.arange(made.risers), made.middle_landings + 1)
    firsts = {int(part[0]) for part in parts[1:]}
    goings = [made.landing if k in firsts else made.tread for k in range(1, made.risers)]
    along = np.concatenate(([0.0], np.cumsum(goings)))
    length = end - start
    squeezed = min(1.0, length / made.run) if made.run else 1.0
    first = start + (length - squeezed * made.run) / 2
    return tuple(float(first + squeezed * at) for at in along)


def _ground_said(where: str, one: Built) -> list[Finding]:
    if one.rise is None:
        what = "no ground heights are measured, so its steps are not known; take one at its foot and one at its head"
        return [_said(where, what, PLAIN, "caution")]
    if one.steps is None:
        what = f"the ground rises only {abs(one.rise):.2f} m along it: nothing to climb; move it, or delete it"
        return [_said(where, what, LEVEL.source, "warning")]
    found = []
    if not one.fits:
        made = one.steps
        what = (
            f"takes {one.length:.2f} m of the path; {made.risers} risers of {fine(made.riser)} with treads of "
            f"{fine(made.tread)} and a landing of {made.landing:.2f} m at top and bottom need {made.overall:.2f} m"
        )
        said = _said(where, what, LANDING.source, "warning")
        found.append(attrs.evolve(said, rule=TOO_SHORT, wanted=made.overall))
    if max(one.cut, one.fill) > DUG:
        what = (
            f"the ground is dug {one.cut:.2f} m deep and raised {one.fill:.2f} m at most along it; hold its sides, or "
            f"make two shorter flights of it"
        )
        found.append(_said(where, what, DUG.source, "caution"))
    return found


def _said(where: str, what: str, source: str, seriousness: Seriousness) -> Finding:
    return Finding(where=where, what=f"{what}; {LOCAL_CODE}", source=source, seriousness=seriousness, topic="steps")


def overlapping(flights: Sequence[Flight]) -> tuple[Flight, Flight] | None:
    """Return the first two flights of a path that share ground, None when none do."""
    ordered = sorted(flights, key=lambda flight: flight.start)
    return next(((a, b) for a, b in pairwise(ordered) if b.start < a.end - ROUNDING), None)
