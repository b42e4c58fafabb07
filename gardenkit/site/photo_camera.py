"""Where a photo was taken from and which way: found by least squares from places on it that are known on the plan.

The picture of a place lies where the straight line from it to the eye meets the picture (the collinearity equations of
photogrammetry, from memory). The eye, the turn and the width of view are seven unknowns; each mark gives two equations.
"""

import itertools
import math
from functools import lru_cache

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import Finding, GardenError
from gardenkit.site.site_photos import SitePhoto
from gardenkit.units import System, counted, show_length

LEAST_MARKS = 4
CHECKED_MARKS = 6  # from here a mark that is wrong can be told from the others. House value.
HAND = 2.0  # pixels: how well one clicks on a corner. House value.
POOR = 0.01  # of the photo's width: a mark off by more is put in the wrong place, or was measured wrongly. House value.
UNSURE = 0.05  # of the distance to the marks: a place found no better than this is said to be unsure. House value.
ANGLES = (20.0, 100.0)  # degrees wide: what telephones and cameras take without bending lines. House value.
BEHIND = 0.05  # m ahead of the eye: nothing nearer is on a photo
Array = NDArray[np.float64]
DOWN = np.array([[1.0], [-1.0], [1.0]])  # right, up, ahead is left-handed: a turn takes right, down, ahead


@attrs.frozen(kw_only=True)
class Pose:
    """A camera: ``eye`` (x, y, z) metres; ``towards`` degrees clockwise from plan y; ``lean`` degrees up (down minus);
    ``roll`` degrees, right side down; ``angle`` degrees wide.
    """

    eye: tuple[float, float, float]
    towards: float
    lean: float
    roll: float
    angle: float


@attrs.frozen(kw_only=True)
class Found:
    """The camera of a photo: how far each mark lies off where it would be seen, pixels, in the order of the marks.

    ``worst`` names the mark that fits worst and ``amiss`` how far it lies from where the others put it, pixels;
    ``doubt`` is how well the eye is known (m, one standard error) with marks clicked to ``HAND`` pixels.
    """

    pose: Pose
    off: tuple[float, ...]
    worst: str
    amiss: float
    doubt: float

    @property
    def fit(self) -> float:
        """Root of the mean square of how far the marks lie off, pixels."""
        return math.sqrt(sum(v * v for v in self.off) / len(self.off))


def turn_of(towards: float, lean: float, roll: float) -> Array:
    """Return the directions right, up and ahead of a camera in the garden, one a row (3, 3)."""
    (s, c), (sl, cl), (sr, cr) = ((math.sin(math.radians(v)), math.cos(math.radians(v))) for v in (towards, lean, roll))
    right, up = np.array([c, -s, 0.0]), np.array([-s * sl, -c * sl, cl])
    return np.array([cr * right - sr * up, sr * right + cr * up, [s * cl, c * cl, sl]])


def pixels_of(pose: Pose, size: tuple[int, int], spots: Array) -> Array:
    """Return where places (n, 3) are seen on a photo of ``size``, pixels right and down (n, 2); NaN behind the eye."""
    seen = (np.asarray(spots, dtype=float) - pose.eye) @ turn_of(pose.towards, pose.lean, pose.roll).T
    focal = size[0] / 2 / math.tan(math.radians(pose.angle / 2))
    ahead = np.where(seen[:, 2] > BEHIND, seen[:, 2], np.nan)
    return np.column_stack((size[0] / 2 + focal * seen[:, 0] / ahead, size[1] / 2 - focal * seen[:, 1] / ahead))


@lru_cache(maxsize=32)
def camera_of(photo: SitePhoto) -> Found:
    """Return the camera of a photo by least squares on its marks.

    Raises GardenError for fewer than four marks, marks in one line, or marks that no camera sees so.
    """
    spots, pixels = _marked(photo)
    sight = _Sight(spots=spots, pixels=pixels, size=(photo.wide, photo.high), angle=photo.angle)
    best, cost = sight.solved(sight.starts())
    pose = sight.pose(best)
    seen = pixels_of(pose, sight.size, spots)
    off = np.hypot(*(seen - pixels).T)
    if not np.isfinite(off).all() or math.sqrt(cost / len(off)) > 0.25 * photo.wide:
        raise GardenError(
            f'no camera sees the marks of photo "{photo.name}" so; check that each mark is the place it is called'
        )
    number, amiss = sight.suspect(best, off)
    worst = photo.marks[number].name
    return Found(pose=pose, off=tuple(off.tolist()), worst=worst, amiss=amiss, doubt=sight.doubt(best))


def advice(photo: SitePhoto, found: Found, units: System) -> tuple[Finding, ...]:
    """Return what to know about how well a photo is placed."""
    where, findings = f'photo "{photo.name}"', []
    if found.amiss > POOR * photo.wide:
        findings.append(
            Finding(
                where=where,
                what=f"{found.worst} fits worst; look whether it is the right place, and its measures",
                why=f"it lies {found.amiss:.0f} pixels from where the other marks put it",
                source="house value",
                seriousness="caution",
                topic="site",
            )
        )
    away = float(np.mean([math.dist(found.pose.eye, (*mark.at, mark.height)) for mark in photo.marks]))
    if not found.doubt <= UNSURE * away:
        said = show_length(found.doubt, units) if math.isfinite(found.doubt) else "any distance"
        findings.append(
            Finding(
                where=where,
                what="mark places nearer and further off, higher and lower: these lie too much in one plane",
                why=f"the place of the camera may be off by {said}",
                source="house value",
                seriousness="caution",
                topic="site",
            )
        )
    if len(photo.marks) < CHECKED_MARKS:
        more = counted(CHECKED_MARKS - len(photo.marks), "more mark")
        why = "so few marks hardly check each other: one in a wrong place bends the camera instead of showing"
        findings.append(Finding(where=where, what=f"mark {more}", why=why, source="house value", topic="site"))
    return tuple(findings)


# ---- helpers


def _marked(photo: SitePhoto) -> tuple[Array, Array]:
    if len(photo.marks) < LEAST_MARKS:
        raise GardenError(
            f'photo "{photo.name}" has {counted(len(photo.marks), "mark")}; mark at least {LEAST_MARKS} places, '
            f"better {CHECKED_MARKS} or more"
        )
    spots = np.array([(*mark.at, mark.height) for mark in photo.marks], dtype=float)
    pixels = np.array([mark.pixel for mark in photo.marks], dtype=float)
    for what, points in (("on the plan", spots), ("on the photo", pixels)):
        spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
        if spread[1] < 0.01 * spread[0] or spread[0] == 0:
            raise GardenError(f'the marks of photo "{photo.name}" lie in one line {what}; mark places to either side')
    return spots, pixels


@attrs.frozen(kw_only=True, eq=False)
class _Sight:
    """Marks and what is known of the lens. A guess is eye x, y, z, a turn vector (radians) and the focal length's log.

    Starts lie round the marks at several distances, looking at them.
    """

    spots: Array
    pixels: Array
    size: tuple[int, int]
    angle: float | None

    def focal(self, angle: float) -> float:
        """Return the focal length in pixels of a width of view in degrees."""
        return self.size[0] / 2 / math.tan(math.radians(angle / 2))

    def turn(self, guess: Array) -> Array:
        """Return the rows right, up, ahead of a guess."""
        from scipy.spatial.transform import Rotation

        matrix: Array = Rotation.from_rotvec(guess[3:6]).as_matrix() * DOWN
        return matrix

    def off(self, guess: Array) -> Array:
        """Return how far each mark lies off, right and down, pixels (2 n,)."""
        seen = (self.spots - guess[:3]) @ self.turn(guess).T
        ahead = np.maximum(seen[:, 2], BEHIND)
        focal = math.exp(guess[6]) if len(guess) > 6 else self.focal(self.angle or 65.0)
        found = np.column_stack((focal * seen[:, 0] / ahead, -focal * seen[:, 1] / ahead))
        return np.asarray((found + np.array(self.size) / 2 - self.pixels).ravel())

    def starts(self) -> list[Array]:
        """Return the likeliest guesses out of a grid, the best first."""
        from scipy.spatial.transform import Rotation

        middle, reach = self.spots.mean(axis=0), float(np.linalg.norm(np.ptp(self.spots, axis=0)))
        off_middle = self.pixels.mean(axis=0) - np.array(self.size) / 2
        eyes, turns, focals = [], [], []
        for angle in (self.angle,) if self.angle is not None else (30.0, 50.0, 70.0, 90.0):
            shift = np.degrees(np.arctan2(off_middle, self.focal(angle)))
            for round_, rise in itertools.product(range(0, 360, 20), (-10.0, 3.0, 20.0, 50.0, 85.0)):
                way = turn_of(round_, -rise, 0.0)[2]
                turn = turn_of(round_ - shift[0], -rise + shift[1], 0.0)
                eyes += [middle - reach * away * way for away in (0.5, 0.9, 1.6, 3.0)]
                turns += [turn] * 4
                focals += [self.focal(angle)] * 4
        every, focal = np.array(turns), np.array(focals)[:, None]
        seen = np.einsum("nij,nmj->nmi", every, self.spots - np.array(eyes)[:, None])
        ahead = np.maximum(seen[..., 2], BEHIND)
        right = focal * seen[..., 0] / ahead + self.size[0] / 2 - self.pixels[:, 0]
        down = -focal * seen[..., 1] / ahead + self.size[1] / 2 - self.pixels[:, 1]
        cost = np.sum(np.minimum(np.hypot(right, down), self.size[0]) ** 2, axis=1)
        best = np.argsort(cost, kind="stable")[:8]
        vectors = Rotation.from_matrix(every[best] * DOWN).as_rotvec()
        lens = [[] if self.angle is not None else [math.log(focals[number])] for number in best]
        return [np.array([*eyes[n], *vector, *own]) for n, vector, own in zip(best, vectors, lens, strict=True)]

    def solved(self, starts: list[Array]) -> tuple[Array, float]:
        """Return the best solution from several starts and its sum of squares; a lens that no camera has is refused."""
        from scipy.optimize import least_squares

        best, least = starts[0], math.inf
        for start in starts:
            found = least_squares(self.off, start, method="lm", x_scale="jac", max_nfev=120)
            in_view = ((self.spots - found.x[:3]) @ self.turn(found.x).T)[:, 2].min() > BEHIND
            usual = len(found.x) < 7 or self.focal(ANGLES[1]) <= math.exp(found.x[6]) <= self.focal(ANGLES[0])
            if in_view and usual and 2 * found.cost < least:
                best, least = found.x, 2 * float(found.cost)
            if len(self.spots) > LEAST_MARKS and least < len(self.spots) * HAND**2:
                break  # as well as a hand can click
        return best, least

    def suspect(self, best: Array, off: Array) -> tuple[int, float]:
        """Return which mark fits worst and how far off it lies, pixels.

        Where there are enough to tell, that is the one without which the others agree best, against these others.
        """
        count = len(self.spots)
        if count < CHECKED_MARKS:
            return int(np.argmax(off)), float(off.max())
        without = []
        for number in range(count):
            kept = np.arange(count) != number
            fewer = attrs.evolve(self, spots=self.spots[kept], pixels=self.pixels[kept])
            without.append(fewer.solved([best]))
        worst = int(np.argmin([cost for _, cost in without]))
        return worst, float(np.hypot(*self.off(without[worst][0])[2 * worst : 2 * worst + 2]))

    def doubt(self, best: Array) -> float:
        """Return the standard error of the eye's place, metres; infinite where the marks do not hold it."""
        from scipy.optimize import approx_fprime

        slope = np.asarray(approx_fprime(best, self.off, 1e-6))
        square = slope.T @ slope
        if not np.isfinite(square).all() or np.linalg.cond(square / np.outer(*[np.sqrt(np.diag(square))] * 2)) > 1e12:
            return math.inf
        spread = np.linalg.inv(square) * HAND**2
        return math.sqrt(float(np.trace(spread[:3, :3])))

    def pose(self, best: Array) -> Pose:
        """Return a guess as a camera."""
        turn = self.turn(best)
        right, _, ahead = turn
        towards = math.degrees(math.atan2(ahead[0], ahead[1]))
        lean = math.degrees(math.asin(max(-1.0, min(1.0, float(ahead[2])))))
        level = turn_of(towards, lean, 0.0)
        roll = math.degrees(math.atan2(-float(right @ level[1]), float(right @ level[0])))
        focal = math.exp(best[6]) if len(best) > 6 else self.focal(self.angle or 65.0)
        angle = math.degrees(2 * math.atan(self.size[0] / 2 / focal))
        eye = (float(best[0]), float(best[1]), float(best[2]))
        return Pose(eye=eye, towards=towards % 360, lean=lean, roll=roll, angle=angle)
