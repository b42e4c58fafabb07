"""The plan by night: the dark over all that no lamp reaches, and the ground that each lights in its own colour."""

from collections.abc import Iterable

from gardenkit.drawing.faded import drawn_ground
from gardenkit.drawing.plan_ground import region_rings
from gardenkit.drawing.plan_things import LAMPLIGHT
from gardenkit.drawing.scene import Area, Scene, plain
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import lit_by

# House values: what looks right on a screen, not a measurement.
DARK, DARKEST, TINT = "#141b33", 0.66, 0.12
SHARES = (1.0, 0.8, 0.6, 0.4)  # of a lamp's reach: within each it is lighter, by as much each time


def by_night(scene: Scene, things: Iterable[Thing]) -> Scene:
    """Return a plan as the lamps among the things show it. Raises GardenError where there is none."""
    lamps = [one for one in things if lit_by(one)]
    if not lamps:
        raise GardenError("there is no lamp in this garden; place a path, step, wall, seat or tree light first")
    frame = _dark(scene)
    each = 1 - (1 - DARKEST) ** (1 / len(SHARES))
    veils = []
    for share in SHARES:
        lit = plane.union(plane.region(lit_by(one, share=share)) for one in lamps)
        veils.append(Area(rings=region_rings(plane.difference(frame, lit)), fill=DARK, alpha=each, layer="overlay"))
    glows = [
        Area(rings=(lit_by(one, share=share),), fill=LAMPLIGHT[one.light], alpha=TINT, layer="overlay")
        for one in lamps
        for share in SHARES
    ]
    return scene.with_marks((*scene.marks, *veils, *glows), description=f"By night. {scene.description}")


def _dark(scene: Scene) -> Region:
    """Return all that is dark: the ground that is drawn, as wide and as far up as what hangs over it from a tree."""
    left, low, right, high = plane.bounds(drawn_ground(scene))
    crowns = [
        at for mark in plain(scene.marks) if isinstance(mark, Area) and mark.layer == "canopy" for at in mark.rings[0]
    ]
    xs, ys = [left, right, *(x for x, _ in crowns)], [high, *(y for _, y in crowns)]
    return plane.region(((min(xs), low), (max(xs), low), (max(xs), max(ys)), (min(xs), max(ys))))
