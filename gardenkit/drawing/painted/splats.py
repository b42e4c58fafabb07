"""Flat shapes in the garden ready for the canvas: where, how they lie, what colour, how much light reaches them."""

from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.drawing import style
from gardenkit.geometry.plane import FloatArray

Reals = NDArray[np.float32]


@attrs.frozen(kw_only=True, eq=False)
class Splats:
    """Shapes at ``at`` (n, 3) spanned by half axes ``along`` and ``across``, facing ``facing``; ``paint`` (n, 9) as the
    canvas takes it.

    ``within`` (n, 7), for leaves of a crown, is what ``setting.set_leaves`` tells of each; None when nothing has any.
    """

    at: Reals
    along: Reals
    across: Reals
    facing: Reals
    paint: NDArray[np.uint8]
    within: Reals | None = None


def splats(
    at: FloatArray,
    along: FloatArray,
    across: FloatArray,
    facing: FloatArray,
    colours: FloatArray,
    shape: int,
    *,
    sun: FloatArray,
    sky: FloatArray,
    eye: str = "#c9962f",
) -> Splats:
    """Return shapes of one kind; ``sun`` and ``sky`` (n) are the shares of light that reach each."""
    count = len(at)
    paint = np.empty((count, 9), dtype=np.uint8)
    paint[:, :3] = np.clip(colours, 0, 255)
    paint[:, 3] = shape
    paint[:, 4] = np.clip(255 * sun, 0, 255)
    paint[:, 5] = np.clip(255 * sky, 0, 255)
    paint[:, 6:] = rgb(eye)
    as_held = [np.asarray(one, dtype=np.float32) for one in (at, along, across, facing)]
    return Splats(at=as_held[0], along=as_held[1], across=as_held[2], facing=as_held[3], paint=paint)


def rgb(colour: str) -> tuple[int, int, int]:
    """Return a colour #rrggbb as three numbers 0 to 255."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def golden(count: int) -> FloatArray:
    """Return shares 0 to 1 spread evenly however many are taken."""
    return np.asarray((np.arange(count) * 0.618) % 1.0, dtype=float)


def colours_of(colour: str, shade: FloatArray, *, varied: float, lean: str = "", by: float = 0.0) -> FloatArray:
    """Return a colour for each of n shapes, brighter and darker by ``varied``, warmer where brighter."""
    base = np.array(rgb(style.mixed(colour, lean, by) if lean and by > 0 else colour), dtype=float)
    off = (shade - 0.5)[:, None] * 2 * varied
    return np.asarray(base * (1 + off) + off * np.array([22.0, 10.0, -12.0]))


def joined(parts: Sequence[Splats]) -> Splats | None:
    """Return several as one, None when there is nothing."""
    kept = [part for part in parts if len(part.at)]
    if not kept:
        return None
    names = ("at", "along", "across", "facing", "paint")
    held = {name: np.concatenate([getattr(part, name) for part in kept]) for name in names}
    if any(part.within is not None for part in kept):
        held["within"] = np.concatenate([within_of(part) for part in kept])
    return Splats(**held)


def within_of(part: Splats) -> Reals:
    """Return what is told of each leaf, -1 where nothing is."""
    if part.within is not None:
        return part.within
    return np.full((len(part.at), 7), -1.0, dtype=np.float32)
