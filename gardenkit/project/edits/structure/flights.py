"""Flights of steps put into a path, changed and taken out of it."""

from typing import Any

import attrs

from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.project.edits.records import by_name, put
from gardenkit.project.edits.structure.shared import with_bones
from gardenkit.project.layout import layout
from gardenkit.structure.flights import overlapping
from gardenkit.structure.structure import Flight, Path
from gardenkit.units import INCH, System, show_length

RISERS = (3 * INCH, 10 * INCH)  # m: outside of it nothing is walked as a step. House value.
TREADS = (8 * INCH, 18 * INCH)  # m: deeper than 18 in no band of the stride allows. House value.
SHARE = 6  # decimals of a share of the path's length: hundredths of a millimetre


def add_flight(project: Project, name: str, *, start: float, end: float, **more: Any) -> Project:
    """Return the project with steps in a path, from ``start`` to ``end`` in metres along it with their landings;
    ``more``: other fields of Flight.
    """
    path, length = _of(project, name)
    flight = Flight(start=_share(start, length), end=_share(end, length), **more)
    return _with(project, path, [*path.flights, flight], flight)


def change_flight(project: Project, name: str, index: int, **changes: Any) -> Project:
    """Return the project with a flight (0 first along the path) changed; ``start`` and ``end`` are metres along it."""
    path, length = _of(project, name)
    old = _at(path, index)
    shares = {key: _share(changes[key], length) for key in changes if key in ("start", "end")}
    flight = attrs.evolve(old, **(changes | shares))
    return _with(project, path, [flight if i == index else each for i, each in enumerate(path.flights)], flight)


def remove_flight(project: Project, name: str, index: int) -> Project:
    """Return the project without one of a path's flights (0 first along it)."""
    path, _ = _of(project, name)
    _at(path, index)
    kept = tuple(each for i, each in enumerate(path.flights) if i != index)
    return with_bones(project, paths=put(project.structure.paths, name, attrs.evolve(path, flights=kept)))


# ---- helpers


def _of(project: Project, name: str) -> tuple[Path, float]:
    """Return a path and how long it runs. Raises GardenError for a path that is not there or does not run."""
    path = by_name(project.structure.paths, name, "path")
    route = layout(project).routes.get(name)
    if route is None:
        raise GardenError(f'path "{name}" does not run anywhere, so no steps can stand in it')
    return path, route.length


def _share(metres: float, length: float) -> float:
    return round(metres / length, SHARE)


def _at(path: Path, index: int) -> Flight:
    if not 0 <= index < len(path.flights):
        has = f"it has {len(path.flights)}" if path.flights else "it has none"
        raise GardenError(f'path "{path.name}" has no flight {index + 1}; {has}')
    return path.flights[index]


def _with(project: Project, path: Path, flights: list[Flight], new: Flight) -> Project:
    """Return the project with the flights of a path; ``new`` is the one that is put in or changed."""
    _check(project, path, flights, new)
    ordered = tuple(sorted(flights, key=lambda flight: flight.start))
    stepped = attrs.evolve(path, flights=ordered)
    made = with_bones(project, paths=put(project.structure.paths, path.name, stepped))
    one = layout(made).flights[path.name][ordered.index(new)]
    if one.rise is None:
        raise GardenError(
            f'the rise of the steps in path "{path.name}" is not known: no ground heights are measured yet; take some '
            f"in the step The tape survey"
        )
    if one.steps is None:
        raise GardenError(f'the ground is level where the steps of path "{path.name}" would stand; nothing to climb')
    return made


def _check(project: Project, path: Path, flights: list[Flight], new: Flight) -> None:
    units, length = project.units, layout(project).routes[path.name].length
    span = f"from {show_length(new.start * length, units)} to {show_length(new.end * length, units)}"
    if not 0 <= new.start < new.end <= 1:
        raise GardenError(
            f'steps of path "{path.name}" {span} are not within it: it is {show_length(length, units)} long; give '
            f"where they begin, then where they end"
        )
    if overlapping(flights) is not None:
        raise GardenError(f'steps of path "{path.name}" {span} would overlap others of it; move one of them')
    _within(new.most_riser, RISERS, "risers of at most", units)
    _within(new.least_tread, TREADS, "treads of at least", units)


def _within(metres: float, limits: tuple[float, float], words: str, units: System) -> None:
    if not limits[0] - 1e-9 <= metres <= limits[1] + 1e-9:
        asked, low, high = (show_length(each, units, small=True) for each in (metres, *limits))
        raise GardenError(f"{words} {asked} are no steps to walk; give {low} to {high}")
