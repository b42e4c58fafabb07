"""How a path swings in fair curves: one arc, or unequal swings, the longer where there is room; or along a side."""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.geometry import fairing, plane, ways
from gardenkit.geometry.curve import Curve
from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.clear_ground import Ground
from gardenkit.structure.structure import Path

STEP = 0.25  # m between the points that carry the line; house value, speed against detail
MOST_POINTS = 110  # of a line; a longer path has them further apart; numerical choice
SWING = Figure(0.17, "share of a swing's length", HOUSE)  # widest swing: it then leaves its ends at some 40 degrees
ROUND = Figure(1.5, "times the path's width", HOUSE)  # least radius of a turn that is chosen, not forced
SKEW = 40.0  # degrees off square at which a path may leave a gate or door; house value
UNEQUAL = 0.6  # share of the way of the longer of two swings; house value, near the golden section
LITTLE = 0.05  # m: less room than this to one side is none; house value
ALONG = (0.3, 0.5, 0.7)  # shares of the way at which a path along one side is as near it as it comes; house value
SLIVER = 1e-3  # m kept off the limits, more where the curve between two points would cross one; numerical choice
CLEAR = 1e-6  # m off the free ground that is rounding; numerical choice
TRIES = 6  # times the limits may be drawn in; numerical choice
HALVINGS = 5  # of the bend between what turns gently enough and what does not; numerical choice


@attrs.frozen(eq=False, kw_only=True)
class Fitted:
    """A line and the share of the widest swing it has, ``why`` it has no more, and which swings have ``no_room`` at all
    (both in words). ``clear`` says whether all of it is on free ground.
    """

    curve: Curve
    curvature: float
    clear: bool = True
    why: str = "more would come too near something or turn too tightly"
    no_room: str = ""


@attrs.frozen(eq=False, kw_only=True)
class _Peak:
    """Where a swing is widest: point ``index`` of the line, at most ``most`` metres to its left (negative: right)."""

    index: int
    most: float


def least_turn(path: Path) -> float:
    """Return the least radius in metres of the middle line of a turn that nothing forces (house rule)."""
    return ROUND * path.width


def fitted(line: FloatArray, fixed: NDArray[np.bool_], leads: Sequence[int], made: Ground, path: Path) -> Fitted:
    """Return the fairest curve about a line (n, 2) through its ``fixed`` points, swung as far as asked if that stays
    clear and turns gently enough, else as far as it can.

    ``leads`` are the points just within a gate or door, which may lie aside as far as ``SKEW`` allows.
    """
    work = _Work(line, fixed, leads, made, path)
    peaks, blocked = work.peaks()
    asked = path.curvature if peaks or not blocked else 0.0  # between points put by hand it is as bent as they have it
    full = work.curve(peaks, asked)
    if _good(full, path):
        return attrs.evolve(full, why=blocked or full.why, no_room=blocked)
    best, low, high, why = work.curve(peaks, 0.0), 0.0, asked, _why(full, path)
    for _ in range(HALVINGS if asked > 0 else 0):
        tried = work.curve(peaks, (low + high) / 2)
        if _good(tried, path) or _better(tried, best, path):
            best, low = tried, tried.curvature
        else:
            high = tried.curvature
    return attrs.evolve(best, why=why if peaks else blocked, no_room=blocked)


def _good(one: Fitted, path: Path) -> bool:
    return one.clear and one.curve.tightest_radius() >= least_turn(path)


def _better(one: Fitted, than: Fitted, path: Path) -> bool:
    """Return whether a line that turns tighter than liked is the better: clear, and no tighter than what is forced."""
    if not one.clear or _good(than, path):
        return one.clear and not than.clear
    return not than.clear or one.curve.tightest_radius() >= than.curve.tightest_radius()


def _why(full: Fitted, path: Path) -> str:
    if not full.clear:
        return full.why
    x, y = full.curve.points[int(np.abs(full.curve.curvature()).argmax())]
    return f"more would turn tighter than {least_turn(path):.2f} m near {_spot(x, y)}"


def _spot(x: float, y: float) -> str:
    return f"({x:.1f}, {y:.1f}) m"


class _Work:
    """One line being swung: its points, which may not move, and the room beside them."""

    def __init__(
        self, line: FloatArray, fixed: NDArray[np.bool_], leads: Sequence[int], made: Ground, path: Path
    ) -> None:
        self.made, self.path, self.line = made, path, line
        self.along = ways.lengths(line)
        self.normals = fairing.normals_of(line)
        self.pinned = fixed.copy()
        self.pinned[list(leads)] = False
        self.held = np.flatnonzero(self.pinned)
        self.leads = {
            i: math.tan(math.radians(SKEW)) * min(self.along[i], self.along[-1] - self.along[i]) for i in leads
        }
        self.swings = 1 if path.line == "along one side" else path.sway + 1

    def peaks(self) -> tuple[list[_Peak], str]:
        """Return where the swings are widest at full bend, and in words which have no room; none near pinned points."""
        if self.path.curvature == 0:
            return [], ""
        aside = self.path.line == "along one side"
        shares, lengths = (np.array(ALONG), np.ones(len(ALONG))) if aside else self._swings()
        first = 1 if self.path.first_side == "left" else -1
        found, without = list[_Peak](), list[str]()
        for k, share in enumerate(shares):
            side = first if aside else first * (-1) ** k
            i = int(np.searchsorted(self.along, share * self.along[-1]).clip(1, len(self.line) - 2))
            apart = np.abs(self.along[self.held] - self.along[i]).min()
            if apart < 0.25 * self.along[-1] / self.swings:
                continue
            most = self._reach(i, side, 0.7 * apart if aside else SWING * lengths[k] * self.along[-1])
            if abs(most) < LITTLE:
                x, y = self.line[i]
                without.append(f"there is no room to swing {'left' if side > 0 else 'right'} at {_spot(x, y)}")
            else:
                found.append(_Peak(index=i, most=most))
        return found, "; ".join(dict.fromkeys(without))

    def curve(self, peaks: Sequence[_Peak], curvature: float) -> Fitted:
        """Return the fair curve through the peaks at a share of their widest, kept to free ground where it can be."""
        pinned, line = self.pinned.copy(), self.line.copy()
        for peak in peaks if curvature > 0 else ():
            line[peak.index] += curvature * peak.most * self.normals[peak.index]
            pinned[peak.index] = True
        stops = np.flatnonzero(pinned)
        for axis in (0, 1):  # carry the points between along, so that the line starts without a jag
            moved = line[stops, axis] - self.line[stops, axis]
            line[:, axis] = self.line[:, axis] + np.interp(self.along, self.along[stops], moved)
        margin = np.full(len(line), SLIVER)
        for _ in range(TRIES):
            knots = fairing.fair(line, pinned, self._room(margin), self.along[-1] / self.swings)
            curve = fairing.drawn(knots, self.held)
            depth = self._off(curve)
            if depth.max() <= CLEAR:
                return Fitted(curve=curve, curvature=curvature, clear=True)
            after = np.searchsorted(ways.lengths(knots), curve.along).clip(1, len(knots) - 1)
            for i in np.unique(after[depth > CLEAR]):
                margin[max(0, i - 2) : i + 2] += 1.2 * float(depth[after == i].max()) + SLIVER
        x, y = curve.points[int(depth.argmax())]
        return Fitted(
            curve=curve, curvature=curvature, clear=False, why=f"more would come too near something at {_spot(x, y)}"
        )

    def _swings(self) -> tuple[FloatArray, FloatArray]:
        """Return where the middle of each swing is and how long it is, as shares of the way: longer and shorter ones by
        turns, the longer where there is more room.
        """
        if self.swings == 1:
            return np.array([0.5]), np.array([1.0])
        first = 1 if self.path.first_side == "left" else -1
        gain = []
        for longer in (0, 1):
            wide = np.where(np.arange(self.swings) % 2 == longer, UNEQUAL, 1 - UNEQUAL)
            ends = np.concatenate(([0.0], np.cumsum(wide / wide.sum())))
            middles = (ends[:-1] + ends[1:]) / 2
            index = np.searchsorted(self.along, middles * self.along[-1]).clip(1, len(self.line) - 2)
            most = SWING * np.diff(ends) * self.along[-1]
            room = [abs(self._reach(int(i), first * (-1) ** k, float(most[k]))) for k, i in enumerate(index)]
            gain.append((round(sum(room), 2), middles, np.diff(ends)))
        return max(gain, key=lambda one: one[0])[1:]

    def _reach(self, index: int, side: int, most: float) -> float:
        """Return how far, up to ``most`` metres, a swing may go to a side (1 left, -1 right), negative to the right."""
        low, high = self._room(np.full(1, SLIVER), at=index)(self.line[[index]], self.normals[[index]])
        return float(min(high[0], most)) if side > 0 else float(max(low[0], -most))

    def _room(self, margin: FloatArray, at: int | None = None) -> fairing.Room:
        reach = SWING * float(self.along[-1]) + 3 * self.made.need

        def room(points: FloatArray, normals: FloatArray) -> tuple[FloatArray, FloatArray]:
            low, high = ways.room_beside(self.made.free, points, normals, reach)
            middle = 0.5 * (low + high)
            low, high = np.minimum(low + margin, middle), np.maximum(high - margin, middle)
            for i, aside in self.leads.items() if at is None else ():
                off = float((points[i] - self.line[i]) @ normals[i])
                low[i], high[i] = max(low[i], -aside - off), min(high[i], aside - off)
                low[i], high[i] = min(low[i], high[i]), max(low[i], high[i])
            return low, high

        return room

    def _off(self, curve: Curve) -> FloatArray:
        """Return how far each point of the curve is off the free ground, (n,), its ends left out."""
        out = ~plane.inside(self.made.free, curve.points)
        out[[0, -1]] = False
        depth = np.zeros(len(out))
        depth[out] = plane.point_distances(curve.points[out], self.made.free)
        return depth
