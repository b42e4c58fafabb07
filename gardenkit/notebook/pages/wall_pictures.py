"""What the wall photo page shows: the photo with its four points, the straightened wall, and the mark in figures."""

import base64
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any

from bokeh.models import ColumnDataSource

from gardenkit.drawing import style
from gardenkit.drawing.bokeh import LivePlan
from gardenkit.drawing.columns import Handle
from gardenkit.drawing.plan import PIXEL_MM
from gardenkit.drawing.scene import Bounds, Label, Mark, Scene, Stroke, on_ground
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.notebook.pages.scan import data_url, no_picture
from gardenkit.notebook.pages.wall_sides import HIGH_PX, WIDTH_PX, shown
from gardenkit.site.tracing import Rectifier, straightened
from gardenkit.site.wall_sides import Rectangle, Side, pixel_on_wall
from gardenkit.units import System, show_length

SHARPNESS = 2  # pixels of the straightened picture for one on the screen, for zooming in. House value.
MOST_PER_METRE = 400.0  # pixels of the straightened picture for 1 m. House value.
KINDS = (".jpg", ".jpeg", ".png")  # of picture files
NOTHING_YET: Bounds = (0.0, 0.0, 4.0, 3.0)
FIRST = {"A": (0.25, 0.75), "B": (0.75, 0.75), "C": (0.75, 0.25), "D": (0.25, 0.25)}  # shares of the photo

HINT = (
    "Drag A (lower left), B (lower right), C (upper right) and D (upper left) onto four places of the wall that you "
    "have measured: the corners of a door, a garage, the wall itself. The page keeps the four points of each photo "
    "only while it is open; the openings are saved."
)


def photos_in(folder: Path) -> list[str]:
    """Return the names of the pictures in a folder."""
    found = folder.iterdir() if folder.is_dir() else ()
    return sorted(p.name for p in found if p.suffix.lower() in KINDS and not p.name.startswith("."))


def first_corners(size: tuple[int, int]) -> dict[str, Point]:
    """Return A B C D in the middle of a photo of ``size`` pixels, for the designer to drag."""
    return {key: (x * size[0], y * size[1]) for key, (x, y) in FIRST.items()}


def pixel_at(at: Point, size: tuple[int, int]) -> Point:
    """Return the pixel (right and down) under a place of the drawing (pixels right and up), held to the photo."""
    wide, high = size
    return (min(max(at[0], 0.0), float(wide)), min(max(high - at[1], 0.0), float(high)))


def corner_handles(corners: Mapping[str, Point], high: int) -> list[Handle]:
    """Return the handles A B C D of a photo that is ``high`` pixels high."""
    return [Handle(id=f"corner:{k}", kind="path", at=(x, high - y), tip=k) for k, (x, y) in corners.items()]


def mark_handles(mark: Rectangle | None) -> list[Handle]:
    """Return the two handles of the mark on the straightened wall."""
    if mark is None:
        return []
    tips = ("1: lower left of the opening", "2: upper right of the opening")
    return [
        Handle(id=f"mark:{n}", kind="plant", at=at, tip=tip)
        for n, at, tip in zip("12", (mark[:2], mark[2:]), tips, strict=True)
    ]


def plan(scene: Scene) -> LivePlan:
    """Return a live plan of the size of both pictures."""
    return LivePlan(scene, width_px=WIDTH_PX, most_height_px=HIGH_PX)


def under(shown_plan: LivePlan) -> ColumnDataSource:
    """Return the source of a picture that lies under a live plan, empty at first."""
    source = ColumnDataSource(data=no_picture(), name="picture")
    shown_plan.figure.image_url(
        url="url", x="x", y="y", w="w", h="h", angle="angle", anchor="center", source=source, level="image"
    )
    return source


def photo_columns(path: Path, size: tuple[int, int]) -> dict[str, list[Any]]:
    """Return the photo as it lies under the four points, in its own pixels."""
    return _columns(data_url(path), (0.0, 0.0, float(size[0]), float(size[1])))


def straight_columns(path: Path, square: Rectifier, side: Side, foot: float) -> dict[str, list[Any]]:
    """Return the straightened photo as it lies under the wall's grid, in the wall's metres."""
    low_x, low_y, high_x, high_y = bounds = shown(side, foot=foot)
    fine = min(MOST_PER_METRE, SHARPNESS * WIDTH_PX / (high_x - low_x))
    picture = straightened(path, square, along=(low_x, high_x), up=(low_y, high_y), per_metre=fine)
    held = BytesIO()
    picture.save(held, "JPEG", quality=85)
    return _columns("data:image/jpeg;base64," + base64.b64encode(held.getvalue()).decode("ascii"), bounds)


def photo_scene(
    size: tuple[int, int], corners: Mapping[str, Point], square: Rectifier | None, mark: Rectangle | None
) -> Scene:
    """Return the lines over the photo: A B C D and, once it is straightened, the mark as the photo shows it."""
    wide, high = size
    scale = max(wide / WIDTH_PX, high / HIGH_PX) * 1000 / PIXEL_MM
    marks: list[Mark] = [_ring([corners[k] for k in "ABCD"], high, style.EYE)]
    if square is not None and mark is not None:
        x1, y1, x2, y2 = mark
        try:
            ring = [square.to_pixel(at) for at in ((x1, y1), (x2, y1), (x2, y2), (x1, y2))]
        except GardenError:
            ring = []  # part of the mark lies behind the camera
        marks += [_ring(ring, high, style.ALERT)] if ring else []
    off = on_ground(4.0, scale)
    for key, (x, y) in corners.items():
        at = (x + (off if key in "BC" else -off), high - y + (off if key in "CD" else -off))
        marks.append(Label(at=at, text=key, size_mm=4.0, bold=True, colour=style.EYE, halo=style.PAPER))
    title = "The photo, with the four points that were measured on the wall"
    bounds = (0.0, 0.0, float(wide), float(high))
    return Scene(marks=tuple(marks), bounds=bounds, title=title, description=title, scale=scale)


def empty_scene(words: str) -> Scene:
    """Return a drawing that only says what to do first."""
    low_x, low_y, high_x, high_y = NOTHING_YET
    middle = Label(at=((low_x + high_x) / 2, (low_y + high_y) / 2), text=words, size_mm=3.2, colour=style.SOFT_INK)
    scale = (high_x - low_x) * 1000 / (WIDTH_PX * PIXEL_MM)
    return Scene(marks=(middle,), bounds=NOTHING_YET, title=words, description=words, scale=scale)


def mark_rows(mark: Rectangle, square: Rectifier, foot: float, units: System) -> list[tuple[str, str]]:
    """Return the mark in figures, and how much of the wall one pixel of the photo shows there."""
    (x1, x2), (y1, y2) = sorted((mark[0], mark[2])), sorted((mark[1], mark[3]))
    rows = [
        ("from the wall's left end", x1),
        ("width", x2 - x1),
        ("height", y2 - y1),
        ("sill above the plan's zero", y1 + foot),
        ("head above the plan's zero", y2 + foot),
    ]
    shown_rows = [(words, show_length(value, units)) for words, value in rows]
    fine = f"{1000 * pixel_on_wall(mark, square):.0f} mm" if units == "metric" else ""
    fine = fine or show_length(pixel_on_wall(mark, square), units, small=True)
    return [*shown_rows, ("one pixel of the photo there", fine)]


# ---- helpers


def _columns(url: str, at: Bounds) -> dict[str, list[Any]]:
    low_x, low_y, high_x, high_y = at
    middle = {"x": [(low_x + high_x) / 2], "y": [(low_y + high_y) / 2]}
    return {"url": [url], **middle, "w": [high_x - low_x], "h": [high_y - low_y], "angle": [0.0]}


def _ring(pixels: list[Point], high: int, colour: str) -> Stroke:
    upright = tuple((x, high - y) for x, y in (*pixels, pixels[0]))
    return Stroke(points=upright, colour=colour, width_mm=style.BUILT, layer="overlay")
