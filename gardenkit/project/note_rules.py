"""What is dug or built over a service that is known, or on ground where nothing may be built."""

from collections.abc import Iterator

from gardenkit.findings import LOCAL_CODE, Finding, Seriousness
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Point, Shape
from gardenkit.project.layout import Layout
from gardenkit.site.notes import ENCLOSES, Note
from gardenkit.site.site import Site
from gardenkit.sources import COMMON, Figure
from gardenkit.structure.kinds import thing_kind
from gardenkit.structure.structure import Structure
from gardenkit.structure.things import ground_of_thing
from gardenkit.units import INCH, listed, show_length

BESIDE_SERVICE = Figure(24 * INCH, "m", f"dig by hand within 18 to 24 in of the marks of a service, by place; {COMMON}")


def note_findings(site: Site, structure: Structure, worked: Layout) -> tuple[Finding, ...]:
    """Return what new work lies near a service that is known, or on a setback or easement."""
    found: list[Finding] = []
    for note in site.notes:
        if note.kind == "service":
            shape = plane.grown(plane.line(note.line), BESIDE_SERVICE)
            over = list(dict.fromkeys(name for name, one in _built(structure, worked) if plane.meet(shape, one)))
            if over:
                what = (
                    f"{listed(over)} would be dug within {show_length(BESIDE_SERVICE, small=True)} of it: have it "
                    "marked first and dig by hand there, or move the work"
                )
                found.append(_finding(note, what, "warning", BESIDE_SERVICE.source, "clearance"))
        elif note.kind in ENCLOSES:
            ground = plane.region(note.line)
            over = [
                name for name, one in _built(structure, worked) if plane.area(plane.intersection(ground, one)) > 0.05
            ]
            over += [s.name for s in structure.supports if plane.meet(ground, plane.line(s.line))]
            if over:
                what = f"{listed(list(dict.fromkeys(over)))} would stand on it; {LOCAL_CODE} what may, or move it"
                found.append(_finding(note, what, "warning", COMMON, "permit"))
    return tuple(found)


# ---- helpers


def _built(structure: Structure, worked: Layout) -> Iterator[tuple[str, Shape]]:
    """Yield all that is dug or built on the ground, by name."""
    yield from worked.surfaces.items()
    yield from (
        (ground_area.name, worked.ground_areas[ground_area.name])
        for ground_area in structure.ground_areas
        if ground_area.kind != "lawn"
    )
    yield from ((t.name, ground_of_thing(t)) for t in structure.things if thing_kind(t.kind).footed)


def _finding(note: Note, what: str, seriousness: Seriousness, source: str, topic: str) -> Finding:
    at: Point = note.line[0]
    where = f'{note.kind} "{note.text or note.name}"'
    return Finding(where=where, what=what, source=source, seriousness=seriousness, at=at, topic=topic)
