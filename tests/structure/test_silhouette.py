"""A stone's outline read off a picture: true to size and area, right way up, and refused where there is no shape."""

import io
import math
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.notebook.pages.paths import PathsPage
from gardenkit.notebook.session import Session
from gardenkit.structure.silhouette import silhouette


def drawn(*, ground: str = "white", ink: str = "black", size: tuple[int, int] = (600, 400)) -> Image.Image:
    """Return a picture of an ellipse of 400 x 200 pixels with a square notch out of its upper edge."""
    image = Image.new("RGB", size, ground)
    pen = ImageDraw.Draw(image)
    pen.ellipse((100, 100, 500, 300), fill=ink)
    return image


def content(image: Image.Image, kind: str = "PNG") -> bytes:
    held = io.BytesIO()
    image.save(held, kind)
    return held.getvalue()


@pytest.mark.parametrize(("ground", "ink"), [("white", "black"), ("black", "white"), ("#d8d2c0", "#6a5c48")])
@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_an_ellipse_is_as_long_and_as_large_as_geometry_says(ground: str, ink: str, kind: str) -> None:
    """Area pi a b of an ellipse 0.8 by 0.4 m over; a pixel at the size it is read is 4 mm."""
    found = plane.region(silhouette(content(drawn(ground=ground, ink=ink), kind), long=0.8))
    left, low, right, top = plane.bounds(found)
    assert (right - left, top - low) == (pytest.approx(0.8, abs=0.012), pytest.approx(0.4, abs=0.012))
    assert plane.area(found) == pytest.approx(math.pi * 0.4 * 0.2, rel=0.03)
    assert (left + right) / 2 == pytest.approx(0.0, abs=0.006)


def test_a_shape_stays_the_right_way_up_and_few_corners_follow_it() -> None:
    image = Image.new("RGB", (300, 300), "white")
    ImageDraw.Draw(image).polygon(((150, 40), (260, 260), (40, 260)), fill="#333333")
    outline = silhouette(content(image), long=1.0)
    high = max(outline, key=lambda p: p[1])
    assert abs(high[0]) < 0.03 and len(outline) < 12
    assert plane.area(plane.region(outline)) == pytest.approx(0.5, rel=0.03)


@pytest.mark.parametrize("image", [Image.new("RGB", (80, 80), "white"), Image.linear_gradient("L").crop((0, 0, 90, 9))])
def test_a_picture_without_a_shape_is_refused_in_one_sentence(image: Image.Image) -> None:
    with pytest.raises(GardenError, match=r"dark thing on a light ground"):
        silhouette(content(image.convert("RGB")), long=0.5)
    with pytest.raises(GardenError, match="not a picture"):
        silhouette(b"words", long=0.5)


def test_a_picture_dropped_on_the_page_of_paths_becomes_a_stone_of_the_path(tmp_path: Path) -> None:
    import gardenkit as gk

    made = gk.boundary(gk.new(tmp_path / "plot", units="metric"), (8, 12))
    made = gk.opening(made, "gate", "gate", (3, 0), (4, 0))
    made = gk.path(gk.seat(made, "bench", (4, 10)), "walk", start="gate", end="bench", curvature=0.2)
    page = PathsPage(Session(made.folder))
    page.silhouette.took([{"name": "leaf.png", "content": content(drawn())}])
    assert page.failures == []
    (path,) = page.project.structure.paths
    (stone,) = path.cut_stones
    left, _, right, _ = plane.bounds(plane.region(stone.outline))
    assert right - left == pytest.approx(0.6, abs=0.01)
    page.silhouette.took([{"name": "blank.png", "content": content(Image.new("RGB", (9, 9), "white"))}])
    assert len(page.project.structure.paths[0].cut_stones) == 1 and page.failures == []
