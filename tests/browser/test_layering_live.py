"""The planting in real JupyterLab: a month shows other flowers, a drag is saved and undone, a search can be stopped."""

import json
from pathlib import Path

import pytest
from waiting import wait_until

pytestmark = pytest.mark.browser


# Look closer, and count the pixels of what stands on the ground that are painted within the frame, and beside it.
INKED = """async () => {
    const plot = window.Bokeh.documents.flatMap((doc) => doc.roots()).find((one) => one.type === 'Figure');
    const view = window.Bokeh.index.find_one(plot), { x_range: x, y_range: y } = plot;
    const { canvas, bbox } = view.canvas_view.overlays, one = canvas.width / bbox.width, frame = view.frame.bbox;
    const inked = (...box) => canvas.getContext('2d').getImageData(...box.map((far) => Math.round(far * one)))
        .data.filter((value, n) => n % 4 === 3 && value > 0).length;
    const beside = () => inked(0, 0, Math.floor(frame.left), bbox.height), before = beside();
    const painted = new Promise((done) => view.repainted.connect(done));
    for (const range of [x, y]) {
        const third = (range.end - range.start) / 3;
        range.setv({ start: range.start + third, end: range.end - third });
    }
    await painted;
    return [inked(frame.left, frame.top, frame.width, frame.height), before + beside()];
}"""


def plants(garden: Path) -> dict[int, list[float]]:
    saved = json.loads((garden / "garden.json").read_text(encoding="utf-8"))
    return {plant["number"]: plant["at"] for plant in saved["planting"]["plants"]}


def press(notebook, name: str) -> None:
    button = notebook.page.locator(f".gk-button-{name}").first
    button.scroll_into_view_if_needed()
    button.click()


def test_a_month_shows_other_plants_and_a_dragged_plant_is_saved_until_undone(open_notebook, lab) -> None:
    notebook = open_notebook("05_layering")
    notebook.run_all()
    page = notebook.page
    page.wait_for_selector(".gk-slider-month .noUi-handle")
    june = wait_until(lambda: notebook.column("planting_dots", "x"))
    month = page.locator(".gk-slider-month .noUi-handle").first
    month.scroll_into_view_if_needed()
    month.focus()
    for _ in range(3):
        month.press("ArrowRight")
    wait_until(lambda: notebook.column("planting_dots", "x") != june)
    wait_until(lambda: "Month: September" in notebook.text())
    assert notebook.faults() == []
    before = plants(lab.garden)
    page.locator(".gk-tick-handles input").first.check()
    wait_until(lambda: len(notebook.column("handles", "id")) > 100)
    page.locator(".gk-tick-handles input").first.uncheck()
    wait_until(lambda: notebook.column("handles", "id") == [])
    number, spot = a_plant_on_the_page(notebook, before)
    page.mouse.move(spot[0] - 2, spot[1] - 2)
    wait_until(lambda: page.locator(".bk-Tooltip:visible").count())  # said of what the pointer rests on
    page.mouse.click(*spot)
    wait_until(lambda: notebook.column("handles", "id") == [str(number)])  # chosen: the one with a handle
    chosen = page.locator(".gk-choice-plant select").evaluate("s => s.selectedOptions[0].text")
    assert chosen.split()[0] == str(number)
    middle = sum(x for x, _ in before.values()) / len(before)
    inwards = 1 if before[number][0] < middle else -1  # outwards it might leave the plot, which is refused
    said = notebook.drag_handle(str(number), (25 * inwards, 3), off_first=True)
    assert said[0] == "not here: off the plot" and any(" to edge of the plot" in one for one in said)
    moved = wait_until(lambda: {n: at for n, at in plants(lab.garden).items() if at != before[n]})
    assert list(moved) == [number]
    assert (moved[number][0] - before[number][0]) * inwards > 0.1
    press(notebook, "undo")
    wait_until(lambda: plants(lab.garden) == before)
    notebook.step("Composing the beds")
    press(notebook, "arrange")
    page.wait_for_selector(".gk-button-stop-arrange:not([disabled])")
    page.locator(".gk-button-stop-arrange").click()
    wait_until(lambda: "nothing is saved before you use one" in notebook.text())
    assert plants(lab.garden) == before
    assert "made a mistake" not in notebook.text()
    assert "Traceback" not in notebook.text()
    assert notebook.errors == []
    notebook.step("The planting plan")
    page.set_viewport_size({"width": 820, "height": 1000})
    page.wait_for_function(  # laid out for the narrow window, and the plan there again after the step without it
        """() => document.querySelector('.gk-desk').getBoundingClientRect().width < 820
             && document.querySelector('.gk-desk-plan').getBoundingClientRect().width > 0"""
    )
    desk, plan, step = page.evaluate(
        """() => ['desk', 'desk-plan', 'desk-step'].map(name => {
             const box = document.querySelector('.gk-' + name).getBoundingClientRect();
             return [box.left, box.top, box.width, box.bottom] })"""
    )
    assert plan[2] > 0.95 * desk[2]  # above its controls, not a strip beside them
    assert plan[3] <= step[1] + 1 and step[3] <= desk[3] + 1
    inside, outside = page.evaluate(INKED)
    assert inside > 1000 and outside == 0


def a_plant_on_the_page(notebook, known: dict[int, list[float]]) -> tuple[int, tuple[float, float]]:
    """A plant well inside the window and far from others, and where on the page it is, in pixels."""
    figure = notebook.page.locator(".bk-Figure").first
    notebook.settle()
    figure.scroll_into_view_if_needed()
    notebook.page.wait_for_timeout(500)
    box = figure.bounding_box()
    assert box is not None
    frame = notebook.page.evaluate(
        """() => {
             const plot = [...window.Bokeh.documents].flatMap(d => [...d._all_models.values()])
               .find(m => m.type === 'Figure');
             const view = window.Bokeh.index.find_one(plot);
             const inner = view.frame.bbox;
             return [inner.left, inner.top, inner.width, inner.height,
                     plot.x_range.start, plot.x_range.end, plot.y_range.start, plot.y_range.end] }"""
    )
    left, top, wide, high, x0, x1, y0, y1 = frame

    def pixel(at: list[float]) -> tuple[float, float]:
        x = box["x"] + left + (at[0] - x0) / (x1 - x0) * wide
        return x, box["y"] + top + (y1 - at[1]) / (y1 - y0) * high

    def lonely(at: list[float]) -> float:
        return min((at[0] - b[0]) ** 2 + (at[1] - b[1]) ** 2 for b in known.values() if b != at)

    seen = [n for n in known if 160 < pixel(known[n])[1] < 900]
    number = max(seen, key=lambda n: lonely(known[n]))
    return number, pixel(known[number])
