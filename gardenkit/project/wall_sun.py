"""The sun on the walls of the house: where it is warm enough for a peach, and where only ivy is content."""

import attrs

from gardenkit.geometry import plane
from gardenkit.geometry.plane import FloatArray
from gardenkit.geometry.solid import Solid
from gardenkit.project.remembered import Remembered
from gardenkit.site import shade, sun
from gardenkit.site.place import Place
from gardenkit.site.site import Building, Site
from gardenkit.site.sky import sun_table
from gardenkit.site.sun import Progress
from gardenkit.units import compass_word

CELL = 0.3048  # m between points on a wall: one foot. House value.


@attrs.frozen(kw_only=True, eq=False)
class WallSun:
    """One wall: its name, the way it faces, its length in metres, mean hours of direct sun a day in each month."""

    name: str
    faces: str
    length: float
    hours: FloatArray


def wall_sun(site: Site, bodies: tuple[Solid, ...], *, progress: Progress | None = None) -> tuple[WallSun, ...]:
    """Return the sun on every wall of every building among some bodies; empty without a place or a building.

    The last few are remembered.
    """
    if site.place == Place() or not site.buildings:
        return ()
    key = (site.place, site.y_bearing, site.buildings, bodies)
    return _SUNS.get(key, lambda: _worked_out(site, bodies, progress))


_SUNS: Remembered[tuple[WallSun, ...]] = Remembered(4)


def _worked_out(site: Site, bodies: tuple[Solid, ...], progress: Progress | None) -> tuple[WallSun, ...]:
    walls = _walls(site.buildings)
    hours = sun.wall_sun_hours(walls, bodies, sun_table(site.place), y_bearing=site.y_bearing, progress=progress)
    return tuple(
        WallSun(
            name=wall.name,
            faces=compass_word(plane.heading(wall.start, wall.end) + 90 + site.y_bearing),
            length=wall.grid.columns * wall.grid.cell,
            hours=found.mean(axis=(1, 2)),
        )
        for wall, found in zip(walls, hours, strict=True)
    )


def _walls(buildings: tuple[Building, ...]) -> tuple[sun.Wall, ...]:
    return tuple(wall for building in buildings for wall in shade.building_walls(building, cell=CELL))
