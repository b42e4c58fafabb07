"""The notebooks of a garden, run and written as plain HTML files: offline, without code, to be read by anyone."""

import ast
import html
import re
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.handover.bundle import Document
from gardenkit.handover.contents import Contents
from gardenkit.handover.paper import Issue
from gardenkit.notebook import gardens
from gardenkit.notebook.controls import STYLE
from gardenkit.notebook.gardens import GARDEN_VARIABLE
from gardenkit.notebook.later import AT_ONCE
from gardenkit.progress import Tell
from gardenkit.storage import load
from gardenkit.storage.files import replace_safely

FOLDER = "notebooks"
FOR_US = "08_by_script"  # shows how to write a garden, not this one
_LIVE_VIEW = "application/vnd.jupyter.widget-view+json"
LONGEST_CELL = 900  # s one cell may take. House value.
# Words of a notebook that are for running it. They are paragraphs of their own.
_LIVE = re.compile(
    r"^\*?(?:After a restart|Run the cells|Click in|Drop pictures|Everything is saved|Move a slider|Nothing a search|"
    r"To begin|Type lengths|Write each|You can jump)(?:.|\n(?!\n))*\n?",
    re.M,
)
_CSS = (
    "body{font:16px/1.5 Georgia,serif;color:#222;max-width:1100px;margin:24px auto;padding:0 20px}"
    "nav{font-size:14px;border-bottom:1px solid #bbb;padding-bottom:8px}nav>*{margin-right:14px}nav a{color:#1d4d2b}"
    "svg,img{max-width:100%;max-height:1000px;width:auto;height:auto}"
    ".gk-scroll,.gk-still [style*=max-height]{max-height:none!important}"
    ".gk-cards{font-size:11px!important}.gk-cards td.gk-long{min-width:0!important}"
    "table{font-family:Helvetica,Arial,sans-serif}pre{white-space:pre-wrap}.anchor-link{display:none}"
    "@media print{nav{display:none}}"
)


@attrs.frozen(kw_only=True)
class Sheet:
    """One notebook: the name of its file, its title, and what it shows as HTML."""

    name: str
    title: str
    body: str


def for_bundle(folder: Path) -> Document:
    """Return the rendered notebooks of a garden as one of the documents of its bundle."""

    def document(told: Contents, to: Path, issue: Issue, tell: Tell) -> str:
        return ", ".join(path.name for path in write(folder, to, tell=tell))

    return FOLDER, "the workbook as it stands, to be read without it", document


def write(folder: Path, target: Path, *, tell: Tell | None = None) -> tuple[Path, ...]:
    """Run the notebooks of the workbook on a copy of a garden and write what each shows; returns the files.

    The garden itself is not changed. Raises GardenError for a notebook that cannot be run to its end.
    """
    name = load(folder).project.name
    sources = sorted(path for path in gardens.workbook_folder().glob("*.ipynb") if path.stem != FOR_US)
    with tempfile.TemporaryDirectory() as made:
        copy = Path(made) / "garden"
        gardens.copy_garden(folder, copy)
        sheets = []
        for number, source in enumerate(sources):
            if tell is not None:
                tell(number / len(sources), f"running {source.stem} ...")
            one = sheet(source.stem, _run(source, copy))
            sheets.append(attrs.evolve(one, body=one.body.replace(str(copy), html.escape(folder.resolve().name))))
    target.mkdir(parents=True, exist_ok=True)
    written = []
    for one in sheets:
        path = target / f"{one.name}.html"
        replace_safely(path, _document(one, sheets, garden=name).encode("utf-8"))
        written.append(path)
    return tuple(written)


def sheet(name: str, cells: list[Mapping[str, Any]]) -> Sheet:
    """Return what a notebook that was run shows: its words, and the plain form of every output, never its code."""
    from nbconvert.filters import markdown2html

    parts: list[str] = []
    title = name
    for cell in cells:
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            found = re.search(r"^# (.+)$", source, re.M)
            title = found[1] if found and title == name else title
            parts.append(str(markdown2html(_LIVE.sub("", source))))
        elif cell["cell_type"] == "code":
            parts += _shown_by(cell["outputs"])
    return Sheet(name=name, title=title, body="\n".join(parts))


def _shown_by(outputs: list[Mapping[str, Any]]) -> list[str]:
    """Return the plain forms of a cell's outputs; a live page gives way to its still picture."""
    told = [one for one in outputs if "application/javascript" not in one.get("data", {})]
    live = [one for one in told if _LIVE_VIEW in one.get("data", {})]
    kept = [one for one in told if one not in live] or live
    return [shown for one in kept if (shown := _shown(one))]


def _shown(output: Mapping[str, Any]) -> str:
    """Return the plain form of one output; a live view with nothing beside it is told by its words."""
    data = output.get("data", {})
    for kind in () if _LIVE_VIEW in data else ("text/html", "image/svg+xml"):
        if kind in data:
            return _one(data[kind])
    text = _one(data.get("text/plain", output.get("text", "")))
    if output.get("output_type") == "execute_result" and text[:1] in ("'", '"'):
        return f"<p>{html.escape(str(ast.literal_eval(text)))}</p>"  # a sentence, which Python shows in quotes
    return f"<pre>{html.escape(text)}</pre>" if text.strip() else ""


def _one(text: Any) -> str:
    return text if isinstance(text, str) else "".join(text)


def _run(source: Path, garden: Path) -> list[Mapping[str, Any]]:
    """Run a notebook on a garden in a kernel of its own and return its cells. Raises GardenError where one fails."""
    import nbformat
    from nbconvert.preprocessors import CellExecutionError, ExecutePreprocessor

    book = nbformat.reads(source.read_text(encoding="utf-8"), as_version=4)
    variables = {GARDEN_VARIABLE: str(garden), AT_ONCE: "1"}
    setting = nbformat.v4.new_code_cell(f"import os; os.environ.update({variables!r})")
    book.cells.insert(0, setting)
    quiet = ["--Application.log_level=ERROR"]
    runner = ExecutePreprocessor(timeout=LONGEST_CELL, kernel_name="python3", extra_arguments=quiet)
    try:
        runner.preprocess(book, {"metadata": {"path": str(garden)}})
    except CellExecutionError as error:
        said = str(error).strip().splitlines()[-1]
        raise GardenError(
            f"notebook {source.stem} does not run to its end: {said}; open it and run it there"
        ) from error
    return list(book.cells[1:])


def _document(one: Sheet, sheets: list[Sheet], *, garden: str) -> str:
    links = "".join(
        f"<b>{html.escape(s.title)}</b> " if s is one else f'<a href="{s.name}.html">{html.escape(s.title)}</a>'
        for s in sheets
    )
    title = html.escape(f"{garden}: {one.title}")
    return (
        f'<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{_CSS}</style>{STYLE}</head><body><nav>{links}</nav><main>{one.body}</main></body></html>"
    )
