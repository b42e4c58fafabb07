"""Climbers and trained fruit: each to a support that holds it, has none yet, and has a bed at its foot."""

import math
from collections.abc import Sequence

import numpy as np

from gardenkit.geometry import plane
from gardenkit.planting.composing.given import Surroundings
from gardenkit.planting.composing.ground import Ground
from gardenkit.planting.composing.kinds import Kind, allowed
from gardenkit.planting.composing.woody import Placed
from gardenkit.planting.species import Species
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure import supports as rules
from gardenkit.structure.structure import Support

FOOT_REACH = Figure(0.6, "m", f"{HOUSE}: a climber is led no further than this to its support")


def climbers(
    kinds: Sequence[Kind], ground: Ground, surroundings: Surroundings, there: Sequence[Placed]
) -> list[Placed]:
    """Return one of each climber at the foot of a support that holds it; those that no free support holds are left."""
    taken = {p.support for p in there if p.support}
    found: list[Placed] = []
    for kind in kinds:
        fitting = [s for s in surroundings.supports if s.name not in taken and holds(s, kind.species)]
        for support in sorted(fitting, key=lambda s: abs(math.log(kind.species.height / s.height))):
            line = plane.line(support.line) if len(support.line) > 1 else plane.point(support.line[0])
            away = plane.point_distances(ground.points, line)
            foot = int(np.argmin(away))
            if away[foot] <= float(FOOT_REACH) and allowed(kind.species, ground, surroundings)[foot]:
                x, y = ground.points[foot]
                taken.add(support.name)
                found.append(Placed(kind=kind, at=(float(x), float(y)), support=support.name, stage="climber"))
                break
    return found


def holds(support: Support, species: Species) -> bool:
    """Return whether a support suits the way a plant climbs, and its weight."""
    ways = ("trained",) if species.layer == "wall fruit" else species.climbs_by
    return rules.holds(ways, species.weight, support)
