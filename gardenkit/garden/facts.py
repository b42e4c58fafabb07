"""What the design can be measured for: the figures that the wants list is checked against."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from gardenkit.findings import GardenError
from gardenkit.garden.answers.ways import against_wheels, kept_off
from gardenkit.planting.balance import evergreen_share
from gardenkit.planting.season import flower_months
from gardenkit.planting.standing import standing
from gardenkit.project.advice import JUDGED_YEAR
from gardenkit.project.layout import place
from gardenkit.project.rules import path_slope
from gardenkit.project.sunlight import sun_map
from gardenkit.project.views import path_shown_at_most
from gardenkit.schedules.plants import total_cost

if TYPE_CHECKING:
    from gardenkit.garden import Garden

JUNE = 6


def facts(garden: "Garden") -> dict[str, float]:
    """Return every fact of ``brief.wants.FACTS`` that can be measured in a garden so far."""
    found: dict[str, float] = {}
    found.update(_structure(garden))
    found.update(plant_facts(garden))
    found.update(_if_possible(lambda: _path_view(garden)))
    if garden.project.structure.seats:
        found.update(_if_possible(lambda: _seat_sun(garden)))
    return found


def doubts(garden: "Garden") -> dict[str, str]:
    """Return, by fact, what the findings hold against a path that is as wide as wanted.

    Wide enough is not yet passable: a want met by width alone would stand beside a warning that wheels cannot go there.
    """
    held = [found for path in garden.project.structure.paths if (found := kept_off(garden, path.name))]
    return {"path_width": held[0]} if held else {}


def places(garden: "Garden") -> dict[str, str]:
    """Return, by each fact that a want is checked by, the thing of the plan that decides it, by its name; a fact that
    no single thing decides has none.
    """
    asked = {want.check.fact for want in garden.project.brief.wants if want.check is not None}
    found: dict[str, str] = {}
    for fact in asked & set(_PLACES):
        named = _if_possible(lambda fact=fact: _PLACES[fact](garden))  # type: ignore[misc]
        found[fact] = max(named, key=lambda name: named[name], default="")
    return found


def _structure(garden: "Garden") -> dict[str, float]:
    project = garden.project
    if not project.site.boundary:
        return {}
    structure, worked = project.structure, garden.layout
    found: dict[str, float] = {
        "seats": len(structure.seats),
        "supports": len(structure.supports),
        "beds": len(worked.beds),
        "bed_area": garden.bed_area,
        "lawn_area": garden.lawn_area,
    }
    if structure.paths and not worked.problems:
        found["path_width"] = min(path.width for path in structure.paths)
        found["path_length"] = sum(route.length for route in worked.routes.values())
        found.update(_if_possible(lambda: _path_slope(garden)))
        found.update(_if_possible(lambda: _step_free(garden)))
    return found


def _path_slope(garden: "Garden") -> dict[str, float]:
    steepest = garden.steepest_path
    return {} if steepest is None else {"path_slope": steepest}


def _step_free(garden: "Garden") -> dict[str, float]:
    """Return how many paths keep the accessible-route rule along their whole length: the rule of the findings.

    Nothing without spot heights: whether the ground allows it is not known then.
    """
    if garden.ground_to_be is None:
        return {}
    running = [path for path in garden.project.structure.paths if path.name in garden.layout.routes]
    return {"step_free_paths": float(sum(not against_wheels(garden, path) for path in running))}


def _path_view(garden: "Garden") -> dict[str, float]:
    if not garden.project.site.boundary:
        return {}
    share = path_shown_at_most(garden.project, garden.layout, garden.catalogue)
    return {} if share is None else {"path_straight_view": 100 * share}


def _seat_sun(garden: "Garden") -> dict[str, float]:
    return {"seat_sun_june": max(_seats(garden).values())}


def plant_facts(garden: "Garden") -> dict[str, float]:
    """Return what is counted of the plants; empty while nothing is planted."""
    if not garden.kinds:
        return {}
    counted = garden.kinds
    every = sum(counted.values())
    return {
        "species": len(counted),
        "plants": every,
        "trees": sum(n for kind, n in counted.items() if kind.is_tree),
        "months_in_flower": len({month for kind in counted for month in flower_months(kind, garden.spring_shift)}),
        "evergreen_share": 100 * evergreen_share(standing(garden.planted, JUDGED_YEAR)),
        "natives_share": 100 * sum(n for kind, n in counted.items() if kind.native_na) / every,
        "fragrant_species": sum(kind.fragrance != "none" for kind in counted),
        "toxic_to_dogs": sum("dogs" in kind.toxic_to for kind in counted),
        "toxic_to_people": sum("people" in kind.toxic_to for kind in counted),
        "plant_cost": total_cost(garden.schedule),
    }


def _seats(garden: "Garden") -> dict[str, float]:
    """Return the hours of June of every seat, off a map of that month alone: a twelfth of the work of a year's."""
    hours = sun_map(garden.project, garden.catalogue, months=(JUNE,))
    site, structure = garden.project.site, garden.project.structure
    return {s.name: float(hours.at(place(s.name, site, structure))[JUNE - 1]) for s in structure.seats}


def _steepness(garden: "Garden") -> dict[str, float]:
    ground, routes = garden.ground_to_be, garden.layout.routes
    running = (path for path in garden.project.structure.paths if path.name in routes)
    return {} if ground is None else {p.name: abs(path_slope(p, routes[p.name], ground).steepest) for p in running}


# fact -> the things that could decide it, each with how much it does: the first of the greatest is where to look
_PLACES: dict[str, Callable[["Garden"], dict[str, float]]] = {
    "seats": lambda garden: {seat.name: 0.0 for seat in garden.project.structure.seats},
    "seat_sun_june": _seats,
    "path_width": lambda garden: {path.name: -path.width for path in garden.project.structure.paths},
    "path_length": lambda garden: {name: route.length for name, route in garden.layout.routes.items()},
    "path_slope": _steepness,
    "step_free_paths": lambda garden: {
        path.name: float(len(against_wheels(garden, path)))
        for path in garden.project.structure.paths
        if path.name in garden.layout.routes
    },
    "path_straight_view": lambda garden: {name: route.length for name, route in garden.layout.routes.items()},
    "bed_area": lambda garden: {bed.name: bed.area for bed in garden.beds},
    "beds": lambda garden: {bed.name: bed.area for bed in garden.beds},
    "supports": lambda garden: {support.name: 0.0 for support in garden.project.structure.supports},
}


def _if_possible(measure: Callable[[], dict[str, float]]) -> dict[str, float]:
    """Return what can be measured, nothing when something it needs is not there yet."""
    try:
        return measure()
    except GardenError:
        return {}
