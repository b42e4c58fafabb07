"""The bones of the garden as the designer decided them: paths, beds, seats, supports, areas, things, levels."""

from typing import Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Outline, Point
from gardenkit.tuples import lists_as_tuples

PathLine = Literal["even swings", "fair curves", "along one side"]
Hand = Literal["", "left", "right"]
LampLight = Literal["warm", "cool"]
PathUse = Literal["two abreast", "one person", "garden path", "inspection", "wheelchair", "riding mower"]
PathSlope = Literal["accessible route", "ramp", "trail", "recreation access"]


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class HeldPoint:
    """A point of a path that the designer put by hand; the route goes through it."""

    at: Point


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class HeldStone:
    """A stone put by hand: its number along the path (0 first), middle, and turn in degrees clockwise."""

    number: int
    at: Point
    turn: float = 0.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class PalletStone:
    """One stone of a pallet the designer measured: sizes over and along the path in metres, how many alike."""

    name: str = ""
    across: float
    along: float
    count: int = 1


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class CutStone:
    """A stone cut to an outline of its own, where it lies on the plan, in place of the stones it would touch."""

    name: str
    outline: Outline


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class StoneChoice:
    """How stepping stones are laid: clear gap between neighbours from ``gap_low`` to ``gap_high``, ``pace`` centre to
    centre, ``across`` the size over the path, ``thickness``, all in metres; same seed, same stones. ``variation`` is
    the share by which a stone may come out narrower than ``across``. ``spread`` is the standard deviation of the
    logarithm of the areas of stones in one row, cut off at 1.5 times it: 0 lays them alike, above it those at ends,
    junctions and the sharpest turn are larger. ``pairs`` is the share of those in one row in whose place two smaller
    ones lie side by side. With a ``pallet`` the stones have the measured sizes and the gaps follow from them.
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
    spread: float = 0.0
    pairs: float = 0.0


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
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


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Finished:
    """A finished height of a path's middle line: at a ``share`` of its length, metres over the plan's zero."""

    share: float
    height: float


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Turn:
    """What a path swings round, by its name, and the ``hand`` on which one has it, walking from the start; empty: the
    one that is nearer.
    """

    what: str
    hand: Hand = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Path:
    """A path between two named places: gates, doors, seats, or an earlier path that it joins. ``curvature`` 0 is the
    most direct way, 1 swings as far as the ground allows.

    ``line`` is how it bends: in even swings, in fair curves (unequal swings, few changes of curvature), or along the
    side that ``first_side`` names. ``sway`` is how many times it changes side. ``held`` points were put by hand and
    stay; ``clear_of_walls`` is the least distance from walls and obstacles to the path's edge. ``use`` and
    ``slope_rule`` name the published figures its width and slope are held against. ``flights`` are in order from its
    start. With ``heights`` (two or more, in order) it is built to them, level across, with banks beside it; without it
    lies on the ground. ``creeping`` names the kind planted between its stones. What it swings ``round`` shapes all of
    its line: it runs in fair curves, as near each as may be. Paving is laid in a ``bond``, a row of ``kinds.BONDS``;
    empty: that was not said. ``handrails``: where it is built as a ramp they go up both sides.
    """

    name: str
    start: str
    end: str
    width: float = 0.9144  # 36 in
    curvature: float = 0.4
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
    heights: tuple[Finished, ...] = ()
    creeping: str = ""
    line: PathLine = "even swings"  # what a garden saved before there were others has
    round: tuple[Turn, ...] = ()
    bond: str = ""
    handrails: bool = False


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Bed:
    """A bed by name. Without an ``outline`` it is the leftover ground that holds the point ``at``; with one, the
    designer drew it. ``purpose`` is what it is for, a row of ``kinds.PURPOSES``; empty: to look at.
    """

    name: str
    at: Point
    outline: Outline = ()
    soil: str = ""
    edging: str = ""
    purpose: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class GroundArea:
    """Ground that is neither path nor bed: a patio, a lawn, gravel. Of a pond ``depth`` is how deep it is (0: the
    usual) and ``lift`` how high over its water its pump's outlet stands, in metres; ``edging`` holds the edge of any,
    a lawn's too, where it lies along open ground. Paving is laid in a ``bond``, as that of a path.
    """

    name: str
    kind: str  # a row of ``kinds.GROUND_AREAS``
    outline: Outline
    depth: float = 0.0
    lift: float = 0.0
    edging: str = ""
    bond: str = ""


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Seat:
    """A seat: where, which way one looks (degrees clockwise from the plan's y axis), eye height in metres."""

    name: str
    at: Point
    facing: float = 0.0
    eye: float = 1.2  # m, seated; from memory, to be confirmed
    width: float = 1.5
    depth: float = 0.6

    @property
    def outline(self) -> Outline:
        """The corners of the ground it stands on."""
        x, y = self.width / 2, self.depth / 2
        return plane.moved(plane.turned(((-x, -y), (x, -y), (x, y), (-x, y)), self.facing), self.at)


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
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


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Thing:
    """Something set down or built in one place: its middle ``at``, the way its front ``facing`` looks (degrees
    clockwise from the plan's y axis), its ``width`` from side to side, ``depth`` from front to back and ``height``
    above the ground in metres. ``roof`` is the m2 of roof whose rain it takes, 0 while that was not said;
    ``purpose`` what the bed within its walls is for, where it has one. Along a ``line`` in its own metres (x to its
    right, y ahead, from its middle) it is ``width`` long and ``depth`` thick. A lamp's ``light`` is warm or cool;
    steps and ramps may have a ``handrail``.
    """

    name: str
    kind: str  # a row of ``kinds.THINGS``
    at: Point
    facing: float = 0.0
    width: float
    depth: float
    height: float
    roof: float = 0.0
    purpose: str = ""
    line: Line = ()
    light: LampLight = "warm"
    handrail: bool = False


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Cable:
    """A low-voltage cable as the designer laid it: its way from the transformer, past the lamps that hang on it."""

    name: str
    line: Line


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Level:
    """Ground to be made: a spot, or an area graded to one plane, at ``height`` m over the plan's zero where ``at``.

    The area is an ``outline`` of its own or the paved or lawn area that ``of`` names; with neither it is a spot. An
    area falls ``fall`` percent ``falls_to`` (degrees clockwise from the plan's y axis). At its ``edge`` stands a wall,
    or a bank of 1 in ``bank`` runs out to the ground as found; round a spot always a bank.
    """

    name: str
    at: Point
    height: float
    outline: Outline = ()
    of: str = ""
    fall: float = 0.0
    falls_to: float = 0.0
    edge: Literal["bank", "wall"] = "bank"
    bank: float = 3.0  # 1 in 3: the steepest that is mown with ease. Common practice, no source.


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Structure:
    """All the bones. ``cuts`` are lines that split leftover ground into separate beds.

    ``post_rule`` names how deep posts go in, ``frost_depth`` is the local frost depth in metres (0: none, or not asked
    yet).
    """

    paths: tuple[Path, ...] = ()
    beds: tuple[Bed, ...] = ()
    cuts: tuple[Line, ...] = ()
    ground_areas: tuple[GroundArea, ...] = ()
    seats: tuple[Seat, ...] = ()
    supports: tuple[Support, ...] = ()
    things: tuple[Thing, ...] = ()
    levels: tuple[Level, ...] = ()
    cables: tuple[Cable, ...] = ()
    least_bed: float = 0.25  # m2; smaller leftovers are path edge, not beds. House value.
    post_rule: str = "one third of total"
    frost_depth: float = 0.0


def check(structure: Structure) -> None:
    """Raise GardenError for the first bed, area, path or level that cannot be, as by an outline that crosses itself."""
    for bed in structure.beds:
        if bed.outline:
            plane.outline(bed.outline, where=f'bed "{bed.name}"')
    for ground_area in structure.ground_areas:
        plane.outline(ground_area.outline, where=f'{ground_area.kind} "{ground_area.name}"')
    for path in structure.paths:
        shares = [finished.share for finished in path.heights]
        if shares != sorted(set(shares)) or len(shares) == 1:
            raise GardenError(
                f'path "{path.name}" has one height, or heights out of order; give two or more from its start on'
            )
    for level in structure.levels:
        if level.outline and level.of:
            raise GardenError(f'level "{level.name}" is of "{level.of}" and has an outline; keep one of the two')
        if level.outline:
            plane.outline(level.outline, where=f'level "{level.name}"')
