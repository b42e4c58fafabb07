"""Path surfaces, one row a kind: what lies under it, how it is drawn, what it carries, its cautions and its care."""

from typing import Literal

import attrs

from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.rows import Care, Ground, Warned, look_up
from gardenkit.units import INCH

ICPI = "ICPI, Construction Tolerances and Recommendations"
WALK_BASE = Figure(4 * INCH, "m", ICPI)
DRIVE_BASE = Figure(6 * INCH, "m", ICPI)
COMPACTING = Figure(0.10, "share", "aggregate supplier: order 10 % more of compacted material")
BEDDING = Figure(1 * INCH, "m", ICPI)
LEAST_OVERDIG = Figure(6 * INCH, "m", ICPI)  # beyond the edge, or the base thickness when that is more
STONE_DUST = Figure(2 * INCH, "m", "stone supplier's how-to: dig about 3.5 in, about 2 in stone dust, flags 1.5-2 in")
SCREENINGS = Figure(1 * INCH, "m", "hardscape supplier: dig stone + 1 in, 1 in sand or screenings")
GRAVEL_DEPTH = Figure(3 * INCH, "m", "stone supplier: 3/4-1 in stone laid 3 in deep on a walk")
BARK_DEPTH = Figure(3 * INCH, "m", HOUSE)  # thinner lets weeds through, thicker is soft underfoot
EDGING_THICK = Figure(INCH / 8, "m", HOUSE)  # a steel strip, where no other edging is chosen
EDGING_DEEP = Figure(5 * INCH, "m", HOUSE)
TURF_SOIL = Figure(4 * INCH, "m", HOUSE)  # topsoil raked under a grass path


@attrs.frozen(kw_only=True)
class Layers:
    """Depths in metres: ``base`` of compacted stone, ``bedding`` under the surface, ``surface`` of loose material or
    soil, ``overdig`` at the edges.
    """

    base: float = 0.0
    bedding: float = 0.0
    surface: float = 0.0
    overdig: float = 0.0


@attrs.frozen(kw_only=True)
class SurfaceKind:
    """One kind of path surface. ``stone``: single stones with ground between, a field of flags with joints, slabs edge
    to edge, or none. ``loose`` names what is spread, ``edged`` whether that needs an edge to hold it, ``wheels``
    whether it carries a wheelchair or mower.
    """

    name: str
    words: str
    layers: Layers
    ground: Ground
    stone: Literal["none", "single", "field", "slabs"] = "none"
    loose: str = "gravel"
    edged: bool = False
    wheels: bool = False
    cautions: tuple[Warned, ...]
    care: tuple[Care, ...]


def overdig(base: float) -> float:
    """Return how far a base is dug past the paving's edge: the greater of 6 in and the base thickness (ICPI)."""
    return max(LEAST_OVERDIG, base)


LIFT = Warned(what="stones are heavy: two people or a cart, gloves and boots on", source=COMMON)
DUST = Warned(what="cut stone wet, with eye, ear and breathing protection: its dust harms the lungs", source=COMMON)
SLIP = Warned(what="moss and wet leaves make it slippery; brush it before winter", source=COMMON)
ROLLS = Warned(what="loose stone rolls underfoot and on slopes, and is thrown by mowers", source=COMMON)
SOFT = Warned(what="soft and slippery when wet; renew it where water stands", source=COMMON)
LEVEL = Care(months=(4,), task="level stones that have sunk or tilt", how="after frost")
TOPPED = Care(months=(4,), task="rake and top up the path", how="to its first depth")

_ROWS = (
    SurfaceKind(
        name="stepping stones",
        words="single stones a pace apart, ground or creeping plants between",
        layers=Layers(bedding=SCREENINGS),
        ground=Ground(plan="stepping stones", texture="moss", view="stepping stones", fine=True),
        stone="single",
        cautions=(LIFT, SLIP),
        care=(LEVEL,),
    ),
    SurfaceKind(
        name="flagstones",
        words="flat stones of any outline fitted together with joints",
        layers=Layers(bedding=STONE_DUST),
        ground=Ground(plan="flagstones", view="flagstones"),
        stone="field",
        wheels=True,
        cautions=(LIFT, DUST),
        care=(LEVEL, Care(months=(5,), task="fill and weed the joints")),
    ),
    SurfaceKind(
        name="paving",
        words="slabs or pavers edge to edge on a compacted base",
        layers=Layers(base=WALK_BASE, bedding=BEDDING, overdig=overdig(WALK_BASE)),
        ground=Ground(plan="paving", texture="paving", view="paving"),
        stone="slabs",
        wheels=True,
        cautions=(LIFT, DUST),
        care=(Care(months=(5,), task="sweep sand into the joints"),),
    ),
    SurfaceKind(
        name="gravel",
        words="loose stone between edges",
        layers=Layers(surface=GRAVEL_DEPTH),
        ground=Ground(plan="gravel", texture="gravel", view="gravel", grain="gravel"),
        edged=True,
        wheels=True,
        cautions=(ROLLS,),
        care=(TOPPED,),
    ),
    SurfaceKind(
        name="bark",
        words="bark or wood chips between edges",
        layers=Layers(surface=BARK_DEPTH),
        ground=Ground(plan="bark", texture="bark", view="bark", grain="bark"),
        loose="bark",
        edged=True,
        cautions=(SOFT,),
        care=(TOPPED,),
    ),
    SurfaceKind(
        name="grass",
        words="mown grass",
        layers=Layers(surface=TURF_SOIL),
        ground=Ground(plan="grass", texture="grass", view="turf", grain="turf"),
        loose="topsoil",
        wheels=True,
        cautions=(SOFT,),
        care=(Care(months=(4, 5, 6, 7, 8, 9), task="mow and edge the grass path"),),
    ),
)
SURFACES: dict[str, SurfaceKind] = {row.name: row for row in _ROWS}


def surface_kind(name: str) -> SurfaceKind:
    """Return a kind of path surface; raises GardenError naming the nearest known one."""
    return look_up(SURFACES, name, "path surface")
