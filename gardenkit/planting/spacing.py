"""How many plants a bed takes and how far apart: counts by area, and the real count when each is set in its place."""

import math

import numpy as np

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Region
from gardenkit.planting.species import Species
from gardenkit.sources import MEMORY, PLAIN, Figure

PATTERNS: dict[str, str] = {
    "square": "rows one spacing apart, plants opposite each other",
    "staggered": "rows 0.866 of a spacing apart, every other row moved half a spacing: all neighbours equally far",
}
STAGGERED_PITCH = Figure(math.sqrt(3) / 2, "of the spacing", PLAIN)  # rows of an equilateral triangle
EDGE_SHARE = Figure(0.5, "of the spacing", f"first plant half a spacing inside the edge; {MEMORY}, widely taught")
TOUCH = 1e-6  # m: a plant this near the setback line stands on it
MOST_PLANTS = 100_000  # more than this in one bed is a slip in the spacing. House value.


def plants_a_square_metre(spacing: float, pattern: str = "staggered") -> float:
    """Return plants per square metre for a spacing in metres: 1 / s2, or 1 / (0.866 s2) staggered.

    >>> round(plants_a_square_metre(0.30, "square"), 2)
    11.11
    """
    _checked(spacing, pattern)
    return 1.0 / (spacing * row_pitch(spacing, pattern))


def row_pitch(spacing: float, pattern: str = "staggered") -> float:
    """Return the distance between rows in metres."""
    _checked(spacing, pattern)
    return spacing * (float(STAGGERED_PITCH) if pattern == "staggered" else 1.0)


def place_in(
    region: Region,
    spacing: float,
    pattern: str = "staggered",
    *,
    turn: float = 0.0,
    edge_share: float = float(EDGE_SHARE),
) -> tuple[Point, ...]:
    """Return where plants stand in a bed: a lattice inside the outline drawn in by ``edge_share`` of the spacing.

    ``turn`` lays the rows at degrees clockwise from the plan's x axis. The lattice starts at the lower left of the
    drawn-in bed; empty when nothing fits. Raises GardenError for a spacing of 0 or an unknown pattern.
    """
    pitch = row_pitch(spacing, pattern)
    inset = plane.grown(region, -(spacing * edge_share - TOUCH))
    if inset.is_empty:
        return ()
    level = plane.union(plane.region(plane.turned(ring, -turn)) for ring in _outer(inset)) if turn else inset
    left, low, right, high = plane.bounds(level)
    if (right - left) * (high - low) / (spacing * pitch) > MOST_PLANTS:
        raise GardenError(f"a spacing of {spacing:g} m gives more than {MOST_PLANTS} plants; give a larger spacing")
    rows = np.arange(math.floor((high - low) / pitch + TOUCH) + 1)
    steps = np.arange(math.floor((right - left) / spacing + TOUCH) + 1)
    shift = (rows % 2) * spacing / 2 if pattern == "staggered" else np.zeros(len(rows))
    x = left + TOUCH / 2 + shift[:, None] + steps[None, :] * spacing
    y = np.broadcast_to(low + TOUCH / 2 + rows[:, None] * pitch, x.shape)
    points = np.column_stack((x.ravel(), y.ravel()))
    if turn:
        points = np.asarray(plane.turned(points, turn))
    kept = points[plane.inside(inset, points)]
    return tuple((float(px), float(py)) for px, py in kept)


def spacing_for(species: Species, own: float | None = None, *, where: str = "") -> float:
    """Return the on-centre distance for a mass of one kind in metres: the designer's own, or the catalogue's."""
    if own is None:
        return species.spacing_m
    if not own > 0:
        raise GardenError(
            f"spacing is {own:g} m for {species.botanical}{f' in {where}' if where else ''}; give a distance above 0, "
            f"or remove it to use the catalogue's {species.spacing_m:.2f} m"
        )
    return own


def between(a: Species, b: Species) -> float:
    """Return the usual distance between two kinds in metres: the mean of their mature spreads (from memory)."""
    return (a.spread + b.spread) / 2


# ---- helpers


def _checked(spacing: float, pattern: str) -> None:
    if pattern not in PATTERNS:
        raise GardenError(f'there is no pattern "{pattern}"{nearest(pattern, PATTERNS)}; use {" or ".join(PATTERNS)}')
    if not 0 < spacing < math.inf:
        raise GardenError(f"spacing is {spacing:g} m; give a distance above 0")


def _outer(region: Region) -> list[plane.Outline]:
    return [plane.corners(piece) for piece in plane.pieces(region)]
