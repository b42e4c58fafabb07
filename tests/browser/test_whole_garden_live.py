"""A back garden on a slope built in an empty folder in a window of 1280 x 800, by the mouse: no coordinate is typed.

What is typed are two heights of the ground, the wants and why a warning may stand. Places are plan feet, clicked on a
grid of one foot. Kernel and server begin again on the way, a second notebook is open beside the first, and the client
edition, the drawing set and the notebooks as pages to read are read at the end; the same garden by script is the same
file.
"""

from collections import Counter
from itertools import pairwise
from pathlib import Path

import by_script
import pytest
from by_mouse import begin, click
from pypdf import PdfReader
from waiting import wait_until
from whole_session import (
    WANTS,
    ask_for_it_all,
    begin_the_kernel_again,
    hand_over,
    nothing_is_wrong,
    plant,
    planted,
    read_offline,
    saved,
    write_all_of_it,
)

from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.notebook.gardens import workbook_folder
from gardenkit.notebook.jobs import AT_ONCE
from gardenkit.project import Project
from gardenkit.storage import create
from gardenkit.units import FOOT, SQUARE_FOOT

pytestmark = pytest.mark.browser

RECTANGLE = "a rectangle: two opposite corners"
PLOT = [(0, 0), (52, 0), (52, 40), (30, 46), (0, 46)]
FALL = {(2, 2): "", (50, 2): "", (2, 44): "-4'", (50, 38): "-3' 6\""}  # height over the plan's zero; as drawn: 0
PLACED = {
    "raised bed": [(44, 12), (44, 24)],
    "rain garden": [(10, 36)],
    "compost bays": [(46, 34)],
    "water butt": [(5, 4)],
    "path light": [(8, 25), (20, 26)],
    "statue": [(34, 32)],
}
BED = "Bed 3"
OF_A_SESSION = {"handover": None, "at": None}  # what was accepted with a reason, and how many steps it took
KEPT = {kind: len(places) for kind, places in PLACED.items()} | {"beech hedge": 1}


class Hand:
    """Draws by clicks at plan feet on the notebook that is open."""

    def __init__(self, notebook) -> None:
        self.notebook = notebook
        notebook.page.set_viewport_size({"width": 1280, "height": 800})
        notebook.run_all()
        notebook.page.wait_for_selector(".gk-choice-draw select:visible")

    def draw(self, what: str, *feet: tuple[float, float], way: str = "") -> None:
        """Choose what to draw and click its points; more than one end by a double click, unless the last is known."""
        begin(self.notebook, what, way)
        for x, y in feet[:-1]:
            click(self.notebook, x * FOOT, y * FOOT)
        x, y = feet[-1]
        click(self.notebook, x * FOOT, y * FOOT, double=len(feet) > 1 and way != RECTANGLE)
        wait_until(lambda: not self.notebook.page.locator(".gk-button-draw-done:visible").count())

    def on_a_grid(self) -> None:
        """Switch the grid of a foot on, which the first choice shows."""
        begin(self.notebook, "a length, from click to click")
        self.notebook.page.locator("label:visible", has_text="Put onto a grid of").first.click()
        self.notebook.page.locator(".gk-button-draw-cancel:visible").click()
        self.notebook.settle()


def measure_the_ground(hand: Hand) -> None:
    hand.on_a_grid()
    hand.draw("boundary", *PLOT)
    hand.draw("house", (8, 0), (40, 6), way=RECTANGLE)
    hand.draw("door", (24, 6))
    hand.draw("gate", (0, 30))
    page = hand.notebook.page
    for place, height in FALL.items():
        hand.draw("ground height", place)
        if height:
            page.locator(".gk-field-ground-height-height input:visible").fill(height)
            page.locator(".gk-button-change-thing:visible").click()
            hand.notebook.settle()


def build(hand: Hand) -> None:
    notebook = hand.notebook
    hand.on_a_grid()
    for kind, places in PLACED.items():
        for place in places:
            hand.draw(kind, place)
    hand.draw("beech hedge", (20, 44), (34, 43))
    notebook.step("Beds, paved and lawn areas")
    hand.on_a_grid()
    hand.draw("patio", (18, 6), (32, 18), way=RECTANGLE)
    notebook.step("All paths")
    hand.draw("path", (0, 30), (14, 27), (25, 18))
    hand.draw("stone of its own outline", (5, 28), (7, 28), (8, 30), (5.5, 31))


def find_a_way_without_steps(notebook) -> None:
    notebook.step("Levels")
    page = notebook.page
    for which, place in (("from", "gate"), ("to", "patio")):
        page.locator(f".gk-choice-way-{which} select:visible").select_option(label=place)
        notebook.settle()
    page.locator(".gk-button-take-way:visible").click()  # too early: said where it can be read, far down the step
    said = page.locator(".gk-said:visible", has_text="no way is drawn")
    said.wait_for()
    assert said.bounding_box()["y"] > page.locator(".gk-desk-step").bounding_box()["y"] - 1
    page.locator(".gk-button-find-ways:visible").click()
    found = page.locator(".gk-choice-way-found select:visible")
    wait_until(lambda: "none" not in found.inner_text())
    page.locator(".gk-button-take-way:visible").click()
    wait_until(lambda: "none" in found.inner_text())  # it became a path of the garden


def test_a_back_garden_on_a_slope_is_built_by_the_mouse_planted_and_handed_over(
    open_notebook, lab, browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for old in (*lab.garden.glob("history*"), lab.garden / "garden.json"):
        old.unlink()
    create(lab.garden, Project(name="Back garden"))
    ground = open_notebook("03_site_measurement")
    measure_the_ground(Hand(ground))
    assert ground.errors == []
    ground.page.close()
    plan = open_notebook("04_structure")
    build(Hand(plan))
    find_a_way_without_steps(plan)
    assert plan.errors == []
    all_is_there(lab.garden)
    wants = open_notebook("02_wants_list")  # beside the other one
    ask_for_it_all(wants, lab.garden)
    wait_until(lambda: f"of {len(WANTS)} wants" in plan.text())  # which follows
    wants.page.close()
    begin_the_kernel_again(plan)
    nothing_is_wrong(plan)
    all_is_there(lab.garden)
    plan.page.close()
    layers = open_notebook("05_layering")
    many = plant(layers, lab.garden, BED)
    layers.page.close()
    before = saved(lab.garden)
    lab.stop()
    lab.start()
    client = open_notebook("07_client_copy")
    words = read_offline(browser.new_page(), hand_over(client, lab.garden))
    assert all(want in words for want in WANTS)
    after = saved(lab.garden)
    assert {**after, **OF_A_SESSION} == {**before, **OF_A_SESSION}
    assert planted(lab.garden) == many > 20
    written = write_all_of_it(client, lab.garden)
    client.page.close()
    assert saved(lab.garden) == after
    books = [path for path in written if path.parent.name == "notebooks" and path.suffix == ".html"]
    assert len(books) == len(tuple(workbook_folder().glob("0[0-7]*.ipynb")))
    for book in books:
        said = read_offline(browser.new_page(), book)
        assert "Traceback" not in said and "Error displaying" not in said
    drawn = PdfReader(next(path for path in written if path.name == "drawing_set.pdf"))
    assert len(drawn.pages) >= 8
    monkeypatch.setenv(AT_ONCE, "yes")  # the loop of the browser runs here: no work is left for later
    folder = tmp_path / "by script"
    by_script.plant(by_script.build(by_script.measure(folder, PLOT, FALL), PLACED), WANTS, BED)
    assert {**saved(folder), **OF_A_SESSION} == {**after, **OF_A_SESSION}


def all_is_there(folder: Path) -> None:
    garden = Garden.open(folder)
    site, bones = garden.project.site, garden.project.structure
    assert plane.area(plane.region(site.boundary)) == pytest.approx(2326 * SQUARE_FOOT, rel=0.002)
    heights = [spot.height for spot in site.heights]
    assert max(heights) - min(heights) == pytest.approx(4 * FOOT, abs=0.001)
    (patio,) = bones.ground_areas
    low_x, low_y, high_x, high_y = plane.bounds(plane.region(patio.outline))
    assert (high_x - low_x, high_y - low_y) == pytest.approx((14 * FOOT, 12 * FOOT), abs=0.002)
    assert Counter(thing.kind for thing in bones.things) == KEPT
    walk, way = bones.paths
    assert len(walk.cut_stones) == 1 and (way.start, way.end) == ("gate", "patio")
    steepest = max(
        abs(b.height - a.height) / ((b.share - a.share) * garden.layout.routes[way.name].length)
        for a, b in pairwise(way.heights)
    )
    assert steepest <= 1 / 12 + 0.002
    counted = {line.where for line in garden.quantities}
    assert counted >= {patio.name, walk.name, way.name, *(thing.name for thing in bones.things)}
