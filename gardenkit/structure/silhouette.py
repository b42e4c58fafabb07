"""The outline of one thing in a picture, at its true size: a stone cut to the shape of a leaf, a hare, a hand."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from gardenkit.brief.photo import photo
from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Outline
from gardenkit.sources import HOUSE, Figure

ACROSS = 320  # pixels of the longer side that a picture is read at. House value.
LEAST = Figure(0.01, "share", f"a shape of less of the picture is a speck; {HOUSE}")
MOST = Figure(0.95, "share", f"a shape of more of it is the background; {HOUSE}")
APART = 24  # steps of grey between shape and background at least. House value.
FINE = Figure(0.006, "share", f"of its longer side: what is finer is no shape a saw follows; {HOUSE}")
LEVELS = 256


def silhouette(picture: Path | bytes, *, long: float, name: str = "") -> Outline:
    """Return the outline of the one dark or light shape in a picture, ``long`` metres over its longer way, its middle
    at (0, 0), the picture's upper edge up.

    Raises GardenError for a picture that cannot be read, and one in which no shape stands off its background.
    """
    if not long > 0:
        raise GardenError(f"a stone {long:g} m long is none; give its longer side above 0")
    shown = name or (picture.name if isinstance(picture, Path) else "the picture")
    grey = photo(picture, name).convert("L")
    grey.thumbnail((ACROSS, ACROSS))
    inside = _inside(np.asarray(grey), shown)
    boxes = [
        ((start, -row - 1.0), (end, -row - 1.0), (end, -float(row)), (start, -float(row)))
        for row, line in enumerate(inside)
        for start, end in _runs(line)
    ]
    whole = plane.pieces(plane.union([plane.grown(plane.region(box), 1e-6) for box in boxes]))[0]
    left, low, right, top = plane.bounds(whole)
    longer, share = max(right - left, top - low), plane.area(whole) / inside.size
    if not LEAST <= share <= MOST:
        raise GardenError(f"{shown} shows no one shape; take it of a dark thing on a light ground, or the other way")
    smooth = plane.simplified(plane.grown(plane.grown(whole, 1.2), -1.2), FINE * longer)
    x, y = (left + right) / 2, (low + top) / 2
    scale = long / longer
    return tuple(
        (round((a - x) * scale, 4), round((b - y) * scale, 4)) for a, b in plane.corners(plane.pieces(smooth)[0])
    )


# ---- helpers


def _inside(grey: NDArray[np.uint8], shown: str) -> NDArray[np.bool_]:
    """Return which pixels belong to the shape: those on the other side of Otsu's threshold than the picture's edge."""
    counts = np.bincount(grey.ravel(), minlength=LEVELS).astype(float)
    level, apart = _parted(counts)
    if apart < APART:
        raise GardenError(f"{shown} is all of one grey; take it of a dark thing on a light ground, or the other way")
    dark = grey <= level
    edge = np.concatenate((dark[0], dark[-1], dark[:, 0], dark[:, -1]))
    return ~dark if edge.mean() > 0.5 else dark


def _parted(counts: NDArray[np.float64]) -> tuple[int, float]:
    """Return the grey that parts dark from light best (Otsu 1979), and how far apart the means of the two are."""
    levels = np.arange(LEVELS)
    below, total = np.cumsum(counts), counts.sum()
    weighed = np.cumsum(counts * levels)
    above = total - below
    fits = (below > 0) & (above > 0)
    dark = np.divide(weighed, below, out=np.zeros(LEVELS), where=fits)
    light = np.divide(weighed[-1] - weighed, above, out=np.zeros(LEVELS), where=fits)
    between = np.where(fits, below * above * (light - dark) ** 2, 0.0)
    best = int(between.argmax())
    return best, float(light[best] - dark[best])


def _runs(line: NDArray[np.bool_]) -> list[tuple[float, float]]:
    """Return where each stretch of true begins and ends."""
    steps = np.flatnonzero(np.diff(np.concatenate(([False], line, [False])).astype(np.int8)))
    return [(float(a), float(b)) for a, b in zip(steps[::2], steps[1::2], strict=True)]
