"""Sightlines from the gate, the window or the seat: ground in view, how much of the path shows, and what hides what.

Bodies that hide a view are plain solids (``project.solids(year)`` gathers them), so a screen in leaf and the same
screen bare are told apart by month. Eye and target heights are metres above the plan's zero level, as the solids' are.
"""

import math
from collections.abc import Collection, Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry import plane, sight
from gardenkit.geometry.isovist import Isovist, cross, edges_of, sweep
from gardenkit.geometry.isovist_measures import Measures, measures
from gardenkit.geometry.plane import FloatArray, Outline, Point, Region
from gardenkit.geometry.solid import Months, Solid
from gardenkit.sources import HOUSE, MEMORY, Figure

EYE_TABLE = "City Univ. of Hong Kong, anthropometry tables"
STANDING_EYE = Figure(1.60, "m", f"a fair adult mean of the {EYE_TABLE}")
SEATED_EYE = Figure(1.20, "m", f"seated, 1.15 to 1.2 m; {MEMORY}")
SEEN_FROM = Figure(0.5, "share of the light", HOUSE)  # a thing shows when at least half the view to it gets through
OFF_WALL = Figure(0.05, "m", HOUSE)  # an eye at a door or gate is put this far into the open ground
BOUNDARY = "boundary"
Eye = tuple[float, float, float]


@attrs.frozen(kw_only=True)
class Stop:
    """What ends the view: its name, its share of all directions, and the length of its edge seen, in metres."""

    name: str
    share: float
    length: float


@attrs.frozen(eq=False, kw_only=True)
class View:
    """The level view from one spot: the seen ground, its measures, and what ends it, largest share first."""

    eye: Eye
    isovist: Isovist
    measures: Measures
    names: tuple[str, ...]  # of the isovist's segments, then of its circles
    stops: tuple[Stop, ...]
    looked_through: tuple[str, ...]  # bodies the eye stands in

    def outline(self) -> Outline:
        """Return the seen ground as an outline."""
        return self.isovist.outline()


@attrs.frozen(eq=False, kw_only=True)
class Seen:
    """How much of some points is seen: ``light`` (n,) the share of each that gets through, ``share`` those that show.

    ``hidden_by`` gives for each body the share of all points that it hides, alone or with others, largest first.
    """

    light: FloatArray
    shown: NDArray[np.bool_]
    share: float
    hidden_by: tuple[tuple[str, float], ...]


@attrs.frozen(kw_only=True)
class Screening:
    """How much of one place is screened from another: twelve shares, and those of each body alone, largest first."""

    share: Months
    by: tuple[tuple[str, Months], ...]

    @property
    def percent(self) -> tuple[float, ...]:
        """How much is screened in each month, in percent."""
        return tuple(100 * share for share in self.share)

    @property
    def weakest_month(self) -> int:
        """Month (1 to 12) with the least screening, the first of equals."""
        return 1 + min(range(12), key=lambda m: self.share[m])


# ---- the eye


def eye_at(at: Sequence[float], *, ground: float = 0.0, height: float = STANDING_EYE) -> Eye:
    """Return the eye over a point of the plan, ``height`` metres above the ground there: 1.60 standing, 1.20 seated."""
    if not 0.0 < height < 2.5:
        raise GardenError(f"an eye {height:g} m above the ground is not a person's; give 0 to 2.5 m, such as 1.6")
    return (float(at[0]), float(at[1]), float(ground + height))


def into_the_open(at: Sequence[float], ground: Region, *, step: float = OFF_WALL) -> Point:
    """Return a point on or near a wall moved ``step`` metres into the open ground; a point well inside stays.

    Raises GardenError when no open ground is within ``step`` of it.
    """
    here = np.array([[float(at[0]), float(at[1])]])
    edge = ground.boundary
    if plane.inside(ground, here)[0] and plane.point_distances(here, edge)[0] >= step * 0.5:
        return (float(at[0]), float(at[1]))
    angles = np.linspace(0.0, 2.0 * math.pi, 32, endpoint=False)
    around = here + step * np.column_stack((np.cos(angles), np.sin(angles)))
    around = around[plane.inside(ground, around)]
    if not len(around):
        raise GardenError(
            f"the eye at ({at[0]:.2f}, {at[1]:.2f}) m is not on open ground; move it out of the house or into the plot"
        )
    best = around[int(np.argmax(np.round(plane.point_distances(around, edge), 9)))]
    return (float(best[0]), float(best[1]))


# ---- the level view


def view(
    eye: Eye,
    boundary: Sequence[Sequence[float]],
    *,
    solids: Sequence[Solid] = (),
    month: int = 6,
    reach: float = math.inf,
    seen_from: float = SEEN_FROM,
) -> View:
    """Return the ground in view at eye level, inside the plot's ``boundary`` and as far as ``reach`` metres.

    A body hides what is behind it where it stands at the height of the eye and lets less than ``seen_from`` of the
    view through in that month; a low hedge is looked over (``blind_ground`` in perspective.py tells what it hides of
    the ground) and a high crown under. Raises GardenError for a month outside 1 to 12.
    """
    cut = _level_cut(eye, solids, _month(month), seen_from)
    edges = edges_of(boundary) if len(boundary) else np.zeros((0, 4))
    found = sweep(eye, np.vstack((edges, *cut.segments)), circles=np.reshape(cut.circles, (-1, 3)), reach=reach)
    names = (*[BOUNDARY] * len(edges), *cut.line_names, *cut.ring_names)
    return View(
        eye=eye,
        isovist=found,
        measures=measures(found),
        names=names,
        stops=_stops(found, names),
        looked_through=tuple(cut.inside),
    )


# ---- points, paths and places


def seen(
    eye: Eye,
    points: FloatArray,
    solids: Sequence[Solid],
    *,
    month: int = 6,
    without: Collection[str] = (),
    seen_from: float = SEEN_FROM,
) -> Seen:
    """Return how much of the points (n, 2 on the zero level, or n, 3) is seen from the eye past the solids in a month.

    Give a path's points evenly spaced and ``share`` is the share of the path seen. ``without`` names bodies to leave
    out.
    """
    return seen_in(eye, points, solids, (month,), without=without, seen_from=seen_from)[0]


def seen_in(
    eye: Eye,
    points: FloatArray,
    solids: Sequence[Solid],
    months: Sequence[int],
    *,
    without: Collection[str] = (),
    seen_from: float = SEEN_FROM,
) -> tuple[Seen, ...]:
    """Return the same in several months: the lines of sight are the same in all, only the leaves are not."""
    targets = _raised(points)
    if not len(targets):
        raise GardenError("there is nothing to look at; give at least one point")
    kept = [s for s in solids if s.name not in without] if without else solids
    hit = sight.hits(np.broadcast_to(eye, targets.shape), targets, kept)
    met = np.flatnonzero(hit.any(axis=0)).tolist()
    kept, hit = [kept[k] for k in met], hit[:, met]
    light = sight.light_through(hit, kept)
    return tuple(_seen(kept, hit, light[:, _month(month)], _month(month), seen_from) for month in months)


def _seen(kept: Sequence[Solid], hit: NDArray[np.bool_], light: FloatArray, month: int, seen_from: float) -> Seen:
    shown = light >= seen_from
    hiding: dict[str, NDArray[np.bool_]] = {}
    for k, solid in enumerate(kept):
        if solid.light[month] < 1.0:
            hiding[solid.name] = hiding.get(solid.name, np.zeros(len(light), dtype=bool)) | (hit[:, k] & ~shown)
    hidden = [(name, float(mask.mean())) for name, mask in hiding.items() if mask.any()]
    return Seen(
        light=light,
        shown=shown,
        share=float(shown.mean()),
        hidden_by=tuple(sorted(hidden, key=lambda pair: -pair[1])),
    )


def screening(
    eyes: FloatArray, targets: FloatArray, solids: Sequence[Solid], *, without: Collection[str] = ()
) -> Screening:
    """Return how much of ``targets`` (m, 3) is screened from ``eyes`` (n, 3), by month, over all lines of sight.

    The share is one less the mean light that gets through; bodies behind one another multiply. Take the solids of the
    year in question.
    """
    from_each, to_each = _raised(eyes), _raised(targets)
    if not len(from_each) or not len(to_each):
        raise GardenError("screening needs at least one point to look from and one to look at")
    start = np.repeat(from_each, len(to_each), axis=0)
    end = np.tile(to_each, (len(from_each), 1))
    kept = [s for s in solids if s.name not in without] if without else solids
    hit = sight.hits(start, end, kept)
    by = []
    for name in dict.fromkeys(s.name for s in kept):
        own = np.array([s.name == name for s in kept])
        alone = _months(1.0 - sight.light_through(hit[:, own], [s for s in kept if s.name == name]).mean(axis=0))
        if max(alone) > 0.0:
            by.append((name, alone))
    by.sort(key=lambda pair: -sum(pair[1]))
    return Screening(share=_months(1.0 - sight.light_through(hit, kept).mean(axis=0)), by=tuple(by))


def level_points(outline: Outline, height: float, *, spacing: float = 0.5) -> FloatArray:
    """Return points over an outline such as a patio, ``spacing`` metres apart, at one height, (n, 3); at least one."""
    ground = plane.region(outline)
    left, bottom, right, top = plane.bounds(ground)
    x, y = np.meshgrid(np.arange(left + spacing / 2, right, spacing), np.arange(bottom + spacing / 2, top, spacing))
    points = np.column_stack((x.ravel(), y.ravel()))
    points = points[plane.inside(ground, points)]
    if not len(points):
        points = np.array([plane.centre(ground)])
    return np.column_stack((points, np.full(len(points), height)))


def path_finding(name: str, eye_name: str, part: Seen) -> Finding:
    """Return in one sentence how much of a path is seen from a place and what hides most of the rest."""
    what = f"{100 * part.share:.0f} % of the path shows from {eye_name}"
    if part.hidden_by:
        what += f"; most of the rest is hidden by {part.hidden_by[0][0]}"
    why = f"a point shows when at least {100 * SEEN_FROM:.0f} % of the view to it gets through"
    return Finding(where=name, what=what, why=why, source=HOUSE, topic="view")


def screening_finding(place: str, eye_name: str, screen: Screening, *, wanted: float = 0.8) -> Finding:
    """Return how well a place is screened in its weakest month; a caution below the ``wanted`` share (house value)."""
    month, least, most = screen.weakest_month, min(screen.share), max(screen.share)
    what = f"screened {100 * least:.0f} % from {eye_name} in month {month}, {100 * most:.0f} % at best"
    return Finding(
        where=place,
        what=what,
        why=f"wanted {100 * wanted:.0f} % all year",
        source=HOUSE,
        seriousness="caution" if least < wanted else "note",
        topic="screening",
    )


# ---- helpers


def _month(month: int) -> int:
    if month not in range(1, 13):
        raise GardenError(f"there is no month {month}; give 1 for January to 12 for December")
    return month - 1


def _months(shares: FloatArray) -> Months:
    return tuple(min(1.0, max(0.0, float(s))) for s in shares)


def _raised(points: FloatArray) -> FloatArray:
    given = np.atleast_2d(np.asarray(points, dtype=float))
    if given.size == 0:
        return np.zeros((0, 3))
    return given if given.shape[1] == 3 else np.column_stack((given, np.zeros(len(given))))


def _name(names: Sequence[str], number: int) -> str:
    return names[number] if number >= 0 else ""


def _stops(found: Isovist, names: Sequence[str]) -> tuple[Stop, ...]:
    turn = found.end - found.start
    p = found.near[:, None] * np.column_stack((np.cos(found.start), np.sin(found.start)))
    q = found.far[:, None] * np.column_stack((np.cos(found.end), np.sin(found.end)))
    long = np.hypot(*(q - p).T)
    totals: dict[str, tuple[float, float]] = {}
    for k, number in enumerate(found.stop):
        share, length = totals.get(_name(names, int(number)), (0.0, 0.0))
        totals[_name(names, int(number))] = (share + float(turn[k]) / (2.0 * math.pi), length + float(long[k]))
    totals.pop("", None)
    stops = [Stop(name=name, share=share, length=length) for name, (share, length) in totals.items()]
    return tuple(sorted(stops, key=lambda stop: -stop.share))


@attrs.define(eq=False)
class _Cut:
    segments: list[FloatArray] = attrs.Factory(list)
    circles: list[sight.Ring] = attrs.Factory(list)
    line_names: list[str] = attrs.Factory(list)
    ring_names: list[str] = attrs.Factory(list)
    inside: list[str] = attrs.Factory(list)


def _level_cut(eye: Eye, solids: Sequence[Solid], month: int, seen_from: float) -> _Cut:
    """Return where solids that hide stand at eye height, with their names, and the names of those the eye stands in."""
    cut = _Cut()
    for solid in solids:
        if solid.light[month] >= seen_from:
            continue
        outline, rings = sight.section(solid, eye[2])
        if outline and _stands_in(outline, eye):
            cut.inside.append(solid.name)
        elif len(outline) > 1:
            edges = edges_of(outline, closed=len(outline) > 2)
            cut.segments.append(edges)
            cut.line_names.extend([solid.name] * len(edges))
        for x, y, radius in rings:
            if math.dist((x, y), eye[:2]) <= radius:
                cut.inside.append(solid.name)
            else:
                cut.circles.append((x, y, radius))
                cut.ring_names.append(solid.name)
    return cut


def _stands_in(outline: Outline, eye: Eye) -> bool:
    a = np.asarray(outline) - eye[:2]
    turn = cross(a, np.roll(a, -1, axis=0))
    return len(outline) > 2 and bool((turn > 0).all())
