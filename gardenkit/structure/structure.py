"""The bones of the garden as the designer decided them: paths, beds, seats, supports, areas, placed things."""

from typing import Literal

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.tuples import lists_as_tuples

PathUse = Literal["two abreast", "one person", "garden path", "inspection", "wheelchair", "riding mower"]
PathSlope = Literal["accessible route", "ramp", "trail", "recreation access"]


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class HeldPoint:
    """A point of a path that the designer put by hand; the route goes through it."""

    at: Point


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class HeldStone:
    """A stone put by hand: its number along the path (0 first), middle, and turn in degrees clockwise."""

    number: int
    at: Point
    turn: float = 0.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class PalletStone:
    """One stone of a pallet the designer measured: sizes over and along the path in metres, how many alike."""

    name: str = ""
    across: float
    along: float
    count: int = 1


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class CutStone:
    """A stone cut to an outline of its own, where it lies on the plan, in place of the stones it would touch."""

    name: str
    outline: Outline


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class StoneChoice:
    """How stepping stones are laid: clear gap between neighbours from ``gap_low`` to ``gap_high``, ``pace`` centre to
    centre, ``across`` the size over the path, ``thickness``, all in metres; same seed, same stones. ``variation`` is
    the share by which a stone may come out narrower than ``across``. With a ``pallet`` the stones have the measured
    sizes and the gaps follow from them.
    """

    gap_low: float = 0.1016  # 4 in, common practice, no source
    gap_high: float = 0.2032  # 8 in, common practice, no source
    pace: float = 0.6096  # 24 in, Rutgers Cooperative Extension, "Garden Paths", 2004
    across: float = 0.50
    thickness: float = 0.05
    joint: float = 0.03  # between flagstones of a field
    density: float = 2643.0  # kg/m3; 165 lb/cu ft, stone suppliers' estimating value
    seed: int = 1
    variation: float = 0.12  # house value
    pallet: tuple[PalletStone, ...] = ()


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Flight:
    """A flight of steps in a path, its landings at top and bottom included: from ``start`` to ``end`` as shares of the
    path's length, so that it stays where it is when the path bends otherwise.

    Its rise is that of the ground below; how many risers and how deep the treads follow from ``most_riser`` and
    ``least_tread`` in metres (``structure.flights``). ``handrail``: one is to be built.
    """

    start: float
    end: float
    most_riser: float = 0.1778  # 7 in, ``steps.MOST_RISER``
    least_tread: float = 0.254  # 10 in, IRC 2021 R311.7, second-hand
    handrail: bool = False


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Path:
    """A path between two named places: gates, doors, seats, or an earlier path that it joins. ``bend`` 0 is the most
    direct way, 1 swings as far as the ground allows.

    ``sway`` is how many times it changes side. ``held`` points were put by hand and stay; ``clear_of_walls`` is the
    least distance from walls and obstacles to the path's edge. ``use`` and ``slope_rule`` name the published figures
    its width and slope are held against. ``flights`` are in order from its start.
    """

    name: str
    start: str
    end: str
    width: float = 0.9144  # 36 in
    bend: float = 0.4
    sway: int = 2
    first_side: Literal["left", "right"] = "left"
    surface: str = "stepping stones"  # a row of ``kinds.SURFACES``
    stones: StoneChoice = StoneChoice()
    held: tuple[HeldPoint, ...] = ()
    held_stones: tuple[HeldStone, ...] = ()
    clear_of_walls: float = 0.3
    joins_at: float = 0.5  # share of the other path's length, when start or end names a path
    use: PathUse = "garden path"
    slope_rule: PathSlope = "trail"
    flights: tuple[Flight, ...] = ()
    cut_stones: tuple[CutStone, ...] = ()


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Bed:
    """A bed by name. Without an ``outline`` it is the leftover ground that holds the point ``at``; with one, the
    designer drew it.
    """

    name: str
    at: Point
    outline: Outline = ()
    soil: str = ""
    edging: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Patch:
    """Ground that is neither path nor bed: a patio, a lawn, gravel."""

    name: str
    kind: str  # a row of ``kinds.PATCHES``
    outline: Outline


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Seat:
    """A seat: where, which way one looks (degrees clockwise from the plan's y axis), eye height in metres."""

    name: str
    at: Point
    facing: float = 0.0
    eye: float = 1.2  # m, seated; from memory, to be confirmed
    width: float = 1.5
    depth: float = 0.6


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Support:
    """Something for plants to climb or be trained on, along a line on the plan; sizes in metres.

    ``depth`` is how far an arbour or pergola stands across its line; ``against`` names the building or fence it is
    fixed to.
    """

    name: str
    kind: str  # a row of ``kinds.SUPPORTS``
    line: Line
    height: float = 2.1
    depth: float = 0.0
    openness: float = 0.8
    against: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Thing:
    """Something set down or built in one place: its middle ``at``, the way its front ``facing`` looks (degrees
    clockwise from the plan's y axis), its ``width`` from side to side, ``depth`` from front to back and ``height``
    above the ground in metres. ``roof`` is the m2 of roof whose rain it takes, 0 while that was not said.
    """

    name: str
    kind: str  # a row of ``kinds.THINGS``
    at: Point
    facing: float = 0.0
    width: float
    depth: float
    height: float
    roof: float = 0.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Structure:
    """All the bones. ``cuts`` are lines that split leftover ground into separate beds.

    ``post_rule`` names how deep posts go in, ``frost_depth`` is the local frost depth in metres (0: none, or not asked
    yet).
    """

    paths: tuple[Path, ...] = ()
    beds: tuple[Bed, ...] = ()
    cuts: tuple[Line, ...] = ()
    patches: tuple[Patch, ...] = ()
    seats: tuple[Seat, ...] = ()
    supports: tuple[Support, ...] = ()
    things: tuple[Thing, ...] = ()
    least_bed: float = 0.25  # m2; smaller leftovers are path edge, not beds. House value.
    post_rule: str = "one third of total"
    frost_depth: float = 0.0


def check(structure: Structure) -> None:
    """Raise GardenError for the first bed, patch or support that cannot be drawn: a crossing outline, no length."""
    for bed in structure.beds:
        if bed.outline:
            plane.outline(bed.outline, where=f'bed "{bed.name}"')
    for patch in structure.patches:
        plane.outline(patch.outline, where=f'{patch.kind} "{patch.name}"')
    for support in structure.supports:
        plane.check_line(support.line, where=f'support "{support.name}"')
