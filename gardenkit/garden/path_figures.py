"""What one path comes to: how long and how tight it runs, its stones and their gaps, how much of it shows."""

from typing import TYPE_CHECKING

import attrs

from gardenkit.project import views
from gardenkit.project.edits.records import by_name
from gardenkit.project.season import early_summer

if TYPE_CHECKING:
    from gardenkit.garden import Garden

STRAIGHT = 1e3  # m: a path that turns on more than this is straight. House value.


@attrs.frozen(kw_only=True)
class PathFigures:
    """A path that runs, in metres and kilogrammes: ``turn`` the tightest radius of its middle line, None for a straight
    one; ``changes`` how often it stops turning one way and turns the other; ``gaps`` the least and the greatest clear
    distance between stones, None without neighbours; ``shown`` the share of it that shows from its ``start`` with
    nothing planted, None when that is no place to look from.
    """

    length: float
    turn: float | None
    changes: int
    clearance: float
    stones: int
    weight: float
    gaps: tuple[float, float] | None
    start: str
    shown: float | None


def path_figures(garden: "Garden", name: str) -> PathFigures | None:
    """Return what a path comes to, None while it does not run. Raises GardenError for a path that is not there."""
    path = by_name(garden.project.structure.paths, name, "path")
    route, laying = garden.layout.routes.get(name), garden.layout.layings.get(name)
    if route is None or laying is None:
        return None
    clear = [gap.clear for gap in laying.gaps]
    return PathFigures(
        length=route.length,
        turn=route.tightest_radius if route.tightest_radius < STRAIGHT else None,
        changes=route.curve.changes_of_side(),
        clearance=route.clearance,
        stones=len(laying.stones),
        weight=laying.weight,
        gaps=(min(clear), max(clear)) if clear else None,
        start=path.start,
        shown=_shown(garden, name, path.start),
    )


def _shown(garden: "Garden", name: str, start: str) -> float | None:
    if start not in views.places_to_look_from(garden.project):
        return None
    month, eye = early_summer(garden.project.site), views.eye_at(garden.project, start)
    return views.path_seen(garden.project, garden.layout, name, eye, month=month).share
