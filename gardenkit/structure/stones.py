"""The stones of a path, laid as its surface asks: stepping stones, a flagstone field, or none for a solid or loose
surface.
"""

from collections.abc import Sequence

import attrs

from gardenkit.structure.cut_stones import with_cut_stones
from gardenkit.structure.flagstones import flagstones
from gardenkit.structure.kinds import surface_kind
from gardenkit.structure.laying import Gap, Laying, Stone, cutting_caution, gaps
from gardenkit.structure.pallet import from_pallet
from gardenkit.structure.route import Route
from gardenkit.structure.stepping import stepping_stones
from gardenkit.structure.structure import Path

__all__ = ["Gap", "Laying", "Stone", "flagstones", "from_pallet", "gaps", "lay", "stepping_stones"]


def lay(route: Route, path: Path, joined: Sequence[float] = ()) -> Laying:
    """Return the stones of ``path`` on its ``route``, with the gaps between neighbours and the findings; those of an
    outline of their own lie in place of the ones they would touch. Other paths are ``joined`` so many metres along it.

    Paving, gravel, bark and grass have no single stones: their laying is empty and their volumes come from
    ``build_up``.
    """
    laid = _laid(route, path, joined)
    return with_cut_stones(laid, path) if laid.stones else laid


def _laid(route: Route, path: Path, joined: Sequence[float]) -> Laying:
    stone = surface_kind(path.surface).stone
    if stone == "single" and path.stones.pallet:
        return from_pallet(route, path.stones, path.flights)
    if stone == "single":
        return stepping_stones(route, path.stones, path.held_stones, path.flights, joined=joined)
    caution = (cutting_caution(f'path "{path.name}"'),)
    if stone == "field":
        laid = flagstones(route, path.stones, path.flights)
        return attrs.evolve(laid, findings=laid.findings + caution)
    return Laying(findings=caution if stone == "slabs" else ())
