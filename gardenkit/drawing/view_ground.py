"""Sky, far land and the garden's own ground as they lie in the picture: lawn, soil, path and every stone."""

import itertools
import math
from collections.abc import Callable, Sequence
from functools import lru_cache

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Dots, Hatch, Mark, Plain, Ring, Symbol
from gardenkit.drawing.textures import paving_joints
from gardenkit.drawing.view_camera import NEAR, Camera, Spatial
from gardenkit.drawing.view_sun import DAY, Sunlight, sky_colours, sunlight
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray, Point, Region
from gardenkit.project import Project
from gardenkit.project.layout import Layout
from gardenkit.site.levels import Surface
from gardenkit.site.site import Site
from gardenkit.sources import HOUSE, Figure
from gardenkit.structure.kinds import bond_kind, ground_kind, laid_in, surface_kind
from gardenkit.structure.things import raised_over

HAZE_FAR = Figure(70.0, "m", HOUSE)  # at this distance air has taken 63 % of a colour: gentle over a garden
STEP = Figure(0.8, "m", HOUSE)  # edges on the ground follow its fall at least this often
FLECK_FAR = Figure(11.0, "m", HOUSE)  # soil and gravel show their grain up to here
SEASONS = ("winter", "spring", "summer", "autumn")
SKY = {  # high up, at the horizon. House values.
    "winter": ("#9db8d2", "#e7edf0"),
    "spring": ("#a9cbe2", "#eef4f3"),
    "summer": ("#94c0e4", "#edf3f2"),
    "autumn": ("#b0c6d6", "#f3efe4"),
}
LAWN = {"winter": "#a3aa7b", "spring": "#9dbb68", "summer": "#93b15e", "autumn": "#a2ae66"}
FAR_LAND = {"winter": "#bdbba6", "spring": "#b6c3a0", "summer": "#b3bf97", "autumn": "#bfba98"}
FAR_TREES = {"winter": "#a8a6a0", "spring": "#9db294", "summer": "#8ea68a", "autumn": "#b0a486"}
SOIL, OPEN_GROUND, SHADOW = "#8f735a", "#b3aa84", "#2b3326"
SURFACES = {  # what one sees of a surface standing on it; plans are paler. House values.
    "stepping stones": "#a5aa72",
    "flagstones": "#a9a08c",
    "paving": "#c3bbab",
    "gravel": "#cdc3ac",
    "bark": "#a5805a",
    "patio": "#c6bdac",
    "pond": "#8fb0bd",
    "meadow": "#a3ad62",
    "short meadow": "#86a84f",
    "shed base": "#bdb8ac",
}
LAID = {"brick": "#96604c", "sett": "#9a9993", "slab": "#c3bbab"}  # paving by what its bond is laid of. House values.
LAID_JOINTS = {"brick": "#7f5847", "sett": "#74736e", "slab": "#8f8676"}
UNIT_MM = 1.2  # a unit of paving that shows less wide is not drawn by itself. House value.
GRAIN = {"gravel": ("#a89c82", 60.0), "bark": ("#7d5b3b", 40.0), "soil": ("#6d5542", 26.0)}  # colour, flecks a m2
BLADES = {"turf": 0.022, "meadow": 0.16, "short meadow": 0.06}  # m that a tuft stands up in a view
MOST_FLECKS = 700
FINEST_MM = 0.2  # corners nearer than this in the picture are one. House value.
STONE_RISE = 0.03  # m a stone stands above its bed. House value.


@attrs.frozen(kw_only=True, eq=False)
class Stage:
    """What every part of the picture needs: the camera, ground heights (n,) at places (n, 2), the season, the light.

    ``light`` is the plan direction the light comes from, degrees clockwise from plan y.
    """

    camera: Camera
    ground: Callable[[FloatArray], FloatArray]
    season: str
    month: int
    light: float
    sun: Sunlight | None = None

    @property
    def sky(self) -> tuple[str, str]:
        """The colours of the sky high up and at the horizon, warmer the lower the sun."""
        return sky_colours(*SKY[self.season], self.sun)

    @property
    def haze(self) -> str:
        """The colour that distance stirs into everything."""
        return self.sky[1]

    def faded(self, colour: str, away: float) -> str:
        """Return a colour as it looks through ``away`` metres of air."""
        return style.mixed(colour, self.haze, 1.0 - math.exp(-max(away, 0.0) / HAZE_FAR))

    def away(self, at: Point) -> float:
        """Return metres on the plan from the eye."""
        return math.dist(at, self.camera.at)

    def laid(self, points: Sequence[Sequence[float]] | FloatArray, *, lift: float = 0.0) -> FloatArray:
        """Return plan points (n, 2) set on the ground, ``lift`` metres above it, (n, 3)."""
        flat = np.asarray(points, dtype=float)
        return np.column_stack((flat, self.ground(flat) + lift))

    def level(self, at: Point) -> float:
        """Return the ground's height at a plan point."""
        return _level(self.ground, (float(at[0]), float(at[1])))


def stage(
    site: Site, camera: Camera, month: int, *, hour: float | None = None, day: int = DAY, lie: Surface | None = None
) -> Stage:
    """Return the stage for a site, lit by the sun of a ``day`` of a month at an ``hour`` of the place's clock (see
    ``sunlight``), on the ground as it will be (``lie``); level without.

    While the place is not known, or with the sun down, the light comes from the south-west (north-west in the south).
    """
    southern = site.place.latitude < 0
    season = SEASONS[(month + (6 if southern else 0)) % 12 // 3]
    light = ((310.0 if southern else 230.0) - site.y_bearing) % 360
    sun = sunlight(site, month, hour, day=day)
    light = sun.bearing if sun is not None else light
    return Stage(camera=camera, ground=heights_of(lie), season=season, month=month, light=light, sun=sun)


def heights_of(lie: Surface | None) -> Callable[[FloatArray], FloatArray]:
    """Return the height of the ground (n,) at places (n, 2); level 0 where no heights were taken."""
    return lie.at if lie is not None else _no_heights


def _no_heights(places: FloatArray) -> FloatArray:
    return np.zeros(len(places))


@lru_cache(maxsize=16384)
def _level(ground: Callable[[FloatArray], FloatArray], at: Point) -> float:
    """Return the height of the ground at one place; remembered, as every view of a garden has the same plants."""
    return float(ground(np.array([at], dtype=float))[0])


def for_plants(scene: Stage, project: Project) -> Stage:
    """Return the stage as plants stand on it: on the soil of raised beds where they grow in them."""
    ground = raised_over(scene.ground, project.structure.things)
    return scene if ground is scene.ground else attrs.evolve(scene, ground=ground)


def backdrop(scene: Stage) -> list[Mark]:
    """Return the sky, a faint line of trees far off, and the land between it and the garden."""
    left, low, right, top = scene.camera.frame
    high, haze = scene.sky
    bands = 28
    marks: list[Mark] = [
        _band(left, top * k / bands, right, top, style.mixed(haze, high, (k / bands) ** 0.8)) for k in range(bands)
    ]
    land = FAR_LAND[scene.season]
    steps = (0.0, 0.012, 0.03, 0.065, 0.14, 0.3, 1.0)
    for a, b in itertools.pairwise(steps):
        away = scene.camera.eye[2] / max((a + b) / 2, 0.004) if scene.camera.eye[2] > 0 else 20.0
        colour = style.mixed(land, haze, min(0.4, 1 - math.exp(-away / 120)))
        marks.append(_band(left, low, right, low * a, colour))
    marks += [_far_trees(scene, rise, share) for rise, share in ((0.030, 0.72), (0.018, 0.5))]
    return marks


def ground_marks(scene: Stage, project: Project, worked: Layout) -> list[Mark]:
    """Return the plot's own ground: soil of the beds, surfaces, areas, stones, each a true polygon in perspective."""
    marks: list[Mark] = []
    if project.site.boundary:
        marks += _ground(scene, plane.region(project.site.boundary), OPEN_GROUND, "open ground")
    for bed in worked.beds:
        marks += _ground(scene, bed.region, SOIL, f"bed {bed.name}", grain="soil")
    for ground_area in project.structure.ground_areas:
        region = worked.ground_areas.get(ground_area.name, plane.NOWHERE)
        look = ground_kind(ground_area.kind).ground
        colour = seen_colour(scene, look.view, ground_area.bond if look.joints else "")
        marks += _ground(scene, region, colour, ground_area.name, grain=look.grain)
        if look.joints:
            marks += _joints(scene, region, ground_area.bond)
    for path in project.structure.paths:
        region = worked.surfaces.get(path.name, plane.NOWHERE)
        kind = surface_kind(path.surface)
        slabs = kind.stone == "slabs"
        colour = seen_colour(scene, kind.ground.view, path.bond if slabs else "")
        marks += _ground(scene, region, colour, path.name, grain=kind.ground.grain)
        if slabs:
            marks += _joints(scene, region, path.bond)
        if path.name in worked.layings:
            marks += stone_marks(scene, [stone.outline for stone in worked.layings[path.name].stones], path.name)
    return marks


def seen_colour(scene: Stage, view: str, bond: str = "") -> str:
    """Return the colour of a kind of ground standing on it, in a ``bond`` that of its units; turf is greener in spring
    than in winter.
    """
    if bond:
        return LAID[bond_kind(bond).unit]
    return LAWN[scene.season] if view == "turf" else SURFACES[view]


def shade_under(scene: Stage, at: Point, radius: float) -> list[Mark]:
    """Return the soft shade on the ground below a plant."""
    away = scene.away(at)
    if radius <= 0.02 or away < NEAR:
        return []
    angles = np.linspace(0, 2 * math.pi, 14 if radius < 0.6 else 32, endpoint=False)
    push = 0.25 * radius  # a little away from the light, so that the picture has one sun
    x, y = at[0] - push * math.sin(math.radians(scene.light)), at[1] - push * math.cos(math.radians(scene.light))
    marks: list[Mark] = []
    for share in (1.0, 0.82):
        around = np.column_stack((x + share * radius * np.cos(angles), y + share * radius * np.sin(angles)))
        ring = scene.camera.ring(scene.laid(around))
        if ring:
            marks.append(Area(rings=(ring,), fill=SHADOW, alpha=0.12, layer="ground"))
    return marks


def densified(ring: Sequence[Point], step: float) -> FloatArray:
    """Return a closed ring with points at least every ``step`` metres along its edges, (n, 2)."""
    a = np.asarray(ring, dtype=float)
    b = np.roll(a, -1, axis=0)
    counts = np.maximum(1, np.ceil(np.hypot(*(b - a).T) / step)).astype(int)
    owner = np.repeat(np.arange(len(a)), counts)
    share = (np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[owner]
    return np.asarray(a[owner] + share[:, None] * (b - a)[owner])


def _ground(scene: Stage, region: Region, colour: str, name: str, *, grain: str = "") -> list[Mark]:
    rings = ground_rings(scene, region)
    if not rings:
        return []
    low = min(p[1] for ring in rings for p in ring)
    away = scene.camera.eye[2] * scene.camera.focal / max(-low, 1e-6) if low < 0 else 30.0
    fill = scene.faded(colour, away)
    edge = None if grain == "soil" else style.mixed(fill, style.INK, 0.28)
    area = Area(rings=rings, fill=fill, stroke=edge, width_mm=0.14, layer="ground", tip=name)
    return [area, *_grain(scene, region, grain)]


def ground_rings(scene: Stage, region: Region, *, lift: float = 0.0) -> tuple[Ring, ...]:
    """Return the picture outlines of a region on the ground, ``lift`` metres above it."""
    if region.is_empty:
        return ()
    outlines = plane.rings(plane.simplified(region, 0.015))
    rings = (scene.camera.ring(scene.laid(densified(ring, STEP), lift=lift)) for ring in outlines)
    return tuple(thinned(ring) for ring in rings if ring)


def thinned(ring: Ring) -> Ring:
    """Return a picture outline without the corners one could not tell apart: nearer than 0.2 mm to the one before."""
    if isinstance(ring, Spatial):
        return ring
    kept = [ring[0]] if ring else []
    for spot in ring[1:]:
        if abs(spot[0] - kept[-1][0]) + abs(spot[1] - kept[-1][1]) > FINEST_MM:
            kept.append(spot)
    return tuple(kept) if len(kept) > 2 else ring


def _grain(scene: Stage, region: Region, kind: str) -> list[Mark]:
    """Return flecks of soil, gravel or bark, or tufts of grass, larger the nearer they lie."""
    if kind not in GRAIN and kind not in BLADES:
        return []
    tufts, high = kind in BLADES, BLADES.get(kind, 0.0)
    colour, density = (style.mixed(LAWN[scene.season], "#4f6a2f", 0.35), 40.0) if tufts else GRAIN[kind]
    spots = scattered(region, density, seed=len(kind))
    if not len(spots):
        return []
    seen = scene.camera.before(scene.laid(spots))
    seen = seen[(seen[:, 2] > 2 * NEAR) & (seen[:, 2] < FLECK_FAR)]
    seen = seen[np.abs(seen[:, 0]) < seen[:, 2] * 1.2][:MOST_FLECKS]
    marks: list[Mark] = []
    for near, far in ((0.0, 3.5), (3.5, 6.0), (6.0, float(FLECK_FAR))):
        part = seen[(seen[:, 2] >= near) & (seen[:, 2] < far)]
        size = scene.camera.focal / ((near + far) / 2)
        points = scene.camera.shown(scene.camera.flat(part), margin=0.03 * size) if len(part) else ()
        if not points:
            continue
        if tufts:
            lines = tuple(((x, y), (x + 0.012 * size * (-1) ** i, y + high * size)) for i, (x, y) in enumerate(points))
            marks.append(Hatch(lines=lines, colour=colour, width_mm=0.14, alpha=0.55, layer="ground"))
        else:
            marks.append(Dots(points=points, radius=max(0.09, 0.0045 * size), fill=colour, alpha=0.55, layer="ground"))
    return marks


def scattered(region: Region, density: float, *, seed: int) -> FloatArray:
    """Return places (n, 2) strewn over a region, about ``density`` a square metre; same seed, same places."""
    if region.is_empty:
        return np.zeros((0, 2))
    low_x, low_y, high_x, high_y = plane.bounds(region)
    count = min(6000, int(density * (high_x - low_x) * (high_y - low_y)))
    rng = np.random.default_rng(seed)
    spots = np.column_stack((rng.uniform(low_x, high_x, count), rng.uniform(low_y, high_y, count)))
    return np.asarray(spots[plane.inside(region, spots)]) if count else spots


def _joints(scene: Stage, region: Region, bond: str = "") -> list[Mark]:
    """Return the joints of paving: those of its bond as far as its units can be told apart."""
    if region.is_empty:
        return []
    colour = LAID_JOINTS[bond_kind(bond).unit if bond else "slab"]
    joints = _joints_of(scene, region, bond) if bond else paving_joints(region, scale=96.0)
    lines = tuple(piece for line in joints for piece in scene.camera.lines(scene.laid(line)))
    return [Hatch(lines=lines, colour=colour, width_mm=0.14, alpha=0.8, layer="ground")] if lines else []


def _joints_of(scene: Stage, region: Region, bond: str) -> list[Sequence[Point]]:
    found, far = laid_in(region, bond), bond_kind(bond).wide * scene.camera.focal / UNIT_MM
    return [(*one, one[0]) for one in (*found.whole, *found.cut) if NEAR < scene.away(one[0]) < far]


def stone_marks(scene: Stage, outlines: Sequence[Sequence[Point]], path: str) -> list[Symbol]:
    """Return the stones of a path, far ones first."""
    marks: list[Symbol] = []
    for number, outline in sorted(enumerate(outlines), key=lambda item: -scene.away(item[1][0])):
        foot = thinned(scene.camera.ring(scene.laid(outline)))
        top = thinned(scene.camera.ring(scene.laid(outline, lift=STONE_RISE)))
        if not top:
            continue
        away = scene.away(outline[0])
        grey = style.STONES[(number * 7 + number // 3) % len(style.STONES)]
        edge = scene.faded(style.STONE_EDGE, away)
        parts: tuple[Plain, ...] = (
            Area(rings=(foot,), fill=edge, alpha=0.8, layer="ground"),
            Area(rings=(top,), fill=scene.faded(grey, away), stroke=edge, width_mm=0.14, layer="ground"),
        )
        marks.append(Symbol(marks=parts if foot else parts[1:], tip=f"{path}: stone {number + 1}", layer="ground"))
    return marks


def _far_trees(scene: Stage, rise: float, share: float) -> Area:
    """Return a soft line of trees at the horizon: a backdrop only, fixed to the compass, not surveyed."""
    left, _, right, _ = scene.camera.frame
    xs = np.linspace(left, right, 90)
    bearing = np.radians(scene.camera.towards) + np.arctan(xs / scene.camera.focal)
    waves = np.sin(7 * bearing + 1) + 0.6 * np.sin(19 * bearing + rise * 99) + 0.35 * np.abs(np.sin(61 * bearing))
    ys = scene.camera.focal * rise * (0.75 + 0.28 * waves)
    ring = (*zip(xs.tolist(), np.maximum(ys, 0.2).tolist(), strict=True), (right, -0.8), (left, -0.8))
    colour = style.mixed(FAR_TREES[scene.season], scene.haze, share)
    return Area(rings=(ring,), fill=colour, layer="ground")


def _band(left: float, low: float, right: float, top: float, fill: str) -> Area:
    return Area(rings=(((left, low), (right, low), (right, top), (left, top)),), fill=fill, layer="ground")
