"""What axe-core finds hard to use on a page in the browser."""

from importlib.resources import files

from playwright.sync_api import Page

# What axe-core calls a serious or critical fault of what we draw: cells, menus and rails are JupyterLab's own.
FAULTS = """async (within) => {
    const found = await axe.run({include: [[within]], exclude: [['.jp-InputArea']]}, {resultTypes: ['violations']});
    return found.violations.filter(one => ['serious', 'critical'].includes(one.impact))
        .flatMap(one => one.nodes.map(node => one.id + ': ' + node.html.slice(0, 200))) }"""


def faults(page: Page, within: str) -> list[str]:
    """Return what axe-core finds seriously hard to use there for somebody with a keyboard, a reader or weak eyes."""
    page.evaluate(files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8"))
    return page.evaluate(FAULTS, within)
