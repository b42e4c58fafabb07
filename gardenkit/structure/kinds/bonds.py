"""Bonds in which paving is laid, one row a bond: its units, their joint, how many more to order, what they weigh."""

import attrs

from gardenkit.geometry.bonds import Bonded, Frame, Lay, bonded, frame_of
from gardenkit.geometry.plane import Region, long_way
from gardenkit.sources import COMMON, Figure
from gardenkit.structure.kinds.rows import look_up
from gardenkit.units import CUBIC_FOOT, INCH, POUND

SAND_JOINT = Figure(0.125 * INCH, "m", "ICPI, Construction Tolerances: 1/16 to 3/16 in")
SLAB_JOINT = Figure(0.375 * INCH, "m", COMMON)
SETT_JOINT = Figure(0.4 * INCH, "m", COMMON)
MORE = Figure(0.05, "share", "stone supplier: add 5 to 10 % for cuts; whole units for every cut piece, so the lower")
BRICK_WEIGHT = Figure(125 * POUND / CUBIC_FOOT, "kg/m3", COMMON)
SLAB_WEIGHT = Figure(145 * POUND / CUBIC_FOOT, "kg/m3", COMMON)
GRANITE = Figure(167 * POUND / CUBIC_FOOT, "kg/m3", "Building Trades Pocketbook, 167 lb/cu ft")
STRAIGHT, SLANTING = 0.0, 45.0  # degrees off the longer way of the ground


@attrs.frozen(kw_only=True)
class Bond:
    """One bond: units ``long`` by ``wide`` by ``thick`` metres with a ``joint``, laid in the pattern ``lay`` and
    ``turned`` off the longer way of the ground; ``unit`` is what one is called, ``more`` the share ordered on top of
    what lies.
    """

    name: str
    words: str
    unit: str
    lay: Lay
    long: float
    wide: float
    thick: float
    joint: Figure
    density: Figure
    turned: float = STRAIGHT
    more: Figure = MORE

    @property
    def each(self) -> float:
        """How many whole units cover a square metre, joints included."""
        return 1 / ((self.long + self.joint) * (self.wide + self.joint))


def _brick(name: str, words: str, lay: Lay, turned: float = STRAIGHT) -> Bond:
    """Return a bond of bricks that are twice as long as wide with their joint: 4 by 8 in, 4.5 to the square foot."""
    return Bond(
        name=name,
        words=words,
        unit="brick",
        lay=lay,
        long=7.875 * INCH,
        wide=3.875 * INCH,
        thick=2.25 * INCH,
        joint=SAND_JOINT,
        density=BRICK_WEIGHT,
        turned=turned,
    )


def _sett(name: str, words: str, lay: Lay, size: float) -> Bond:
    """Return a bond of granite cubes that take ``size`` metres each way with their joint."""
    side = size - SETT_JOINT
    return Bond(
        name=name,
        words=words,
        unit="sett",
        lay=lay,
        long=side,
        wide=side,
        thick=size,
        joint=SETT_JOINT,
        density=GRANITE,
    )


def _slab(name: str, words: str, lay: Lay) -> Bond:
    return Bond(
        name=name,
        words=words,
        unit="slab",
        lay=lay,
        long=24 * INCH - SLAB_JOINT,
        wide=18 * INCH - SLAB_JOINT,
        thick=2 * INCH,
        joint=SLAB_JOINT,
        density=SLAB_WEIGHT,
    )


_ROWS = (
    _brick("brick, running bond", "bricks end to end, each course half a brick on", "running"),
    _brick("brick, herringbone", "bricks end against side, square to the edges", "herringbone"),
    _brick("brick, slanting herringbone", "herringbone at 45 degrees to the edges", "herringbone", SLANTING),
    _brick("brick, basket weave", "two bricks one way, two the other", "basket weave"),
    _sett("setts, in courses", "cubes of granite in courses, joints broken", "running", 4 * INCH),
    _sett(
        "setts, in fans", "small cubes of granite in arcs side by side, each row on the one before", "fans", 3 * INCH
    ),
    _slab("slabs, stretcher bond", "slabs with broken joints", "running"),
    _slab("slabs, stack bond", "slabs with joints that run through both ways", "stack"),
)
BONDS: dict[str, Bond] = {row.name: row for row in _ROWS}


def bond_kind(name: str) -> Bond:
    """Return a bond; raises GardenError naming the nearest known one."""
    return look_up(BONDS, name, "bond of paving")


def laid_in(region: Region, name: str) -> Bonded:
    """Return the units of a bond over a region, its courses along the longer way, cut at the edges."""
    bond = bond_kind(name)
    return bonded(region, bond.lay, bond.long, bond.wide, float(bond.joint), _heading(region, bond))


def frame_in(region: Region, name: str) -> Frame:
    """Return where a bond over a region begins and which way it runs."""
    return frame_of(region, _heading(region, bond_kind(name)))


def _heading(region: Region, bond: Bond) -> float:
    return (long_way(region) if not region.is_empty else 0.0) + bond.turned


def bond_words(region: Region, name: str) -> tuple[int, str]:
    """Return how many units to order for a region, and how that comes about."""
    bond, found = bond_kind(name), laid_in(region, name)
    ordered = -int(-found.pieces * (1 + bond.more) // 1)
    words = f"{name}: {len(found.whole)} whole and {len(found.cut)} cut, each from one, {bond.more:.0%} more"
    return ordered, words
