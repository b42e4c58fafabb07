"""Plants as they stand in the picture: each in its own form and its colours of the month, upright where its stem is.

A plant is an upright picture square to the line of sight at the distance of its stem, so its height in the picture is
focal x height / distance. Low plants are seen from above: they get the true outline of a round cushion.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.garden import BARE, drawn
from gardenkit.drawing.scene import Area, Plain
from gardenkit.drawing.silhouettes import PROFILES, RAYED, silhouette
from gardenkit.drawing.symbols import BY_LAYER, CANOPY_LAYERS, PlantDrawn
from gardenkit.drawing.view_foliage import branches, fan, flowers, hatch, leaf_masses, lobed, on_twigs
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_order import Piece, Stander
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.season import appearance
from gardenkit.project.season import Standing
from gardenkit.site.site import ExistingTree
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.structure import Support

NEAREST = Figure(0.45, "m", HOUSE)  # a plant whose stem is nearer than this is beside the eye, not before it
FLOWER = Figure(0.022, "m", HOUSE)  # radius a flower or small head is drawn at
ALONG_ARCH = Figure(0.17, "m", HOUSE)  # half the thickness of a climber on its arch
TREE_LEAF = {
    "winter": "#8a7a5a",
    "spring": "#8fae5e",
    "summer": "#6c9050",
    "autumn": "#b58f45",
}  # kind not known. House.
ARCHED = ("arch", "arbour", "pergola")
SMOOTH = ("conical", "mat", "trained")
WOODY = ("tree", "conifer", "shrub", "climber", "wall fruit")
HERB_STEMS = ("perennial", "grass", "fern", "ground cover", "annual", "bulb", "tender bulb")


@attrs.frozen(kw_only=True)
class Grown:
    """A plant to be drawn: what the plan draws of it, its clear stem in metres, its colours, what it climbs on."""

    drawn: PlantDrawn
    stem: float = 0.0
    trunk: float = 0.0
    flowers: tuple[str, ...] = ()
    fruit: str | None = None
    support: Support | None = None


def grown(plants: Sequence[Standing], supports: Sequence[Support]) -> list[Grown]:
    """Return the plants that show above ground, ready to be drawn."""
    by_name = {s.name: s for s in supports}
    found = []
    for item, plant in zip(plants, drawn(plants), strict=True):
        if plant.leaf == "below ground" or not item.is_seen:
            continue
        canopy = item.species.layer in CANOPY_LAYERS
        found.append(
            Grown(
                drawn=attrs.evolve(plant, spread=item.size.spread),
                stem=item.size.crown_base if canopy else 0.0,
                trunk=max(0.03, 0.02 * plant.height) if canopy else 0.0,
                flowers=item.look.flowers if item.look.in_flower else (),
                fruit=item.look.fruit,
                support=by_name.get(item.plant.support),
            )
        )
    return found


def grown_trees(
    trees: Sequence[ExistingTree], catalogue: Catalogue, season: str, month: int, shift: float
) -> list[Grown]:
    """Return the trees that are there and stay, in the catalogue's colours of the month when their kind is known."""
    found = []
    for number, tree in enumerate(t for t in trees if t.keep):
        leafless = tree.leaf_on is not None and tree.leaf_off is not None and not _in_leaf(tree, month)
        colour = TREE_LEAF[season]
        blossom: tuple[str, ...] = ()
        fruit: str | None = None
        if tree.species in catalogue:
            look = appearance(catalogue[tree.species], month, shift)
            colour = look.foliage or BARE
            blossom, fruit = look.flowers, look.fruit
            leafless = look.in_leaf <= 0
        plant = PlantDrawn(
            number=9000 + number, key="", at=tree.at, height=tree.height, spread=tree.spread,
            form=tree.form, foliage=colour, leaf="bare" if leafless else "leaf", layer="tree", name=tree.name,
        )  # fmt: skip
        found.append(
            Grown(
                drawn=plant,
                stem=min(tree.crown_base, 0.8 * tree.height),
                trunk=tree.trunk_diameter,
                flowers=blossom,
                fruit=fruit,
            )
        )
    return found


def plant_part(scene: Stage, plant: Grown) -> Stander:
    """Return a plant as a thing that stands at its stem."""
    return Stander(at=_stands_at(scene, plant), make=lambda: _piece(scene, plant))


@attrs.frozen(kw_only=True, eq=False)
class _Local:
    """A plant's own upright picture: ``foot`` is where its stem meets the ground, ``per_metre`` its scale, mm a metre."""

    scene: Stage
    plant: Grown
    right: float
    up: float
    ahead: float

    @property
    def per_metre(self) -> float:
        return self.scene.camera.focal / self.ahead

    @property
    def foot(self) -> Point:
        return self.per_metre * self.right, self.per_metre * self.up

    @property
    def half(self) -> float:
        return self.per_metre * self.plant.drawn.spread / 2

    @property
    def tall(self) -> float:
        return self.per_metre * self.plant.drawn.height

    @property
    def away(self) -> float:
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
        return math.sin(math.radians(self.scene.light - self.scene.camera.towards))

    def colour(self, colour: str) -> str:
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
        turn = np.linspace(0, 2 * math.pi, 20, endpoint=False)
        rings = [
            np.column_stack(
                (
                    self.right + r * np.cos(turn),
                    np.full(20, self.up + z),
                    np.maximum(self.ahead + r * np.sin(turn), 0.3),
                )
            )
            for z, r in levels
        ]
        return np.asarray(plane.hull_outline(self.scene.camera.flat(np.vstack(rings))), dtype=float)


def _stands_at(scene: Stage, plant: Grown) -> Point:
    """Return the plan point a plant is sorted by: a climber on an arch a hand's breadth on this side of its posts."""
    at = plant.drawn.at
    away = scene.away(at)
    if plant.support is None or plant.support.kind not in ARCHED or away < 0.5:
        return at
    pull = min(0.35, 0.3 * away) / away
    eye = scene.camera.at
    return at[0] + pull * (eye[0] - at[0]), at[1] + pull * (eye[1] - at[1])


def _piece(scene: Stage, plant: Grown) -> list[Piece]:
    at = plant.drawn.at
    right, up, ahead = scene.camera.before(np.array([[*at, scene.level(at)]]))[0]
    local = _Local(scene=scene, plant=plant, right=float(right), up=float(up), ahead=float(ahead))
    if ahead < NEAREST or _around_the_eye(local):
        return []
    _, _, edge, top = scene.camera.frame
    if abs(local.foot[0]) - local.half - local.tall > edge or local.foot[1] > top:
        return []
    outline, marks, solid = _drawn_as(local)
    cover = scene.camera.framed(outline) if len(outline) > 2 else ()
    if not cover or not marks:
        return []
    name = plant.drawn.name
    tip = f"{name}: {plant.drawn.height:.2f} m high, {plant.drawn.spread:.2f} m wide, {local.away:.1f} m away"
    return [Piece(marks=tuple(marks), cover=(cover,), name=name, kind="plant", away=local.away, solid=solid, tip=tip)]


def _around_the_eye(local: _Local) -> bool:
    """Return whether the eye is among the plant's own leaves."""
    plant = local.plant
    if local.away > 0.35 * plant.drawn.spread:
        return False
    return local.up + plant.stem < 0.1 and local.up + plant.drawn.height > -0.1


def _drawn_as(local: _Local) -> tuple[FloatArray, list[Plain], bool]:
    """Return a plant's outline in the picture, its marks, and whether it hides what is behind."""
    plant = local.plant.drawn
    form = BY_LAYER.get(plant.layer, plant.form if plant.form in PROFILES else "round")
    if local.plant.support is not None:
        return _on_support(local, local.plant.support)
    if plant.leaf == "bare" and plant.layer in WOODY:
        return _bare(local, form)
    if plant.leaf == "bare":
        return _dry(local)
    if plant.layer == "grass" or form in ("fountain", "fern"):
        return _blades(local, form)
    if form == "bulb":
        return _bulb(local)
    if form in ("spire", "rosette") and local.plant.flowers:
        return _spires(local)
    return _leafy(local, "mound" if form in ("spire", "rosette") else form)


def _leafy(local: _Local, form: str) -> tuple[FloatArray, list[Plain], bool]:
    plant = local.plant
    outline = _outline(local, form)
    colour = local.colour(plant.drawn.foliage)
    seed = plant.drawn.number
    marks: list[Plain] = []
    if plant.stem > 0:
        marks += _trunk(local, plant.stem + 0.35 * (plant.drawn.height - plant.stem))
    marks += leaf_masses(local.scene.camera, outline, colour, seed=seed, light=local.light, leaf=local.leaf)
    marks += _blossom(local, outline)
    return outline, marks, True


def _outline(local: _Local, form: str) -> FloatArray:
    plant = local.plant
    if plant.stem > 0:
        return lobed(local.set(silhouette(form, raised=True), base=plant.stem * local.per_metre), depth=0.05, pitch=3.0)
    half, tall = plant.drawn.spread / 2, plant.drawn.height
    profile = PROFILES[form]
    if local.up + tall < -0.05:
        hull = local.cushion([(y * tall, x * half) for y, x in profile])
        if len(hull) > 3:
            return lobed(hull, depth=0.1)
    sides = local.set(silhouette(form))
    whole = np.vstack((sides, local.front(profile[0][1] * half)[1:-1]))
    return whole if form in SMOOTH else lobed(whole, depth=0.05)


def _blossom(local: _Local, outline: FloatArray) -> list[Plain]:
    plant = local.plant
    size = local.bloom
    camera = local.scene.camera
    marks: list[Plain] = []
    tree = plant.stem > 0
    if plant.flowers:
        colours = tuple(local.colour(c) for c in plant.flowers)
        marks += flowers(
            camera, outline, colours, seed=plant.drawn.number, size=size * (1.4 if tree else 1.0), low=0.12 if tree else 0.4 if plant.drawn.layer in WOODY else 0.55,
            dense=1.6 if tree else 1.0,
        )  # fmt: skip
    if plant.fruit:
        marks += flowers(
            camera,
            outline,
            (local.colour(plant.fruit),),
            seed=plant.drawn.number + 3,
            size=0.7 * size,
            low=0.2,
            dense=0.5,
        )
    return marks


def _trunk(local: _Local, top: float) -> list[Plain]:
    half = max(0.12, local.per_metre * max(local.plant.trunk, 0.03) / 2)
    x, y = local.foot
    high = local.per_metre * top
    shape = np.array(
        [(x - 1.35 * half, y), (x + 1.35 * half, y), (x + half, y + 0.12 * high), (x + 0.65 * half, y + high), (x - 0.65 * half, y + high), (x - half, y + 0.12 * high)]
    )  # fmt: skip
    ring = local.scene.camera.framed(shape)
    if not ring:
        return []
    colour = local.colour(style.BARE_INK)
    return [
        Area(rings=(ring,), fill=colour, stroke=style.mixed(colour, style.INK, 0.4), width_mm=0.1, layer="planting")
    ]


def _bare(local: _Local, form: str) -> tuple[FloatArray, list[Plain], bool]:
    plant = local.plant
    outline = local.set(
        silhouette(form if form in PROFILES else "round", raised=plant.stem > 0), base=plant.stem * local.per_metre
    )
    count = 7 if plant.stem > 0 else 8
    limbs, twigs = branches(
        local.foot, plant.stem * local.per_metre, local.half, local.tall, seed=plant.drawn.number, count=count
    )
    colour = local.colour(style.BARE_INK)
    thick = float(np.clip((plant.trunk or 0.02 * plant.drawn.height) * 0.22 * local.per_metre, 0.12, 2.2))
    camera = local.scene.camera
    marks: list[Plain] = _trunk(local, plant.stem * 1.02) if plant.stem > 0 else []
    marks += hatch(camera, twigs, style.mixed(colour, "#ffffff", 0.15), max(0.09, thick * 0.17))
    for first, share in ((2, 0.3), (1, 0.55), (0, 0.85)):
        marks += hatch(camera, [limb[first : first + 2] for limb in limbs], colour, max(0.1, thick * share))
    size = 0.8 * local.bloom
    for colours in (plant.flowers, (plant.fruit,) if plant.fruit else ()):
        if colours:
            marks += on_twigs(camera, twigs, tuple(local.colour(c) for c in colours), size=size)
    return outline, marks, False


def _dry(local: _Local) -> tuple[FloatArray, list[Plain], bool]:
    """Return dry stems left standing, with their seed heads."""
    plant = local.plant.drawn
    count = int(np.clip(local.half * 1.6, 6, 20))
    lines = fan(
        local.foot,
        local.half,
        local.tall,
        count=count,
        seed=plant.number,
        droop=0.25 if plant.layer == "grass" else 0.0,
    )
    colour = local.colour(plant.foliage)
    pen = float(np.clip(0.008 * local.per_metre, 0.1, 0.4))
    marks = hatch(local.scene.camera, lines, colour, pen)
    heads = np.array([line[-1] for line in lines])
    if plant.layer != "grass":
        dark = style.mixed(colour, style.BARE_INK, 0.55)
        marks += flowers(
            local.scene.camera,
            _box(heads),
            (dark,),
            seed=plant.number,
            size=max(0.15, 0.014 * local.per_metre),
            low=0.6,
        )
    return _box(np.vstack(lines)), marks, False


def _blades(local: _Local, form: str) -> tuple[FloatArray, list[Plain], bool]:
    plant = local.plant.drawn
    colour = local.colour(plant.foliage)
    upright = form in ("clump", "upright", "columnar")
    size = math.sqrt(local.half * local.tall)
    count = int(np.clip(size * 1.8, 9, 30)) | 1
    droop = 0.12 if upright else 0.42
    back = fan(local.foot, local.half, local.tall * 0.94, count=count, seed=plant.number, droop=droop)
    ahead = fan(local.foot, local.half, local.tall, count=count, seed=plant.number + 1, droop=droop, lean=0.95)
    pen = float(np.clip(0.011 * local.per_metre, 0.14, 0.6))
    outline = local.set(silhouette(form if form in RAYED else "fountain"))
    camera = local.scene.camera
    marks: list[Plain] = []
    mass = camera.framed(local.set(silhouette("fountain") * (0.82, 0.8)))
    if mass:
        marks.append(Area(rings=(mass,), fill=style.mixed(colour, "#22301f", 0.3), alpha=0.75, layer="planting"))
    marks += hatch(camera, back, style.mixed(colour, "#22301f", 0.3), pen)
    if form == "fern":
        ahead += [leaf for blade in ahead[::2] for leaf in _pinnae(blade)]
    marks += hatch(camera, ahead, style.mixed(colour, "#fff3c4", 0.15), pen)
    if local.plant.flowers:
        plumes = [blade[-2:] for blade in ahead[count // 5 : count - count // 5 : 2]]
        marks += hatch(camera, plumes, local.colour(local.plant.flowers[-1]), pen * 2.4)
    return outline, marks, size > 3


def _pinnae(blade: FloatArray) -> list[FloatArray]:
    found = []
    for a, b in pairwise(blade):
        way = (b - a) * 0.3
        aside = np.array([-way[1], way[0]])
        found += [
            np.array([a + s * (b - a), a + s * (b - a) + way + side * aside])
            for s in (0.3, 0.75)
            for side in (-0.9, 0.9)
        ]
    return found


def _bulb(local: _Local) -> tuple[FloatArray, list[Plain], bool]:
    plant = local.plant.drawn
    camera = local.scene.camera
    colour = local.colour(plant.foliage)
    leaves = fan(
        local.foot,
        local.half,
        local.tall * (0.5 if local.plant.flowers else 1.0),
        count=7,
        seed=plant.number,
        droop=0.35,
    )
    marks = hatch(camera, leaves, colour, float(np.clip(0.014 * local.per_metre, 0.14, 0.7)))
    if local.plant.flowers:
        stems = fan(local.foot, 0.7 * local.half, local.tall, count=3, seed=plant.number, droop=0.0)
        marks += hatch(
            camera, stems, style.mixed(colour, "#22301f", 0.2), float(np.clip(0.006 * local.per_metre, 0.1, 0.4))
        )
        radius = local.per_metre * min(0.055, 0.16 * plant.height)
        for x, y in (stem[-1] for stem in stems):
            head = np.column_stack((x + radius * np.cos(_TURN), y - radius + radius * np.sin(_TURN)))
            ring = camera.framed(head)
            fill = local.colour(local.plant.flowers[0])
            if ring:
                marks.append(
                    Area(
                        rings=(ring,),
                        fill=fill,
                        stroke=style.mixed(fill, "#22301f", 0.35),
                        width_mm=0.1,
                        layer="planting",
                    )
                )
    return _box(np.vstack(leaves + [np.array([local.foot, (local.foot[0], local.foot[1] + local.tall)])])), marks, False


def _spires(local: _Local) -> tuple[FloatArray, list[Plain], bool]:
    """Return a low body of leaves with flower spikes rising from it."""
    plant = local.plant.drawn
    camera = local.scene.camera
    low = attrs.evolve(
        local,
        plant=attrs.evolve(local.plant, drawn=attrs.evolve(plant, height=0.5 * plant.height), flowers=(), fruit=None),
    )
    outline, marks, _ = _leafy(low, "mound")
    count = int(np.clip(local.half * 1.1, 3, 13)) | 1
    stems = fan(local.foot, 0.75 * local.half, local.tall, count=count, seed=plant.number, droop=0.0)
    fill = local.colour(local.plant.flowers[0])
    wide = max(0.16, min(0.012 * local.per_metre, 1.6))
    marks += hatch(camera, stems, style.mixed(local.colour(plant.foliage), "#22301f", 0.2), max(0.1, wide * 0.3))
    spikes = [np.array([stem[len(stem) // 2], stem[-1]]) for stem in stems]
    rings = []
    for a, b in ((s[0], s[1]) for s in spikes):
        shape = np.array(
            [
                a + (-0.6 * wide, 0),
                a + (0.6 * wide, 0),
                a + 0.45 * (b - a) + (wide, 0),
                b,
                a + 0.45 * (b - a) - (wide, 0),
            ]
        )
        ring = camera.framed(shape)
        if ring:
            rings.append(ring)
    marks += [
        Area(rings=(r,), fill=fill, stroke=style.mixed(fill, "#22301f", 0.3), width_mm=0.08, layer="planting")
        for r in rings
    ]
    tip = np.array([(local.foot[0], local.foot[1] + local.tall)])
    return np.asarray(plane.hull_outline(np.vstack((outline, tip)))), marks, False


def _on_support(local: _Local, support: Support) -> tuple[FloatArray, list[Plain], bool]:
    """Return a climber where it grows: up the post and over an arch, or flat against its trellis, fence or wires."""
    outline = _over_arch(local, support) if support.kind in ARCHED else _against(local, support)
    if len(outline) < 4:
        return outline, [], False
    outline = lobed(outline, depth=0.04, pitch=3.0)
    plant = local.plant
    if plant.drawn.leaf == "bare":
        middle = outline.mean(axis=0)
        half, tall = np.ptp(outline[:, 0]) / 2, np.ptp(outline[:, 1])
        limbs, twigs = branches(
            (float(middle[0]), float(outline[:, 1].min())), 0.1 * tall, half, tall, seed=plant.drawn.number, count=5
        )
        colour = local.colour(style.BARE_INK)
        camera = local.scene.camera
        return outline, [*hatch(camera, limbs, colour, 0.35), *hatch(camera, twigs, colour, 0.14)], False
    marks = leaf_masses(
        local.scene.camera,
        outline,
        local.colour(plant.drawn.foliage),
        seed=plant.drawn.number,
        light=local.light,
        leaf=local.leaf,
    )
    if plant.flowers:
        size = local.bloom
        marks += flowers(
            local.scene.camera,
            outline,
            tuple(local.colour(c) for c in plant.flowers),
            seed=plant.drawn.number,
            size=size,
            low=0.1,
            dense=0.6,
        )
    return outline, marks, True


def _over_arch(local: _Local, support: Support) -> FloatArray:
    near, far = sorted((support.line[0], support.line[-1]), key=lambda p: math.dist(p, local.plant.drawn.at))
    tall, long = support.height, math.dist(near, far)
    up = min(local.plant.drawn.height, tall)
    over = min(max(local.plant.drawn.height - tall, 0.0), 0.55 * long)
    half = min(float(ALONG_ARCH), 0.3 * local.plant.drawn.spread + 0.04)
    way = np.subtract(far, near) / long
    base = local.scene.level(near)
    rise = np.linspace(0, up, 7)
    sway = half * (1 + 0.25 * np.sin(5 * rise + local.plant.drawn.number))
    left = [(-w, z) for w, z in zip(sway, rise, strict=True)]
    right = [(w, z) for w, z in zip(sway[::-1], rise[::-1], strict=True)]
    if over > 0:
        crest = [
            (-half, up + half),
            *((x, up + half * (1.1 + 0.3 * math.sin(7 * x))) for x in np.linspace(0, over, 4)),
            (over, up - half * 0.5),
            (half, up - half),
        ]
    else:
        crest = [(0.0, up + 0.4 * half)]
    spots = np.array([(*(np.asarray(near) + way * u), base + z) for u, z in [*left, *crest, *right]])
    seen = local.scene.camera.before(spots)
    return local.scene.camera.flat(seen) if seen[:, 2].min() > 0.3 else np.zeros((0, 2))


def _against(local: _Local, support: Support) -> FloatArray:
    """Return the patch of a support a plant covers, as high as it has grown (a little over the top at most)."""
    plant = local.plant.drawn
    line = plane.line(support.line)
    foot = np.asarray(plane.nearest_on(line, plant.at))
    a, b = min(
        zip(support.line, support.line[1:], strict=False),
        key=lambda pair: plane.distance(plane.line(pair), plane.point(tuple(foot))),
    )
    long = math.dist(a, b)
    way = np.subtract(b, a) / long
    along = float((foot - a) @ way)
    low, high = max(-0.15, along - plant.spread / 2), min(long + 0.15, along + plant.spread / 2)
    tall = min(plant.height, support.height + 0.25)
    unit = silhouette("trained" if plant.layer == "wall fruit" else "oval")
    u = (low + high) / 2 + unit[:, 0] * (high - low) / 2
    base = local.scene.level((float(foot[0]), float(foot[1])))
    spots = np.column_stack((a[0] + way[0] * u, a[1] + way[1] * u, base + tall * unit[:, 1]))
    seen = local.scene.camera.before(spots)
    return local.scene.camera.flat(seen) if seen[:, 2].min() > 0.3 else np.zeros((0, 2))


def _box(points: FloatArray) -> FloatArray:
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def _in_leaf(tree: ExistingTree, month: int) -> bool:
    on, off = tree.leaf_on or 1, tree.leaf_off or 12
    return on <= month <= off if on <= off else month >= on or month <= off


_TURN = np.linspace(0, 2 * math.pi, 12, endpoint=False)
