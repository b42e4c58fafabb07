"""The light of the hour on everything painted: sun and its shadows, the sky, lamps at night, snow, and the air between.

Importing this file imports Numba.
"""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing.painted.bodies import share_of_sun
from gardenkit.geometry.bonds import FAN, FAN_HALF
from gardenkit.geometry.plane import FloatArray
from gardenkit.site.sun_kernel import compiled

Reals = NDArray[np.float32]
Bytes = NDArray[np.uint8]
HIGHEST_TREES = 0.055  # of the distance: the backdrop's trees are nowhere higher
SKY_STEP = 3  # dots beside each other that have one tone high in the sky: clouds are soft. House value.
OFF = 0.025  # m before a face that its light is asked for: past the half thickness of a fence's sheet
SOFT_EDGE = 0.06  # of the cosine at the edge of a beam. House value.
FOCUSED, SPILL = 6.0, 0.02  # a beam against the same light all round, and what is spilt beside it. House values.
PALE = 0.62  # the same by night, where nothing but a lamp brings colours out. House value.
VIVID = 1.12  # how much stronger colours are than the sum of light makes them. House value.


@compiled
def hashed(x: int, y: int) -> float:
    """Return a random number 0 to 1 that belongs to a square."""
    n = (x * 374761393 + y * 668265263) & 0xFFFFFFFF
    n = ((n ^ (n >> 13)) * 1274126177) & 0xFFFFFFFF
    return float((n ^ (n >> 16)) & 0xFFFF) / 65535.0


@compiled
def noise(x: float, y: float) -> float:
    """Return smooth noise 0 to 1, one bump a unit."""
    i, j = math.floor(x), math.floor(y)
    u, v = x - i, y - j
    u, v = u * u * (3 - 2 * u), v * v * (3 - 2 * v)
    low = hashed(i, j) + u * (hashed(i + 1, j) - hashed(i, j))
    high = hashed(i, j + 1) + u * (hashed(i + 1, j + 1) - hashed(i, j + 1))
    return low + v * (high - low)


@compiled
def _joint(x: float, y: float, long: float, wide: float, gap: float) -> tuple[float, float]:
    """Return how bright paving is (darker in its joints) and the number of the stone, in running bond."""
    row = math.floor(y / wide)
    along = x + (0.5 * long if row % 2 else 0.0)
    u, v = along - long * math.floor(along / long), y - wide * row
    stone = hashed(math.floor(along / long) + 71, int(row))
    edge = min(u, long - u, v, wide - v)
    return (0.62 if edge < gap else 1.0), stone


@compiled
def ground_tone(kind: int, x: float, y: float, away: float) -> float:
    """Return how bright a spot of ground is against its material's colour."""
    fine = min(1.0, 4.0 / max(away, 1.0))
    broad = 0.9 + 0.2 * noise(0.7 * x, 0.7 * y)
    if kind == 3:
        return broad * (1.0 + fine * 0.34 * (noise(60 * x, 60 * y) - 0.5)) * (1.0 + 0.1 * (noise(5 * x, 5 * y) - 0.5))
    if kind == 2:  # crumbs of earth and mulch
        crumbs = 0.3 * (noise(21 * x, 21 * y) - 0.5) + 0.5 * (noise(57 * x + 9, 57 * y) - 0.5)
        return (0.95 + 0.1 * noise(0.9 * x, 0.9 * y)) * (1.0 + fine * crumbs)
    if kind == 4:
        return 1.0 + (0.15 + 0.5 * fine) * (noise(70 * x, 70 * y) - 0.5) + 0.12 * (noise(9 * x, 9 * y) - 0.5)
    if kind == 6:
        bright, stone = _joint(x, y, 0.6, 0.4, 0.006 + 0.002 * away)
        return bright * (0.88 + 0.2 * stone) * (1.0 + 0.12 * (noise(40 * x, 40 * y) - 0.5))
    if kind == 10:
        bright, stone = _joint(x + 0.05 * noise(3 * x, 3 * y), y, 0.75, 0.55, 0.012 + 0.002 * away)
        return bright * (0.85 + 0.25 * stone) * (1.0 + 0.15 * (noise(25 * x, 25 * y) - 0.5))
    if kind == 9:
        return 0.97 + 0.06 * noise(30 * x, 30 * y)
    if kind == 8:
        return 1.0
    return broad * (1.0 + (0.1 + 0.45 * fine) * (noise(38 * x, 38 * y) - 0.5) + 0.2 * (noise(6 * x, 6 * y) - 0.5))


@compiled
def _in_fan(u: float, v: float, how: FloatArray) -> tuple[float, float]:
    """Return how far a spot of a fan is off the edge of its unit's cell, and the unit's number; see ``bonds._fans``."""
    row, radius, angle = how[2], how[10], how[11]
    chord = FAN * how[1]
    column = math.floor(u / chord)
    x = u - (column + 0.5) * chord
    arc = math.sqrt(radius * radius - x * x) - radius
    k = math.floor((v - arc) / row)
    y = v - k * row + radius
    turn = math.atan2(x, y)
    off, deep = math.hypot(x, y) - radius, row * math.cos(turn)
    place = (turn + FAN_HALF) / angle - (0.5 if k % 2 else 0.0)
    share = place - math.floor(place)
    edge = min(off, deep - off, share * how[1], (1 - share) * how[1])
    return edge, hashed(math.floor(place) + 97 * int(column), int(k))


@compiled
def unit_at(how: FloatArray, x: float, y: float) -> tuple[float, float]:
    """Return how far a spot of paving is off the edge of its unit's cell, and a number of that unit, 0 to 1.

    ``how`` is a row of ``ground.how_laid``.
    """
    lay, long, wide = int(how[0]), how[1], how[2]
    dx, dy = x - how[6], y - how[7]
    u = how[4] * dx + how[5] * dy + how[6] - how[8]
    v = how[4] * dy - how[5] * dx + how[7] - how[9]
    if lay == 4:
        return _in_fan(u, v, how)
    i, j = math.floor(u / wide), math.floor(v / wide)
    across, low_x, low_y = True, 0.0, 0.0
    if lay < 2:
        shift = 0.5 * long if lay == 0 and j % 2 else 0.0
        low_x, low_y = shift + long * math.floor((u - shift) / long), j * wide
    elif lay == 2:
        part = (i - j) % 4
        across = part < 2
        low_x, low_y = (i - (1 if part == 1 else 0)) * wide, (j - (1 if part == 2 else 0)) * wide
    else:
        p, q = math.floor(u / (2 * wide)), math.floor(v / (2 * wide))
        across = (p + q) % 2 == 0
        low_x, low_y = (2 * p * wide, j * wide) if across else (i * wide, 2 * q * wide)
    high_x, high_y = (low_x + long, low_y + wide) if across else (low_x + wide, low_y + long)
    edge = min(u - low_x, high_x - u, v - low_y, high_y - v)
    return edge, hashed(math.floor(low_x * 1000) + 71, math.floor(low_y * 1000))


@compiled
def laid_tone(how: FloatArray, x: float, y: float, away: float) -> float:
    """Return how bright a spot of paving laid in a bond is against its units' colour: darker in the joints, which blur
    with distance.
    """
    edge, unit = unit_at(how, x, y)
    gap = 0.5 * how[3] + 0.0008 * away
    dark = 0.45 * how[3] / (how[3] + 0.0016 * away) + 0.1
    bright = 1.0 - dark if edge < gap else 0.86 + 0.26 * unit
    return bright * (1.0 + 0.12 * (noise(40 * x, 40 * y) - 0.5))


@compiled
def cover_ground(
    depth: Reals,
    layer: Bytes,
    facing: Reals,
    kinds: Bytes,
    shelter: Bytes,
    place: FloatArray,
    colours: FloatArray,
    laid: FloatArray,
    eye: FloatArray,
    turn: FloatArray,
    lens: Reals,
) -> None:
    """Give every dot of ground the colour of its material; ``place`` is corner x, corner y and dot of the map, ``laid``
    how the kinds from 13 on are laid.
    """
    rows, columns = depth.shape
    for row in range(rows):
        for column in range(columns):
            if layer[row, column, 5] != 2:
                continue
            z = depth[row, column]
            u, v = (column + 0.5 - lens[1]) / lens[0] * z, (lens[2] - row - 0.5) / lens[0] * z
            x = eye[0] + u * turn[0, 0] + v * turn[1, 0] + z * turn[2, 0]
            y = eye[1] + u * turn[0, 1] + v * turn[1, 1] + z * turn[2, 1]
            ragged = 0.03 * (noise(14 * x, 14 * y) - 0.5)
            i, j = int((x + ragged - place[0]) / place[2]), int((y + ragged - place[1]) / place[2])
            kind, hidden = 0, 0
            if 0 <= i < kinds.shape[1] and 0 <= j < kinds.shape[0]:
                kind, hidden = kinds[j, i], shelter[j, i]
            tone = laid_tone(laid[kind - 13], x, y, z) if kind >= 13 else ground_tone(kind, x, y, z)
            for k in range(3):
                layer[row, column, k] = np.uint8(min(255.0, max(0.0, colours[kind, k] * tone)))
            layer[row, column, 4] = np.uint8(255 - 0.72 * hidden)
            facing[row, column, 0] += 0.16 * (noise(30 * x, 30 * y) - 0.5)
            facing[row, column, 1] += 0.16 * (noise(30 * y, 30 * x) - 0.5)
            if kind == 8:
                layer[row, column, 5] = 5
                facing[row, column, 0] = 0.05 * (noise(5 * x, 9 * y) - 0.5)
                facing[row, column, 1] = 0.05 * (noise(9 * x, 5 * y) - 0.5)


@compiled
def sky_tone(image: Bytes, row: int, column: int, u: float, v: float, sky: FloatArray) -> None:
    """Paint a dot of sky; ``sky`` (8, 3): high, at the horizon, glow round the sun, clouds, (where the sun is u, v, its
    strength), far land, far trees, (bearing looked at).
    """
    if v < 0.0:
        share = min(1.0, 0.6 - v * 5.0)
        away = 1.0 / (0.012 - v)
        tone = 0.95 + 0.1 * noise(0.35 * away * u + 40.0 * sky[7, 0], 0.5 * away)  # fields that go away to the trees
        for k in range(3):
            land = sky[5, k] + 0.35 * (sky[6, k] - sky[5, k])
            image[row, column, k] = np.uint8(min(255.0, (sky[1, k] * (1 - share) + land * share) * tone))
        return
    if v < HIGHEST_TREES:
        bearing = 9.0 * (math.atan(u) + sky[7, 0])
        rise = (
            0.012 + 0.022 * noise(bearing, 1.0) + 0.014 * noise(4.0 * bearing, 2.0) + 0.006 * noise(17.0 * bearing, 3.0)
        )
        if v < rise:
            tone = 0.93 + 0.12 * noise(40.0 * u, 60.0 * v) + 2.0 * (v - 0.5 * rise)
            for k in range(3):
                image[row, column, k] = np.uint8(min(255.0, max(0.0, sky[6, k] * tone)))
            return
    share = min(1.0, v / 0.55) ** 0.65
    depth = 1.0 / (v + 0.12)
    cloud = 0.55 * noise(1.1 * u * depth + 9.0, 1.6 * depth) + 0.3 * noise(2.7 * u * depth, 3.9 * depth + 5.0)
    cloud += 0.15 * noise(7.0 * u * depth, 9.0 * depth)
    cloud = min(1.0, max(0.0, (cloud - 0.5) * 3.2)) * min(1.0, 5.0 * v) * sky[4, 2] * 0.75
    off = (u - sky[4, 0]) ** 2 + (v - sky[4, 1]) ** 2
    glow = math.exp(-9.0 * off)
    for k in range(3):
        base = sky[1, k] + (sky[0, k] - sky[1, k]) * share
        base += (sky[3, k] - base) * cloud
        base += (sky[2, k] - base) * 0.75 * glow
        image[row, column, k] = np.uint8(min(255.0, max(0.0, base)))


@compiled
def _sky(image: Bytes, layer: Bytes, row: int, column: int, u: float, v: float, sky: FloatArray) -> None:
    """Paint a dot of sky, high up often as the one beside it."""
    if column % SKY_STEP and v > HIGHEST_TREES and layer[row, column - 1, 5] == 0:
        for k in range(3):
            image[row, column, k] = image[row, column - 1, k]
    else:
        sky_tone(image, row, column, u, v, sky)


@compiled
def dapple(x: float, y: float, share: float) -> float:
    """Return the sun on a spot behind leaves that let ``share`` through: flecks of light with that share on average."""
    if share <= 0.01 or share >= 0.99:
        return share
    level = (
        0.5 * noise(5.5 * x, 5.5 * y) + 0.3 * noise(13.0 * x + 3.0, 13.0 * y) + 0.2 * noise(31.0 * x, 31.0 * y + 7.0)
    )
    rank = 1.0 / (1.0 + math.exp(-(level - 0.5) * 15.0))
    return min(1.0, max(0.0, (share - rank) * 3.2 + 0.5))


@compiled
def lit(
    image: Bytes,
    depth: Reals,
    layer: Bytes,
    facing: Reals,
    eye: FloatArray,
    turn: FloatArray,
    lens: Reals,
    sky: FloatArray,
    lights: FloatArray,
    lamps: FloatArray,
    mood: FloatArray,
    held: tuple[Any, ...],
) -> None:
    """Work out every dot of the picture. ``lights`` (4, 3): the sun's, the sky's, the ground's light, the air's colour;
    ``lamps`` (n, 9): place, strength, cool or not, aim, edge of its beam; ``mood``: night, snow, how far air
    goes (m); ``held``: see ``Bodies.held``.
    """
    (rows, columns), tone = depth.shape, np.zeros(3)
    sun, frame, corner, wide, high, starts, listed, planes, first, rounds, through = held  # for each dot: slow
    for row in range(rows):
        for column in range(columns):
            z = depth[row, column]
            u, v = (column + 0.5 - lens[1]) / lens[0], (lens[2] - row - 0.5) / lens[0]
            kind = layer[row, column, 5]
            if kind == 0:
                _sky(image, layer, row, column, u, v, sky)
                continue
            x = eye[0] + z * (u * turn[0, 0] + v * turn[1, 0] + turn[2, 0])
            y = eye[1] + z * (u * turn[0, 1] + v * turn[1, 1] + turn[2, 1])
            h = eye[2] + z * (u * turn[0, 2] + v * turn[1, 2] + turn[2, 2])
            nx, ny, nz = facing[row, column, 0], facing[row, column, 1], facing[row, column, 2]
            direct, leafy = 0.0, layer[row, column, 3] < 250
            slope = nx * sun[0] + ny * sun[1] + nz * sun[2]
            if lights[0, 0] > 0.0 and (slope > 0 or leafy):
                off = 0.0 if leafy else OFF
                a, b, c = x + off * nx, y + off * ny, h + off * nz
                share = share_of_sun(
                    a, b, c, sun, frame, corner, wide, high, starts, listed, planes, first, rounds, through
                )
                direct = _direct(x, y, h, share, frame) * layer[row, column, 3] / 255.0
                direct *= (0.35 + 0.65 * max(slope, -0.4 * slope)) if leafy else slope
            if kind in (1, 6, 7):
                _weather(layer, row, column, kind, x * ny - y * nx, h, nz, x, y)
            white = _lying(nz, x, y) * mood[1] if mood[1] > 0.0 else 0.0
            _dot(
                tone,
                image,
                layer,
                row,
                column,
                lights,
                lamps,
                x,
                y,
                h,
                nx,
                ny,
                nz,
                direct,
                white,
                kind,
                mood,
                sky,
                v,
                z,
            )


@compiled
def _direct(x: float, y: float, h: float, share: float, frame: FloatArray) -> float:
    """Return the sun on a spot of which ``share`` comes through, in flecks across the rays."""
    metre = math.sqrt(frame[0, 0] ** 2 + frame[0, 1] ** 2 + frame[0, 2] ** 2)  # in squares, as the frame measures
    across_x = (frame[0, 0] * x + frame[0, 1] * y + frame[0, 2] * h) / metre
    across_y = (frame[1, 0] * x + frame[1, 1] * y + frame[1, 2] * h) / metre
    return dapple(across_x, across_y, share)


@compiled
def _lying(nz: float, x: float, y: float) -> float:
    """Return how much of a spot that faces up by ``nz`` snow covers."""
    return min(1.0, max(0.0, (nz - 0.25 - 0.3 * noise(9 * x, 9 * y)) * 3.0))


@compiled
def _weather(
    layer: Bytes, row: int, column: int, kind: int, along: float, h: float, nz: float, x: float, y: float
) -> None:
    """Give built faces the grain of what they are made of: courses of stone on walls, a little unevenness on all."""
    if layer[row, column, 3] < 250:
        return
    if abs(nz) > 0.7:
        along, h = x, y
    bright = 0.95 + 0.1 * noise(3.0 * along, 3.0 * h) + 0.05 * (noise(26.0 * along, 40.0 * h) - 0.5)
    if kind == 7:  # living rock: weathered, cracked, mossy in places
        broken = noise(2.9 * x + 1.3 * h, 2.9 * y + 4.0 * h)
        bright = 0.6 + 0.5 * broken + 0.3 * noise(9.0 * x + 5.0 * h, 9.0 * y + 13.0 * h)
        bright *= 0.7 if abs(broken - 0.5) < 0.03 else 0.9 + 0.2 * noise(41.0 * x + h, 41.0 * y + 37.0 * h)
    if kind == 6:
        joint, stone = _joint(along, h, 0.44, 0.16, 0.007)
        bright *= 0.86 if joint < 1.0 else 0.94 + 0.14 * stone
    for k in range(3):
        layer[row, column, k] = np.uint8(min(255.0, layer[row, column, k] * bright))


@compiled
def _dot(
    tone: FloatArray,
    image: Bytes,
    layer: Bytes,
    row: int,
    column: int,
    lights: FloatArray,
    lamps: FloatArray,
    x: float,
    y: float,
    h: float,
    nx: float,
    ny: float,
    nz: float,
    direct: float,
    white: float,
    kind: int,
    mood: FloatArray,
    sky: FloatArray,
    v: float,
    z: float,
) -> None:
    """Write one dot: its own colour in all the light that reaches it, seen through the air."""
    if kind == 4:
        for k in range(3):
            image[row, column, k] = np.uint8(layer[row, column, k] * (0.25 if mood[0] > 0.5 else 0.8))
        return
    glow, cold = _lamp_light(lamps, x, y, h, nx, ny, nz) if len(lamps) else (0.0, 0.0)
    open_sky = layer[row, column, 4] / 255.0
    warm, cool = (1.0, 0.74, 0.42), (1.0, 0.94, 0.84)
    fade = 1.0 - math.exp(-z / mood[2])
    up = 0.5 + 0.5 * nz
    for k in range(3):
        own = layer[row, column, k] + (244.0 - layer[row, column, k]) * white
        got = lights[0, k] * direct + (lights[1, k] * up + lights[2, k] * (1 - up)) * open_sky
        got += (glow - cold) * warm[k] + cold * cool[k]
        value = own / 255.0 * got
        if kind == 3 and mood[0] > 0.5:
            value = (1.0, 0.72, 0.36)[k] * 1.1
        elif kind == 3:
            value = 0.25 * value + 0.55 * sky[0, k] / 255.0
        elif kind == 5:
            seen = min(1.0, 0.12 + 0.9 * (1.0 - min(1.0, -v * 1.6)) ** 2)
            value = (1 - seen) * value + seen * (0.55 * sky[0, k] + 0.45 * sky[1, k]) / 255.0 * (0.8 + 8.0 * nx)
        value = value * (1 - fade) + fade * 1.1 * lights[3, k]
        tone[k] = 1.0 - math.exp(-1.68 * value) if value > 0 else 0.0
    grey = 0.3 * tone[0] + 0.59 * tone[1] + 0.11 * tone[2]
    vivid = VIVID if mood[0] < 0.5 or kind == 3 else min(VIVID, PALE + glow)
    for k in range(3):
        image[row, column, k] = np.uint8(min(255.0, max(0.0, 255.0 * (grey + vivid * (tone[k] - grey)))))


@compiled
def _lamp_light(
    lamps: FloatArray, x: float, y: float, h: float, nx: float, ny: float, nz: float
) -> tuple[float, float]:
    """Return the light of all lamps on a spot, by the square of the distance, and that of the cool ones alone."""
    total, cold = 0.0, 0.0
    for i in range(len(lamps)):
        dx, dy, dz = lamps[i, 0] - x, lamps[i, 1] - y, lamps[i, 2] - h
        square = dx * dx + dy * dy + dz * dz + 0.03
        far = math.sqrt(square)
        slope = (nx * dx + ny * dy + nz * dz) / far
        given = lamps[i, 3] / square * (0.3 + 0.7 * max(slope, 0.0))
        if lamps[i, 8] > -1.0:
            ahead = -(dx * lamps[i, 5] + dy * lamps[i, 6] + dz * lamps[i, 7]) / far
            within = min(1.0, max(0.0, 1.0 + (ahead - lamps[i, 8]) / SOFT_EDGE))
            given *= within * FOCUSED + SPILL
        total += given
        cold += given * lamps[i, 4]
    return total, cold
