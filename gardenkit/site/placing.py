"""Where each measured point must roughly lie, found by crossing tapes the way one does with compasses on paper."""

import math
from collections.abc import Iterator

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import Point, heading, towards
from gardenkit.site.loci import Known, Locus, SideQuestion, crossing, from_baseline, refuse_gap
from gardenkit.site.survey import (
    Angle,
    Bearing,
    Measure,
    Offset,
    Reading,
    RightAngle,
    Running,
    Side,
    SlopeTie,
    Survey,
    Tie,
    label,
    level_distance,
    names,
    points_of,
    readings,
)

CLOSE_ENOUGH = 4.0  # standard errors two tapes may fall short and still count as meeting. House value.
CLEARLY = 6.0  # how much better (sum of log misfits) one of two mirrored places must fit to be taken. House value.
RANDOM_STARTS = 12  # further tries where no two tapes cross at placed points. House value.
MOST_BRANCHES = 64  # mirrored arrangements tried before the better fitting one is simply taken. House value.
SAME_CHANCE = 9.0  # squared misfits nearer than this (3 standard errors) cannot be told apart

Matrix = NDArray[np.float64]


@attrs.frozen(kw_only=True)
class Layout:
    """One possible arrangement of all points in metres, and the mirror choices (point, start, end) made on the way."""

    points: Known
    choices: tuple[tuple[str, str, str], ...] = ()


def layouts(survey: Survey, *, y_bearing: float | None = None) -> tuple[Layout, ...]:
    """Return every arrangement of the points that the measures leave open, before adjustment.

    ``y_bearing`` is where the plan's y axis points, degrees from north, None when unknown. Raises GardenError for
    points that nothing fixes or tapes that cannot meet, SideQuestion where only the designer can tell left from right.
    """
    known, _ = datum(survey, y_bearing=y_bearing)
    search = _Search(survey, y_bearing)
    search.refuse_loose(known)
    found = list(search.arrange(known, ()))
    return tuple(found)


def datum(survey: Survey, *, y_bearing: float | None = None) -> tuple[Known, bool]:
    """Return the points that hold the plan in place, and whether the plan lies free (fewer than two fixed stations).

    A free plan starts at its one fixed station or its first measured point, with its first tie along the x axis.
    """
    known = {station.name: station.at for station in survey.stations if station.at is not None}
    if len(known) >= 2:
        return known, False
    ties = [(r.points[0], r.points[1], r.value, r.measure) for r in readings(survey) if r.part == "distance"]
    if known:
        ties = [t for t in ties if set(t[:2]) & set(known)]
    if not ties:
        where = f' from the fixed station "{next(iter(known))}"' if known else ""
        raise GardenError(f"the survey has no tie{where} to start the plan from; measure one length between two points")
    if y_bearing is not None:
        taken = {frozenset(points_of(m)): m for m in survey.measures if isinstance(m, Bearing)}
        aimed = [t for t in ties if frozenset(t[:2]) in taken]
        if aimed:
            a, b, far, _ = aimed[0]
            seen = taken[frozenset((a, b))]
            direction = seen.degrees + survey.declination - y_bearing + (0 if seen.a == a else 180)
            a, b, direction = (b, a, direction + 180) if b in known else (a, b, direction)
            start = known.get(a, (0.0, 0.0))
            return {a: start, b: towards(start, direction, far)}, True
    a, b, far, _ = ties[0]
    a, b = (b, a) if b in known else (a, b)
    x, y = known.get(a, (0.0, 0.0))
    return {a: (x, y), b: (x + far, y)}, True


class _Search:
    """Places point after point; where a mirror image stays possible it follows both."""

    def __init__(self, survey: Survey, y_bearing: float | None) -> None:
        self.survey, self.y_bearing = survey, y_bearing
        self.names = names(survey)
        self.readings = readings(survey)
        self.of: dict[str, list[Reading]] = {name: [] for name in self.names}
        for r in self.readings:
            for name in r.points:
                self.of[name].append(r)
        self.branches = 1

    def refuse_loose(self, known: Known) -> None:
        """Raise GardenError for a point with fewer than two numbers that tell where it is."""
        for name in self.names:
            if name in known or len(self.of[name]) >= 2:
                continue
            if not self.of[name]:
                raise GardenError(f'nothing fixes "{name}": it has no measure; tie it to two known points or remove it')
            has = label(self.survey.measures[self.of[name][0].measure])
            others = [n for n in self.names if n != name]
            raise GardenError(
                f'nothing fixes "{name}": it has only {has}; tie it to a second point, or correct its name'
                f"{nearest(name, others)}"
            )

    def arrange(self, known: Known, choices: tuple[tuple[str, str, str], ...]) -> Iterator[Layout]:
        known = dict(known)
        while len(known) < len(self.names):
            waiting: list[tuple[str, tuple[Point, Point], tuple[str, str]]] = []
            placed = False
            for name in self.names:
                if name in known:
                    continue
                places, ends = self.candidates(name, known)
                if not places:
                    continue
                spot = places[0] if len(places) == 1 else self.decided(name, places, known)
                if spot is None:
                    waiting.append((name, (places[0], places[1]), ends))
                    continue
                known[name] = spot
                placed = True
            if placed:
                continue
            if not waiting:
                yield from (Layout(points=found, choices=choices) for found in self.spread_out(known))
                return
            self.ask_hopeless(waiting, known)
            name, places2, ends = waiting[0]
            if self.branches >= MOST_BRANCHES:
                known[name] = min(places2, key=lambda at: self.misfit(name, at, known)[0])
                continue
            self.branches += 1
            for at in places2:
                yield from self.arrange({**known, name: at}, (*choices, (name, *ends)))
            return
        yield Layout(points=known, choices=choices)

    def ask_hopeless(self, waiting: list[tuple[str, tuple[Point, Point], tuple[str, str]]], known: Known) -> None:
        """Raise SideQuestion for points whose measures all lead to placed points and fit both mirrored places alike."""
        hopeless = []
        for name, (one, two), ends in waiting:
            if any(p not in known and p != name for r in self.of[name] for p in r.points):
                continue
            if abs(self.misfit(name, one, known)[1] - self.misfit(name, two, known)[1]) < SAME_CHANCE:
                hopeless.append((name, *ends))
        if hopeless:
            raise SideQuestion(tuple(hopeless))

    def decided(self, name: str, places: list[Point], known: Known) -> Point | None:
        """Return the one of two mirrored places that a side note or the other measures point to, or None."""
        for note in self.survey.sides:
            if note.point == name and note.start in known and note.end in known:
                right = [at for at in places if on_side(note, at, known)]
                if len(right) == 1:
                    return right[0]
        one, two = (self.misfit(name, at, known)[0] for at in places)
        if abs(one - two) < CLEARLY:
            return None
        return places[0] if one < two else places[1]

    def misfit(self, name: str, at: Point, known: Known) -> tuple[float, float]:
        """Return how badly the readings fit with ``name`` at a place: sum of logs (for deciding) and of squares."""
        trial = {**known, name: at}
        squares = [
            (difference(r, trial, self.north(trial)) / r.sigma) ** 2
            for r in self.of[name]
            if all(p in trial for p in r.points) and (r.part != "bearing" or self.north(trial) is not None)
        ]
        return sum(math.log1p(s) for s in squares), sum(squares)

    def north(self, known: Known) -> float | None:
        """Return where the plan's y axis points, given or read off the first bearing between placed points."""
        if self.y_bearing is not None:
            return self.y_bearing
        for r in self.readings:
            if r.part == "bearing" and all(p in known for p in r.points):
                return (r.value - heading(known[r.points[0]], known[r.points[1]])) % 360
        return None

    def candidates(self, name: str, known: Known) -> tuple[list[Point], tuple[str, str]]:
        """Return the one or two places the best pair of measures leaves for a point, and the two ends it hangs on."""
        loci = [found for i, m in enumerate(self.survey.measures) for found in self.loci(i, m, name, known)]
        best: tuple[float, list[Point], tuple[str, str]] = (-1.0, [], ("", ""))
        for locus in loci:
            if locus.is_point:
                return [locus.centre], (locus.other, locus.other)
        gap: tuple[Locus, Locus] | None = None
        for i, a in enumerate(loci):
            for b in loci[i + 1 :]:
                if math.dist(a.centre, b.centre) < 1e-9 and a.radius is not None and b.radius is not None:
                    continue
                places, quality = crossing(a, b)
                if not places:
                    gap = gap or (a, b)
                elif quality > best[0]:
                    best = (quality, places, (a.other, b.other))
        if not best[1] and gap:
            return self.across_gap(name, gap, len(loci)), (gap[0].other, gap[1].other)
        return best[1], best[2]

    def across_gap(self, name: str, gap: tuple[Locus, Locus], measures: int) -> list[Point]:
        """Return a compromise where two tapes fall short; raises GardenError when no further measure can tell which."""
        a, b = gap
        if a.radius is None or b.radius is None:
            if measures > 2 or len(self.of[name]) > 2:
                return []
            raise GardenError(f'the tape to "{name}" never meets the direction it was sighted in; measure both again')
        length = math.dist(a.centre, b.centre)
        slack = CLOSE_ENOUGH * math.hypot(a.sigma, b.sigma)
        if len(self.of[name]) <= 2:
            refuse_gap(length, a.radius, b.radius, ends=(a.other, b.other), point=f'"{name}"', slack=slack)
        x = (a.radius**2 - b.radius**2 + length**2) / (2 * length)
        return [towards(a.centre, heading(a.centre, b.centre), x)]

    def loci(self, index: int, m: Measure, name: str, known: Known) -> Iterator[Locus]:
        """Yield what one measure says about a point whose partners are placed."""
        others = [p for p in points_of(m) if p != name]
        if name not in points_of(m) or not all(p in known for p in others):
            return
        sigma = next(r.sigma for r in self.readings if r.measure == index)
        base = Locus(measure=index, centre=known[others[0]], other=others[0], sigma=sigma)
        if isinstance(m, (Tie, SlopeTie)):
            yield attrs.evolve(base, radius=m.distance if isinstance(m, Tie) else level_distance(m))
        elif isinstance(m, (Offset, Running)):
            yield from from_baseline(m, name, known, base)
        elif isinstance(m, Bearing):
            north = self.north(known)
            if north is not None:
                turn = m.degrees + self.survey.declination - north + (0 if name == m.b else 180)
                yield attrs.evolve(base, degrees=turn % 360)
        elif isinstance(m, Angle) and name != m.at:
            turn = heading(known[m.at], known[m.a if name == m.b else m.b]) + (m.angle if name == m.b else -m.angle)
            yield attrs.evolve(base, centre=known[m.at], other=m.at, degrees=turn % 360)
        elif isinstance(m, RightAngle):
            if name == m.corner:
                a, b = known[m.a], known[m.b]
                middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                yield attrs.evolve(base, centre=middle, radius=math.dist(a, b) / 2)
            else:
                other = known[m.a if name == m.b else m.b]
                turn = (heading(known[m.corner], other) + 90) % 360
                yield attrs.evolve(base, centre=known[m.corner], other=m.corner, degrees=turn, both_ways=True)

    def spread_out(self, known: Known) -> list[Known]:
        """Return first guesses for points no crossing reaches: by shortest taped ways, mirrored, and scattered.

        Classical scaling (Torgerson 1952) of the shortest-way distances, fitted onto the points already placed.
        """
        order, count = list(self.names), len(self.names)
        far = np.full((count, count), np.inf)
        np.fill_diagonal(far, 0.0)
        for a, b, length in _taped(self.readings):
            i, j = order.index(a), order.index(b)
            far[i, j] = far[j, i] = min(far[i, j], length)
        held = [order.index(n) for n in known]
        for i in held:
            for j in held:
                far[i, j] = math.dist(known[order[i]], known[order[j]])
        for k in range(count):
            far = np.minimum(far, far[:, k : k + 1] + far[k : k + 1, :])
        loose = [order[i] for i in range(count) if not np.isfinite(far[i, held[0]])]
        if loose:
            raise GardenError(f'nothing joins "{loose[0]}" to the rest of the plan; tie it to two placed points')
        flat, onto = _scaled_flat(far), np.array([known[order[i]] for i in held])
        starts = [_fitted(flat * np.array([1.0, mirror]), held, onto) for mirror in (1.0, -1.0)]
        reach = float(far.max()) / 2
        random = np.random.default_rng(1)  # the same starts every time
        starts += [onto.mean(axis=0) + random.uniform(-reach, reach, (count, 2)) for _ in range(RANDOM_STARTS)]
        return [{n: known.get(n, (float(s[i, 0]), float(s[i, 1]))) for i, n in enumerate(order)} for s in starts]


def on_side(note: Side, at: Point, known: Known) -> bool:
    """Return whether a place lies on the noted side of the line from start to end."""
    (ax, ay), (bx, by) = known[note.start], known[note.end]
    left = (bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax)
    return left > 0 if note.side == "left" else left < 0


def difference(r: Reading, known: Known, north: float | None) -> float:
    """Return calculated minus measured for one reading, in metres or degrees (-180 to 180)."""
    at = [known[p] for p in r.points]
    if r.part == "distance":
        return math.dist(at[0], at[1]) - r.value
    if r.part in ("turn", "square"):
        turn = heading(at[0], at[2]) - heading(at[0], at[1])
        if r.part == "square":
            return abs((turn + 180) % 360 - 180) - r.value
        return (turn - r.value + 180) % 360 - 180
    if r.part == "bearing":
        return (heading(at[0], at[1]) + (north or 0.0) - r.value + 180) % 360 - 180
    length = math.dist(at[0], at[1]) or 1e-12
    ux, uy = (at[1][0] - at[0][0]) / length, (at[1][1] - at[0][1]) / length
    wx, wy = at[2][0] - at[0][0], at[2][1] - at[0][1]
    return (wx * ux + wy * uy if r.part == "along" else ux * wy - uy * wx) - r.value


def _taped(found: tuple[Reading, ...]) -> Iterator[tuple[str, str, float]]:
    along = {r.measure: r.value for r in found if r.part == "along"}
    for r in found:
        if r.part == "distance":
            yield r.points[0], r.points[1], r.value
        elif r.part == "off":
            yield r.points[0], r.points[2], math.hypot(r.value, along[r.measure])


def _scaled_flat(far: Matrix) -> Matrix:
    count = len(far)
    centring = np.eye(count) - 1.0 / count
    values, vectors = np.linalg.eigh(-0.5 * centring @ far**2 @ centring)
    return np.asarray(vectors[:, -2:] * np.sqrt(np.maximum(values[-2:], 1e-12)), dtype=float)


def _fitted(laid: Matrix, held: list[int], onto: Matrix) -> Matrix:
    """Return the layout turned and shifted (never mirrored or scaled) to fall best on the held points."""
    here, there = laid[held].mean(axis=0), onto.mean(axis=0)
    a, b = laid[held] - here, onto - there
    angle = math.atan2(float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()), float((a * b).sum()))
    turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    return np.asarray((laid - here) @ turn + there, dtype=float)
