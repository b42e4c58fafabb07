"""A person, a dog or a chair for scale, round and clothed, with bodies that throw their shadow."""

import math
from collections.abc import Sequence

import attrs
import numpy as np

from gardenkit.drawing.painted import shapes
from gardenkit.drawing.painted.forms import cross, unit
from gardenkit.drawing.painted.splats import Splats, colours_of, golden, joined, splats
from gardenkit.drawing.view_ground import Stage
from gardenkit.drawing.view_things import Company
from gardenkit.geometry.plane import FloatArray
from gardenkit.geometry.solid import Column, Ellipsoid, Solid, block

Spot = tuple[float, float, float]
SKIN, HAIR, SHIRT, TROUSERS, SHOE = "#c99b7d", "#4d3a2c", "#b8614f", "#4a5871", "#43362c"
COAT, MUZZLE, WOOD = "#bd9257", "#5b4330", "#a37f55"
GRAIN = 1.5  # pixels between the flecks a surface is put together of. House value.
FINEST, MOST = 0.006, 40000  # m between them at the least; of a figure at most. House values.
UNDER = 0.03  # m that a body lies under the surface: it does not shade its own front. House value.
TURNED = {"a person": 62.0, "a dog": 0.0, "a chair": 205.0}  # degrees from the line of sight. House values.


@attrs.frozen(kw_only=True)
class Limb:
    """A round limb from ``a`` to ``b`` (right, ahead, up: m), of radius ``near`` to ``far``; ``deep`` is how deep it is
    against its width.
    """

    a: Spot
    b: Spot
    near: float
    far: float
    colour: str
    deep: float = 1.0


@attrs.frozen(kw_only=True)
class Plank:
    """A board with its middle at ``at``, ``half`` (m) to each side."""

    at: Spot
    half: Spot
    colour: str


Part = Limb | Plank


def _both(a: Spot, b: Spot, near: float, far: float, colour: str) -> list[Limb]:
    """Return a limb and its like on the other side."""
    return [
        Limb(a=(s * a[0], a[1], a[2]), b=(s * b[0], b[1], b[2]), near=near, far=far, colour=colour) for s in (1, -1)
    ]


# One who stands 1.7 m tall; a large retriever, 0.6 m to the shoulder; a chair with its seat at 0.45 m. House values.
PARTS: dict[str, tuple[Part, ...]] = {
    "a person": (
        Limb(a=(0.1, 0.02, 0.88), b=(0.105, 0.06, 0.48), near=0.085, far=0.06, colour=TROUSERS),
        Limb(a=(0.105, 0.06, 0.48), b=(0.11, 0.07, 0.09), near=0.062, far=0.05, colour=TROUSERS),
        Limb(a=(-0.1, 0.0, 0.88), b=(-0.115, 0.0, 0.48), near=0.085, far=0.06, colour=TROUSERS),
        Limb(a=(-0.115, 0.0, 0.48), b=(-0.12, -0.07, 0.09), near=0.062, far=0.05, colour=TROUSERS),
        Limb(a=(0.115, 0.04, 0.045), b=(0.13, 0.21, 0.035), near=0.045, far=0.036, colour=SHOE),
        Limb(a=(-0.125, -0.1, 0.045), b=(-0.14, 0.07, 0.035), near=0.045, far=0.036, colour=SHOE),
        Limb(a=(0.0, 0.0, 0.88), b=(0.0, 0.0, 0.98), near=0.16, far=0.155, colour=TROUSERS, deep=0.7),
        Limb(a=(0.0, 0.0, 0.93), b=(0.0, 0.0, 1.16), near=0.165, far=0.145, colour=SHIRT, deep=0.68),
        Limb(a=(0.0, 0.0, 1.16), b=(0.0, -0.01, 1.33), near=0.145, far=0.165, colour=SHIRT, deep=0.62),
        Limb(a=(0.15, -0.01, 1.37), b=(-0.15, -0.01, 1.37), near=0.062, far=0.062, colour=SHIRT),
        *_both((0.2, -0.01, 1.37), (0.25, -0.05, 1.1), 0.058, 0.048, SHIRT),
        Limb(a=(0.25, -0.05, 1.1), b=(0.2, 0.14, 0.92), near=0.04, far=0.03, colour=SKIN),
        Limb(a=(-0.25, -0.05, 1.1), b=(-0.27, 0.02, 0.84), near=0.04, far=0.03, colour=SKIN),
        Limb(a=(0.19, 0.16, 0.9), b=(0.18, 0.2, 0.86), near=0.037, far=0.03, colour=SKIN),
        Limb(a=(-0.27, 0.025, 0.81), b=(-0.27, 0.04, 0.76), near=0.037, far=0.03, colour=SKIN),
        Limb(a=(0.0, -0.01, 1.4), b=(0.0, 0.0, 1.5), near=0.056, far=0.05, colour=SKIN),
        Limb(a=(0.0, 0.02, 1.545), b=(0.0, 0.015, 1.605), near=0.074, far=0.078, colour=SKIN, deep=1.18),
        Limb(a=(0.0, -0.02, 1.57), b=(0.0, -0.006, 1.611), near=0.08, far=0.088, colour=HAIR, deep=1.12),
    ),
    "a dog": (
        Limb(a=(-0.3, 0.0, 0.46), b=(0.0, 0.0, 0.46), near=0.12, far=0.13, colour=COAT, deep=1.0),
        Limb(a=(0.0, 0.0, 0.46), b=(0.23, 0.0, 0.45), near=0.13, far=0.15, colour=COAT, deep=1.0),
        Limb(a=(0.24, 0.0, 0.52), b=(0.4, 0.0, 0.74), near=0.105, far=0.075, colour=COAT),
        Limb(a=(0.41, 0.0, 0.77), b=(0.48, 0.0, 0.76), near=0.09, far=0.075, colour=COAT),
        Limb(a=(0.5, 0.0, 0.74), b=(0.6, 0.0, 0.725), near=0.05, far=0.038, colour=COAT),
        Limb(a=(0.63, 0.0, 0.74), b=(0.635, 0.0, 0.735), near=0.018, far=0.015, colour=MUZZLE),
        *(Limb(a=(0.4, s * 0.08, 0.82), b=(0.39, s * 0.1, 0.7), near=0.025, far=0.034, colour=MUZZLE) for s in (1, -1)),
        *(Limb(a=(0.25, s * 0.08, 0.42), b=(0.27, s * 0.08, 0.2), near=0.06, far=0.038, colour=COAT) for s in (1, -1)),
        *(Limb(a=(0.27, s * 0.08, 0.2), b=(0.28, s * 0.08, 0.03), near=0.036, far=0.034, colour=COAT) for s in (1, -1)),
        *(Limb(a=(-0.3, s * 0.08, 0.42), b=(-0.27, s * 0.09, 0.25), near=0.09, far=0.05, colour=COAT) for s in (1, -1)),
        *(
            Limb(a=(-0.27, s * 0.09, 0.25), b=(-0.33, s * 0.09, 0.03), near=0.042, far=0.034, colour=COAT)
            for s in (1, -1)
        ),
        Limb(a=(-0.4, 0.0, 0.5), b=(-0.58, 0.02, 0.62), near=0.035, far=0.022, colour=COAT),
    ),
    "a chair": (
        Plank(at=(0.0, 0.0, 0.45), half=(0.22, 0.21, 0.015), colour=WOOD),
        *_both((0.2, 0.19, 0.0), (0.19, 0.18, 0.44), 0.018, 0.02, WOOD),
        *_both((0.2, -0.22, 0.0), (0.19, -0.19, 0.44), 0.018, 0.02, WOOD),
        *_both((0.19, -0.19, 0.44), (0.19, -0.26, 0.88), 0.02, 0.018, WOOD),
        *(Plank(at=(0.0, -0.205 - 0.07 * k, 0.56 + 0.13 * k), half=(0.19, 0.01, 0.035), colour=WOOD) for k in range(3)),
        *_both((0.2, 0.18, 0.2), (0.2, -0.19, 0.2), 0.012, 0.012, WOOD),
    ),
}


def figure(scene: Stage, company: Company, focal: float) -> Splats | None:
    """Return who or what stands for scale; ``focal`` is the focal length in pixels."""
    to_eye = math.dist(company.at, scene.camera.at)
    parts = PARTS[company.kind]
    apart = max(GRAIN * max(to_eye, 1.0) / focal, FINEST, math.sqrt(sum(_area(one) for one in parts) / MOST))
    return joined([_set(scene, company, _skinned(one, apart), one.colour, apart) for one in parts])


def shades(scene: Stage, company: Company) -> list[Solid]:
    """Return bodies that throw the figure's shadow."""
    found: list[Solid] = []
    for one in PARTS[company.kind]:
        if isinstance(one, Plank):
            found.append(_board(scene, company, one))
            continue
        a, b = _placed(scene, company, np.array([one.a, one.b], dtype=float)).tolist()
        thick = max(min(one.near, one.far) * min(one.deep, 1.0) - UNDER, 0.012)
        if math.dist(a[:2], b[:2]) < 0.1:
            at = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            low, high = min(a[2], b[2]), max(a[2], b[2])
            found.append(Column(name=company.kind, at=at, radius=thick, base=low, top=max(high, low + 0.02)))
            continue
        for share in np.linspace(0.0, 1.0, 5).tolist():
            x, y, z = (p + share * (q - p) for p, q in zip(a, b, strict=True))
            found.append(Ellipsoid(name=company.kind, centre=(x, y, z), radius=thick, half_height=thick))
    return found


def _board(scene: Stage, company: Company, one: Plank) -> Solid:
    corners = np.array([(x * one.half[0], y * one.half[1], 0.0) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))])
    spots = _placed(scene, company, corners + one.at)
    outline = tuple((float(x), float(y)) for x, y in spots[:, :2])
    middle = float(spots[0, 2])
    return block(company.kind, outline, middle - one.half[2], middle + 0.5 * one.half[2])


def _area(one: Part) -> float:
    if isinstance(one, Plank):
        x, y, z = one.half
        return 8 * (x * y + y * z + x * z)
    return math.pi * (one.near + one.far) * (math.dist(one.a, one.b) + one.near + one.far)


def _skinned(one: Part, apart: float) -> tuple[FloatArray, FloatArray]:
    """Return places on the surface of a part (n, 3), some ``apart`` m from each other, and the ways it faces there."""
    return _faces(one, apart) if isinstance(one, Plank) else _round(one, apart)


def _round(one: Limb, apart: float) -> tuple[FloatArray, FloatArray]:
    a, b = np.array(one.a), np.array(one.b)
    long = float(np.linalg.norm(b - a))
    axis = (b - a) / max(long, 1e-9)
    count = max(24, int(_area(one) / apart**2))
    k = np.arange(count)
    whole = long + one.near + one.far
    t = (k + 0.5) / count * whole - one.near  # along the axis, past both ends: round caps
    along = np.clip(t, 0.0, long)
    radius = one.near + (one.far - one.near) * along / max(long, 1e-9)
    lift = (t - along) / radius  # -1 to 1 on the caps
    ring = np.sqrt(np.maximum(1.0 - lift**2, 0.0))
    turn = k * 2.399963
    right = cross(axis, [0.0, 1.0, 0.0])
    right = right / np.linalg.norm(right) if np.linalg.norm(right) > 0.3 else np.array([1.0, 0.0, 0.0])
    ahead = cross(right, axis)
    around = np.cos(turn)[:, None] * right + one.deep * np.sin(turn)[:, None] * ahead
    facing = np.cos(turn)[:, None] * right + np.sin(turn)[:, None] * ahead / one.deep
    at = a + along[:, None] * axis + radius[:, None] * (ring[:, None] * around + lift[:, None] * axis)
    return at, unit(ring[:, None] * facing + lift[:, None] * axis)


def _faces(one: Plank, apart: float) -> tuple[FloatArray, FloatArray]:
    spots: list[FloatArray] = []
    ways: list[FloatArray] = []
    for k in range(3):
        i, j = (k + 1) % 3, (k + 2) % 3
        u, v = (
            np.arange(-one.half[n] + apart / 2, one.half[n], apart) if one.half[n] > apart else np.zeros(1)
            for n in (i, j)
        )
        grid = np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2)
        for side in (-1.0, 1.0):
            spot, way = np.zeros((len(grid), 3)), np.zeros((len(grid), 3))
            spot[:, i], spot[:, j], spot[:, k], way[:, k] = grid[:, 0], grid[:, 1], side * one.half[k], side
            spots.append(spot + one.at)
            ways.append(way)
    return np.vstack(spots), np.vstack(ways)


def _set(scene: Stage, company: Company, skin: tuple[FloatArray, FloatArray], colour: str, apart: float) -> Splats:
    """Return a part's surface where the figure stands, small round flecks that lie on it."""
    at, facing = skin
    turn = _turn(scene, company)
    spots, ways = _placed(scene, company, at), facing @ turn
    side = unit(cross(ways, np.array([0.31, 0.17, 0.93])))
    size = 1.05 * apart
    paint = colours_of(colour, golden(len(at)), varied=0.03)
    sky = 0.55 + 0.45 * np.clip(0.5 + 0.5 * ways[:, 2], 0.0, 1.0)
    full = np.ones(len(at))
    return splats(spots, size * side, size * cross(ways, side), ways, paint, shapes.ROUND, sun=full, sky=sky)


def _placed(scene: Stage, company: Company, at: FloatArray) -> FloatArray:
    return np.asarray(at @ _turn(scene, company) + (*company.at, scene.level(company.at)))


def _turn(scene: Stage, company: Company) -> FloatArray:
    """Return what turns a figure's right, ahead and up to where it looks: about across the line of sight."""
    eye: Sequence[float] = scene.camera.at
    away = math.atan2(company.at[0] - eye[0], company.at[1] - eye[1]) + math.radians(TURNED[company.kind])
    s, c = math.sin(away), math.cos(away)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
