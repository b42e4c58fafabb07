"""Ramps as they lie in a path, built to heights or on the ground: each run between level places, and its handrails."""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.findings import LOCAL_CODE, Finding
from gardenkit.geometry.plane import FloatArray, Line
from gardenkit.site.levels import Surface
from gardenkit.structure.flights import left_by_flights, left_by_landings
from gardenkit.structure.path_rules import LEVEL
from gardenkit.structure.ramps import RAIL_ON, RAMP_RULES
from gardenkit.structure.route import Route
from gardenkit.structure.structure import Path
from gardenkit.units import show_length

RAILED = RAMP_RULES["ADA 2010"]  # 405.8: a run that rises more than it says has handrails
NO_RAILS = "ramp handrails"  # the name of the rule
STATION = 0.25  # m between the places of a rail that are drawn. House value.
ROUNDING = 1e-6


@attrs.frozen(kw_only=True)
class RampRun:
    """One run of a ramp: its ``number`` on the path (1 first), from ``start`` to ``end`` in metres along it, and its
    ``rise`` in metres the way the path goes.
    """

    number: int
    start: float
    end: float
    rise: float

    @property
    def one_in(self) -> float:
        """Level length for one of height."""
        return (self.end - self.start) / abs(self.rise)

    @property
    def wants_rails(self) -> bool:
        """Whether it rises more than goes without handrails."""
        return abs(self.rise) > RAILED.rails_above + ROUNDING

    @property
    def rail(self) -> float:
        """Metres of handrail along one side, with what goes on beyond both its ends."""
        return math.hypot(self.end - self.start, self.rise) + 2 * RAIL_ON


def ramp_runs(path: Path, route: Route, lie: Surface | None) -> tuple[RampRun, ...]:
    """Return the runs of a path that are steeper than a walk may be: of one built to heights, or of one that is held
    against the rule for ramps and follows the ground.
    """
    if len(path.heights) >= 2:
        return _built_runs(path, route.length)
    if lie is None or path.slope_rule != "ramp":
        return ()
    found: list[tuple[float, float, float]] = []
    for low, high in left_by_flights(path, route.length):
        s = np.linspace(low, high, max(2, math.ceil((high - low) / RAILED.landing - ROUNDING) + 1))
        z = lie.at(route.curve.at(s))
        steep = np.abs(np.diff(z)) > LEVEL[0][0] / 100 * np.diff(s) + ROUNDING
        edges = np.flatnonzero(np.diff(np.concatenate(([False], steep, [False]))))
        found += [(float(s[a]), float(s[b]), float(z[b] - z[a])) for a, b in edges.reshape(-1, 2)]
    sloping = [(start, end, rise) for start, end, rise in found if abs(rise) > ROUNDING]
    return tuple(RampRun(number=n, start=a, end=b, rise=rise) for n, (a, b, rise) in enumerate(sloping, 1))


def _built_runs(path: Path, length: float) -> tuple[RampRun, ...]:
    steep = [
        (a.share * length, b.share * length)
        for a, b in pairwise(path.heights)
        if abs(b.height - a.height) > LEVEL[0][0] / 100 * (b.share - a.share) * length + ROUNDING
    ]
    shares, heights = [one.share * length for one in path.heights], [one.height for one in path.heights]
    found: list[RampRun] = []
    for low, high in left_by_landings(path, length):
        within = [(max(a, low), min(b, high)) for a, b in steep if b > low + ROUNDING and a < high - ROUNDING]
        if within:
            start, end = within[0][0], within[-1][1]
            rise = float(np.interp(end, shares, heights) - np.interp(start, shares, heights))
            if abs(rise) > ROUNDING:
                found.append(RampRun(number=len(found) + 1, start=start, end=end, rise=rise))
    return tuple(found)


def rail_findings(path: Path, runs: Sequence[RampRun]) -> tuple[Finding, ...]:
    """Return which runs of a ramp want handrails that are not to be built."""
    bare = [] if path.handrails else [one for one in runs if one.wants_rails]
    if not bare:
        return ()
    most = max(abs(one.rise) for one in bare)
    what = (
        f"rises {show_length(most)} as a ramp without a rest: it wants handrails on both sides, 34 to 38 in high; "
        f"{LOCAL_CODE}"
    )
    return (
        Finding(
            where=f'path "{path.name}"',
            what=what,
            source=RAILED.source,
            seriousness="caution",
            topic="access",
            rule=NO_RAILS,
            beside=path.name,
        ),
    )


def rail_lines(run: RampRun, route: Route) -> tuple[FloatArray, FloatArray]:
    """Return where along the path (n,) a run's handrails are drawn, and their places (2, n, 2) on its two edges."""
    on = float(RAIL_ON)
    s = np.linspace(
        max(0.0, run.start - on),
        min(route.length, run.end + on),
        max(2, math.ceil((run.end - run.start) / STATION) + 1),
    )
    half = np.full(len(s), route.width / 2)
    return s, np.array([route.curve.beside(s, way * half) for way in (1, -1)])


def way_up(run: RampRun, route: Route) -> Line:
    """Return the middle line of a run from its foot to its head."""
    s = np.linspace(run.start, run.end, max(2, math.ceil((run.end - run.start) / STATION) + 1))
    return tuple((float(x), float(y)) for x, y in route.curve.at(s if run.rise > 0 else s[::-1]))
