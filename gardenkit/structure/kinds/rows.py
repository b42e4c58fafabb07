"""What a row of a table of kinds says: words, sizes, how it is drawn, its body, its parts, its rules, its care."""

from collections.abc import Callable
from typing import TypeVar

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import Point
from gardenkit.geometry.solid import Solid
from gardenkit.structure.kinds.support_parts import Part, PostChoice
from gardenkit.structure.structure import Support

Row = TypeVar("Row")
GroundHeight = Callable[[Point], float]
Parts = Callable[[Support, PostChoice, str], tuple[Part, ...]]
Bodies = Callable[[Support, GroundHeight], tuple[Solid, ...]]


@attrs.frozen(kw_only=True)
class Drawn:
    """How a kind is drawn: the names of its symbols on the plan, on an elevation and in a view, as ``drawing`` knows
    them.
    """

    plan: str
    elevation: str
    view: str


@attrs.frozen(kw_only=True)
class Ground:
    """How a kind of ground is drawn, by names that ``drawing`` knows: its colour on the ``plan`` and in a ``view``, its
    ``texture`` on the plan and ``grain`` in a view ("" for none); ``heavy`` outlines stand out, ``fine`` ones do not.
    """

    plan: str
    view: str
    texture: str = ""
    grain: str = ""
    joints: bool = False
    heavy: bool = False
    fine: bool = False
    inner_line: bool = False


@attrs.frozen(kw_only=True)
class Usual:
    """The sizes a new one begins with: length, height, depth in metres, openness a share. House values."""

    length: float
    height: float
    depth: float = 0.0
    openness: float = 0.8


@attrs.frozen(kw_only=True)
class Hold:
    """What a kind of support offers a climber: ``slender`` bars or wires to go round, ``mesh`` for tendrils, a
    ``solid`` face to cling to, a ``heavy`` frame for the strongest, rails or wires one ``trains`` fruit on.
    """

    slender: bool = False
    mesh: bool = False
    solid: bool = False
    heavy: bool = False
    trains: bool = False


@attrs.frozen(kw_only=True)
class Sizes:
    """The usual sizes of a kind in metres; outside them it is said, with ``words`` and their source."""

    words: str
    source: str
    low: float = 0.0
    high: float = float("inf")
    width: float = 0.0
    too_small: bool = False  # what is under the sizes is too small to use, not only unusual


@attrs.frozen(kw_only=True)
class Care:
    """One task of the year that a built thing asks for; months of the northern zone 6 year. One against ``frost`` is
    not done where it does not freeze; one of so many ``years`` ends with them, 0: for good.
    """

    months: tuple[int, ...]
    task: str
    how: str = ""
    frost: bool = False
    years: int = 0


@attrs.frozen(kw_only=True)
class Warned:
    """A caution that comes with a kind, with its source."""

    what: str
    source: str


def look_up(rows: dict[str, Row], name: str, what: str) -> Row:
    """Return the row called ``name``; raises GardenError naming the nearest known one."""
    if name not in rows:
        raise GardenError(f'there is no {what} "{name}"{nearest(name, rows)}')
    return rows[name]
