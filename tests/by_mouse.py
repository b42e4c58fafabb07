"""A designer's hand on a live plan in the browser: what to draw is chosen, plan points are clicked; a bare slider to
compare with.
"""

from waiting import wait_until

SPOT = """([x, y]) => { for (const doc of window.Bokeh?.documents ?? []) {
    const models = [...doc._all_models.values()];
    if (!models.some(m => m.name === 'clicked')) continue;
    const view = window.Bokeh.index.find_one(models.find(m => m.type === 'Figure'));
    const box = view.canvas_view.el.getBoundingClientRect();
    return [box.left + view.frame.x_scale.compute(x), box.top + view.frame.y_scale.compute(y)] } return null }"""


def begin(notebook, what: str, way: str = "") -> None:
    for name, label in (("draw", what), ("draw-way", way)):
        if label:
            notebook.page.locator(f".gk-choice-{name} select:visible").first.select_option(label=label)
            notebook.settle()


def into_view(notebook, x: float, y: float) -> list[float]:
    """Scroll until a plan point stands in the middle of the window; returns where it is, in pixels."""
    far = wait_until(lambda: notebook.page.evaluate(SPOT, [x, y]))[1] - 500  # a plan is drawn after its page
    notebook.page.evaluate("far => { document.querySelector('.jp-WindowedPanel-outer').scrollTop += far }", far)
    notebook.page.wait_for_timeout(300)
    return notebook.page.evaluate(SPOT, [x, y])


def click(notebook, x: float, y: float, *, double: bool = False) -> None:
    at = into_view(notebook, x, y)
    notebook.page.mouse.move(at[0] - 3, at[1] - 3)
    (notebook.page.mouse.dblclick if double else notebook.page.mouse.click)(*at)
    notebook.page.wait_for_timeout(450)  # two clicks within 0.3 s are a double click to Bokeh
    notebook.settle()


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
