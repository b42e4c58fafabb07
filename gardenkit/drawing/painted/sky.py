"""The sky of an hour: its colours, how strong sun and sky are, and what the lamps of the garden give at night."""

import math

import attrs
import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.painted.splats import rgb
from gardenkit.drawing.view_ground import FAR_LAND, FAR_TREES, Stage
from gardenkit.drawing.view_sun import Sunlight
from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.project import Project
from gardenkit.site.climate import Climate
from gardenkit.site.site import Site
from gardenkit.structure.kinds.placed import Lamp
from gardenkit.structure.structure import Thing
from gardenkit.structure.things import forms_of

# Colours and strengths are house values: what looks right on a screen, not a measurement.
HIGH_SUN, LOW_SUN = (1.0, 0.95, 0.86), (1.0, 0.62, 0.32)
STRENGTH, SKY_STRENGTH, BOUNCE = 1.3, 0.76, 0.42
NIGHT_HIGH, NIGHT_LOW = "#131f3f", "#3a4a6b"
MOON = (-0.45, -0.35, 0.82)  # the way to the moon of a view at night. House value.
MOONLIGHT = (0.26, 0.32, 0.46)  # of a full moon to eyes used to the dark. House value.
GLOW, CLOUD = "#fff1cf", "#ffffff"
NIGHT_SKY = 0.29  # how light the garden is under the night sky, so that shapes are still seen
CANDELA = 0.014  # picture light a lumen gives at one metre; the eye opens at night
BEFORE_WINDOW = 1.3  # m: what comes out of a lit window spreads as from here. House value.
WINDOW_LUMENS = 60.0  # for each metre of its width: a curtain half drawn. House value.
HAZE_FAR = 190.0  # m
AIMED_UP = math.radians(60.0)  # that a spotlight is turned up into a crown. House value.
ALL_ROUND = (0.0, 0.0, 1.0, -2.0)  # the aim of what is not aimed
BEFORE = 0.05  # m that a lamp in a wall or a seat shines from before it. House value.
DAZZLED = 0.3  # of a high sun on snow that the eye shuts out, so that walls keep their colour. House value.
ON_SNOW = (1.12, 1.22, 1.42)  # of the sky's light under a low sun: its shadows on snow are blue. House value.
LYING = -0.5  # degrees C of a month's mean below which snow is drawn lying. House value.


@attrs.frozen(kw_only=True, eq=False)
class Air:
    """Everything about the light of an hour as the painter takes it: see ``light.lit``."""

    sky: FloatArray
    lights: FloatArray
    sun: FloatArray
    night: bool
    snow: float


def air(scene: Stage, climate: Climate, *, night: bool, snow: bool | None = None) -> Air:
    """Return the light of a stage; ``snow`` None: lying where the climate's mean of the month is below freezing."""
    sun = None if night else scene.sun
    towards = np.array(sun.towards if sun is not None else MOON)
    lying = snows(climate, scene.month) if snow is None else snow
    return Air(
        sky=_sky(scene, sun, night),
        lights=_lights(scene, sun, night, lying),
        sun=towards / np.linalg.norm(towards),
        night=night,
        snow=1.0 if lying else 0.0,
    )


def snows(climate: Climate, month: int) -> bool:
    """Return whether snow is drawn in a month: its mean temperature lies below freezing in the climate given."""
    if climate.tmin is None or climate.tmax is None:
        return False
    return (climate.tmin[month - 1] + climate.tmax[month - 1]) / 2 < LYING


def _sky(scene: Stage, sun: Sunlight | None, night: bool) -> FloatArray:
    high, low = (NIGHT_HIGH, NIGHT_LOW) if night else scene.sky
    land = style.mixed(FAR_LAND[scene.season], low, 0.3)
    if night:
        land = style.mixed(land, "#05080f", 0.85)
    place = (9.0, 9.0, 0.0 if night else 1.0)
    if sun is not None:
        right, up, ahead = scene.camera.turn @ np.asarray(sun.towards)
        place = (right / ahead, up / ahead, 1.0) if ahead > 0.05 else (9.0, 9.0, 1.0)
    trees = style.mixed(FAR_TREES[scene.season], low, 0.35) if not night else "#0b1018"
    bearing = (math.radians(scene.camera.towards), 0.0, 0.0)
    return np.array([rgb(high), rgb(low), rgb(GLOW), rgb(CLOUD), place, rgb(land), rgb(trees), bearing], dtype=float)


def _lights(scene: Stage, sun: Sunlight | None, night: bool, lying: bool) -> FloatArray:
    high, low = (np.array(rgb(c), dtype=float) / 255 for c in scene.sky)
    if night:
        blue = np.array((0.5, 0.68, 1.0)) * NIGHT_SKY
        return np.array([MOONLIGHT, blue, 0.4 * blue, 0.35 * np.array(rgb(NIGHT_LOW)) / 255])
    bounce = np.array((0.95, 0.97, 1.0) if lying else (0.8, 0.88, 0.62)) * BOUNCE * (1.5 if lying else 1.0)
    blue = (0.45 * high + 0.55 * np.ones(3)) * SKY_STRENGTH
    if sun is None:  # an overcast light from all round
        return np.array([(0.0, 0.0, 0.0), 1.55 * blue, 1.3 * bounce, low])
    rise = float(np.clip(sun.elevation / 28.0, 0.0, 1.0))
    if lying:
        blue = blue * (1.0 + (1.0 - rise) * (np.array(ON_SNOW) - 1.0))
    colour = np.array(LOW_SUN) + (np.array(HIGH_SUN) - np.array(LOW_SUN)) * rise**0.7
    strength = STRENGTH * (0.45 + 0.55 * min(1.0, math.sin(math.radians(sun.elevation)) / 0.5))
    dim = (0.8 + 0.2 * rise) * (1.35 - 0.45 * rise if lying else 1.0)
    strength *= 1.0 - DAZZLED * rise if lying else 1.0
    return np.array([colour * strength, blue * dim, bounce * dim, low])


def lamps(scene: Stage, project: Project) -> FloatArray:
    """Return what shines at night, lamps and lit windows, (n, 9): from where (x, y, z), how strongly, whether its light
    is cool, which way it is aimed (x, y, z) and the cosine of half its beam, less than -1 where it shines all round.
    """
    from gardenkit.structure.kinds import thing_kind

    found = []
    for thing in project.structure.things:
        lamp = thing_kind(thing.kind).lamp
        if lamp is not None:
            top = max((form.high for form in forms_of(thing)), default=0.3)
            front = thing.depth / 2 + BEFORE if lamp.ahead else 0.0
            turn = math.radians(thing.facing)
            at = (thing.at[0] + front * math.sin(turn), thing.at[1] + front * math.cos(turn))
            high = scene.level(thing.at) + max(top - 0.04, 0.08)
            found.append((*at, high, float(lamp.lumens) * CANDELA, float(thing.light == "cool"), *_aim(thing, lamp)))
    return np.asarray([*found, *_windows(project.site)], dtype=float).reshape(-1, 9)


def _aim(thing: Thing, lamp: Lamp) -> tuple[float, float, float, float]:
    """Return which way an aimed lamp shines, up and ahead, and the cosine of half its beam."""
    if lamp.beam is None:
        return ALL_ROUND
    turn, level = math.radians(thing.facing), math.cos(AIMED_UP)
    edge = math.cos(math.radians(lamp.beam / 2))
    return (level * math.sin(turn), level * math.cos(turn), math.sin(AIMED_UP), edge)


def _windows(site: Site) -> list[tuple[float, ...]]:
    """Return what comes out of lit windows, as ``lamps`` has it."""
    houses = [plane.region(building.outline) for building in site.buildings if building.outline]
    found: list[tuple[float, ...]] = []
    for window in (opening for opening in site.openings if opening.kind == "window"):
        across = plane.heading(window.start, window.end) + 90.0
        sides = (plane.towards(window.middle, way, BEFORE_WINDOW) for way in (across, across + 180.0))
        outside = [spot for spot in sides if not any(plane.contains(house, spot) for house in houses)]
        level = 0.5 * (window.sill + window.head)
        found += [(*spot, level, WINDOW_LUMENS * window.width * CANDELA, 0.0, *ALL_ROUND) for spot in outside[:1]]
    return found
