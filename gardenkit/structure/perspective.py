"""How far, how long and how high things look: angles of view, the look of a path, and the ground a hedge hides.

Plain geometry for a level garden. Distances are measured from the viewer along the ground; ``eye`` is the eye's height
above it, metres.
"""

import math

import attrs
import numpy as np

from gardenkit.findings import Finding, GardenError
from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import HOUSE, PLAIN


@attrs.frozen(kw_only=True)
class PathLook:
    """How long a path looks against how long it is.

    ``angle`` degrees the eye travels along the seen path; ``straight_angle`` degrees a straight path of the same
    length would take, starting at the same distance and running directly away; ``gain`` is angle over straight_angle:
    above 1 the path looks longer than that.
    """

    length: float
    seen_length: float
    angle: float
    straight_angle: float

    @property
    def gain(self) -> float:
        """Angle over that of the straight path of the same length."""
        return self.angle / self.straight_angle


def visual_angle(size: float, distance: float) -> float:
    """Return the degrees a thing takes, seen square on with the eye level with its middle: 2 atan(S / 2D)."""
    _above_zero(distance, "distance")
    return math.degrees(2.0 * math.atan(size / (2.0 * distance)))


def depression(eye: float, distance: float) -> float:
    """Return how many degrees below level a ground point lies: atan(e / D)."""
    return math.degrees(math.atan2(eye, distance))


def angular_length(eye: float, near: float, far: float) -> float:
    """Return the degrees of a path that runs straight away from ``near`` to ``far``: atan(e/D1) - atan(e/D2)."""
    return depression(eye, near) - depression(eye, far)


def picture_length(eye: float, near: float, far: float, *, focal: float = 1.0) -> float:
    """Return the height on a picture plane at ``focal`` of a path running straight away: f e (1/D1 - 1/D2)."""
    _above_zero(near, "distance")
    return focal * eye * (1.0 / near - 1.0 / far)


def picture_height(size: float, distance: float, *, focal: float = 1.0) -> float:
    """Return the height of an upright thing on a picture plane at ``focal``: f S / D."""
    _above_zero(distance, "distance")
    return focal * size / distance


def looks_as_far(distance: float, *, near_width: float, far_width: float) -> float:
    """Return how far away a path of constant ``near_width`` would look as narrow as this far end: D w0 / w."""
    _above_zero(far_width, "width of the far end")
    return distance * near_width / far_width


def blind_ground(eye: float, hedge: float, distance: float) -> tuple[float, float]:
    """Return from and to which distance a hedge ``hedge`` metres high hides the ground: d to d e / (e - h).

    A hedge as high as the eye hides everything behind it: the second value is then infinite.
    """
    _above_zero(distance, "distance")
    return distance, math.inf if hedge >= eye else distance * eye / (eye - hedge)


def least_height_over(hedge: float, distance: float, *, eye: float, target: float) -> float:
    """Return the height above which a thing ``target`` metres away shows over a hedge: e + (h - e) D / d."""
    _above_zero(distance, "distance")
    return eye + (hedge - eye) * target / distance


def path_look(points: FloatArray, eye: tuple[float, float, float], *, shown: FloatArray | None = None) -> PathLook:
    """Return how long a path looks from an eye (x, y, z); ``points`` (n, 2 or 3) ``shown`` (n,) which show.

    The angle is that between the directions to neighbouring points, summed where both show. Raises GardenError below
    two points.
    """
    line = np.asarray(points, dtype=float)
    if len(line) < 2:
        raise GardenError("a path needs at least two points to have a length; give more points along it")
    if line.shape[1] == 2:
        line = np.column_stack((line, np.zeros(len(line))))
    both = np.ones(len(line) - 1, dtype=bool)
    if shown is not None:
        mask = np.asarray(shown, dtype=bool)
        both = mask[:-1] & mask[1:]
    to = line - np.asarray(eye)
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    across = np.linalg.norm(np.cross(to[:-1], to[1:]), axis=1)
    turns = np.degrees(np.arctan2(across, (to[:-1] * to[1:]).sum(axis=1)))
    start = float(np.hypot(*to[0, :2]))
    return PathLook(
        length=float(steps.sum()),
        seen_length=float(steps[both].sum()),
        angle=float(turns[both].sum()),
        straight_angle=angular_length(float(-to[0, 2]), start, start + float(steps.sum())),
    )


def look_finding(name: str, look: PathLook) -> Finding:
    """Return in one sentence whether a path looks longer or shorter than a straight one of its length."""
    word = "longer" if look.gain > 1.05 else "shorter" if look.gain < 0.95 else "as long"
    tail = "as" if word == "as long" else "than"
    what = f"looks {word} {tail} a straight path of its {look.length:.1f} m: {look.gain:.2f} times the angle"
    why = f"{look.angle:.1f} against {look.straight_angle:.1f} degrees; within 5 % counts as equal ({HOUSE})"
    return Finding(where=name, what=what, why=why, source=PLAIN, topic="view")


def _above_zero(value: float, what: str) -> None:
    if not value > 0:
        raise GardenError(f"the {what} is {value:g} m; give a length above 0")
