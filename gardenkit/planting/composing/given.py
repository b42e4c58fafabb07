"""What a planting is composed from: the beds, what lies round them, and what the designer weighs."""

from collections.abc import Callable, Sequence
from typing import Literal

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.medial import Circle
from gardenkit.geometry.plane import NOWHERE, FloatArray, Line, Point, Region
from gardenkit.planting.limits import Limit
from gardenkit.planting.planting import Plant
from gardenkit.planting.setbacks import Around
from gardenkit.site.site import ExistingTree
from gardenkit.structure.structure import Support

SunLookup = Callable[[FloatArray], FloatArray]  # places (n, 2) -> hours a day: (n,) growing season, or (n, 4) by season
SunGrown = Callable[[Sequence[Plant]], SunLookup]  # the sun in ten years, when these plants have grown
Rhythm = Literal["alternating", "paired"]


@attrs.frozen(eq=False, kw_only=True)
class BedGround:
    """A bed to plant: its name, its ground, and the spaces for tree crowns in it (largest first) if they are known."""

    name: str
    region: Region
    pockets: tuple[Circle, ...] = ()

    @property
    def width(self) -> float:
        """Width at the widest place, metres."""
        return 2 * (self.pockets[0].radius if self.pockets else plane.inscribed_circle(self.region)[1])


@attrs.frozen(eq=False, kw_only=True)
class Screen:
    """What is to be hidden: of the ``points`` of a path (n, 3) at least the share ``hidden`` (0 to 1), from an ``eye``
    (3,); ``level`` gives the ground's height at places (m, 2).
    """

    eye: FloatArray
    points: FloatArray
    hidden: float
    level: Callable[[FloatArray], FloatArray]


@attrs.frozen(eq=False, kw_only=True)
class KeptOut:
    """Ground where some ``kinds`` (botanical names) may not stand: a must of the client's for that ground."""

    ground: Region
    kinds: frozenset[str]


@attrs.frozen(eq=False, kw_only=True)
class Surroundings:
    """What lies round the beds: ``around`` what to keep away from, ``ways`` the middle lines of paths, ``viewpoints``
    (gate, seat, window), supports for climbers, trees that are there, and ``sun`` (None: sun is left out), ``later``
    under plants when they have grown (None: as now).

    ``dry`` is ground whose water others drink, or that holds none;
    ``walked`` is all ground one looks from (paths, lawn, terrace); ``backs`` the fences and walls that close a bed;
    ``boundary`` the line of the property, over which no shrub grows; ``screens`` what is to be hidden by planting;
    ``kept_out`` which kinds may not stand on which ground.
    """

    around: Around = attrs.field(factory=Around)
    ways: tuple[Line, ...] = ()
    viewpoints: tuple[Point, ...] = ()
    supports: tuple[Support, ...] = ()
    trees: tuple[ExistingTree, ...] = ()
    sun: SunLookup | None = None
    later: SunGrown | None = None
    walked: Region = NOWHERE
    dry: Region = NOWHERE
    backs: tuple[Line, ...] = ()
    boundary: Line = ()
    screens: tuple[Screen, ...] = ()
    kept_out: tuple[KeptOut, ...] = ()


@attrs.frozen(kw_only=True)
class Aims:
    """What the brief asks of the whole: months with something in flower (of the northern year; spring comes
    ``shift_days`` later than in the reference zone), least shares (0 to 1)
    of evergreen and native plants by number, the share of the shrubs' ground that is to ``frame`` the garden in
    winter by its leaves, the style's colours and how ``strict`` they are meant (0 to 1), the share of the ground that
    may be ``closed`` by leaves, the kinds of the style's ``signature`` (botanical names), and the ``limits`` that all
    plants together keep to.
    """

    months: tuple[int, ...] = (4, 5, 6, 7, 8, 9, 10)
    shift_days: float = 0.0
    evergreen: float = 0.0
    frame: float = 0.0
    natives: float = 0.0
    colours: tuple[str, ...] = ()
    strict: float = 0.5
    closed: float = 1.0
    signature: tuple[str, ...] = ()
    limits: tuple[Limit, ...] = ()


@attrs.frozen(kw_only=True)
class Taste:
    """How a proposal weighs its composition; every number a slider, 1 the usual.

    ``boldness`` how large the drifts are; ``repetition`` how often the signature comes back; ``shrubs`` how much of the
    ground shrubs take; ``order`` how strictly low stands before tall; ``colour`` how much harmony counts; ``slant``
    degrees that drifts lie off the path; ``rhythm`` whether the signature alternates sides or stands in pairs;
    ``mirrored`` whether one side of a straight way is the like of the other, ``clipped`` whether one kind in a line
    edges the walk and a hedge closes the back;
    ``weights`` how much more or less than usual a term of the register counts, by its key.
    """

    boldness: float = 1.0
    repetition: float = 1.0
    shrubs: float = 1.0
    order: float = 1.0
    colour: float = 1.0
    slant: float = 22.0
    edging: float = 1.0
    rhythm: Rhythm = "alternating"
    mirrored: bool = False
    clipped: bool = False
    weights: tuple[tuple[str, float], ...] = ()
    words: str = "an even hand"
