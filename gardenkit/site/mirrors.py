"""Which of the mirrored arrangements that tapes allow is the true one: the best fit, unless another fits as well."""

import math

import attrs

from gardenkit.findings import GardenError
from gardenkit.site import fitting, placing
from gardenkit.site.fitting import Fit
from gardenkit.site.loci import Known, SideQuestion
from gardenkit.site.placing import Layout
from gardenkit.site.survey import Reading, Side, Survey, readings

WORTH_A_FIT = 50.0  # times the best rough fit, above which an arrangement is dropped. House value.
MOST_FULL_FITS = 8  # arrangements fitted to the end. House value.
DIFFERENT = 10.0  # tape precisions by which a point must move for an arrangement to count as another. House value.
NEAR_MISS = 2.0  # m: a point mirrored over its neighbours is tried when no tape misses by more. House value.


def best_fit(survey: Survey, *, y_bearing: float | None = None) -> Fit:
    """Return the best fitting arrangement of a checked survey.

    Raises SideQuestion, or GardenError naming a tie to measure, when a clearly different one fits as well.
    """
    net = _Net(survey=survey, numbers=readings(survey), held=_held(survey, y_bearing), y_bearing=y_bearing)
    laid = placing.layouts(survey, y_bearing=y_bearing)
    tried: list[tuple[Fit, Layout]] = []
    trouble: GardenError | None = None
    for layout, start in net.promising(laid):
        try:
            found = net.fit(start)
        except GardenError as error:
            trouble = error
            continue
        if net.allowed(found.points):
            tried.append((found, layout))
    if not tried:
        raise trouble or net.contradiction(laid)
    best, layout = min(tried, key=lambda pair: pair[0].square_sum)
    best, others = net.mirrored(best)
    limit = best.square_sum + placing.SAME_CHANCE * max(1.0, best.square_sum / max(best.spare, 1))
    for other in [found for found, _ in tried] + others:
        moved = net.moved(best, other)
        if moved and other.square_sum < limit:
            raise _question(best.points, other.points, moved, layout)
    return best


@attrs.frozen(kw_only=True)
class _Net:
    """One survey to be fitted from several starts."""

    survey: Survey
    numbers: tuple[Reading, ...]
    held: frozenset[tuple[str, int]]
    y_bearing: float | None

    def fit(self, start: Known, *, rough: bool = False) -> Fit:
        north = self.y_bearing if self.y_bearing is not None else _north(self.numbers, start)
        return fitting.fit(self.numbers, start, self.held, north=north, turn=self.y_bearing is None, rough=rough)

    def allowed(self, points: Known) -> bool:
        return all(placing.on_side(note, points[note.point], points) for note in self.survey.sides)

    def moved(self, one: Fit, two: Fit) -> list[str]:
        far = DIFFERENT * self.survey.tape_precision
        return [n for n in one.points if math.dist(one.points[n], two.points[n]) > far]

    def contradiction(self, laid: tuple[Layout, ...]) -> GardenError:
        """Return what to say when no arrangement lies as the side notes tell, naming the note the best one breaks."""
        best = min((self.fit(layout.points, rough=True) for layout in laid), key=lambda found: found.square_sum)
        broken = [n for n in self.survey.sides if not placing.on_side(n, best.points[n.point], best.points)]
        note = (broken or list(self.survey.sides))[0]
        return GardenError(
            f'the tapes contradict the note that "{note.point}" is on the {note.side} looking from {note.start} to '
            f"{note.end}; check left and right, then measure the tapes to {note.point} again"
        )

    def promising(self, laid: tuple[Layout, ...]) -> list[tuple[Layout, Known]]:
        """Return the arrangements worth a full fit with better first guesses: a rough fit weeds out the rest."""
        if len(laid) <= 2:
            return [(layout, layout.points) for layout in laid]
        rough = []
        for layout in laid:
            found = self.fit(layout.points, rough=True)
            if self.allowed(found.points):
                rough.append((found.square_sum, layout, found.points))
        limit = WORTH_A_FIT * (min((one[0] for one in rough), default=0.0) + len(self.numbers))
        kept: list[tuple[Layout, Known]] = []
        for square_sum, layout, points in sorted(rough, key=lambda one: one[0]):
            gaps = [max(math.dist(points[n], other[n]) for n in points) for _, other in kept]
            new = all(gap > self.survey.tape_precision for gap in gaps)
            if square_sum <= limit and new and len(kept) < MOST_FULL_FITS:
                kept.append((layout, points))
        return kept

    def mirrored(self, best: Fit) -> tuple[Fit, list[Fit]]:
        """Return the best fit and the others found when the plan, or one point at a time, is mirrored and refitted."""
        others: list[Fit] = []
        for start in self._mirrors(best.points):
            try:
                found = self.fit(start)
            except GardenError:
                continue
            if not self.allowed(found.points) or not self.moved(best, found):
                continue
            if found.square_sum < best.square_sum - 1e-6:
                best, found = found, best
            others.append(found)
        return best, others

    def _mirrors(self, points: Known) -> list[Known]:
        starts = []
        first, *rest = placing.datum(self.survey, y_bearing=self.y_bearing)[0]
        free = sum(1 for station in self.survey.stations if station.at is not None) < 2
        if free and len(points) > 2:
            starts.append({n: _over(at, points[first], points[rest[0]]) for n, at in points.items()})
        for name in points:
            own = [r for r in self.numbers if name in r.points]
            ends = sorted({p for r in own for p in r.points if p != name})
            if self.held & {(name, 0), (name, 1)} or len(ends) < 2 or any(r.part != "distance" for r in own):
                continue
            a, b = max(
                ((p, q) for i, p in enumerate(ends) for q in ends[i + 1 :]),
                key=lambda pq: math.dist(points[pq[0]], points[pq[1]]),
            )
            if math.dist(points[a], points[b]) < 1e-6:
                continue
            trial = {**points, name: _over(points[name], points[a], points[b])}
            if all(abs(placing.difference(r, trial, None)) < NEAR_MISS for r in own):
                starts.append(trial)
        return starts


def _over(at: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    """Return a point mirrored over the line through a and b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / (dx * dx + dy * dy)
    foot = (a[0] + share * dx, a[1] + share * dy)
    return (2 * foot[0] - at[0], 2 * foot[1] - at[1])


def _question(one: Known, two: Known, moved: list[str], layout: Layout) -> GardenError:
    """Return what to ask when two arrangements fit alike: a side that differs, or a tie that would tell them apart."""

    def left(points: Known, p: str, s: str, e: str) -> bool:
        return placing.on_side(Side(start=s, end=e, point=p, side="left"), points[p], points)

    order = [n for n in one if n not in moved] + moved
    asked = [c for c in layout.choices if c[0] in moved and c[1] != c[2]]
    asked += [(p, s, e) for p in moved for s in order for e in order if len({p, s, e}) == 3]
    for p, s, e in asked:
        if left(one, p, s, e) != left(two, p, s, e):
            return SideQuestion(((p, s, e),))
    far = max(
        ((p, q) for p in moved for q in order if p != q),
        key=lambda pq: abs(math.dist(one[pq[0]], one[pq[1]]) - math.dist(two[pq[0]], two[pq[1]])),
    )
    return GardenError(f"two arrangements of the points fit the measures alike; also measure {far[0]} to {far[1]}")


def _held(survey: Survey, y_bearing: float | None) -> frozenset[tuple[str, int]]:
    known, free = placing.datum(survey, y_bearing=y_bearing)
    first, *rest = known
    held = {(n, axis) for n in ([first] if free else known) for axis in (0, 1)}
    aimed = y_bearing is not None and any(r.part == "bearing" for r in readings(survey))
    if free and not aimed:
        held.add((rest[0], 1))
    return frozenset(held)


def _north(numbers: tuple[Reading, ...], points: Known) -> float | None:
    turns = [placing.difference(r, points, 0.0) for r in numbers if r.part == "bearing"]
    if not turns:
        return None
    east = sum(math.sin(math.radians(-t)) for t in turns)
    north = sum(math.cos(math.radians(-t)) for t in turns)
    return math.degrees(math.atan2(east, north)) % 360
