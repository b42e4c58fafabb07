"""Each plant as leaves, stems and flowers of its own kind, as many as the eye could tell apart from where it stands."""

import math

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.blossom import blossom, leafy_share
from gardenkit.drawing.painted.forms import Cloud, Wood, blades, cross, crown, rosette, weeping, wood
from gardenkit.drawing.painted.setting import set_leaves
from gardenkit.drawing.painted.splats import Splats, colours_of, golden, rgb, splats
from gardenkit.drawing.symbols import BY_LAYER
from gardenkit.drawing.view_standing import Grown
from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue_columns import BULBS
from gardenkit.planting.leaf_forms import LeafForm
from gardenkit.planting.season import LEAST_SEEN
from gardenkit.planting.species import TREES
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import support_kind

FINEST = Figure(2.1, "pixels", f"half a leaf is drawn no smaller: far leaves stand for several; {HOUSE}")
STANDS_OVER = 0.6  # of half a leaf that the highest reach above their places: a crown ends at its height. House value.
MOST_LEAVES = 10000  # a plant. House value.
TWIG = 2.0  # leaves long that woody plants are drawn by, each a twig of leaves. House value.
MOST_ON_TWIG = 4  # along and across
TWIG_WIDE = 0.85  # against its length. House value.
LEAF_SEEN = Figure(1.4, "pixels", f"half a leaf on a twig: finer ones are not told apart; {HOUSE}")
COVER = Figure(3.4, "layers of leaves over a crown in full leaf", HOUSE)
THICK_TO_LIGHT = {"tree": 0.75, "others": 0.9}  # how fast light is lost through a crown. House values.
FRESH, COPPER = "#a9c763", "#e2a27e"  # what young leaves lean to, green ones and bronze ones
FRESHEST = 0.9  # of the way, for those just out of the bud. House value.
UNFOLDING = 0.55  # of their length, just out of the bud. House value.
NEW_GROWTH = 0.72  # how far out in a crown the new leaves of an evergreen are. House value.
WITHERED = 0.25  # of the height: where yellow leaves of a bulb in flower reach. House value.
BUD, SWELLING = "#8c5a4a", "#9db35c"
BIRCH_TWIG, WHITE_BARK = "#6d5148", 0.014  # thinner (half, m) than this a birch is not white. House values.
WITHIN_LEAVES = np.array([0.78, 0.78, 0.9])  # of a crown: its twigs in leaf. House values.
STEM_THICK, TWIG_THICK = 0.006, 0.002  # m, half of a climber's. House values.
ROUND_WOOD = 0.6  # of a stick's way up: it is round, and snow lies on part of it only. House value.
LOOK: dict[LeafForm, tuple[int, float]] = {  # shape, width against length
    "oval": (shapes.OVATE, 0.55),
    "lance": (shapes.LANCE, 0.34),
    "heart": (shapes.HEART, 0.85),
    "palm": (shapes.PALMATE, 0.95),
    "feather": (shapes.FEATHER, 0.5),
    "needle": (shapes.LANCE, 0.16),
    "strap": (shapes.STRAP, 0.09),
    "lobed": (shapes.LOBED, 0.6),
    "round": (shapes.ROUND, 0.85),
    "scale": (shapes.FEATHER, 0.45),
}
WOODY = ("tree", "conifer", "shrub", "climber", "wall fruit")


@attrs.frozen(kw_only=True, eq=False)
class Set:
    """A plant where it stands: its foot (x, y, z), half its spread, its height, pixels a metre takes there."""

    plant: Grown
    foot: FloatArray
    half: float
    tall: float
    scale: float

    @property
    def seed(self) -> int:
        """A number of its own, so that no two are alike and each is always the same."""
        return self.plant.drawn.number * 7919 % 65521

    @property
    def turn(self) -> float:
        """How far its cloud is turned, radians, so that no two look alike."""
        return (self.seed % 628) / 100.0


def parts_of(one: Set) -> list[Splats]:
    """Return the leaves, wood, flowers and fruit of a plant."""
    plant = one.plant
    if plant.support is not None:
        from gardenkit.drawing.painted.climbing import climber_cloud

        cloud = climber_cloud(one, support_kind(plant.support.kind).stands)
        bare = plant.in_leaf < LEAST_SEEN
        parts = [_leafed(one, cloud)] if not bare else [_bare_climber(one, cloud)]
        return [*parts, *blossom(one, cloud)]
    if plant.drawn.leaf == "bare" or plant.in_leaf < LEAST_SEEN:  # dry stems or twigs with their buds, no leaves yet
        return _bare(one) if plant.drawn.layer in WOODY else _dry(one)
    return _green(one)


def _green(one: Set) -> list[Splats]:
    drawn = one.plant.drawn
    form = BY_LAYER.get(drawn.layer, drawn.form)
    if drawn.layer in ("tree", "conifer", "shrub", "wall fruit"):
        return _woody(one, form)
    if drawn.layer == "grass" or form == "fountain" or (one.plant.leaves == "strap" and drawn.layer != "bulb"):
        return _bladed(one, form)
    if form == "fern":
        cloud = blades(_aspect(one), 13, arch=0.65, pieces=9)
        fronds = attrs.evolve(cloud, along=cloud.along * 1.2)
        return [_placed(one, fronds, shapes.FEATHER, wide=max(0.05, 0.2 * one.half), colour=drawn.foliage)]
    if form == "bulb":
        return _bulb(one)
    body = attrs.evolve(one, tall=one.tall * leafy_share(one))
    if form == "rosette" or (one.plant.leaves == "heart" and drawn.layer == "perennial"):
        cloud = rosette(_aspect(body), int(np.clip(26 * body.half / 0.25, 18, 60)), lift=0.3)
        size = float(np.clip(0.62 * body.half / math.sqrt(len(cloud.at) / 14), 0.02, 0.18))
        shape, wide = LOOK[one.plant.leaves if one.plant.leaves not in ("needle", "lance") else "oval"]
        leaves = _placed(body, cloud, shape, wide=wide, colour=drawn.foliage, long=size)
        return [leaves, *blossom(one, cloud)]
    shown = "mound" if form in ("spire", "clump", "rosette") else form
    clumps = int(np.clip(26 * one.half / 0.3, 14, 44))
    cloud, parts = _grown_crown(body, shown, clumps)
    return [*parts, *blossom(one, cloud)]


def _aspect(one: Set, least: float = 0.12) -> float:
    """Return height over half spread in steps, so that plants alike share their cloud."""
    exact = one.tall / one.half
    return float(2.0 ** (round(2 * math.log2(max(exact, least))) / 2))


def _count(one: Set) -> tuple[int, float]:
    """Return how many leaves, or twigs, cover a crown, and half their length in metres, by what can be told apart."""
    twigs = one.plant.drawn.layer in WOODY
    area = 2.0 * one.half * one.tall * 0.8 + 1.2 * one.half**2
    size = max(one.plant.leaf * (TWIG if twigs else 1.0), FINEST / one.scale)
    wide = 0.85 * TWIG_WIDE if twigs else max(LOOK[one.plant.leaves][1], 0.25)
    wanted = COVER * area / (2.2 * size * size * wide)
    count = int(np.clip(wanted, 60, MOST_LEAVES))
    if wanted > MOST_LEAVES:
        size *= math.sqrt(wanted / MOST_LEAVES)
    step = 2 ** max(0, math.ceil(math.log2(count / 60)))
    return min(60 * step, MOST_LEAVES) if step < 300 else count, size


def _leaf_or_twig(one: Set, size: float) -> tuple[int, float]:
    """Return the shape for what is drawn half of ``size`` m long, and its width: a leaf, or a twig of several."""
    shape, wide = LOOK[one.plant.leaves]
    if one.plant.leaves == "needle" and one.plant.drawn.layer in WOODY:
        shape, wide = shapes.TUFT, TWIG_WIDE
    along = int(min(size / one.plant.leaf + 0.3, size * one.scale / LEAF_SEEN, MOST_ON_TWIG))
    return (shape + shapes.SPRAY * along, TWIG_WIDE) if along > 1 else (shape, wide)


def _grown_crown(one: Set, form: str, clumps: int, *, base: float = 0.0) -> tuple[Cloud, list[Splats]]:
    count, size = _count(one)
    tall = _aspect(one)
    low = round(base / one.tall, 1) * tall
    droop = {"weeping": 1.0, "arching": 0.7, "prostrate": 0.6}.get(form, 0.3)
    if form == "weeping":
        cloud = weeping(tall, count, base=low)
    else:
        cloud = crown(form, tall, count, clumps, base=low, droop=droop)
    shape, wide = _leaf_or_twig(one, size)
    within = attrs.evolve(one, tall=max(one.tall - STANDS_OVER * size, 0.7 * one.tall))
    parts = []
    for kept, colour in _coloured(one.plant, _thinned(cloud, one.plant.in_leaf)):
        parts.append(_placed(within, kept, shape, wide=wide, colour=colour, long=size))
    return cloud, parts


def _coloured(plant: Grown, cloud: Cloud) -> list[tuple[Cloud, str]]:
    """Return leaves with their colour: an evergreen has those of last year under the new ones at its tips."""
    if plant.old_leaves is None or plant.drawn.layer not in WOODY:
        return [(cloud, plant.drawn.foliage)]
    new = cloud.depth + 0.3 * (cloud.shade - 0.5) > NEW_GROWTH
    return [(_some(cloud, ~new), plant.old_leaves), (_some(cloud, new), plant.drawn.foliage)]


def _some(cloud: Cloud, which: NDArray[np.bool_]) -> Cloud:
    return Cloud(**{f.name: getattr(cloud, f.name)[which] for f in attrs.fields(Cloud)})


def _thinned(cloud: Cloud, share: float) -> Cloud:
    """Return the share of leaves that are out, those of the outside first in spring."""
    if share >= 0.99:
        return cloud
    return _some(cloud, cloud.shade < 0.2 + 0.8 * share)


def _leafed(one: Set, cloud: Cloud) -> Splats:
    size = max(TWIG * one.plant.leaf, FINEST / one.scale)
    shape, wide = _leaf_or_twig(one, size)
    return _placed(one, cloud, shape, wide=wide, colour=one.plant.drawn.foliage, long=size, whole=True)


def _woody(one: Set, form: str) -> list[Splats]:
    plant = one.plant
    base = plant.stem
    tree = plant.drawn.layer in TREES or base > 0.3
    clumps = int(np.clip(34 * math.sqrt(one.half * one.tall) / 1.6, 22, 90))
    if form == "conical":
        clumps = int(clumps * 1.7)
    cloud, parts = _grown_crown(one, form, clumps, base=base)
    if tree or plant.in_leaf < 0.9:
        limbs = wood(form, _aspect(one), round(base / one.tall, 1) * _aspect(one), plant.stems, 2 if tree else 3)
        if plant.in_leaf > LEAST_SEEN:  # leaves stand over the ends of the twigs
            limbs = attrs.evolve(limbs, a=limbs.a * WITHIN_LEAVES, b=limbs.b * WITHIN_LEAVES)
        parts.append(_sticks(one, limbs))
    return [*parts, *blossom(one, cloud)]


def _bladed(one: Set, form: str) -> list[Splats]:
    plant = one.plant
    stiff = form in ("upright", "columnar", "clump")
    count = int(np.clip(60 + 260 * one.half * min(one.scale / 130, 1.6), 50, 340))
    body = attrs.evolve(one, tall=one.tall * leafy_share(one))
    strap = plant.drawn.layer != "grass"
    cloud = blades(
        _aspect(body), count // 3 if strap else count, arch=0.25 if stiff else 0.75, pieces=5, stiff=stiff and strap
    )
    wide = max(0.014 if strap else 0.004, 0.55 / one.scale)
    parts = [_placed(body, cloud, shapes.STRAP, wide=wide, colour=plant.drawn.foliage)]
    return [*parts, *blossom(one, cloud)]


def _bulb(one: Set) -> list[Splats]:
    body = attrs.evolve(one, tall=one.tall * leafy_share(one))
    cloud = blades(_aspect(body), 16, arch=0.45, pieces=4)
    wide = max(0.008, 0.5 / one.scale)
    return [_placed(body, cloud, shapes.STRAP, wide=wide, colour=one.plant.drawn.foliage), *blossom(one, cloud)]


def _bare(one: Set) -> list[Splats]:
    """Return trunk, limbs and twigs with their buds, and the flowers and fruit that come before and after leaves."""
    plant = one.plant
    form = plant.drawn.form
    tall = _aspect(one)
    low = round(plant.stem / one.tall, 1) * tall
    tree = plant.drawn.layer in TREES
    limbs = wood(form, tall, low, plant.stems if tree else 7, 4 if tree else 3)
    parts = [_sticks(one, limbs)]
    tips = _twig_places(limbs, 2400 if plant.flowers else 1200 if plant.budding else 400)
    zero = np.zeros(len(tips))
    buds = Cloud(
        at=tips,
        along=np.tile((0.0, 0.0, 1.0), (len(tips), 1)),
        facing=np.tile((0.3, 0.3, 0.9), (len(tips), 1)),
        size=zero + 1,
        depth=zero + 1,
        shade=zero + 0.5,
    )
    if one.scale > 60:
        colour, long = (SWELLING, 0.02) if plant.budding else (BUD, 0.008)
        parts.append(_placed(one, buds, shapes.LANCE, wide=0.5, colour=colour, long=max(long, 0.9 / one.scale)))
    return [*parts, *blossom(one, buds)]


def _twig_places(limbs: Wood, most: int) -> FloatArray:
    """Return places (n, 3) at the ends of twigs, and along them where that is not enough."""
    tips = limbs.tips[:: max(1, len(limbs.tips) // most)]
    more = min(most - len(tips), 6 * len(limbs.tips))
    if more <= 0:
        return tips
    share = golden(more)[:, None]
    last = -1 - np.arange(more) % len(limbs.tips)
    return np.vstack((tips, limbs.a[last] + share * (limbs.b - limbs.a)[last]))


def _dry(one: Set) -> list[Splats]:
    """Return dry stems left standing, with their seed heads."""
    plant = one.plant
    if plant.drawn.layer in BULBS and plant.flowers:  # an allium in flower, its leaves already yellow at its foot
        low = attrs.evolve(one, tall=WITHERED * one.tall)
        leaves = blades(_aspect(low), 9, arch=0.9, pieces=4)
        wide = max(0.008, 0.5 / one.scale)
        return [_placed(low, leaves, shapes.STRAP, wide=wide, colour=plant.drawn.foliage), *blossom(one, leaves)]
    grass = plant.drawn.layer == "grass"
    count = int(np.clip(150 * one.half, 18, 60)) * (3 if grass else 1)
    cloud = blades(_aspect(one), count, arch=0.5 if grass else 0.12, pieces=4, stiff=not grass)
    wide = max(0.004, 0.5 / one.scale)
    parts = [_placed(one, cloud, shapes.STRAP, wide=wide, colour=plant.drawn.foliage)]
    return [*parts, *blossom(attrs.evolve(one, plant=attrs.evolve(plant, seed_heads=True)), cloud)]


def _placed(
    one: Set,
    cloud: Cloud,
    shape: int,
    *,
    wide: float,
    colour: str,
    long: float | None = None,
    whole: bool = False,
) -> Splats:
    """Return a cloud of leaves set where the plant stands: turned, sized, coloured and lit through the crown.

    With ``long`` leaves are that half length (m) and ``wide`` their width against it; without, the cloud's own lengths
    and ``wide`` in metres.
    """
    plant = one.plant
    turn = one.turn if not whole else 0.0
    foot = one.foot if not whole else np.zeros(3)
    size = (one.half, one.tall, max(float(cloud.at[:, 2].max()), 1e-6)) if not whole else (1.0, 1.0, 1.0)
    young = 1.0 - min(1.0, plant.in_leaf) if plant.drawn.layer in WOODY else 0.0
    tint = rgb(_fresh(colour, young))
    long = (long or 0.0) * (1.0 - (1.0 - UNFOLDING) * young)
    thick = THICK_TO_LIGHT["tree" if plant.drawn.layer == "tree" else "others"] if not whole else 0.0
    stand = np.array([*foot, *size, turn, long, wide, shape, thick])
    count = len(cloud.at)
    out, paint = np.empty((4, count, 3), dtype=np.float32), np.empty((count, 9), dtype=np.uint8)
    within = np.empty((count, 7), dtype=np.float32)
    hue = np.array([*tint, 0.26 if plant.autumn else 0.13])
    set_leaves(
        cloud.at, cloud.along, cloud.facing, cloud.size, cloud.depth, cloud.shade, stand, hue, out, paint, within
    )
    return Splats(at=out[0], along=out[1], across=out[2], facing=out[3], paint=paint, within=within)


def _fresh(colour: str, young: float) -> str:
    """Return the colour of leaves of which a share is just out of the bud: bright green, or copper on bronze ones."""
    red, green, _ = rgb(colour)
    return style.mixed(colour, COPPER if red > green else FRESH, FRESHEST * math.sqrt(young)) if young > 0 else colour


def _sticks(one: Set, limbs: Wood) -> Splats:
    """Return the wood of a plant as round sticks."""
    plant = one.plant
    c, s = math.cos(one.turn), math.sin(one.turn)
    spin = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    stretch = np.array([one.half, one.half, one.tall / _aspect(one)])
    a, b = (limbs.a @ spin) * stretch + one.foot, (limbs.b @ spin) * stretch + one.foot
    trunk = plant.trunk or 0.018 * one.tall
    thick = np.maximum(limbs.thick**1.25 * trunk / 2, 0.3 / one.scale)
    return sticks_between(a, b, thick, plant.bark, white=plant.is_birch)


def sticks_between(a: FloatArray, b: FloatArray, thick: FloatArray, colour: str, *, white: bool = False) -> Splats:
    """Return sticks of half thickness ``thick`` (n) from a to b (n, 3); thick ones in short lengths that meet."""
    pieces = 1 + (thick > 0.012) * 3
    owner = np.repeat(np.arange(len(a)), pieces)
    part = np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    step = (b - a)[owner] / pieces[owner][:, None]
    at = a[owner] + step * (part + 0.5)[:, None]
    along = 0.54 * step
    level = cross(along, [0.0, 0.0, 1.0]) + np.array([0.0, 1e-6, 0.0])
    facing = cross(level, along)
    facing /= np.maximum(np.linalg.norm(facing, axis=1, keepdims=True), 1e-9)
    facing[:, 2] *= ROUND_WOOD
    shade = golden(len(a))[owner]
    paint = colours_of(colour, shade, varied=0.14)
    if white:  # a birch: dark bands on white, and fine twigs that are brown
        paint[(part % 2 == 1) & (thick[owner] > 0.02)] = (120, 112, 104)
        paint[thick[owner] < WHITE_BARK] = rgb(BIRCH_TWIG)
    level *= (thick[owner] / np.maximum(np.linalg.norm(level, axis=1), 1e-9))[:, None]
    return splats(at, along, level, facing, paint, shapes.STICK, sun=np.full(len(at), 0.8), sky=np.full(len(at), 0.75))


def _bare_climber(one: Set, cloud: Cloud) -> Splats:
    """Return a climber without leaves: its stems and twigs on the support."""
    from gardenkit.drawing.painted.climbing import STRANDS, stems_of

    a, b = stems_of(cloud, one.foot, one.seed)
    thick = np.where(np.arange(len(a)) < len(a) // 4, STEM_THICK, TWIG_THICK)
    thick[:STRANDS] *= 1.5
    return sticks_between(a, b, np.maximum(thick, 0.3 / one.scale), one.plant.bark)
