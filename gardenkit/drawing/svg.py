"""A drawing as SVG: for the client copy, for print, and for readers who need the picture described."""

import base64
import hashlib
from collections.abc import Iterable, Sequence
from functools import cache
from itertools import groupby, pairwise
from xml.sax.saxutils import escape, quoteattr

from gardenkit.drawing import style
from gardenkit.drawing.scene import (
    Area,
    Disc,
    Dots,
    Hatch,
    Label,
    Mark,
    Picture,
    Plain,
    Scene,
    Stroke,
    Symbol,
    layered,
    on_paper,
)
from gardenkit.geometry.plane import Point

BASELINE = 0.36  # of the letter size: from the middle of a line of text down to its baseline (Helvetica capitals)


def svg(scene: Scene, *, exact: bool = False, css_class: str = "") -> str:
    """Return a scene as one SVG element.

    As wide as the page by default; ``exact`` gives its true size in millimetres, for printing to scale. All text is
    escaped.
    """
    paper = _Paper(scene)
    mark_id = "d" + hashlib.sha256(repr((scene.title, scene.description, scene.bounds)).encode()).hexdigest()[:10]
    size = f'width="{paper.wide:.2f}mm" height="{paper.high:.2f}mm"' if exact else 'width="100%"'
    held = f" class={quoteattr(css_class)}" if css_class else ""
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {_n(paper.wide)} {_n(paper.high)}" role="img" '
        f'aria-labelledby="{mark_id}t {mark_id}d" preserveAspectRatio="xMidYMid meet" '
        f'font-family="{style.SANS}" stroke-linejoin="round" stroke-linecap="round"{held}>'
        f'<title id="{mark_id}t">{_text(scene.title)}</title><desc id="{mark_id}d">{_text(scene.description)}</desc>'
    )
    ground = f'<rect width="{_n(paper.wide)}" height="{_n(paper.high)}" fill="{scene.paper}"/>' if scene.paper else ""
    return f"{head}{ground}{''.join(_layers(scene.marks, paper))}</svg>"


class _Paper:
    """Where plan metres land on the sheet, in millimetres from its upper left corner."""

    def __init__(self, scene: Scene) -> None:
        self.scale = scene.scale
        self.left, low, right, self.top = scene.bounds
        self.hundredths = 100 * on_paper(1.0, scene.scale)  # to a metre
        self.wide = on_paper(right - self.left, scene.scale)
        self.high = on_paper(self.top - low, scene.scale)

    def mm(self, metres: float) -> float:
        return on_paper(metres, self.scale)

    def spots(self, points: Sequence[Point]) -> list[tuple[int, int]]:
        """Return places in hundredths of a millimetre."""
        left, top, each = self.left, self.top, self.hundredths  # a plan has a hundred thousand of them
        return [(round(each * (x - left)), round(each * (top - y))) for x, y in points]

    def run(self, points: Sequence[Point], *, closed: bool) -> str:
        """Return a line as a path: its first point, then the step to each next one, which is written much shorter."""
        spots = self.spots(points)
        steps = [_pair(x - u, y - v) for (u, v), (x, y) in pairwise(spots)]
        return f"M{_pair(*spots[0])}{'l' if steps else ''}{_spaced(steps)}{'Z' if closed else ''}"

    def pricks(self, points: Sequence[Point]) -> str:
        """Return a path that a round pen draws as one dot a point."""
        x, y, path = 0, 0, []
        for u, v in self.spots(points):
            path.append(f"m{_pair(u - x, v - y)}h.01")
            x, y = u + 1, v
        return "".join(path)


def _layers(marks: Iterable[Mark], paper: _Paper) -> Iterable[str]:
    for layer, group in groupby(layered(marks), key=lambda mark: mark.layer):
        yield f'<g class="{layer}">' + "".join(_mark(mark, paper) for mark in group) + "</g>"


def _mark(mark: Mark, paper: _Paper) -> str:
    if isinstance(mark, Symbol):
        tip = f"<title>{_text(mark.tip)}</title>" if mark.tip else ""
        return f"<g>{tip}" + "".join(_plain(part, paper, tips=False) for part in mark.marks) + "</g>"
    return _plain(mark, paper)


def _plain(mark: Plain, paper: _Paper, *, tips: bool = True) -> str:
    tip = "" if isinstance(mark, Hatch | Dots | Label | Picture) or not tips else mark.tip
    match mark:
        case Area():
            path = "".join(paper.run(ring, closed=True) for ring in mark.rings if len(ring) > 2)
            fill = _filled(mark.fill, mark.alpha) + _pen(mark.stroke, mark.width_mm, mark.dash)
            rule = ' fill-rule="evenodd"' if len(mark.rings) > 1 else ""
            return _tag("path", f'd="{path}"{rule} {fill}', tip)
        case Stroke():
            pen = _pen(mark.colour, mark.width_mm, mark.dash, mark.alpha)
            return _tag("path", f'd="{paper.run(mark.points, closed=False)}" fill="none"{pen}', tip)
        case Hatch():
            path = "".join(paper.run(line, closed=False) for line in mark.lines)
            return _tag("path", f'd="{path}" fill="none"{_pen(mark.colour, mark.width_mm, (), mark.alpha)}', "")
        case Disc():
            fill = _filled(mark.fill, mark.alpha) + _pen(mark.stroke, mark.width_mm, ())
            return _tag("circle", f"{_round(mark.at, mark.radius, paper)} {fill}", tip)
        case Dots():
            return _dots(mark, paper)
        case Label():
            return _label(mark, paper)
        case Picture():
            return _picture(mark, paper)


def _dots(dots: Dots, paper: _Paper) -> str:
    """Return equal dots: one path for those without an outline, which is a third as long as a circle for each."""
    if dots.stroke is None and dots.fill is not None:
        pen = _pen(dots.fill, 2 * paper.mm(dots.radius), (), dots.alpha)
        return f'<path d="{paper.pricks(dots.points)}" fill="none"{pen}/>' if len(dots.points) else ""
    style_of = _filled(dots.fill, dots.alpha) + _pen(dots.stroke, dots.width_mm, ())
    return f"<g {style_of}>" + "".join(f"<circle {_round(p, dots.radius, paper)}/>" for p in dots.points) + "</g>"


def _picture(picture: Picture, paper: _Paper) -> str:
    x, y = paper.mm(picture.at[0] - paper.left), paper.mm(paper.top - picture.at[1] - picture.high)
    size = f'width="{_n(paper.mm(picture.wide))}" height="{_n(paper.mm(picture.high))}"'
    data = base64.b64encode(picture.data).decode("ascii")
    return f'<image x="{_n(x)}" y="{_n(y)}" {size} preserveAspectRatio="none" href="data:image/webp;base64,{data}"/>'


def _label(label: Label, paper: _Paper) -> str:
    x, y = paper.mm(label.at[0] - paper.left), paper.mm(paper.top - label.at[1])
    face = (' font-weight="700"' if label.bold else "") + (' font-style="italic"' if label.italic else "")
    turn = f' transform="rotate({_n(label.turn)} {_n(x)} {_n(y)})"' if label.turn else ""
    halo = ""
    if label.halo:
        wide = max(0.35, label.size_mm * 0.22)
        halo = f' paint-order="stroke" stroke="{label.halo}" stroke-width="{_n(wide)}" stroke-opacity="0.85"'
    place = f'x="{_n(x)}" y="{_n(y + BASELINE * label.size_mm)}" font-size="{_n(label.size_mm)}"'
    return (
        f'<text {place} fill="{label.colour}" text-anchor="{label.anchor}"{face}{halo}{turn}>{_text(label.text)}</text>'
    )


def _round(at: Point, radius: float, paper: _Paper) -> str:
    return f'cx="{_n(paper.mm(at[0] - paper.left))}" cy="{_n(paper.mm(paper.top - at[1]))}" r="{_n(paper.mm(radius))}"'


def _filled(fill: str | None, alpha: float) -> str:
    if fill is None:
        return 'fill="none"'
    return f'fill="{fill}"' + (f' fill-opacity="{_n(alpha)}"' if alpha < 1 else "")


def _pen(colour: str | None, width_mm: float, dash: Sequence[float], alpha: float = 1.0) -> str:
    if colour is None:
        return ""
    dashes = f' stroke-dasharray="{" ".join(_n(d) for d in dash)}" stroke-linecap="butt"' if dash else ""
    faint = f' stroke-opacity="{_n(alpha)}"' if alpha < 1 else ""
    return f' stroke="{colour}" stroke-width="{_n(width_mm)}"{dashes}{faint}'


def _tag(name: str, attributes: str, tip: str) -> str:
    return f"<{name} {attributes}><title>{_text(tip)}</title></{name}>" if tip else f"<{name} {attributes}/>"


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"


@cache
def _short(hundredths: int) -> str:
    """Return hundredths as a number without the zeros it can do without."""
    return _n(hundredths / 100).replace("0.", ".", 1) if abs(hundredths) < 100 else _n(hundredths / 100)


def _pair(x: int, y: int) -> str:
    first, second = _short(x), _short(y)
    return first + second if second[0] == "-" else f"{first} {second}"


def _spaced(numbers: Iterable[str]) -> str:
    """Return numbers one after another; a minus sign keeps two apart as well as a space does."""
    return " ".join(numbers).replace(" -", "-")


def _text(text: str) -> str:
    """Return text safe inside an XML element; characters XML cannot hold are left out."""
    return escape("".join(c for c in text if c >= " " or c in "\t\n"), {'"': "&quot;"})
