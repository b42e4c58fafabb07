"""Every word a garden shows: on the pages of the workbook with their live plans, and in every document."""

import csv
import html
import io
import json
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import attrs
import ezdxf
import ipywidgets as w
import numpy as np
from icalendar import Calendar
from openpyxl import load_workbook
from pypdf import PdfReader

from gardenkit.handover import bundle
from gardenkit.handover.contents import Contents
from gardenkit.handover.paper import Issue
from gardenkit.notebook.board import Board
from gardenkit.notebook.page import Page
from gardenkit.progress import quiet

SAID_BY = ("value", "description", "tooltip", "placeholder", "title")  # traits people read
TAGS = re.compile(
    r"<style.*?</style>|<script.*?</script>|<br ?/?>|</?(?:p|div|li|td|th|tr|h\d|text|tspan|option)\b[^>]*>", re.S
)


@attrs.frozen
class Shown:
    """One piece of text and where it stands; ``column`` is the head of the column of a table it stands under."""

    where: str
    text: str
    column: str = ""


def on_page(page: Page, name: str) -> Iterator[Shown]:
    """Yield every text of a page: widgets, choices, tips, what the live plan says, its drawing in words."""
    for text in _of_widget(page.widget, set()):
        yield from _cut(name, text)
    yield from _cut(name, page.summary())
    scene = page.scene()
    if scene is not None:
        for text in (scene.title, scene.description, *(getattr(m, "tip", "") or "" for m in scene.marks)):
            yield Shown(name, text)
        for mark in scene.marks:
            if hasattr(mark, "text"):
                yield Shown(name, mark.text)


def in_documents(told: Contents, folder: Path) -> Iterator[Shown]:
    """Write every document of a garden into ``folder`` and yield every text in them."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, words, write in bundle.documents_of(told.garden):
        target = folder / name
        yield Shown(name, words)
        write(told, target, Issue(), quiet)
        for path in sorted(target.iterdir()) if target.is_dir() else [target]:
            yield from READERS[path.suffix](path)


# ---- widgets


def _of_widget(widget: w.Widget, seen: set[int]) -> Iterator[str]:
    if id(widget) in seen:
        return
    seen.add(id(widget))
    for trait in SAID_BY:
        chosen = trait == "value" and hasattr(widget, "options")  # its words are one of the options
        said = None if chosen else getattr(widget, trait, None)
        if isinstance(said, str) and said:
            yield said
    yield from (str(title) for title in getattr(widget, "titles", ()) or ())
    for option in getattr(widget, "options", ()) or ():
        yield str(option[0] if isinstance(option, tuple) else option)
    if isinstance(widget, Board):
        yield from _of_plan(widget)
    for child in getattr(widget, "children", ()) or ():
        if isinstance(child, w.Widget):
            yield from _of_widget(child, seen)


def _of_plan(board: Any) -> Iterator[str]:
    """Yield the texts of a live plan: titles, axes, ticks, legends, hover words and the words in its sources."""
    for model in board.figure.references():
        for name, value in model.properties_with_values(include_defaults=False).items():
            if name == "data":
                for column, cells in value.items():
                    if "colo" not in column:
                        yield from _strings(list(cells))
            elif name in (
                "text",
                "title",
                "axis_label",
                "tooltips",
                "description",
                "label",
                "major_label_overrides",
                "factors",
            ):
                yield from _strings(value)


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from _strings(list(value.values()))
    elif isinstance(value, list | tuple) or (isinstance(value, np.ndarray) and value.dtype.kind in "OU"):
        for one in value:
            yield from _strings(one)


# ---- documents


def _html(path: Path) -> Iterator[Shown]:
    text = path.read_text(encoding="utf-8")
    yield from _cut(path.name, re.sub(r"<script.*?</script>", "", text, flags=re.S))
    for data in re.findall(r"<script[^>]*application/json[^>]*>(.*?)</script>", text, re.S):
        for said in _strings(json.loads(data)):
            if " " in said:
                yield from _cut(path.name, said)


def _pdf(path: Path) -> Iterator[Shown]:
    reader = PdfReader(path)
    about = reader.metadata or {}
    yield from (Shown(path.name, str(about[key])) for key in ("/Title", "/Subject", "/Author") if key in about)
    for sheet in reader.pages:
        yield from (Shown(path.name, line.strip()) for line in sheet.extract_text().splitlines())


def _csv(path: Path) -> Iterator[Shown]:
    heads, *rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline=""))
    yield from _table(path.name, heads, rows)


def _xlsx(path: Path) -> Iterator[Shown]:
    for sheet in load_workbook(path).worksheets:
        heads, *rows = sheet.iter_rows(values_only=True)
        yield from _table(f"{path.name} {sheet.title}", [str(h) for h in heads], rows)


def _table(where: str, heads: list[str], rows: Iterable[Iterable[object]]) -> Iterator[Shown]:
    yield from (Shown(where, head, "heads") for head in heads)
    for row in rows:
        yield from (
            Shown(where, str(cell), head) for head, cell in zip(heads, row, strict=True) if isinstance(cell, str)
        )


def _ics(path: Path) -> Iterator[Shown]:
    for event in Calendar.from_ical(path.read_bytes()).walk("VEVENT"):
        for line in (str(event["summary"]), *str(event.get("description", "")).splitlines()):
            yield Shown(path.name, line)


def _dxf(path: Path) -> Iterator[Shown]:
    for text in ezdxf.readfile(path).modelspace().query("TEXT"):
        yield Shown(path.name, text.dxf.text)


def _geojson(path: Path) -> Iterator[Shown]:
    for feature in json.loads(path.read_text(encoding="utf-8"))["features"]:
        for value in feature["properties"].values():
            if isinstance(value, str):
                yield Shown(path.name, value)


def _cut(where: str, text: str) -> Iterator[Shown]:
    """Yield the sentences between the tags of HTML, or the lines of plain text."""
    for said in re.findall(r'(?:title|alt|aria-label)="([^"]*)"', text):
        yield Shown(where, html.unescape(said))
    for piece in re.sub(r"<[^>]+>", " ", TAGS.sub("\n", text)).splitlines():
        if piece.strip():
            yield Shown(where, html.unescape(piece).strip())


READERS = {
    ".html": _html,
    ".svg": _html,
    ".pdf": _pdf,
    ".csv": _csv,
    ".xlsx": _xlsx,
    ".ics": _ics,
    ".dxf": _dxf,
    ".geojson": _geojson,
}
