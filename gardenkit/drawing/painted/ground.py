"""The ground as the painter sees it: its form, what it is made of at every spot, and grass, chips and pebbles on it."""

import math
from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.splats import Splats, colours_of, joined, rgb, splats
from gardenkit.drawing.view_ground import FAR_LAND, LAID, LAWN, OPEN_GROUND, SOIL, SURFACES, Stage
from gardenkit.geometry import plane
from gardenkit.geometry.bonds import LAYS, arc_of
from gardenkit.geometry.plane import FloatArray, Region
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.project.remembered import Remembered
from gardenkit.structure.kinds import bond_kind, frame_in, ground_kind, surface_kind

FINE = 0.02  # m a dot of the map of materials, at best. House value.
MOST_DOTS = 1500  # along a side of it
CELL = 0.9  # m between the heights of uneven ground. House value.
BEYOND = (4.0, 14.0, 45.0)  # m past the plot that its ground is carried on. House value.
LAND, OPEN, EARTH, GRASS, GRAVEL, BARK, SLABS, BETWEEN, WATER, CONCRETE, FLAGS, MEADOW, SHORT = range(13)
OF_VIEW = {
    "turf": GRASS,
    "gravel": GRAVEL,
    "bark": BARK,
    "patio": SLABS,
    "paving": SLABS,
    "stepping stones": BETWEEN,
    "pond": WATER,
    "shed base": CONCRETE,
    "flagstones": FLAGS,
    "meadow": MEADOW,
    "short meadow": SHORT,
}
LAID_FROM, MOST_BONDS = 13, 200  # kinds of dots that are paving in a bond: one for each area and path
NEAR_ENOUGH = 15.0  # m: grass and pebbles are single up to here. House value.
MOST_BLADES = 42000
MULCH = "#50392a"  # what soil in a bed is covered with. House value.
FLOWERLESS = {MEADOW: 0.86, SHORT: 0.94}  # the share of a meadow's stems without a flower. House values.
TALL = {GRASS: 0.035, MEADOW: 0.42, SHORT: 0.16, BETWEEN: 0.02, OPEN: 0.05}  # m of a blade. House values.
FLOWERS = ("#e9e4cf", "#d9b83a", "#b9679c", "#7f86c4")


@attrs.frozen(kw_only=True, eq=False)
class Materials:
    """What the ground is made of: ``kinds`` (rows, columns) of dots ``dot`` m wide from ``corner``, row 0 lowest.

    ``of`` is everything they depend on. ``shelter`` 0 to 255 is how much of the sky the plants over it hide. Kinds from
    ``LAID_FROM`` on are paving laid in a bond: ``laid`` (n, 12) is how, ``units`` (n, 3) the colour of what it is laid
    of.
    """

    of: tuple[object, ...]
    kinds: NDArray[np.uint8]
    shelter: NDArray[np.uint8]
    laid: FloatArray
    units: FloatArray
    corner: FloatArray
    dot: float


def materials(project: Project, worked: Layout, crowns: Sequence[tuple[float, float, float]]) -> Materials:
    """Return the map of a garden's ground; ``crowns`` are (x, y, radius) of what stands on it."""
    from PIL import Image, ImageDraw, ImageFilter

    made = _MAPPED.get(_what_lies(project, worked), lambda: _mapped(project, worked))
    (rows, columns), dot = made.kinds.shape, made.dot
    shelter = Image.new("L", (columns // 4 + 1, rows // 4 + 1), 0)
    shade = ImageDraw.Draw(shelter)
    for x, y, radius in crowns:
        u, v, r = (x - made.corner[0]) / dot / 4, (y - made.corner[1]) / dot / 4, 0.8 * radius / dot / 4
        shade.ellipse((u - r, v - r, u + r, v + r), fill=190)
    soft = shelter.filter(ImageFilter.GaussianBlur(0.12 / dot / 4 + 1)).resize((columns, rows))
    return attrs.evolve(made, shelter=np.asarray(soft))


def _what_lies(project: Project, worked: Layout) -> tuple[object, ...]:
    """Return all that the ground's materials depend on."""
    return worked, project.site.boundary, project.structure


def _mapped(project: Project, worked: Layout) -> Materials:
    """Return the map of a garden's ground under an open sky."""
    from PIL import Image, ImageChops, ImageDraw

    regions = _regions(project, worked)
    low_x, low_y, high_x, high_y = (
        plane.bounds(plane.union(r for r, _, _ in regions)) if regions else (0.0, 0.0, 1.0, 1.0)
    )
    corner = np.array([low_x - 1.0, low_y - 1.0])
    wide, high = high_x - low_x + 2.0, high_y - low_y + 2.0
    dot = max(FINE, max(wide, high) / MOST_DOTS)
    size = (math.ceil(wide / dot), math.ceil(high / dot))
    image = Image.new("L", size, LAND)
    pen = ImageDraw.Draw(image)
    bonds = [(region, bond) for region, _, bond in regions if bond][:MOST_BONDS]
    numbers = iter(range(LAID_FROM, LAID_FROM + len(bonds)))
    for region, plain, bond in regions:
        kind = next(numbers, plain) if bond else plain
        mask = Image.new("1", size)
        for ring in plane.rings(region):  # a ring within another is a hole
            part = Image.new("1", size)
            ImageDraw.Draw(part).polygon([((x - corner[0]) / dot, (y - corner[1]) / dot) for x, y in ring], fill=1)
            mask = ImageChops.logical_xor(mask, part)
        pen.bitmap((0, 0), mask, fill=kind)
    return Materials(
        of=_what_lies(project, worked),
        kinds=np.asarray(image),
        shelter=np.zeros(size[::-1], dtype=np.uint8),
        laid=np.array([how_laid(region, bond) for region, bond in bonds]).reshape(-1, 12),
        units=np.array([rgb(LAID[bond_kind(bond).unit]) for _, bond in bonds], dtype=float).reshape(-1, 3),
        corner=corner,
        dot=dot,
    )


_MAPPED: Remembered[Materials] = Remembered(4)  # a slider moves the light and the plants, seldom the ground


def how_laid(region: Region, bond: str) -> FloatArray:
    """Return how paving lies over a region, (12,): number of its lay, length and width of a unit with its joint, the
    joint, cosine and sine of its turn, what it turns about, its first corner; of fans the radius and a unit's angle.
    """
    kind, frame = bond_kind(bond), frame_in(region, bond)
    long, wide, turn = kind.long + kind.joint, kind.wide + kind.joint, math.radians(frame.turn)
    arc = arc_of(long) if kind.lay == "fans" else (0.0, 0.0)
    number = float(list(LAYS).index(kind.lay))
    return np.array(
        [number, long, wide, kind.joint, math.cos(turn), math.sin(turn), *frame.about, *frame.low, *arc], dtype=float
    )


def _regions(project: Project, worked: Layout) -> list[tuple[Region, int, str]]:
    """Return what the ground is made of, region over region, and the bond where it is paving laid in one."""
    found: list[tuple[Region, int, str]] = []
    if project.site.boundary:
        found.append((plane.region(project.site.boundary), OPEN, ""))
    found += [(region, EARTH, "") for region in (*(bed.region for bed in worked.beds), *worked.things.values())]
    for ground_area in project.structure.ground_areas:
        if ground_area.name in worked.ground_areas:
            look = ground_kind(ground_area.kind).ground
            found.append(
                (worked.ground_areas[ground_area.name], OF_VIEW[look.view], ground_area.bond if look.joints else "")
            )
    for path in project.structure.paths:
        if path.name in worked.surfaces:
            surface = surface_kind(path.surface)
            bond = path.bond if surface.stone == "slabs" else ""
            found.append((worked.surfaces[path.name], OF_VIEW[surface.ground.view], bond))
    return [one for one in found if not one[0].is_empty]


def palette(scene: Stage) -> FloatArray:
    """Return the colours of the materials in a season, (13, 3)."""
    named = {
        LAND: style.mixed(FAR_LAND[scene.season], "#6f8450", 0.35),
        OPEN: OPEN_GROUND,
        EARTH: style.mixed(SOIL, MULCH, 0.5),
        GRASS: style.mixed(LAWN[scene.season], "#4d7a35", 0.35),
        GRAVEL: SURFACES["gravel"],
        BARK: SURFACES["bark"],
        SLABS: SURFACES["paving"],
        BETWEEN: style.mixed(SURFACES["stepping stones"], "#4d7038", 0.62),
        WATER: "#31464a",
        CONCRETE: SURFACES["shed base"],
        FLAGS: SURFACES["flagstones"],
        MEADOW: style.mixed(SURFACES["meadow"], "#5d7a3a", 0.3),
        SHORT: style.mixed(LAWN[scene.season], "#5a8a35", 0.5),
    }
    return np.array([rgb(named[kind]) for kind in range(LAID_FROM)], dtype=float)


def mesh(scene: Stage, project: Project, *, is_level: bool) -> list[FloatArray]:
    """Return the ground as flat pieces, each its corners (n, 3): one where no heights were measured."""
    site = project.site
    eye = scene.camera.at
    if not site.boundary:
        return [scene.laid([(eye[0] + x, eye[1] + y) for x, y in ((-90, -90), (90, -90), (90, 90), (-90, 90))])]
    low_x, low_y, high_x, high_y = plane.bounds(plane.region(site.boundary))
    if is_level:
        far = BEYOND[-1]
        box = (
            (low_x - far, low_y - far),
            (high_x + far, low_y - far),
            (high_x + far, high_y + far),
            (low_x - far, high_y + far),
        )
        return [scene.laid(box)]
    xs, ys = _steps(low_x, high_x), _steps(low_y, high_y)
    grid = np.stack(np.meshgrid(xs, ys), axis=2).reshape(-1, 2)
    spots = scene.laid(grid).reshape(len(ys), len(xs), 3)
    a, b, c, d = spots[:-1, :-1], spots[:-1, 1:], spots[1:, 1:], spots[1:, :-1]
    return list(np.concatenate([np.stack(t, axis=2).reshape(-1, 3, 3) for t in ((a, b, c), (a, c, d))]))


def _steps(low: float, high: float) -> FloatArray:
    inner = np.linspace(low - 1.0, high + 1.0, max(3, round((high - low + 2) / CELL)))
    return np.concatenate(([low - b for b in BEYOND[::-1]], inner, [high + b for b in BEYOND]))


def strewn(scene: Stage, made: Materials, *, focal: float, detail: float = 1.0, snowed: bool = False) -> Splats | None:
    """Return blades of grass, chips of bark and pebbles near the eye, as dense as they can be told apart."""
    if snowed:
        return None
    key = (made.of, scene.camera, scene.season, focal, detail)
    return _STREWN.get(key, lambda: _strewn(scene, made, focal, detail))


def _strewn(scene: Stage, made: Materials, focal: float, detail: float) -> Splats | None:
    rng = np.random.default_rng(3)
    count = int(MOST_BLADES * detail)
    half = math.radians(scene.camera.angle / 2 + 3)
    ahead = 0.5 + (NEAR_ENOUGH - 0.5) * rng.uniform(0, 1, count) ** 1.8
    turn = math.radians(scene.camera.towards) + rng.uniform(-half, half, count)
    spots = np.column_stack((scene.camera.at[0] + ahead * np.sin(turn), scene.camera.at[1] + ahead * np.cos(turn)))
    place = ((spots - made.corner) / made.dot).astype(int)
    rows, columns = made.kinds.shape
    inside = (place >= 0).all(axis=1) & (place[:, 0] < columns) & (place[:, 1] < rows)
    # Each place has chances of its own, so a blade stays as it is when the ground elsewhere becomes another: a photo's
    # before and after are compared.
    chance = np.column_stack((rng.uniform(size=(count, 4)), rng.normal(size=(count, 3))))
    spots, ahead, place, chance = spots[inside], ahead[inside], place[inside], chance[inside]
    kinds = made.kinds[place[:, 1], place[:, 0]]
    colours = palette(scene)
    parts = []
    for kind in (GRASS, MEADOW, SHORT, BETWEEN, OPEN, EARTH, BARK, GRAVEL):
        these = kinds == kind
        if these.any():
            parts.append(_pieces(scene, spots[these], ahead[these], kind, colours[kind], focal, chance[these]))
    return joined(parts)


_STREWN: Remembered[Splats | None] = Remembered(4)


def _flowers(chance: FloatArray) -> FloatArray:
    """Return colours (n, ...) of meadow flowers, each one of a few, by chances 0 to 1 (n,)."""
    kinds = [colours_of(colour, np.full(len(chance), 0.5), varied=0.1) for colour in FLOWERS]
    return np.asarray(np.choose((chance * len(kinds)).astype(int)[:, None], kinds))


def _pieces(
    scene: Stage,
    spots: FloatArray,
    ahead: FloatArray,
    kind: int,
    colour: FloatArray,
    focal: float,
    chance: FloatArray,
) -> Splats:
    """Return one piece at each spot; ``chance`` (n, 7) is four of 0 to 1 and three normal ones."""
    count = len(spots)
    shade, sized, turned, flower = chance[:, :4].T
    thrown = chance[:, 4:]
    at = scene.laid(spots)
    tint = "#" + "".join(f"{int(v):02x}" for v in colour)
    paint = colours_of(tint, shade, varied=0.22 if kind != GRASS else 0.16)
    dot = ahead / focal
    if kind in TALL:
        if kind in FLOWERLESS:
            flowers = shade > FLOWERLESS[kind]
            paint = np.where(flowers[:, None], _flowers(flower), paint)
        tall = TALL[kind] * (0.6 + 0.6 * sized)
        lean = 0.4 * thrown[:, :2] * tall[:, None]
        along = np.column_stack((lean, tall)) * 0.5
        right = np.array(
            [math.cos(math.radians(scene.camera.towards)), -math.sin(math.radians(scene.camera.towards)), 0.0]
        )
        across = right[None] * np.maximum(0.0025, 0.7 * dot)[:, None]
        facing = np.column_stack((0.5 * lean / tall[:, None], np.ones(count)))
        at = at + along
        return splats(at, along, across, facing, paint, shapes.STRAP, sun=np.full(count, 0.96), sky=0.7 + 0.3 * shade)
    size = np.maximum({EARTH: 0.012, BARK: 0.02, GRAVEL: 0.011}[kind], 0.8 * dot) * (0.6 + 0.7 * sized)
    turn = math.pi * turned
    along = np.column_stack((np.cos(turn), np.sin(turn), 0.2 * thrown[:, 0])) * size[:, None]
    across = (
        np.column_stack((-np.sin(turn), np.cos(turn), 0.2 * thrown[:, 1]))
        * (size * (0.75 if kind == GRAVEL else 0.4))[:, None]
    )
    facing = np.column_stack((0.4 * thrown[:, 1:], np.ones(count)))
    shape = shapes.ROUND if kind == GRAVEL else shapes.OVATE
    lifted = at + np.array([0.0, 0.0, 0.006])
    return splats(lifted, along, across, facing, paint, shape, sun=np.full(count, 0.97), sky=0.75 + 0.25 * shade)
