"""A drawing on a PDF page, true to scale: lines, areas, dots and words put where a neutral scene says."""

import io
import math
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Any

from gardenkit.drawing import style
from gardenkit.drawing.labels import text_width
from gardenkit.drawing.scene import (
    Area,
    Bounds,
    Disc,
    Dots,
    Hatch,
    Label,
    Picture,
    Plain,
    Scene,
    Stroke,
    on_paper,
    plain,
)
from gardenkit.drawing.style import rgb
from gardenkit.drawing.svg import BASELINE
from gardenkit.geometry.plane import Point

MM = 72.0 / 25.4  # points in a millimetre, exact
FACES = {(False, False): "Vera", (True, False): "VeraBd", (False, True): "VeraIt", (True, True): "VeraBI"}
JPEG = 84  # of a picture on a page. House value.
EVEN_ODD = 0  # reportlab's number for the even-odd rule


class Pen:
    """A reportlab canvas that draws scenes and words; places on the page are in mm from its lower left corner."""

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        embedded_letters()

    def scene(self, scene: Scene, *, left: float, top: float, within: Bounds | None = None) -> None:
        """Draw a whole scene with its upper left corner at (left, top) mm, nothing of it outside ``within`` mm."""
        self._left, self._top, self._scale = left, top, scene.scale
        self._x0, self._y1 = scene.bounds[0], scene.bounds[3]
        self.canvas.saveState()
        if within is not None:
            low_x, low_y, high_x, high_y = (side * MM for side in within)
            frame = self.canvas.beginPath()
            frame.rect(low_x, low_y, high_x - low_x, high_y - low_y)
            self.canvas.clipPath(frame, stroke=0, fill=0)
        for mark in plain(scene.marks):
            self._mark(mark)
        self.canvas.restoreState()

    def text(
        self,
        at: Point,
        words: str,
        *,
        size_mm: float,
        colour: str = style.INK,
        bold: bool = False,
        italic: bool = False,
        anchor: str = "start",
        turn: float = 0.0,
        halo: str | None = None,
        width: float | None = None,
    ) -> None:
        """Write one line with its baseline at ``at`` mm; narrowed to ``width`` mm when it would be wider."""
        face, shown = FACES[bold, italic], _writable(words, FACES[bold, italic])
        natural = self.canvas.stringWidth(shown, face, size_mm * MM) / MM
        share = min(1.0, width / natural) if width and natural else 1.0
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * natural * share
        self.canvas.saveState()
        self.canvas.translate(at[0] * MM, at[1] * MM)
        if turn:
            self.canvas.rotate(-turn)
        if halo:  # a patch behind the words: drawn as words it would stand twice in the text layer
            self._fill(halo, 0.75)
            self.canvas.rect(-back * MM, -0.22 * size_mm * MM, natural * share * MM, size_mm * MM, stroke=0, fill=1)
        self._line(shown, (face, size_mm), -back, share=share, colour=colour)
        self.canvas.restoreState()

    def rule(self, a: Point, b: Point, *, colour: str = style.INK, width_mm: float = 0.2) -> None:
        """Draw one straight line between two places in mm."""
        self.canvas.setStrokeColorRGB(*rgb(colour))
        self.canvas.setStrokeAlpha(1.0)
        self.canvas.setDash([])
        self.canvas.setLineWidth(width_mm * MM)
        self.canvas.line(a[0] * MM, a[1] * MM, b[0] * MM, b[1] * MM)

    def _mark(self, mark: Plain) -> None:
        match mark:
            case Area():
                rings = [ring for ring in mark.rings if len(ring) > 2]
                self._pen(mark.stroke, mark.width_mm, mark.dash)
                self._fill(mark.fill, mark.alpha)
                self._path(rings, closed=True, stroke=mark.stroke is not None, fill=mark.fill is not None)
            case Stroke():
                self._pen(mark.colour, mark.width_mm, mark.dash, mark.alpha)
                self._path([mark.points], closed=False, stroke=True, fill=False)
            case Hatch():
                self._pen(mark.colour, mark.width_mm, (), mark.alpha)
                self._path(mark.lines, closed=False, stroke=True, fill=False)
            case Disc() | Dots():
                self._round(mark)
            case Label():
                self._label(mark)
            case Picture():
                self._picture(mark)

    def _picture(self, picture: Picture) -> None:
        """Put a picture on the page, on white where it shows the paper."""
        from PIL import Image
        from reportlab.lib.utils import ImageReader

        held = io.BytesIO()
        with Image.open(io.BytesIO(picture.data)) as opened:
            shown = opened.convert("RGBA")
            Image.alpha_composite(Image.new("RGBA", shown.size, "white"), shown).convert("RGB").save(
                held, "JPEG", quality=JPEG
            )
        x, y = self._spot(picture.at)
        wide, high = (on_paper(m, self._scale) * MM for m in (picture.wide, picture.high))
        self.canvas.drawImage(ImageReader(held), x, y, width=wide, height=high)

    def _label(self, label: Label) -> None:
        x, y = self._spot(label.at)
        down = BASELINE * label.size_mm
        turned = math.radians(label.turn)
        at = (x / MM - down * math.sin(turned), y / MM - down * math.cos(turned))
        self.text(
            at,
            label.text,
            size_mm=label.size_mm,
            colour=label.colour,
            bold=label.bold,
            italic=label.italic,
            anchor=label.anchor,
            turn=label.turn,
            halo=label.halo,
            width=text_width(label.text, label.size_mm, bold=label.bold),
        )

    def _line(self, words: str, letters: tuple[str, float], x: float, *, share: float, colour: str) -> None:
        line = self.canvas.beginText(x * MM, 0)
        line.setFont(letters[0], letters[1] * MM)
        line.setHorizScale(100 * share)
        self._fill(colour, 1.0)
        line.textOut(words)
        self.canvas.drawText(line)

    def _spot(self, at: Point) -> Point:
        x = self._left + on_paper(at[0] - self._x0, self._scale)
        y = self._top - on_paper(self._y1 - at[1], self._scale)
        return x * MM, y * MM

    def _path(self, lines: Iterable[Sequence[Point]], *, closed: bool, stroke: bool, fill: bool) -> None:
        path = self.canvas.beginPath()
        for line in lines:
            if not line:
                continue
            path.moveTo(*self._spot(line[0]))
            for point in line[1:]:
                path.lineTo(*self._spot(point))
            if closed:
                path.close()
        self.canvas.drawPath(path, stroke=int(stroke), fill=int(fill), fillMode=EVEN_ODD)

    def _round(self, mark: Disc | Dots) -> None:
        self._pen(mark.stroke, mark.width_mm, ())
        self._fill(mark.fill, mark.alpha)
        size, drawn, filled = on_paper(mark.radius, self._scale) * MM, mark.stroke is not None, mark.fill is not None
        for point in (mark.at,) if isinstance(mark, Disc) else mark.points:
            self.canvas.circle(*self._spot(point), size, stroke=int(drawn), fill=int(filled))

    def _pen(self, colour: str | None, width_mm: float, dash: Sequence[float], alpha: float = 1.0) -> None:
        if colour is None:
            return
        self.canvas.setStrokeColorRGB(*rgb(colour))
        self.canvas.setStrokeAlpha(alpha)
        self.canvas.setLineWidth(width_mm * MM)
        self.canvas.setDash([d * MM for d in dash])
        self.canvas.setLineCap(0 if dash else 1)
        self.canvas.setLineJoin(1)

    def _fill(self, colour: str | None, alpha: float) -> None:
        if colour is not None:
            self.canvas.setFillColorRGB(*rgb(colour))
            self.canvas.setFillAlpha(alpha)


def embedded_letters() -> None:
    """Make the embedded letters known to reportlab (Bitstream Vera, which comes with it)."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for face in FACES.values():
        if face not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(face, f"{face}.ttf"))


def _writable(words: str, face: str) -> str:
    """Return words in letters the face has: an accent it lacks is left off, a fraction it lacks is written out after a
    space (2 5/8), another sign becomes a question mark.
    """
    from reportlab.pdfbase import pdfmetrics

    known = pdfmetrics.getFont(face).face.charToGlyph
    shown = []
    for letter in words:
        if letter < " ":
            continue
        plain = unicodedata.normalize("NFKD", letter)
        if ord(letter) in known:
            shown.append(letter)
        elif "\N{FRACTION SLASH}" in plain:
            space = " " if shown and shown[-1].isdigit() else ""
            shown.append(space + plain.replace("\N{FRACTION SLASH}", "/"))
        else:
            shown.append(plain[0] if plain and ord(plain[0]) in known else "?")
    return "".join(shown)
