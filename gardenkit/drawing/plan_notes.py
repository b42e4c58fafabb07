"""What is written on the plan: words with a leader, dimensions with ticks, services, ground that is kept free."""

import math
import textwrap
from collections.abc import Iterable

from gardenkit.drawing import style
from gardenkit.drawing.scene import Area, Disc, Label, Mark, Stroke, Symbol, on_ground
from gardenkit.geometry.plane import Point
from gardenkit.site.notes import ENCLOSES, SUPPLIES, Note
from gardenkit.units import System, show_length

LINE_LETTERS = 30  # letters of a note in one line. House value.
SERVICE = "#7a1f5c"  # known services: neither a plant's, a level's nor a warning's colour. House value.
SERVICE_DASH = (4.0, 1.0, 0.8, 1.0)
SUPPLY_MM = 2.2  # side of the square that a tap or a transformer is drawn as. House value.
TICK_MM, PAST_MM = 1.5, 1.2  # of a dimension


def note_marks(notes: Iterable[Note], *, scale: float, units: System) -> tuple[Mark, ...]:
    """Return all that is written on a plan at 1 : scale."""
    marks: list[Mark] = []
    for note in notes:
        if note.kind == "note":
            marks += _words(note, scale)
        elif note.kind == "dimension":
            marks += _dimension(note, scale, units)
        elif note.kind in ENCLOSES:
            marks += _kept_free(note)
        elif note.kind in SUPPLIES:
            marks += _supply(note, scale)
        else:
            marks += _service(note)
    return tuple(marks)


# ---- helpers


def _words(note: Note, scale: float) -> list[Mark]:
    to, at = note.line[0], note.line[-1]
    lines, high = textwrap.wrap(note.text, LINE_LETTERS), on_ground(1.25 * style.NOTE_LETTERS, scale)
    right = at[0] >= to[0]
    start = (at[0] + (1 if right else -1) * on_ground(1.0, scale), at[1] + high * (len(lines) - 1) / 2)
    marks: list[Mark] = []
    if len(note.line) > 1:
        marks.append(Stroke(points=(to, at), colour=style.INK, width_mm=style.LEADER, layer="labels"))
        marks.append(Disc(at=to, radius=on_ground(0.5, scale), fill=style.INK, layer="labels"))
    for number, line in enumerate(lines):
        marks.append(
            Label(
                at=(start[0], start[1] - number * high),
                text=line,
                size_mm=style.NOTE_LETTERS,
                anchor="start" if right else "end",
                halo=style.PAPER,
                layer="labels",
            )
        )
    return marks


def _dimension(note: Note, scale: float, units: System) -> list[Mark]:
    """Return a dimension: two lines out from what is measured, one between with a tick at either end, its length."""
    a, b = note.line[:2]
    far = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    off = 0.0
    if len(note.line) > 2:
        off = (note.line[2][0] - a[0]) * -uy + (note.line[2][1] - a[1]) * ux
    p, q = (a[0] - off * uy, a[1] + off * ux), (b[0] - off * uy, b[1] + off * ux)
    past, tick = math.copysign(on_ground(PAST_MM, scale), off), on_ground(TICK_MM, scale)
    marks: list[Mark] = [Stroke(points=(p, q), colour=style.INK, width_mm=style.PLANT, layer="labels")]
    for foot, end in ((a, p), (b, q)):
        if abs(off) > 1e-6:
            out = (end[0] - past * uy, end[1] + past * ux)
            marks.append(Stroke(points=(foot, out), colour=style.INK, width_mm=style.LEADER, layer="labels"))
        dx, dy = (ux - uy) * tick / 2, (uy + ux) * tick / 2
        slash = ((end[0] - dx, end[1] - dy), (end[0] + dx, end[1] + dy))
        marks.append(Stroke(points=slash, colour=style.INK, width_mm=style.EDGE, layer="labels"))
    turn = math.degrees(math.atan2(ux, uy)) - 90
    turn = turn - 180 if 90 < turn % 360 < 270 else turn
    beside = on_ground(0.75 * style.NOTE_LETTERS, scale)
    lift = (-math.sin(math.radians(-turn)) * beside, math.cos(math.radians(-turn)) * beside)
    at = ((p[0] + q[0]) / 2 + lift[0], (p[1] + q[1]) / 2 + lift[1])
    text = note.text or show_length(far, units)
    marks.append(Label(at=at, text=text, size_mm=style.NOTE_LETTERS, turn=turn, halo=style.PAPER, layer="labels"))
    return marks


def _service(note: Note) -> list[Mark]:
    words = note.text or note.name
    line = Stroke(points=note.line, colour=SERVICE, width_mm=style.EDGE, dash=SERVICE_DASH, layer="overlay", tip=words)
    return [line, _name(_middle(note.line), words)]


def _supply(note: Note, scale: float) -> list[Mark]:
    """Return a tap or a transformer: a small square on its place, what it is beside it."""
    words, half, (x, y) = note.text or note.name, on_ground(SUPPLY_MM / 2, scale), note.line[0]
    box = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
    square = Area(rings=(box,), fill=style.PAPER, stroke=SERVICE, width_mm=style.EDGE, layer="overlay", tip=words)
    return [square, _name((x, y + on_ground(SUPPLY_MM + 0.6 * style.SMALL_LETTERS, scale)), words)]


def _kept_free(note: Note) -> list[Mark]:
    words = f"{note.kind}: {note.text}" if note.text else note.name
    area = Area(
        rings=(note.line,),
        fill=SERVICE,
        stroke=SERVICE,
        width_mm=style.PLANT,
        dash=style.FINE_DASH,
        alpha=0.08,
        layer="overlay",
    )
    edge = Stroke(
        points=(*note.line, note.line[0]), colour=SERVICE, width_mm=style.EDGE, dash=style.FINE_DASH, layer="overlay"
    )
    x, y = (sum(p[k] for p in note.line) / len(note.line) for k in (0, 1))
    return [Symbol(marks=(area, edge), tip=words, layer="overlay"), _name((x, y), words)]


def _name(at: Point, words: str) -> Label:
    return Label(
        at=at, text=words, size_mm=style.SMALL_LETTERS, colour=SERVICE, italic=True, halo=style.PAPER, layer="labels"
    )


def _middle(line: tuple[Point, ...]) -> Point:
    k = len(line) // 2
    return ((line[k - 1][0] + line[k][0]) / 2, (line[k - 1][1] + line[k][1]) / 2)
