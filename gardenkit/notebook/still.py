"""What a page shows as plain HTML without its controls: kept in a saved notebook beside the live page, and rendered."""

import html
import re
from collections.abc import Iterator

import ipywidgets as w

from gardenkit.notebook.board import Board
from gardenkit.notebook.controls import HEADING, STYLE, Labelled

CLASS = "gk-still"  # hidden where a live page stands: a reopened notebook that was not run shows it
# The names of a drawing's title and description. The live page beside has the same drawings: no name may stand twice.
NAMED = re.compile(r'(\bid="|aria-labelledby="|(?<=aria-labelledby="[dk].{11}) )d([0-9a-f]{10}[td])')
# What a sentence begins with that tells a hand what to do: nobody can, where nothing runs.
_VERBS = "add|choose|click|drag|drop|give|keep|kept in|look|mark|name|say|type|write"
_BY_HAND = re.compile(rf"(?:or )?(?:{_VERBS})\b", re.I)
_THEN_BY_HAND = re.compile(rf": (?:{_VERBS})\b[^.!?]*")  # after what is so
_SENTENCES = re.compile(r"(?<=[.!?]) (?=[A-Z])")
_LABEL = re.compile(r'<div class="gk-label">([^<]*)</div>')
LONGEST = 3_000_000  # letters of a page kept in a notebook; a larger one keeps its words only. House value.


def still(page: w.Widget, drawing: str) -> str:
    """Return what a widget tree shows: its HTML as it stands, the first live plan as ``drawing`` (an SVG); fields,
    lists, buttons and what is hidden are left out.
    """
    parts = list(_parts(page, iter([drawing])))
    if drawing and drawing not in "".join(parts):
        parts.insert(0, drawing)
    made = NAMED.sub(r"\1k\2", "\n".join(part for part in parts if part.strip() and part != STYLE))
    return f'<div class="{CLASS}">{made}</div>' if made else ""


def to_read(text: str) -> str:
    """Return sentences without those that tell a hand what to do on a page that runs."""
    told = (one for one in _SENTENCES.split(text) if not _BY_HAND.match(one))
    return " ".join(_THEN_BY_HAND.sub("", one) for one in told)


def _told(label: re.Match[str]) -> str:
    words = to_read(label[1])
    return f'<div class="gk-label">{words}</div>' if words else ""


def _box(box: w.Box, drawings: Iterator[str]) -> Iterator[str]:
    """Yield what a box shows: the plan of a page before its panel, the lines of advice as a list."""
    if "gk-advice" in box._dom_classes:
        lines = "".join(f"<li>{html.escape(line.description)}</li>" for line in box.children)
        yield f"<ul>{lines}</ul>" if lines else ""
        return
    for child in reversed(box.children) if "gk-work" in box._dom_classes else box.children:
        yield from _parts(child, drawings)


def _parts(widget: w.Widget, drawings: Iterator[str]) -> Iterator[str]:
    if getattr(widget.layout, "display", None) == "none" or isinstance(widget, Labelled):
        return
    if isinstance(widget, Board):
        yield next(drawings, "")
    elif isinstance(widget, w.HTML):
        yield "" if HEADING in widget.value else _LABEL.sub(_told, widget.value)
    elif isinstance(widget, w.Box):
        yield from _box(widget, drawings)
    elif isinstance(widget, w.Accordion):
        for number, child in enumerate(widget.children):
            shown = [part for part in _parts(child, drawings) if part.strip()]
            yield from ([f"<h4>{widget.get_title(number)}</h4>", *shown] if shown else ())
