"""What it takes to make the levels of a garden: soil dug and filled, retaining walls, banks."""

from functools import lru_cache

import attrs

from gardenkit.project import Project
from gardenkit.project.layout import Layout, layout
from gardenkit.structure.earthwork import Earthwork, earthwork
from gardenkit.structure.held_ground import Bank, HeldWall, banks, walls
from gardenkit.structure.new_ground import NewGround


@attrs.frozen(kw_only=True, eq=False)
class Earthworks:
    """The soil that is moved on the whole plot, the retaining walls stretch by stretch, and fall lines of the banks."""

    soil: Earthwork
    walls: tuple[HeldWall, ...]
    banks: tuple[Bank, ...]


def earthworks(project: Project, worked: Layout | None = None) -> Earthworks | None:
    """Return what making the levels takes; None while none are to be made, or the ground was not measured."""
    laid = worked if worked is not None else layout(project)
    if not isinstance(laid.lie, NewGround) or laid.ground.is_empty:
        return None
    return _earthworks(laid, laid.lie)


@lru_cache(maxsize=8)
def _earthworks(worked: Layout, ground: NewGround) -> Earthworks:
    return Earthworks(soil=earthwork(ground, worked.ground), walls=walls(ground), banks=banks(ground))
