"""Making a garden by script: every call saves one step, as a page does, and returns the garden after it.

Lengths are text as on a site sketch (``"12' 6\\""``, ``"3.2 m"``) or numbers in the garden's own units: feet,
or metres. A point is a pair of lengths. A garden never changes: keep what a call returns.
"""

import datetime as dt
import math
from collections.abc import Callable, Sequence
from pathlib import Path as Folder
from typing import Any

import attrs

from gardenkit import storage
from gardenkit.findings import GardenError, nearest
from gardenkit.garden import Garden
from gardenkit.geometry import plane
from gardenkit.planting.planting import Planting, first_season
from gardenkit.project import Project
from gardenkit.project.edits import planting
from gardenkit.project.edits import site as site_edits
from gardenkit.project.edits.structure import areas, beds, paths, seats, supports
from gardenkit.site.climate import Climate
from gardenkit.site.place import Place
from gardenkit.site.site import Building
from gardenkit.site.usual_sizes import usual_sizes
from gardenkit.structure.structure import StoneChoice
from gardenkit.units import System, length

Length = float | str
Spot = Sequence[Length]
DOORS = ("door", "window", "gate")
SIZES = ("width", "clear_of_walls", "height", "depth", "eye")  # the fields of records that are lengths
STONE_SIZES = ("gap_low", "gap_high", "pace", "across", "thickness", "joint")


def new(folder: str | Folder, *, name: str = "", units: System = "imperial") -> Garden:
    """Make an empty garden in a folder, to be planted from this year or the next. Raises GardenError when one is there
    or the units are unknown.

    >>> import tempfile
    >>> new(Folder(tempfile.mkdtemp()) / "plot", units="metric")
    Garden "plot"
    """
    if units not in ("imperial", "metric"):
        raise GardenError(f'units "{units}" are not known{nearest(units, ["imperial", "metric"])}; use one of the two')
    where = Folder(folder)
    planted = Planting(first_year=first_season(dt.datetime.now().astimezone().date()))
    return Garden(storage.create(where, Project(name=name or where.name, units=units, planting=planted)).project, where)


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
    here: dict[str, Any] = {"latitude": latitude, "longitude": longitude, "timezone": timezone}
    here |= {k: v for k, v in more.items() if k in fields}
    rest = {k: v for k, v in more.items() if k not in fields}

    known = {f.name for f in attrs.fields(Climate)}
    for word in rest:
        if word not in known:
            raise GardenError(f'"{word}" is not known of a place{nearest(word, [*fields, *known])}; leave it out')

    def change(project: Project) -> Project:
        return site_edits.change_climate(site_edits.set_place(project, **here), **rest)

    return edit(garden, "place", change)


def boundary(garden: Garden, *corners: Spot) -> Garden:
    """Set the plot by its corners in order, or ``boundary(garden, (40, 60))``, a rectangle from (0, 0)."""
    outline = _corners(garden, corners)
    return edit(garden, "boundary", lambda p: site_edits.set_boundary(p, outline))


def house(garden: Garden, name: str, *corners: Spot, **more: Any) -> Garden:
    """Stand a house or shed on the plot by the corners of its walls; ``more``: fields of Building (eaves, roof)."""
    sizes = _metres(garden, more, ("eaves", "ridge_height", "overhang"))
    made = Building(name=name, outline=_corners(garden, corners), **sizes)
    return edit(garden, f'house "{name}"', lambda p: site_edits.add_thing(p, made))


def opening(garden: Garden, kind: str, name: str, start: Spot, end: Spot, *, on: str = "", **more: Any) -> Garden:
    """Put a door or window from ``start`` to ``end`` into the nearest wall, a gate into the boundary or a fence.

    ``on``: the name of the building or fence it must be in; ``more``: sill and head (else the usual ones). Raises
    GardenError when no wall is near.
    """
    if kind not in DOORS:
        raise GardenError(f'an opening is a door, a window or a gate, not "{kind}"{nearest(kind, DOORS)}')
    (left, low), (right, high) = _spot(garden, start), _spot(garden, end)
    usual = usual_sizes(kind, garden.project.units)
    heights = {"sill": usual["sill"], "head": usual["head"]} | _metres(garden, more, ("sill", "head"))
    at, width = ((left + right) / 2, (low + high) / 2), math.dist((left, low), (right, high))

    def change(project: Project) -> Project:
        made = site_edits.add_opening(project, kind, name, at=at, width=width, **heights)
        found = made.site.openings[-1]
        if on and found.on != on:
            lies = f'{kind} "{name}" lies in {found.on or "the boundary"}, not in "{on}"'
            raise GardenError(f"{lies}; mend its two ends, or what it is on")
        return made

    return edit(garden, f'{kind} "{name}"', change)


def seat(garden: Garden, name: str, at: Spot, *, facing: float = 0.0) -> Garden:
    """Put a seat; one looks ``facing`` degrees clockwise from the plan's y axis."""
    where = _spot(garden, at)
    return edit(garden, f'seat "{name}"', lambda p: seats.add_seat(p, name, at=where, facing=facing))


def path(garden: Garden, name: str, *, start: str, end: str, **more: Any) -> Garden:
    """Lead a path between two named places; ``more``: fields of Path (width, curvature, sway, surface, use).

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
    return edit(garden, f"plant {species}", lambda p: planting.add_plants(p, kind, spots, support=support))


def fill(garden: Garden, bed: str, species: str, *, spacing: Length | None = None) -> Garden:
    """Fill a bed with one kind, staggered, at the catalogue's on-centre spacing or your own."""
    kind = garden.catalogue[species]
    apart = None if spacing is None else _length(garden, spacing)
    return edit(garden, f"fill {bed}", lambda p: planting.fill_bed(p, bed, kind, spacing=apart, by_hand=False))


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
