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


def depression(eye: float, distance: float) -> float:
    """Return how many degrees below level a ground point lies: atan(e / D)."""
    return math.degrees(math.atan2(eye, distance))


def angular_length(eye: float, near: float, far: float) -> float:
    """Return the degrees of a path that runs straight away from ``near`` to ``far``: atan(e/D1) - atan(e/D2)."""
    return depression(eye, near) - depression(eye, far)


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
