"""What is drawn over a photo of the site: its marks, how far each lies off, and what is outlined as in front."""

from collections.abc import Sequence

import numpy as np

from gardenkit.drawing import style
from gardenkit.drawing.plan import PIXEL_MM
from gardenkit.drawing.scene import Area, Dots, Label, Mark, Scene, Stroke, on_ground
from gardenkit.geometry.plane import Point
from gardenkit.site.photo_camera import Found, pixels_of
from gardenkit.site.site_photos import SitePhoto

TICK_MM = 3.0  # half a mark's cross. House value.


def photo_marks(photo: SitePhoto, found: Found | None, begun: Sequence[Point], *, across_px: int) -> Scene:
    """Return the lines over a photo shown ``across_px`` wide; ``begun`` are the corners clicked of a new outline.

    Places are pixels right and up from the lower left corner. From each mark a line runs to where the camera sees it.
    """
    scale = photo.wide / across_px * 1000 / PIXEL_MM
    reach = on_ground(TICK_MM, scale)
    marks: list[Mark] = []
    for one in photo.in_front:
        ring = tuple(_up(photo, at) for at in one.ring)
        marks.append(Area(rings=(ring,), fill=style.EYE, alpha=0.2, stroke=style.EYE, width_mm=0.4, layer="overlay"))
    if begun:
        ends = tuple(_up(photo, at) for at in begun)
        marks.append(Stroke(points=ends, colour=style.EYE, width_mm=style.BUILT, layer="overlay"))
        marks.append(Dots(points=ends, radius=0.3 * reach, fill=style.EYE, layer="overlay"))
    spots = np.array([(*mark.at, mark.height) for mark in photo.marks], dtype=float)
    seen = pixels_of(found.pose, (photo.wide, photo.high), spots) if found is not None else None
    for number, mark in enumerate(photo.marks):
        x, y = _up(photo, mark.pixel)
        bad = found is not None and mark.name == found.worst
        colour = style.ALERT if bad else style.EYE
        for ends in (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))):
            marks.append(Stroke(points=ends, colour=colour, width_mm=style.BUILT, layer="overlay"))
        if seen is not None:
            there = _up(photo, (float(seen[number, 0]), float(seen[number, 1])))
            marks.append(Stroke(points=((x, y), there), colour=style.ALERT, width_mm=0.4, layer="overlay"))
        at = (x + 1.3 * reach, y + 1.3 * reach)
        marks.append(
            Label(at=at, text=str(number + 1), size_mm=3.6, anchor="start", bold=True, colour=colour, halo=style.PAPER)
        )
    words = f"The photo {photo.name} with its {len(photo.marks)} marks"
    bounds = (0.0, 0.0, float(photo.wide), float(photo.high))
    return Scene(marks=tuple(marks), bounds=bounds, title=words, description=words, scale=scale)


def _up(photo: SitePhoto, pixel: Point) -> Point:
    return pixel[0], photo.high - pixel[1]
