"""A back garden on a slope built in an empty folder in a window of 1280 x 800: its boundary by a tape survey, all else
by the mouse.

What is typed are the tape's readings, two heights of the ground, the fall of a terrace, the wants and why warnings may
stand. Places are plan feet, clicked on a grid of one foot. Kernel and server begin again on the way, a second notebook
is open beside the first, one plant is moved by hand, and the client edition, the drawing set and the notebooks as pages
to read are read at the end; the same garden by script is the same file. No page says at any time that something is
wrong, but where this is tried.
"""

import re
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
    keep,
    nothing_is_wrong,
    plant,
    planted,
    press,
    read_offline,
    saved,
    told_wrong,
    watched,
    write_all_of_it,
)

import gardenkit as gk
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.notebook.gardens import workbook_folder
from gardenkit.notebook.jobs import AT_ONCE
from gardenkit.units import FOOT, SQUARE_FOOT

pytestmark = pytest.mark.browser

RECTANGLE = "a rectangle: two opposite corners"
# The street side taped as the base line, the corners off it, and one side as a check, which is some millimetres out.
TAPED = """station, A, , , 0, 0
station, B, , , 52', 0
offset, A, B, C, 52', left 40'
offset, A, B, D, 30', left 46'
offset, A, B, E, 0, left 46'
tie, C, D, , 22' 9 3/4
"""
ROUND = "A B C D E"
FALLS = "2"  # percent, of the terrace
FALL = {(2, 2): "", (50, 2): "", (2, 44): "-4' 0\"", (50, 38): "-3' 6\""}  # height over the plan's zero; as drawn: 0
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


def survey_the_boundary(notebook) -> None:
    notebook.step("The tape survey")
    page = notebook.page
    page.locator(".gk-survey-table textarea:visible").first.fill(TAPED)
    press(notebook, "solve")
    wait_until(lambda: "6 measures worked out" in notebook.text() or "4 measures worked out" in notebook.text())
    page.locator(".gk-field-order input:visible").fill(ROUND)
    press(notebook, "boundary")
    notebook.settle()
    keep(page, "01_survey")
    notebook.step("The ground as found")


def measure_the_ground(hand: Hand) -> None:
    survey_the_boundary(hand.notebook)
    hand.on_a_grid()
    hand.draw("house", (8, 0), (40, 6), way=RECTANGLE)
    hand.draw("door", (24, 6))
    hand.draw("gate", (0, 30))
    page = hand.notebook.page
    for place, height in FALL.items():
        hand.draw("ground height", place)
        if height:
            page.locator(".gk-field-ground-height-height input:visible").fill(height)
            page.locator(".gk-button-change-thing:visible").click()
            listed = page.locator("select:visible option", has_text=f"· {height}")
            wait_until(listed.count)
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


def lay_a_terrace(notebook) -> None:
    """Give the patio one plane with a fall, by its form on the step of levels."""
    notebook.step("Levels")
    page = notebook.page
    page.locator(".gk-choice-level-of select:visible").select_option(label="patio")
    page.locator(".gk-field-level-fall input:visible").fill(FALLS)
    press(notebook, "add-level")
    notebook.settle()


def find_a_way_without_steps(notebook) -> None:
    page = notebook.page
    for which, place in (("from", "gate"), ("to", "patio")):
        page.locator(f".gk-choice-way-{which} select:visible").select_option(label=place)
        notebook.settle()
    page.locator(".gk-button-take-way:visible").click()  # too early: said where it can be read, far down the step
    said = page.locator(".gk-said:visible", has_text="no way is drawn")
    said.wait_for()
    assert said.bounding_box()["y"] > page.locator(".gk-desk-step").bounding_box()["y"] - 1
    page.locator(".gk-button-find-ways:visible").click()
    wait_until(lambda: not said.count())
    (wrong,) = {*told_wrong(notebook)}
    assert "no way is drawn" in wrong
    found = page.locator(".gk-choice-way-found select:visible")
    wait_until(lambda: "none" not in found.inner_text())
    page.locator(".gk-button-take-way:visible").click()
    wait_until(lambda: "none" in found.inner_text())  # it became a path of the garden


def test_a_back_garden_on_a_slope_is_measured_built_planted_and_handed_over(
    open_notebook, lab, browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for old in (*lab.garden.glob("history*"), lab.garden / "garden.json"):
        old.unlink()
    gk.new(lab.garden, name="Back garden")
    ground = watched(open_notebook("03_site_measurement"))
    measure_the_ground(Hand(ground))
    nothing_is_wrong(ground, "02_ground")
    ground.page.close()
    plan = watched(open_notebook("04_structure"))
    build(Hand(plan))
    lay_a_terrace(plan)
    find_a_way_without_steps(plan)
    nothing_is_wrong(plan, "03_structure")
    all_is_there(lab.garden)
    wants = watched(open_notebook("02_wants_list"))  # beside the other one
    ask_for_it_all(wants, lab.garden)
    wait_until(lambda: f"of {len(WANTS)} wants" in plan.text())  # which follows
    wants.page.close()
    begin_the_kernel_again(plan)
    nothing_is_wrong(plan, "03_structure_after_the_kernel_began_again")
    all_is_there(lab.garden)
    plan.page.close()
    layers = watched(open_notebook("05_layering"))
    moved = plant(layers, lab.garden, BED)
    layers.page.close()
    before, many = saved(lab.garden), planted(lab.garden)
    lab.stop()
    shown = lab.start_by_command()
    assert "close with Ctrl-C here" in shown and not re.search(r"\[[IWE] |Traceback|Warning", shown)
    client = watched(open_notebook("07_client_copy"))
    words = read_offline(browser.new_page(), hand_over(client, lab.garden), "10_client_edition")
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
        said = read_offline(browser.new_page(), book, f"12_rendered_{book.stem}")
        assert "Traceback" not in said and "Error displaying" not in said
    drawn = PdfReader(next(path for path in written if path.name == "drawing_set.pdf"))
    assert len(drawn.pages) >= 8
    monkeypatch.setenv(AT_ONCE, "yes")  # the loop of the browser runs here: no work is left for later
    folder = tmp_path / "by script"
    begun = by_script.measure(folder, (TAPED, ROUND), FALL)
    by_script.plant(by_script.build(begun, PLACED, float(FALLS)), WANTS, BED, moved)
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
    (terrace,) = bones.levels
    assert (terrace.of, terrace.fall, terrace.edge) == (patio.name, float(FALLS), "bank")
    assert {tie.point for tie in site.survey.measures if hasattr(tie, "point")} >= set("CDE")
    walk, way = bones.paths
    assert len(walk.cut_stones) == 1 and (way.start, way.end) == ("gate", "patio")
    steepest = max(
        abs(b.height - a.height) / ((b.share - a.share) * garden.layout.routes[way.name].length)
        for a, b in pairwise(way.heights)
    )
    assert steepest <= 1 / 12 + 0.002
    counted = {line.where for line in garden.quantities}
    assert counted >= {patio.name, walk.name, way.name, *(thing.name for thing in bones.things)}
