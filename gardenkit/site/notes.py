"""What is written on the plan: notes with leaders, dimensions, services and supply points, setbacks and easements."""

from collections.abc import Iterable
from typing import Literal

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Line, Point
from gardenkit.tuples import lists_as_tuples

NoteKind = Literal["note", "dimension", "service", "tap", "transformer", "setback", "easement"]
ENCLOSES: tuple[NoteKind, ...] = ("setback", "easement")  # ground on which nothing may be built
SUPPLIES: tuple[NoteKind, ...] = ("tap", "transformer")  # where water and garden lights are fed from: one spot
LEAST_POINTS = {"note": 1, "dimension": 2, "service": 2, "tap": 1, "transformer": 1, "setback": 3, "easement": 3}


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples)
class Note:
    """Something written on the plan: ``line`` of a note is the spot it points at and where its words stand, of a
    dimension its two ends and, where given, a place that its line goes through, of a service the way it runs, of a tap
    or a transformer its place, of a setback or easement the corners of the ground. A dimension without a
    ``text`` says its own length.
    """

    name: str
    kind: NoteKind = "note"
    line: Line
    text: str = ""

    @property
    def middle(self) -> Point:
        """The middle of the box about its points, metres: what all of it is moved by."""
        low_x, low_y, high_x, high_y = plane.bounds(plane.line(self.line * 2))
        return (low_x + high_x) / 2, (low_y + high_y) / 2


def supplied_at(notes: Iterable[Note], kind: NoteKind) -> Point | None:
    """Return where the first supply point of a kind is written on the plan; None where none is."""
    return next((note.line[0] for note in notes if note.kind == kind), None)


def check_note(note: Note) -> None:
    """Raise GardenError for a note that cannot be drawn: too few points, no words, an outline that crosses itself."""
    what = f'{note.kind} "{note.name}"'
    if len(note.line) < LEAST_POINTS[note.kind]:
        raise GardenError(f"{what} has {len(note.line)} points on the plan; give {LEAST_POINTS[note.kind]}")
    if note.kind == "note" and not note.text.strip():
        raise GardenError(f"{what} says nothing; type its words")
    if note.kind in ENCLOSES:
        plane.outline(note.line, where=what)
    elif note.kind != "note" and note.kind not in SUPPLIES:
        plane.check_line(note.line[:2] if note.kind == "dimension" else note.line, where=what)
