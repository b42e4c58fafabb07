"""One plant set in the picture: where its foot is, how large a metre is there, its outline from above or aside."""

import math
from collections.abc import Callable, Sequence
from functools import cached_property

import attrs
import numpy as np

from gardenkit.drawing.scene import Plain
from gardenkit.drawing.style import BARE_INK
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.drawing.view_ground import Stage
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.flower_heads import EYE, FlowerHead
from gardenkit.planting.leaf_forms import LeafForm
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.structure import Support

Draw = Callable[[], list[Plain]]  # what draws a plant, asked only if it shows
_ROUND = np.array([(math.cos(t), math.sin(t)) for t in np.linspace(0, 2 * math.pi, 20, endpoint=False)]).T
BIRCH = "#ddd8cd"
FLOWER = Figure(0.022, "m", HOUSE)  # radius a flower or small head is drawn at


@attrs.frozen(kw_only=True)
class Grown:
    """A plant to be drawn: what the plan draws of it, its clear stem in metres, its colours, what it climbs on.

    ``leaves`` and ``leaf`` are their shape and half their length (m), ``in_leaf`` the share that is out, ``bark`` its
    colour, ``stems`` how many rise from the foot; ``eye`` is the middle of its
    daisies, ``budding`` that its buds swell, ``old_leaves`` the colour of an evergreen's leaves under the new ones.
    """

    drawn: PlantDrawn
    stem: float = 0.0
    trunk: float = 0.0
    flowers: tuple[str, ...] = ()
    fruit: str | None = None
    support: Support | None = None
    head: FlowerHead = "cup"
    eye: str = EYE
    leaves: LeafForm = "oval"
    leaf: float = 0.05
    in_leaf: float = 1.0
    bark: str = BARE_INK
    stems: int = 1
    autumn: bool = False
    budding: bool = False
    old_leaves: str | None = None
    seed_heads: bool = False

    @property
    def is_birch(self) -> bool:
        """Whether its bark is white with dark bands."""
        return self.bark == BIRCH


@attrs.frozen(kw_only=True, eq=False, slots=False)
class Local:
    """A plant's own upright picture: ``foot`` is where its stem meets the ground, ``per_metre`` its scale."""

    scene: Stage
    plant: Grown
    right: float
    up: float
    ahead: float

    @cached_property
    def per_metre(self) -> float:
        """Millimetres of picture a metre at the stem takes: focal / distance ahead."""
        return self.scene.camera.focal / self.ahead

    @property
    def foot(self) -> Point:
        """Where the stem meets the ground, in the picture."""
        return self.per_metre * self.right, self.per_metre * self.up

    @property
    def half(self) -> float:
        """Half the width, mm."""
        return self.per_metre * self.plant.drawn.spread / 2

    @property
    def tall(self) -> float:
        """The height, mm: focal x height / distance ahead."""
        return self.per_metre * self.plant.drawn.height

    @property
    def away(self) -> float:
        """Metres from the eye on the plan."""
        return math.hypot(self.right, self.ahead)

    @property
    def bloom(self) -> float:
        """Radius a flower is drawn at, mm: smaller on small plants."""
        return float(np.clip(min(FLOWER, 0.004 + 0.045 * self.plant.drawn.height) * self.per_metre, 0.2, 1.5))

    @property
    def leaf(self) -> float:
        """Length of a tick of leaf, mm."""
        return float(np.clip(0.045 * self.per_metre, 0.5, 4.0))

    @property
    def light(self) -> float:
        """The side the light comes from: -1 left to 1 right."""
        return math.sin(math.radians(self.scene.light - self.scene.camera.towards))

    def colour(self, colour: str) -> str:
        """Return a colour as it looks from here."""
        return self.scene.faded(colour, self.away)

    def set(self, unit: FloatArray, *, base: float = 0.0) -> FloatArray:
        """Return unit points (x -1 to 1, y 0 to 1) between ``base`` mm above the foot and the top, in the picture."""
        return np.column_stack(
            (self.foot[0] + self.half * unit[:, 0], self.foot[1] + base + (self.tall - base) * unit[:, 1])
        )

    def front(self, half: float) -> FloatArray:
        """Return the near edge of the ground a plant covers, from left to right, in the picture; ``half`` in metres."""
        turn = np.linspace(math.pi, 2 * math.pi, 7)
        ahead = np.maximum(self.ahead + half * np.sin(turn), 0.3)
        return self.scene.camera.flat(np.column_stack((self.right + half * np.cos(turn), np.full(7, self.up), ahead)))

    def cushion(self, levels: Sequence[tuple[float, float]]) -> FloatArray:
        """Return the outline of a round body seen from above: ``levels`` are (height, half width) in metres."""
        high, wide = np.asarray(levels, dtype=float).T[:, :, None]
        ahead = np.maximum(self.ahead + wide * _ROUND[1], 0.3)
        rings = np.stack((self.right + wide * _ROUND[0], self.up + high + 0.0 * ahead, ahead), axis=2)
        return np.asarray(plane.hull_outline(self.scene.camera.flat(rings.reshape(-1, 3))), dtype=float)


def box(points: FloatArray) -> FloatArray:
    """Return the corners of the upright box round points (n, 2)."""
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
