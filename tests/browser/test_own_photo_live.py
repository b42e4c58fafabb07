"""A photo of the site in JupyterLab: loaded, its marks set with the mouse, its fit read, the design drawn into it."""

import re
from pathlib import Path

import attrs
import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect

from gardenkit.drawing.painted.picture import Quality
from gardenkit.drawing.painted_view import Moment, Prospect, painted
from gardenkit.drawing.view import places_to_look_from, view_stage
from gardenkit.garden import Garden
from gardenkit.notebook.pages.seasons_film import EACH
from gardenkit.notebook.pages.seasons_view import SHOWS
from gardenkit.planting.planting import Planting
from gardenkit.project.layout import layout
from gardenkit.project.photo_spots import spots
from gardenkit.structure.structure import Structure

pytestmark = pytest.mark.browser
ACROSS = 900  # pixels of the photo
WHEN = Moment(year=5, month=6, hour=15.0)
MARKED = (
    "house, corner 2, foot",
    "house, corner 2, eaves",
    "house, corner 4, eaves",
    "kitchen window, first side, foot",
    "kitchen window, second side, head",
    "street fence, post 4, top",
)
SPOT = """([x, y]) => { for (const doc of window.Bokeh?.documents ?? []) for (const model of doc._all_models.values()) {
    if (model.type !== 'Figure') continue;
    const view = window.Bokeh.index.find_one(model);
    if (!view || !view.canvas_view || !(model.x_range.end - model.x_range.start > 400)) continue;
    const box = view.canvas_view.el.getBoundingClientRect();
    if (box.width < 10) continue;
    return [box.left + view.frame.x_scale.compute(x), box.top + view.frame.y_scale.compute(y)] } return null }"""


def photo_of(folder: Path, file: Path) -> dict[str, tuple[float, float]]:
    """Paint the bare site from its gate as a photo; return where on it the spots are, pixels right and up."""
    garden = Garden.open(folder)
    bare = attrs.evolve(garden.project, structure=Structure(), planting=Planting())
    at = {place.name: place for place in places_to_look_from(garden.project, garden.layout)}["gate"]
    of = Prospect(project=bare, worked=layout(bare), catalogue=garden.catalogue)
    pixels = painted(of, at=at, when=WHEN, quality=Quality(across=ACROSS, finer=1.0)).pixels
    Image.fromarray(pixels).save(file, quality=88)
    camera = view_stage(bare.site, of.worked, at, WHEN.month, WHEN.hour, of.angle, 240.0).camera
    left, low, right, _ = camera.frame
    scale, known = ACROSS / (right - left), spots(garden.project)
    flat = camera.flat(camera.before(np.array([known[name] for name in MARKED])))
    return {n: ((x - left) * scale, (y - low) * scale) for n, (x, y) in zip(MARKED, flat, strict=True)}


def click(notebook, x: float, y: float) -> None:
    far = notebook.page.evaluate(SPOT, [x, y])[1] - 500
    notebook.page.evaluate("far => { document.querySelector('.jp-WindowedPanel-outer').scrollTop += far }", far)
    notebook.page.wait_for_timeout(300)
    at = notebook.page.evaluate(SPOT, [x, y])
    notebook.page.mouse.move(at[0] - 3, at[1] - 3)
    notebook.page.mouse.click(*at)
    notebook.page.wait_for_timeout(450)  # two clicks within 0.3 s are a double click to Bokeh
    notebook.settle()


def test_a_photo_is_marked_with_the_mouse_fits_and_shows_the_design(open_notebook, lab, tmp_path: Path) -> None:
    file = tmp_path / "site.jpg"
    where = photo_of(lab.garden, file)
    notebook = open_notebook("05_layering")
    notebook.run_all()
    notebook.step("In your own photo")
    page = notebook.page
    with page.expect_file_chooser() as chosen:
        page.locator(".widget-upload").locator("visible=true").first.click()
    chosen.value.set_files(file)
    notebook.settle()
    for name, spot in where.items():
        select = page.locator(".gk-choice-photo-place select").locator("visible=true").first
        select.select_option(label=name)
        notebook.settle()
        click(notebook, *spot)
    (fit,) = re.findall(r"marks fit to ([\d.]+) pixels", notebook.text())
    assert float(fit) < 3.0  # a click is a whole pixel of the screen, which shows the photo smaller than it is
    page.get_by_role("button", name="Draw the design into the photo").locator("visible=true").first.click()
    page.wait_for_selector(".before-after", timeout=120_000)
    before, after = (image.get_attribute("src") for image in page.locator(".before-after img").all())
    assert before != after
    assert after.startswith("data:image/webp;base64,")
    page.locator(".before-after input").evaluate("e => { e.value = 10; e.dispatchEvent(new Event('input')) }")
    assert "10%" in page.locator(".before-after img").last.evaluate("e => e.style.clipPath")
    a_walk_is_played_and_paused(notebook)
    assert [text for text in page.locator(".gk-problem").all_inner_texts() if text] == []
    assert notebook.errors == []


def a_walk_is_played_and_paused(notebook) -> None:
    """Ask for the walk among the views, play it, and pause it."""
    notebook.step("Views")
    page = notebook.page
    asked = page.locator(".gk-choice-view-show select").locator("visible=true").first
    asked.select_option(label=SHOWS[6])
    page.wait_for_selector(".widget-play:visible", timeout=180_000)
    notebook.settle()
    picture = page.locator("img[alt^='along ']:visible").first
    first = picture.get_attribute("src")
    play, pause = (page.locator(f".widget-play .fa-{name}:visible").first for name in ("play", "pause"))
    play.click()
    expect(picture).not_to_have_attribute("src", first, timeout=30_000)
    pause.click()
    notebook.settle()
    page.wait_for_timeout(500)
    stood = picture.get_attribute("src")
    page.wait_for_timeout(2 * EACH)
    assert picture.get_attribute("src") == stood
    assert picture.evaluate("e => e.naturalWidth") > 300
