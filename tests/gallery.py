"""Draws the pictures of the README anew from the examples: `python tests/gallery.py` (Chromium turns them into pixels).

They are looked at, not compared: run it when a drawing or an example has changed.
"""

import os
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from gardenkit.drawing.framing import framed_well
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.painted_view import Moment, painted_scene, prospect
from gardenkit.drawing.plan import screen_scale
from gardenkit.drawing.svg import svg
from gardenkit.drawing.view import places_to_look_from
from gardenkit.garden import Garden
from gardenkit.notebook import gardens
from gardenkit.project.season import standing

EXAMPLES = Path(__file__).parents[1] / "examples"
YEAR, WIDE = 5, 1000  # year after planting; pixels
QUALITY = 88  # of the JPEG: flowers keep their colours, and six pictures stay below 2 MB
FROM = {  # example: where one stands, the month
    "fennel_street_corner": ("gate", 6),
    "lantern_lane_strip": ("kitchen bench", 12),
    "quarry_brow_hillside": ("pine walk, a quarter along", 6),
}


def drawings(name: str, place: str, month: int) -> dict[str, str]:
    """Return the plan and the view of an example as SVG by the names of their files."""
    garden = Garden.open(gardens.example(name))
    project, worked, catalogue = garden.project, garden.layout, garden.catalogue
    scale = screen_scale(project.site, width_px=WIDE)
    plan = garden_scene(project, worked, catalogue, year=YEAR, month=month, scale=scale)
    places = {one.name: one for one in places_to_look_from(project, worked)}
    plants = standing(project, catalogue, year=YEAR, month=month)
    at = framed_well(places[place], project.site, plants, worked=worked)
    when = Moment(year=YEAR, month=month)
    view = painted_scene(prospect(garden), at=at, when=when, title=f"{project.name}, from: {place}")
    return {f"{name}_plan": svg(plan), f"{name}_view": svg(view)}


def main() -> None:
    """Draw every picture into the examples folder."""
    with sync_playwright() as run, tempfile.TemporaryDirectory() as folder:
        chromium = os.environ.get("CHROMIUM", "/usr/bin/chromium")
        browser = run.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": WIDE, "height": WIDE})
        for name, (place, month) in FROM.items():
            for file, drawn in drawings(name, place, month).items():
                page.set_content(f'<body style="margin:0;width:{WIDE}px">{drawn}</body>')
                shot = Path(folder) / f"{file}.png"
                page.locator("svg").first.screenshot(path=shot)
                Image.open(shot).convert("RGB").save(EXAMPLES / f"{file}.jpg", quality=QUALITY, optimize=True)


if __name__ == "__main__":
    main()
