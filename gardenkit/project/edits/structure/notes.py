"""Notes, dimensions, services known, setbacks and easements: written on the plan, changed, moved and taken off it."""

from typing import Any

import attrs

from gardenkit.geometry.plane import Line, Point
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name, free_name, new_name, put, without
from gardenkit.project.edits.structure.shared import replaced, shifted, spot
from gardenkit.site.notes import Note, NoteKind, check_note

WORDS: dict[NoteKind, str] = {"note": "type what is to be said here"}  # until the designer types it


def add_note(project: Project, kind: NoteKind, *, line: Line, name: str = "", text: str = "") -> Project:
    """Return the project with something written on its plan; the last of its notes is the new one."""
    known = [note.name for note in project.site.notes]
    called = new_name(name, known, kind) if name else free_name(kind, known)
    made = Note(name=called, kind=kind, line=tuple(spot(p) for p in line), text=text or WORDS.get(kind, ""))
    return _notes(project, (*project.site.notes, _sound(made)))


def change_note(project: Project, name: str, **changes: Any) -> Project:
    """Return the project with fields of a note changed: its name, kind, line or text."""
    old = _note(project, name)
    if changes.get("name", name) != name:
        changes["name"] = new_name(changes["name"], [note.name for note in project.site.notes], old.kind)
    return _notes(project, put(project.site.notes, name, _sound(attrs.evolve(old, **changes))))


def move_note_point(project: Project, name: str, index: int, *, to: Point) -> Project:
    """Return the project with one point of a note put elsewhere: where its words stand, an end, a corner."""
    old = _note(project, name)
    return change_note(project, name, line=replaced(old.line, index, to, f'{old.kind} "{name}"'))


def move_note(project: Project, name: str, *, to: Point) -> Project:
    """Return the project with a whole note put elsewhere, by its middle."""
    old = _note(project, name)
    x, y = old.middle
    return change_note(project, name, line=shifted(old.line, (to[0] - x, to[1] - y)))


def remove_note(project: Project, name: str) -> Project:
    """Return the project without a note."""
    _note(project, name)
    return _notes(project, without(project.site.notes, name))


# ---- helpers


def _note(project: Project, name: str) -> Note:
    return by_name(project.site.notes, name, "note on the plan")


def _sound(note: Note) -> Note:
    check_note(note)
    return note


def _notes(project: Project, notes: tuple[Note, ...]) -> Project:
    return attrs.evolve(project, site=attrs.evolve(project.site, notes=notes))
