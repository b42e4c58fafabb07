"""The live plan in real JupyterLab: a slider moves the stones, a drag moves the path, undo takes it back, all of it
saved.
"""

import json
import statistics
import time
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser


def saved(garden: Path) -> dict:
    return json.loads((garden / "garden.json").read_text(encoding="utf-8"))


def wait_until(check, seconds: float = 20.0):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = check()
        if found:
            return found
        time.sleep(0.05)
    raise AssertionError(f"did not happen within {seconds} s")


def stones_on_page(notebook) -> object:
    return notebook.column("ground_areas", "xs")


def nudge(notebook, name: str, key: str = "ArrowRight", times: int = 1) -> None:
    handle = notebook.page.locator(f".gk-slider-{name} .noUi-handle")
    handle.scroll_into_view_if_needed()
    handle.focus()
    for _ in range(times):
        handle.press(key)


def test_moving_the_bend_slider_moves_the_stones_on_the_page_and_in_the_saved_garden(open_notebook, lab) -> None:
    notebook = open_notebook("04_structure")
    notebook.run_all()
    notebook.page.wait_for_selector(".gk-slider-bend .noUi-handle")
    wait_until(lambda: stones_on_page(notebook))
    before, bend = stones_on_page(notebook), saved(lab.garden)["structure"]["paths"][0]["bend"]
    nudge(notebook, "bend", times=8)
    wait_until(lambda: stones_on_page(notebook) != before)
    wait_until(lambda: saved(lab.garden)["structure"]["paths"][0]["bend"] > bend + 0.05)
    assert "Traceback" not in notebook.text()
    assert "made a mistake" not in notebook.text()
    assert notebook.errors == []


def test_dragging_a_path_point_reaches_the_kernel_and_undo_takes_it_back(open_notebook, lab) -> None:
    notebook = open_notebook("04_structure")
    notebook.run_all()
    notebook.page.wait_for_selector(".gk-slider-bend .noUi-handle")
    wait_until(lambda: notebook.column("handles", "x"))
    assert saved(lab.garden)["structure"]["paths"][0]["held"] == []
    spot = place_of_handle(notebook, 1)
    notebook.page.mouse.move(*spot)
    notebook.page.mouse.down()
    notebook.page.mouse.move(spot[0] - 15, spot[1], steps=4)
    notebook.page.mouse.move(spot[0] - 30, spot[1] + 4, steps=4)
    notebook.page.mouse.up()
    held = wait_until(lambda: saved(lab.garden)["structure"]["paths"][0]["held"])
    assert len(held) == 1
    wait_until(lambda: len(notebook.column("handles", "id")) == 4)  # the held point and three free ones
    undo = notebook.page.locator(".gk-button-undo").first
    undo.scroll_into_view_if_needed()
    undo.click()
    wait_until(lambda: saved(lab.garden)["structure"]["paths"][0]["held"] == [])
    wait_until(lambda: len(notebook.column("handles", "id")) == 3)
    assert "made a mistake" not in notebook.text()


def place_of_handle(notebook, index: int) -> tuple[float, float]:
    """Where on the page a handle of the plan is, in pixels."""
    figure = notebook.page.locator(".bk-Figure").first
    figure.scroll_into_view_if_needed()
    notebook.page.wait_for_timeout(500)
    found = notebook.page.evaluate(
        """(index) => { for (const doc of window.Bokeh.documents) for (const model of doc._all_models.values())
           if (model.type === 'Figure') { const view = window.Bokeh.index.find_one(model);
             const source = [...doc._all_models.values()].find(m => m.type === 'ColumnDataSource' && m.name ===
             'handles');
             const box = view.canvas_view.el.getBoundingClientRect();
             const x = view.frame.x_scale.compute(source.data.x[index]), y =
             view.frame.y_scale.compute(source.data.y[index]);
             return [box.left + x, box.top + y] } }""",
        index,
    )
    assert found, "the plan has no handle to drag"
    return tuple(found)


def test_a_slider_redraws_in_at_most_three_echo_times(open_notebook, lab) -> None:
    """Round trip of the bend slider to a redrawn plan against one that only echoes its value, in one run."""
    notebook = open_notebook("04_structure")
    notebook.run_all()
    notebook.page.wait_for_selector(".gk-slider-bend .noUi-handle")
    wait_until(lambda: stones_on_page(notebook))
    probe = """(name) => new Promise(done => {
        const handle = document.querySelector('.gk-slider-' + name + ' .noUi-handle');
        const begun = performance.now();
        const target = name === 'bend' ? 'plan' : 'echo';
        if (target === 'plan') {
            for (const doc of window.Bokeh.documents) for (const model of doc._all_models.values())
                if (model.type === 'ColumnDataSource' && model.name === 'ground_areas') {
                    const seen = () => { model.properties.data.change.disconnect(seen);
                        requestAnimationFrame(() => setTimeout(() => done(performance.now() - begun), 0)) };
                    model.properties.data.change.connect(seen); }
        } else {
            const words = document.querySelector('.gk-echo');
            const watch = new MutationObserver(() => { watch.disconnect();
                requestAnimationFrame(() => setTimeout(() => done(performance.now() - begun), 0)) });
            watch.observe(words, {subtree: true, childList: true, characterData: true});
        }
        handle.focus();
        handle.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowRight', code: 'ArrowRight', keyCode: 39,
        bubbles: true}));
    })"""
    times: dict[str, list[float]] = {"bend": [], "echo": []}
    add_echo(notebook)
    for _ in range(12):
        for name, taken in times.items():
            taken.append(notebook.page.evaluate(probe, name))
            notebook.page.wait_for_timeout(150)
    plan, echo = statistics.median(times["bend"]), statistics.median(times["echo"])
    print(f"\nslider to redraw {plan:.0f} ms, bare echo {echo:.0f} ms, ratio {plan / echo:.2f}")
    assert plan <= 3 * echo


def add_echo(notebook) -> None:
    """Run a cell with a slider that only shows its value back."""
    code = (
        "import ipywidgets as w\n"
        "bar, words = w.FloatSlider(min=0, max=1, step=0.01), w.HTML('0')\n"
        "bar.add_class('gk-slider-echo'); words.add_class('gk-echo')\n"
        "bar.observe(lambda change: setattr(words, 'value', str(change['new'])), 'value')\n"
        "w.VBox([bar, words])"
    )
    page = notebook.page
    page.locator(".jp-CodeCell").last.click()
    page.keyboard.press("Escape")
    page.keyboard.press("b")
    page.keyboard.press("Enter")
    page.keyboard.insert_text(code)
    page.keyboard.press("Shift+Enter")
    page.wait_for_selector(".gk-slider-echo .noUi-handle", timeout=30_000)
    page.wait_for_timeout(500)
