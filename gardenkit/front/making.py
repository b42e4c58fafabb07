"""Making a garden by script: every call saves one step, as a page does, and returns the garden after it.

Lengths are text as on a site sketch (``"12' 6\\""``, ``"3.2 m"``) or numbers in the garden's own units: feet,
or metres. A point is a pair of lengths. A garden never changes: keep what a call returns.
"""

from collections.abc import Callable, Sequence
from pathlib import Path as Folder
from typing import Any

import attrs

from gardenkit import storage
from gardenkit.findings import GardenError, nearest
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.planting import hand
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name, new_name
from gardenkit.project.edits.structure import areas, beds, paths, seats, supports
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, Site
from gardenkit.structure.structure import StoneChoice
from gardenkit.units import System, length

Length = float | str
Spot = Sequence[Length]
DOORS = ("door", "window", "gate")
SIZES = ("width", "clear_of_walls", "height", "depth", "eye")  # the fields of records that are lengths
STONE_SIZES = ("gap_low", "gap_high", "pace", "across", "thickness", "joint")


def new(folder: str | Folder, *, name: str = "", units: System = "imperial") -> Garden:
    """Make an empty garden in a folder. Raises GardenError when one is there or the units are unknown.

    >>> import tempfile
    >>> new(Folder(tempfile.mkdtemp()) / "plot", units="metric")
    Garden "plot"
    """
    if units not in ("imperial", "metric"):
        raise GardenError(f'units "{units}" are not known{nearest(units, ["imperial", "metric"])}; use one of the two')
    where = Folder(folder)
    return Garden(storage.create(where, Project(name=name or where.name, units=units)).project, where)


def open(folder: str | Folder) -> Garden:  # noqa: A001 - read as gk.open
    """Open the garden kept in a folder. Raises GardenError when there is none."""
    return Garden.open(Folder(folder))


def edit(garden: Garden, label: str, change: Callable[[Project], Project]) -> Garden:
    """Save any change of the project, such as one of ``gardenkit.project.edits``; ``label`` names it for undo."""
    stored = storage.edit(garden.folder, label, change, notebook="script")
    return Garden(stored.project, garden.folder)


def place(garden: Garden, *, latitude: float, longitude: float, timezone: str, **more: Any) -> Garden:
    """Say where on earth: degrees north and east, the IANA time zone; ``more``: fields of Place or Climate."""
    fields = {f.name for f in attrs.fields(Place)}
    here = Place(latitude=latitude, longitude=longitude, timezone=timezone, **{k: more[k] for k in more if k in fields})
    rest = {k: v for k, v in more.items() if k not in fields}

    def change(project: Project) -> Project:
        known = {f.name for f in attrs.fields(type(project.site.climate))}
        for word in rest:
            if word not in known:
                raise GardenError(f'"{word}" is not known of a place{nearest(word, [*fields, *known])}; leave it out')
        site = attrs.evolve(project.site, place=here, climate=attrs.evolve(project.site.climate, **rest))
        return attrs.evolve(project, site=site)

    return edit(garden, "place", change)


def boundary(garden: Garden, *corners: Spot) -> Garden:
    """Set the plot by its corners in order, or ``boundary(garden, (40, 60))``, a rectangle from (0, 0)."""
    outline = _corners(garden, corners)
    return _site(garden, "boundary", lambda site: attrs.evolve(site, boundary=outline))


def house(garden: Garden, name: str, *corners: Spot, **more: Any) -> Garden:
    """Stand a house or shed on the plot by the corners of its walls; ``more``: fields of Building (eaves, roof)."""
    outline = _corners(garden, corners)

    def change(site: Site) -> Site:
        called = new_name(name, [b.name for b in site.buildings], "building")
        made = Building(name=called, outline=outline, **_metres(garden, more, ("eaves", "ridge_height", "overhang")))
        return attrs.evolve(site, buildings=(*site.buildings, made))

    return _site(garden, f'house "{name}"', change)


def opening(garden: Garden, kind: str, name: str, start: Spot, end: Spot, *, on: str = "", **more: Any) -> Garden:
    """Put a door, window or gate from ``start`` to ``end``; ``on`` names its building or fence (none: the boundary)."""
    if kind not in DOORS:
        raise GardenError(f'an opening is a door, a window or a gate, not "{kind}"{nearest(kind, DOORS)}')
    ends = {"start": _spot(garden, start), "end": _spot(garden, end)}

    def change(site: Site) -> Site:
        called = new_name(name, [o.name for o in site.openings], kind)
        made = Opening(name=called, kind=kind, on=on, **ends, **_metres(garden, more, ("sill", "head")))  # type: ignore[arg-type]
        return attrs.evolve(site, openings=(*site.openings, made))

    return _site(garden, f'{kind} "{name}"', change)


def seat(garden: Garden, name: str, at: Spot, *, facing: float = 0.0) -> Garden:
    """Put a seat; one looks ``facing`` degrees clockwise from the plan's y axis."""
    where = _spot(garden, at)
    return edit(garden, f'seat "{name}"', lambda p: seats.add_seat(p, name, at=where, facing=facing))


def path(garden: Garden, name: str, *, start: str, end: str, **more: Any) -> Garden:
    """Lead a path between two named places; ``more``: fields of Path (width, bend, sway, surface, use).

    The way round what stands there is worked out: ``garden.layout.routes[name]``.
    """
    fields = _metres(garden, more, SIZES)
    return edit(garden, f'path "{name}"', lambda p: paths.add_path(p, name, start=start, end=end, **fields))


def stones(garden: Garden, path: str, **sizes: Any) -> Garden:
    """Lay a path's stepping stones: gap_low, gap_high, pace, across, seed; see ``garden.layout.layings``."""
    known = [f.name for f in attrs.fields(StoneChoice)]
    for word in sizes:
        if word not in known:
            raise GardenError(f'stones have no "{word}"{nearest(word, known)}; they have {", ".join(known)}')
    fields = _metres(garden, sizes, STONE_SIZES)
    return edit(garden, f'stones of "{path}"', lambda p: paths.lay_stones(p, path, **fields))


def area(garden: Garden, kind: str, name: str, *corners: Spot) -> Garden:
    """Lay a lawn, a patio or gravel by its corners."""
    outline = _corners(garden, corners)
    return edit(garden, f'{kind} "{name}"', lambda p: areas.add_area(p, kind, outline=outline, name=name))


def bed(garden: Garden, name: str, *corners: Spot) -> Garden:
    """Draw a bed by its corners; paths and paving are cut out of it: ``garden.beds``."""
    outline = _corners(garden, corners)
    return edit(garden, f'bed "{name}"', lambda p: beds.draw_bed(p, outline, name=name))


def support(garden: Garden, kind: str, name: str, *line: Spot, **more: Any) -> Garden:
    """Put up a trellis, wires, a pergola or another support along a line."""
    along, fields = tuple(_spot(garden, s) for s in line), _metres(garden, more, SIZES)

    def change(project: Project) -> Project:
        made = supports.add_support(project, name, kind, line=along)
        return supports.change_support(made, name, **fields) if fields else made

    return edit(garden, f'support "{name}"', change)


def plant(garden: Garden, species: str, *at: Spot, support: str = "") -> Garden:
    """Plant a kind by its botanical name at each spot. Raises GardenError naming the nearest known kind."""
    kind, spots = garden.catalogue[species], [_spot(garden, s) for s in at]

    def change(project: Project) -> Project:
        planting = hand.add(project.planting, kind.botanical, spots, support=support, by_hand=True)
        return attrs.evolve(project, planting=planting)

    return edit(garden, f"plant {species}", change)


def fill(garden: Garden, bed: str, species: str, *, spacing: Length | None = None) -> Garden:
    """Fill a bed with one kind, staggered, at the catalogue's on-centre spacing or your own."""
    kind, shape = garden.catalogue[species], by_name(garden.beds, bed, "bed")
    apart = None if spacing is None else _length(garden, spacing)
    number = hand.next_number(garden.project.planting)
    found = hand.fill_bed(shape.region, kind, apart, first_number=number, bed=bed)
    if not found:
        raise GardenError(f"not one {species} fits into {bed}; draw a larger bed, or give a smaller spacing")
    return edit(garden, f"fill {bed}", lambda p: attrs.evolve(p, planting=hand.accept(p.planting, found)))


def _site(garden: Garden, label: str, change: Callable[[Site], Site]) -> Garden:
    return edit(garden, label, lambda p: attrs.evolve(p, site=change(p.site)))


def _length(garden: Garden, value: Length, where: str = "") -> float:
    bare = "ft" if garden.units == "imperial" else "m"
    return round(length(value, bare=bare, where=where, signed=True), 6)


def _metres(garden: Garden, fields: dict[str, Any], lengths: Sequence[str]) -> dict[str, Any]:
    return {k: _length(garden, v, k) if k in lengths else v for k, v in fields.items()}


def _spot(garden: Garden, at: Spot) -> plane.Point:
    if isinstance(at, (str, int, float)) or len(at) != 2:
        raise GardenError(f'{at!r} is not a point; give two lengths, like (12, "3\' 6\\"")')
    return (_length(garden, at[0], "a point"), _length(garden, at[1], "a point"))


def _corners(garden: Garden, corners: Sequence[Spot]) -> plane.Outline:
    """Return an outline from its corners; one alone is the corner across from (0, 0)."""
    spots = tuple(_spot(garden, c) for c in corners)
    if len(spots) == 1:
        (width, depth) = spots[0]
        return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    if len(spots) == 2:
        (left, low), (right, high) = spots
        return ((left, low), (right, low), (right, high), (left, high))
    return spots
