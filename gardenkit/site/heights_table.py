"""Ground heights typed or pasted one on a line, ``point or x, y; height``, and written back the same way."""

import re
from collections.abc import Callable, Iterable

import attrs

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.site.heights import SpotHeight
from gardenkit.units import System, length, lengths_of, show_length


def heights_text(heights: Iterable[SpotHeight], *, system: System) -> str:
    """Return the heights as they are typed: by the name of their survey point, or by x and y."""
    return "\n".join(_line(height, system) for height in heights)


def read_heights(
    text: str, *, system: System, placed: Callable[[str], Point], known: Iterable[SpotHeight] = ()
) -> tuple[SpotHeight, ...]:
    """Return the heights of a text. ``placed`` finds a survey point by its name.

    A line that still says what a ``known`` height is shown as is that height: nothing is lost by rounding. It goes
    along with its survey point. Raises GardenError naming the line that cannot be read.
    """
    same = {_line(height, system): height for height in known}
    measured = {height.name: height.at for height in same.values() if height.name}

    def place(name: str) -> Point:
        try:
            return placed(name)
        except GardenError:
            if name not in measured:
                raise
            return measured[name]  # no survey point (any more): it stays where it was measured

    found = []
    for number, line in enumerate(text.splitlines(), 1):
        as_it_was = same.get(line.strip())
        if as_it_was is not None:
            found.append(attrs.evolve(as_it_was, at=place(as_it_was.name)) if as_it_was.name else as_it_was)
        elif line.strip():
            found.append(_read(line.strip(), f"line {number} of the heights", system, place))
    return tuple(found)


def _line(height: SpotHeight, system: System) -> str:
    place = height.name if height.name and not re.search("[,;]", height.name) else ""
    place = place or f"{show_length(height.at[0], system)}, {show_length(height.at[1], system)}"
    return f"{place}; {show_length(height.height, system)}"


def _read(line: str, where: str, system: System, placed: Callable[[str], Point]) -> SpotHeight:
    place, _, height = (part.strip() for part in line.partition(";"))
    if not height:
        raise GardenError(f'{where} ("{line}") has no height; write it as a point; then the height')

    def metres(typed: str) -> float:
        return length(typed, bare="ft" if system == "imperial" else "m", where=where, signed=True)

    parts = lengths_of(place)
    if len(parts) == 2:
        return SpotHeight(at=(metres(parts[0]), metres(parts[1])), height=metres(height))
    return SpotHeight(at=placed(place), height=metres(height), name=place)
