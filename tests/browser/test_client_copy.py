"""The client copy in a real browser with the network cut off: it asks for nothing, and its sliders change the plan."""

from pathlib import Path

import pytest
from accessible import faults
from hostile import HOSTILE, garden_of
from playwright.sync_api import Browser, Page, expect
from pypdf import PageObject, PdfReader
from waiting import wait_until

from gardenkit import storage
from gardenkit.drawing import film
from gardenkit.drawing.garden import garden_scene
from gardenkit.drawing.svg import svg
from gardenkit.garden import Garden
from gardenkit.handover import booklet, options
from gardenkit.handover.contents import Contents, contents
from gardenkit.handover.filmed import films
from gardenkit.handover.printed import EDGES
from gardenkit.notebook import workbook
from gardenkit.notebook.jobs import AT_ONCE
from gardenkit.notebook.session import Session

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "fennel_street_corner"
pytestmark = pytest.mark.browser
FIND = "const found = Bokeh.documents.map(d => d.get_model_by_name(name)).find(m => m);"
PLAIN = "JSON.parse(JSON.stringify(found.data, (k, v) => ArrayBuffer.isView(v) ? Array.from(v) : v))"
DATA = f"(name) => {{ {FIND} return {PLAIN}; }}"
SET = f"([name, value]) => {{ {FIND} found.value = value; }}"
VALUE = f"(name) => {{ {FIND} return found.value; }}"
SCALES = f"""(name) => {{ {FIND} const x = found.x_range, y = found.y_range;
  return [found.frame_width / (x.end - x.start), found.frame_height / (y.end - y.start)]; }}"""


class Opened:
    """The page, what it asked for and what went wrong on it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.asked: list[str] = []
        self.wrong: list[str] = []
        page.on("request", lambda r: self.asked.append(r.url) if not r.url.startswith(("file:", "data:")) else None)
        page.on("pageerror", lambda error: self.wrong.append(str(error)))
        page.on("console", lambda said: self.wrong.append(said.text) if said.type == "error" else None)
        page.on("dialog", lambda box: (self.wrong.append(f"dialog: {box.message}"), box.dismiss()))

    def data(self, name: str) -> dict:
        return self.page.evaluate(DATA, name)

    def faults(self) -> list[str]:
        return faults(self.page, "body")

    def set(self, name: str, value: int) -> None:
        self.page.evaluate(SET, [name, value])


@pytest.fixture(scope="module")
def told() -> Contents:
    return contents(Garden(storage.load(EXAMPLE).project, EXAMPLE))


@pytest.fixture(scope="module")
def copy_file(tmp_path_factory, told: Contents) -> Path:
    target = tmp_path_factory.mktemp("copy") / "client_copy.html"
    with pytest.MonkeyPatch.context() as patch:  # films of a few frames: how many is tested in tests/handover
        patch.setattr(film, "LAST_YEAR", 1)
        patch.setattr(film, "ROUND", (1, 6, 9))
        patch.setattr(film, "MOST_STEPS", 3)
        target.write_text(booklet.page(told, edition="office", films=films(told)), encoding="utf-8")
    return target


@pytest.fixture
def opened(browser: Browser, copy_file: Path):
    context = browser.new_context(offline=True, viewport={"width": 1200, "height": 900})
    made = Opened(context.new_page())
    made.page.goto(copy_file.as_uri())
    made.page.wait_for_function("document.documentElement.dataset.ready === 'yes'", timeout=30_000)
    yield made
    context.close()


def test_it_opens_offline_asks_for_nothing_and_nothing_goes_wrong(opened):
    opened.page.wait_for_timeout(500)
    assert opened.asked == []
    assert opened.wrong == []
    assert opened.page.locator("#live-plan canvas").count() >= 1


def test_dragging_the_month_slider_changes_leaves_and_flowers_on_the_plan(opened):
    june, words = opened.data("low_plants"), opened.page.inner_text("#live-words")
    in_june = len(opened.data("low_flowers")["x"])
    assert len(june["xs"]) > 50
    assert "June" in words
    handle = opened.page.locator(".sliders .noUi-handle").first
    handle.scroll_into_view_if_needed()
    handle.focus()
    for _ in range(5):
        opened.page.keyboard.press("ArrowLeft")
    opened.page.wait_for_function("document.getElementById('live-words').textContent.startsWith('January')")
    january = opened.data("low_plants")
    assert january["fill"] != june["fill"]
    assert len(january["xs"]) == len(june["xs"])
    assert len(opened.data("low_flowers")["x"]) < 0.2 * in_june  # only the winter heath is in flower
    assert opened.page.evaluate(VALUE, "month") == 1
    assert opened.wrong == []


def test_a_tree_that_stays_is_bare_in_winter(opened):
    shown = """() => Bokeh.documents.map(d => d.get_model_by_name('plan')).find(m => m).renderers
      .filter(r => r.visible).map(r => r.id).join()"""
    june = opened.page.evaluate(shown)
    opened.set("month", 1)
    january = opened.page.evaluate(shown)
    assert january != june
    opened.set("month", 6)
    assert opened.page.evaluate(shown) == june


def test_nothing_of_it_is_seriously_hard_to_use_and_each_slider_has_a_name(opened):
    wait_until(lambda: opened.page.locator(".noUi-handle[aria-label]").count() == 3)
    found = [handle.get_attribute("aria-label") for handle in opened.page.locator(".noUi-handle").all()]
    assert found == ["Month", "Years after planting", "Month of the sun map"]
    assert opened.faults() == []


def test_the_year_slider_makes_the_plants_grow(opened):
    def widths(data):
        return [max(xs) - min(xs) for xs in data["xs"]]

    opened.set("year", 0)
    young = widths(opened.data("canopy_plants"))
    opened.set("year", 15)
    old = widths(opened.data("canopy_plants"))
    assert len(young) == len(old) > 0
    assert all(b > 1.3 * a for a, b in zip(young, old, strict=True))
    assert "year 15" in opened.page.inner_text("#live-words")


def test_the_sun_map_follows_the_month_of_either_slider(opened):
    june = opened.data("sun_shown")["image"]
    opened.set("month", 12)
    assert opened.page.evaluate(VALUE, "sun_month") == 12
    december = opened.data("sun_shown")["image"]
    assert december != june
    opened.set("sun_month", 6)
    assert opened.page.evaluate(VALUE, "month") == 6
    assert opened.data("sun_shown")["image"] == june


def test_the_films_play_pause_and_go_on_offline(opened):
    films = opened.page.locator(".film")
    assert films.count() == 3  # the years, the round of a year, a walk
    for number in range(3):
        shown = films.nth(number)
        image, button, bar, words = (shown.locator(name) for name in ("img", "button", "input", "output"))
        shown.scroll_into_view_if_needed()
        first = (image.get_attribute("src"), words.inner_text())
        assert image.evaluate("e => e.decode().then(() => e.naturalWidth)") > 0
        button.click()
        expect(button).to_have_text("Pause")
        expect(words).not_to_have_text(first[1])
        button.click()
        expect(button).to_have_text("Play")
        stood = (image.get_attribute("src"), words.inner_text(), bar.input_value())
        assert (stood[0] != first[0], int(stood[2]) > 0) == (True, True)
        opened.page.wait_for_timeout(500)  # longer than a frame stays
        assert (image.get_attribute("src"), words.inner_text(), bar.input_value()) == stood
        last = bar.get_attribute("max")
        bar.fill(last)
        button.click()  # at the end it begins again
        expect(button).to_have_text("Pause")
        assert int(bar.input_value()) < int(last)
    assert (opened.asked, opened.wrong) == ([], [])


def test_it_fits_a_phone(opened):
    opened.page.set_viewport_size({"width": 380, "height": 800})
    opened.page.wait_for_timeout(600)
    wide = opened.page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    assert wide[0] <= wide[1]
    plot = opened.page.locator("#live-plan .bk-Figure").bounding_box()
    assert plot is not None
    assert plot["width"] <= 380


def test_a_circle_on_the_plan_is_a_circle_at_every_width(opened):
    for width in (1200, 700, 380):
        opened.page.set_viewport_size({"width": width, "height": 800})
        opened.page.wait_for_timeout(400)
        across, up = opened.page.evaluate(SCALES, "plan")
        assert across == pytest.approx(up, rel=0.004)


def test_in_print_the_sliders_are_gone_and_the_plan_stays(opened):
    opened.page.emulate_media(media="print")
    assert not opened.page.locator(".sliders").first.is_visible()
    assert not opened.page.locator("#live-plan").is_visible()
    assert opened.page.locator("#plan svg").first.is_visible()
    opened.page.set_viewport_size({"width": 702, "height": 900})  # as wide as letter paper between its edges
    assert opened.page.locator(".cover").evaluate("e => e.scrollHeight <= e.clientHeight")
    assert opened.page.locator(".cover .best svg").bounding_box()["height"] > 200


def test_no_printed_page_of_the_client_edition_is_half_bare_but_the_last(browser, told, tmp_path):
    target, paper = tmp_path / "client.html", tmp_path / "client.pdf"
    target.write_text(booklet.page(told), encoding="utf-8")
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.goto(target.as_uri())
    page.pdf(path=paper, prefer_css_page_size=True)
    page.set_viewport_size({"width": 390, "height": 800})
    moved = "() => [...document.querySelectorAll('.wide')].filter(e => e.scrollWidth > e.clientWidth + 1).length"
    assert page.locator(".wide").count() and page.evaluate(moved) == 0  # on a phone no table is moved sideways
    context.close()
    filled = [_filled(page) for page in PdfReader(paper).pages]
    assert 8 <= len(filled) <= 26
    assert min(filled[:-1]) >= 0.5


def _filled(page: PageObject) -> float:
    """Return how far down its page the last words stand, as a share of what lies between its edges."""
    low = []

    def take(text: str, drawn: list[float], set_at: list[float], *_: object) -> None:
        if text.strip():
            low.append(set_at[4] * drawn[1] + set_at[5] * drawn[3] + drawn[5])

    page.extract_text(visitor_text=take)
    high, edge = float(page.mediabox.height), EDGES / 2 / 25.4 * 72
    return (high - edge - min(low, default=high - edge)) / (high - 2 * edge)


def test_no_name_of_a_garden_runs_in_any_page_or_drawing(browser, tmp_path, monkeypatch):
    """Both editions, the options side by side, what a notebook shows, and the plan, of a garden of hostile names."""
    monkeypatch.setenv(AT_ONCE, "yes")
    garden = garden_of(HOSTILE, tmp_path / "garden")
    made = {name: tmp_path / f"{name}.html" for name in ("client", "office", "options", "notebook")}
    for edition in ("client", "office"):
        booklet.write(garden, made[edition], edition=edition, with_sun=False)
    options.write(garden, made["options"])
    shown = [workbook.page(Session(garden.folder), name).still() for name in ("ground", "paths", "layering", "care")]
    made["notebook"].write_text(f"<!DOCTYPE html><meta charset='utf-8'>{''.join(shown)}", encoding="utf-8")
    made["plan"] = tmp_path / "plan.svg"
    made["plan"].write_text(svg(garden_scene(garden.project, garden.layout, garden.catalogue)), encoding="utf-8")
    context = browser.new_context(offline=True)
    for name, path in made.items():
        opened, asked_by_a_name = Opened(context.new_page()), []
        opened.page.on("dialog", lambda dialog, said=asked_by_a_name: (said.append(dialog.message), dialog.dismiss()))
        opened.page.goto(path.as_uri())
        if name in ("client", "office"):
            opened.page.wait_for_function("document.documentElement.dataset.ready === 'yes'", timeout=30_000)
        opened.page.wait_for_load_state("load")
        assert (name, opened.wrong, opened.asked, asked_by_a_name) == (name, [], [], [])
        opened.page.close()
    context.close()
