"""What a palette needs to close the ground in shade: covers that take it, and that bear it dry where trees drink."""

from collections.abc import Collection, Iterable

import numpy as np

from gardenkit.planting.catalogue_columns import BULBS
from gardenkit.planting.choosing_rules import LeastOf
from gardenkit.planting.composing.carpet import OWN_UPTO
from gardenkit.planting.species import Species
from gardenkit.planting.sun_need import hours_of
from gardenkit.project import Project
from gardenkit.project.plant_choice import planted_ground
from gardenkit.project.sunlight import GroundMap

# Of the beds in shade, the share from which so many kinds that cover ground in shade are asked for; two in any case,
# for what grows casts shade, and one of them runs under what stands there. House values.
COVERS = ((0.4, 3), (0.0, 2))
DRY_SHARE = 0.03  # of the beds: from this much dry shade on, kinds for it are asked for. House value.
TEMPORARY = ("filler", "accompanying", "scatter")  # roles that stand between ground covers


def covers_for_shade(
    project: Project, kinds: Iterable[Species], *, now: GroundMap | None, moisture: str | None = None
) -> tuple[LeastOf, ...]:
    """Return what the shade of the beds asks of a palette out of the ``kinds`` that suit: so many ground covers, and
    where it is dry (``moisture`` is said to be, or trees that stay drink there) one of them and one kind between them
    that bear it dry. Raises GardenError when there is no bed.
    """
    ground = planted_ground(project, sun=now)
    dark = np.zeros(len(ground), dtype=bool) if ground.hours is None else ground.hours < hours_of("part")[0]
    thirsty = dark if moisture == "dry" else dark & ground.dry
    low = [s for s in kinds if "shade" in s.sun_range and s.layer not in BULBS and s.height <= OWN_UPTO]
    covers, dry = [s for s in low if s.role == "ground cover"], [s for s in low if "dry" in s.moisture]
    found = [_least("ground covers for shade", covers, next(n for share, n in COVERS if dark.mean() >= share))]
    found.append(_least("a carpet for shade", [s for s in covers if s.layer == "ground cover"], 1))
    if thirsty.mean() >= DRY_SHARE:
        found.append(_least("ground covers for dry shade", [s for s in dry if s.role == "ground cover"], 1))
        found.append(_least("plants between them for dry shade", [s for s in dry if s.role in TEMPORARY], 1))
    return tuple(one for one in found if one.least)


def _least(words: str, kinds: Collection[Species], least: int) -> LeastOf:
    return LeastOf(words=words, kinds=tuple(s.botanical for s in kinds), least=min(least, len(kinds)))
