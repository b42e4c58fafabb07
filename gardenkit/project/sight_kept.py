"""Views that a must of the client's keeps open: where on the lines of sight each kind would grow into them."""

from collections.abc import Iterable, Sequence

import numpy as np

from gardenkit.brief.asking import Asked
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.planting.composing.given import KeptOut
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.solids import height_to_be
from gardenkit.project.views import eye_point, places_to_look_from, targets
from gardenkit.project.wanted import musts_asking

ALONG = np.linspace(0.0, 1.0, 41)  # shares of a line of sight that are looked at. Numerical choice.


def kept_open(project: Project, kinds: Sequence[Species]) -> Iterable[KeptOut]:
    """Yield for every kind the ground on which it would hide, when grown, what a must wants to see."""
    for one in musts_asking(project, "view_open"):
        eye, seen, line = _lines(project, one)
        for kind in kinds:
            if kind.layer != "climber":
                ground = _in_the_way(eye, seen, ALONG[line < kind.height], kind.spread / 2)
                if not ground.is_empty:
                    yield KeptOut(ground=ground, kinds=frozenset((kind.botanical,)))


# ---- helpers


def _lines(project: Project, one: Asked) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the eye and what is looked at on the plan, and how high above the ground, taken as an even slope between
    the two, the lowest line of sight runs that has to stay free.
    """
    eye, points = np.asarray(eye_point(project, places_to_look_from(project)[one.other])), targets(project, one.thing)
    level = height_to_be(project)
    ends = [level((float(at[0]), float(at[1]))) for at in (eye, points.mean(axis=0))]
    lowest = float(np.quantile(points[:, 2], 1 - min(one.amount, 100) / 100, method="lower"))
    above = (float(eye[2]) - ends[0], lowest - ends[1])
    return eye[:2], points[:, :2], np.asarray(above[0] + ALONG * (above[1] - above[0]))


def _in_the_way(eye: FloatArray, seen: FloatArray, along: FloatArray, half: float) -> Region:
    """Return the ground under the shares ``along`` the lines of sight, wider on every side by half a plant."""
    if not len(along):
        return plane.NOWHERE
    spots = (eye + share * (seen - eye) for share in (along[0], along[-1]))
    corners = plane.hull_outline(np.vstack(list(spots)))
    return plane.grown(plane.region(corners), half) if corners else plane.NOWHERE
