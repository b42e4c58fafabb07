"""What the design can be measured for: the figures that the wants list is checked against."""

from collections.abc import Callable
from pathlib import Path

from gardenkit.findings import GardenError
from gardenkit.geometry import plane
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.season import flower_months
from gardenkit.project import Project
from gardenkit.project.layout import layout, place
from gardenkit.project.season import catalogue_of, spring_shift
from gardenkit.project.sunlight import sun_map
from gardenkit.project.views import path_shown_at_most
from gardenkit.site import levels

JUNE, DECEMBER = 6, 12


def facts(project: Project, *, folder: Path | None = None, sun: bool = True) -> dict[str, float]:
    """Return every fact of ``brief.wants.FACTS`` that can be measured so far. ``sun=False`` leaves out what needs a
    sun map.
    """
    found: dict[str, float] = {}
    found.update(_structure(project))
    catalogue = catalogue_of(folder)
    found.update(_plants(project, catalogue))
    found.update(_if_possible(lambda: _path_view(project, catalogue)))
    if sun and project.structure.seats:
        found.update(_if_possible(lambda: _seat_sun(project)))
    return found


def _structure(project: Project) -> dict[str, float]:
    if not project.site.boundary:
        return {}
    structure, worked = project.structure, layout(project)
    found: dict[str, float] = {
        "seats": len(structure.seats),
        "supports": len(structure.supports),
        "beds": len(worked.beds),
        "bed_area": sum(bed.area for bed in worked.beds),
        "lawn_area": sum(plane.area(worked.patches[p.name]) for p in structure.patches if p.kind == "lawn"),
    }
    if structure.paths and not worked.problems:
        found["path_width"] = min(path.width for path in structure.paths)
        found["path_length"] = sum(route.length for route in worked.routes.values())
        found.update(_if_possible(lambda: _path_slope(project)))
    return found


def _path_slope(project: Project) -> dict[str, float]:
    if not project.site.heights:
        return {}
    ground, worked = levels.surface(project.site.heights), layout(project)
    ends = [(r.curve.points[0], r.curve.points[-1], r.length) for r in worked.routes.values()]
    slopes = [abs(ground.height(tuple(a)) - ground.height(tuple(b))) / length for a, b, length in ends]
    return {"path_slope": 100 * max(slopes)} if slopes else {}


def _path_view(project: Project, catalogue: Catalogue) -> dict[str, float]:
    if not project.site.boundary:
        return {}
    share = path_shown_at_most(project, layout(project), catalogue)
    return {} if share is None else {"path_straight_view": 100 * share}


def _seat_sun(project: Project) -> dict[str, float]:
    hours = sun_map(project)
    return {
        "seat_sun_june": max(
            float(hours.at(place(s.name, project.site, project.structure))[JUNE - 1]) for s in project.structure.seats
        )
    }


def _plants(project: Project, catalogue: Catalogue) -> dict[str, float]:
    plants = project.planting.plants
    if not plants:
        return {}
    kinds = {catalogue[p.species] for p in plants}
    shift = spring_shift(project.site)
    leafy = ("evergreen", "semi-evergreen", "winter-green")
    by_name = {name: catalogue[name] for name in {p.species for p in plants}}
    return {
        "species": len(kinds),
        "plants": len(plants),
        "trees": sum(by_name[p.species].layer in ("tree", "conifer") for p in plants),
        "months_in_flower": len({month for kind in kinds for month in flower_months(kind, shift)}),
        "evergreen_share": 100 * sum(by_name[p.species].leaf in leafy for p in plants) / len(plants),
        "natives_share": 100 * sum(by_name[p.species].native_na for p in plants) / len(plants),
        "fragrant_species": sum(kind.fragrance != "none" for kind in kinds),
        "toxic_to_dogs": sum("dogs" in kind.toxic_to for kind in kinds),
        "toxic_to_people": sum("people" in kind.toxic_to for kind in kinds),
    }


def _if_possible(measure: Callable[[], dict[str, float]]) -> dict[str, float]:
    """Return what can be measured, nothing when something it needs is not there yet."""
    try:
        return measure()
    except GardenError:
        return {}
